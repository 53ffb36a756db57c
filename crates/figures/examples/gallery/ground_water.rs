//! Pictures of water in the ground, with invented numbers.

use figures::Figure;
use ground::kit::Spread;
use ground::kit::units::UnitSystem::{self, Metric, UsCustomary};

/// Every one of them.
pub(crate) fn all() -> Vec<Figure> {
    [profiles(), retention(), seasons(), wetting(), drains(), outlooks()].concat()
}

fn about(median: f64, by: f64) -> Spread {
    Spread { low: median - by, median, high: median + by }
}

fn profiles() -> Vec<Figure> {
    use figures::profile::{Amount, GroundProfile, Layer, Sums, WaterAt, ground_profile};
    let layer = |top_cm, bottom_cm, name, [dry, wet, full]: [f64; 3]| Layer {
        top_cm,
        bottom_cm,
        name,
        wilting_point_m3_m3: about(dry, 0.02),
        field_capacity_m3_m3: about(wet, 0.03),
        saturation_m3_m3: about(full, 0.025),
    };
    let three = [
        layer(0.0, 25.0, "silt loam", [0.13, 0.31, 0.50]),
        layer(25.0, 55.0, "silty clay loam", [0.20, 0.36, 0.47]),
        layer(55.0, 100.0, "sandy loam", [0.08, 0.18, 0.41]),
    ];
    let six = [
        layer(0.0, 6.0, "compost mulch", [0.15, 0.40, 0.58]),
        layer(6.0, 20.0, "silt loam", [0.13, 0.31, 0.50]),
        layer(20.0, 28.0, "silt loam, packed by wheels", [0.14, 0.29, 0.38]),
        layer(28.0, 55.0, "gravelly sandy clay loam", [0.17, 0.27, 0.40]),
        layer(55.0, 90.0, "sand", [0.03, 0.09, 0.38]),
        layer(90.0, 120.0, "clay", [0.28, 0.41, 0.49]),
    ];
    let amount = |water_mm: f64, by: f64| Amount {
        water_mm: about(water_mm, by),
        bed_l: Some(about(water_mm * 23.2, by * 23.2)),
    };
    let sums = Sums {
        to_depth_cm: 60.0,
        unusable: amount(96.0, 11.0),
        usable: amount(98.0, 9.0),
        draining: amount(91.0, 14.0),
    };
    let at = |depth_cm, water_m3_m3| WaterAt { depth_cm, water_m3_m3 };
    let now = [
        at(0.0, 0.15),
        at(10.0, 0.19),
        at(25.0, 0.24),
        at(26.0, 0.30),
        at(55.0, 0.33),
        at(56.0, 0.16),
        at(85.0, 0.22),
        at(100.0, 0.41),
    ];
    let plain = GroundProfile {
        id: "profile",
        layers: &three,
        sums: Some(sums),
        root_depth_cm: Some(60.0),
        water_table_cm: Some(92.0),
        now: &now,
        system: UsCustomary,
    };
    vec![
        ground_profile(&plain),
        ground_profile(&GroundProfile {
            id: "profile-six",
            layers: &six,
            root_depth_cm: Some(100.0),
            water_table_cm: Some(105.0),
            now: &[],
            system: Metric,
            ..plain
        }),
        ground_profile(&GroundProfile {
            id: "profile-bare",
            sums: None,
            water_table_cm: None,
            now: &[],
            ..plain
        }),
    ]
}

fn retention() -> Vec<Figure> {
    use figures::retention::{Held, RetentionCurve, retention_curve};
    let curve: Vec<Held> = (0..=80)
        .map(|n| {
            let suction_kpa = 10_f64.powf(f64::from(n) / 20.0);
            let theta = 0.06 + 0.40 / (1.0 + (0.09 * suction_kpa).powf(1.35)).powf(0.2593);
            Held { suction_kpa, water_m3_m3: about(theta, 0.012 + 0.03 * (theta - 0.06)) }
        })
        .collect();
    let plain =
        RetentionCurve { id: "retention", curve: &curve, reading_kpa: Some(42.0), system: UsCustomary };
    vec![
        retention_curve(&plain),
        retention_curve(&RetentionCurve { id: "retention-si", reading_kpa: None, system: Metric, ..plain }),
    ]
}

fn seasons() -> Vec<Figure> {
    use figures::season::{Day, Observation, Season, Size, Tick, season_balance};
    let mut days = Vec::new();
    let (mut deficit, mut sure) = (4.0_f64, 2.0_f64);
    for n in 0..124_u32 {
        let rain_mm = match n {
            9 => 14.0,
            23 => 6.0,
            41 => 22.0,
            44 => 3.0,
            67 => 9.0,
            90 => 31.0,
            104 => 5.0,
            120 => 4.0,
            _ => 0.0,
        };
        let roots = (f64::from(n) / 60.0).min(1.0);
        let total_available_mm = (30.0 + 50.0 * roots).floor();
        let allowable_mm = 0.4 * total_available_mm;
        let watering_mm = if n < 114 && deficit > allowable_mm * 0.9 { 18.0 } else { 0.0 };
        deficit += 2.2 + 2.4 * (f64::from(n) * 0.05).sin().max(0.0) - rain_mm - watering_mm;
        deficit = deficit.max(0.0);
        sure = if deficit == 0.0 { 1.5 } else { sure + 0.16 };
        if n == 52 || n == 96 {
            deficit += if n == 52 { -8.0 } else { 6.0 };
            sure = 2.5;
        }
        let spread = Spread { low: (deficit - sure).max(0.0), median: deficit, high: deficit + sure };
        days.push(Day { deficit_mm: spread, allowable_mm, total_available_mm, rain_mm, watering_mm });
    }
    let ticks = [(0, "1 May"), (31, "1 Jun"), (61, "1 Jul"), (92, "1 Aug"), (123, "1 Sep")];
    let ticks = ticks.map(|(day, label)| Tick { day, label });
    let look = |day: usize, by: f64| Observation {
        day,
        before_mm: days[day].deficit_mm.median + by,
        after_mm: days[day].deficit_mm.median,
        label: "by feel",
    };
    let observations = [look(52, 8.0), look(96, -6.0)];
    let season = Season {
        id: "season",
        name: "bed 4, carrots",
        days: &days,
        ticks: &ticks,
        observations: &observations,
        today: Some(114),
        size: Size::Small,
        system: UsCustomary,
    };
    let short_ticks =
        [(0, "3 Jul"), (7, "10 Jul"), (14, "17 Jul"), (20, "23 Jul")].map(|(day, label)| Tick { day, label });
    let short_looks = [Observation { day: 9, before_mm: 20.0, after_mm: 29.0, label: "with a probe" }];
    vec![
        season_balance(&season),
        season_balance(&Season { id: "season-wide", size: Size::Wide, ..season }),
        season_balance(&Season { id: "season-si", system: Metric, today: None, observations: &[], ..season }),
        season_balance(&Season {
            id: "season-short",
            days: &days[62..83],
            ticks: &short_ticks,
            observations: &short_looks,
            today: Some(13),
            ..season
        }),
    ]
}

fn wetting() -> Vec<Figure> {
    use figures::wetting::{Ground, Layer, Moment, Size, Wetting, wetting_film, wetting_frames};
    let depths: Vec<f64> = (0..50).map(|n| 1.0 + 2.0 * f64::from(n)).collect();
    let hours: Vec<f64> = (0..21).map(|n| f64::from(n) * 0.4).collect();
    let water = |speed: f64, peak: f64, capacity: &dyn Fn(f64) -> f64| -> Vec<Vec<f64>> {
        let at = |hour: f64, depth: f64| {
            let front = speed * hour.min(4.0) + 1.5 * (hour - 4.0).max(0.0);
            let inside = 1.0 / (1.0 + ((depth - front) / 2.5).exp());
            let rest = if hour > 4.0 { 0.5 * (-(hour - 4.0) / 2.0).exp() } else { 1.0 };
            let dry = 0.6 * capacity(depth);
            let wet = capacity(depth) + (peak - capacity(depth)) * rest * (1.0 - depth / 200.0);
            if hour <= 0.0 { dry } else { dry + (wet.min(peak) - dry) * inside }
        };
        hours.iter().map(|hour| depths.iter().map(|depth| at(*hour, *depth)).collect()).collect()
    };
    let (plain, better) = (
        water(9.0, 0.44, &|depth| if depth < 30.0 { 0.29 } else { 0.19 }),
        water(6.0, 0.47, &|depth| if depth < 30.0 { 0.34 } else { 0.19 }),
    );
    let moments = |contents: &[Vec<f64>], lost: f64| -> Vec<(f64, f64)> {
        hours
            .iter()
            .zip(contents)
            .map(|(hour, _)| (6.0 * hour.min(4.0), lost * (hour - 5.0).max(0.0)))
            .collect()
    };
    let (lost_plain, lost_better) = (moments(&plain, 1.4), moments(&better, 0.0));
    let built = |contents: &'static [Vec<f64>], sums: &[(f64, f64)]| -> Vec<Moment<'static>> {
        contents
            .iter()
            .zip(sums)
            .zip(&hours)
            .map(|((water, sum), hour)| Moment {
                hours: *hour,
                water_m3_m3: water,
                in_mm: sum.0,
                below_roots_mm: sum.1,
            })
            .collect()
    };
    // A gallery runs once: leaking its numbers is the short way to hold them long enough.
    let (plain, better): (&'static [_], &'static [_]) = (plain.leak(), better.leak());
    let (plain, better) = (built(plain, &lost_plain), built(better, &lost_better));
    let layers = |capacity: f64, full: f64| {
        [
            Layer { top_cm: 0.0, bottom_cm: 30.0, field_capacity_m3_m3: capacity, saturation_m3_m3: full },
            Layer { top_cm: 30.0, bottom_cm: 100.0, field_capacity_m3_m3: 0.19, saturation_m3_m3: 0.45 },
        ]
    };
    let (layers_plain, layers_better) = (layers(0.29, 0.46), layers(0.34, 0.51));
    let ground = |name, layers, moments| Ground {
        name,
        layers,
        depths_cm: &depths,
        root_depth_cm: Some(45.0),
        moments,
    };
    let grounds = [
        ground("this ground", &layers_plain, &plain),
        ground("after 2 in of compost", &layers_better, &better),
    ];
    let small = Wetting { id: "wetting", grounds: &grounds, size: Size::Small, system: UsCustomary };
    vec![
        wetting_frames(&small),
        wetting_frames(&Wetting { id: "wetting-wide", size: Size::Wide, system: Metric, ..small }),
        wetting_film(&Wetting { id: "wetting-film", ..small }),
        wetting_frames(&Wetting { id: "wetting-one", grounds: &grounds[..1], ..small }),
    ]
}

fn drains() -> Vec<Figure> {
    use figures::drain::{DrainSection, Kind, drain_section};
    let pipe = DrainSection {
        id: "drain",
        kind: Kind::Pipe,
        depth_cm: 105.0,
        spacing_m: 12.2,
        midspan_water_table_cm: 55.0,
        impermeable_cm: Some(180.0),
        system: UsCustomary,
    };
    vec![
        drain_section(&pipe),
        drain_section(&DrainSection {
            id: "drain-ditch",
            kind: Kind::Ditch,
            impermeable_cm: Some(480.0),
            system: Metric,
            ..pipe
        }),
        drain_section(&DrainSection {
            id: "drain-bare",
            impermeable_cm: None,
            midspan_water_table_cm: 10.0,
            ..pipe
        }),
    ]
}

fn outlooks() -> Vec<Figure> {
    use figures::outlook::{Ahead, Outlook, week_outlook};
    let day = |label, date, due_odds, rain_odds, rain_mm| Ahead {
        label,
        date,
        due_odds,
        rain_odds: Some(rain_odds),
        rain_mm: Some(rain_mm),
    };
    let days = [
        day("Fri", "25 Aug", 0.0, 0.1, 0.0),
        day("Sat", "26 Aug", 0.004, 0.2, 0.3),
        day("Sun", "27 Aug", 0.18, 0.7, 2.4),
        day("Mon", "28 Aug", 0.61, 0.3, 1.0),
        day("Tue", "29 Aug", 0.88, 0.05, 0.0),
        day("Wed", "30 Aug", 0.997, 0.4, 4.0),
        day("Thu", "31 Aug", 1.0, 1.0, 16.0),
    ];
    let of = |id, due_day, system: UnitSystem| week_outlook(&Outlook { id, days: &days, due_day, system });
    vec![of("outlook", Some(3), UsCustomary), of("outlook-si", None, Metric)]
}
