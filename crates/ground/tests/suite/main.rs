//! The tests of `ground` from outside, in one program: one link instead of one for every file.

mod belief_properties;
mod covers;
mod flow_properties;
mod flow_published;
mod irrigation_properties;
mod kriging_properties;
mod partition;
mod posts_properties;
mod texture_witnesses;
