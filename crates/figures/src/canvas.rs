//! The frame every picture is drawn in: one `<svg>` with its text alternative, hatches and ink.

use std::collections::BTreeSet;

use svg::node::element::{Definitions, Description, Group, Line, Path, SVG, Text as TextElement, Title};
use svg::node::{Node, Text};

use crate::figure::{Figure, Table};
use crate::palette::{INK, PAPER, Stuff};

/// Ordinary lettering.
pub(crate) const LETTER: f64 = 12.0;
/// Small lettering: ticks, ranges.
pub(crate) const SMALL: f64 = 11.0;
/// Width every picture is drawn at.
pub(crate) const WIDTH: f64 = 340.0;

/// Width of a picture for a wide page or a sheet of paper.
pub(crate) const WIDE: f64 = 720.0;
/// Width of a picture for paper, whose lettering is read at arm's length.
pub(crate) const ON_PAPER: f64 = 480.0;

/// A point of the picture, in its own units, y downwards.
pub(crate) type At = (f64, f64);

/// Where a line of text stands against its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Start,
    Middle,
    End,
}

/// A picture in the making.
pub(crate) struct Canvas {
    id: String,
    class: String,
    size: At,
    used: BTreeSet<Stuff>,
    defs: Definitions,
    drawn: Group,
    /// Groups begun and not yet closed, the outermost first.
    around: Vec<Group>,
}

impl Canvas {
    /// `id` must be the picture's own on its page: hatches and the text alternative hang on it.
    pub(crate) fn new(id: &str, kind: &str, width: f64, height: f64) -> Self {
        Self {
            id: id_of(id, kind),
            class: format!("figure figure-{kind}"),
            size: (width, height),
            used: BTreeSet::new(),
            defs: Definitions::new(),
            drawn: Group::new(),
            around: Vec::new(),
        }
    }

    /// Sets the height, for a picture whose key is laid out last.
    pub(crate) fn tall(&mut self, height: f64) {
        self.size.1 = height;
    }

    /// What is drawn from here to [`Self::close`] goes into `group`.
    pub(crate) fn open(&mut self, group: Group) {
        self.around.push(std::mem::replace(&mut self.drawn, group));
    }

    /// Ends the innermost group.
    pub(crate) fn close(&mut self) {
        if let Some(outer) = self.around.pop() {
            let inner = std::mem::replace(&mut self.drawn, outer);
            self.drawn.append(inner);
        }
    }

    /// A further class on the `<svg>`.
    pub(crate) fn class(&mut self, class: &str) {
        self.class = format!("{} {class}", self.class);
    }

    /// An id within this picture.
    pub(crate) fn own_id(&self, name: &str) -> String {
        format!("{}-{name}", self.id)
    }

    /// The fill of `stuff`: its tint and hatch.
    pub(crate) fn fill(&mut self, stuff: Stuff) -> String {
        self.used.insert(stuff);
        format!("url(#{})", self.own_id(stuff.name()))
    }

    pub(crate) fn define(&mut self, node: impl Into<Box<dyn Node>>) {
        self.defs.append(node);
    }

    pub(crate) fn add(&mut self, node: impl Into<Box<dyn Node>>) {
        self.drawn.append(node);
    }

    pub(crate) fn line(&mut self, from: At, to: At, width: f64) {
        self.add(line(from, to, width));
    }

    pub(crate) fn dashed(&mut self, from: At, to: At, width: f64, dashes: &str) {
        self.add(line(from, to, width).set("stroke-dasharray", dashes));
    }

    /// A filled shape with an ink edge of `width` (none at 0).
    pub(crate) fn shape(&mut self, path: String, stuff: Stuff, width: f64) {
        let fill = self.fill(stuff);
        let shape = Path::new().set("d", path).set("fill", fill);
        self.add(if width > 0.0 { shape.set("stroke", INK).set("stroke-width", px(width)) } else { shape });
    }

    /// A closed shape of a plain fill with a thin ink edge.
    pub(crate) fn shape_plain(&mut self, corners: &[At], fill: &str) {
        let shape = Path::new().set("d", path(corners, true)).set("fill", fill);
        self.add(shape.set("stroke", INK).set("stroke-width", 1));
    }

    /// An open ink line.
    pub(crate) fn trace(&mut self, path: String, width: f64) {
        self.add(
            Path::new()
                .set("d", path)
                .set("fill", "none")
                .set("stroke", INK)
                .set("stroke-width", px(width))
                .set("stroke-linejoin", "round"),
        );
    }

    pub(crate) fn text(&mut self, at: At, side: Side, size: f64, words: &str) {
        self.add(text(at, side, size, words));
    }

    pub(crate) fn bold(&mut self, at: At, side: Side, size: f64, words: &str) {
        self.add(text(at, side, size, words).set("font-weight", "bold"));
    }

    /// Text over a picture, with a rim of paper so that it reads on any hatch.
    pub(crate) fn rimmed(&mut self, at: At, side: Side, size: f64, words: &str) {
        self.add(rim(text(at, side, size, words)));
    }

    /// Text on a plate of paper, for busy hatches.
    pub(crate) fn plated(&mut self, at: At, side: Side, size: f64, words: &str) {
        let wide = text_width(words, size) + 4.0;
        let left = match side {
            Side::Start => at.0 - 2.0,
            Side::Middle => at.0 - wide / 2.0,
            Side::End => at.0 + 2.0 - wide,
        };
        let plate = rectangle(left, at.1 - size * 0.85, wide, size * 1.15);
        let plate = Path::new().set("d", plate).set("fill", PAPER).set("class", "figure-paper");
        self.add(plate.set("fill-opacity", 0.86));
        self.text(at, side, size, words);
    }

    /// Closes the picture.
    pub(crate) fn finish(mut self, title: String, description: String, table: Table) -> Figure {
        while !self.around.is_empty() {
            self.close();
        }
        let (title_id, desc_id) = (self.own_id("title"), self.own_id("desc"));
        let mut defs = self.defs.clone();
        for stuff in &self.used {
            defs.append(stuff.pattern(&self.own_id(stuff.name())));
        }
        let mut svg = SVG::new()
            .set("id", self.id.as_str())
            .set("class", self.class.as_str())
            .set("viewBox", format!("0 0 {} {}", px(self.size.0), px(self.size.1)))
            .set("role", "img")
            .set("aria-labelledby", format!("{title_id} {desc_id}"))
            .set("color", "currentColor")
            .set("fill", INK)
            .add(Title::new(clean(&title)).set("id", title_id))
            .add(Description::new().set("id", desc_id).add(Text::new(clean(&description))));
        if defs.get_children().is_some_and(|children| !children.is_empty()) {
            svg = svg.add(defs);
        }
        let svg = svg.add(self.drawn).to_string();
        Figure { title, description, table, svg }
    }
}

pub(crate) fn line(from: At, to: At, width: f64) -> Line {
    Line::new()
        .set("x1", px(from.0))
        .set("y1", px(from.1))
        .set("x2", px(to.0))
        .set("y2", px(to.1))
        .set("stroke", INK)
        .set("stroke-width", px(width))
}

pub(crate) fn text(at: At, side: Side, size: f64, words: &str) -> TextElement {
    let element =
        TextElement::new(clean(words)).set("x", px(at.0)).set("y", px(at.1)).set("font-size", px(size));
    match side {
        Side::Start => element,
        Side::Middle => element.set("text-anchor", "middle"),
        Side::End => element.set("text-anchor", "end"),
    }
}

pub(crate) fn rim(element: TextElement) -> TextElement {
    element
        .set("class", "figure-rim")
        .set("stroke", PAPER)
        .set("stroke-width", 3)
        .set("stroke-linejoin", "round")
        .set("paint-order", "stroke")
}

/// Rough width of a line of text: no font is at hand, and pages choose their own.
pub(crate) fn text_width(words: &str, size: f64) -> f64 {
    words.chars().count() as f64 * size * 0.54
}

/// Two decimals: finer than any screen, and short. What no paper is large enough for counts as 0.
pub(crate) fn px(value: f64) -> f64 {
    if value.abs() < 1e12 { (value * 100.0).round() / 100.0 } else { 0.0 }
}

/// Path data through `points`, closed or open.
pub(crate) fn path(points: &[At], closed: bool) -> String {
    let mut data = String::new();
    for (at, (x, y)) in points.iter().enumerate() {
        data.push_str(if at == 0 { "M" } else { "L" });
        data.push_str(&format!("{} {}", px(*x), px(*y)));
    }
    if closed && !points.is_empty() {
        data.push('Z');
    }
    data
}

/// Path data of an upright rectangle.
pub(crate) fn rectangle(x: f64, y: f64, width: f64, height: f64) -> String {
    path(&[(x, y), (x + width, y), (x + width, y + height), (x, y + height)], true)
}

/// Letters, digits and dashes only: the id is used in `url(#...)`.
fn id_of(id: &str, kind: &str) -> String {
    let kept: String = id.chars().filter(|c| c.is_ascii_alphanumeric() || *c == '-' || *c == '_').collect();
    if kept.starts_with(|c: char| c.is_ascii_alphabetic()) { kept } else { format!("{kind}-{kept}") }
}

/// Control characters and the two non-characters have no place in XML text.
fn clean(words: &str) -> String {
    words
        .chars()
        .map(|c| if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') { ' ' } else { c })
        .collect()
}
