//! Acidity, nutrients, and what to spread: from the laboratory's printout to pounds and bags.
//!
//! * [`analysis`]: a laboratory's figures, their units and what follows from them alone.
//! * [`schemes`]: published schemes that turn a figure into a class and a class into a rate.
//! * [`acidity`]: lime requirement, liming materials, sulfur, gypsum.
//! * [`needs`]: what crops need, what is credited, what a harvest carries away.
//! * [`organic`]: manures, composts and meals: nitrogen over the seasons, volumes, salts, intervals.
//! * [`blend`]: materials that meet the needs of many beds at least cost, in whole bags.

pub mod acidity;
pub mod analysis;
pub mod blend;
pub mod needs;
pub mod organic;
pub mod schemes;
