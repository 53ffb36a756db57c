//! `plan`: the plan of the farm: show it, check it, add to it, lay out beds, files in and out.

use std::path::PathBuf;

use advice::plan::{Drawing, FarmPlan, PlanTold, beds_kept, told};
use book::model::{Form, PartKind};
use book::{PlanImport, WalkIs, plan_csv, plan_geojson, plan_gpx};
use clap::{Args, Subcommand};
use ground::kit::refusal::bounded;
use ground::kit::units::{Dimension, UnitSystem, parse, show};
use ground::kit::{Bounded, Refusal};
use ground::spatial::beds::{BedRules, ShortestBed, bed_layout};
use ground::spatial::outline::Area;
use ground::spatial::typed::{bearing_degrees, corners_of, sides_of};
use serde_json::json;

use crate::args::Global;
use crate::report::{Report, table};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `plan`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework plan show farm.farmbook
  spadework plan add farm.farmbook plot --name \"Lower field\" --sides \"30 x 96 ft, long side N20E\" --at \"0, 0\"
  spadework plan beds farm.farmbook \"Lower field\" --bed 30in --path 18in --direction N20E --keep
  spadework plan import farm.farmbook walk.gpx --kind plot --walk area
  spadework plan export farm.farmbook plan.geojson
  spadework plan check farm.farmbook")]
pub(crate) struct Plan {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// What is drawn, with areas and ways round
    #[command(alias = "list")]
    Show {
        /// The farm book
        book: PathBuf,
    },
    /// What is wrong with it
    Check {
        /// The farm book
        book: PathBuf,
    },
    /// Draw something by its sides or corners
    Add {
        /// The farm book
        book: PathBuf,
        /// What it is: plot, bed, tunnel, building, drain, post, tree, standing_water, keep_out, track, water_point, farm_edge, other
        kind: String,
        /// Its name
        #[arg(long, default_value = "")]
        name: String,
        /// The plot it shows or lies in, by name
        #[arg(long)]
        plot: Option<String>,
        /// Both sides of a rectangle and the bearing of the long one
        #[arg(long)]
        sides: Option<String>,
        /// East and north of the origin: its first corner, or the place itself
        #[arg(long, allow_hyphen_values = true)]
        at: Option<String>,
        /// Corners parted by semicolons: "0, 0; 30 ft, 0; 30 ft, 96 ft"
        #[arg(long, allow_hyphen_values = true)]
        corners: Option<String>,
    },
    /// Beds that fit into a plot; --keep writes them down
    Beds {
        /// The farm book
        book: PathBuf,
        /// The plot, by name
        plot: String,
        /// Width of a bed
        #[arg(long)]
        bed: String,
        /// Width of a path
        #[arg(long)]
        path: String,
        /// Way they run, such as N20E
        #[arg(long, default_value = "N")]
        direction: String,
        /// Room left along the edges
        #[arg(long, default_value = "0")]
        margin: String,
        /// Write them into the book under this name
        #[arg(long, value_name = "NAME", num_args = 0..=1, default_missing_value = "Beds")]
        keep: Option<String>,
    },
    /// Take in a GeoJSON, GPX or CSV file
    Import {
        /// The farm book
        book: PathBuf,
        /// The file
        file: PathBuf,
        /// What things are where the file does not say
        #[arg(long, default_value = "plot")]
        kind: String,
        /// What a walk is: area, line or points
        #[arg(long, default_value = "area")]
        walk: String,
    },
    /// Write the plan to a .geojson, .gpx or .csv file
    Export {
        /// The farm book
        book: PathBuf,
        /// The file; its ending says the format
        file: PathBuf,
    },
}

impl Plan {
    /// Does it.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        match self.what {
            What::Show { book } => {
                let (told, _) = read(&book, global)?;
                Report::new(&told, listed(&told, terminal))
            }
            What::Check { book } => {
                let (told, _) = read(&book, global)?;
                let lines: Vec<String> = told
                    .parts
                    .iter()
                    .flat_map(|part| {
                        part.remarks.iter().map(move |remark| format!("{}: {remark}", part.name))
                    })
                    .collect();
                let text = if lines.is_empty() {
                    "Nothing on the plan wants mending.".to_owned()
                } else {
                    lines.join("\n")
                };
                Report::new(&json!({ "remarks": lines }), text)
            }
            What::Add { book, kind, name, plot, sides, at, corners } => {
                let mut held = shelf::open(&book)?;
                let snapshot = held.snapshot()?;
                let system = global.system_or(snapshot.farm.body.units);
                let plan = FarmPlan::of(&snapshot);
                let kind = kind_of(&kind)?;
                let plot = plot.map(|name| shelf::plot(&snapshot, &name).map(|plot| plot.id)).transpose()?;
                let (form, sides_m) =
                    form(kind, sides.as_deref(), at.as_deref(), corners.as_deref(), system)?;
                let drawing = Drawing { kind, name, plot, why: None, form, sides_m, note: String::new() };
                let id = held.write(|writing| drawing.add(writing, &plan, &shelf::stamp("")))?;
                Report::new(&json!({ "id": id }), format!("Drawn: {id}"))
            }
            What::Beds { book, plot, bed, path, direction, margin, keep } => {
                let mut held = shelf::open(&book)?;
                let snapshot = held.snapshot()?;
                let system = global.system_or(snapshot.farm.body.units);
                let plan = FarmPlan::of(&snapshot);
                let plot = shelf::plot(&snapshot, &plot)?.id;
                let (outer, holes) = plan.area_of(plot).ok_or_else(|| {
                    Refusal::new("plot", "the outline of this plot is not drawn yet")
                        .given("a plot without outline")
                        .accepted("a plot that stands on the plan")
                        .example("spadework plan add BOOK plot --plot NAME --sides \"30 x 96 ft\"")
                })?;
                let width = |field: &str, text: &str, dimension: Dimension| {
                    parse(text, dimension, dimension.unit(system)).map_err(|error| error.at(field))
                };
                let bed_m = width("bed", &bed, Dimension::SmallLength)? / 1000.0;
                let path_m = width("path", &path, Dimension::SmallLength)? / 1000.0;
                let rules = BedRules {
                    bed_m: bounded("bed", bed_m)?,
                    path_m: bounded("path", path_m)?,
                    bearing_degrees: bounded("direction", bearing_degrees("direction", &direction)?)?,
                    margin_m: bounded("margin", width("margin", &margin, Dimension::Length)?)?,
                    shortest_m: ShortestBed::literal(3.0),
                };
                let area = Area { outer: outer.to_vec(), holes: holes.to_vec() };
                let layout = bed_layout(&area, &rules)?;
                let text = format!(
                    "{} beds, {} long together, {:.0} % of the plot.",
                    layout.beds.len(),
                    show(layout.length_m, Dimension::Length, system),
                    layout.share_percent
                );
                let kept = match &keep {
                    Some(name) => held.write(|writing| {
                        beds_kept(writing, &plan, plot, name, bed_m, &layout, &shelf::stamp(""))
                    })?,
                    None => Vec::new(),
                };
                let lengths: Vec<f64> = layout.beds.iter().map(|bed| bed.length_m).collect();
                Report::new(
                    &json!({ "count": lengths.len(), "length_m": lengths, "share_percent": layout.share_percent, "beds": kept }),
                    text,
                )
            }
            What::Import { book, file, kind, walk } => {
                let walk_is = match walk.as_str() {
                    "area" => WalkIs::Area,
                    "line" => WalkIs::Line,
                    "points" => WalkIs::Points,
                    other => {
                        return Err(Refusal::new("walk", format!("{other:?} is no way a walk goes"))
                            .given(other)
                            .accepted("area, line or points")
                            .example("area")
                            .into());
                    }
                };
                let bytes = std::fs::read(&file)
                    .map_err(|error| Trouble::other(format!("{} cannot be read: {error}", file.display())))?;
                let file_name =
                    file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
                let how = PlanImport { file_name, kind: kind_of(&kind)?, walk_is };
                let kept = shelf::open(&book)?.import_plan(&bytes, &how, &shelf::stamp(""))?;
                let mut lines = vec![format!("{} things were drawn, {} plots made.", kept.parts, kept.plots)];
                lines.extend(kept.remarks.iter().cloned());
                Report::new(&kept, lines.join("\n"))
            }
            What::Export { book, file } => {
                let (_, snapshot) = read(&book, global)?;
                let plan = FarmPlan::of(&snapshot);
                let origin = plan.origin.map(|origin| [origin.longitude_degrees, origin.latitude_degrees]);
                let ending = file.extension().map(|ending| ending.to_string_lossy().to_lowercase());
                let text = match ending.as_deref() {
                    Some("geojson" | "json") => plan_geojson(&snapshot, origin),
                    Some("csv") => plan_csv(&snapshot, origin),
                    Some("gpx") => plan_gpx(&snapshot, origin).ok_or_else(|| {
                        Trouble::other("GPX is in degrees, and this plan is not fixed to the Earth")
                    })?,
                    _ => {
                        return Err(Refusal::new(
                            "file",
                            "the ending of the file does not say what to write",
                        )
                        .given(file.display())
                        .accepted(".geojson, .gpx or .csv")
                        .example("plan.geojson")
                        .into());
                    }
                };
                std::fs::write(&file, text).map_err(|error| {
                    Trouble::other(format!("{} cannot be written: {error}", file.display()))
                })?;
                Report::new(&json!({ "files": [file] }), file.display().to_string())
            }
        }
    }
}

fn read(book: &std::path::Path, global: &Global) -> Result<(PlanTold, book::Snapshot), Trouble> {
    let snapshot = shelf::read(book)?.snapshot()?;
    let system = global.system_or(snapshot.farm.body.units);
    let told = told(&snapshot, &FarmPlan::of(&snapshot), system);
    Ok((told, snapshot))
}

fn listed(told: &PlanTold, terminal: &Terminal) -> String {
    if told.parts.is_empty() {
        return "Nothing is drawn yet.".to_owned();
    }
    let rows: Vec<Vec<String>> = told
        .parts
        .iter()
        .map(|part| {
            vec![
                part.name.clone(),
                part.kind_words.to_owned(),
                part.area_words.clone(),
                part.perimeter_words.clone(),
                part.remarks.join(" "),
            ]
        })
        .collect();
    table(&rows, "", terminal.width)
}

fn kind_of(text: &str) -> Result<PartKind, Refusal> {
    serde_json::from_value(json!(text)).map_err(|_| {
        let known: Vec<&str> = PartKind::ALL.iter().map(|kind| kind.words()).collect();
        Refusal::new("kind", format!("{text:?} is no kind of thing on a plan"))
            .given(text)
            .accepted(known.join(", "))
            .example("plot")
    })
}

fn form(
    kind: PartKind,
    sides: Option<&str>,
    at: Option<&str>,
    corners: Option<&str>,
    system: UnitSystem,
) -> Result<(Form, Option<[f64; 2]>), Refusal> {
    let place = match at {
        Some(text) => corners_of("at", text, false, None, [0.0, 0.0], system)?.corners.first().copied(),
        None => None,
    };
    if let Some(text) = sides {
        let sides = sides_of("sides", text, system)?;
        let outer = sides.corners(place.unwrap_or([0.0, 0.0])).to_vec();
        return Ok((Form::Area { outer, holes: Vec::new() }, Some([sides.short_m, sides.long_m])));
    }
    let refused = || {
        Refusal::new("sides", "it is not said where it lies")
            .given("nothing")
            .accepted("--sides, --corners or --at")
            .example("--sides \"30 x 96 ft, long side N20E\"")
    };
    let Some(text) = corners else { return Ok((Form::Point { at: place.ok_or_else(refused)? }, None)) };
    let lines = text.replace(';', "\n");
    let places = corners_of("corners", &lines, false, None, place.unwrap_or([0.0, 0.0]), system)?.corners;
    let is_line = matches!(kind, PartKind::Drain | PartKind::Track | PartKind::FarmEdge) || places.len() == 2;
    match places.as_slice() {
        [] => Err(refused()),
        [at] => Ok((Form::Point { at: *at }, None)),
        _ if is_line => Ok((Form::Line { through: places }, None)),
        _ => Ok((Form::Area { outer: places, holes: Vec::new() }, None)),
    }
}
