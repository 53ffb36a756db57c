//! From needs, lime and shelf to the question that is solved.

use std::collections::BTreeMap;

use book::Snapshot;
use book::model::{EntryId, OrganicUse};
use ground::fertility::blend::Carried;
use ground::fertility::blend::catalogue::MaterialKind;
use ground::fertility::blend::problem::{
    BedAreaM2, BedNeed as Line, BlendBed, BlendMaterial, BlendProblem, ContentKgKg, Kilograms, PackKg, Price,
};
use ground::fertility::schemes::Nutrient;
use ground::kit::Bounded;
use jiff::civil::Date;

use super::settings::{Aim, PlanSettings};
use crate::feeding::needs::{BedNeed, LimitOf, Need};
use crate::feeding::shelf::ShelfLine;

/// Lime that a bed needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LimeWant {
    /// The bed, or the plot where it has none.
    pub ground: EntryId,
    /// As calcium carbonate, in the middle.
    pub median_g_m2: f64,
    /// Enough with odds of 80 %.
    pub p80_g_m2: f64,
}

/// The lime of the farm.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Lime {
    /// Beds that need some.
    pub wants: Vec<LimeWant>,
    /// Share of each material's weight that works, by the system of the farm's lime method.
    pub works: BTreeMap<EntryId, f64>,
}

/// Magnesium in magnesia by mass.
const MG_PER_MGO: f64 = 24.305 / 40.304;
/// Phosphorus that a bed may get where none is needed and nothing is known against it, g/m² P2O5 (judgement).
const UNASKED_P2O5_G_M2: f64 = 2.0;
/// Salts that a bed under cover may get in one go, g/m² (judgement): about 0.8 g in each litre of the water in
/// a foot of ground.
const SALTS_UNDER_COVER_G_M2: f64 = 60.0;
/// Work of carrying and spreading, in the farm's money for each kg (judgement): enough that nothing is spread
/// for no use, too little to sway a purchase.
const SPREADING_PER_KG: f64 = 0.01;

/// The question, the shelf line behind each material, and the need behind each bed.
pub(super) struct Built {
    pub problem: BlendProblem,
    /// Places in the shelf.
    pub materials: Vec<usize>,
    /// Places in the needs.
    pub beds: Vec<usize>,
}

/// `None`: no bed needs anything, or no material can be used.
pub(super) fn build(
    snapshot: &Snapshot,
    needs: &[BedNeed],
    lime: &Lime,
    shelf: &[ShelfLine],
    settings: &PlanSettings,
    today: Date,
) -> Option<Built> {
    let materials: Vec<usize> = (0..shelf.len()).filter(|&at| shelf[at].usable()).collect();
    let prices = Prices::of(shelf, &materials);
    let mut limed = Vec::new();
    let mut beds = Vec::new();
    let mut from = Vec::new();
    for (at, need) in needs.iter().enumerate() {
        let ground = need.ground();
        let want = lime.wants.iter().find(|want| want.ground == ground).filter(|_| !limed.contains(&ground));
        limed.push(ground);
        let lines = lines(need, want, settings, &prices);
        if !lines.iter().any(|line| line.target_kg.get() > 0.0) {
            continue;
        }
        let never = shelf
            .iter()
            .filter(|line| line.kind == MaterialKind::Manure && too_late_for_manure(snapshot, need, today))
            .filter(|line| line.usable())
            .map(|line| line.name.clone())
            .collect();
        let Ok(area_m2) = BedAreaM2::new(need.area_m2) else { continue };
        beds.push(BlendBed {
            name: super::bed_key(need),
            area_m2,
            needs: lines,
            organic_only: snapshot
                .plot(need.plot)
                .is_some_and(|plot| snapshot.under_organic_rules(&plot.body)),
            never,
            most_materials: Some(settings.most_materials),
        });
        from.push(at);
    }
    let problem =
        BlendProblem { materials: materials.iter().map(|&at| material(&shelf[at], lime)).collect(), beds };
    let some = !problem.beds.is_empty() && !problem.materials.is_empty();
    some.then_some(Built { problem, materials, beds: from })
}

/// Whether the harvest comes before raw manure may be followed by one. Without a date it counts as too late.
fn too_late_for_manure(snapshot: &Snapshot, need: &BedNeed, today: Date) -> bool {
    let harvest = snapshot
        .plantings
        .iter()
        .find(|planting| Some(planting.id) == need.planting)
        .and_then(|planting| planting.body.harvest_on);
    harvest.is_none_or(|harvest| {
        let days = today.until(harvest).map_or(0, |span| span.get_days());
        days < i32::try_from(need.raw_manure_interval_d).unwrap_or(i32::MAX)
    })
}

fn material(line: &ShelfLine, lime: &Lime) -> BlendMaterial {
    let price = line.price.map_or(0.0, |price| price.get().to_string().parse().unwrap_or(0.0));
    let content = line
        .carries_kg_kg
        .iter()
        .filter_map(|(&carried, &share)| {
            // Coarse lime counts for what of it works.
            let works = lime.works.get(&line.id).filter(|_| carried == Carried::Lime);
            Some((carried, ContentKgKg::new(*works.unwrap_or(&share)).ok()?))
        })
        .collect();
    let can_be_bought = line.pack_kg.is_some() && line.price.is_some();
    BlendMaterial {
        name: line.name.clone(),
        content_kg_kg: content,
        pack_kg: PackKg::new(line.pack_kg.unwrap_or(1.0)).unwrap_or(PackKg::literal(1.0)),
        price_per_pack: Price::new(price).unwrap_or(Price::literal(0.0)),
        in_hand_kg: Kilograms::new(line.in_hand_kg).unwrap_or(Kilograms::literal(0.0)),
        most_packs: (!can_be_bought).then_some(0),
        organic: line.organic == OrganicUse::Yes,
        spreading_price_per_kg: Price::literal(SPREADING_PER_KG),
    }
}

/// The cheapest price of a kg of each thing on this shelf.
struct Prices(BTreeMap<Carried, f64>);

impl Prices {
    fn of(shelf: &[ShelfLine], materials: &[usize]) -> Self {
        let mut cheapest = BTreeMap::new();
        for &at in materials {
            let line = &shelf[at];
            let (Some(pack), Some(price)) = (line.pack_kg, line.price) else { continue };
            let price: f64 = price.get().to_string().parse().unwrap_or(0.0);
            for (&carried, &share) in &line.carries_kg_kg {
                let per_kg = price / pack / share;
                let best = cheapest.entry(carried).or_insert(per_kg);
                *best = f64::min(*best, per_kg);
            }
        }
        Self(cheapest)
    }

    /// Falling short counts twice what the cheapest source costs; running over, half of that.
    fn weights(&self, carried: Carried) -> (Price, Price) {
        let cheapest = self.0.get(&carried).copied().unwrap_or(1.0).clamp(0.01, 10_000.0);
        (Price::literal(2.0 * cheapest), Price::literal(0.5 * cheapest))
    }
}

fn aimed(need: &Need, aim: Aim) -> f64 {
    match aim {
        Aim::Median => need.median_g_m2,
        Aim::P80 => need.p80_g_m2,
    }
}

fn lines(need: &BedNeed, lime: Option<&LimeWant>, settings: &PlanSettings, prices: &Prices) -> Vec<Line> {
    let area = need.area_m2;
    let limit = |of: LimitOf| {
        need.limits.iter().filter(|limit| limit.of == of).map(|limit| limit.most_g_m2).reduce(f64::min)
    };
    let mut lines = Vec::new();
    let mut add = |carried: Carried, target_g_m2: f64, over: f64, most_g_m2: Option<f64>| {
        let target = (target_g_m2 * area / 1000.0).max(0.0);
        let low = target * (1.0 - settings.short_percent / 100.0);
        let high = most_g_m2.map_or(target * (1.0 + over / 100.0), |most| most * area / 1000.0);
        let (under, beyond) = prices.weights(carried);
        let (Ok(target_kg), Ok(low), Ok(high)) =
            (Kilograms::new(target), Kilograms::new(low), Kilograms::new(high.max(target)))
        else {
            return;
        };
        lines.push(Line {
            carried,
            target_kg,
            at_least_kg: Some(low),
            at_most_kg: Some(high),
            price_under_per_kg: under,
            price_over_per_kg: if target > 0.0 { beyond } else { Price::literal(0.0) },
        });
    };
    let over = settings.over_percent;
    for nutrient in [Nutrient::N, Nutrient::P2o5, Nutrient::K2o, Nutrient::Mgo, Nutrient::B] {
        let aimed = need.need(nutrient).map_or(0.0, |need| aimed(need, settings.aim));
        match nutrient {
            Nutrient::N if aimed > 0.0 => add(Carried::N, aimed, over, None),
            // Phosphorus is limited on every bed: it builds up where compost and manure feed the nitrogen.
            Nutrient::P2o5 => {
                let most = limit(LimitOf::P2o5)
                    .unwrap_or_else(|| (aimed * (1.0 + over / 100.0)).max(UNASKED_P2O5_G_M2));
                add(Carried::P2o5, aimed.min(most), over, Some(most));
            }
            // Potassium, magnesium and boron come with others; twice the slack, but boron.
            Nutrient::K2o if aimed > 0.0 => add(Carried::K2o, aimed, 2.0 * over, None),
            Nutrient::Mgo if aimed > 0.0 => add(Carried::Mg, aimed * MG_PER_MGO, 150.0, None),
            Nutrient::B if aimed > 0.0 => add(Carried::B, aimed, over, None),
            _ => {}
        }
    }
    if let Some(want) = lime {
        let aimed = match settings.aim {
            Aim::Median => want.median_g_m2,
            Aim::P80 => want.p80_g_m2,
        };
        if aimed > 0.0 {
            add(Carried::Lime, aimed, over, None);
        }
    }
    if let Some(most) = limit(LimitOf::Chloride) {
        add(Carried::Cl, 0.0, 0.0, Some(most));
    }
    if need.under_cover {
        add(Carried::Salt, 0.0, 0.0, Some(SALTS_UNDER_COVER_G_M2));
    }
    lines
}
