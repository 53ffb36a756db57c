//! A farm book in a folder of its own, written from the demonstration: what the tests here begin with.

#![allow(dead_code, reason = "each file of tests uses its part")]

use advice::{Options, PlotReport, demo, plot_report};
use book::model::{EntryId, Observation, Seen};
use book::{Book, Snapshot, Stamp};
use jiff::civil::Date;

pub(crate) struct Yard {
    _folder: tempfile::TempDir,
    pub(crate) book: Book,
}

pub(crate) fn stamp() -> Stamp {
    Stamp::new(jiff::Timestamp::UNIX_EPOCH, "a test")
}

impl Yard {
    /// The demonstration as on its own day.
    pub(crate) fn demo() -> Self {
        Self::on(demo::DAY)
    }

    /// The demonstration as it would be written on a day.
    pub(crate) fn on(today: Date) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let book = demo::create_on(folder.path().join("demo.farmbook"), today)
            .expect("the demonstration is written");
        Self { _folder: folder, book }
    }

    pub(crate) fn snapshot(&self) -> Snapshot {
        self.book.snapshot().expect("it is read back")
    }

    pub(crate) fn plot(&self, name: &str) -> EntryId {
        self.snapshot().plot_named(name).expect("the demonstration has it").id
    }

    pub(crate) fn bed(&self, name: &str) -> EntryId {
        let snapshot = self.snapshot();
        snapshot.beds.iter().find(|bed| bed.body.name == name).expect("the demonstration has it").id
    }

    pub(crate) fn report(&self, plot: EntryId) -> PlotReport {
        plot_report(&self.snapshot(), plot, &Options { weigh_measurements: false, ..Options::default() })
            .expect("the plot is there")
    }

    pub(crate) fn see(&mut self, plot: EntryId, seen_on: Date, seen: Seen) {
        let body = Observation {
            plot,
            sample: None,
            seen_on,
            seen_by: "a test".to_owned(),
            note: String::new(),
            import: None,
            spot: None,
            seen,
        };
        self.book.record(body, &stamp()).expect("it is kept");
    }
}
