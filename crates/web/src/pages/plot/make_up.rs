//! The make-up of a plot: the triangle with its cloud, the odds of the classes, sand, silt and clay.

use figures::Figure;
use figures::triangle::{Cloud, Evidence, Says, Size, Triangle, texture_triangle};
use serde::Serialize;

use crate::parts::{OddsLine, SpreadView};
use crate::reports::Told;

/// Classes below these odds are told together.
const WORTH_A_LINE: f64 = 0.01;

/// The make-up as it is shown.
#[derive(Serialize)]
pub(super) struct MakeUp {
    pub(super) known: bool,
    pub(super) odds: Vec<OddsLine>,
    pub(super) spreads: Vec<SpreadView>,
    pub(super) triangle: Figure,
}

impl MakeUp {
    pub(super) fn of(told: &Told) -> Self {
        let report = &told.report;
        let known = report.make_up_known;
        let triangle = told.triangle(draw).clone();
        let make_up = &report.make_up;
        let spreads =
            [("Sand", make_up.sand_percent), ("Silt", make_up.silt_percent), ("Clay", make_up.clay_percent)];
        Self {
            known,
            odds: make_up
                .class_odds
                .iter()
                .filter(|one| known && one.odds >= WORTH_A_LINE)
                .map(|one| OddsLine::new(one.class.name(), one.odds))
                .collect(),
            spreads: if known {
                spreads.map(|(name, spread)| SpreadView::new(name, spread, "%", 0)).into()
            } else {
                Vec::new()
            },
            triangle,
        }
    }
}

/// Letters of the evidence in the picture, in the order of the report.
pub(super) fn letters() -> impl Iterator<Item = char> {
    'A'..='Z'
}

fn draw(told: &Told) -> Figure {
    let report = &told.report;
    let shown = report.evidence.iter().filter_map(|exhibit| {
        let says = match (exhibit.says, exhibit.named) {
            (Some(point), _) => Says::Point(point),
            (None, Some(class)) => Says::Class(class),
            (None, None) => return None,
        };
        Some((exhibit, says))
    });
    let evidence: Vec<Evidence<'_>> = letters()
        .zip(shown)
        .map(|(letter, (exhibit, says))| Evidence {
            letter,
            label: &exhibit.label,
            says,
            disagrees: report.disagreements.iter().any(|one| one.id == exhibit.id.to_string()),
        })
        .collect();
    let make_up = &report.make_up;
    let cloud = report.make_up_known.then(|| Cloud {
        draws: &report.belief.draws,
        weights: &report.belief.weights,
        spreads: Some([make_up.sand_percent, make_up.silt_percent, make_up.clay_percent]),
    });
    texture_triangle(&Triangle { id: "triangle", cloud, evidence: &evidence, size: Size::Full })
}
