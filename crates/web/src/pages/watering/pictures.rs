//! The season and the week ahead as pictures.

use advice::watering::BedWater;
use figures::Figure;
use figures::outlook::{Ahead, Outlook, week_outlook};
use figures::season::{Day, Observation, Season, Size, Tick, season_balance};
use ground::kit::units::UnitSystem;
use jiff::civil::{Date, Weekday};

/// The season with the week ahead, small and wide.
pub(super) fn season(told: &BedWater, units: UnitSystem) -> [Figure; 2] {
    let mut days: Vec<Day> = told
        .season
        .iter()
        .map(|day| Day {
            deficit_mm: day.deficit_mm,
            allowable_mm: day.allowable_mm,
            total_available_mm: day.total_available_mm,
            rain_mm: day.rain_mm,
            watering_mm: day.watering_mm,
        })
        .collect();
    let total = days.last().map_or(0.0, |day| day.total_available_mm);
    let today = days.len().checked_sub(1);
    days.extend(told.outlook.iter().enumerate().map(|(at, day)| Day {
        deficit_mm: day.deficit_mm,
        allowable_mm: day.allowable_mm,
        total_available_mm: total,
        rain_mm: day.rain_mm.unwrap_or(0.0),
        watering_mm: if at == 0 { told.given_today_mm } else { 0.0 },
    }));
    let dates: Vec<Date> =
        told.season.iter().map(|day| day.date).chain(told.outlook.iter().map(|day| day.date)).collect();
    let labels: Vec<(usize, String)> = dates
        .iter()
        .enumerate()
        .filter(|(_, date)| date.day() == 1 || (dates.len() < 100 && date.day() == 15))
        .map(|(at, date)| (at, short(*date)))
        .collect();
    let ticks: Vec<Tick<'_>> = labels.iter().map(|(day, label)| Tick { day: *day, label }).collect();
    // A reading stands at the morning of its day, which is the end of the day before.
    let observations: Vec<Observation<'_>> = told
        .looks
        .iter()
        .filter_map(|look| {
            let correction = look.correction.as_ref()?;
            let day = dates.iter().position(|date| *date == look.date)?;
            Some(Observation {
                day: day.saturating_sub(1),
                before_mm: correction.before_mm.median,
                after_mm: correction.after_mm.median,
                label: look.label.split(':').next().unwrap_or_default(),
            })
        })
        .collect();
    let crop = told.crop.as_ref().map(|crop| format!("{}, {}", told.bed_name, crop.name));
    let name = crop.unwrap_or_else(|| told.bed_name.clone());
    [(Size::Small, "season-small"), (Size::Wide, "season-wide")].map(|(size, id)| {
        season_balance(&Season {
            id,
            name: &name,
            days: &days,
            ticks: &ticks,
            observations: &observations,
            today,
            size,
            system: units,
        })
    })
}

/// The week ahead.
pub(super) fn outlook(told: &BedWater, units: UnitSystem) -> Figure {
    let dates: Vec<String> = told.outlook.iter().map(|day| short(day.date)).collect();
    let days: Vec<Ahead<'_>> = told
        .outlook
        .iter()
        .zip(&dates)
        .map(|(day, date)| Ahead {
            label: weekday(day.date),
            date,
            due_odds: day.odds_due,
            rain_odds: day.rain_odds,
            rain_mm: day.rain_mm,
        })
        .collect();
    let due = told.advice.as_ref().and_then(|advice| advice.due_on);
    week_outlook(&Outlook {
        id: "week",
        days: &days,
        due_day: due.and_then(|due| told.outlook.iter().position(|day| day.date == due)),
        system: units,
    })
}

/// "3 May".
fn short(date: Date) -> String {
    let month: String = book::model::month_name(date.month()).chars().take(3).collect();
    format!("{} {month}", date.day())
}

fn weekday(date: Date) -> &'static str {
    match date.weekday() {
        Weekday::Monday => "Mon",
        Weekday::Tuesday => "Tue",
        Weekday::Wednesday => "Wed",
        Weekday::Thursday => "Thu",
        Weekday::Friday => "Fri",
        Weekday::Saturday => "Sat",
        Weekday::Sunday => "Sun",
    }
}
