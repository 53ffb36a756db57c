//! A make-up of the fine earth: sand, silt and clay that add to 100 % by mass.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Note, NoteKind, Refusal};

crate::quantity! {
    /// Sand (2 mm down to the silt limit), share of the oven-dry fine earth by mass.
    pub struct SandPercent: "sand", "%", 0.0 ..= 100.0, example 40.0;
    /// Silt, share of the oven-dry fine earth by mass.
    pub struct SiltPercent: "silt", "%", 0.0 ..= 100.0, example 40.0;
    /// Clay (finer than 2 µm), share of the oven-dry fine earth by mass.
    pub struct ClayPercent: "clay", "%", 0.0 ..= 100.0, example 20.0;
}

/// How far from 100 a sum may be and still be rounding, in percentage points.
pub const ROUNDING_POINTS: f64 = 2.0;

/// Sand, silt and clay in percent by mass of the fine earth (< 2 mm), closed to 100.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Composition {
    /// Sand in percent.
    pub sand: f64,
    /// Silt in percent.
    pub silt: f64,
    /// Clay in percent.
    pub clay: f64,
}

impl Composition {
    /// From three parts of any common scale, rescaled to 100. The parts must not be negative and
    /// their sum must be positive; callers hold numbers of their own making.
    #[must_use]
    pub fn from_parts(sand: f64, silt: f64, clay: f64) -> Self {
        let total = sand + silt + clay;
        Self { sand: 100.0 * sand / total, silt: 100.0 * silt / total, clay: 100.0 * clay / total }
    }

    /// From percentages as a person or a laboratory gives them: sums off by rounding are closed
    /// with a note, others are refused.
    ///
    /// # Errors
    /// A sum further than [`ROUNDING_POINTS`] from 100.
    pub fn from_percent(
        sand: SandPercent,
        silt: SiltPercent,
        clay: ClayPercent,
    ) -> Result<(Self, Option<Note>), Refusal> {
        use crate::kit::Bounded;
        let (sand, silt, clay) = (sand.get(), silt.get(), clay.get());
        let sum = sand + silt + clay;
        if (sum - 100.0).abs() > ROUNDING_POINTS + 1e-9 {
            return Err(Refusal::new(
                "sand_percent",
                format!(
                    "sand, silt and clay must add to 100 %, but {sand} + {silt} + {clay} makes {}",
                    tidy(sum)
                ),
            )
            .given(format!("{sand} + {silt} + {clay} = {} %", tidy(sum)))
            .accepted("three shares that add to 98 to 102 %")
            .example("40 + 40 + 20"));
        }
        if sum == 100.0 {
            return Ok((Self { sand, silt, clay }, None));
        }
        let closed = Self::from_parts(sand, silt, clay);
        // A sum that differs only by binary rounding (85.1 + 14.9 + 0) is not worth a remark.
        let note = ((sum - 100.0).abs() > 1e-6).then(|| {
            Note::new(
                NoteKind::Adjusted,
                format!("The three shares add to {} %, which is rounding; each was scaled so that they add to 100.", tidy(sum)),
            )
        });
        Ok((closed, note))
    }
}

fn tidy(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}
