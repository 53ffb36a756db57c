//! Where things lie on a farm, and what varies from place to place.
//!
//! * [`frame`]: metres about a place of the Earth.
//! * [`area`], [`plane`]: areas on the ellipsoid and in local metres.
//! * [`typed`]: places, sides and bearings as people write them.
//! * [`outline`]: outlines that are not sound, and how to mend them.
//! * [`beds`]: beds laid out in a plot.
//! * [`picture_fix`]: a picture laid over the ground by known points.
//! * [`sampling`]: how many cores to pull, and where.
//! * The others: how unlike readings are with distance, what lies between them and how surely, what may be shown
//!   from how many, and the parts of a plot to treat apart.

pub mod area;
pub mod beds;
pub mod frame;
pub mod hull;
pub mod inverse_distance;
pub mod kriging;
pub mod limits;
pub mod outline;
pub mod picture_fix;
pub mod plane;
pub mod prior;
pub mod prior_method;
pub mod raster;
pub mod sampling;
pub mod scale;
pub mod sites;
pub mod strata;
pub mod texture;
pub mod texture_method;
pub mod typed;
pub mod variogram;
pub mod zones;

crate::kit::method::methods![
    limits::MapLimits,
    scale::MapScale,
    inverse_distance::InverseDistance,
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
