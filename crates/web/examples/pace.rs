//! How fast the pages come on a farm of 50 plots: `cargo run --release -p web --example pace`.
//!
//! Fails when the 95th percentile of a page is above 30 ms.

use std::process::ExitCode;
use std::sync::Arc;
use std::time::{Duration, Instant};

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::Request;
use book::model::{
    Bed, EntryId, Note, Planting, Seen, WateringAmount, WateringDone, WateringMinutes, WateringSystem,
};
use book::{Book, Snapshot, Stamp, Writing};
use ground::kit::Bounded;
use tower::ServiceExt;

type Trouble = Box<dyn std::error::Error>;

const PLOTS: usize = 50;
const ROUNDS: usize = 200;
const LIMIT: Duration = Duration::from_millis(30);
const PORT: u16 = 4180;

/// The day that the demonstration's season ends.
fn noon() -> jiff::Timestamp {
    jiff::Timestamp::constant(1_779_350_400, 0)
}

fn main() -> Result<ExitCode, Trouble> {
    let folder = tempfile::tempdir()?;
    let path = folder.path().join("pace.farmbook");
    let plots = fill(&path)?;
    let options = web::Options { book: Some(path), port: PORT, clock: noon, ..web::Options::default() };
    let app = Arc::new(web::App::new(options)?);
    let router = web::router(Arc::clone(&app));
    let runtime = tokio::runtime::Runtime::new()?;
    let ask = |path: &str| runtime.block_on(ask(&router, path));

    println!("first farm page, every report made: {:.0} ms", millis(ask("/")?));
    let mut slow = false;
    let plot = |at: usize| format!("/plots/{}", plots[at % plots.len()]);
    for at in 0..plots.len() {
        // Draws the large triangle once.
        ask(&plot(at))?;
        let first = ask(&format!("{}/water", plot(at)))?;
        if at == 0 {
            println!("first page of a plot's water, a watering followed: {:.0} ms", millis(first));
        }
    }
    let desk = app.desk().ok_or("no book")?;
    let beds: Vec<EntryId> = desk.snapshot()?.plantings.iter().map(|held| held.body.bed).collect();
    println!("{} planted beds; first water page: {:.0} ms", beds.len(), millis(ask("/water")?));
    let bed = |at: usize| format!("/beds/{}/water", beds[at % beds.len()]);
    for (name, path) in [
        ("water today", &(|_| "/water".to_owned()) as &dyn Fn(usize) -> String),
        ("water of a bed", &bed),
        ("farm page", &|_| "/".to_owned()),
        ("its twin", &|_| "/api".to_owned()),
        ("plot page", &plot),
        ("water of a plot", &|at| format!("{}/water", plot(at))),
        ("finding", &|at| format!("{}/findings/mulch", plot(at))),
        ("history of a plot", &|at| format!("{}/history", plot(at))),
        ("settings", &|_| "/settings".to_owned()),
    ] {
        let mut times: Vec<Duration> = (0..ROUNDS).map(|at| ask(&path(at))).collect::<Result<_, _>>()?;
        times.sort_unstable();
        let (p50, p95) = (times[ROUNDS / 2], times[ROUNDS * 95 / 100]);
        println!("{name}: p50 {:.1} ms, p95 {:.1} ms", millis(p50), millis(p95));
        slow |= p95 > LIMIT;
    }
    let stamp = Stamp::new(jiff::Timestamp::UNIX_EPOCH, "pace");
    desk.book().record(Note { plot: Some(plots[0]), text: "hoed".to_owned() }, &stamp)?;
    println!("farm page after a note: {:.1} ms", millis(ask("/")?));
    let given = WateringDone {
        bed: beds[0],
        on: noon().to_zoned_datetime(jiff::tz::TimeZone::UTC).date(),
        amount: WateringAmount::Minutes(WateringMinutes::literal(30.0)),
        note: String::new(),
    };
    desk.book().record(given, &stamp)?;
    println!("water page after a watering: {:.1} ms", millis(ask("/water")?));
    let seen = desk.snapshot()?.observations.last().ok_or("no evidence")?.body.clone();
    desk.book().record(seen, &stamp)?;
    println!("farm page after new evidence on one plot: {:.1} ms", millis(ask("/")?));
    if slow {
        eprintln!("a page is slower than {} ms", LIMIT.as_millis());
    }
    Ok(if slow { ExitCode::FAILURE } else { ExitCode::SUCCESS })
}

/// The evidence of the demonstration's plots, on many more plots.
fn fill(path: &std::path::Path) -> Result<Vec<EntryId>, Trouble> {
    let mut book: Book = advice::demo::create(path)?;
    let farm = book.snapshot()?;
    let rich: Vec<_> = farm.plots.iter().filter(|plot| farm.evidence(plot.id).count() >= 4).collect();
    let stamp = Stamp::new(jiff::Timestamp::UNIX_EPOCH, "pace");
    let made = book.write(|writing| {
        let mut made = Vec::new();
        for at in farm.plots.len()..PLOTS {
            let model = rich[at % rich.len()];
            let mut plot = model.body.clone();
            plot.name = format!("{} {at}", plot.name);
            let id = writing.record(plot, &stamp)?.id;
            let mut beds = Vec::new();
            for bed in farm.beds_of(model.id) {
                let copy = writing.record(Bed { plot: id, ..bed.body.clone() }, &stamp)?.id;
                grow(&farm, bed.id, copy, writing, &stamp)?;
                beds.push((bed.id, copy));
            }
            for held in farm.evidence(model.id) {
                let mut seen = held.body.clone();
                (seen.plot, seen.sample) = (id, None);
                if let Seen::Moisture(moisture) = &mut seen.seen {
                    moisture.bed =
                        beds.iter().find(|(old, _)| Some(*old) == moisture.bed).map(|(_, copy)| *copy);
                }
                writing.record(seen, &stamp)?;
            }
            made.push(id);
        }
        Ok(made)
    })?;
    Ok(made)
}

/// The crops, the hardware and the waterings of one bed once more, on another.
fn grow(
    farm: &Snapshot,
    from: EntryId,
    to: EntryId,
    writing: &mut Writing<'_>,
    stamp: &Stamp,
) -> Result<(), book::BookError> {
    for held in farm.plantings_of(from) {
        writing.record(Planting { bed: to, ..held.body.clone() }, stamp)?;
    }
    if let Some(held) = farm.system_of(from) {
        writing.record(WateringSystem { bed: to, ..held.body.clone() }, stamp)?;
    }
    for held in farm.waterings_of(from) {
        writing.record(WateringDone { bed: to, ..held.body.clone() }, stamp)?;
    }
    Ok(())
}

async fn ask(router: &Router, path: &str) -> Result<Duration, Trouble> {
    let request =
        Request::builder().uri(path).header("host", format!("127.0.0.1:{PORT}")).body(Body::empty())?;
    let started = Instant::now();
    let answer = router.clone().oneshot(request).await?;
    let status = answer.status();
    let body = to_bytes(answer.into_body(), usize::MAX).await?;
    let took = started.elapsed();
    if !status.is_success() || body.is_empty() {
        return Err(format!("{path} answers {status}").into());
    }
    Ok(took)
}

fn millis(time: Duration) -> f64 {
    1000.0 * time.as_secs_f64()
}
