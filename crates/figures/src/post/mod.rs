//! A post in section, to scale: layers of the ground, depth, collar and what pulls at it.

mod draw;

use ground::kit::units::UnitSystem;
use ground::posts::us::KN_PER_LBF;

use crate::canvas::{Canvas, LETTER, Side, WIDTH};
use crate::figure::{Figure, Table};
use crate::measures::{Shown, is_depth};
use crate::words::{list, sentence};

/// Layers that one picture holds.
pub const MOST_LAYERS: usize = 6;
/// Loads that one picture holds.
pub const MOST_LOADS: usize = 4;
/// More than this (100 t) pulls at no post on a farm.
const MOST_LOAD_KN: f64 = 1000.0;

/// How a layer is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// Sandy ground.
    Sandy,
    /// Silty or loamy ground.
    Silty,
    /// Clayey ground.
    Clayey,
    /// Rock or a cemented pan.
    Rock,
    /// Tilled ground, fill or peat, which the codes give no value.
    NotCounted,
}

/// One layer of the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PostLayer<'a> {
    /// Its top below the surface.
    pub top_cm: f64,
    /// Its bottom below the surface.
    pub bottom_cm: f64,
    /// What it is: "sandy loam".
    pub name: &'a str,
    /// How it is drawn.
    pub look: Look,
}

/// Concrete round the post.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Collar {
    /// Its diameter.
    pub diameter_cm: f64,
    /// Diameter of a bell at its foot.
    pub bell_cm: Option<f64>,
}

/// What pulls or pushes at the post.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Load {
    /// A push from the left.
    Sideways {
        /// Its size.
        kn: f64,
        /// Height above the surface at which it acts.
        height_cm: f64,
    },
    /// A pull up.
    Up {
        /// Its size.
        kn: f64,
    },
    /// Weight on it.
    Down {
        /// Its size.
        kn: f64,
    },
}

impl Load {
    fn kn(self) -> f64 {
        match self {
            Self::Sideways { kn, .. } | Self::Up { kn } | Self::Down { kn } => kn,
        }
    }

    fn is_drawable(self) -> bool {
        let placed = match self {
            Self::Sideways { height_cm, .. } => is_depth(height_cm),
            Self::Up { .. } | Self::Down { .. } => true,
        };
        placed && self.kn() > 0.0 && self.kn() <= MOST_LOAD_KN
    }

    fn words(self, system: UnitSystem) -> String {
        let force = force(self.kn(), system);
        match self {
            Self::Sideways { height_cm, .. } => {
                format!("{force} sideways, {} up", Shown::depth(system).say(height_cm))
            }
            Self::Up { .. } => format!("{force} pulling up"),
            Self::Down { .. } => format!("{force} pressing down"),
        }
    }
}

/// A force in lb or kN.
fn force(kn: f64, system: UnitSystem) -> String {
    match system {
        UnitSystem::UsCustomary => format!("{:.0} lb", kn / KN_PER_LBF),
        UnitSystem::Metric => format!("{kn:.2} kN"),
    }
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PostSection<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// Layers from the top down, at most [`MOST_LAYERS`].
    pub layers: &'a [PostLayer<'a>],
    /// Diameter or face of the post.
    pub post_cm: f64,
    /// Its depth in the ground.
    pub depth_cm: f64,
    /// Its height above the ground.
    pub above_cm: f64,
    /// Concrete round it.
    pub collar: Option<Collar>,
    /// Depth that was worked out as needed, where it is another than the post's.
    pub needed_cm: Option<f64>,
    /// Frost depth of the local code.
    pub frost_cm: Option<f64>,
    /// Depth of the water table.
    pub water_table_cm: Option<f64>,
    /// What pulls at it, at most [`MOST_LOADS`].
    pub loads: &'a [Load],
    /// Units.
    pub system: UnitSystem,
}

impl PostSection<'_> {
    fn wrong(&self) -> Option<&'static str> {
        // Nothing thinner than a millimetre stands in the ground.
        let sized = |value: f64, most: f64| (0.1..=most).contains(&value);
        if !sized(self.depth_cm, 1000.0) {
            Some("the depth of the post is not known")
        } else if !sized(self.post_cm, 200.0) {
            Some("the width of the post is not known")
        } else if !(0.0..=2000.0).contains(&self.above_cm) {
            Some("the height of the post is not known")
        } else if self.collar.is_some_and(|collar| {
            !sized(collar.diameter_cm, 400.0)
                || collar.diameter_cm < self.post_cm
                || collar.bell_cm.is_some_and(|bell| !sized(bell, 400.0) || bell < collar.diameter_cm)
        }) {
            Some("the collar does not go round the post")
        } else {
            None
        }
    }

    fn layers(&self) -> Vec<PostLayer<'_>> {
        let sound = |layer: &&PostLayer<'_>| {
            is_depth(layer.top_cm) && is_depth(layer.bottom_cm) && layer.bottom_cm > layer.top_cm
        };
        self.layers.iter().filter(sound).take(MOST_LAYERS).copied().collect()
    }

    fn loads(&self) -> Vec<Load> {
        self.loads.iter().copied().filter(|load| load.is_drawable()).take(MOST_LOADS).collect()
    }

    /// Depths that are marked by a line, with their names.
    fn marks(&self) -> Vec<(f64, &'static str)> {
        [
            (self.needed_cm, "depth needed"),
            (self.frost_cm, "frost depth"),
            (self.water_table_cm, "water table"),
        ]
        .into_iter()
        .filter_map(|(at, name)| at.filter(|at| is_depth(*at)).map(|at| (at, name)))
        .collect()
    }
}

/// The post in section, depths and widths to one scale; a post taller above the ground than it is deep is
/// cut short there, and the cut is drawn.
///
/// Layers, lines and loads that are no depths or no sizes are left out, and the description says how many
/// layers were. Where the post itself is not known the picture says what is wrong.
#[must_use]
pub fn post_section(section: &PostSection<'_>) -> Figure {
    let title = "The post in the ground".to_owned();
    let table = Table::new(["", "Value"]);
    if let Some(wrong) = section.wrong() {
        let mut canvas = Canvas::new(section.id, "post", WIDTH, 24.0);
        let said = format!("Not drawn: {wrong}.");
        canvas.text((0.0, 16.0), Side::Start, LETTER, &said);
        return canvas.finish(title, said, table);
    }
    let (layers, loads) = (section.layers(), section.loads());
    let canvas = draw::draw(section, &layers, &loads);
    canvas.finish(title, describe(section, &layers, &loads), rows(section, &layers, &loads, table))
}

fn between(section: &PostSection<'_>, layer: &PostLayer<'_>) -> String {
    let depth = Shown::depth(section.system);
    format!("{} to {}", depth.number(layer.top_cm), depth.say(layer.bottom_cm))
}

fn collar_words(section: &PostSection<'_>) -> Option<String> {
    let depth = Shown::depth(section.system);
    section.collar.map(|collar| {
        let wide = depth.say(collar.diameter_cm);
        collar.bell_cm.map_or_else(
            || format!("{wide} across"),
            |bell| format!("{wide} across, {} at the foot", depth.say(bell)),
        )
    })
}

fn describe(section: &PostSection<'_>, layers: &[PostLayer<'_>], loads: &[Load]) -> String {
    let depth = Shown::depth(section.system);
    let mut said = format!(
        "A post {} across stands {} deep and {} high.",
        depth.say(section.post_cm),
        depth.say(section.depth_cm),
        depth.say(section.above_cm)
    );
    if let Some(collar) = collar_words(section) {
        said.push_str(&format!(" Concrete round it is {collar}."));
    }
    if !layers.is_empty() {
        let named: Vec<String> = layers
            .iter()
            .map(|layer| {
                let counted = if layer.look == Look::NotCounted { ", not counted" } else { "" };
                format!("{} from {}{counted}", layer.name, between(section, layer))
            })
            .collect();
        said.push_str(&format!(" The ground: {}.", list(&named)));
    }
    for (at, name) in section.marks() {
        said.push_str(&format!(" {}: {}.", sentence(name), depth.say(at)));
    }
    if !loads.is_empty() {
        let told: Vec<String> = loads.iter().map(|load| load.words(section.system)).collect();
        said.push_str(&format!(" It carries {}.", list(&told)));
    }
    let left_out = section.layers.len() - layers.len();
    if left_out > 0 {
        said.push_str(&format!(" Layers left out: {left_out}."));
    }
    said
}

fn rows(section: &PostSection<'_>, layers: &[PostLayer<'_>], loads: &[Load], mut table: Table) -> Table {
    let depth = Shown::depth(section.system);
    table.row(["Depth of the post".to_owned(), depth.say(section.depth_cm)]);
    table.row(["Height above the ground".to_owned(), depth.say(section.above_cm)]);
    table.row(["Width of the post".to_owned(), depth.say(section.post_cm)]);
    if let Some(collar) = collar_words(section) {
        table.row(["Concrete".to_owned(), collar]);
    }
    for layer in layers {
        let counted = if layer.look == Look::NotCounted { ", not counted" } else { "" };
        table.row([sentence(layer.name), format!("{}{counted}", between(section, layer))]);
    }
    for (at, name) in section.marks() {
        table.row([sentence(name), depth.say(at)]);
    }
    for load in loads {
        table.row(["Load".to_owned(), load.words(section.system)]);
    }
    table
}
