//! Tracks, ponds and moved earth.

crate::kit::method::methods![];
