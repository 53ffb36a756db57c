//! The form of how a bed is watered.

use book::Snapshot;
use book::model::{Delivery, WateringSystem};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};

use super::{Formed, beds};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Group, Reader};

/// Most lines along one bed, as in the record.
const MOST_LINES: u16 = 200;

pub(super) const FIELDS: &[Field] = &[
    Field::pick("bed", "Bed", "", &[]),
    Field::pick("supply", "Where the water comes from", "", &[]).optional(),
    Field::one_of(
        "delivery",
        "How it is given",
        "",
        &[
            Choice::new("drip_tape", "Drip tape or pipe that drips all along"),
            Choice::new("emitters", "Single emitters in lines"),
            Choice::new("sprinkler", "Sprinklers"),
            Choice::new("hand", "Hose or can"),
        ],
    ),
    Field::measure(
        "tape_flow",
        "Flow of the tape",
        "Printed on the roll: gpm or gph per 100 ft, or L/h per m. For example 0.45 gpm/100 ft, 27 gph/100 ft or 5 L/h/m",
        Dimension::TapeFlow,
    )
    .optional(),
    Field::measure("tape_lines", "Lines along each bed", "For example 2", Dimension::Number).optional(),
    Field::measure(
        "emitter_flow",
        "Flow of one emitter",
        "For example 0.5 gph or 2 L/h",
        Dimension::EmitterFlow,
    )
    .optional(),
    Field::measure(
        "emitter_spacing",
        "From one emitter to the next",
        "Along the line, for example 12 in or 30 cm",
        Dimension::Length,
    )
    .optional(),
    Field::measure("emitter_lines", "Lines along each bed", "For example 2", Dimension::Number).optional(),
    Field::measure(
        "sprinkler_rate",
        "What the sprinklers give in an hour",
        "Set out a few straight cans for half an hour: 1/4 in in the cans is 0.5 in/h",
        Dimension::Rate,
    )
    .optional(),
    Field::measure(
        "efficiency_percent",
        "Share of the water that reaches the roots",
        "Left open, the usual share of its kind is taken",
        Dimension::Percent,
    )
    .optional(),
    Field::measure(
        "wetted_percent",
        "Share of the bed that is wetted",
        "Dig after a watering and look. Left open, the usual share of its kind is taken",
        Dimension::Percent,
    )
    .optional(),
    Field::lines("note", "Note", "").optional(),
];

/// Which fields each kind of delivery needs.
const NEEDS: [(&str, &[&str]); 4] = [
    ("drip_tape", &["tape_flow", "tape_lines"]),
    ("emitters", &["emitter_flow", "emitter_spacing", "emitter_lines"]),
    ("sprinkler", &["sprinkler_rate"]),
    ("hand", &[]),
];

impl Formed for WateringSystem {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "How a bed is watered";
    const LEAD: &'static str = "With this the book turns minutes into water, and says how long to run it. Of several \
                                entries for one bed the latest counts.";
    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["bed", "delivery"]),
        Group::of("The tape", "", &["tape_flow", "tape_lines"]).only("delivery", "drip_tape"),
        Group::of("The emitters", "", &["emitter_flow", "emitter_spacing", "emitter_lines"])
            .only("delivery", "emitters"),
        Group::of("The sprinklers", "", &["sprinkler_rate"]).only("delivery", "sprinkler"),
        Group::of("", "", &["supply"]),
        Group::of("How well it reaches the roots", "", &["efficiency_percent", "wetted_percent"]).folded(),
        Group::of("", "", &["note"]),
    ];

    fn read(read: &mut Reader<'_>, _before: Option<&Self>) -> Option<Self> {
        let bed = read.entry("bed");
        let supply = read.entry("supply");
        let delivery = delivery(read);
        let efficiency_percent = read.measure("efficiency_percent");
        let wetted_percent = read.measure("wetted_percent");
        let note = read.lines("note");
        Some(Self { bed: bed?, supply, delivery: delivery?, efficiency_percent, wetted_percent, note })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let form = form
            .with("bed", self.bed.to_string())
            .with("supply", self.supply.map(|supply| supply.to_string()).unwrap_or_default());
        let form = match self.delivery {
            Delivery::DripTape { flow_l_h_per_m, lines } => form
                .with("delivery", "drip_tape")
                .measure("tape_flow", Some(flow_l_h_per_m), units)
                .with("tape_lines", lines.to_string()),
            Delivery::Emitters { flow_l_h, spacing_m, lines } => form
                .with("delivery", "emitters")
                .measure("emitter_flow", Some(flow_l_h), units)
                .measure("emitter_spacing", Some(spacing_m), units)
                .with("emitter_lines", lines.to_string()),
            Delivery::Sprinkler { rate_mm_h } => {
                form.with("delivery", "sprinkler").measure("sprinkler_rate", Some(rate_mm_h), units)
            }
            Delivery::Hand => form.with("delivery", "hand"),
        };
        form.measure("efficiency_percent", self.efficiency_percent, units)
            .measure("wetted_percent", self.wetted_percent, units)
            .with("note", &self.note)
    }

    fn prepare(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
        let supplies = snapshot.water_supplies.iter();
        let form =
            form.choices("supply", supplies.map(|supply| (supply.id.to_string(), supply.body.name.clone())));
        let form = match snapshot.water_supplies.is_empty() {
            true => form.hint("supply", "None is written down yet; it can be added from the farm page"),
            false => form,
        };
        beds(form, snapshot, ask)
    }
}

/// How water is given, with what that way needs and nothing that belongs to another.
fn delivery(read: &mut Reader<'_>) -> Option<Delivery> {
    let chosen = read.choice("delivery");
    let tape_flow = read.measure("tape_flow");
    let tape_lines = lines(read, "tape_lines");
    let emitter_flow = read.measure("emitter_flow");
    let emitter_spacing = read.measure("emitter_spacing");
    let emitter_lines = lines(read, "emitter_lines");
    let sprinkler_rate = read.measure("sprinkler_rate");
    let chosen = chosen?;
    for (way, fields) in NEEDS {
        for name in fields {
            let given = read.text(name).is_some();
            if way == chosen && !given {
                let label = FIELDS.iter().find(|field| field.name == *name).map_or("", |field| field.label);
                read.refuse(
                    Refusal::new(*name, format!("{label}: this is needed for the way that was chosen"))
                        .given("nothing")
                        .accepted("the measurement, or another way of watering"),
                );
            } else if way != chosen && given && !read.is_refused_at("delivery") {
                read.refuse(
                    Refusal::new("delivery", "Another way of watering was filled in than the one chosen")
                        .given(chosen)
                        .accepted("one way of watering, with the fields of the others left empty"),
                );
            }
        }
    }
    match chosen {
        "drip_tape" => Some(Delivery::DripTape { flow_l_h_per_m: tape_flow?, lines: tape_lines? }),
        "emitters" => Some(Delivery::Emitters {
            flow_l_h: emitter_flow?,
            spacing_m: emitter_spacing?,
            lines: emitter_lines?,
        }),
        "sprinkler" => Some(Delivery::Sprinkler { rate_mm_h: sprinkler_rate? }),
        _ => Some(Delivery::Hand),
    }
}

fn lines(read: &mut Reader<'_>, name: &str) -> Option<u16> {
    let lines = read.count(name)?;
    if (1..=MOST_LINES).contains(&lines) {
        return Some(lines);
    }
    read.refuse(
        Refusal::new(name, format!("Lines along each bed: {lines} cannot be"))
            .given(lines)
            .accepted(format!("1 to {MOST_LINES}"))
            .example(2),
    );
    None
}
