//! The app asked as a browser or a program asks it.

mod common;
mod guards;
mod handbook;
mod openapi;
