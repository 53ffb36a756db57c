//! `covers`: the gaps between crops, covers that stand, seed to have, and what ended covers leave.

use std::path::PathBuf;

use advice::covers::{
    BedYear, CoverNitrogen, SeedToHave, Stands, cover_nitrogen, farm_beds, seed_list, tell,
};
use advice::words::day;
use clap::Args;
use jiff::ZonedDateTime;
use serde::Serialize;

use crate::args::Global;
use crate::report::{Report, part, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `covers`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework covers home.farmbook
  spadework covers home.farmbook --on 2026-07-01 --json
  spadework cover-choice home.farmbook \"Lower field\" \"Beds 1 to 8\" --gap 1")]
pub(crate) struct Covers {
    /// The farm book
    book: PathBuf,
    /// The day to look ahead from; today, unless said
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
}

#[derive(Serialize)]
struct Told {
    headline: String,
    beds: Vec<BedYear>,
    seed: Vec<SeedToHave>,
    ended: Vec<CoverNitrogen>,
}

impl Covers {
    /// Tells.
    pub(crate) fn run(self, _global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let today = match &self.on {
            Some(text) => shelf::day("on", text)?,
            None => ZonedDateTime::now().date(),
        };
        let beds = farm_beds(&snapshot, today);
        let lately = today.saturating_sub(jiff::Span::new().days(365));
        let told = Told {
            headline: tell::headline(&beds),
            seed: seed_list(&snapshot, today),
            ended: snapshot
                .covers
                .iter()
                .filter(|held| held.body.ended.is_some_and(|end| end.on >= lately))
                .filter_map(|held| cover_nitrogen(&snapshot, held))
                .collect(),
            beds,
        };
        let text = text(&told, today, terminal);
        Report::new(&told, text)
    }
}

fn text(told: &Told, today: jiff::civil::Date, terminal: &Terminal) -> String {
    let mut text = wrapped(&told.headline, terminal.width, "");
    let mut item =
        |line: &str| text.push_str(&format!("\n{}", wrapped(&format!("- {line}"), terminal.width, "  ")));
    for bed in &told.beds {
        for gap in &bed.gaps {
            item(&format!("{}, {}, gap {}: {}.", bed.name, bed.plot_name, gap.number, tell::gap_line(gap)));
        }
    }
    let mut part = |title: &str, lines: &[String]| part(&mut text, terminal.width, title, lines);
    let stands: Vec<String> = told
        .beds
        .iter()
        .flat_map(|bed| bed.spans.iter().map(move |span| (bed, span)))
        .filter(|(_, span)| span.to > today)
        .map(|(bed, span)| {
            let what = match span.stands {
                Stands::Crop => "crop",
                Stands::Cover => "cover",
                Stands::Mulch => "mulch",
            };
            let about = if span.assumed { "about " } else { "" };
            format!("{}: {} ({what}), {} to {about}{}", bed.name, span.name, day(span.from), day(span.to))
        })
        .collect();
    part("What stands and is planned", &stands);
    let seed: Vec<String> = told
        .seed
        .iter()
        .map(|one| {
            let inoculant = if one.inoculant.is_empty() {
                String::new()
            } else {
                format!("; inoculant: {}", one.inoculant)
            };
            format!("{}: {} ({}){inoculant}", one.name, one.carried, one.lines.join("; "))
        })
        .collect();
    part("Seed to have", &seed);
    for one in &told.ended {
        part(&format!("{}, ended {}", advice::words::capital(&one.name), day(one.ended_on)), &one.lines);
    }
    text
}
