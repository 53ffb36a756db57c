//! The spade look: do crumbs hold in water, how do the layers break, who lives there, and what it smells of.

pub mod crumbs;
pub mod look;
pub mod score;
pub mod slake;
pub mod worms;
