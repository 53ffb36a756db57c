//! The pictures of a plot's water.

use advice::water::{Followed, PlotWater, Wetting};
use figures::Figure;
use figures::drain::{DrainSection, Kind, drain_section};
use figures::profile::{Amount, GroundProfile, Layer, MOST_LAYERS, Sums, ground_profile};
use figures::retention::{Held, RetentionCurve, retention_curve};
use figures::wetting::{self, Ground, Moment, Size, wetting_film, wetting_frames};
use ground::kit::Spread;
use ground::kit::units::UnitSystem;

/// The ground with the water it holds.
pub(super) fn profile(water: &PlotWater, system: UnitSystem) -> Figure {
    let holds = &water.holds;
    let mut layers: Vec<Layer<'_>> = holds
        .layers
        .iter()
        .map(|layer| Layer {
            top_cm: layer.from_cm,
            bottom_cm: layer.to_cm,
            name: layer.class_words,
            wilting_point_m3_m3: layer.wilting_point_m3_m3,
            field_capacity_m3_m3: layer.field_capacity_m3_m3,
            saturation_m3_m3: layer.saturation_m3_m3,
        })
        .collect();
    layers.truncate(MOST_LAYERS);
    let bed_m2 = holds.beds.first().map(|bed| bed.area_m2);
    let amount = |water_mm: Spread| Amount {
        water_mm,
        // A millimetre on a square metre is a litre.
        bed_l: bed_m2.map(|m2| Spread {
            low: m2 * water_mm.low,
            median: m2 * water_mm.median,
            high: m2 * water_mm.high,
        }),
    };
    ground_profile(&GroundProfile {
        id: "ground-profile",
        layers: &layers,
        sums: Some(Sums {
            to_depth_cm: holds.root_depth_cm,
            unusable: amount(holds.unusable_mm),
            usable: amount(holds.usable_mm),
            draining: amount(holds.draining_mm),
        }),
        root_depth_cm: Some(holds.root_depth_cm),
        water_table_cm: water.drainage.water_at_cm,
        now: &[],
        system,
    })
}

/// How hard the top holds its water.
pub(super) fn retention(water: &PlotWater, system: UnitSystem) -> Figure {
    let curve: Vec<Held> = water
        .curve
        .iter()
        .map(|at| Held { suction_kpa: at.suction_kpa, water_m3_m3: at.water_m3_m3 })
        .collect();
    retention_curve(&RetentionCurve { id: "retention-curve", curve: &curve, reading_kpa: None, system })
}

/// Drains at their middle spacing.
pub(super) fn drains(water: &PlotWater, system: UnitSystem) -> Option<Figure> {
    let drains = water.drainage.drains.as_ref()?;
    Some(drain_section(&DrainSection {
        id: "drain-section",
        kind: Kind::Pipe,
        depth_cm: 100.0 * drains.depth_m,
        spacing_m: drains.spacing_m?.median,
        midspan_water_table_cm: 100.0 * drains.table_at_m.min(drains.depth_m),
        impermeable_cm: drains.floor_seen.then_some(100.0 * drains.floor_m),
        system,
    }))
}

/// The watering as small pictures, and as a film for a slider.
pub(super) fn watering(followed: &Wetting, system: UnitSystem) -> (Figure, Figure) {
    let layers: Vec<Vec<wetting::Layer>> = followed.grounds.iter().map(layers).collect();
    let moments: Vec<Vec<Moment<'_>>> = followed.grounds.iter().map(moments).collect();
    let grounds: Vec<Ground<'_>> = followed
        .grounds
        .iter()
        .zip(&layers)
        .zip(&moments)
        .map(|((ground, layers), moments)| Ground {
            name: ground.name,
            layers,
            depths_cm: &ground.depths_cm,
            root_depth_cm: Some(followed.root_depth_cm),
            moments,
        })
        .collect();
    let small = wetting::Wetting { id: "watering", grounds: &grounds, size: Size::Small, system };
    (wetting_frames(&small), wetting_film(&wetting::Wetting { id: "watering-film", ..small }))
}

fn layers(ground: &Followed) -> Vec<wetting::Layer> {
    ground
        .layers
        .iter()
        .map(|layer| wetting::Layer {
            top_cm: layer.from_cm,
            bottom_cm: layer.to_cm,
            field_capacity_m3_m3: layer.field_capacity_m3_m3,
            saturation_m3_m3: layer.saturation_m3_m3,
        })
        .collect()
}

fn moments(ground: &Followed) -> Vec<Moment<'_>> {
    ground
        .moments
        .iter()
        .map(|moment| Moment {
            hours: moment.hours,
            water_m3_m3: &moment.water_m3_m3,
            in_mm: moment.in_mm,
            below_roots_mm: moment.below_roots_mm,
        })
        .collect()
}
