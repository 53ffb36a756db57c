//! A laboratory's figures, their units and what follows from them alone.

pub mod report;

crate::kit::method::methods![];
