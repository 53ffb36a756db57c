//! The soil of a bed: the belief about its plot, and its layers where somebody looked.

use book::Snapshot;
use book::model::EntryId;
use book::model::seen::{Layer, Layers};
use ground::belief::{Beside, Ensemble, Known, Options, Packing, Stones, Witness, believe};
use ground::irrigation::balance::soils::DEMAND_ERROR;
use ground::irrigation::balance::{BedSoils, LayerOfDraws};
use ground::kit::Bounded;
use ground::texture::feel::Hand;
use ground::texture::{Class, Composition, PercentError};
use ground::water::{Scatter, WaterEnsemble};

use crate::evidence::packing_known;
use crate::plot_report::PlotReport;

/// As deep as any root is reckoned to go, m.
const BOTTOM_M: f64 = 1.5;
/// Draws of a layer that has evidence of its own.
const LAYER_DRAWS: usize = 1_000;

/// The soil of a bed, with what to say of it.
pub(super) struct BedGround {
    /// Equally likely draws.
    pub soils: BedSoils,
    /// The likeliest class of the top.
    pub class: Class,
    /// Remarks.
    pub notes: Vec<String>,
}

/// The soil of a plot's beds in `draws` draws; `None` where nothing holds water at all.
pub(super) fn of_plot(snapshot: &Snapshot, report: &PlotReport, draws: usize) -> Option<BedGround> {
    let mut notes = Vec::new();
    let seen = snapshot.layers_of(report.id).map(|(_, layers)| layers);
    let own: Vec<Option<(Ensemble, WaterEnsemble)>> = seen
        .map(|layers| layers.layers.iter().map(|layer| own_evidence(report.id, layer)).collect())
        .unwrap_or_default();
    let plot = (&report.ensemble, &report.water_draws);
    let mut layers: Vec<LayerOfDraws<'_>> = Vec::new();
    for (layer, own) in seen.into_iter().flat_map(|seen| &seen.layers).zip(&own) {
        let (soil, water) = own.as_ref().map_or(plot, |(soil, water)| (soil, water));
        layers.push(LayerOfDraws { bottom_m: layer.to_cm.get() / 100.0, soil, water });
    }
    match (seen.map(Layers::bottom_cm), layers.last().copied()) {
        (Some(bottom_cm), Some(last)) if bottom_cm / 100.0 < BOTTOM_M => {
            notes.push(format!(
                "Nothing was seen below {}; the ground there is taken as the layer above it.",
                crate::words::depth(bottom_cm, snapshot.farm.body.units)
            ));
            layers.push(LayerOfDraws { bottom_m: BOTTOM_M, ..last });
        }
        (_, None) => layers.push(LayerOfDraws { bottom_m: BOTTOM_M, soil: plot.0, water: plot.1 }),
        _ => {}
    }
    let soils = BedSoils::from_layers(&layers, draws, DEMAND_ERROR)?;
    Some(BedGround { soils, class: report.make_up.class, notes })
}

/// The draws of a layer of which something was seen.
fn own_evidence(plot: EntryId, layer: &Layer) -> Option<(Ensemble, WaterEnsemble)> {
    let label = format!("the layer from {:.0} to {:.0} cm", layer.from_cm.get(), layer.to_cm.get());
    let witness = witness_of(plot, layer, &label)?;
    let options = Options { draws: LAYER_DRAWS, compare_witnesses: false, ..Options::default() };
    let belief = believe(&[witness], &options);
    let stones = layer.stones_volume_percent.map(Bounded::get);
    let beside = Beside {
        organic_matter_percent: layer.organic_matter_percent.map(|percent| {
            let percent = percent.get();
            Known { low: 0.7 * percent, likely: percent, high: (1.3 * percent).min(100.0) }
        }),
        stones: stones.map(|percent| {
            Stones::VolumePercent(Known {
                low: 0.6 * percent,
                likely: percent,
                high: (1.4 * percent).min(95.0),
            })
        }),
        packing: layer.packing.map(|packing| -> Packing { packing_known(packing) }),
        ec_ds_m: None,
    };
    let ensemble = Ensemble::of(&belief, &beside);
    let water = WaterEnsemble::of(&ensemble, Scatter::OfRealSoils);
    Some((ensemble, water))
}

/// A class named in a pit is a practised hand's; sand and clay in figures are taken to be off by 5 points
/// (judgement).
fn witness_of(plot: EntryId, layer: &Layer, label: &str) -> Option<Witness> {
    let id = format!("{plot} {label}");
    if let Some(class) = layer.class {
        let likelihood = ground::texture::feel::accuracy::likelihood(&[class], Hand::Practised);
        let account = ground::belief::Account::Named { class, likelihood };
        return Some(Witness { id, label: label.to_owned(), account });
    }
    let (sand, clay) = (layer.sand_percent?.get(), layer.clay_percent?.get());
    let soil = Composition::from_parts(sand.max(0.5), (100.0 - sand - clay).max(0.5), clay.max(0.5));
    let account = PercentError::none().and(5.0, 5.0).account(soil);
    Some(Witness { id, label: label.to_owned(), account })
}
