//! The working of an answer: steps a reader can follow with a pencil.

use schemars::JsonSchema;
use serde::Serialize;

use super::sources::Cite;

/// The steps from input to answer.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema)]
pub struct Working {
    /// In the order they are done.
    pub steps: Vec<Step>,
}

/// One step: what it finds, the equation, the same with numbers, and the result.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Step {
    /// What this step finds, in words.
    pub finds: String,
    /// The equation in symbols or the rule in words.
    pub rule: String,
    /// The same with this input's numbers.
    pub with_numbers: String,
    /// The result with its unit.
    pub result: String,
    /// Where the rule is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<Cite>,
}

impl Working {
    /// An empty working.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a step.
    #[must_use]
    pub fn step(
        mut self,
        finds: impl Into<String>,
        rule: impl Into<String>,
        with_numbers: impl Into<String>,
        result: impl Into<String>,
    ) -> Self {
        self.steps.push(Step {
            finds: finds.into(),
            rule: rule.into(),
            with_numbers: with_numbers.into(),
            result: result.into(),
            source: None,
        });
        self
    }

    /// Says where the last step's rule is published.
    #[must_use]
    pub fn cite(mut self, cite: Cite) -> Self {
        if let Some(last) = self.steps.last_mut() {
            last.source = Some(cite);
        }
        self
    }

    /// Appends another working, for a method built on another.
    #[must_use]
    pub fn then(mut self, mut other: Self) -> Self {
        self.steps.append(&mut other.steps);
        self
    }
}
