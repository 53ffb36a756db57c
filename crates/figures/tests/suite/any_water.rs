//! Whatever numbers and names the pictures of water are given, they come out sound.

use crate::outline::outline;
use figures::drain::{DrainSection, Kind, drain_section};
use figures::outlook::{Ahead, Outlook, week_outlook};
use figures::profile::{Amount, GroundProfile, Layer, Sums, WaterAt, ground_profile};
use figures::retention::{Held, RetentionCurve, retention_curve};
use figures::season::{Day, Observation, Season, Size, Tick, season_balance};
use figures::wetting::{self, Ground, Moment, Wetting, wetting_film, wetting_frames};
use ground::kit::Spread;
use ground::kit::units::UnitSystem;
use proptest::collection::vec;
use proptest::prelude::*;

/// Any number at all, with sensible ones and the ends of the range often.
fn number(most: f64) -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => 0.0..=most,
        1 => any::<f64>(),
        1 => proptest::sample::select(vec![f64::NAN, f64::INFINITY, f64::MAX, f64::MIN, 0.0, -0.0, 5e-324]),
    ]
}

fn spread(most: f64) -> impl Strategy<Value = Spread> {
    let ordered = (0.0..=most, 0.0..=most, 0.0..=most).prop_map(|(a, b, c)| {
        let mut at = [a, b, c];
        at.sort_by(f64::total_cmp);
        Spread { low: at[0], median: at[1], high: at[2] }
    });
    let wild = (number(most), number(most), number(most)).prop_map(|(low, median, high)| Spread {
        low,
        median,
        high,
    });
    prop_oneof![4 => ordered, 1 => wild]
}

fn systems() -> impl Strategy<Value = (UnitSystem, Size)> {
    let units = proptest::sample::select(vec![UnitSystem::UsCustomary, UnitSystem::Metric]);
    (units, proptest::sample::select(vec![Size::Small, Size::Wide]))
}

fn day() -> impl Strategy<Value = Day> {
    (spread(120.0), number(60.0), number(150.0), number(40.0), number(40.0)).prop_map(
        |(deficit_mm, allowable_mm, total_available_mm, rain_mm, watering_mm)| Day {
            deficit_mm,
            allowable_mm,
            total_available_mm,
            rain_mm,
            watering_mm,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn any_profile(
        layers in vec((number(120.0), number(200.0), spread(1.0), spread(1.0), spread(1.0)), 0..9),
        name in any::<String>(), sums in proptest::option::of((number(90.0), vec(spread(300.0), 6))),
        lines in (proptest::option::of(number(150.0)), proptest::option::of(number(150.0))),
        now in vec((number(150.0), number(0.6)), 0..8), (system, _) in systems(),
    ) {
        let layers: Vec<Layer<'_>> = layers.iter().map(|(top, bottom, dry, wet, full)| Layer {
            top_cm: *top, bottom_cm: *bottom, name: &name,
            wilting_point_m3_m3: *dry, field_capacity_m3_m3: *wet, saturation_m3_m3: *full,
        }).collect();
        let amount = |water_mm: Spread, bed: Spread| Amount { water_mm, bed_l: Some(bed) };
        let sums = sums.map(|(to_depth_cm, s)| Sums {
            to_depth_cm, unusable: amount(s[0], s[1]), usable: amount(s[2], s[3]), draining: amount(s[4], s[5]),
        });
        let now: Vec<WaterAt> =
            now.iter().map(|(depth_cm, water_m3_m3)| WaterAt { depth_cm: *depth_cm, water_m3_m3: *water_m3_m3 }).collect();
        let (root_depth_cm, water_table_cm) = lines;
        outline(&ground_profile(&GroundProfile { id: &name, layers: &layers, sums, root_depth_cm, water_table_cm, now: &now, system }));
    }

    #[test]
    fn any_retention(
        curve in vec((number(20_000.0), spread(1.0)), 0..12), sorted in any::<bool>(),
        reading_kpa in proptest::option::of(number(2000.0)), (system, _) in systems(),
    ) {
        let mut curve: Vec<Held> =
            curve.iter().map(|(suction_kpa, held)| Held { suction_kpa: *suction_kpa, water_m3_m3: *held }).collect();
        if sorted {
            curve.sort_by(|a, b| a.suction_kpa.total_cmp(&b.suction_kpa));
        }
        outline(&retention_curve(&RetentionCurve { id: "r", curve: &curve, reading_kpa, system }));
    }

    #[test]
    fn any_season(
        days in vec(day(), 0..40), ticks in vec((0..60_usize, any::<String>()), 0..5), name in any::<String>(),
        looks in vec((0..60_usize, number(80.0), number(80.0)), 0..5), today in proptest::option::of(0..60_usize),
        (system, size) in systems(),
    ) {
        let ticks: Vec<Tick<'_>> = ticks.iter().map(|(day, label)| Tick { day: *day, label }).collect();
        let observations: Vec<Observation<'_>> = looks.iter().map(|(day, before, after)| Observation {
            day: *day, before_mm: *before, after_mm: *after, label: &name,
        }).collect();
        outline(&season_balance(&Season {
            id: "s", name: &name, days: &days, ticks: &ticks, observations: &observations, today, size, system,
        }));
    }

    #[test]
    fn any_wetting(
        layers in vec((number(60.0), number(150.0), number(0.6), number(0.6)), 0..4), depths in vec(number(150.0), 0..12),
        moments in vec((number(24.0), vec(number(0.6), 0..14), number(50.0), number(20.0)), 0..9),
        root_depth_cm in proptest::option::of(number(100.0)), name in any::<String>(), (system, size) in systems(),
        sorted in any::<bool>(),
    ) {
        let layers: Vec<wetting::Layer> = layers.iter().map(|(top, bottom, wet, full)| wetting::Layer {
            top_cm: *top, bottom_cm: *bottom, field_capacity_m3_m3: *wet, saturation_m3_m3: *full,
        }).collect();
        let mut depths = depths;
        if sorted {
            depths.sort_by(f64::total_cmp);
        }
        let moments: Vec<Moment<'_>> = moments.iter().map(|(hours, water, gone_in, lost)| Moment {
            hours: *hours, water_m3_m3: water, in_mm: *gone_in, below_roots_mm: *lost,
        }).collect();
        let ground = Ground { name: &name, layers: &layers, depths_cm: &depths, root_depth_cm, moments: &moments };
        let grounds = [ground, Ground { name: "b", moments: &moments[..moments.len() / 2], ..ground }, ground];
        for count in 0..=grounds.len() {
            let wetting = Wetting { id: "w", grounds: &grounds[..count], size, system };
            outline(&wetting_frames(&wetting));
            outline(&wetting_film(&wetting));
        }
    }

    #[test]
    fn any_drains(n in vec(number(300.0), 4), tight in any::<bool>(), (system, _) in systems()) {
        for kind in [Kind::Pipe, Kind::Ditch] {
            outline(&drain_section(&DrainSection {
                id: "d", kind, depth_cm: n[0], spacing_m: n[1], midspan_water_table_cm: n[2],
                impermeable_cm: tight.then_some(n[3]), system,
            }));
        }
    }

    #[test]
    fn any_outlook(
        days in vec((any::<String>(), number(1.0), proptest::option::of(number(1.0)), proptest::option::of(number(30.0))), 0..12),
        due_day in proptest::option::of(0..14_usize), (system, _) in systems(),
    ) {
        let days: Vec<Ahead<'_>> = days.iter().map(|(label, due_odds, rain_odds, rain_mm)| Ahead {
            label, date: label, due_odds: *due_odds, rain_odds: *rain_odds, rain_mm: *rain_mm,
        }).collect();
        outline(&week_outlook(&Outlook { id: "o", days: &days, due_day, system }));
    }
}
