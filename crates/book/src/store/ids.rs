//! Where new identities come from.

use sha2::{Digest, Sha256};
use uuid::Uuid;

use crate::held::Stamp;
use crate::model::EntryId;

/// The source of the part of an identity that is not time.
#[derive(Debug)]
pub(super) enum Ids {
    /// Chance: no two records of any two farms are alike.
    Random,
    /// A seed and a counter: the same script makes the same book.
    Seeded { seed: u64, made: u64 },
}

impl Ids {
    pub(super) fn next(&mut self, stamp: &Stamp) -> EntryId {
        let mut bits = [0; 10];
        match self {
            Self::Random => bits.copy_from_slice(&Uuid::now_v7().as_bytes()[6..]),
            Self::Seeded { seed, made } => {
                *made += 1;
                let hash = Sha256::new()
                    .chain_update(seed.to_le_bytes())
                    .chain_update(made.to_le_bytes())
                    .finalize();
                bits.copy_from_slice(&hash[..10]);
            }
        }
        EntryId::from_parts(u64::try_from(stamp.at.as_millisecond()).unwrap_or(0), &bits)
    }
}
