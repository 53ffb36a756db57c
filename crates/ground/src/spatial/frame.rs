//! Local metres about a place: what a farm is measured in.
//!
//! x = N cos φ₀ Δλ and y = M Δφ on the WGS 84 ellipsoid, N and M its radii of curvature at the origin. On a farm
//! this differs from geodesic areas by less than one part in a hundred million.

/// Semi-major axis of WGS 84, in metres.
pub const SEMI_MAJOR_M: f64 = 6_378_137.0;
/// Flattening of WGS 84.
pub const FLATTENING: f64 = 1.0 / 298.257_223_563;

/// Metres about an origin, north up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LocalFrame {
    latitude_degrees: f64,
    longitude_degrees: f64,
    east_m_per_degree: f64,
    north_m_per_degree: f64,
}

/// Radii of curvature (of the meridian, of the prime vertical) at a latitude, in metres.
#[must_use]
pub fn radii_m(latitude_degrees: f64) -> (f64, f64) {
    let e2 = FLATTENING * (2.0 - FLATTENING);
    let sine = libm::sin(latitude_degrees.to_radians());
    let w = 1.0 - e2 * sine * sine;
    let vertical = SEMI_MAJOR_M / w.sqrt();
    (vertical * (1.0 - e2) / w, vertical)
}

impl LocalFrame {
    /// Metres about a place. Nearer to a pole than a farm can be, east and west shrink to nothing; the least
    /// length of a degree is kept above zero so that every place can be written back.
    #[must_use]
    pub fn at(latitude_degrees: f64, longitude_degrees: f64) -> Self {
        let (meridian, vertical) = radii_m(latitude_degrees);
        let cosine = libm::cos(latitude_degrees.to_radians()).max(1e-6);
        Self {
            latitude_degrees,
            longitude_degrees,
            east_m_per_degree: (vertical * cosine).to_radians(),
            north_m_per_degree: meridian.to_radians(),
        }
    }

    /// Longitude and latitude of the origin.
    #[must_use]
    pub fn origin(&self) -> [f64; 2] {
        [self.longitude_degrees, self.latitude_degrees]
    }

    /// [longitude, latitude] in degrees to [east, north] in metres; across the 180th meridian the short way.
    #[must_use]
    pub fn to_metres(&self, [longitude, latitude]: [f64; 2]) -> [f64; 2] {
        let mut east = longitude - self.longitude_degrees;
        if east > 180.0 {
            east -= 360.0;
        } else if east < -180.0 {
            east += 360.0;
        }
        [east * self.east_m_per_degree, (latitude - self.latitude_degrees) * self.north_m_per_degree]
    }

    /// [east, north] in metres to [longitude, latitude] in degrees.
    #[must_use]
    pub fn to_degrees(&self, [east_m, north_m]: [f64; 2]) -> [f64; 2] {
        let longitude = self.longitude_degrees + east_m / self.east_m_per_degree;
        let longitude = if longitude > 180.0 {
            longitude - 360.0
        } else if longitude < -180.0 {
            longitude + 360.0
        } else {
            longitude
        };
        [longitude, self.latitude_degrees + north_m / self.north_m_per_degree]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Radii and lengths of a degree, computed from the definition of WGS 84 (NGA.STND.0036) by another program.
    #[test]
    fn radii_and_degrees_are_those_of_wgs84() {
        for (latitude, meridian, vertical, north, east) in [
            (0.0, 6_335_439.327, 6_378_137.000, 110_574.276, 111_319.491),
            (30.0, 6_351_377.104, 6_383_480.918, 110_852.442, 96_486.280),
            (40.0, 6_361_815.826, 6_386_976.166, 111_034.633, 85_393.857),
            (45.0, 6_367_381.816, 6_388_838.290, 111_131.777, 78_846.835),
            (60.0, 6_383_453.857, 6_394_209.174, 111_412.287, 55_800.002),
        ] {
            let (m, n) = radii_m(latitude);
            assert!((m - meridian).abs() < 6e-4 && (n - vertical).abs() < 6e-4, "{latitude}: {m} {n}");
            let [x, y] = LocalFrame::at(latitude, 0.0).to_metres([1.0, latitude + 1.0]);
            assert!((x - east).abs() < 6e-4 && (y - north).abs() < 6e-4, "{latitude}: {x} {y}");
        }
    }

    #[test]
    fn metres_and_degrees_go_both_ways_across_the_date_line_too() {
        for origin in [[-93.5, 42.5], [179.9999, -17.0], [-179.9999, 65.0]] {
            let frame = LocalFrame::at(origin[1], origin[0]);
            for metres in [[0.0, 0.0], [250.0, -120.5], [-812.25, 44.0]] {
                let back = frame.to_metres(frame.to_degrees(metres));
                assert!((back[0] - metres[0]).abs() < 1e-6 && (back[1] - metres[1]).abs() < 1e-6, "{back:?}");
            }
        }
    }
}
