//! What every request shares.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, PoisonError, RwLock};

use book::model::{self, Farm};
use book::{BookError, Stamp};
use ground::kit::units::UnitSystem;
use jiff::Timestamp;

use crate::assets::Assets;
use crate::desk::Desk;

/// How the app is started.
#[derive(Debug, Clone)]
pub struct Options {
    /// The farm book to open; one that is not there yet is made by the start page. Without a path
    /// only the handbook runs.
    pub book: Option<PathBuf>,
    /// Port on the loopback address; 0 takes any free one.
    pub port: u16,
    /// Name written beside each record.
    pub recorded_by: String,
    /// The clock; tests set it.
    pub clock: fn() -> Timestamp,
}

impl Default for Options {
    fn default() -> Self {
        Self { book: None, port: 0, recorded_by: String::new(), clock: Timestamp::now }
    }
}

/// The running app.
pub struct App {
    /// Style and script as the browser is given them.
    pub assets: Assets,
    options: Options,
    desk: RwLock<Option<Arc<Desk>>>,
    ahead: AtomicBool,
}

impl App {
    /// The app as it will answer on `options.port`, with its book open.
    ///
    /// # Errors
    /// The book is there and cannot be used.
    pub fn new(options: Options) -> Result<Self, BookError> {
        let desk = match &options.book {
            Some(path) => match Desk::open(path) {
                Ok(desk) => Some(Arc::new(desk)),
                Err(BookError::Missing { .. }) => None,
                Err(error) => return Err(error),
            },
            None => None,
        };
        Ok(Self {
            assets: Assets::embedded(),
            options,
            desk: RwLock::new(desk),
            ahead: AtomicBool::new(false),
        })
    }

    /// The port a request's `Host` has to name.
    #[must_use]
    pub fn port(&self) -> u16 {
        self.options.port
    }

    /// Where a new book would be made, when none is open.
    #[must_use]
    pub fn place_for_a_book(&self) -> Option<&PathBuf> {
        self.options.book.as_ref()
    }

    /// The open book.
    #[must_use]
    pub fn desk(&self) -> Option<Arc<Desk>> {
        self.desk.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Makes a new book at the place given on the command line, and opens it.
    ///
    /// # Errors
    /// As [`book::Book::create`]; also when a book is open already or no place was given.
    pub fn start(&self, farm: Farm) -> Result<Arc<Desk>, BookError> {
        let path = self.options.book.clone().unwrap_or_else(|| PathBuf::from("farm.farmbook"));
        let mut desk = self.desk.write().unwrap_or_else(PoisonError::into_inner);
        if desk.is_some() {
            return Err(BookError::Exists { path });
        }
        let made = Arc::new(Desk::create(&path, farm, &self.stamp())?);
        *desk = Some(Arc::clone(&made));
        Ok(made)
    }

    /// From now on makes the reports on plots before a page asks for them: at once, and after each write.
    pub fn work_ahead(&self) {
        self.ahead.store(true, Ordering::Relaxed);
        self.prepare();
    }

    /// Makes the reports that are missing, in the background. A page that asks meanwhile waits for its
    /// own and for no other, and none is made twice.
    pub(crate) fn prepare(&self) {
        if !self.ahead.load(Ordering::Relaxed) {
            return;
        }
        let today = crate::when::day_of(self.stamp().at);
        if let Some(desk) = self.desk() {
            // Without a thread to spare, pages make what they need themselves.
            let _no_thread =
                std::thread::Builder::new().name("reports".to_owned()).spawn(move || desk.prepare(today));
        }
    }

    /// Now, and who records.
    #[must_use]
    pub fn stamp(&self) -> Stamp {
        Stamp::new((self.options.clock)(), &self.options.recorded_by)
    }

    /// The open farm.
    #[must_use]
    pub fn farm(&self) -> Option<Farm> {
        let snapshot = self.desk()?.snapshot().ok()?;
        Some(snapshot.farm.body.clone())
    }

    /// The units the farm reads and writes.
    #[must_use]
    pub fn units(&self) -> UnitSystem {
        match self.farm().map(|farm| farm.units) {
            Some(model::UnitSystem::UsCustomary) => UnitSystem::UsCustomary,
            _ => UnitSystem::Metric,
        }
    }
}
