//! Whether this ground holds a pond, seals by compaction, or needs a blanket of clay.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::posts::cautions;
use crate::posts::unified::PlasticityIndex;
use crate::posts::us::M_PER_FT;
use crate::texture::composition::ClayPercent;

crate::quantity! {
    /// Share of the soil that passes the 75 µm sieve.
    pub struct FinesPercent: "fines", "%", 0.0 ..= 100.0, example 45.0;
    /// Thickness of the layer that shall hold the water.
    pub struct LayerThickness: "thickness of the layer", "m", 0.0 ..= 30.0, example 1.0;
    /// Depth of water when full.
    pub struct PondDepth: "depth of water", "m", 0.3 ..= 6.0, example 2.4;
    /// Soluble salts.
    pub struct SolubleSalts: "soluble salts", "%", 0.0 ..= 20.0, example 0.2;
}

const M_PER_IN: f64 = M_PER_FT / 12.0;

/// Thickness of a clay blanket, m: 18 in up to 10 ft of water and 2 in more for each foot deeper. Of two
/// rules (12 and 18 in) the thicker.
#[must_use]
pub fn blanket_m(water_m: f64) -> f64 {
    (18.0 + 2.0 * (water_m / M_PER_FT - 10.0).max(0.0)) * M_PER_IN
}

/// How ground may serve under a pond.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PondGround {
    /// It holds water as it lies.
    HoldsAsItLies,
    /// It seals when it is compacted moist in thin lifts.
    SealsByCompaction,
    /// It needs a blanket of clay or a liner.
    NeedsBlanket,
}

impl PondGround {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::HoldsAsItLies => "holds water as it lies",
            Self::SealsByCompaction => "seals when compacted",
            Self::NeedsBlanket => "needs a blanket or a liner",
        }
    }
}

/// What limits of the handbook a ground meets, for hot paths; fractions in percent.
#[must_use]
pub fn pond_ground(
    fines: f64,
    clay: f64,
    plasticity: Option<f64>,
    thickness_m: f64,
    water_m: f64,
) -> PondGround {
    let plastic = plasticity.is_some_and(|index| index > 10.0);
    if fines >= 20.0 && plastic && thickness_m >= 3.0 * M_PER_FT && water_m < 10.0 * M_PER_FT {
        PondGround::HoldsAsItLies
    } else if clay >= 10.0 {
        PondGround::SealsByCompaction
    } else {
        PondGround::NeedsBlanket
    }
}

/// Input of `pond-lining`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PondInput {
    /// What passes the 75 µm sieve.
    pub fines_percent: FinesPercent,
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Plasticity index, if a laboratory gave it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plasticity_index_percent: Option<PlasticityIndex>,
    /// Thickness of the layer under bottom and sides.
    pub thickness_m: LayerThickness,
    /// Depth of water when full.
    pub water_depth_m: PondDepth,
    /// Soluble salts, if known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub soluble_salts_percent: Option<SolubleSalts>,
}

/// Output of `pond-lining`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct PondOutput {
    /// How the ground may serve.
    pub ground: PondGround,
    /// It may be dug elsewhere as a clay blanket.
    pub serves_as_blanket: bool,
    /// Thickness of a blanket for this depth of water, m.
    pub blanket_m: f64,
    /// A dispersant may seal it; `null`: salts are not known.
    pub dispersant: Option<bool>,
}

/// Pond lining.
pub struct PondLining;

impl Method for PondLining {
    type Input = PondInput;
    type Output = PondOutput;

    const CARD: Card = Card {
        name: "pond-lining",
        title: "Ground under a pond",
        topic: Topic::Earthworks,
        computes: "Whether ground holds a small pond as it lies, seals by compaction or needs a blanket, and how thick a \
                   blanket of clay must be.",
        validity: &[
            "A first judgement from texture: bore over the whole site, as one seam of sand empties a pond.",
            "Water up to 6 m deep; no dams. Compact moist, in lifts of 150 to 200 mm, with a sheepsfoot roller; a bulldozer's tracks press too little.",
        ],
        sources: &[
            Cite::new("Handbook590", "soils for ponds, clay blankets"),
            Cite::new("Nrcs521B", "soil requirements"),
        ],
        cautions: &[
            cautions::PLANNING,
            cautions::SERVICES,
            cautions::AUTHORITY,
            cautions::COLLAR,
            cautions::TRENCH,
            "Dams, streams and wetlands need permits and an engineer. Fence a pond where children may come.",
        ],
    };

    fn example() -> Self::Input {
        PondInput {
            fines_percent: FinesPercent::literal(65.0),
            clay_percent: ClayPercent::literal(28.0),
            plasticity_index_percent: Some(PlasticityIndex::literal(14.0)),
            thickness_m: LayerThickness::literal(1.2),
            water_depth_m: PondDepth::literal(2.4),
            soluble_salts_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (fines, clay) = (input.fines_percent.get(), input.clay_percent.get());
        if clay > fines + 1e-9 {
            return Err(Refusal::new(
                "clay_percent",
                "clay is a part of the fines and cannot be more than them",
            )
            .given(format!("{clay} % of {fines} % fines"))
            .accepted(format!("0 to {fines} %"))
            .example(fines / 2.0));
        }
        let ground = pond_ground(
            fines,
            clay,
            input.plasticity_index_percent.map(Bounded::get),
            input.thickness_m.get(),
            input.water_depth_m.get(),
        );
        let mut notes = Vec::new();
        if input.plasticity_index_percent.is_none() && ground != PondGround::HoldsAsItLies {
            notes.push(Note::new(
                NoteKind::Method,
                "Without a plasticity index ground is never trusted to hold water as it lies: a laboratory gives one for little money.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "Two rules for the blanket differ (12 and 18 in at the least): the thicker is used; one of them is recalled.",
        ));
        if clay >= 40.0 {
            notes.push(Note::new(
                NoteKind::Method,
                "Fat clay cracks when the pond is drawn down: keep it wet or cover it.",
            ));
        }
        Ok(Answer::with_notes(
            PondOutput {
                ground,
                serves_as_blanket: clay >= 20.0,
                blanket_m: blanket_m(input.water_depth_m.get()),
                dispersant: input
                    .soluble_salts_percent
                    .map(|salts| fines >= 50.0 && clay >= 15.0 && salts.get() < 0.5),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "how the ground may serve",
                "holds: 20 % fines, plasticity index above 10, 0.9 m thick, water below 3 m; seals: 10 % clay; else a blanket",
                format!(
                    "{} % fines, {} % clay, {} m thick",
                    input.fines_percent.get(),
                    input.clay_percent.get(),
                    input.thickness_m.get()
                ),
                value.ground.words(),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "thickness of a blanket",
                "18 in, and 2 in more for each foot of water beyond 10 ft",
                format!("{} m of water", input.water_depth_m.get()),
                format!("{:.2} m", value.blanket_m),
            )
            .cite(Self::CARD.sources[0])
    }
}
