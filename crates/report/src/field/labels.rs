//! Labels for bags: what was taken where, and a QR code that opens its record.

use book::Tag;
use ground::kit::Refusal;
use serde::Serialize;

use super::label_stock::{LabelStock, Place};
use super::qr::qr_svg;
use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::render::render;
use crate::sheet::{Picture, Sheet};
use crate::templates::Template;

/// Most labels made at once.
const MOST_LABELS: usize = 500;

/// One bag, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BagLabel {
    /// What it names: the text of its QR code and its short code come from it.
    pub tag: Tag,
    /// "Bag 3 of 5", "Bag LF-1".
    pub bag: String,
    /// "0 to 6 in".
    pub depth: String,
    /// The plot.
    pub plot: String,
    /// "Points 1, 4, 7"; may be empty.
    pub points: String,
    /// The day it was taken; empty for a line to write it on.
    pub day: String,
}

/// How labels are laid out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelAsk {
    /// The sheet of labels.
    pub stock: LabelStock,
    /// The first label that is still on the sheet, 1 on a full one.
    pub start: u16,
    /// Draws the edges: for plain paper that is cut up, and to try the measures against a sheet of labels.
    pub edges: bool,
}

/// Labels placed on their sheets.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabelSheet {
    title: String,
    farm: String,
    /// The sheet of labels.
    pub stock: LabelStock,
    /// Are the edges drawn?
    pub edges: bool,
    /// Sheet by sheet.
    pub sheets: Vec<Vec<PlacedLabel>>,
    #[serde(skip)]
    pictures: Vec<Picture>,
}

/// A label on its sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlacedLabel {
    /// Where it lies.
    pub place: Place,
    /// The name of its QR code among the pictures.
    picture: String,
    /// "Bag 3 of 5".
    pub bag: String,
    /// "0 to 6 in".
    pub depth: String,
    /// The plot.
    pub plot: String,
    /// "Points 1, 4, 7".
    pub points: String,
    /// The day, or empty.
    pub day: String,
    /// The short code.
    pub code: String,
}

impl Sheet for LabelSheet {
    const TEMPLATE: Template = Template::LABELS;

    fn title(&self) -> &str {
        &self.title
    }

    fn pictures(&self) -> &[Picture] {
        &self.pictures
    }
}

/// Lays out labels.
///
/// # Errors
/// A first label that the sheet has not, no labels or too many; a fault of the program.
pub fn label_sheet(labels: &[BagLabel], ask: &LabelAsk, farm: &str) -> Result<LabelSheet, SheetError> {
    check(labels.len(), ask)?;
    let per_sheet = ask.stock.per_sheet();
    let mut sheets: Vec<Vec<PlacedLabel>> = Vec::new();
    let mut pictures = Vec::new();
    for (at, label) in (ask.start - 1..).zip(labels) {
        if sheets.is_empty() || at % per_sheet == 0 {
            sheets.push(Vec::new());
        }
        let name = format!("qr{at}");
        pictures.push(Picture::new(&name, qr_svg(&label.tag.uri())?));
        let placed = PlacedLabel {
            place: ask.stock.place(at % per_sheet),
            picture: Picture::path(&name),
            bag: label.bag.clone(),
            depth: label.depth.clone(),
            plot: label.plot.clone(),
            points: label.points.clone(),
            day: label.day.clone(),
            code: label.tag.short().to_string(),
        };
        if let Some(sheet) = sheets.last_mut() {
            sheet.push(placed);
        }
    }
    Ok(LabelSheet {
        title: "Labels".to_owned(),
        farm: farm.to_owned(),
        stock: ask.stock,
        edges: ask.edges,
        sheets,
        pictures,
    })
}

fn check(count: usize, ask: &LabelAsk) -> Result<(), Refusal> {
    let per_sheet = ask.stock.per_sheet();
    if !(1..=per_sheet).contains(&ask.start) {
        return Err(Refusal::new("start", format!("This sheet has the labels 1 to {per_sheet}"))
            .given(ask.start)
            .accepted(format!("1 to {per_sheet}, counted along the rows: the first label still on the sheet"))
            .example("1"));
    }
    if count == 0 {
        return Err(Refusal::new("labels", "There is no bag to print a label for")
            .given("no bags")
            .accepted("a plan with points, or a plot with samples")
            .example("a plan of 3 bags"));
    }
    if count > MOST_LABELS {
        return Err(Refusal::new("labels", format!("{count} labels are too many for one file"))
            .given(count)
            .accepted(format!("at most {MOST_LABELS}"))
            .example("30"));
    }
    Ok(())
}

/// The labels as PDF, on the paper of their sheet.
///
/// # Errors
/// See [`label_sheet`].
pub fn labels_pdf(
    labels: &[BagLabel],
    ask: &LabelAsk,
    options: &SheetOptions,
) -> Result<Vec<u8>, SheetError> {
    let sheet = label_sheet(labels, ask, &options.farm)?;
    render(&sheet, &SheetOptions { paper: ask.stock.paper, ..options.clone() })
}
