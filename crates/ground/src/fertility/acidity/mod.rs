//! Lime requirement, liming materials, sulfur, gypsum.

crate::kit::method::methods![];
