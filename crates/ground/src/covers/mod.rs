//! Cover crops, what they need and what they leave.

pub mod catalogue;
pub mod choice;
pub mod choice_method;
pub mod expected;
pub mod gap;
pub mod ground;
pub mod kinds;
pub mod mix;
pub mod nitrogen;
pub mod place;
pub mod reasons;
pub mod residues;
pub mod species;
pub mod species_method;
pub mod stand;
pub mod window_method;

crate::kit::method::methods![
    species_method::CoverCrop,
    window_method::CoverWindow,
    choice_method::CoverChoice,
    mix::CoverMix,
    stand::CoverStand,
    nitrogen::CoverNitrogen,
    residues::ResidueCarbonNitrogen,
];
