//! `cover-choice`: which cover for a gap of a bed, with what speaks for and against each.

use advice::covers::{CoverAnswer, CoverLine, CoverQuestion, choose, tell};
use advice::{Options, plot_report};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::covers::choice::WinterWish;
use ground::covers::kinds::Purpose;
use jiff::ZonedDateTime;

use super::farm_args::kinds;
use super::record::InBed;
use crate::args::Global;
use crate::report::{Report, part, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `cover-choice`.
#[derive(Debug, Args)]
#[command(
    after_help = "Purposes: break-pan, loosen-top, feed-nitrogen, hold-nitrogen, protect, smother, cover-quickly, build-organic,
dry-wet-spot, stand-heat; proposed from the plot's findings where none is given. `spadework covers` lists the gaps.

Examples:
  spadework cover-choice home.farmbook \"Lower field\" \"Beds 1 to 8\"
  spadework cover-choice home.farmbook \"Lower field\" \"Beds 1 to 8\" --from 2026-08-01 --to 2026-09-15
    --purpose cover-quickly,smother"
)]
pub(crate) struct CoverChoice {
    #[command(flatten)]
    place: InBed,
    /// What it is sown for, parted by commas
    #[arg(long, value_name = "PURPOSES")]
    purpose: Option<String>,
    /// Which gap of the bed; the first, unless said
    #[arg(long, value_name = "NUMBER")]
    gap: Option<usize>,
    /// First day on which it can be sown
    #[arg(long, value_name = "DATE")]
    from: Option<String>,
    /// Day on which the bed is wanted
    #[arg(long, value_name = "DATE")]
    to: Option<String>,
    /// What the winter shall do to it
    #[arg(long, value_parser = PossibleValuesParser::new(["killed", "lives"]))]
    winter: Option<String>,
    /// Does the ground lie wet then? By what was seen, unless said
    #[arg(long, value_parser = PossibleValuesParser::new(["yes", "no"]))]
    wet: Option<String>,
    /// Does it run short of water then? By rain and watering, unless said
    #[arg(long, value_parser = PossibleValuesParser::new(["yes", "no"]))]
    dry: Option<String>,
    /// It is sown in rows
    #[arg(long)]
    drilled: bool,
    /// Tell every cover, those that are ruled out too
    #[arg(long)]
    all: bool,
}

impl CoverChoice {
    /// Chooses.
    pub(crate) fn run(self, _global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.place.book)?.snapshot()?;
        let bed = self.place.find(&snapshot)?;
        let yes = |said: &Option<String>| said.as_deref().map(|said| said == "yes");
        let question = CoverQuestion {
            gap: self.gap,
            from: self.from.as_deref().map(|text| shelf::day("from", text)).transpose()?,
            to: self.to.as_deref().map(|text| shelf::day("to", text)).transpose()?,
            purposes: match self.purpose.as_deref() {
                Some(text) => kinds("purpose", text, Purpose::ALL)?,
                None => Vec::new(),
            },
            winter: self.winter.as_deref().map(|said| match said {
                "killed" => WinterWish::Killed,
                _ => WinterWish::Lives,
            }),
            wet: yes(&self.wet),
            dry: yes(&self.dry),
            drilled: self.drilled,
        };
        let gone = || Trouble::other("the plot was withdrawn");
        let report = plot_report(&snapshot, bed.body.plot, &Options::default()).ok_or_else(gone)?;
        let today = ZonedDateTime::now().date();
        let answer = choose(&snapshot, &report, bed.id, &question, today)?.ok_or_else(gone)?;
        let text = text(&answer, self.all, terminal);
        Report::new(&answer, text)
    }
}

fn text(answer: &CoverAnswer, all: bool, terminal: &Terminal) -> String {
    let wide = terminal.width;
    let mut text = format!(
        "A cover for {}, {}\n{}\n{}",
        answer.bed.name,
        answer.bed.plot_name,
        wrapped(&answer.lead, wide, ""),
        wrapped(&format!("{}.", answer.gap_line), wide, "")
    );
    let mut part = |title: &str, lines: &[String]| part(&mut text, wide, title, lines);
    let purposes: Vec<String> =
        answer
            .purposes
            .iter()
            .map(|one| {
                if one.why.is_empty() { one.words.to_owned() } else { format!("{}: {}", one.words, one.why) }
            })
            .collect();
    part("Sown to", &purposes);
    part("Wanted first", &answer.wanted);
    let best = |line: &&CoverLine| answer.best.contains(&line.key);
    for line in answer.covers.iter().filter(best) {
        part(&advice::words::capital(&line.name), &told(line));
    }
    let others: Vec<String> = answer
        .covers
        .iter()
        .filter(|line| !best(line) && !line.ruled_out)
        .map(|line| {
            let against = line.speaks_against.join("; ");
            format!("{} ({}). Serves: {}. {against}", line.name, line.firmness_words, tell::ratings(line))
        })
        .collect();
    part("Others that may do", &others);
    for mix in &answer.mixes {
        part(&format!("A mix that fits: {}", mix.name), &tell::mix(mix));
    }
    let out: Vec<String> = answer
        .covers
        .iter()
        .filter(|line| line.ruled_out)
        .map(|line| format!("{}: {}", line.name, line.speaks_against.join("; ")))
        .collect();
    if all {
        part("Ruled out", &out);
    } else if !out.is_empty() {
        part("Ruled out", &[format!("{} covers; --all tells why", out.len())]);
    }
    part("What was taken", &answer.taken);
    part("What would make it surer", &answer.settle);
    part("What this rests on", &answer.rests_on);
    let cautions: Vec<String> = answer.cautions.iter().map(|caution| (*caution).to_owned()).collect();
    part("Take care", &cautions);
    text
}

fn told(line: &CoverLine) -> Vec<String> {
    let mut lines = vec![format!("{}.", advice::words::capital(&line.firmness_words))];
    lines.extend(line.speaks_for.iter().map(|why| format!("For it: {why}.")));
    lines.extend(line.speaks_against.iter().map(|why| format!("Against it: {why}.")));
    lines.push(format!("Serves: {}.", tell::ratings(line)));
    lines.extend(tell::course(line));
    lines.extend(tell::recalled(line));
    lines
}
