//! When the soil of a plot does not belong into one bag.

use std::collections::BTreeSet;

use book::model::seen::Sign;
use book::model::{Form, PartKind, Plot, SamplingPurpose, Seen, UnitSystem};
use book::{Held, Snapshot};
use ground::kit::Bounded;
use ground::spatial::sampling::shape::Area;
use jiff::civil::Date;
use serde::Serialize;

use crate::plan::FarmPlan;

/// From here on the top and the foot of a slope differ in what was washed down (common practice).
const SLOPE_PERCENT: f64 = 5.0;
/// An acre, by the international foot: 43,560 ft².
const ACRE_M2: f64 = 4_046.856_422_4;
/// Largest piece that one bag is to stand for: the upper end of 2 to 4 acres.
const LARGEST_M2: f64 = 4.0 * ACRE_M2;

/// A reason to sample parts of a plot apart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Split {
    /// What differs.
    pub what: &'static str,
    /// Why, and how to part it.
    pub why: String,
    /// Is it in the book, or to be looked for?
    pub known: bool,
}

/// Parts that a plot is to be taken in, so that none is too large for a bag.
pub(super) fn parts(area_m2: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some thousands at most")]
    let parts = (area_m2 / LARGEST_M2).ceil().max(1.0) as u32;
    parts
}

/// What the book and the plan tell, then what only the eye can.
pub(super) fn reasons(
    snapshot: &Snapshot,
    farm: &FarmPlan,
    plot: &Held<Plot>,
    purpose: SamplingPurpose,
    today: Date,
) -> Vec<Split> {
    let mut known = Vec::new();
    let mut say = |what: &'static str, why: String| known.push(Split { what, why, known: true });
    if let Some(slope) = plot.body.slope_percent.map(Bounded::get).filter(|slope| *slope >= SLOPE_PERCENT) {
        say(
            "slope",
            format!(
                "The plot slopes by {slope:.0} %: fine soil and nutrients gather at the foot. Take top, middle and foot apart."
            ),
        );
    }
    let area = plot.body.shape.area_m2();
    if area > LARGEST_M2 {
        let told = match snapshot.farm.body.units {
            UnitSystem::UsCustomary => {
                format!("{:.1} acres; one bag is to stand for 4 acres", area / ACRE_M2)
            }
            UnitSystem::Metric => format!("{:.1} ha; one bag is to stand for 1.6 ha", area / 10_000.0),
        };
        let parts = parts(area);
        say(
            "size",
            format!(
                "The plot has {told} at most. Take it in {parts} parts: make each a plot of its own, or a zone, and its places are laid out by themselves."
            ),
        );
    }
    if let Some((outer, holes)) = farm.area_of(plot.id) {
        let area = Area { outer: outer.to_vec(), holes: holes.to_vec() };
        let inside = |kind: PartKind| {
            farm.parts.iter().filter(|part| part.kind == kind).any(|part| match &part.form {
                Form::Point { at } => area.holds(*at),
                Form::Line { through } => through.iter().any(|at| area.holds(*at)),
                Form::Area { outer, .. } => {
                    outer.iter().any(|at| area.holds(*at))
                        || area
                            .outer
                            .iter()
                            .any(|at| Area { outer: outer.clone(), holes: Vec::new() }.holds(*at))
                }
            })
        };
        if inside(PartKind::StandingWater) {
            say("wet spot", "Water stands on part of it, as drawn on the plan. Leave that out of the bag, or give it one of its own.".to_owned());
        }
        if inside(PartKind::Tunnel) && !plot.body.place.under_cover() {
            say("tunnel", "A tunnel stands on part of it. Under cover no rain washes salts down: take inside and outside apart.".to_owned());
        }
    }
    let wet = snapshot.evidence(plot.id).any(|held| {
        matches!(&held.body.seen, Seen::Signs(signs) if signs.signs.iter().any(|sign| matches!(sign, Sign::StandingWater { .. })))
    });
    if wet && !known.iter().any(|split| split.what == "wet spot") {
        known.push(Split { what: "wet spot", why: "Standing water was written down for this plot. Where only part of it stands wet, take that part apart.".to_owned(), known: true });
    }
    known.extend(worked_apart(snapshot, plot, purpose, today));
    let look = |what: &'static str, why: &str| Split { what, why: why.to_owned(), known: false };
    known.push(look("colour", "Walk it once before you start. Where the colour of the ground changes, or one part dries out or greens up before the rest, there are two kinds of ground."));
    known.push(look("history", "Two plots that were made one, an old fence line, a former yard, pile or garden: ask who farmed it before."));
    known
}

/// Beds of one plot that grew or got different things.
fn worked_apart(snapshot: &Snapshot, plot: &Held<Plot>, purpose: SamplingPurpose, today: Date) -> Vec<Split> {
    if !matches!(purpose, SamplingPurpose::Fertility | SamplingPurpose::Nitrate | SamplingPurpose::Salts) {
        return Vec::new();
    }
    let beds: Vec<_> = snapshot.beds_of(plot.id).collect();
    let mut found = Vec::new();
    let crops: BTreeSet<String> = beds
        .iter()
        .filter_map(|bed| snapshot.planting_on(bed.id, today))
        .map(|planting| format!("{:?}", planting.body.crop))
        .collect();
    if crops.len() > 1 {
        found.push(Split {
            what: "crop",
            why: format!("{} different crops stand in its beds. Beds that are fed alike may share a bag; heavy and light feeders, or a bed that is to be limed, not.", crops.len()),
            known: true,
        });
    }
    let year = today.year();
    let fed: Vec<bool> = beds
        .iter()
        .map(|bed| [year - 1, year].iter().any(|year| !snapshot.spread_on_bed(bed.id, *year).is_empty()))
        .collect();
    if fed.iter().any(|fed| *fed) && fed.iter().any(|fed| !fed) {
        found.push(Split {
            what: "history",
            why: "Some of its beds were spread on this year or last and others were not. Take the two kinds apart, or the mean fits neither.".to_owned(),
            known: true,
        });
    }
    found
}
