//! What a grower should know beside a jar's answer.

use super::draws::chance_of_clumps;
use super::packing::Packing;
use super::plan::{Plan, ROOM_C, Seen, Slots, WATER_OVER_SOIL};
use super::reading::{Clarity, Dispersant, JarReading};
use crate::kit::sentence::capital;
use crate::kit::{Bounded, Note, NoteKind, Spread};

/// The least share of draws that layers may fail to fit before it is said, in percent.
const ODD_PERCENT: f64 = 60.0;
/// Sand mark sizes that need no remark, µm, and silt mark sizes likewise.
const FAIR_SAND_UM: (f64, f64) = (40.0, 65.0);
const FAIR_SILT_UM: (f64, f64) = (1.6, 2.6);

/// Results that notes speak of.
pub(super) struct Said<'a> {
    pub(super) reading: &'a JarReading,
    pub(super) plan: &'a Plan,
    pub(super) packing: &'a Packing,
    /// Size parted by each boundary.
    pub(super) cuts_um: [Spread; 3],
    /// Share of the soil still up, percent.
    pub(super) still_up_percent: Spread,
    /// Share of draws that no soil could make, percent.
    pub(super) misfit_percent: f64,
    /// Greatest height that was read, mm.
    pub(super) tallest_mm: f64,
}

/// All notes, most important first.
pub(super) fn notes(said: &Said<'_>) -> Vec<Note> {
    let mut notes = Vec::new();
    unseen(said, &mut notes);
    clumps(said, &mut notes);
    one_layer(said, &mut notes);
    parting(said, &mut notes);
    misfit(said, &mut notes);
    marks(said, &mut notes);
    packing(said, &mut notes);
    jar_and_water(said, &mut notes);
    organic(said, &mut notes);
    notes.push(Note::new(
        NoteKind::Provenance,
        "The ranges behind this answer, the ruler's apart, are our judgement: no published comparison of the jar \
         test with a laboratory was found.",
    ));
    notes
}

/// Why a jar is no evidence.
pub const NOTHING_SEEN: &str = "Too little of this jar was seen to tell anything of the soil: at least two of its three \
                                boundaries are needed.";

fn unseen(said: &Said<'_>, notes: &mut Vec<Note>) {
    if said.plan.tells_nothing() {
        notes.push(Note::new(NoteKind::NoValue, NOTHING_SEEN));
        return;
    }
    let (seen, names) = match said.plan.slots {
        Slots::Tops(tops) => (tops, ["the top of the sand", "the top of the silt", "the top of the clay"]),
        Slots::Thicknesses(layers) => (layers, ["the sand", "the silt", "the clay"]),
    };
    let missing: Vec<&str> =
        seen.iter().zip(names).filter(|(seen, _)| **seen == Seen::No).map(|(_, name)| name).collect();
    let timed = !said.plan.marks.is_empty();
    let verb = match (timed, missing.len()) {
        (_, 0) => return,
        (true, 1) => "has no mark",
        (true, _) => "have no mark",
        (false, 1) => "was not seen",
        (false, _) => "were not seen",
    };
    notes.push(Note::new(
        NoteKind::Method,
        format!(
            "{} {verb}: every height that is possible counts alike, which makes the answer wide.",
            capital(&missing.join(" and "))
        ),
    ));
}

fn clumps(said: &Said<'_>, notes: &mut Vec<Note>) {
    if said.plan.clarity == Clarity::Clear {
        notes.push(Note::new(
            NoteKind::Method,
            "The water was clear after a day, so the clay clumped and fell early (unless there is hardly any clay): \
             the layers are not size classes. The answer allows for that and is wide. Shake again with \
             dishwasher powder or hexametaphosphate in soft water for a better one.",
        ));
    } else if said.plan.clarity == Clarity::NotLooked {
        notes.push(Note::new(
            NoteKind::Method,
            "It is not recorded whether the water was clear or cloudy after a day. Cloudy means parted clay, part of \
             it still up; clear means clumped clay. Both are allowed for.",
        ));
    }
}

fn one_layer(said: &Said<'_>, notes: &mut Vec<Note>) {
    if chance_of_clumps(said.plan) > 0.0 && said.plan.one_layer_above_sand() {
        notes.push(Note::new(
            NoteKind::Method,
            "Silt and clay show as one layer. Clumped clay falls among the silt and draws no line, so a layer that is \
             not there need not mean that the soil has none of it: as far as the clay may have clumped, every place \
             of the line counts alike, which makes the answer wide.",
        ));
    }
}

fn parting(said: &Said<'_>, notes: &mut Vec<Note>) {
    let text = match said.plan.dispersant {
        Dispersant::None => {
            "Nothing was added to part the clay. Crumbs of clay settle as silt or sand, so the layers show too little \
             clay. The answer leans towards more clay than the layer shows and is wide."
        }
        Dispersant::LiquidSoap => {
            "Liquid soap wets the soil but hardly parts the clay. Crumbs of clay settle as silt or sand, so the layers \
             show too little clay. The answer leans towards more clay than the layer shows and is wide."
        }
        Dispersant::Unknown => {
            "It is not recorded what was added to part the clay. If nothing was, the clay layer is too thin; the answer \
             allows for both."
        }
        Dispersant::DishwasherPowder | Dispersant::Hexametaphosphate => return,
    };
    notes.push(Note::new(NoteKind::Method, text));
}

fn misfit(said: &Said<'_>, notes: &mut Vec<Note>) {
    if said.misfit_percent > ODD_PERCENT && !said.plan.tells_nothing() {
        notes.push(Note::new(
            NoteKind::Method,
            format!(
                "The layers are hard to explain by settling alone: in {:.0} % of the ways it could have gone the \
                 silt or the clay would have to be less than nothing. Check the times, the heights and the water.",
                said.misfit_percent
            ),
        ));
    }
}

fn marks(said: &Said<'_>, notes: &mut Vec<Note>) {
    if said.plan.marks.is_empty() {
        return;
    }
    let names = ["sand", "silt"];
    let fair = [FAIR_SAND_UM, FAIR_SILT_UM];
    for slot in 0..2 {
        let (Some(time), cut) = (said.plan.times_s[slot], said.cuts_um[slot]) else { continue };
        if cut.median < fair[slot].0 || cut.median > fair[slot].1 {
            let (limit, coarse) = if slot == 0 {
                (50, "fine sand counts as silt in the layer")
            } else {
                (2, "fine silt counts as clay in the layer")
            };
            let fine =
                if slot == 0 { "coarse silt lies in the sand layer" } else { "clay lies in the silt layer" };
            notes.push(Note::new(
                NoteKind::Adjusted,
                format!(
                    "The {} mark after {} parts at about {:.1} µm, not at {limit} µm: {}. This is put right, at the price \
                     of a wider answer.",
                    names[slot],
                    duration(time),
                    cut.median,
                    if cut.median > f64::from(limit) { coarse } else { fine }
                ),
            ));
        }
    }
    let up = said.still_up_percent;
    if let Some(time) = said.plan.times_s[2]
        && up.median >= 1.0
    {
        notes.push(Note::new(
            NoteKind::Adjusted,
            format!(
                "At the last mark, after {}, about {:.0} % of the soil (all of it clay) was still up in the water. It is \
                 counted as clay.",
                duration(time),
                up.median
            ),
        ));
    }
    let unused = said.plan.marks.iter().filter(|mark| mark.slot.is_none() && mark.top != Seen::No).count();
    if unused > 0 {
        notes.push(Note::new(
            NoteKind::Method,
            format!(
                "{unused} further mark{} between the others {} kept on record but not used.",
                if unused == 1 { "" } else { "s" },
                if unused == 1 { "is" } else { "are" }
            ),
        ));
    }
}

fn packing(said: &Said<'_>, notes: &mut Vec<Note>) {
    let text = if said.packing.is_calibrated() {
        format!(
            "Settled volume was turned into mass with this farm's own packing, from {} laboratory result{} on soil that \
             was also tested in a jar.",
            said.packing.pairs,
            if said.packing.pairs == 1 { "" } else { "s" }
        )
    } else {
        "Layers are volumes and texture is mass. A millimetre of settled sand weighs nearly four times a millimetre of \
         settled clay, and how much exactly differs from soil to soil: this is the weak point of the jar test. The \
         packing used is that of fresh reservoir deposits, recalled from memory. One laboratory texture on soil that was \
         also in a jar would sharpen every jar on this farm."
            .to_owned()
    };
    notes.push(Note::new(NoteKind::Method, text));
}

fn jar_and_water(said: &Said<'_>, notes: &mut Vec<Note>) {
    let timed = !said.plan.marks.is_empty();
    let mut unknown = Vec::new();
    if timed && said.plan.water_mm.is_none() {
        unknown.push(format!(
            "the height of the water (taken as {} to {} times the settled soil)",
            WATER_OVER_SOIL.0, WATER_OVER_SOIL.1
        ));
    }
    if timed && said.plan.temperature_c.is_none() {
        unknown.push(format!("its temperature (taken as {} to {} °C)", ROOM_C.0, ROOM_C.1));
    }
    if !unknown.is_empty() {
        notes.push(Note::new(
            NoteKind::Method,
            format!("Not recorded: {}. Both decide which size a mark parts.", unknown.join(" and "))
                .replace("Both decide", if unknown.len() == 1 { "It decides" } else { "Both decide" }),
        ));
    }
    if let Some(top) = said.plan.vessel.measured_to_mm()
        && said.tallest_mm > top + 1e-9
    {
        notes.push(Note::new(
            NoteKind::OutsideRange,
            format!("The jar's shape is known up to {top} mm only; above, it is taken to go on as it was."),
        ));
    }
}

fn organic(said: &Said<'_>, notes: &mut Vec<Note>) {
    let Some(float) = said.reading.floating_organic_mm.map(Bounded::get).filter(|float| *float > 0.0) else {
        return;
    };
    let mut text =
        format!("{float} mm of floating organic matter is left out: texture is of the mineral soil.");
    if float > 0.2 * said.tallest_mm {
        text.push_str(" With this much of it the soil is organic, and a jar cannot tell its texture.");
    }
    notes.push(Note::new(NoteKind::Method, text));
}

/// A time since a jar was set down: "45 s", "12 min", "2 h", "3 days"; seconds in.
#[must_use]
pub fn duration(seconds: f64) -> String {
    let tidy = |value: f64| format!("{}", (value * 10.0).round() / 10.0);
    if seconds < 100.0 {
        format!("{} s", tidy(seconds))
    } else if seconds < 2.0 * 3600.0 - 1.0 {
        format!("{} min", tidy(seconds / 60.0))
    } else if seconds < 4.0 * 86400.0 {
        format!("{} h", tidy(seconds / 3600.0))
    } else {
        format!("{} days", tidy(seconds / 86400.0))
    }
}
