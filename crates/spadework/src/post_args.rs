//! A post in the ground as options: for recording a structure, and for asking what if.

use book::model::{PostFoot, PostSet};
use clap::{Args, ValueEnum};
use ground::kit::units::{UnitSystem, field_unit, typed};
use ground::kit::{Bounded, Refusal};
use ground::posts::embedment::Section;

/// Options of a post.
#[derive(Debug, Clone, Default, Args)]
pub(crate) struct PostArgs {
    /// How the posts are set
    #[arg(long, value_enum)]
    set: Option<SetName>,
    /// Their shape; that of the record, or of the usual post: round, square where it is of no structure
    #[arg(long, value_enum)]
    section: Option<SectionName>,
    /// How thick they are: diameter, or face of a square one
    #[arg(long, value_name = "WIDTH")]
    post_width: Option<String>,
    /// How deep their foot stands
    #[arg(long, value_name = "DEPTH")]
    depth: Option<String>,
    /// Height above the ground at which bow or load joins them
    #[arg(long, value_name = "HEIGHT")]
    above: Option<String>,
    /// Diameter of the concrete
    #[arg(long, value_name = "WIDTH")]
    collar: Option<String>,
    /// Diameter of the bell
    #[arg(long, value_name = "WIDTH")]
    bell: Option<String>,
    /// Diameter of the helix of a screw anchor
    #[arg(long, value_name = "WIDTH")]
    helix: Option<String>,
    /// Thickness of the wall of a tube
    #[arg(long, value_name = "THICKNESS")]
    tube_wall: Option<String>,
    /// Zinc on one face, in µm
    #[arg(long, value_name = "THICKNESS")]
    zinc: Option<String>,
    /// A sideways load that the maker or an engineer gave, working value
    #[arg(long, value_name = "FORCE")]
    load: Option<String>,
    /// A rigid floor or pavement holds them at the ground
    #[arg(long)]
    rigid_floor: bool,
    /// They stand alone, and half an inch (12 mm) of movement harms nothing
    #[arg(long)]
    movement_harmless: bool,
}

/// Ways to set a post, by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum SetName {
    /// Driven into undisturbed ground
    Driven,
    /// In a hole, the ground tamped back in layers
    Tamped,
    /// In a straight collar of concrete
    Collar,
    /// In concrete with a bell at its foot
    Belled,
    /// On a screw anchor
    ScrewAnchor,
}

/// Shapes by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum SectionName {
    /// Round
    Round,
    /// Square
    Square,
}

/// A measure that may be left out.
pub(crate) fn given<Q: Bounded>(
    field: &str,
    text: &Option<String>,
    system: UnitSystem,
) -> Result<Option<Q>, Refusal> {
    text.as_deref().map(|text| typed::<Q>(field, text, field_unit(Q::UNIT, system))).transpose()
}

impl PostArgs {
    /// Was anything said?
    pub(crate) fn said(&self) -> bool {
        let texts = [
            &self.post_width,
            &self.depth,
            &self.above,
            &self.collar,
            &self.bell,
            &self.helix,
            &self.tube_wall,
            &self.zinc,
            &self.load,
        ];
        self.set.is_some()
            || self.section.is_some()
            || self.rigid_floor
            || self.movement_harmless
            || texts.iter().any(|text| text.is_some())
    }

    /// Was the post itself told, and not only what it carries?
    pub(crate) fn sized(&self) -> bool {
        self.set.is_some() || self.post_width.is_some()
    }

    /// The post with everything that was said put in; the rest is that of `before`.
    pub(crate) fn put(&self, before: PostFoot, system: UnitSystem) -> Result<PostFoot, Refusal> {
        let set = self.set.map_or(before.set, |set| match set {
            SetName::Driven => PostSet::Driven,
            SetName::Tamped => PostSet::Tamped,
            SetName::Collar => PostSet::Collar,
            SetName::Belled => PostSet::Belled,
            SetName::ScrewAnchor => PostSet::ScrewAnchor,
        });
        let section = self.section.map_or(before.section, |section| match section {
            SectionName::Round => Section::Round,
            SectionName::Square => Section::Square,
        });
        let post = PostFoot {
            section,
            set,
            width_mm: given("post_width", &self.post_width, system)?.unwrap_or(before.width_mm),
            depth_m: given("depth", &self.depth, system)?.or(before.depth_m),
            above_m: given("above", &self.above, system)?.or(before.above_m),
            collar_mm: given("collar", &self.collar, system)?.or(before.collar_mm),
            bell_mm: given("bell", &self.bell, system)?.or(before.bell_mm),
            helix_mm: given("helix", &self.helix, system)?.or(before.helix_mm),
            tube_wall_mm: given("tube_wall", &self.tube_wall, system)?.or(before.tube_wall_mm),
            zinc_um: given("zinc", &self.zinc, system)?.or(before.zinc_um),
            load_kn: given("load", &self.load, system)?.or(before.load_kn),
            rigid_floor: self.rigid_floor || before.rigid_floor,
            movement_harmless: self.movement_harmless || before.movement_harmless,
        };
        post.check().map(|()| post).map_err(|refusal| at_its_option(refusal).in_units(system))
    }
}

/// A refusal of the book, at the option it was typed at.
pub(crate) fn at_its_option(mut refusal: Refusal) -> Refusal {
    let field = refusal.field.rsplit('.').next().unwrap_or_default();
    refusal.field = match field {
        "width_mm" => "post_width".to_owned(),
        other => ["_mm", "_m", "_um", "_kn", "_percent", "_degrees", "_kg_m2"]
            .iter()
            .find_map(|unit| other.strip_suffix(unit))
            .unwrap_or(other)
            .to_owned(),
    };
    refusal
}
