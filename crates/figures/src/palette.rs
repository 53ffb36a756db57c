//! Colours and hatches, once for all pictures.
//!
//! Tints are far apart in lightness (sand light, silt middle, clay dark), so they stay apart for
//! any colour vision and in grey; the hatch alone also tells them apart on a black and white print.
//! Tints are thin enough for ink of either light or dark pages to read on them.

use svg::node::element::{Circle, Line, Path, Pattern, Rectangle};
use svg::node::{Node, Value};

/// Ink: whatever colour the page writes in.
pub const INK: &str = "currentColor";
/// Paper behind lettering; pages on another ground restyle `.figure-rim` and `.figure-paper`.
pub const PAPER: &str = "#fffdf7";
/// The belief's cloud, the ranges and the odds.
pub const BELIEF: &str = "#1d5c87";

/// What a fill stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stuff {
    /// Sand: dots.
    Sand,
    /// Silt: short dashes, staggered.
    Silt,
    /// Clay: close level lines.
    Clay,
    /// Organic matter that floats: small crosses.
    Float,
    /// Clear water: tint alone.
    Water,
    /// Cloudy water: fine scattered specks.
    Cloud,
    /// A boundary somewhere in here: slanting lines on paper.
    Doubt,
    /// Water that roots cannot pull off: crossed lines.
    Unusable,
    /// Water that crops can use: tint with rising lines.
    Usable,
    /// Water that drains away: falling broken lines.
    Draining,
    /// The belief, plain: odds bars and ranges.
    Belief,
    /// The 90 % range round a line: a pale plain tint.
    Range,
    /// The same range where it is forecast: paler, with wide slanting lines.
    Forecast,
    /// Rain: upright broken lines.
    Rain,
    /// Water put on: dark with level lines.
    Watering,
    /// Ground below a picture's matter: sparse short dashes.
    Ground,
    /// A layer that water hardly passes: close slanting lines on a dark tint.
    Tight,
    /// A plot on the plan: a pale plain green.
    Plot,
    /// A bed on the plan: level lines on green.
    Bed,
    /// A tunnel on the plan: bows, upright lines far apart.
    Cover,
    /// A building on the plan: dark, crossed lines.
    Built,
    /// Standing water on the plan: waves.
    Wet,
    /// A keep-out strip on the plan: wide slanting lines that fall.
    KeepOut,
    /// A track on the plan: sparse dots.
    Track,
}

impl Stuff {
    /// Every fill, for a page of patterns.
    pub const ALL: [Self; 24] = [
        Self::Sand,
        Self::Silt,
        Self::Clay,
        Self::Float,
        Self::Water,
        Self::Cloud,
        Self::Doubt,
        Self::Unusable,
        Self::Usable,
        Self::Draining,
        Self::Belief,
        Self::Range,
        Self::Forecast,
        Self::Rain,
        Self::Watering,
        Self::Ground,
        Self::Tight,
        Self::Plot,
        Self::Bed,
        Self::Cover,
        Self::Built,
        Self::Wet,
        Self::KeepOut,
        Self::Track,
    ];

    /// Its name in an id.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Sand => "sand",
            Self::Silt => "silt",
            Self::Clay => "clay",
            Self::Float => "float",
            Self::Water => "water",
            Self::Cloud => "cloud",
            Self::Doubt => "doubt",
            Self::Unusable => "unusable",
            Self::Usable => "usable",
            Self::Draining => "draining",
            Self::Belief => "belief",
            Self::Range => "range",
            Self::Forecast => "forecast",
            Self::Rain => "rain",
            Self::Watering => "watering",
            Self::Ground => "ground",
            Self::Tight => "tight",
            Self::Plot => "plot",
            Self::Bed => "bed",
            Self::Cover => "cover",
            Self::Built => "built",
            Self::Wet => "wet",
            Self::KeepOut => "keep-out",
            Self::Track => "track",
        }
    }

    /// Tint and how much of it.
    fn tint(self) -> (&'static str, f64) {
        match self {
            Self::Sand => ("#e3b23c", 0.38),
            Self::Silt => ("#8c8577", 0.42),
            Self::Clay => ("#8a3d22", 0.55),
            Self::Float => ("#4d5a2a", 0.45),
            Self::Water => ("#5b9fc9", 0.16),
            Self::Cloud => ("#a9a18c", 0.30),
            Self::Doubt => (PAPER, 0.80),
            Self::Unusable => ("#7d7466", 0.45),
            Self::Usable => ("#2f7fb0", 0.45),
            Self::Draining => ("#9cc6de", 0.25),
            Self::Belief => (BELIEF, 0.55),
            Self::Range => (BELIEF, 0.30),
            Self::Forecast => (BELIEF, 0.10),
            Self::Rain => ("#9cc6de", 0.45),
            Self::Watering => ("#1d5c87", 0.60),
            Self::Ground => ("#c9b48a", 0.28),
            Self::Tight => ("#6b4a32", 0.55),
            Self::Plot => ("#8fae6b", 0.30),
            Self::Bed => ("#6f8f4a", 0.40),
            Self::Cover => ("#e9e2cf", 0.60),
            Self::Built => ("#7d7466", 0.55),
            Self::Wet => ("#2f7fb0", 0.35),
            Self::KeepOut => ("#b5651d", 0.22),
            Self::Track => ("#c9b48a", 0.55),
        }
    }

    /// The fill as a pattern with the given id.
    pub(crate) fn pattern(self, id: &str) -> Pattern {
        let (width, height) = self.tile();
        let (colour, opacity) = self.tint();
        let mut pattern = Pattern::new()
            .set("id", id)
            .set("width", width)
            .set("height", height)
            .set("patternUnits", "userSpaceOnUse")
            .add(
                Rectangle::new()
                    .set("width", width)
                    .set("height", height)
                    .set("fill", colour)
                    .set("fill-opacity", opacity),
            );
        for mark in self.marks() {
            pattern.append(mark);
        }
        pattern
    }

    fn tile(self) -> (f64, f64) {
        match self {
            Self::Sand => (7.0, 7.0),
            Self::Silt => (12.0, 8.0),
            Self::Clay => (8.0, 3.5),
            Self::Float => (9.0, 9.0),
            Self::Cloud => (11.0, 9.0),
            Self::Doubt => (5.0, 5.0),
            Self::Unusable => (6.0, 6.0),
            Self::Usable | Self::Draining => (8.0, 8.0),
            Self::Water | Self::Belief | Self::Range => (8.0, 8.0),
            Self::Forecast => (7.0, 7.0),
            Self::Rain => (3.0, 6.0),
            Self::Watering => (6.0, 3.0),
            Self::Ground => (22.0, 16.0),
            Self::Tight => (4.0, 4.0),
            Self::Plot => (8.0, 8.0),
            Self::Bed => (6.0, 5.0),
            Self::Cover => (9.0, 6.0),
            Self::Built => (7.0, 7.0),
            Self::Wet => (12.0, 7.0),
            Self::KeepOut => (10.0, 10.0),
            Self::Track => (9.0, 9.0),
        }
    }

    fn marks(self) -> Vec<Box<dyn Node>> {
        match self {
            Self::Sand => vec![dot(1.8, 1.8, 0.85), dot(5.3, 5.3, 0.85)],
            Self::Silt => vec![stroke((1.0, 2.0), (5.0, 2.0), 0.9), stroke((7.0, 6.0), (11.0, 6.0), 0.9)],
            Self::Clay => vec![stroke((0.0, 1.75), (8.0, 1.75), 1.0)],
            Self::Float => vec![trace("M2.5 4.5H6.5M4.5 2.5V6.5", 0.9)],
            Self::Water | Self::Belief | Self::Range | Self::Plot => Vec::new(),
            Self::Bed => vec![stroke((0.0, 2.5), (6.0, 2.5), 0.6)],
            Self::Cover => vec![stroke((4.5, 0.0), (4.5, 6.0), 0.9)],
            Self::Built => vec![trace("M0 0L7 7M0 7L7 0", 0.9)],
            Self::Wet => vec![trace("M0 3.5Q3 1 6 3.5T12 3.5", 0.9)],
            Self::KeepOut => vec![trace("M0 0L10 10M-1 9L1 11M9 -1L11 1", 1.0)],
            Self::Track => vec![dot(2.5, 2.5, 0.7), dot(7.0, 7.0, 0.7)],
            Self::Forecast => vec![trace("M-1 1L1 -1M0 7L7 0M6 8L8 6", 0.6)],
            Self::Rain => vec![stroke((1.5, 0.5), (1.5, 4.0), 0.8)],
            Self::Watering => vec![stroke((0.0, 1.5), (6.0, 1.5), 1.0)],
            Self::Ground => {
                vec![stroke((3.0, 4.0), (6.0, 4.0), 0.7), stroke((14.0, 12.0), (17.0, 12.0), 0.7)]
            }
            Self::Tight => vec![trace("M-1 1L1 -1M0 4L4 0M3 5L5 3", 0.9)],
            Self::Cloud => vec![dot(2.0, 2.0, 0.5), dot(7.5, 4.0, 0.5), dot(4.5, 7.5, 0.5)],
            Self::Doubt => vec![trace("M-1 1L1 -1M0 5L5 0M4 6L6 4", 0.7)],
            Self::Unusable => vec![trace("M0 0L6 6M0 6L6 0", 0.7)],
            Self::Usable => vec![trace("M-1 1L1 -1M0 8L8 0M7 9L9 7", 0.8)],
            Self::Draining => vec![trace("M1 1L4 4M6 6L7 7", 0.8)],
        }
    }
}

fn dot(x: f64, y: f64, radius: f64) -> Box<dyn Node> {
    Circle::new().set("cx", x).set("cy", y).set("r", radius).set("fill", INK).into()
}

fn stroke(from: (f64, f64), to: (f64, f64), width: f64) -> Box<dyn Node> {
    Line::new()
        .set("x1", from.0)
        .set("y1", from.1)
        .set("x2", to.0)
        .set("y2", to.1)
        .set("stroke", INK)
        .set("stroke-width", width)
        .into()
}

fn trace(data: impl Into<Value>, width: f64) -> Box<dyn Node> {
    Path::new().set("d", data).set("fill", "none").set("stroke", INK).set("stroke-width", width).into()
}
