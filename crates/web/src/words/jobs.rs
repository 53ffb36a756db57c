//! What a person said of a job, line by line.

use advice::words::day;
use advice::work::material_name;
use book::Snapshot;
use book::model::{JobChange, JobMaterial, JobWord, PlannedJob};
use ground::kit::units::UnitSystem;
use jiff::civil::Date;

use super::Line;
use super::record::name_of;
use super::water::bed_line;
use crate::form::shown;

/// A person's word on a job.
pub(super) fn lines(job: &JobWord, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let JobWord { key: _, plot, bed, choice, until, changed, reason, done, as_planned } = job;
    let PlannedJob { what, place, from, to, materials } = as_planned;
    let mut lines = vec![
        Line::new("What", what),
        Line::new("Where", place),
        match (bed, plot) {
            (Some(bed), _) => bed_line(snapshot, *bed),
            (None, plot) => Line::new("Plot", plot.map(|plot| name_of(snapshot, plot)).unwrap_or_default()),
        },
        Line::new("When", window(*from, *to)),
        Line::new("How much", amounts(materials, snapshot, units)),
        Line::new("Decided", choice.words()),
        Line::new("Not before", until.map(day).unwrap_or_default()),
    ];
    if let Some(JobChange { on, materials, note }) = changed {
        lines.push(Line::new("Instead on", on.map(day).unwrap_or_default()));
        lines.push(Line::new("Instead so much", amounts(materials, snapshot, units)));
        lines.push(Line::new("Instead", note));
    }
    lines.push(Line::new("Reason", reason));
    if let Some(done) = done {
        lines.push(Line::new("Done on", day(done.on)));
        lines.push(Line::new("What was seen", &done.note));
    }
    lines
}

/// "15 September 2026 to 15 November 2026".
fn window(from: Option<Date>, to: Option<Date>) -> String {
    match (from, to) {
        (Some(from), Some(to)) if from == to => day(from),
        (Some(from), Some(to)) => format!("{} to {}", day(from), day(to)),
        (Some(from), None) => format!("from {}", day(from)),
        (None, Some(to)) => format!("by {}", day(to)),
        (None, None) => String::new(),
    }
}

/// "4 lb of feather meal, 12 lb of lime".
fn amounts(materials: &[JobMaterial], snapshot: &Snapshot, units: UnitSystem) -> String {
    let told = materials
        .iter()
        .map(|one| format!("{} of {}", shown(one.kg, units), material_name(snapshot, &one.material)));
    told.collect::<Vec<_>>().join(", ")
}
