//! The season of potatoes and the variety groups it may be of, for the United Kingdom's rates of nitrogen.
//!
//! The book does not tell the group, that is how long a variety keeps its haulm: every group that the table has for
//! the season is drawn, each as often as the others.

use book::model::Planting;
use ground::climate::crops::find;
use ground::fertility::schemes::potato::nitrogen;
use ground::kit::{Cite, Step};
use jiff::civil::Date;

use super::drawn::likeliest;
use super::supply::Supply;

/// From planting to half emergence, d (common practice: three to five weeks).
const EMERGES_AFTER_D: f64 = 28.0;
/// From the death of the haulm to lifting, d (common practice: two to three weeks, for the skins to set).
const LIFTED_AFTER_D: f64 = 14.0;
/// The shortest season the table can be asked for, d.
const SHORTEST_D: f64 = 20.0;

/// Days from half emergence to the death of the haulm, with how they were found.
pub(super) struct Season {
    /// Days.
    pub days: f64,
    with_numbers: String,
}

/// The season of a planting: from its dates, else the shortest of the published ones.
pub(super) fn season(planting: &Planting) -> Season {
    let days_to = |date: Date| f64::from(date.since(planting.planted_on).map_or(0, |span| span.get_days()));
    let (stands, from) = match planting.ended_on.or(planting.harvest_on) {
        Some(date) => (days_to(date), "from planting to the end of the harvest"),
        None => {
            let shortest = find("potato")
                .ok()
                .and_then(|crop| crop.stages.iter().map(|row| row.stages.total_d()).min_by(f64::total_cmp));
            (shortest.unwrap_or(115.0), "the shortest published season, since no harvest is written down")
        }
    };
    Season {
        days: (stands - EMERGES_AFTER_D - LIFTED_AFTER_D).max(SHORTEST_D),
        with_numbers: format!(
            "{stands:.0} days ({from}), less {EMERGES_AFTER_D:.0} until half emergence and {LIFTED_AFTER_D:.0} from the death of the haulm to lifting (common practice)"
        ),
    }
}

/// The season with each group that the table has for it at the likeliest supply; with group 2 alone where it has
/// none, so that the reason is told.
pub(super) fn groups(days: f64, supply: &Supply) -> Vec<(f64, u8)> {
    let index = likeliest(&supply.odds);
    let found: Vec<(f64, u8)> =
        (1..=4).filter(|group| nitrogen(days, *group, index).is_some()).map(|group| (days, group)).collect();
    if found.is_empty() { vec![(days, 2)] } else { found }
}

impl Season {
    /// The step that tells it.
    pub(super) fn step(&self, groups: &[(f64, u8)]) -> Step {
        let list: Vec<String> = groups.iter().map(|(_, group)| group.to_string()).collect();
        Step {
            finds: "season of the potatoes and their variety group".to_owned(),
            rule: "days from half emergence to the death of the haulm; the book does not tell the variety group, so every group that the table has is drawn".to_owned(),
            with_numbers: self.with_numbers.clone(),
            result: format!("{:.0} days; groups {}", self.days, list.join(", ")),
            source: Some(Cite::new("Rb209Potatoes", "T5.10")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use book::model::{EntryId, PlantedCrop, PlantedHow};
    use jiff::civil::date;

    fn planting(harvest_on: Option<Date>) -> Planting {
        Planting {
            bed: "0190163d-8694-739b-aea5-966c26f8ad91".parse::<EntryId>().unwrap(),
            crop: PlantedCrop::Catalogue("potato".to_owned()),
            planted_on: date(2026, 4, 20),
            how: PlantedHow::Sown,
            harvest_on,
            ended_on: None,
            mulch: None,
            yield_goal_kg: None,
            note: String::new(),
        }
    }

    #[test]
    fn the_season_is_that_of_the_dates_and_every_group_of_the_table_is_drawn() {
        // 20 April to 9 September: 142 days, 100 from half emergence to the death of the haulm.
        let season = season(&planting(Some(date(2026, 9, 9))));
        assert_eq!(season.days, 100.0);
        let mut odds = [0.0; 7];
        odds[1] = 1.0;
        let supply = Supply { odds, words: String::new() };
        let groups = groups(season.days, &supply);
        assert_eq!(groups.iter().map(|pair| pair.1).collect::<Vec<_>>(), [1, 2, 3, 4]);
        assert!(season.step(&groups).result.contains("100 days; groups 1, 2, 3, 4"));
        assert!(super::season(&planting(None)).with_numbers.contains("no harvest"));
    }
}
