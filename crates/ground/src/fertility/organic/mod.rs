//! Manures, composts and meals: nitrogen over the seasons, volumes, salts, intervals.

pub mod amendment;
pub mod compost;
pub mod interval;
pub mod manure;

crate::kit::method::methods![
    manure::ManureNitrogen,
    amendment::AmendmentNitrogen,
    compost::CompostDressing,
    compost::OrganicMatterBuildUp,
    interval::RawManureInterval,
];
