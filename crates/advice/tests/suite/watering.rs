//! The water of beds, on the demonstration farm and on farms that lack something.

use std::sync::OnceLock;

use advice::watering::{
    BedWater, Call, DaySource, OUTLOOK_D, WantedKind, bed_water, farm_weather, water_today,
};
use advice::{Options, demo, plot_report};
use book::model::seen::{Moisture, MoistureFeel, MoistureReading, SignDepth};
use book::model::{
    Bed, BedLength, BedWidth, EntryId, Farm, Latitude, Observation, Place, PlantedCrop, PlantedHow, Planting,
    Plot, PlotArea, Seen, Shape, UnitSystem, WateringAmount, WateringDone, WateringMinutes,
};
use book::{Book, Snapshot, Stamp};
use ground::kit::Bounded;
use jiff::ToSpan;
use jiff::civil::Date;

use crate::yard::Yard;

fn bed_of(snapshot: &Snapshot, bed: EntryId, today: Date) -> BedWater {
    let plot = snapshot.bed(bed).expect("the bed").body.plot;
    let options = Options { weigh_measurements: false, ..Options::default() };
    let report = plot_report(snapshot, plot, &options).expect("a report");
    bed_water(snapshot, bed, &report, &farm_weather(snapshot, today), today).expect("the bed")
}

fn all_of(snapshot: &Snapshot, today: Date) -> Vec<BedWater> {
    snapshot.beds.iter().map(|bed| bed_of(snapshot, bed.id, today)).collect()
}

fn demo_beds() -> &'static [BedWater] {
    static BEDS: OnceLock<Vec<BedWater>> = OnceLock::new();
    BEDS.get_or_init(|| {
        let yard = Yard::demo();
        all_of(&yard.snapshot(), demo::DAY)
    })
}

fn demo_bed(name: &str) -> &'static BedWater {
    demo_beds().iter().find(|bed| bed.bed_name == name).expect("the bed")
}

#[test]
fn every_planted_bed_of_the_demonstration_is_told() {
    for bed in demo_beds() {
        let advice = bed.advice.as_ref().unwrap_or_else(|| panic!("{}: {:?}", bed.bed_name, bed.wanted));
        assert!((0.0..=1.0).contains(&advice.odds_due), "{}", bed.bed_name);
        assert_eq!(bed.outlook.len(), OUTLOOK_D, "{}", bed.bed_name);
        assert!(!bed.headline.is_empty() && !bed.why.is_empty() && !bed.working.steps.is_empty());
        // A draw that was due once stays counted, so odds only rise.
        assert!(
            bed.outlook.is_sorted_by(|one, next| one.odds_due <= next.odds_due + 1e-9),
            "{}",
            bed.bed_name
        );
        for day in &bed.season {
            let spread = day.deficit_mm;
            assert!(spread.low <= spread.median && spread.median <= spread.high, "{}", day.date);
            assert!(
                spread.low >= -1e-9 && day.use_mm >= 0.0 && day.allowable_mm <= day.total_available_mm + 1e-9
            );
        }
    }
}

#[test]
fn under_cover_no_rain_falls_and_the_crop_drinks_less() {
    let (tunnel, open) = (demo_bed("Beds A to E"), demo_bed("Beds 1 to 12"));
    assert!(tunnel.season.iter().all(|day| day.rain_mm == 0.0));
    assert!(tunnel.outlook.iter().all(|day| day.rain_odds.is_none()));
    assert!(open.season.iter().any(|day| day.rain_mm > 0.0));
    assert!(tunnel.notes.iter().any(|note| note.text.contains("Under the cover")));
}

#[test]
fn filled_days_carry_the_rule_that_filled_them() {
    let yard = Yard::demo();
    let weather = farm_weather(&yard.snapshot(), demo::DAY);
    let day = |back: i64| {
        let date = demo::DAY.saturating_sub(back.days());
        &weather.days[weather.place(date).expect("in the window")]
    };
    assert!(day(22).marks.iter().any(|mark| mark.contains("straight line")), "{:?}", day(22));
    assert_eq!(day(22).source, DaySource::Filled);
    assert!(day(9).marks.iter().any(|mark| mark.contains("rain not known")), "{:?}", day(9));
    assert!(day(1).marks.is_empty() && day(1).source == DaySource::Measured);
    assert_eq!(day(-1).source, DaySource::Forecast);
    assert_eq!(day(-6).source, DaySource::Usual);
    assert!(day(-6).et0_mm.high > day(-6).et0_mm.low);
}

#[test]
fn salty_water_without_rain_asks_for_more() {
    let bed = demo_bed("Beds F to K");
    let salts = bed.salts.as_ref().expect("the bore is salty");
    assert!(salts.used > 0.05 && salts.used <= 0.3, "{salts:?}");
    assert!(demo_bed("Beds A to E").salts.is_none(), "the well is not");
}

#[test]
fn equal_beds_are_told_for_one_and_for_all() {
    for bed in demo_beds() {
        let Some(run) = bed.advice.as_ref().and_then(|advice| advice.run.as_ref()) else { continue };
        let all = run.volume_each_l * f64::from(bed.count);
        assert!((run.volume_all_l - all).abs() < 1e-6 * all.max(1.0));
        // 1 L on 1 m² is 1 mm, and the rate is the flow over the ground.
        if let (Some(flow), Some(rate)) = (run.flow_each_l_min, run.rate_mm_h) {
            let minutes = 60.0 * run.gross_mm / rate;
            assert!((flow * minutes - run.volume_each_l).abs() < 1e-6 * run.volume_each_l.max(1.0));
        }
    }
}

#[test]
fn a_bed_without_hardware_asks_for_it_and_one_by_hand_is_told_in_cans() {
    let trial = demo_bed("Trial bed");
    assert!(trial.wanted.iter().any(|wanted| wanted.kind == WantedKind::System));
    assert!(trial.advice.as_ref().is_some_and(|advice| advice.run.is_none()));
    let herbs = demo_bed("Herb bed");
    assert!(herbs.wanted.iter().any(|wanted| wanted.kind == WantedKind::Flow));
    assert!(
        herbs.advice.as_ref().and_then(|advice| advice.run.as_ref()).is_some_and(|run| run.minutes.is_none())
    );
}

#[test]
fn readings_say_how_far_off_the_reckoning_was() {
    let bed = demo_bed("Beds 1 to 12");
    assert_eq!(bed.looks.len(), 2);
    for look in &bed.looks {
        let correction = look.correction.as_ref().expect("it was used");
        let (before, after) = (correction.before_share, correction.after_share);
        let seen = correction.observed_share;
        // The correction lands between what was reckoned and what was seen.
        assert!(
            (after - before) * (seen - before) >= -1e-9
                && (after - before).abs() <= (seen - before).abs() + 1e-9
        );
        assert!(!look.sentence.is_empty());
    }
}

#[test]
fn water_written_down_today_counts() {
    let mut yard = Yard::demo();
    let before = yard.snapshot();
    let bed = before.beds.iter().find(|bed| bed.body.name == "Carrot beds").expect("the bed").id;
    let dry = bed_of(&before, bed, demo::DAY);
    let given = WateringDone {
        bed,
        on: demo::DAY,
        amount: WateringAmount::Minutes(WateringMinutes::literal(240.0)),
        note: String::new(),
    };
    yard.book.record(given, &demo::beginning()).expect("kept");
    let wet = bed_of(&yard.snapshot(), bed, demo::DAY);
    // 4 h at 9 mm/h.
    assert!((wet.given_today_mm - 36.0).abs() < 1e-9);
    let odds = |told: &BedWater| told.advice.as_ref().map(|advice| advice.odds_due).expect("advice");
    assert!(odds(&wet) <= odds(&dry));
    assert!(wet.outlook[0].deficit_mm.median < dry.outlook[0].deficit_mm.median);
    assert_eq!(wet.advice.as_ref().map(|advice| advice.call), Some(Call::Wait));
}

#[test]
fn a_dry_handful_makes_a_bed_drier_than_reckoned() {
    let mut yard = Yard::demo();
    let before = yard.snapshot();
    let bed = before.beds.iter().find(|bed| bed.body.name == "Beds A to E").expect("the bed");
    let (bed, plot) = (bed.id, bed.body.plot);
    let reckoned = bed_of(&before, bed, demo::DAY).outlook[0].deficit_mm.median;
    let reading = |from_cm| Moisture {
        bed: Some(bed),
        from_cm: SignDepth::literal(from_cm),
        to_cm: None,
        reading: MoistureReading::Feel(MoistureFeel::Dry),
    };
    let observe = |moisture| Observation {
        plot,
        sample: None,
        seen_on: demo::DAY,
        seen_by: "Mab".to_owned(),
        note: String::new(),
        import: None,
        spot: None,
        seen: Seen::Moisture(moisture),
    };
    yard.book.record(observe(reading(10.0)), &demo::beginning()).expect("kept");
    // Below the roots a reading tells nothing of what they can draw.
    yard.book.record(observe(reading(250.0)), &demo::beginning()).expect("kept");
    let told = bed_of(&yard.snapshot(), bed, demo::DAY);
    assert!(told.outlook[0].deficit_mm.median > reckoned + 1.0);
    let unused: Vec<_> = told.looks.iter().filter(|look| look.correction.is_none()).collect();
    assert_eq!(unused.len(), 1);
    assert!(unused[0].sentence.contains("below the roots"), "{}", unused[0].sentence);
}

#[test]
fn the_farm_is_told_supply_by_supply() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let water = water_today(&snapshot, demo_beds(), demo::DAY);
    assert_eq!(water.beds.len(), demo_beds().len());
    for supply in &water.supplies {
        let Some(most) = supply.flow_l_min else { continue };
        assert!(supply.sets.iter().all(|set| set.flow_l_min <= most * 1.000_001), "{supply:?}");
        let total: f64 = supply.sets.iter().map(|set| set.run_min).sum();
        assert!((total - supply.total_min).abs() < 1e-9);
    }
    assert!(water.headline.contains("water today"), "{}", water.headline);
}

#[test]
fn the_same_book_and_day_give_the_same_answer() {
    let yard = Yard::demo();
    let again = all_of(&yard.snapshot(), demo::DAY);
    for (one, other) in demo_beds().iter().zip(&again) {
        let text = |told: &BedWater| serde_json::to_string(told).expect("serialises");
        assert_eq!(text(one), text(other));
    }
}

#[test]
fn the_demonstration_shows_a_growing_season_at_any_time_of_the_year() {
    for (month, day) in [(1, 15), (4, 2), (11, 26)] {
        let today = jiff::civil::date(2026, month, day);
        let yard = Yard::on(today);
        let snapshot = yard.snapshot();
        let southern = snapshot.farm.body.latitude_degrees.is_some_and(|latitude| latitude.get() < 0.0);
        assert_eq!(southern, month != 4);
        let beds = all_of(&snapshot, today);
        assert!(beds.iter().all(|bed| bed.advice.is_some()), "{today}");
        let used: f64 = beds[0].season.iter().rev().take(14).map(|day| day.use_mm).sum();
        assert!(used > 10.0, "{today}: {used} mm in a fortnight is no growing season");
    }
}

/// A farm with one planted bed and nothing else.
fn bare_farm(latitude: Option<f64>) -> (tempfile::TempDir, Book, EntryId) {
    let folder = tempfile::tempdir().expect("a folder");
    let farm = Farm {
        latitude_degrees: latitude.map(Latitude::literal),
        ..Farm::named("Long Furrow Farm", UnitSystem::Metric)
    };
    let stamp = demo::beginning();
    let mut book = Book::create(folder.path().join("bare.farmbook"), farm, &stamp).expect("a book");
    let plot = Plot {
        name: "Field".to_owned(),
        place: Place::OpenField,
        shape: Shape::Area { area_m2: PlotArea::literal(500.0) },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        cover: None,
        organic: None,
        zone_of: None,
    };
    let plot = book.record(plot, &stamp).expect("kept").id;
    let bed = Bed {
        plot,
        name: "Bed".to_owned(),
        length_m: BedLength::literal(10.0),
        width_m: BedWidth::literal(0.75),
        count: 1,
    };
    let bed = book.record(bed, &stamp).expect("kept").id;
    plant(&mut book, bed, PlantedCrop::Catalogue("lettuce".to_owned()), &stamp);
    (folder, book, bed)
}

fn plant(book: &mut Book, bed: EntryId, crop: PlantedCrop, stamp: &Stamp) {
    let planting = Planting {
        bed,
        crop,
        planted_on: demo::DAY.saturating_sub(20.days()),
        how: PlantedHow::Transplanted,
        harvest_on: None,
        ended_on: None,
        mulch: None,
        yield_goal_kg: None,
        note: String::new(),
    };
    book.record(planting, stamp).expect("kept");
}

#[test]
fn what_is_missing_is_asked_for_and_no_advice_is_made_up() {
    let wants = |told: &BedWater| told.wanted.iter().map(|wanted| wanted.kind).collect::<Vec<_>>();
    let (_folder, book, bed) = bare_farm(None);
    let told = bed_of(&book.snapshot().expect("read"), bed, demo::DAY);
    assert!(wants(&told).contains(&WantedKind::Latitude) && told.advice.is_none(), "{:?}", told.wanted);
    assert!(told.headline.contains("latitude"), "{}", told.headline);

    let (_folder, book, bed) = bare_farm(Some(45.0));
    let told = bed_of(&book.snapshot().expect("read"), bed, demo::DAY);
    assert!(wants(&told).contains(&WantedKind::Weather) && told.advice.is_none(), "{:?}", told.wanted);
    assert!(wants(&told).contains(&WantedKind::System) && wants(&told).contains(&WantedKind::Ground));

    let (_folder, mut book, bed) = bare_farm(Some(45.0));
    plant(&mut book, bed, PlantedCrop::Catalogue("no such crop".to_owned()), &demo::beginning());
    let told = bed_of(&book.snapshot().expect("read"), bed, demo::DAY);
    assert!(wants(&told).contains(&WantedKind::Crop), "{:?}", told.wanted);
}

#[test]
fn a_bed_where_nothing_grows_says_so() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let long_ago = demo::DAY.saturating_sub(200.days());
    let told = bed_of(&snapshot, snapshot.beds[0].id, long_ago);
    assert!(told.advice.is_none());
    let wanted = told.wanted.iter().find(|wanted| wanted.kind == WantedKind::Planting).expect("it asks");
    assert!(wanted.text.contains("until"), "{}", wanted.text);
}
