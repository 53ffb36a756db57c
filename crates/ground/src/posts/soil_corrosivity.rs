//! How corrosive ground is to buried steel, by resistivity and by points.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use crate::kit::table::rows;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Electrical resistivity of the wet ground.
    pub struct Resistivity: "resistivity", "ohm·m", 0.5 ..= 10000.0, example 40.0;
    /// Acidity of the ground.
    pub struct GroundPh: "pH", "", 2.0 ..= 12.0, example 6.5;
    /// Redox potential; below 100 mV the ground lacks air.
    pub struct RedoxPotential: "redox potential", "mV", -500.0 ..= 900.0, example 200.0;
}

/// Corrosivity of ground by its resistivity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Corrosivity {
    /// From 200 ohm·m.
    EssentiallyNone,
    /// From 100.
    Mild,
    /// From 50.
    Moderate,
    /// From 30.
    Corrosive,
    /// From 10.
    High,
    /// Below 10.
    Extreme,
}

impl Corrosivity {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::EssentiallyNone => "essentially not corrosive",
            Self::Mild => "mildly corrosive",
            Self::Moderate => "moderately corrosive",
            Self::Corrosive => "corrosive",
            Self::High => "highly corrosive",
            Self::Extreme => "extremely corrosive",
        }
    }
}

/// Sulfides in the ground: a smell of rotten eggs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Sulfides {
    /// None.
    Negative,
    /// A trace.
    Trace,
    /// Present.
    Positive,
}

/// How wet the ground stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Wetness {
    /// Good drainage, generally dry.
    Dry,
    /// Fair drainage, generally moist.
    Moist,
    /// Poor drainage, continuously wet.
    Wet,
}

#[derive(Deserialize)]
struct PointRow {
    property: String,
    from: f64,
    to: f64,
    points: f64,
}

#[derive(Deserialize)]
struct RatingRow {
    from_ohm_cm: f64,
    to_ohm_cm: f64,
    corrosivity: Corrosivity,
}

static POINTS: LazyLock<Vec<PointRow>> =
    LazyLock::new(|| rows("corrosion_points.csv", include_str!("data/corrosion_points.csv")));
static RATINGS: LazyLock<Vec<RatingRow>> =
    LazyLock::new(|| rows("corrosivity.csv", include_str!("data/corrosivity.csv")));

/// Ohm-cm in an ohm·m.
const OHM_CM: f64 = 100.0;
/// Points from which buried iron is to be protected.
pub const PROTECT_FROM: f64 = 10.0;

impl Corrosivity {
    /// Of a resistivity.
    #[must_use]
    pub fn of(resistivity_ohm_m: f64) -> Self {
        let ohm_cm = resistivity_ohm_m * OHM_CM;
        RATINGS
            .iter()
            .find(|row| (row.from_ohm_cm..row.to_ohm_cm).contains(&ohm_cm))
            .map_or(Self::EssentiallyNone, |row| row.corrosivity)
    }
}

fn points_of(property: &str, value: f64) -> f64 {
    POINTS
        .iter()
        .find(|row| row.property == property && (row.from..row.to).contains(&value))
        .map_or(0.0, |row| row.points)
}

/// Input of `soil-corrosivity`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CorrosivityInput {
    /// Resistivity of the wet ground.
    pub resistivity_ohm_m: Resistivity,
    /// pH.
    pub ph: GroundPh,
    /// How wet it stays.
    pub wetness: Wetness,
    /// Redox potential, if measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub redox_mv: Option<RedoxPotential>,
    /// Sulfides, if looked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sulfides: Option<Sulfides>,
}

/// Output of `soil-corrosivity`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CorrosivityOutput {
    /// By resistivity alone.
    pub corrosivity: Corrosivity,
    /// Points; what was not measured counts none.
    pub points: f64,
    /// Ten points or more: buried iron is to be protected.
    pub protect: bool,
}

/// Corrosivity of the ground.
pub struct SoilCorrosivity;

impl CorrosivityInput {
    fn parts(&self) -> [f64; 5] {
        let ph = self.ph.get();
        let low_redox = self.redox_mv.is_some_and(|redox| redox.get() < 100.0);
        let sulfides = match self.sulfides {
            Some(Sulfides::Positive) => 3.5,
            Some(Sulfides::Trace) => 2.0,
            _ => 0.0,
        };
        // A footnote of the table: neutral ground with sulfides and little air counts three.
        let footnote = (6.5..7.5).contains(&ph) && sulfides > 0.0 && low_redox;
        [
            points_of("resistivity_ohm_cm", self.resistivity_ohm_m.get() * OHM_CM),
            if footnote { 3.0 } else { points_of("ph", ph) },
            self.redox_mv.map_or(0.0, |redox| points_of("redox_mv", redox.get())),
            sulfides,
            match self.wetness {
                Wetness::Wet => 2.0,
                Wetness::Moist => 1.0,
                Wetness::Dry => 0.0,
            },
        ]
    }
}

impl Method for SoilCorrosivity {
    type Input = CorrosivityInput;
    type Output = CorrosivityOutput;

    const CARD: Card = Card {
        name: "soil-corrosivity",
        title: "How corrosive the ground is",
        topic: Topic::Posts,
        computes: "How corrosive ground is to buried steel and iron, from its resistivity, pH, wetness, air and sulfides.",
        validity: &[
            "The points were made for ductile iron pipe; for zinc-coated posts they tell bad ground from good.",
            "Measure resistivity in the wet season. Manure, compost and salt raise corrosion beyond this: take one class worse.",
        ],
        sources: &[Cite::new("Roberge2000", "Tables 2.27 and 2.28")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        CorrosivityInput {
            resistivity_ohm_m: Resistivity::literal(40.0),
            ph: GroundPh::literal(6.5),
            wetness: Wetness::Moist,
            redox_mv: None,
            sulfides: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let points: f64 = input.parts().iter().sum();
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "That ten points call for protection, and the footnote on neutral ground, are recalled.",
        )];
        if input.redox_mv.is_none() || input.sulfides.is_none() {
            notes.push(Note::new(
                NoteKind::Method,
                "Air and sulfides that were not measured count no points: the ground may be worse.",
            ));
        }
        Ok(Answer::with_notes(
            CorrosivityOutput {
                corrosivity: Corrosivity::of(input.resistivity_ohm_m.get()),
                points,
                protect: points >= PROTECT_FROM,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let [resistivity, ph, redox, sulfides, wetness] = input.parts();
        Working::new()
            .step(
                "corrosivity by resistivity",
                "the row of the table; 1 ohm·m is 100 ohm-cm",
                format!("{} ohm·m", input.resistivity_ohm_m.get()),
                answer.value.corrosivity.words(),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "points",
                "resistivity + pH + redox + sulfides + wetness",
                format!("{resistivity} + {ph} + {redox} + {sulfides} + {wetness}"),
                format!("{}", answer.value.points),
            )
            .cite(Self::CARD.sources[0])
    }
}
