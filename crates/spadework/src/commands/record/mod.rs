//! `record`: what was seen, built or decided, into the farm book.

mod bed;
mod building_ground;
mod cover;
mod crop;
mod decision;
mod feel;
mod in_bed;
mod jar;
mod job;
mod lab;
mod lab_report;
mod layers;
mod material;
mod moisture;
mod note;
mod photo;
mod plot;
mod results;
mod sample;
mod sampling;
mod seen;
mod soil_structure;
mod spread;
mod structure;
mod watering;
mod weather;

use std::path::PathBuf;

pub(super) use in_bed::InBed;

use advice::{Options, plot_report};
use book::model::{Observation, Seen};
use clap::{Args, Subcommand};
use serde_json::json;

use crate::args::Global;
use crate::records;
use crate::report::{Report, wrapped};
use crate::shelf::{self, Witnessed};
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `record`.
#[derive(Debug, Args)]
pub(crate) struct Record {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// A plot: its name, size and place
    Plot(plot::RecordPlot),
    /// A bed of a plot, or several equal ones
    Bed(bed::RecordBed),
    /// A tunnel, shed, fence or trellis
    Structure(Box<structure::RecordStructure>),
    /// A bag of soil: cores of one plot and one depth
    Sample(sample::RecordSample),
    /// A sampling plan: how many cores, where and how deep, laid out and kept
    Sampling(Box<sampling::RecordSampling>),
    /// Results of many bags or points at once, from a table
    Results(Box<results::RecordResults>),
    /// A jar of settled soil
    Jar(Box<jar::RecordJar>),
    /// A feel test
    Feel(feel::RecordFeel),
    /// A laboratory's sand, silt and clay
    Lab(lab::RecordLab),
    /// A laboratory's soil test: acidity, nutrients, salts, and what it recommends
    LabReport(Box<lab_report::RecordLabReport>),
    /// Anything else that can be seen, as JSON or field by field
    Seen(seen::RecordSeen),
    /// How moist the ground is at a depth
    Moisture(moisture::RecordMoisture),
    /// Water timed in rings at the surface
    Ring(moisture::RecordRing),
    /// Water timed in a test hole
    Percolation(moisture::RecordPercolation),
    /// Ground to build on: what a hole, a bar and the fingers tell
    BuildingGround(Box<building_ground::RecordBuildingGround>),
    /// The layers of the ground, from a pit or a core
    Layers(layers::RecordLayers),
    /// A probe pushed in at several points: where a hard layer lies
    Probe(soil_structure::RecordProbe),
    /// Density cores of one layer
    Core(soil_structure::RecordCore),
    /// A block dug with the spade: scores, signs, earthworms
    Spade(soil_structure::RecordSpade),
    /// A slake test: dry crumbs put into water
    Slake(soil_structure::RecordSlake),
    /// A handful from working depth, and how the ground worked
    Working(Box<soil_structure::RecordWorking>),
    /// The usual weather of each month, from a table
    Normals(weather::RecordNormals),
    /// The weather of a day
    Weather(Box<weather::RecordWeather>),
    /// A crop of the farm's own, or its figures for one of the catalogue
    Crop(crop::RecordCrop),
    /// What is planted in a bed
    Planting(crop::RecordPlanting),
    /// A cover crop that was sown, or is to be
    Cover(cover::RecordCover),
    /// How a cover crop was ended, and what stood
    CoverEnd(Box<cover::RecordCoverEnd>),
    /// A source of water: its flow and what is dissolved in it
    WaterSupply(watering::RecordWaterSupply),
    /// How a bed is watered
    WateringSystem(watering::RecordWateringSystem),
    /// A watering that was given
    Watering(watering::RecordWatering),
    /// A material that was spread
    Application(spread::RecordApplication),
    /// A harvest
    Harvest(spread::RecordHarvest),
    /// What you say of a job of the work plan, and that it is done
    Job(job::RecordJob),
    /// A job of your own
    OwnJob(job::RecordOwnJob),
    /// A material of the shelf: what is in it, how it is sold, its price
    Material(Box<material::RecordMaterial>),
    /// What was counted, bought or lost of a material
    Stock(material::RecordStock),
    /// A note on the farm or a plot
    Note(note::RecordNote),
    /// A photo, kept inside the book
    Photo(photo::RecordPhoto),
    /// What you decide about a finding: accept, postpone or refuse it
    Decision(decision::RecordDecision),
}

impl Record {
    /// Records it.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        match self.what {
            What::Plot(command) => command.run(global, terminal),
            What::Bed(command) => command.run(global, terminal),
            What::Structure(command) => command.run(global, terminal),
            What::Sample(command) => command.run(global, terminal),
            What::Sampling(command) => command.run(global, terminal),
            What::Results(command) => command.run(global, terminal),
            What::Jar(command) => command.run(global, terminal),
            What::Feel(command) => command.run(global, terminal),
            What::Lab(command) => command.run(global, terminal),
            What::LabReport(command) => command.run(global, terminal),
            What::Seen(command) => command.run(global, terminal),
            What::Moisture(command) => command.run(global, terminal),
            What::Ring(command) => command.run(global, terminal),
            What::Percolation(command) => command.run(global, terminal),
            What::Layers(command) => command.run(global, terminal),
            What::Probe(command) => command.run(global, terminal),
            What::Core(command) => command.run(global, terminal),
            What::Spade(command) => command.run(global, terminal),
            What::Slake(command) => command.run(global, terminal),
            What::Working(command) => command.run(global, terminal),
            What::BuildingGround(command) => command.run(global, terminal),
            What::Normals(command) => command.run(global, terminal),
            What::Weather(command) => command.run(global, terminal),
            What::Crop(command) => command.run(global, terminal),
            What::Planting(command) => command.run(global, terminal),
            What::Cover(command) => command.run(global, terminal),
            What::CoverEnd(command) => command.run(global, terminal),
            What::WaterSupply(command) => command.run(global, terminal),
            What::WateringSystem(command) => command.run(global, terminal),
            What::Watering(command) => command.run(global, terminal),
            What::Application(what) => what.run(global, terminal),
            What::Harvest(what) => what.run(global, terminal),
            What::Job(what) => what.run(global, terminal),
            What::OwnJob(what) => what.run(global, terminal),
            What::Material(command) => command.run(global, terminal),
            What::Stock(command) => command.run(global, terminal),
            What::Note(command) => command.run(),
            What::Photo(command) => command.run(terminal),
            What::Decision(command) => command.run(terminal),
        }
    }
}

/// Where an observation belongs, and who made it.
#[derive(Debug, Args)]
struct About {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// Label on the bag of the sample it was made on, or the id of its record
    #[arg(long, value_name = "LABEL")]
    sample: Option<String>,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl About {
    /// Stores what was seen, and says what the plot's ground now is.
    fn store(&self, seen: Seen, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let plot = shelf::plot(&snapshot, &self.plot)?;
        let sample = match &self.sample {
            Some(label) => Some(shelf::sample(&snapshot, plot.id, label)?.id),
            None => None,
        };
        let label = seen.label();
        let observation = Observation {
            plot: plot.id,
            sample,
            seen_on: self.witnessed.day()?,
            seen_by: self.witnessed.by.trim().to_owned(),
            note: self.witnessed.note.clone(),
            import: None,
            spot: None,
            seen,
        };
        let system = global.system_or(snapshot.farm.body.units);
        let held =
            book.record(observation, &self.witnessed.stamp()).map_err(|error| in_units(error, system))?;
        let after = plot_report(
            &book.snapshot()?,
            plot.id,
            &Options { weigh_measurements: false, ..Options::default() },
        );
        let headline = after.map(|report| report.headline).unwrap_or_default();
        let recorded = format!(
            "Recorded: {label}, {}, {} (record {}).",
            plot.body.name,
            advice::words::day(held.body.seen_on),
            records::short(&book, held.id)
        );
        let text = format!(
            "{}\n{}",
            wrapped(&recorded, terminal.width, "  "),
            wrapped(&headline, terminal.width, "")
        );
        Report::new(&json!({ "recorded": held, "headline": headline }), text)
    }
}
