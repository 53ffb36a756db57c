//! A reading as it was made, in the units of the farm.

use book::model::Seen;
use book::model::seen::{Amount, Gravel, JarSeen, OrganicMatterMethod, Sign, Smell};
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem, show};
use ground::texture::feel::{FeelReading, Hand, Rub};
use ground::texture::hydrometer::{HydrometerReading, ScaleAt};
use ground::texture::jar::reading::JarHeight;
use ground::texture::jar::{Boundary, Clarity, Dispersant, JarReading, JarShape, Marks};
use ground::texture::kitchen_scale::KitchenScaleReading;
use ground::texture::lab::{LabProcedure, LabTexture};

use super::{Line, seen_lab, seen_soil, seen_water};
use crate::form::shown;
use crate::when;

/// A reading line by line, what matters most on top.
#[must_use]
pub fn reading(seen: &Seen, units: UnitSystem) -> Vec<Line> {
    match seen {
        Seen::Jar(jar) => of_jar(jar, units),
        Seen::KitchenScale(weighed) => weighed_lines(weighed, units),
        Seen::Feel(feel) => felt(feel, units),
        Seen::Hydrometer(readings) => hydrometer(readings, units),
        Seen::LabTexture(texture) => laboratory(texture),
        Seen::OrganicMatter(found) => vec![
            Line::new("Organic matter", format!("{} %", found.percent.get())),
            Line::new("How", found.method.map_or("not said", OrganicMatterMethod::words)),
        ],
        Seen::Gravel(gravel) => vec![Line::new(
            "Stones",
            match gravel {
                Gravel::MassPercent(mass) => format!("{} % by mass", mass.get()),
                Gravel::VolumePercent(volume) => format!("{} % by volume, judged by eye", volume.get()),
            },
        )],
        Seen::Packing(packing) => vec![Line::new("Packing", seen_water::packing(*packing))],
        Seen::Salinity(salts) => vec![
            Line::new("Conductivity", format!("{} dS/m", salts.ec_ds_m.get())),
            Line::new("Measured in", salts.extract.words()),
        ],
        Seen::Signs(signs) => signs.signs.iter().map(|one| Line::new("Seen", sign(*one, units))).collect(),
        Seen::Moisture(read) => seen_water::moisture(read, units),
        Seen::RingInfiltration(rings) => seen_water::rings(rings, units),
        Seen::Percolation(test) => seen_water::percolation(test, units),
        Seen::Layers(layers) => seen_water::layers(layers, units),
        Seen::LabReport(report) => seen_lab::report(report, units),
        Seen::Probe(probe) => seen_soil::probe(probe, units),
        Seen::Cores(cores) => seen_soil::cores(cores, units),
        Seen::Spade(block) => seen_soil::spade(block, units),
        Seen::Slake(test) => seen_soil::slake(test),
        Seen::Working(test) => seen_soil::working(test, units),
        Seen::BuildingGround(found) => super::posts::building_ground(found, units),
    }
}

fn of_jar(jar: &JarSeen, units: UnitSystem) -> Vec<Line> {
    let JarSeen { started_at, soil_height_mm, finished, reading } = jar;
    let mut lines = marks(&reading.marks, units);
    if !finished {
        lines.push(Line::new("State", "still settling"));
    }
    if let Some(at) = started_at {
        lines.push(Line::new("Set down", when::moment(*at)));
    }
    lines.extend(jar_and_water(reading, units));
    lines.extend(soil_height_mm.map(|mm| Line::new("Height of the dry soil", shown(mm, units))));
    lines
}

fn marks(marks: &Marks, units: UnitSystem) -> Vec<Line> {
    let three = |names: [&str; 3], at: [&Boundary; 3]| {
        names.iter().zip(at).map(|(name, at)| Line::new(*name, boundary(at, units))).collect()
    };
    match marks {
        Marks::Thicknesses { sand, silt, clay } => {
            three(["Sand layer", "Silt layer", "Clay layer"], [sand, silt, clay])
        }
        Marks::Heights { sand_top, silt_top, clay_top } => {
            three(["Top of the sand", "Top of the silt", "Top of the clay"], [sand_top, silt_top, clay_top])
        }
        Marks::Timed { marks } if marks.is_empty() => vec![Line::new("Marks", "none yet")],
        Marks::Timed { marks } => marks
            .iter()
            .map(|mark| {
                let after = show(mark.after_s.get(), Dimension::Duration, units);
                Line::new(format!("After {after}"), boundary(&mark.top, units))
            })
            .collect(),
    }
}

fn boundary(boundary: &Boundary, units: UnitSystem) -> String {
    match boundary {
        Boundary::At { mm } => shown(*mm, units),
        Boundary::Between { low_mm, high_mm } => {
            format!("between {} and {}", shown(*low_mm, units), shown(*high_mm, units))
        }
        Boundary::No => "could not be seen".to_owned(),
    }
}

fn jar_and_water(reading: &JarReading, units: UnitSystem) -> Vec<Line> {
    let JarReading {
        marks: _,
        ruler_step_mm,
        shape,
        water_height_mm,
        water_temperature_c,
        dispersant,
        water_after_a_day,
        floating_organic_mm,
    } = reading;
    let mut lines = vec![
        Line::new(
            "Added to the water",
            match dispersant {
                Dispersant::None => "nothing",
                Dispersant::LiquidSoap => "liquid soap",
                Dispersant::DishwasherPowder => "dishwasher powder",
                Dispersant::Hexametaphosphate => "sodium hexametaphosphate",
                Dispersant::Unknown => "not said",
            },
        ),
        Line::new(
            "Water after a day",
            match water_after_a_day {
                Clarity::Clear => "clear",
                Clarity::Cloudy => "cloudy",
                Clarity::NotLooked => "nobody looked",
            },
        ),
    ];
    let height = |mm: &JarHeight| shown(*mm, units);
    lines.extend(water_height_mm.as_ref().map(|mm| Line::new("Water height", height(mm))));
    lines.extend(water_temperature_c.map(|c| Line::new("Water temperature", shown(c, units))));
    lines.extend(ruler_step_mm.map(|step| Line::new("Ruler step", shown(step, units))));
    lines.extend(floating_organic_mm.as_ref().map(|mm| Line::new("Floating or capping matter", height(mm))));
    match shape {
        JarShape::Straight => {}
        JarShape::Widths { at } => lines.extend(at.iter().map(|width| {
            Line::new(format!("Width at {}", height(&width.height_mm)), shown(width.diameter_mm, units))
        })),
        JarShape::Poured { fills } => lines.extend(fills.iter().map(|fill| {
            Line::new(format!("Poured up to {}", height(&fill.height_mm)), shown(fill.volume_ml, units))
        })),
    }
    lines
}

fn weighed_lines(weighed: &KitchenScaleReading, units: UnitSystem) -> Vec<Line> {
    let KitchenScaleReading { total_g, sand_g, silt_g, scale_step_g, sieve_um, dispersed } = weighed;
    let mut lines = vec![
        Line::new("Dry soil", shown(*total_g, units)),
        Line::new("Sand left in the sieve", shown(*sand_g, units)),
        Line::new("Silt settled", shown(*silt_g, units)),
        Line::new("Clay parted first", if *dispersed { "yes" } else { "no" }),
    ];
    lines.extend(scale_step_g.map(|step| Line::new("Scale step", shown(step, units))));
    lines.extend(sieve_um.map(|opening| Line::new("Sieve", shown(opening, units))));
    lines
}

fn felt(feel: &FeelReading, units: UnitSystem) -> Vec<Line> {
    let FeelReading { ball_holds, ribbon_mm, rub, hand } = feel;
    let mut lines = vec![
        Line::new("Ball", if *ball_holds { "holds" } else { "falls apart" }),
        Line::new("Ribbon", ribbon_mm.map_or_else(|| "none".to_owned(), |length| shown(length, units))),
    ];
    lines.extend(rub.map(|rub| {
        Line::new(
            "Rubbed wet",
            match rub {
                Rub::Gritty => "gritty",
                Rub::Smooth => "smooth",
                Rub::Neither => "neither gritty nor smooth",
            },
        )
    }));
    lines.push(Line::new(
        "Hand",
        match hand {
            Hand::Professional => "feels soil for a living",
            Hand::Practised => "practised",
            Hand::New => "new to it",
        },
    ));
    lines
}

fn hydrometer(readings: &HydrometerReading, units: UnitSystem) -> Vec<Line> {
    let HydrometerReading { dry_mass_g, early, late, blank_g_l } = readings;
    let at = |name: &str, at: &ScaleAt| {
        let after = show(at.after_s.get(), Dimension::Duration, units);
        let warm = at.temperature_c.map_or_else(String::new, |c| format!(" at {}", shown(c, units)));
        Line::new(name, format!("{} g/L after {after}{warm}", at.reading_g_l.get()))
    };
    let mut lines = vec![
        at("Early reading", early),
        at("Late reading", late),
        Line::new("Dry soil", shown(*dry_mass_g, units)),
    ];
    lines.extend(blank_g_l.map(|blank| Line::new("Blank", format!("{} g/L", blank.get()))));
    lines
}

fn laboratory(texture: &LabTexture) -> Vec<Line> {
    let LabTexture { sand_percent, silt_percent, clay_percent, silt_limit, procedure } = texture;
    vec![
        Line::new("Sand", format!("{} %", sand_percent.get())),
        Line::new("Silt", format!("{} %", silt_percent.get())),
        Line::new("Clay", format!("{} %", clay_percent.get())),
        Line::new("Silt ends at", format!("{:.0} µm", silt_limit.um())),
        Line::new(
            "Procedure",
            match procedure {
                LabProcedure::Pipette => "pipette and sieve",
                LabProcedure::Hydrometer => "hydrometer",
                LabProcedure::LaserDiffraction => "laser diffraction",
                LabProcedure::NotStated => "not stated",
            },
        ),
    ]
}

fn sign(sign: Sign, units: UnitSystem) -> String {
    match sign {
        Sign::StandingWater { days } => {
            let plural = if days.get() == 1.0 { "" } else { "s" };
            format!("water stood for {} day{plural}", days.get())
        }
        Sign::Mottles { from_cm } => format!("rusty or grey spots from {} down", shown(from_cm, units)),
        Sign::GreyLayer { from_cm } => format!("a grey layer from {} down", shown(from_cm, units)),
        Sign::WaterTable { at_cm } => format!("water in the hole at {}", shown(at_cm, units)),
        Sign::Crust { thickness_mm } => {
            thickness_mm.map_or("a crust".to_owned(), |mm| format!("a crust {} thick", shown(mm, units)))
        }
        Sign::Cracks { width_mm } => {
            width_mm.map_or("cracks".to_owned(), |mm| format!("cracks {} wide", shown(mm, units)))
        }
        Sign::Wormcasts { amount } => match amount {
            Amount::None => "no wormcasts",
            Amount::Few => "a few wormcasts",
            Amount::Many => "many wormcasts",
        }
        .to_owned(),
        Sign::PanFelt { at_cm } => format!("a hard layer at {}", shown(at_cm, units)),
        Sign::RootsTurn { at_cm } => format!("roots turn sideways at {}", shown(at_cm, units)),
        Sign::Rock { at_cm } => format!("rock at {}", shown(at_cm, units)),
        Sign::Smell { of } => match of {
            Smell::Earthy => "smells earthy",
            Smell::Nothing => "smells of nothing",
            Smell::Sour => "smells sour",
            Smell::RottenEggs => "smells of rotten eggs",
        }
        .to_owned(),
        Sign::Runoff => "water ran off".to_owned(),
        Sign::Washing => "soil washed downhill".to_owned(),
        Sign::Blowing => "soil blown by the wind".to_owned(),
        Sign::Clods => "clods that do not break in the hand".to_owned(),
        Sign::Smeared => "shiny, smeared faces".to_owned(),
    }
}
