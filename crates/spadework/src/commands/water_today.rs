//! `watering`: what beds need today, for the farm or for one bed.

use std::path::PathBuf;

use advice::watering::{BedWater, Call, WaterToday, bed_water, farm_weather, timer, water_today, weekday};
use advice::{Options, PlotReport, plot_report};
use book::model::{Bed, EntryId};
use book::{Held, Snapshot};
use clap::Args;
use ground::kit::Refusal;
use ground::kit::units::UnitSystem;
use jiff::ZonedDateTime;
use jiff::civil::Date;

use crate::args::Global;
use crate::near::nearest;
use crate::records;
use crate::report::{Report, notes, table, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `watering`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework watering farm.farmbook
  spadework watering farm.farmbook \"Beds 1 to 12\" --working
  spadework watering farm.farmbook --on 2026-06-20 --json")]
pub(crate) struct Watering {
    /// The farm book
    book: PathBuf,
    /// Name of a bed, or its id; the whole farm where nothing is said
    bed: Option<String>,
    /// The day, such as 2026-06-20; today where nothing is said
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// Add the steps behind a bed's number
    #[arg(long)]
    working: bool,
}

impl Watering {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let today = self
            .on
            .as_deref()
            .map_or_else(|| Ok(ZonedDateTime::now().date()), |text| shelf::day("on", text))?;
        let system = global.system_or(snapshot.farm.body.units);
        match &self.bed {
            Some(name) => {
                let bed = bed(&snapshot, name)?;
                let told = told(&snapshot, &[bed], today);
                let told = told.first().ok_or_else(|| Trouble::other("the bed's plot was withdrawn"))?;
                Report::new(told, of_bed(told, terminal, self.working))
            }
            None => {
                let beds: Vec<&Held<Bed>> = snapshot
                    .beds
                    .iter()
                    .filter(|bed| snapshot.planting_on(bed.id, today).is_some())
                    .collect();
                let told = told(&snapshot, &beds, today);
                let water = water_today(&snapshot, &told, today);
                let text = of_farm(&water, system, terminal);
                Report::new(&water, text)
            }
        }
    }
}

/// The bed of that name or id. A name that several plots use is asked for with its plot.
fn bed<'a>(snapshot: &'a Snapshot, name: &str) -> Result<&'a Held<Bed>, Trouble> {
    let plain = |text: &str| text.trim().to_lowercase();
    let full = |bed: &Held<Bed>| {
        let plot = snapshot.plot(bed.body.plot).map_or("", |plot| plot.body.name.as_str());
        format!("{plot}, {}", bed.body.name)
    };
    let wanted = plain(name);
    let by_name: Vec<&Held<Bed>> = snapshot
        .beds
        .iter()
        .filter(|bed| plain(&bed.body.name) == wanted || plain(&full(bed)) == wanted)
        .collect();
    match by_name.as_slice() {
        [bed] => return Ok(bed),
        [] => {}
        several => {
            let names: Vec<String> = several.iter().map(|bed| full(bed)).collect();
            return Err(Refusal::new("bed", format!("{} beds are called {name:?}", several.len()))
                .given(name)
                .accepted(names.join("; "))
                .example(&names[0])
                .into());
        }
    }
    let mut by_id = snapshot.beds.iter().filter(|bed| records::names(bed.id, name));
    if let (Some(bed), None) = (by_id.next(), by_id.next()) {
        return Ok(bed);
    }
    let names: Vec<&str> = snapshot.beds.iter().map(|bed| bed.body.name.as_str()).collect();
    let refusal = Refusal::new("bed", format!("no bed is called {name:?}")).given(name);
    Err(match nearest(name, names.iter().copied()).or(names.first().copied()) {
        Some(near) => refusal.accepted(names.join(", ")).example(near).into(),
        None => Trouble::from(refusal.accepted("the name of a bed; this book has none yet"))
            .hint("spadework record bed BOOK PLOT NAME --length 50ft --width 30in, which adds one"),
    })
}

/// The water of some beds; each plot is reported on once.
fn told(snapshot: &Snapshot, beds: &[&Held<Bed>], today: Date) -> Vec<BedWater> {
    let weather = farm_weather(snapshot, today);
    let options = Options { weigh_measurements: false, ..Options::default() };
    let mut reports: Vec<(EntryId, PlotReport)> = Vec::new();
    let mut all = Vec::with_capacity(beds.len());
    for bed in beds {
        let plot = bed.body.plot;
        if !reports.iter().any(|(known, _)| *known == plot) {
            reports.extend(plot_report(snapshot, plot, &options).map(|report| (plot, report)));
        }
        let report = reports.iter().find(|(known, _)| *known == plot);
        all.extend(report.and_then(|(_, report)| bed_water(snapshot, bed.id, report, &weather, today)));
    }
    all
}

fn of_bed(told: &BedWater, terminal: &Terminal, working: bool) -> String {
    let title = format!("{}, {}", told.plot_name, told.bed_name);
    let mut text = format!("{title}\n{}\n{}", "=".repeat(title.chars().count()), told.headline);
    let mut line = |mark: &str, said: &str| {
        text.push_str(&format!("\n{}", wrapped(&format!("{mark}{said}"), terminal.width, "  ")));
    };
    for said in &told.lines {
        line("", said);
    }
    for wanted in &told.wanted {
        line("Wanted: ", &wanted.text);
    }
    if !told.why.is_empty() {
        text.push_str("\n\nWhy");
        for said in &told.why {
            text.push_str(&format!("\n{}", wrapped(&format!("- {said}"), terminal.width, "  ")));
        }
    }
    if !told.outlook.is_empty() {
        let mut rows = vec![["day", "due", "chance of rain"].map(str::to_owned).to_vec()];
        rows.extend(told.outlook.iter().map(|day| {
            vec![
                weekday(day.date),
                advice::words::odds(day.odds_due),
                day.rain_odds.map_or_else(|| "under cover".to_owned(), advice::words::odds),
            ]
        }));
        text.push_str(&format!(
            "\n\nThe week ahead, if no water is given\n{}",
            table(&rows, "", terminal.width)
        ));
    }
    if working {
        text.push_str(&super::steps(&told.working));
    }
    for caution in told.cautions {
        text.push_str(&format!("\n\n{}", wrapped(&format!("Caution: {caution}"), terminal.width, "  ")));
    }
    if working && !told.notes.is_empty() {
        text.push_str(&format!("\n\n{}", notes(&told.notes, terminal.width)));
    }
    text
}

fn of_farm(water: &WaterToday, system: UnitSystem, terminal: &Terminal) -> String {
    let title = format!("Water on {}", weekday(water.today));
    let mut text = format!("{title}\n{}\n{}", "=".repeat(title.chars().count()), water.headline);
    for wanted in &water.wanted {
        text.push_str(&format!("\n{}", wrapped(&format!("Wanted: {}", wanted.text), terminal.width, "  ")));
    }
    if !water.beds.is_empty() {
        let mut rows = vec![["bed", "crop", "today", "how surely"].map(str::to_owned).to_vec()];
        rows.extend(water.beds.iter().map(|line| {
            let today = match (line.call, line.due_on) {
                (Some(Call::Wait), Some(due)) => format!("wait; most likely due by {}", weekday(due)),
                (Some(Call::Wait), None) => "wait".to_owned(),
                (Some(Call::Water), _) => line.headline.clone(),
                (None, _) => line.wanted.clone().unwrap_or_default(),
            };
            vec![
                format!("{}, {}", line.plot_name, line.bed_name),
                line.crop.clone(),
                today,
                line.firmness.map(|firmness| firmness.words().to_owned()).unwrap_or_default(),
            ]
        }));
        text.push_str(&format!("\n\n{}", table(&rows, "", terminal.width)));
    }
    for supply in &water.supplies {
        let volume = match (system, supply.volume_l) {
            (_, volume) if volume <= 0.0 => String::new(),
            (UnitSystem::UsCustomary, volume) => {
                format!(" {:.0} gal in all.", volume / ground::irrigation::hardware::LITRES_PER_GALLON)
            }
            (UnitSystem::Metric, volume) => format!(" {volume:.0} L in all."),
        };
        let line = format!("{}: {}{volume}", supply.name, supply.sentence);
        text.push_str(&format!("\n\n{}", wrapped(&line, terminal.width, "  ")));
        for (at, set) in supply.sets.iter().enumerate() {
            let line = format!("{}. {}: {}", at + 1, timer(set.run_min), set.beds.join("; "));
            text.push_str(&format!("\n  {}", wrapped(&line, terminal.width - 2, "     ")));
        }
        for line in &supply.others {
            text.push_str(&format!("\n  {}", wrapped(line, terminal.width - 2, "     ")));
        }
        for name in &supply.too_much {
            text.push_str(&format!("\n  {name} draws more than it gives."));
        }
    }
    for caution in water.cautions {
        text.push_str(&format!("\n\n{}", wrapped(&format!("Caution: {caution}"), terminal.width, "  ")));
    }
    text
}
