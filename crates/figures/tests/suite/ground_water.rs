//! The pictures of water in the ground: what they say, what they leave out, and that nothing that
//! is put into them breaks them.

use crate::outline::outline;
use figures::drain::{DrainSection, Kind, drain_section};
use figures::outlook::{Ahead, Outlook, week_outlook};
use figures::profile::{Amount, GroundProfile, Layer, Sums, WaterAt, ground_profile};
use figures::retention::{Held, RetentionCurve, retention_curve};
use figures::season::{Day, Observation, Season, Size, Tick, season_balance};
use figures::wetting::{self, Ground, Moment, Wetting, wetting_film, wetting_frames};
use ground::kit::Spread;
use ground::kit::units::UnitSystem;

fn about(median: f64, by: f64) -> Spread {
    Spread { low: median - by, median, high: median + by }
}

fn layer(top_cm: f64, bottom_cm: f64, name: &str, [dry, wet, full]: [f64; 3]) -> Layer<'_> {
    Layer {
        top_cm,
        bottom_cm,
        name,
        wilting_point_m3_m3: about(dry, 0.02),
        field_capacity_m3_m3: about(wet, 0.03),
        saturation_m3_m3: about(full, 0.02),
    }
}

fn profile() -> GroundProfile<'static> {
    // 25.4 mm are an inch and 378.541 L are 100 US gallons (NIST SP 811).
    let amount = |inches: f64| Amount {
        water_mm: about(inches * 25.4, 12.7),
        bed_l: Some(about(inches * 378.541_178_4, 37.854_117_84)),
    };
    let layers =
        [layer(0.0, 25.4, "silt loam", [0.13, 0.31, 0.50]), layer(25.4, 76.2, "clay", [0.28, 0.41, 0.48])];
    GroundProfile {
        id: "p",
        layers: Box::leak(Box::new(layers)),
        sums: Some(Sums {
            to_depth_cm: 60.96,
            unusable: amount(5.0),
            usable: amount(4.0),
            draining: amount(3.0),
        }),
        root_depth_cm: Some(60.96),
        water_table_cm: None,
        now: &[WaterAt { depth_cm: 0.0, water_m3_m3: 0.2 }, WaterAt { depth_cm: 76.2, water_m3_m3: 0.4 }],
        system: UnitSystem::UsCustomary,
    }
}

#[test]
fn profile_gives_layers_sums_and_lines() {
    insta::assert_snapshot!(outline(&ground_profile(&profile())));
}

#[test]
fn profile_sums_are_in_inches_and_gallons_or_millimetres_and_litres() {
    let us = outline(&ground_profile(&profile()));
    for words in
        ["Crops can use: 4.00 in, 400 gal a bed", "90 %: 3.50 to 4.50 in, 390 to 410 gal", "down to 24 in"]
    {
        assert!(us.contains(words), "{words} is missing from {us}");
    }
    let metric = outline(&ground_profile(&GroundProfile { system: UnitSystem::Metric, ..profile() }));
    for words in ["Crops can use: 102 mm, 1514 L a bed", "down to 61 cm"] {
        assert!(metric.contains(words), "{words} is missing from {metric}");
    }
}

#[test]
fn profile_leaves_out_layers_that_make_no_sense_and_says_so() {
    let layers = [
        layer(0.0, 25.0, "silt loam", [0.13, 0.31, 0.50]),
        layer(40.0, 30.0, "upside down", [0.13, 0.31, 0.50]),
        layer(30.0, 40.0, "overfull", [0.13, 0.31, 1.50]),
    ];
    let said = outline(&ground_profile(&GroundProfile { layers: &layers, ..profile() }));
    assert!(said.contains("2 layers could not be drawn") && !said.contains("upside down"), "{said}");
    assert!(
        outline(&ground_profile(&GroundProfile { layers: &[], ..profile() }))
            .contains("Nothing is known yet")
    );
}

/// Straight on the scale of tens from 40 % at 10 kPa to 20 % at 1000 kPa and 10 % at 10 000 kPa.
const STRAIGHT: [Held; 3] = [
    Held { suction_kpa: 10.0, water_m3_m3: Spread { low: 0.38, median: 0.40, high: 0.42 } },
    Held { suction_kpa: 1000.0, water_m3_m3: Spread { low: 0.18, median: 0.20, high: 0.22 } },
    Held { suction_kpa: 10_000.0, water_m3_m3: Spread { low: 0.09, median: 0.10, high: 0.11 } },
];

#[test]
fn retention_reads_the_curve_between_its_points() {
    let curve = RetentionCurve {
        id: "r",
        curve: &STRAIGHT,
        reading_kpa: Some(100.0),
        system: UnitSystem::UsCustomary,
    };
    let said = outline(&retention_curve(&curve));
    // By hand: 40 - 10 log10(3.3) = 34.8; 20 - 10 log10(1.5) = 18.2; 40 - 10 = 30.
    for words in [
        "field capacity (33 cbar): 34.8 %",
        "wilting point (1500 cbar): 18.2 %",
        "the reading (100 cbar): 30 %",
    ] {
        assert!(said.contains(words), "{words} is missing from {said}");
    }
    insta::assert_snapshot!(said);
    assert!(
        outline(&retention_curve(&RetentionCurve { curve: &STRAIGHT[..1], ..curve })).contains("not known")
    );
}

/// Ten days: 5 mm dry a day, rain of 12.7 mm on the fifth, forecast from the ninth.
fn days() -> Vec<Day> {
    (0..10)
        .map(|n| {
            let deficit = 5.0 * f64::from(n) - if n >= 4 { 12.7 } else { 0.0 };
            Day {
                deficit_mm: about(deficit, 3.0),
                allowable_mm: 30.0,
                total_available_mm: 60.0,
                rain_mm: if n == 4 { 12.7 } else { 0.0 },
                watering_mm: if n == 2 { 6.35 } else { 0.0 },
            }
        })
        .collect()
}

const TICKS: [Tick<'_>; 2] = [Tick { day: 0, label: "1 May" }, Tick { day: 5, label: "6 May" }];

fn season<'a>(days: &'a [Day], size: Size) -> Season<'a> {
    Season {
        id: "s",
        name: "bed 4",
        days,
        ticks: &TICKS,
        observations: &[Observation { day: 6, before_mm: 10.0, after_mm: 17.3, label: "by feel" }],
        today: Some(7),
        size,
        system: UnitSystem::Metric,
    }
}

#[test]
fn season_tells_today_the_forecast_and_the_looks() {
    let days = days();
    let small = season_balance(&season(&days, Size::Small));
    insta::assert_snapshot!(outline(&small));
    assert!(small.svg.contains("viewBox=\"0 0 340 "));
    let wide = season_balance(&season(&days, Size::Wide));
    assert!(outline(&wide).contains("gets there on 6 May + 4 d"));
    assert!(wide.svg.contains("figure-wide") && wide.svg.contains("viewBox=\"0 0 720 "));
    assert_eq!((small.description, small.table), (wide.description, wide.table));
}

#[test]
fn more_than_full_is_said_as_such() {
    let mut days = days();
    days[7].deficit_mm = about(-4.0, 1.0);
    let said = season_balance(&season(&days, Size::Small)).description;
    assert!(
        said.starts_with("Today the root zone is 4 mm above full (90 %: a deficit of -5 to -3 mm)."),
        "{said}"
    );
}

#[test]
fn a_day_without_a_deficit_leaves_a_gap() {
    let mut days = days();
    let bands = |days: &[Day]| {
        let drawn = season_balance(&Season { today: None, ..season(days, Size::Small) }).svg;
        drawn.matches("url(#s-range)").count()
    };
    let whole = bands(&days);
    days[3].deficit_mm.median = f64::NAN;
    assert_eq!(bands(&days), whole + 1);
}

fn wetting() -> Wetting<'static> {
    let layers = [
        wetting::Layer { top_cm: 0.0, bottom_cm: 30.0, field_capacity_m3_m3: 0.30, saturation_m3_m3: 0.48 },
        wetting::Layer { top_cm: 30.0, bottom_cm: 60.0, field_capacity_m3_m3: 0.20, saturation_m3_m3: 0.42 },
    ];
    let moment = |n: u32| {
        let contents: Vec<f64> = (0..6).map(|cell| if cell < n / 2 { 0.40 } else { 0.12 }).collect();
        let (hours, in_mm) = (f64::from(n) * 0.5, f64::from(n) * 12.7);
        Moment { hours, water_m3_m3: contents.leak(), in_mm, below_roots_mm: 0.0 }
    };
    let moments: Vec<Moment<'_>> = (0..9).map(moment).collect();
    let ground = Ground {
        name: "this ground",
        layers: Box::leak(Box::new(layers)),
        depths_cm: &[5.0, 15.0, 25.0, 35.0, 45.0, 55.0],
        root_depth_cm: Some(45.0),
        moments: moments.leak(),
    };
    let grounds = [ground, Ground { name: "after compost", ..ground }];
    Wetting {
        id: "w",
        grounds: Box::leak(Box::new(grounds)),
        size: Size::Small,
        system: UnitSystem::UsCustomary,
    }
}

#[test]
fn frames_show_at_most_six_moments_with_the_first_and_the_last() {
    let frames = wetting_frames(&wetting());
    insta::assert_snapshot!(outline(&frames));
    let times: Vec<&str> = frames.table.rows.iter().map(|row| row[0].as_str()).take(6).collect();
    let times: Vec<&str> = times.iter().map(|name| name.trim_start_matches("this ground, ")).collect();
    assert_eq!(times, ["0 h", "1 h", "1.5 h", "2.5 h", "3 h", "4 h"]);
    // 8 x 12.7 mm are 4 in; at 4 h four cells, the lowest at 35 cm, stand at field capacity.
    assert!(
        frames
            .description
            .contains("after 4 h gone in 4.00 in, lost 0.00 in; wet to field capacity down to 14 in")
    );
    let wide = wetting_frames(&Wetting { size: Size::Wide, ..wetting() });
    assert_eq!((frames.description, frames.table), (wide.description.clone(), wide.table.clone()));
    assert!(outline(&wide).contains("after compost"));
}

#[test]
fn film_holds_every_moment_and_shows_the_first() {
    let film = wetting_film(&wetting());
    outline(&film);
    for frame in 0..9 {
        assert_eq!(film.svg.matches(&format!("data-frame=\"{frame}\"")).count(), 1);
    }
    assert_eq!(film.svg.matches("class=\"frame\"").count(), 9);
    let groups: Vec<&str> = film.svg.split("<g ").filter(|part| part.contains("data-frame=")).collect();
    let hidden = |part: &&&str| part.split('>').next().is_some_and(|tag| tag.contains("display=\"none\""));
    assert_eq!(groups.iter().filter(hidden).count(), 8);
    assert!(groups.iter().find(|part| part.contains("data-frame=\"0\"")).is_some_and(|part| !hidden(&part)));
    assert!(outline(&wetting_film(&Wetting { grounds: &[], ..wetting() })).contains("not known"));
}

fn pipes() -> DrainSection<'static> {
    DrainSection {
        id: "d",
        kind: Kind::Pipe,
        depth_cm: 91.44,
        spacing_m: 12.192,
        midspan_water_table_cm: 45.72,
        impermeable_cm: Some(304.8),
        system: UnitSystem::UsCustomary,
    }
}

#[test]
fn drains_are_measured_in_feet_or_metres() {
    // A foot is 0.3048 m (NIST SP 811).
    insta::assert_snapshot!(outline(&drain_section(&pipes())));
    let ditches =
        DrainSection { kind: Kind::Ditch, system: UnitSystem::Metric, impermeable_cm: None, ..pipes() };
    let said = outline(&drain_section(&ditches));
    assert!(
        said.contains("Ditches 0.91 m deep, 12.2 m apart") && said.contains("No layer that stops water"),
        "{said}"
    );
}

#[test]
fn drains_that_cannot_be_say_what_is_wrong() {
    for (section, wrong) in [
        (DrainSection { depth_cm: 0.0, ..pipes() }, "depth of the drains"),
        (DrainSection { spacing_m: f64::NAN, ..pipes() }, "spacing of the drains"),
        (DrainSection { midspan_water_table_cm: -3.0, ..pipes() }, "depth of the water table"),
        (DrainSection { midspan_water_table_cm: 120.0, ..pipes() }, "lies below the drains"),
    ] {
        let said = outline(&drain_section(&section));
        assert!(said.contains("Not drawn") && said.contains(wrong), "{wrong} is missing from {said}");
    }
}

#[test]
fn outlook_marks_the_due_day() {
    let day =
        |label, due_odds, rain_odds| Ahead { label, date: "", due_odds, rain_odds, rain_mm: Some(12.7) };
    let days = [
        day("Fri", 0.0, Some(0.1)),
        day("Sat", 0.62, None),
        day("Sun", 0.997, Some(1.0)),
        day("Mon", 1.7, None),
    ];
    let outlook = Outlook { id: "o", days: &days, due_day: Some(1), system: UnitSystem::UsCustomary };
    insta::assert_snapshot!(outline(&week_outlook(&outlook)));
    let never = outline(&week_outlook(&Outlook { due_day: None, ..outlook }));
    assert!(never.contains("not due on any of these days"));
    assert!(
        outline(&week_outlook(&Outlook { days: &[], due_day: Some(9), ..outlook })).contains("not known")
    );
}
