//! A plot's water as the page shows it: sentences, odds and pictures.

use advice::water::tell::{self, Sentences};
use advice::water::{PlotWater, Shower, Wetting, WhatIf};
use advice::words;
use figures::Figure;
use ground::kit::units::{UnitSystem, in_units};

use super::pictures;
use crate::parts::OddsLine;

/// What the page shows.
pub(super) struct View {
    pub(super) said: Sentences,
    pub(super) layers: Vec<String>,
    pub(super) profile: Figure,
    pub(super) showers: Vec<ShowerLine>,
    pub(super) groups: Vec<OddsLine>,
    pub(super) rings: Vec<[String; 3]>,
    pub(super) drains: Option<Figure>,
    pub(super) crops: Vec<[String; 3]>,
    pub(super) curve: Figure,
    pub(super) watering: Option<WateringView>,
    pub(super) changes: Vec<Change>,
    pub(super) digging: Vec<String>,
    pub(super) leaching: Vec<String>,
}

/// A shower and the odds that it stands.
pub(super) struct ShowerLine {
    pub(super) name: String,
    pub(super) drained: String,
    pub(super) dry: String,
    pub(super) sheds: String,
}

/// A watering that was followed.
pub(super) struct WateringView {
    pub(super) lines: Vec<String>,
    pub(super) frames: Figure,
    pub(super) film: Figure,
    /// The last moment of the film.
    pub(super) last: usize,
}

/// A change that can be chosen.
pub(super) struct Change {
    pub(super) key: &'static str,
    pub(super) words: String,
    pub(super) chosen: bool,
}

impl View {
    pub(super) fn of(
        water: &PlotWater,
        wetting: Option<&Wetting>,
        chosen: WhatIf,
        units: UnitSystem,
    ) -> Self {
        let rings = water.intake.rings.as_ref().map(|rings| &rings.rings[..]).unwrap_or_default();
        let cautions = |all: &[&str]| all.iter().map(|text| in_units(text, units)).collect();
        Self {
            digging: cautions(&water.drainage.cautions),
            leaching: cautions(&water.salts.cautions),
            said: tell::sentences(water, units),
            layers: tell::layer_lines(&water.holds, units),
            profile: pictures::profile(water, units),
            showers: water.intake.showers.iter().map(|shower| shower_line(shower, units)).collect(),
            groups: water
                .intake
                .groups
                .iter()
                .map(|group| OddsLine::new(format!("Group {}", group.name), group.odds))
                .collect(),
            rings: rings
                .iter()
                .map(|ring| {
                    let at_most = if ring.at_most { "at most " } else { "" };
                    [
                        words::day(ring.on),
                        format!("{at_most}{}, {}", words::rate(ring.rate_mm_h, units), ring.class.words()),
                        words::rate(ring.conductivity_mm_h, units),
                    ]
                })
                .collect(),
            drains: pictures::drains(water, units),
            crops: water
                .salts
                .crops
                .iter()
                .map(|crop| {
                    let left = crop.yield_percent.map_or_else(
                        || "not measured".to_owned(),
                        |left| format!("{:.0} % (90 %: {:.0} to {:.0})", left.median, left.low, left.high),
                    );
                    [crop.crop.clone(), format!("{} dS/m", words::short(crop.threshold_ds_m)), left]
                })
                .collect(),
            curve: pictures::retention(water, units),
            watering: wetting.map(|wetting| {
                let (frames, film) = pictures::watering(wetting, units);
                let last = film.svg.matches("data-frame=").count().saturating_sub(1);
                WateringView { lines: tell::wetting_lines(wetting, units), frames, film, last }
            }),
            changes: WhatIf::ALL
                .into_iter()
                .map(|one| Change {
                    key: one.key(),
                    words: words::capital(one.words()),
                    chosen: one == chosen,
                })
                .collect(),
        }
    }
}

fn shower_line(shower: &Shower, units: UnitSystem) -> ShowerLine {
    let name = if shower.sprinkler {
        format!("Your sprinklers, {}, until an inch is on", words::rate(shower.rate_mm_h, units))
    } else {
        format!("{} of rain in an hour", words::water(shower.rate_mm_h * shower.hours, units))
    };
    ShowerLine {
        name,
        drained: words::odds(shower.stands_when_drained),
        dry: words::odds(shower.stands_when_dry),
        sheds: shower.sheds_mm.map_or_else(String::new, |mm| {
            let number = |mm: f64| {
                let water = words::water(mm, units);
                water.split(' ').next().unwrap_or_default().to_owned()
            };
            let (low, high) = (number(mm.low), number(mm.high));
            let middle = words::water(mm.median, units);
            if low == high { middle } else { format!("{middle} ({low} to {high})") }
        }),
    }
}
