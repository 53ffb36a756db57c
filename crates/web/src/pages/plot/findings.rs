//! Findings as cards: how surely, the answer, why, from where, and what was decided.

use advice::finding::Kind;
use advice::{Finding, PlotReport, Settles};
use book::Snapshot;
use book::model::{Choice, EntryId};
use serde::Serialize;

use crate::pages::farm::money;
use crate::pages::method::{WorkedStep, worked};
use crate::pages::sources::Cited;
use crate::parts::{Firmness, OddsLine};
use crate::when;

/// Findings of one kind.
#[derive(Serialize)]
pub(super) struct Group {
    pub(super) title: &'static str,
    pub(super) cards: Vec<Card>,
}

/// One finding.
#[derive(Serialize)]
pub(crate) struct Card {
    pub(crate) firmness: Firmness,
    /// The answer in a clause, for the list on top.
    #[serde(skip)]
    pub(crate) glance: String,
    /// "83 %"; empty where it was seen or holds on any ground.
    pub(crate) odds: String,
    #[serde(flatten)]
    pub(crate) finding: Finding,
    pub(crate) basis: &'static str,
    /// Whether its number is recalled or judged rather than read in a source.
    pub(crate) weak_source: bool,
    #[serde(skip)]
    pub(crate) alternatives: Vec<OddsLine>,
    #[serde(skip)]
    pub(crate) sources: Vec<Cited>,
    #[serde(skip)]
    pub(crate) steps: Vec<WorkedStep>,
    pub(crate) decided: Option<Decided>,
    /// What would settle it, in a sentence.
    pub(crate) settle: String,
    /// Key of that measurement.
    #[serde(skip)]
    pub(crate) settle_key: &'static str,
}

/// What was decided.
#[derive(Serialize)]
pub(crate) struct Decided {
    pub(crate) id: EntryId,
    pub(crate) number: u32,
    pub(crate) choice: Choice,
    pub(crate) word: &'static str,
    pub(crate) reason: String,
    pub(crate) when: String,
    pub(crate) by: String,
}

impl Card {
    /// The card of a finding.
    pub(crate) fn of(snapshot: &Snapshot, plot: EntryId, finding: &Finding) -> Self {
        use ground::kit::Provenance;
        let settle = finding.settles.as_ref().map(|settles| settle(settles, snapshot)).unwrap_or_default();
        Self {
            firmness: match finding.firmness {
                advice::Firmness::Firm => Firmness::Firm,
                advice::Firmness::Likely => Firmness::Likely,
                advice::Firmness::Open => Firmness::Open,
            },
            glance: glance(finding),
            odds: finding.odds.map(|odds| OddsLine::new("", odds).words()).unwrap_or_default(),
            basis: finding.basis.words(),
            weak_source: matches!(
                finding.provenance,
                Provenance::Recalled | Provenance::CommonPractice | Provenance::Judgement
            ),
            alternatives: finding
                .alternatives
                .iter()
                .map(|other| OddsLine::new(other.words, other.odds))
                .collect(),
            sources: finding.sources.iter().map(Cited::of).collect(),
            steps: worked(&finding.working),
            decided: decided(snapshot, plot, finding.id),
            settle_key: finding.settles.as_ref().map_or("", |settles| settles.key),
            settle,
            finding: finding.clone(),
        }
    }
}

/// The likeliest answer, or the first sentence of what was seen.
fn glance(finding: &Finding) -> String {
    match finding.alternatives.first() {
        Some(answer) => answer.words.to_owned(),
        None => finding
            .statement
            .split_inclusive(". ")
            .next()
            .unwrap_or_default()
            .trim_end()
            .trim_end_matches('.')
            .to_owned(),
    }
}

fn settle(settles: &Settles, snapshot: &Snapshot) -> String {
    format!(
        "{} would settle it with a chance of {} ({:.0} minutes, {}).",
        crate::problem::capital(settles.measurement),
        OddsLine::new("", settles.chance_settled).words(),
        settles.minutes,
        money(settles.cost_money, &snapshot.farm.body)
    )
}

/// The latest decision on a finding.
pub(crate) fn decided(snapshot: &Snapshot, plot: EntryId, finding: &str) -> Option<Decided> {
    let held = snapshot.decision_on(plot, finding)?;
    Some(Decided {
        id: held.id,
        number: held.number,
        choice: held.body.choice,
        word: match held.body.choice {
            Choice::Accepted => "Accepted",
            Choice::Postponed => "Put off",
            Choice::Refused => "Refused",
        },
        reason: held.body.reason.clone(),
        when: when::moment(held.recorded_at),
        by: held.recorded_by.clone(),
    })
}

/// Findings by kind, in the order of a page; kinds without any are left out.
pub(super) fn groups(snapshot: &Snapshot, report: &PlotReport) -> Vec<Group> {
    Kind::ALL
        .into_iter()
        .map(|kind| Group {
            title: kind.title(),
            cards: report
                .findings
                .iter()
                .filter(|finding| finding.kind == kind)
                .map(|finding| Card::of(snapshot, report.id, finding))
                .collect(),
        })
        .filter(|group| !group.cards.is_empty())
        .collect()
}
