//! What a cover would be sown for here, by what was found out about the ground and by the gap.

use ground::covers::gap::{Gap, HOT_C};
use ground::covers::kinds::{Family, Purpose};
use serde::Serialize;

use super::gaps::BedGap;
use crate::PlotReport;
use crate::finding::{Finding, Firmness};

/// Purposes that are proposed at most: few covers serve three at once.
const MOST: usize = 2;
/// A gap up to this is short, days.
const SHORT_D: i64 = 75;
/// A gap from this gives a legume its time, days.
const LEGUME_D: i64 = 90;

/// A purpose with why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PurposeWhy {
    /// The purpose.
    pub purpose: Purpose,
    /// In words.
    pub words: &'static str,
    /// Why it is proposed; empty where a person asked for it.
    pub why: String,
}

impl PurposeWhy {
    /// One that a person asks for.
    #[must_use]
    pub fn asked(purpose: Purpose) -> Self {
        Self { purpose, words: purpose.words(), why: String::new() }
    }

    fn because(purpose: Purpose, why: impl Into<String>) -> Self {
        Self { purpose, words: purpose.words(), why: why.into() }
    }
}

/// What is proposed; at least one.
#[must_use]
pub fn proposed(report: Option<&PlotReport>, gap: &BedGap, climate: &Gap) -> Vec<PurposeWhy> {
    let mut found = Vec::new();
    let says = |id: &str| report.and_then(|report| report.findings.iter().find(|finding| finding.id == id));
    let weighs = |finding: &&Finding| finding.firmness != Firmness::Open;
    if let Some(dense) = says("density").filter(weighs).filter(|finding| finding.verdict == "hinders") {
        found.push(PurposeWhy::because(Purpose::BreakPan, format!("Found here: {}", dense.statement)));
    }
    if let Some(wet) = says("water-table").filter(|finding| matches!(finding.verdict, "seen" | "likely")) {
        found.push(PurposeWhy::because(Purpose::DryWetSpot, format!("Found here: {}", wet.statement)));
    }
    let legume_next = gap.after.as_ref().is_some_and(|after| after.family == Some(Family::Fabaceae));
    if climate.over_winter {
        let leaks = says("leaching").filter(weighs).is_some_and(|finding| finding.verdict != "holds");
        found.push(PurposeWhy::because(
            Purpose::HoldNitrogen,
            if leaks {
                "The bed stands empty over the winter, and nitrogen washes out of this ground."
            } else {
                "The bed stands empty over the winter: what nitrogen the crop left washes down."
            },
        ));
        found.push(PurposeWhy::because(
            Purpose::Protect,
            "Bare ground over the winter is beaten by rain and blown by wind.",
        ));
    } else if gap.days <= SHORT_D {
        found.push(PurposeWhy::because(Purpose::CoverQuickly, "The gap is short."));
        found.push(PurposeWhy::because(
            Purpose::Smother,
            "Weeds come up in a short gap of the growing season.",
        ));
    }
    if !climate.over_winter && gap.days >= LEGUME_D && !legume_next {
        found.push(PurposeWhy::because(
            Purpose::FeedNitrogen,
            "The gap is long enough for a legume, and what follows it can use the nitrogen.",
        ));
    }
    if !climate.over_winter && climate.mean_c > HOT_C {
        found.push(PurposeWhy::because(Purpose::StandHeat, "The gap is hot."));
    }
    if found.is_empty() {
        found.push(PurposeWhy::because(Purpose::Protect, "Ground that lies bare loses soil and crumbs."));
    }
    found.truncate(MOST);
    found
}
