//! Which measurement would settle an open finding best for its cost.

use schemars::JsonSchema;
use serde::Serialize;

/// The measurement that would settle a finding best for its cost.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Settles {
    /// Name of the measurement.
    pub measurement: String,
}
