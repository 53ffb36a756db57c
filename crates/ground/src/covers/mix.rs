//! Mixes: each cover's share of its pure-stand rate, the seed of a bed, and the depth they have in common.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::catalogue::find;
use super::expected::mix_nitrogen_percent;
use super::nitrogen::Stage;
use super::species::{Figures, KG_HA_PER_LB_AC, Range, Species};
use crate::kit::{
    Answer, Bounded, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working, table,
};

crate::quantity! {
    /// Share of the pure-stand rate.
    pub struct MixShare: "share of the pure rate", "", 0.01 ..= 1.5, example 0.6;
    /// Pure-stand rate of live seed.
    pub struct PureRate: "rate of the pure stand", "kg/ha", 0.5 ..= 500.0, example 100.0;
    /// Area to sow.
    pub struct SownArea: "area", "m²", 0.1 ..= 10_000_000.0, example 30.0;
    /// Share of the seed that comes up.
    pub struct Sprouting: "germination", "%", 10.0 ..= 100.0, example 90.0;
    /// Share of what is in the bag that is this seed.
    pub struct Purity: "purity", "%", 10.0 ..= 100.0, example 98.0;
    /// More seed for a late sowing or a rough seedbed.
    pub struct ExtraSeed: "extra seed", "%", 0.0 ..= 100.0, example 25.0;
}

/// How it is sown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Sowing {
    /// In rows, by a drill or a seeder.
    Drilled,
    /// By hand or a spinner, and raked in.
    Broadcast,
}

/// Which end of the published rates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Thickness {
    /// Cover on a good seedbed: the low end.
    Cover,
    /// The middle.
    Usual,
    /// Against weeds, or sown by hand on a small bed: three quarters of the way up (our judgement).
    Weeds,
}

/// Rate of a pure stand, kg/ha of live seed, within the published range.
#[must_use]
pub fn pure_rate_kg_ha(range: Range, thickness: Thickness) -> f64 {
    let up = match thickness {
        Thickness::Cover => 0.0,
        Thickness::Usual => 0.5,
        Thickness::Weeds => 0.75,
    };
    range.low + up * (range.high - range.low)
}

/// Seed from the bag, g, for an area: live-seed rate × share, over what lives, with extra.
#[must_use]
pub fn seed_g(rate_kg_ha: f64, share: f64, area_m2: f64, live: f64, extra: f64) -> f64 {
    rate_kg_ha * share / 10.0 * area_m2 / live * (1.0 + extra)
}

/// One cover of a mix.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MixPart {
    /// The cover, by its key.
    pub cover: String,
    /// Its share of the pure-stand rate.
    pub share: MixShare,
    /// Pure-stand rate; from the table where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pure_rate_kg_ha: Option<PureRate>,
    /// Germination on the tag of the bag; 100 % where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub germination_percent: Option<Sprouting>,
    /// Purity on the tag; 100 % where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub purity_percent: Option<Purity>,
}

/// Input of `cover-mix`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MixInput {
    /// One cover or several.
    pub parts: Vec<MixPart>,
    /// Area to sow.
    pub area_m2: SownArea,
    /// How it is sown.
    pub sowing: Sowing,
    /// Which end of the published rates.
    pub thickness: Thickness,
    /// Extra for a late sowing or a rough seedbed, commonly 25 to 50 %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extra_percent: Option<ExtraSeed>,
}

/// Seed of one part.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PartSeed {
    /// Key of the cover.
    pub cover: String,
    /// Live seed, kg/ha.
    pub live_kg_ha: f64,
    /// The same in pounds per acre.
    pub live_lb_ac: f64,
    /// Seed from the bag for the area.
    pub seed_g: f64,
}

/// Output of `cover-mix`.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MixOutput {
    /// Seed by cover.
    pub parts: Vec<PartSeed>,
    /// Shares added; 1 to 1.2 is usual, up to 1.3 done.
    pub share_sum: f64,
    /// Depth at which all come up, cm; none where no depth suits all.
    pub depth_cm: Option<Range>,
    /// Inoculants to buy.
    pub inoculants: Vec<String>,
    /// Nitrogen of its dry matter before flowering, percent, each part weighed by its share (our judgement).
    pub nitrogen_before_bloom_percent: Range,
    /// The same in flower.
    pub nitrogen_in_bloom_percent: Range,
}

/// Cover mix.
pub struct CoverMix;

fn range_of(species: &Species, sowing: Sowing) -> (Range, Figures) {
    match sowing {
        Sowing::Drilled => (species.drill_kg_ha, Figures::Drill),
        Sowing::Broadcast => (species.broadcast_kg_ha, Figures::Broadcast),
    }
}

impl Method for CoverMix {
    type Input = MixInput;
    type Output = MixOutput;

    const CARD: Card = Card {
        name: "cover-mix",
        title: "Seed for a cover or a mix",
        topic: Topic::Covers,
        computes: "Seed to weigh out for a bed, for one cover or a mix in which each takes a share of its pure-stand rate, \
                   with the depth they have in common and the inoculants to buy.",
        validity: &[
            "Rates are of pure live seed; the tag of the bag gives germination and purity.",
            "Two covers commonly take 0.6 of their rate each. Keep radish low, and cereals at half or less beside vetch.",
        ],
        sources: &[
            Cite::new("MarylandCovers", "two species at about 60 % each"),
            Cite::new("Sare2007", "proportional mixes"),
            Cite::new("OhioStateCovers2023", "rates and depths"),
            Cite::new("SantaCruzUnit", "nitrogen of dry matter by stage"),
        ],
        cautions: &[
            "Wear a dust mask and gloves with treated seed and inoculant, and keep seed from children and animals.",
        ],
    };

    fn example() -> Self::Input {
        let part = |cover: &str, share| MixPart {
            cover: cover.to_owned(),
            share: MixShare::literal(share),
            pure_rate_kg_ha: None,
            germination_percent: None,
            purity_percent: None,
        };
        MixInput {
            parts: vec![part("oats", 0.6), part("pea-spring", 0.6)],
            area_m2: SownArea::literal(30.0),
            sowing: Sowing::Broadcast,
            thickness: Thickness::Weeds,
            extra_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.parts.is_empty() || input.parts.len() > 12 {
            return Err(Refusal::new("parts", format!("{} covers were given", input.parts.len()))
                .given(input.parts.len())
                .accepted("1 to 12 covers")
                .example("2"));
        }
        let extra = input.extra_percent.map_or(0.0, Bounded::get) / 100.0;
        let (mut parts, mut inoculants, mut recalled) = (Vec::new(), Vec::new(), Vec::new());
        let mut depth = Range { low: 0.0, high: f64::INFINITY };
        let (mut share_sum, mut shares) = (0.0, Vec::new());
        for (at, part) in input.parts.iter().enumerate() {
            let species = find(&format!("parts[{at}].cover"), &part.cover)?;
            let (range, figures) = range_of(species, input.sowing);
            let rate =
                part.pure_rate_kg_ha.map_or_else(|| pure_rate_kg_ha(range, input.thickness), Bounded::get);
            if part.pure_rate_kg_ha.is_none() && species.provenance(figures) != Provenance::Read {
                recalled.push(species.name.as_str());
            }
            let percent = |value: Option<f64>| value.map_or(1.0, |value| value / 100.0);
            let live = percent(part.germination_percent.map(Bounded::get))
                * percent(part.purity_percent.map(Bounded::get));
            let share = part.share.get();
            share_sum += share;
            shares.push((species, share));
            depth = Range {
                low: depth.low.max(species.depth_cm.low),
                high: depth.high.min(species.depth_cm.high),
            };
            if !species.inoculant.is_empty() && !inoculants.contains(&species.inoculant) {
                inoculants.push(species.inoculant.clone());
            }
            parts.push(PartSeed {
                cover: species.key.clone(),
                live_kg_ha: rate * share,
                live_lb_ac: rate * share / KG_HA_PER_LB_AC,
                seed_g: seed_g(rate, share, input.area_m2.get(), live, extra),
            });
        }
        let mut notes = Vec::new();
        let depth_cm = (depth.low <= depth.high).then_some(depth);
        if depth_cm.is_none() {
            notes.push(Note::new(
                NoteKind::NoValue,
                "No depth suits all of them: sow the big seed first and deeper, then the small seed on top.",
            ));
        }
        if input.parts.len() > 1 && !(0.95..=1.3).contains(&share_sum) {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                format!("The shares add to {share_sum:.2}; mixes are commonly sown at 1.0 to 1.3."),
            ));
        }
        if !recalled.is_empty() {
            notes.push(Note::new(
                NoteKind::Provenance,
                format!("Rates that are recalled: {}.", recalled.join(", ")),
            ));
        }
        let nitrogen = |stage| mix_nitrogen_percent(&shares, stage).unwrap_or(Range { low: 0.0, high: 0.0 });
        Ok(Answer::with_notes(
            MixOutput {
                parts,
                share_sum,
                depth_cm,
                inoculants,
                nitrogen_before_bloom_percent: nitrogen(Stage::BeforeBloom),
                nitrogen_in_bloom_percent: nitrogen(Stage::InBloom),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let seeds =
            answer.value.parts.iter().zip(&input.parts).fold(Working::new(), |working, (seed, part)| {
                working
                .step(
                    format!("seed of {}", seed.cover),
                    "share × pure rate (kg/ha) / 10 × area (m²) / (germination × purity) × (1 + extra), g",
                    format!(
                        "share {}, {:.1} kg/ha of live seed, {} m²",
                        part.share.get(),
                        seed.live_kg_ha,
                        input.area_m2.get()
                    ),
                    format!("{:.0} g", seed.seed_g),
                )
                .cite(Self::CARD.sources[1])
            });
        let (before, bloom) =
            (answer.value.nitrogen_before_bloom_percent, answer.value.nitrogen_in_bloom_percent);
        seeds
            .step(
                "nitrogen of its dry matter",
                "mean of the kinds, weighed by their shares: the share of the seed stands for that of the stand",
                format!("shares add to {:.2}", answer.value.share_sum),
                format!(
                    "{:.1} to {:.1} % before flowering, {:.1} to {:.1} % in flower",
                    before.low, before.high, bloom.low, bloom.high
                ),
            )
            .cite(Self::CARD.sources[3])
    }
}

/// A mix that is often sown.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KnownMix {
    /// Key.
    pub key: String,
    /// Its name.
    pub name: String,
    /// What it is for.
    pub purpose: String,
    /// Covers and their shares.
    pub parts: Vec<(String, f64)>,
    /// What to know; may be empty.
    pub note: String,
}

#[derive(Deserialize)]
struct MixRow {
    key: String,
    name: String,
    purpose: String,
    first: String,
    first_share: f64,
    second: String,
    second_share: f64,
    third: Option<String>,
    third_share: Option<f64>,
    note: String,
}

static MIXES: LazyLock<Vec<KnownMix>> = LazyLock::new(|| {
    table::rows::<MixRow>("mixes.csv", include_str!("data/mixes.csv"))
        .into_iter()
        .map(|row| KnownMix {
            key: row.key,
            name: row.name,
            purpose: row.purpose,
            parts: [(row.first, row.first_share), (row.second, row.second_share)]
                .into_iter()
                .chain(row.third.filter(|key| !key.is_empty()).zip(row.third_share))
                .collect(),
            note: row.note,
        })
        .collect()
});

/// Mixes that are often sown; all common practice.
#[must_use]
pub fn known_mixes() -> &'static [KnownMix] {
    &MIXES
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_mixes_name_known_covers_in_usual_shares() {
        assert!(known_mixes().len() >= 9);
        for mix in known_mixes() {
            let sum: f64 = mix.parts.iter().map(|part| part.1).sum();
            assert!((0.85..=1.5).contains(&sum), "{}: {sum}", mix.key);
            for (cover, _) in &mix.parts {
                assert!(find("cover", cover).is_ok(), "{}: {cover}", mix.key);
            }
        }
    }

    #[test]
    fn pure_live_seed_takes_more_from_the_bag() {
        assert!((seed_g(100.0, 1.0, 10.0, 1.0, 0.0) - 100.0).abs() < 1e-12);
        assert!((seed_g(100.0, 0.5, 10.0, 0.8, 0.25) - 78.125).abs() < 1e-9);
    }
}
