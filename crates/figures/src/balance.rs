//! What ground was given and what it gave, year by year, as pairs of level bars.

use crate::canvas::{Canvas, LETTER, SMALL, Side, WIDTH, px, rectangle};
use crate::chart::{Entry, key, swatch};
use crate::figure::{Figure, Table};
use crate::palette::Stuff;
use crate::words::number;

/// One year, in the unit of the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Year<'a> {
    /// Its name: "2025".
    pub name: &'a str,
    /// Given.
    pub given: f64,
    /// Taken.
    pub taken: f64,
}

/// The years of one nutrient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Years<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// What is counted: "Phosphate".
    pub what: &'a str,
    /// Unit of the amounts: "lb".
    pub unit: &'a str,
    /// Earliest first.
    pub years: &'a [Year<'a>],
}

const ROW: f64 = 44.0;
const NAMES: f64 = 40.0;
const BARS: f64 = 170.0;

/// A pair of bars for each year: given above, taken below, and what is left over beside them. What is not
/// finite or below nothing counts as nothing.
#[must_use]
pub fn year_bars(of: &Years<'_>) -> Figure {
    let safe = |value: f64| if value.is_finite() { value.max(0.0) } else { 0.0 };
    let title = format!("{} given and taken, year by year", of.what);
    let mut table = Table::new(["Year", "Given", "Taken", "Left over"]);
    let mut said = Vec::new();
    for year in of.years {
        let (given, taken) = (safe(year.given), safe(year.taken));
        let net = rounded(given - taken);
        table.row([
            year.name.to_owned(),
            format!("{} {}", rounded_words(given), of.unit),
            format!("{} {}", rounded_words(taken), of.unit),
            format!("{} {}", signed(net), of.unit),
        ]);
        said.push(format!(
            "{}: {} {} given, {} taken, {} left over",
            year.name,
            rounded_words(given),
            of.unit,
            rounded_words(taken),
            signed(net)
        ));
    }
    if of.years.is_empty() {
        let mut canvas = Canvas::new(of.id, "balance", WIDTH, ROW);
        canvas.text((0.0, 15.0), Side::Start, LETTER, "Nothing is written down yet");
        return canvas.finish(title, "Nothing is written down yet.".to_owned(), table);
    }
    let description = format!("{}.", said.join(". "));
    let rows = of.years.len() as f64 * ROW;
    let mut canvas = Canvas::new(of.id, "balance", WIDTH, rows + 24.0);
    let most = of.years.iter().flat_map(|year| [safe(year.given), safe(year.taken)]).fold(0.0, f64::max);
    let scale = if most > 0.0 { BARS / most } else { 0.0 };
    for (row, year) in of.years.iter().enumerate() {
        let y = row as f64 * ROW + 2.0;
        canvas.bold((NAMES - 6.0, y + ROW / 2.0 + 2.0), Side::End, LETTER, year.name);
        for (amount, stuff, top) in
            [(safe(year.given), Stuff::Usable, y + 3.0), (safe(year.taken), Stuff::Draining, y + 20.0)]
        {
            let length = (amount * scale).max(1.0);
            canvas.shape(rectangle(NAMES, top, px(length), 14.0), stuff, 0.8);
            canvas.text((NAMES + length + 5.0, top + 11.0), Side::Start, SMALL, &rounded_words(amount));
        }
        let net = rounded(safe(year.given) - safe(year.taken));
        canvas.bold((WIDTH, y + ROW / 2.0 + 2.0), Side::End, LETTER, &format!("{} {}", signed(net), of.unit));
    }
    canvas.line((NAMES, 0.0), (NAMES, rows), 1.0);
    let given = |canvas: &mut Canvas, at| swatch(canvas, at, Stuff::Usable);
    let taken = |canvas: &mut Canvas, at| swatch(canvas, at, Stuff::Draining);
    let entries = [
        Entry { sign: &given, words: "given" },
        Entry { sign: &taken, words: "taken by harvests; right: left over" },
    ];
    key(&mut canvas, &entries, 0.0, WIDTH, rows + 6.0);
    canvas.finish(title, description, table)
}

/// Two digits below ten, whole numbers above.
fn rounded(value: f64) -> f64 {
    if value.abs() < 10.0 { (10.0 * value).round() / 10.0 } else { value.round() }
}

fn rounded_words(value: f64) -> String {
    number(rounded(value))
}

fn signed(value: f64) -> String {
    if value > 0.0 { format!("+{}", number(value)) } else { number(value) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_and_the_table_say_what_the_bars_show() {
        let years = [
            Year { name: "2024", given: 30.0, taken: 2.0 },
            Year { name: "2025", given: f64::NAN, taken: 2.5 },
        ];
        let figure = year_bars(&Years { id: "p", what: "Phosphate", unit: "lb", years: &years });
        assert!(
            figure.description.contains("2024: 30 lb given, 2 taken, +28 left over"),
            "{}",
            figure.description
        );
        assert_eq!(figure.table.rows[1][1], "0 lb");
        assert!(figure.svg.contains("2025") && figure.svg.ends_with("</svg>"));
        let none = year_bars(&Years { id: "p", what: "Phosphate", unit: "lb", years: &[] });
        assert!(none.description.contains("Nothing"));
    }
}
