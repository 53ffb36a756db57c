//! The water of a plot in sentences, in the units of the farm, for a page and for the command line alike.

use book::model::UnitSystem;
use book::model::seen::SalinityExtract;
use ground::kit::Spread;
use ground::water::drainage::NaturalDrainage;

use super::{Drainage, HIGHEST_BED_CM, Holds, Intake, PlotWater, Salts, Wetting};
use crate::words;

const L_PER_GAL: f64 = 3.785_411_784;
const M_PER_FT: f64 = 0.3048;

/// The sentences of each part.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sentences {
    /// What the ground holds.
    pub holds: Vec<String>,
    /// How it takes water.
    pub takes: Vec<String>,
    /// Where water stands.
    pub stands: Vec<String>,
    /// What to do about it.
    pub to_do: Vec<String>,
    /// Salts.
    pub salts: Vec<String>,
}

fn us(units: UnitSystem) -> bool {
    units == UnitSystem::UsCustomary
}

/// "2.9 (90 %: 2.3 to 3.4) in".
#[must_use]
pub fn water_spread(mm: Spread, units: UnitSystem) -> String {
    if us(units) {
        format!("{} in", words::range(mm, 1.0 / 25.4))
    } else {
        format!("{} mm", words::range(mm, 1.0))
    }
}

fn depth_spread(cm: Spread, units: UnitSystem) -> String {
    if us(units) {
        format!("{} in", words::range(cm, 1.0 / 2.54))
    } else {
        format!("{} cm", words::range(cm, 1.0))
    }
}

fn length_spread(m: Spread, units: UnitSystem) -> String {
    if us(units) {
        format!("{} ft", words::range(m, 1.0 / M_PER_FT))
    } else {
        format!("{} m", words::range(m, 1.0))
    }
}

fn length(m: f64, units: UnitSystem) -> String {
    if us(units) { format!("{} ft", words::short(m / M_PER_FT)) } else { format!("{} m", words::short(m)) }
}

/// A volume as it is carried: "240 (90 %: 200 to 280) gal".
#[must_use]
pub fn volume_spread(litres: Spread, units: UnitSystem) -> String {
    if us(units) {
        format!("{} gal", words::range(litres, 1.0 / L_PER_GAL))
    } else {
        format!("{} L", words::range(litres, 1.0))
    }
}

fn holds(holds: &Holds, units: UnitSystem) -> Vec<String> {
    let usual = if holds.root_depth_given { "" } else { " (the usual depth; none was given)" };
    let mut lines = vec![format!(
        "Over {} of roots{usual} crops can use {}. Another {} drains away after a soaking, and {} stays that no root can pull off.",
        words::depth(holds.root_depth_cm, units),
        water_spread(holds.usable_mm, units),
        words::water(holds.draining_mm.median, units),
        words::water(holds.unusable_mm.median, units)
    )];
    for bed in &holds.beds {
        let which = if bed.count > 1 { format!("Each of {}", bed.name) } else { bed.name.clone() };
        lines.push(format!("{which} holds {} that crops can use.", volume_spread(bed.usable_l, units)));
    }
    lines
}

/// "0 to 12 in, silt loam (82 %): 1.9 in per foot that crops can use".
#[must_use]
pub fn layer_lines(holds: &Holds, units: UnitSystem) -> Vec<String> {
    holds
        .layers
        .iter()
        .map(|layer| {
            let seen = match (layer.looked_at, layer.own_evidence) {
                (true, true) => "",
                (true, false) => "; only its depth was seen",
                (false, _) => "; not looked at",
            };
            format!(
                "{:.0} to {}, {} ({}{seen}): {} that crops can use",
                if us(units) { layer.from_cm / 2.54 } else { layer.from_cm },
                words::depth(layer.to_cm, units),
                layer.class_words,
                if layer.named { "as it was named".to_owned() } else { words::odds(layer.class_odds) },
                words::water_held_spread(layer.available_m3_m3, units)
            )
        })
        .collect()
}

fn takes(intake: &Intake, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    if let (Some(rings), Some(class)) = (&intake.rings, intake.measured_class) {
        lines.push(format!(
            "Measured with {}, the last on {}: the ground takes {} once it is wet, which is called {}.",
            rings.words(),
            words::day(rings.last_on()),
            words::rate_spread(rings.mean_mm_h, units),
            class.words()
        ));
        if rings.rings.iter().any(|ring| ring.first_pouring) {
            lines.push("Some rings had one pouring only: ground that was not wet before drinks faster than it will in a long rain.".to_owned());
        }
        if rings.rings.iter().any(|ring| ring.at_most) {
            lines.push("Water still stood in some rings when the watch was stopped: they take less than is reckoned here.".to_owned());
        }
    }
    if let (Some(computed), Some(class)) = (intake.computed_mm_h, intake.computed_class) {
        let lead =
            if intake.rings.is_some() { "By its make-up alone" } else { "By its make-up, not measured," };
        lines.push(format!(
            "{lead} the top conducts {} when full, which is called {}.",
            words::rate_spread(computed, units),
            class.words()
        ));
    }
    lines.extend(intake.compared.clone());
    for hole in &intake.holes {
        let soaked = if hole.soaked { "" } else { " The hole had not been soaked, so it says little." };
        lines.push(format!(
            "The percolation hole of {} ({} minutes an inch): {}.{soaked} A sign only; nothing here may be used to site a septic field.",
            words::day(hole.on),
            words::short(hole.minutes_per_inch),
            hole.words
        ));
    }
    if let Some(cm) = intake.tighter_from_cm {
        lines.push(format!(
            "From {} down the ground is much tighter than above it: water is held up there.",
            words::depth(cm, units)
        ));
    }
    lines
}

/// What sprinklers may give, in a sentence.
#[must_use]
pub fn sprinkler_line(intake: &Intake, units: UnitSystem) -> String {
    let limit = &intake.sprinkler;
    let slope = if limit.slope_given {
        format!("at its slope of {} %", words::short(limit.slope_percent))
    } else {
        "on level ground (its slope is not recorded)".to_owned()
    };
    match (limit.measured_mm_h, limit.by_table_mm_h, limit.bare_mm_h) {
        (Some(measured), _, _) => format!(
            "Sprinklers: no faster than what the rings took, {}; measure again where the ground is bare or crusts.",
            words::rate(measured, units)
        ),
        (None, Some(table), Some(bare)) => format!(
            "Sprinklers: up to {} {slope}; {} where it is bare or crusts.",
            words::rate_spread(table, units),
            words::rate(bare.median, units)
        ),
        _ => "Sprinklers: the table ends at a slope of 16 %; measure the intake here, or water by drip."
            .to_owned(),
    }
}

/// Days with their range; beyond two months nobody counts them.
fn days(spread: Spread) -> String {
    const MOST_D: f64 = 60.0;
    let told = |days: f64| if days > MOST_D { format!("over {MOST_D:.0}") } else { words::short(days) };
    format!("{} (90 %: {} to {})", told(spread.median), told(spread.low), told(spread.high))
}

fn stands(drainage: &Drainage) -> Vec<String> {
    let mut lines = vec![drainage.sentence.clone()];
    if let Some(class) = drainage.drainage_class {
        let hint = if class == NaturalDrainage::WellOrBetter {
            ""
        } else {
            " (a hint by its signs; the soil survey maps the class)"
        };
        lines.push(format!("That is what is called {} ground{hint}.", class.words()));
    }
    if let (Some(air), Some(slow)) = (drainage.days_to_air, drainage.days_until_slow) {
        lines.push(format!(
            "After a soaking rain it takes {} days until a tenth of the ground is air again, and {} days until drainage is slow; a growing crop and warm wind are faster.",
            days(air),
            days(slow)
        ));
    }
    lines
}

fn to_do(water: &PlotWater, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    let drainage = &water.drainage;
    if let Some(beds) = drainage.beds {
        let enough = if beds.least_cm.median <= HIGHEST_BED_CM {
            format!(
                "Beds {} high keep {} of roots above the fringe that stays full of water; new beds settle, so build a quarter higher.",
                depth_spread(beds.least_cm, units),
                words::depth(beds.roots_cm, units)
            )
        } else {
            format!(
                "A bed would have to be {} high: more work than it is worth. Lead the water away, or grow here what stands in summer only.",
                depth_spread(beds.least_cm, units)
            )
        };
        lines.push(format!(
            "{enough} A bed of {} is enough with odds of {}.",
            words::depth(HIGHEST_BED_CM, units),
            words::odds(beds.odds_bed_is_enough)
        ));
        // Beyond a height that anybody builds it is the curve that speaks and not the ground.
        if let Some(aired) = beds.aired_cm.filter(|aired| aired.median <= 2.0 * HIGHEST_BED_CM) {
            lines.push(format!(
                "A tenth of air in all those roots would ask for {}: an upper limit, since crumbs and cracks drain where this curve says they do not.",
                depth_spread(aired, units)
            ));
        }
    }
    if let Some(drains) = &drainage.drains {
        match drains.spacing_m {
            Some(spacing) => lines.push(format!(
                "Drains, if the surface cannot be graded and there is an outlet: pipes {} apart at {} by Hooghoudt's equation.",
                length_spread(spacing, units),
                length(drains.depth_m, units)
            )),
            None => lines.push("Pipes would have to lie closer than makes sense: shape the surface and the beds instead.".to_owned()),
        }
        if let (Some(spacing), Some([least, most])) = (drains.guide_spacing_m, drains.guide_depth_m) {
            lines.push(format!(
                "A drainage guide (recalled) gives {} apart, {} to {} deep, for such a subsoil.",
                length(spacing, units),
                words::short(if us(units) { least / M_PER_FT } else { least }),
                length(most, units)
            ));
        }
    }
    lines.push(sprinkler_line(&water.intake, units));
    lines
}

fn extract(extract: SalinityExtract) -> &'static str {
    match extract {
        SalinityExtract::SaturatedPaste => "in the saturated paste",
        SalinityExtract::OneToOne => "in one part soil to one of water",
        SalinityExtract::OneToTwo => "in one part soil to two of water",
        SalinityExtract::OneToFive => "in one part soil to five of water",
        SalinityExtract::NotStated => "in an extract that was not stated",
    }
}

fn salts(salts: &Salts, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    match &salts.reading {
        Some(reading) => lines.push(format!(
            "{} dS/m {} on {} stands for {} dS/m in the saturation extract{}.",
            words::short(reading.ec_ds_m),
            extract(reading.extract),
            words::day(reading.on),
            words::range(reading.saturation_ds_m, 1.0),
            match reading.lines {
                [0, _] => String::new(),
                [lines, recalled] => format!(" ({lines} published lines of this extract, {recalled} of them recalled)"),
            }
        )),
        None => lines.push("Salts were not measured here. A laboratory's conductivity of the saturated paste says what they cost.".to_owned()),
    }
    if let Some(washing) = salts.washing {
        lines.push(format!(
            "To come down to {} dS/m, which the tenderest of these crops bears, {} must drain through the top {}, in pulses or by sprinklers (needed with odds of {}).",
            words::short(washing.wanted_ds_m),
            water_spread(washing.water_mm, units),
            words::depth(washing.depth_cm, units),
            words::odds(washing.odds_needed)
        ));
    }
    for supply in &salts.supplies {
        let Some(ec) = supply.ec_ds_m else {
            lines.push(format!(
                "The salts of {} are not known: have its conductivity measured once.",
                supply.name
            ));
            continue;
        };
        let restricted: Vec<String> = supply
            .hazards
            .iter()
            .filter(|hazard| hazard.restricted)
            .map(|hazard| format!("{} ({})", hazard.what, hazard.words))
            .collect();
        let hazards = if restricted.is_empty() {
            "no restriction by what was analysed".to_owned()
        } else {
            format!("watch {}", restricted.join(", "))
        };
        let leach = match (&supply.leaching_for, supply.leaching_share, supply.too_salty) {
            (Some(crop), Some(share), _) => format!(
                " For {crop}, {} of it must pass below the roots in the long run.",
                words::odds(share)
            ),
            (Some(crop), None, true) => format!(" It is too salty for {crop}: no leaching is enough."),
            _ => String::new(),
        };
        lines.push(format!("The water of {}, {} dS/m: {hazards}.{leach}", supply.name, words::short(ec)));
    }
    if let Some(tunnel) = &salts.tunnel {
        let years: Vec<String> = tunnel.ec_after_years_ds_m.iter().map(|ec| words::short(*ec)).collect();
        let steady = tunnel.steady_ds_m.map_or_else(
            || "without an end".to_owned(),
            |ec| format!("towards {} dS/m in the long run", words::short(ec)),
        );
        lines.push(format!(
            "Under cover, {} of water a year brings the saturation extract to {} dS/m after one to five years, {steady}.",
            words::water(tunnel.irrigation_mm, units),
            years.join(", ")
        ));
    }
    lines
}

/// What a watering that was followed shows, in sentences.
#[must_use]
pub fn wetting_lines(wetting: &Wetting, units: UnitSystem) -> Vec<String> {
    let mut lines = vec![format!(
        "{} of water at {} on ground where half of what crops can use is gone; that is a fifth more than the roots lack.",
        words::water(wetting.water_mm, units),
        words::rate(wetting.rate_mm_h, units)
    )];
    if !wetting.rate_recorded {
        lines.push("No watering system with a rate is recorded here: the rate is a usual one.".to_owned());
    }
    for ground in &wetting.grounds {
        let (Some(lost), Some(odds)) = (ground.lost_mm, ground.odds_lost) else { continue };
        let ran_off = if ground.ran_off_mm > 0.1 {
            format!(" {} ran off in the case drawn.", words::water(ground.ran_off_mm, units))
        } else {
            String::new()
        };
        lines.push(format!(
            "{}: two days later {} has passed below the roots; odds that more than a tenth of the water does: {}.{ran_off}",
            words::capital(ground.name),
            water_spread(lost, units),
            words::odds(odds)
        ));
    }
    lines.push(wetting.told.clone());
    if wetting.left_out > 0 {
        lines.push(format!(
            "For {} of the {} ways this ground may be, the water could not be followed; they are left out.",
            wetting.left_out,
            wetting.draws * wetting.grounds.len()
        ));
    }
    lines
}

/// Every sentence of a plot's water.
#[must_use]
pub fn sentences(water: &PlotWater, units: UnitSystem) -> Sentences {
    Sentences {
        holds: holds(&water.holds, units),
        takes: takes(&water.intake, units),
        stands: stands(&water.drainage),
        to_do: to_do(water, units),
        salts: salts(&water.salts, units),
    }
}
