//! What the ground holds, layer by layer and over the roots.

use book::Snapshot;
use book::model::EntryId;
use ground::kit::{Bounded, Spread};
use ground::texture::Class;
use serde::Serialize;

use super::soils::{LayerDraws, Soils, earth};

/// One layer of the ground.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LayerWater {
    /// Its top, cm.
    pub from_cm: f64,
    /// Its bottom, cm.
    pub to_cm: f64,
    /// The class that was named when it was looked at, else its likeliest.
    pub class: Class,
    /// Was it named?
    pub named: bool,
    /// The class in words.
    pub class_words: &'static str,
    /// Odds of that class.
    pub class_odds: f64,
    /// Was this depth looked at?
    pub looked_at: bool,
    /// Has it evidence of its own, or is it taken as the plot's ground?
    pub own_evidence: bool,
    /// Water when crops wilt, of the whole soil.
    pub wilting_point_m3_m3: Spread,
    /// Water when drained.
    pub field_capacity_m3_m3: Spread,
    /// Water when full.
    pub saturation_m3_m3: Spread,
    /// Water that crops can use.
    pub available_m3_m3: Spread,
    /// Saturated conductivity.
    pub conductivity_mm_h: Option<Spread>,
}

impl LayerWater {
    fn of(layer: &LayerDraws) -> Option<Self> {
        let (class, class_odds) = layer.class();
        let whole = |of: fn(&ground::water::SoilWater) -> Option<f64>| {
            layer.spread(|water| Some(of(water)? * earth(water)))
        };
        Some(Self {
            from_cm: layer.from_cm,
            to_cm: layer.to_cm,
            class,
            named: layer.named.is_some(),
            class_words: class.name(),
            class_odds,
            looked_at: layer.looked_at,
            own_evidence: layer.own,
            wilting_point_m3_m3: whole(|water| water.wilting_point)?,
            field_capacity_m3_m3: whole(|water| water.field_capacity)?,
            saturation_m3_m3: whole(|water| water.saturation)?,
            available_m3_m3: layer.spread(|water| water.available)?,
            conductivity_mm_h: layer.spread(|water| water.saturated_conductivity),
        })
    }
}

/// A bed, or equal beds of one record, with the water crops can use in each.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BedHolds {
    /// The record.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// How many equal beds it stands for.
    pub count: u16,
    /// Area of one, m².
    pub area_m2: f64,
    /// Water that crops can use in one, L.
    pub usable_l: Spread,
}

/// What the ground holds.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Holds {
    /// From the surface down.
    pub layers: Vec<LayerWater>,
    /// Depth of the roots, cm.
    pub root_depth_cm: f64,
    /// Was that depth given, or is it the usual one of vegetables?
    pub root_depth_given: bool,
    /// Water over the roots that no crop can pull off, mm.
    pub unusable_mm: Spread,
    /// Water that crops can use, mm.
    pub usable_mm: Spread,
    /// Water that drains away after soaking, mm.
    pub draining_mm: Spread,
    /// The beds of the plot.
    pub beds: Vec<BedHolds>,
}

/// Water of each draw between the surface and a depth, mm, at a content that `of` tells.
pub(super) fn over_mm(
    soils: &Soils,
    to_cm: f64,
    of: impl Fn(&ground::water::SoilWater) -> Option<f64>,
) -> Vec<f64> {
    (0..soils.draws())
        .map(|draw| {
            soils
                .layers
                .iter()
                .map(|layer| layer.thickness_mm(0.0, to_cm) * of(&layer.water[draw]).unwrap_or(f64::NAN))
                .filter(|mm| *mm != 0.0)
                .sum()
        })
        .collect()
}

fn spread(mut values: Vec<f64>) -> Option<Spread> {
    values.retain(|value| value.is_finite());
    Spread::of_equal(&mut values)
}

pub(super) fn holds(
    snapshot: &Snapshot,
    plot: EntryId,
    soils: &Soils,
    root_depth_cm: f64,
    root_depth_given: bool,
) -> Option<Holds> {
    let usable_mm = spread(over_mm(soils, root_depth_cm, |water| water.available))?;
    let beds = snapshot
        .beds
        .iter()
        .filter(|bed| bed.body.plot == plot)
        .map(|bed| {
            let area_m2 = bed.body.length_m.get() * bed.body.width_m.get();
            // A millimetre on a square metre is a litre.
            let usable_l = scaled(usable_mm, area_m2);
            BedHolds { id: bed.id, name: bed.body.name.clone(), count: bed.body.count, area_m2, usable_l }
        })
        .collect();
    Some(Holds {
        layers: soils.layers.iter().filter_map(LayerWater::of).collect(),
        root_depth_cm,
        root_depth_given,
        unusable_mm: spread(over_mm(soils, root_depth_cm, |water| {
            Some(water.wilting_point? * earth(water))
        }))?,
        usable_mm,
        draining_mm: spread(over_mm(soils, root_depth_cm, |water| {
            Some((water.saturation? - water.field_capacity?).max(0.0) * earth(water))
        }))?,
        beds,
    })
}

pub(super) fn scaled(spread: Spread, by: f64) -> Spread {
    Spread { low: by * spread.low, median: by * spread.median, high: by * spread.high }
}
