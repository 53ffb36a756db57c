//! The fields of a post in the ground, shared by the form of a structure and by the question what if.

use book::model::{PostFoot, PostSet};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};
use ground::posts::embedment::Section;
use ground::posts::quantities::PostWidth;

use crate::form::{Choice, Field, Form, Group, Reader};

/// Its fields.
pub(crate) const POST: &[Field] = &[
    Field::pick(
        "set",
        "How it is set",
        "",
        &[
            Choice::new("driven", "Driven"),
            Choice::new("tamped", "In a hole, the ground tamped back in layers"),
            Choice::new("collar", "In a straight collar of concrete"),
            Choice::new("belled", "In concrete with a bell at its foot"),
            Choice::new("screw_anchor", "On a screw anchor"),
        ],
    )
    .optional(),
    Field::pick(
        "section",
        "Its shape",
        "",
        &[Choice::new("round", "Round"), Choice::new("square", "Square")],
    )
    .optional(),
    Field::measure(
        "width_mm",
        "How thick it is",
        "Diameter, or face of a square one: 2 3/8 in or 60 mm",
        Dimension::SmallLength,
    )
    .optional(),
    Field::measure("depth_m", "How deep its foot stands", "For example 36 in or 90 cm", Dimension::Length)
        .optional(),
    Field::measure(
        "above_m",
        "Height at which bow or load joins it",
        "A foot is taken where nothing is said",
        Dimension::Length,
    )
    .optional(),
    Field::measure(
        "collar_mm",
        "Diameter of the concrete",
        "For example 12 in or 30 cm",
        Dimension::SmallLength,
    )
    .optional(),
    Field::measure("bell_mm", "Diameter of the bell", "", Dimension::SmallLength).optional(),
    Field::measure(
        "helix_mm",
        "Diameter of the helix",
        "Of a screw anchor: 10 in or 25 cm",
        Dimension::SmallLength,
    )
    .optional(),
    Field::measure("tube_wall_mm", "Wall of the tube", "", Dimension::SmallLength).optional(),
    Field::measure(
        "zinc_um",
        "Zinc on one face",
        "Batch-dipped tube has about 86 µm, light sheet 19 µm",
        Dimension::GrainSize,
    )
    .optional(),
    Field::measure(
        "load_kn",
        "A sideways load that was given",
        "By the maker or an engineer, working value: 200 lb or 0.9 kN",
        Dimension::Force,
    )
    .optional(),
    Field::tick("rigid_floor", "A rigid floor or pavement holds it at the ground", ""),
    Field::tick(
        "movement_harmless",
        "It stands alone, and half an inch (12 mm) of movement harms nothing",
        "The code then doubles what the ground bears sideways; never for a frame or a glazed wall",
    ),
];

/// They in a group.
pub(crate) const GROUP: Group = Group::of(
    "Its posts in the ground",
    "",
    &[
        "set",
        "section",
        "width_mm",
        "depth_m",
        "above_m",
        "collar_mm",
        "bell_mm",
        "helix_mm",
        "tube_wall_mm",
        "zinc_um",
        "load_kn",
        "rigid_floor",
        "movement_harmless",
    ],
);

fn set_of(key: &str) -> PostSet {
    PostSet::ALL.into_iter().find(|set| set.key() == key).unwrap_or(PostSet::Driven)
}

/// Reads the post; nothing where none of it was filled in. `usual` stands for what may be left open; `before` is what
/// the book holds, and text left as it was shown keeps it to the last digit.
pub(crate) fn read(
    read: &mut Reader<'_>,
    usual: Option<&PostFoot>,
    before: Option<&PostFoot>,
) -> Option<PostFoot> {
    let set = read.choice("set").map(set_of);
    let section =
        read.choice("section").map(|key| if key == "square" { Section::Square } else { Section::Round });
    let width_mm: Option<PostWidth> = read.measure_kept("width_mm", before.map(|post| post.width_mm));
    let depth_m = read.measure_kept("depth_m", before.and_then(|post| post.depth_m));
    let above_m = read.measure_kept("above_m", before.and_then(|post| post.above_m));
    let collar_mm = read.measure_kept("collar_mm", before.and_then(|post| post.collar_mm));
    let bell_mm = read.measure_kept("bell_mm", before.and_then(|post| post.bell_mm));
    let helix_mm = read.measure_kept("helix_mm", before.and_then(|post| post.helix_mm));
    let tube_wall_mm = read.measure_kept("tube_wall_mm", before.and_then(|post| post.tube_wall_mm));
    let zinc_um = read.measure_kept("zinc_um", before.and_then(|post| post.zinc_um));
    let load_kn = read.measure_kept("load_kn", before.and_then(|post| post.load_kn));
    let (rigid_floor, movement_harmless) = (read.tick("rigid_floor"), read.tick("movement_harmless"));
    let anything = set.is_some()
        || section.is_some()
        || rigid_floor
        || movement_harmless
        || above_m.is_some()
        || width_mm.is_some()
        || depth_m.is_some()
        || collar_mm.is_some()
        || load_kn.is_some()
        || zinc_um.is_some()
        || helix_mm.is_some()
        || bell_mm.is_some()
        || tube_wall_mm.is_some();
    if !anything {
        return usual.copied();
    }
    for (name, missing, what, example) in [
        ("set", set.is_none(), "say how the post is set", "driven"),
        ("width_mm", width_mm.is_none(), "say how thick the post is", "2 3/8 in"),
    ] {
        if missing && usual.is_none() && !read.is_refused_at(name) {
            read.refuse(
                Refusal::new(name, format!("Its posts: {what}, or leave all of it open"))
                    .given("nothing")
                    .accepted(what)
                    .example(example),
            );
        }
    }
    let post = PostFoot {
        depth_m,
        above_m,
        collar_mm,
        bell_mm,
        helix_mm,
        tube_wall_mm,
        zinc_um,
        load_kn,
        rigid_floor,
        movement_harmless,
        ..PostFoot::of(
            section.or(usual.map(|post| post.section)).unwrap_or(Section::Round),
            width_mm.or(usual.map(|post| post.width_mm))?,
            set.or(usual.map(|post| post.set))?,
        )
    };
    let system = read.system();
    read.take(post.check().map(|()| post).map_err(|refusal| refusal.in_units(system)))
}

/// Fills the fields with a post.
pub(crate) fn fill(post: &PostFoot, form: Form, units: UnitSystem) -> Form {
    let yes = |is: bool| if is { "true" } else { "" };
    form.with("set", post.set.key())
        .with("section", if post.section == Section::Square { "square" } else { "round" })
        .measure("width_mm", Some(post.width_mm), units)
        .measure("depth_m", post.depth_m, units)
        .measure("above_m", post.above_m, units)
        .measure("collar_mm", post.collar_mm, units)
        .measure("bell_mm", post.bell_mm, units)
        .measure("helix_mm", post.helix_mm, units)
        .measure("tube_wall_mm", post.tube_wall_mm, units)
        .measure("zinc_um", post.zinc_um, units)
        .measure("load_kn", post.load_kn, units)
        .with("rigid_floor", yes(post.rigid_floor))
        .with("movement_harmless", yes(post.movement_harmless))
}
