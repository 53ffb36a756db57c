//! What a farm's own laboratory results teach about its jars.

use std::collections::BTreeMap;
use std::sync::{LazyLock, Mutex, PoisonError};

use book::Snapshot;
use book::model::EntryId;
use ground::belief::Witness;
use ground::kit::Refusal;
use ground::texture::jar::{self, CalibrationPair, JarReading, Packing};
use ground::texture::lab;

/// Calibrations kept, so that a page does not work them out anew; the oldest key in order goes first.
const KEPT: usize = 64;

/// Calibrations by the pairs behind them. The same pairs always give the same packing.
static CALIBRATED: LazyLock<Mutex<BTreeMap<String, Packing>>> = LazyLock::new(Mutex::default);

/// The pairs of jar and laboratory on a farm, each with the plot it is from.
#[derive(Debug, Clone, Default)]
pub struct FarmJars {
    pairs: Vec<(EntryId, CalibrationPair)>,
}

impl FarmJars {
    /// Finds the pairs. A pair whose readings contradict themselves teaches nothing.
    #[must_use]
    pub fn of(snapshot: &Snapshot) -> Self {
        let pairs = snapshot
            .jar_lab_pairs()
            .into_iter()
            .filter_map(|pair| {
                let witness = lab::witness(pair.texture, "", "").ok()?;
                let plot = pair.jar.body.plot;
                Some((plot, CalibrationPair::new(pair.reading.clone(), &witness)?))
            })
            .collect();
        Self { pairs }
    }

    /// Pairs on the farm.
    #[must_use]
    pub fn count(&self) -> usize {
        self.pairs.len()
    }

    /// The packing for jars of one plot, learnt from the pairs of all the others: a laboratory's
    /// result on this plot speaks for itself and must not be heard twice through its jar.
    #[must_use]
    pub fn packing(&self, plot: EntryId) -> Packing {
        let others: Vec<&CalibrationPair> =
            self.pairs.iter().filter(|(of, _)| *of != plot).map(|(_, pair)| pair).collect();
        if others.is_empty() {
            return Packing::published();
        }
        let key = others
            .iter()
            .map(|pair| {
                let jar = serde_json::to_string(&pair.jar).unwrap_or_default();
                format!("{jar}{:?}{:?}", pair.lab_centre, pair.lab_covariance)
            })
            .collect::<Vec<_>>()
            .join("\n");
        if let Some(known) = kept().get(&key) {
            return *known;
        }
        let pairs: Vec<CalibrationPair> = others.into_iter().cloned().collect();
        let packing = Packing::calibrate(&pairs).unwrap_or_else(|_| Packing::published());
        let mut kept = kept();
        if kept.len() >= KEPT {
            kept.pop_first();
        }
        kept.insert(key, packing);
        packing
    }

    /// What a jar on this plot says.
    ///
    /// # Errors
    /// The jar contradicts itself.
    pub fn witness(
        &self,
        plot: EntryId,
        reading: &JarReading,
        id: &str,
        label: &str,
    ) -> Result<Witness, Refusal> {
        Ok(jar::assess(reading, &self.packing(plot))?.witness(id, label))
    }
}

/// A panic elsewhere leaves the map whole: it only ever holds finished entries.
fn kept() -> std::sync::MutexGuard<'static, BTreeMap<String, Packing>> {
    CALIBRATED.lock().unwrap_or_else(PoisonError::into_inner)
}
