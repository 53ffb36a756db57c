//! Why a run could not be finished.

/// A run that could not be finished.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FlowFailure {
    /// No step, however short, could be solved.
    NotSolved {
        /// Hours from the start.
        time_h: f64,
        /// Depth of the cell that stood out, cm.
        depth_cm: f64,
    },
    /// The limit on steps was reached.
    TooManySteps {
        /// Hours from the start.
        time_h: f64,
        /// The limit.
        steps: usize,
    },
}

impl std::fmt::Display for FlowFailure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NotSolved { time_h, depth_cm } => write!(
                f,
                "the water balance could not be solved at {time_h:.4} h near {depth_cm:.1} cm depth: try smaller \
                 cells there, or a soil whose conductivity falls less steeply"
            ),
            Self::TooManySteps { time_h, steps } => write!(
                f,
                "after {steps} steps the run had come to {time_h:.4} h only: try larger cells or a shorter time"
            ),
        }
    }
}

impl std::error::Error for FlowFailure {}
