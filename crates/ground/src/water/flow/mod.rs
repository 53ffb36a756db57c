//! Water moving down a profile: the Richards equation in one dimension.
