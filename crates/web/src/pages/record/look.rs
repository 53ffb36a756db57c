//! What a reading says by itself, before it is weighed with the rest: picture, odds and remarks.

use advice::farm_jars::FarmJars;
use askama::Template;
use book::Snapshot;
use book::model::seen::JarSeen;
use book::model::{EntryId, Seen};
use figures::Figure;
use ground::kit::units::{UnitSystem, in_units};
use ground::kit::{Method, Note, Refusal};
use ground::texture::feel::by_feel::TextureByFeel;
use ground::texture::jar::{ByLayer, Marks};
use ground::texture::{ClassOdds, Composition, hydrometer, jar, kitchen_scale, lab};
use serde::Serialize;

use super::{intake, look_soil};
use crate::jars;
use crate::parts::OddsLine;

/// What a reading says by itself.
#[derive(Debug, Clone, Default, Serialize, Template)]
#[template(path = "record/look.html")]
pub(crate) struct Look {
    /// The jar as it was read.
    pub(crate) figure: Option<Figure>,
    /// "Sand 42 %, silt 37 %, clay 21 %."
    pub(crate) says: String,
    /// Odds of the classes, likeliest first.
    pub(crate) odds: Vec<OddsLine>,
    /// What to know beside it, most important first.
    pub(crate) notes: Vec<String>,
}

impl askama::filters::HtmlSafe for Look {}

impl Look {
    /// Remarks in the units of the farm.
    fn in_units(mut self, units: UnitSystem) -> Self {
        for note in &mut self.notes {
            *note = in_units(note, units);
        }
        self
    }
}

/// Classes below these odds are left out of the list.
const WORTH_A_LINE: f64 = 0.02;
const LINES: usize = 6;
/// Remarks shown beside a look.
const NOTES: usize = 3;

/// What a reading says, in the units of the farm; nothing where it does not speak of the make-up.
///
/// # Errors
/// A reading that contradicts itself, named by its field.
pub(crate) fn of(
    seen: &Seen,
    snapshot: &Snapshot,
    plot: EntryId,
    units: UnitSystem,
) -> Result<Option<Look>, Refusal> {
    look(seen, snapshot, plot, units)
        .map(|look| look.map(|look| look.in_units(units)))
        .map_err(|refusal| refusal.in_units(units))
}

fn look(seen: &Seen, snapshot: &Snapshot, plot: EntryId, units: UnitSystem) -> Result<Option<Look>, Refusal> {
    Ok(match seen {
        Seen::Jar(jar) => Some(of_jar(jar, snapshot, plot, units)?),
        Seen::KitchenScale(weighed) => {
            let found = kitchen_scale::assess(weighed)?;
            Some(measured(found.soil, &found.error.class_odds(found.soil), &found.notes))
        }
        Seen::Hydrometer(readings) => {
            let found = hydrometer::assess(readings)?;
            Some(measured(found.soil, &found.error.class_odds(found.soil), &found.notes))
        }
        Seen::LabTexture(texture) => {
            let found = lab::assess(texture)?;
            Some(measured(found.soil, &found.error.class_odds(found.soil), &found.notes))
        }
        Seen::Feel(reading) => {
            let answer = TextureByFeel::compute(reading)?;
            let says = match answer.value.class {
                Some(class) => format!("The path ends at {}.", class.name()),
                None => "The path was broken off before its end.".to_owned(),
            };
            Some(Look {
                figure: None,
                says,
                odds: lines(&answer.value.class_odds),
                notes: texts(&answer.notes),
            })
        }
        Seen::OrganicMatter(_)
        | Seen::Gravel(_)
        | Seen::Packing(_)
        | Seen::Salinity(_)
        | Seen::Signs(_)
        | Seen::Moisture(_)
        | Seen::Layers(_)
        | Seen::LabReport(_)
        | Seen::BuildingGround(_) => None,
        Seen::RingInfiltration(rings) => Some(intake::of_rings(rings, units)),
        Seen::Probe(probe) => Some(look_soil::probe(probe, units)?),
        Seen::Cores(cores) => Some(look_soil::cores(cores)?),
        Seen::Spade(block) => Some(look_soil::spade(block, units)?),
        Seen::Slake(test) => Some(look_soil::slake(test)?),
        Seen::Working(test) => Some(look_soil::working(test)?),
        Seen::Percolation(hole) => Some(intake::of_hole(hole, units)),
    })
}

fn of_jar(jar: &JarSeen, snapshot: &Snapshot, plot: EntryId, units: UnitSystem) -> Result<Look, Refusal> {
    let unmarked = matches!(&jar.reading.marks, Marks::Timed { marks } if marks.is_empty());
    if unmarked {
        return Ok(Look { says: jars::plan(jar)?, ..Look::default() });
    }
    let found = jar::assess(&jar.reading, &FarmJars::of(snapshot).packing(plot))?;
    let shares = found.mass_percent;
    let figure = figures::jar::jar("look-jar", &jar.reading, units)?;
    // Nothing known is no odds: spreads and odds of a jar that nobody could read are left out.
    let (says, odds) = if found.tells_nothing {
        ("Nothing is known from this jar yet.".to_owned(), Vec::new())
    } else {
        (format!("{}.", layers(&shares)), lines(&found.class_odds))
    };
    Ok(Look { figure: Some(figure), says, odds, notes: texts(&found.notes) })
}

fn layers(shares: &ByLayer<ground::kit::Spread>) -> String {
    let one = |name: &str, spread: ground::kit::Spread| advice::words::share(name, spread);
    format!("{}, {}, {}", one("Sand", shares.sand), one("silt", shares.silt), one("clay", shares.clay))
}

fn measured(soil: Composition, odds: &[ClassOdds], notes: &[Note]) -> Look {
    Look {
        figure: None,
        says: format!("Sand {:.0} %, silt {:.0} %, clay {:.0} %.", soil.sand, soil.silt, soil.clay),
        odds: lines(odds),
        notes: texts(notes),
    }
}

fn lines(odds: &[ClassOdds]) -> Vec<OddsLine> {
    odds.iter()
        .map(|one| OddsLine::new(one.class.name(), one.odds_percent / 100.0))
        .filter(|line| line.share >= WORTH_A_LINE)
        .take(LINES)
        .collect()
}

fn texts(notes: &[Note]) -> Vec<String> {
    notes.iter().take(NOTES).map(|note| note.text.clone()).collect()
}
