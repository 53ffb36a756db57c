//! What never changes while the program runs, worked out once: each method's worked example and its
//! published cases.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// Values by method name, each computed at the first asking.
pub(super) struct Once<T>(Mutex<BTreeMap<&'static str, T>>);

impl<T: Clone> Once<T> {
    pub(super) const fn new() -> Self {
        Self(Mutex::new(BTreeMap::new()))
    }

    /// The value kept for `name`. Two first askers may both compute it; they find the same.
    pub(super) fn of(&self, name: &'static str, compute: impl FnOnce() -> T) -> T {
        let lock = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let found = lock().get(name).cloned();
        found.unwrap_or_else(|| {
            let made = compute();
            lock().insert(name, made.clone());
            made
        })
    }
}
