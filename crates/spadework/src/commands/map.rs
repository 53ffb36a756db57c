//! `map` and `zones`: what varies over a plot or the farm, and parts of a plot to treat apart.

use std::path::PathBuf;

use advice::maps::{
    MapReport, Property, accept, back_to_one, map_report, not_parted, suggested, tell, zones,
};
use advice::plan::FarmPlan;
use book::Snapshot;
use clap::Args;
use ground::kit::Refusal;
use ground::kit::units::{Dimension, show};
use jiff::ZonedDateTime;
use serde_json::json;

use crate::args::Global;
use crate::near::nearest;
use crate::report::{Report, table, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `map`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework map farm.farmbook ph
  spadework map farm.farmbook organic-matter \"East field\" --json")]
pub(crate) struct Map {
    /// The farm book
    book: PathBuf,
    /// What to map: ph, organic-matter, sand, clay, texture-class, available-water, potassium, lime-need ...
    property: String,
    /// Name of a plot, or its id; the whole farm where nothing is said
    plot: Option<String>,
}

/// Options of `zones`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework zones farm.farmbook ph \"East field\"
  spadework zones farm.farmbook ph \"East field\" --count 3 --accept
  spadework zones farm.farmbook ph \"East field\" --join")]
pub(crate) struct Zones {
    /// The farm book
    book: PathBuf,
    /// What to part the plot by
    property: String,
    /// Name of the plot, or its id
    plot: String,
    /// Number of zones, 2 to 4; the number the readings speak for where nothing is said
    #[arg(long, value_parser = clap::value_parser!(u8).range(2..=4))]
    count: Option<u8>,
    /// Make plots of the zones, and move the readings that lie in them
    #[arg(long, conflicts_with = "join")]
    accept: bool,
    /// Join zones that were made of this plot back to it
    #[arg(long)]
    join: bool,
    /// Who does it
    #[arg(long, value_name = "NAME", env = "SPADEWORK_NAME", default_value = "")]
    by: String,
}

/// The map of a property that was typed.
pub(super) fn report_of(
    snapshot: &Snapshot,
    property: &str,
    plot: Option<&str>,
) -> Result<MapReport, Trouble> {
    let property = Property::of_key(property).ok_or_else(|| {
        let keys: Vec<String> = Property::all().map(Property::key).collect();
        let near = nearest(property, keys.iter().map(String::as_str)).unwrap_or("ph").to_owned();
        Trouble::from(
            Refusal::new("property", format!("nothing that can be mapped is called {property:?}"))
                .given(property)
                .accepted(keys.join(", "))
                .example(near),
        )
    })?;
    let plot = plot.map(|name| shelf::plot(snapshot, name)).transpose()?.map(|plot| plot.id);
    map_report(snapshot, property, plot, ZonedDateTime::now().date())
        .ok_or_else(|| Trouble::other("the plot was withdrawn"))
}

fn section(text: &mut String, heading: &str, lines: &[String], terminal: &Terminal) {
    if lines.is_empty() {
        return;
    }
    text.push_str(&format!("\n\n{heading}"));
    for line in lines {
        text.push_str(&format!("\n{}", wrapped(&format!("- {line}"), terminal.width, "  ")));
    }
}

impl Map {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let units = global.system_or(snapshot.farm.body.units);
        let report = report_of(&snapshot, &self.property, self.plot.as_deref())?;
        let said = tell::sentences(&report, units);
        let title = format!("{}, {}", report.property.title(), report.name);
        let mut text = format!("{title}\n{}", "=".repeat(title.chars().count()));
        text.push_str(&format!("\n{}", wrapped(&said.lead, terminal.width, "")));
        let plots: Vec<String> = report
            .plots
            .iter()
            .map(|plot| format!("{}: {}", plot.name, tell::plot_words(&report, plot, units)))
            .collect();
        section(
            &mut text,
            if report.plot.is_some() { "The plot as a whole" } else { "Plot by plot" },
            &plots,
            terminal,
        );
        let mut why = said.reasons;
        why.extend(said.next);
        section(&mut text, "Why this and not more", &why, terminal);
        section(&mut text, "How good the surface is", &said.quality, terminal);
        if !report.values.at_places.is_empty() {
            let mut rows =
                vec![["east", "north", report.property.words(), "day"].map(str::to_owned).to_vec()];
            rows.extend(report.values.at_places.iter().map(|one| {
                vec![
                    show(one.at[0], Dimension::Length, units),
                    show(one.at[1], Dimension::Length, units),
                    tell::label(report.property, one, units),
                    one.seen_on.to_string(),
                ]
            }));
            text.push_str(&format!("\n\n{}", table(&rows, "", terminal.width)));
        }
        section(&mut text, "To be known beside it", &said.notes, terminal);
        Report::new(&report, text)
    }
}

impl Zones {
    /// Tells, or makes plots of them, or joins them back.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        if self.join {
            let mut book = shelf::open(&self.book)?;
            let snapshot = book.snapshot()?;
            let plot = shelf::plot(&snapshot, &self.plot)?.id;
            let moved = back_to_one(&mut book, &snapshot, plot, &shelf::stamp(&self.by))?;
            return Report::new(
                &json!({ "plot": plot, "moved": moved }),
                format!("The zones are one plot again; {moved} records went back."),
            );
        }
        let mut book = if self.accept { shelf::open(&self.book)? } else { shelf::read(&self.book)? };
        let snapshot = book.snapshot()?;
        let units = global.system_or(snapshot.farm.body.units);
        not_parted(&snapshot, shelf::plot(&snapshot, &self.plot)?.id)?;
        let report = report_of(&snapshot, &self.property, Some(&self.plot))?;
        let plan = FarmPlan::of(&snapshot);
        let speaks_for = suggested(&report, &plan);
        let count = self.count.map(usize::from).or(speaks_for).unwrap_or(2);
        let told = zones(&report, &plan, count).ok_or_else(|| {
            let why = tell::sentences(&report, units).reasons.join(" ");
            Trouble::other(format!("zones are made from a surface of figures, and there is none here: {why}"))
        })?;
        let title = format!("Zones of {} by {}", told.plot_name, report.property.words());
        let mut text = format!("{title}\n{}", "=".repeat(title.chars().count()));
        text.push_str(&match speaks_for {
            Some(count) => format!("\nThe readings speak for {count} zones."),
            None => "\nThe readings do not speak for zones: two are no better than one.".to_owned(),
        });
        let mut rows = vec![["zone", "mean of the map", "area", "readings"].map(str::to_owned).to_vec()];
        rows.extend(told.zones.iter().map(|zone| {
            vec![
                zone.number.to_string(),
                tell::figure(report.property, &report.values.unit, zone.mean, units),
                show(zone.area_m2, Dimension::Area, units),
                zone.readings.to_string(),
            ]
        }));
        text.push_str(&format!("\n\n{}", table(&rows, "", terminal.width)));
        for line in tell::zones(&told, units) {
            text.push_str(&format!("\n{}", wrapped(&line, terminal.width, "")));
        }
        if !self.accept {
            return Report::new(&json!({ "suggested": speaks_for, "zones": told }), text);
        }
        let plots = accept(&mut book, &snapshot, &told, &shelf::stamp(&self.by))?;
        text.push_str(&format!("\n\n{} plots were made of them. --join joins them back.", plots.len()));
        Report::new(&json!({ "suggested": speaks_for, "zones": told, "plots": plots }), text)
    }
}
