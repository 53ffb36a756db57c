//! From a reading to the layers of the picture, bottom up.

use ground::kit::{Bounded, Refusal};
use ground::texture::jar::{Boundary, JarReading, Marks, TimedMark, Top, layer_tops};

use crate::palette::Stuff;

/// One layer as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Layer {
    pub(super) stuff: Stuff,
    pub(super) name: &'static str,
    /// Its top as it was read.
    pub(super) top: Top,
    /// When the mark was made, for marks at known times.
    pub(super) after_s: Option<f64>,
    /// Where its bottom and top are drawn, in mm.
    pub(super) drawn: (f64, f64),
}

/// The layers of a reading, with the places where they are drawn. Those that no mark has reached
/// yet are left out of a jar that is still settling.
pub(super) fn layers(reading: &JarReading) -> Result<Vec<Layer>, Refusal> {
    let marks: &[TimedMark] = match &reading.marks {
        // A jar that has just been set down is no mistake.
        Marks::Timed { marks } if marks.is_empty() => return Ok(Vec::new()),
        Marks::Timed { marks } => marks,
        Marks::Thicknesses { .. } | Marks::Heights { .. } => &[],
    };
    let found = layer_tops(reading)?;
    let all = [
        ("sand", Stuff::Sand, found.tops.sand),
        ("silt", Stuff::Silt, found.tops.silt),
        ("clay", Stuff::Clay, found.tops.clay),
    ];
    let mut layers: Vec<Layer> = all
        .into_iter()
        .map(|(name, stuff, top)| Layer {
            stuff,
            name,
            top,
            after_s: made_after(marks, top),
            drawn: (0.0, 0.0),
        })
        .collect();
    if is_settling(reading) {
        while layers.last().is_some_and(|layer| !layer.top.is_seen()) {
            layers.pop();
        }
    }
    place(&mut layers, found.water_mm);
    Ok(layers)
}

/// The time of the mark that stands for a top.
fn made_after(marks: &[TimedMark], top: Top) -> Option<f64> {
    let is_it = |mark: &&TimedMark| match (mark.top, top) {
        (Boundary::At { mm }, _) => top.is_seen() && top.low_mm() == mm.get() && top.high_mm() == mm.get(),
        (Boundary::Between { low_mm, high_mm }, _) => {
            top.is_seen() && top.low_mm() == low_mm.get() && top.high_mm() == high_mm.get()
        }
        (Boundary::No, _) => false,
    };
    marks.iter().find(is_it).map(|mark| mark.after_s.get())
}

/// Whether the last mark was made on the first day, while silt or clay is on its way down.
pub(super) fn is_settling(reading: &JarReading) -> bool {
    match &reading.marks {
        Marks::Timed { marks } => marks.iter().all(|mark| mark.after_s.get() < FIRST_DAY_S),
        Marks::Thicknesses { .. } | Marks::Heights { .. } => false,
    }
}

/// From here on the jar test takes a mark for the top of all that settles.
const FIRST_DAY_S: f64 = 12.0 * 3600.0;

/// Gives every layer its place: what was seen stands where it was seen (a range at its middle),
/// what was not is shared out evenly between its neighbours. Crossed marks are drawn level.
fn place(layers: &mut [Layer], room_mm: Option<f64>) {
    let count = layers.len();
    let mut tops: Vec<Option<f64>> =
        layers.iter().map(|layer| layer.top.is_seen().then(|| layer.top.middle_mm())).collect();
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
    use super::*;

    fn read(marks: &str) -> Vec<Layer> {
        layers(&serde_json::from_str(&format!(r#"{{"marks":{marks},"water_height_mm":180}}"#)).unwrap())
            .unwrap()
    }

    fn drawn(layers: &[Layer]) -> Vec<(f64, f64)> {
        layers.iter().map(|layer| layer.drawn).collect()
    }

    #[test]
    fn thicknesses_stack_and_their_ranges_add() {
        let layers = read(
            r#"{"read_as":"thicknesses","sand":{"seen":"at","mm":22},
                "silt":{"seen":"between","low_mm":18,"high_mm":22},"clay":{"seen":"between","low_mm":10,"high_mm":14}}"#,
        );
        assert_eq!(layers[1].top, Top::Between { low_mm: 40.0, high_mm: 44.0 });
        assert_eq!(layers[2].top, Top::Between { low_mm: 50.0, high_mm: 58.0 });
        assert_eq!(drawn(&layers), [(0.0, 22.0), (22.0, 42.0), (42.0, 54.0)]);
    }

    #[test]
    fn a_boundary_that_was_not_seen_is_drawn_half_way() {
        let layers = read(
            r#"{"read_as":"heights","sand_top":{"seen":"at","mm":20},"silt_top":{"seen":"no"},
                "clay_top":{"seen":"at","mm":50}}"#,
        );
        assert!(!layers[1].top.is_seen());
        assert_eq!(drawn(&layers), [(0.0, 20.0), (20.0, 35.0), (35.0, 50.0)]);
    }

    #[test]
    fn nothing_seen_still_gives_layers_below_the_water() {
        let layers = read(
            r#"{"read_as":"heights","sand_top":{"seen":"no"},"silt_top":{"seen":"no"},"clay_top":{"seen":"no"}}"#,
        );
        assert_eq!(drawn(&layers), [(0.0, 20.0), (20.0, 40.0), (40.0, 60.0)]);
    }

    #[test]
    fn a_jar_on_its_first_day_shows_what_is_down() {
        assert!(read(r#"{"read_as":"timed","marks":[]}"#).is_empty());
        let minute = r#"{"after_s":60,"top":{"seen":"at","mm":24}}"#;
        let layers = read(&format!(r#"{{"read_as":"timed","marks":[{minute}]}}"#));
        assert_eq!(
            layers.iter().map(|layer| (layer.name, layer.after_s)).collect::<Vec<_>>(),
            [("sand", Some(60.0))]
        );
        let later = r#"{"after_s":172800,"top":{"seen":"between","low_mm":50,"high_mm":54}}"#;
        let layers = read(&format!(r#"{{"read_as":"timed","marks":[{later},{minute}]}}"#));
        assert_eq!(drawn(&layers), [(0.0, 24.0), (24.0, 38.0), (38.0, 52.0)]);
        assert_eq!(layers[2].after_s, Some(172_800.0));
    }

    #[test]
    fn a_contradiction_is_refused_at_its_field() {
        let crossed = r#"{"marks":{"read_as":"heights","sand_top":{"seen":"at","mm":30},
            "silt_top":{"seen":"at","mm":20},"clay_top":{"seen":"at","mm":50}}}"#;
        assert_eq!(layers(&serde_json::from_str(crossed).unwrap()).unwrap_err().field, "marks.silt_top");
    }
}
