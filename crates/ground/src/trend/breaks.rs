//! What no longer compares: a series of readings is cut where another laboratory, procedure or depth came in.

use std::ops::Range;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Month of the year.
    pub struct ReadingMonth: "month", "", 1.0 ..= 12.0, example 4.0;
    /// Cores that were mixed.
    pub struct ReadingCores: "cores in the bag", "", 1.0 ..= 500.0, example 15.0;
    /// A depth that a sample begins or ends at.
    pub struct ReadingDepth: "depth of the sample", "cm", 0.0 ..= 500.0, example 20.0;
}

/// Top or bottom of the layer may differ by so much from the first of its stretch, cm: a probe is not pushed to the
/// centimetre (judgement).
pub const SAME_DEPTH_CM: f64 = 3.0;
/// Months that a reading may lie earlier or later in the year than the one before (judgement).
pub const SAME_SEASON_MONTHS: u8 = 1;
/// Bags with so many times the cores of the one before are remarked on (judgement).
pub const CORES_TIMES: f64 = 2.0;

/// How a reading was made.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Circumstances {
    /// Who made it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub laboratory: Option<String>,
    /// By which procedure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub procedure: Option<String>,
    /// Top of the layer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from_cm: Option<ReadingDepth>,
    /// Bottom of the layer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to_cm: Option<ReadingDepth>,
    /// In which month.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub month: Option<ReadingMonth>,
    /// From how many cores.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cores: Option<ReadingCores>,
}

/// What was otherwise than the time before.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum Changed {
    /// Another laboratory.
    Laboratory {
        /// The one before.
        from: String,
        /// This one.
        to: String,
    },
    /// Another procedure.
    Procedure {
        /// The one before.
        from: String,
        /// This one.
        to: String,
    },
    /// Another layer.
    Depth {
        /// The layer before, cm.
        from_cm: [f64; 2],
        /// This one, cm.
        to_cm: [f64; 2],
    },
    /// Another time of year.
    Month {
        /// The month before.
        from: u8,
        /// This one.
        to: u8,
    },
    /// Many more cores, or many fewer.
    Cores {
        /// As many before.
        from: u16,
        /// As many now.
        to: u16,
    },
}

impl Changed {
    /// Is the series cut there? Season and cores only widen the scatter.
    #[must_use]
    pub fn cuts(&self) -> bool {
        matches!(self, Self::Laboratory { .. } | Self::Procedure { .. } | Self::Depth { .. })
    }
}

/// What is known of how readings were made, up to one of them: what a later one leaves unsaid is taken as before.
#[derive(Debug, Default)]
struct Before<'a> {
    laboratory: Option<&'a str>,
    procedure: Option<&'a str>,
    /// That of the first reading of the stretch: small steps from reading to reading add up.
    layer_cm: Option<[f64; 2]>,
    month: Option<u8>,
    cores: Option<u16>,
}

fn other(before: Option<&str>, now: Option<&str>) -> Option<(String, String)> {
    let (before, now) = (before?, now?);
    (before.to_lowercase() != now.to_lowercase()).then(|| (before.to_owned(), now.to_owned()))
}

fn said(text: Option<&String>) -> Option<&str> {
    text.map(|text| text.trim()).filter(|text| !text.is_empty())
}

impl<'a> Before<'a> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 12, and 1 to 500")]
    fn meets(&mut self, now: &'a Circumstances) -> Vec<Changed> {
        let mut found = Vec::new();
        let (laboratory, procedure) = (said(now.laboratory.as_ref()), said(now.procedure.as_ref()));
        found.extend(other(self.laboratory, laboratory).map(|(from, to)| Changed::Laboratory { from, to }));
        found.extend(other(self.procedure, procedure).map(|(from, to)| Changed::Procedure { from, to }));
        let layer = now.from_cm.zip(now.to_cm).map(|(top, bottom)| [top.get(), bottom.get()]);
        if let (Some(from_cm), Some(to_cm)) = (self.layer_cm, layer)
            && from_cm.iter().zip(&to_cm).any(|(one, other)| (one - other).abs() > SAME_DEPTH_CM)
        {
            found.push(Changed::Depth { from_cm, to_cm });
        }
        let month = now.month.map(|month| month.get() as u8);
        if let (Some(from), Some(to)) = (self.month, month) {
            let apart = from.abs_diff(to);
            if apart.min(12 - apart) > SAME_SEASON_MONTHS {
                found.push(Changed::Month { from, to });
            }
        }
        let cores = now.cores.map(|cores| cores.get() as u16);
        if let (Some(from), Some(to)) = (self.cores, cores) {
            let times = f64::from(from.max(to)) / f64::from(from.min(to).max(1));
            if times > CORES_TIMES {
                found.push(Changed::Cores { from, to });
            }
        }
        self.laboratory = laboratory.or(self.laboratory);
        self.procedure = procedure.or(self.procedure);
        if self.layer_cm.is_none() || found.iter().any(Changed::cuts) {
            self.layer_cm = layer.or(self.layer_cm);
        }
        self.month = month.or(self.month);
        self.cores = cores.or(self.cores);
        found
    }
}

/// What was otherwise at each reading than before it; nothing at the first.
#[must_use]
pub fn changes(series: &[Circumstances]) -> Vec<Vec<Changed>> {
    let mut before = Before::default();
    series.iter().map(|now| before.meets(now)).collect()
}

/// The stretches that compare within themselves, in order.
#[must_use]
pub fn stretches(changes: &[Vec<Changed>]) -> Vec<Range<usize>> {
    let mut found: Vec<Range<usize>> = Vec::new();
    for (at, changed) in changes.iter().enumerate() {
        match found.last_mut() {
            Some(last) if !changed.iter().any(Changed::cuts) => last.end = at + 1,
            _ => found.push(at..at + 1),
        }
    }
    found
}

/// Input of `comparable-series`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SeriesInput {
    /// How each reading was made, the earliest first.
    pub readings: Vec<Circumstances>,
}

/// One stretch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Stretch {
    /// Place of its first reading, from 1.
    pub first: usize,
    /// Place of its last reading.
    pub last: usize,
}

/// Output of `comparable-series`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SeriesOutput {
    /// Stretches that compare within themselves.
    pub stretches: Vec<Stretch>,
    /// What was otherwise at each reading.
    pub changed: Vec<Vec<Changed>>,
}

/// Where a series is cut.
pub struct ComparableSeries;

impl Method for ComparableSeries {
    type Input = SeriesInput;
    type Output = SeriesOutput;

    const CARD: Card = Card {
        name: "comparable-series",
        title: "Which readings compare",
        topic: Topic::Trend,
        computes: "Parts a series of readings where another laboratory, procedure or depth came in: a step there is as likely \
                   the laboratory's as the ground's. Another month and many more or fewer cores are told, but do not part it.",
        validity: &[
            "What a reading leaves unsaid is taken to be as before.",
            "Depths within 3 cm of the first of a stretch, months within one and cores within a factor of two count as the \
             same (our judgement).",
            "Two laboratories are joined again by sending both one bag.",
        ],
        sources: &[Cite::new("SoilTestRepeat", "what to keep the same from test to test")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let reading = |laboratory: &str, month: f64| Circumstances {
            laboratory: Some(laboratory.to_owned()),
            month: Some(ReadingMonth::literal(month)),
            ..Circumstances::default()
        };
        SeriesInput {
            readings: vec![reading("A", 4.0), reading("A", 4.0), reading("B", 4.0), reading("B", 9.0)],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let count = input.readings.len();
        if !(1..=1000).contains(&count) {
            return Err(Refusal::new("readings", format!("{count} readings were given"))
                .given(count)
                .accepted("1 to 1000 readings")
                .example(4));
        }
        for (at, one) in input.readings.iter().enumerate() {
            if let (Some(top), Some(bottom)) = (one.from_cm, one.to_cm)
                && bottom.get() <= top.get()
            {
                return Err(Refusal::new(
                    format!("readings[{at}].to_cm"),
                    "the bottom of the layer must be deeper than its top",
                )
                .given(bottom.get())
                .accepted(format!("more than {} cm", top.get()))
                .example(top.get() + 20.0));
            }
        }
        let changed = changes(&input.readings);
        let stretches = stretches(&changed)
            .into_iter()
            .map(|stretch| Stretch { first: stretch.start + 1, last: stretch.end })
            .collect();
        Ok(Answer::plain(SeriesOutput { stretches, changed }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let stretches: Vec<String> = answer
            .value
            .stretches
            .iter()
            .map(|one| {
                if one.first == one.last {
                    one.first.to_string()
                } else {
                    format!("{} to {}", one.first, one.last)
                }
            })
            .collect();
        Working::new()
            .step(
                "stretches that compare",
                "cut where laboratory, procedure or depth differ from what was last told",
                format!("{} readings", input.readings.len()),
                stretches.join("; "),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// SoilTestRepeat: "the same depth every time"; 15 and 20 cm are two depths however slowly one became the other.
    #[test]
    fn a_depth_that_creeps_is_held_against_the_first_of_its_stretch() {
        let to = |to_cm: f64| Circumstances {
            from_cm: Some(ReadingDepth::literal(0.0)),
            to_cm: Some(ReadingDepth::literal(to_cm)),
            ..Circumstances::default()
        };
        let found = changes(&[to(15.0), to(18.0), to(21.0), to(24.0), to(27.0), to(30.0)]);
        assert_eq!(stretches(&found), [0..2, 2..4, 4..6]);
        assert_eq!(found[2], [Changed::Depth { from_cm: [0.0, 15.0], to_cm: [0.0, 21.0] }]);
        // What strays to either side of the first stays together.
        let strays = stretches(&changes(&[to(15.0), to(18.0), to(13.0), to(17.0)]));
        assert_eq!((strays.len(), strays[0].clone()), (1, 0..4));
        // Where something else cut it, the depth counts from there.
        let other = Circumstances { laboratory: Some("B".to_owned()), ..to(18.0) };
        let first = Circumstances { laboratory: Some("A".to_owned()), ..to(15.0) };
        assert_eq!(stretches(&changes(&[first, other, to(21.0)])), [0..1, 1..3]);
    }
}
