//! The boxes that a field sheet has at each point, by what the soil is wanted for.

use book::model::SamplingPurpose;

/// Boxes to fill at each point.
pub(super) fn boxes(purpose: SamplingPurpose) -> Vec<String> {
    let list: &[&str] = match purpose {
        SamplingPurpose::Structure => &["Hard from", "Moist?"],
        SamplingPurpose::Texture => &["Taken", "Feel", "Stones"],
        _ => &["Taken", "Moist?"],
    };
    list.iter().map(|what| (*what).to_owned()).collect()
}
