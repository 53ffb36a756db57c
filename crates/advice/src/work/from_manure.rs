//! What must not be harvested yet: the interval after raw manure.

use book::model::{Application, SpreadMaterial};
use book::{Held, Snapshot};
use ground::fertility::blend::catalogue::MaterialKind;
use ground::fertility::organic::interval::{EdiblePart, ManureTreatment, interval_days};
use ground::kit::{Cite, Working};
use jiff::ToSpan;
use jiff::civil::Date;

use super::job::{Job, Source, Topic, Window};
use super::season::Season;
use crate::feeding::contents::known_kind;
use crate::words;

/// Words in a material's name or key that say it was treated.
const TREATED: [&str; 6] = ["compost", "pellet", "dried", "heat", "meal", "digest"];

/// Beds on which raw manure was spread less than the interval ago.
pub(super) fn jobs(snapshot: &Snapshot, season: &Season) -> Vec<Job> {
    snapshot.applications.iter().filter_map(|held| of(snapshot, held, season)).collect()
}

fn of(snapshot: &Snapshot, held: &Held<Application>, season: &Season) -> Option<Job> {
    let body = &held.body;
    if !is_raw_manure(snapshot, &body.spread) {
        return None;
    }
    let after = |part| body.on.saturating_add(i64::from(interval_days(ManureTreatment::Raw, part)).days());
    let (clear, touching): (Date, Date) = (after(EdiblePart::ClearOfSoil), after(EdiblePart::TouchesSoil));
    if season.today >= touching {
        return None;
    }
    let plot = snapshot.plot(body.plot)?;
    let what = format!("Harvest nothing that touches the soil before {}", words::day(touching));
    let job = Job::new(format!("harvest.manure.{}", held.id), Topic::Harvest, what, Source::Application)
        .on_plot(plot.id, &plot.body.name)
        .within(Window::by(touching, "The interval after raw manure must be over before the harvest."))
        .because(format!(
            "Raw manure was spread on {}. What grows clear of the soil (staked fruit, sweet corn) may be picked from {} on, everything else from {} on. Old heaps count as raw.",
            words::day(body.on),
            words::day(clear),
            words::day(touching)
        ))
        .caution("Manure carries germs that make people ill. Keep it off standing crops, wells and streams, and wash hands. The rules of your market and country come first.")
        .worked(
            Working::new()
                .step(
                    "days that must pass",
                    "120 where the part that is eaten touches soil, 90 where it does not",
                    format!("spread on {}", words::day(body.on)),
                    format!("{} and {}", words::day(touching), words::day(clear)),
                )
                .cite(Cite::new("Nop205203", "paragraph (c)")),
        );
    Some(match body.bed.and_then(|bed| snapshot.bed(bed)) {
        Some(bed) => job.on_bed(bed.id, &bed.body.name),
        None => job,
    })
}

/// By its kind in the catalogue; a manure that the catalogue does not have and nobody says was treated counts as
/// raw, in doubt.
fn is_raw_manure(snapshot: &Snapshot, spread: &SpreadMaterial) -> bool {
    if let Some(kind) = known_kind(snapshot, spread) {
        return kind == MaterialKind::Manure;
    }
    let text = match spread {
        SpreadMaterial::Catalogue(key) => key.to_lowercase(),
        SpreadMaterial::Shelf(id) => match snapshot.material(*id) {
            Some(held) => held.body.name.to_lowercase(),
            None => return false,
        },
    };
    text.contains("manure") && !TREATED.iter().any(|word| text.contains(word))
}
