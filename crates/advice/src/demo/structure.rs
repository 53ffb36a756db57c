//! A plough pan in the creek field: a probe transect last year and this, cores, a spade block, a slake test and a handful.

use book::model::seen::{
    DensityCores, MoistureFeel, ProbePoint, ProbeSeen, SpadeBlock, WhenWorked, WorkingTest,
};
use book::model::{Observation, Seen, UnitSystem};
use book::{Book, Result, Stamp};
use ground::kit::{Bounded, Refusal};
use ground::structure::density::core::CoreInput;
use ground::structure::probe::line::read_push;
use ground::structure::spade::crumbs::read_crumbs;
use ground::structure::spade::look::SpadeSign;
use ground::structure::spade::score::{LayerScore, ScoredLayer, ScoredThickness};
use ground::structure::spade::slake::SlakeInput;
use ground::structure::spade::worms::{BlockSide, WormCount, WormInput};
use ground::structure::working::ball::Handful;
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Readings every 3 in, psi: this spring, and a year before.
const THIS_YEAR: [&str; 12] = [
    "gate = 110, 180, 330, 240, 210",
    "120, 190, 345, 260, 220",
    "95, 170, 320, 250, 230",
    "bed 2 = 130, 200, 350, 280, 240",
    "105, 160, 230, 220, 200",
    "115, 185, 335, 270, 225",
    "bed 4 = 120, 195, 360, 290, 250",
    "100, 175, 325, 255, 215",
    "125, 210, 340, stuck",
    "bed 6 = 90, 150, 210, 205, 195",
    "110, 190, 315, 245, 220",
    "far end = 135, 205, 355, 275, 235",
];
const LAST_YEAR: [&str; 10] = [
    "gate = 120, 190, 340, 250, 220",
    "115, 185, 335, 255, 225",
    "bed 2 = 125, 205, 355, 290, 245",
    "110, 180, 325, 250, 215",
    "130, 200, 345, 265, 230",
    "bed 4 = 120, 195, 350, 280, 240",
    "100, 165, 240, 225, 205",
    "115, 190, 330, 260, 225",
    "bed 6 = 105, 175, 310, 240, 210",
    "far end = 130, 205, 360, 270, 235",
];
const STEP_CM: f64 = 7.62;

/// Writes them down.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let transect = |lines: &[&str]| -> std::result::Result<Seen, Refusal> {
        let points = lines
            .iter()
            .map(|line| {
                let (place, readings) = line.split_once('=').unwrap_or(("", line));
                let push = read_push("points", readings, STEP_CM, UnitSystem::UsCustomary)?;
                Ok(ProbePoint {
                    place: place.trim().to_owned(),
                    readings: push.readings,
                    stuck_at_cm: push.stuck_at_cm,
                })
            })
            .collect::<std::result::Result<Vec<_>, Refusal>>()?;
        Ok(Seen::Probe(ProbeSeen { moisture: MoistureFeel::FieldCapacity, tracks: false, points }))
    };
    let core = |dry: f64, moist: f64| CoreInput {
        volume_ml: Bounded::literal(347.0),
        dry_mass_g: Bounded::literal(dry),
        moist_mass_g: Some(Bounded::literal(moist)),
        rock_mass_g: None,
        rock_density_g_cm3: None,
        grain_density_g_cm3: None,
    };
    let cores = DensityCores {
        from_cm: Bounded::literal(22.86),
        to_cm: Bounded::literal(30.48),
        cores: vec![core(571.0, 676.0), core(585.0, 688.0), core(563.0, 671.0)],
    };
    let layer = |thickness: f64, score: f64| ScoredLayer {
        thickness_cm: ScoredThickness::literal(thickness),
        score: LayerScore::literal(score),
    };
    let side = BlockSide::literal(30.48);
    let block = SpadeBlock {
        layers: vec![layer(15.24, 2.0), layer(7.62, 3.0), layer(7.62, 4.5)],
        signs: vec![SpadeSign::RootsTurnAside, SpadeSign::Plates],
        worms: Some(WormInput {
            worms: WormCount::literal(7.0),
            length_cm: side,
            width_cm: side,
            depth_cm: side,
        }),
    };
    let slake = SlakeInput { crumbs: read_crumbs("crumbs", "4 x 20 s, 8 x 45 s, 4 x 40 %")? };
    let handful = WorkingTest {
        depth_cm: Bounded::literal(15.24),
        handful: Handful::Shatters,
        days_since_rain: Some(Bounded::literal(4.0)),
        worked: Some(WhenWorked::Crumbled),
        limits: None,
    };
    for (back, seen, note) in [
        (395, transect(&LAST_YEAR)?, "Two days after the ground had thawed through"),
        (30, transect(&THIS_YEAR)?, "The same walk as last year, gate to far end"),
        (30, Seen::Cores(cores), "From the wall of the spade hole by bed 4"),
        (29, Seen::Spade(block), "By bed 4, under the rye"),
        (27, Seen::Slake(slake), "From the top inch, dried on the sill"),
        (24, Seen::Working(handful), "Before the beds were raked"),
    ] {
        observe(book, today, back, seen, note)?;
    }
    Ok(())
}

fn observe(book: &mut Book, today: Date, back: i64, seen: Seen, note: &str) -> Result<()> {
    let plot = book
        .snapshot()?
        .plot_named("Creek field")
        .map(|held| held.id)
        .ok_or_else(|| Refusal::new("plot", "the demonstration has no creek field"))?;
    let day = today.saturating_sub(back.days());
    let at = TimeZone::UTC.to_timestamp(day.at(17, 30, 0, 0)).map_err(|error| {
        Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
    })?;
    let observation = Observation {
        plot,
        sample: None,
        seen_on: day,
        seen_by: "Mab".to_owned(),
        note: note.to_owned(),
        import: None,
        spot: None,
        seen,
    };
    book.record(observation, &Stamp::new(at, "Mab"))?;
    Ok(())
}
