//! Valid readings of every kind, from chance.

use book::model::Seen;
use book::model::seen::*;
use ground::kit::Bounded;
use ground::texture::feel::{FeelReading, Hand, Rub};
use ground::texture::hydrometer::{HydrometerReading, ScaleAt};
use ground::texture::jar::reading::{Fill, SettledFor};
use ground::texture::jar::{Boundary, Clarity, Dispersant, JarReading, JarShape, Marks, TimedMark, Width};
use ground::texture::kitchen_scale::KitchenScaleReading;
use ground::texture::lab::{LabProcedure, LabTexture, SiltLimit};
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

use super::{moment, quantity, water};

/// Tallest soil that is made up here; the water stands above it.
const SOIL_MM: f64 = 800.0;

/// What a boundary somewhere between two heights may have been seen as.
fn boundary(low: f64, high: f64) -> impl Strategy<Value = Boundary> {
    prop_oneof![
        Just(Boundary::At { mm: Bounded::literal(low) }),
        Just(Boundary::Between { low_mm: Bounded::literal(low), high_mm: Bounded::literal(high) }),
        Just(Boundary::No),
    ]
}

/// Boundaries one above the other.
fn boundaries(count: std::ops::RangeInclusive<usize>) -> impl Strategy<Value = Vec<Boundary>> {
    count.prop_flat_map(|count| vec(1.0..SOIL_MM, 2 * count)).prop_flat_map(|mut heights| {
        heights.sort_by(f64::total_cmp);
        heights.chunks(2).map(|pair| boundary(pair[0], pair[1]).boxed()).collect::<Vec<_>>()
    })
}

fn marks() -> impl Strategy<Value = Marks> {
    prop_oneof![
        boundaries(3..=3).prop_map(|b| Marks::Thicknesses { sand: b[2], silt: b[1], clay: b[0] }),
        boundaries(3..=3).prop_map(|b| Marks::Heights { sand_top: b[0], silt_top: b[1], clay_top: b[2] }),
        (boundaries(1..=5), vec(quantity::<SettledFor>(), 5)).prop_map(|(tops, mut times)| {
            times.sort_by(|a, b| a.get().total_cmp(&b.get()));
            Marks::Timed {
                marks: times.into_iter().zip(tops).map(|(after_s, top)| TimedMark { after_s, top }).collect(),
            }
        }),
    ]
}

fn jar_shape() -> impl Strategy<Value = JarShape> {
    prop_oneof![
        Just(JarShape::Straight),
        vec((0.0_f64..1000.0, quantity()), 1..4).prop_map(|mut at| {
            at.sort_by(|a, b| a.0.total_cmp(&b.0));
            at.dedup_by(|a, b| a.0 == b.0);
            let width = |(height, diameter_mm)| Width { height_mm: Bounded::literal(height), diameter_mm };
            JarShape::Widths { at: at.into_iter().map(width).collect() }
        }),
        vec((1.0_f64..50.0, 1.0_f64..500.0), 1..4).prop_map(|steps| {
            let (mut height, mut volume) = (0.0, 0.0);
            let fills = steps.into_iter().map(|(rise, pour)| {
                height += rise;
                volume += pour;
                Fill { height_mm: Bounded::literal(height), volume_ml: Bounded::literal(volume) }
            });
            JarShape::Poured { fills: fills.collect() }
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
        (of(quantity()), of(SOIL_MM..1000.0), of(quantity()), of(quantity())),
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
                        water_height_mm: water.map(Bounded::literal),
                        water_temperature_c: temperature,
                        dispersant,
                        water_after_a_day: clarity,
                        floating_organic_mm: float,
                    },
                }
            },
        )
        .prop_filter("a jar that a method can read", |jar| Seen::Jar(jar.clone()).accept().is_ok())
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
        water::moisture().prop_map(Seen::Moisture),
        water::rings().prop_map(Seen::RingInfiltration),
        water::percolation().prop_map(Seen::Percolation),
        water::layers().prop_map(Seen::Layers),
        super::feeding::lab_report().prop_map(Seen::LabReport),
        super::soil_structure::probe().prop_map(Seen::Probe),
        super::soil_structure::cores().prop_map(Seen::Cores),
        super::soil_structure::block().prop_map(Seen::Spade),
        super::soil_structure::slake().prop_map(Seen::Slake),
        super::soil_structure::working().prop_map(Seen::Working),
        super::posts::building_ground().prop_map(Seen::BuildingGround),
    ]
}
