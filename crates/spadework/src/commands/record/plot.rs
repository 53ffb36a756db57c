//! `record plot`.

use std::path::PathBuf;

use book::model::{
    Cover, CoverEt0, CoverFactor, Place, Plot, PlotArea, PlotSide, RootDepth, Shape, Slope, Watering,
};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::kit::units::{Dimension, Unit, UnitSystem, field_unit, show, typed};
use ground::kit::{Bounded, Refusal};
use serde_json::json;

use crate::args::Global;
use crate::records;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `record plot`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record plot home.farmbook \"East tunnel\" --place high-tunnel --length 96ft --width 30ft --watering drip")]
pub(crate) struct RecordPlot {
    /// The farm book
    book: PathBuf,
    /// What the plot is called; no two plots share a name
    name: String,
    /// What it lies under
    #[arg(long, value_parser = PossibleValuesParser::new(Place::ALL.map(flag)), default_value = "open-field")]
    place: String,
    /// Length of a rectangle
    #[arg(long, requires = "width", conflicts_with = "area", required_unless_present = "area")]
    length: Option<String>,
    /// Width of a rectangle
    #[arg(long, requires = "length")]
    width: Option<String>,
    /// Area, where it is no rectangle
    #[arg(long)]
    area: Option<String>,
    /// Slope in percent
    #[arg(long)]
    slope: Option<String>,
    /// Depth to which the crop draws water
    #[arg(long, value_name = "DEPTH")]
    root_depth: Option<String>,
    /// How it is watered
    #[arg(long, value_parser = PossibleValuesParser::new(Watering::ALL.map(watering_flag)))]
    watering: Option<String>,
    /// What a tunnel or greenhouse leaves of the evaporative demand outside: least, likely, greatest
    #[arg(long, value_name = "LOW,LIKELY,HIGH")]
    cover_factor: Option<String>,
    /// Its cover is whitewashed or hung with shade cloth
    #[arg(long)]
    shaded: bool,
    /// Under organic rules; as the farm where nothing is said
    #[arg(long, value_parser = PossibleValuesParser::new(["yes", "no"]))]
    organic: Option<String>,
    /// What it is used for
    #[arg(long = "use", value_name = "TEXT", default_value = "")]
    use_note: String,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

/// The words of a place as one argument.
fn flag(place: Place) -> String {
    place.words().replace(' ', "-")
}

fn watering_flag(watering: Watering) -> String {
    watering.words().replace(' ', "-")
}

impl RecordPlot {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let system = global.system_or(book.snapshot()?.farm.body.units);
        let et0_factor = self.cover_factor.as_deref().map(cover_factor).transpose()?;
        let cover =
            (et0_factor.is_some() || self.shaded).then_some(Cover { et0_factor, shaded: self.shaded });
        let plot = Plot {
            name: self.name.trim().to_owned(),
            place: Place::ALL
                .into_iter()
                .find(|place| flag(*place) == self.place)
                .unwrap_or(Place::OpenField),
            shape: shape(self.length.as_deref(), self.width.as_deref(), self.area.as_deref(), system)?,
            slope_percent: read::<Slope>("slope", self.slope.as_deref(), system)?,
            root_depth_cm: read::<RootDepth>("root-depth", self.root_depth.as_deref(), system)?,
            use_note: self.use_note,
            watering: self
                .watering
                .and_then(|word| Watering::ALL.into_iter().find(|watering| watering_flag(*watering) == word)),
            cover,
            organic: self.organic.map(|said| said == "yes"),
            zone_of: None,
        };
        let held = book.record(plot, &shelf::stamp(&self.by)).map_err(|error| in_units(error, system))?;
        let text = format!(
            "Recorded: plot {}, {}, {} (record {}).",
            held.body.name,
            held.body.place.words(),
            show(held.body.shape.area_m2(), Dimension::Area, system),
            records::short(&book, held.id)
        );
        Report::new(&json!({ "recorded": held }), wrapped(&text, terminal.width, "  "))
    }
}

fn shape(
    length: Option<&str>,
    width: Option<&str>,
    area: Option<&str>,
    system: UnitSystem,
) -> Result<Shape, Refusal> {
    match (length, width, area) {
        (Some(length), Some(width), _) => Ok(Shape::Rectangle {
            length_m: typed::<PlotSide>("length", length, field_unit(PlotSide::UNIT, system))?,
            width_m: typed::<PlotSide>("width", width, field_unit(PlotSide::UNIT, system))?,
        }),
        (_, _, Some(area)) => {
            Ok(Shape::Area { area_m2: typed::<PlotArea>("area", area, field_unit(PlotArea::UNIT, system))? })
        }
        _ => Err(Refusal::new("length", "the size of the plot is missing")
            .given("nothing")
            .accepted("--length and --width, or --area")
            .example("--length 96ft --width 30ft")),
    }
}

/// The least, likely and greatest evaporative demand under a cover, over that outside.
fn cover_factor(text: &str) -> Result<CoverEt0, Refusal> {
    let values: Vec<&str> = text.split(',').map(str::trim).collect();
    let one = |text: &str| typed::<CoverFactor>("cover-factor", text, Unit::One);
    match values[..] {
        [low, likely, high] => Ok(CoverEt0 { low: one(low)?, likely: one(likely)?, high: one(high)? }),
        _ => Err(Refusal::new("cover-factor", format!("{text:?} is not three numbers"))
            .given(text)
            .accepted("the least, likely and greatest factor, parted by commas")
            .example("0.6,0.7,0.8")),
    }
}

fn read<Q: Bounded>(field: &str, text: Option<&str>, system: UnitSystem) -> Result<Option<Q>, Refusal> {
    text.map(|text| typed::<Q>(field, text, field_unit(Q::UNIT, system))).transpose()
}
