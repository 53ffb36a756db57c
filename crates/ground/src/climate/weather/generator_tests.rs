//! The ensemble keeps the means, the odds and the forecast it was given.

use super::*;
use crate::climate::quantities::{DailyRain, Elevation, Latitude, MonthlyRain, ReferenceEt};
use crate::climate::weather::normals::{MonthNormals, RainDays, daily_normals};

fn site() -> Site {
    Site::new(Latitude::literal(45.0), Elevation::literal(100.0))
}

fn even_normals(et0: f64, rain_mm_d: f64, wet_chance: f64) -> DailyNormals {
    DailyNormals {
        et0_mm_d: vec![et0; 365],
        rain_mm_d: vec![rain_mm_d; 365],
        wet_chance: vec![wet_chance; 365],
        tmax_c: None,
        tmin_c: None,
        monthly_et0_mm_d: vec![et0; 12],
        monthly_rules: vec![None; 12],
        rain_days_assumed: false,
    }
}

fn ask<'a>(site: &'a Site, normals: &'a DailyNormals, forecast: &'a [ForecastDay]) -> Outlook<'a> {
    Outlook {
        site,
        normals,
        first: YearDay { year: 2025, day_of_year: 120 },
        days: 60,
        members: 2000,
        forecast,
        scatter: Scatter::default(),
        salt: 0,
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

#[test]
fn means_and_odds_are_kept() {
    let site = site();
    for (rain, wet) in [(2.5, 0.35), (0.5, 0.3), (6.0, 0.6)] {
        let normals = even_normals(4.2, rain, wet);
        let ensemble = outlook(&ask(&site, &normals, &[])).unwrap();
        // 120 000 days in 2 000 members: a standard error is near 1 % of rain, 0.3 % of the rest.
        assert!((mean(&ensemble.et0_mm_d) / 4.2 - 1.0).abs() < 0.01, "{}", mean(&ensemble.et0_mm_d));
        assert!((mean(&ensemble.rain_mm) / rain - 1.0).abs() < 0.04, "{}", mean(&ensemble.rain_mm));
        assert!((mean(&ensemble.wet_share_by_day()) - wet).abs() < 0.01);
        assert!(ensemble.et0_mm_d.iter().all(|et0| *et0 > 0.0 && et0.is_finite()));
        assert!(ensemble.rain_mm.iter().all(|rain| *rain >= 0.0 && rain.is_finite()));
    }
}

/// Wet days come in runs: the odds after a wet day are 0.25 above those after a dry one (Geng et al. 1986).
#[test]
fn wet_days_come_in_runs() {
    let site = site();
    let normals = even_normals(4.0, 2.0, 0.3);
    let ensemble = outlook(&ask(&site, &normals, &[])).unwrap();
    let (mut after_wet, mut wet_wet, mut after_dry, mut dry_wet) = (0.0, 0.0, 0.0, 0.0);
    for member in 0..ensemble.members {
        for pair in ensemble.member(member).1.windows(2) {
            let now = f64::from(u8::from(pair[1] > 0.0));
            if pair[0] > 0.0 {
                after_wet += 1.0;
                wet_wet += now;
            } else {
                after_dry += 1.0;
                dry_wet += now;
            }
        }
    }
    assert!((wet_wet / after_wet - 0.475).abs() < 0.01);
    assert!((dry_wet / after_dry - 0.225).abs() < 0.01);
}

/// A gamma of shape k and scale θ has variance k θ²: mean 8 mm gives scale 12.48, variance 99.8.
#[test]
fn depths_have_the_spread_of_their_law() {
    let mut chance = Chance::new(3);
    let draws: Vec<f64> = (0..200_000).map(|_| wet_day_mm(8.0, &mut chance)).collect();
    let m = mean(&draws);
    let variance = draws.iter().map(|d| (d - m) * (d - m)).sum::<f64>() / draws.len() as f64;
    assert!((m - 8.0).abs() < 0.1, "{m}");
    assert!((variance / 99.84 - 1.0).abs() < 0.04, "{variance}");
    let light: Vec<f64> = (0..200_000).map(|_| wet_day_mm(1.5, &mut chance)).collect();
    let (m, over) = (mean(&light), light.iter().filter(|d| **d > 1.5).count() as f64 / 2e5);
    assert!((m - 1.5).abs() < 0.02 && (over - libm::exp(-1.0)).abs() < 0.01, "exponential: {m} {over}");
}

#[test]
fn a_forecast_takes_the_place_of_its_days() {
    let site = site();
    let normals = even_normals(4.0, 2.0, 0.3);
    let day = |et0, rain, chance: Option<f64>| ForecastDay {
        weather: WeatherDay {
            et0_mm_d: Some(ReferenceEt::literal(et0)),
            rain_mm: Some(DailyRain::literal(rain)),
            ..WeatherDay::default()
        },
        rain_chance_percent: chance.map(RainChance::literal),
    };
    let forecast = [day(6.0, 12.0, None), day(2.0, 5.0, Some(40.0)), ForecastDay::default()];
    let ensemble = outlook(&ask(&site, &normals, &forecast)).unwrap();
    let rain = ensemble.rain_by_day();
    assert_eq!((rain[0].low, rain[0].high), (12.0, 12.0));
    let wet = ensemble.wet_share_by_day();
    assert!((wet[1] - 0.4).abs() < 0.05 && (0.2..0.5).contains(&wet[2]), "{wet:?}");
    assert!((0..ensemble.members).all(|m| [0.0, 5.0].contains(&ensemble.member(m).1[1])));
    let et0 = ensemble.et0_by_day();
    assert!((et0[0].median - 6.0).abs() < 0.1 && (et0[1].median - 2.0).abs() < 0.05);
    assert!(et0[0].width() / et0[0].median < et0[10].width() / et0[10].median);
}

#[test]
fn the_same_question_has_the_same_answer_and_another_salt_another() {
    let site = site();
    let normals = even_normals(4.0, 2.0, 0.3);
    let one = ask(&site, &normals, &[]);
    assert_eq!(outlook(&one).unwrap(), outlook(&one).unwrap());
    assert_ne!(outlook(&one).unwrap().rain_mm, outlook(&Outlook { salt: 1, ..one }).unwrap().rain_mm);
    assert_eq!(outlook(&Outlook { days: 0, ..one }).unwrap_err().field, "days");
    assert_eq!(outlook(&Outlook { members: 10_000, ..one }).unwrap_err().field, "members");
    assert_eq!(outlook(&one).unwrap().member(999_999).0.len(), 0);
}

#[test]
fn a_month_without_rain_stays_dry() {
    let month = |rain, days| MonthNormals {
        weather: WeatherDay { et0_mm_d: Some(ReferenceEt::literal(4.0)), ..WeatherDay::default() },
        rain_mm: MonthlyRain::literal(rain),
        rain_days_d: Some(RainDays::literal(days)),
    };
    let mut months = [month(90.0, 12.0); 12];
    months[6] = month(0.0, 0.0);
    let normals = daily_normals(&site(), &months).unwrap();
    let site = site();
    let ensemble = outlook(&Outlook {
        first: YearDay { year: 2025, day_of_year: 182 },
        days: 31,
        ..ask(&site, &normals, &[])
    })
    .unwrap();
    assert!(ensemble.rain_mm.iter().all(|rain| *rain == 0.0));
}
