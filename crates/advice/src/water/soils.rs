//! The ground of a plot in layers, each as equally likely draws that can be worked with.

use book::Snapshot;
use book::model::UnitSystem;
use ground::belief::{Ensemble, ensemble};
use ground::irrigation::balance::soils::{curve_through, resampled, shuffle_layer};
use ground::kit::{Bounded, Spread};
use ground::texture::Class;
use ground::water::equations::{MINERAL_DENSITY, gravel_volume};
use ground::water::{SoilWater, WaterEnsemble};

use crate::layer_soil::own_evidence;
use crate::plot_report::PlotReport;
use crate::words;

/// Equally likely draws of the ground that everything is worked out for.
pub const DRAWS: usize = 400;
/// As deep as the ground is followed, cm, unless more was seen.
pub(super) const FOLLOWED_CM: f64 = 120.0;

/// One layer over all draws.
#[derive(Debug, Clone, PartialEq)]
pub struct LayerDraws {
    /// Its top, cm.
    pub from_cm: f64,
    /// Its bottom, cm.
    pub to_cm: f64,
    /// Was this depth looked at?
    pub looked_at: bool,
    /// Does it have evidence of its own?
    pub own: bool,
    /// The class that was named when it was looked at.
    pub named: Option<Class>,
    /// The draws as they went into the equations.
    pub soils: Vec<ensemble::Draw>,
    /// Their water: curve, conductivity and stones, strayed as real soils stray.
    pub water: Vec<SoilWater>,
}

impl LayerDraws {
    /// Median and 90 % range of something of each draw; `None` where no draw has a value.
    pub fn spread(&self, of: impl Fn(&SoilWater) -> Option<f64>) -> Option<Spread> {
        let mut values: Vec<f64> =
            self.water.iter().filter_map(of).filter(|value| value.is_finite()).collect();
        Spread::of_equal(&mut values)
    }

    /// The class that was named, else the likeliest, with its odds.
    #[must_use]
    pub fn class(&self) -> (Class, f64) {
        let mut count = [0_u32; 12];
        for soil in &self.soils {
            count[soil.class as usize] += 1;
        }
        let best = Class::ALL.into_iter().max_by_key(|class| (count[*class as usize], 11 - *class as usize));
        let class = self.named.or(best).unwrap_or(Class::Loam);
        #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
        let all = self.soils.len().max(1) as f64;
        (class, f64::from(count[class as usize]) / all)
    }

    /// Thickness between two depths, mm.
    #[must_use]
    pub fn thickness_mm(&self, from_cm: f64, to_cm: f64) -> f64 {
        10.0 * (self.to_cm.min(to_cm) - self.from_cm.max(from_cm)).max(0.0)
    }
}

/// The layers of a plot over the same draws.
#[derive(Debug, Clone, PartialEq)]
pub struct Soils {
    /// From the surface down; never empty.
    pub layers: Vec<LayerDraws>,
    /// Depth to which somebody looked, cm; nothing where nobody did.
    pub seen_to_cm: Option<f64>,
    /// What should be known of them.
    pub notes: Vec<String>,
}

impl Soils {
    /// The layers of a plot; `None` where nothing holds water at all.
    #[must_use]
    pub fn of(snapshot: &Snapshot, report: &PlotReport) -> Option<Self> {
        let units = snapshot.farm.body.units;
        let plot = (&report.ensemble, &report.water_draws);
        let base = resampled(&plot.1.weights, &plot.1.available, DRAWS)?;
        let mut soils = Self { layers: Vec::new(), seen_to_cm: None, notes: Vec::new() };
        let mut nothing_said = Vec::new();
        if let Some((_, seen)) = snapshot.layers_of(report.id) {
            for (place, layer) in seen.layers.iter().enumerate() {
                let (from_cm, to_cm) = (layer.from_cm.get(), layer.to_cm.get());
                let own = own_evidence(report.id, &report.belief, layer);
                let drawn = own.as_ref().and_then(|(ensemble, water)| {
                    let mut picks = resampled(&water.weights, &water.available, DRAWS)?;
                    if place > 0 {
                        shuffle_layer(&mut picks, ensemble.seed, place);
                    }
                    Some(picked(ensemble, water, &picks))
                });
                if drawn.is_none() {
                    nothing_said.push(words::depth(from_cm, units));
                }
                let own = drawn.is_some();
                let (draws, water) = drawn.unwrap_or_else(|| picked(plot.0, plot.1, &base));
                soils.layers.push(LayerDraws {
                    from_cm,
                    to_cm,
                    looked_at: true,
                    own,
                    named: layer.class,
                    soils: draws,
                    water,
                });
            }
            soils.seen_to_cm = Some(seen.bottom_cm());
        }
        soils.notes.extend(said_nothing(&nothing_said));
        soils.deepen(FOLLOWED_CM.max(report.root_depth_cm), || picked(plot.0, plot.1, &base), units);
        Some(soils)
    }

    /// Follows the ground deeper than was seen.
    fn deepen(
        &mut self,
        to_cm: f64,
        plot: impl Fn() -> (Vec<ensemble::Draw>, Vec<SoilWater>),
        units: UnitSystem,
    ) {
        let from_cm = self.layers.last().map_or(0.0, |layer| layer.to_cm);
        if from_cm >= to_cm {
            return;
        }
        let below = match self.layers.last().cloned() {
            Some(last) => {
                self.notes.push(format!(
                    "Below {} nothing was seen; the ground there is taken as the layer above it.",
                    words::depth(from_cm, units)
                ));
                LayerDraws { from_cm, to_cm, looked_at: false, own: false, ..last }
            }
            None => {
                self.notes.push(
                    "No layers are recorded: the ground is taken as alike all the way down. A hole or an auger core says where it changes, and that matters most for water."
                        .to_owned(),
                );
                let (soils, water) = plot();
                LayerDraws { from_cm, to_cm, looked_at: false, own: false, named: None, soils, water }
            }
        };
        self.layers.push(below);
    }

    /// How many draws there are.
    #[must_use]
    pub fn draws(&self) -> usize {
        self.layers.first().map_or(0, |layer| layer.water.len())
    }

    /// The top layer.
    #[must_use]
    pub fn top(&self) -> &LayerDraws {
        &self.layers[0]
    }

    /// The layer at a depth, or the lowest.
    #[must_use]
    pub fn at(&self, depth_cm: f64) -> &LayerDraws {
        self.layers.iter().find(|layer| depth_cm < layer.to_cm).unwrap_or(&self.layers[self.layers.len() - 1])
    }

    /// Share of the draws for which something holds.
    pub fn odds(&self, holds: impl Fn(usize) -> bool) -> f64 {
        let count = self.draws();
        #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
        let share = (0..count).filter(|draw| holds(*draw)).count() as f64 / count.max(1) as f64;
        share
    }

    /// Median and 90 % range of something of each draw.
    pub fn spread(&self, of: impl Fn(usize) -> Option<f64>) -> Option<Spread> {
        let mut values: Vec<f64> =
            (0..self.draws()).filter_map(of).filter(|value| value.is_finite()).collect();
        Spread::of_equal(&mut values)
    }
}

fn said_nothing(depths: &[String]) -> Option<String> {
    match depths {
        [] => None,
        [one] => Some(format!(
            "Of the layer from {one} down nothing but its depth was recorded: it is taken as the plot's ground."
        )),
        [first, rest @ ..] => Some(format!(
            "Of the layers that begin at {first} and {} nothing but the depth was recorded: they are taken as the plot's ground.",
            rest.join(", ")
        )),
    }
}

fn picked(soil: &Ensemble, water: &WaterEnsemble, picks: &[usize]) -> (Vec<ensemble::Draw>, Vec<SoilWater>) {
    picks.iter().map(|at| (soil.draws[*at], whole(water, &soil.draws[*at], *at))).unzip()
}

/// A draw's water with everything that flow asks for: the curve through the points it strayed to, its
/// conductivity and its stones.
fn whole(water: &WaterEnsemble, soil: &ensemble::Draw, at: usize) -> SoilWater {
    let real = |value: f64| value.is_finite().then_some(value);
    let (held, dry) = (water.field_capacity[at], water.wilting_point[at]);
    let density = water.matric_density_g_cm3[at];
    let mass = soil.gravel_mass_percent / 100.0;
    let stones = gravel_volume(mass, density);
    let ratio = (1.0 - mass) / (1.0 - mass * (1.0 - 1.5 * density / MINERAL_DENSITY));
    let conducts = real(water.saturated_conductivity_mm_h[at]);
    let mut curve = curve_through(held, dry, real(water.saturation[at]), real(water.air_entry_kpa[at]));
    curve.available = curve.available_fine_earth.map(|fine| fine * (1.0 - stones));
    curve.gravel_volume = Some(stones);
    curve.gravel_conductivity_ratio = Some(ratio);
    curve.saturated_conductivity = conducts;
    curve.saturated_conductivity_fine_earth = conducts.map(|whole| whole / ratio);
    curve.matric_density = real(density);
    curve.bulk_density = real(water.bulk_density_g_cm3[at]);
    curve
}

/// What part of a layer by volume is earth and not stone.
#[must_use]
pub(super) fn earth(water: &SoilWater) -> f64 {
    1.0 - water.gravel_volume.unwrap_or(0.0)
}
