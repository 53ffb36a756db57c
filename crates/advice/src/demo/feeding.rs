//! Three years of compost in the east tunnel and what was picked there: enough to see phosphorus build up.

use book::model::{
    Analysis, Application, EntryId, Harvest, HarvestMass, Material, MaterialDensity, MaterialMoisture,
    MaterialShare, Observation, Pack, Placed, PlantedCrop, PlantedHow, Planting, Seen, SpreadMass,
    SpreadMaterial, YieldGoal,
};
use book::model::{CarbonNitrogen, LoadVolume};
use book::{Book, Result, Stamp};
use ground::fertility::analysis::report::{Amount, Analyte, LabFigure, LabReport, Procedure, ReportUnit};
use ground::kit::{Bounded, Refusal};
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Yields hoped for from what grows this season, kg from all beds of the record.
const GOALS: [(&str, f64); 3] = [("Beds 1 to 12", 900.0), ("Beds A to E", 700.0), ("Carrot beds", 400.0)];

/// Writes them down.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let plot = named(book, "East tunnel")?;
    let bed = bed_named(book, "Beds A to E")?;
    let compost = book.record(compost(), &stamp(today, 1180, 0)?)?.id;
    // Before each of the last three tomato crops, and this spring.
    for (years, kg, picked) in [(3_i64, 900.0, 620.0), (2, 950.0, 680.0), (1, 1000.0, 655.0)] {
        let back = 365 * years;
        let spread = |back: i64| Application {
            plot,
            bed: Some(bed),
            spread: SpreadMaterial::Shelf(compost),
            on: today.saturating_sub(back.days()),
            kg: SpreadMass::literal(kg),
            placed: Placed::Incorporated,
            job: None,
            note: String::new(),
        };
        book.record(spread(back + 70), &stamp(today, back + 70, 0)?)?;
        let planting = Planting {
            bed,
            crop: PlantedCrop::Catalogue("tomato".to_owned()),
            planted_on: today.saturating_sub((back + 55).days()),
            how: PlantedHow::Transplanted,
            harvest_on: Some(today.saturating_sub((back - 90).days())),
            ended_on: Some(today.saturating_sub((back - 95).days())),
            mulch: None,
            yield_goal_kg: Some(YieldGoal::literal(650.0)),
            note: String::new(),
        };
        let planting = book.record(planting, &stamp(today, back + 55, 0)?)?.id;
        let harvest = Harvest {
            planting,
            on: today.saturating_sub((back - 92).days()),
            kg: HarvestMass::literal(picked),
            note: "All pickings of the season".to_owned(),
        };
        book.record(harvest, &stamp(today, back - 95, 0)?)?;
    }
    tests(book, plot, today)?;
    goals(book, today)
}

/// Phosphorus of earlier years, by the same laboratory: it rose with the compost.
fn tests(book: &mut Book, plot: EntryId, today: Date) -> Result<()> {
    for (back, number, phosphorus) in [(800, "3120", 205.0), (430, "3866", 255.0)] {
        let report = LabReport {
            number: number.to_owned(),
            figures: vec![
                LabFigure {
                    analyte: Analyte::PhWater,
                    procedure: Procedure::NotStated,
                    unit: ReportUnit::None,
                    amount: Amount::Exactly(7.0),
                },
                LabFigure {
                    analyte: Analyte::Phosphorus,
                    procedure: Procedure::Mehlich1,
                    unit: ReportUnit::Ppm,
                    amount: Amount::Exactly(phosphorus),
                },
            ],
            ..LabReport::new("Millrace soil laboratory")
        };
        let seen = Observation {
            plot,
            sample: None,
            seen_on: today.saturating_sub(i64::from(back).days()),
            seen_by: "Laboratory".to_owned(),
            note: String::new(),
            import: None,
            spot: None,
            seen: Seen::LabReport(report),
        };
        book.record(seen, &stamp(today, back.into(), 0)?)?;
    }
    Ok(())
}

/// Dairy compost, bought by the yard.
fn compost() -> Material {
    let share = |percent: f64| Some(MaterialShare::literal(percent));
    Material {
        key: None,
        name: "Dairy compost".to_owned(),
        analysis: Analysis {
            n_percent: share(0.8),
            p2o5_percent: share(0.6),
            k2o_percent: share(1.0),
            ..Analysis::default()
        },
        moisture_percent: Some(MaterialMoisture::literal(50.0)),
        neutralizing_percent: None,
        sieves: Vec::new(),
        density_kg_m3: Some(MaterialDensity::literal(590.0)),
        sold: Some(Pack::LoadM3(LoadVolume::literal(0.765))),
        price: None,
        organic: None,
        available_n_percent: None,
        carbon_nitrogen: Some(CarbonNitrogen::literal(15.0)),
        ec_ds_m: None,
        note: "From the dairy across the road".to_owned(),
    }
}

fn goals(book: &mut Book, today: Date) -> Result<()> {
    for (name, kg) in GOALS {
        let bed = bed_named(book, name)?;
        let snapshot = book.snapshot()?;
        let Some(held) = snapshot.planting_on(bed, today) else { continue };
        let (id, number) = (held.id, held.number);
        let body = Planting { yield_goal_kg: Some(YieldGoal::literal(kg)), ..held.body.clone() };
        book.revise(id, number, body, "The yield we hope for", &stamp(today, 1, 30)?)?;
    }
    Ok(())
}

fn named(book: &Book, name: &str) -> Result<EntryId> {
    Ok(book.snapshot()?.plot_named(name).map(|held| held.id).ok_or_else(|| missing(name))?)
}

fn bed_named(book: &Book, name: &str) -> Result<EntryId> {
    let snapshot = book.snapshot()?;
    Ok(snapshot
        .beds
        .iter()
        .find(|held| held.body.name == name)
        .map(|held| held.id)
        .ok_or_else(|| missing(name))?)
}

fn missing(name: &str) -> Refusal {
    Refusal::new("name", format!("the demonstration has nothing called {name}"))
}

fn stamp(today: Date, back: i64, minute: i64) -> Result<Stamp> {
    let at =
        TimeZone::UTC.to_timestamp(today.saturating_sub(back.days()).at(8, 0, 0, 0)).map_err(|error| {
            Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
        })?;
    Ok(Stamp::new(at + minute.minutes(), "Mab"))
}
