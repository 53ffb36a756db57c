//! What the beds of a plot need, what they were given and gave, and where phosphorus goes.

use advice::feeding::balance::{Balance, Npk, balance};
use advice::feeding::needs::{BedNeed, LimitOf, plot_needs};
use advice::feeding::{mass, rate};
use advice::words::capital;
use askama::Template;
use book::model::{EntryId, UnitSystem};
use figures::Figure;
use figures::balance::{Year, Years, year_bars};
use ground::kit::Step;
use serde::Serialize;

use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::when;

/// Addresses of a plot's feeding.
pub const ROUTES: &[Route] = &[Route::page(
    "/plots/{plot}/feeding",
    "What the beds of a plot need, and the balance of what was given and taken over the years",
    show,
)];

#[derive(Template, Serialize)]
#[template(path = "plot_feeding.html")]
struct FeedingPage {
    #[serde(skip)]
    shell: Shell,
    id: EntryId,
    name: String,
    /// The scheme's title; empty where none is chosen.
    scheme: String,
    needs: Vec<BedNeed>,
    balance: Balance,
    #[serde(skip)]
    beds: Vec<BedView>,
    #[serde(skip)]
    pictures: Vec<Figure>,
    #[serde(skip)]
    years: Vec<YearView>,
    #[serde(skip)]
    tests: Vec<[String; 3]>,
}

/// A bed as the page shows it.
struct BedView {
    anchor: EntryId,
    title: String,
    planted: String,
    lines: Vec<String>,
    credits: Vec<String>,
    limits: Vec<String>,
    timing: String,
    wanted: Vec<String>,
    manure_days: u32,
    working: Vec<Step>,
}

struct YearView {
    year: i16,
    lines: Vec<String>,
    uncounted: Vec<String>,
}

fn view(need: &BedNeed, units: UnitSystem) -> BedView {
    let credit = |line: &advice::feeding::needs::CreditLine| {
        format!(
            "{} from {}: {} ({} to {})",
            capital(line.nutrient.words()),
            line.from,
            rate(line.g_m2, units),
            rate(line.low_g_m2, units),
            rate(line.high_g_m2, units)
        )
    };
    BedView {
        anchor: need.planting.unwrap_or(need.ground()),
        title: format!("{}: {}", need.bed_name, need.crop),
        planted: need.planted_on.map_or_else(String::new, |day| format!("From {}", advice::words::day(day))),
        lines: need.lines.clone(),
        credits: need.credits.iter().map(credit).collect(),
        limits: need
            .limits
            .iter()
            .map(|limit| {
                let what = match limit.of {
                    LimitOf::P2o5 => "phosphate",
                    LimitOf::Chloride => "chloride",
                    LimitOf::NitrogenInOnePass => "soluble nitrogen in one pass",
                };
                if limit.most_g_m2 <= 0.0 {
                    format!("No {what}: {}.", limit.why)
                } else {
                    format!("At most {} of {what}: {}.", rate(limit.most_g_m2, units), limit.why)
                }
            })
            .collect(),
        timing: need.timing.clone(),
        wanted: need.wanted.clone(),
        manure_days: need.raw_manure_interval_d,
        working: need.working.clone(),
    }
}

/// Bars of one nutrient over the years, in pounds or kilograms.
fn picture(id: &str, what: &str, balance: &Balance, of: fn(&Npk) -> f64, units: UnitSystem) -> Figure {
    let (scale, unit) = match units {
        UnitSystem::UsCustomary => (1.0 / 0.453_592_37, "lb"),
        UnitSystem::Metric => (1.0, "kg"),
    };
    let names: Vec<String> = balance.years.iter().map(|year| year.year.to_string()).collect();
    let years: Vec<Year<'_>> = balance
        .years
        .iter()
        .zip(&names)
        .map(|(year, name)| Year { name, given: scale * of(&year.given), taken: scale * of(&year.taken) })
        .collect();
    year_bars(&Years { id, what, unit, years: &years })
}

fn years(balance: &Balance, units: UnitSystem) -> Vec<YearView> {
    let line = |line: &advice::feeding::balance::BalanceLine| {
        format!(
            "{}, {}: {} {}, holding {} of nitrogen, {} of phosphate and {} of potash",
            advice::words::day(line.on),
            line.what,
            mass(line.kg, units),
            if line.taken { "carried off" } else { "spread" },
            mass(line.holds.n_kg, units),
            mass(line.holds.p2o5_kg, units),
            mass(line.holds.k2o_kg, units)
        )
    };
    balance
        .years
        .iter()
        .rev()
        .map(|year| YearView {
            year: year.year,
            lines: year.lines.iter().map(line).collect(),
            uncounted: year.uncounted.iter().map(|text| capital(text)).collect(),
        })
        .collect()
}

fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let told = desk
        .told(&snapshot, plot.id)
        .ok_or_else(|| Problem::not_found("The report on this plot could not be made."))?;
    let today = when::day_of(ask.stamp().at);
    let units = ask.units();
    let needs = plot_needs(&snapshot, plot.id, std::slice::from_ref(&told.report), today);
    let balance = balance(&snapshot, plot.id)
        .ok_or_else(|| Problem::not_found("The balance of this plot could not be made."))?;
    Shown::page(FeedingPage {
        shell: ask.shell(Section::Farm, format!("Feeding, {}", plot.body.name)),
        id: plot.id,
        name: plot.body.name.clone(),
        scheme: advice::feeding::needs::scheme_of(&snapshot)
            .map(|scheme| scheme.title())
            .unwrap_or_default()
            .to_owned(),
        beds: needs.iter().map(|need| view(need, units)).collect(),
        pictures: if balance.years.is_empty() {
            Vec::new()
        } else {
            vec![
                picture("phosphate", "Phosphate", &balance, |npk| npk.p2o5_kg, units),
                picture("potash", "Potash", &balance, |npk| npk.k2o_kg, units),
            ]
        },
        years: years(&balance, units),
        tests: balance
            .tests
            .iter()
            .rev()
            .map(|test| {
                [
                    advice::words::day(test.on),
                    test.printed.clone(),
                    match (&test.class, test.standing) {
                        (Some(class), Some(standing)) => format!("{class}: {}", standing.words()),
                        _ => "no class under the farm's scheme".to_owned(),
                    },
                ]
            })
            .collect(),
        needs,
        balance,
    })
}
