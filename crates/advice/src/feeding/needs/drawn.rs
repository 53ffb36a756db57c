//! A need as draws: the class it may lie in, the range of the rate, and what is credited.

use ground::fertility::schemes::{
    ClassFound, CropRates, Nutrient, RateQuestion, RateRange, Scheme, crop_rates,
};
use ground::kit::chance::{Chance, Fingerprint};

use super::credits::CreditLine;
use super::soil_test::{NEED_DRAWS, SoilTest};
use super::supply::Supply;

/// What rates are looked up with.
pub(super) struct Rating<'a> {
    pub scheme: Scheme,
    pub crop: &'a str,
    pub yield_t_ha: Option<f64>,
    pub organic_matter_percent: Option<f64>,
    pub tests: [Option<&'a SoilTest>; 3],
    pub supply: Option<&'a Supply>,
    /// Of potatoes: the season with each variety group that it may be; empty for other crops.
    pub potato: &'a [(f64, u8)],
}

impl Rating<'_> {
    /// Rates at the figures as they stand.
    pub(super) fn as_printed(&self) -> Option<CropRates> {
        let class = |place: usize| self.tests[place].and_then(|test| test.reading.class());
        let index = self.supply.map(|supply| likeliest(&supply.odds));
        let classes = [class(0), class(1), class(2)];
        let mut rates = self.rates(classes, index, self.potato.first().copied())?;
        let each: Vec<RateRange> =
            self.potato.iter().filter_map(|potato| self.rates(classes, index, Some(*potato))?.n).collect();
        if let Some(all) = over_groups(&each) {
            rates.n = Some(all);
        }
        Some(rates)
    }

    fn rates(
        &self,
        classes: [Option<&ClassFound>; 3],
        sns_index: Option<u8>,
        potato: Option<(f64, u8)>,
    ) -> Option<CropRates> {
        crop_rates(
            self.scheme,
            &RateQuestion {
                crop: self.crop,
                phosphorus: classes[0],
                potassium: classes[1],
                magnesium: classes[2],
                sns_index,
                organic_matter_percent: self.organic_matter_percent,
                yield_t_ha: self.yield_t_ha,
                potato,
            },
        )
        .ok()
    }

    /// The rate of a nutrient in each draw, kg/ha.
    pub(super) fn draws(&self, nutrient: Nutrient, printed: &RateRange) -> Vec<f64> {
        let mut print = Fingerprint::new();
        print.bytes(self.crop.as_bytes());
        print.bytes(nutrient.symbol().as_bytes());
        print.number(printed.target_kg_ha);
        let mut chance = Chance::new(print.finish());
        let place = match nutrient {
            Nutrient::P2o5 => Some(0),
            Nutrient::K2o => Some(1),
            Nutrient::Mgo => Some(2),
            Nutrient::N | Nutrient::B => None,
        };
        // Rates repeat from draw to draw: each class and index is looked up once.
        let mut known: Vec<(String, Option<RateRange>)> = Vec::new();
        (0..NEED_DRAWS)
            .map(|draw| {
                let mut classes = [None; 3];
                let mut index = None;
                let mut potato = self.potato.first().copied();
                let name = match place {
                    Some(place) => {
                        let class = self.tests[place].and_then(|test| test.draws.get(draw)?.as_ref());
                        classes[place] = class;
                        class.map_or_else(String::new, |class| class.class.clone())
                    }
                    None => {
                        index = self.supply.map(|supply| pick(&supply.odds, chance.uniform()));
                        if self.potato.len() > 1 {
                            potato = Some(one_of(self.potato, chance.uniform()));
                        }
                        let group = potato.map_or(0, |(_, group)| group);
                        index.map_or_else(String::new, |index| format!("{index} {group}"))
                    }
                };
                // Utah's rates slide within a class, so that each draw is looked up.
                let found =
                    if self.scheme == Scheme::Utah { None } else { known.iter().find(|one| one.0 == name) };
                let range = match found {
                    Some((_, range)) => range.clone(),
                    None => {
                        let range =
                            self.rates(classes, index, potato).and_then(|rates| rates.of(nutrient).cloned());
                        known.push((name, range.clone()));
                        range
                    }
                };
                let range = range.unwrap_or_else(|| printed.clone());
                between(&range, chance.uniform())
            })
            .collect()
    }
}

/// One of a list by a share of one.
fn one_of<T: Copy>(list: &[T], share: f64) -> T {
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a place in a short list"
    )]
    let at = (share * list.len() as f64) as usize;
    list[at.min(list.len() - 1)]
}

/// The range over variety groups that weigh alike: from the lowest to the highest, the mean of their middles.
fn over_groups(each: &[RateRange]) -> Option<RateRange> {
    let first = each.first()?;
    #[expect(clippy::cast_precision_loss, reason = "four groups")]
    let mean = each.iter().map(|range| range.target_kg_ha).sum::<f64>() / each.len() as f64;
    Some(RateRange {
        low_kg_ha: each.iter().map(|range| range.low_kg_ha).fold(f64::INFINITY, f64::min),
        target_kg_ha: mean,
        high_kg_ha: each.iter().map(|range| range.high_kg_ha).fold(f64::NEG_INFINITY, f64::max),
        ..first.clone()
    })
}

/// A value of a range whose middle part is likelier than its ends.
fn between(range: &RateRange, share: f64) -> f64 {
    let (low, middle, high) = (range.low_kg_ha, range.target_kg_ha, range.high_kg_ha);
    if high <= low {
        return middle;
    }
    // The triangle with its top at the target.
    let at_top = (middle - low) / (high - low);
    if share < at_top {
        low + (share * (high - low) * (middle - low)).sqrt()
    } else {
        high - ((1.0 - share) * (high - low) * (high - middle)).sqrt()
    }
}

fn pick(odds: &[f64; 7], share: f64) -> u8 {
    let mut left = share * odds.iter().sum::<f64>();
    for (index, each) in (0_u8..).zip(odds) {
        left -= each;
        if left <= 0.0 {
            return index;
        }
    }
    6
}

pub(super) fn likeliest(odds: &[f64; 7]) -> u8 {
    (0_u8..7).max_by(|a, b| odds[usize::from(*a)].total_cmp(&odds[usize::from(*b)])).unwrap_or(0)
}

/// Draws of what is left after credits, g/m², never below nothing.
pub(super) fn after_credits(gross_kg_ha: &[f64], credits: &[CreditLine], nutrient: Nutrient) -> Vec<f64> {
    let mut chance = Chance::new(0x5EED ^ gross_kg_ha.len() as u64);
    gross_kg_ha
        .iter()
        .map(|kg_ha| {
            let credited: f64 = credits
                .iter()
                .filter(|credit| credit.nutrient == nutrient)
                .map(|credit| {
                    let range = RateRange {
                        low_kg_ha: credit.low_g_m2,
                        target_kg_ha: credit.g_m2,
                        high_kg_ha: credit.high_g_m2,
                        class: String::new(),
                        source: String::new(),
                        at: String::new(),
                        provenance: ground::kit::Provenance::Computed,
                    };
                    between(&range, chance.uniform())
                })
                .sum();
            (0.1 * kg_ha - credited).max(0.0)
        })
        .collect()
}

/// The value that a share of the draws lies at or below.
pub(super) fn quantile(draws: &[f64], share: f64) -> f64 {
    let mut sorted = draws.to_vec();
    sorted.sort_by(f64::total_cmp);
    if sorted.is_empty() {
        return 0.0;
    }
    #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
    let place = share * (sorted.len() - 1) as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in the list")]
    let below = place as usize;
    let above = (below + 1).min(sorted.len() - 1);
    sorted[below] + (sorted[above] - sorted[below]) * place.fract()
}
