//! The soil of a bed: the belief about its plot, and its layers where somebody looked.

use book::Snapshot;
use book::model::seen::Layers;
use ground::belief::Ensemble;
use ground::irrigation::balance::soils::DEMAND_ERROR;
use ground::irrigation::balance::{BedSoils, LayerOfDraws};
use ground::kit::Bounded;
use ground::texture::Class;
use ground::water::WaterEnsemble;

use crate::layer_soil::own_evidence;
use crate::plot_report::PlotReport;

/// As deep as any root is reckoned to go, m.
const BOTTOM_M: f64 = 1.5;

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
        .map(|layers| {
            layers.layers.iter().map(|layer| own_evidence(report.id, &report.belief, layer)).collect()
        })
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
