//! The water of beds, on the demonstration farm.

use advice::watering::{BedWater, bed_water, farm_weather, water_today};
use advice::{Options, demo, plot_report};
use book::Snapshot;

fn all(snapshot: &Snapshot) -> Vec<BedWater> {
    let weather = farm_weather(snapshot, demo::DAY);
    snapshot
        .beds
        .iter()
        .map(|bed| {
            let report = plot_report(snapshot, bed.body.plot, &Options::default()).expect("a report");
            bed_water(snapshot, bed.id, &report, &weather, demo::DAY).expect("the bed")
        })
        .collect()
}

#[test]
fn show() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = demo::create(folder.path().join("demo.farmbook")).expect("written");
    let snapshot = book.snapshot().expect("read");
    let start = std::time::Instant::now();
    let weather = farm_weather(&snapshot, demo::DAY);
    println!("weather {:?} {} days", start.elapsed(), weather.days.len());
    let beds = all(&snapshot);
    for bed in &beds {
        let report = plot_report(&snapshot, bed.plot, &Options::default()).expect("a report");
        let start = std::time::Instant::now();
        let _ = bed_water(&snapshot, bed.bed, &report, &weather, demo::DAY);
        println!("== {} {} took {:?}", bed.plot_name, bed.bed_name, start.elapsed());
        println!("# {}", bed.headline);
        for line in bed.lines.iter().chain(&bed.why) { println!("  {line}"); }
        for look in &bed.looks { println!("  look {} {} {}", look.date, look.label, look.sentence); }
        for one in &bed.wanted { println!("  wanted {:?} {}", one.kind, one.text); }
        for one in &bed.notes { println!("  note {}", one.text); }
        println!("  totals {:?} intake {:?}", bed.totals, bed.intake);
        for day in &bed.outlook { println!("  {} due {:.2} rain {:?} {:?} def {:.1} allow {:.1}", day.date, day.odds_due, day.rain_odds, day.rain_mm, day.deficit_mm.median, day.allowable_mm); }
        for day in bed.season.iter().rev().take(14).rev() { println!("    {} {:?} def {:.1} [{:.1} {:.1}] raw {:.1} taw {:.1} rain {:.1} irr {:.1} use {:.1} lost {:.1} {:?}", day.date, day.stage, day.deficit_mm.median, day.deficit_mm.low, day.deficit_mm.high, day.allowable_mm, day.total_available_mm, day.rain_mm, day.watering_mm, day.use_mm, day.lost_below_mm, day.source); }
    }
    let today = water_today(&snapshot, &beds, demo::DAY);
    println!("{}", serde_json::to_string_pretty(&today).unwrap());
}
