//! The form of a cover crop: what was sown, and later how it was ended and what stood.

use advice::words::day;
use book::Snapshot;
use book::model::{
    CoverBiomass, CoverCrop, CoverEnd, CoverEnding, CoverSeed, CoverStand, CutMass, SeedRate, area_rate,
    area_rate_words,
};
use ground::covers::catalogue::{catalogue, find};
use ground::covers::mix::Sowing;
use ground::covers::nitrogen::{Stage, StandNitrogen};
use ground::covers::stand::{FrameArea, StandCover, StandHeight};
use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};

use super::{Formed, beds};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Group, Reader, Width, join};
use crate::when;

/// Parts of a mix that the form asks for.
const PARTS: [(&str, &str); 4] =
    [("cover_1", "rate_1"), ("cover_2", "rate_2"), ("cover_3", "rate_3"), ("cover_4", "rate_4")];

const fn cover(name: &'static str, label: &'static str) -> Field {
    Field::pick(name, label, "", &[])
}

const fn rate(name: &'static str) -> Field {
    Field::text(name, "Its seed", "From the bag, for example 90 lb/acre, 2 lb/1000 ft2 or 10 g/m2")
        .width(Width::Middle)
        .optional()
}

const SOWN: &[Field] = &[
    Field::pick("bed", "Bed", "", &[]),
    cover("cover_1", "Cover"),
    rate("rate_1"),
    cover("cover_2", "Second cover of a mix").optional(),
    rate("rate_2"),
    cover("cover_3", "Third cover").optional(),
    rate("rate_3"),
    cover("cover_4", "Fourth cover").optional(),
    rate("rate_4"),
    Field::day("sown_on", "Day it was sown", "Or is to be sown"),
    Field::one_of(
        "sown",
        "How",
        "",
        &[Choice::new("broadcast", "By hand or a spinner"), Choice::new("drilled", "In rows")],
    ),
    Field::day("end_by", "Day by which it shall be ended", "In time for what follows").optional(),
];

/// Fields of the end of a cover and of what stood then.
pub(crate) const END: &[Field] = &[
    Field::day("ended_on", "Day it was ended", "For one that winter killed, the day it was found dead")
        .optional(),
    Field::pick(
        "ended_how",
        "How it was ended",
        "",
        &[
            Choice::new("turned_in", "Turned in"),
            Choice::new("mown", "Mown and left on the ground"),
            Choice::new("crimped", "Rolled or crimped and left"),
            Choice::new("covered_up", "Covered with an opaque sheet and left"),
            Choice::new("winterkilled", "Killed by frost or winter and left"),
            Choice::new("carried_off", "Mown and carried off"),
        ],
    )
    .optional(),
    Field::one_of(
        "stage",
        "How far it was",
        "A cover in flower holds less nitrogen in its dry matter, and frees it more slowly",
        &[
            Choice::new("before_bloom", "Not in flower yet, not headed"),
            Choice::new("in_bloom", "In flower or headed"),
        ],
    )
    .optional(),
    Field::measure(
        "cut_kg",
        "What was cut weighs",
        "From a few frames together, shaken free of soil: for example 2 lb 3 oz or 980 g",
        Dimension::Load,
    )
    .optional(),
    Field::measure(
        "cut_area_m2",
        "Cut from",
        "The frames together, for example 10 sq ft or 1 m²",
        Dimension::Area,
    )
    .optional(),
    Field::tick("cut_dried", "It was dried before it was weighed", "Otherwise a fifth of it is taken as dry"),
    Field::measure("height_cm", "Or its height", "Where nothing was weighed", Dimension::Depth).optional(),
    Field::measure("cover_percent", "And the ground it covered", "For example 90 %", Dimension::Percent)
        .optional(),
    Field::measure(
        "nitrogen_percent",
        "Nitrogen of its dry matter",
        "Where a laboratory measured it",
        Dimension::Percent,
    )
    .optional(),
];

const NOTE: &[Field] = &[Field::lines("note", "Note", "").optional()];

pub(super) const FIELDS: &[Field] =
    &join::<{ SOWN.len() + END.len() + NOTE.len() }>(&join::<{ SOWN.len() + END.len() }>(SOWN, END), NOTE);

impl Formed for CoverCrop {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Write down a cover crop";
    const LEAD: &'static str = "What was sown as a cover, and when. Once it is ended, how it ended and what stood tell \
                                how much nitrogen the next crop finds.";
    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["bed", "cover_1", "rate_1"]),
        Group::of(
            "More covers of a mix",
            "",
            &["cover_2", "rate_2", "cover_3", "rate_3", "cover_4", "rate_4"],
        )
        .folded(),
        Group::of("", "", &["sown_on", "sown", "end_by"]),
        Group::of("How it ended", "", &["ended_on", "ended_how", "stage"]).folded(),
        Group::of(
            "What stood",
            "Cut a few frames at the ground and weigh them together: a guess by height may be off by a third.",
            &["cut_kg", "cut_area_m2", "cut_dried", "height_cm", "cover_percent", "nitrogen_percent"],
        )
        .folded(),
        Group::of("", "", &["note"]),
    ];

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let bed = read.entry("bed");
        let seeds = seeds(read, before);
        let sown_on = read.day("sown_on");
        let sown = read.choice("sown").map(|word| match word {
            "drilled" => Sowing::Drilled,
            _ => Sowing::Broadcast,
        });
        let end_by = read.day("end_by");
        let ended = ended(read);
        let stand = stand(read, before.and_then(|cover| cover.stand.as_ref()));
        let note = read.lines("note");
        Some(Self { bed: bed?, seeds, sown_on: sown_on?, sown: sown?, end_by, ended, stand, note })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let mut form = form.with("bed", self.bed.to_string());
        for ((cover, rate), seed) in PARTS.into_iter().zip(&self.seeds) {
            form = form.with(cover, &seed.cover).with(
                rate,
                seed.rate_kg_ha.map(|rate| area_rate_words(rate.get(), units)).unwrap_or_default(),
            );
        }
        let form = form
            .with("sown_on", self.sown_on.to_string())
            .with("sown", if self.sown == Sowing::Drilled { "drilled" } else { "broadcast" })
            .with("end_by", self.end_by.map(|day| day.to_string()).unwrap_or_default());
        fill_end(self, form, units).with("note", &self.note)
    }

    fn rows(read: &mut Reader<'_>) -> Option<(&'static str, Vec<usize>)> {
        Some(("seeds", (0..PARTS.len()).filter(|row| read.text(PARTS[*row].0).is_some()).collect()))
    }

    fn placed(&self, refusal: Refusal) -> Refusal {
        let part = refusal
            .field
            .strip_prefix("seeds[")
            .and_then(|rest| rest.split(']').next()?.parse::<usize>().ok());
        let field = match (part, refusal.field.as_str()) {
            (Some(at), _) => PARTS.get(at).map_or("cover_1", |names| names.0).to_owned(),
            (None, "seeds") => "cover_1".to_owned(),
            (None, "ended.on") => "ended_on".to_owned(),
            (None, other) => other.to_owned(),
        };
        let message = match field.as_str() {
            "ended_on" | "end_by" => {
                format!("It cannot end before the day it was sown, {}", day(self.sown_on))
            }
            _ => refusal.message.clone(),
        };
        Refusal { field, message, ..refusal }
    }

    fn prepare(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
        let mut form = beds(form, snapshot, ask);
        for (cover, _) in PARTS {
            form = form.choices(cover, species_offered());
        }
        if !ask.body.is_empty() || !form.draw("sown_on").text.is_empty() {
            return form;
        }
        form.with("sown_on", when::day_of(ask.stamp().at).to_string()).with("sown", "broadcast")
    }
}

/// Every cover by its name.
fn species_offered() -> Vec<(String, String)> {
    let mut offered: Vec<(String, String)> =
        catalogue().iter().map(|species| (species.key.clone(), species.name.clone())).collect();
    offered.sort_by(|a, b| a.1.cmp(&b.1));
    offered
}

/// The parts of the mix; those beyond what the form shows stay.
fn seeds(read: &mut Reader<'_>, before: Option<&CoverCrop>) -> Vec<CoverSeed> {
    let mut seeds = Vec::new();
    for (at, (cover, rate)) in PARTS.into_iter().enumerate() {
        let key = read.text(cover);
        let system = read.system();
        let kept = before.and_then(|cover| cover.seeds.get(at)?.rate_kg_ha);
        let rate_kg_ha = match read.text(rate) {
            Some(text) if kept.is_some_and(|kept| area_rate_words(kept.get(), system) == text) => kept,
            Some(text) => read.take(area_rate::<SeedRate>(rate, text, system)),
            None => None,
        };
        match key {
            Some(key) => {
                if let Some(species) = read.take(find(cover, key)) {
                    seeds.push(CoverSeed { cover: species.key.clone(), rate_kg_ha });
                }
            }
            None if rate_kg_ha.is_some() && at > 0 => read.refuse(
                Refusal::new(cover, "Seed was given here, but not of which cover")
                    .given("nothing")
                    .accepted("a cover, or no seed")
                    .example("oats"),
            ),
            None => {}
        }
    }
    if let Some(before) = before {
        seeds.extend(before.seeds.iter().skip(PARTS.len()).cloned());
    }
    seeds
}

/// The end of a cover: day and way, both or neither.
pub(crate) fn ended(read: &mut Reader<'_>) -> Option<CoverEnd> {
    let on = read.day("ended_on");
    let how = read.choice("ended_how");
    let given = read.text("ended_on").is_some();
    if given != how.is_some() {
        let (field, message) = if given {
            ("ended_how", "Say how it was ended")
        } else {
            ("ended_on", "Say on which day it was ended")
        };
        read.refuse(
            Refusal::new(field, message)
                .given("nothing")
                .accepted("the day and the way it was ended, or neither")
                .example(if given { "mown" } else { "2026-04-20" }),
        );
    }
    let how = CoverEnding::ALL.into_iter().find(|way| Some(way.key()) == how);
    Some(CoverEnd { on: on?, how: how? })
}

/// What stood. `before` is what the book holds.
pub(crate) fn stand(read: &mut Reader<'_>, before: Option<&CoverStand>) -> Option<CoverStand> {
    let stage = read.choice("stage").map(|word| match word {
        "in_bloom" => Stage::InBloom,
        _ => Stage::BeforeBloom,
    });
    let (mut was_kg, mut was_area, mut was_height, mut was_cover) = (None, None, None, None);
    match before.and_then(|stand| stand.biomass) {
        Some(CoverBiomass::Cut { kg, area_m2, .. }) => (was_kg, was_area) = (Some(kg), Some(area_m2)),
        Some(CoverBiomass::Height { height_cm, cover_percent }) => {
            (was_height, was_cover) = (Some(height_cm), Some(cover_percent));
        }
        None => {}
    }
    let kg: Option<CutMass> = read.measure_kept("cut_kg", was_kg);
    let area_m2: Option<FrameArea> = read.measure_kept("cut_area_m2", was_area);
    let dried = read.tick("cut_dried");
    let height_cm: Option<StandHeight> = read.measure_kept("height_cm", was_height);
    let cover_percent: Option<StandCover> = read.measure_kept("cover_percent", was_cover);
    let nitrogen_percent: Option<StandNitrogen> =
        read.measure_kept("nitrogen_percent", before.and_then(|stand| stand.nitrogen_percent));
    together(read, "cut_kg", "cut_area_m2", "what was cut and the area it was cut from");
    together(read, "height_cm", "cover_percent", "its height and the ground it covered");
    if kg.is_some() && height_cm.is_some() {
        let height = read.text("height_cm").unwrap_or_default();
        read.refuse(
            Refusal::new("height_cm", "Give what was weighed or its height, not both")
                .given(height)
                .accepted("a weight with its area, or a height with the ground covered")
                .example("nothing"),
        );
    }
    let biomass = match (kg, area_m2, height_cm, cover_percent) {
        (Some(kg), Some(area_m2), ..) => Some(CoverBiomass::Cut { kg, area_m2, dried }),
        (None, _, Some(height_cm), Some(cover_percent)) => {
            Some(CoverBiomass::Height { height_cm, cover_percent })
        }
        _ => None,
    };
    if stage.is_none() && (biomass.is_some() || nitrogen_percent.is_some()) && read.text("stage").is_none() {
        read.refuse(
            Refusal::new("stage", "Say how far it was when it was measured")
                .given("nothing")
                .accepted("before flowering, or in flower")
                .example("before_bloom"),
        );
    }
    Some(CoverStand { stage: stage?, biomass, nitrogen_percent })
}

fn together(read: &mut Reader<'_>, first: &str, second: &str, what: &str) {
    for (given, missing) in [(first, second), (second, first)] {
        if read.text(given).is_some() && read.text(missing).is_none() {
            read.refuse(
                Refusal::new(missing, format!("Give {what} together"))
                    .given("nothing")
                    .accepted(format!("{what}, or neither"))
                    .example(if missing.ends_with("percent") { "90 %" } else { "1" }),
            );
        }
    }
}

/// Fills the fields of the end.
pub(crate) fn fill_end(cover: &CoverCrop, form: Form, units: UnitSystem) -> Form {
    let form = form
        .with("ended_on", cover.ended.map(|end| end.on.to_string()).unwrap_or_default())
        .with("ended_how", cover.ended.map_or("", |end| end.how.key()));
    let Some(stand) = &cover.stand else { return form };
    let form = form
        .with("stage", if stand.stage == Stage::InBloom { "in_bloom" } else { "before_bloom" })
        .measure("nitrogen_percent", stand.nitrogen_percent, units);
    match stand.biomass {
        Some(CoverBiomass::Cut { kg, area_m2, dried }) => form
            .measure("cut_kg", Some(kg), units)
            .measure("cut_area_m2", Some(area_m2), units)
            .with("cut_dried", if dried { "true" } else { "" }),
        Some(CoverBiomass::Height { height_cm, cover_percent }) => form
            .measure("height_cm", Some(height_cm), units)
            .measure("cover_percent", Some(cover_percent), units),
        None => form,
    }
}
