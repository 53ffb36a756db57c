//! The tests of `advice` from outside, in one program: one link instead of one for every file.

mod acidity;
mod again;
mod again_alike;
mod again_told;
mod covers;
mod demo;
mod farm_drawing;
mod farm_plan;
mod feeding;
mod lab;
mod maps;
mod plan;
mod plot_water;
mod posts;
mod reports;
mod results;
mod rules;
mod sampling_places;
mod sampling_rounds;
mod structure;
mod watering;
mod work;
mod yard;
mod zones;
