//! What a structure stands on, and the ground to build on, line by line.

use book::model::seen::BuildingGround;
use book::model::{PostFoot, PostLine, TunnelFrame};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use ground::posts::embedment::Section;

use super::Line;
use crate::form::shown;

fn measure<Q: Bounded>(label: &str, value: Option<Q>, units: UnitSystem) -> Line {
    Line::new(label, value.map(|value| shown(value, units)).unwrap_or_default())
}

/// The frame of a tunnel.
pub(super) fn frame(frame: &TunnelFrame, units: UnitSystem) -> Vec<Line> {
    let TunnelFrame { wall_m, ridge_m, bow_spacing_m, profile, door_ends, covered, weight_kg_m2 } = frame;
    vec![
        measure("Side walls", *wall_m, units),
        measure("Ridge", *ridge_m, units),
        measure("Between bows", *bow_spacing_m, units),
        Line::new("Bows", profile.map_or("", |profile| profile.words())),
        Line::new("Ends with a door", door_ends.map(|ends| ends.to_string()).unwrap_or_default()),
        Line::new("Cover on in storms", covered.map_or("", |on| if on { "yes" } else { "no" })),
        measure("Weight of frame and cover", *weight_kg_m2, units),
    ]
}

/// A line of posts and wires.
pub(super) fn line(line: &PostLine, units: UnitSystem) -> Vec<Line> {
    let PostLine {
        height_m,
        spacing_m,
        wires,
        wire_pull_kn,
        wire_height_m,
        brace,
        brace_span_m,
        tieback_degrees,
        solid_percent,
        deer,
    } = line;
    vec![
        measure("Height", *height_m, units),
        measure("Between posts", *spacing_m, units),
        measure("Wires", *wires, units),
        measure("Pull of each", *wire_pull_kn, units),
        measure("Height of the wires", *wire_height_m, units),
        Line::new("Ends", brace.map_or("", |brace| brace.words())),
        measure("Span of the brace", *brace_span_m, units),
        measure("Slope of the tieback", *tieback_degrees, units),
        measure("Stops the wind", *solid_percent, units),
        Line::new("Deer fence", if *deer { "yes" } else { "" }),
    ]
}

/// A post.
pub(super) fn post(post: &PostFoot, units: UnitSystem) -> Vec<Line> {
    let PostFoot {
        section,
        width_mm,
        tube_wall_mm,
        depth_m,
        above_m,
        set,
        collar_mm,
        bell_mm,
        helix_mm,
        zinc_um,
        rigid_floor,
        movement_harmless,
        load_kn,
    } = post;
    let shape = if *section == Section::Round { "round" } else { "square" };
    vec![
        Line::new("Posts", format!("{shape}, {}, {}", shown(*width_mm, units), set.words())),
        measure("Wall of the tube", *tube_wall_mm, units),
        measure("Depth of the foot", *depth_m, units),
        measure("Joined at", *above_m, units),
        measure("Collar", *collar_mm, units),
        measure("Bell", *bell_mm, units),
        measure("Helix", *helix_mm, units),
        measure("Zinc on one face", *zinc_um, units),
        measure("Sideways load given", *load_kn, units),
        Line::new("Held by a floor", if *rigid_floor { "yes" } else { "" }),
        Line::new("Movement of half an inch harmless", if *movement_harmless { "yes" } else { "" }),
    ]
}

/// Ground to build on.
pub(super) fn building_ground(found: &BuildingGround, units: UnitSystem) -> Vec<Line> {
    let BuildingGround {
        at_cm,
        liquid_limit_percent,
        plastic_limit_percent,
        thread,
        resistivity_ohm_m,
        tilled_to_cm,
        fill_to_cm,
        organic_to_cm,
        stopped_at_cm,
        water_at_cm,
        dry_to_cm,
    } = found;
    vec![
        measure("Tilled down to", *tilled_to_cm, units),
        measure("Fill down to", *fill_to_cm, units),
        measure("Organic down to", *organic_to_cm, units),
        measure("Bar or auger stopped at", *stopped_at_cm, units),
        measure("Water stood at", *water_at_cm, units),
        measure("Hole stayed dry to", *dry_to_cm, units),
        measure("Soil tested at", *at_cm, units),
        Line::new("Rolled into a thread", thread.map_or("", |thread| thread.words())),
        measure("Liquid limit", *liquid_limit_percent, units),
        measure("Plastic limit", *plastic_limit_percent, units),
        measure("Resistivity", *resistivity_ohm_m, units),
    ]
}
