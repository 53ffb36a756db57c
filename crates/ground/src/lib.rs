//! The science of the ground: pure types and functions.
//!
//! Nothing here reads a file, a clock or the network, and nothing is global. Each published
//! computation is one method in one file, registered once in [`registry`]; a topic folder holds
//! the methods of one trade topic.
//!
//! * [`kit`]: what every method is made of (bounded quantities, refusals, working, sources).
//! * [`texture`]: sand, silt and clay, and the tests that find them.
//! * [`belief`]: what a plot is made of, as a weighted ensemble in log-ratio space.
//! * [`structure`]: crusts, erosion, density, the probe and the spade, working, organic matter, loosening.
//! * [`water`]: how the ground holds and passes water, and what salts in it do.
//! * [`climate`]: weather, reference evapotranspiration, and what crops drink.
//! * [`irrigation`]: the root zone day by day, drip and sprinklers, and when to water.
//! * [`fertility`]: laboratory figures, acidity, nutrients, and what to spread.
//! * [`covers`]: cover crops, what they need, which to choose, and what they leave.
//! * [`posts`]: how deep a post must stand, and what pulls it out.
//! * [`earthworks`]: tracks, ponds and moved earth.
//! * [`siting`]: what crops ask of a place, and what a place holds against them.
//! * [`spatial`]: the farm from above: areas, where to look, and what varies from place to place.
//! * [`trend`]: looking again over the years: trends, credible differences, what no longer compares.

pub mod belief;
pub mod climate;
pub mod covers;
pub mod earthworks;
pub mod fertility;
pub mod irrigation;
pub mod kit;
pub mod posts;
pub mod registry;
pub mod siting;
pub mod spatial;
pub mod structure;
pub mod texture;
pub mod trend;
pub mod water;
