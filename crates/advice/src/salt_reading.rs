//! A reading of salts turned into the saturation extract, with the spread of the published lines.

use book::model::seen::{Salinity, SalinityExtract};
use ground::kit::Bounded;
use ground::texture::Class;
use ground::water::salts::{ExtractRange, ExtractRatio, TextureGroup, saturation_extract_ds_m};

use crate::ranks::rank;

/// Lines of a texture from which their own range is taken (judgement); with fewer it is that of all textures.
const ENOUGH_LINES: u32 = 3;

/// The extract of a reading; where it was not said, one part soil to two of water, the commonest of garden
/// laboratories (judgement), and the doubt is told.
#[must_use]
pub fn ratio_of(extract: SalinityExtract) -> ExtractRatio {
    match extract {
        SalinityExtract::SaturatedPaste => ExtractRatio::SaturatedPaste,
        SalinityExtract::OneToOne => ExtractRatio::OneToOne,
        SalinityExtract::OneToTwo | SalinityExtract::NotStated => ExtractRatio::OneToTwo,
        SalinityExtract::OneToFive => ExtractRatio::OneToFive,
    }
}

/// EC of the saturation extract, dS/m, for each draw of the ground by its class: somewhere between the
/// lowest and the highest published line of its texture, half of them below the middle one. The same
/// reading gives the same draws.
#[must_use]
pub fn extracts(reading: Salinity, classes: impl Iterator<Item = Class>) -> Vec<f64> {
    let ranges = [TextureGroup::Coarse, TextureGroup::Medium, TextureGroup::Fine]
        .map(|group| range(reading, Some(group)));
    classes
        .enumerate()
        .map(|(draw, class)| {
            let line = ranges[TextureGroup::of(class) as usize];
            let place = rank(draw);
            if place < 0.5 {
                line.low_ds_m + 2.0 * place * (line.middle_ds_m - line.low_ds_m)
            } else {
                line.middle_ds_m + (2.0 * place - 1.0) * (line.high_ds_m - line.middle_ds_m)
            }
        })
        .collect()
}

/// The published range for a texture group. A saturated paste is read to a tenth; a reading whose extract
/// was not said may be anything from a paste to one in five.
#[must_use]
pub fn range(reading: Salinity, group: Option<TextureGroup>) -> ExtractRange {
    let ec = reading.ec_ds_m.get();
    let all = saturation_extract_ds_m(ratio_of(reading.extract), None, ec);
    let mut range = saturation_extract_ds_m(ratio_of(reading.extract), group, ec);
    if range.lines < ENOUGH_LINES {
        // One line of a texture says nothing of how far fields stray from it.
        range.low_ds_m = range.low_ds_m.min(all.low_ds_m);
        range.high_ds_m = range.high_ds_m.max(all.high_ds_m);
    }
    match reading.extract {
        SalinityExtract::SaturatedPaste => {
            (range.low_ds_m, range.high_ds_m) = (0.9 * ec, 1.1 * ec);
        }
        SalinityExtract::NotStated => {
            range.low_ds_m = (0.9 * ec).min(range.middle_ds_m);
            range.high_ds_m = saturation_extract_ds_m(ExtractRatio::OneToFive, group, ec).high_ds_m;
        }
        _ => {}
    }
    range
}
