//! The twelve class fields as polygons of the texture triangle, and which fields share an edge.
//!
//! For drawing and for neighbours only: a shared line belongs to one class, and only the definitions
//! ([`Class::of`]) say to which.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Class, Composition};

/// The field of one class.
#[derive(Debug, Clone, PartialEq)]
pub struct Polygon {
    /// The class.
    pub class: Class,
    /// Its corners in order round the field; the first is not repeated.
    pub corners: Vec<Composition>,
}

#[derive(Deserialize)]
struct Row {
    class: Class,
    sand_percent: f64,
    silt_percent: f64,
    clay_percent: f64,
}

static POLYGONS: LazyLock<Vec<Polygon>> = LazyLock::new(|| {
    let mut polygons: Vec<Polygon> = Vec::with_capacity(12);
    let mut rows = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(include_str!("class_polygons.csv").as_bytes());
    for row in rows.deserialize::<Row>() {
        let row = match row {
            Ok(row) => row,
            // The table is compiled in, and a test reads it all.
            Err(error) => unreachable!("class_polygons.csv: {error}"),
        };
        let corner = Composition { sand: row.sand_percent, silt: row.silt_percent, clay: row.clay_percent };
        match polygons.last_mut().filter(|last| last.class == row.class) {
            Some(last) => last.corners.push(corner),
            None => polygons.push(Polygon { class: row.class, corners: vec![corner] }),
        }
    }
    polygons
});

/// The class fields, in the order of [`Class::ALL`].
///
/// Corners are sand, silt and clay in percent [SoilSurveyManual2017, ch. 3, pp. 122-124]. Three
/// corners lie in the middle of a neighbour's edge, at (45, 20, 35), (20, 53, 27) and (23, 50, 27).
#[must_use]
pub fn polygons() -> &'static [Polygon] {
    &POLYGONS
}

impl Class {
    /// The classes whose fields share an edge with this one, coarse to fine. Fields that touch in a
    /// point only (clay loam and silty clay, at 20 sand, 40 silt, 40 clay) do not count.
    #[must_use]
    pub fn adjacent(self) -> &'static [Self] {
        use Class::{
            Clay, ClayLoam, Loam, LoamySand, Sand, SandyClay, SandyClayLoam, SandyLoam, Silt, SiltLoam,
            SiltyClay, SiltyClayLoam,
        };
        match self {
            Sand => &[LoamySand],
            LoamySand => &[Sand, SandyLoam],
            SandyLoam => &[LoamySand, Loam, SiltLoam, SandyClayLoam],
            Loam => &[SandyLoam, SiltLoam, SandyClayLoam, ClayLoam],
            SiltLoam => &[SandyLoam, Loam, Silt, ClayLoam, SiltyClayLoam],
            Silt => &[SiltLoam],
            SandyClayLoam => &[SandyLoam, Loam, ClayLoam, SandyClay],
            ClayLoam => &[Loam, SiltLoam, SandyClayLoam, SiltyClayLoam, SandyClay, Clay],
            SiltyClayLoam => &[SiltLoam, ClayLoam, SiltyClay],
            SandyClay => &[SandyClayLoam, ClayLoam, Clay],
            SiltyClay => &[SiltyClayLoam, Clay],
            Clay => &[ClayLoam, SandyClay, SiltyClay],
        }
    }

    /// How many fields' edges lie between this class and `other`: 0 for itself, 1 for a neighbour.
    #[must_use]
    pub fn steps_to(self, other: Self) -> u8 {
        STEPS[self as usize][other as usize]
    }
}

static STEPS: LazyLock<[[u8; 12]; 12]> = LazyLock::new(|| {
    let mut steps = [[u8::MAX; 12]; 12];
    for from in Class::ALL {
        let row = &mut steps[from as usize];
        row[from as usize] = 0;
        let mut edge = vec![from];
        while !edge.is_empty() {
            let mut next = Vec::new();
            for class in edge {
                for &neighbour in class.adjacent() {
                    if row[neighbour as usize] == u8::MAX {
                        row[neighbour as usize] = row[class as usize] + 1;
                        next.push(neighbour);
                    }
                }
            }
            edge = next;
        }
    }
    steps
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_has_each_class_once_in_order() {
        assert_eq!(polygons().iter().map(|field| field.class).collect::<Vec<_>>(), Class::ALL);
        for field in polygons() {
            for corner in &field.corners {
                assert_eq!(corner.sand + corner.silt + corner.clay, 100.0, "{:?}", field.class);
            }
        }
    }

    #[test]
    fn steps_are_symmetric_and_reach_every_class() {
        for from in Class::ALL {
            for to in Class::ALL {
                assert_eq!(from.steps_to(to), to.steps_to(from));
                assert!(from.steps_to(to) <= 5, "{from:?} {to:?}");
            }
        }
        assert_eq!(Class::Loam.steps_to(Class::Loam), 0);
        assert_eq!(Class::Loam.steps_to(Class::Clay), 2);
        assert_eq!(Class::Sand.steps_to(Class::Silt), 4);
    }
}
