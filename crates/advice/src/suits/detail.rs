//! Why: what speaks for and against a crop on a plot, limit by limit, in the units of the reader.

use book::model::{UnitSystem, month_name};
use ground::covers::kinds::Band;
use ground::kit::Spread;
use ground::siting::judge::{draws_mm_d, lasts_d, salts_leave_percent};
use ground::siting::{Grade, Limit, SiteNeeds, Spot, WaterWay};
use serde::Serialize;

use super::cell::{Cell, NAMED_FROM};
use super::place::{PlotPlace, Unknown};
use crate::words;

/// Share of the draws from which a limit that fits speaks for the crop.
const SPEAKS_FOR_FROM: f64 = 0.75;

/// What speaks against a crop.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Against {
    /// The limit.
    pub limit: Limit,
    /// In words.
    pub limit_words: &'static str,
    /// How badly, at the worst grade that has its odds.
    pub grade: Grade,
    /// Odds that it is as bad or worse, 0 to 1.
    pub odds: f64,
    /// A sentence.
    pub text: String,
}

pub(super) fn spread(place: &PlotPlace, of: impl Fn(&Spot) -> f64) -> Option<Spread> {
    let mut values: Vec<f64> = place.spots.iter().map(of).filter(|value| value.is_finite()).collect();
    Spread::of_equal(&mut values)
}

/// The worst grade below "fits" whose odds are worth a word.
fn worst(cell: &Cell, limit: Limit) -> Option<(Grade, f64)> {
    [Grade::Fails, Grade::Work, Grade::Drawback]
        .into_iter()
        .map(|grade| (grade, cell.tally.at_least(limit, grade)))
        .find(|(_, odds)| *odds >= NAMED_FROM)
}

pub(super) fn against(needs: &SiteNeeds, place: &PlotPlace, cell: &Cell, units: UnitSystem) -> Vec<Against> {
    let mut found: Vec<Against> = Limit::ALL
        .into_iter()
        .filter_map(|limit| {
            let (grade, odds) = worst(cell, limit)?;
            let text = objection(limit, grade, needs, place, cell, units)?;
            let text = if odds >= 0.95 {
                format!("{text}.")
            } else {
                format!("{text} (odds {}).", words::odds(odds))
            };
            Some(Against { limit, limit_words: limit.words(), grade, odds, text })
        })
        .collect();
    found.sort_by(|a, b| b.grade.cmp(&a.grade).then(b.odds.total_cmp(&a.odds)));
    found
}

fn bands(list: &[Band]) -> String {
    let words: Vec<&str> = list.iter().map(|band| band.words()).collect();
    match words.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [all @ .., last] => format!("{} or {last}", all.join(", ")),
    }
}

/// Day 1 to 365 as "5 May".
pub(super) fn day_of_year(day: u16) -> String {
    let date = jiff::civil::date(2025, 1, 1).saturating_add(jiff::Span::new().days(i64::from(day) - 1));
    format!("{} {}", date.day(), month_name(date.month()))
}

fn objection(
    limit: Limit,
    grade: Grade,
    needs: &SiteNeeds,
    place: &PlotPlace,
    cell: &Cell,
    units: UnitSystem,
) -> Option<String> {
    let depth = |cm: f64| words::depth(cm, units);
    Some(match limit {
        Limit::Texture => match grade {
            Grade::Fails => format!("It does not come right in {}", bands(&needs.fails_in)),
            Grade::Work => format!("It does poorly in {}", bands(&needs.poor_in)),
            _ => format!("It likes {} better than this ground", bands(&needs.best_in)),
        },
        Limit::Stones => {
            let stones = spread(place, |spot| spot.stones_percent)?;
            let why = if needs.forks {
                "its roots fork on them"
            } else {
                "they are in the way of sowing and hoeing"
            };
            format!("About {:.0} % of the ground is stones, and {why}", stones.median)
        }
        Limit::Wetness => format!(
            "The ground lies wet at times from {} down, and it wants {} of roots in air{}",
            depth(place.wet_from_cm?),
            depth(if grade == Grade::Drawback { needs.root_cm } else { needs.aired_cm }),
            if needs.aired_cm > 30.0 { ": it rots in wet ground" } else { "" }
        ),
        Limit::Rock => format!(
            "Rock lies at {}, and it wants {} of ground",
            depth(place.rock_cm?),
            depth(if grade == Grade::Drawback { needs.root_cm } else { needs.needed_root_cm })
        ),
        Limit::Pan => match place.pan_cm {
            Some(pan) => format!(
                "A packed layer begins at {}, and its roots want {}",
                depth(pan),
                depth(if grade == Grade::Drawback { needs.root_cm } else { needs.needed_root_cm })
            ),
            None => "The ground is packed as tightly as stops roots".to_owned(),
        },
        Limit::Acidity => {
            let test = place.test.as_ref()?;
            let ph = test.ph_water?;
            let range = format!("{} to {}", words::short(needs.ph_low), words::short(needs.ph_high));
            if ph < needs.ph_high {
                format!("The pH was {ph} on {}, and it does well from {range}", words::day(test.on))
            } else {
                format!(
                    "The pH was {ph} on {}, above the {range} it does well in{}",
                    words::day(test.on),
                    if test.free_lime {
                        "; free lime keeps it there, and trace elements run short"
                    } else {
                        "; trace elements run short"
                    }
                )
            }
        }
        Limit::Salts => {
            let left = spread(place, |spot| salts_leave_percent(needs, spot))?;
            format!(
                "Salts leave it about {:.0} % of its yield (90 %: {:.0} to {:.0}{})",
                left.median,
                left.low,
                left.high,
                if needs.salts_own {
                    ""
                } else {
                    "; its tolerance is taken from its rating or as that of most vegetables"
                }
            )
        }
        Limit::Warmth => warmth(needs, place, cell)?,
        Limit::Water => water(needs, place, units)?,
    })
}

fn warmth(needs: &SiteNeeds, place: &PlotPlace, cell: &Cell) -> Option<String> {
    let (given, season, picking) = (cell.days?, needs.season_d?, needs.picking_d?);
    let bound = if given.mean_d <= 0.0 && given.heat_ends {
        "no day here is cool enough for it".to_owned()
    } else if given.mean_d <= 0.0 {
        "no day here is warm enough for it".to_owned()
    } else {
        format!(
            "this place gives {:.0} days {}",
            given.mean_d,
            if given.heat_ends {
                "until the heat stops it"
            } else if given.by_frost && needs.frost.is_tender() {
                "between the frosts"
            } else {
                "of growing weather at a stretch"
            }
        )
    };
    Some(format!(
        "It takes about {picking:.0} days to the first picking and {season:.0} to the last; {bound}{}",
        if place.year.covered { " under this cover" } else { "" }
    ))
}

fn water(needs: &SiteNeeds, place: &PlotPlace, units: UnitSystem) -> Option<String> {
    let spot = place.spots.first()?;
    let draws = draws_mm_d(needs, spot);
    if let (Some(gives), Some(rate)) = (place.gives_mm_d, place.rate_mm_h)
        && gives < draws
    {
        return Some(format!(
            "At the height of the season it drinks {} a day: {:.0} hours of the system at hand, every day",
            words::water(draws, units),
            draws / rate
        ));
    }
    let lasts = spread(place, |spot| lasts_d(needs, spot))?;
    let way = match place.water? {
        WaterWay::Piped => "water it every day, or twice a day in heat",
        WaterWay::ByHand => "by hand that is a daily round",
        WaterWay::RainOnly => "rain alone seldom comes so often",
    };
    Some(format!(
        "What the ground holds lasts it {} at the height of the season ({} a day); {way}",
        words::days(lasts.median),
        words::water(draws, units)
    ))
}

/// What speaks for a crop: limits that were looked at and fit in most of what the ground may be.
pub(super) fn speaks_for(
    needs: &SiteNeeds,
    place: &PlotPlace,
    cell: &Cell,
    units: UnitSystem,
) -> Vec<String> {
    let fits = |limit: Limit| 1.0 - cell.tally.at_least(limit, Grade::Drawback) >= SPEAKS_FOR_FROM;
    let known = |unknown: Unknown| !place.unknown.contains(&unknown);
    let mut found = Vec::new();
    let mut say = |holds: bool, text: Option<String>| {
        if holds {
            found.extend(text);
        }
    };
    say(
        fits(Limit::Texture) && known(Unknown::Texture),
        Some(format!("It likes this texture ({}).", bands(&needs.best_in))),
    );
    say(
        fits(Limit::Wetness) && known(Unknown::Wetness),
        Some(match place.wet_from_cm {
            Some(wet) => format!("Wetness begins at {}, below its roots.", words::depth(wet, units)),
            None => "The ground was looked at and hardly ever lies wet.".to_owned(),
        }),
    );
    say(
        fits(Limit::Acidity),
        place.test.as_ref().and_then(|test| {
            Some(format!(
                "The pH ({}) lies in the {} to {} it does well in.",
                test.ph_water?,
                words::short(needs.ph_low),
                words::short(needs.ph_high)
            ))
        }),
    );
    say(
        fits(Limit::Salts),
        place.salts_ds_m.map(|salts| format!("Salts ({} dS/m) cost it nothing.", words::range(salts, 1.0))),
    );
    say(
        fits(Limit::Warmth),
        needs.season_d.zip(cell.days).map(|(season, given)| {
            format!("It takes {season:.0} days, and this place gives it about {:.0}.", given.mean_d)
        }),
    );
    say(
        fits(Limit::Water) && known(Unknown::Water),
        spread(place, |spot| lasts_d(needs, spot)).map(|lasts| {
            format!(
                "What the ground holds lasts it {} at the height of the season.",
                words::days(lasts.median)
            )
        }),
    );
    if let (Some(soil), true) = (needs.soil, !place.year.mean_c.is_empty()) {
        let sown = place.year.warm_from_day(soil.min_c).map_or_else(
            || "The ground hardly gets warm enough here for its seed to come up".to_owned(),
            |day| format!("Its seed comes up from about {} in the usual year", day_of_year(day)),
        );
        found.push(format!(
            "{sown} (soil at {}; the mean of the air stands for it).",
            words::temperature(soil.min_c, units)
        ));
    }
    found
}
