//! What crops need, what is credited, what a harvest carries away.

crate::kit::method::methods![];
