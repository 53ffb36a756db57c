//! From the laboratory's printout to what to spread.

pub mod lab;
