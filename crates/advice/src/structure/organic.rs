//! Organic matter over the years: what goes, what applications and covers of the book leave, and where it settles.

use book::Snapshot;
use book::model::{EntryId, SpreadMaterial};
use ground::fertility::blend::catalogue::generic;
use ground::kit::chance::Chance;
use ground::kit::{Bounded, Spread};
use ground::structure::organic::budget::{Budget, layer_t_ha};
use ground::structure::organic::decay::decay_per_year;
use ground::structure::organic::kinds::Addition;
use ground::structure::organic::water_gain::{REVIEW_SLOPE, water_gain_mm};
use jiff::civil::Date;
use serde::Serialize;

use crate::covers::cover_nitrogen;
use crate::plot_report::PlotReport;

/// Depth that the budget is drawn up over, cm: six inches, as beds are worked.
pub const DEPTH_CM: f64 = 15.24;
/// Years of applications that are taken as what goes on.
const LOOKED_BACK: i16 = 3;
/// Organic matter over its carbon (van Bemmelen's factor).
const PER_CARBON: f64 = 1.724;
/// Share of the weight that is organic matter where no carbon is given: finished compost as it is spread, solid
/// manure, straw (judgement).
const COMPOST_SHARE: f64 = 0.25;
const MANURE_SHARE: f64 = 0.20;
const STRAW_SHARE: f64 = 0.80;
/// Organic share of the dry matter of a cover's tops; the rest is ash (judgement).
const COVER_SHARE: f64 = 0.90;
/// Ground under cover loses this many times as much (1.2 to 1.5, common practice).
const UNDER_COVER_TIMES: f64 = 1.35;
/// How far the yearly loss may be off either way, one standard deviation (judgement).
const DECAY_OFF: f64 = 0.25;
const SEED: u64 = 7;

/// What is given every year.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GiftTold {
    /// What it is called.
    pub name: String,
    /// What it counts as.
    pub kind: Addition,
    /// Its organic matter, dry, a year.
    pub organic_t_ha: f64,
}

/// The budget of a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OrganicTold {
    /// Organic matter now, percent.
    pub now_percent: Spread,
    /// Was it measured?
    pub measured: bool,
    /// Mean temperature of the year, °C; none where no usual weather is in the book.
    pub mean_c: Option<f64>,
    /// Share lost in a year.
    pub decay_per_year: Option<Spread>,
    /// Humus to gain each year to keep what there is, t/ha.
    pub to_keep_t_ha: Option<Spread>,
    /// What was given, over the years looked back.
    pub gifts: Vec<GiftTold>,
    /// Years it was taken from.
    pub over_years: u32,
    /// Humus that it leaves in a year, t/ha.
    pub gained_t_ha: Option<Spread>,
    /// Organic matter in 5, 10 and 20 years if this goes on.
    pub course: Vec<(u32, Spread)>,
    /// Where it settles.
    pub settles_at_percent: Option<Spread>,
    /// Available water gained in the layer by one percent more, mm, by the mean of sixty studies.
    pub water_for_a_percent_mm: f64,
    /// What was spread and could not be counted.
    pub uncounted: Vec<String>,
}

/// The budget of a plot over everything that its ground may be.
#[must_use]
pub fn organic(snapshot: &Snapshot, report: &PlotReport, measured: bool, today: Date) -> Option<OrganicTold> {
    let (draws, weights) = (&report.ensemble.draws, &report.ensemble.weights);
    let now: Vec<f64> = draws.iter().map(|draw| draw.organic_matter_percent).collect();
    let (gifts, over_years, uncounted) = gifts(snapshot, report.id, today);
    let mean_c = mean_c(snapshot);
    let mut told = OrganicTold {
        now_percent: Spread::of(&now, weights)?,
        measured,
        mean_c,
        decay_per_year: None,
        to_keep_t_ha: None,
        gifts,
        over_years,
        gained_t_ha: None,
        course: Vec::new(),
        settles_at_percent: None,
        water_for_a_percent_mm: water_gain_mm(REVIEW_SLOPE, 1.0, 10.0 * DEPTH_CM),
        uncounted,
    };
    let Some(mean_c) = mean_c else { return Some(told) };
    let times = if report.place.under_cover() { UNDER_COVER_TIMES } else { 1.0 };
    let mut chance = Chance::new(SEED);
    let (mut decays, mut keeps, mut gains, mut budgets) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for (at, draw) in draws.iter().enumerate() {
        let off = (1.0 + DECAY_OFF * chance.normal()).max(0.2);
        let decay = times * off * decay_per_year(mean_c, draw.soil.clay, 0.0);
        let layer = layer_t_ha(report.water_draws.matric_density_g_cm3[at], DEPTH_CM);
        let share = chance.uniform();
        let gained: f64 = told
            .gifts
            .iter()
            .map(|gift| {
                let (low, high, _) = gift.kind.humified();
                gift.organic_t_ha * (low + share * (high - low))
            })
            .sum();
        decays.push(decay);
        keeps.push(draw.organic_matter_percent / 100.0 * layer * decay);
        gains.push(gained);
        budgets.push(Budget {
            now_percent: draw.organic_matter_percent,
            decay,
            gain_percent: 100.0 * gained / layer,
        });
    }
    let over = |of: &dyn Fn(&Budget) -> f64| {
        let each: Vec<f64> = budgets.iter().map(of).collect();
        Spread::of(&each, weights)
    };
    told.decay_per_year = Spread::of(&decays, weights);
    told.to_keep_t_ha = Spread::of(&keeps, weights);
    told.gained_t_ha = Spread::of(&gains, weights);
    told.settles_at_percent = over(&Budget::settles_at_percent);
    told.course = [5_u32, 10, 20]
        .into_iter()
        .filter_map(|years| Some((years, over(&|budget| budget.after(f64::from(years)))?)))
        .collect();
    Some(told)
}

/// Mean temperature of the year by the usual weather.
fn mean_c(snapshot: &Snapshot) -> Option<f64> {
    let normals = snapshot.normals()?;
    let sum: f64 =
        normals.body.months.iter().map(|month| f64::midpoint(month.tmax_c.get(), month.tmin_c.get())).sum();
    Some(sum / 12.0)
}

/// One gift of one year: its organic matter over the whole plot, t/ha.
struct Gift {
    year: i16,
    name: String,
    kind: Addition,
    organic_t_ha: f64,
}

fn gifts(snapshot: &Snapshot, plot: EntryId, today: Date) -> (Vec<GiftTold>, u32, Vec<String>) {
    let last = today.year();
    let (mut given, mut uncounted) = (covers(snapshot, plot, today), Vec::new());
    for year in last - LOOKED_BACK + 1..=last {
        for spread in snapshot.spread_on_plot(plot, year) {
            let Some((name, kind, share)) = organic_share(snapshot, &spread.material) else { continue };
            match share {
                // 1 kg/m² is 10 t/ha.
                Some(share) => {
                    given.push(Gift { year, name, kind, organic_t_ha: 10.0 * spread.kg_m2() * share });
                }
                None if uncounted.contains(&name) => {}
                None => uncounted.push(name),
            }
        }
    }
    let Some(first) = given.iter().map(|gift| gift.year).min() else { return (Vec::new(), 0, uncounted) };
    let span = last - first + 1;
    let mut gifts = Vec::<GiftTold>::new();
    for Gift { name, kind, organic_t_ha, .. } in given {
        let organic_t_ha = organic_t_ha / f64::from(span);
        match gifts.iter_mut().find(|gift| gift.name == name) {
            Some(gift) => gift.organic_t_ha += organic_t_ha,
            None => gifts.push(GiftTold { name, kind, organic_t_ha }),
        }
    }
    #[expect(clippy::cast_sign_loss, reason = "a span of years is positive")]
    let over_years = span as u32;
    (gifts, over_years, uncounted)
}

/// The tops of covers that were ended here and not carried off, spread over the whole plot.
fn covers(snapshot: &Snapshot, plot: EntryId, today: Date) -> Vec<Gift> {
    let Some(plot_m2) = snapshot.plot(plot).map(|held| held.body.shape.area_m2()) else { return Vec::new() };
    snapshot
        .covers
        .iter()
        .filter_map(|held| {
            let bed = snapshot.bed(held.body.bed).filter(|bed| bed.body.plot == plot)?;
            let told = cover_nitrogen(snapshot, held)?;
            let year = told.ended_on.year();
            let [_, kg_ha, _] = told.dry_matter_kg_ha;
            let organic_t_ha = kg_ha / 1000.0 * COVER_SHARE * bed.body.area_m2() / plot_m2;
            let counts = told.ended_on <= today && year > today.year() - LOOKED_BACK;
            counts.then_some(Gift { year, name: told.name, kind: Addition::GreenManure, organic_t_ha })
        })
        .collect()
}

/// What a material counts as, and the share of its weight that is organic matter; `None` for a mineral.
fn organic_share(snapshot: &Snapshot, spread: &SpreadMaterial) -> Option<(String, Addition, Option<f64>)> {
    let (name, key, n_percent, c_n) = match spread {
        SpreadMaterial::Shelf(id) => {
            let material = &snapshot.material(*id)?.body;
            let known = material.key.as_deref().and_then(generic);
            let n = material.analysis.n_percent.map(Bounded::get).or(known.map(|known| known.n_percent));
            let c_n = material.carbon_nitrogen.map(Bounded::get).or(known.and_then(|known| known.c_to_n));
            (material.name.clone(), material.key.clone().unwrap_or_default(), n, c_n)
        }
        SpreadMaterial::Catalogue(key) => {
            let known = generic(key)?;
            (known.name.clone(), key.clone(), Some(known.n_percent), known.c_to_n)
        }
    };
    let said = format!("{} {}", name.to_lowercase(), key.to_lowercase());
    let has = |words: &[&str]| words.iter().any(|word| said.contains(word));
    let carbon = n_percent.zip(c_n).map(|(n, c_n)| (n / 100.0 * c_n * PER_CARBON).min(0.95));
    let (kind, usual) = if has(&["compost"]) {
        (Addition::Compost, Some(COMPOST_SHARE))
    } else if has(&["manure", "litter"]) {
        (Addition::SolidManure, Some(MANURE_SHARE))
    } else if has(&["straw", "hay", "leaves", "chips", "bark", "mulch"]) {
        (Addition::Straw, Some(STRAW_SHARE))
    } else {
        // Meals and pellets: little of it, and gone within the year, but carbon all the same.
        carbon?;
        (Addition::GreenManure, None)
    };
    Some((name, kind, carbon.or(usual)))
}
