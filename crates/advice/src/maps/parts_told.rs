//! Zones in sentences, for the page, the sheet and the command line.

use ground::kit::units::UnitSystem;

use super::parts::{READINGS_A_ZONE, ZonesTold};
use crate::words::odds;

/// Zones in sentences: what they explain, and whether they are worth their trouble.
#[must_use]
pub fn zones(told: &ZonesTold, units: UnitSystem) -> Vec<String> {
    let worth = &told.worth;
    let count = told.zones.len();
    let mut said =
        vec![format!("{count} zones hold {} of the variance of the map.", odds(told.explained_of_map))];
    said.push(if worth.better_than_one {
        format!(
            "By the readings, each left out in turn, the means of the zones take away {} of the squared error of one mean.",
            odds(worth.explained)
        )
    } else {
        format!("By the readings, each left out in turn, {count} zones are no better than one: treat the plot as a whole.")
    });
    for zone in told.zones.iter().filter(|zone| zone.readings < READINGS_A_ZONE) {
        said.push(format!(
            "Zone {} holds {}, too few to speak for it: at least {READINGS_A_ZONE} are wanted in each.",
            zone.number,
            match zone.readings {
                0 => "no reading".to_owned(),
                some => crate::words::counted(some, "reading", "readings"),
            }
        ));
    }
    said.push(
        format!(
            "They part the whole outline of the plot: ground that the map leaves blank goes with the zone beside it. Borders are straightened by no more than {}.",
            match units {
                UnitSystem::UsCustomary => format!("{:.0} ft", (told.border_within_m / 0.3048).ceil()),
                UnitSystem::Metric => format!("{:.1} m", told.border_within_m),
            }
        ),
    );
    said.push(
        "The readings that made the map also judge its zones, so this is a little too kind.".to_owned(),
    );
    said
}
