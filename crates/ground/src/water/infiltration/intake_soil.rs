//! The soil of an intake question: from the class table, from one's own figures, or both.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::green_ampt::{ClassParameters, GreenAmpt, class_parameters};
use crate::kit::{Bounded, Note, NoteKind, Refusal};
use crate::texture::Class;

crate::quantity! {
    /// Conductivity of the wetted ground behind the front.
    pub struct FrontConductivity: "conductivity of the wetted ground", "mm/h", 0.001 ..= 2000.0, example 6.5;
    /// Suction at the wetting front.
    pub struct FrontSuction: "suction at the wetting front", "mm", 0.0 ..= 3000.0, example 167.0;
    /// Room for water: full less initial content.
    pub struct Deficit: "room for water", "m³/m³", 0.0 ..= 0.7, example 0.2;
    /// Share of the drainable pores that is full.
    pub struct EffectiveSaturation: "share of the pores that is full", "%", 0.0 ..= 100.0, example 30.0;
}

/// The soil: a texture class, or its own figures, or a class with some figures measured.
#[derive(Debug, Clone, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct IntakeSoil {
    /// Class whose mean figures stand in for what is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub texture_class: Option<Class>,
    /// Conductivity of the wetted ground, about half the laboratory's saturated one. A ring's late
    /// rate freed of side flow is of this kind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub conductivity_mm_h: Option<FrontConductivity>,
    /// Suction at the front.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub suction_mm: Option<FrontSuction>,
    /// Room for water. Give this or `effective_saturation_percent`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deficit_m3_m3: Option<Deficit>,
    /// How full the pores are at the start, with a class. Give this or `deficit_m3_m3`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub effective_saturation_percent: Option<EffectiveSaturation>,
}

impl IntakeSoil {
    /// The soil as the equations take it, and what to say of it. `at` is the field it stands in.
    ///
    /// # Errors
    /// A refusal naming the figure that is missing, given twice, or not in the table.
    pub fn front(&self, at: &str) -> Result<(GreenAmpt, Vec<Note>), Refusal> {
        let table = match self.texture_class {
            Some(class) => Some(class_parameters(class).ok_or_else(|| no_row(class, at))?),
            None => None,
        };
        let missing = |field: &str, what: &str, example: &str| {
            Refusal::new(
                format!("{at}.{field}"),
                format!("without a texture class the {what} must be given, and it was not"),
            )
            .given("nothing")
            .accepted(format!("{field}, or texture_class"))
            .example(example)
        };
        let conductivity = self.conductivity_mm_h.map(Bounded::get);
        let suction = self.suction_mm.map(Bounded::get);
        let front = GreenAmpt {
            conductivity_mm_h: conductivity
                .or(table.map(|row| row.conductivity_mm_h))
                .ok_or_else(|| missing("conductivity_mm_h", "conductivity", "6.5"))?,
            suction_mm: suction
                .or(table.map(|row| row.suction_mm))
                .ok_or_else(|| missing("suction_mm", "suction at the wetting front", "167"))?,
            deficit: self.room(table, at)?,
        };
        let mut notes = Vec::new();
        if table.is_some() && (conductivity.is_none() || suction.is_none()) {
            notes.push(Note::new(
                NoteKind::Method,
                "The class figures are means of many fields; single fields of a class differ several-fold. A ring \
                 test of your own ground is worth more.",
            ));
        }
        Ok((front, notes))
    }

    fn room(&self, table: Option<ClassParameters>, at: &str) -> Result<f64, Refusal> {
        match (self.deficit_m3_m3, self.effective_saturation_percent, table) {
            (Some(deficit), None, _) => Ok(deficit.get()),
            (None, Some(full), Some(row)) => Ok((1.0 - full.get() / 100.0) * row.effective_porosity),
            (given, full, _) => {
                let (text, said) = if given.is_some() {
                    (
                        "both the room for water and how full the pores are were given, and one follows from the other",
                        "both",
                    )
                } else if full.is_some() {
                    (
                        "how full the pores are needs a texture class to know the pores from",
                        "no texture class",
                    )
                } else {
                    ("nothing was said of how dry the ground is at the start", "nothing")
                };
                Err(Refusal::new(format!("{at}.deficit_m3_m3"), text)
                    .given(said)
                    .accepted("deficit_m3_m3, or effective_saturation_percent with a texture_class")
                    .example("0.2"))
            }
        }
    }
}

/// What to say of the equations behind every intake.
pub(super) fn recalled() -> Note {
    Note::new(
        NoteKind::Provenance,
        "The equations are recalled; printed examples come out of them. The class figures were read in a reprint.",
    )
}

fn no_row(class: Class, at: &str) -> Refusal {
    Refusal::new(
        format!("{at}.texture_class"),
        format!("the published table has no row for {}, whose intake was not measured", class.name()),
    )
    .given(class.name())
    .accepted("any class but silt; or conductivity_mm_h, suction_mm and deficit_m3_m3 without a class")
    .example("silt loam")
}
