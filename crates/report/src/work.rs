//! The work plan on paper: one job a line, a box to tick, a place to write what was really done.

use serde::Serialize;

use crate::sheet::{Caution, Sheet};
use crate::templates::Template;

/// The work plan.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct WorkSheet {
    /// Sentences above the jobs.
    pub lead: Vec<String>,
    /// The jobs, by the time they are due.
    pub groups: Vec<WorkGroup>,
    /// Cautions the lines point to.
    pub cautions: Vec<Caution>,
}

/// Jobs due at one time.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WorkGroup {
    /// When: "Now", "April 2026".
    pub heading: String,
    /// The jobs.
    pub lines: Vec<WorkLine>,
}

/// One job.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct WorkLine {
    /// Where: plot and bed.
    pub place: String,
    /// What to do.
    pub what: String,
    /// How, what it waits for, what a person decided: short sentences below the job.
    pub details: Vec<String>,
    /// How much of what, in units a person carries, one a material; empty where there is nothing to carry.
    pub how_much: Vec<String>,
    /// When.
    pub when: String,
    /// Signs of the cautions that belong to it.
    pub cautions: Vec<String>,
}

impl Sheet for WorkSheet {
    const TEMPLATE: Template = Template::WORK;

    fn title(&self) -> &str {
        "Work plan"
    }
}
