//! Results into the book: bags that are new, then what was seen, in one write.

use book::model::{EntryId, Observation, Sample, Seen};
use book::{Book, Stamp};
use serde::Serialize;

use super::{ReadRow, Results};

/// What was stored.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Kept {
    /// Bags that were new.
    pub samples: Vec<EntryId>,
    /// What was seen.
    pub observations: Vec<EntryId>,
    /// Results that the book had already.
    pub known_already: usize,
}

/// Stores a table that was read, all of it or nothing.
///
/// # Errors
/// What the book refuses, or cannot write.
pub fn record_results(book: &mut Book, results: &Results, stamp: &Stamp) -> book::Result<Kept> {
    book.write(|writing| {
        let mut kept = Kept { known_already: results.known_already, ..Kept::default() };
        for row in &results.rows {
            let mut sample = row.sample;
            for seen in &row.seen {
                let of_bag = !matches!(seen, Seen::Probe(_));
                if of_bag && sample.is_none() {
                    let id = writing.record(results.sample(row), stamp)?.id;
                    kept.samples.push(id);
                    sample = Some(id);
                }
                let observation = results.observation(row, sample.filter(|_| of_bag), seen.clone());
                kept.observations.push(writing.record(observation, stamp)?.id);
            }
        }
        Ok(kept)
    })
}

impl Results {
    fn sample(&self, row: &ReadRow) -> Sample {
        Sample {
            plot: row.plot,
            taken_on: self.about.on,
            from_cm: self.about.from_cm,
            to_cm: self.about.to_cm,
            cores: row.cores,
            taken_by: self.about.by.clone(),
            bag_label: row.bag.clone(),
            import: None,
            spot: row.spot,
            note: String::new(),
        }
    }

    fn observation(&self, row: &ReadRow, sample: Option<EntryId>, seen: Seen) -> Observation {
        Observation {
            plot: row.plot,
            sample,
            seen_on: self.about.on,
            seen_by: self.about.by.clone(),
            note: row.note.clone(),
            import: None,
            // That of a bag stands on its sample.
            spot: if sample.is_none() { row.spot } else { None },
            seen,
        }
    }
}
