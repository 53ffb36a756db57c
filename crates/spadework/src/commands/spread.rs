//! `spread` and `buying`: the plan of what goes on each bed, and what to buy for it.

use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use advice::feeding::plan::{
    Aim, BucketLitres, FarmPlan, OverPercent, PlanSettings, ShortPercent, ShovelLitres, farm_plan,
    farm_wants, most_materials,
};
use advice::{Options, PlotReport, plot_report};
use book::Snapshot;
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::fertility::blend::Progress;
use ground::kit::Bounded;
use ground::kit::units::{UnitSystem, field_unit, typed};
use jiff::ZonedDateTime;

use crate::args::Global;
use crate::report::{Report, part, table, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of a plan.
#[derive(Debug, Args)]
pub(crate) struct Wanted {
    /// The farm book
    book: PathBuf,
    /// The day, such as 2026-04-10; today where nothing is said
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// Plan for the middle of the needs, or for enough with odds of 80 %
    #[arg(long, default_value = "median", value_parser = PossibleValuesParser::new(["median", "p80"]))]
    aim: String,
    /// How far a need may fall short
    #[arg(long, value_name = "PERCENT", default_value = "10")]
    short: String,
    /// How far a need may be passed; potassium by twice as much
    #[arg(long, value_name = "PERCENT", default_value = "20")]
    over: String,
    /// Most materials on one bed
    #[arg(long, value_name = "COUNT", default_value_t = 5)]
    materials: u32,
    /// What a bucket holds, such as 5gal or 20L
    #[arg(long, value_name = "VOLUME")]
    bucket: Option<String>,
    /// What a heaped shovel holds, such as 5L
    #[arg(long, value_name = "VOLUME")]
    shovel: Option<String>,
    /// Seconds after which the best plan found is taken
    #[arg(long, value_name = "SECONDS", default_value_t = 20)]
    seconds: u64,
}

/// Options of `spread`.
#[derive(Debug, Args)]
#[command(after_help = "Ctrl-C takes the best plan found so far.

Examples:
  spadework spread farm.farmbook
  spadework spread farm.farmbook --aim p80 --materials 3 --json")]
pub(crate) struct Spread {
    #[command(flatten)]
    wanted: Wanted,
}

/// Options of `buying`.
#[derive(Debug, Args)]
#[command(after_help = "Ctrl-C takes the best plan found so far.

Example:
  spadework buying farm.farmbook --aim p80")]
pub(crate) struct Buying {
    #[command(flatten)]
    wanted: Wanted,
}

impl Spread {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let plan = self.wanted.plan(global)?;
        let text = format!("{}{}", beds(&plan, terminal), know(&plan, terminal));
        Report::new(&plan, text)
    }
}

impl Buying {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let plan = self.wanted.plan(global)?;
        let text = format!("{}{}", list(&plan, terminal), know(&plan, terminal));
        Report::new(&plan, text)
    }
}

impl Wanted {
    fn plan(&self, global: &Global) -> Result<FarmPlan, Trouble> {
        self.plan_of(&shelf::read(&self.book)?.snapshot()?, global)
    }

    /// The book that is named.
    pub(crate) fn book(&self) -> &Path {
        &self.book
    }

    /// The plan of the book, its way told on stderr after the first second.
    pub(crate) fn plan_of(&self, snapshot: &Snapshot, global: &Global) -> Result<FarmPlan, Trouble> {
        let today = self
            .on
            .as_deref()
            .map_or_else(|| Ok(ZonedDateTime::now().date()), |text| shelf::day("on", text))?;
        let settings = self.settings(global.system_or(snapshot.farm.body.units))?;
        let reports = reports(snapshot);
        let (needs, lime) = farm_wants(snapshot, &reports, today);
        let stop = stopped_by_person();
        let began = Instant::now();
        let longest = Duration::from_secs(self.seconds);
        let mut told = 0;
        Ok(farm_plan(snapshot, &needs, &lime, settings, today, &mut |progress: &Progress| {
            let passed = began.elapsed();
            if passed.as_secs() > told {
                told = passed.as_secs();
                eprintln!("{}", far(told, progress));
            }
            if passed > longest || stop.load(Ordering::Relaxed) {
                ControlFlow::Break(())
            } else {
                ControlFlow::Continue(())
            }
        }))
    }

    fn settings(&self, system: UnitSystem) -> Result<PlanSettings, Trouble> {
        let usual = PlanSettings::default();
        let percent = field_unit("%", system);
        let short: ShortPercent = typed("short", &self.short, percent)?;
        let over: OverPercent = typed("over", &self.over, percent)?;
        let bucket = match &self.bucket {
            None => usual.bucket_l,
            Some(text) => Some(typed::<BucketLitres>("bucket", text, field_unit("L", system))?.get()),
        };
        let shovel = match &self.shovel {
            None => usual.shovel_l,
            Some(text) => Some(typed::<ShovelLitres>("shovel", text, field_unit("L", system))?.get()),
        };
        let most = most_materials(self.materials).map_err(|mut refusal| {
            refusal.field = "materials".to_owned();
            refusal
        })?;
        Ok(PlanSettings {
            aim: if self.aim == "p80" { Aim::P80 } else { Aim::Median },
            short_percent: short.get(),
            over_percent: over.get(),
            most_materials: most,
            bucket_l: bucket,
            shovel_l: shovel,
        })
    }
}

pub(super) fn reports(snapshot: &Snapshot) -> Vec<PlotReport> {
    let options = Options { weigh_measurements: false, ..Options::default() };
    snapshot.plots.iter().filter_map(|plot| plot_report(snapshot, plot.id, &options)).collect()
}

/// Turns true at Ctrl-C. Where the signal cannot be listened for, Ctrl-C ends the program as it always does.
fn stopped_by_person() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    let flag = Arc::clone(&stop);
    std::thread::spawn(move || {
        let Ok(runtime) = tokio::runtime::Builder::new_current_thread().enable_all().build() else { return };
        if runtime.block_on(tokio::signal::ctrl_c()).is_ok() {
            flag.store(true, Ordering::Relaxed);
        }
    });
    stop
}

fn far(seconds: u64, progress: &Progress) -> String {
    let best =
        progress.best_cost.map_or_else(String::new, |cost| format!(", best plan so far counts {cost:.2}"));
    let bound =
        progress.lower_bound.map_or_else(String::new, |bound| format!(", none counts less than {bound:.2}"));
    format!("planning, {seconds} s: {} cases looked at{best}{bound}", progress.nodes)
}

fn heading(title: &str, plan: &FarmPlan, terminal: &Terminal) -> String {
    format!("{title}\n{}\n{}", "=".repeat(title.chars().count()), wrapped(&plan.headline, terminal.width, ""))
}

fn beds(plan: &FarmPlan, terminal: &Terminal) -> String {
    let mut text = heading("What to spread", plan, terminal);
    for bed in &plan.beds {
        let each = if bed.beds > 1 { format!(", on each of {} beds", bed.beds) } else { String::new() };
        let head = format!("{}: {}{each}", bed.name, bed.about());
        text.push_str(&format!("\n\n{}", wrapped(&head, terminal.width, "  ")));
        if bed.lines.is_empty() {
            text.push_str("\n  Nothing: what would help is not on the shelf, or costs more than it brings.");
            continue;
        }
        for line in &bed.lines {
            let buckets = line.buckets.as_ref().map_or_else(String::new, |buckets| format!(" ({buckets})"));
            let said = format!("[ ] {} {}{buckets}. {}", line.amount, line.name, line.how);
            text.push_str(&format!("\n  {}", wrapped(&said, terminal.width.saturating_sub(2), "      ")));
        }
        for note in &bed.notes {
            text.push_str(&format!("\n  {}", wrapped(note, terminal.width.saturating_sub(2), "  ")));
        }
        for line in bed.brought.iter().filter(|line| line.binds || line.target_g_m2 > 0.0) {
            let said = format!("{}: {}", line.words, line.says);
            text.push_str(&format!("\n    {}", wrapped(&said, terminal.width.saturating_sub(4), "      ")));
        }
    }
    text
}

fn list(plan: &FarmPlan, terminal: &Terminal) -> String {
    let mut text = heading("What to buy", plan, terminal);
    if plan.buy.is_empty() {
        return text;
    }
    let mut rows =
        vec![["material", "buy", "price", "used", "from hand", "left"].map(str::to_owned).to_vec()];
    rows.extend(plan.buy.iter().map(|line| {
        let buy =
            if line.packs > 0 { format!("{} × {}", line.packs, line.pack) } else { "nothing".to_owned() };
        let price = if line.packs > 0 { line.price.to_string() } else { String::new() };
        vec![line.name.clone(), buy, price, line.used.clone(), line.from_hand.clone(), line.left.clone()]
    }));
    text.push_str(&format!("\n\n{}", table(&rows, "", terminal.width)));
    text.push_str(&format!("\n\nIn all: {} {}", plan.to_pay, plan.currency));
    text
}

fn know(plan: &FarmPlan, terminal: &Terminal) -> String {
    let mut text = String::new();
    let mut part = |title: &str, lines: &[String]| part(&mut text, terminal.width, title, lines);
    part("What could not be kept together", &plan.conflicts);
    part("What to know", &plan.why);
    part("What is wanting", &plan.wanted);
    for caution in &plan.cautions {
        text.push_str(&format!("\n\n{}", wrapped(&format!("Caution: {caution}"), terminal.width, "  ")));
    }
    text
}
