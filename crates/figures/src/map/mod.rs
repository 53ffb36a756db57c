//! A map of a property: readings at their places, and cells where a surface may be drawn. Tints go from light to
//! dark in one hue, so they keep their order for any colour vision and in grey; readings carry their figures.

mod ground;
mod said;

use ::ground::kit::units::UnitSystem;

use self::ground::{STEPS, edge, mark, surface};
use self::said::{description, legend, table};
use crate::canvas::{Canvas, LETTER, SMALL, Side};
use crate::figure::Figure;
use crate::plan::frame::Frame;
use crate::plan::{Place, PlanKind, PlanShape, PlanSize, draw, frame, labels};

/// Most readings whose figures are written on the map of a farm.
const MOST_LABELS_OF_A_FARM: usize = 12;
/// Most classes that a map tells apart by tint.
pub const MOST_TINTS: usize = 5;

/// A reading on a map.
#[derive(Debug, Clone, PartialEq)]
pub struct MapPoint {
    /// Its figure, short.
    pub label: String,
    /// Where.
    pub at: Place,
    /// A line for the table: what it is, of which day.
    pub note: String,
}

/// Cells of a surface, row by row from the south-west.
#[derive(Debug, Clone, PartialEq)]
pub struct MapCells {
    /// South-west corner of the first cell.
    pub corner: Place,
    /// Side of a cell, m.
    pub cell_m: f64,
    /// Cells from west to east.
    pub columns: usize,
    /// Tint of each cell, from 0 (lightest); none where nothing is drawn.
    pub tints: Vec<Option<usize>>,
    /// What each tint stands for, from the lightest.
    pub words: Vec<String>,
    /// Are lines drawn where one tint meets another?
    pub lines: bool,
}

/// Tints of whole shapes.
#[derive(Debug, Clone, PartialEq)]
pub struct MapTints {
    /// Of each shape of the picture, in their order: its tint from 0 (lightest) with what to write on it, or none where
    /// it is not tinted.
    pub shapes: Vec<Option<ShapeTint>>,
    /// What each tint stands for, from the lightest.
    pub words: Vec<String>,
    /// What a plot without a tint is: "not measured here"; empty where there is none.
    pub without: &'static str,
}

/// The tint of a shape.
#[derive(Debug, Clone, PartialEq)]
pub struct ShapeTint {
    /// From 0, the lightest.
    pub tint: usize,
    /// What is written on it under its name.
    pub label: String,
}

/// A map.
#[derive(Debug, Clone, PartialEq)]
pub struct MapPicture<'a> {
    /// Id of the picture on its page.
    pub id: &'a str,
    /// Caption.
    pub title: &'a str,
    /// What stands there: outlines are drawn without their hatch where there are cells.
    pub shapes: &'a [PlanShape],
    /// Readings.
    pub points: &'a [MapPoint],
    /// The surface.
    pub cells: Option<&'a MapCells>,
    /// Tints of whole shapes, where there is no surface.
    pub tints: Option<&'a MapTints>,
    /// What the figures are: "pH in water, read at the dots".
    pub figures_are: &'a str,
    /// Day of the map as it is to be read; empty for none.
    pub date: &'a str,
    /// Is north up?
    pub north_up: bool,
    /// How large.
    pub size: PlanSize,
    /// Units of the scale bar.
    pub system: UnitSystem,
}

impl MapPicture<'_> {
    /// What each tint stands for.
    fn words(&self) -> &[String] {
        match (self.cells, self.tints) {
            (Some(cells), _) => &cells.words,
            (None, Some(tints)) => &tints.words,
            (None, None) => &[],
        }
    }

    /// What ground without a tint is, where there is any.
    fn without(&self) -> Option<&'static str> {
        match (self.cells, self.tints) {
            (Some(_), _) => Some("not known"),
            (None, Some(tints)) if !tints.without.is_empty() => Some(tints.without),
            _ => None,
        }
    }
}

/// Draws a map. What cannot be drawn is left out.
#[must_use]
pub fn map(picture: &MapPicture<'_>) -> Figure {
    let wide = picture.size == PlanSize::Wide;
    let (width, tallest) = picture.size.units();
    let shapes: Vec<&PlanShape> = picture.shapes.iter().filter(|shape| shape.form.is_sound()).collect();
    let points: Vec<&MapPoint> = picture.points.iter().filter(|point| frame::is_place(point.at)).collect();
    let table = table(picture, &points);
    let places = shapes
        .iter()
        .flat_map(|shape| shape.form.places())
        .chain(points.iter().map(|point| point.at))
        .chain(picture.cells.into_iter().flat_map(corners));
    let Some(frame) = Frame::around(places, width, tallest) else {
        let mut canvas = Canvas::new(picture.id, "map", width, 60.0);
        let empty = "No reading has a place yet.";
        canvas.text((width / 2.0, 34.0), Side::Middle, LETTER, empty);
        return canvas.finish(picture.title.to_owned(), empty.to_owned(), table);
    };
    let mut canvas = Canvas::new(picture.id, "map", width, frame.bottom() + 60.0);
    if wide {
        canvas.class("figure-wide");
    }
    let mut taken = labels::Labels::new(width, frame.bottom());
    match (picture.cells, picture.tints) {
        (Some(cells), _) => {
            surface(&mut canvas, &frame, cells);
            for shape in &shapes {
                edge(&mut canvas, &frame, shape, "none", "");
            }
        }
        (None, Some(tints)) => {
            for (shape, tint) in picture.shapes.iter().zip(&tints.shapes).filter(|one| one.0.form.is_sound())
            {
                let fill = tint.as_ref().and_then(|tint| STEPS.get(tint.tint)).copied();
                let dashes = if fill.is_some() || shape.kind != PlanKind::Plot { "" } else { "5 4" };
                edge(&mut canvas, &frame, shape, fill.unwrap_or("none"), dashes);
            }
        }
        (None, None) => draw::shapes(&mut canvas, &frame, &shapes),
    }
    mark(&mut canvas, &frame, &points, &mut taken);
    if let Some(tints) = picture.tints {
        for (shape, tint) in picture.shapes.iter().zip(&tints.shapes).filter(|one| one.0.form.is_sound()) {
            let figure = tint.as_ref().map_or("", |tint| tint.label.as_str());
            if matches!(shape.kind, PlanKind::Plot | PlanKind::Zone) {
                taken.upon(&mut canvas, &frame, shape, figure);
            }
        }
    }
    // Over a farm the dots of a plot lie too close for their figures; the plot's own map has them.
    let of_farm = picture.tints.is_some() && shapes.iter().any(|shape| shape.kind == PlanKind::Plot);
    for point in points.iter().filter(|_| !of_farm || points.len() <= MOST_LABELS_OF_A_FARM) {
        taken.beside(&mut canvas, frame.at(point.at), 5.0, &point.label, SMALL);
    }
    let bar = frame.scale_bar(&mut canvas, picture.system);
    if picture.north_up {
        frame.north_arrow(&mut canvas);
    }
    if !picture.date.is_empty() {
        canvas.text((width - 8.0, frame.bottom() + 24.0), Side::End, SMALL, picture.date);
    }
    let mut y = legend(&mut canvas, picture, !points.is_empty(), width, frame.bottom() + 34.0);
    if !picture.north_up {
        let words = "Directions are those of the drawing, not of the compass.";
        canvas.text((8.0, y + 9.0), Side::Start, SMALL, words);
        y += 16.0;
    }
    canvas.tall(y + 6.0);
    let said = description(picture, &points, &bar);
    canvas.finish(picture.title.to_owned(), said, table)
}

fn corners(cells: &MapCells) -> [Place; 2] {
    let rows = cells.tints.len().checked_div(cells.columns).unwrap_or(0);
    [
        cells.corner,
        [cells.corner[0] + cells.columns as f64 * cells.cell_m, cells.corner[1] + rows as f64 * cells.cell_m],
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::PlanForm;

    fn picture<'a>(
        cells: Option<&'a MapCells>,
        points: &'a [MapPoint],
        shapes: &'a [PlanShape],
    ) -> MapPicture<'a> {
        MapPicture {
            id: "map",
            title: "pH",
            shapes,
            points,
            cells,
            tints: None,
            figures_are: "pH in water",
            date: "21 May 2026",
            north_up: true,
            size: PlanSize::Phone,
            system: UnitSystem::Metric,
        }
    }

    #[test]
    fn cells_points_scale_and_legend_are_there() {
        let shapes = [PlanShape {
            kind: PlanKind::Plot,
            name: "East".to_owned(),
            form: PlanForm::Area {
                outer: vec![[0.0, 0.0], [40.0, 0.0], [40.0, 20.0], [0.0, 20.0]],
                holes: Vec::new(),
            },
        }];
        let points = [MapPoint { label: "6.1".to_owned(), at: [5.0, 5.0], note: "21 May 2026".to_owned() }];
        let cells = MapCells {
            corner: [0.0, 0.0],
            cell_m: 10.0,
            columns: 4,
            tints: vec![Some(0), Some(0), Some(1), None, Some(0), Some(1), Some(1), Some(1)],
            words: vec!["6.0 to 6.2".to_owned(), "6.2 to 6.4".to_owned()],
            lines: true,
        };
        let with = map(&picture(Some(&cells), &points, &shapes));
        assert!(
            with.svg.contains(STEPS[0]) && with.svg.contains(STEPS[1]) && with.svg.contains("6.2 to 6.4")
        );
        assert!(with.description.contains("left blank") && with.description.contains("scale bar stands for"));
        assert_eq!(with.table.rows.len(), 3);
        let without = map(&picture(None, &points, &shapes));
        assert!(!without.svg.contains(STEPS[0]) && without.description.contains("Nothing is drawn between"));
        assert!(map(&picture(None, &[], &[])).description.contains("No reading"));
    }

    #[test]
    fn whole_plots_are_tinted_and_the_others_told() {
        let plot = |name: &str, west: f64| PlanShape {
            kind: PlanKind::Plot,
            name: name.to_owned(),
            form: PlanForm::Area {
                outer: vec![[west, 0.0], [west + 40.0, 0.0], [west + 40.0, 30.0], [west, 30.0]],
                holes: Vec::new(),
            },
        };
        let shapes = [plot("East", 50.0), plot("West", 0.0)];
        let tints = MapTints {
            shapes: vec![Some(ShapeTint { tint: 3, label: "6.4".to_owned() }), None],
            words: ["5", "6", "6.2", "6.4"].map(str::to_owned).to_vec(),
            without: "not measured here",
        };
        let drawn = map(&MapPicture { tints: Some(&tints), ..picture(None, &[], &shapes) });
        assert!(
            drawn.svg.contains(STEPS[3]) && drawn.svg.contains("stroke-dasharray=\"5 4\""),
            "{}",
            drawn.svg
        );
        assert!(
            drawn.svg.matches("6.4").count() == 2 && drawn.svg.contains("not measured here"),
            "{}",
            drawn.svg
        );
        assert_eq!(drawn.table.rows.len(), 2);
        assert!(drawn.description.contains("One area is tinted"), "{}", drawn.description);
    }

    #[test]
    fn places_that_are_none_do_no_harm() {
        let points = [MapPoint { label: "6".to_owned(), at: [f64::NAN, 1e300], note: String::new() }];
        assert!(map(&picture(None, &points, &[])).svg.starts_with("<svg"));
    }
}
