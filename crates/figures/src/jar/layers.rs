//! From a reading to the layers of the picture, bottom up.

use ground::kit::Bounded;
use ground::texture::jar::{Boundary, Marks, TimedMark};

use crate::palette::Stuff;

/// Top of a layer above the jar floor, in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Top {
    /// Seen sharply.
    At(f64),
    /// Somewhere between.
    Between(f64, f64),
    /// Not seen.
    Unseen,
}

impl Top {
    fn of(boundary: Boundary) -> Self {
        match boundary {
            Boundary::At { mm } => Self::At(mm.get()),
            Boundary::Between { low_mm, high_mm } => {
                let (low, high) = (low_mm.get(), high_mm.get());
                Self::Between(low.min(high), low.max(high))
            }
            Boundary::No => Self::Unseen,
        }
    }

    /// Lowest and highest place it may have.
    fn range(self) -> Option<(f64, f64)> {
        match self {
            Self::At(mm) => Some((mm, mm)),
            Self::Between(low, high) => Some((low, high)),
            Self::Unseen => None,
        }
    }

    fn from_range(low: f64, high: f64) -> Self {
        if high - low > 1e-9 { Self::Between(low, high) } else { Self::At(low) }
    }
}

/// One layer as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Layer {
    pub(super) stuff: Stuff,
    /// "Sand", "Sand and silt".
    pub(super) name: String,
    /// Its top as it was read.
    pub(super) top: Top,
    /// When the mark was made, for marks at known times.
    pub(super) after_s: Option<f64>,
    /// Where its bottom and top are drawn, in mm.
    pub(super) drawn: (f64, f64),
}

impl Layer {
    fn new(stuff: Stuff, name: impl Into<String>, top: Top, after_s: Option<f64>) -> Self {
        Self { stuff, name: name.into(), top, after_s, drawn: (0.0, 0.0) }
    }
}

/// A mark within ten minutes stands for sand, one within twelve hours for silt, a later one for
/// clay (common practice, no source): it only names the layer in the picture. What a mark really
/// separates is worked out with the jar test.
const SAND_WITHIN_S: f64 = 600.0;
const SILT_WITHIN_S: f64 = 43_200.0;
const GRAINS: [(&str, Stuff); 3] = [("sand", Stuff::Sand), ("silt", Stuff::Silt), ("clay", Stuff::Clay)];

/// The layers of a reading, with the places where they are drawn. `room_mm` is where soil may
/// reach at most: the water surface, if known.
pub(super) fn layers(marks: &Marks, room_mm: Option<f64>) -> Vec<Layer> {
    let mut layers = match marks {
        Marks::Thicknesses { sand, silt, clay } => {
            let mut below = Some((0.0, 0.0));
            let tops = [sand, silt, clay].map(|thickness| {
                below = match (below, Top::of(*thickness).range()) {
                    (Some((low, high)), Some((least, most))) => Some((low + least, high + most)),
                    _ => None,
                };
                below.map_or(Top::Unseen, |(low, high)| Top::from_range(low, high))
            });
            plain(tops)
        }
        Marks::Heights { sand_top, silt_top, clay_top } => {
            plain([*sand_top, *silt_top, *clay_top].map(Top::of))
        }
        Marks::Timed { marks } => timed(marks),
    };
    place(&mut layers, room_mm);
    layers
}

fn plain(tops: [Top; 3]) -> Vec<Layer> {
    GRAINS.iter().zip(tops).map(|((name, stuff), top)| Layer::new(*stuff, *name, top, None)).collect()
}

fn timed(marks: &[TimedMark]) -> Vec<Layer> {
    let mut marks: Vec<(f64, Top)> =
        marks.iter().map(|mark| (mark.after_s.get(), Top::of(mark.top))).collect();
    marks.sort_by(|a, b| a.0.total_cmp(&b.0));
    // How many of sand, silt and clay lie below the last mark.
    let mut down = 0;
    marks
        .into_iter()
        .map(|(after, top)| {
            let grain = if after <= SAND_WITHIN_S {
                1
            } else if after <= SILT_WITHIN_S {
                2
            } else {
                3
            };
            let from = down.min(grain - 1);
            down = grain;
            let names: Vec<String> = GRAINS[from..grain].iter().map(|(name, _)| (*name).to_owned()).collect();
            let stuff = if names.len() == 1 { GRAINS[from].1 } else { Stuff::Undivided };
            Layer::new(stuff, crate::words::list(&names), top, Some(after))
        })
        .collect()
}

/// Gives every layer its place: what was seen stands where it was seen (a range at its middle),
/// what was not is shared out evenly between its neighbours. Crossed marks are drawn level.
fn place(layers: &mut [Layer], room_mm: Option<f64>) {
    let count = layers.len();
    let mut tops: Vec<Option<f64>> =
        layers.iter().map(|layer| layer.top.range().map(|(low, high)| f64::midpoint(low, high))).collect();
    let seen = tops.iter().flatten().copied().fold(0.0, f64::max);
    if tops.last().is_some_and(Option::is_none) {
        // The top of all was not seen: a third of the jar, or a little above what was.
        let guess = if seen > 0.0 { seen * 1.4 } else { room_mm.map_or(45.0, |room| room / 3.0) };
        tops[count - 1] = Some(room_mm.map_or(guess, |room| guess.min(room.max(seen))));
    }
    let mut bottom = 0.0_f64;
    for at in 0..count {
        let top = tops[at].unwrap_or_else(|| {
            let (steps, next) = (at..count)
                .find_map(|ahead| tops[ahead].map(|top| (ahead - at + 1, top)))
                .unwrap_or((1, bottom));
            bottom + (next - bottom).max(0.0) / steps as f64
        });
        let top = top.max(bottom);
        layers[at].drawn = (bottom, top);
        bottom = top;
    }
}

#[cfg(test)]
mod tests {
    use ground::texture::jar::reading::{JarHeight, SettledFor};

    use super::*;

    fn at(mm: f64) -> Boundary {
        Boundary::At { mm: JarHeight::literal(mm) }
    }

    fn between(low: f64, high: f64) -> Boundary {
        Boundary::Between { low_mm: JarHeight::literal(low), high_mm: JarHeight::literal(high) }
    }

    fn drawn(layers: &[Layer]) -> Vec<(f64, f64)> {
        layers.iter().map(|layer| layer.drawn).collect()
    }

    #[test]
    fn thicknesses_stack_and_their_ranges_add() {
        let marks =
            Marks::Thicknesses { sand: at(22.0), silt: between(18.0, 22.0), clay: between(10.0, 14.0) };
        let layers = layers(&marks, None);
        assert_eq!(layers[1].top, Top::Between(40.0, 44.0));
        assert_eq!(layers[2].top, Top::Between(50.0, 58.0));
        assert_eq!(drawn(&layers), [(0.0, 22.0), (22.0, 42.0), (42.0, 54.0)]);
    }

    #[test]
    fn a_boundary_that_was_not_seen_is_drawn_half_way() {
        let marks = Marks::Heights { sand_top: at(20.0), silt_top: Boundary::No, clay_top: at(50.0) };
        let layers = layers(&marks, None);
        assert_eq!(layers[1].top, Top::Unseen);
        assert_eq!(drawn(&layers), [(0.0, 20.0), (20.0, 35.0), (35.0, 50.0)]);
    }

    #[test]
    fn nothing_seen_still_gives_layers_below_the_water() {
        let marks = Marks::Heights { sand_top: Boundary::No, silt_top: Boundary::No, clay_top: Boundary::No };
        assert_eq!(drawn(&layers(&marks, Some(90.0))), [(0.0, 10.0), (10.0, 20.0), (20.0, 30.0)]);
    }

    #[test]
    fn a_late_first_mark_leaves_sand_and_silt_undivided() {
        let mark = |after, top| TimedMark { after_s: SettledFor::literal(after), top: at(top) };
        let marks = Marks::Timed { marks: vec![mark(86_400.0, 50.0), mark(7_200.0, 40.0)] };
        let layers = layers(&marks, None);
        assert_eq!((layers[0].stuff, layers[0].name.as_str()), (Stuff::Undivided, "sand and silt"));
        assert_eq!((layers[1].stuff, layers[1].name.as_str()), (Stuff::Clay, "clay"));
        assert!(super::layers(&Marks::Timed { marks: Vec::new() }, None).is_empty());
    }

    #[test]
    fn crossed_marks_are_drawn_level() {
        let marks = Marks::Heights { sand_top: at(30.0), silt_top: at(20.0), clay_top: at(50.0) };
        assert_eq!(drawn(&layers(&marks, None)), [(0.0, 30.0), (30.0, 30.0), (30.0, 50.0)]);
    }
}
