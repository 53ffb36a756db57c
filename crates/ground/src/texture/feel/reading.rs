//! What the fingers found, as it is kept in the farm book.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the fingers found, step by step, as it is kept in the farm book.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FeelReading {
    /// Does moist soil, squeezed, hold as a ball?
    pub ball_holds: bool,
    /// Length of ribbon before it breaks by its own weight; `None` when it makes no ribbon, or the
    /// ball does not hold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ribbon_mm: Option<RibbonLength>,
    /// How a very wet pinch rubs; `None` when no ribbon was made.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rub: Option<Rub>,
    /// How practised the hand is.
    pub hand: Hand,
}

crate::quantity! {
    /// Length of the ribbon at which it broke.
    pub struct RibbonLength: "ribbon length", "mm", 1.0 ..= 200.0, example 35.0;
}

/// How a very wet pinch of soil feels when rubbed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Rub {
    /// Very gritty.
    Gritty,
    /// Very smooth.
    Smooth,
    /// Neither.
    Neither,
}

/// How practised the hand is that feels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Hand {
    /// Feels soil for a living.
    Professional,
    /// Has been taught and has done a few dozen.
    Practised,
    /// New to it.
    New,
}
