//! The jar test: shaken soil settles into layers, read with a ruler.

pub mod reading;

pub use reading::{Boundary, Clarity, Dispersant, JarReading, JarShape, Marks, TimedMark, Width};
