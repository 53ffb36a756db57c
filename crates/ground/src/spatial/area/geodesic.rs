//! Area and perimeter of a piece of ground on the ellipsoid.

use geographiclib_rs::{Geodesic, InverseGeodesic, PolygonArea, Winding};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Latitude of a corner, north positive.
    pub struct CornerLatitude: "latitude", "°", -90.0 ..= 90.0, example 42.5;
    /// Longitude of a corner, east positive.
    pub struct CornerLongitude: "longitude", "°", -180.0 ..= 180.0, example -93.5;
}

/// A corner of an outline.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Corner {
    /// Its latitude.
    pub latitude_degrees: CornerLatitude,
    /// Its longitude.
    pub longitude_degrees: CornerLongitude,
}

/// Area (m²) and perimeter (m) of a ring of [longitude, latitude] in degrees, whichever way it runs.
#[must_use]
pub fn geodesic_area(ring: &[[f64; 2]]) -> (f64, f64) {
    let earth = Geodesic::wgs84();
    let mut area = PolygonArea::new(&earth, Winding::CounterClockwise);
    for [longitude, latitude] in ring {
        area.add_point(*latitude, *longitude);
    }
    let (perimeter_m, area_m2, _) = area.compute(true);
    (area_m2.abs(), perimeter_m)
}

/// Distance between two places given as [longitude, latitude] in degrees, m.
#[must_use]
pub fn distance_m(from: [f64; 2], to: [f64; 2]) -> f64 {
    Geodesic::wgs84().inverse(from[1], from[0], to[1], to[0])
}

/// Input of `geodesic-area`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GeodesicAreaInput {
    /// The corners in order; the last is joined to the first.
    pub corners: Vec<Corner>,
}

/// Output of `geodesic-area`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct GeodesicAreaOutput {
    /// Area on the ellipsoid.
    pub area_m2: f64,
    /// Way once round.
    pub perimeter_m: f64,
}

/// Geodesic area.
pub struct GeodesicArea;

impl Method for GeodesicArea {
    type Input = GeodesicAreaInput;
    type Output = GeodesicAreaOutput;

    const CARD: Card = Card {
        name: "geodesic-area",
        title: "Area of a plot from its coordinates",
        topic: Topic::Spatial,
        computes: "Area and perimeter of a piece of ground whose corners are known by latitude and longitude, on \
                   the WGS 84 ellipsoid. A sphere or a map grid would be off by up to half a percent.",
        validity: &[
            "Any outline that does not cross itself; where it does, the parts that run the other way are taken off.",
            "The ground is taken as level; on a slope the ground itself is larger, by 0.5 % at a slope of 10 %.",
        ],
        sources: &[Cite::new("Karney2013", "section 6")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let corner = |latitude, longitude| Corner {
            latitude_degrees: CornerLatitude::literal(latitude),
            longitude_degrees: CornerLongitude::literal(longitude),
        };
        GeodesicAreaInput {
            corners: vec![
                corner(42.5, -93.5),
                corner(42.5, -93.499),
                corner(42.501, -93.499),
                corner(42.501, -93.5),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        if input.corners.len() < 3 {
            return Err(Refusal::new("corners", "an outline needs three corners or more")
                .given(input.corners.len())
                .accepted("3 corners or more")
                .example("4"));
        }
        let ring: Vec<[f64; 2]> = input
            .corners
            .iter()
            .map(|corner| [corner.longitude_degrees.get(), corner.latitude_degrees.get()])
            .collect();
        let (area_m2, perimeter_m) = geodesic_area(&ring);
        Ok(Answer::plain(GeodesicAreaOutput { area_m2, perimeter_m }))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "area between the outline and the equator, side by side",
                "sum over the sides of the area under each geodesic on WGS 84 (a = 6378137 m, f = 1/298.257223563)",
                format!("{} sides", input.corners.len()),
                format!("{:.2} m²", answer.value.area_m2),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "way once round",
                "sum of the geodesic lengths of the sides",
                format!("{} sides", input.corners.len()),
                format!("{:.3} m", answer.value.perimeter_m),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spatial::{frame::LocalFrame, plane};

    /// The published polygon and the published distance of the library's documentation; and local metres against
    /// the ellipsoid on a field at 43 degrees north.
    #[test]
    fn ellipsoid_and_local_metres_agree_on_a_field() {
        let far = distance_m([-118.288_423_7, 34.095_925], [24.734_164_9, 59.432_343_9]);
        assert!((far - 9_094_718.727_511_38).abs() < 5e-6, "{far}");
        let field = [[-89.4, 43.07], [-89.3985, 43.07], [-89.3985, 43.0712], [-89.4, 43.0712]];
        let (area, round) = geodesic_area(&field);
        assert!((area - 16_287.017_337).abs() < 1e-5 && (round - 510.968_511).abs() < 1e-5, "{area} {round}");
        let local = LocalFrame::at(43.0706, -89.399_25);
        let metres: Vec<[f64; 2]> = field.iter().map(|at| local.to_metres(*at)).collect();
        assert!((plane::ring_area_m2(&metres) / area - 1.0).abs() < 1e-9);
        let backwards: Vec<[f64; 2]> = field.iter().rev().copied().collect();
        assert!((geodesic_area(&backwards).0 - area).abs() < 1e-6);
    }
}
