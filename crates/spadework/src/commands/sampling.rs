//! `sampling`: how many cores to pull on a plot, where, how deep; a kept plan, and its points for a phone.

use std::path::PathBuf;

use advice::sampling_plan::tell;
use advice::sampling_plan::{
    CAUTIONS, SamplingAsk, SamplingReport, ToldPlan, across_words, along_words, sampling_report, tape, told,
    usual_property,
};
use book::model::{Design, SamplingPurpose};
use book::{Snapshot, WalkPoint, points_geojson, points_gpx};
use clap::{Args, ValueEnum};
use ground::kit::units::{Dimension, UnitSystem, typed};
use ground::kit::{Bounded, Refusal};
use ground::spatial::sampling::core_count::{ConfidencePercent, ErrorPercent};
use ground::spatial::sampling::ground_to_sample::{KeepOffM, MarginM};
use ground::spatial::sampling::variation::Property;
use jiff::ZonedDateTime;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::args::Global;
use crate::files;
use crate::report::{Report, table, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `sampling`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework sampling a.farmbook \"Lower field\"
  spadework sampling a.farmbook \"Lower field\" --purpose nitrate --error 25% --design zigzag
  spadework record sampling a.farmbook \"Lower field\" --bags 3 --seed 7
  spadework sampling a.farmbook --plan ID --gpx points.gpx")]
pub(crate) struct Sampling {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: Option<String>,
    /// A plan that was kept, by its id or name; then nothing else is asked
    #[arg(long, value_name = "ID", conflicts_with = "plot")]
    plan: Option<String>,
    #[command(flatten)]
    asked: SamplingArgs,
    /// Write the points for a phone to this file: .gpx or .geojson
    #[arg(long, value_name = "FILE")]
    gpx: Option<PathBuf>,
    /// Replace the file if it is there already
    #[arg(long)]
    force: bool,
}

/// What is asked of a plot.
#[derive(Debug, Args)]
pub(crate) struct SamplingArgs {
    /// What the soil is wanted for
    #[arg(long, value_enum, default_value_t = Purpose::Fertility)]
    purpose: Purpose,
    /// Figure that decides how many: ph, phosphorus, potassium, organic_matter, nitrate, salts, sand, clay,
    /// bulk_density, water_at_field_capacity, infiltration
    #[arg(long, value_name = "FIGURE")]
    property: Option<String>,
    /// Error of the mean that you can bear
    #[arg(long, value_name = "SHARE", default_value = "20%")]
    error: String,
    /// How sure to be
    #[arg(long, value_name = "SHARE", default_value = "90%")]
    confidence: String,
    /// How places are chosen
    #[arg(long, value_enum, default_value_t = Choose::StratifiedRandom)]
    design: Choose,
    /// Places, 1 to 500; as many as the error asks, unless said
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=500))]
    cores: Option<u16>,
    /// Bags
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=500))]
    bags: Option<u16>,
    /// A bag for every place, for a map
    #[arg(long)]
    apart: bool,
    /// Places in the drawn beds alone
    #[arg(long)]
    in_beds: bool,
    /// How far to stay from the edges
    #[arg(long, value_name = "DISTANCE")]
    margin: Option<String>,
    /// How far to stay from what is marked as no sampling
    #[arg(long, value_name = "DISTANCE")]
    keep_off: Option<String>,
    /// What chance starts from: the same seed gives the same places
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u32,
    /// The kept plan whose points are taken again, with --design repeat; the last one, unless said
    #[arg(long, value_name = "ID")]
    repeats: Option<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Purpose {
    Fertility,
    Nitrate,
    Texture,
    OrganicMatter,
    Salts,
    Structure,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Choose {
    StratifiedRandom,
    Zigzag,
    SpatialCoverage,
    Repeat,
}

impl SamplingArgs {
    /// The question.
    pub(super) fn ask(&self, snapshot: &Snapshot, system: UnitSystem) -> Result<SamplingAsk, Trouble> {
        let purpose = match self.purpose {
            Purpose::Fertility => SamplingPurpose::Fertility,
            Purpose::Nitrate => SamplingPurpose::Nitrate,
            Purpose::Texture => SamplingPurpose::Texture,
            Purpose::OrganicMatter => SamplingPurpose::OrganicMatter,
            Purpose::Salts => SamplingPurpose::Salts,
            Purpose::Structure => SamplingPurpose::Structure,
        };
        let design = match self.design {
            Choose::StratifiedRandom => Design::StratifiedRandom,
            Choose::Zigzag => Design::Zigzag,
            Choose::SpatialCoverage => Design::SpatialCoverage,
            Choose::Repeat => Design::Repeat,
        };
        let length = Dimension::Length.unit(system);
        let percent = Dimension::Percent.unit(system);
        let property = match &self.property {
            None => usual_property(purpose),
            Some(key) => named::<Property>(key).ok_or_else(|| {
                Refusal::new("property", format!("\u{201c}{key}\u{201d} is no figure that cores are pulled for"))
                    .given(key)
                    .accepted("ph, phosphorus, potassium, organic_matter, nitrate, salts, sand, clay, bulk_density, water_at_field_capacity or infiltration")
                    .example("phosphorus")
            })?,
        };
        let usual = SamplingAsk::usual(purpose);
        Ok(SamplingAsk {
            property,
            error_percent: typed::<ErrorPercent>("error", &self.error, percent)?.get(),
            confidence_percent: typed::<ConfidencePercent>("confidence", &self.confidence, percent)?.get(),
            design,
            repeats: self
                .repeats
                .as_deref()
                .map(|name| Ok::<_, Trouble>(shelf::sampling_plan(snapshot, name)?.id))
                .transpose()?,
            margin_m: self
                .margin
                .as_deref()
                .map(|text| typed::<MarginM>("margin", text, length))
                .transpose()?
                .map(Bounded::get),
            keep_off_m: self
                .keep_off
                .as_deref()
                .map(|text| typed::<KeepOffM>("keep-off", text, length))
                .transpose()?
                .map_or(usual.keep_off_m, Bounded::get),
            seed: u64::from(self.seed),
            cores: self.cores,
            bags: self.bags,
            apart: self.apart,
            in_beds: self.in_beds,
            ..usual
        })
    }
}

fn named<T: DeserializeOwned>(key: &str) -> Option<T> {
    serde_json::from_value(Value::String(key.replace('-', "_"))).ok()
}

impl Sampling {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        if let Some(id) = &self.plan {
            let id = shelf::sampling_plan(&snapshot, id)?.id;
            let plan = told(&snapshot, id, system).ok_or_else(|| Trouble::other("the plan was withdrawn"))?;
            if let Some(path) = &self.gpx {
                let points: Vec<WalkPoint> = plan
                    .in_degrees()?
                    .into_iter()
                    .map(|(number, at, note)| WalkPoint { number, at, note })
                    .collect();
                write(path, &plan.plan.name, &points, self.force)?;
            }
            return Report::new(&plan, of_plan(&plan, system, terminal));
        }
        let Some(name) = &self.plot else {
            return Err(Refusal::new("plot", "say which plot, or which kept plan")
                .given("nothing")
                .accepted("the name of a plot, or --plan and the id of a kept plan")
                .example("\"Lower field\"")
                .into());
        };
        let plot = shelf::plot(&snapshot, name)?;
        let today = ZonedDateTime::now().date();
        let report = sampling_report(&snapshot, plot, &self.asked.ask(&snapshot, system)?, today)?;
        if let Some(path) = &self.gpx {
            write(path, &report.usual_name(today), &in_degrees(&snapshot, &report)?, self.force)?;
        }
        let text = of_report(&report, system, terminal);
        Report::new(&report, text)
    }
}

fn in_degrees(snapshot: &Snapshot, report: &SamplingReport) -> Result<Vec<WalkPoint>, Trouble> {
    let farm = advice::plan::FarmPlan::of(snapshot);
    let drawn = farm.area_of(report.plot).is_some();
    let Some(frame) = farm.frame().filter(|_| drawn && !report.points.is_empty()) else {
        return Err(Refusal::new(
            "gpx",
            "these points have no place on the Earth, so a phone cannot find them",
        )
        .given("a plot that is not drawn, or a plan without latitude and longitude")
        .accepted("a plot drawn on a plan that has its place")
        .example("leave --gpx out")
        .into());
    };
    Ok(report
        .points
        .iter()
        .map(|point| WalkPoint {
            number: point.number,
            at: frame.to_degrees(point.at),
            note: tell::bag(point.bag),
        })
        .collect())
}

fn write(path: &std::path::Path, name: &str, points: &[WalkPoint], force: bool) -> Result<(), Trouble> {
    let is_json = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("geojson"));
    let text = if is_json { points_geojson(name, points) } else { points_gpx(name, points) };
    files::save("gpx", path, text.as_bytes(), force)
}

fn part(text: &mut String, title: &str, lines: &[String], terminal: &Terminal) {
    if !lines.is_empty() {
        text.push_str(&format!("\n\n{title}"));
        for line in lines {
            text.push_str(&format!("\n{}", wrapped(&format!("- {line}"), terminal.width, "  ")));
        }
    }
}

/// A report in sentences.
pub(super) fn of_report(report: &SamplingReport, system: UnitSystem, terminal: &Terminal) -> String {
    let said = tell::sentences(report, system);
    let mut text =
        format!("Where to pull cores, {}\n{}", report.name, wrapped(&said.lead, terminal.width, ""));
    part(&mut text, "Why so many", &said.number, terminal);
    part(&mut text, "One bag, or parts", &said.split, terminal);
    part(&mut text, "Look for", &said.look, terminal);
    part(&mut text, "How deep", &said.depth, terminal);
    part(&mut text, "When", &said.when, terminal);
    part(&mut text, "Where", &said.place, terminal);
    if !report.points.is_empty() {
        let corner = report.corner;
        let mut rows = vec![["point", "along", "across", "bag"].map(str::to_owned).to_vec()];
        rows.extend(report.points.iter().map(|point| {
            let place = corner.map(|corner| corner.to(point.at));
            let [along, across] = place.map_or_else(Default::default, |place| beside(place, system));
            let bag = point.bag.filter(|_| report.ask.purpose != SamplingPurpose::Structure);
            vec![point.number.to_string(), along, across, bag.map_or_else(String::new, |bag| bag.to_string())]
        }));
        text.push_str(&format!("\n\n{}", table(&rows, "", terminal.width)));
    }
    part(&mut text, "How", &said.steps, terminal);
    part(&mut text, "What to bring", &said.bring, terminal);
    cautions(&mut text, terminal);
    text
}

/// A place under the headings "along" and "across".
fn beside([along, across]: [f64; 2], system: UnitSystem) -> [String; 2] {
    let bare = |words: String, way: &str| words.strip_suffix(way).map(str::to_owned).unwrap_or(words);
    [bare(along_words(along, system), " along"), bare(across_words(across, system), " across")]
}

fn cautions(text: &mut String, terminal: &Terminal) {
    for caution in CAUTIONS {
        text.push_str(&format!("\n\n{}", wrapped(&format!("Caution: {caution}"), terminal.width, "  ")));
    }
}

fn of_plan(plan: &ToldPlan, system: UnitSystem, terminal: &Terminal) -> String {
    let body = &plan.plan;
    let state = if plan.taken { "Soil was taken for it." } else { "No soil was taken for it yet." };
    let mut text = format!(
        "{}\n{}: {}; {}. {} to {} deep. {state}",
        body.name,
        plan.plot_name,
        body.purpose.words(),
        body.design.words(),
        advice::words::depth(body.from_cm.get(), system),
        advice::words::depth(body.to_cm.get(), system)
    );
    let about: Vec<String> =
        plan.remarks.iter().cloned().chain(plan.corner.map(|corner| corner.words(system))).collect();
    part(&mut text, "About its points", &about, terminal);
    if !plan.points.is_empty() {
        let heads = ["point", "bag", "along", "across", "from the last", "latitude, longitude"];
        let mut rows = vec![heads.map(str::to_owned).to_vec()];
        rows.extend(plan.points.iter().map(|point| {
            let place = point.along_across_m;
            let [along, across] = place.map_or_else(Default::default, |place| beside(place, system));
            let bag = point.bag.filter(|_| body.purpose != SamplingPurpose::Structure);
            vec![
                point.number.to_string(),
                bag.map_or_else(String::new, |bag| bag.to_string()),
                along,
                across,
                point.step_m.map_or_else(String::new, |step| tape(step, system)),
                point.degrees.map_or_else(String::new, |[longitude, latitude]| {
                    format!("{latitude:.6}, {longitude:.6}")
                }),
            ]
        }));
        text.push_str(&format!("\n\n{}", table(&rows, "", terminal.width)));
    }
    let steps = tell::steps(&tell::Walk::of(body), system);
    part(&mut text, "How", &steps, terminal);
    part(&mut text, "What to bring", &tell::bring(body.purpose, plan.apart), terminal);
    cautions(&mut text, terminal);
    text
}
