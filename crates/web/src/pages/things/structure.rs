//! The form of a building, a fence or a trellis.

use book::Snapshot;
use book::model::{Structure, StructureKind};
use ground::kit::units::{Dimension, UnitSystem};

use super::{Formed, plots};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, shown};

pub(super) const FIELDS: &[Field] = &[
    Field::text("name", "Name", "For example East tunnel"),
    Field::pick(
        "kind",
        "What it is",
        "",
        &[
            Choice::new("high_tunnel", "High tunnel"),
            Choice::new("greenhouse", "Greenhouse"),
            Choice::new("shed", "Shed or barn"),
            Choice::new("fence", "Fence"),
            Choice::new("trellis", "Trellis"),
            Choice::new("other", "Something else"),
        ],
    ),
    Field::pick("plot", "Plot it stands on", "Leave open if it stands on none", &[]).optional(),
    Field::measure("length_m", "Length", "For example 96 ft or 29 m", Dimension::Length).optional(),
    Field::measure("width_m", "Width", "", Dimension::Length).optional(),
    Field::lines("note", "Note", "").optional(),
];

const KINDS: [(&str, StructureKind); 6] = [
    ("high_tunnel", StructureKind::HighTunnel),
    ("greenhouse", StructureKind::Greenhouse),
    ("shed", StructureKind::Shed),
    ("fence", StructureKind::Fence),
    ("trellis", StructureKind::Trellis),
    ("other", StructureKind::Other),
];

impl Formed for Structure {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Add a building or fence";
    const LEAD: &'static str = "Tunnels, sheds, fences and trellises: what stands on posts or sheds rain.";

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let name = read.text("name").map(str::to_owned);
        let chosen = read.choice("kind");
        let kind = KINDS.iter().find(|(key, _)| Some(*key) == chosen).map(|(_, kind)| *kind);
        let plot = read.entry("plot");
        let length_m = read.measure_kept("length_m", before.and_then(|one| one.length_m));
        let width_m = read.measure_kept("width_m", before.and_then(|one| one.width_m));
        let note = read.lines("note");
        Some(Self { plot, name: name?, kind: kind?, length_m, width_m, note })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let key = KINDS.iter().find(|(_, kind)| *kind == self.kind).map_or("", |(key, _)| key);
        form.with("name", &self.name)
            .with("kind", key)
            .with("plot", self.plot.map(|plot| plot.to_string()).unwrap_or_default())
            .with("length_m", self.length_m.map(|side| shown(side, units)).unwrap_or_default())
            .with("width_m", self.width_m.map(|side| shown(side, units)).unwrap_or_default())
            .with("note", &self.note)
    }

    fn prepare(form: Form, snapshot: &Snapshot, _ask: &Ask) -> Form {
        plots(form, snapshot)
    }
}
