//! What the table knows of one cover.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::catalogue::find;
use super::kinds::{Band, Ending, Family, GrowsIn, NitrogenFrom};
use super::species::{Figures, Hazard, Range, Ratings, Species};
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::water::salts::SaltTolerance;

/// Input of `cover-crop`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoverCropInput {
    /// The cover, by its key or name.
    pub cover: String,
}

/// Output of `cover-crop`.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CoverCropOutput {
    /// Key in the table.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Its botanical name.
    pub scientific_name: String,
    /// Its family.
    pub family: Family,
    /// When it grows.
    pub grows_in: GrowsIn,
    /// Annual, biennial or perennial.
    pub life: String,
    /// Seed drilled, pure stand, kg/ha of live seed.
    pub drill_kg_ha: Range,
    /// Seed broadcast, kg/ha.
    pub broadcast_kg_ha: Range,
    /// Sowing depth, cm: the shallow end in heavy or moist ground.
    pub depth_cm: Range,
    /// Soil temperature at which it comes up, °C.
    pub germination_c: f64,
    /// Cold that kills an established stand without snow, °C.
    pub winterkill_c: f64,
    /// Days until it serves.
    pub useful_d: Range,
    /// Dry matter of the tops, kg/ha.
    pub dry_matter_kg_ha: Range,
    /// Where its nitrogen is from.
    pub nitrogen_from: NitrogenFrom,
    /// Nitrogen in the stand, kg/ha.
    pub nitrogen_kg_ha: Range,
    /// Carbon to nitrogen, young to flowering.
    pub carbon_nitrogen: Range,
    /// Acidity it grows in.
    pub ph: Range,
    /// Salt tolerance, recalled, where something is known.
    pub salts: Option<SaltTolerance>,
    /// Ratings 0 to 4, all recalled.
    pub ratings: Ratings,
    /// Textures it likes.
    pub best_in: Vec<Band>,
    /// Textures it fails in.
    pub poor_in: Vec<Band>,
    /// Families to keep apart from it in the rotation.
    pub avoid: Vec<Family>,
    /// What ends it.
    pub ended_by: Vec<Ending>,
    /// Inoculant group of a legume.
    pub inoculant: Option<String>,
    /// What it may do.
    pub hazards: Vec<Hazard>,
    /// Groups of figures that were read; the rest is recalled.
    pub read: Vec<Figures>,
    /// Sources, by key.
    pub sources: Vec<String>,
}

impl From<&Species> for CoverCropOutput {
    fn from(one: &Species) -> Self {
        Self {
            key: one.key.clone(),
            name: one.name.clone(),
            scientific_name: one.scientific_name.clone(),
            family: one.family,
            grows_in: one.grows_in,
            life: one.life.clone(),
            drill_kg_ha: one.drill_kg_ha,
            broadcast_kg_ha: one.broadcast_kg_ha,
            depth_cm: one.depth_cm,
            germination_c: one.germination_c,
            winterkill_c: one.winterkill_c,
            useful_d: one.useful_d,
            dry_matter_kg_ha: one.dry_matter_kg_ha,
            nitrogen_from: one.nitrogen_from,
            nitrogen_kg_ha: one.nitrogen_kg_ha,
            carbon_nitrogen: one.carbon_nitrogen,
            ph: one.ph,
            salts: one.salts,
            ratings: one.ratings,
            best_in: one.best_in.iter().collect(),
            poor_in: one.poor_in.iter().collect(),
            avoid: one.avoid.iter().collect(),
            ended_by: one.ended_by.iter().collect(),
            inoculant: (!one.inoculant.is_empty()).then(|| one.inoculant.clone()),
            hazards: one.hazards.clone(),
            read: one.read.clone(),
            sources: one.sources.clone(),
        }
    }
}

/// Cover crop.
pub struct CoverCrop;

impl Method for CoverCrop {
    type Input = CoverCropInput;
    type Output = CoverCropOutput;

    const CARD: Card = Card {
        name: "cover-crop",
        title: "What is known of a cover crop",
        topic: Topic::Covers,
        computes: "Seed, depth, warmth, cold, days, growth, nitrogen, acidity and hazards of one cover crop, with what was \
                   read and what is recalled.",
        validity: &[
            "Sources disagree on rates by several times, mostly by purpose: take the low end for cover on a good drilled seedbed, the upper half for weeds or when sowing by hand.",
            "Winterkill is for established plants without snow, give or take 3 °C (5 °F); variety decides much.",
        ],
        sources: &[
            Cite::new("OhioStateCovers2023", "fact sheets by species"),
            Cite::new("Sare2007", "chapters by species"),
            Cite::new("Sare1998", "chapters by species"),
            Cite::new("CornellCovers", "rates by purpose"),
            Cite::new("GeorgiaCovers", "pages by species"),
            Cite::new("Maas1990", "salt tolerance"),
        ],
        cautions: &[
            "Some covers poison animals: read the hazards, and ask a veterinarian before any grazing or feeding.",
            "Beans of fava can make people without the enzyme G6PD gravely ill.",
        ],
    };

    fn example() -> Self::Input {
        CoverCropInput { cover: "vetch-hairy".to_owned() }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let species = find("cover", &input.cover)?;
        Ok(Answer::with_notes(
            CoverCropOutput::from(species),
            vec![Note::new(
                NoteKind::Provenance,
                "The ratings and every group of figures not listed as read are recalled.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "the row",
                "the table of covers, lb/ac × 1.1209 and °F turned into metric",
                input.cover.clone(),
                answer.value.name.clone(),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::super::catalogue::catalogue;
    use super::*;
    use crate::kit::sources::BIBLIOGRAPHY;

    #[test]
    fn the_table_is_whole_and_believable() {
        assert!(catalogue().len() >= 30);
        for one in catalogue() {
            let key = &one.key;
            assert!(key.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{key}");
            assert_eq!(catalogue().iter().filter(|other| other.key == *key).count(), 1, "{key}");
            for range in [
                one.drill_kg_ha,
                one.broadcast_kg_ha,
                one.depth_cm,
                one.useful_d,
                one.dry_matter_kg_ha,
                one.nitrogen_kg_ha,
                one.carbon_nitrogen,
                one.ph,
            ] {
                assert!(range.low <= range.high && range.low >= 0.0, "{key} {range:?}");
            }
            assert!(
                one.broadcast_kg_ha.high >= one.drill_kg_ha.high,
                "{key}: broadcasting takes no less seed"
            );
            assert!(
                (0.0..=20.0).contains(&one.germination_c) && (-40.0..=1.0).contains(&one.winterkill_c),
                "{key}"
            );
            let r = one.ratings;
            for rating in [
                r.breaks_pan,
                r.loosens_top,
                r.feeds_nitrogen,
                r.holds_nitrogen,
                r.protects,
                r.smothers,
                r.covers_quickly,
                r.builds_organic,
                r.stands_wet,
                r.stands_dry,
                r.stands_heat,
                r.stands_shade,
                r.stands_acid,
                r.stands_poor,
            ] {
                assert!(rating <= 4, "{key}");
            }
            assert_eq!(
                one.family == Family::Fabaceae,
                !one.inoculant.is_empty(),
                "{key}: legumes have an inoculant"
            );
            assert_eq!(one.family == Family::Fabaceae, one.nitrogen_from == NitrogenFrom::Fixes, "{key}");
            assert!(one.ended_by.iter().count() > 0 && !one.best_in.meets(one.poor_in), "{key}");
            for source in &one.sources {
                assert!(BIBLIOGRAPHY.contains_key(source), "{key} cites unknown {source}");
            }
            for hazard in &one.hazards {
                assert!(hazard.words.ends_with('.') && hazard.words.len() < 260, "{key}: {}", hazard.words);
            }
        }
    }

    #[test]
    fn an_unknown_cover_is_refused_with_near_ones() {
        let refusal = find("cover", "crimson vetch").unwrap_err();
        assert!(refusal.message.contains("vetch-hairy"), "{refusal}");
        assert_eq!(find("cover", "Hairy Vetch").unwrap().key, "vetch-hairy");
        assert!(find("cover", "").is_err() && find("cover", &"x".repeat(100_000)).is_err());
    }
}
