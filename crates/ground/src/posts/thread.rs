//! How soil rolls into a thread, and the plasticity index that stands for it where no laboratory gave one.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::Provenance;

/// How moist soil rolls into a thread of 3 mm, the steps of the visual-manual procedure (ASTM D2488, recalled).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Thread {
    /// No thread can be rolled at any water content.
    None,
    /// A thread can barely be rolled, and no lump be made of it once it crumbles.
    Weak,
    /// It rolls easily; it cannot be rolled again once it has crumbled.
    Medium,
    /// It takes long to dry to crumbling, and can be rolled again several times.
    Tough,
}

impl Thread {
    /// How its plasticity index is known: the procedure gives none, the figure lies within the range that a table of
    /// plasticity gives the step.
    pub const PROVENANCE: Provenance = Provenance::Judgement;

    /// Every step, silty to fat.
    pub const ALL: [Self; 4] = [Self::None, Self::Weak, Self::Medium, Self::Tough];

    /// Its name in the file.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Weak => "weak",
            Self::Medium => "medium",
            Self::Tough => "tough",
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::None => "no thread can be rolled",
            Self::Weak => "barely rolls into a thread",
            Self::Medium => "rolls easily once",
            Self::Tough => "rolls again and again",
        }
    }

    /// Plasticity index that goes with it, percent: [`Self::PROVENANCE`].
    #[must_use]
    pub fn plasticity_index(self) -> f64 {
        match self {
            Self::None => 2.0,
            Self::Weak => 7.0,
            Self::Medium => 17.0,
            Self::Tough => 35.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::structure::working::limits::Plasticity;

    #[test]
    fn keys_are_those_of_the_json() {
        for thread in Thread::ALL {
            assert_eq!(serde_json::to_value(thread).unwrap(), thread.key());
        }
    }

    /// Steps of plasticity of soil mechanics: below 7 slight, 7 to 17 medium, above it high (common practice); a thread
    /// that cannot be rolled, below 4, is silt on the chart of ASTM D2487 (recalled).
    #[test]
    fn the_index_of_a_thread_lies_in_the_step_of_its_name() {
        assert!(Thread::None.plasticity_index() < 4.0);
        assert_eq!(Plasticity::of(Thread::Weak.plasticity_index()), Plasticity::Medium);
        assert_eq!(Plasticity::of(Thread::Medium.plasticity_index()), Plasticity::Medium);
        assert_eq!(Plasticity::of(Thread::Tough.plasticity_index()), Plasticity::High);
        assert!(Thread::ALL.windows(2).all(|pair| pair[0].plasticity_index() < pair[1].plasticity_index()));
    }
}
