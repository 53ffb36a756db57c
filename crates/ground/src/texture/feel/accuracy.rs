//! How far a class named by feel can be trusted.
//!
//! Published accuracy says how often a hand is exactly right and how often it is right or next to
//! right. Within those two shares the chance is spread over names: equally over the neighbours, and
//! beyond them falling to a third with each further field (our judgement).

use std::sync::LazyLock;

use serde::Deserialize;

use super::path::{Answers, check, possible};
use super::reading::{FeelReading, Hand};
use crate::belief::{Account, Witness};
use crate::kit::{Provenance, Refusal};
use crate::texture::Class;

/// How often a hand is right.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Accuracy {
    /// Whose.
    pub hand: Hand,
    /// Names exactly the right class, in percent of samples.
    pub exact_percent: f64,
    /// Names the right class or a neighbour, in percent of samples.
    pub within_one_percent: f64,
    /// Bibliography key.
    pub source: String,
    /// How the figures reached this project.
    pub provenance: Provenance,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    hand: Vec<Accuracy>,
}

static ACCURACY: LazyLock<Vec<Accuracy>> =
    LazyLock::new(|| match toml::from_str::<Table>(include_str!("accuracy.toml")) {
        Ok(table) => table.hand,
        // Compiled in, and a test reads it.
        Err(error) => unreachable!("feel/accuracy.toml: {error}"),
    });

/// P(name | true class) as `[hand][name][true class]`.
static CHANCES: LazyLock<[[[f64; 12]; 12]; 3]> = LazyLock::new(|| {
    let mut chances = [[[0.0; 12]; 12]; 3];
    for (hand, table) in [Hand::Professional, Hand::Practised, Hand::New].into_iter().zip(&mut chances) {
        for truth in Class::ALL {
            for (name, chance) in names_given(truth, accuracy(hand)) {
                table[name as usize][truth as usize] = chance;
            }
        }
    }
    chances
});

/// How often this hand is right.
#[must_use]
pub fn accuracy(hand: Hand) -> &'static Accuracy {
    match ACCURACY.iter().find(|row| row.hand == hand) {
        Some(row) => row,
        None => unreachable!("feel/accuracy.toml has no row for {hand:?}"),
    }
}

/// The name the chart has for a class: silt, which it lacks, feels like silt loam.
#[must_use]
pub fn name_in_chart(class: Class) -> Class {
    if class == Class::Silt { Class::SiltLoam } else { class }
}

/// The chance of each name, given the true class and how good the hand is.
fn names_given(truth: Class, accuracy: &Accuracy) -> Vec<(Class, f64)> {
    let right = name_in_chart(truth);
    let names: Vec<Class> = Class::ALL.into_iter().filter(|name| *name != Class::Silt).collect();
    let weight = |name: Class| match right.steps_to(name) {
        0 | 1 => 1.0,
        steps => libm::pow(1.0 / 3.0, f64::from(steps)),
    };
    let total = |near: bool| -> f64 {
        names
            .iter()
            .filter(|name| **name != right && (right.steps_to(**name) == 1) == near)
            .map(|name| weight(*name))
            .sum()
    };
    let (near, far) = (total(true), total(false));
    let exact = accuracy.exact_percent / 100.0;
    let next_to = (accuracy.within_one_percent - accuracy.exact_percent) / 100.0;
    let beyond = 1.0 - accuracy.within_one_percent / 100.0;
    names
        .into_iter()
        .map(|name| {
            let chance = match right.steps_to(name) {
                0 => exact,
                1 => next_to * weight(name) / near,
                _ => beyond * weight(name) / far,
            };
            (name, chance)
        })
        .collect()
}

/// P(named | true class) for each true class, in the order of [`Class::ALL`]. Where several names
/// are left open the chance is that of any of them.
#[must_use]
pub fn likelihood(named: &[Class], hand: Hand) -> [f64; 12] {
    let table = &CHANCES[hand as usize];
    let mut chance = [0.0; 12];
    for name in named {
        for (sum, part) in chance.iter_mut().zip(table[*name as usize]) {
            *sum += part;
        }
    }
    chance
}

/// What a feel test says, for belief. A test that was broken off (no rub) speaks for every class it
/// leaves open; the last of them, which is neither gritty nor smooth, stands for it by name.
///
/// # Errors
/// Answers that cannot stand together; see [`check`].
pub fn witness(reading: &FeelReading, id: &str, label: &str) -> Result<Witness, Refusal> {
    let answers = Answers::from(reading);
    check(&answers)?;
    let named = possible(&answers);
    let class = named.last().copied().unwrap_or(Class::Loam);
    Ok(Witness {
        id: id.to_owned(),
        label: label.to_owned(),
        account: Account::Named { class, likelihood: likelihood(&named, reading.hand) },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::Bounded;
    use crate::texture::feel::{RibbonLength, Rub};

    const HANDS: [Hand; 3] = [Hand::Professional, Hand::Practised, Hand::New];

    #[test]
    fn the_chances_of_all_names_add_to_one_and_keep_the_published_shares() {
        for hand in HANDS {
            let published = accuracy(hand);
            for truth in Class::ALL {
                let chance = |name: Class| likelihood(&[name], hand)[truth as usize];
                let right = name_in_chart(truth);
                let all: f64 = Class::ALL.into_iter().map(chance).sum();
                let near: f64 =
                    Class::ALL.into_iter().filter(|name| right.steps_to(*name) <= 1).map(chance).sum();
                assert!((all - 1.0).abs() < 1e-12, "{hand:?} {truth:?}: {all}");
                assert!((100.0 * chance(right) - published.exact_percent).abs() < 1e-9);
                assert!((100.0 * near - published.within_one_percent).abs() < 1e-9);
                assert_eq!(chance(Class::Silt), 0.0);
            }
        }
    }

    /// Salley and others 2018, abstract: 66 % and 91 %, against 38 % and 71 %.
    #[test]
    fn published_accuracy_is_in_the_table() {
        assert_eq!(
            (accuracy(Hand::Professional).exact_percent, accuracy(Hand::Professional).within_one_percent),
            (66.0, 91.0)
        );
        assert_eq!(
            (accuracy(Hand::Practised).exact_percent, accuracy(Hand::Practised).within_one_percent),
            (38.0, 71.0)
        );
        assert!(accuracy(Hand::New).exact_percent < 38.0);
    }

    #[test]
    fn silt_can_be_true_where_silt_loam_was_named() {
        let chance = likelihood(&[Class::SiltLoam], Hand::Practised);
        assert_eq!(chance[Class::Silt as usize], chance[Class::SiltLoam as usize]);
        assert!(chance[Class::Silt as usize] > 3.0 * chance[Class::Loam as usize]);
    }

    #[test]
    fn a_broken_off_test_speaks_for_all_it_leaves_open() {
        let full = FeelReading {
            ball_holds: true,
            ribbon_mm: Some(RibbonLength::literal(35.0)),
            rub: Some(Rub::Gritty),
            hand: Hand::Practised,
        };
        let open = FeelReading { rub: None, ..full.clone() };
        let chances = |reading: &FeelReading| match witness(reading, "1", "the feel test").unwrap().account {
            Account::Named { class, likelihood } => (class, likelihood),
            Account::Measured { .. } => panic!("a feel test names a class"),
        };
        assert_eq!(chances(&full).0, Class::SandyClayLoam);
        assert_eq!(chances(&open).0, Class::ClayLoam);
        for class in Class::ALL {
            assert!(chances(&open).1[class as usize] >= chances(&full).1[class as usize]);
        }
        let torn = FeelReading { ball_holds: false, ..full };
        assert_eq!(witness(&torn, "1", "x").unwrap_err().field, "ribbon_mm");
    }
}
