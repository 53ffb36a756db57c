//! What a farm's own laboratory results teach about its jars.

use std::sync::{Arc, Mutex, PoisonError};

use book::Snapshot;
use book::model::EntryId;
use ground::belief::Witness;
use ground::kit::Refusal;
use ground::texture::jar::{self, Calibration, CalibrationPair, JarReading, Packing};
use ground::texture::lab;

/// Farms whose calibration is kept, so that a page does not work it out anew.
const KEPT: usize = 4;

/// Calibrations by the pairs behind them, the latest last. The same pairs always give the same.
static CALIBRATED: Mutex<Vec<(String, Arc<Calibration>)>> = Mutex::new(Vec::new());

/// What the pairs of jar and laboratory on a farm teach, plot by plot.
#[derive(Debug, Clone)]
pub struct FarmJars {
    /// The plot of each pair.
    plots: Vec<EntryId>,
    calibration: Option<Arc<Calibration>>,
}

impl FarmJars {
    /// Learns from the pairs. A pair whose readings contradict themselves teaches nothing.
    #[must_use]
    pub fn of(snapshot: &Snapshot) -> Self {
        let (mut plots, mut pairs): (Vec<EntryId>, Vec<CalibrationPair>) = snapshot
            .jar_lab_pairs()
            .into_iter()
            .filter_map(|pair| {
                if jar::tells_nothing(pair.reading) {
                    return None;
                }
                let witness = lab::witness(pair.texture, "", "").ok()?;
                let plot = pair.jar.body.plot;
                Some((plot, CalibrationPair::new(pair.reading.clone(), &witness)?))
            })
            .unzip();
        let mut calibration = calibrated(&pairs);
        if calibration.is_none() {
            let sound = |pair: &CalibrationPair| Packing::calibrate(std::slice::from_ref(pair)).is_ok();
            (plots, pairs) = plots.into_iter().zip(pairs).filter(|(_, pair)| sound(pair)).unzip();
            calibration = calibrated(&pairs);
        }
        Self { plots, calibration }
    }

    /// Pairs on the farm that teach something.
    #[must_use]
    pub fn count(&self) -> usize {
        self.plots.len()
    }

    /// The packing for jars of one plot, learnt from the pairs of all the others: a laboratory's
    /// result on this plot speaks for itself and must not be heard twice through its jar.
    #[must_use]
    pub fn packing(&self, plot: EntryId) -> Packing {
        self.calibration.as_ref().map_or_else(Packing::published, |calibration| {
            calibration.packing_from(|pair| self.plots[pair] != plot)
        })
    }

    /// What a jar on this plot says.
    ///
    /// # Errors
    /// The jar contradicts itself, or too little of it was seen.
    pub fn witness(
        &self,
        plot: EntryId,
        reading: &JarReading,
        id: &str,
        label: &str,
    ) -> Result<Witness, Refusal> {
        let finding = jar::assess(reading, &self.packing(plot))?;
        if finding.tells_nothing {
            return Err(Refusal::new("marks", jar::NOTHING_SEEN));
        }
        Ok(finding.witness(id, label))
    }
}

/// The calibration on those pairs; `None` when one of the jars contradicts itself.
fn calibrated(pairs: &[CalibrationPair]) -> Option<Arc<Calibration>> {
    let key: String = pairs
        .iter()
        .map(|pair| {
            let jar = serde_json::to_string(&pair.jar).unwrap_or_default();
            format!("{jar}{:?}{:?}\n", pair.lab_centre, pair.lab_covariance)
        })
        .collect();
    // Held while working it out: whoever asks meanwhile wants the same. Only whole entries are in it.
    let mut kept = CALIBRATED.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some((_, known)) = kept.iter().find(|(pairs, _)| *pairs == key) {
        return Some(Arc::clone(known));
    }
    let calibration = Arc::new(Calibration::of(pairs.to_vec()).ok()?);
    if kept.len() >= KEPT {
        kept.remove(0);
    }
    kept.push((key, Arc::clone(&calibration)));
    Some(calibration)
}
