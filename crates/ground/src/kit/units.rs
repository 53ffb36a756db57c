//! Measures as people write them.
