//! Where to pull cores on a plot, and the sampling plans that were kept.

mod asked;
mod kept;

use book::model::SamplingPurpose;
use figures::Figure;
use figures::plan::PlanSize;
use report::field::{PointsPicture, points_picture};

use crate::route::Route;

/// A purpose as the question names it.
fn key_of(purpose: SamplingPurpose) -> &'static str {
    match purpose {
        SamplingPurpose::Fertility => "fertility",
        SamplingPurpose::Nitrate => "nitrate",
        SamplingPurpose::Texture => "texture",
        SamplingPurpose::OrganicMatter => "organic_matter",
        SamplingPurpose::Salts => "salts",
        SamplingPurpose::Structure => "structure",
    }
}

/// One drawing for a phone and one for a wide page.
struct Drawn {
    small: Figure,
    wide: Figure,
}

impl Drawn {
    fn of(shown: PointsPicture<'_>) -> Self {
        let sized = |size| points_picture(&PointsPicture { size, ..shown });
        Self { small: sized(PlanSize::Phone), wide: sized(PlanSize::Wide) }
    }
}

/// Addresses of sampling.
pub const ROUTES: &[Route] = &[
    Route::page(
        "/plots/{plot}/sampling",
        "How many cores to pull on a plot, where and how deep: ?purpose=, ?property=, ?error=, ?design=, ?margin=, ?seed= and more",
        asked::show,
    ),
    Route::save("/plots/{plot}/sampling", "Keeps a sampling plan", asked::FIELDS, asked::keep),
    Route::page("/sampling/{id}", "A sampling plan that was kept: its points in walking order", kept::show),
    Route::file("/sampling/{id}/points.gpx", "The points of a sampling plan for a phone, as GPX", kept::gpx),
    Route::file("/sampling/{id}/points.geojson", "The points of a sampling plan, as GeoJSON", kept::geojson),
];
