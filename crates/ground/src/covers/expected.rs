//! What a cover may be expected to grow in a gap, and what a weighed or unweighed stand of covers holds.
//!
//! The table's ranges are those of stands that had their time. A stand with less is taken to grow in proportion (our
//! judgement); a fifth of what is cut fresh is taken as dry, 12 to 28 % of it (common practice, no source).

use super::gap::Fit;
use super::nitrogen::{NitrogenKind, Stage, nitrogen_percent};
use super::species::{Range, Species};
use super::stand::StandKind;

/// Dry share of what is cut fresh: least, usual, most (common practice, no source).
pub const DRY_SHARE: [f64; 3] = [0.12, 0.20, 0.28];
/// Share by which a stand judged by height may be off either way, as `cover-stand` says.
pub const HEIGHT_MAY_BE_OFF: f64 = 1.0 / 3.0;
/// Share by which a few weighed frames may differ from the stand, as `cover-stand` says.
pub const FRAMES_MAY_BE_OFF: f64 = 1.0 / 3.0;

/// Dry matter that a cover may be expected to make in a gap, kg/ha: the table's range, scaled down by the days warm and
/// light enough for it where they are fewer than it wants.
#[must_use]
pub fn dry_matter_kg_ha(species: &Species, fit: &Fit) -> Range {
    grown_kg_ha(species, fit.growing_d)
}

/// The same of a number of days warm and light enough.
#[must_use]
pub fn grown_kg_ha(species: &Species, growing_d: f64) -> Range {
    species.dry_matter_kg_ha.times((growing_d.max(0.0) / species.useful_d.high.max(1.0)).min(1.0))
}

/// Kind of a cover for its share of nitrogen.
#[must_use]
pub fn nitrogen_kind(species: &Species) -> NitrogenKind {
    match (species.group.as_str(), species.life.as_str()) {
        ("legume", "annual") => NitrogenKind::AnnualLegume,
        ("legume", _) => NitrogenKind::PerennialLegume,
        _ => NitrogenKind::GrassOrBrassica,
    }
}

/// Kind of a cover for the rule of height.
#[must_use]
pub fn stand_kind(species: &Species) -> StandKind {
    if species.group == "grass" { StandKind::SmallGrain } else { StandKind::Broadleaf }
}

/// Nitrogen of the dry matter of a mix, percent: each part's range weighed by its share of the stand, which is taken to
/// be its share of the pure-stand rate (our judgement). Parts are a species and its share; the shares need not add to
/// one. Nothing without a part.
#[must_use]
pub fn mix_nitrogen_percent(parts: &[(&Species, f64)], stage: Stage) -> Option<Range> {
    let total: f64 = parts.iter().map(|part| part.1).sum();
    if total.is_nan() || total <= 0.0 {
        return None;
    }
    let of = |pick: fn(Range) -> f64| {
        parts
            .iter()
            .map(|(species, share)| share * pick(nitrogen_percent(nitrogen_kind(species), stage)))
            .sum::<f64>()
            / total
    };
    Some(Range { low: of(|range| range.low), high: of(|range| range.high) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::covers::catalogue::{catalogue, find};

    #[test]
    fn a_stand_with_its_time_makes_the_tables_range_and_a_short_one_less() {
        for species in catalogue() {
            let full = grown_kg_ha(species, 1000.0);
            assert_eq!(full, species.dry_matter_kg_ha, "{}", species.key);
            let half = grown_kg_ha(species, species.useful_d.low / 2.0);
            assert!(half.low <= half.high && half.high <= 0.5 * full.high + 1e-9, "{}", species.key);
            assert_eq!(grown_kg_ha(species, 0.0), Range { low: 0.0, high: 0.0 });
        }
    }

    #[test]
    fn groups_of_the_table_are_known_ones() {
        for species in catalogue() {
            assert!(
                ["grass", "legume", "brassica", "broadleaf"].contains(&species.group.as_str()),
                "{}",
                species.group
            );
        }
        assert_eq!(find("cover", "vetch-hairy").map(nitrogen_kind), Ok(NitrogenKind::AnnualLegume));
        assert_eq!(find("cover", "clover-red").map(nitrogen_kind), Ok(NitrogenKind::PerennialLegume));
        assert_eq!(find("cover", "rye-cereal").map(stand_kind), Ok(StandKind::SmallGrain));
    }

    /// Half grass, half annual legume before bloom lie half way: 2 to 3 % and 3.5 to 4 % [SantaCruzUnit].
    #[test]
    fn a_mix_lies_between_its_parts() {
        let (Ok(oats), Ok(pea)) = (find("cover", "oats"), find("cover", "pea-spring")) else {
            panic!("known")
        };
        let mix = mix_nitrogen_percent(&[(oats, 0.6), (pea, 0.6)], Stage::BeforeBloom).unwrap();
        assert!((mix.low - 2.75).abs() < 1e-9 && (mix.high - 3.5).abs() < 1e-9, "{mix:?}");
        assert_eq!(mix_nitrogen_percent(&[], Stage::InBloom), None);
    }
}
