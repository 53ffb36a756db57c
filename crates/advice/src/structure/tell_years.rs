//! Organic matter over the years in sentences.

use book::model::UnitSystem;
use ground::kit::Spread;

use super::StructureReport;
use crate::words;

fn t_ha(spread: Spread, units: UnitSystem) -> String {
    // 1 t/ha is 2.2046 × 1000 lb on 107 639 ft².
    match units {
        UnitSystem::UsCustomary => {
            format!("{} lb/100 ft²", words::range(spread, 1000.0 / 0.453_592_37 / 1_076.391))
        }
        UnitSystem::Metric => format!("{} t/ha", words::range(spread, 1.0)),
    }
}

/// Organic matter over the years.
pub(super) fn organic(report: &StructureReport, units: UnitSystem) -> Vec<String> {
    let Some(told) = &report.organic else { return Vec::new() };
    let layer = words::depth(super::organic::DEPTH_CM, units);
    let supposed =
        if told.measured { "" } else { ", supposed as it was not measured here; any soil test gives it" };
    let mut lines = vec![format!("Organic matter {} %{supposed}.", words::range(told.now_percent, 1.0))];
    let Some(decay) = told.decay_per_year else {
        lines.push(
            "How fast it goes needs the usual weather of the farm: write down the normals of the months."
                .to_owned(),
        );
        return lines;
    };
    lines.push(format!(
        "It loses {} % of that a year; warm sand loses it fastest, cool clay slowest.",
        words::range(decay, 100.0)
    ));
    if let Some(keep) = told.to_keep_t_ha {
        lines.push(format!(
            "To keep it, {} of new humus a year must be left in the top {layer}; roots and residues leave some of it.",
            t_ha(keep, units)
        ));
    }
    if told.gifts.is_empty() {
        lines.push("No compost, manure, straw or ended cover was written down in the last three years; roots and residues are not counted.".to_owned());
    } else {
        let names: Vec<String> = told
            .gifts
            .iter()
            .map(|gift| {
                let one =
                    Spread { low: gift.organic_t_ha, median: gift.organic_t_ha, high: gift.organic_t_ha };
                format!("{} ({} of dry organic matter)", gift.name, t_ha(one, units))
            })
            .collect();
        let years = if told.over_years == 1 {
            "this year alone".to_owned()
        } else {
            format!("{} years", told.over_years)
        };
        lines.push(format!(
            "Given a year, over {years}: {}. Roots and what harvests leave are not counted.",
            names.join(", ")
        ));
        if let Some(gained) = told.gained_t_ha {
            lines.push(format!("Of that {} a year becomes humus.", t_ha(gained, units)));
        }
    }
    if let (Some((years, after)), Some(settles)) = (told.course.get(1), told.settles_at_percent)
        && !told.gifts.is_empty()
    {
        lines.push(format!(
            "If this goes on it stands at {} % in {years} years, and settles at {} %.",
            words::range(*after, 1.0),
            words::range(settles, 1.0)
        ));
    }
    lines.push(format!(
        "One percent more holds about {} of water for crops in that layer, by the mean of sixty studies: more in sand, next to none in clay.",
        words::water(told.water_for_a_percent_mm, units)
    ));
    if !told.uncounted.is_empty() {
        lines.push(format!("Not counted, as nothing is known of its carbon: {}.", told.uncounted.join(", ")));
    }
    lines
}

/// Litres of a cubic foot: (3.048 dm)³, exact.
pub(crate) const LITRES_PER_FT3: f64 = 28.316_846_592;

/// Earthworms in a volume that the reader can picture: "12 in a cubic foot", "4 in ten litres".
#[must_use]
pub fn worms(per_ft3: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::UsCustomary => format!("{per_ft3:.0} in a cubic foot"),
        UnitSystem::Metric => format!("{:.0} in ten litres of ground", 10.0 * per_ft3 / LITRES_PER_FT3),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A cubic foot is 28.317 L: 12 in it are 4.2 in ten litres (arithmetic).
    #[test]
    fn earthworms_are_counted_in_the_reader_s_volume() {
        assert_eq!(worms(12.0, UnitSystem::UsCustomary), "12 in a cubic foot");
        assert_eq!(worms(12.0, UnitSystem::Metric), "4 in ten litres of ground");
    }
}
