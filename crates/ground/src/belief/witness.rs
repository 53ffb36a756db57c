//! One piece of evidence, translated into what it says about the make-up of the ground.

use crate::texture::Class;

/// A piece of evidence as belief uses it.
#[derive(Debug, Clone, PartialEq)]
pub struct Witness {
    /// Identity of the record it comes from, so that a page can point back.
    pub id: String,
    /// What to call it in a sentence: "the jar of 3 May".
    pub label: String,
    /// What it says.
    pub account: Account,
}

/// What a piece of evidence says.
#[derive(Debug, Clone, PartialEq)]
pub enum Account {
    /// A measured composition, as a normal (or heavier-tailed) likelihood in ilr coordinates.
    Measured {
        /// Centre, ilr coordinates.
        centre: [f64; 2],
        /// Covariance of the error that is this reading's own.
        covariance: [[f64; 2]; 2],
        /// An error it shares with other readings of the same kind on the same farm (the packing of
        /// jar layers). Repeating the test does not average it away.
        shared: Option<SharedError>,
    },
    /// A named class, with the chance of that name given each true class.
    Named {
        /// The class that was named.
        class: Class,
        /// P(this name | true class), in the order of [`Class::ALL`].
        likelihood: [f64; 12],
    },
}

/// An error shared by several readings.
#[derive(Debug, Clone, PartialEq)]
pub struct SharedError {
    /// Readings with equal names share one error.
    pub name: String,
    /// Its covariance in ilr coordinates. Its mean is already taken off the centre.
    pub covariance: [[f64; 2]; 2],
}
