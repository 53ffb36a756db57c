//! The slake test: dry crumbs put into water.

use book::model::Seen;
use ground::kit::units::UnitSystem;
use ground::structure::spade::crumbs::{read_crumbs, write_crumbs};
use ground::structure::spade::slake::SlakeInput;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had};
use super::kinds::{self, Kind};
use crate::form::{Field, Form, Reader, join};

/// A slake test.
pub(super) struct Crumbs;

const OWN: &[Field] = &[Field::lines(
    "crumbs",
    "What each crumb did",
    "20 s where half of it had fallen apart after 20 seconds; 60 % where it lasted five minutes and that much stayed on the \
     mesh after five dips; weak where it could not be picked up. 3 x 60 % for three alike",
)];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

impl Flow for Crumbs {
    const KIND: &'static Kind = &kinds::SLAKE;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[Group::of(
        "The crumbs",
        "Sixteen or more, as big as a pea (6 to 8 mm, 1/4 in), air-dry, from the top inch. Lay each on a mesh in \
         water 2 cm (3/4 in) deep and watch for five minutes; then dip the mesh five times.",
        &["crumbs"],
    )];

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let text = read.text("crumbs")?;
        let crumbs = read_crumbs("crumbs", text);
        read.take(crumbs).map(|crumbs| Seen::Slake(SlakeInput { crumbs }))
    }

    fn fill(seen: &Seen, form: Form, _units: UnitSystem) -> Form {
        let Seen::Slake(test) = seen else { return form };
        form.set("crumbs", write_crumbs(&test.crumbs))
    }
}
