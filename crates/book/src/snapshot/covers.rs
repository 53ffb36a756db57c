//! Covers of beds.

use super::Snapshot;
use crate::held::Held;
use crate::model::{CoverCrop, EntryId};

impl Snapshot {
    /// The cover of that identity.
    #[must_use]
    pub fn cover(&self, id: EntryId) -> Option<&Held<CoverCrop>> {
        self.covers.iter().find(|cover| cover.id == id)
    }

    /// Covers of a bed, earliest first.
    #[must_use]
    pub fn covers_of(&self, bed: EntryId) -> Vec<&Held<CoverCrop>> {
        let mut covers: Vec<_> = self.covers.iter().filter(|cover| cover.body.bed == bed).collect();
        covers.sort_by_key(|cover| cover.body.sown_on);
        covers
    }
}
