//! `record structure`.

use std::path::PathBuf;

use advice::posts::usual_post;
use book::model::{
    EndBrace, PostLine, Record, Structure, StructureKind, StructureSide, TunnelFrame, TunnelProfile,
};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::kit::units::{UnitSystem, field_unit, typed};
use ground::kit::{Bounded, Refusal};
use serde_json::json;

use crate::args::Global;
use crate::post_args::{PostArgs, at_its_option, given};
use crate::records;
use crate::report::{Report, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `record structure`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record structure home.farmbook \"East tunnel\" --kind high-tunnel --plot \"Lower field\" --length 96ft --width 30ft")]
pub(crate) struct RecordStructure {
    /// The farm book
    book: PathBuf,
    /// What it is called
    name: String,
    /// What it is
    #[arg(long, value_parser = PossibleValuesParser::new(StructureKind::ALL.map(flag)))]
    kind: String,
    /// Name of the plot it stands on
    #[arg(long, value_name = "NAME")]
    plot: Option<String>,
    /// Length
    #[arg(long)]
    length: Option<String>,
    /// Width
    #[arg(long)]
    width: Option<String>,
    /// It is planned, and not built yet
    #[arg(long)]
    planned: bool,
    /// Height of the side walls of a tunnel
    #[arg(long, value_name = "HEIGHT")]
    wall: Option<String>,
    /// Height of its ridge
    #[arg(long, value_name = "HEIGHT")]
    ridge: Option<String>,
    /// Distance between its bows
    #[arg(long, value_name = "LENGTH")]
    bow_spacing: Option<String>,
    /// Shape of its bows
    #[arg(long, value_parser = PossibleValuesParser::new(["round", "pointed"]))]
    profile: Option<String>,
    /// Ends with a door: 0, 1 or 2
    #[arg(long, value_name = "COUNT")]
    door_ends: Option<u8>,
    /// Is the cover on in the season of storms? yes or no
    #[arg(long, value_name = "YES/NO", value_parser = PossibleValuesParser::new(["yes", "no"]))]
    covered: Option<String>,
    /// Weight of frame and cover, in kg for each m² of ground
    #[arg(long, value_name = "KG/M2")]
    weight: Option<String>,
    /// Height of a fence or trellis
    #[arg(long, value_name = "HEIGHT")]
    height: Option<String>,
    /// Distance between its posts
    #[arg(long, value_name = "LENGTH")]
    spacing: Option<String>,
    /// How many tight wires
    #[arg(long, value_name = "COUNT")]
    wires: Option<String>,
    /// Pull of each when tight and cold
    #[arg(long, value_name = "FORCE")]
    wire_pull: Option<String>,
    /// Their mean height
    #[arg(long, value_name = "HEIGHT")]
    wire_height: Option<String>,
    /// How its ends are braced
    #[arg(long, value_parser = PossibleValuesParser::new(["alone", "two-posts", "tieback"]))]
    brace: Option<String>,
    /// Distance between the posts of the brace
    #[arg(long, value_name = "LENGTH")]
    brace_span: Option<String>,
    /// Slope of a tieback, degrees above level
    #[arg(long, value_name = "DEGREES")]
    tieback: Option<String>,
    /// Share of its front that stops the wind on its worst day, percent
    #[arg(long, value_name = "PERCENT")]
    solid: Option<String>,
    /// It is a deer fence
    #[arg(long)]
    deer: bool,
    #[command(flatten)]
    post: PostArgs,
    /// Anything else
    #[arg(long, default_value = "")]
    note: String,
    /// Who records
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

/// The words of a kind as one argument.
fn flag(kind: StructureKind) -> String {
    kind.words().replace(' ', "-")
}

impl RecordStructure {
    fn frame(&self, system: UnitSystem) -> Result<Option<TunnelFrame>, Refusal> {
        let frame = TunnelFrame {
            wall_m: given("wall", &self.wall, system)?,
            ridge_m: given("ridge", &self.ridge, system)?,
            bow_spacing_m: given("bow_spacing", &self.bow_spacing, system)?,
            profile: self.profile.as_deref().map(|profile| match profile {
                "pointed" => TunnelProfile::Pointed,
                _ => TunnelProfile::Round,
            }),
            door_ends: self.door_ends,
            covered: self.covered.as_deref().map(|covered| covered == "yes"),
            weight_kg_m2: given("weight", &self.weight, system)?,
        };
        Ok((frame != TunnelFrame::default()).then_some(frame))
    }

    fn line(&self, system: UnitSystem) -> Result<Option<PostLine>, Refusal> {
        let line = PostLine {
            height_m: given("height", &self.height, system)?,
            spacing_m: given("spacing", &self.spacing, system)?,
            wires: given("wires", &self.wires, system)?,
            wire_pull_kn: given("wire_pull", &self.wire_pull, system)?,
            wire_height_m: given("wire_height", &self.wire_height, system)?,
            brace: self.brace.as_deref().map(|brace| match brace {
                "two-posts" => EndBrace::TwoPosts,
                "tieback" => EndBrace::Tieback,
                _ => EndBrace::Alone,
            }),
            brace_span_m: given("brace_span", &self.brace_span, system)?,
            tieback_degrees: given("tieback", &self.tieback, system)?,
            solid_percent: given("solid", &self.solid, system)?,
            deer: self.deer,
        };
        Ok((line != PostLine::default()).then_some(line))
    }

    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let unit = field_unit(StructureSide::UNIT, system);
        let side = |field: &str, text: &Option<String>| -> Result<Option<StructureSide>, Refusal> {
            text.as_deref().map(|text| typed(field, text, unit)).transpose()
        };
        let plot = match &self.plot {
            Some(name) => Some(shelf::plot(&snapshot, name)?),
            None => None,
        };
        let kind = StructureKind::ALL
            .into_iter()
            .find(|kind| flag(*kind) == self.kind)
            .unwrap_or(StructureKind::Other);
        let structure = Structure {
            plot: plot.map(|plot| plot.id),
            name: self.name.trim().to_owned(),
            kind,
            length_m: side("length", &self.length)?,
            width_m: side("width", &self.width)?,
            planned: self.planned,
            frame: self.frame(system)?,
            line: self.line(system)?,
            post: if self.post.said() { Some(self.post.put(usual_post(Some(kind)), system)?) } else { None },
            note: self.note.clone(),
        };
        structure.check().map_err(|refusal| match refusal.field.contains('.') {
            true => at_its_option(refusal).in_units(system),
            false => refusal.in_units(system),
        })?;
        let held =
            book.record(structure, &shelf::stamp(&self.by)).map_err(|error| in_units(error, system))?;
        let stands = plot.map(|plot| format!(" on {}", plot.body.name)).unwrap_or_default();
        let text = format!(
            "Recorded: {} {}{stands} (record {}).",
            held.body.kind.words(),
            held.body.name,
            records::short(&book, held.id)
        );
        Report::new(&json!({ "recorded": held }), wrapped(&text, terminal.width, "  "))
    }
}
