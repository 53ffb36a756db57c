//! Crops and covers over the year on paper: a calendar bed by bed, the gaps, and the seed to have.

use advice::covers::choose::CAUTIONS;
use advice::covers::{BedYear, Span, Stands, farm_beds, seed_list, tell};
use advice::words::{capital, day};
use advice::work::{Season, season};
use book::Snapshot;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::render::render;
use crate::sheet::{Caution, Cautions, Sheet};
use crate::templates::Template;

/// The calendar of covers.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct CoverSheet {
    /// Sentences above it.
    pub lead: Vec<String>,
    /// The months shown.
    pub months: Vec<CoverMonth>,
    /// Frosts across them.
    pub marks: Vec<CoverMark>,
    /// Plots with their beds.
    pub plots: Vec<CoverPlot>,
    /// The gaps, each in a line.
    pub gaps: Vec<String>,
    /// Seed to have.
    pub seed: Vec<CoverSeedLine>,
    /// Cautions.
    pub cautions: Vec<Caution>,
}

/// A month of the calendar.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CoverMonth {
    /// "Jan".
    pub name: String,
    /// Its days.
    pub days: u8,
}

/// A day across the calendar.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoverMark {
    /// What it is: "usual first frost, 2 October 2026".
    pub label: String,
    /// Where, from 0 to 1.
    pub at: f64,
}

/// The beds of one plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoverPlot {
    /// Its name.
    pub name: String,
    /// Its beds.
    pub rows: Vec<CoverRow>,
}

/// One bed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoverRow {
    /// Its name.
    pub bed: String,
    /// What stands when.
    pub bars: Vec<CoverBar>,
    /// The same in words.
    pub says: String,
}

/// Something that stands.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoverBar {
    /// What it is called.
    pub label: String,
    /// "crop", "cover" or "mulch".
    pub kind: &'static str,
    /// Where it begins, from 0 to 1.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// Seed of one cover.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CoverSeedLine {
    /// The cover.
    pub name: String,
    /// In all.
    pub carried: String,
    /// Where.
    pub places: Vec<String>,
    /// Inoculant to buy; may be empty.
    pub inoculant: String,
}

impl Sheet for CoverSheet {
    const TEMPLATE: Template = Template::COVERS;

    fn title(&self) -> &str {
        "Crops and covers"
    }
}

/// The calendar of covers as PDF.
///
/// # Errors
/// A fault of the program, never of what the book says.
pub fn covers_pdf(snapshot: &Snapshot, today: Date, options: &SheetOptions) -> Result<Vec<u8>, SheetError> {
    render(&covers_sheet(snapshot, today), options)
}

/// The calendar of covers in words: twelve months from the first of this one.
#[must_use]
pub fn covers_sheet(snapshot: &Snapshot, today: Date) -> CoverSheet {
    let beds = farm_beds(snapshot, today);
    let season = season(snapshot, today);
    let first = today.first_of_month();
    let months: Vec<Date> = (0..12).map(|month| first.saturating_add(month.months())).collect();
    let days = place(first, first.saturating_add(12.months()));
    let mut cautions = Cautions::default();
    for caution in CAUTIONS {
        cautions.sign(caution);
    }
    CoverSheet {
        lead: vec![tell::headline(&beds)],
        marks: marks(&season, first, days),
        plots: snapshot
            .plots
            .iter()
            .map(|plot| CoverPlot {
                name: plot.body.name.clone(),
                rows: beds
                    .iter()
                    .filter(|bed| bed.plot == plot.id)
                    .map(|bed| row(bed, first, days))
                    .collect(),
            })
            .filter(|plot| !plot.rows.is_empty())
            .collect(),
        months: months
            .into_iter()
            .map(|month| CoverMonth {
                name: month.strftime("%b").to_string(),
                days: month.days_in_month().unsigned_abs(),
            })
            .collect(),
        gaps: beds
            .iter()
            .flat_map(|bed| {
                bed.gaps.iter().map(|gap| format!("{}, {}: {}", bed.name, bed.plot_name, tell::gap_line(gap)))
            })
            .collect(),
        seed: seed_list(snapshot, today)
            .into_iter()
            .map(|one| CoverSeedLine {
                name: one.name,
                carried: one.carried,
                places: one.lines,
                inoculant: one.inoculant,
            })
            .collect(),
        cautions: cautions.into_list(),
    }
}

fn place(first: Date, day: Date) -> f64 {
    f64::from(first.until(day).map_or(0, |span| span.get_days()))
}

fn marks(season: &Season, first: Date, days: f64) -> Vec<CoverMark> {
    if !season.frosts_known {
        return Vec::new();
    }
    let frosts = [
        ("usual last frost", season.last_frost_after(first)),
        ("usual first frost", season.first_frost_after(first)),
    ];
    frosts
        .into_iter()
        .map(|(words, on)| CoverMark {
            label: format!("{words}, {}", day(on)),
            at: (place(first, on) / days).clamp(0.0, 1.0),
        })
        .collect()
}

fn row(bed: &BedYear, first: Date, days: f64) -> CoverRow {
    let shown: Vec<&Span> = bed
        .spans
        .iter()
        .filter(|span| place(first, span.to) > 0.0 && place(first, span.from) < days && span.to > span.from)
        .collect();
    let says: Vec<String> = shown
        .iter()
        .map(|span| {
            let about = if span.assumed { "about " } else { "" };
            format!("{}, {} to {about}{}", span.name, day(span.from), day(span.to))
        })
        .collect();
    CoverRow {
        bed: bed.name.clone(),
        bars: shown
            .iter()
            .map(|span| CoverBar {
                label: span.name.clone(),
                kind: match span.stands {
                    Stands::Crop => "crop",
                    Stands::Cover => "cover",
                    Stands::Mulch => "mulch",
                },
                from: (place(first, span.from) / days).clamp(0.0, 1.0),
                to: (place(first, span.to) / days).clamp(0.0, 1.0),
            })
            .collect(),
        says: if says.is_empty() {
            "Nothing is planned.".to_owned()
        } else {
            format!("{}.", capital(&says.join("; ")))
        },
    }
}
