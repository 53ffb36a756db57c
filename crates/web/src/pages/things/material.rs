//! The form of a material on the shelf.

use book::Snapshot;
use book::model::{Analysis, Material, OrganicUse, Pack, Price, sieves_shown, sieves_typed};
use ground::fertility::blend::catalogue::{CATALOGUE, generic};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, Unit, UnitSystem};

use super::Formed;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Group, Reader};

pub(super) const FIELDS: &[Field] = &[
    Field::pick("key", "Generic material", "What is left empty below is taken from it", &[]).optional(),
    Field::text("name", "What you call it", "For example Feather meal, 50 lb"),
    Field::one_of(
        "sold",
        "How it is sold",
        "",
        &[
            Choice::new("bag", "In bags"),
            Choice::new("volume", "Loose, by volume"),
            Choice::new("weight", "Loose, by weight"),
            Choice::new("jug", "Liquid, in jugs or drums"),
        ],
    )
    .optional(),
    Field::measure("bag", "Weight of a bag", "For example 50 lb or 25 kg", Dimension::Load).optional(),
    Field::measure("volume", "Volume of a load", "For example 1 cu yd or 1 m³", Dimension::BulkVolume)
        .in_unit(Unit::CubicMetre)
        .optional(),
    Field::measure("weight", "Weight of a load", "For example 1 short ton or 1 t", Dimension::Load)
        .in_unit(Unit::Tonne)
        .optional(),
    Field::measure("jug", "Volume of a jug", "For example 2.5 gal or 10 L", Dimension::BulkVolume)
        .in_unit(Unit::Litre)
        .optional(),
    Field::text("price", "Price of one bag, load or jug", "For example 28.50").optional(),
    Field::one_of(
        "organic",
        "Under organic rules",
        "The certifier decides; on organic beds a plan uses only what is allowed",
        &[
            Choice::new("yes", "Allowed"),
            Choice::new("no", "Not allowed"),
            Choice::new("ask", "Ask the certifier"),
        ],
    )
    .optional(),
    Field::measure("n_percent", "Nitrogen, N", "", Dimension::Percent).optional(),
    Field::measure("p2o5_percent", "Phosphate, P2O5", "", Dimension::Percent).optional(),
    Field::measure("k2o_percent", "Potash, K2O", "", Dimension::Percent).optional(),
    Field::measure("ca_percent", "Calcium, Ca", "", Dimension::Percent).optional(),
    Field::measure("mg_percent", "Magnesium, Mg", "", Dimension::Percent).optional(),
    Field::measure("s_percent", "Sulfur, S", "", Dimension::Percent).optional(),
    Field::measure("b_percent", "Boron, B", "", Dimension::Percent).optional(),
    Field::measure("zn_percent", "Zinc, Zn", "", Dimension::Percent).optional(),
    Field::measure("mn_percent", "Manganese, Mn", "", Dimension::Percent).optional(),
    Field::measure("cu_percent", "Copper, Cu", "", Dimension::Percent).optional(),
    Field::measure("fe_percent", "Iron, Fe", "", Dimension::Percent).optional(),
    Field::measure("cl_percent", "Chloride, Cl", "", Dimension::Percent).optional(),
    Field::measure("na_percent", "Sodium, Na", "", Dimension::Percent).optional(),
    Field::measure(
        "available_n_percent",
        "Share of the nitrogen for the first season",
        "Of meals, manures and composts, where you know better than the catalogue",
        Dimension::Percent,
    )
    .optional(),
    Field::measure(
        "neutralizing_percent",
        "Neutralizing value",
        "In % of calcium carbonate, as the label of a lime says",
        Dimension::Number,
    )
    .optional(),
    Field::text(
        "sieves",
        "What passes the sieves",
        "Of a lime, from its label: each mesh with its share in %, for example 8 mesh 95, 60 mesh 50",
    )
    .optional(),
    Field::measure("moisture_percent", "Water in it", "", Dimension::Percent).optional(),
    Field::measure(
        "density_kg_m3",
        "Bulk density",
        "For example 1000 lb/cu yd or 600 kg/m³; of a liquid its density, 1280 kg/m³ for 1.28 kg/L",
        Dimension::Density,
    )
    .in_unit(Unit::KilogramPerCubicMetre)
    .optional(),
    Field::measure("carbon_nitrogen", "Carbon to nitrogen", "For example 15 for 15 to 1", Dimension::Number)
        .optional(),
    Field::measure("ec_ds_m", "Conductivity", "Of manures and composts", Dimension::Salinity).optional(),
    Field::lines("note", "Note", "").optional(),
];

impl Formed for Material {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Put a material on the shelf";
    const LEAD: &'static str = "Choose the generic material and say how it is sold and what it costs; the figures of its \
                                label go before those of the catalogue.";
    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["key", "name", "sold"]),
        Group::of("The bag", "", &["bag"]).only("sold", "bag"),
        Group::of("The load", "", &["volume"]).only("sold", "volume"),
        Group::of("The load", "", &["weight"]).only("sold", "weight"),
        Group::of("The jug", "", &["jug"]).only("sold", "jug"),
        Group::of("", "", &["price", "organic"]),
        Group::of(
            "What the label says",
            "",
            &[
                "n_percent",
                "p2o5_percent",
                "k2o_percent",
                "ca_percent",
                "mg_percent",
                "s_percent",
                "b_percent",
                "zn_percent",
                "mn_percent",
                "cu_percent",
                "fe_percent",
                "cl_percent",
                "na_percent",
                "available_n_percent",
                "neutralizing_percent",
                "sieves",
                "moisture_percent",
                "density_kg_m3",
                "carbon_nitrogen",
                "ec_ds_m",
            ],
        )
        .folded(),
        Group::of("", "", &["note"]),
    ];

    fn read(read: &mut Reader<'_>, _before: Option<&Self>) -> Option<Self> {
        let key = read.text("key").map(str::to_owned);
        if let Some(unknown) = key.as_deref().filter(|key| generic(key).is_none()) {
            read.refuse(
                Refusal::new("key", format!("The catalogue has no \u{201c}{unknown}\u{201d}"))
                    .given(unknown)
                    .accepted("one of the list, or none")
                    .example("feather-meal"),
            );
        }
        let name = read.text("name").map(str::to_owned);
        let sold = sold(read);
        let price = match read.text("price").map(str::parse::<Price>) {
            Some(parsed) => read.take(parsed),
            None => None,
        };
        let organic = read.choice("organic").map(|choice| match choice {
            "yes" => OrganicUse::Yes,
            "no" => OrganicUse::No,
            _ => OrganicUse::Ask,
        });
        let analysis = Analysis {
            n_percent: read.measure("n_percent"),
            p2o5_percent: read.measure("p2o5_percent"),
            k2o_percent: read.measure("k2o_percent"),
            ca_percent: read.measure("ca_percent"),
            mg_percent: read.measure("mg_percent"),
            s_percent: read.measure("s_percent"),
            b_percent: read.measure("b_percent"),
            zn_percent: read.measure("zn_percent"),
            mn_percent: read.measure("mn_percent"),
            cu_percent: read.measure("cu_percent"),
            fe_percent: read.measure("fe_percent"),
            cl_percent: read.measure("cl_percent"),
            na_percent: read.measure("na_percent"),
        };
        let available_n_percent = read.measure("available_n_percent");
        let neutralizing_percent = read.measure("neutralizing_percent");
        let sieves = match read.text("sieves").map(|text| sieves_typed("sieves", text)) {
            Some(parsed) => read.take(parsed)?,
            None => Vec::new(),
        };
        let moisture_percent = read.measure("moisture_percent");
        let density_kg_m3 = read.measure("density_kg_m3");
        let carbon_nitrogen = read.measure("carbon_nitrogen");
        let ec_ds_m = read.measure("ec_ds_m");
        let note = read.lines("note");
        Some(Self {
            key,
            name: name?,
            analysis,
            moisture_percent,
            neutralizing_percent,
            sieves,
            density_kg_m3,
            sold,
            price,
            organic,
            available_n_percent,
            carbon_nitrogen,
            ec_ds_m,
            note,
        })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let form = form.with("key", self.key.as_deref().unwrap_or_default()).with("name", &self.name);
        let form = match self.sold {
            None => form,
            Some(Pack::BagKg(kg)) => form.with("sold", "bag").measure("bag", Some(kg), units),
            Some(Pack::LoadM3(m3)) => form.with("sold", "volume").measure("volume", Some(m3), units),
            Some(Pack::LoadT(t)) => form.with("sold", "weight").measure("weight", Some(t), units),
            Some(Pack::JugL(litres)) => form.with("sold", "jug").measure("jug", Some(litres), units),
        };
        let organic = self.organic.map_or("", |organic| match organic {
            OrganicUse::Yes => "yes",
            OrganicUse::No => "no",
            OrganicUse::Ask => "ask",
        });
        let analysis = &self.analysis;
        form.with("price", self.price.map(|price| price.to_string()).unwrap_or_default())
            .with("organic", organic)
            .measure("n_percent", analysis.n_percent, units)
            .measure("p2o5_percent", analysis.p2o5_percent, units)
            .measure("k2o_percent", analysis.k2o_percent, units)
            .measure("ca_percent", analysis.ca_percent, units)
            .measure("mg_percent", analysis.mg_percent, units)
            .measure("s_percent", analysis.s_percent, units)
            .measure("b_percent", analysis.b_percent, units)
            .measure("zn_percent", analysis.zn_percent, units)
            .measure("mn_percent", analysis.mn_percent, units)
            .measure("cu_percent", analysis.cu_percent, units)
            .measure("fe_percent", analysis.fe_percent, units)
            .measure("cl_percent", analysis.cl_percent, units)
            .measure("na_percent", analysis.na_percent, units)
            .measure("available_n_percent", self.available_n_percent, units)
            .measure("neutralizing_percent", self.neutralizing_percent, units)
            .with("sieves", sieves_shown(&self.sieves))
            .measure("moisture_percent", self.moisture_percent, units)
            .measure("density_kg_m3", self.density_kg_m3, units)
            .measure("carbon_nitrogen", self.carbon_nitrogen, units)
            .measure("ec_ds_m", self.ec_ds_m, units)
            .with("note", &self.note)
    }

    fn prepare(form: Form, _snapshot: &Snapshot, ask: &Ask) -> Form {
        let form = form.choices("key", CATALOGUE.iter().map(|row| (row.key.clone(), row.name.clone())));
        match ask.query.text("key").and_then(generic) {
            Some(known) if ask.body.is_empty() && form.draw("name").text.is_empty() => {
                form.with("name", &known.name)
            }
            _ => form,
        }
    }

    fn home(&self, _snapshot: &Snapshot) -> String {
        "/shelf".to_owned()
    }
}

/// How it is sold, with the one measure that this way needs.
fn sold(read: &mut Reader<'_>) -> Option<Pack> {
    let chosen = read.choice("sold");
    let bag = read.measure("bag");
    let volume = read.measure("volume");
    let weight = read.measure("weight");
    let jug = read.measure("jug");
    let missing = |read: &mut Reader<'_>, field: &str| {
        if read.text(field).is_none() {
            read.refuse(
                Refusal::new(field, "This is needed for the way it is sold")
                    .given("nothing")
                    .accepted("its weight or volume")
                    .example(match field {
                        "bag" => "50 lb",
                        "jug" => "2.5 gal",
                        _ => "1 cu yd",
                    }),
            );
        }
    };
    match chosen? {
        "bag" => {
            missing(read, "bag");
            bag.map(Pack::BagKg)
        }
        "volume" => {
            missing(read, "volume");
            volume.map(Pack::LoadM3)
        }
        "jug" => {
            missing(read, "jug");
            jug.map(Pack::JugL)
        }
        _ => {
            missing(read, "weight");
            weight.map(Pack::LoadT)
        }
    }
}
