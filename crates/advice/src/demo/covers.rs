//! Covers of the demonstration: one that was ended before this spring's crop, one that is planned, and a gap in August.

use book::model::{
    CoverBiomass, CoverCrop, CoverEnd, CoverEnding, CoverSeed, CoverStand, CutMass, EntryId, PlantedCrop,
    PlantedHow, Planting, SeedRate,
};
use book::{Book, Result, Stamp};
use ground::covers::mix::Sowing;
use ground::covers::nitrogen::Stage;
use ground::covers::stand::FrameArea;
use ground::kit::{Bounded, Refusal};
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Writes them down.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let creek = bed_named(book, "Beds 1 to 12")?;
    let trial = bed_named(book, "Trial bed")?;
    let before = |days: i64| today.saturating_sub(days.days());
    let after = |days: i64| today.saturating_add(days.days());
    // Sown after last year's crop, turned in nearly four weeks before this spring's cabbage.
    let rye_vetch = CoverCrop {
        bed: creek,
        seeds: vec![part("rye-cereal", 55.0), part("vetch-hairy", 28.0)],
        sown_on: before(255),
        sown: Sowing::Broadcast,
        end_by: Some(before(60)),
        ended: None,
        stand: None,
        note: String::new(),
    };
    let held = book.record(rye_vetch, &stamp(today, 255, 0)?)?;
    let ended = CoverCrop {
        ended: Some(CoverEnd { on: before(64), how: CoverEnding::TurnedIn }),
        stand: Some(CoverStand {
            stage: Stage::BeforeBloom,
            biomass: Some(CoverBiomass::Cut {
                kg: CutMass::literal(1.55),
                area_m2: FrameArea::literal(0.929),
                dried: false,
            }),
            nitrogen_percent: None,
        }),
        ..held.body.clone()
    };
    book.revise(held.id, held.number, ended, "Turned in; two frames cut and weighed", &stamp(today, 64, 0)?)?;
    // The trial bed lies empty from early August until spinach is set out six weeks later.
    for (crop, from, to) in [("lettuce", 25, 71), ("spinach", 118, 165)] {
        let planting = Planting {
            bed: trial,
            crop: PlantedCrop::Catalogue(crop.to_owned()),
            planted_on: after(from),
            how: PlantedHow::Transplanted,
            harvest_on: Some(after(to)),
            ended_on: None,
            mulch: None,
            yield_goal_kg: None,
            note: String::new(),
        };
        book.record(planting, &stamp(today, 2, from)?)?;
    }
    let oats_pea = CoverCrop {
        bed: bed_named(book, "Carrot beds")?,
        seeds: vec![part("oats", 75.0), part("pea-spring", 60.0)],
        sown_on: after(58),
        sown: Sowing::Broadcast,
        end_by: None,
        ended: None,
        stand: None,
        note: "For a mulch that the winter kills".to_owned(),
    };
    book.record(oats_pea, &stamp(today, 1, 41)?)?;
    Ok(())
}

fn part(cover: &str, kg_ha: f64) -> CoverSeed {
    CoverSeed { cover: cover.to_owned(), rate_kg_ha: Some(SeedRate::literal(kg_ha)) }
}

fn bed_named(book: &Book, name: &str) -> Result<EntryId> {
    let snapshot = book.snapshot()?;
    let found = snapshot.beds.iter().find(|held| held.body.name == name).map(|held| held.id);
    Ok(found.ok_or_else(|| Refusal::new("name", format!("the demonstration has nothing called {name}")))?)
}

fn stamp(today: Date, back: i64, minute: i64) -> Result<Stamp> {
    let at =
        TimeZone::UTC.to_timestamp(today.saturating_sub(back.days()).at(8, 0, 0, 0)).map_err(|error| {
            Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
        })?;
    Ok(Stamp::new(at + minute.minutes(), "Mab"))
}
