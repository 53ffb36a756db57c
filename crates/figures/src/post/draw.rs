//! The picture itself.

use svg::node::element::Path;

use super::{Load, Look, PostLayer, PostSection, between, force};
use crate::callout::{self, Callout};
use crate::canvas::{At, Canvas, LETTER, SMALL, Side, WIDTH, path, rectangle};
use crate::chart::{arrow, dimension};
use crate::measures::Shown;
use crate::palette::{INK, PAPER, Stuff};
use crate::words::wrapped;

const LEFT: f64 = 6.0;
const RIGHT: f64 = 204.0;
const NAMES: f64 = 222.0;
const TOP: f64 = 46.0;
const TALL: f64 = 270.0;
const POST_AT: f64 = 96.0;
/// Ground drawn below the foot, as a share of the depth.
const BELOW: f64 = 0.35;
/// A post is drawn at most this much higher than it is deep.
const SHOWN_ABOVE: f64 = 1.0;

/// Places down the picture, one scale for depths and widths.
struct Frame {
    per_cm: f64,
    surface: f64,
    foot: f64,
    bottom: f64,
    /// Top of the post as drawn, and whether it was cut short.
    head: f64,
    cut: bool,
}

impl Frame {
    fn of(section: &PostSection<'_>) -> Self {
        let most = section.depth_cm * SHOWN_ABOVE;
        let above = section.above_cm.min(most);
        let widest = section
            .collar
            .map_or(section.post_cm, |collar| collar.bell_cm.unwrap_or(collar.diameter_cm))
            .max(section.post_cm);
        let down = section.depth_cm * (1.0 + BELOW);
        // A wide, shallow block must still fit between the edges.
        let per_cm = (TALL / (above + down)).min((RIGHT - LEFT - 60.0) / widest);
        let surface = TOP + above * per_cm;
        Self {
            per_cm,
            surface,
            foot: surface + section.depth_cm * per_cm,
            bottom: surface + down * per_cm,
            head: TOP,
            cut: section.above_cm > most,
        }
    }

    fn at(&self, depth_cm: f64) -> f64 {
        (self.surface + depth_cm.max(0.0) * self.per_cm).min(self.bottom)
    }
}

pub(super) fn draw(section: &PostSection<'_>, layers: &[PostLayer<'_>], loads: &[Load]) -> Canvas {
    let frame = Frame::of(section);
    let mut canvas = Canvas::new(section.id, "post", WIDTH, frame.bottom + 24.0);
    let mut labels = ground(&mut canvas, section, layers, &frame);
    concrete(&mut canvas, section, &frame);
    post(&mut canvas, section, &frame);
    labels.extend(marks(&mut canvas, section, &frame));
    sizes(&mut canvas, section, &frame);
    for load in loads {
        arrow_of(&mut canvas, section, *load, &frame);
    }
    callout::draw(&mut canvas, labels, NAMES, frame.surface - 8.0, frame.bottom + 10.0);
    canvas.text((LEFT, frame.bottom + 16.0), Side::Start, SMALL, "depths and widths to one scale");
    canvas
}

fn stuff(look: Look) -> Stuff {
    match look {
        Look::Sandy => Stuff::Sand,
        Look::Silty => Stuff::Silt,
        Look::Clayey => Stuff::Clay,
        Look::Rock => Stuff::Tight,
        Look::NotCounted => Stuff::Doubt,
    }
}

fn ground(
    canvas: &mut Canvas,
    section: &PostSection<'_>,
    layers: &[PostLayer<'_>],
    frame: &Frame,
) -> Vec<Callout> {
    canvas.shape(
        rectangle(LEFT, frame.surface, RIGHT - LEFT, frame.bottom - frame.surface),
        Stuff::Ground,
        0.0,
    );
    let mut labels = Vec::new();
    for layer in layers {
        let (top, bottom) = (frame.at(layer.top_cm), frame.at(layer.bottom_cm));
        if bottom <= top {
            continue;
        }
        canvas.shape(rectangle(LEFT, top, RIGHT - LEFT, bottom - top), stuff(layer.look), 0.0);
        canvas.line((LEFT, bottom), (RIGHT, bottom), 1.2);
        let mut lines = wrapped(layer.name, WIDTH - NAMES, LETTER, 2).into_iter();
        let name = lines.next().unwrap_or_else(|| "layer".to_owned());
        let mut more: Vec<String> = lines.collect();
        more.push(between(section, layer));
        if layer.look == Look::NotCounted {
            more.push("not counted".to_owned());
        }
        labels.push(Callout { at: (RIGHT, f64::midpoint(top, bottom)), name, more });
    }
    canvas.line((LEFT, frame.surface), (RIGHT, frame.surface), 2.4);
    labels
}

/// Concrete: paper with an ink edge, so that it stands out of every hatch.
fn concrete(canvas: &mut Canvas, section: &PostSection<'_>, frame: &Frame) {
    let Some(collar) = section.collar else { return };
    let half = collar.diameter_cm * frame.per_cm / 2.0;
    let bell = collar.bell_cm.map_or(half, |bell| bell * frame.per_cm / 2.0);
    let flare = (frame.foot - (bell - half) * 1.7).max(frame.surface);
    let outline: Vec<At> = vec![
        (POST_AT - half, frame.surface),
        (POST_AT - half, flare),
        (POST_AT - bell, frame.foot),
        (POST_AT + bell, frame.foot),
        (POST_AT + half, flare),
        (POST_AT + half, frame.surface),
    ];
    let shape = Path::new().set("d", path(&outline, true)).set("fill", PAPER).set("class", "figure-paper");
    canvas.add(shape.set("stroke", INK).set("stroke-width", 1.6));
    if half * 2.0 > section.post_cm * frame.per_cm + 8.0 {
        // Specks for the stones in it.
        canvas.shape(path(&outline, true), Stuff::Cloud, 0.0);
    }
}

fn post(canvas: &mut Canvas, section: &PostSection<'_>, frame: &Frame) {
    let half = (section.post_cm * frame.per_cm / 2.0).max(1.6);
    let body = rectangle(POST_AT - half, frame.head, 2.0 * half, frame.foot - frame.head);
    canvas.add(Path::new().set("d", body.clone()).set("fill", PAPER).set("class", "figure-paper"));
    canvas.shape(body, Stuff::Unusable, 1.6);
    if frame.cut {
        let at = f64::midpoint(frame.head, frame.surface);
        let gap = rectangle(POST_AT - half - 2.0, at - 3.0, 2.0 * half + 4.0, 6.0);
        canvas.add(Path::new().set("d", gap).set("fill", PAPER).set("class", "figure-paper"));
        for y in [at - 3.0, at + 3.0] {
            canvas.line((POST_AT - half - 5.0, y + 2.0), (POST_AT + half + 5.0, y - 2.0), 1.2);
        }
    }
}

fn marks(canvas: &mut Canvas, section: &PostSection<'_>, frame: &Frame) -> Vec<Callout> {
    let depth = Shown::depth(section.system);
    let mut labels = Vec::new();
    for (at, name) in section.marks() {
        let mut more = vec![depth.say(at)];
        let y = frame.at(at);
        if frame.surface + at * frame.per_cm > frame.bottom {
            more.push("below the picture".to_owned());
        } else if name == "water table" {
            canvas.line((LEFT, y), (RIGHT, y), 2.4);
            let tip = (LEFT + 12.0, y - 1.0);
            let sign = path(&[(tip.0 - 6.0, tip.1 - 9.0), (tip.0 + 6.0, tip.1 - 9.0), tip], true);
            canvas.shape(sign, Stuff::Water, 1.4);
        } else {
            canvas.dashed((LEFT, y), (RIGHT, y), 2.0, if name == "frost depth" { "2 3" } else { "8 4" });
        }
        labels.push(Callout { at: (RIGHT, y), name: name.to_owned(), more });
    }
    labels
}

fn sizes(canvas: &mut Canvas, section: &PostSection<'_>, frame: &Frame) {
    let depth = Shown::depth(section.system);
    let widest =
        section.collar.map_or(section.post_cm, |collar| collar.bell_cm.unwrap_or(collar.diameter_cm));
    let x = (POST_AT + widest * frame.per_cm / 2.0 + 14.0).min(RIGHT - 40.0);
    dimension(canvas, (x, frame.surface), (x, frame.foot));
    canvas.line((POST_AT, frame.foot), (x + 5.0, frame.foot), 0.7);
    let words = depth.say(section.depth_cm);
    canvas.plated((x + 5.0, f64::midpoint(frame.surface, frame.foot) + 4.0), Side::Start, LETTER, &words);
    if let Some(collar) = section.collar {
        let words = depth.say(collar.bell_cm.unwrap_or(collar.diameter_cm));
        let half = collar.bell_cm.unwrap_or(collar.diameter_cm) * frame.per_cm / 2.0;
        let y = frame.foot + 9.0;
        dimension(canvas, (POST_AT - half, y), (POST_AT + half, y));
        canvas.plated((POST_AT, y + 15.0), Side::Middle, LETTER, &words);
    }
    if frame.surface - frame.head > 30.0 {
        // Clear of what is written beside an arrow at the head.
        let x = POST_AT + 106.0;
        dimension(canvas, (x, frame.surface), (x, frame.head));
        let words = depth.say(section.above_cm);
        canvas.plated((x + 5.0, f64::midpoint(frame.surface, frame.head) + 4.0), Side::Start, LETTER, &words);
    }
}

fn arrow_of(canvas: &mut Canvas, section: &PostSection<'_>, load: Load, frame: &Frame) {
    let half = (section.post_cm * frame.per_cm / 2.0).max(1.6);
    let words = force(load.kn(), section.system);
    match load {
        Load::Sideways { height_cm, .. } => {
            let y = (frame.surface - height_cm * frame.per_cm).max(frame.head);
            arrow(canvas, (LEFT + 18.0, y), (POST_AT - half, y), 2.6, 10.0);
            let told = format!("{words} at {}", Shown::depth(section.system).say(height_cm));
            // Above the arrow, unless that would run into the edge of the picture.
            let at = if y > 24.0 { y - 6.0 } else { y + 16.0 };
            canvas.rimmed((LEFT, at), Side::Start, LETTER, &told);
        }
        Load::Up { .. } => {
            arrow(canvas, (POST_AT, frame.head), (POST_AT, frame.head - 30.0), 2.6, 10.0);
            canvas.rimmed((POST_AT + 8.0, frame.head - 22.0), Side::Start, LETTER, &format!("{words} up"));
        }
        Load::Down { .. } => {
            let x = POST_AT + half + 14.0;
            arrow(canvas, (x, frame.head - 12.0), (x, frame.head + 14.0), 2.6, 10.0);
            canvas.rimmed((x + 8.0, frame.head + 6.0), Side::Start, LETTER, &format!("{words} down"));
        }
    }
}
