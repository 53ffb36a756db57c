//! A standing in words: what speaks for a cover here, and what against.

use super::choice::{Asked, Reason, Standing, WinterWish};
use super::ground::Objection;
use super::kinds::{Animals, NitrogenFrom, Purpose};
use super::species::{HazardKind, Species};

/// What speaks for it, most important first.
#[must_use]
pub fn speaks_for(standing: &Standing, asked: &Asked) -> Vec<String> {
    let species = standing.species();
    let mut words = Vec::new();
    for purpose in asked.purposes.iter() {
        let rating = species.serves(purpose);
        if rating >= 3 {
            words.push(format!(
                "{} at {} ({rating} of 4)",
                if rating == 4 { "excellent" } else { "very good" },
                doing(purpose)
            ));
        }
    }
    if standing.fit.serves_chance >= 0.9 {
        words.push(format!(
            "it serves within {:.0} to {:.0} days, and there are {:.0}",
            species.useful_d.low, species.useful_d.high, asked.gap.days
        ));
    }
    match (asked.winter, standing.fit.lives_chance) {
        (Some(WinterWish::Killed), Some(lives)) if lives <= 0.1 => {
            words.push("the winter kills it".to_owned())
        }
        (Some(WinterWish::Lives), Some(lives)) if lives >= 0.9 => {
            words.push("it lives through the winter".to_owned())
        }
        _ => {}
    }
    if standing.ground.likes >= 0.9 {
        words.push("it likes this texture".to_owned());
    }
    if species.nitrogen_from == NitrogenFrom::Fixes && asked.purposes.has(Purpose::FeedNitrogen) {
        words.push("its nitrogen comes from the air".to_owned());
    }
    if standing.fit.frost_ends_chance >= 0.9 {
        words.push("frost ends it for you".to_owned());
    }
    words
}

/// What speaks against it: what rules it out first.
#[must_use]
pub fn speaks_against(standing: &Standing, asked: &Asked) -> Vec<String> {
    let species = standing.species();
    let mut words: Vec<String> =
        standing.reasons.iter().filter_map(|reason| against(reason, species, standing, asked)).collect();
    for purpose in asked.purposes.iter() {
        let rating = species.serves(purpose);
        if rating <= 1 {
            words.push(format!(
                "{} at {} ({rating} of 4)",
                if rating == 0 { "poor" } else { "only fair" },
                doing(purpose)
            ));
        }
    }
    for (at, share) in standing.ground.objections.iter().enumerate() {
        if *share >= 0.1 {
            let objection = Objection::ALL[at].words();
            words.push(if *share >= 0.95 {
                objection.to_owned()
            } else {
                format!("{objection} in {:.0} % of what the ground may be", 100.0 * share)
            });
        }
    }
    for hazard in species.hazards.iter().filter(|hazard| {
        matches!(hazard.kind, HazardKind::NextCrop | HazardKind::Disease | HazardKind::People)
    }) {
        words.push(unended(&hazard.words));
    }
    words
}

fn against(reason: Reason, species: &Species, standing: &Standing, asked: &Asked) -> Option<String> {
    let fit = &standing.fit;
    Some(match reason {
        Reason::TooCold => format!(
            "too cold to come up: it wants {:.0} °C, and sowing time has {:.0} °C",
            species.germination_c, asked.gap.sowing_c
        ),
        Reason::TooShort => format!(
            "too little time: it takes {:.0} days at least, and bed or frost leaves fewer",
            species.useful_d.low
        ),
        Reason::MayBeShort => {
            format!("it serves in time in only {:.0} % of cases", 100.0 * fit.serves_chance)
        }
        Reason::CannotEnd => "nothing at hand ends it".to_owned(),
        Reason::Deadly => return hazard(species, HazardKind::Deadly, asked.animals),
        Reason::Harms => return hazard(species, HazardKind::Harmful, asked.animals),
        Reason::Family => {
            let families: Vec<&str> = species
                .avoid
                .iter()
                .filter(|family| asked.families.has(*family))
                .map(|family| family.words())
                .collect();
            format!("it shares pests with the {} next to it in the rotation", families.join(" and the "))
        }
        Reason::Winter | Reason::WinterOpen => {
            let lives = 100.0 * fit.lives_chance?;
            match asked.winter? {
                WinterWish::Killed => {
                    format!("the winter shall kill it, but it lives in {lives:.0} % of winters")
                }
                WinterWish::Lives => format!("it shall live, but does so in only {lives:.0} % of winters"),
            }
        }
        Reason::SpringFrost => {
            format!("a late frost takes the seedlings in {:.0} % of springs", 100.0 * fit.spring_frost_chance)
        }
        Reason::Heat => "it does not stand the heat of this gap".to_owned(),
        Reason::SmallSeed => {
            "it holds back small seed sown after it: wait two to three weeks, or plant".to_owned()
        }
        Reason::Weed => return hazard(species, HazardKind::Weed, Animals::default()),
        Reason::CarriesUnderCover => "what it carries lives on under cover from crop to crop".to_owned(),
        Reason::LittleGrowth => {
            format!("only {:.0} days are warm and light enough for it to grow", fit.growing_d)
        }
    })
}

/// The words of its hazard of a kind, of one that concerns these animals where animals are meant.
fn hazard(species: &Species, kind: HazardKind, animals: Animals) -> Option<String> {
    species
        .hazards
        .iter()
        .find(|hazard| {
            hazard.kind == kind
                && (hazard.animals.is_empty() || hazard.animals.iter().any(|animal| animals.has(*animal)))
        })
        .map(|hazard| unended(&hazard.words))
}

/// Without its full stop and its capital, to stand in a list.
fn unended(sentence: &str) -> String {
    let mut letters = sentence.trim_end_matches('.').chars();
    let first = letters.next().map(|letter| letter.to_lowercase().to_string()).unwrap_or_default();
    first + letters.as_str()
}

/// "breaking a pan", after "good at".
fn doing(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::BreakPan => "breaking a pan",
        Purpose::LoosenTop => "loosening the topsoil",
        Purpose::FeedNitrogen => "feeding nitrogen",
        Purpose::HoldNitrogen => "holding nitrogen",
        Purpose::Protect => "protecting bare ground",
        Purpose::Smother => "smothering weeds",
        Purpose::CoverQuickly => "covering quickly",
        Purpose::BuildOrganic => "building organic matter",
        Purpose::DryWetSpot => "standing in a wet spot and drying it",
        Purpose::StandHeat => "standing heat",
    }
}
