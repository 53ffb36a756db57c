//! Usual weather from a table of twelve months.

use ground::kit::{Bounded, Refusal};

use super::rows::is_missing;
use super::{COMMENT, headings, units_words};
use crate::csv_in::table::{Line, RowRefusal, Table, short};
use crate::model::weather::{
    MonthNormals, MonthRain, RainDays, WeatherColumn, WeatherNormals, WeatherUnit, WindHeight,
};
use crate::model::{MONTHS, Record};

/// Where the columns stand.
#[derive(Default)]
struct Places {
    month: Option<usize>,
    rain_days: Option<usize>,
    weather: Vec<(WeatherColumn, WeatherUnit, usize, String)>,
}

/// Reads the usual weather of twelve months: a column `month` (1 to 12, or its name), `tmax`, `tmin`
/// and `rain`, and if known `rain_days`, `rh_mean_percent`, `wind`, `radiation` and `sunshine`, each
/// heading ending in its unit.
///
/// # Errors
/// Every cell that is refused, with its line; a month that is missing or stands there twice.
pub fn read_normals_csv(
    text: &str,
    source: &str,
    wind_height_m: Option<WindHeight>,
) -> Result<WeatherNormals, Vec<RowRefusal>> {
    let table = Table::read(text, COMMENT)?;
    let places = places(&table)?;
    let mut refusals = Vec::new();
    let mut months: [Option<MonthNormals>; 12] = [None; 12];
    for line in &table.lines {
        let refused = |refusal| RowRefusal { line: line.number, refusal };
        match month_of(line, &places) {
            Err(refusal) => refusals.push(refused(refusal)),
            Ok(month) => match normals_of(line, &places, table.delimiter == b';') {
                Ok(_) if months[month].is_some() => refusals.push(refused(
                    Refusal::new("month", format!("{} stands in the table twice", MONTHS[month]))
                        .given(MONTHS[month])
                        .accepted("each month once"),
                )),
                Ok(normals) => months[month] = Some(normals),
                Err(wrong) => refusals.extend(wrong.into_iter().map(refused)),
            },
        }
    }
    refusals.extend(table.trouble);
    if refusals.is_empty()
        && let Some(missing) = months.iter().position(Option::is_none)
    {
        refusals.push(RowRefusal {
            line: 1,
            refusal: Refusal::new("month", format!("{} is missing", MONTHS[missing]))
                .given("nothing")
                .accepted("one row for each of the twelve months"),
        });
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let whole: Vec<MonthNormals> = months.into_iter().flatten().collect();
    let Ok(months) = <[MonthNormals; 12]>::try_from(whole) else { return Err(refusals) };
    let normals =
        WeatherNormals { source: source.trim().to_owned(), wind_height_m, months: Box::new(months) };
    normals.check().map_err(|refusal| vec![RowRefusal { line: 1, refusal }])?;
    Ok(normals)
}

fn places(table: &Table) -> Result<Places, Vec<RowRefusal>> {
    use WeatherColumn as C;
    let mut places = Places::default();
    let mut refusals = Vec::new();
    let mut refuse = |refusal| refusals.push(RowRefusal { line: 1, refusal });
    for (place, heading) in table.headings.iter().enumerate() {
        let plain = heading.trim().to_lowercase().replace([' ', '-'], "_");
        match plain.as_str() {
            "month" | "mon" => places.month = Some(place),
            "rain_days" | "days_with_rain" | "wet_days" => places.rain_days = Some(place),
            "" => {}
            _ => match headings::understood(heading) {
                Some((column @ (C::TMax | C::TMin | C::Rain | C::RhMean | C::Wind | C::Radiation | C::Sunshine), unit)) => {
                    match unit {
                        Some(unit) => places.weather.push((column, unit, place, heading.to_owned())),
                        None => refuse(
                            Refusal::new(short(heading), format!("the heading does not say the unit of the {}", column.words()))
                                .given("no unit")
                                .accepted(units_words(column))
                                .example(column.name()),
                        ),
                    }
                }
                _ => refuse(
                    Refusal::new(short(heading), "this column is not understood")
                        .given(short(heading))
                        .accepted("month, tmax_c, tmin_c, rain_mm, rain_days, rh_mean_percent, wind_m_s, radiation_mj_m2_d, sunshine_h")
                        .example("take the column out, or rename it"),
                ),
            },
        }
    }
    let has = |wanted: C| places.weather.iter().any(|(column, ..)| *column == wanted);
    for (there, name) in [
        (places.month.is_some(), "month"),
        (has(C::TMax), "tmax_c"),
        (has(C::TMin), "tmin_c"),
        (has(C::Rain), "rain_mm"),
    ] {
        if !there && refusals.is_empty() {
            refusals.push(RowRefusal {
                line: 1,
                refusal: Refusal::new(name, format!("the table has no column {name:?}"))
                    .given(short(&table.headings.iter().collect::<Vec<_>>().join(", ")))
                    .accepted("month, tmax_c, tmin_c and rain_mm, in these or other units")
                    .example("month,tmax_c,tmin_c,rain_mm"),
            });
        }
    }
    if refusals.is_empty() { Ok(places) } else { Err(refusals) }
}

/// 0 for January.
fn month_of(line: &Line, places: &Places) -> Result<usize, Refusal> {
    let text = places.month.and_then(|place| line.cell(place)).unwrap_or_default();
    let named = |name: &str| text.len() >= 3 && name.to_lowercase().starts_with(&text.to_lowercase());
    let number = text.parse::<usize>().ok().filter(|month| (1..=12).contains(month)).map(|month| month - 1);
    number.or_else(|| MONTHS.iter().position(|name| named(name))).ok_or_else(|| {
        Refusal::new("month", format!("{:?} is no month", short(text)))
            .given(short(text))
            .accepted("1 to 12, or the name of a month")
            .example("6")
    })
}

fn normals_of(line: &Line, places: &Places, comma_is_decimal: bool) -> Result<MonthNormals, Vec<Refusal>> {
    let mut refusals = Vec::new();
    let cell = |place: Option<usize>| -> Option<String> {
        let text = line.cell(place?).filter(|text| !is_missing(text))?;
        let decimal = comma_is_decimal && text.matches(',').count() == 1 && !text.contains('.');
        Some(if decimal { text.replace(',', ".") } else { text.to_owned() })
    };
    fn read<Q: Bounded>(
        places: &Places,
        wanted: WeatherColumn,
        cell: &dyn Fn(Option<usize>) -> Option<String>,
        refusals: &mut Vec<Refusal>,
    ) -> Option<Q> {
        let (_, unit, place, heading) = places.weather.iter().find(|(column, ..)| *column == wanted)?;
        let text = cell(Some(*place))?;
        match unit.read::<Q>(heading, &text) {
            Ok(value) => Some(value),
            Err(refusal) => {
                refusals.push(refusal);
                None
            }
        }
    }
    let tmax_c = read(places, WeatherColumn::TMax, &cell, &mut refusals);
    let tmin_c = read(places, WeatherColumn::TMin, &cell, &mut refusals);
    let rain_mm = read::<MonthRain>(places, WeatherColumn::Rain, &cell, &mut refusals);
    let rh_mean_percent = read(places, WeatherColumn::RhMean, &cell, &mut refusals);
    let wind_m_s = read(places, WeatherColumn::Wind, &cell, &mut refusals);
    let radiation_mj_m2_d = read(places, WeatherColumn::Radiation, &cell, &mut refusals);
    let sunshine_h = read(places, WeatherColumn::Sunshine, &cell, &mut refusals);
    let rain_days = cell(places.rain_days).and_then(|text| {
        let days = ground::kit::units::typed::<RainDays>("rain_days", &text, ground::kit::units::Unit::Day);
        days.map_err(|refusal| refusals.push(refusal)).ok()
    });
    match (tmax_c, tmin_c, rain_mm) {
        (Some(tmax_c), Some(tmin_c), Some(rain_mm)) if refusals.is_empty() => Ok(MonthNormals {
            tmax_c,
            tmin_c,
            rain_mm,
            rain_days,
            rh_mean_percent,
            wind_m_s,
            radiation_mj_m2_d,
            sunshine_h,
        }),
        (tmax, tmin, _) => {
            if refusals.is_empty() {
                let missing = match (tmax, tmin) {
                    (None, _) => "tmax_c",
                    (_, None) => "tmin_c",
                    _ => "rain_mm",
                };
                refusals
                    .push(Refusal::new(missing, "this cell is empty").given("nothing").accepted("a number"));
            }
            Err(refusals)
        }
    }
}
