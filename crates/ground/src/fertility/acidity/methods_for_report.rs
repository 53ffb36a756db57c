//! Which lime methods a laboratory's report permits, side by side; and which are not followed here, and why.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::lime_method::{LimeFigures, LimeGround, LimeMethod};
use super::quantity::{Acidity, BufferPh, MixedDepth, OrganicPercent, ReactiveAluminium, SoilPh, TargetPh};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};
use crate::texture::Class;
use crate::texture::composition::ClayPercent;

/// A lime method that is not followed, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct NotCovered {
    /// Region and buffer.
    pub what: &'static str,
    /// Why.
    pub why: &'static str,
}

/// Published methods that are not followed here.
pub const NOT_COVERED: &[NotCovered] = &[
    NotCovered {
        what: "Wisconsin (Sikora buffer and pH)",
        why: "the equations that were recalled ask for about twice the neighbouring states' rates; they were not read",
    },
    NotCovered {
        what: "New York (exchange capacity and base saturation)",
        why: "the curve that joins pH and base saturation was not found",
    },
    NotCovered { what: "Missouri (Woodruff buffer)", why: "its equations were not found" },
    NotCovered { what: "Kentucky (Sikora tables)", why: "its tables were not found" },
    NotCovered { what: "Kansas (SMP or Sikora)", why: "its equation was not found" },
    NotCovered {
        what: "Maine (pH and lime index)",
        why: "the unit and depth of its equations were not seen",
    },
];

/// Input of `lime-methods-for-report`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MethodsForReportInput {
    /// pH in water.
    pub soil_ph: SoilPh,
    /// SMP buffer pH.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub smp_buffer_ph: Option<BufferPh>,
    /// Sikora buffer pH.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sikora_buffer_ph: Option<BufferPh>,
    /// Mehlich buffer pH.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mehlich_buffer_ph: Option<BufferPh>,
    /// Adams-Evans, modified Adams-Evans or Moore-Sikora buffer pH.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adams_evans_buffer_ph: Option<BufferPh>,
    /// Exchangeable acidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub acidity_meq_100_g: Option<Acidity>,
    /// Aluminium in modified Morgan extract.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aluminium_ppm: Option<ReactiveAluminium>,
    /// Texture class.
    pub class: Class,
    /// Clay.
    pub clay_percent: ClayPercent,
    /// Organic matter.
    pub organic_matter_percent: OrganicPercent,
    /// pH to reach.
    pub target_ph: TargetPh,
    /// Depth the lime is mixed into.
    pub depth_cm: MixedDepth,
}

/// One method on one report.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct MethodSays {
    /// Key of the method.
    pub key: String,
    /// Its region and what it reads.
    pub words: String,
    /// Need as calcium carbonate; nothing where it does not fit.
    pub carbonate_kg_m2: Option<f64>,
    /// The pH it reaches.
    pub target_ph: Option<f64>,
    /// Why it gives none.
    pub why_not: Option<String>,
}

/// Output of `lime-methods-for-report`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct MethodsForReportOutput {
    /// How many methods fit.
    pub fitting: u32,
    /// Every method.
    pub methods: Vec<MethodSays>,
}

/// The lime methods side by side.
pub struct LimeMethodsForReport;

impl Method for LimeMethodsForReport {
    type Input = MethodsForReportInput;
    type Output = MethodsForReportOutput;

    const CARD: Card = Card {
        name: "lime-methods-for-report",
        title: "Which lime methods a report permits",
        topic: Topic::Fertility,
        computes: "Every lime method on one report, side by side: the need of those that fit, and what the others lack. Buffers \
                   are not exchangeable, so a method reads its own buffer or none.",
        validity: &[
            "Choose the method of your own region and keep to it: the needs differ by a factor of two, and no mean of them is anyone's advice.",
            "Not followed: Wisconsin (the recalled equations ask for twice the neighbours' rates), New York (its curve was not found), Missouri's Woodruff buffer, Kentucky, Kansas and Maine (not found, or without unit). There the laboratory's own rate stands.",
        ],
        sources: &[
            Cite::new("OregonEm9585", "Table 1"),
            Cite::new("Rb209Lime", "Section 1"),
            Cite::new("PennStateAgronomyGuide", "lime from exchangeable acidity"),
        ],
        cautions: super::basis::LIME_CAUTIONS,
    };

    fn example() -> Self::Input {
        MethodsForReportInput {
            soil_ph: SoilPh::literal(5.6),
            smp_buffer_ph: None,
            sikora_buffer_ph: Some(BufferPh::literal(6.4)),
            mehlich_buffer_ph: None,
            adams_evans_buffer_ph: None,
            acidity_meq_100_g: None,
            aluminium_ppm: None,
            class: Class::Loam,
            clay_percent: ClayPercent::literal(20.0),
            organic_matter_percent: OrganicPercent::literal(3.0),
            target_ph: TargetPh::literal(6.5),
            depth_cm: MixedDepth::literal(15.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let get = |one: Option<BufferPh>| one.map(Bounded::get);
        let figures = LimeFigures {
            soil_ph: Some(input.soil_ph.get()),
            smp: get(input.smp_buffer_ph),
            sikora: get(input.sikora_buffer_ph),
            mehlich: get(input.mehlich_buffer_ph),
            adams_evans: get(input.adams_evans_buffer_ph),
            acidity_meq_100_g: input.acidity_meq_100_g.map(Bounded::get),
            aluminium_morgan_ppm: input.aluminium_ppm.map(Bounded::get),
            capacity_meq_100_g: None,
        };
        let ground = LimeGround {
            class: input.class,
            clay_percent: input.clay_percent.get(),
            organic_matter_percent: input.organic_matter_percent.get(),
        };
        let methods: Vec<MethodSays> = LimeMethod::ALL
            .into_iter()
            .map(|method| {
                let need = method.need(&figures, &ground, input.target_ph.get(), input.depth_cm.get(), None);
                MethodSays {
                    key: method.key().to_owned(),
                    words: method.words().to_owned(),
                    carbonate_kg_m2: need.ok().map(|need| need.carbonate_kg_m2),
                    target_ph: need.ok().map(|need| need.target_ph),
                    why_not: need.err().map(|why| why.words()),
                }
            })
            .collect();
        #[expect(clippy::cast_possible_truncation, reason = "eleven methods")]
        let fitting = methods.iter().filter(|one| one.carbonate_kg_m2.is_some()).count() as u32;
        let recalled: Vec<&str> = LimeMethod::ALL
            .into_iter()
            .filter(|method| method.provenance() != Provenance::Read)
            .map(LimeMethod::words)
            .collect();
        let notes = vec![Note::new(
            NoteKind::Provenance,
            format!("Resting in part on recalled numbers or judgement: {}.", recalled.join("; ")),
        )];
        Ok(Answer::with_notes(MethodsForReportOutput { fitting, methods }, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        answer.value.methods.iter().fold(Working::new(), |working, one| {
            let result = match (one.carbonate_kg_m2, &one.why_not) {
                (Some(need), _) => format!("{need:.3} kg/m² of calcium carbonate"),
                (None, Some(why)) => why.clone(),
                (None, None) => String::new(),
            };
            working.step(one.words.clone(), "the method by its own name", format!("lime-{}", one.key), result)
        })
    }
}
