//! A bed's watering: what it puts on.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::belief::Known;
use crate::kit::Refusal;
use crate::kit::quantity::with_unit;

/// How water leaves the hardware.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Emission {
    /// Drip tape by its flow per metre of line (1 US gal/min per 100 ft is 7.45 L/h per m).
    Tape {
        /// Flow, L/h per metre of line.
        flow_l_h_m: f64,
    },
    /// Emitters one by one along a line.
    Emitters {
        /// Flow of one, L/h.
        flow_l_h: f64,
        /// Spacing along the line, m.
        spacing_m: f64,
    },
    /// Sprinklers by the rate they put on, from a catch-can test or the maker.
    SprinklerRate {
        /// Rate, mm/h.
        rate_mm_h: f64,
    },
    /// Sprinkler heads on a grid.
    SprinklerHeads {
        /// Flow of one head, L/h.
        flow_l_h: f64,
        /// Spacing along the row, m.
        spacing_m: f64,
        /// Spacing between rows, m.
        row_spacing_m: f64,
    },
    /// A hose or can by hand.
    Hand {
        /// Flow, L/min.
        flow_l_min: f64,
    },
}

/// Kind of hardware, for its efficiency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Tape and emitters.
    Drip,
    /// Sprinklers.
    Sprinkler,
    /// By hand.
    Hand,
}

impl Emission {
    /// Its kind.
    #[must_use]
    pub fn kind(&self) -> Kind {
        match self {
            Self::Tape { .. } | Self::Emitters { .. } => Kind::Drip,
            Self::SprinklerRate { .. } | Self::SprinklerHeads { .. } => Kind::Sprinkler,
            Self::Hand { .. } => Kind::Hand,
        }
    }
}

/// Share of the water put on that reaches the root zone, percent (common practice, no source): drip 85
/// to 95, sprinklers 70 to 85, by hand 60 to 75. The middle is taken as likely.
#[must_use]
pub fn efficiency_range(kind: Kind) -> Known {
    match kind {
        Kind::Drip => Known { low: 85.0, likely: 90.0, high: 95.0 },
        Kind::Sprinkler => Known { low: 70.0, likely: 77.5, high: 85.0 },
        Kind::Hand => Known { low: 60.0, likely: 67.5, high: 75.0 },
    }
}

/// A bed and what waters it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BedSystem {
    /// Length of the bed, m.
    pub length_m: f64,
    /// Width of ground that the bed's crop draws on, m: the bed, and the path where roots reach it.
    pub width_m: f64,
    /// Lines of tape or emitters on the bed; sprinklers and hand: ignored.
    pub lines: u32,
    /// What waters it.
    pub emission: Emission,
}

/// Name, field, accepted range and unit of the numbers of a system.
type Limits = (&'static str, &'static str, f64, f64, &'static str);

const LENGTH: Limits = ("bed length", "length_m", 0.3, 2000.0, "m");
const WIDTH: Limits = ("bed width", "width_m", 0.1, 100.0, "m");
const TAPE: Limits = ("flow of the tape", "flow_l_h_m", 0.2, 50.0, "L/h per m");
const EMITTER: Limits = ("flow of an emitter", "flow_l_h", 0.1, 100.0, "L/h");
const EMITTER_SPACING: Limits = ("spacing of the emitters", "spacing_m", 0.02, 10.0, "m");
const RATE: Limits = ("application rate", "rate_mm_h", 0.2, 200.0, "mm/h");
const HEAD: Limits = ("flow of a sprinkler", "flow_l_h", 5.0, 20_000.0, "L/h");
const HEAD_SPACING: Limits = ("spacing of the sprinklers", "spacing_m", 0.3, 60.0, "m");
const ROW_SPACING: Limits = ("spacing of the rows", "row_spacing_m", 0.3, 60.0, "m");
const HOSE: Limits = ("flow of the hose", "flow_l_min", 0.5, 200.0, "L/min");

fn within(value: f64, (name, field, least, most, unit): Limits) -> Result<(), Refusal> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    let why = if value == 0.0 { ", and with none no water comes" } else { "" };
    Err(Refusal::new(
        field,
        format!(
            "{name} must be {least} to {} , but {} was given{why}",
            with_unit(most, unit),
            with_unit(value, unit)
        )
        .replace(" ,", ","),
    )
    .given(with_unit(value, unit))
    .accepted(format!("{least} to {}", with_unit(most, unit)))
    .example(with_unit(libm::sqrt(least * most).round().max(least), unit)))
}

impl BedSystem {
    /// Refuses sizes and flows that no bed has, a flow of nothing first of all.
    ///
    /// # Errors
    /// The first number out of range, by its field.
    pub fn checked(self) -> Result<Self, Refusal> {
        within(self.length_m, LENGTH)?;
        within(self.width_m, WIDTH)?;
        match self.emission {
            Emission::Tape { flow_l_h_m } => within(flow_l_h_m, TAPE)?,
            Emission::Emitters { flow_l_h, spacing_m } => {
                within(flow_l_h, EMITTER)?;
                within(spacing_m, EMITTER_SPACING)?;
            }
            Emission::SprinklerRate { rate_mm_h } => within(rate_mm_h, RATE)?,
            Emission::SprinklerHeads { flow_l_h, spacing_m, row_spacing_m } => {
                within(flow_l_h, HEAD)?;
                within(spacing_m, HEAD_SPACING)?;
                within(row_spacing_m, ROW_SPACING)?;
            }
            Emission::Hand { flow_l_min } => within(flow_l_min, HOSE)?,
        }
        if self.emission.kind() == Kind::Drip && !(1..=40).contains(&self.lines) {
            return Err(Refusal::new(
                "lines",
                format!("a bed has 1 to 40 lines, but {} was given", self.lines),
            )
            .given(self.lines)
            .accepted("1 to 40")
            .example(2));
        }
        Ok(self)
    }

    /// Ground served, m².
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        self.length_m * self.width_m
    }

    /// Flow of the whole bed, L/h.
    #[must_use]
    pub fn flow_l_h(&self) -> f64 {
        let line_m = f64::from(self.lines) * self.length_m;
        match self.emission {
            Emission::Tape { flow_l_h_m } => flow_l_h_m * line_m,
            Emission::Emitters { flow_l_h, spacing_m } => flow_l_h / spacing_m * line_m,
            Emission::SprinklerRate { rate_mm_h } => rate_mm_h * self.area_m2(),
            Emission::SprinklerHeads { flow_l_h, spacing_m, row_spacing_m } => {
                flow_l_h / (spacing_m * row_spacing_m) * self.area_m2()
            }
            Emission::Hand { flow_l_min } => 60.0 * flow_l_min,
        }
    }

    /// Rate over the ground served, mm/h: 1 L on 1 m² is 1 mm.
    #[must_use]
    pub fn rate_mm_h(&self) -> f64 {
        self.flow_l_h() / self.area_m2()
    }

    /// Share of the ground that a strip of `strip_m` about each line wets; all of it under sprinklers
    /// and by hand.
    #[must_use]
    pub fn wetted_fraction(&self, strip_m: f64) -> f64 {
        match self.emission.kind() {
            Kind::Drip => (f64::from(self.lines) * strip_m / self.width_m).clamp(0.01, 1.0),
            Kind::Sprinkler | Kind::Hand => 1.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bed(emission: Emission) -> BedSystem {
        BedSystem { length_m: 30.48, width_m: 0.762, lines: 1, emission }
    }

    #[test]
    fn no_flow_is_refused_in_words() {
        for emission in [
            Emission::Tape { flow_l_h_m: 0.0 },
            Emission::Emitters { flow_l_h: 0.0, spacing_m: 0.3 },
            Emission::SprinklerRate { rate_mm_h: 0.0 },
            Emission::SprinklerHeads { flow_l_h: 0.0, spacing_m: 9.0, row_spacing_m: 9.0 },
            Emission::Hand { flow_l_min: 0.0 },
        ] {
            let refused = bed(emission).checked().unwrap_err();
            assert!(refused.message.contains("no water comes"), "{refused}");
            assert!(!refused.accepted.is_empty() && !refused.example.is_empty(), "{refused:?}");
        }
        let wild = bed(Emission::Tape { flow_l_h_m: 5000.0 }).checked().unwrap_err();
        assert_eq!(wild.field, "flow_l_h_m");
        assert!(bed(Emission::Tape { flow_l_h_m: f64::NAN }).checked().is_err());
        let none = BedSystem { lines: 0, ..bed(Emission::Tape { flow_l_h_m: 3.0 }) };
        assert_eq!(none.checked().unwrap_err().field, "lines");
    }

    /// rate in/h = 1.604 gph / (ft × ft) for points, 96.25 gpm / ft² for heads [arithmetic of units].
    #[test]
    fn rates_in_us_measures() {
        let gallon = super::super::LITRES_PER_GALLON;
        let (foot, inch) = (0.3048, 25.4);
        let points = bed(Emission::Emitters { flow_l_h: gallon, spacing_m: foot });
        assert!((points.rate_mm_h() / inch - 1.604 / 2.5).abs() < 0.0005, "{}", points.rate_mm_h() / inch);
        let heads = bed(Emission::SprinklerHeads {
            flow_l_h: 60.0 * gallon,
            spacing_m: 10.0 * foot,
            row_spacing_m: 10.0 * foot,
        });
        assert!((heads.rate_mm_h() / inch - 0.9625).abs() < 0.0005, "{}", heads.rate_mm_h() / inch);
    }

    #[test]
    fn a_strip_wider_than_the_bed_wets_all_of_it() {
        let tape = bed(Emission::Tape { flow_l_h_m: 3.0 });
        assert!((tape.wetted_fraction(0.381) - 0.5).abs() < 1e-12);
        assert_eq!(tape.wetted_fraction(2.0), 1.0);
        assert_eq!(bed(Emission::Hand { flow_l_min: 10.0 }).wetted_fraction(0.3), 1.0);
    }
}
