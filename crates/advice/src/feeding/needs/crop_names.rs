//! What a crop of the catalogue is called in the schemes and in the table of removals.

use std::sync::LazyLock;

use ground::fertility::organic::interval::EdiblePart;
use ground::fertility::schemes::Scheme;
use ground::fertility::schemes::supply::LastCrop;
use serde::Deserialize;

/// One crop under its other names.
#[derive(Debug, Deserialize)]
pub struct CropNames {
    crop: String,
    part: String,
    removal: String,
    leaves: LastCrop,
    rb209: String,
    midatlantic: String,
    new_england: String,
    ufifas_m1: String,
    florida_m3: String,
    utah: String,
    georgia: String,
    illinois: String,
}

static ROWS: LazyLock<Vec<CropNames>> = LazyLock::new(|| {
    let text = include_str!("crops.csv");
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        // The table is compiled in, and a test reads it.
        Err(error) => unreachable!("needs/crops.csv: {error}"),
    }
});

fn given(text: &str) -> Option<&str> {
    (!text.is_empty()).then_some(text)
}

impl CropNames {
    /// The names of a crop of the catalogue.
    #[must_use]
    pub fn of(crop: &str) -> Option<&'static Self> {
        ROWS.iter().find(|row| row.crop == crop)
    }

    /// Its name in a scheme.
    #[must_use]
    pub fn in_scheme(&self, scheme: Scheme) -> Option<&str> {
        given(match scheme {
            Scheme::Rb209 => &self.rb209,
            Scheme::Midatlantic => &self.midatlantic,
            Scheme::NewEngland => &self.new_england,
            Scheme::UfifasM1 => &self.ufifas_m1,
            Scheme::FloridaM3 => &self.florida_m3,
            Scheme::Utah => &self.utah,
            Scheme::GeorgiaCoastalPlain | Scheme::GeorgiaPiedmont => &self.georgia,
            Scheme::Illinois => &self.illinois,
            Scheme::RutgersM3 | Scheme::UmassModifiedMorgan | Scheme::CaliforniaTomato => "",
        })
    }

    /// Its row in the table of removals.
    #[must_use]
    pub fn removal(&self) -> Option<&str> {
        given(&self.removal)
    }

    /// What it leaves for the next crop.
    #[must_use]
    pub fn leaves(&self) -> LastCrop {
        self.leaves
    }

    /// Where the part that is eaten grows.
    #[must_use]
    pub fn part(&self) -> EdiblePart {
        if self.part == "clear" { EdiblePart::ClearOfSoil } else { EdiblePart::TouchesSoil }
    }
}

#[cfg(test)]
mod tests {
    use ground::climate::crops;
    use ground::fertility::needs::removal;
    use ground::fertility::schemes::crops_of;

    use super::*;

    #[test]
    fn every_name_stands_where_it_points() {
        for row in ROWS.iter() {
            assert!(crops::find(&row.crop).is_ok(), "{}", row.crop);
            assert!(["soil", "clear"].contains(&row.part.as_str()), "{}", row.crop);
            if let Some(key) = row.removal() {
                assert!(removal::content(key).is_some(), "{} {key}", row.crop);
            }
            for scheme in Scheme::ALL {
                if let Some(key) = row.in_scheme(*scheme) {
                    assert!(crops_of(*scheme).iter().any(|crop| crop.key == key), "{} {key}", row.crop);
                }
            }
        }
    }
}
