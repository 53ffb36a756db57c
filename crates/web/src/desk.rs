//! The open farm book: one writer, and what was computed from its present state kept until it changes.

use std::any::{Any, TypeId};
use std::collections::{HashMap, VecDeque};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use advice::feeding::plan::PlanSettings;
use advice::watering::BedWater;
use book::model::{EntryId, Farm};
use book::{Book, BookError, Snapshot, Stamp};
use jiff::civil::Date;

use crate::plans::{Asked, Plans};
use crate::reports::{Reports, Told};
use crate::waters::Waters;

/// The open book.
pub struct Desk {
    path: PathBuf,
    book: Mutex<Book>,
    /// A way of its own into the same file, so that reading never waits for a write under way.
    reader: Mutex<Book>,
    kept: Mutex<Kept>,
    reports: Reports,
    waters: Waters,
    plans: Plans,
    said: Mutex<Said>,
    read_only: bool,
}

/// Sentences for the page that a person is sent on to, each lot under its number.
#[derive(Default)]
struct Said {
    next: u32,
    lots: VecDeque<(u32, Vec<String>)>,
}

/// Lots of sentences that are remembered.
const MOST_SAID: usize = 64;

/// What was computed from one state of the book.
#[derive(Default)]
struct Kept {
    snapshot: Option<Arc<Snapshot>>,
    derived: HashMap<(TypeId, String), Arc<dyn Any + Send + Sync>>,
}

impl Kept {
    /// What is kept, if it belongs to that state of the book.
    fn of(&mut self, snapshot: &Snapshot) -> Option<&mut Self> {
        let present = self.snapshot.as_ref()?.mark == snapshot.mark;
        present.then_some(self)
    }
}

impl Desk {
    /// Opens a book. One that cannot be written is opened for reading, and pages say so.
    pub fn open(path: &Path) -> Result<Self, BookError> {
        match Book::open(path) {
            Ok(book) => Self::with(path, book, false),
            Err(BookError::ReadOnly { .. }) => Self::with(path, Book::open_read_only(path)?, true),
            Err(error) => Err(error),
        }
    }

    /// Makes a new book with its farm.
    pub fn create(path: &Path, farm: Farm, stamp: &Stamp) -> Result<Self, BookError> {
        Self::with(path, Book::create(path, farm, stamp)?, false)
    }

    fn with(path: &Path, book: Book, read_only: bool) -> Result<Self, BookError> {
        let reader = if read_only { Book::open_read_only(path)? } else { book.reader()? };
        Ok(Self {
            path: path.to_owned(),
            book: Mutex::new(book),
            reader: Mutex::new(reader),
            kept: Mutex::default(),
            reports: Reports::default(),
            waters: Waters::default(),
            plans: Plans::default(),
            said: Mutex::default(),
            read_only,
        })
    }

    /// The book's file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Whether the book can be read only.
    #[must_use]
    pub fn is_read_only(&self) -> bool {
        self.read_only
    }

    /// The book itself, to write or to ask for history. Held for one short piece of work.
    pub fn book(&self) -> MutexGuard<'_, Book> {
        // A page that failed while holding the book cannot have left half a record: SQLite rolled it back.
        self.book.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The present state, read anew only when the book has changed, by whichever process.
    pub fn snapshot(&self) -> Result<Arc<Snapshot>, BookError> {
        let book = self.reader.lock().unwrap_or_else(PoisonError::into_inner);
        let mark = book.change_mark()?;
        let mut kept = self.kept();
        if let Some(snapshot) = &kept.snapshot
            && snapshot.mark == mark
        {
            return Ok(Arc::clone(snapshot));
        }
        let snapshot = Arc::new(book.snapshot()?);
        *kept = Kept { snapshot: Some(Arc::clone(&snapshot)), derived: HashMap::new() };
        Ok(snapshot)
    }

    /// Leaves sentences about what was just kept; the address that a person is sent on to with their number. Empty
    /// where there is nothing to say. They last as long as the program runs.
    pub(crate) fn say(&self, sentences: Vec<String>) -> String {
        if sentences.is_empty() {
            return String::new();
        }
        let mut said = self.said.lock().unwrap_or_else(PoisonError::into_inner);
        let number = said.next;
        said.next = number.wrapping_add(1);
        said.lots.push_back((number, sentences));
        while said.lots.len() > MOST_SAID {
            said.lots.pop_front();
        }
        format!("&said={number}")
    }

    /// The sentences that were left under a number.
    pub(crate) fn said(&self, number: &str) -> Vec<String> {
        let Ok(number) = number.parse::<u32>() else { return Vec::new() };
        let said = self.said.lock().unwrap_or_else(PoisonError::into_inner);
        said.lots.iter().find(|(key, _)| *key == number).map(|(_, lot)| lot.clone()).unwrap_or_default()
    }

    /// Something computed from `snapshot`, kept under `key` until the book changes: advice on a
    /// plot, a figure. Two pages that ask at once may both compute it; they get the same answer.
    pub fn derived<T: Send + Sync + 'static>(
        &self,
        snapshot: &Snapshot,
        key: &str,
        compute: impl FnOnce(&Snapshot) -> T,
    ) -> Arc<T> {
        let name = (TypeId::of::<T>(), key.to_owned());
        let found = self.kept().of(snapshot).and_then(|kept| kept.derived.get(&name).cloned());
        if let Some(Ok(found)) = found.map(Arc::downcast::<T>) {
            return found;
        }
        // Not under the lock: this may take a while.
        let made = Arc::new(compute(snapshot));
        if let Some(kept) = self.kept().of(snapshot) {
            kept.derived.insert(name, Arc::clone(&made) as Arc<dyn Any + Send + Sync>);
        }
        made
    }

    /// Everything there is to say about one plot, worked out anew only when something behind it changed.
    pub fn told(&self, snapshot: &Snapshot, plot: EntryId) -> Option<Arc<Told>> {
        self.reports.of(snapshot, plot)
    }

    /// The same for every plot, in the order of the book.
    pub fn told_all(&self, snapshot: &Snapshot) -> Vec<Arc<Told>> {
        self.reports.all(snapshot)
    }

    /// The water of one bed on a day, worked out anew only when something behind it changed.
    pub fn bed_water(&self, snapshot: &Snapshot, bed: EntryId, today: Date) -> Option<Arc<BedWater>> {
        let told = self.told(snapshot, snapshot.bed(bed)?.body.plot)?;
        self.waters.of(snapshot, &[(bed, told)], today).pop()
    }

    /// The same for every bed in which something grows, in the order of the book.
    pub fn water_all(&self, snapshot: &Snapshot, today: Date) -> Vec<Arc<BedWater>> {
        let beds: Vec<_> = snapshot
            .beds
            .iter()
            .filter(|bed| snapshot.planting_on(bed.id, today).is_some())
            .filter_map(|bed| Some((bed.id, self.told(snapshot, bed.body.plot)?)))
            .collect();
        self.waters.of(snapshot, &beds, today)
    }

    /// The plan of what to spread, or how far it is.
    pub(crate) fn plan(&self, snapshot: &Arc<Snapshot>, settings: PlanSettings, today: Date) -> Asked {
        self.plans.of(snapshot, || self.told_all(snapshot), settings, today)
    }

    /// Stops the plans that are being made: the best so far are taken.
    pub(crate) fn stop_plans(&self, snapshot: &Snapshot) {
        self.plans.stop(snapshot);
    }

    /// Makes every report and the water of every bed that are missing, so that the first page that needs
    /// them finds them. What cannot be read now is told by that page.
    pub fn prepare(&self, today: Date) {
        if let Ok(snapshot) = self.snapshot() {
            self.told_all(&snapshot);
            self.water_all(&snapshot, today);
        }
    }

    fn kept(&self) -> MutexGuard<'_, Kept> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use book::model::{Note, UnitSystem};

    fn stamp() -> Stamp {
        Stamp::new(jiff::Timestamp::UNIX_EPOCH, "a test")
    }

    fn note(text: &str) -> Note {
        serde_json::from_value(serde_json::json!({ "text": text })).unwrap()
    }

    fn desk(folder: &Path) -> Desk {
        Desk::create(
            &folder.join("farm.farmbook"),
            Farm::named("Long Furrow Farm", UnitSystem::Metric),
            &stamp(),
        )
        .unwrap()
    }

    #[test]
    fn the_state_is_read_once_until_the_book_changes() {
        let folder = tempfile::tempdir().unwrap();
        let desk = desk(folder.path());
        let first = desk.snapshot().unwrap();
        assert!(Arc::ptr_eq(&first, &desk.snapshot().unwrap()));
        desk.book().record(note("crust after the storm"), &stamp()).unwrap();
        let second = desk.snapshot().unwrap();
        assert_eq!(second.notes.len(), 1);
    }

    #[test]
    fn the_state_can_be_read_while_the_book_is_held() {
        let folder = tempfile::tempdir().unwrap();
        let desk = desk(folder.path());
        let held = desk.book();
        assert_eq!(desk.snapshot().unwrap().notes.len(), 0);
        drop(held);
    }

    #[test]
    fn a_write_by_another_process_is_seen() {
        let folder = tempfile::tempdir().unwrap();
        let desk = desk(folder.path());
        assert_eq!(desk.snapshot().unwrap().notes.len(), 0);
        let mut other = Book::open(desk.path()).unwrap();
        other.record(note("the pump was moved"), &stamp()).unwrap();
        assert_eq!(desk.snapshot().unwrap().notes.len(), 1);
    }

    #[test]
    fn what_is_derived_lasts_as_long_as_the_state_it_came_from() {
        let folder = tempfile::tempdir().unwrap();
        let desk = desk(folder.path());
        let old = desk.snapshot().unwrap();
        let count = |snapshot: &Snapshot| snapshot.notes.len();
        let first = desk.derived(&old, "notes", count);
        assert!(Arc::ptr_eq(&first, &desk.derived(&old, "notes", count)));
        desk.book().record(note("lime spread"), &stamp()).unwrap();
        let new = desk.snapshot().unwrap();
        assert_eq!(*desk.derived(&new, "notes", count), 1);
        // A page still holding the old state gets the old answer, and does not disturb the new one.
        assert_eq!(*desk.derived(&old, "notes", count), 0);
        assert_eq!(*desk.derived(&new, "notes", |_| usize::MAX), 1);
    }
}
