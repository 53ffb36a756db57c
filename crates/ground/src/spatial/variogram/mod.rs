//! How unlike readings are with the distance between them: seen in pairs, put as a model, and fitted.

mod bessel;
pub mod empirical;
pub mod fit;
pub mod fit_method;
pub mod likelihood;
pub mod model;
mod search;
