//! The rate of each nutrient for a bed: by the scheme, the farm's own, or what the harvest carries away.

use book::model::{PlantedCrop, Planting};
use book::{Held, Snapshot};
use ground::fertility::analysis::report::Analyte;
use ground::fertility::needs::removal::{REMOVAL_SPREAD, content};
use ground::fertility::schemes::{Nutrient, RateRange, Scheme};
use ground::kit::{Bounded, Provenance};

use super::crop_names::CropNames;
use super::drawn::{Rating, after_credits, quantile};
use super::potato;
use super::soil_test::{NEED_DRAWS, SoilTest};
use super::supply::supply;
use super::{BedNeed, Need, NeedBasis};
use crate::plot_report::PlotReport;

/// What the hoped-for harvest carries away, g/m²: nitrogen, phosphate, potash.
pub(super) fn removal_g_m2(need: &BedNeed, names: Option<&CropNames>) -> Option<[f64; 3]> {
    let goal = need.yield_goal_kg?;
    let holds = content(names?.removal()?)?;
    let kg_m2 = goal / need.area_m2;
    Some([holds.n_g_kg * kg_m2, holds.p2o5_g_kg * kg_m2, holds.k2o_g_kg * kg_m2])
}

/// Fills in the needs, the timing and what is wanted.
pub(super) fn fill(
    snapshot: &Snapshot,
    need: &mut BedNeed,
    planting: &Held<Planting>,
    names: Option<&CropNames>,
    tests: &[Option<SoilTest>; 3],
    report: Option<&PlotReport>,
) {
    own(snapshot, need, planting);
    by_scheme(snapshot, need, &planting.body, names, tests, report);
    replacement(need, names);
    if need.scheme.is_none() {
        need.wanted.push("No scheme is chosen: choose the one of your region in the settings.".to_owned());
    }
    let lacks = |nutrient| need.needs.iter().all(|one| one.nutrient != nutrient);
    if need.yield_goal_kg.is_none() && [Nutrient::N, Nutrient::P2o5, Nutrient::K2o].into_iter().any(lacks) {
        need.wanted.push(
            "Give the planting the yield you hope for: then at least what the harvest carries away can be told."
                .to_owned(),
        );
    }
}

/// Rates that the farm gives for a crop of its own win over everything.
fn own(snapshot: &Snapshot, need: &mut BedNeed, planting: &Held<Planting>) {
    let PlantedCrop::FarmCrop(id) = planting.body.crop else { return };
    let Some(crop) = snapshot.crop(id) else { return };
    let rates = [
        (Nutrient::N, crop.body.n_kg_ha),
        (Nutrient::P2o5, crop.body.p2o5_kg_ha),
        (Nutrient::K2o, crop.body.k2o_kg_ha),
    ];
    for (nutrient, rate) in rates {
        let Some(rate) = rate else { continue };
        let range = RateRange {
            low_kg_ha: rate.get(),
            target_kg_ha: rate.get(),
            high_kg_ha: rate.get(),
            class: String::new(),
            source: String::new(),
            at: String::new(),
            provenance: Provenance::Judgement,
        };
        let from = format!("the farm's own rate for {}", crop.body.name);
        let draws = vec![rate.get(); NEED_DRAWS];
        push(need, nutrient, NeedBasis::Own, &range, from, &draws);
    }
}

fn by_scheme(
    snapshot: &Snapshot,
    need: &mut BedNeed,
    planting: &Planting,
    names: Option<&CropNames>,
    tests: &[Option<SoilTest>; 3],
    report: Option<&PlotReport>,
) {
    let Some(scheme) = need.scheme else { return };
    let Some(crop) = names.and_then(|names| names.in_scheme(scheme)) else {
        need.wanted.push(format!(
            "{} has no rates for {}. Give rates of your own with a crop of your own; no other scheme fills the gap.",
            scheme.title(),
            need.crop
        ));
        return;
    };
    if scheme == Scheme::Rb209 && need.under_cover {
        need.wanted
            .push(format!("{} speaks of crops in the open, and this bed lies under cover.", scheme.title()));
    }
    let supplied =
        (scheme == Scheme::Rb209).then(|| supply(snapshot, planting.bed, planting.planted_on, report));
    let season = (scheme == Scheme::Rb209 && crop == "potato").then(|| potato::season(planting));
    let candidates = match (&season, &supplied) {
        (Some(season), Some(supplied)) => potato::groups(season.days, supplied),
        _ => Vec::new(),
    };
    let rating = Rating {
        scheme,
        crop,
        yield_t_ha: need.yield_goal_kg.map(|kg| kg / need.area_m2 * 10.0),
        organic_matter_percent: organic_matter(snapshot, need),
        tests: [tests[0].as_ref(), tests[1].as_ref(), tests[2].as_ref()],
        supply: supplied.as_ref(),
        potato: &candidates,
    };
    let Some(rates) = rating.as_printed() else { return };
    need.timing.clone_from(&rates.timing);
    for nutrient in Nutrient::ALL {
        if need.needs.iter().any(|one| one.nutrient == nutrient) {
            continue;
        }
        let Some(range) = rates.of(nutrient) else { continue };
        let draws = rating.draws(nutrient, range);
        push(need, nutrient, NeedBasis::Scheme, range, format!("{}, {}", scheme.title(), range.at), &draws);
    }
    if let Some(season) = season {
        need.working.push(season.step(&candidates));
    }
    if let Some(supplied) = supplied {
        need.working.push(ground::kit::Step {
            finds: "soil nitrogen supply index".to_owned(),
            rule: "the table of last crop, rain and soil, over the plot's make-up".to_owned(),
            with_numbers: supplied.words.clone(),
            result: (0..7)
                .filter(|index| supplied.odds[*index] >= 0.05)
                .map(|index| format!("{index} with odds of {:.0} %", 100.0 * supplied.odds[index]))
                .collect::<Vec<_>>()
                .join(", "),
            source: None,
        });
    }
    for missing in rates.missing {
        // The report says why there is no class better than the table can.
        let place = match missing.nutrient {
            Nutrient::P2o5 => Some((0, Analyte::Phosphorus)),
            Nutrient::K2o => Some((1, Analyte::Potassium)),
            Nutrient::Mgo => Some((2, Analyte::Magnesium)),
            Nutrient::N | Nutrient::B => None,
        };
        let why = match place {
            Some((place, analyte)) => match tests[place].as_ref().map(|test| &test.reading) {
                Some(ground::fertility::schemes::Interpretation::NoScheme { why }) => why.clone(),
                Some(_) => missing.why,
                None => format!("no laboratory report gives {} here", analyte.words()),
            },
            None => missing.why,
        };
        if need.needs.iter().all(|one| one.nutrient != missing.nutrient) {
            need.wanted.push(format!("No rate of {}: {why}.", missing.nutrient.words()));
        }
    }
}

fn organic_matter(snapshot: &Snapshot, need: &BedNeed) -> Option<f64> {
    super::credits::reported_organic_matter_percent(snapshot, need.plot)
}

/// What the hoped-for harvest carries away, where nothing better is known.
fn replacement(need: &mut BedNeed, names: Option<&CropNames>) {
    let Some(removal) = removal_g_m2(need, names) else { return };
    for (nutrient, g_m2) in [Nutrient::N, Nutrient::P2o5, Nutrient::K2o].into_iter().zip(removal) {
        if need.needs.iter().any(|one| one.nutrient == nutrient) {
            continue;
        }
        let kg_ha = 10.0 * g_m2;
        let range = RateRange {
            low_kg_ha: kg_ha * (1.0 - REMOVAL_SPREAD),
            target_kg_ha: kg_ha,
            high_kg_ha: kg_ha * (1.0 + REMOVAL_SPREAD),
            class: String::new(),
            source: "UsdaFoodComposition".to_owned(),
            at: String::new(),
            provenance: Provenance::Recalled,
        };
        #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
        let draws: Vec<f64> = (0..NEED_DRAWS)
            .map(|draw| {
                let share = (draw as f64 + 0.5) / NEED_DRAWS as f64;
                range.low_kg_ha + share * (range.high_kg_ha - range.low_kg_ha)
            })
            .collect();
        push(
            need,
            nutrient,
            NeedBasis::Replacement,
            &range,
            "what the hoped-for harvest carries away".to_owned(),
            &draws,
        );
    }
}

fn push(
    need: &mut BedNeed,
    nutrient: Nutrient,
    basis: NeedBasis,
    range: &RateRange,
    from: String,
    gross_draws_kg_ha: &[f64],
) {
    let lines = || need.credits.iter().filter(|credit| credit.nutrient == nutrient);
    let credited: f64 = lines().map(|credit| credit.g_m2).sum();
    let (least, most): (f64, f64) =
        (lines().map(|credit| credit.low_g_m2).sum(), lines().map(|credit| credit.high_g_m2).sum());
    let draws = after_credits(gross_draws_kg_ha, &need.credits, nutrient);
    #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
    let odds_needed = draws.iter().filter(|g_m2| **g_m2 > 0.05).count() as f64 / draws.len().max(1) as f64;
    need.needs.push(Need {
        nutrient,
        basis,
        gross_g_m2: [0.1 * range.low_kg_ha, 0.1 * range.target_kg_ha, 0.1 * range.high_kg_ha],
        credited_g_m2: credited,
        low_g_m2: (0.1 * range.low_kg_ha - most).max(0.0),
        target_g_m2: (0.1 * range.target_kg_ha - credited).max(0.0),
        high_g_m2: (0.1 * range.high_kg_ha - least).max(0.0),
        median_g_m2: quantile(&draws, 0.5),
        p80_g_m2: quantile(&draws, 0.8),
        odds_needed,
        class: range.class.clone(),
        from,
        provenance: range.provenance,
        draws,
    });
}
