//! The sheet of a sampling plan: where to go, what to do there, and boxes to fill.

use serde::Serialize;

use crate::sheet::{Caution, Picture, Sheet};
use crate::templates::Template;

/// The field sheet.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct FieldSheet {
    /// Its title.
    pub title: String,
    /// Sentences above the rest.
    pub lead: Vec<String>,
    /// Where the template finds the picture of the plan; empty without one.
    pub picture: String,
    /// What the picture shows, for those who cannot see it.
    pub picture_words: String,
    /// The plan in figures: what, and how much.
    pub facts: Vec<[String; 2]>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// What to bring.
    pub bring: Vec<String>,
    /// How its points are found.
    pub way: String,
    /// The points, in walking order.
    pub points: Vec<FieldPoint>,
    /// Boxes to fill at each point.
    pub columns: Vec<String>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// The picture itself.
    #[serde(skip)]
    pub pictures: Vec<Picture>,
}

/// A point of the plan, in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FieldPoint {
    /// Its number.
    pub number: String,
    /// The bag its soil goes into.
    pub bag: String,
    /// Where it lies: "64 ft along, 12 ft across".
    pub walk: String,
    /// The step from the point before: "52 ft north-east"; empty of the first.
    pub step: String,
}

impl FieldSheet {
    /// An empty sheet of that title.
    #[must_use]
    pub fn new(title: String) -> Self {
        Self { title, ..Self::default() }
    }

    /// The sheet with a picture of the plan, and what it shows in words.
    #[must_use]
    pub fn with_picture(self, svg: String, words: &str) -> Self {
        let picture = Picture::new("plan", svg);
        Self {
            picture: Picture::path("plan"),
            picture_words: words.to_owned(),
            pictures: vec![picture],
            ..self
        }
    }
}

impl Sheet for FieldSheet {
    const TEMPLATE: Template = Template::FIELD_SHEET;

    fn title(&self) -> &str {
        &self.title
    }

    fn pictures(&self) -> &[Picture] {
        &self.pictures
    }
}
