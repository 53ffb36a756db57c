//! The twelve class fields: edges and names.

use ground::texture::{Class, polygons};
use svg::node::element::Path;

use super::FIELD_NAME;
use super::plane::{Plane, inside};
use crate::canvas::{At, Canvas, Side, path, px, rim, text, text_width};
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

/// A class name in its field.
#[derive(Debug, Clone)]
pub(super) struct Name {
    pub(super) at: At,
    lines: &'static [&'static str],
    /// Degrees clockwise.
    turned: f64,
}

impl Name {
    /// Whether its top and bottom both stand in the field.
    fn lies_in(&self, plane: &Plane, class: Class) -> bool {
        let tall = FIELD_NAME * self.lines.len() as f64 / 2.0;
        [-tall, tall].iter().all(|down| {
            let soil = plane.soil((self.at.0, self.at.1 + down));
            inside(soil) && Class::of(soil) == class
        })
    }

    /// Whether a mark of radius `room` at `point` would cover part of the name.
    pub(super) fn meets(&self, point: At, room: f64) -> bool {
        let wide = self.lines.iter().map(|line| text_width(line, FIELD_NAME)).fold(0.0, f64::max) / 2.0;
        let tall = FIELD_NAME * self.lines.len() as f64 / 2.0;
        let (right, down) = (point.0 - self.at.0, point.1 - self.at.1);
        let (sin, cos) = self.turned.to_radians().sin_cos();
        let (along, across) = (right * cos + down * sin, down * cos - right * sin);
        along.abs() < wide + room && across.abs() < tall + room
    }
}

/// Names of all fields, moved up or down within their field to keep clear of `marks`.
pub(super) fn names(plane: &Plane, marks: &[At]) -> Vec<Name> {
    let placed = |class: Class| {
        let (x, y) = label_at(plane, class);
        let turned = if class == Class::LoamySand { ALONG_LOAMY_SAND } else { 0.0 };
        [0.0, -14.0, 14.0, -22.0, 22.0]
            .map(|down| Name { at: (x, y + down), lines: lines_of(class), turned })
            .into_iter()
            .filter(|name| name.at.1 == y || name.lies_in(plane, class))
            .min_by_key(|name| marks.iter().filter(|mark| name.meets(**mark, 6.0)).count())
            .unwrap_or(Name { at: (x, y), lines: lines_of(class), turned })
    };
    Class::ALL.map(placed).to_vec()
}

/// Writes the names, on one or two lines.
pub(super) fn write(canvas: &mut Canvas, names: &[Name]) {
    for Name { at: (x, y), lines, turned } in names {
        for (row, line) in lines.iter().enumerate() {
            let down = (row as f64 - (lines.len() - 1) as f64 / 2.0) * FIELD_NAME;
            let name = rim(text((*x, y + down + FIELD_NAME * 0.35), Side::Middle, FIELD_NAME, line));
            canvas.add(if *turned == 0.0 {
                name.set("stroke-width", 2.5)
            } else {
                name.set("stroke-width", 1.5)
                    .set("transform", format!("rotate({turned} {} {})", px(*x), px(*y)))
            });
        }
    }
}

/// Slant of the loamy sand field's upper edge, from (85, 0, 15) to (70, 30, 0).
const ALONG_LOAMY_SAND: f64 = 30.0;

/// Where the middle of a field's name stands.
pub(super) fn label_at(plane: &Plane, class: Class) -> At {
    let (x, y) = centroid(&outline(plane, class));
    // Slivers: the name stands in their widest part.
    let (right, down) = match class {
        Class::Sand => (0.002, 0.004),
        Class::LoamySand => (-0.006, -0.003),
        Class::SandyLoam => (0.01, 0.006),
        Class::SiltLoam => (0.0, 0.02),
        Class::Silt => (0.01, 0.0),
        _ => (0.0, 0.0),
    };
    (x + right * plane.side, y + down * plane.side)
}

fn lines_of(class: Class) -> &'static [&'static str] {
    match class {
        Class::Sand => &["sand"],
        Class::LoamySand => &["loamy sand"],
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
            assert_eq!(Class::of(plane.soil(label_at(&plane, class))), class);
        }
    }

    #[test]
    fn a_name_makes_way_for_a_mark() {
        let plane = Plane { left: 30.0, bottom: 268.0, side: 280.0 };
        let mark = label_at(&plane, Class::Loam);
        assert!(names(&plane, &[])[Class::Loam as usize].meets(mark, 5.0));
        assert!(!names(&plane, &[mark])[Class::Loam as usize].meets(mark, 5.0));
    }
}
