//! The shelf of the demonstration farm: what lies in the shed and what the feed store sells.

use book::model::{BagMass, Material, OrganicUse, Pack, Price, Stock, StockChange, StockMass};
use book::{Book, Result, Stamp};
use ground::kit::{Bounded, Refusal};
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Key, name, pounds in a bag, price of one, pounds counted in the shed, and whether organic rules allow it.
const SHELF: [(&str, &str, f64, &str, f64, OrganicUse); 12] = [
    ("calcitic-lime", "Pulverized lime", 40.0, "6.25", 120.0, OrganicUse::Yes),
    ("dolomitic-lime", "Dolomitic lime", 40.0, "6.75", 0.0, OrganicUse::Yes),
    ("urea", "Urea", 50.0, "29.00", 35.0, OrganicUse::No),
    ("ammonium-sulfate", "Ammonium sulfate", 50.0, "22.50", 0.0, OrganicUse::No),
    ("calcium-nitrate", "Calcium nitrate", 50.0, "27.50", 20.0, OrganicUse::No),
    ("monoammonium-phosphate", "Monoammonium phosphate", 50.0, "38.00", 0.0, OrganicUse::No),
    ("potassium-chloride", "Muriate of potash", 50.0, "25.00", 0.0, OrganicUse::No),
    ("potassium-sulfate", "Sulfate of potash", 50.0, "41.00", 12.0, OrganicUse::Ask),
    ("potassium-magnesium-sulfate", "Potash-magnesia", 50.0, "33.00", 0.0, OrganicUse::Ask),
    ("feather-meal", "Feather meal", 50.0, "42.00", 18.0, OrganicUse::Yes),
    ("poultry-pellets", "Poultry pellets", 50.0, "17.50", 0.0, OrganicUse::Ask),
    ("sodium-borate-20", "Borate", 5.0, "16.00", 1.5, OrganicUse::Ask),
];

const KG_PER_LB: f64 = 0.453_592_37;

/// Writes it down.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let on = today.saturating_sub(40.days());
    for (minute, (key, name, pounds, price, counted, organic)) in SHELF.into_iter().enumerate() {
        let at = stamp(on, minute)?;
        let material = Material {
            key: Some(key.to_owned()),
            sold: Some(Pack::BagKg(BagMass::literal(pounds * KG_PER_LB))),
            price: Some(price.parse::<Price>()?),
            organic: Some(organic),
            ..Material::named(name)
        };
        let id = book.record(material, &at)?.id;
        let stock = Stock {
            material: id,
            on,
            kg: StockMass::literal(counted * KG_PER_LB),
            what: StockChange::Counted,
            note: String::new(),
        };
        book.record(stock, &at)?;
    }
    // The compost of the tunnel: the heap was used up in spring, and the dairy named a price.
    let snapshot = book.snapshot()?;
    if let Some(compost) = snapshot.material_named("Dairy compost") {
        let (id, number) = (compost.id, compost.number);
        let priced = Material { price: Some("32.00".parse::<Price>()?), ..compost.body.clone() };
        book.revise(id, number, priced, "The dairy's price for a yard", &stamp(on, 30)?)?;
        let stock = Stock {
            material: id,
            on,
            kg: StockMass::literal(0.0),
            what: StockChange::Counted,
            note: "The heap is used up".to_owned(),
        };
        book.record(stock, &stamp(on, 31)?)?;
    }
    Ok(())
}

fn stamp(on: Date, minute: usize) -> Result<Stamp> {
    let minute = i64::try_from(minute).unwrap_or(0);
    let at = TimeZone::UTC.to_timestamp(on.at(9, 0, 0, 0)).map_err(|error| {
        Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
    })?;
    Ok(Stamp::new(at + minute.minutes(), "Mab"))
}
