//! What of which liming material, and what each bed needs.

use book::model::{EntryId, Material, OrganicUse, Plot, SpreadMaterial};
use book::{Held, Snapshot};
use ground::fertility::acidity::effectiveness::{EffectivenessSystem, Fineness, LimingMaterial};
use ground::fertility::acidity::north_carolina::{CarolinaClass, residual_credit};
use ground::fertility::acidity::product::{LimePlacement, LimeSplit, product_kg_m2, split};
use ground::fertility::acidity::quantity::PassingPercent;
use ground::fertility::blend::catalogue::generic;
use ground::kit::Bounded;
use serde::Serialize;

use super::lime::LimeSpread;
use super::reading::AcidTest;
use crate::feeding::contents::neutralizing_percent;
use crate::words::short;

/// Neutralizing value from which a material is lime to spread, percent.
const LIME_FROM_PERCENT: f64 = 20.0;
/// Stronger than any ground stone: burnt or hydrated.
const CAUSTIC_FROM_PERCENT: f64 = 120.0;
/// The limestone of the catalogue that stands in where the shelf holds no lime.
const PLAIN: &str = "ground-limestone";
const DAYS_A_MONTH: f64 = 30.44;

/// A bed's need of pure calcium carbonate.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BedLime {
    /// The bed; nothing where the plot has none and is limed as a whole.
    pub bed: Option<EntryId>,
    /// Its name.
    pub name: String,
    /// How many equal beds.
    pub count: u16,
    /// Area of each, m².
    pub area_m2: f64,
    /// Lime at work still, or spread since the test, kg/m² of calcium carbonate.
    pub credit_kg_m2: f64,
    /// Median need less that, kg/m².
    pub median_kg_m2: f64,
    /// What suffices in four cases of five, less that, kg/m².
    pub p80_kg_m2: f64,
}

/// What of one material.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ProductLine {
    /// The material: of the shelf, or the plain limestone of the catalogue.
    pub material: SpreadMaterial,
    /// Its name.
    pub name: String,
    /// How it was weighed, in words.
    pub weighed_by: &'static str,
    /// Share of a weight of it that works, percent.
    pub works_percent: f64,
    /// For the median need, kg/m².
    pub median_kg_m2: f64,
    /// For the need that suffices in four cases of five, kg/m².
    pub p80_kg_m2: f64,
    /// In parts.
    pub split: LimeSplit,
    /// For each bed of the list, kg in all for one bed.
    pub beds_kg: Vec<f64>,
    /// What to know of it.
    pub notes: Vec<String>,
}

/// Calcium carbonate still to come from lime spread on a plot or one of its beds: all that was spread since the
/// test, and of lime spread before it what the monthly shares leave (mineral soil).
fn credit(
    snapshot: &Snapshot,
    plot: &Held<Plot>,
    bed: Option<(EntryId, f64)>,
    test: Option<&AcidTest>,
) -> f64 {
    let Some(test) = test else { return 0.0 };
    let plot_m2 = plot.body.shape.area_m2();
    snapshot
        .applications_on(plot.id)
        .into_iter()
        .filter_map(|held| {
            let percent = neutralizing_percent(snapshot, &held.body.spread)?;
            let area = match (held.body.bed, bed) {
                (Some(of), Some((bed, area))) if of == bed => area,
                (Some(_), _) => return None,
                (None, _) => plot_m2,
            };
            let kg_m2 = snapshot.kg_on(plot.id, &held.body) * percent / 100.0 / area;
            let days = f64::from(test.on.since(held.body.on).map_or(0, |span| span.get_days()));
            Some(residual_credit(kg_m2, (days / DAYS_A_MONTH).max(0.0), CarolinaClass::Mineral))
        })
        .sum()
}

pub(super) fn beds(
    snapshot: &Snapshot,
    plot: &Held<Plot>,
    test: Option<&AcidTest>,
    need: LimeSpread,
) -> Vec<BedLime> {
    let line = |bed: Option<EntryId>, name: String, count: u16, area_m2: f64, credit_kg_m2: f64| BedLime {
        bed,
        name,
        count,
        area_m2,
        credit_kg_m2,
        median_kg_m2: (need.carbonate_kg_m2.median - credit_kg_m2).max(0.0),
        p80_kg_m2: (need.p80_kg_m2 - credit_kg_m2).max(0.0),
    };
    let mut lines: Vec<BedLime> = snapshot
        .beds_of(plot.id)
        .map(|bed| {
            let all = bed.body.area_m2();
            let each = all / f64::from(bed.body.count);
            let credit = credit(snapshot, plot, Some((bed.id, all)), test);
            line(Some(bed.id), bed.body.name.clone(), bed.body.count, each, credit)
        })
        .collect();
    if lines.is_empty() {
        let credit = credit(snapshot, plot, None, test);
        lines.push(line(None, plot.body.name.clone(), 1, plot.body.shape.area_m2(), credit));
    }
    lines
}

/// The lines of every lime on the shelf, else of plain limestone.
pub(super) fn lines(
    snapshot: &Snapshot,
    organic: bool,
    need: LimeSpread,
    system: EffectivenessSystem,
    beds: &[BedLime],
) -> Vec<ProductLine> {
    let mut lines: Vec<ProductLine> = snapshot
        .materials
        .iter()
        .filter(|held| {
            held.body.neutralizing_percent.is_some_and(|share| share.get() >= LIME_FROM_PERCENT)
                && held.body.analysis.n_percent.is_none_or(|share| share.get() < 0.5)
        })
        .filter(|held| !(organic && held.body.organic == Some(OrganicUse::No)))
        .filter_map(|held| {
            let material = liming(&held.body)?;
            let of = SpreadMaterial::Shelf(held.id);
            let mut line = line(of, &held.body.name, &material, need, system, beds);
            if organic && held.body.organic != Some(OrganicUse::Yes) {
                line.notes.push("Ask your certifier before you spread it.".to_owned());
            }
            Some(line)
        })
        .collect();
    if let (true, Some(known)) = (lines.is_empty(), generic(PLAIN)) {
        let material = LimingMaterial {
            carbonate_equivalent_percent: known.cce_percent,
            moisture_percent: known.moisture_percent.unwrap_or(0.0),
            fineness: Fineness::default(),
        };
        let name = format!("{} of {} % calcium carbonate equivalent", known.name, short(known.cce_percent));
        let of = SpreadMaterial::Catalogue(known.key.clone());
        let mut plain = line(of, &name, &material, need, system, beds);
        plain.notes.push(
            "No lime stands on your shelf: enter yours with the figures of its label, and this becomes exact."
                .to_owned(),
        );
        lines.push(plain);
    }
    lines
}

fn liming(material: &Material) -> Option<LimingMaterial> {
    let mut fineness = Fineness::default();
    for sieve in &material.sieves {
        if let Ok(percent) = PassingPercent::new(sieve.passing_percent.get()) {
            fineness.set(sieve.mesh, percent);
        }
    }
    Some(LimingMaterial {
        carbonate_equivalent_percent: material.neutralizing_percent?.get(),
        moisture_percent: material.moisture_percent.map_or(0.0, Bounded::get),
        fineness,
    })
}

fn line(
    of_material: SpreadMaterial,
    name: &str,
    material: &LimingMaterial,
    need: LimeSpread,
    system: EffectivenessSystem,
    beds: &[BedLime],
) -> ProductLine {
    let mut notes = Vec::new();
    let (effect, weighed_by) = match system.effect(material) {
        Ok(effect) => (effect, system.words()),
        Err(mesh) => {
            notes.push(format!(
                "The farm's method weighs lime by {}, which needs the share passing {mesh} mesh: weighed by calcium carbonate equivalent alone, which is too little where the lime is coarse.",
                system.words()
            ));
            let plain = EffectivenessSystem::CarbonateEquivalent;
            // Calcium carbonate equivalent needs no sieve.
            let Ok(effect) = plain.effect(material) else { unreachable!("it asks for no sieve") };
            (effect, plain.words())
        }
    };
    if material.carbonate_equivalent_percent >= CAUSTIC_FROM_PERCENT {
        notes.push(
            "This is burnt or hydrated lime: it burns eyes, skin and seedlings, and the US organic rule does not allow it."
                .to_owned(),
        );
    }
    let of =
        |carbonate: f64| if effect.as_sold_percent > 0.0 { product_kg_m2(carbonate, &effect) } else { 0.0 };
    let median_kg_m2 = of(need.carbonate_kg_m2.median);
    ProductLine {
        material: of_material,
        name: name.to_owned(),
        weighed_by,
        works_percent: effect.as_sold_percent,
        median_kg_m2,
        p80_kg_m2: of(need.p80_kg_m2),
        split: split(median_kg_m2, LimePlacement::MixedIn),
        beds_kg: beds.iter().map(|bed| of(bed.median_kg_m2) * bed.area_m2).collect(),
        notes,
    }
}
