//! The three sides: ticks with the slant in which they are read, names, reading lines.

use ground::texture::Composition;
use svg::node::element::Line;

use super::plane::Plane;
use crate::canvas::{At, Canvas, LETTER, SMALL, Side, line, text};
use crate::palette::INK;

/// cos 60° and sin 60°: direction of the slanting sides.
const SLANT: At = (0.5, 0.866_025_403_784_438_6);
const STUB: f64 = 6.0;

/// Ticks every 20 %, faint lines across, the name of each side with the way its numbers rise.
pub(super) fn draw(canvas: &mut Canvas, plane: &Plane) {
    for percent in [20.0, 40.0, 60.0, 80.0] {
        let rest = 100.0 - percent;
        let words = format!("{percent:.0}");
        let (clay, clay_end) = (plane.at_percent(0.0, percent), plane.at_percent(rest, percent));
        let (silt, silt_end) = (plane.at_percent(percent, rest), plane.at_percent(percent, 0.0));
        let (sand, sand_end) = (plane.at_percent(rest, 0.0), plane.at_percent(0.0, rest));
        for (from, to) in [(clay, clay_end), (silt, silt_end), (sand, sand_end)] {
            canvas.add(faint(from, to));
        }
        canvas.line(clay, (clay.0 - STUB, clay.1), 1.2);
        canvas.line(silt, (silt.0 + STUB * SLANT.0, silt.1 - STUB * SLANT.1), 1.2);
        canvas.line(sand, (sand.0 + STUB * SLANT.0, sand.1 + STUB * SLANT.1), 1.2);
        canvas.text((clay.0 - STUB - 3.0, clay.1 + 4.0), Side::End, SMALL, &words);
        canvas.text((silt.0 + 6.0, silt.1 - 5.0), Side::Start, SMALL, &words);
        canvas.text((sand.0 + 6.0, sand.1 + 16.0), Side::Middle, SMALL, &words);
    }
    let half = plane.at_percent(0.0, 50.0);
    side_name(canvas, (half.0 - 24.0, half.1 - 14.0), -60.0, "clay % \u{2192}");
    let half = plane.at_percent(50.0, 50.0);
    side_name(canvas, (half.0 + 26.0, half.1 - 15.0), 60.0, "silt % \u{2192}");
    let half = plane.at_percent(50.0, 0.0);
    side_name(canvas, (half.0, half.1 + 36.0), 0.0, "\u{2190} sand %");
}

fn side_name(canvas: &mut Canvas, at: At, turned: f64, words: &str) {
    let name = text(at, Side::Middle, LETTER, words).set("font-weight", "bold");
    canvas.add(if turned == 0.0 {
        name
    } else {
        name.set("transform", format!("rotate({turned} {} {})", at.0, at.1))
    });
}

fn faint(from: At, to: At) -> Line {
    line(from, to, 0.6).set("stroke-opacity", 0.28)
}

/// From a point to each side, along the slant in which that side is read, with its number.
pub(super) fn reading_lines(canvas: &mut Canvas, plane: &Plane, soil: Composition) {
    let from = plane.at(soil);
    let ends = [
        plane.at_percent(0.0, soil.clay),
        plane.at_percent(soil.silt, 100.0 - soil.silt),
        plane.at_percent(100.0 - soil.sand, 0.0),
    ];
    for end in ends {
        canvas.add(line(from, end, 1.1).set("stroke", INK).set("stroke-dasharray", "1.5 3"));
    }
}
