//! Generators of valid quantities, from the quantities' own bounds.

use proptest::prelude::*;

use super::quantity::Bounded;

/// Any accepted value of quantity `Q`.
pub fn any_of<Q: Bounded + std::fmt::Debug>() -> impl Strategy<Value = Q> {
    (Q::MIN..=Q::MAX).prop_map(|value| match Q::new(value) {
        Ok(quantity) => quantity,
        Err(error) => unreachable!("{error}"),
    })
}
