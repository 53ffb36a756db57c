//! Sheets of labels by their measures.

use serde::Serialize;

use crate::options::Paper;

/// A sheet of labels: columns and rows of one size, with even margins all round. The measures are those common in the
/// trade (provenance: recalled); a sheet printed on plain paper shows whether they are those of the sheet at hand.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LabelStock {
    /// Its name in addresses and commands.
    pub key: &'static str,
    /// Its measures in words.
    pub words: &'static str,
    /// The paper it is on.
    #[serde(skip)]
    pub paper: Paper,
    /// Labels side by side.
    pub columns: u16,
    /// Labels one below the other.
    pub rows: u16,
    /// Width of a label.
    pub width_mm: f64,
    /// Height of a label.
    pub height_mm: f64,
    /// Between two labels side by side.
    pub gap_mm: f64,
}

/// Where a label lies on its sheet, from the top left corner of the paper.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Place {
    /// From the left edge of the paper.
    pub left_mm: f64,
    /// From the upper edge of the paper.
    pub top_mm: f64,
}

impl LabelStock {
    /// All of them.
    pub const ALL: &'static [Self] = &[
        Self {
            key: "letter-3x10",
            words: "Letter, 3 × 10 labels of 2 5/8 × 1 in",
            paper: Paper::Letter,
            columns: 3,
            rows: 10,
            width_mm: 66.675,
            height_mm: 25.4,
            gap_mm: 3.175,
        },
        Self {
            key: "letter-2x5",
            words: "Letter, 2 × 5 labels of 4 × 2 in",
            paper: Paper::Letter,
            columns: 2,
            rows: 5,
            width_mm: 101.6,
            height_mm: 50.8,
            gap_mm: 4.7625,
        },
        Self {
            key: "a4-3x7",
            words: "A4, 3 × 7 labels of 63.5 × 38.1 mm",
            paper: Paper::A4,
            columns: 3,
            rows: 7,
            width_mm: 63.5,
            height_mm: 38.1,
            gap_mm: 2.54,
        },
        Self {
            key: "a4-3x8",
            words: "A4, 3 × 8 labels of 70 × 37 mm",
            paper: Paper::A4,
            columns: 3,
            rows: 8,
            width_mm: 70.0,
            height_mm: 37.0,
            gap_mm: 0.0,
        },
    ];

    /// The one of a name.
    #[must_use]
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|stock| stock.key == key)
    }

    /// The one a farm has where nothing is said: the first that fits its paper.
    #[must_use]
    pub fn usual(paper: Paper) -> Self {
        Self::ALL.iter().copied().find(|stock| stock.paper == paper).unwrap_or(Self::ALL[0])
    }

    /// Labels on one sheet.
    #[must_use]
    pub fn per_sheet(&self) -> u16 {
        self.columns * self.rows
    }

    /// Where the label of a number lies, 0 the first; numbers go along the rows.
    #[must_use]
    pub fn place(&self, at: u16) -> Place {
        let (paper_width, paper_height) = self.paper.size_mm();
        let (column, row) = (f64::from(at % self.columns), f64::from(at / self.columns % self.rows));
        let (columns, rows) = (f64::from(self.columns), f64::from(self.rows));
        let width = columns * self.width_mm + (columns - 1.0) * self.gap_mm;
        Place {
            left_mm: (paper_width - width) / 2.0 + column * (self.width_mm + self.gap_mm),
            top_mm: (paper_height - rows * self.height_mm) / 2.0 + row * self.height_mm,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn margins_come_out_as_the_trade_prints_them() {
        // Common practice, no source: 3/16 in and 1/2 in on the sheet of 30; 7.2 and 15.1 mm on the sheet of 21.
        let first = |key| LabelStock::of_key(key).unwrap().place(0);
        let us = first("letter-3x10");
        assert!((us.left_mm - 25.4 * 3.0 / 16.0).abs() < 0.01 && (us.top_mm - 12.7).abs() < 0.01);
        let metric = first("a4-3x7");
        assert!((metric.left_mm - 7.2).abs() < 0.05 && (metric.top_mm - 15.15).abs() < 0.05);
    }

    #[test]
    fn every_label_lies_on_its_paper_and_on_no_other() {
        for stock in LabelStock::ALL {
            let (width, height) = stock.paper.size_mm();
            let places: Vec<Place> = (0..stock.per_sheet()).map(|at| stock.place(at)).collect();
            for (at, place) in places.iter().enumerate() {
                assert!(place.left_mm >= -1e-9 && place.left_mm + stock.width_mm <= width + 1e-9);
                assert!(place.top_mm >= -1e-9 && place.top_mm + stock.height_mm <= height + 1e-9);
                for other in &places[..at] {
                    let beside = (place.left_mm - other.left_mm).abs() >= stock.width_mm - 1e-9;
                    let below = (place.top_mm - other.top_mm).abs() >= stock.height_mm - 1e-9;
                    assert!(beside || below, "{}: {at}", stock.key);
                }
            }
        }
    }
}
