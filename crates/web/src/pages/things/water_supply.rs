//! The form of a water supply.

use book::Snapshot;
use book::model::WaterSupply;
use ground::kit::units::{Dimension, UnitSystem};

use super::Formed;
use crate::form::{Field, Form, Group, Reader};

const fn dissolved(name: &'static str, label: &'static str, hint: &'static str) -> Field {
    Field::measure(name, label, hint, Dimension::Dissolved).optional()
}

pub(super) const FIELDS: &[Field] = &[
    Field::text("name", "Name", "For example Well, Pond or House line"),
    Field::measure(
        "flow_l_min",
        "What it gives",
        "Time a bucket: 5 gal in 50 s is 6 gpm; 10 L in 30 s is 20 L/min",
        Dimension::Flow,
    )
    .optional(),
    Field::measure(
        "ec_ds_m",
        "Electrical conductivity",
        "At 25 \u{b0}C, in dS/m; mS/cm is the same number, \u{b5}S/cm is a thousand times as much",
        Dimension::Salinity,
    )
    .optional(),
    dissolved("sodium_mg_l", "Sodium", "In mg/L, which is ppm; 1 me/L is 23.0 mg/L"),
    dissolved("calcium_mg_l", "Calcium", "1 me/L is 20.0 mg/L"),
    dissolved("magnesium_mg_l", "Magnesium", "1 me/L is 12.2 mg/L"),
    dissolved("bicarbonate_mg_l", "Bicarbonate", "1 me/L is 61.0 mg/L"),
    dissolved(
        "nitrate_n_mg_l",
        "Nitrate, as nitrogen",
        "Written NO3-N; where the report gives nitrate (NO3), take 0.226 of it",
    ),
    Field::lines("note", "Note", "").optional(),
];

impl Formed for WaterSupply {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Add a water supply";
    const LEAD: &'static str = "Where the water for the beds comes from, how much it gives, and what a water report \
                                says of it. A name is enough to begin with.";
    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["name", "flow_l_min"]),
        Group::of(
            "From a water report",
            "Salts and sodium decide how much harder the water makes it for a crop, and how much more must be \
             given to wash salt down. Whether water is fit to drink or to wash produce in is another question: \
             ask a certified laboratory.",
            &[
                "ec_ds_m",
                "sodium_mg_l",
                "calcium_mg_l",
                "magnesium_mg_l",
                "bicarbonate_mg_l",
                "nitrate_n_mg_l",
            ],
        ),
        Group::of("", "", &["note"]),
    ];

    fn read(read: &mut Reader<'_>, _before: Option<&Self>) -> Option<Self> {
        let name = read.text("name").map(str::to_owned);
        let flow_l_min = read.measure("flow_l_min");
        let ec_ds_m = read.measure("ec_ds_m");
        let sodium_mg_l = read.measure("sodium_mg_l");
        let calcium_mg_l = read.measure("calcium_mg_l");
        let magnesium_mg_l = read.measure("magnesium_mg_l");
        let bicarbonate_mg_l = read.measure("bicarbonate_mg_l");
        let nitrate_n_mg_l = read.measure("nitrate_n_mg_l");
        let note = read.lines("note");
        Some(Self {
            name: name?,
            flow_l_min,
            ec_ds_m,
            sodium_mg_l,
            calcium_mg_l,
            magnesium_mg_l,
            bicarbonate_mg_l,
            nitrate_n_mg_l,
            note,
        })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        form.with("name", &self.name)
            .measure("flow_l_min", self.flow_l_min, units)
            .measure("ec_ds_m", self.ec_ds_m, units)
            .measure("sodium_mg_l", self.sodium_mg_l, units)
            .measure("calcium_mg_l", self.calcium_mg_l, units)
            .measure("magnesium_mg_l", self.magnesium_mg_l, units)
            .measure("bicarbonate_mg_l", self.bicarbonate_mg_l, units)
            .measure("nitrate_n_mg_l", self.nitrate_n_mg_l, units)
            .with("note", &self.note)
    }

    fn home(&self, _snapshot: &Snapshot) -> String {
        "/".to_owned()
    }
}
