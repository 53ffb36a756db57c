//! The texture classes held against their polygons in a general-purpose geometry library.

use geo::{
    Area, BooleanOps, Contains, Coord, Distance, Euclidean, Intersects, LineString, Point, Polygon, Relate,
};
use ground::kit::testing::any_of;
use ground::kit::{Bounded, Method};
use ground::texture::class::{TextureClass, TextureClassInput};
use ground::texture::composition::{ClayPercent, SandPercent, SiltPercent};
use ground::texture::{Class, Composition, polygons};
use proptest::prelude::*;

/// In the plane of sand and clay: an affine picture of the triangle, so shares of area are kept.
fn at(soil: &Composition) -> Coord {
    Coord { x: soil.sand, y: soil.clay }
}

fn fields() -> Vec<(Class, Polygon)> {
    polygons()
        .iter()
        .map(|field| {
            let ring: LineString = field.corners.iter().map(at).collect();
            (field.class, Polygon::new(ring, vec![]))
        })
        .collect()
}

const WHOLE: f64 = 100.0 * 100.0 / 2.0;

#[test]
fn the_fields_cover_the_triangle_without_overlap() {
    let fields = fields();
    let total: f64 = fields.iter().map(|(_, field)| field.unsigned_area()).sum();
    assert!((total - WHOLE).abs() < 1e-9, "{total}");
    for (a, first) in &fields {
        for (b, second) in &fields {
            if a != b {
                let shared = first.intersection(second).unsigned_area();
                assert!(shared < 1e-6, "{a:?} and {b:?} overlap by {shared}");
            }
        }
    }
}

/// Shares of the whole triangle follow from the corners; the printed figures are computed by hand
/// from the crossing points of the lines in SoilSurveyManual2017, ch. 3, pp. 122-124.
#[test]
fn the_fields_have_the_areas_of_the_definitions() {
    let expected = [1.50, 3.00, 11.47, 7.11, 16.35, 3.36, 7.76, 6.50, 5.20, 4.00, 4.00, 29.75];
    for ((class, field), share) in fields().iter().zip(expected) {
        let percent = 100.0 * field.unsigned_area() / WHOLE;
        assert!((percent - share).abs() <= 0.005 + 1e-9, "{class:?}: {percent}");
    }
}

#[test]
fn each_point_inside_a_field_has_its_class() {
    let fields = fields();
    let mut inside = 0;
    // A step of 0.7 keeps the run short and does not line up with the corners.
    for clay in 0..=142 {
        for silt in 0..=142 - clay {
            let (clay, silt) = (f64::from(clay) * 0.7, f64::from(silt) * 0.7);
            let soil = Composition { sand: 100.0 - silt - clay, silt, clay };
            let point = Point(at(&soil));
            let class = Class::of(soil);
            let holders: Vec<Class> =
                fields.iter().filter(|(_, field)| field.contains(&point)).map(|(class, _)| *class).collect();
            assert!(holders.len() <= 1, "{soil:?} lies inside {holders:?}");
            if let Some(holder) = holders.first() {
                inside += 1;
                let edge = fields[class as usize].1.exterior();
                if *holder != class {
                    // Only a point that stands on a line may differ: binary rounding puts it beside.
                    assert!(Euclidean.distance(&point, edge) < 1e-9, "{soil:?} is {class:?}, not {holder:?}");
                }
            }
        }
    }
    assert!(inside > 9_900, "only {inside} points lay inside a field");
}

#[test]
fn neighbours_are_the_fields_that_share_an_edge() {
    let fields = fields();
    for (a, first) in &fields {
        for (b, second) in &fields {
            if a == b {
                continue;
            }
            let matrix = first.relate(second);
            // Touching fields share an edge where their boundaries meet in a line.
            let edge = matrix.get(
                geo::coordinate_position::CoordPos::OnBoundary,
                geo::coordinate_position::CoordPos::OnBoundary,
            ) == geo::dimensions::Dimensions::OneDimensional;
            assert_eq!(a.adjacent().contains(b), edge, "{a:?} and {b:?}");
        }
    }
}

proptest! {
    #[test]
    fn any_composition_has_the_class_of_a_field_that_holds_it(sand in 0.0..1.0f64, silt in 0.0..1.0f64, clay in 0.0..1.0f64) {
        prop_assume!(sand + silt + clay > 1e-6);
        let soil = Composition::from_parts(sand, silt, clay);
        let class = Class::of(soil);
        let field = &fields()[class as usize].1;
        let point = Point(at(&soil));
        prop_assert!(field.intersects(&point) || Euclidean.distance(&point, field) < 1e-9, "{soil:?} {class:?}");
    }

    /// A point of an edge belongs to one of the two fields that meet there.
    #[test]
    fn edges_belong_to_a_field_that_touches_them(which in 0..12usize, corner in 0..8usize, share in 0.0..=1.0f64) {
        let corners = &polygons()[which].corners;
        let (a, b) = (corners[corner % corners.len()], corners[(corner + 1) % corners.len()]);
        let mix = |a: f64, b: f64| a + share * (b - a);
        let soil = Composition { sand: mix(a.sand, b.sand), silt: mix(a.silt, b.silt), clay: mix(a.clay, b.clay) };
        let field = &fields()[Class::of(soil) as usize].1;
        prop_assert!(Euclidean.distance(&Point(at(&soil)), field) < 1e-9, "{soil:?} {:?}", Class::of(soil));
    }

    /// Any three accepted numbers are either closed and classed, or refused at a field by name.
    #[test]
    fn the_method_answers_or_refuses(
        sand_percent in any_of::<SandPercent>(),
        silt_percent in any_of::<SiltPercent>(),
        clay_percent in any_of::<ClayPercent>(),
    ) {
        let sum = sand_percent.get() + silt_percent.get() + clay_percent.get();
        match TextureClass::compute(&TextureClassInput { sand_percent, silt_percent, clay_percent }) {
            Ok(answer) => {
                prop_assert!((sum - 100.0).abs() <= 2.0 + 1e-6);
                prop_assert!(!answer.value.as_near.contains(&answer.value.class));
            }
            Err(refusal) => {
                prop_assert!((sum - 100.0).abs() > 2.0);
                prop_assert_eq!(refusal.field, "sand_percent");
            }
        }
    }
}
