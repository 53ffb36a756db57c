//! When the ground may be worked: consistency limits, the ball, the water range of tillage, days after rain.

pub mod ball;
pub mod limits;
pub mod tillage_range;
pub mod workable_days;
