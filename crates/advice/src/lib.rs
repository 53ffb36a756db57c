//! From the book and the science to findings and decisions.

pub mod demo;
pub mod facts;
pub mod finding;
pub mod practice;
pub mod rule;
pub mod rules;
pub mod settle;
pub mod words;
