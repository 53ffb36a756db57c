//! Valid frames, lines and posts, and what is found of the ground to build on, from chance.

use book::model::seen::{BuildingGround, Thread};
use book::model::{EndBrace, PostFoot, PostLine, PostSet, TunnelFrame, TunnelProfile};
use ground::kit::Bounded;
use ground::posts::embedment::Section;
use ground::posts::wind_pressure::Exposure;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

use super::quantity;

pub const EXPOSURES: [Exposure; 3] = [Exposure::B, Exposure::C, Exposure::D];

pub fn frame() -> impl Strategy<Value = TunnelFrame> {
    (
        of(0.0_f64..4.0),
        of(0.2_f64..8.0),
        of(quantity()),
        of(select(vec![TunnelProfile::Round, TunnelProfile::Pointed])),
        of(0_u8..=2),
        of(any::<bool>()),
        of(quantity()),
    )
        .prop_map(|(wall, rise, bow_spacing_m, profile, door_ends, covered, weight_kg_m2)| TunnelFrame {
            wall_m: wall.map(Bounded::literal),
            // Some way above the walls, so that rounding never brings it below.
            ridge_m: rise.map(|rise| Bounded::literal(wall.unwrap_or(0.0).max(0.3) + rise + 0.01)),
            bow_spacing_m,
            profile,
            door_ends,
            covered,
            weight_kg_m2,
        })
}

pub fn line() -> impl Strategy<Value = PostLine> {
    (
        (of(quantity()), of(quantity()), of(quantity()), of(quantity())),
        of(0.1_f64..=0.3),
        (of(select(EndBrace::ALL.to_vec())), of(quantity()), of(quantity()), of(quantity())),
        any::<bool>(),
    )
        .prop_map(|((height_m, spacing_m, wires, wire_pull_kn), hang, ends, deer)| {
            let (brace, brace_span_m, tieback_degrees, solid_percent) = ends;
            PostLine {
                height_m,
                spacing_m,
                wires,
                wire_pull_kn,
                wire_height_m: hang.map(Bounded::literal),
                brace,
                brace_span_m,
                tieback_degrees,
                solid_percent,
                deer,
            }
        })
}

pub fn post() -> impl Strategy<Value = PostFoot> {
    (
        (select(vec![Section::Round, Section::Square]), 10.0_f64..300.0, select(PostSet::ALL.to_vec())),
        (of(0.1_f64..0.45), of(quantity()), of(quantity()), of(1.5_f64..3.0), of(1.1_f64..1.6)),
        (of(quantity()), of(quantity()), any::<bool>(), any::<bool>(), of(quantity())),
    )
        .prop_map(|((section, width, set), (wall, depth_m, above_m, collar, bell), others)| {
            let (helix_mm, zinc_um, rigid_floor, movement_harmless, load_kn) = others;
            let collar_mm = (50.0_f64).max(collar.unwrap_or(1.5) * width);
            PostFoot {
                tube_wall_mm: wall.map(|share| Bounded::literal((share * width).clamp(0.5, 20.0))),
                depth_m,
                above_m,
                collar_mm: Some(Bounded::literal(collar_mm)),
                bell_mm: bell.map(|wider| Bounded::literal((wider * collar_mm).min(1500.0))),
                helix_mm,
                zinc_um,
                rigid_floor,
                movement_harmless,
                load_kn,
                ..PostFoot::of(section, Bounded::literal(width), set)
            }
        })
        .prop_filter("a post that fits its hole", |post| post.check().is_ok())
}

pub fn building_ground() -> impl Strategy<Value = BuildingGround> {
    (
        of((10.0_f64..200.0, 0.1_f64..=1.0)),
        of(select(Thread::ALL.to_vec())),
        of(quantity()),
        (quantity(), of(quantity()), of(quantity()), of(quantity()), of(quantity())),
    )
        .prop_map(
            |(limits, thread, resistivity_ohm_m, (tilled, fill_to_cm, organic_to_cm, stopped, at_cm))| {
                BuildingGround {
                    at_cm,
                    liquid_limit_percent: limits.map(|(liquid, _)| Bounded::literal(liquid)),
                    plastic_limit_percent: limits.map(|(liquid, part)| {
                        Bounded::literal((part * liquid).clamp(5.0, 150.0_f64.min(liquid)))
                    }),
                    thread,
                    resistivity_ohm_m,
                    tilled_to_cm: Some(tilled),
                    fill_to_cm,
                    organic_to_cm,
                    stopped_at_cm: stopped,
                    water_at_cm: None,
                    dry_to_cm: at_cm,
                }
            },
        )
}
