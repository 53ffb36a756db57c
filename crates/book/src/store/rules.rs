//! What a record may say on being written, given what else stands in the book.

use std::path::Path;

use ground::kit::Refusal;
use rusqlite::{Connection, OptionalExtension};

use super::read;
use crate::error::{BookError, Result};
use crate::model::{Body, EntryId, Kind};

/// Checks the links of a body, that its reading can be read, and that names which people use to tell plots apart stay apart.
pub(super) fn accept(connection: &Connection, path: &Path, id: EntryId, body: &Body) -> Result<()> {
    let links = body.links();
    if let Some(plot) = links.plot {
        linked(connection, path, "plot", plot, Kind::Plot)?;
    }
    if let Some(sample) = links.sample
        && let Body::Sample(found) = linked(connection, path, "sample", sample, Kind::Sample)?
        && Some(found.plot) != links.plot
    {
        return Err(Refusal::new("sample", "this sample was taken from another plot")
            .given(sample)
            .accepted("a sample of the same plot")
            .into());
    }
    if let Some(observation) = links.observation
        && let Body::Observation(found) =
            linked(connection, path, "observation", observation, Kind::Observation)?
        && links.plot.is_some_and(|plot| plot != found.plot)
    {
        return Err(Refusal::new("observation", "this observation was made on another plot")
            .given(observation)
            .accepted("an observation of the same plot")
            .into());
    }
    if let Some(bed) = links.bed {
        let field = if matches!(body, Body::Observation(_)) { "seen.bed" } else { "bed" };
        lies_in(connection, path, field, bed, links.plot)?;
    }
    if let Some(crop) = links.crop {
        linked(connection, path, "crop", crop, Kind::Crop)?;
    }
    if let Some(supply) = links.supply {
        linked(connection, path, "supply", supply, Kind::WaterSupply)?;
    }
    for (field, link, kind) in [
        ("planting", links.planting, Kind::Planting),
        ("laboratory", links.laboratory, Kind::Laboratory),
        ("import", links.import, Kind::Import),
    ] {
        if let Some(link) = link {
            linked(connection, path, field, link, kind)?;
        }
    }
    if let Some(material) = links.material {
        let field = if matches!(body, Body::Stock(_)) { "material" } else { "spread.shelf" };
        linked(connection, path, field, material, Kind::Material)?;
    }
    if let Body::Job(job) = body {
        lone_job(connection, path, id, &job.key)?;
    }
    if let Body::Observation(observation) = body {
        observation.seen.accept().map_err(|refusal| refusal.inside("seen"))?;
    }
    if let Body::Cover(cover) = body {
        cover.accept()?;
    }
    if let Body::Photo(photo) = body {
        attached(connection, path, &photo.sha256, &photo.media_type)?;
    }
    if let Body::Bed(bed) = body {
        not_parted(connection, path, bed.plot)?;
    }
    if let Body::Plot(plot) = body {
        lone_name(connection, path, id, &plot.name)?;
        if let Some(whole) = plot.zone_of {
            no_circle(connection, path, id, whole)?;
        }
    }
    Ok(())
}

/// A bed lies in a plot that is worked as one: in a parted one, no list would show it.
fn not_parted(connection: &Connection, path: &Path, plot: EntryId) -> Result<()> {
    let zone: Option<String> = connection
        .prepare_cached(
            "SELECT body ->> '$.name' FROM latest WHERE kind = 'plot' AND NOT withdrawn AND body ->> '$.zone_of' = ?1",
        )
        .and_then(|mut statement| statement.query_row([plot.to_string()], |row| row.get(0)).optional())
        .map_err(|error| BookError::of(path, error))?;
    match zone {
        Some(zone) => {
            Err(Refusal::new("plot", "this plot was parted into zones, and a bed lies in one of them")
                .given(plot)
                .accepted("one of its zones")
                .example(zone)
                .into())
        }
        None => Ok(()),
    }
}

/// A zone lies in a plot of this book, and in no zone of its own. That plot may have been withdrawn since.
fn no_circle(connection: &Connection, path: &Path, zone: EntryId, whole: EntryId) -> Result<()> {
    let refused = |message: &str| {
        Err(Refusal::new("zone_of", message)
            .given(whole)
            .accepted("another plot of this book, or nothing")
            .into())
    };
    let mut next = Some(whole);
    while let Some(at) = next {
        if at == zone {
            return refused("a plot cannot be a zone of itself or of its own zones");
        }
        next = match read::latest(connection, path, at)?.map(|latest| latest.held.body) {
            Some(Body::Plot(plot)) => plot.zone_of,
            _ => return refused("there is no such plot in this book"),
        };
    }
    Ok(())
}

/// The body behind a link, which must be there, of the right kind and still counting.
fn linked(connection: &Connection, path: &Path, field: &str, id: EntryId, kind: Kind) -> Result<Body> {
    let label = kind.label().to_lowercase();
    let refused = |message: String| {
        BookError::Refused(Refusal::new(field, message).given(id).accepted(format!("a {label} of this book")))
    };
    let latest = read::latest(connection, path, id)?
        .filter(|latest| latest.held.body.kind() == kind)
        .ok_or_else(|| refused(format!("there is no such {label} in this book")))?;
    if latest.withdrawn {
        return Err(refused(format!("this {label} was withdrawn; restore it first")));
    }
    Ok(latest.held.body)
}

/// A bed must count, its plot too, and it must lie in `plot` where one is given.
fn lies_in(
    connection: &Connection,
    path: &Path,
    field: &str,
    bed: EntryId,
    plot: Option<EntryId>,
) -> Result<()> {
    let Body::Bed(found) = linked(connection, path, field, bed, Kind::Bed)? else { return Ok(()) };
    match plot {
        Some(plot) if plot != found.plot => Err(Refusal::new(field, "this bed lies in another plot")
            .given(bed)
            .accepted("a bed of the same plot")
            .into()),
        Some(_) => Ok(()),
        None => match read::latest(connection, path, found.plot)? {
            Some(latest) if latest.withdrawn => {
                Err(Refusal::new(field, "the plot of this bed was withdrawn; restore it first")
                    .given(bed)
                    .accepted("a bed of a plot that counts")
                    .into())
            }
            _ => Ok(()),
        },
    }
}

fn attached(connection: &Connection, path: &Path, sha256: &str, media_type: &str) -> Result<()> {
    match media_type_of(connection, path, sha256)? {
        None => Err(Refusal::new("sha256", "the picture itself is not in the book yet; attach it first")
            .given(sha256)
            .accepted("the SHA-256 of an attached file")
            .into()),
        Some(known) if known != media_type => {
            Err(Refusal::new("media_type", format!("the attached file is {known}"))
                .given(media_type)
                .accepted(known.clone())
                .example(known)
                .into())
        }
        Some(_) => Ok(()),
    }
}

/// The media type an attached file was kept under; `None` when it is not in the book.
pub(super) fn media_type_of(connection: &Connection, path: &Path, sha256: &str) -> Result<Option<String>> {
    connection
        .query_row("SELECT media_type FROM attachment WHERE sha256 = ?1", [sha256], |row| row.get(0))
        .optional()
        .map_err(|error| BookError::of(path, error))
}

fn lone_name(connection: &Connection, path: &Path, id: EntryId, name: &str) -> Result<()> {
    let folded = fold(name);
    let mut statement = connection
        .prepare_cached("SELECT id, body ->> '$.name' FROM latest WHERE kind = 'plot' AND NOT withdrawn")
        .map_err(|error| BookError::of(path, error))?;
    let names = statement
        .query_map([], |row| Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?)))
        .and_then(Iterator::collect::<rusqlite::Result<Vec<_>>>)
        .map_err(|error| BookError::of(path, error))?;
    if names.iter().any(|(other, taken)| *other != id.to_string() && fold(taken) == folded) {
        return Err(Refusal::new("name", format!("another plot is called {:?} already", name.trim()))
            .given(name)
            .accepted("a name that no other plot has")
            .example(format!("{} 2", name.trim()))
            .into());
    }
    Ok(())
}

/// One job has one record: what is said of it later corrects that record.
fn lone_job(connection: &Connection, path: &Path, id: EntryId, key: &str) -> Result<()> {
    let other: Option<String> = connection
        .prepare_cached(
            "SELECT id FROM latest WHERE kind = 'job' AND NOT withdrawn AND body ->> '$.key' = ?1 AND id <> ?2",
        )
        .and_then(|mut statement| {
            statement.query_row([key, &id.to_string()], |row| row.get(0)).optional()
        })
        .map_err(|error| BookError::of(path, error))?;
    match other {
        Some(other) => {
            Err(Refusal::new("key", "this job has been answered already; change that answer instead")
                .given(key)
                .accepted(format!("a change of record {other}"))
                .into())
        }
        None => Ok(()),
    }
}

/// Names that differ only in case or outer spaces are the same name to a person.
pub(crate) fn fold(name: &str) -> String {
    name.trim().to_lowercase()
}
