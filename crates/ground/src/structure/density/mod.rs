//! How dense the ground is: cores, the air left in it, and what other authors say is too dense.

pub mod aeration;
pub mod core;
pub mod critical;
pub mod packing;
