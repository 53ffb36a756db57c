//! Days after a soaking rain until the ground may be worked: drainage, then drying.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::climate::quantities::ReferenceEt;
use crate::irrigation::balance::available::FieldCapacity;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

crate::quantity! {
    /// Days of drainage after the rain.
    pub struct DrainDays: "days to drain to field capacity", "d", 0.0 ..= 60.0, example 1.5;
    /// Water content at which to work.
    pub struct WorkContent: "water content to work at", "m³/m³", 0.0 ..= 0.8, example 0.25;
    /// Depth that is worked.
    pub struct WorkDepth: "working depth", "mm", 10.0 ..= 600.0, example 150.0;
    /// Share of the reference evapotranspiration that bare ground gives off.
    pub struct BareShare: "share of the reference evapotranspiration", "", 0.05 ..= 1.2, example 0.6;
}

/// Share of the reference evapotranspiration that ground gives off between rain and working, where nothing is
/// said: bare ground falls from near 1.1 to little as its skin dries (our judgement).
pub const USUAL_BARE_SHARE: f64 = 0.6;

/// Days until the ground has drained and dried to the water content to work at. `None` where nothing dries it.
#[must_use]
pub fn workable_days(
    drain_d: f64,
    field_capacity: f64,
    work_at: f64,
    depth_mm: f64,
    drying_mm_d: f64,
) -> Option<f64> {
    let to_dry = (field_capacity - work_at).max(0.0) * depth_mm;
    if to_dry == 0.0 {
        return Some(drain_d);
    }
    (drying_mm_d > 0.0).then(|| drain_d + to_dry / drying_mm_d)
}

/// Days after a soaking rain by custom, least and most (common practice): spring drying and free drainage; twice as
/// long where the ground is slow to dry.
#[must_use]
pub fn days_by_custom(class: Class, slow_to_dry: bool) -> (f64, f64) {
    let (low, high) = match class {
        Class::Sand | Class::LoamySand => (0.5, 1.0),
        Class::SandyLoam => (1.0, 2.0),
        Class::Loam | Class::SandyClayLoam => (2.0, 3.0),
        Class::SiltLoam | Class::Silt => (2.0, 4.0),
        Class::ClayLoam | Class::SiltyClayLoam | Class::SandyClay => (3.0, 5.0),
        Class::Clay | Class::SiltyClay => (4.0, 7.0),
    };
    let times = if slow_to_dry { 2.0 } else { 1.0 };
    (times * low, times * high)
}

/// Input of `days-until-workable`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WorkableDaysInput {
    /// Days until it has drained.
    pub drain_d: DrainDays,
    /// Water at field capacity.
    pub field_capacity_m3_m3: FieldCapacity,
    /// Water content at which to work.
    pub work_at_m3_m3: WorkContent,
    /// Depth that will be worked or that a wheel presses.
    pub depth_mm: WorkDepth,
    /// Reference evapotranspiration of the days to come.
    pub reference_et_mm_d: ReferenceEt,
    /// Share of it that the ground gives off; 0.6 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bare_share: Option<BareShare>,
    /// Texture class, to tell what custom says beside the reckoning.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<Class>,
    /// Is it shaded, covered, cold, or with water within 60 cm (2 ft)?
    #[serde(default)]
    pub slow_to_dry: bool,
}

/// Output of `days-until-workable`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WorkableDaysOutput {
    /// Days after the rain; none where nothing dries it.
    pub days_d: Option<f64>,
    /// Water that must dry off after drainage.
    pub to_dry_mm: f64,
    /// Least days that custom gives this texture.
    pub custom_low_d: Option<f64>,
    /// Most days that custom gives it.
    pub custom_high_d: Option<f64>,
}

/// Days until workable.
pub struct DaysUntilWorkable;

impl WorkableDaysInput {
    fn drying_mm_d(&self) -> f64 {
        self.reference_et_mm_d.get() * self.bare_share.map_or(USUAL_BARE_SHARE, Bounded::get)
    }
}

impl Method for DaysUntilWorkable {
    type Input = WorkableDaysInput;
    type Output = WorkableDaysOutput;

    const CARD: Card = Card {
        name: "days-until-workable",
        title: "Days until the ground may be worked",
        topic: Topic::Structure,
        computes: "How long to wait after a soaking rain: the time to drain to field capacity, and then the time for the \
                   air to dry the working depth to the water content at which it crumbles.",
        validity: &[
            "No more rain in between, no water table near; under cover only the hand can tell.",
            "Mulch, shade and a cut cover slow the drying; a living cover hastens it.",
            "The balance is plain arithmetic without a published table behind it (common practice): the ball test overrules it.",
        ],
        sources: &[
            Cite::new("Fao56", "evaporation from bare soil in two stages"),
            Cite::new("DexterBird2001", "water content to work at"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        WorkableDaysInput {
            drain_d: DrainDays::literal(1.5),
            field_capacity_m3_m3: FieldCapacity::literal(0.28),
            work_at_m3_m3: WorkContent::literal(0.25),
            depth_mm: WorkDepth::literal(150.0),
            reference_et_mm_d: ReferenceEt::literal(2.5),
            bare_share: None,
            class: Some(Class::Loam),
            slow_to_dry: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (held, at, depth) =
            (input.field_capacity_m3_m3.get(), input.work_at_m3_m3.get(), input.depth_mm.get());
        let days_d = workable_days(input.drain_d.get(), held, at, depth, input.drying_mm_d());
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "A reckoning of common practice: confirm with a handful from working depth before a wheel goes on.",
        )];
        if days_d.is_none() {
            notes.insert(
                0,
                Note::new(
                    NoteKind::NoValue,
                    "Nothing dries the ground at this rate: no number of days can be given.",
                ),
            );
        }
        let custom = input.class.map(|class| days_by_custom(class, input.slow_to_dry));
        Ok(Answer::with_notes(
            WorkableDaysOutput {
                days_d,
                to_dry_mm: (held - at).max(0.0) * depth,
                custom_low_d: custom.map(|pair| pair.0),
                custom_high_d: custom.map(|pair| pair.1),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new().step(
            "days to wait",
            "days to drain + (field capacity − water to work at) × depth / (share × ET0)",
            format!(
                "{} + ({} − {}) × {} / {:.2}",
                input.drain_d.get(),
                input.field_capacity_m3_m3.get(),
                input.work_at_m3_m3.get(),
                input.depth_mm.get(),
                input.drying_mm_d()
            ),
            answer.value.days_d.map_or_else(|| "none".to_owned(), |days| format!("{days:.1} d")),
        )
    }
}
