//! The path from the book's weather to a bed's state, against a published balance.

use std::collections::BTreeMap;

use book::model::weather::{DayRain, StationEt0, WeatherDay, WeatherTable, WeatherWhat};
use book::model::{Farm, Latitude, UnitSystem};
use book::{Book, Stamp};
use ground::climate::crops::{CropDay, CropStage};
use ground::irrigation::balance::{BedSoils, Coefficient, FractionRule, Rules, Wetting};
use ground::kit::Bounded;
use jiff::civil::date;
use jiff::{Timestamp, ToSpan};

use super::season::{Setup, run};
use super::weather::{DaySource, FarmWeather};

const DRAWS: usize = 400;

/// The same soil in every draw, without any scatter of the crop's demand.
fn certain(soil: &BedSoils) -> BedSoils {
    let many = |values: &[f64]| vec![values[0]; DRAWS];
    let mut layers = soil.layers.clone();
    for layer in &mut layers {
        layer.available_m3_m3 = many(&layer.available_m3_m3);
        layer.curve = vec![layer.curve[0]; DRAWS];
        layer.class = vec![layer.class[0]; DRAWS];
    }
    BedSoils {
        layers,
        evaporable_mm: many(&soil.evaporable_mm),
        readily_evaporable_mm: many(&soil.readily_evaporable_mm),
        demand_factor: many(&soil.demand_factor),
    }
}

/// FAO-56, example 37: tomato on a soil that holds 160 mm over 0.8 m, 55 mm short of full, Kc 1.2 and
/// ET0 5 mm/d for ten days without water. Printed depletions: 61.0, 67.0, 72.8, 78.3, 83.4, 88.2, 92.6, 96.9,
/// 100.8 and 104.5 mm.
///
/// The station's evapotranspiration is drawn with its 5 % error here, so the median may stray: by 0.5 mm.
#[test]
fn a_published_drying_is_followed_from_the_book_on() {
    let folder = tempfile::tempdir().unwrap();
    let farm = Farm {
        latitude_degrees: Some(Latitude::literal(40.0)),
        ..Farm::named("Worked example", UnitSystem::Metric)
    };
    let stamp = Stamp::new(Timestamp::UNIX_EPOCH, "");
    let mut book = Book::create(folder.path().join("one.farmbook"), farm, &stamp).unwrap();
    let first = date(2026, 7, 1);
    let days = (0..10)
        .map(|at| WeatherDay {
            et0_mm: Some(StationEt0::literal(5.0)),
            rain_mm: Some(DayRain::literal(0.0)),
            ..WeatherDay::empty(first.saturating_add(at.days()))
        })
        .collect();
    let table = WeatherTable {
        name: "Station".to_owned(),
        what: WeatherWhat::Measured,
        wind_height_m: None,
        days,
        columns: Vec::new(),
        date_order: Default::default(),
        note: String::new(),
    };
    book.record(table, &stamp).unwrap();
    let snapshot = book.snapshot().unwrap();
    let weather = FarmWeather::of(&snapshot, first, first.saturating_add(9.days()), DRAWS);
    assert!(weather.days.iter().all(|day| day.source == DaySource::Measured && day.marks.is_empty()));

    let soils = certain(&BedSoils::one(0.32, 0.12, 0.8, 20.0, 8.0));
    let tomato = CropDay {
        stage: CropStage::Mid,
        kc: 1.2,
        kcb: 1.15,
        cover_fraction: 0.9,
        height_m: 0.6,
        root_depth_m: 0.8,
        depletion_fraction: 0.4,
    };
    let crop_on = |_| tomato;
    let (waterings, efficiency, used) = (BTreeMap::new(), vec![1.0; DRAWS], vec![55.0 / 160.0; DRAWS]);
    let told = run(&Setup {
        soils: &soils,
        rules: Rules {
            wetting: Wetting::EarlyInDay,
            coefficient: Coefficient::Single,
            fraction: FractionRule::AsGiven,
            ..Rules::default()
        },
        weather: &weather,
        cover: None,
        crop_on: &crop_on,
        waterings: &waterings,
        efficiency: &efficiency,
        wetted: 1.0,
        readings: &[],
        from: first,
        today: first.saturating_add(10.days()),
        used: &used,
    });
    let printed = [61.0, 67.0, 72.8, 78.3, 83.4, 88.2, 92.6, 96.9, 100.8, 104.5];
    assert_eq!(told.days.len(), printed.len());
    for (day, printed) in told.days.iter().zip(printed) {
        let off = day.deficit_mm.median - printed;
        assert!(off.abs() < 0.5, "{}: {:.2} against {printed}", day.date, day.deficit_mm.median);
        assert!((day.total_available_mm - 160.0).abs() < 1e-9);
        assert!((day.allowable_mm - 64.0).abs() < 1e-9);
    }
    // Stress begins when more than 64 mm are missing at the start of a day: on the third.
    assert!(told.days[0].odds_short < 0.01 && told.days[3].odds_short > 0.99);
}
