//! Valid readings of every kind, from chance.

use book::model::Seen;
use book::model::seen::*;
use ground::kit::Bounded;
use ground::texture::feel::{FeelReading, Hand, Rub};
use ground::texture::hydrometer::{HydrometerReading, ScaleAt};
use ground::texture::jar::reading::{Fill, JarHeight, SettledFor};
use ground::texture::jar::{Boundary, Clarity, Dispersant, JarReading, JarShape, Marks, TimedMark, Width};
use ground::texture::kitchen_scale::KitchenScaleReading;
use ground::texture::lab::{LabProcedure, LabTexture, SiltLimit};
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

use super::{moment, quantity};

fn boundary() -> impl Strategy<Value = Boundary> {
    prop_oneof![
        quantity().prop_map(|mm| Boundary::At { mm }),
        (quantity::<JarHeight>(), quantity())
            .prop_map(|(a, b)| if a < b { (a, b) } else { (b, a) })
            .prop_map(|(low_mm, high_mm)| Boundary::Between { low_mm, high_mm }),
        Just(Boundary::No),
    ]
}

fn marks() -> impl Strategy<Value = Marks> {
    prop_oneof![
        (boundary(), boundary(), boundary()).prop_map(|(sand, silt, clay)| Marks::Thicknesses {
            sand,
            silt,
            clay
        }),
        (boundary(), boundary(), boundary()).prop_map(|(sand_top, silt_top, clay_top)| Marks::Heights {
            sand_top,
            silt_top,
            clay_top
        }),
        vec((quantity::<SettledFor>(), boundary()), 0..5).prop_map(|mut marks| {
            marks.sort_by(|a, b| a.0.get().total_cmp(&b.0.get()));
            marks.dedup_by(|a, b| a.0 == b.0);
            Marks::Timed {
                marks: marks.into_iter().map(|(after_s, top)| TimedMark { after_s, top }).collect(),
            }
        }),
    ]
}

fn jar_shape() -> impl Strategy<Value = JarShape> {
    prop_oneof![
        Just(JarShape::Straight),
        vec((quantity::<JarHeight>(), quantity()), 0..4).prop_map(|mut at| {
            at.sort_by(|a, b| a.0.get().total_cmp(&b.0.get()));
            at.dedup_by(|a, b| a.0 == b.0);
            JarShape::Widths {
                at: at.into_iter().map(|(height_mm, diameter_mm)| Width { height_mm, diameter_mm }).collect(),
            }
        }),
        vec((quantity::<JarHeight>(), quantity()), 0..4).prop_map(|mut fills| {
            fills.sort_by(|a, b| a.0.get().total_cmp(&b.0.get()));
            fills.dedup_by(|a, b| a.0 == b.0);
            JarShape::Poured {
                fills: fills
                    .into_iter()
                    .map(|(height_mm, volume_ml)| Fill { height_mm, volume_ml })
                    .collect(),
            }
        }),
    ]
}

fn jar() -> impl Strategy<Value = JarSeen> {
    let dispersants = vec![
        Dispersant::None,
        Dispersant::LiquidSoap,
        Dispersant::DishwasherPowder,
        Dispersant::Hexametaphosphate,
        Dispersant::Unknown,
    ];
    (
        moment(),
        any::<bool>(),
        any::<bool>(),
        marks(),
        jar_shape(),
        (of(quantity()), of(quantity()), of(quantity()), of(quantity())),
        select(dispersants),
        select(vec![Clarity::Clear, Clarity::Cloudy, Clarity::NotLooked]),
    )
        .prop_map(
            |(
                started,
                known,
                finished,
                marks,
                shape,
                (ruler, water, temperature, float),
                dispersant,
                clarity,
            )| {
                JarSeen {
                    started_at: (known || !finished).then_some(started),
                    soil_height_mm: float,
                    finished,
                    reading: JarReading {
                        marks,
                        ruler_step_mm: ruler,
                        shape,
                        water_height_mm: water,
                        water_temperature_c: temperature,
                        dispersant,
                        water_after_a_day: clarity,
                        floating_organic_mm: float,
                    },
                }
            },
        )
}

fn sign() -> impl Strategy<Value = Sign> {
    prop_oneof![
        quantity().prop_map(|days| Sign::StandingWater { days }),
        quantity().prop_map(|from_cm| Sign::Mottles { from_cm }),
        quantity().prop_map(|from_cm| Sign::GreyLayer { from_cm }),
        quantity().prop_map(|at_cm| Sign::WaterTable { at_cm }),
        of(quantity()).prop_map(|thickness_mm| Sign::Crust { thickness_mm }),
        of(quantity()).prop_map(|width_mm| Sign::Cracks { width_mm }),
        select(vec![Amount::None, Amount::Few, Amount::Many]).prop_map(|amount| Sign::Wormcasts { amount }),
        quantity().prop_map(|at_cm| Sign::PanFelt { at_cm }),
        quantity().prop_map(|at_cm| Sign::RootsTurn { at_cm }),
        quantity().prop_map(|at_cm| Sign::Rock { at_cm }),
        select(vec![Smell::Earthy, Smell::Nothing, Smell::Sour, Smell::RottenEggs])
            .prop_map(|of| Sign::Smell { of }),
        select(vec![Sign::Runoff, Sign::Washing, Sign::Blowing, Sign::Clods, Sign::Smeared]),
    ]
}

fn lab() -> impl Strategy<Value = LabTexture> {
    (
        0_u32..=1000,
        0_u32..=1000,
        select(vec![SiltLimit::Usda50, SiltLimit::Iso63, SiltLimit::International20]),
        select(vec![
            LabProcedure::Pipette,
            LabProcedure::Hydrometer,
            LabProcedure::LaserDiffraction,
            LabProcedure::NotStated,
        ]),
    )
        .prop_map(|(a, b, silt_limit, procedure)| {
            let (low, high) = (a.min(b), a.max(b));
            let percent = |tenths: u32| f64::from(tenths) / 10.0;
            LabTexture {
                sand_percent: Bounded::literal(percent(low)),
                silt_percent: Bounded::literal(percent(high - low)),
                clay_percent: Bounded::literal(percent(1000 - high)),
                silt_limit,
                procedure,
            }
        })
}

fn feel() -> impl Strategy<Value = FeelReading> {
    (
        any::<bool>(),
        of(quantity()),
        of(select(vec![Rub::Gritty, Rub::Smooth, Rub::Neither])),
        select(vec![Hand::Professional, Hand::Practised, Hand::New]),
    )
        .prop_map(|(ball_holds, ribbon_mm, rub, hand)| FeelReading {
            ball_holds,
            ribbon_mm: ribbon_mm.filter(|_| ball_holds),
            rub,
            hand,
        })
}

fn kitchen_scale() -> impl Strategy<Value = KitchenScaleReading> {
    (0.1_f64..5000.0, 0.0_f64..=1.0, 0.0_f64..=1.0, of(quantity()), of(quantity()), any::<bool>()).prop_map(
        |(total, share, rest, scale_step_g, sieve_um, dispersed)| KitchenScaleReading {
            total_g: Bounded::literal(total),
            sand_g: Bounded::literal(total * share),
            silt_g: Bounded::literal(total * (1.0 - share) * rest),
            scale_step_g,
            sieve_um,
            dispersed,
        },
    )
}

fn hydrometer() -> impl Strategy<Value = HydrometerReading> {
    (
        40.0_f64..200.0,
        (10.0_f64..1000.0, 3000.0_f64..200_000.0),
        (20.0_f64..38.0, 8.0_f64..19.0),
        of(15.0_f64..25.0),
        of(-1.0_f64..7.0),
    )
        .prop_map(|(mass, (early_s, late_s), (early, late), warmth, blank)| {
            let at = |after_s: f64, reading: f64| ScaleAt {
                after_s: Bounded::literal(after_s),
                reading_g_l: Bounded::literal(reading),
                temperature_c: warmth.map(Bounded::literal),
            };
            HydrometerReading {
                dry_mass_g: Bounded::literal(mass),
                early: at(early_s, early),
                late: at(late_s, late),
                blank_g_l: blank.map(Bounded::literal),
            }
        })
        .prop_filter("readings that a method can read", |readings| {
            Seen::Hydrometer(readings.clone()).accept().is_ok()
        })
}

pub fn any_seen() -> impl Strategy<Value = Seen> {
    let methods = vec![
        OrganicMatterMethod::LossOnIgnition,
        OrganicMatterMethod::WetOxidation,
        OrganicMatterMethod::DryCombustion,
        OrganicMatterMethod::Guess,
    ];
    let extracts = vec![
        SalinityExtract::SaturatedPaste,
        SalinityExtract::OneToOne,
        SalinityExtract::OneToTwo,
        SalinityExtract::OneToFive,
        SalinityExtract::NotStated,
    ];
    prop_oneof![
        jar().prop_map(Seen::Jar),
        kitchen_scale().prop_map(Seen::KitchenScale),
        feel().prop_map(Seen::Feel),
        hydrometer().prop_map(Seen::Hydrometer),
        lab().prop_map(Seen::LabTexture),
        (quantity(), of(select(methods)))
            .prop_map(|(percent, method)| Seen::OrganicMatter(OrganicMatter { percent, method })),
        prop_oneof![quantity().prop_map(Gravel::MassPercent), quantity().prop_map(Gravel::VolumePercent)]
            .prop_map(Seen::Gravel),
        prop_oneof![
            quantity().prop_map(Packing::DensityFactor),
            quantity().prop_map(Packing::BulkDensity),
            select(PackingWords::ALL.to_vec()).prop_map(Packing::Words),
        ]
        .prop_map(Seen::Packing),
        (quantity(), select(extracts))
            .prop_map(|(ec_ds_m, extract)| Seen::Salinity(Salinity { ec_ds_m, extract })),
        vec(sign(), 1..6).prop_map(|signs| Seen::Signs(Signs { signs })),
    ]
}
