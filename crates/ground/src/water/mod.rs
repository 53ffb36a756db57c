//! How the ground holds and passes water.
