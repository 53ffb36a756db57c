//! What to spread on paper, bed by bed.

use serde::Serialize;

use crate::sheet::{Caution, Sheet};
use crate::templates::Template;

/// What to spread, bed by bed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct SpreadSheet {
    /// Sentences above the beds.
    pub lead: Vec<String>,
    /// The beds.
    pub beds: Vec<SpreadBed>,
    /// Cautions the lines point to.
    pub cautions: Vec<Caution>,
}

/// One bed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct SpreadBed {
    /// Plot and bed.
    pub place: String,
    /// Its size and what grows there; empty where neither is known.
    pub about: String,
    /// What to carry to it. A bed without lines is printed with its notes.
    pub lines: Vec<SpreadLine>,
    /// What else is to be known of it.
    pub notes: Vec<String>,
}

/// One material for one bed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct SpreadLine {
    /// The material.
    pub material: String,
    /// How much, weighed: "12 lb 4 oz".
    pub amount: String,
    /// The same as it is carried, "about 1 1/2 buckets"; empty where that is not known.
    pub carried: String,
    /// How and when.
    pub how: String,
    /// Signs of the cautions that belong to it.
    pub cautions: Vec<String>,
}

impl Sheet for SpreadSheet {
    const TEMPLATE: Template = Template::SPREAD;

    fn title(&self) -> &str {
        "What to spread"
    }
}
