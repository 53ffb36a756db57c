//! Manures, composts and meals: nitrogen over the seasons, volumes, salts, intervals.

crate::kit::method::methods![];
