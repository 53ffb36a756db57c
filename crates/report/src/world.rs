//! The world a template sees: the templates, the fonts, one sheet and the day. No disk, no clock, no network.

use std::sync::LazyLock;

use jiff::civil::Date;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use crate::fonts::FONTS;
use crate::sheet::Picture;
use crate::templates::{ALL, Template};

/// Where a template finds its sheet.
const SHEET: &str = "/sheet.json";

static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));

/// The templates, read once.
static SOURCES: LazyLock<Vec<Source>> = LazyLock::new(|| {
    ALL.iter().filter_map(|known| Some(Source::new(id(known.path)?, known.source.to_owned()))).collect()
});

fn id(path: &str) -> Option<FileId> {
    Some(RootedPath::new(VirtualRoot::Project, VirtualPath::new(path).ok()?).intern())
}

/// One sheet with its template.
pub(crate) struct SheetWorld {
    main: FileId,
    sheet: Bytes,
    pictures: Vec<(String, Bytes)>,
    day: Date,
}

impl SheetWorld {
    /// The world of a sheet, given as JSON, and of its pictures; `None` for a template without a valid path.
    pub(crate) fn new(template: Template, json: String, pictures: &[Picture], day: Date) -> Option<Self> {
        let pictures = pictures
            .iter()
            .map(|picture| (picture.path.clone(), Bytes::from_string(picture.svg.clone())))
            .collect();
        Some(Self { main: id(template.path)?, sheet: Bytes::from_string(json), pictures, day })
    }
}

impl World for SheetWorld {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &FONTS.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let known = SOURCES.iter().find(|known| known.id() == id).cloned();
        known.ok_or_else(|| FileError::NotFound(id.vpath().get_without_slash().into()))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id.vpath().get_with_slash() == SHEET && *id.root() == VirtualRoot::Project {
            return Ok(self.sheet.clone());
        }
        let path = id.vpath().get_with_slash();
        if let Some((_, picture)) = self.pictures.iter().find(|(known, _)| known == path) {
            return Ok(picture.clone());
        }
        Err(FileError::NotFound(id.vpath().get_without_slash().into()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.at(index)
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        let part = |part: i8| u8::try_from(part).ok();
        Datetime::from_ymd(self.day.year().into(), part(self.day.month())?, part(self.day.day())?)
    }
}
