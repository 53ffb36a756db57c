//! Checks of the bed water.
