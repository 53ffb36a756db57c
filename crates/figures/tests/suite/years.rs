//! A property over the years: sound whatever it is given, and saying where it was cut.

use crate::outline::outline;
use figures::series::{Point, Series, Slope, series};
use proptest::prelude::*;

fn point<'a>(year: f64, value: f64, cut: &'a str) -> Point<'a> {
    Point { year, day: "a day", value, range: [value - 0.3, value + 0.3], how: "a laboratory", cut }
}

#[test]
fn cuts_bars_and_the_slope_are_told() {
    let points = [
        point(2021.2, 5.3, ""),
        point(2022.2, 5.7, "the laboratory changed from A to B"),
        point(2023.2, 5.8, ""),
        point(2024.2, 6.0, ""),
    ];
    let slope = Some(Slope { from: (2022.5, 5.7), to: (2024.5, 6.0) });
    let figure = series(&Series { id: "ph", what: "pH in water", unit: "", points: &points, slope });
    outline(&figure);
    assert!(figure.description.contains("Cut, since the laboratory changed"), "{}", figure.description);
    assert!(figure.description.contains("slope of the years runs from 5.7 to 6"), "{}", figure.description);
    assert_eq!(figure.table.rows.len(), 4);
    assert_eq!(figure.table.rows[1][2], "5.4 to 6");
    for year in ["2021", "2024"] {
        assert!(figure.svg.contains(year), "{year}");
    }
    let none = series(&Series { points: &[], slope: None, id: "n", what: "pH", unit: "" });
    outline(&none);
    assert_eq!(none.description, "Nothing was read yet.");
}

proptest! {
    #[test]
    fn no_reading_breaks_it(
        values in proptest::collection::vec((1950.0..2150.0_f64, prop_oneof![-1e6..1e6_f64, Just(f64::NAN), Just(f64::INFINITY)]), 0..12),
    ) {
        let points: Vec<Point<'_>> = values.iter().map(|(year, value)| point(*year, *value, "")).collect();
        let slope = Some(Slope { from: (f64::NAN, 1.0), to: (2000.0, 2.0) });
        outline(&series(&Series { id: "x", what: "x", unit: "ppm", points: &points, slope }));
    }
}
