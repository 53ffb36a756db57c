//! From the book and the science to findings and decisions.
//!
//! [`plot_report`] gathers the evidence on a plot, combines it, and puts every rule of [`rules`] to
//! the ground as it may be; [`farm_report`] does so for the whole farm. A rule is one file in
//! `rules/` and one line in [`rules::RULES`]. Nothing here reads a clock: the same book gives the
//! same report.

pub mod again;
pub mod covers;
pub mod demo;
pub mod earthworks;
pub mod evidence;
pub mod facts;
pub mod farm_jars;
mod farm_report;
pub mod feeding;
pub mod finding;
pub mod lab_report;
pub mod lab_rounds;
mod layer_soil;
pub mod maps;
pub mod plan;
mod plot_report;
pub mod posts;
pub mod practice;
mod ranks;
pub mod results;
pub mod rings;
pub mod rule;
pub mod rules;
pub mod salt_reading;
mod sampling;
pub mod sampling_plan;
pub mod settle;
pub mod structure;
pub mod suits;
pub mod water;
pub mod watering;
pub mod words;
pub mod work;

pub use farm_report::{
    Attention, AttentionKind, FarmReport, NextMeasurement, Parted, PlotLine, farm_report, farm_report_of,
    plot_reports,
};
pub use finding::{Alternative, Basis, Finding, Firmness, Kind};
pub use plot_report::{Options, PlotReport, Supposed, plot_report, plot_report_with};
pub use settle::{Measurement, Settles};
