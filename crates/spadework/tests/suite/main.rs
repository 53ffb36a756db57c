//! The tests of `spadework` from outside, in one program: one link instead of one for every file.

mod acidity;
mod again;
mod any_text;
mod bed_water;
mod common;
mod covers;
mod farm_work;
mod feeding;
mod field_sheets;
mod lab_records;
mod maps;
mod one_shot;
mod plan;
mod plot_water;
mod posts;
mod print;
mod records;
mod refusals;
mod shelf;
mod structure;
mod suits;
mod tidy;
mod water_records;
