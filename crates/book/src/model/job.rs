//! A person's word on a job of the work plan, and jobs of the person's own.

use ground::kit::Refusal;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{EntryId, Kind, Links, Record, SpreadMass, SpreadMaterial, text};

/// Most materials of one job.
const MOST_MATERIALS: usize = 60;

/// What a person said of one job. There is one record for a job; a change of mind corrects it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobWord {
    /// Key of the job in the work plan; jobs of the person's own begin with "own.".
    pub key: String,
    /// The plot it is about.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plot: Option<EntryId>,
    /// The bed it is about.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bed: Option<EntryId>,
    /// What was decided.
    pub choice: JobChoice,
    /// Not before this day; of a job that is postponed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>", example = &"2026-10-01")]
    pub until: Option<Date>,
    /// What the person will do instead of what the plan says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub changed: Option<JobChange>,
    /// Why.
    #[serde(default)]
    pub reason: String,
    /// What was done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub done: Option<JobDone>,
    /// The job as the plan said it when the person spoke; for a job of the person's own, the job.
    pub as_planned: PlannedJob,
}

/// What was decided on a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum JobChoice {
    /// As planned.
    Accepted,
    /// Otherwise than planned.
    Changed,
    /// Later.
    Postponed,
    /// Not at all.
    Refused,
}

impl JobChoice {
    /// Every choice.
    pub const ALL: [Self; 4] = [Self::Accepted, Self::Changed, Self::Postponed, Self::Refused];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Accepted => "accepted",
            Self::Changed => "changed",
            Self::Postponed => "postponed",
            Self::Refused => "refused",
        }
    }
}

/// What the person will do instead.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobChange {
    /// On this day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>", example = &"2026-10-01")]
    pub on: Option<Date>,
    /// So much of each material; materials that are left out stay as planned.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub materials: Vec<JobMaterial>,
    /// In words.
    #[serde(default)]
    pub note: String,
}

/// That a job was done. What was spread stands in the applications with the job's key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobDone {
    /// The day.
    #[schemars(with = "String", example = &"2026-04-12")]
    pub on: Date,
    /// What was done otherwise, and what was seen.
    #[serde(default)]
    pub note: String,
}

/// A job as the plan said it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlannedJob {
    /// What is to be done, in a line.
    pub what: String,
    /// Where, in words.
    #[serde(default)]
    pub place: String,
    /// First day that suits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>", example = &"2026-09-15")]
    pub from: Option<Date>,
    /// Last day that suits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>", example = &"2026-11-15")]
    pub to: Option<Date>,
    /// How much of what.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub materials: Vec<JobMaterial>,
}

/// How much of one material a job takes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobMaterial {
    /// The material.
    pub material: SpreadMaterial,
    /// How much in all.
    pub kg: SpreadMass,
}

/// What the keys of a person's own jobs begin with.
pub const OWN_JOB: &str = "own.";

impl JobWord {
    /// Is it a job of the person's own?
    #[must_use]
    pub fn is_own(&self) -> bool {
        self.key.starts_with(OWN_JOB)
    }
}

impl Record for JobWord {
    const KIND: Kind = Kind::Job;

    fn check(&self) -> Result<(), Refusal> {
        text::key("key", &self.key, "lime.east-tunnel.2026")?;
        text::note("reason", &self.reason)?;
        match (self.choice, self.until) {
            (JobChoice::Postponed, None) => {
                return Err(Refusal::new("until", "a job that is postponed needs the day until which")
                    .given("nothing")
                    .accepted("a day")
                    .example("2026-10-01"));
            }
            (JobChoice::Postponed, Some(_)) | (_, None) => {}
            (_, Some(until)) => {
                return Err(Refusal::new("until", "only a job that is postponed has a day until which")
                    .given(until)
                    .accepted("nothing, or a job that is postponed"));
            }
        }
        match (self.choice, &self.changed) {
            (JobChoice::Changed, None) => {
                return Err(Refusal::new("changed", "it is not said what is changed")
                    .given("nothing")
                    .accepted("another day, other amounts, or a note")
                    .example("on 2026-10-01"));
            }
            (JobChoice::Changed, Some(changed)) => {
                if changed.on.is_none() && changed.materials.is_empty() && changed.note.trim().is_empty() {
                    return Err(Refusal::new("changed", "it is not said what is changed")
                        .given("nothing")
                        .accepted("another day, other amounts, or a note")
                        .example("on 2026-10-01"));
                }
                text::note("changed.note", &changed.note)?;
                materials("changed.materials", &changed.materials)?;
            }
            (_, None) => {}
            (_, Some(_)) => {
                return Err(Refusal::new("changed", "only a job that is changed says what is changed")
                    .accepted("nothing, or a job that is changed"));
            }
        }
        if self.choice == JobChoice::Refused {
            if self.reason.trim().is_empty() {
                return Err(Refusal::new("reason", "a job that is refused needs a reason")
                    .given("nothing")
                    .accepted("why it will not be done")
                    .example("The bed goes to grass"));
            }
            if self.done.is_some() {
                return Err(Refusal::new("done", "a job that is refused cannot be done")
                    .accepted("a job that is accepted, changed or postponed"));
            }
        }
        if let Some(done) = &self.done {
            text::note("done.note", &done.note)?;
        }
        text::name("as_planned.what", &self.as_planned.what, "Spread 4 lb of feather meal")?;
        text::label("as_planned.place", &self.as_planned.place, "Rows 1 to 8, Lower field")?;
        materials("as_planned.materials", &self.as_planned.materials)?;
        if let (Some(from), Some(to)) = (self.as_planned.from, self.as_planned.to)
            && to < from
        {
            return Err(Refusal::new(
                "as_planned.to",
                format!("the last day ({to}) comes before the first ({from})"),
            )
            .given(to)
            .accepted(format!("{from} or a later day"))
            .example(from));
        }
        Ok(())
    }

    fn links(&self) -> Links {
        Links { plot: self.plot, bed: self.bed, ..Links::default() }
    }
}

fn materials(field: &str, given: &[JobMaterial]) -> Result<(), Refusal> {
    if given.len() > MOST_MATERIALS {
        return Err(Refusal::new(field, format!("{} materials were given", given.len()))
            .given(given.len())
            .accepted(format!("at most {MOST_MATERIALS}"))
            .example("one or two materials"));
    }
    for (place, one) in given.iter().enumerate() {
        if let SpreadMaterial::Catalogue(key) = &one.material {
            text::name(&format!("{field}[{place}].material.catalogue"), key, "feather-meal")?;
        }
    }
    Ok(())
}
