//! The root zone day by day, drip and sprinklers, and when to water.
//!
//! * [`balance`]: what the roots have left, day by day, for one soil or an ensemble of soils.
//! * [`moisture`]: what a hand, a tensiometer or a sensor says, and what that does to the reckoning.
//! * [`hardware`]: what tape, emitters and sprinklers put on, and what a supply can feed.
//! * [`outlook`]: when water is due and how much, with odds.

pub mod balance;
pub mod hardware;
pub mod moisture;
pub mod outlook;
