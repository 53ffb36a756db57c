//! The form of a building, a fence or a trellis.

use book::Snapshot;
use book::model::{EndBrace, PostLine, Structure, StructureKind, TunnelFrame, TunnelProfile};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};

use super::{Formed, plots};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Group, Reader, join, shown};
use crate::pages::posts::fields as post;

const OWN: &[Field] = &[
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
    Field::tick(
        "planned",
        "It is planned, and not built yet",
        "The work plan then tells what to do before it stands",
    ),
    Field::measure("length_m", "Length", "For example 96 ft or 29 m", Dimension::Length).optional(),
    Field::measure("width_m", "Width", "", Dimension::Length).optional(),
    // Of a tunnel.
    Field::measure(
        "wall_m",
        "Height of the side walls",
        "0 where the bows spring from the ground",
        Dimension::Length,
    )
    .optional(),
    Field::measure("ridge_m", "Height of the ridge", "For example 12 ft or 3.7 m", Dimension::Length)
        .optional(),
    Field::measure("bow_spacing_m", "Distance between bows", "For example 4 ft or 1.2 m", Dimension::Length)
        .optional(),
    Field::pick(
        "profile",
        "Shape of the bows",
        "",
        &[Choice::new("round", "Round"), Choice::new("pointed", "Pointed at the ridge")],
    )
    .optional(),
    Field::pick(
        "door_ends",
        "Ends with a door",
        "",
        &[Choice::new("0", "None"), Choice::new("1", "One"), Choice::new("2", "Both")],
    )
    .optional(),
    Field::pick(
        "covered",
        "Is the cover on in the season of storms",
        "",
        &[Choice::new("yes", "Yes"), Choice::new("no", "No, it is taken off")],
    )
    .optional(),
    Field::measure(
        "weight_kg_m2",
        "Weight of frame and cover",
        "In kg for each m² of ground; 1 lb/ft² is 4.9. None is counted where nothing is said",
        Dimension::Number,
    )
    .optional(),
    // Of a fence or trellis.
    Field::measure("height_m", "Height above the ground", "For example 8 ft or 2.4 m", Dimension::Length)
        .optional(),
    Field::measure("spacing_m", "Distance between posts", "For example 15 ft or 4.6 m", Dimension::Length)
        .optional(),
    Field::measure("wires", "Tight wires", "How many", Dimension::Number).optional(),
    Field::measure("wire_pull_kn", "Pull of each", "When tight and cold: 200 lb or 0.9 kN", Dimension::Force)
        .optional(),
    Field::measure("wire_height_m", "Their mean height", "", Dimension::Length).optional(),
    Field::pick(
        "brace",
        "How the ends are braced",
        "",
        &[
            Choice::new("alone", "Not: the end post alone"),
            Choice::new("two_posts", "Two posts with a level brace"),
            Choice::new("tieback", "A tieback to an anchor"),
        ],
    )
    .optional(),
    Field::measure("brace_span_m", "Distance between the posts of the brace", "", Dimension::Length)
        .optional(),
    Field::measure("tieback_degrees", "Slope of the tieback", "Degrees above level: 45", Dimension::Number)
        .optional(),
    Field::measure(
        "solid_percent",
        "Share of its front that stops the wind",
        "On its worst day, with crop or ice: 15 % for mesh",
        Dimension::Percent,
    )
    .optional(),
    Field::tick("deer", "It is a deer fence", ""),
    Field::lines("note", "Note", "").optional(),
];

pub(super) const FIELDS: &[Field] = &join::<{ OWN.len() + post::POST.len() }>(OWN, post::POST);

const KINDS: [(&str, StructureKind); 6] = [
    ("high_tunnel", StructureKind::HighTunnel),
    ("greenhouse", StructureKind::Greenhouse),
    ("shed", StructureKind::Shed),
    ("fence", StructureKind::Fence),
    ("trellis", StructureKind::Trellis),
    ("other", StructureKind::Other),
];

const BRACES: [(&str, EndBrace); 3] =
    [("alone", EndBrace::Alone), ("two_posts", EndBrace::TwoPosts), ("tieback", EndBrace::Tieback)];

impl Formed for Structure {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Add a building or fence";
    const LEAD: &'static str = "Tunnels, sheds, fences and trellises: what stands on posts or sheds rain.";
    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["name", "kind", "plot", "planned", "length_m", "width_m"]),
        Group::of(
            "Its frame, of a tunnel or greenhouse",
            "What the wind on its posts is reckoned from.",
            &["wall_m", "ridge_m", "bow_spacing_m", "profile", "door_ends", "covered", "weight_kg_m2"],
        )
        .folded(),
        Group::of(
            "Its line, of a fence or trellis",
            "",
            &[
                "height_m",
                "spacing_m",
                "wires",
                "wire_pull_kn",
                "wire_height_m",
                "brace",
                "brace_span_m",
                "tieback_degrees",
                "solid_percent",
                "deer",
            ],
        )
        .folded(),
        post::GROUP.folded(),
        Group::of("", "", &["note"]),
    ];

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let name = read.text("name").map(str::to_owned);
        let chosen = read.choice("kind");
        let kind = KINDS.iter().find(|(key, _)| Some(*key) == chosen).map(|(_, kind)| *kind);
        let plot = read.entry("plot");
        let planned = read.tick("planned");
        let length_m = read.measure_kept("length_m", before.and_then(|one| one.length_m));
        let width_m = read.measure_kept("width_m", before.and_then(|one| one.width_m));
        let frame = frame(read, before.and_then(|one| one.frame).unwrap_or_default());
        let line = line(read, before.and_then(|one| one.line).unwrap_or_default());
        let post = post::read(read, None, before.and_then(|one| one.post.as_ref()));
        let note = read.lines("note");
        Some(Self { plot, name: name?, kind: kind?, length_m, width_m, planned, frame, line, post, note })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let key = KINDS.iter().find(|(_, kind)| *kind == self.kind).map_or("", |(key, _)| key);
        let mut form = form
            .with("name", &self.name)
            .with("kind", key)
            .with("plot", self.plot.map(|plot| plot.to_string()).unwrap_or_default())
            .with("planned", if self.planned { "yes" } else { "" })
            .with("length_m", self.length_m.map(|side| shown(side, units)).unwrap_or_default())
            .with("width_m", self.width_m.map(|side| shown(side, units)).unwrap_or_default())
            .with("note", &self.note);
        if let Some(frame) = &self.frame {
            form = fill_frame(frame, form, units);
        }
        if let Some(line) = &self.line {
            form = fill_line(line, form, units);
        }
        match &self.post {
            Some(foot) => post::fill(foot, form, units),
            None => form,
        }
    }

    fn prepare(form: Form, snapshot: &Snapshot, _ask: &Ask) -> Form {
        plots(form, snapshot)
    }

    fn placed(&self, mut refusal: Refusal) -> Refusal {
        for part in ["frame.", "line.", "post."] {
            if let Some(field) = refusal.field.strip_prefix(part) {
                refusal.field = field.to_owned();
                break;
            }
        }
        refusal
    }
}

/// `before` is what the book holds: text left as it was shown keeps it to the last digit.
fn frame(read: &mut Reader<'_>, before: TunnelFrame) -> Option<TunnelFrame> {
    let profile = read
        .choice("profile")
        .map(|key| if key == "pointed" { TunnelProfile::Pointed } else { TunnelProfile::Round });
    let frame = TunnelFrame {
        wall_m: read.measure_kept("wall_m", before.wall_m),
        ridge_m: read.measure_kept("ridge_m", before.ridge_m),
        bow_spacing_m: read.measure_kept("bow_spacing_m", before.bow_spacing_m),
        profile,
        door_ends: read.choice("door_ends").and_then(|key| key.parse().ok()),
        covered: read.choice("covered").map(|key| key == "yes"),
        weight_kg_m2: read.measure_kept("weight_kg_m2", before.weight_kg_m2),
    };
    (frame != TunnelFrame::default()).then_some(frame)
}

fn line(read: &mut Reader<'_>, before: PostLine) -> Option<PostLine> {
    let chosen = read.choice("brace");
    let line = PostLine {
        height_m: read.measure_kept("height_m", before.height_m),
        spacing_m: read.measure_kept("spacing_m", before.spacing_m),
        wires: read.measure_kept("wires", before.wires),
        wire_pull_kn: read.measure_kept("wire_pull_kn", before.wire_pull_kn),
        wire_height_m: read.measure_kept("wire_height_m", before.wire_height_m),
        brace: BRACES.iter().find(|(key, _)| Some(*key) == chosen).map(|(_, brace)| *brace),
        brace_span_m: read.measure_kept("brace_span_m", before.brace_span_m),
        tieback_degrees: read.measure_kept("tieback_degrees", before.tieback_degrees),
        solid_percent: read.measure_kept("solid_percent", before.solid_percent),
        deer: read.tick("deer"),
    };
    (line != PostLine::default()).then_some(line)
}

fn fill_frame(frame: &TunnelFrame, form: Form, units: UnitSystem) -> Form {
    form.measure("wall_m", frame.wall_m, units)
        .measure("ridge_m", frame.ridge_m, units)
        .measure("bow_spacing_m", frame.bow_spacing_m, units)
        .with("profile", frame.profile.map_or("", |profile| profile.words()))
        .with("door_ends", frame.door_ends.map(|ends| ends.to_string()).unwrap_or_default())
        .with("covered", frame.covered.map_or("", |on| if on { "yes" } else { "no" }))
        .measure("weight_kg_m2", frame.weight_kg_m2, units)
}

fn fill_line(line: &PostLine, form: Form, units: UnitSystem) -> Form {
    let brace = BRACES.iter().find(|(_, brace)| Some(*brace) == line.brace).map_or("", |(key, _)| key);
    form.measure("height_m", line.height_m, units)
        .measure("spacing_m", line.spacing_m, units)
        .measure("wires", line.wires, units)
        .measure("wire_pull_kn", line.wire_pull_kn, units)
        .measure("wire_height_m", line.wire_height_m, units)
        .with("brace", brace)
        .measure("brace_span_m", line.brace_span_m, units)
        .measure("tieback_degrees", line.tieback_degrees, units)
        .measure("solid_percent", line.solid_percent, units)
        .with("deer", if line.deer { "yes" } else { "" })
}
