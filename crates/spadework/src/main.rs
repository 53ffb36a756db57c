//! Spadework.
fn main() {}
