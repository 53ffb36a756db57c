//! Materials that meet the needs of many beds at least cost, in whole bags.

crate::kit::method::methods![];
