//! Moving earth on a plot.

use advice::earthworks::tell::{self, Sentences};
use advice::earthworks::{EarthworksAsk, EarthworksReport, earthworks};
use askama::Template;
use ground::earthworks::excavation::{BottomSide, DigDepth, SideSlope};
use ground::earthworks::pond_lining::PondDepth;
use ground::earthworks::track_gravel::{HeavyVehicles, TrackLength, TrackWidth};
use ground::kit::Bounded;
use ground::kit::units::Dimension;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Field, Form, Group, GroupView, Reader};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

const FIELDS: &[Field] = &[
    Field::measure("track_length", "Length of the track", "For example 300 ft or 90 m", Dimension::Length)
        .optional(),
    Field::measure("track_width", "Its width", "For example 12 ft or 3.5 m", Dimension::Length).optional(),
    Field::measure(
        "heavy_per_day",
        "Loaded trucks and tractors a day",
        "In the busy season",
        Dimension::Number,
    )
    .optional(),
    Field::measure("trench_length", "Length of the trench", "", Dimension::Length).optional(),
    Field::measure("trench_width", "Width of its bottom", "", Dimension::Length).optional(),
    Field::measure("trench_depth", "Its depth", "", Dimension::Length).optional(),
    Field::measure("pond_length", "Length of the bottom of the pond", "", Dimension::Length).optional(),
    Field::measure("pond_width", "Width of its bottom", "", Dimension::Length).optional(),
    Field::measure("pond_depth", "Depth of water when full", "", Dimension::Length).optional(),
    Field::measure("pond_slope", "Slope of its sides", "Out for 1 up: 3", Dimension::Number).optional(),
];

const GROUPS: [Group; 3] = [
    Group::of("An access track", "", &["track_length", "track_width", "heavy_per_day"]),
    Group::of("A trench", "", &["trench_length", "trench_width", "trench_depth"]),
    Group::of("A pond or pit", "", &["pond_length", "pond_width", "pond_depth", "pond_slope"]),
];

#[derive(Template, Serialize)]
#[template(path = "posts/earthworks.html")]
struct EarthPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    report: EarthworksReport,
    #[serde(skip)]
    said: Sentences,
    #[serde(skip)]
    cautions: Vec<String>,
    #[serde(skip)]
    form: Form,
    #[serde(skip)]
    groups: Vec<GroupView>,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plot = ask.plot(&snapshot)?;
    let units = ask.units();
    let told = ask
        .desk()?
        .told(&snapshot, plot.id)
        .ok_or_else(|| Problem::not_found("The report on this plot could not be made."))?;
    let page = |wanted: &EarthworksAsk, form: Form| -> Result<EarthPage, Problem> {
        let report = earthworks(&snapshot, &told.report, wanted)
            .ok_or_else(|| Problem::not_found("Nothing can be believed of the ground of this plot yet."))?;
        Ok(EarthPage {
            shell: ask.shell(Section::Farm, format!("Earthworks, {}", plot.body.name)),
            said: tell::sentences(&report, wanted, units),
            cautions: report.cautions.iter().map(|caution| tell::caution(caution, units)).collect(),
            groups: groups(&form),
            form,
            report,
        })
    };
    let mut read = Reader::new(FIELDS, units, &ask.query);
    let wanted = asked(&mut read);
    if read.is_refused() {
        let shown = page(&EarthworksAsk::default(), Form::default())?;
        return Err(read.refused(|form| EarthPage {
            shell: shown.shell.refused(),
            groups: groups(&form),
            form,
            ..shown
        }));
    }
    let length = |m: f64| ground::kit::units::show(m, Dimension::Length, units);
    let form = ask
        .form_from_query(FIELDS)
        .with("track_length", length(wanted.track_length_m))
        .with("track_width", length(wanted.track_width_m))
        .with("heavy_per_day", wanted.heavy_per_day.to_string())
        .with("trench_length", length(wanted.trench_length_m))
        .with("trench_width", length(wanted.trench_width_m))
        .with("trench_depth", length(wanted.trench_depth_m))
        .with("pond_length", length(wanted.pond_length_m))
        .with("pond_width", length(wanted.pond_width_m))
        .with("pond_depth", length(wanted.pond_depth_m))
        .with("pond_slope", wanted.pond_slope.to_string());
    Shown::page(page(&wanted, form)?)
}

fn asked(read: &mut Reader<'_>) -> EarthworksAsk {
    let usual = EarthworksAsk::default();
    EarthworksAsk {
        track_length_m: read.measure("track_length").map_or(usual.track_length_m, TrackLength::get),
        track_width_m: read.measure("track_width").map_or(usual.track_width_m, TrackWidth::get),
        heavy_per_day: read.measure("heavy_per_day").map_or(usual.heavy_per_day, HeavyVehicles::get),
        trench_length_m: read.measure("trench_length").map_or(usual.trench_length_m, BottomSide::get),
        trench_width_m: read.measure("trench_width").map_or(usual.trench_width_m, BottomSide::get),
        trench_depth_m: read.measure("trench_depth").map_or(usual.trench_depth_m, DigDepth::get),
        pond_length_m: read.measure("pond_length").map_or(usual.pond_length_m, BottomSide::get),
        pond_width_m: read.measure("pond_width").map_or(usual.pond_width_m, BottomSide::get),
        pond_depth_m: read.measure("pond_depth").map_or(usual.pond_depth_m, PondDepth::get),
        pond_slope: read.measure("pond_slope").map_or(usual.pond_slope, SideSlope::get),
    }
}

fn groups(form: &Form) -> Vec<GroupView> {
    if form.fields().is_empty() {
        return Vec::new();
    }
    GROUPS.iter().map(|group| GroupView::of(group, form)).collect()
}
