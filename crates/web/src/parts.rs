//! Small pieces that many pages show: how surely, how likely, how widely spread.

use askama::Template;
use ground::kit::Spread;
use serde::Serialize;

/// How surely a finding holds, with a mark whose shape says it as well as its word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Template)]
#[serde(rename_all = "snake_case")]
#[template(path = "parts/firmness.html")]
pub enum Firmness {
    /// Holds over almost all of what the ground may be.
    Firm,
    /// Holds over most of it.
    Likely,
    /// Hangs on something not yet known.
    Open,
}

impl askama::filters::HtmlSafe for Firmness {}

impl From<advice::Firmness> for Firmness {
    fn from(firmness: advice::Firmness) -> Self {
        match firmness {
            advice::Firmness::Firm => Self::Firm,
            advice::Firmness::Likely => Self::Likely,
            advice::Firmness::Open => Self::Open,
        }
    }
}

impl Firmness {
    /// All three, surest first.
    pub const ALL: [Self; 3] = [Self::Firm, Self::Likely, Self::Open];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Firm => "Firm",
            Self::Likely => "Likely",
            Self::Open => "Open",
        }
    }

    fn class(self) -> &'static str {
        match self {
            Self::Firm => "firm",
            Self::Likely => "likely",
            Self::Open => "open",
        }
    }
}

/// One line of odds: a name, a bar and a percentage.
#[derive(Debug, Clone, PartialEq, Serialize, Template)]
#[template(path = "parts/odds.html")]
pub struct OddsLine {
    /// What may be.
    pub name: String,
    /// How likely, 0 to 1.
    pub share: f64,
}

impl askama::filters::HtmlSafe for OddsLine {}

impl OddsLine {
    /// A line of odds.
    #[must_use]
    pub fn new(name: impl Into<String>, share: f64) -> Self {
        Self { name: name.into(), share }
    }

    /// Width of the bar in a picture 100 wide.
    fn width(&self) -> String {
        format!("{:.1}", (self.share * 100.0).clamp(0.0, 100.0))
    }

    /// The percentage in words; what is neither impossible nor certain never reads as if it were.
    #[must_use]
    pub fn words(&self) -> String {
        let percent = self.share * 100.0;
        if percent > 0.0 && percent < 1.0 {
            "under 1 %".to_owned()
        } else if percent < 100.0 && percent > 99.0 {
            "over 99 %".to_owned()
        } else {
            format!("{percent:.0} %")
        }
    }
}

/// A value with its spread, in figures: "18.6 % (90 %: 14.2 to 24.9)".
#[derive(Debug, Clone, PartialEq, Serialize, Template)]
#[template(path = "parts/spread.html")]
pub struct SpreadView {
    /// What it is.
    pub label: String,
    /// Median and 90 % range.
    pub spread: Spread,
    /// Unit of all three.
    pub unit: String,
    /// Digits after the point.
    pub digits: usize,
}

impl askama::filters::HtmlSafe for SpreadView {}

impl SpreadView {
    /// A value with its spread.
    #[must_use]
    pub fn new(label: impl Into<String>, spread: Spread, unit: impl Into<String>, digits: usize) -> Self {
        Self { label: label.into(), spread, unit: unit.into(), digits }
    }

    fn number(&self, value: f64) -> String {
        format!("{value:.*}", self.digits)
    }

    fn median(&self) -> String {
        let number = self.number(self.spread.median);
        if self.unit.is_empty() { number } else { format!("{number} {}", self.unit) }
    }

    fn range(&self) -> String {
        format!("90 %: {} to {}", self.number(self.spread.low), self.number(self.spread.high))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_odds_are_not_none_and_great_odds_not_all() {
        let words: Vec<String> =
            [0.0, 0.004, 0.27, 0.996, 1.0].map(|share| OddsLine::new("loam", share).words()).into();
        assert_eq!(words, ["0 %", "under 1 %", "27 %", "over 99 %", "100 %"]);
    }

    #[test]
    fn a_spread_reads_as_one_line() {
        let view = SpreadView::new("Clay", Spread { low: 14.2, median: 18.6, high: 24.9 }, "%", 1);
        let html = view.render().unwrap();
        assert!(html.contains("18.6 %") && html.contains("90 %: 14.2 to 24.9"), "{html}");
    }
}
