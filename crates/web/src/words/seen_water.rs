//! Moisture, intake and the layers of the ground as they were read.

use book::Snapshot;
use book::model::seen::{
    Layer, Layers, Moisture, MoistureReading, Packing, Percolation, RingInfiltration, RingWater,
};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;

use super::Line;
use super::water::bed_line;
use crate::form::shown;

/// A moisture reading; its bed is named by [`bed_of`].
pub(super) fn moisture(moisture: &Moisture, units: UnitSystem) -> Vec<Line> {
    let Moisture { bed: _, from_cm, to_cm, reading } = moisture;
    let depth = match to_cm {
        Some(to_cm) => format!("{} to {}", shown(*from_cm, units), shown(*to_cm, units)),
        None => shown(*from_cm, units),
    };
    let read = match reading {
        MoistureReading::Feel(step) => Line::new("By feel", step.words()),
        MoistureReading::TensionKpa(tension) => Line::new("Tension", shown(*tension, units)),
        MoistureReading::VolumetricPercent(water) => {
            Line::new("Water", format!("{} % by volume", water.get()))
        }
    };
    vec![read, Line::new("Depth", depth)]
}

/// The bed a reading was made in.
pub(super) fn bed_of(seen: &book::model::Seen, snapshot: &Snapshot) -> Option<Line> {
    match seen {
        book::model::Seen::Moisture(moisture) => moisture.bed.map(|bed| bed_line(snapshot, bed)),
        _ => None,
    }
}

/// Infiltration rings, a line each.
pub(super) fn rings(seen: &RingInfiltration, units: UnitSystem) -> Vec<Line> {
    let RingInfiltration { inside_diameter_mm, rings } = seen;
    let mut lines: Vec<Line> = rings
        .iter()
        .enumerate()
        .map(|(place, ring)| {
            let water = match ring.water {
                RingWater::DepthMm(depth) => shown(depth, units),
                RingWater::VolumeMl(volume) => shown(volume, units),
            };
            let mut text = format!("{water} gone after {}", shown(ring.first_min, units));
            if let Some(second) = ring.second_min {
                text.push_str(&format!(", the second time after {}", shown(second, units)));
            }
            if ring.still_stood {
                text = text.replace("gone after", "after") + "; water still stood at the end";
            }
            Line::new(format!("Ring {}", place + 1), text)
        })
        .collect();
    lines.push(Line::new("Inside diameter", shown(*inside_diameter_mm, units)));
    lines
}

/// A percolation test.
pub(super) fn percolation(seen: &Percolation, units: UnitSystem) -> Vec<Line> {
    let Percolation { fall_mm, minutes, soaked, hole_depth_cm, hole_diameter_mm } = seen;
    let mut lines = vec![
        Line::new("Water fell", format!("{} in {}", shown(*fall_mm, units), shown(*minutes, units))),
        Line::new("Hole soaked before", if *soaked { "yes" } else { "no" }),
    ];
    lines.extend(hole_depth_cm.map(|depth| Line::new("Depth of the hole", shown(depth, units))));
    lines.extend(hole_diameter_mm.map(|width| Line::new("Diameter of the hole", shown(width, units))));
    lines
}

/// The layers of the ground, a line each.
pub(super) fn layers(seen: &Layers, units: UnitSystem) -> Vec<Line> {
    let line = |layer: &Layer| {
        Line::new(
            format!("{} to {}", shown(layer.from_cm, units), shown(layer.to_cm, units)),
            layer_words(layer),
        )
    };
    seen.layers.iter().map(line).collect()
}

fn layer_words(layer: &Layer) -> String {
    let mut parts: Vec<String> = Vec::new();
    parts.extend(layer.class.map(|class| class.name().to_owned()));
    if let (Some(sand), Some(clay)) = (layer.sand_percent, layer.clay_percent) {
        parts.push(format!("sand {} %, clay {} %", sand.get(), clay.get()));
    }
    parts.extend(layer.organic_matter_percent.map(|share| format!("organic matter {} %", share.get())));
    parts.extend(layer.packing.map(packing));
    parts.extend(layer.stones_volume_percent.map(|share| format!("stones {} % by volume", share.get())));
    if !layer.note.is_empty() {
        parts.push(layer.note.clone());
    }
    if parts.is_empty() { "nothing more was said".to_owned() } else { parts.join(", ") }
}

/// How tightly the ground is packed.
pub(super) fn packing(packing: Packing) -> String {
    match packing {
        Packing::DensityFactor(factor) => format!("{} times the usual density", factor.get()),
        Packing::BulkDensity(density) => format!("{} g/cm³", density.get()),
        Packing::Words(words) => words.words().to_owned(),
    }
}
