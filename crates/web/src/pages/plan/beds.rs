//! Beds laid out in a plot: a look first, then kept as beds of the book and parts of the plan.

use advice::plan::{FarmPlan, along_longest, beds_kept, shortest_bed};
use advice::words::counted;
use askama::Template;
use book::Snapshot;
use book::model::EntryId;
use figures::plan::{PlanForm, PlanKind, PlanShape, PlanSize};
use ground::kit::units::{Dimension, UnitSystem, show as show_measure};
use ground::kit::{Bounded, Refusal};
use ground::spatial::beds::{
    BedBearing, BedLayout, BedRules, EdgeMargin, LaidBedWidth, PathWidth, bed_layout,
};
use ground::spatial::outline::Area;
use ground::spatial::typed::{bearing_degrees, bearing_words};
use serde::Serialize;

use super::picture;
use crate::ask::Ask;
use crate::form::{Field, Form, Reader};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

pub(super) const FIELDS: &[Field] = &[
    Field::pick("plot", "Plot", "One whose outline is drawn", &[]),
    Field::measure("bed_width", "Width of a bed", "For example 30 in or 75 cm", Dimension::SmallLength),
    Field::measure("path_width", "Width of a path", "For example 18 in or 45 cm", Dimension::SmallLength),
    Field::text(
        "direction",
        "Way the beds run",
        "For example N20E, 110\u{b0} or north-east; left open, along the longest side",
    )
    .optional(),
    Field::measure(
        "margin",
        "Room left along the edges",
        "To turn, or for the posts of a tunnel; nothing where left open",
        Dimension::Length,
    )
    .optional(),
    Field::measure("shortest", "Shortest bed worth making", "10 ft (3 m) where left open", Dimension::Length)
        .optional(),
    Field::text("name", "What they are called", "For example Beds").optional(),
];

#[derive(Template, Serialize)]
#[template(path = "plan/beds.html")]
struct BedsPage {
    #[serde(skip)]
    shell: Shell,
    form: Form,
    drawn: usize,
    told: Option<BedsTold>,
    #[serde(skip)]
    svg: String,
}

#[derive(Serialize)]
struct BedsTold {
    count: usize,
    length_m: f64,
    bed_area_m2: f64,
    share_percent: f64,
    bearing_degrees: f64,
    sentences: Vec<String>,
}

struct Asked {
    plot: EntryId,
    layout: BedLayout,
    bed_m: f64,
    bearing: f64,
    name: String,
}

fn page(ask: &Ask, snapshot: &Snapshot, plan: &FarmPlan, form: Form, asked: Option<&Asked>) -> BedsPage {
    let drawn: Vec<(String, String)> = snapshot
        .plots
        .iter()
        .filter(|plot| plan.area_of(plot.id).is_some())
        .map(|plot| (plot.id.to_string(), plot.body.name.clone()))
        .collect();
    let shell = ask.shell(Section::Farm, "Beds on the plan");
    BedsPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        drawn: drawn.len(),
        form: form.choices("plot", drawn),
        told: asked.map(|asked| told(asked, ask.units())),
        svg: asked.map(|asked| preview(plan, asked, ask.units())).unwrap_or_default(),
    }
}

fn told(asked: &Asked, system: UnitSystem) -> BedsTold {
    let BedLayout { beds, length_m, bed_area_m2, share_percent } = &asked.layout;
    let length = |metres: f64| show_measure(metres, Dimension::Length, system);
    let (short, long) = beds
        .iter()
        .fold((f64::MAX, 0.0_f64), |(short, long), bed| (short.min(bed.length_m), long.max(bed.length_m)));
    let each = if long - short < 0.1 {
        format!("each {} long", length(long))
    } else {
        format!("{} to {} long", length(short), length(long))
    };
    BedsTold {
        count: beds.len(),
        length_m: *length_m,
        bed_area_m2: *bed_area_m2,
        share_percent: *share_percent,
        bearing_degrees: asked.bearing,
        sentences: vec![
            format!(
                "{} {}, {each}, running {}.",
                counted(beds.len(), "bed", "beds"),
                if beds.len() == 1 { "fits" } else { "fit" },
                bearing_words(asked.bearing)
            ),
            format!(
                "Together they are {} long and {} of bed, {share_percent:.0} % of the plot.",
                length(*length_m),
                show_measure(*bed_area_m2, Dimension::Area, system)
            ),
        ],
    }
}

fn preview(plan: &FarmPlan, asked: &Asked, system: UnitSystem) -> String {
    let mut shapes: Vec<PlanShape> = plan
        .parts
        .iter()
        .filter(|part| part.plot == Some(asked.plot) && part.kind == book::model::PartKind::Plot)
        .map(picture::shape)
        .collect();
    shapes.extend(asked.layout.beds.iter().map(|bed| PlanShape {
        kind: PlanKind::Bed,
        name: String::new(),
        form: PlanForm::Area { outer: bed.corners.to_vec(), holes: Vec::new() },
    }));
    picture::drawn("beds", "Beds that fit", plan, &shapes, PlanSize::Phone, system).svg
}

fn asked(read: &mut Reader<'_>, plan: &FarmPlan) -> Option<Asked> {
    let plot = read.entry("plot");
    let bed_m: Option<LaidBedWidth> = read.measure("bed_width");
    let path_m: Option<PathWidth> = read.measure("path_width");
    let margin_m = read.measure("margin").unwrap_or_else(|| EdgeMargin::literal(0.0));
    let shortest_m = read.measure("shortest").unwrap_or_else(shortest_bed);
    let name = read.text("name").unwrap_or("Beds").trim().to_owned();
    let area = plot.and_then(|plot| plan.area_of(plot));
    if plot.is_some() && area.is_none() {
        read.refuse(
            Refusal::new("plot", "The outline of this plot is not drawn yet")
                .given("a plot without outline")
                .accepted("a plot that stands on the plan as an area"),
        );
    }
    let area = area.map(|(outer, holes)| Area { outer: outer.to_vec(), holes: holes.to_vec() });
    let bearing = match read.text("direction") {
        Some(text) => read.take(bearing_degrees("direction", text)),
        None => area.as_ref().map(along_longest),
    };
    let (plot, bed_m, path_m, area, bearing) = (plot?, bed_m?, path_m?, area?, bearing?);
    if read.is_refused() {
        return None;
    }
    let bearing_degrees =
        read.take(BedBearing::new(bearing).map_err(|error| Refusal::out_of_range("direction", &error)))?;
    let rules = BedRules { bed_m, path_m, bearing_degrees, margin_m, shortest_m };
    let system = read.system();
    let layout = read.take(bed_layout(&area, &rules).map_err(|refusal| refusal.in_units(system)))?;
    Some(Asked { plot, layout, bed_m: bed_m.get(), bearing, name })
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    if ask.query.text("bed_width").is_none() {
        let form = ask.form_from_query(FIELDS);
        return Shown::page(page(ask, &snapshot, &plan, form, None));
    }
    let mut read = Reader::new(FIELDS, ask.units(), &ask.query);
    match asked(&mut read, &plan) {
        Some(asked) => {
            let form = ask.form_from_query(FIELDS);
            Shown::page(page(ask, &snapshot, &plan, form, Some(&asked)))
        }
        None => Err(read.refused(|form| page(ask, &snapshot, &plan, form, None))),
    }
}

pub(super) fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let mut read = ask.reader(FIELDS);
    let Some(asked) = asked(&mut read, &plan) else {
        return Err(read.refused(|form| page(ask, &snapshot, &plan, form, None)));
    };
    let kept = ask.write(|book, stamp| {
        book.write(|writing| {
            beds_kept(writing, &plan, asked.plot, &asked.name, asked.bed_m, &asked.layout, stamp)
        })
    })?;
    let kept = read.kept(kept, |form| page(ask, &snapshot, &plan, form, Some(&asked)))?;
    Shown::kept("/plan?done=kept", serde_json::json!({ "beds": kept, "count": asked.layout.beds.len() }))
}
