//! The soil of a bed as equally likely draws, laid out for the daily reckoning.

use super::evaporation::evaporable_mm;
use super::evaporation_table::evaporation_range;
use crate::belief::Ensemble;
use crate::kit::chance::{Chance, Fingerprint};
use crate::texture::Class;
use crate::water::equations::{FIELD_CAPACITY_KPA, WILTING_KPA};
use crate::water::{SoilWater, WaterEnsemble};

/// Standard deviation of a crop's demand about the tabulated one, as a share: tabulated crop
/// coefficients are taken as good to about ±0.1 to 0.15 (common practice, no source), read as the
/// 90 % range.
pub const DEMAND_ERROR: f64 = 0.08;

/// Thickness of the layer that dries by evaporation, m [Fao56, eq. 73: 0.10 to 0.15].
pub const SURFACE_LAYER_M: f64 = 0.10;

/// Draws that hold less available water than this are left out: no ground that bears a crop does, the
/// equations went astray there (judgement).
const LEAST_AVAILABLE: f64 = 0.01;

/// One layer of a plot as its ensemble has it.
#[derive(Debug, Clone, Copy)]
pub struct LayerOfDraws<'a> {
    /// Depth of its lower edge, m.
    pub bottom_m: f64,
    /// The draws.
    pub soil: &'a Ensemble,
    /// Their water.
    pub water: &'a WaterEnsemble,
}

/// One layer over all draws.
#[derive(Debug, Clone, PartialEq)]
pub struct SoilLayer {
    /// Depth of its lower edge, m.
    pub bottom_m: f64,
    /// Available water of the whole soil, stones included, m³/m³.
    pub available_m3_m3: Vec<f64>,
    /// The retention curve of the soil without stones.
    pub curve: Vec<SoilWater>,
    /// Texture class.
    pub class: Vec<Class>,
}

/// The soil of a bed: equally likely draws, top layer first, the lowest edge being as deep as any
/// root is reckoned to go.
#[derive(Debug, Clone, PartialEq)]
pub struct BedSoils {
    /// Layers, top first, edges deepening; never empty.
    pub layers: Vec<SoilLayer>,
    /// Water the surface layer can lose in all, mm.
    pub evaporable_mm: Vec<f64>,
    /// Water it loses freely, mm; below `evaporable_mm`.
    pub readily_evaporable_mm: Vec<f64>,
    /// What each draw's crop uses over what the tables say.
    pub demand_factor: Vec<f64>,
}

impl BedSoils {
    /// One soil known exactly and alike to `bottom_m`: for a worked example, not for advice.
    #[must_use]
    pub fn one(
        field_capacity: f64,
        wilting_point: f64,
        bottom_m: f64,
        evaporable_mm: f64,
        readily_evaporable_mm: f64,
    ) -> Self {
        let layer = SoilLayer {
            bottom_m,
            available_m3_m3: vec![field_capacity - wilting_point],
            // Nothing wetter than field capacity is asked of it, so any pores will do.
            curve: vec![curve_through(field_capacity, wilting_point, Some(1.0), None)],
            class: vec![Class::Loam],
        };
        Self {
            layers: vec![layer],
            evaporable_mm: vec![evaporable_mm],
            readily_evaporable_mm: vec![readily_evaporable_mm],
            demand_factor: vec![1.0],
        }
    }

    /// `count` equally likely draws from a plot's ensembles, by systematic resampling, so that the
    /// same ensembles give the same draws. Layers below the first are shuffled before they are paired
    /// with it: topsoil and subsoil are drawn independently. Each draw's crop strays in its demand by
    /// `demand_error` (a share, see [`DEMAND_ERROR`]). `None` where a layer has no draw with
    /// available water, or no layer or no draw is asked for.
    #[must_use]
    pub fn from_layers(layers: &[LayerOfDraws<'_>], count: usize, demand_error: f64) -> Option<Self> {
        if count == 0 {
            return None;
        }
        let seed = layers.first()?.soil.seed;
        let chosen: Vec<SoilLayer> = layers
            .iter()
            .enumerate()
            .map(|(place, layer)| {
                let mut picks = resampled(&layer.water.weights, &layer.water.available, count)?;
                if place > 0 {
                    shuffle_layer(&mut picks, seed, place);
                }
                Some(SoilLayer {
                    bottom_m: layer.bottom_m,
                    available_m3_m3: picks.iter().map(|at| layer.water.available[*at]).collect(),
                    curve: picks.iter().map(|at| curve_of(layer.water, *at)).collect(),
                    class: picks.iter().map(|at| layer.soil.draws[*at].class).collect(),
                })
            })
            .collect::<Option<_>>()?;
        let mut chance = stream(seed, "surface and demand", 0);
        let top = &chosen[0];
        let mut soils = Self {
            evaporable_mm: Vec::with_capacity(count),
            readily_evaporable_mm: Vec::with_capacity(count),
            demand_factor: Vec::with_capacity(count),
            layers: Vec::new(),
        };
        for draw in 0..count {
            let curve = &top.curve[draw];
            let range = evaporation_range(top.class[draw]);
            let (held, dry) = (curve.field_capacity.unwrap_or(0.0), curve.wilting_point.unwrap_or(0.0));
            // Stones neither hold water nor give it up.
            let fine = (top.available_m3_m3[draw] / (held - dry)).clamp(0.0, 1.0);
            let all = fine * evaporable_mm(held, dry, SURFACE_LAYER_M);
            let free = range.rew_low_mm + chance.uniform() * (range.rew_high_mm - range.rew_low_mm);
            soils.evaporable_mm.push(all);
            soils.readily_evaporable_mm.push((fine * free).min(0.9 * all));
            // Beyond three standard deviations it is no longer the same crop.
            let stray = chance.normal().clamp(-3.0, 3.0);
            soils.demand_factor.push((1.0 + demand_error * stray).max(0.1));
        }
        soils.layers = chosen;
        Some(soils)
    }

    /// How many draws there are.
    #[must_use]
    pub fn draws(&self) -> usize {
        self.evaporable_mm.len()
    }

    /// As deep as any root is reckoned to go, m.
    #[must_use]
    pub fn bottom_m(&self) -> f64 {
        self.layers.last().map_or(0.0, |layer| layer.bottom_m)
    }

    /// Available water between the surface and a depth, mm, of every draw, into `into`.
    pub fn available_mm_to(&self, depth_m: f64, into: &mut [f64]) {
        into.fill(0.0);
        let mut top = 0.0;
        for layer in &self.layers {
            let thick = 1000.0 * (layer.bottom_m.min(depth_m) - top).max(0.0);
            top = layer.bottom_m;
            if thick > 0.0 {
                for (total, share) in into.iter_mut().zip(&layer.available_m3_m3) {
                    *total += thick * share;
                }
            }
        }
    }

    /// The layer at a depth.
    #[must_use]
    pub fn layer_at(&self, depth_m: f64) -> Option<&SoilLayer> {
        self.layers.iter().find(|layer| depth_m <= layer.bottom_m)
    }
}

/// A retention curve through field capacity and wilting point [SaxtonRawls2006, eq. 11, 14, 15]: a
/// draw that strayed from the equations keeps their form with its own two points.
#[must_use]
pub fn curve_through(
    field_capacity: f64,
    wilting_point: f64,
    saturation: Option<f64>,
    air_entry: Option<f64>,
) -> SoilWater {
    let mut water = SoilWater {
        wilting_point: Some(wilting_point),
        field_capacity: Some(field_capacity),
        saturation,
        available_fine_earth: Some(field_capacity - wilting_point),
        available: Some(field_capacity - wilting_point),
        air_entry,
        ..SoilWater::default()
    };
    if wilting_point > 0.0 && wilting_point < field_capacity {
        let span = libm::log(WILTING_KPA) - libm::log(FIELD_CAPACITY_KPA);
        let log_capacity = libm::log(field_capacity);
        let exponent = span / (log_capacity - libm::log(wilting_point));
        water.tension_exponent = Some(exponent);
        water.tension_coefficient = Some(libm::exp(libm::log(FIELD_CAPACITY_KPA) + exponent * log_capacity));
        water.lambda = Some(1.0 / exponent);
    }
    water
}

fn curve_of(water: &WaterEnsemble, at: usize) -> SoilWater {
    let real = |value: f64| value.is_finite().then_some(value);
    curve_through(
        water.field_capacity[at],
        water.wilting_point[at],
        real(water.saturation[at]),
        real(water.air_entry_kpa[at]),
    )
}

/// Places of `count` equally likely draws, by systematic resampling. Draws without available water are
/// left out; `None` where that leaves none.
#[must_use]
pub fn resampled(weights: &[f64], available: &[f64], count: usize) -> Option<Vec<usize>> {
    let usable = |at: usize| if available[at] >= LEAST_AVAILABLE { weights[at] } else { 0.0 };
    let total: f64 = (0..weights.len()).map(usable).sum();
    if total <= 0.0 {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
    let step = total / count as f64;
    let mut picks = Vec::with_capacity(count);
    let mut reached = 0.0;
    let mut target = 0.5 * step;
    let mut last = 0;
    for at in 0..weights.len() {
        let weight = usable(at);
        if weight <= 0.0 {
            continue;
        }
        last = at;
        reached += weight;
        while picks.len() < count && target <= reached {
            picks.push(at);
            target += step;
        }
    }
    // Rounding may leave the last target beyond the sum.
    picks.resize(count, last);
    Some(picks)
}

/// Shuffles the places of a layer's draws, so that it is drawn independently of the layers above it; the
/// same seed and layer give the same order.
pub fn shuffle_layer(places: &mut [usize], seed: u64, layer: usize) {
    shuffle(places, &mut stream(seed, "layer", layer as u64));
}

fn shuffle(places: &mut [usize], chance: &mut Chance) {
    for at in (1..places.len()).rev() {
        #[expect(
            clippy::cast_precision_loss,
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a place in a short list"
        )]
        let other = (chance.uniform() * (at + 1) as f64) as usize;
        places.swap(at, other.min(at));
    }
}

fn stream(seed: u64, purpose: &str, place: u64) -> Chance {
    let mut print = Fingerprint::new();
    print.bytes(b"bed soils ");
    print.bytes(purpose.as_bytes());
    print.whole(place);
    print.whole(seed);
    Chance::new(print.finish())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn resampling_keeps_the_shares_and_leaves_gaps_out() {
        let picks = resampled(&[0.25, 0.5, 0.25], &[0.1, f64::NAN, 0.2], 10).unwrap();
        assert_eq!(picks.iter().filter(|at| **at == 0).count(), 5);
        assert!(!picks.contains(&1) && picks.len() == 10);
        assert!(resampled(&[1.0], &[f64::NAN], 10).is_none());
    }

    #[test]
    fn shuffling_loses_none() {
        let mut places: Vec<usize> = (0..100).collect();
        shuffle(&mut places, &mut stream(3, "layer", 1));
        assert_ne!(places, (0..100).collect::<Vec<_>>());
        places.sort_unstable();
        assert_eq!(places, (0..100).collect::<Vec<_>>());
    }

    #[test]
    fn a_curve_passes_through_its_two_points() {
        let curve = curve_through(0.28, 0.137, Some(0.46), Some(3.0));
        assert!((curve.water_at(33.0).unwrap().0 - 0.28).abs() < 1e-12);
        assert!((curve.water_at(1500.0).unwrap().0 - 0.137).abs() < 1e-12);
    }

    #[test]
    fn water_adds_up_through_the_layers() {
        let mut soils = BedSoils::one(0.3, 0.1, 0.3, 20.0, 8.0);
        let mut sub = soils.layers[0].clone();
        (sub.bottom_m, sub.available_m3_m3) = (1.0, vec![0.1]);
        soils.layers.push(sub);
        let mut total = [0.0];
        for (depth, wanted) in [(0.2, 40.0), (0.3, 60.0), (0.5, 80.0), (2.0, 130.0)] {
            soils.available_mm_to(depth, &mut total);
            assert!((total[0] - wanted).abs() < 1e-9, "{depth}: {total:?}");
        }
    }
}
