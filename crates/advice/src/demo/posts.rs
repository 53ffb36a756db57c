//! A high tunnel that is planned, and the deer fence of the orchard with its posts and wires.

use book::model::seen::{BuildingGround, Thread};
use book::model::{
    EndBrace, Farm, Observation, PostFoot, PostLine, PostSet, Seen, Structure, StructureKind, TunnelFrame,
    TunnelProfile,
};
use book::{Book, Result, Stamp};
use ground::kit::{Bounded, Refusal};
use ground::posts::embedment::Section;
use ground::posts::wind_pressure::Exposure;
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Plot that the new tunnel shall stand on.
const TUNNEL_ON: &str = "Creek field";

/// Writes them down.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let snapshot = book.snapshot()?;
    let missing = |name: &str| Refusal::new("name", format!("the demonstration has nothing called {name}"));
    let plot = snapshot.plot_named(TUNNEL_ON).map(|held| held.id).ok_or_else(|| missing(TUNNEL_ON))?;
    let held = snapshot.farm.clone();
    let farm = Farm {
        design_wind_m_s: Some(Bounded::literal(46.939_2)),
        wind_exposure: Some(Exposure::C),
        frost_depth_m: Some(Bounded::literal(0.914_4)),
        code_note: "The building office of the county, by telephone".to_owned(),
        ..held.body
    };
    book.revise(held.id, held.number, farm, "Asked for the new tunnel", &stamp(today, 9, 0)?)?;
    let ground = Observation {
        plot,
        sample: None,
        seen_on: today.saturating_sub(8.days()),
        seen_by: "Corin".to_owned(),
        note: "Three holes along the north side".to_owned(),
        import: None,
        spot: None,
        seen: Seen::BuildingGround(BuildingGround {
            at_cm: Some(Bounded::literal(90.0)),
            tilled_to_cm: Some(Bounded::literal(22.86)),
            thread: Some(Thread::Medium),
            resistivity_ohm_m: Some(Bounded::literal(28.0)),
            ..BuildingGround::default()
        }),
    };
    book.record(ground, &stamp(today, 8, 0)?)?;
    let tunnel = Structure {
        plot: Some(plot),
        length_m: Some(Bounded::literal(21.945_6)),
        width_m: Some(Bounded::literal(9.144)),
        planned: true,
        frame: Some(TunnelFrame {
            wall_m: Some(Bounded::literal(1.219_2)),
            ridge_m: Some(Bounded::literal(3.657_6)),
            bow_spacing_m: Some(Bounded::literal(1.219_2)),
            profile: Some(TunnelProfile::Round),
            door_ends: Some(2),
            covered: Some(true),
            weight_kg_m2: Some(Bounded::literal(4.9)),
        }),
        post: Some(PostFoot {
            tube_wall_mm: Some(Bounded::literal(2.0)),
            depth_m: Some(Bounded::literal(1.219_2)),
            above_m: Some(Bounded::literal(0.304_8)),
            collar_mm: Some(Bounded::literal(406.4)),
            zinc_um: Some(Bounded::literal(86.0)),
            ..PostFoot::of(Section::Round, Bounded::literal(60.325), PostSet::Collar)
        }),
        note: "For early tomatoes, when the money is there".to_owned(),
        ..Structure::named("New tunnel", StructureKind::HighTunnel)
    };
    book.record(tunnel, &stamp(today, 7, 0)?)?;
    let fence = snapshot
        .structures
        .iter()
        .find(|held| held.body.name == "Deer fence")
        .ok_or_else(|| missing("Deer fence"))?;
    let body = Structure {
        line: Some(PostLine {
            height_m: Some(Bounded::literal(2.438_4)),
            spacing_m: Some(Bounded::literal(4.572)),
            wires: Some(Bounded::literal(6.0)),
            wire_pull_kn: Some(Bounded::literal(0.889_6)),
            wire_height_m: Some(Bounded::literal(1.219_2)),
            brace: Some(EndBrace::TwoPosts),
            brace_span_m: Some(Bounded::literal(2.438_4)),
            tieback_degrees: None,
            solid_percent: Some(Bounded::literal(12.0)),
            deer: true,
        }),
        post: Some(PostFoot {
            depth_m: Some(Bounded::literal(0.914_4)),
            ..PostFoot::of(Section::Round, Bounded::literal(127.0), PostSet::Tamped)
        }),
        ..fence.body.clone()
    };
    book.revise(fence.id, fence.number, body, "Measured it", &stamp(today, 7, 20)?)?;
    Ok(())
}

fn stamp(today: Date, back: i64, minute: i64) -> Result<Stamp> {
    let at =
        TimeZone::UTC.to_timestamp(today.saturating_sub(back.days()).at(9, 0, 0, 0)).map_err(|error| {
            Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
        })?;
    Ok(Stamp::new(at + jiff::ToSpan::minutes(minute), "Corin"))
}
