//! The form of a material that was spread.

use advice::work::material_name;
use book::Snapshot;
use book::model::{Application, EntryId, Placed, SpreadMaterial};
use ground::fertility::blend::catalogue::{CATALOGUE, generic};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};

use super::{Formed, plots};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader};
use crate::{when, words};

/// Ways to place a material, as answers.
pub(crate) const PLACED: &[Choice] = &[
    Choice::new("incorporated", "Spread and worked in"),
    Choice::new("surface", "Left on the surface"),
    Choice::new("side_dressed", "Beside growing plants"),
    Choice::new("banded", "In a band in the row"),
    Choice::new("watered_in", "With the water"),
];

pub(super) const FIELDS: &[Field] = &[
    Field::pick("plot", "Plot", "", &[]),
    Field::pick("bed", "Bed", "Leave open when it went on the whole plot", &[]).optional(),
    Field::pick("material", "Material", "From the shelf", &[]).optional(),
    Field::pick(
        "generic",
        "Or a generic material",
        "What does not stand on the shelf; what does is taken off it when you choose it there",
        &[],
    )
    .optional(),
    Field::day("on", "Day", ""),
    Field::measure("kg", "How much in all", "As it came, for example 4 lb 8 oz or 2 kg", Dimension::Load),
    Field::one_of("placed", "How", "", PLACED),
    Field::hidden("job").optional(),
    Field::lines("note", "Note", "").optional(),
];

/// The way of placing behind an answer.
pub(crate) fn placed_of(key: &str) -> Option<Placed> {
    Placed::ALL.into_iter().find(|placed| placed_key(*placed) == key)
}

/// The answer that stands for a way of placing.
pub(crate) fn placed_key(placed: Placed) -> &'static str {
    match placed {
        Placed::Incorporated => "incorporated",
        Placed::Surface => "surface",
        Placed::SideDressed => "side_dressed",
        Placed::Banded => "banded",
        Placed::WateredIn => "watered_in",
    }
}

impl Formed for Application {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Write down what was spread";
    const LEAD: &'static str = "What really went on the ground feeds the balance of the plot and is taken off the \
                                shelf.";

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let plot = read.entry("plot");
        let bed = read.entry("bed");
        let spread = material(read, before);
        let on = read.day_gone("on");
        let kg = read.measure_kept("kg", before.map(|one| one.kg));
        let placed = read.choice("placed").and_then(placed_of);
        let job = read.text("job").map(str::to_owned);
        let note = read.lines("note");
        Some(Self { plot: plot?, bed, spread: spread?, on: on?, kg: kg?, placed: placed?, job, note })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let (shelf, generic) = match &self.spread {
            SpreadMaterial::Shelf(id) => (id.to_string(), String::new()),
            SpreadMaterial::Catalogue(key) => (String::new(), key_of(key)),
        };
        form.with("plot", self.plot.to_string())
            .with("bed", self.bed.map(|bed| bed.to_string()).unwrap_or_default())
            .with("material", shelf)
            .with("generic", generic)
            .with("on", self.on.to_string())
            .measure("kg", Some(self.kg), units)
            .with("placed", placed_key(self.placed))
            .with("job", self.job.as_deref().unwrap_or_default())
            .with("note", &self.note)
    }

    fn prepare(form: Form, snapshot: &Snapshot, ask: &Ask) -> Form {
        let plot = ask.query.text("plot").and_then(|plot| plot.parse::<EntryId>().ok());
        let bed = ask.query.text("bed").and_then(|bed| bed.parse::<EntryId>().ok());
        let plot = plot.or_else(|| snapshot.bed(bed?).map(|bed| bed.body.plot));
        let beds = snapshot.beds.iter().map(|bed| {
            let name = format!("{}, {}", bed.body.name, words::name_of(snapshot, bed.body.plot));
            (bed.id.to_string(), name)
        });
        let shelf = snapshot
            .materials
            .iter()
            .map(|held| (held.id.to_string(), material_name(snapshot, &SpreadMaterial::Shelf(held.id))));
        let untouched = ask.body.is_empty() && form.draw("on").text.is_empty();
        let form = if untouched {
            let id = |id: Option<EntryId>| id.map(|id| id.to_string()).unwrap_or_default();
            form.with("plot", id(plot))
                .with("bed", id(bed))
                .with("on", when::day_of(ask.stamp().at).to_string())
        } else {
            form
        };
        let generic = CATALOGUE.iter().map(|row| (row.key.clone(), row.name.clone()));
        plots(form, snapshot).choices("bed", beds).choices("material", shelf).choices("generic", generic)
    }

    fn placed(&self, refusal: Refusal) -> Refusal {
        match (&self.spread, refusal.field.as_str()) {
            (_, "spread.shelf") => Refusal { field: "material".to_owned(), ..refusal },
            (_, "spread.catalogue") => Refusal { field: "generic".to_owned(), ..refusal },
            _ => refusal,
        }
    }
}

/// The catalogue's own key of what a book names; what the catalogue does not have stays as it is.
fn key_of(named: &str) -> String {
    generic(named).map_or_else(|| named.to_owned(), |known| known.key.clone())
}

/// A material of the shelf or a generic one, exactly one of them.
fn material(read: &mut Reader<'_>, before: Option<&Application>) -> Option<SpreadMaterial> {
    let shelf = read.entry("material");
    let of_catalogue = read.text("generic");
    match (shelf, of_catalogue) {
        (Some(_), Some(text)) => {
            read.refuse(
                Refusal::new("generic", "Material: choose one of the shelf or name a generic one, not both")
                    .given(text)
                    .accepted("one of the two"),
            );
            None
        }
        (Some(id), None) => Some(SpreadMaterial::Shelf(id)),
        (None, Some(text)) => match (before.map(|before| &before.spread), generic(text)) {
            // A material left as it was shown stays that one.
            (Some(SpreadMaterial::Catalogue(key)), _) if key_of(key) == text => {
                Some(SpreadMaterial::Catalogue(key.clone()))
            }
            (_, Some(known)) => Some(SpreadMaterial::Catalogue(known.key.clone())),
            (_, None) => {
                read.refuse(
                    Refusal::new("generic", format!("The catalogue has no \u{201c}{text}\u{201d}"))
                        .given(text)
                        .accepted("one of the list; anything else goes on the shelf first, with its analysis")
                        .example("feather-meal"),
                );
                None
            }
        },
        (None, None) if read.is_refused_at("material") => None,
        (None, None) => {
            read.refuse(
                Refusal::new("material", "Material: say what was spread")
                    .given("nothing")
                    .accepted("one of the shelf, or the name of a generic material"),
            );
            None
        }
    }
}
