//! The water in the jar: how high, how warm, what was added, how it looked.

use ground::kit::units::{Dimension, UnitSystem};
use ground::texture::jar::reading::{JarHeight, JarTemperature, RulerStep};
use ground::texture::jar::{Clarity, Dispersant, JarReading};

use crate::form::{Choice, Field, Form, Reader};
use crate::pages::record::flow::{chosen, word};

pub(super) const HEIGHT: Field = Field::measure(
    "water_height",
    "Height of the water",
    "From the jar floor inside to the surface, for example 7 1/4 in or 185 mm",
    Dimension::SmallLength,
);
pub(super) const TEMPERATURE: Field = Field::measure(
    "water_temperature",
    "Temperature of the water",
    "For example 68 F or 20 C; warm water lets grains fall faster. Left empty, a room is supposed",
    Dimension::Temperature,
)
.optional();
pub(super) const RULER: Field = Field::measure(
    "ruler_step",
    "Finest step of the ruler",
    "For example 1/16 in or 1 mm",
    Dimension::SmallLength,
)
.optional();
pub(super) const DISPERSANT: Field = Field::one_of(
    "dispersant",
    "What was added to part the clay",
    "Soap wets the soil and hardly parts the clay; powdered dishwasher detergent does",
    &[
        Choice::new("dishwasher_powder", "Powdered dishwasher detergent or water softener"),
        Choice::new("hexametaphosphate", "Sodium hexametaphosphate"),
        Choice::new("liquid_soap", "A drop of liquid dish soap"),
        Choice::new("none", "Nothing"),
        Choice::new("unknown", "Not known"),
    ],
);
pub(super) const CLARITY: Field = Field::one_of(
    "water_after_a_day",
    "How the water looked after a day or more",
    "Clear water after a day means that the clay clumped, so the layers are not sizes; it matters more than anything else",
    &[
        Choice::new("cloudy", "Still cloudy"),
        Choice::new("clear", "Clear"),
        Choice::new("not_looked", "Nobody looked"),
    ],
);
pub(super) const FLOATING: Field = Field::measure(
    "floating_organic",
    "Floating or capping organic matter",
    "How thick; it is left out of the layers. Empty where there is none",
    Dimension::SmallLength,
)
.optional();

/// Fields of the record by their names in the form.
pub(super) const ALIASES: &[(&str, &str)] = &[
    ("water_height_mm", "water_height"),
    ("water_temperature_c", "water_temperature"),
    ("ruler_step_mm", "ruler_step"),
    ("floating_organic_mm", "floating_organic"),
    ("soil_height_mm", "soil_height"),
    ("shape", "shape"),
    ("marks.sand", "sand"),
    ("marks.silt", "silt"),
    ("marks.clay", "clay"),
    ("marks.sand_top", "sand"),
    ("marks.silt_top", "silt"),
    ("marks.clay_top", "clay"),
];

/// What the form says of the water.
pub(super) struct Water {
    pub(super) height: Option<JarHeight>,
    pub(super) temperature: Option<JarTemperature>,
    pub(super) ruler: Option<RulerStep>,
    pub(super) dispersant: Option<Dispersant>,
}

impl Water {
    pub(super) fn read(read: &mut Reader<'_>) -> Self {
        Self {
            height: read.measure("water_height"),
            temperature: read.measure("water_temperature"),
            ruler: read.measure("ruler_step"),
            dispersant: chosen(read, "dispersant"),
        }
    }
}

/// How the water looked, and what floated.
pub(super) fn end(read: &mut Reader<'_>) -> (Option<Clarity>, Option<JarHeight>) {
    (chosen(read, "water_after_a_day"), read.measure("floating_organic"))
}

/// Puts everything about the water back in the form.
pub(super) fn fill(reading: &JarReading, form: Form, units: UnitSystem) -> Form {
    form.measure("water_height", reading.water_height_mm, units)
        .measure("water_temperature", reading.water_temperature_c, units)
        .measure("ruler_step", reading.ruler_step_mm, units)
        .measure("floating_organic", reading.floating_organic_mm, units)
        .set("dispersant", word(reading.dispersant))
        .set("water_after_a_day", word(reading.water_after_a_day))
}

/// The ruler that hangs in most sheds.
pub(super) fn usual_ruler(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::UsCustomary => "1/16",
        UnitSystem::Metric => "1",
    }
}
