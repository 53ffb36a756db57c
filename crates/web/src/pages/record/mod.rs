//! Recording what was seen: one way through for each kind of evidence.

mod about;
mod building_ground;
mod changed;
mod choose;
mod cores;
pub(crate) mod correct;
mod feel;
mod flow;
mod gravel;
mod hydrometer;
mod intake;
mod jar;
mod kinds;
mod kitchen_scale;
mod lab_report;
mod laboratory;
mod layers;
mod look;
pub(crate) mod look_soil;
mod moisture;
mod organic_matter;
mod packing;
mod percolation;
mod probe;
mod rings;
mod salinity;
mod signs;
mod slake;
mod spade;
mod working;

pub(crate) use changed::{Changed, changed};

use crate::route::{Route, Verb};
use flow::{Flow, preview, save, show};

/// Addresses of the forms. Corrections are at `/records/{id}/correct`.
pub const ROUTES: &[Route] = &[
    Route::page("/record", "Jars still settling, and the plots to record on", choose::plots),
    Route::page("/plots/{plot}/record", "What can be recorded on a plot", choose::kinds),
    Route::page(
        "/plots/{plot}/record/timed-jar",
        "The form of a jar that is being shaken now",
        show::<jar::Timed>,
    ),
    Route::save(
        "/plots/{plot}/record/timed-jar",
        "Starts a jar whose marks are made as it settles",
        <jar::Timed as Flow>::FIELDS,
        save::<jar::Timed>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/timed-jar/preview",
        "When the marks of such a jar would be due",
        preview::<jar::Timed>,
    ),
    Route::page("/plots/{plot}/record/jar", "The form of a jar that has settled", show::<jar::Settled>),
    Route::save(
        "/plots/{plot}/record/jar",
        "Records a jar that has settled",
        <jar::Settled as Flow>::FIELDS,
        save::<jar::Settled>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/jar/preview",
        "What such a jar would say, without storing it",
        preview::<jar::Settled>,
    ),
    Route::page("/plots/{plot}/record/feel", "The feel test, one question a page", feel::show),
    Route::save(
        "/plots/{plot}/record/feel",
        "Records a feel test",
        <feel::Feel as Flow>::FIELDS,
        save::<feel::Feel>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/feel/preview",
        "What such a feel test would say, without storing it",
        preview::<feel::Feel>,
    ),
    Route::page(
        "/plots/{plot}/record/kitchen-scale",
        "The form of a sieve and a kitchen scale",
        show::<kitchen_scale::KitchenScale>,
    ),
    Route::save(
        "/plots/{plot}/record/kitchen-scale",
        "Records masses sieved, settled and weighed",
        <kitchen_scale::KitchenScale as Flow>::FIELDS,
        save::<kitchen_scale::KitchenScale>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/kitchen-scale/preview",
        "What such masses would say, without storing them",
        preview::<kitchen_scale::KitchenScale>,
    ),
    Route::page(
        "/plots/{plot}/record/hydrometer",
        "The form of two hydrometer readings",
        show::<hydrometer::Hydrometer>,
    ),
    Route::save(
        "/plots/{plot}/record/hydrometer",
        "Records two hydrometer readings",
        <hydrometer::Hydrometer as Flow>::FIELDS,
        save::<hydrometer::Hydrometer>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/hydrometer/preview",
        "What such readings would say, without storing them",
        preview::<hydrometer::Hydrometer>,
    ),
    Route::page(
        "/plots/{plot}/record/laboratory",
        "The form of a laboratory's sand, silt and clay",
        show::<laboratory::Laboratory>,
    ),
    Route::save(
        "/plots/{plot}/record/laboratory",
        "Records a laboratory's sand, silt and clay",
        <laboratory::Laboratory as Flow>::FIELDS,
        save::<laboratory::Laboratory>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/laboratory/preview",
        "What such a result would say, without storing it",
        preview::<laboratory::Laboratory>,
    ),
    Route::page(
        "/plots/{plot}/record/organic-matter",
        "The form of organic matter",
        show::<organic_matter::Organic>,
    ),
    Route::save(
        "/plots/{plot}/record/organic-matter",
        "Records organic matter",
        <organic_matter::Organic as Flow>::FIELDS,
        save::<organic_matter::Organic>,
    ),
    Route::page("/plots/{plot}/record/gravel", "The form of gravel and stones", show::<gravel::Stones>),
    Route::save(
        "/plots/{plot}/record/gravel",
        "Records gravel and stones",
        <gravel::Stones as Flow>::FIELDS,
        save::<gravel::Stones>,
    ),
    Route::page("/plots/{plot}/record/packing", "The form of packing", show::<packing::Packed>),
    Route::save(
        "/plots/{plot}/record/packing",
        "Records how tightly the ground is packed",
        <packing::Packed as Flow>::FIELDS,
        save::<packing::Packed>,
    ),
    Route::page(
        "/plots/{plot}/record/lab-report",
        "The form of a laboratory's soil test",
        show::<lab_report::Printout>,
    ),
    Route::save(
        "/plots/{plot}/record/lab-report",
        "Records a laboratory's soil test",
        <lab_report::Printout as Flow>::FIELDS,
        save::<lab_report::Printout>,
    ),
    Route::page("/plots/{plot}/record/salinity", "The form of salts", show::<salinity::Salts>),
    Route::save(
        "/plots/{plot}/record/salinity",
        "Records salts",
        <salinity::Salts as Flow>::FIELDS,
        save::<salinity::Salts>,
    ),
    Route::page("/plots/{plot}/record/signs", "The form of signs in the field", show::<signs::Found>),
    Route::save(
        "/plots/{plot}/record/signs",
        "Records signs in the field",
        <signs::Found as Flow>::FIELDS,
        save::<signs::Found>,
    ),
    Route::page(
        "/plots/{plot}/record/moisture",
        "The form of how moist the ground is",
        show::<moisture::Moist>,
    ),
    Route::save(
        "/plots/{plot}/record/moisture",
        "Records how moist the ground was",
        <moisture::Moist as Flow>::FIELDS,
        save::<moisture::Moist>,
    ),
    Route::page(
        "/plots/{plot}/record/ring-infiltration",
        "The form of infiltration rings",
        show::<rings::Rings>,
    ),
    Route::save(
        "/plots/{plot}/record/ring-infiltration",
        "Records infiltration rings",
        <rings::Rings as Flow>::FIELDS,
        save::<rings::Rings>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/ring-infiltration/preview",
        "What such rings would say, without storing them",
        preview::<rings::Rings>,
    ),
    Route::page("/plots/{plot}/record/percolation", "The form of a test hole", show::<percolation::TestHole>),
    Route::save(
        "/plots/{plot}/record/percolation",
        "Records how fast water left a test hole",
        <percolation::TestHole as Flow>::FIELDS,
        save::<percolation::TestHole>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/percolation/preview",
        "What such a hole would say, without storing it",
        preview::<percolation::TestHole>,
    ),
    Route::page(
        "/plots/{plot}/record/layers",
        "The form of the layers of the ground",
        show::<layers::Profile>,
    ),
    Route::save(
        "/plots/{plot}/record/layers",
        "Records the layers of the ground",
        <layers::Profile as Flow>::FIELDS,
        save::<layers::Profile>,
    ),
    Route::page("/plots/{plot}/record/probe", "The form of a probe transect", show::<probe::Transect>),
    Route::save(
        "/plots/{plot}/record/probe",
        "Records a probe transect",
        <probe::Transect as Flow>::FIELDS,
        save::<probe::Transect>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/probe/preview",
        "What such a transect would say, without storing it",
        preview::<probe::Transect>,
    ),
    Route::page("/plots/{plot}/record/cores", "The form of density cores", show::<cores::Rings>),
    Route::save(
        "/plots/{plot}/record/cores",
        "Records density cores",
        <cores::Rings as Flow>::FIELDS,
        save::<cores::Rings>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/cores/preview",
        "What such cores would say, without storing it",
        preview::<cores::Rings>,
    ),
    Route::page("/plots/{plot}/record/spade", "The form of a block dug with the spade", show::<spade::Block>),
    Route::save(
        "/plots/{plot}/record/spade",
        "Records a block dug with the spade",
        <spade::Block as Flow>::FIELDS,
        save::<spade::Block>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/spade/preview",
        "What such a block would say, without storing it",
        preview::<spade::Block>,
    ),
    Route::page("/plots/{plot}/record/slake", "The form of a slake test", show::<slake::Crumbs>),
    Route::save(
        "/plots/{plot}/record/slake",
        "Records a slake test",
        <slake::Crumbs as Flow>::FIELDS,
        save::<slake::Crumbs>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/slake/preview",
        "What such a test would say, without storing it",
        preview::<slake::Crumbs>,
    ),
    Route::page("/plots/{plot}/record/working", "The form of a working test", show::<working::Handful>),
    Route::save(
        "/plots/{plot}/record/working",
        "Records a working test",
        <working::Handful as Flow>::FIELDS,
        save::<working::Handful>,
    ),
    Route::api(
        Verb::Post,
        "/api/plots/{plot}/record/working/preview",
        "What such a test would say, without storing it",
        preview::<working::Handful>,
    ),
    Route::page(
        "/plots/{plot}/record/building-ground",
        "The form of ground to build on",
        show::<building_ground::ToBuildOn>,
    ),
    Route::save(
        "/plots/{plot}/record/building-ground",
        "Records ground to build on",
        <building_ground::ToBuildOn as Flow>::FIELDS,
        save::<building_ground::ToBuildOn>,
    ),
    Route::page("/records/{id}/jar", "A jar still settling: when the marks are due", jar::settling::show),
    Route::save(
        "/records/{id}/jar/mark",
        "Makes a mark on a jar still settling",
        jar::settling::MARK,
        jar::settling::mark,
    ),
    Route::save(
        "/records/{id}/jar/heights",
        "Gives the heights of marks made before",
        jar::settling::HEIGHTS,
        jar::settling::heights,
    ),
    Route::save(
        "/records/{id}/jar/finish",
        "Finishes a jar: its marks now speak for the plot",
        jar::settling::FINISH,
        jar::settling::finish,
    ),
];
