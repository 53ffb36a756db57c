//! Invented weather: twelve usual months, a table of measured days with gaps, and a forecast.

use book::model::weather::{
    AirTemperature, DayRain, MonthNormals, MonthRain, RainDays, RelativeHumidity, WeatherDay, WeatherNormals,
    WeatherTable, WeatherWhat, WindHeight, WindSpeed,
};
use ground::kit::Bounded;
use jiff::ToSpan;
use jiff::civil::Date;

/// Highest and lowest temperature in °C, rain in mm and days with rain of twelve months in the north.
const MONTHS: [(f64, f64, f64, f64); 12] = [
    (1.0, -8.0, 62.0, 10.0),
    (3.0, -7.0, 55.0, 9.0),
    (8.0, -3.0, 70.0, 10.0),
    (15.0, 3.0, 78.0, 11.0),
    (21.0, 9.0, 82.0, 11.0),
    (26.0, 14.0, 84.0, 10.0),
    (29.0, 17.0, 78.0, 9.0),
    (28.0, 16.0, 80.0, 9.0),
    (23.0, 12.0, 82.0, 9.0),
    (17.0, 6.0, 84.0, 9.0),
    (10.0, 1.0, 80.0, 10.0),
    (4.0, -5.0, 70.0, 10.0),
];

/// Days of measured weather before the day the book is made.
const MEASURED_D: i64 = 75;
/// Days without temperatures, and days without rain, counted back from that day.
const NO_TEMPERATURES: [i64; 2] = [22, 23];
const NO_RAIN: [i64; 1] = [9];
/// Days forecast, from that day on.
const FORECAST_D: i64 = 5;

/// In which half of the year the invented farm lies in the south, so that it is the growing season there.
pub(super) fn is_southern(today: Date) -> bool {
    !(4..=9).contains(&today.month())
}

/// The month's numbers on the half of the globe where it is the growing season.
fn month(today: Date, month: usize) -> (f64, f64, f64, f64) {
    MONTHS[if is_southern(today) { (month + 6) % 12 } else { month }]
}

/// The usual weather.
pub(super) fn normals(today: Date) -> WeatherNormals {
    WeatherNormals {
        source: "Invented for the demonstration".to_owned(),
        wind_height_m: None,
        months: Box::new(std::array::from_fn(|at| {
            let (tmax, tmin, rain, days) = month(today, at);
            MonthNormals {
                tmax_c: AirTemperature::literal(tmax),
                tmin_c: AirTemperature::literal(tmin),
                rain_mm: MonthRain::literal(rain),
                rain_days: Some(RainDays::literal(days)),
                rh_mean_percent: None,
                wind_m_s: None,
                radiation_mj_m2_d: None,
                sunshine_h: None,
            }
        })),
    }
}

/// Days up to yesterday, as a farm's own station with a dead battery once would have them.
pub(super) fn measured(today: Date) -> WeatherTable {
    let days = (1..=MEASURED_D)
        .rev()
        .map(|back| {
            let mut day = invented(today, today.saturating_sub(back.days()), back);
            if NO_TEMPERATURES.contains(&back) {
                (day.tmax_c, day.tmin_c, day.rh_max_percent, day.rh_min_percent) = (None, None, None, None);
                day.wind_m_s = None;
            }
            if NO_RAIN.contains(&back) {
                day.rain_mm = None;
            }
            day
        })
        .collect();
    WeatherTable {
        name: "Station behind the packing shed".to_owned(),
        what: WeatherWhat::Measured,
        wind_height_m: Some(WindHeight::literal(2.0)),
        days,
        columns: Vec::new(),
        date_order: Default::default(),
        note: "Invented for the demonstration; the battery was flat on two days".to_owned(),
    }
}

/// The days to come.
pub(super) fn forecast(today: Date) -> WeatherTable {
    let days = (0..FORECAST_D)
        .map(|ahead| {
            let mut day = invented(today, today.saturating_add(ahead.days()), 200 + ahead);
            (day.rh_max_percent, day.rh_min_percent, day.wind_m_s) = (None, None, None);
            day.rain_mm = Some(DayRain::literal(if ahead == 3 { 6.0 } else { 0.0 }));
            day
        })
        .collect();
    WeatherTable {
        name: "Forecast".to_owned(),
        what: WeatherWhat::Forecast,
        wind_height_m: None,
        days,
        columns: Vec::new(),
        date_order: Default::default(),
        note: "Invented for the demonstration".to_owned(),
    }
}

/// A day about the usual of its month, some warmer, some wet; the last two weeks hold little rain.
fn invented(today: Date, date: Date, number: i64) -> WeatherDay {
    let at = usize::from(date.month().unsigned_abs()) - 1;
    let next = (at + 1) % 12;
    let share = f64::from(date.day()) / 31.0;
    let (now, then) = (month(today, at), month(today, next));
    let mean = |one: f64, other: f64| one + (other - one) * (share - 0.5).max(0.0);
    #[expect(clippy::cast_precision_loss, reason = "a small number")]
    let turn = number as f64;
    let warmer = tenths(2.6 * libm::sin(0.83 * turn) + 1.4 * libm::sin(2.1 * turn));
    let wet = libm::sin(2.4 * turn) > 0.62 && !(1..=13).contains(&number);
    let rain = if wet { tenths(5.0 + 5.0 * libm::sin(1.3 * turn).abs()) } else { 0.0 };
    let tmax = tenths(mean(now.0, then.0) + warmer - if wet { 3.0 } else { 0.0 });
    let tmin = tenths(mean(now.1, then.1) + 0.6 * warmer);
    WeatherDay {
        tmax_c: Some(AirTemperature::literal(tmax)),
        tmin_c: Some(AirTemperature::literal(tmin.min(tmax - 1.0))),
        rain_mm: Some(DayRain::literal(rain)),
        rh_max_percent: Some(RelativeHumidity::literal(if wet { 97.0 } else { 90.0 })),
        rh_min_percent: Some(RelativeHumidity::literal(if wet { 70.0 } else { 48.0 })),
        wind_m_s: Some(WindSpeed::literal(tenths(1.9 + 0.7 * libm::sin(0.4 * turn)))),
        ..WeatherDay::empty(date)
    }
}

fn tenths(value: f64) -> f64 {
    (10.0 * value).round() / 10.0
}
