//! Jars still settling: which mark is due next, and when.

use book::model::seen::JarSeen;
use book::model::{EntryId, Observation, Seen};
use book::{Held, Snapshot};
use ground::kit::{Bounded, Method};
use ground::texture::jar::Marks;
use ground::texture::jar::mark_times::{JarMarkTimes, JarMarkTimesInput};
use ground::texture::jar::reading::{JarHeight, JarTemperature};
use jiff::{SignedDuration, Timestamp};
use serde::Serialize;

/// Supposed of a jar whose height of water nobody wrote down: a quart jar filled to the shoulder.
const USUAL_WATER_MM: f64 = 150.0;
/// Room temperature.
const USUAL_TEMPERATURE_C: f64 = 20.0;
/// The last mark stands for all that settles: two days on.
const LAST_MARK_S: f64 = 172_800.0;

/// The marks of a jar in the order of time.
pub const MARKS: [&str; 3] = ["top of the sand", "top of the silt", "top of the clay"];

/// A jar still settling.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JarUnderWay {
    /// Its record.
    pub id: EntryId,
    /// Its plot.
    pub plot: EntryId,
    /// The plot's name.
    pub plot_name: String,
    /// When it was set down.
    pub started_at: Timestamp,
    /// How many marks were made.
    pub marks_made: usize,
    /// The next mark, and when it is due; absent when all three are made and only the end is missing.
    pub next: Option<MarkDue>,
}

/// A mark to be made.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MarkDue {
    /// Which: "top of the sand".
    pub mark: &'static str,
    /// When.
    pub due_at: Timestamp,
}

impl JarUnderWay {
    /// A jar's state; `None` when it is finished or is no jar.
    #[must_use]
    pub fn of(snapshot: &Snapshot, held: &Held<Observation>) -> Option<Self> {
        let Seen::Jar(jar) = &held.body.seen else { return None };
        if jar.finished {
            return None;
        }
        let started_at = jar.started_at?;
        let marks_made = match &jar.reading.marks {
            Marks::Timed { marks } => marks.len(),
            Marks::Thicknesses { .. } | Marks::Heights { .. } => 0,
        };
        Some(Self {
            id: held.id,
            plot: held.body.plot,
            plot_name: snapshot.plot(held.body.plot).map(|plot| plot.body.name.clone())?,
            started_at,
            marks_made,
            next: due(jar, started_at).get(marks_made).copied(),
        })
    }
}

/// Every jar still settling, the one set down first on top.
#[must_use]
pub fn under_way(snapshot: &Snapshot) -> Vec<JarUnderWay> {
    snapshot.running_jars().into_iter().filter_map(|held| JarUnderWay::of(snapshot, held)).collect()
}

/// When each mark of a jar is due.
#[must_use]
pub fn due(jar: &JarSeen, started_at: Timestamp) -> Vec<MarkDue> {
    let times = JarMarkTimes::compute(&JarMarkTimesInput {
        water_height_mm: jar.reading.water_height_mm.unwrap_or_else(|| JarHeight::literal(USUAL_WATER_MM)),
        water_temperature_c: jar
            .reading
            .water_temperature_c
            .unwrap_or_else(|| JarTemperature::literal(USUAL_TEMPERATURE_C)),
        soil_height_mm: None,
    });
    // A jar with hardly any water has no times: nothing can be said but when it will be done.
    let seconds = match times {
        Ok(answer) => {
            let times = answer.value;
            vec![times.sand_mark.time_s, times.silt_mark.time_s, LAST_MARK_S.max(times.silt_mark.time_s)]
        }
        Err(_) => vec![60.0, 7_200.0, LAST_MARK_S],
    };
    MARKS
        .into_iter()
        .zip(seconds)
        .filter_map(|(mark, seconds)| {
            let due_at = started_at.checked_add(SignedDuration::try_from_secs_f64(seconds).ok()?).ok()?;
            Some(MarkDue { mark, due_at })
        })
        .collect()
}
