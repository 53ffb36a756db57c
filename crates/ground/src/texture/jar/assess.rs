//! What a jar says about the soil, and how surely.

use nalgebra::{Matrix2, SymmetricEigen};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::draws::{self, Draws};
use super::packing::{self, ByLayer, Packing};
use super::plan::Plan;
use super::reading::JarReading;
use super::settled::{self, Settled};
use super::tops::LayerTops;
use super::words::{self, Said};
use super::working;
use crate::belief::ilr::{self, Covariance, Point, ZERO_STANDS_FOR_PERCENT};
use crate::belief::{Account, SharedError, Witness};
use crate::kit::chance::Fingerprint;
use crate::kit::{Note, Refusal, Spread, Working};
use crate::texture::{Class, ClassOdds, Composition};

/// Draws behind a finding.
pub const DRAWS: u32 = 2000;
/// Name of the error that all jars of a farm share.
pub const SHARED_ERROR: &str = "jar packing";
/// Scenarios tried for one draw before one that needs less than no silt or clay is taken after all.
const TRIES: u32 = 6;

/// Where the size parted by a mark stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MarkRole {
    /// It stands for the top of the sand.
    Sand,
    /// It stands for the top of the silt.
    Silt,
    /// It stands for the top of all that settles.
    All,
    /// It is on record but not used.
    NotUsed,
}

/// What a timed mark parts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MarkCut {
    /// Time since the jar was set down.
    pub after_s: f64,
    /// What it stands for.
    pub role: MarkRole,
    /// Size that has just fallen through the water: all coarser grains are below the mark.
    pub cut_um: Spread,
    /// Depth of water above the mark.
    pub depth_mm: f64,
}

/// What a jar says.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct JarFinding {
    /// Tops of the layers, for a drawing.
    pub layers: LayerTops,
    /// Share of each layer in the settled volume, percent.
    pub volume_percent: ByLayer<Spread>,
    /// Sand, silt and clay by mass, percent.
    pub mass_percent: ByLayer<Spread>,
    /// Most likely class; nothing where [`tells_nothing`](Self::tells_nothing).
    pub class: Option<Class>,
    /// Whether too few boundaries were seen to tell any share of the soil. The spreads and the odds are
    /// then those of a jar of which nothing is known, and are no evidence.
    pub tells_nothing: bool,
    /// Odds of the classes, most likely first.
    pub class_odds: Vec<ClassOdds>,
    /// What each timed mark really parts; empty when nothing was timed.
    pub marks: Vec<MarkCut>,
    /// Share of the soil's mass still up at the last boundary, percent.
    pub still_up_percent: Spread,
    /// Make-up at the mean of the ilr coordinates.
    pub centre_percent: Composition,
    /// Mean in ilr coordinates.
    pub ilr_centre: [f64; 2],
    /// Covariance of what is this jar's own error.
    pub ilr_covariance: [[f64; 2]; 2],
    /// Covariance of the packing, an error that all jars of the farm share.
    pub shared_ilr_covariance: [[f64; 2]; 2],
    /// Draws that needed less than no silt or clay, percent.
    pub misfit_percent: f64,
    /// Draws behind the spreads.
    pub draws: u32,
    /// Seed of the draws, hexadecimal.
    pub seed: String,
    /// Remarks, most important first.
    #[serde(skip)]
    pub notes: Vec<Note>,
    /// The steps with everything at its middle.
    #[serde(skip)]
    pub working: Working,
}

impl JarFinding {
    /// What this jar says, for belief. The packing is named so that several jars share its error.
    #[must_use]
    pub fn witness(&self, id: impl Into<String>, label: impl Into<String>) -> Witness {
        Witness {
            id: id.into(),
            label: label.into(),
            account: Account::Measured {
                centre: self.ilr_centre,
                covariance: self.ilr_covariance,
                shared: Some(SharedError {
                    name: SHARED_ERROR.to_owned(),
                    covariance: self.shared_ilr_covariance,
                }),
            },
        }
    }
}

/// What a jar reading says about sand, silt and clay.
///
/// # Method
/// Each of [`DRAWS`] draws takes the tops of the layers within the ruler's step or the range seen
/// (even over all that is possible where nothing was seen), volumes from the jar's shape, masses
/// from the packing, the size that each mark parts from Stokes' law with hindered settling
/// [RichardsonZaki1954], and solves for the sand, silt and clay that would have settled so.
///
/// # Errors
/// A reading that contradicts itself, or a packing that no jar can have, named by its field. A
/// boundary that was not seen is no error.
pub fn assess(reading: &JarReading, packing: &Packing) -> Result<JarFinding, Refusal> {
    assess_seeded(reading, packing, seed_of(reading))
}

/// Whether too little was seen on a jar to tell any share of the soil. A reading that contradicts
/// itself is another matter: [`assess`] refuses it.
#[must_use]
pub fn tells_nothing(reading: &JarReading) -> bool {
    Plan::new(reading).is_ok_and(|plan| plan.tells_nothing())
}

/// The seed of a reading: a hash of its JSON form.
fn seed_of(reading: &JarReading) -> u64 {
    let mut print = Fingerprint::new();
    print.bytes(serde_json::to_string(reading).unwrap_or_default().as_bytes());
    print.finish()
}

/// [`assess`] with a seed of the caller's.
pub(super) fn assess_seeded(
    reading: &JarReading,
    packing: &Packing,
    seed: u64,
) -> Result<JarFinding, Refusal> {
    packing.check()?;
    let plan = Plan::new(reading)?;
    let layers = plan.layer_tops(reading);
    let tells_nothing = plan.tells_nothing();
    let mut run = Run::of(&plan, packing, seed, DRAWS);
    let (centre, own) = run.error_split(packing.covariance());

    let classes: Vec<Class> = run.soils.iter().map(|soil| Class::of(*soil)).collect();
    let weights = vec![1.0 / f64::from(DRAWS); run.soils.len()];
    let class_odds: Vec<ClassOdds> = crate::belief::believe::class_odds(&classes, &weights)
        .into_iter()
        .map(|(class, odds)| ClassOdds { class, odds_percent: 100.0 * odds })
        .collect();
    let cuts = run.cuts_um.each_mut().map(|cuts| spread(cuts));
    let still_up_percent = spread(&mut run.still_up);
    let misfit_percent = 100.0 * f64::from(run.misfits) / f64::from(DRAWS);
    let notes = words::notes(&Said {
        reading,
        plan: &plan,
        packing,
        cuts_um: cuts,
        still_up_percent,
        misfit_percent,
        tallest_mm: layers
            .tops
            .array()
            .iter()
            .filter(|top| top.is_seen())
            .map(|top| top.high_mm())
            .fold(0.0, f64::max),
    });
    let middle = rising(layers.tops.array().map(super::tops::Top::middle_mm));
    let scenario = draws::central(&plan, middle);
    let finding = JarFinding {
        volume_percent: ByLayer::new(run.volumes.each_mut().map(|values| spread(values))),
        mass_percent: ByLayer::new([
            spread(&mut run.soils.iter().map(|soil| soil.sand).collect::<Vec<_>>()),
            spread(&mut run.soils.iter().map(|soil| soil.silt).collect::<Vec<_>>()),
            spread(&mut run.soils.iter().map(|soil| soil.clay).collect::<Vec<_>>()),
        ]),
        class: if tells_nothing { None } else { class_odds.first().map(|first| first.class) },
        tells_nothing,
        class_odds,
        marks: mark_cuts(&plan, &layers, &cuts),
        still_up_percent,
        centre_percent: ilr::from_ilr(centre),
        ilr_centre: centre.into(),
        ilr_covariance: packing::rows(own),
        shared_ilr_covariance: packing.covariance,
        misfit_percent,
        draws: DRAWS,
        seed: format!("{seed:016x}"),
        notes,
        working: Working::new(),
        layers,
    };
    let working = working::steps(&plan, packing, &scenario, &finding);
    Ok(JarFinding { working, ..finding })
}

/// Mean and covariance in ilr coordinates with the farm's packing at its centre, for calibration.
pub(super) fn mean_and_error(
    reading: &JarReading,
    packing: &Packing,
    draws: u32,
) -> Result<(Point, Covariance), Refusal> {
    let plan = Plan::new(reading)?;
    Ok(moments(&Run::of(&plan, packing, seed_of(reading), draws).soils))
}

/// The draws of one jar.
struct Run {
    /// Soils with everything drawn.
    soils: Vec<Composition>,
    /// The same soils had the farm's packing been at its centre.
    at_centre: Vec<Composition>,
    volumes: [Vec<f64>; 3],
    cuts_um: [Vec<f64>; 3],
    still_up: Vec<f64>,
    misfits: u32,
}

impl Run {
    fn of(plan: &Plan, packing: &Packing, seed: u64, count: u32) -> Self {
        let n = count as usize;
        let empty = || [Vec::with_capacity(n), Vec::with_capacity(n), Vec::with_capacity(n)];
        let mut run = Self {
            soils: Vec::with_capacity(n),
            at_centre: Vec::with_capacity(n),
            volumes: empty(),
            cuts_um: empty(),
            still_up: Vec::with_capacity(n),
            misfits: 0,
        };
        let mut draws = Draws::new(plan, packing, seed);
        for _ in 0..count {
            run.draw(plan, &mut draws);
        }
        run
    }

    fn draw(&mut self, plan: &Plan, draws: &mut Draws<'_>) {
        let mut best: Option<(Settled, [f64; 3], [f64; 3])> = None;
        for attempt in 0..TRIES {
            let tops = draws.tops();
            let scenario = draws.scenario(tops);
            let (centre_densities, densities) = draws.densities();
            let volumes = settled::volumes(plan, scenario.tops);
            let settled = settled::settle(plan, &scenario, volumes, densities);
            let fits = settled.least_share() >= 0.0;
            if attempt == 0 && !fits {
                self.misfits += 1;
            }
            let better = best
                .as_ref()
                .is_none_or(|(kept, ..)| settled.least_share().total_cmp(&kept.least_share()).is_gt());
            if better {
                best = Some((settled, volumes, centre_densities));
            }
            if fits {
                break;
            }
        }
        let Some((settled, volumes, centre_densities)) = best else { return };
        let total: f64 = volumes.iter().sum::<f64>().max(f64::MIN_POSITIVE);
        for (slot, volume) in volumes.iter().enumerate() {
            self.volumes[slot].push(100.0 * volume / total);
            self.cuts_um[slot].push(settled.cuts_um[slot]);
        }
        self.still_up.push(100.0 * settled::still_up(&settled));
        self.soils.push(composition(settled.parts));
        self.at_centre.push(composition(settled::reweigh(&settled, volumes, centre_densities).parts));
    }

    /// Mean, and the covariance that is the jar's own.
    ///
    /// Near an edge of the triangle, or where the clay was found as a small difference, the packing
    /// moves the answer more than its shared covariance says. That excess is counted as the jar's own,
    /// so that own and shared together are never less than what was drawn.
    fn error_split(&self, shared: Covariance) -> (Point, Covariance) {
        let (centre, whole) = moments(&self.soils);
        let (_, own) = moments(&self.at_centre);
        (centre, own + positive_part(whole - shared - own))
    }
}

/// A composition from masses, none of them less than nothing.
pub(super) fn composition(parts: [f64; 3]) -> Composition {
    let [sand, silt, clay] = parts.map(|part| part.max(0.0));
    if sand + silt + clay > 0.0 {
        Composition::from_parts(sand, silt, clay)
    } else {
        Composition::from_parts(1.0, 1.0, 1.0)
    }
}

/// Mean and covariance in ilr coordinates. Below what stands for a zero a part's logarithm says
/// nothing, so no part is taken to be smaller.
fn moments(soils: &[Composition]) -> (Point, Covariance) {
    let floor = |part: f64| part.max(ZERO_STANDS_FOR_PERCENT);
    let points: Vec<Point> = soils
        .iter()
        .map(|soil| {
            ilr::to_ilr(Composition::from_parts(floor(soil.sand), floor(soil.silt), floor(soil.clay)))
        })
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "a few thousand draws")]
    let n = points.len().max(1) as f64;
    let mean = points.iter().fold(Point::zeros(), |sum, point| sum + point) / n;
    let covariance = points.iter().fold(Matrix2::zeros(), |sum, point| {
        let off = point - mean;
        sum + off * off.transpose()
    }) / n;
    (mean, covariance)
}

/// The part of a symmetric matrix along its positive directions.
fn positive_part(matrix: Covariance) -> Covariance {
    let eigen = SymmetricEigen::new(matrix);
    let values = eigen.eigenvalues.map(|value| value.max(0.0));
    eigen.eigenvectors * Matrix2::from_diagonal(&values) * eigen.eigenvectors.transpose()
}

/// Tops put in rising order.
fn rising([sand, silt, clay]: [f64; 3]) -> [f64; 3] {
    let silt = silt.max(sand);
    [sand, silt, clay.max(silt)]
}

fn spread(values: &mut [f64]) -> Spread {
    Spread::of_equal(values).unwrap_or(Spread { low: f64::NAN, median: f64::NAN, high: f64::NAN })
}

fn mark_cuts(plan: &Plan, layers: &LayerTops, cuts: &[Spread; 3]) -> Vec<MarkCut> {
    let soil_mm = layers.tops.clay.middle_mm();
    plan.marks
        .iter()
        .map(|mark| {
            let water = plan.water_mm.unwrap_or(soil_mm * 3.5);
            let top = mark.top.middle().unwrap_or(soil_mm / 2.0);
            let depth_mm = (water - top).max(settled::LEAST_DEPTH_MM);
            let (role, cut_um) = match mark.slot {
                Some(slot) => ([MarkRole::Sand, MarkRole::Silt, MarkRole::All][slot], cuts[slot]),
                None => (MarkRole::NotUsed, beside(plan, mark.after_s, cuts)),
            };
            MarkCut { after_s: mark.after_s, role, cut_um, depth_mm }
        })
        .collect()
}

/// Cut of a mark that stands for no boundary, from the used mark nearest in time: a size falls off
/// with the square root of time.
fn beside(plan: &Plan, after_s: f64, cuts: &[Spread; 3]) -> Spread {
    let used = plan.marks.iter().filter_map(|mark| Some((mark.after_s, cuts[mark.slot?])));
    let nearest = used.min_by(|a, b| {
        let far = |time: f64| libm::log(time / after_s).abs();
        far(a.0).total_cmp(&far(b.0))
    });
    let Some((time, cut)) = nearest else { return cuts[2] };
    let factor = (time / after_s).sqrt();
    Spread { low: cut.low * factor, median: cut.median * factor, high: cut.high * factor }
}
