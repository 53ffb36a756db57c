//! The evidence on a plot: each piece with its reading, what it says, and what became of it.

use advice::PlotReport;
use book::Snapshot;
use book::model::EntryId;
use ground::belief::Level;
use ground::kit::units::UnitSystem;
use serde::Serialize;

use super::make_up::letters;
use crate::words;

/// One piece of evidence.
#[derive(Serialize)]
pub(super) struct EvidenceLine {
    pub(super) id: EntryId,
    /// The plot it was found on: of a zone's page also the whole plot.
    pub(super) plot: EntryId,
    /// Its letter in the triangle; absent where the triangle cannot show it.
    pub(super) letter: Option<char>,
    /// "Jar test of 3 May 2025".
    pub(super) label: String,
    pub(super) what: &'static str,
    /// The reading in short.
    pub(super) reading: String,
    /// What it says by itself: "sand 42, silt 37, clay 21 %".
    pub(super) says: String,
    pub(super) remark: String,
    pub(super) used: bool,
    /// "differs" or "contradicts" where the rest does not bear it out.
    pub(super) doubt: &'static str,
    pub(super) seen_by: String,
    pub(super) note: String,
    pub(super) sample: Option<String>,
    /// Revisions of the record.
    pub(super) versions: u32,
    pub(super) photos: Vec<EntryId>,
    /// Whether it is a jar that still settles.
    pub(super) settling: bool,
}

/// Lines of a reading that fit in a list.
const SHORT: usize = 3;

/// Every piece, latest first.
pub(super) fn lines(snapshot: &Snapshot, report: &PlotReport, units: UnitSystem) -> Vec<EvidenceLine> {
    let mut free = letters();
    let mut lines: Vec<EvidenceLine> = report
        .evidence
        .iter()
        .filter_map(|exhibit| {
            let held = snapshot.observation(exhibit.id)?;
            let letter = if exhibit.says.is_some() || exhibit.named.is_some() { free.next() } else { None };
            let says = match (exhibit.says, exhibit.named) {
                (Some(soil), _) => {
                    format!("sand {:.0}, silt {:.0}, clay {:.0} %", soil.sand, soil.silt, soil.clay)
                }
                (None, Some(class)) => class.name().to_owned(),
                (None, None) => String::new(),
            };
            let reading = words::reading(&held.body.seen, units);
            let short: Vec<String> = reading
                .iter()
                .take(SHORT)
                .map(|line| {
                    if line.label == "Seen" {
                        line.text.clone()
                    } else {
                        format!("{}: {}", line.label.to_lowercase(), line.text)
                    }
                })
                .collect();
            let id = exhibit.id.to_string();
            let doubt =
                report.disagreements.iter().find(|one| one.id == id).map_or("", |one| match one.level {
                    Level::Contradicts => "contradicts the rest",
                    Level::Differs => "differs from the rest",
                });
            Some(EvidenceLine {
                id: exhibit.id,
                plot: held.body.plot,
                letter,
                label: crate::problem::capital(&words::titled(&held.body.clone().into())),
                what: exhibit.what,
                reading: short.join("; "),
                says,
                remark: exhibit.remark.clone(),
                used: exhibit.used,
                doubt,
                seen_by: held.body.seen_by.clone(),
                note: held.body.note.clone(),
                sample: held.body.sample.map(|sample| words::name_of(snapshot, sample)),
                versions: held.number,
                photos: snapshot
                    .photos
                    .iter()
                    .filter(|photo| photo.body.observation == Some(exhibit.id))
                    .map(|photo| photo.id)
                    .collect(),
                settling: matches!(&held.body.seen, book::model::Seen::Jar(jar) if !jar.finished),
            })
        })
        .collect();
    lines.reverse();
    lines
}
