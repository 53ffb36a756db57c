//! Zones of a plot: what the whole lends to them, and moving records between them.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::{farm, plain_plot, stamp};
use book::model::seen::{
    Moisture, MoistureFeel, MoistureReading, OrganicMatter, OrganicMatterMethod, Packing, PackingWords,
};
use book::model::*;
use book::{Book, BookError, Snapshot};
use ground::kit::Bounded;
use jiff::civil::{Date, date};

struct Parted {
    _folder: tempfile::TempDir,
    book: Book,
    whole: EntryId,
    large: EntryId,
    small: EntryId,
    second: i64,
}

fn zone(name: &str, area_m2: f64, whole: EntryId) -> Plot {
    Plot {
        shape: Shape::Area { area_m2: PlotArea::literal(area_m2) },
        zone_of: Some(whole),
        ..plain_plot(name)
    }
}

/// A plot of 300 m² in zones of 200 and of 100.
fn parted() -> Parted {
    let folder = tempfile::tempdir().unwrap();
    let mut book = Book::create(folder.path().join("t.farmbook"), farm(), &stamp(0, "Ada")).unwrap();
    let whole = book.record(plain_plot("East"), &stamp(1, "Ada")).unwrap().id;
    let large = book.record(zone("East, large", 200.0, whole), &stamp(2, "Ada")).unwrap().id;
    let small = book.record(zone("East, small", 100.0, whole), &stamp(3, "Ada")).unwrap().id;
    Parted { _folder: folder, book, whole, large, small, second: 10 }
}

fn seen_on(plot: EntryId, seen: Seen, on: Date) -> Observation {
    Observation {
        plot,
        sample: None,
        seen_on: on,
        seen_by: String::new(),
        note: String::new(),
        import: None,
        spot: None,
        seen,
    }
}

fn organic_matter(percent: f64) -> Seen {
    let method = Some(OrganicMatterMethod::LossOnIgnition);
    Seen::OrganicMatter(OrganicMatter { percent: Bounded::literal(percent), method })
}

impl Parted {
    fn keep<T: Record>(&mut self, body: T) -> EntryId {
        self.second += 1;
        self.book.record(body, &stamp(self.second, "Ada")).unwrap().id
    }

    fn snapshot(&self) -> Snapshot {
        self.book.snapshot().unwrap()
    }

    fn bed(&mut self, plot: EntryId) -> EntryId {
        self.keep(Bed {
            plot,
            name: "Rows".into(),
            length_m: Bounded::literal(20.0),
            width_m: Bounded::literal(1.0),
            count: 1,
        })
    }

    fn spread(&mut self, plot: EntryId, bed: Option<EntryId>, kg: f64) -> EntryId {
        self.keep(Application {
            plot,
            bed,
            spread: SpreadMaterial::Catalogue("limestone".into()),
            on: date(2026, 4, 1),
            kg: Bounded::literal(kg),
            placed: Placed::Incorporated,
            job: None,
            note: String::new(),
        })
    }
}

#[test]
fn a_parted_plot_is_known_but_not_worked() {
    let mut parted = parted();
    let snapshot = parted.snapshot();
    let worked: Vec<EntryId> = snapshot.plots.iter().map(|plot| plot.id).collect();
    assert_eq!(worked, [parted.large, parted.small]);
    assert!(snapshot.is_parted(parted.whole) && !snapshot.is_parted(parted.large));
    assert_eq!(snapshot.plot(parted.whole).map(|plot| plot.body.name.as_str()), Some("East"));
    assert_eq!(snapshot.plot_named("east").map(|plot| plot.id), Some(parted.whole));
    let zones: Vec<EntryId> = snapshot.zones_of(parted.whole).map(|zone| zone.id).collect();
    assert_eq!(zones, [parted.large, parted.small]);
    // Without its zones it is worked again.
    for zone in [parted.large, parted.small] {
        parted.book.withdraw(zone, 1, "", &stamp(20, "Ada")).unwrap();
    }
    let worked: Vec<EntryId> = parted.snapshot().plots.iter().map(|plot| plot.id).collect();
    assert_eq!(worked, [parted.whole]);
}

#[test]
fn a_zone_lies_in_another_plot_of_the_book() {
    let mut parted = parted();
    let refused = |result: book::Result<book::Held<Plot>>| match result {
        Err(BookError::Refused(refusal)) => refusal.field,
        other => panic!("{other:?}"),
    };
    let in_its_zone = Plot { zone_of: Some(parted.large), ..plain_plot("East") };
    assert_eq!(refused(parted.book.revise(parted.whole, 1, in_its_zone, "", &stamp(20, "Ada"))), "zone_of");
    let bed = parted.bed(parted.large);
    assert_eq!(refused(parted.book.record(zone("Odd", 5.0, bed), &stamp(21, "Ada"))), "zone_of");
    // A zone outlives the plot it was part of, and can still be put right.
    parted.book.withdraw(parted.whole, 1, "", &stamp(22, "Ada")).unwrap();
    let renamed = zone("Large", 200.0, parted.whole);
    parted.book.revise(parted.large, 1, renamed, "", &stamp(23, "Ada")).unwrap();
    assert!(parted.snapshot().plot_named("Large").is_some());
    assert!(parted.book.check().unwrap().is_clean());
}

/// 30 kg on 300 m² are 20 on 200 and 10 on 100: a tenth of a kilogram on a square metre everywhere.
#[test]
fn a_zone_has_its_share_of_what_was_spread_on_the_whole() {
    let mut parted = parted();
    let (whole, large, small) = (parted.whole, parted.large, parted.small);
    parted.spread(whole, None, 30.0);
    let bed = parted.bed(small);
    parted.spread(small, Some(bed), 1.0);
    let snapshot = parted.snapshot();
    let on = |plot| -> Vec<f64> { snapshot.spread_on_plot(plot, 2026).iter().map(|one| one.kg).collect() };
    assert_eq!((on(large), on(small), on(whole)), (vec![20.0], vec![10.0, 1.0], vec![30.0]));
    // 20 of the 100 m² are bed.
    let on_bed: Vec<f64> = snapshot.spread_on_bed(bed, 2026).iter().map(|one| one.kg).collect();
    assert_eq!(on_bed, [2.0, 1.0]);
}

#[test]
fn what_was_found_of_the_whole_counts_in_a_zone_until_it_is_found_there() {
    let mut parted = parted();
    let (whole, large, small) = (parted.whole, parted.large, parted.small);
    let composite = parted.keep(seen_on(whole, organic_matter(3.0), date(2025, 4, 1)));
    let packed = Seen::Packing(Packing::Words(PackingWords::Loose));
    let packing = parted.keep(seen_on(whole, packed, date(2025, 4, 2)));
    // Found at one place, which lies in no zone: it speaks for none.
    let spot = Some(Spot::placed(Frame::Metres, [500.0, 0.0]));
    parted.keep(Observation { spot, ..seen_on(whole, organic_matter(9.0), date(2025, 5, 1)) });
    let own = parted.keep(seen_on(large, organic_matter(2.0), date(2024, 4, 1)));
    let snapshot = parted.snapshot();
    let found = |plot| -> Vec<EntryId> { snapshot.evidence(plot).map(|held| held.id).collect() };
    assert_eq!(found(large), [own, packing]);
    assert_eq!(found(small), [composite, packing]);
    assert_eq!(found(whole).len(), 3);
}

#[test]
fn a_bed_moves_with_what_names_it_and_all_goes_back_in_any_order() {
    let mut parted = parted();
    let (whole, large, small) = (parted.whole, parted.large, parted.small);
    for zone in [large, small] {
        parted.book.withdraw(zone, 1, "", &stamp(9, "Ada")).unwrap();
    }
    let bed = parted.bed(whole);
    let spread = parted.spread(whole, Some(bed), 1.0);
    let moist = Seen::Moisture(Moisture {
        bed: Some(bed),
        from_cm: Bounded::literal(20.0),
        to_cm: None,
        reading: MoistureReading::Feel(MoistureFeel::Moist),
    });
    let moist = parted.keep(seen_on(whole, moist, date(2026, 5, 1)));
    let other = parted.spread(whole, None, 3.0);
    for zone in [large, small] {
        parted.book.restore(zone, 2, "", &stamp(39, "Ada")).unwrap();
    }
    let at = stamp(40, "Ada");
    let moved = parted.book.write(|writing| writing.move_bed(bed, large, "zones", &at)).unwrap();
    assert_eq!(moved, 3);
    let place = |snapshot: &Snapshot, id| {
        let of = |held: &book::Held<Application>| (held.id == id).then_some(held.body.plot);
        snapshot.applications.iter().find_map(of)
    };
    let snapshot = parted.snapshot();
    assert_eq!(snapshot.bed(bed).map(|bed| bed.body.plot), Some(large));
    assert_eq!((place(&snapshot, spread), place(&snapshot, other)), (Some(large), Some(whole)));
    assert_eq!(snapshot.observation(moist).map(|held| held.body.plot), Some(large));
    // Corrected since, the bed was written after what leans on it, and still goes first.
    let held = snapshot.bed(bed).unwrap();
    let longer = Bed { length_m: Bounded::literal(25.0), ..held.body.clone() };
    parted.book.revise(bed, held.number, longer, "", &stamp(41, "Ada")).unwrap();
    let at = stamp(42, "Ada");
    let give =
        |parted: &mut Parted| parted.book.write(|writing| writing.move_to_plot(large, whole, "joined", &at));
    // While it has zones, a bed on the whole would be in no list.
    assert!(
        matches!(give(&mut parted), Err(BookError::Refused(refusal)) if refusal.example == "East, large")
    );
    for zone in [large, small] {
        parted.book.withdraw(zone, 3, "", &stamp(43, "Ada")).unwrap();
    }
    let moved = give(&mut parted).unwrap();
    assert_eq!(moved, 3);
    assert_eq!(place(&parted.snapshot(), spread), Some(whole));
    assert!(parted.book.check().unwrap().is_clean());
}
