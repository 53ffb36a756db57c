//! Points to find with a phone: GPX 1.1 and GeoJSON (RFC 7946).

use serde_json::json;

/// A place to walk to.
#[derive(Debug, Clone, PartialEq)]
pub struct WalkPoint {
    /// Its number.
    pub number: u16,
    /// Longitude and latitude, WGS 84.
    pub at: [f64; 2],
    /// Anything to read there; may be empty.
    pub note: String,
}

/// The points as way points of a GPX file, and as a route in their order.
#[must_use]
pub fn points_gpx(name: &str, points: &[WalkPoint]) -> String {
    let mut text = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\" creator=\"Spadework\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n",
    );
    text.push_str(&format!("  <metadata><name>{}</name></metadata>\n", escaped(name)));
    let point = |tag: &str, point: &WalkPoint| {
        let note = if point.note.is_empty() {
            String::new()
        } else {
            format!("<desc>{}</desc>", escaped(&point.note))
        };
        format!(
            "<{tag} lat=\"{:.8}\" lon=\"{:.8}\"><name>{}</name>{note}</{tag}>\n",
            point.at[1], point.at[0], point.number
        )
    };
    for one in points {
        text.push_str(&format!("  {}", point("wpt", one)));
    }
    text.push_str(&format!("  <rte>\n    <name>{}</name>\n", escaped(name)));
    for one in points {
        text.push_str(&format!("    {}", point("rtept", one)));
    }
    text.push_str("  </rte>\n</gpx>\n");
    text
}

/// The points as a GeoJSON collection.
#[must_use]
pub fn points_geojson(name: &str, points: &[WalkPoint]) -> String {
    let features: Vec<_> = points
        .iter()
        .map(|point| {
            json!({
                "type": "Feature",
                "geometry": { "type": "Point", "coordinates": point.at },
                "properties": { "number": point.number, "plan": name, "note": point.note },
            })
        })
        .collect();
    json!({ "type": "FeatureCollection", "features": features }).to_string()
}

fn escaped(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_control())
        .map(|c| match c {
            '&' => "&amp;".to_owned(),
            '<' => "&lt;".to_owned(),
            '>' => "&gt;".to_owned(),
            '"' => "&quot;".to_owned(),
            other => other.to_string(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points() -> Vec<WalkPoint> {
        vec![
            WalkPoint { number: 1, at: [-93.501_234_5, 42.512_345_6], note: "bag 1 & <2>".to_owned() },
            WalkPoint { number: 2, at: [-93.502, 42.513], note: String::new() },
        ]
    }

    /// Read back by a general-purpose GPX library.
    #[test]
    fn gpx_reads_back() {
        let read = gpx::read(points_gpx("Field \"A\" & B", &points()).as_bytes()).unwrap();
        assert_eq!((read.waypoints.len(), read.routes.len(), read.routes[0].points.len()), (2, 1, 2));
        assert_eq!(read.waypoints[0].name.as_deref(), Some("1"));
        assert_eq!(read.waypoints[0].description.as_deref(), Some("bag 1 & <2>"));
        assert!((read.waypoints[0].point().x() + 93.501_234_5).abs() < 1e-8);
        assert!((read.waypoints[0].point().y() - 42.512_345_6).abs() < 1e-8);
        assert_eq!(read.routes[0].name.as_deref(), Some("Field \"A\" & B"));
    }

    /// Read back by a general-purpose GeoJSON library.
    #[test]
    fn geojson_reads_back() {
        let read: geojson::GeoJson = points_geojson("Field", &points()).parse().unwrap();
        let geojson::GeoJson::FeatureCollection(all) = read else { panic!("no collection") };
        assert_eq!(all.features.len(), 2);
        assert_eq!(all.features[1].property("number"), Some(&serde_json::json!(2)));
    }
}
