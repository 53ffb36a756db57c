//! A refused input, told so that a person can mend it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::quantity::{Bounded, OutOfRange, with_unit};
use super::units::{UnitSystem, in_units};

/// Which field was refused, what was given, what is accepted, and an example.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Refusal {
    /// Path of the field: `sand_percent`, `marks[1].height_mm`. Empty when the whole input is meant.
    pub field: String,
    /// One sentence for the person, naming the value and what is wrong with it.
    pub message: String,
    /// What was given, as written.
    pub given: String,
    /// What is accepted, in words.
    pub accepted: String,
    /// A value that would be accepted.
    pub example: String,
}

impl Refusal {
    /// A refusal with its sentence; complete it with [`given`](Self::given), [`accepted`](Self::accepted)
    /// and [`example`](Self::example).
    #[must_use]
    pub fn new(field: impl Into<String>, message: impl Into<String>) -> Self {
        Self {
            field: field.into(),
            message: message.into(),
            given: String::new(),
            accepted: String::new(),
            example: String::new(),
        }
    }

    /// Says what was given.
    #[must_use]
    pub fn given(mut self, given: impl ToString) -> Self {
        self.given = given.to_string();
        self
    }

    /// Says what is accepted.
    #[must_use]
    pub fn accepted(mut self, accepted: impl Into<String>) -> Self {
        self.accepted = accepted.into();
        self
    }

    /// Shows a value that would be accepted.
    #[must_use]
    pub fn example(mut self, example: impl ToString) -> Self {
        self.example = example.to_string();
        self
    }

    /// Puts `outer` before the field's path, when a part of an input was checked by itself.
    #[must_use]
    pub fn inside(mut self, outer: &str) -> Self {
        self.field = if self.field.is_empty() { outer.to_owned() } else { format!("{outer}.{}", self.field) };
        self
    }

    /// The same refusal in the units that the person reads and writes.
    #[must_use]
    pub fn in_units(self, system: UnitSystem) -> Self {
        let told = |text: &str| in_units(text, system);
        Self {
            message: told(&self.message),
            given: told(&self.given),
            accepted: told(&self.accepted),
            example: told(&self.example),
            field: self.field,
        }
    }

    /// The refusal of one out-of-range number at `field`.
    #[must_use]
    pub fn out_of_range(field: impl Into<String>, error: &OutOfRange) -> Self {
        Self::new(field, error.to_string())
            .given(with_unit(error.given, error.unit))
            .accepted(error.accepted())
            .example(with_unit(error.example, error.unit))
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.field.is_empty() {
            f.write_str(&self.message)
        } else {
            write!(f, "{}: {}", self.field, self.message)
        }
    }
}

impl std::error::Error for Refusal {}

/// Checks a plain number against quantity `Q` and names the field in the refusal.
pub fn bounded<Q: Bounded>(field: &str, value: f64) -> Result<Q, Refusal> {
    Q::new(value).map_err(|error| Refusal::out_of_range(field, &error))
}
