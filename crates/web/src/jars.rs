//! Jars still settling: which mark is due next, and when.

use book::model::seen::JarSeen;
use book::model::{EntryId, Observation, Seen};
use book::{Held, Snapshot};
use ground::kit::units::{Dimension, UnitSystem, show};
use ground::kit::{Bounded, Method, Refusal};
use ground::texture::jar::mark_times::{JarMarkTimes, JarMarkTimesInput};
use ground::texture::jar::reading::{JarHeight, JarTemperature};
use ground::texture::jar::{Marks, TimedMark};
use jiff::{SignedDuration, Timestamp};
use serde::Serialize;

/// Supposed of a jar whose height of water nobody wrote down: a quart jar filled to the shoulder.
const USUAL_WATER_MM: f64 = 150.0;
/// Room temperature.
const USUAL_TEMPERATURE_C: f64 = 20.0;
/// The last mark stands for all that settles: two days on.
const LAST_MARK_S: f64 = 172_800.0;
/// Where no times can be worked out: the customary minute, two hours and two days.
const CUSTOMARY_S: [f64; 3] = [60.0, 7_200.0, LAST_MARK_S];
/// A mark is missed when so many times its time have passed.
const MISSED: f64 = 3.0;

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
    /// A jar's state at `now`; `None` when it is finished or is no jar.
    #[must_use]
    pub fn of(snapshot: &Snapshot, held: &Held<Observation>, now: Timestamp) -> Option<Self> {
        let Seen::Jar(jar) = &held.body.seen else { return None };
        if jar.finished {
            return None;
        }
        let started_at = jar.started_at?;
        Some(Self {
            id: held.id,
            plot: held.body.plot,
            plot_name: snapshot.plot(held.body.plot).map(|plot| plot.body.name.clone())?,
            started_at,
            marks_made: marks(jar).len(),
            next: next(jar, started_at, now),
        })
    }
}

/// Every jar still settling, the one set down first on top.
#[must_use]
pub fn under_way(snapshot: &Snapshot, now: Timestamp) -> Vec<JarUnderWay> {
    snapshot.running_jars().into_iter().filter_map(|held| JarUnderWay::of(snapshot, held, now)).collect()
}

/// The timed marks of a jar.
#[must_use]
pub fn marks(jar: &JarSeen) -> &[TimedMark] {
    match &jar.reading.marks {
        Marks::Timed { marks } => marks,
        Marks::Thicknesses { .. } | Marks::Heights { .. } => &[],
    }
}

/// Seconds after which each mark of a jar is due.
///
/// # Errors
/// The jar holds too little water or too much soil to settle in.
pub fn times_s(jar: &JarSeen) -> Result<[f64; 3], Refusal> {
    let times = JarMarkTimes::compute(&JarMarkTimesInput {
        water_height_mm: jar.reading.water_height_mm.unwrap_or_else(|| JarHeight::literal(USUAL_WATER_MM)),
        water_temperature_c: jar
            .reading
            .water_temperature_c
            .unwrap_or_else(|| JarTemperature::literal(USUAL_TEMPERATURE_C)),
        soil_height_mm: jar.soil_height_mm,
    })?
    .value;
    Ok([times.sand_mark.time_s, times.silt_mark.time_s, LAST_MARK_S.max(times.silt_mark.time_s)])
}

/// When to mark a jar that has not been set down yet, in a sentence.
///
/// # Errors
/// As [`times_s`].
pub fn plan(jar: &JarSeen) -> Result<String, Refusal> {
    let [sand, silt, clay] =
        times_s(jar)?.map(|seconds| show(seconds, Dimension::Duration, UnitSystem::Metric));
    Ok(format!(
        "The top of the sand will be due after {sand}, of the silt after {silt}, of the clay after {clay}."
    ))
}

/// When each mark of a jar is due.
#[must_use]
pub fn due(jar: &JarSeen, started_at: Timestamp) -> Vec<MarkDue> {
    MARKS
        .into_iter()
        // A jar that a form would refuse may still come in with an import: the customary times.
        .zip(times_s(jar).unwrap_or(CUSTOMARY_S))
        .filter_map(|(mark, seconds)| {
            let due_at = started_at.checked_add(SignedDuration::try_from_secs_f64(seconds).ok()?).ok()?;
            Some(MarkDue { mark, due_at })
        })
        .collect()
}

/// Whether a mark was made that stands for this one: near its time, and nearer to it than to another.
#[must_use]
pub fn stood_for(jar: &JarSeen, started_at: Timestamp, due: MarkDue) -> bool {
    let due_s = |one: MarkDue| one.due_at.duration_since(started_at).as_secs_f64();
    let all = self::due(jar, started_at);
    marks(jar).iter().any(|mark| {
        // How many times too early or too late it would be.
        let far = |one: &MarkDue| {
            let ratio = mark.after_s.get() / due_s(*one).max(1.0);
            ratio.max(1.0 / ratio)
        };
        all.iter().min_by(|a, b| far(a).total_cmp(&far(b))).is_some_and(|nearest| *nearest == due)
    })
}

/// The mark to make next: the first that no mark stands for yet and that is not long past.
#[must_use]
pub fn next(jar: &JarSeen, started_at: Timestamp, now: Timestamp) -> Option<MarkDue> {
    let after_s = |at: Timestamp| at.duration_since(started_at).as_secs_f64();
    let due = due(jar, started_at);
    let due_s: Vec<f64> = due.iter().map(|one| after_s(one.due_at)).collect();
    due.into_iter()
        .enumerate()
        .find(|(at, one)| {
            // From half way (in ratio) to the following mark on, that one is nearer.
            let until_s =
                due_s.get(at + 1).map(|next_s| (due_s[*at] * next_s).sqrt().min(MISSED * due_s[*at]));
            !stood_for(jar, started_at, *one) && until_s.is_none_or(|until_s| after_s(now) <= until_s)
        })
        .map(|(_, one)| one)
}

#[cfg(test)]
mod tests {
    use super::*;
    use ground::texture::jar::reading::SettledFor;
    use ground::texture::jar::{Boundary, Clarity, Dispersant, JarReading, JarShape};

    fn jar(made_s: &[f64]) -> JarSeen {
        let mark = |s: &f64| TimedMark { after_s: SettledFor::new(*s).unwrap(), top: Boundary::No };
        JarSeen {
            started_at: Some(Timestamp::UNIX_EPOCH),
            soil_height_mm: Some(JarHeight::literal(40.0)),
            finished: false,
            reading: JarReading {
                marks: Marks::Timed { marks: made_s.iter().map(mark).collect() },
                ruler_step_mm: None,
                shape: JarShape::Straight,
                water_height_mm: Some(JarHeight::literal(180.0)),
                water_temperature_c: Some(JarTemperature::literal(20.0)),
                dispersant: Dispersant::DishwasherPowder,
                water_after_a_day: Clarity::NotLooked,
                floating_organic_mm: None,
            },
        }
    }

    fn asked(made_s: &[f64], now_s: i64) -> Option<&'static str> {
        let now = Timestamp::from_second(now_s).unwrap();
        next(&jar(made_s), Timestamp::UNIX_EPOCH, now).map(|next| next.mark)
    }

    #[test]
    fn the_next_mark_follows_what_was_made_and_what_was_missed() {
        assert_eq!(asked(&[], 5), Some("top of the sand"));
        // An hour on, nobody can mark the sand any more.
        assert_eq!(asked(&[], 3_600), Some("top of the silt"));
        assert_eq!(asked(&[100.0], 200), Some("top of the silt"));
        assert_eq!(asked(&[100.0], 100_000), Some("top of the clay"));
        assert_eq!(asked(&[100.0, 20_000.0], 30_000), Some("top of the clay"));
        // However late, the last one can still be made.
        assert_eq!(asked(&[], 10_000_000), Some("top of the clay"));
        assert_eq!(asked(&[100.0, 20_000.0, 180_000.0], 190_000), None);
    }

    #[test]
    fn more_soil_makes_the_marks_later() {
        let thin = JarSeen { soil_height_mm: None, ..jar(&[]) };
        assert!(times_s(&thin).unwrap()[0] < times_s(&jar(&[])).unwrap()[0]);
        assert!(plan(&jar(&[])).unwrap().starts_with("The top of the sand will be due after"));
        let full = JarSeen { soil_height_mm: Some(JarHeight::literal(170.0)), ..jar(&[]) };
        assert_eq!(plan(&full).unwrap_err().field, "soil_height_mm");
        assert_eq!(due(&full, Timestamp::UNIX_EPOCH).len(), 3);
    }
}
