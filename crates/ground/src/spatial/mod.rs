//! What varies over the ground: how unlike readings are with distance, what lies between them and how surely, what may
//! be shown from how many, and the parts of a plot to treat apart.

pub mod hull;
pub mod kriging;
pub mod limits;
pub mod prior;
pub mod prior_method;
pub mod raster;
pub mod sites;
pub mod strata;
pub mod texture;
pub mod texture_method;
pub mod variogram;
pub mod zones;

crate::kit::method::methods![
    limits::MapLimits,
    variogram::empirical::EmpiricalVariogram,
    variogram::model::VariogramModel,
    variogram::fit_method::FitVariogram,
    variogram::likelihood::VariogramLikelihood,
    kriging::method::OrdinaryKriging,
    kriging::left_out_method::LeaveOneOut,
    prior_method::PriorSurfaceMethod,
    strata::StratifiedMeanMethod,
    texture_method::TextureSurfaceMethod,
    zones::method::MapZones,
];
