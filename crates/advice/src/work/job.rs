//! One job of the plan.

use book::model::{
    EntryId, JobChange, JobChoice, JobMaterial, Placed, PlannedJob, SpreadMass, SpreadMaterial,
};
use ground::kit::{Bounded, Working};
use jiff::civil::Date;
use serde::Serialize;

/// What a job is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Topic {
    /// Water off and away.
    Drainage,
    /// Lime, sulfur and gypsum.
    Acidity,
    /// Nutrients and compost.
    Feeding,
    /// Loosening, beds, mulch and covers.
    Ground,
    /// Salts.
    Salts,
    /// Measuring and having measured.
    Test,
    /// Harvest and what must be waited for.
    Harvest,
    /// Posts and structures.
    Build,
    /// Something of the person's own.
    Own,
}

impl Topic {
    /// Every topic.
    pub const ALL: [Self; 9] = [
        Self::Drainage,
        Self::Acidity,
        Self::Feeding,
        Self::Ground,
        Self::Salts,
        Self::Test,
        Self::Harvest,
        Self::Build,
        Self::Own,
    ];

    /// In a word or two.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Drainage => "drainage",
            Self::Acidity => "lime and acidity",
            Self::Feeding => "feeding",
            Self::Ground => "working the ground",
            Self::Salts => "salts",
            Self::Test => "testing",
            Self::Harvest => "harvest",
            Self::Build => "posts and structures",
            Self::Own => "your own",
        }
    }
}

/// How a job stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum JobState {
    /// The plan proposes it, and nothing was said of it.
    Proposed,
    /// It will be done as planned.
    Accepted,
    /// It will be done otherwise.
    Changed,
    /// Not before a day.
    Postponed,
    /// It will not be done.
    Refused,
    /// It was done.
    Done,
}

impl JobState {
    /// Every state.
    pub const ALL: [Self; 6] =
        [Self::Proposed, Self::Accepted, Self::Changed, Self::Postponed, Self::Refused, Self::Done];

    /// In a word.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Proposed => "proposed",
            Self::Accepted => "accepted",
            Self::Changed => "changed",
            Self::Postponed => "put off",
            Self::Refused => "refused",
            Self::Done => "done",
        }
    }

    /// Its key, as in the JSON.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Postponed => "postponed",
            other => other.words(),
        }
    }

    /// Is nothing left to do?
    #[must_use]
    pub fn is_settled(self) -> bool {
        matches!(self, Self::Refused | Self::Done)
    }

    pub(super) fn of(choice: JobChoice) -> Self {
        match choice {
            JobChoice::Accepted => Self::Accepted,
            JobChoice::Changed => Self::Changed,
            JobChoice::Postponed => Self::Postponed,
            JobChoice::Refused => Self::Refused,
        }
    }
}

/// When a job suits, and why then.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Window {
    /// First day that suits.
    #[serde(serialize_with = "maybe_text")]
    pub from: Option<Date>,
    /// Last day that suits.
    #[serde(serialize_with = "maybe_text")]
    pub to: Option<Date>,
    /// Why then.
    pub why: String,
}

/// Calendar days are written as text.
fn maybe_text<S: serde::Serializer>(date: &Option<Date>, to: S) -> Result<S::Ok, S::Error> {
    match date {
        Some(date) => to.collect_str(date),
        None => to.serialize_none(),
    }
}

impl Window {
    /// From one day to another.
    #[must_use]
    pub fn between(from: Date, to: Date, why: impl Into<String>) -> Self {
        Self { from: Some(from), to: Some(to.max(from)), why: why.into() }
    }

    /// Until a day.
    #[must_use]
    pub fn by(to: Date, why: impl Into<String>) -> Self {
        Self { from: None, to: Some(to), why: why.into() }
    }

    /// From a day on.
    #[must_use]
    pub fn after(from: Date, why: impl Into<String>) -> Self {
        Self { from: Some(from), to: None, why: why.into() }
    }
}

/// A material that a job takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Spread {
    /// The material.
    pub material: SpreadMaterial,
    /// What it is called.
    pub name: String,
    /// How much in all, kilograms as it comes.
    pub kg: f64,
    /// How it is placed.
    pub placed: Placed,
    /// In units a person carries: "4 lb 8 oz of feather meal".
    pub carried: String,
    /// In buckets or shovels, where the bulk density is known; may be empty.
    pub buckets: String,
}

/// What a job follows from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "from", rename_all = "snake_case")]
pub enum Source {
    /// A finding on a plot.
    Finding {
        /// Identity of the rule.
        id: String,
    },
    /// A soil test, or that there is none.
    SoilTest,
    /// The acidity of a plot.
    Acidity,
    /// The structure of a plot.
    Structure,
    /// A reading that is followed over the years.
    Again,
    /// The plan of what to spread.
    SpreadPlan,
    /// A cover that is sown or a gap that asks for one.
    Covers,
    /// Something that was spread.
    Application,
    /// A structure that is planned.
    Posts {
        /// The record.
        id: EntryId,
    },
    /// A sampling plan that was kept.
    Sampling {
        /// The record.
        id: EntryId,
    },
    /// The person.
    Own,
}

/// A person's word on a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Decided {
    /// The record; absent where a decision on the finding itself speaks for the job.
    pub record: Option<EntryId>,
    /// Its revision.
    pub number: u32,
    /// Who said it.
    pub by: String,
    /// When, UTC.
    pub at: String,
    /// Why.
    pub reason: String,
}

/// That a job was done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct JobDoneOn {
    /// The day.
    #[serde(serialize_with = "text")]
    pub on: Date,
    /// What was seen.
    pub note: String,
    /// What was spread, one line a material.
    pub spread: Vec<String>,
}

fn text<S: serde::Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(date)
}

/// A job.
#[derive(Debug, Clone, Serialize)]
pub struct Job {
    /// What it is known by from plan to plan: letters, digits, hyphens and points.
    pub key: String,
    /// What it is about.
    pub topic: Topic,
    /// What to do, in a line.
    pub what: String,
    /// The plot.
    pub plot: Option<EntryId>,
    /// Its name.
    pub plot_name: String,
    /// The bed.
    pub bed: Option<EntryId>,
    /// Where, in words.
    pub place: String,
    /// What it takes to the ground.
    pub spread: Vec<Spread>,
    /// When it suits.
    pub window: Window,
    /// What must come first.
    pub waits_for: Vec<String>,
    /// What it costs, in words; may be empty.
    pub cost: String,
    /// What could hurt someone or do damage.
    pub cautions: Vec<String>,
    /// Why, with numbers.
    pub reasons: Vec<String>,
    /// The numbers behind it.
    pub working: Working,
    /// What it follows from.
    pub source: Source,
    /// How it stands.
    pub state: JobState,
    /// Not before this day, of a job that was put off.
    #[serde(serialize_with = "maybe_text")]
    pub until: Option<Date>,
    /// The person's word.
    pub decided: Option<Decided>,
    /// What the person does instead.
    pub changed: Option<JobChange>,
    /// What was done.
    pub done: Option<JobDoneOn>,
    /// Where the plan would now say something else than what was decided on.
    pub differs: Vec<String>,
}

impl Job {
    /// A job that is proposed.
    #[must_use]
    pub fn new(key: impl Into<String>, topic: Topic, what: impl Into<String>, source: Source) -> Self {
        Self {
            key: key.into(),
            topic,
            what: what.into(),
            plot: None,
            plot_name: String::new(),
            bed: None,
            place: String::new(),
            spread: Vec::new(),
            window: Window::default(),
            waits_for: Vec::new(),
            cost: String::new(),
            cautions: Vec::new(),
            reasons: Vec::new(),
            working: Working::new(),
            source,
            state: JobState::Proposed,
            until: None,
            decided: None,
            changed: None,
            done: None,
            differs: Vec::new(),
        }
    }

    /// The same job on a plot.
    #[must_use]
    pub fn on_plot(mut self, plot: EntryId, name: &str) -> Self {
        self.plot = Some(plot);
        name.clone_into(&mut self.plot_name);
        if self.place.is_empty() {
            name.clone_into(&mut self.place);
        }
        self
    }

    /// The same job on a bed of that plot.
    #[must_use]
    pub fn on_bed(mut self, bed: EntryId, name: &str) -> Self {
        self.bed = Some(bed);
        self.place = format!("{name}, {}", self.plot_name);
        self
    }

    /// The same job within a window.
    #[must_use]
    pub fn within(mut self, window: Window) -> Self {
        self.window = window;
        self
    }

    /// The same job with a reason.
    #[must_use]
    pub fn because(mut self, reason: impl Into<String>) -> Self {
        self.reasons.push(reason.into());
        self
    }

    /// The same job with a caution.
    #[must_use]
    pub fn caution(mut self, caution: impl Into<String>) -> Self {
        self.cautions.push(caution.into());
        self
    }

    /// The same job with its working.
    #[must_use]
    pub fn worked(mut self, working: Working) -> Self {
        self.working = working;
        self
    }

    /// The day on which to do it at the latest or, failing that, from which on; those without any come last.
    #[must_use]
    pub fn due(&self, today: Date) -> (bool, Date, Date) {
        let from = self.until.into_iter().chain(self.window.from).max();
        let first = from.unwrap_or(today).max(today);
        (from.is_none() && self.window.to.is_none(), first, self.window.to.unwrap_or(Date::MAX))
    }

    /// Should it have been done before `today`?
    #[must_use]
    pub fn is_late(&self, today: Date) -> bool {
        !self.state.is_settled() && self.window.to.is_some_and(|to| to < today)
    }

    /// Does it suit on some day from `first` to `last`?
    #[must_use]
    pub fn suits(&self, first: Date, last: Date) -> bool {
        let from = self.until.into_iter().chain(self.window.from).max();
        from.is_none_or(|from| from <= last) && self.window.to.is_none_or(|to| to >= first)
    }

    /// The job as the book keeps it beside a person's word.
    #[must_use]
    pub fn as_planned(&self) -> PlannedJob {
        let short = |text: &str| text.chars().take(120).collect::<String>();
        PlannedJob {
            what: short(&self.what),
            place: short(&self.place),
            from: self.window.from,
            to: self.window.to,
            materials: self
                .spread
                .iter()
                .filter_map(|spread| {
                    // What rounds to nothing is not carried.
                    let kg = SpreadMass::new(spread.kg).ok()?;
                    Some(JobMaterial { material: spread.material.clone(), kg })
                })
                .collect(),
        }
    }
}
