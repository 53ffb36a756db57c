//! The app asked as a browser or a program asks it.

mod acidity;
mod again;
mod any_form;
mod common;
mod covers;
mod enter;
mod farm;
mod feeding;
mod forms;
mod guards;
mod handbook;
mod lab;
mod maps;
mod openapi;
mod plan;
mod posts;
mod record;
mod sampling;
mod sheets;
mod spread;
mod structure;
mod suits;
mod water;
mod water_bed;
mod work;
