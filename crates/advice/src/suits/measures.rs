//! What it would take: the work that the limits ask for, each with the page that works it out.

use book::Snapshot;
use book::model::UnitSystem;
use ground::fertility::acidity::basis::LIME_CAUTIONS;
use ground::fertility::acidity::sulfur::SULFUR_CAUTIONS;
use ground::fertility::acidity::target_ph::{CropPh, USUAL_TARGET};
use ground::kit::Method;
use ground::siting::judge::{HIGHEST_BED_CM, bed_cm, draws_mm_d};
use ground::siting::{Grade, Limit, SiteNeeds};
use ground::structure::loosening::method::LooseningDecision;
use ground::water::drainage::hooghoudt_method::HooghoudtSpacing;
use ground::water::salts::leaching::LeachingRequirement;
use ground::water::salts::reclamation::{WashingManner, washing_water};
use serde::Serialize;

use super::cell::Cell;
use super::detail::{Against, spread};
use super::place::PlotPlace;
use crate::PlotReport;
use crate::feeding::acidity::{lime_to, tell};
use crate::words;

/// Yield that washing is to bring back, percent.
const WASHED_TO_PERCENT: f64 = 90.0;

/// Crops that are sown or set where they grow, and hardly bear being moved (common practice).
const SOWN_IN_PLACE: &[&str] = &[
    "arugula",
    "beet",
    "carrot",
    "cilantro",
    "cowpea",
    "dry-bean",
    "faba-bean",
    "garlic",
    "green-bean",
    "mustard-greens",
    "parsnip",
    "pea",
    "pea-trellised",
    "pole-bean",
    "potato",
    "radish",
    "shallot",
    "soybean",
    "spinach",
    "sunflower",
    "sweet-corn",
    "turnip",
];

/// Work that a place would take for a crop.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Measure {
    /// The limit that it mends.
    pub limit: Limit,
    /// What to do, a sentence with how much where it is known.
    pub text: String,
    /// The page that works it out.
    pub address: String,
    /// What that page is called.
    pub page: &'static str,
    /// What may hurt someone.
    pub cautions: Vec<&'static str>,
}

pub(super) fn measures(
    snapshot: &Snapshot,
    report: &PlotReport,
    needs: &SiteNeeds,
    place: &PlotPlace,
    (cell, against): (&Cell, &[Against]),
    units: UnitSystem,
) -> Vec<Measure> {
    let heat = cell.days.is_some_and(|given| given.heat_ends);
    let work = against.iter().filter(|one| one.grade >= Grade::Work);
    work.filter_map(|one| match one.limit {
        Limit::Warmth => Some(warmth(needs, place, heat)),
        limit => measure(snapshot, report, needs, place, limit, units),
    })
    .collect()
}

/// What gains days: warmth where the year is too cool, and anything but warmth where heat ends them.
fn warmth(needs: &SiteNeeds, place: &PlotPlace, heat: bool) -> Measure {
    let in_place = SOWN_IN_PLACE.contains(&needs.key.as_str());
    let text = match (heat, place.year.covered, in_place) {
        (true, true, _) => {
            "Heat ends its time here: grow it in the open rather than under this cover, or sow it earlier or for autumn, and shade and air the cover while it stands; choose a kind that stands heat."
        }
        (true, false, _) => {
            "Heat ends its time here: sow it earlier, or for autumn, and shade it in the hottest weeks; choose a kind that stands heat. A cover would only make it hotter."
        }
        (false, true, true) => {
            "It is sown where it grows: warm the ground under a sheet first and sow as soon as it is warm enough; choose an early kind."
        }
        (false, false, true) => {
            "It is sown where it grows: warm the ground under a sheet first and keep a row cover over it, or give it a tunnel; choose an early kind."
        }
        (false, true, false) => "Raise plants in the warm four to six weeks ahead, and choose an early kind.",
        (false, false, false) => {
            "Raise plants under cover four to six weeks ahead and keep a row cover over them, or give it a tunnel; choose an early kind."
        }
    };
    Measure {
        limit: Limit::Warmth,
        text: text.to_owned(),
        address: "/weather".to_owned(),
        page: "The usual weather",
        cautions: Vec::new(),
    }
}

fn measure(
    snapshot: &Snapshot,
    report: &PlotReport,
    needs: &SiteNeeds,
    place: &PlotPlace,
    limit: Limit,
    units: UnitSystem,
) -> Option<Measure> {
    let plot = place.id;
    let page = |text: String, below: &str, page: &'static str, cautions: &[&'static str]| Measure {
        limit,
        text,
        address: format!("/plots/{plot}{below}"),
        page,
        cautions: cautions.to_vec(),
    };
    Some(match limit {
        Limit::Texture => page(
            if needs.forks {
                "Texture cannot be changed: grow short or round kinds on beds raised with compost, or choose another plot.".to_owned()
            } else {
                "Texture cannot be changed: shape beds and feed them compost, so that they crumble and drain, or choose another plot.".to_owned()
            },
            "#decisions",
            "The decisions on this plot",
            &[],
        ),
        Limit::Stones => page(
            "Pick or screen the stones out of the beds it grows in, or grow short kinds.".to_owned(),
            "#decisions",
            "The decisions on this plot",
            &[],
        ),
        Limit::Wetness => {
            let height = spread(place, |spot| bed_cm(needs, spot))?;
            let text = if height.median <= HIGHEST_BED_CM {
                let enough = place.spots.iter().filter(|spot| bed_cm(needs, spot) <= HIGHEST_BED_CM).count();
                #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
                let odds = enough as f64 / place.spots.len().max(1) as f64;
                format!(
                    "Raise the beds by about {}, once the water has a way out; beds of {} are enough with odds of {}.",
                    words::depth(height.median, units),
                    words::depth(HIGHEST_BED_CM, units),
                    words::odds(odds)
                )
            } else {
                format!(
                    "A bed would have to be {} high: drain first.",
                    words::depth(height.median, units)
                )
            };
            page(text, "/water#stands", "Where water stands", HooghoudtSpacing::CARD.cautions)
        }
        Limit::Rock => {
            let short = needs.needed_root_cm - place.rock_cm?;
            page(
                format!("Bring in soil: beds {} higher would give its roots their depth.", words::depth(short.max(5.0), units)),
                "#decisions",
                "The decisions on this plot",
                &[],
            )
        }
        Limit::Pan => page(
            match place.pan_cm {
                // Whether iron pays is decided there alone: by texture, water, the spade and the tools at hand.
                Some(pan) => format!(
                    "See whether to loosen the packed layer that begins at {}, how deep and when; roots of a cover sent through it first are the other way.",
                    words::depth(pan, units)
                ),
                None => "See whether to loosen the packed ground, how deep and when; roots of a cover sent through it first are the other way.".to_owned(),
            },
            "/structure",
            "Structure and loosening",
            LooseningDecision::CARD.cautions,
        ),
        Limit::Acidity => return acidity(snapshot, report, needs, place, units),
        Limit::Salts => {
            let wanted = needs.salts.usual.ec_at_yield(WASHED_TO_PERCENT);
            let water = spread(place, |spot| {
                washing_water(WashingManner::SandyOrInPulses, 10.0 * needs.root_cm, wanted / spot.ec_ds_m)
                    .unwrap_or(0.0)
            })?;
            page(
                format!(
                    "Wash the salts down before planting: about {} of water in pulses brings them to {} dS/m over its roots, once the ground can drain.",
                    words::water(water.median, units),
                    words::short(wanted)
                ),
                "/water#salts",
                "Salts of this plot",
                LeachingRequirement::CARD.cautions,
            )
        }
        Limit::Warmth => return None,
        Limit::Water => {
            let draws = draws_mm_d(needs, place.spots.first()?);
            Measure {
                limit,
                text: match place.rate_mm_h {
                    Some(rate) => format!(
                        "Give it more lines or a stronger system: it drinks {} a day at the height of the season, {:.1} hours of the system at hand.",
                        words::water(draws, units),
                        draws / rate
                    ),
                    None => format!(
                        "Bring water to it, best by drip: it drinks {} a day at the height of the season. Mulch saves some.",
                        words::water(draws, units)
                    ),
                },
                address: "/water".to_owned(),
                page: "Water today",
                cautions: crate::watering::CAUTIONS.to_vec(),
            }
        }
    })
}

fn acidity(
    snapshot: &Snapshot,
    report: &PlotReport,
    needs: &SiteNeeds,
    place: &PlotPlace,
    units: UnitSystem,
) -> Option<Measure> {
    let test = place.test.as_ref()?;
    let ph = test.ph_water?;
    let measure = |text: String, cautions: &[&'static str]| Measure {
        limit: Limit::Acidity,
        text,
        address: format!("/plots/{}/acidity", place.id),
        page: "Acidity and lime",
        cautions: cautions.to_vec(),
    };
    if ph >= needs.ph_high {
        return Some(measure(
            "Lower the pH with sulfur, a year ahead; it takes long and does not pay on ground that holds free lime.".to_owned(),
            SULFUR_CAUTIONS,
        ));
    }
    let aim = CropPh::of(&needs.key).map_or(USUAL_TARGET, CropPh::target);
    let text = match lime_to(snapshot, report, test, aim) {
        Some((method, need)) => format!(
            "Lime from pH {ph} to {}: {} of pure calcium carbonate, by the farm's method ({}).",
            words::short(aim),
            tell::need(&need, units),
            method.words()
        ),
        None => format!(
            "Lime from pH {ph} to {}. How much: the farm has chosen no lime method that this soil test permits.",
            words::short(aim)
        ),
    };
    Some(measure(text, LIME_CAUTIONS))
}
