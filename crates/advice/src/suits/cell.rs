//! One crop on one plot: the verdict with its odds.

use book::model::EntryId;
use ground::siting::{DaysGiven, Grade, Limit, SiteNeeds, Tally, Verdict, days_given, judge};
use serde::Serialize;

use super::place::{PlotPlace, Unknown};
use crate::finding::Firmness;

/// Odds of work or failure from which a limit is named as standing in the way.
pub(super) const NAMED_FROM: f64 = 0.25;

/// One crop on one plot, for a table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cell {
    /// The plot.
    pub plot: EntryId,
    /// Its name.
    pub plot_name: String,
    /// The likeliest verdict.
    pub verdict: Verdict,
    /// In words.
    pub verdict_words: &'static str,
    /// Its odds, 0 to 1.
    pub odds: f64,
    /// Odds that it suits, suits with work, does not suit.
    pub odds_each: [f64; 3],
    /// How surely it holds.
    pub firmness: Firmness,
    /// What stands in the way, weightiest first.
    pub in_the_way: Vec<Limit>,
    /// In words, one each.
    pub in_the_way_words: Vec<&'static str>,
    #[serde(skip)]
    pub(super) tally: Tally,
    #[serde(skip)]
    pub(super) days: Option<DaysGiven>,
}

/// Puts a crop to every draw of a plot.
pub(super) fn cell(needs: &SiteNeeds, place: &PlotPlace) -> Option<Cell> {
    let days = days_given(needs, &place.year);
    let mut tally = Tally::default();
    for (spot, z) in place.spots.iter().zip(&place.year_z) {
        let days = days.map_or(f64::NAN, |given| given.mean_d + z * given.spread_d);
        tally.count(&judge(needs, spot, days), 1.0);
    }
    let (verdict, odds) = tally.leading()?;
    let mut in_the_way: Vec<(Limit, f64, f64)> = Limit::ALL
        .into_iter()
        .map(|limit| (limit, tally.at_least(limit, Grade::Fails), tally.at_least(limit, Grade::Work)))
        .filter(|(_, _, work)| *work >= NAMED_FROM)
        .collect();
    in_the_way.sort_by(|a, b| b.1.total_cmp(&a.1).then(b.2.total_cmp(&a.2)));
    let in_the_way: Vec<Limit> = in_the_way.into_iter().map(|(limit, ..)| limit).collect();
    Some(Cell {
        plot: place.id,
        plot_name: place.name.clone(),
        verdict,
        verdict_words: verdict.words(),
        odds,
        odds_each: Verdict::ALL.map(|verdict| tally.odds(verdict)),
        firmness: firmness(odds, verdict, place, &in_the_way),
        in_the_way_words: in_the_way.iter().map(|limit| limit.words()).collect(),
        in_the_way,
        tally,
        days,
    })
}

/// No verdict is firm while something that may overturn it is not known; none is more than open while nothing tells
/// what the ground is. That a crop does not suit for a reason that was measured stands whatever else is not known.
fn firmness(odds: f64, verdict: Verdict, place: &PlotPlace, in_the_way: &[Limit]) -> Firmness {
    let by_odds = Firmness::of(odds);
    let settled =
        verdict == Verdict::DoesNot && in_the_way.first().is_some_and(|limit| measured(*limit, place));
    if settled {
        return by_odds;
    }
    if place.unknown.contains(&Unknown::Texture) {
        Firmness::Open
    } else if place.doubtful || place.unknown.iter().any(|unknown| unknown.holds_back()) {
        by_odds.max(Firmness::Likely)
    } else {
        by_odds
    }
}

fn measured(limit: Limit, place: &PlotPlace) -> bool {
    match limit {
        Limit::Wetness => place.wet_from_cm.is_some() && !place.doubtful,
        Limit::Texture | Limit::Stones | Limit::Water => {
            !place.doubtful && !place.unknown.contains(&Unknown::Texture)
        }
        _ => true,
    }
}
