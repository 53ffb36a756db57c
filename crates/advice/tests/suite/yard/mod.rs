//! A farm book in a folder of its own, written from the demonstration: what the tests here begin with.

#![allow(dead_code, reason = "each file of tests uses its part")]

use advice::results::ResultsAbout;
use advice::{Options, PlotReport, demo, plot_report};
use book::model::seen::{MoistureFeel, SalinityExtract};
use book::model::{EntryId, Observation, SampleDepth, Seen};
use book::{Book, Snapshot, Stamp};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use ground::texture::feel::Hand;
use ground::texture::jar::Dispersant;
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

/// What is said of all rows of a table of results in these tests.
pub(crate) fn results_about(plot: EntryId, plan: Option<EntryId>, on: Date) -> ResultsAbout {
    ResultsAbout {
        plot,
        plan,
        on,
        by: "Ada".to_owned(),
        from_cm: SampleDepth::literal(0.0),
        to_cm: SampleDepth::literal(15.0),
        hand: Hand::Practised,
        dispersant: Dispersant::DishwasherPowder,
        moisture: MoistureFeel::FieldCapacity,
        extract: SalinityExtract::OneToOne,
        laboratory: String::new(),
        second_reading: false,
        units: UnitSystem::UsCustomary,
    }
}
