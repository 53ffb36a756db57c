//! What a bed may have at most: phosphate where there is enough, chloride, and salts under cover.

use ground::fertility::schemes::Standing;
use serde::Serialize;

use super::Need;
use super::soil_test::SoilTest;

/// What is limited.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitOf {
    /// Phosphate.
    P2o5,
    /// Chloride.
    Chloride,
    /// Soluble nitrogen in one pass.
    NitrogenInOnePass,
}

/// A limit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Limit {
    /// Of what.
    pub of: LimitOf,
    /// Most of it.
    pub most_g_m2: f64,
    /// Why, in words.
    pub why: String,
}

/// Crops that chloride harms first (common practice).
const CHLORIDE_SENSITIVE: [&str; 8] =
    ["green-bean", "pole-bean", "strawberry", "onion", "lettuce", "carrot", "radish", "pea"];

/// Soluble nitrogen that seedlings and transplants stand in one pass: 2.5 lb for 1000 ft² worked in (common
/// practice).
const ONE_PASS_G_M2: f64 = 12.2;

/// The limits of a bed. `removal` is the phosphate that the hoped-for harvest carries away, g/m².
pub(super) fn limits(
    phosphorus: Option<&SoilTest>,
    need: Option<&Need>,
    removal: Option<f64>,
    crop_key: Option<&str>,
    under_cover: bool,
) -> Vec<Limit> {
    let mut found = Vec::new();
    if let Some(class) = phosphorus.and_then(|test| test.reading.class()) {
        let scheme_g_m2 = need.map_or(0.0, |need| need.high_g_m2);
        let limit = match class.standing {
            Standing::VeryHigh => Some((
                0.0,
                format!(
                    "phosphorus stands {} ({}): more of it does nothing but run off",
                    class.standing.words(),
                    class.class
                ),
            )),
            Standing::High | Standing::Optimum => Some((
                removal.unwrap_or(0.0).max(scheme_g_m2),
                format!(
                    "phosphorus stands {} ({}): no more than the harvest carries away or the scheme asks for",
                    class.standing.words(),
                    class.class
                ),
            )),
            _ => None,
        };
        if let Some((most_g_m2, why)) = limit {
            found.push(Limit { of: LimitOf::P2o5, most_g_m2, why });
        }
    }
    if under_cover || crop_key.is_some_and(|key| CHLORIDE_SENSITIVE.contains(&key)) {
        found.push(Limit {
            of: LimitOf::Chloride,
            most_g_m2: 0.0,
            why: if under_cover {
                "no rain leaches chloride out of ground under cover".to_owned()
            } else {
                "the crop is sensitive to chloride".to_owned()
            },
        });
    }
    found.push(Limit {
        of: LimitOf::NitrogenInOnePass,
        most_g_m2: if under_cover { 0.5 * ONE_PASS_G_M2 } else { ONE_PASS_G_M2 },
        why: if under_cover {
            "salts stay where rain does not come: half of what is usual in one pass".to_owned()
        } else {
            "more soluble nitrogen in one pass burns roots".to_owned()
        },
    });
    found
}
