//! The texture triangle: the twelve class fields, the belief as a cloud, the evidence as letters.
//!
//! Clay stands on top, sand bottom left, silt bottom right. Clay is read level, silt down to the
//! left, sand up to the left; stubs on the sides and the broken lines from the median show the slant.

mod axes;
mod contour;
mod density;
mod evidence;
mod fields;
mod plane;

use ground::belief::Belief;
use ground::kit::Spread;
use ground::texture::{Class, Composition};
use svg::node::element::{Circle, ClipPath, Path};

use crate::canvas::{Canvas, SMALL, Side, WIDTH, path};
use crate::figure::{Figure, Table};
use crate::palette::{BELIEF, INK, PAPER};
use crate::words::number;
use plane::Plane;

/// The belief as draws of the make-up with their weights, equal in length.
#[derive(Debug, Clone, Copy)]
pub struct Cloud<'a> {
    /// Draws.
    pub draws: &'a [Composition],
    /// Weight of each.
    pub weights: &'a [f64],
    /// Spreads of sand, silt and clay, where they are already worked out.
    pub spreads: Option<[Spread; 3]>,
}

impl<'a> Cloud<'a> {
    /// A cloud of weighted draws.
    #[must_use]
    pub fn new(draws: &'a [Composition], weights: &'a [f64]) -> Self {
        Self { draws, weights, spreads: None }
    }
}

/// One piece of evidence.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence<'a> {
    /// Its letter in the picture.
    pub letter: char,
    /// What it is: "the jar of 3 May".
    pub label: &'a str,
    /// What it says.
    pub says: Says,
    /// Whether it is at odds with the rest.
    pub disagrees: bool,
}

/// What a piece of evidence says, as far as a triangle can show it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Says {
    /// A make-up: drawn as a point.
    Point(Composition),
    /// A class by name: drawn as its field's edge.
    Class(Class),
}

/// How large the picture is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Size {
    /// With class names, axes, reading lines and a key.
    #[default]
    Full,
    /// A thumbnail for lists: fields, cloud and median.
    Small,
}

/// What to draw.
#[derive(Debug, Clone, Copy)]
pub struct Triangle<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// The belief, where there is one.
    pub cloud: Option<Cloud<'a>>,
    /// The evidence.
    pub evidence: &'a [Evidence<'a>],
    /// How large.
    pub size: Size,
}

/// One number of a spread.
type SpreadPart = fn(&Spread) -> f64;

/// Medians and 90 % ranges of the three shares.
struct Middle {
    sand: Spread,
    silt: Spread,
    clay: Spread,
    at: Composition,
}

impl Middle {
    fn of(cloud: &Cloud<'_>) -> Option<Self> {
        let spread = |part: fn(&Composition) -> f64| {
            let values: Vec<f64> = cloud.draws.iter().map(part).collect();
            Spread::of(&values, cloud.weights)
        };
        let [sand, silt, clay] = match cloud.spreads {
            Some(spreads) => spreads,
            None => [spread(|s| s.sand)?, spread(|s| s.silt)?, spread(|s| s.clay)?],
        };
        let at = Composition::from_parts(sand.median, silt.median, clay.median);
        [at.sand, at.silt, at.clay].iter().all(|part| part.is_finite()).then_some(Self {
            sand,
            silt,
            clay,
            at,
        })
    }
}

/// Draws the triangle.
///
/// The dark part of the cloud holds half the weight of the belief, dark and pale together 90 %;
/// both are the smallest such areas of the smoothed draws. The median point is the medians of
/// sand, silt and clay, closed to 100. Compositions that are not finite or lie outside the
/// triangle are left out.
#[must_use]
pub fn texture_triangle(triangle: &Triangle<'_>) -> Figure {
    match triangle.size {
        Size::Full => full(triangle),
        Size::Small => small(triangle),
    }
}

/// Lettering of names within the fields.
const FIELD_NAME: f64 = 10.0;
const KEY_LINE: f64 = 16.0;

fn full(triangle: &Triangle<'_>) -> Figure {
    let plane = Plane { left: 30.0, bottom: 268.0, side: 280.0 };
    let middle = triangle.cloud.as_ref().and_then(Middle::of);
    let shown: Vec<&Evidence<'_>> = triangle.evidence.iter().filter(|one| one.is_drawable()).collect();
    let cloud_lines = if middle.is_some() { 1 } else { 0 };
    let height = 318.0 + (cloud_lines + shown.len()) as f64 * KEY_LINE;
    let mut canvas = Canvas::new(triangle.id, "triangle", WIDTH, height);

    axes::draw(&mut canvas, &plane);
    if let (Some(cloud), Some(_)) = (&triangle.cloud, &middle) {
        draw_cloud(&mut canvas, &plane, cloud, 100.0);
    }
    fields::edges(&mut canvas, &plane, 1.0);
    for one in &shown {
        if let Says::Class(class) = one.says {
            fields::mark(&mut canvas, &plane, class);
        }
    }
    let mut marks = evidence::anchors(&plane, &shown);
    if let Some(middle) = &middle {
        axes::reading_lines(&mut canvas, &plane, middle.at);
        marks.push(plane.at(middle.at));
    }
    let names = fields::names(&plane, &marks);
    fields::write(&mut canvas, &names);
    evidence::draw(&mut canvas, &plane, &shown, &names, &marks);
    if let Some(middle) = &middle {
        draw_median(&mut canvas, plane.at(middle.at), 4.5);
    }

    let mut y = 326.0;
    if middle.is_some() {
        cloud_key(&mut canvas, y);
        y += KEY_LINE;
    }
    for one in &shown {
        evidence::key(&mut canvas, (8.0, y), one);
        y += KEY_LINE;
    }
    let (title, description, table) = told(middle.as_ref(), &shown);
    canvas.finish(title, description, table)
}

fn small(triangle: &Triangle<'_>) -> Figure {
    let plane = Plane { left: 8.0, bottom: 136.0, side: 144.0 };
    let middle = triangle.cloud.as_ref().and_then(Middle::of);
    let mut canvas = Canvas::new(triangle.id, "triangle", 160.0, 152.0);
    canvas.class("figure-small");
    if let (Some(cloud), Some(_)) = (&triangle.cloud, &middle) {
        draw_cloud(&mut canvas, &plane, cloud, 50.0);
    }
    fields::edges(&mut canvas, &plane, 0.6);
    if let Some(middle) = &middle {
        draw_median(&mut canvas, plane.at(middle.at), 4.0);
    }
    canvas.text((plane.left + plane.side / 2.0 + 12.0, 18.0), Side::Start, SMALL, "clay");
    canvas.text((plane.left, plane.bottom + 13.0), Side::Start, SMALL, "sand");
    canvas.text((plane.left + plane.side, plane.bottom + 13.0), Side::End, SMALL, "silt");
    let (title, description, table) = told(middle.as_ref(), &[]);
    canvas.finish(title, description, table)
}

/// The smallest areas that hold half and 90 % of the weight.
fn draw_cloud(canvas: &mut Canvas, plane: &Plane, cloud: &Cloud<'_>, finest: f64) {
    let Some(grid) = density::Grid::of(cloud, finest) else { return };
    let clip = canvas.own_id("inside");
    canvas.define(
        ClipPath::new().set("id", clip.as_str()).add(Path::new().set("d", path(&plane.corners(), true))),
    );
    for (share, opacity, dashes) in [(0.9, 0.20, "3 2"), (0.5, 0.36, "none")] {
        let data: String = contour::loops(&grid, grid.level_holding(share))
            .iter()
            .map(|ring| {
                path(
                    &ring.iter().map(|(silt, clay)| plane.at_percent(*silt, *clay)).collect::<Vec<_>>(),
                    true,
                )
            })
            .collect();
        canvas.add(
            Path::new()
                .set("d", data)
                .set("class", format!("figure-cloud figure-cloud-{}", (share * 100.0) as u32))
                .set("clip-path", format!("url(#{clip})"))
                .set("fill", BELIEF)
                .set("fill-opacity", opacity)
                .set("fill-rule", "evenodd")
                .set("stroke", BELIEF)
                .set("stroke-width", 1.2)
                .set("stroke-dasharray", dashes),
        );
    }
}

/// The median: a ring with a cross, unlike any evidence mark.
fn draw_median(canvas: &mut Canvas, at: (f64, f64), radius: f64) {
    canvas.add(
        Circle::new()
            .set("cx", crate::canvas::px(at.0))
            .set("cy", crate::canvas::px(at.1))
            .set("r", radius)
            .set("class", "figure-paper")
            .set("fill", PAPER)
            .set("stroke", INK)
            .set("stroke-width", 1.8),
    );
    canvas.line((at.0 - radius, at.1), (at.0 + radius, at.1), 1.4);
    canvas.line((at.0, at.1 - radius), (at.0, at.1 + radius), 1.4);
}

fn cloud_key(canvas: &mut Canvas, y: f64) {
    let swatch = |canvas: &mut Canvas, x: f64, opacity: f64, dashes: &str| {
        canvas.add(
            Path::new()
                .set("d", crate::canvas::rectangle(x, y - 10.0, 16.0, 11.0))
                .set("fill", BELIEF)
                .set("fill-opacity", opacity)
                .set("stroke", BELIEF)
                .set("stroke-width", 1.2)
                .set("stroke-dasharray", dashes),
        );
    };
    // The dark part lies upon the pale one, so its swatch carries both tints.
    swatch(canvas, 2.0, 0.49, "none");
    canvas.text((23.0, y), Side::Start, SMALL, "half the odds");
    swatch(canvas, 112.0, 0.20, "3 2");
    canvas.text((133.0, y), Side::Start, SMALL, "90 % of the odds");
    draw_median(canvas, (248.0, y - 4.0), 5.0);
    canvas.text((259.0, y), Side::Start, SMALL, "median");
}

fn told(middle: Option<&Middle>, evidence: &[&Evidence<'_>]) -> (String, String, Table) {
    let mut table = Table::new(["", "Sand %", "Silt %", "Clay %"]);
    let mut said = String::new();
    match middle {
        Some(Middle { sand, silt, clay, at }) => {
            let rows: [(&str, SpreadPart); 3] =
                [("Median", |s| s.median), ("90 % from", |s| s.low), ("90 % to", |s| s.high)];
            for (name, of) in rows {
                table.row([name.to_owned(), whole(of(sand)), whole(of(silt)), whole(of(clay))]);
            }
            said.push_str(&format!(
                "The middle of what is believed is {} % sand, {} % silt and {} % clay, in the field of {}. 90 % \
                 ranges: sand {} to {} %, silt {} to {} %, clay {} to {} %.",
                whole(at.sand),
                whole(at.silt),
                whole(at.clay),
                Class::of(*at).name(),
                whole(sand.low),
                whole(sand.high),
                whole(silt.low),
                whole(silt.high),
                whole(clay.low),
                whole(clay.high),
            ));
        }
        None => said.push_str("No belief about this ground is drawn."),
    }
    for one in evidence {
        let odd = if one.disagrees { ", at odds with the rest" } else { "" };
        let name = format!("{}: {}{odd}", one.letter, one.label);
        match one.says {
            Says::Point(at) => {
                table.row([name, number(at.sand), number(at.silt), number(at.clay)]);
                said.push_str(&format!(
                    " {}, {}{odd}: {} % sand, {} % silt, {} % clay.",
                    one.letter,
                    one.label,
                    whole(at.sand),
                    whole(at.silt),
                    whole(at.clay)
                ));
            }
            Says::Class(class) => {
                table.row([format!("{name}: {}", class.name()), String::new(), String::new(), String::new()]);
                said.push_str(&format!(" {}, {}{odd}: {}.", one.letter, one.label, class.name()));
            }
        }
    }
    ("Texture triangle".to_owned(), said, table)
}

fn whole(value: f64) -> String {
    format!("{value:.0}")
}

impl<'a> From<&'a Belief> for Cloud<'a> {
    fn from(belief: &'a Belief) -> Self {
        let spreads = Some([belief.sand, belief.silt, belief.clay]);
        Self { draws: &belief.draws, weights: &belief.weights, spreads }
    }
}

impl Evidence<'_> {
    fn is_drawable(&self) -> bool {
        match self.says {
            Says::Class(_) => true,
            Says::Point(at) => plane::inside(at),
        }
    }
}
