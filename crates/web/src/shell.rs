//! The frame around every page.

use book::Snapshot;
use book::model::EntryId;

use crate::app::App;
use crate::route;
use crate::typed::Typed;

/// The part of the app a page belongs to; marks the place in the top bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Section {
    /// The farm and its plots.
    Farm,
    /// Recording what was seen.
    Record,
    /// What to do.
    Work,
    /// Methods and sources.
    Handbook,
    /// Settings, export and the book itself.
    Settings,
}

impl Section {
    /// Every section in the order of the top bar.
    pub const ALL: [Self; 5] = [Self::Farm, Self::Record, Self::Work, Self::Handbook, Self::Settings];

    /// Its word in the top bar.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Farm => "Farm",
            Self::Record => "Record",
            Self::Work => "Work",
            Self::Handbook => "Handbook",
            Self::Settings => "Settings",
        }
    }

    /// Where the word leads.
    #[must_use]
    pub fn path(self) -> &'static str {
        match self {
            Self::Farm => "/",
            Self::Record => "/record",
            Self::Work => "/work",
            Self::Handbook => "/methods",
            Self::Settings => "/settings",
        }
    }
}

/// Sentences that a page can be sent on with, as `?done=kept`.
const DONE: [(&str, &str); 8] = [
    ("kept", "It is in the book."),
    ("corrected", "The correction is in the book. The earlier version stays in the history."),
    ("withdrawn", "It no longer counts. It stays in the history and can be restored."),
    ("restored", "It counts again."),
    ("undone", "The file was undone as a whole."),
    ("decided", "The decision is in the book."),
    ("job", "The job is done, and what was spread is in the book."),
    ("settings", "The settings are kept."),
];

fn done(key: &str) -> Option<&'static str> {
    DONE.iter().find(|(known, _)| *known == key).map(|(_, sentence)| *sentence)
}

/// What the base template needs. A page keeps it in a field `shell` that its JSON twin leaves out.
#[derive(Debug, Clone)]
pub struct Shell {
    /// Name of the page.
    pub title: String,
    /// Name of the farm, when a book is open.
    pub farm: Option<String>,
    /// Where the page stands in the top bar.
    pub section: Section,
    /// Sections that have a page.
    pub sections: Vec<Section>,
    /// Path of the JSON twin.
    pub twin: String,
    /// Path of the style sheet.
    pub style: String,
    /// Path of the script.
    pub script: String,
    /// Path of the tab's mark.
    pub icon: String,
    /// Whether the page shows a refused form.
    pub refused: bool,
    /// Whether the open book can be read only.
    pub read_only: bool,
    /// What was kept just before, told once on the page one is sent on to.
    pub done: Option<&'static str>,
    /// The parted plot that the page is about, on pages that do not say so themselves.
    pub parted: Option<PartedPlot>,
}

/// A plot that was parted into zones.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartedPlot {
    /// Its name.
    pub name: String,
    /// Identity and name of each zone.
    pub zones: Vec<(EntryId, String)>,
}

impl PartedPlot {
    /// What a book says of a plot; none of one that is worked as one.
    pub(crate) fn of(snapshot: &Snapshot, plot: EntryId) -> Option<Self> {
        let whole = snapshot.parted.iter().find(|whole| whole.id == plot)?;
        let zones = snapshot.zones_of(plot).map(|zone| (zone.id, zone.body.name.clone())).collect();
        Some(Self { name: whole.body.name.clone(), zones })
    }
}

impl Shell {
    pub(crate) fn new(app: &App, section: Section, title: String, path: &str, query: &Typed) -> Self {
        Self {
            title,
            farm: app.farm().map(|farm| farm.name),
            section,
            sections: Section::ALL.into_iter().filter(|section| route::exists(section.path())).collect(),
            twin: route::twin(path),
            style: app.assets.style.clone(),
            script: app.assets.script.clone(),
            icon: app.assets.icon.clone(),
            refused: false,
            read_only: app.desk().is_some_and(|desk| desk.is_read_only()),
            done: query.get("done").and_then(done),
            parted: None,
        }
    }

    /// The same frame for a page that shows a refused form.
    #[must_use]
    pub fn refused(mut self) -> Self {
        self.refused = true;
        self
    }

    /// Title of the browser tab: page, farm, program.
    #[must_use]
    pub fn tab(&self) -> String {
        let mark = if self.refused { "Error: " } else { "" };
        match &self.farm {
            Some(farm) => format!("{mark}{} - {farm} - Spadework", self.title),
            None => format!("{mark}{} - Spadework", self.title),
        }
    }
}
