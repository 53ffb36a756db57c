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
}

/// Every file a template may name.
pub(crate) const ALL: &[Template] =
    &[FRAME, Template::WORK, Template::SPREAD, Template::BUYING, Template::POSTS, Template::COVERS];
