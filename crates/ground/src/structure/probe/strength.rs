//! What a cone penetrometer's reading means to roots.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::irrigation::moisture::FeelStep;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Force on the cone over its base.
    pub struct ConeResistance: "cone resistance", "MPa", 0.0 ..= 20.0, example 1.8;
}

/// A pound-force per square inch in MPa: pound × standard gravity / inch², exact by definition.
pub const MPA_PER_PSI: f64 = 0.453_592_37 * 9.806_65 / (25.4 * 25.4);

/// Roots are hindered from here, MPa (200 psi).
pub const HINDERED_MPA: f64 = 200.0 * MPA_PER_PSI;
/// Roots of test seedlings did not pass from here, MPa (300 psi).
pub const STOPPED_MPA: f64 = 300.0 * MPA_PER_PSI;
/// Below this seed and soil touch too little, MPa (100 psi).
const LOOSE_MPA: f64 = 100.0 * MPA_PER_PSI;

/// What roots meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RootsMeet {
    /// Below 100 psi: too loose for a seed to touch the ground.
    Loose,
    /// 100 to 200 psi: as wanted.
    Free,
    /// 200 to 300 psi: roots begin to be hindered.
    Hindered,
    /// Above 300 psi: roots stop, but for old channels.
    Stopped,
}

impl RootsMeet {
    /// At a resistance in MPa read in ground near field capacity.
    #[must_use]
    pub fn at(resistance_mpa: f64) -> Self {
        match resistance_mpa {
            r if r < LOOSE_MPA => Self::Loose,
            r if r <= HINDERED_MPA => Self::Free,
            r if r <= STOPPED_MPA => Self::Hindered,
            _ => Self::Stopped,
        }
    }
}

/// Classes of penetration resistance of the soil survey.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StrengthClass {
    /// Below 0.1 MPa.
    VeryLow,
    /// 0.1 to 1 MPa.
    Low,
    /// 1 to 2 MPa.
    Moderate,
    /// 2 to 4 MPa.
    High,
    /// 4 to 8 MPa.
    VeryHigh,
    /// 8 MPa and more.
    ExtremelyHigh,
}

impl StrengthClass {
    /// Of a resistance in MPa.
    #[must_use]
    pub fn of(resistance_mpa: f64) -> Self {
        match resistance_mpa {
            r if r < 0.1 => Self::VeryLow,
            r if r < 1.0 => Self::Low,
            r if r < 2.0 => Self::Moderate,
            r if r < 4.0 => Self::High,
            r if r < 8.0 => Self::VeryHigh,
            _ => Self::ExtremelyHigh,
        }
    }
}

/// May a reading taken in ground of this feel be put to the limits? They hold near field capacity alone: dry
/// ground is hard whatever its density, and no published correction for moisture holds from one field to another.
#[must_use]
pub fn comparable(moisture: FeelStep) -> bool {
    moisture >= FeelStep::Wet
}

/// Input of `penetration-resistance`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StrengthInput {
    /// What the cone read. 100 psi are 0.69 MPa.
    pub resistance_mpa: ConeResistance,
    /// What a handful from that depth does when squeezed.
    pub moisture: FeelStep,
}

/// Output of `penetration-resistance`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct StrengthOutput {
    /// The same in pounds-force per square inch.
    pub resistance_psi: f64,
    /// Class of the soil survey.
    pub class: StrengthClass,
    /// What roots meet; none where the ground was too dry to say.
    pub roots_meet: Option<RootsMeet>,
}

/// Penetration resistance.
pub struct PenetrationResistance;

impl Method for PenetrationResistance {
    type Input = StrengthInput;
    type Output = StrengthOutput;

    const CARD: Card = Card {
        name: "penetration-resistance",
        title: "What a penetrometer reading means",
        topic: Topic::Structure,
        computes: "Puts the reading of a cone penetrometer to the limits at which roots are hindered and stopped. The \
                   limits hold in ground near field capacity; a reading in dry ground compares places, nothing more.",
        validity: &[
            "A cone of 30°, pushed at about 25 to 30 mm/s, one or two days after the whole profile was wetted; read the scale of the tip that is fitted.",
            "Under sod, woodland or years without tillage roots follow old channels through ground harder than this: look with a spade.",
        ],
        sources: &[
            Cite::new("PennStateCompaction", "penetrometer readings"),
            Cite::new("AsabeS313", "cone, base and rate"),
            Cite::new("SoilSurveyManual2017", "classes of penetration resistance"),
        ],
        cautions: &["Push with both hands and a straight back, and never over a buried line."],
    };

    fn example() -> Self::Input {
        StrengthInput { resistance_mpa: ConeResistance::literal(1.8), moisture: FeelStep::FieldCapacity }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let resistance = input.resistance_mpa.get();
        let usable = comparable(input.moisture);
        let mut notes = Vec::new();
        if !usable {
            notes.push(Note::new(
                NoteKind::NoValue,
                "The ground was drier than field capacity: a hard reading may be dryness and not density. Compare it \
                 with one taken the same day where nothing drives, or measure again after a soaking.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "The classes in MPa are recalled; the limits for roots were read.",
        ));
        Ok(Answer::with_notes(
            StrengthOutput {
                resistance_psi: resistance / MPA_PER_PSI,
                class: StrengthClass::of(resistance),
                roots_meet: usable.then(|| RootsMeet::at(resistance)),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "the reading in psi",
                "MPa / 0.006895",
                format!("{} / 0.006895", input.resistance_mpa.get()),
                format!("{:.0} psi", answer.value.resistance_psi),
            )
            .step(
                "what roots meet",
                "hindered above 200 psi, stopped above 300 psi, near field capacity",
                format!("{:.0} psi", answer.value.resistance_psi),
                answer
                    .value
                    .roots_meet
                    .map_or_else(|| "cannot be said".to_owned(), |meet| format!("{meet:?}").to_lowercase()),
            )
            .cite(Self::CARD.sources[0])
    }
}
