//! Earthworks in sentences, in the units of the farm.

use book::model::UnitSystem;
use ground::kit::units::{Dimension, show};
use ground::posts::us::M3_PER_YD3;

use super::{Earth, EarthworksAsk, EarthworksReport};
use crate::words;

/// "24 yd³", "18 m³".
#[must_use]
pub fn volume(m3: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::UsCustomary => format!("{} yd³", words::short(m3 / M3_PER_YD3)),
        UnitSystem::Metric => format!("{} m³", words::short(m3)),
    }
}

fn length(m: f64, units: UnitSystem) -> String {
    show(m, Dimension::Length, units)
}

/// A caution in the units of the farm: limits of the law are whole feet, 4 and 5, and are told as such.
#[must_use]
pub fn caution(text: &str, units: UnitSystem) -> String {
    match units {
        UnitSystem::UsCustomary => text.replace("1.2 m", "4 ft").replace("1.5 m", "5 ft"),
        UnitSystem::Metric => text.to_owned(),
    }
}

/// The sentences of each part.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sentences {
    /// The one that answers the page's question.
    pub lead: String,
    /// An access track.
    pub track: Vec<String>,
    /// A trench.
    pub trench: Vec<String>,
    /// A pond.
    pub pond: Vec<String>,
}

fn earth(earth: Earth, units: UnitSystem) -> String {
    format!(
        "{} in place, {} loose on the truck, {} as compacted fill",
        volume(earth.bank_m3, units),
        volume(earth.loose_m3, units),
        volume(earth.compacted_m3, units)
    )
}

/// Puts a report into sentences.
#[must_use]
pub fn sentences(report: &EarthworksReport, ask: &EarthworksAsk, units: UnitSystem) -> Sentences {
    Sentences {
        lead: lead(report, units),
        track: track(report, ask, units),
        trench: trench(report, ask, units),
        pond: pond(report, ask, units),
    }
}

fn lead(report: &EarthworksReport, units: UnitSystem) -> String {
    let gravel = report.track.build_mm.map_or_else(
        || "a track for that traffic is beyond the table".to_owned(),
        |mm| format!("a track takes {} of gravel", words::small(mm, units)),
    );
    let unknown = if report.known { "" } else { "Nothing was measured of this ground yet. " };
    format!(
        "{unknown}The ground under a track is {} ({}), and {gravel}; a pond {} ({}).",
        report.track.subgrade.words(),
        report.track.firmness.words(),
        report.pond.ground.words(),
        report.pond.firmness.words()
    )
}

fn track(report: &EarthworksReport, ask: &EarthworksAsk, units: UnitSystem) -> Vec<String> {
    let track = &report.track;
    let mut lines = vec![format!(
        "Below the topsoil the wet ground rates {} ({}, odds {}): bearing ratio {} %.",
        track.subgrade.words(),
        track.firmness.words(),
        words::odds(track.odds),
        words::range(track.cbr_percent, 1.0)
    )];
    match (track.build_mm, track.compacted_m3, track.loose_m3) {
        (Some(mm), Some(compacted), Some(loose)) => lines.push(format!(
            "For {} heavy vehicles a day build {} of compacted gravel; {} by {} takes {} compacted: order {} loose.",
            words::short(ask.heavy_per_day),
            words::small(mm, units),
            length(ask.track_length_m, units),
            length(ask.track_width_m, units),
            volume(compacted, units),
            volume(loose, units)
        )),
        _ => lines.push("The table ends at fifty heavy vehicles a day: ask a road engineer.".to_owned()),
    }
    if track.sinks() {
        lines
            .push("On ground this soft lay a geotextile or firm it first: gravel alone sinks in.".to_owned());
    }
    lines.push(
        "Take the topsoil off, crown the track by 3 to 7 % and ditch it: drainage does more than gravel."
            .to_owned(),
    );
    lines
}

fn trench(report: &EarthworksReport, ask: &EarthworksAsk, units: UnitSystem) -> Vec<String> {
    let trench = &report.trench;
    let mut lines = vec![
        format!(
            "Dig by {} ({}; odds of the looser type: {}): lay the sides back {} to 1, so that {} deep it is {} wide at the top.",
            trench.trench_type.words(),
            if trench.precaution { "as a precaution" } else { trench.firmness.words() },
            words::odds(trench.type_c),
            words::short(trench.slope),
            length(ask.trench_depth_m, units),
            length(trench.top_width_m, units)
        ),
        format!("{} of it, laid back: {}.", length(ask.trench_length_m, units), earth(trench.earth, units)),
    ];
    lines.push(if trench.protection_required {
        "At this depth the law asks for sloping, shoring or a shield before anyone steps in, whatever the ground.".to_owned()
    } else {
        "At this depth protection is still required wherever a competent person sees any sign of caving in.".to_owned()
    });
    if trench.ladder_required {
        lines.push("A ladder within 25 ft (7.6 m) of everyone in it is required.".to_owned());
    }
    lines.push("Keep spoil two feet (0.6 m) or more from the edge, machines further, and nobody alone in the trench.".to_owned());
    lines
}

fn pond(report: &EarthworksReport, ask: &EarthworksAsk, units: UnitSystem) -> Vec<String> {
    let pond = &report.pond;
    let odds: Vec<String> = pond
        .odds
        .iter()
        .filter(|(_, odds)| *odds >= 0.005)
        .map(|(ground, odds)| format!("it {}: {}", ground.words(), words::odds(*odds)))
        .collect();
    let mut lines = vec![
        format!(
            "At the bottom of {} of water ({}): {}.",
            length(ask.pond_depth_m, units),
            pond.firmness.words(),
            odds.join("; ")
        ),
        format!(
            "A blanket of clay for that depth is {} thick, laid moist in lifts of 6 to 8 in (15 to 20 cm) and rolled with a sheepsfoot roller. Odds that earth from here serves as one: {}.",
            words::depth(100.0 * pond.blanket_m, units),
            words::odds(pond.serves_as_blanket)
        ),
        format!(
            "A bottom of {} by {} with sides {} to 1: {}.",
            length(ask.pond_length_m, units),
            length(ask.pond_width_m, units),
            words::short(ask.pond_slope),
            earth(pond.earth, units)
        ),
    ];
    if !pond.plasticity_known {
        lines.push(
            "Without a plasticity index from a laboratory ground is never trusted to hold water as it lies."
                .to_owned(),
        );
    }
    lines.push("Bore over the whole site: one seam of sand empties a pond.".to_owned());
    lines
}
