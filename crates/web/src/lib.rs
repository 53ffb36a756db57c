//! The local web app: pages of HTML that work without script, each with a JSON twin under `/api`.
//!
//! A page is one Rust file in [`pages`] and one template in `templates/`; `README.md` shows how to
//! add one. Everything a page computes comes from the crates below this one.

pub mod api;
pub mod app;
pub mod ask;
pub mod assets;
pub mod crops;
pub mod desk;
mod dispatch;
pub mod form;
pub mod guards;
pub mod jars;
pub mod pages;
pub mod parts;
mod plans;
pub mod problem;
pub mod reports;
pub mod route;
mod serve;
pub mod shell;
pub mod typed;
pub mod typed_day;
mod waters;
pub mod when;
mod who;
pub mod words;

pub use app::{App, Options};
pub use dispatch::router;
pub use serve::{ServeError, serve};
