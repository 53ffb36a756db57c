//! `/maps`: what can be mapped.

use std::sync::Arc;

use advice::maps::{Mappable, mappable};
use askama::Template;
use serde::Serialize;

use crate::ask::Ask;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

#[derive(Template, Serialize)]
#[template(path = "maps/choose.html")]
struct ChoosePage {
    #[serde(skip)]
    shell: Shell,
    properties: Vec<Mappable>,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let properties: Arc<Vec<Mappable>> = ask.desk()?.derived(&snapshot, "what can be mapped", mappable);
    Shown::page(ChoosePage {
        shell: ask.shell(Section::Farm, "Maps of what varies"),
        properties: properties.to_vec(),
    })
}
