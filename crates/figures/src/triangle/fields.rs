//! The twelve class fields: edges and names.

use ground::texture::{Class, polygons};
use svg::node::element::Path;

use super::{FIELD_NAME, plane::Plane};
use crate::canvas::{At, Canvas, Side, path};
use crate::palette::INK;

fn outline(plane: &Plane, class: Class) -> Vec<At> {
    polygons()
        .iter()
        .filter(|field| field.class == class)
        .flat_map(|field| field.corners.iter().map(|corner| plane.at(*corner)))
        .collect()
}

/// Edges of all fields as one path.
pub(super) fn edges(canvas: &mut Canvas, plane: &Plane, width: f64) {
    let data: String = Class::ALL.iter().map(|class| path(&outline(plane, *class), true)).collect();
    canvas.trace(data, width);
    canvas.trace(path(&plane.corners(), true), width * 1.8);
}

/// A heavy broken edge round one field.
pub(super) fn mark(canvas: &mut Canvas, plane: &Plane, class: Class) {
    canvas.add(
        Path::new()
            .set("d", path(&outline(plane, class), true))
            .set("fill", "none")
            .set("stroke", INK)
            .set("stroke-width", 2.8)
            .set("stroke-dasharray", "6 3")
            .set("stroke-linejoin", "round"),
    );
}

/// Names within the fields, on one, two or three lines.
pub(super) fn names(canvas: &mut Canvas, plane: &Plane) {
    for class in Class::ALL {
        let lines = lines_of(class);
        let (x, y) = label_at(plane, class);
        for (row, line) in lines.iter().enumerate() {
            let down = (row as f64 - (lines.len() - 1) as f64 / 2.0) * FIELD_NAME;
            canvas.rimmed((x, y + down + FIELD_NAME * 0.35), Side::Middle, FIELD_NAME, line);
        }
    }
}

/// Where the middle of a field's name stands.
pub(super) fn label_at(plane: &Plane, class: Class) -> At {
    let (x, y) = centroid(&outline(plane, class));
    // Slivers: the name stands in their widest part.
    let (right, down) = match class {
        Class::Sand => (-0.008, 0.008),
        Class::LoamySand => (0.012, 0.0),
        Class::SandyLoam => (0.0, 0.006),
        Class::SiltLoam => (0.0, 0.02),
        Class::Silt => (0.01, 0.0),
        _ => (0.0, 0.0),
    };
    (x + right * plane.side, y + down * plane.side)
}

fn lines_of(class: Class) -> &'static [&'static str] {
    match class {
        Class::Sand => &["sand"],
        Class::LoamySand => &["loamy", "sand"],
        Class::SandyLoam => &["sandy loam"],
        Class::Loam => &["loam"],
        Class::SiltLoam => &["silt loam"],
        Class::Silt => &["silt"],
        Class::SandyClayLoam => &["sandy clay", "loam"],
        Class::ClayLoam => &["clay loam"],
        Class::SiltyClayLoam => &["silty clay", "loam"],
        Class::SandyClay => &["sandy", "clay"],
        Class::SiltyClay => &["silty", "clay"],
        Class::Clay => &["clay"],
    }
}

/// Centroid of a polygon by its area.
fn centroid(points: &[At]) -> At {
    let (mut area, mut x, mut y) = (0.0, 0.0, 0.0);
    for (a, b) in points.iter().zip(points.iter().cycle().skip(1)) {
        let cross = a.0 * b.1 - b.0 * a.1;
        area += cross;
        x += (a.0 + b.0) * cross;
        y += (a.1 + b.1) * cross;
    }
    (x / (3.0 * area), y / (3.0 * area))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_name_is_spelled_in_full() {
        for class in Class::ALL {
            assert_eq!(lines_of(class).join(" "), class.name());
        }
    }

    #[test]
    fn each_name_stands_in_its_own_field() {
        let plane = Plane { left: 0.0, bottom: 0.0, side: 100.0 };
        for class in Class::ALL {
            let (x, y) = label_at(&plane, class);
            let clay = -y / 0.866_025_403_784;
            let silt = x - clay / 2.0;
            let at = ground::texture::Composition { sand: 100.0 - silt - clay, silt, clay };
            assert_eq!(Class::of(at), class);
        }
    }
}
