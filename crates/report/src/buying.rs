//! The buying list on paper.

use serde::Serialize;

use crate::sheet::{Caution, Sheet};
use crate::templates::Template;

/// The buying list.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct BuyingSheet {
    /// Sentences above the list.
    pub lead: Vec<String>,
    /// What to buy.
    pub lines: Vec<BuyingLine>,
    /// What it comes to; empty where nothing is bought or a price is missing.
    pub total: String,
    /// What is in hand already and is enough.
    pub in_hand: Vec<String>,
    /// What else is to be known.
    pub notes: Vec<String>,
    /// Cautions of the materials.
    pub cautions: Vec<Caution>,
}

/// One material to buy.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct BuyingLine {
    /// The material.
    pub material: String,
    /// How many packs of what size: "3 bags of 50 lb".
    pub packs: String,
    /// What all beds together take of it.
    pub needed: String,
    /// What of that is in hand already.
    pub in_hand: String,
    /// What goes back on the shelf.
    pub left_over: String,
    /// What it costs; empty where no price is known.
    pub cost: String,
    /// What else is to be known of it.
    pub note: String,
    /// Signs of the cautions that belong to it.
    pub cautions: Vec<String>,
}

impl Sheet for BuyingSheet {
    const TEMPLATE: Template = Template::BUYING;

    fn title(&self) -> &str {
        "Buying list"
    }
}
