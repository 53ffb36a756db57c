//! A finding: what follows for one question from what is believed of a plot, and how surely.

use ground::kit::{Cite, Provenance, Working};
use schemars::JsonSchema;
use serde::Serialize;

use crate::settle::Settles;

/// Odds at and above which a finding is firm.
pub const FIRM_FROM: f64 = 0.95;
/// Odds at and above which a finding is likely.
pub const LIKELY_FROM: f64 = 0.75;

/// How surely a finding holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Firmness {
    /// Holds over 95 % or more of what is possible, or was seen.
    Firm,
    /// Holds over 75 % or more.
    Likely,
    /// Neither: it hangs on something that can be measured.
    Open,
}

impl Firmness {
    /// The firmness of odds.
    #[must_use]
    pub fn of(odds: f64) -> Self {
        // Odds are sums of many small weights: half a millionth short of 95 % is 95 %.
        match odds + 5e-7 {
            odds if odds >= FIRM_FROM => Self::Firm,
            odds if odds >= LIKELY_FROM => Self::Likely,
            _ => Self::Open,
        }
    }

    /// In a word.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Firm => "firm",
            Self::Likely => "likely",
            Self::Open => "open",
        }
    }
}

/// What kind of statement a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// How the ground behaves.
    Behaviour,
    /// What helps it.
    Do,
    /// What to leave alone.
    Avoid,
    /// Building on it.
    Build,
}

impl Kind {
    /// Every kind in the order of a page.
    pub const ALL: [Self; 4] = [Self::Behaviour, Self::Do, Self::Avoid, Self::Build];

    /// Heading over findings of this kind.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Behaviour => "How this ground behaves",
            Self::Do => "What helps it",
            Self::Avoid => "What to leave alone",
            Self::Build => "Posts and structures",
        }
    }
}

/// What a finding rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Worked out from what is believed of the make-up.
    MakeUp,
    /// Somebody saw it on this plot.
    Seen,
    /// Holds for any ground.
    AnyGround,
}

impl Basis {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::MakeUp => "worked out from the make-up of the ground",
            Self::Seen => "seen on this plot",
            Self::AnyGround => "holds on any ground",
        }
    }
}

/// One of the answers a rule weighs.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Alternative {
    /// Its key.
    pub verdict: &'static str,
    /// The answer as a clause: "it holds little water".
    pub words: &'static str,
    /// Its odds, 0 to 1.
    pub odds: f64,
}

/// The answer to one question about a plot.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Finding {
    /// Identity of the rule, kebab-case.
    pub id: &'static str,
    /// Title of the rule.
    pub title: &'static str,
    /// The question it answers.
    pub question: &'static str,
    /// What kind of statement it is.
    pub kind: Kind,
    /// Key of the answer.
    pub verdict: &'static str,
    /// The answer, for the grower.
    pub statement: String,
    /// Every answer that was weighed, most likely first; empty where nothing was weighed.
    pub alternatives: Vec<Alternative>,
    /// Odds of the answer, 0 to 1; absent where it was seen or holds on any ground.
    pub odds: Option<f64>,
    /// How surely it holds.
    pub firmness: Firmness,
    /// What it rests on.
    pub basis: Basis,
    /// Why, with numbers.
    pub reasons: Vec<String>,
    /// What could hurt someone or do damage, and who decides.
    pub cautions: Vec<&'static str>,
    /// How the rule reached this project.
    pub provenance: Provenance,
    /// The same in words for a page.
    pub provenance_words: &'static str,
    /// Where the rule is published.
    pub sources: Vec<Cite>,
    /// The numbers behind the answer.
    pub working: Working,
    /// Which measurement would settle it, while it is not firm.
    pub settles: Option<Settles>,
    /// What to look for on the plot, which settles it without any test; empty when it is firm.
    pub look: &'static str,
    /// Does the answer hold at each draw? Kept only until it is known what would settle it.
    #[serde(skip)]
    #[schemars(skip)]
    pub(crate) holds: Vec<bool>,
    /// How much hangs on it, against the other questions.
    #[serde(skip)]
    #[schemars(skip)]
    pub(crate) stake: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn firmness_has_the_limits_it_says() {
        assert_eq!(Firmness::of(1.0), Firmness::Firm);
        assert_eq!(Firmness::of(0.95), Firmness::Firm);
        assert_eq!(Firmness::of(0.949), Firmness::Likely);
        assert_eq!(Firmness::of(0.75), Firmness::Likely);
        assert_eq!(Firmness::of(0.749), Firmness::Open);
    }
}
