//! The form of a crop of the farm's own.

use book::Snapshot;
use book::model::{CropRate, FarmCrop};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};

use super::Formed;
use crate::ask::Ask;
use crate::crops;
use crate::form::{Field, Form, Group, Reader, Width};

const fn coefficient(name: &'static str, label: &'static str, hint: &'static str) -> Field {
    Field::measure(name, label, hint, Dimension::Number).optional()
}

const fn days(name: &'static str, label: &'static str) -> Field {
    Field::measure(name, label, "In days", Dimension::Number).optional()
}

pub(super) const FIELDS: &[Field] = &[
    Field::text("name", "Name", "For example Paste tomato, early"),
    Field::text(
        "key",
        "Which common crop it is most like",
        "Its plain name, for example tomato. What you leave open below is taken from there; without one, the \
         coefficients, the stages and the root depth are needed",
    )
    .width(Width::Middle)
    .optional(),
    coefficient("kc_initial", "While it is small", "For example 0.6"),
    coefficient("kc_mid", "When it covers the ground", "For example 1.15"),
    coefficient("kc_end", "At its end", "For example 0.8"),
    days("initial_days", "Until about a tenth of the ground is covered"),
    days("development_days", "From then until the ground is covered"),
    days("mid_days", "From then until it begins to ripen"),
    days("late_days", "From then until harvest"),
    Field::measure("root_depth_m", "How deep it roots", "For example 24 in or 60 cm", Dimension::Depth)
        .optional(),
    Field::measure(
        "depletion_fraction",
        "How much of the water may be used before it suffers",
        "A share between 0 and 1; 0.4 is two fifths",
        Dimension::Number,
    )
    .optional(),
    Field::measure("height_m", "How tall it grows", "For example 3 ft or 90 cm", Dimension::Length)
        .optional(),
    Field::text(
        "n_kg_ha",
        "Nitrogen (N) in a season",
        "A rate of your own, for example 120 lb/acre or 134 kg/ha",
    )
    .optional(),
    Field::text("p2o5_kg_ha", "Phosphate (P2O5) in a season", "For example 50 lb/acre").optional(),
    Field::text("k2o_kg_ha", "Potash (K2O) in a season", "For example 100 lb/acre").optional(),
    Field::lines("note", "Note", "Where the figures come from").optional(),
];

impl Formed for FarmCrop {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Add a crop of your own";
    const LEAD: &'static str = "For a crop that the list does not have, or one that grows differently here.";
    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["name", "key"]),
        Group::of(
            "What it drinks",
            "Crop coefficients: the water it uses over that of short grass on the same day.",
            &["kc_initial", "kc_mid", "kc_end"],
        ),
        Group::of(
            "How long its stages are",
            "",
            &["initial_days", "development_days", "mid_days", "late_days"],
        ),
        Group::of("Roots and growth", "", &["root_depth_m", "depletion_fraction", "height_m"]),
        Group::of(
            "What you give it",
            "Where your scheme has no rates for it, or you know better. They count before every scheme.",
            &["n_kg_ha", "p2o5_kg_ha", "k2o_kg_ha"],
        ),
        Group::of("", "", &["note"]),
    ];

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let name = read.text("name").map(str::to_owned);
        let stood = before.and_then(|crop| crop.key.as_deref());
        let key = read.text("key").map(|text| crops::key("key", text, stood));
        let key = key.and_then(|key| read.take(key));
        let kc_initial = read.measure("kc_initial");
        let kc_mid = read.measure("kc_mid");
        let kc_end = read.measure("kc_end");
        let [initial_days, development_days, mid_days, late_days] =
            ["initial_days", "development_days", "mid_days", "late_days"].map(|stage| read.count(stage));
        let root_depth_m = read.measure("root_depth_m");
        let depletion_fraction = read.measure("depletion_fraction");
        let height_m = read.measure("height_m");
        let system = read.system();
        let [n_kg_ha, p2o5_kg_ha, k2o_kg_ha] = ["n_kg_ha", "p2o5_kg_ha", "k2o_kg_ha"].map(|field| {
            let typed = read.text(field).map(|text| CropRate::typed(field, text, system))?;
            read.take(typed)
        });
        let note = read.lines("note");
        Some(Self {
            key,
            name: name?,
            kc_initial,
            kc_mid,
            kc_end,
            initial_days,
            development_days,
            mid_days,
            late_days,
            root_depth_m,
            depletion_fraction,
            height_m,
            n_kg_ha,
            p2o5_kg_ha,
            k2o_kg_ha,
            note,
        })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let rate = |rate: Option<CropRate>| rate.map(|rate| rate.shown(units)).unwrap_or_default();
        let count = |days: Option<u16>| days.map(|days| days.to_string()).unwrap_or_default();
        form.with("name", &self.name)
            .with("key", self.key.as_deref().map(crops::words).unwrap_or_default())
            .measure("kc_initial", self.kc_initial, units)
            .measure("kc_mid", self.kc_mid, units)
            .measure("kc_end", self.kc_end, units)
            .with("initial_days", count(self.initial_days))
            .with("development_days", count(self.development_days))
            .with("mid_days", count(self.mid_days))
            .with("late_days", count(self.late_days))
            .measure("root_depth_m", self.root_depth_m, units)
            .measure("depletion_fraction", self.depletion_fraction, units)
            .measure("height_m", self.height_m, units)
            .with("n_kg_ha", rate(self.n_kg_ha))
            .with("p2o5_kg_ha", rate(self.p2o5_kg_ha))
            .with("k2o_kg_ha", rate(self.k2o_kg_ha))
            .with("note", &self.note)
    }

    fn prepare(form: Form, _snapshot: &Snapshot, _ask: &Ask) -> Form {
        form.suggest("key", crops::offered())
    }

    fn home(&self, _snapshot: &Snapshot) -> String {
        "/".to_owned()
    }

    fn placed(&self, refusal: Refusal) -> Refusal {
        let label = FIELDS.iter().find(|field| field.name == refusal.field).map(|field| field.label);
        match label {
            // The book names the field by its name in the record.
            Some(label) if refusal.given == "nothing" => Refusal {
                message: format!("{label}: a crop that is like no common one needs this"),
                accepted: "a value here, or a common crop above".to_owned(),
                ..refusal
            },
            _ => refusal,
        }
    }
}
