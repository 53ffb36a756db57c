//! The root zone day by day, drip and sprinklers, and when to water.
