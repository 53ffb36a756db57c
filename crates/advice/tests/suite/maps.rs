//! Maps of what varies: what is shown from how many readings, and zones that become plots and go back.

use advice::maps::{
    MapReport, NoSurface, Property, accept, back_to_one, map_report, mappable, suggested, tell, zones,
};
use advice::plan::FarmPlan;
use book::model::{EntryId, Frame, Note, Seen, UnitSystem};
use book::{Snapshot, Stamp};
use ground::fertility::analysis::report::{Amount, Analyte};
use ground::spatial::hull::Hull;
use ground::spatial::limits::Shown;
use ground::spatial::plane;
use jiff::Timestamp;
use jiff::civil::{Date, date};

use crate::yard::Yard;

const TODAY: Date = date(2026, 7, 1);
const PH: Property = Property::Lab(Analyte::PhWater);

fn pasture(snapshot: &Snapshot) -> EntryId {
    snapshot.plot_named("Long pasture").expect("the pasture").id
}

fn report(snapshot: &Snapshot, property: Property) -> MapReport {
    map_report(snapshot, property, Some(pasture(snapshot)), TODAY).expect("a plot of the book")
}

#[test]
fn thirty_six_readings_show_a_surface_within_its_bounds() {
    let farm = Yard::demo();
    let snapshot = farm.snapshot();
    let map = report(&snapshot, PH);
    assert_eq!(
        (map.values.at_places.len(), map.allowed, map.shown),
        (36, Shown::BoundedFit, Shown::BoundedFit)
    );
    let surface = map.surface.as_ref().expect("a surface");
    assert!(surface.cross.explained > 0.3, "{:?}", surface.cross);
    let places: Vec<[f64; 2]> = map.values.at_places.iter().map(|one| one.at).collect();
    let hull = Hull::around(&places);
    let (low, high) =
        map.values.at_places.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
            (low.min(one.value), high.max(one.value))
        });
    for (cell, value) in surface.cells.cells.iter().enumerate() {
        let Some(value) = value else { continue };
        assert!(hull.beyond_m(surface.cells.middle(cell)) <= surface.beyond_m);
        assert!(value.low < value.value && value.value < value.high);
        assert!((low - 0.3..=high + 0.3).contains(&value.value), "{value:?}");
    }
    let said = tell::sentences(&map, UnitSystem::Metric);
    assert!(
        said.lead.contains("kriged surface") && said.lead.contains("36 readings have a place"),
        "{}",
        said.lead
    );
    assert!(said.next.expect("a next step").starts_with("64 more readings"));
}

#[test]
fn few_readings_are_shown_as_they_are() {
    let farm = Yard::demo();
    let snapshot = farm.snapshot();
    let map = report(&snapshot, Property::Infiltration);
    assert_eq!((map.values.at_places.len(), map.shown), (4, Shown::PointsOnly));
    assert_eq!(map.no_surface, Some(NoSurface::TooFew));
    let whole = map.plots[0].figure.as_ref().expect("a mean");
    assert!(whole.spread.is_some() && whole.of_logarithms && !whole.worked_out);
    let said = tell::sentences(&map, UnitSystem::UsCustomary);
    assert!(said.next.expect("a next step").starts_with("6 more readings"));
    // Over the whole farm nothing smooth is drawn, however many there are.
    let all = map_report(&snapshot, PH, None, TODAY).expect("the farm");
    assert!(all.surface.is_none());
    assert_eq!(all.plots.len(), snapshot.plots.len());
    assert!(all.plots.iter().any(|plot| plot.figure.is_some()));
    assert!(mappable(&snapshot).iter().any(|one| one.property == PH && one.at_places == 36));
}

#[test]
fn zones_become_plots_in_one_write_and_go_back() {
    let mut farm = Yard::demo();
    let before = farm.snapshot();
    let whole = pasture(&before);
    let map = report(&before, PH);
    let count = suggested(&map, &FarmPlan::of(&before)).expect("the readings speak for zones");
    let told = zones(&map, &FarmPlan::of(&before), count).expect("zones of the map");
    assert!(told.worth.better_than_one && told.zones.len() == count);
    let stamp = Stamp::new(Timestamp::constant(1_779_400_000, 0), "Mab");
    let plots = accept(&mut farm.book, &before, &told, &stamp).expect("it is written");
    let parted = farm.snapshot();
    assert_eq!((plots.len(), parted.zones_of(whole).count()), (count, count));
    let mut moved = 0;
    for (plot, zone) in plots.iter().zip(&told.zones) {
        let of_zone = map_report(&parted, PH, Some(*plot), TODAY).expect("a plot");
        assert_eq!(of_zone.values.at_places.len(), zone.readings);
        moved += zone.readings;
    }
    assert!(moved >= 30, "{moved} readings moved");
    // The zones part the outline: as large together, nothing in two, and the whole one is off the plan meanwhile.
    let (drawn, zoned) = (FarmPlan::of(&before), FarmPlan::of(&parted));
    let area = |plan: &FarmPlan, plot: EntryId| {
        plan.area_of(plot).map(|(outer, holes)| ground::spatial::plane::area_m2(outer, holes))
    };
    let sum: f64 = plots.iter().filter_map(|plot| area(&zoned, *plot)).sum();
    let all = area(&drawn, whole).expect("it is drawn");
    assert!((sum - all).abs() < 1e-3 * all, "{sum} of {all}");
    assert_eq!(area(&zoned, whole), None);
    assert!(accept(&mut farm.book, &parted, &told, &stamp).is_err(), "zones are made once");
    // What is written of a zone afterwards is not lost with it.
    let note = Note { plot: Some(plots[0]), text: "limed".to_owned() };
    let note = farm.book.record(note, &stamp).expect("it is kept").id;
    // A moved origin leaves the zones where they are.
    let outline =
        parted.plan_parts.iter().find(|part| part.body.plot == Some(plots[0])).expect("it is drawn");
    assert_eq!(outline.body.outline.frame, Frame::Wgs84);
    let parted = farm.snapshot();
    back_to_one(&mut farm.book, &parted, whole, &stamp).expect("they go back");
    let kept = farm.snapshot();
    assert_eq!(kept.notes.iter().find(|held| held.id == note).map(|held| held.body.plot), Some(Some(whole)));
    let after = farm.snapshot();
    assert_eq!(after.plots.len(), before.plots.len());
    assert_eq!(area(&FarmPlan::of(&after), whole), Some(all));
    assert_eq!(report(&after, PH).values, map.values);
    assert!(back_to_one(&mut farm.book, &after, whole, &stamp).is_err(), "there is nothing to join");
}

#[test]
fn the_farm_is_told_plot_by_plot() {
    let farm = Yard::demo();
    let snapshot = farm.snapshot();
    let class = map_report(&snapshot, Property::Class, None, TODAY).expect("the farm");
    let creek = class.plots.iter().find(|plot| plot.name == "Creek field").expect("a plot");
    let figure = creek.figure.as_ref().expect("it is known");
    assert!(
        figure.worked_out && figure.named == Some("silt loam") && figure.odds.is_some_and(|odds| odds > 0.5)
    );
    let new = class.plots.iter().find(|plot| plot.name == "New ground").expect("a plot");
    assert!(new.figure.is_none());
    assert_eq!(tell::plot_words(&class, new, UnitSystem::Metric), "nothing is known of its make-up");
    for property in [Property::LimeNeed, Property::UsableWater, Property::Conductivity, Property::DaysToDrain]
    {
        let told = map_report(&snapshot, property, None, TODAY).expect("the farm");
        let known: Vec<_> = told.plots.iter().filter_map(|plot| plot.figure.as_ref()).collect();
        assert!(!known.is_empty(), "{property:?}");
        for figure in known {
            let spread = figure.spread.expect("a range");
            assert!(spread.low <= figure.value && figure.value <= spread.high, "{property:?} {figure:?}");
        }
        let one = report(&snapshot, property);
        assert_eq!((one.shown, one.no_surface), (Shown::PointsOnly, Some(NoSurface::OfThePlot)));
    }
}

/// 4 readings a zone are our judgement: the mean of two strays as far as the zones lie apart.
#[test]
fn a_zone_of_two_readings_is_not_proposed() {
    let farm = Yard::demo();
    let snapshot = farm.snapshot();
    let plan = FarmPlan::of(&snapshot);
    let mut map = report(&snapshot, PH);
    let count = suggested(&map, &plan).expect("the pasture falls into zones");
    let told = zones(&map, &plan, count).expect("zones");
    assert!(told.zones.iter().all(|zone| zone.readings >= 4), "{:?}", told.worth);
    let small = told.zones.last().expect("a zone").clone();
    let mut left = 2;
    map.values.at_places.retain(|one| {
        let inside = plane::inside(&small.outer, one.at)
            && !small.holes.iter().any(|hole| plane::inside(hole, one.at));
        left -= i32::from(inside);
        !inside || left >= 0
    });
    let told = zones(&map, &plan, count).expect("zones of the same surface");
    assert!(
        told.worth.better_than_one && told.zones.iter().any(|zone| zone.readings == 2),
        "{:?}",
        told.worth
    );
    assert_ne!(suggested(&map, &plan), Some(count));
    let said = tell::zones(&told, UnitSystem::Metric).join(" ");
    assert!(said.contains("holds 2 readings, too few to speak for it"), "{said}");
}

#[test]
fn nobody_counts_days_beyond_a_year() {
    for (days, short, whole) in [(4.8, "4.8", "4.8 days"), (39_087.0, "over a year", "over a year")] {
        assert_eq!(tell::short(Property::DaysToDrain, days, UnitSystem::Metric), short);
        assert_eq!(tell::figure(Property::DaysToDrain, "", days, UnitSystem::Metric), whole);
    }
}

#[test]
fn of_one_day_and_place_the_reading_recorded_last_counts() {
    let mut farm = Yard::demo();
    let snapshot = farm.snapshot();
    let before = report(&snapshot, PH);
    let first = before.values.at_places[0].clone();
    let mut body = snapshot.observation(first.observation).expect("its record").body.clone();
    let Seen::LabReport(of) = &mut body.seen else { panic!("a printout") };
    for figure in of.figures.iter_mut().filter(|figure| figure.analyte == Analyte::PhWater) {
        figure.amount = Amount::Exactly(first.value + 0.7);
    }
    let again = farm.book.record(body, &Stamp::new(Timestamp::UNIX_EPOCH, "a test")).expect("it is kept").id;
    let after = report(&farm.snapshot(), PH);
    let at = after.values.at_places.iter().find(|one| one.at == first.at).expect("its place");
    assert_eq!((at.observation, after.values.at_places.len()), (again, before.values.at_places.len()));
    assert!((at.value - first.value - 0.7).abs() < 1e-9, "{at:?}");
    assert_eq!(after.values.same_day, before.values.same_day + 1);
    let said = tell::sentences(&after, UnitSystem::Metric).notes.join(" ");
    assert!(said.contains("1 reading of a place and day"), "{said}");
}
