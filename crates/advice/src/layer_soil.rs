//! What a layer of the ground may be, where something was seen of it.

use book::model::EntryId;
use book::model::seen::Layer;
use ground::belief::{Account, Belief, Beside, Ensemble, Known, Options, Stones, Witness, believe};
use ground::kit::Bounded;
use ground::texture::feel::{Hand, accuracy};
use ground::texture::{Composition, PercentError};
use ground::water::{Scatter, WaterEnsemble};

use crate::evidence::packing_known;

/// Draws of a layer that has evidence of its own.
const LAYER_DRAWS: usize = 1_000;
/// Layers that begin deeper hold less organic matter than ground that is worked.
pub(crate) const SUBSOIL_FROM_CM: f64 = 30.0;
/// Organic matter of a subsoil of which nothing was measured, percent (judgement).
const SUBSOIL_ORGANIC_MATTER: Known = Known { low: 0.3, likely: 1.0, high: 2.5 };

/// The draws of a layer of which more was seen than its depth; `None` where it was not. A layer without a
/// texture of its own has that of the plot.
#[must_use]
pub(crate) fn own_evidence(
    plot: EntryId,
    of_plot: &Belief,
    layer: &Layer,
) -> Option<(Ensemble, WaterEnsemble)> {
    let textured = witness(plot, layer);
    let beside_seen = layer.organic_matter_percent.is_some()
        || layer.packing.is_some()
        || layer.stones_volume_percent.is_some();
    let options = Options { draws: LAYER_DRAWS, compare_witnesses: false, ..Options::default() };
    let own = textured.map(|witness| believe(&[witness], &options));
    let belief = match &own {
        Some(own) => own,
        None if beside_seen => of_plot,
        None => return None,
    };
    let ensemble = Ensemble::of(belief, &beside(layer));
    let water = WaterEnsemble::of(&ensemble, Scatter::OfRealSoils);
    Some((ensemble, water))
}

/// What is known of a layer beside its texture; percentages read in a pit are off by a third (judgement).
fn beside(layer: &Layer) -> Beside {
    let deep = layer.from_cm.get() >= SUBSOIL_FROM_CM;
    let about = |percent: f64, off: f64, most: f64| Known {
        low: (1.0 - off) * percent,
        likely: percent,
        high: ((1.0 + off) * percent).min(most),
    };
    Beside {
        organic_matter_percent: layer
            .organic_matter_percent
            .map(|percent| about(percent.get(), 0.3, 100.0))
            .or(deep.then_some(SUBSOIL_ORGANIC_MATTER)),
        stones: layer.stones_volume_percent.map(|share| Stones::VolumePercent(about(share.get(), 0.4, 95.0))),
        packing: layer.packing.map(packing_known),
        ec_ds_m: None,
    }
}

/// A class named in a pit is a practised hand's; sand and clay in figures are taken to be off by 5 points
/// (judgement).
fn witness(plot: EntryId, layer: &Layer) -> Option<Witness> {
    let label = format!("the layer from {:.0} to {:.0} cm", layer.from_cm.get(), layer.to_cm.get());
    let id = format!("{plot} {label}");
    if let Some(class) = layer.class {
        let likelihood = accuracy::likelihood(&[class], Hand::Practised);
        return Some(Witness { id, label, account: Account::Named { class, likelihood } });
    }
    let (sand, clay) = (layer.sand_percent?.get(), layer.clay_percent?.get());
    let soil = Composition::from_parts(sand.max(0.5), (100.0 - sand - clay).max(0.5), clay.max(0.5));
    let account = PercentError::none().and(5.0, 5.0).account(soil);
    Some(Witness { id, label, account })
}
