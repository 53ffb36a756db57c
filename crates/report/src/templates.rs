//! The templates, built into the program.

/// A template: the file that lays out one kind of sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Template {
    /// Where templates name it.
    pub(crate) path: &'static str,
    /// What it says.
    pub(crate) source: &'static str,
}

macro_rules! template {
    ($file:literal) => {
        Template { path: concat!("/", $file), source: include_str!(concat!("../templates/", $file)) }
    };
}

/// The frame around every sheet: paper, heading, page numbers, cautions.
const FRAME: Template = template!("frame.typ");

impl Template {
    /// The work plan.
    pub const WORK: Self = template!("work.typ");
    /// What to spread, bed by bed.
    pub const SPREAD: Self = template!("spread.typ");
    /// The buying list.
    pub const BUYING: Self = template!("buying.typ");
    /// The posts of a structure.
    pub const POSTS: Self = template!("posts.typ");
    /// Crops and covers over the year.
    pub const COVERS: Self = template!("covers.typ");
    /// Labels for bags.
    pub const LABELS: Self = template!("labels.typ");
    /// A paper scale for a jar.
    pub const JAR_STRIP: Self = template!("jar_strip.typ");
    /// The feel test on a card.
    pub const FEEL_CARD: Self = template!("feel_card.typ");
    /// A form for a probe.
    pub const PROBE_FORM: Self = template!("probe_form.typ");
    /// The sheet of a sampling plan.
    pub const FIELD_SHEET: Self = template!("field_sheet.typ");
    /// A map of what varies.
    pub const MAP: Self = template!("map.typ");
}

/// The scales of the jar strip and the feel card.
const SCALES: Template = template!("scales.typ");

/// Every file a template may name.
pub(crate) const ALL: &[Template] = &[
    FRAME,
    SCALES,
    Template::WORK,
    Template::SPREAD,
    Template::BUYING,
    Template::POSTS,
    Template::COVERS,
    Template::LABELS,
    Template::JAR_STRIP,
    Template::FEEL_CARD,
    Template::PROBE_FORM,
    Template::FIELD_SHEET,
    Template::MAP,
];
