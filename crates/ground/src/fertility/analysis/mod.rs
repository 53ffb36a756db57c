//! A laboratory's figures, their units and what follows from them alone.

crate::kit::method::methods![];
