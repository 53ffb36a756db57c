//! From the heading of a column to what it holds and in which unit, as stations write headings.

use crate::model::weather::{WeatherColumn, WeatherUnit};

/// What a heading says; `None` for a column that is of no use here.
pub(super) fn understood(heading: &str) -> Option<(WeatherColumn, Option<WeatherUnit>)> {
    if let Some(column) = WeatherColumn::of_name(heading) {
        return Some((column, column.units().first().copied()));
    }
    let column = column(&words(heading), unit(heading, WeatherColumn::TMax).is_some())?;
    Some((column, unit(heading, column).or_else(|| usual(column))))
}

/// Humidity is in percent and sunshine in hours unless the heading says otherwise; temperatures,
/// rain, wind and radiation have no such custom.
fn usual(column: WeatherColumn) -> Option<WeatherUnit> {
    match column {
        WeatherColumn::RhMax | WeatherColumn::RhMin | WeatherColumn::RhMean => Some(WeatherUnit::Percent),
        WeatherColumn::Sunshine => Some(WeatherUnit::Hours),
        _ => None,
    }
}

/// "MaxTemp_degF" as max, temp, deg, f.
fn words(heading: &str) -> Vec<String> {
    let mut spaced = String::with_capacity(heading.len() + 8);
    let mut before = ' ';
    for c in heading.chars() {
        if before.is_lowercase() && c.is_uppercase() {
            spaced.push(' ');
        }
        spaced.push(if c.is_alphanumeric() { c } else { ' ' });
        before = c;
    }
    spaced.to_lowercase().split_whitespace().map(str::to_owned).collect()
}

/// `warm` says that the heading ends in a unit of temperature: "High (F)" needs no more words.
fn column(words: &[String], warm: bool) -> Option<WeatherColumn> {
    let has = |any: &[&str]| words.iter().any(|word| any.contains(&word.as_str()));
    let (high, low) = (
        has(&["max", "maximum", "high", "highest", "hi", "tmax", "maxtemp", "tempmax", "rhmax"]),
        has(&["min", "minimum", "low", "lowest", "lo", "tmin", "mintemp", "tempmin", "rhmin"]),
    );
    if has(&["soil", "ground", "leaf", "indoor", "inside", "chill", "index", "feels", "apparent", "flag"]) {
        return None;
    }
    if has(&["dew", "dewpoint", "td"]) {
        return (!high && !low).then_some(WeatherColumn::DewPoint);
    }
    if has(&["rh", "humidity", "hum", "rhmax", "rhmin", "rhmean", "rhavg"]) {
        return Some(match (high, low) {
            (true, false) => WeatherColumn::RhMax,
            (false, true) => WeatherColumn::RhMin,
            _ => WeatherColumn::RhMean,
        });
    }
    if has(&["et0", "eto", "et", "evapotranspiration", "etref"]) {
        return Some(WeatherColumn::Et0);
    }
    if has(&["wind", "windspeed", "ws", "u2"]) {
        return (!high && !low && !has(&["gust", "gusts", "dir", "direction", "run"]))
            .then_some(WeatherColumn::Wind);
    }
    if has(&["rain", "rainfall", "precip", "precipitation", "prcp", "ppt"]) {
        let other = ["rate", "intensity", "days", "hours", "chance", "probability", "duration"];
        return (!high && !has(&other)).then_some(WeatherColumn::Rain);
    }
    if has(&["sunshine", "sunhours", "sun"]) {
        return Some(WeatherColumn::Sunshine);
    }
    if has(&["radiation", "solar", "srad", "rs", "rad"]) {
        return (!high && !has(&["net", "uv", "panel"])).then_some(WeatherColumn::Radiation);
    }
    let warmth = has(&[
        "t",
        "temp",
        "temps",
        "temperature",
        "air",
        "tmax",
        "tmin",
        "maxtemp",
        "tempmax",
        "mintemp",
        "tempmin",
    ]);
    match (warmth || warm, high, low) {
        (true, true, false) => return Some(WeatherColumn::TMax),
        (true, false, true) => return Some(WeatherColumn::TMin),
        _ => {}
    }
    has(&["date", "day", "timestamp", "datetime", "datum"]).then_some(WeatherColumn::Date)
}

/// The unit at the end of a heading: "(°F)", "[MJ/m2]", "_m_s".
fn unit(heading: &str, column: WeatherColumn) -> Option<WeatherUnit> {
    let plain = heading.to_lowercase().replace('^', "");
    let words: Vec<&str> = plain
        .split(|c: char| !(c.is_alphanumeric() || matches!(c, '°' | '%' | '/' | '"' | '²')))
        .filter(|word| !word.is_empty())
        .collect();
    (1..=words.len().min(3)).rev().find_map(|count| {
        let tail = &words[words.len() - count..];
        WeatherUnit::of_name(&tail.join("/"))
            .or_else(|| WeatherUnit::of_name(&tail.join(" ")))
            .filter(|unit| column.units().contains(unit))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::weather::WeatherColumn as C;
    use crate::model::weather::WeatherUnit as U;

    /// Headings as stations and spreadsheets write them; common practice, no source.
    #[test]
    fn headings_as_stations_write_them() {
        for (heading, column, unit) in [
            ("Date", C::Date, None),
            ("Max Temp (°F)", C::TMax, Some(U::Fahrenheit)),
            ("MinTemp_degC", C::TMin, Some(U::Celsius)),
            ("TMAX (Deg F)", C::TMax, Some(U::Fahrenheit)),
            ("Temperature high [Celsius]", C::TMax, Some(U::Celsius)),
            ("Air temp min", C::TMin, None),
            ("High (F)", C::TMax, Some(U::Fahrenheit)),
            ("Low °C", C::TMin, Some(U::Celsius)),
            ("Precip (inches)", C::Rain, Some(U::Inch)),
            ("rain mm", C::Rain, Some(U::Millimetre)),
            ("RH max", C::RhMax, Some(U::Percent)),
            ("Relative humidity (%)", C::RhMean, Some(U::Percent)),
            ("Dew point (F)", C::DewPoint, Some(U::Fahrenheit)),
            ("Wind speed (mph)", C::Wind, Some(U::MilesPerHour)),
            ("wind_km_h", C::Wind, Some(U::KilometresPerHour)),
            ("Avg wind [m/s]", C::Wind, Some(U::MetresPerSecond)),
            ("Solar Rad. (Ly/day)", C::Radiation, Some(U::Langleys)),
            ("Sol rad (W/m^2)", C::Radiation, Some(U::Watts)),
            ("solar_kwh_m2", C::Radiation, Some(U::KilowattHours)),
            ("Solar radiation MJ/m2", C::Radiation, Some(U::MegajoulesPerDay)),
            ("ETo (in)", C::Et0, Some(U::Inch)),
            ("Sunshine", C::Sunshine, Some(U::Hours)),
        ] {
            assert_eq!(understood(heading), Some((column, unit)), "{heading}");
        }
        for heading in [
            "Wind gust (mph)",
            "Wind direction",
            "Soil temp max (C)",
            "Rain rate (mm/h)",
            "Station",
            "Mean temp (C)",
            "",
        ] {
            assert_eq!(understood(heading), None, "{heading}");
        }
        for column in C::ALL {
            assert_eq!(understood(column.name()), Some((*column, column.units().first().copied())));
        }
    }
}
