//! `plan`: the plan of the farm: show it, check it, add to it, lay out beds, files in and out.

use std::path::PathBuf;

use advice::plan::{
    Drawing, FarmPlan, PlanTold, along_longest, beds_kept, keep_origin, new_remarks, shortest_bed, told,
    typed_corners, typed_holes, typed_place,
};
use advice::words::counted;
use book::model::{Form, KeepOutWhy, PartKind};
use book::{PlanImport, WalkIs, plan_csv, plan_geojson, plan_gpx};
use clap::{Args, Subcommand};
use ground::kit::Refusal;
use ground::kit::refusal::bounded;
use ground::kit::units::{Dimension, UnitSystem, parse, show};
use ground::spatial::beds::{BedRules, bed_layout};
use ground::spatial::outline::Area;
use ground::spatial::typed::{bearing_degrees, sides_of};
use serde_json::json;

use crate::args::Global;
use crate::files;
use crate::report::{Report, table};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `plan`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework plan show farm.farmbook
  spadework plan add farm.farmbook plot --name \"Lower field\" --sides \"30 x 96 ft, long side N20E\" --at \"0, 0\"
  spadework plan add farm.farmbook water_point --name Well --at \"42 30.07 N, 93 29.92 W\"
  spadework plan add farm.farmbook keep_out --why old_fence --corners \"0, 40 ft; 96 ft, 40 ft\" --line
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
        /// Its first corner, or the place itself: east and north of the origin, or latitude and longitude
        #[arg(long, allow_hyphen_values = true)]
        at: Option<String>,
        /// Corners parted by semicolons: "0, 0; 30 ft, 0; 30 ft, 96 ft", or latitudes and longitudes
        #[arg(long, allow_hyphen_values = true)]
        corners: Option<String>,
        /// Corners of a piece cut out of it, such as a pond; once for each piece
        #[arg(long, allow_hyphen_values = true, value_name = "CORNERS")]
        hole: Vec<String>,
        /// Draw the corners as a line
        #[arg(long)]
        line: bool,
        /// Why nothing is sampled there: edge, old_fence, manure_pile, burn_spot, spill, wheel_track, feeding, other
        #[arg(long)]
        why: Option<String>,
        /// Anything else
        #[arg(long, default_value = "")]
        note: String,
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
        /// Way they run, such as N20E; else along the longest side
        #[arg(long)]
        direction: Option<String>,
        /// Room left along the edges
        #[arg(long, default_value = "0")]
        margin: String,
        /// Leave out beds shorter than this; else than 3 m
        #[arg(long)]
        shortest: Option<String>,
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
        /// Replace the file if it is there already
        #[arg(long)]
        force: bool,
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
            What::Add { book, kind, name, plot, sides, at, corners, hole, line, why, note } => {
                let mut held = shelf::open(&book)?;
                let snapshot = held.snapshot()?;
                let system = global.system_or(snapshot.farm.body.units);
                let plan = FarmPlan::of(&snapshot);
                let kind = kind_of(&kind)?;
                let plot = plot.map(|name| shelf::plot(&snapshot, &name).map(|plot| plot.id)).transpose()?;
                let why = why.as_deref().map(why_of).transpose()?;
                if why.is_some() && kind != PartKind::KeepOut {
                    return Err(Refusal::new("why", "only a place that is kept out of has a reason to be")
                        .given(kind.words())
                        .accepted("the kind keep_out")
                        .example("spadework plan add BOOK keep_out --why old_fence --corners ...")
                        .into());
                }
                let asked = Typed { sides, at, corners, hole, line };
                let plan = plan.fixed_by(&snapshot, &asked.places());
                let (form, sides_m, mut remarks) = asked.read(kind, &snapshot, &plan, system)?;
                let drawing = Drawing { kind, name, plot, why, form, sides_m, note };
                let drawn = held.write(|writing| {
                    let fixed = keep_origin(writing, &snapshot, &plan, &shelf::stamp(""))?;
                    Ok((drawing.add(writing, &plan, &shelf::stamp(""))?, fixed))
                });
                let (id, fixed) = drawn.map_err(|error| in_units(error, system))?;
                remarks.extend(fixed);
                remarks.extend(new_remarks(&snapshot, &held.snapshot()?, system));
                let mut lines = vec![format!("Drawn: {id}")];
                lines.extend(remarks.iter().cloned());
                Report::new(&json!({ "id": id, "remarks": remarks }), lines.join("\n"))
            }
            What::Beds { book, plot, bed, path, direction, margin, shortest, keep } => {
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
                let area = Area { outer: outer.to_vec(), holes: holes.to_vec() };
                let bearing = match &direction {
                    Some(text) => bearing_degrees("direction", text)?,
                    None => along_longest(&area),
                };
                let told = |refusal: Refusal| in_units(refusal, system);
                let rules = BedRules {
                    bed_m: bounded("bed", bed_m).map_err(told)?,
                    path_m: bounded("path", path_m).map_err(told)?,
                    bearing_degrees: bounded("direction", bearing).map_err(told)?,
                    margin_m: bounded("margin", width("margin", &margin, Dimension::Length)?)
                        .map_err(told)?,
                    shortest_m: match &shortest {
                        Some(text) => {
                            bounded("shortest", width("shortest", text, Dimension::Length)?).map_err(told)?
                        }
                        None => shortest_bed(),
                    },
                };
                let layout = bed_layout(&area, &rules).map_err(told)?;
                let text = format!(
                    "{}, {} long together, {:.0} % of the plot.",
                    counted(layout.beds.len(), "bed", "beds"),
                    show(layout.length_m, Dimension::Length, system),
                    layout.share_percent
                );
                let kept = match &keep {
                    Some(name) => held
                        .write(|writing| {
                            beds_kept(writing, &plan, plot, name, bed_m, &layout, &shelf::stamp(""))
                        })
                        .map_err(|error| in_units(error, system))?,
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
                let mut held = shelf::open(&book)?;
                let before = held.snapshot()?;
                let system = global.system_or(before.farm.body.units);
                let mut kept = held.import_plan(&bytes, &how, &shelf::stamp(""))?;
                kept.remarks.extend(new_remarks(&before, &held.snapshot()?, system));
                let mut lines = vec![format!(
                    "{} drawn, {} made.",
                    counted(kept.parts, "thing", "things"),
                    counted(kept.plots, "plot", "plots")
                )];
                lines.extend(kept.remarks.iter().cloned());
                Report::new(&kept, lines.join("\n"))
            }
            What::Export { book, file, force } => {
                files::can_save("file", &file, force)?;
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
                files::save("file", &file, text.as_bytes(), force)?;
                let mut lines = vec![file.display().to_string()];
                if !snapshot.underlays.is_empty() {
                    lines.push(
                        "The pictures under the plan are not in it; they stay in the farm book and its backup.".to_owned(),
                    );
                }
                Report::new(
                    &json!({ "files": [file], "left_out": { "pictures": snapshot.underlays.len() } }),
                    lines.join("\n"),
                )
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
        Refusal::new("kind", format!("{text:?} is no kind of thing on a plan"))
            .given(text)
            .accepted(keys(PartKind::ALL))
            .example("plot")
    })
}

fn why_of(text: &str) -> Result<KeepOutWhy, Refusal> {
    serde_json::from_value(json!(text)).map_err(|_| {
        Refusal::new("why", format!("{text:?} is no reason to keep out"))
            .given(text)
            .accepted(keys(KeepOutWhy::ALL))
            .example("old_fence")
    })
}

/// The words that an option takes, one after the other.
fn keys<T: serde::Serialize>(all: &[T]) -> String {
    all.iter().filter_map(|one| json!(one).as_str().map(str::to_owned)).collect::<Vec<_>>().join(", ")
}

/// Where something lies, as it was typed.
struct Typed {
    sides: Option<String>,
    at: Option<String>,
    corners: Option<String>,
    hole: Vec<String>,
    line: bool,
}

/// A form in metres, the sides of a rectangle, and what was taken otherwise than written.
type Read = (Form, Option<[f64; 2]>, Vec<String>);

impl Typed {
    /// Every text that may hold places.
    fn places(&self) -> Vec<&str> {
        let own = [&self.at, &self.corners].into_iter().flatten().chain(&self.hole);
        own.flat_map(|text| text.split(';')).collect()
    }

    fn read(
        &self,
        kind: PartKind,
        snapshot: &book::Snapshot,
        plan: &FarmPlan,
        system: UnitSystem,
    ) -> Result<Read, Refusal> {
        let mut remarks = Vec::new();
        let place = match &self.at {
            Some(text) => {
                let (at, said) = typed_place("at", text, snapshot, plan, system)?;
                remarks.extend(said);
                Some(at)
            }
            None => None,
        };
        let nowhere = || {
            Refusal::new("sides", "it is not said where it lies")
                .given("nothing")
                .accepted("--sides, --corners or --at")
                .example("--sides \"30 x 96 ft, long side N20E\"")
        };
        let start = place.unwrap_or([0.0, 0.0]);
        let mut sides_m = None;
        let mut form = match (&self.sides, &self.corners) {
            (Some(text), _) => {
                let sides = sides_of("sides", text, system)?;
                if sides.long_bearing_degrees.is_none() {
                    remarks.push("No bearing was given, so the long side was drawn north.".to_owned());
                }
                sides_m = Some([sides.short_m, sides.long_m]);
                Form::Area { outer: sides.corners(start).to_vec(), holes: Vec::new() }
            }
            (None, Some(text)) => {
                let lines = text.replace(';', "\n");
                let (places, said) = typed_corners("corners", &lines, start, snapshot, plan, system)?;
                remarks.extend(said);
                let usual = matches!(kind, PartKind::Drain | PartKind::Track | PartKind::FarmEdge);
                match places.as_slice() {
                    [] => return Err(nowhere()),
                    [at] => Form::Point { at: *at },
                    [_, _] => Form::Line { through: places },
                    _ if self.line || usual => Form::Line { through: places },
                    _ => Form::Area { outer: places, holes: Vec::new() },
                }
            }
            (None, None) => Form::Point { at: place.ok_or_else(nowhere)? },
        };
        let pieces = self.hole.iter().map(|hole| hole.replace(';', "\n")).collect::<Vec<_>>().join("\n\n");
        let (cut, said) = typed_holes("hole", &pieces, snapshot, plan, system)?;
        remarks.extend(said);
        if !cut.is_empty() {
            let Form::Area { holes, .. } = &mut form else {
                return Err(Refusal::new("hole", "only an area can have a piece cut out of it")
                    .given("a line or one place")
                    .accepted("an area of three corners or more")
                    .example("--corners \"0, 0; 30 ft, 0; 30 ft, 96 ft\""));
            };
            *holes = cut;
        }
        Ok((form, sides_m, remarks))
    }
}
