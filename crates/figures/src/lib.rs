//! Pictures of the ground as SVG, for the page, the printed sheet and the command line.
//!
//! Each picture is a [`Figure`]: an SVG string to put into a page as it is, a text alternative,
//! and the same numbers as a [`Table`]. The SVG uses presentation attributes and classes only, so
//! a strict content security policy lets it through; its ink is `currentColor`; every fill has a
//! hatch of its own, so that nothing depends on colour. Drawn for 340 px of width and scaled up
//! from there by the page ([`STYLE`]).
//!
//! * [`triangle`]: the texture triangle with the belief's cloud and the evidence.
//! * [`jar`]: a jar of settled soil to scale.
//! * [`odds`]: the odds of each texture class.
//! * [`spread`]: one quantity with its 90 % range.
//! * [`tank`]: the water a foot (or a metre) of ground holds.
//! * [`moisture`]: what a moisture reading means, with the odds.
//! * [`profile`]: the ground as a tank with layers.
//! * [`retention`]: how tightly the ground holds its water.
//! * [`season`]: the water balance of a bed, with what fell and was put on.
//! * [`wetting`]: water going down over the hours of one irrigation.
//! * [`drain`]: drains or ditches and the water table between them.
//! * [`acidity`]: the pH among the ranges of the crops, and lime needs by method.
//! * [`balance`]: what ground was given and what it gave, year by year.
//! * [`probe`]: how hard the ground is by depth, with the pan.
//! * [`calendar`]: covers against the rotation.
//! * [`outlook`]: the odds that watering is due on the days ahead.
//! * [`plan`]: the farm from above, with numbered points, scale bar and north arrow.
//! * [`series`]: one property over the years, with its error bars and cuts.
//! * [`post`]: a post in section, with layers, depth, collar and loads.
//!
//! Bad input never panics: what cannot be drawn is left out and the text says so.

pub mod acidity;
pub mod balance;
pub mod calendar;
mod callout;
mod canvas;
mod chart;
pub mod drain;
mod figure;
pub mod jar;
pub mod map;
mod measures;
pub mod moisture;
pub mod odds;
pub mod outlook;
pub mod palette;
pub mod plan;
pub mod post;
pub mod probe;
pub mod profile;
pub mod retention;
pub mod season;
pub mod series;
pub mod spread;
pub mod tank;
pub mod triangle;
pub mod wetting;
mod words;

pub use figure::{Figure, Table};

/// Style sheet for pages that carry figures: how wide they grow and how they print.
pub const STYLE: &str = include_str!("figures.css");
