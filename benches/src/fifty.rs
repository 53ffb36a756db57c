//! A farm of fifty plots: the demonstration farm's ground and evidence, repeated.

use std::collections::BTreeMap;
use std::path::Path;

use advice::demo;
use book::model::{EntryId, Observation, Plot, Sample, Seen};
use book::{Book, Result, Stamp};
use ground::kit::Bounded;
use ground::texture::jar::reading::JarTemperature;

/// Plots of the farm.
pub const PLOTS: usize = 50;

/// Makes the farm's book at `path`.
///
/// # Errors
/// A file is there already, or the folder cannot be written.
pub fn create(path: impl AsRef<Path>) -> Result<Book> {
    let mut book = demo::create(path)?;
    let pattern = book.snapshot()?;
    let stamp = demo::beginning();
    book.write(|writing| {
        for turn in 1_u8.. {
            let warmer = 0.5 * f64::from(turn);
            for (place, plot) in pattern.plots.iter().enumerate() {
                if usize::from(turn) * pattern.plots.len() + place >= PLOTS {
                    return Ok(());
                }
                let body = Plot { name: format!("{} {}", plot.body.name, turn + 1), ..plot.body.clone() };
                let id = writing.record(body, &stamp)?.id;
                repeat(&pattern, plot.id, id, warmer, writing, &stamp)?;
            }
        }
        Ok(())
    })?;
    Ok(book)
}

/// The evidence of one plot once more, on another. Its jars stood a little warmer, so that no two are
/// the same and nothing can be worked out once for both.
fn repeat(
    pattern: &book::Snapshot,
    from: EntryId,
    to: EntryId,
    warmer_c: f64,
    writing: &mut book::Writing<'_>,
    stamp: &Stamp,
) -> Result<()> {
    let mut samples = BTreeMap::new();
    for sample in pattern.samples_of(from) {
        let body = Sample { plot: to, ..sample.body.clone() };
        samples.insert(sample.id, writing.record(body, stamp)?.id);
    }
    for held in pattern.evidence(from) {
        let sample = held.body.sample.and_then(|id| samples.get(&id).copied());
        let mut seen = held.body.seen.clone();
        if let Seen::Moisture(moisture) = &mut seen {
            // The beds are not repeated.
            moisture.bed = None;
        }
        if let Seen::Jar(jar) = &mut seen {
            let usual = jar.reading.water_temperature_c.map_or(18.0, Bounded::get);
            jar.reading.water_temperature_c = JarTemperature::new(usual + warmer_c).ok();
        }
        writing.record(Observation { plot: to, sample, seen, ..held.body.clone() }, stamp)?;
    }
    Ok(())
}
