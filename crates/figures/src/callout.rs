//! Labels beside a picture, each joined to its place by a leader line, none over another.

use crate::canvas::{At, Canvas, LETTER, SMALL, Side};

/// A label: a name in bold, and lines of small text below it.
#[derive(Debug, Clone)]
pub(crate) struct Callout {
    /// What it points at.
    pub(crate) at: At,
    /// The name.
    pub(crate) name: String,
    /// Further lines.
    pub(crate) more: Vec<String>,
}

const NAME_LINE: f64 = 14.0;
const MORE_LINE: f64 = 13.0;
const GAP: f64 = 6.0;

impl Callout {
    fn height(&self) -> f64 {
        let more = self.more.len() as f64;
        NAME_LINE + more * MORE_LINE
    }
}

/// Draws them right of the picture, with the text at `x`, kept between `top` and `bottom` as far
/// as they fit.
pub(crate) fn draw(canvas: &mut Canvas, mut callouts: Vec<Callout>, x: f64, top: f64, bottom: f64) {
    callouts.sort_by(|a, b| a.at.1.total_cmp(&b.at.1));
    let heights: Vec<f64> = callouts.iter().map(Callout::height).collect();
    let centres: Vec<f64> = callouts.iter().map(|callout| callout.at.1).collect();
    for (callout, y) in callouts.iter().zip(spaced(&centres, &heights, top, bottom)) {
        let middle = y + callout.height() / 2.0;
        let elbow = (x - 12.0).max(callout.at.0);
        canvas.line(callout.at, (elbow, middle), 0.8);
        canvas.line((elbow, middle), (x - 4.0, middle), 0.8);
        canvas.bold((x, y + LETTER - 1.0), Side::Start, LETTER, &callout.name);
        for (row, words) in callout.more.iter().enumerate() {
            let down = NAME_LINE + row as f64 * MORE_LINE;
            canvas.text((x, y + down + SMALL - 1.0), Side::Start, SMALL, words);
        }
    }
}

/// Tops of boxes that would like to be centred at `centres` (ascending), pushed apart.
fn spaced(centres: &[f64], heights: &[f64], top: f64, bottom: f64) -> Vec<f64> {
    let mut tops: Vec<f64> = Vec::with_capacity(centres.len());
    let mut free = top;
    for (centre, height) in centres.iter().zip(heights) {
        let y = (centre - height / 2.0).max(free);
        tops.push(y);
        free = y + height + GAP;
    }
    let mut limit = bottom;
    for (y, height) in tops.iter_mut().zip(heights).rev() {
        *y = y.min(limit - height);
        limit = *y - GAP;
    }
    // More than fits: start at the top and let the last ones run over rather than overlap.
    let mut free = top;
    for (y, height) in tops.iter_mut().zip(heights) {
        *y = y.max(free);
        free = *y + height + GAP;
    }
    tops
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_do_not_overlap_and_stay_inside_where_they_fit() {
        let tops = spaced(&[10.0, 12.0, 95.0, 96.0], &[20.0; 4], 0.0, 120.0);
        for pair in tops.windows(2) {
            assert!(pair[1] >= pair[0] + 20.0 + GAP - 1e-9, "{tops:?}");
        }
        assert!(tops[0] >= 0.0 && tops[3] <= 100.0, "{tops:?}");
    }

    #[test]
    fn labels_that_do_not_fit_still_do_not_overlap() {
        let tops = spaced(&[5.0; 4], &[20.0; 4], 0.0, 50.0);
        assert!(tops.windows(2).all(|pair| pair[1] >= pair[0] + 20.0 + GAP - 1e-9), "{tops:?}");
    }
}
