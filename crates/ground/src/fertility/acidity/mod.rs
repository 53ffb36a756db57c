//! Lime requirement, liming materials, sulfur, gypsum.
//!
//! A lime method gives its need as pure, fully effective calcium carbonate over the depth that is limed ([`basis`]),
//! and names the system by which a product is to be weighed ([`effectiveness`]); [`product`] brings the two together
//! once. [`LimeMethod`] is the list of methods for callers that put them side by side.

pub mod adams_evans;
pub mod basis;
mod by_buffer;
pub mod effectiveness;
pub mod first_principles;
pub mod gypsum;
pub mod iowa;
pub mod lime_kind;
pub mod lime_method;
pub mod methods_for_report;
pub mod north_carolina;
pub mod ontario;
pub mod oregon_sikora;
pub mod pennsylvania;
pub mod ph_and_texture;
pub mod product;
pub mod quantity;
pub mod sodium;
pub mod sulfur;
pub mod target_ph;
pub mod texture_table;
pub mod tri_state;
pub mod vermont;
pub mod wood_ash;

pub use by_buffer::{BufferInput, NoRate};
pub use lime_method::{LimeFigures, LimeGround, LimeMethod, MethodNeed, Unfit};

crate::kit::method::methods![
    target_ph::TargetPhMethod,
    methods_for_report::LimeMethodsForReport,
    oregon_sikora::LimeOregonSikora,
    tri_state::LimeTriStateSmp,
    tri_state::LimeTriStateOrganic,
    ontario::LimeOntarioSmp,
    north_carolina::LimeNorthCarolinaMehlich,
    pennsylvania::LimePennsylvania,
    adams_evans::LimeAdamsEvans,
    iowa::LimeIowa,
    vermont::LimeVermontAluminium,
    ph_and_texture::LimePhAndTexture,
    texture_table::LimeTextureTable,
    first_principles::LimeFirstPrinciples,
    effectiveness::LimeEffectiveness,
    product::LimeProduct,
    lime_kind::LimeKindMethod,
    wood_ash::WoodAsh,
    sulfur::SulfurToLowerPh,
    sodium::SodiumStandingMethod,
    gypsum::GypsumRequirement,
];
