//! What the winter does to a cover, what follows from it, and when it must be ended.

use ground::covers::choice::{Asked, Standing};
use ground::covers::gap::Fit;
use ground::covers::kinds::{Ending, GrowsIn};
use ground::covers::species::Species;
use jiff::civil::Date;

use super::gaps::BedGap;
use crate::words::{day, odds};

/// Weeks from the end of a cover to small seed or planting (common practice, no source).
const WEEKS_GRASS: i64 = 3;
const WEEKS_OTHER: i64 = 2;

/// Weeks that a cover should be dead before the next crop.
#[must_use]
pub fn weeks_before_next(species: &Species) -> i64 {
    if species.group == "grass" { WEEKS_GRASS } else { WEEKS_OTHER }
}

/// What the winter or the first frost does to it, and what follows.
pub(super) fn words(species: &Species, standing: &Standing, asked: &Asked) -> String {
    let fit = &standing.fit;
    match fit.lives_chance {
        None if fit.frost_ends_chance >= 0.1 => format!(
            "Frost ends it within the gap with odds of {}; it lies as mulch then.",
            odds(fit.frost_ends_chance)
        ),
        None => String::new(),
        Some(lives) if lives >= 0.9 => {
            "It lives through the winter and grows on in spring: it must be ended before the next crop."
                .to_owned()
        }
        Some(lives) if lives <= 0.1 => {
            let spring = if species.group == "brassica" || species.group == "legume" {
                " Soft remains rot soon: part of the nitrogen may be gone before the next crop."
            } else {
                " The mulch keeps the ground cool and weeds back; rake it aside to sow."
            };
            let when = if species.grows_in == GrowsIn::Warm {
                "The first frost kills it"
            } else {
                "The winter kills it"
            };
            format!("{when}: nothing is left to end in spring.{spring}")
        }
        Some(lives) => format!(
            "It lives through the winter with odds of {}: be ready to end it{}.",
            odds(lives),
            if asked.winter.is_some() { ", or choose one that is surer" } else { "" }
        ),
    }
}

/// Odds that frost or the winter ends it.
pub(crate) fn cold_odds(fit: &Fit) -> f64 {
    fit.frost_ends_chance.max(fit.lives_chance.map_or(0.0, |lives| 1.0 - lives))
}

/// How it is ended, and by which day; no day where frost or the winter does it nine times of ten.
pub(super) fn end(species: &Species, standing: &Standing, gap: &BedGap) -> (String, Option<Date>) {
    if cold_odds(&standing.fit) >= 0.9 {
        return ("Nothing to do: the cold ends it.".to_owned(), None);
    }
    let weeks = weeks_before_next(species);
    let by = gap.to.saturating_sub(jiff::Span::new().weeks(weeks)).max(gap.from);
    let ways: Vec<&str> = species.ended_by.iter().map(Ending::words).collect();
    let mut text =
        format!("End it by {}, {weeks} weeks before the next crop, by {}", day(by), ways.join(" or "));
    text.push_str(if species.group == "grass" {
        "; before it heads, or it ties up nitrogen."
    } else {
        "; before it sets seed."
    });
    (text, Some(by))
}
