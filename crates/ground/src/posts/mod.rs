//! How deep a post must stand, and what pulls it out.

crate::kit::method::methods![];
