//! Tracks, ponds and moved earth.

pub mod excavation;
pub mod pond_lining;
pub mod track_gravel;
pub mod trench;
pub mod volume;

crate::kit::method::methods![
    volume::EarthVolumes,
    excavation::ExcavationVolume,
    track_gravel::TrackGravel,
    pond_lining::PondLining,
    trench::TrenchSlope,
];
