//! Photos: sent from a phone or a disk, told by their content, kept in the book.

use book::model::{Photo, Record};
use book::{LARGEST_ATTACHMENT_BYTES, Snapshot};
use ground::kit::Refusal;
use ground::kit::units::UnitSystem;

use super::{Formed, ThingPage, page_of_new, plots};
use crate::ask::Ask;
use crate::form::{Field, Form, Reader};
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};

/// Addresses of photos.
pub(crate) const ROUTES: &[Route] = &[
    Route::page("/photos/new", "The form of a new photo", blank),
    // Room for a file above the limit, so that it is refused in words and what was typed is kept.
    Route::save("/photos/new", "Adds a photo (multipart/form-data)", FIELDS, add)
        .up_to(LARGEST_ATTACHMENT_BYTES),
    Route::file("/photos/{id}/picture", "The picture of a photo", picture),
];

const FIELDS: &[Field] = &[
    Field {
        optional: false,
        ..Field::picture(
            "photo",
            "Picture",
            "A JPEG, PNG, WebP or GIF file of up to 32 MB; a phone may take it now",
        )
    },
    Field::lines("caption", "What it shows", "For example: the jar after two days, at eye level").optional(),
    Field::pick("plot", "Plot", "Leave open for a photo of the farm", &[]).optional(),
    Field::hidden("observation").optional(),
];

impl Formed for Photo {
    const FIELDS: &'static [Field] = &[FIELDS[1], FIELDS[2]];
    const NEW: &'static str = "Add a photo";
    const LEAD: &'static str = "The picture is kept inside the farm book as it is, with whatever the camera wrote into \
                                it (often the place and time).";

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let plot = read.entry("plot");
        let caption = read.lines("caption");
        Some(Self { plot, caption, ..before?.clone() })
    }

    fn fill(&self, form: Form, _units: UnitSystem) -> Form {
        form.with("plot", self.plot.map(|plot| plot.to_string()).unwrap_or_default())
            .with("caption", &self.caption)
    }

    fn prepare(form: Form, snapshot: &Snapshot, _ask: &Ask) -> Form {
        plots(form, snapshot)
    }
}

fn page(ask: &Ask, snapshot: &Snapshot, form: Form, refused: bool) -> ThingPage {
    ThingPage { with_file: true, ..page_of_new::<Photo>(ask, plots(form, snapshot), refused) }
}

fn blank(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    Shown::page(page(ask, &snapshot, ask.form_from_query(FIELDS), false))
}

fn add(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let mut read = ask.reader(FIELDS);
    let file = ask.files.iter().find(|file| file.field == "photo");
    let bytes = file.map_or(&[][..], |file| &file.bytes);
    let media_type = read.take(media_type(bytes));
    let caption = read.lines("caption");
    let plot = read.entry("plot");
    let observation = read.entry("observation");
    let again = |form: Form| page(ask, &snapshot, form, true);
    let Some(media_type) = media_type.filter(|_| !read.is_refused()) else {
        return Err(read.refused(again));
    };
    // The picture and its record together or not at all.
    let kept = ask.write(|book, stamp| {
        book.write(|writing| {
            let sha256 = writing.attach(bytes, media_type)?;
            let media_type = media_type.to_owned();
            writing.record(Photo { plot, observation, sha256, media_type, caption }, stamp)
        })
    })?;
    let kept = read.kept(kept, again)?;
    let plot = plot.or_else(|| Some(snapshot.observation(observation?)?.body.plot));
    let home = plot.map_or_else(|| "/".to_owned(), |plot| format!("/plots/{plot}"));
    Shown::kept(format!("{home}?done=kept"), kept)
}

/// The kind of picture by its content, refused at the form's field.
fn media_type(bytes: &[u8]) -> Result<&'static str, Refusal> {
    Photo::media_type_of(bytes).map_err(|refusal| Refusal {
        field: "photo".to_owned(),
        message: format!("Picture: {}. Choose it again; what you wrote is still here", refusal.message),
        ..refusal
    })
}

fn picture(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let id = ask.entry("id")?;
    let book = desk.book();
    // Withdrawn photos are shown too: their page of history leads here.
    let photo = book
        .history(id)?
        .into_iter()
        .rev()
        .find_map(|revision| Photo::try_from(revision.body).ok())
        .ok_or_else(|| Problem::not_found(format!("There is no {} {id}.", Photo::KIND.name())))?;
    let file = book.attachment(&photo.sha256)?;
    // What was not told by its content is never shown in place.
    let name = media_type(&file.bytes).is_err().then(|| format!("{}.bin", &photo.sha256[..12]));
    let media_type = if name.is_some() { "application/octet-stream".to_owned() } else { file.media_type };
    Ok(Shown::File { media_type, name, bytes: file.bytes })
}
