//! This spring's soil tests: three bags to one invented laboratory, whose table comes back as laboratories send it.

use book::model::weather::DateOrder;
use book::model::{EntryId, LabHeading, Sample, SampleDepth};
use book::{Book, LabImport, Result, Stamp, propose_lab_columns};
use ground::fertility::analysis::report::BasisDepth;
use ground::kit::{Bounded, Refusal};
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// The invented laboratory.
const LABORATORY: &str = "Millrace soil laboratory";
/// Its plough layer, cm: 6 2/3 in.
const BASIS_CM: f64 = 16.933;
/// Days before the day the book is made on which the bags were filled, and the table came.
const FILLED_BACK: i64 = 66;
const CAME_BACK: i64 = 58;

/// Its table: acid sand on the knoll, a middling field, a tunnel rich in phosphorus from years of compost. What a
/// bag was not tested for is left empty.
const TABLE: &str = "\
Sample ID,Lab No,pH,Buffer pH (Adams-Evans),P (Mehlich-1) ppm,K (Mehlich-1) lb/ac,Ca (Mehlich-1) ppm,\
Mg (Mehlich-1) ppm,B (hot water) ppm,Zn (Mehlich-1) ppm,OM (LOI) %,EC 1:2 dS/m,NO3-N ppm,\
Lead total ppm,Crop,Lime rec ton/ac,P2O5 lb/ac,K2O lb/ac
C-26,4471,6.2,7.80,24,96,620,55,0.4,1.6,2.4,,14,,Cabbage,0.5,100,100
E-26,4472,7.1,,310,420,2400,240,1.6,9.8,6.8,0.9,48,,Tomato,0,0,0
K-26,4473,5.3,7.70,12,56,150,16,<0.2,0.7,,,6,130,Carrot,1.5,120,150
";

/// Writes the bags and takes the table in.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    for (minute, (plot, label, cores)) in
        (0..).zip([("Creek field", "C-26", 18), ("East tunnel", "E-26", 12), ("Sand knoll", "K-26", 15)])
    {
        let sample = Sample {
            plot: named(book, plot)?,
            taken_on: today.saturating_sub(FILLED_BACK.days()),
            from_cm: SampleDepth::literal(0.0),
            to_cm: SampleDepth::literal(17.0),
            cores: Some(cores),
            taken_by: "Mab".to_owned(),
            bag_label: label.to_owned(),
            import: None,
            spot: None,
            note: String::new(),
        };
        book.record(sample, &stamp(today, FILLED_BACK, minute)?)?;
    }
    let proposal = propose_lab_columns(TABLE, &[], LABORATORY).map_err(book::BookError::Rows)?;
    let columns = proposal.columns.into_iter().map(|column| {
        let means = column.means.ok_or_else(|| {
            Refusal::new("heading", format!("the demonstration's {} is not known", column.heading))
        })?;
        Ok(LabHeading { heading: column.heading, means })
    });
    let import = LabImport {
        laboratory: LABORATORY.to_owned(),
        file_name: "spring-soil-tests.csv".to_owned(),
        basis_depth_cm: Some(BasisDepth::literal(BASIS_CM)),
        date: None,
        date_order: DateOrder::YearMonthDay,
        columns: columns.collect::<std::result::Result<_, Refusal>>()?,
    };
    book.import_lab_table(TABLE, &import, &stamp(today, CAME_BACK, 0)?)?;
    Ok(())
}

fn named(book: &Book, name: &str) -> Result<EntryId> {
    let missing = || Refusal::new("name", format!("the demonstration has nothing called {name}"));
    Ok(book.snapshot()?.plot_named(name).map(|held| held.id).ok_or_else(missing)?)
}

fn stamp(today: Date, back: i64, minute: i64) -> Result<Stamp> {
    let at =
        TimeZone::UTC.to_timestamp(today.saturating_sub(back.days()).at(8, 0, 0, 0)).map_err(|error| {
            Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
        })?;
    Ok(Stamp::new(at + minute.minutes(), "Mab"))
}
