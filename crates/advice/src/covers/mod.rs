//! Covers between crops: the gaps of each bed, which cover serves there and why, seed and mixes, and the nitrogen that a
//! cover leaves.
//!
//! [`gaps::bed_year`] lays out a bed's year from what is written down, [`choose::choose`] puts every cover of
//! [`ground::covers`] to one gap over what the plot's ground may be, [`nitrogen::cover_nitrogen`] tells what a cover that
//! was ended frees, and `feeding::needs` takes that off what the next crop is given.

pub mod choose;
pub mod gaps;
pub mod mixes;
pub mod nitrogen;
mod plot_ground;
pub mod purposes;
pub mod rotation;
pub mod tell;
pub mod winter;
pub mod year;

use book::model::CoverSeed;
use ground::covers::catalogue::find;
use jiff::civil::Date;

pub use choose::{CoverAnswer, CoverLine, CoverQuestion, choose};
pub use gaps::{BedGap, BedYear, Span, Stands, bed_year, farm_beds};
pub use mixes::{MixLine, SeedLine, SeedToHave, seed_list};
pub use nitrogen::{CoverNitrogen, cover_nitrogen};

/// Calendar days are written as text.
fn as_text<S: serde::Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(date)
}

#[expect(clippy::trivially_copy_pass_by_ref, clippy::ref_option, reason = "serde hands it over so")]
fn as_maybe_text<S: serde::Serializer>(date: &Option<Date>, to: S) -> Result<S::Ok, S::Error> {
    match date {
        Some(date) => to.collect_str(date),
        None => to.serialize_none(),
    }
}

/// "oats and spring pea".
#[must_use]
pub fn seeds_words(seeds: &[CoverSeed]) -> String {
    let names: Vec<String> = seeds
        .iter()
        .map(|seed| {
            find("cover", &seed.cover).map_or_else(|_| seed.cover.replace('-', " "), |one| one.name.clone())
        })
        .collect();
    match names.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, first)) => format!("{} and {last}", first.join(", ")),
        None => String::new(),
    }
}
