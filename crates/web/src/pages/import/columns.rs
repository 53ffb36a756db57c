//! What each column of a laboratory's table holds, as its three fields say it.

use book::model::{HeadingMeans, LabHeading};
use book::{LabColumn, LabColumnSeen, LabProposal};
use ground::fertility::analysis::report::{Analyte, Procedure, RateUnit, RecommendedWhat, ReportUnit};
use ground::kit::Refusal;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::ask::Ask;
use crate::form::{Answer, FieldView, Reader};
use crate::problem::capital;

/// A column that is passed over.
const PASSED_OVER: &str = "-";

/// Meanings that need no more words.
const PLAIN: [(&str, HeadingMeans); 12] = [
    ("bag_label", HeadingMeans::BagLabel),
    ("plot", HeadingMeans::Plot),
    ("number", HeadingMeans::Number),
    ("taken_on", HeadingMeans::TakenOn),
    ("reported_on", HeadingMeans::ReportedOn),
    ("crop", HeadingMeans::Crop),
    ("from_cm", HeadingMeans::FromCm),
    ("to_cm", HeadingMeans::ToCm),
    ("from_in", HeadingMeans::FromIn),
    ("to_in", HeadingMeans::ToIn),
    ("free_lime", HeadingMeans::FreeLime),
    ("density", HeadingMeans::Density),
];

/// The texts of a column's fields.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub(super) struct Said {
    pub(super) what: String,
    pub(super) method: String,
    pub(super) unit: String,
}

/// Names of a column's fields.
pub(super) fn names(at: usize) -> [String; 3] {
    [format!("column_{at}"), format!("method_{at}"), format!("unit_{at}")]
}

/// What a person said of a column, or what it seems to hold.
pub(super) fn said(ask: &Ask, proposal: &LabProposal, answered: bool) -> Vec<Said> {
    proposal
        .columns
        .iter()
        .enumerate()
        .map(|(at, seen)| {
            let [what, method, unit] = names(at);
            match ask.body.get(&what) {
                Some(text) if answered => Said {
                    what: text.trim().to_owned(),
                    method: ask.body.text(&method).unwrap_or_default().to_owned(),
                    unit: ask.body.text(&unit).unwrap_or_default().to_owned(),
                },
                _ => proposed(seen),
            }
        })
        .collect()
}

/// What a column seems to hold; a unit that its heading does not say is left to be chosen.
fn proposed(seen: &LabColumnSeen) -> Said {
    let Some(means) = seen.means else { return Said::default() };
    let mut said = texts(means);
    if seen.unit_open {
        said.unit.clear();
    }
    said
}

fn key(value: impl Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(Value::String(key)) => key,
        _ => String::new(),
    }
}

fn of_key<T: DeserializeOwned>(key: &str) -> Option<T> {
    serde_json::from_value(Value::String(key.to_owned())).ok()
}

fn texts(means: HeadingMeans) -> Said {
    if let Some((key, _)) = PLAIN.iter().find(|(_, plain)| *plain == means) {
        return Said { what: (*key).to_owned(), ..Said::default() };
    }
    match means {
        HeadingMeans::Figure { analyte, procedure, unit } => {
            Said { what: format!("figure {}", analyte.key()), method: procedure.key(), unit: unit.key() }
        }
        HeadingMeans::Recommended { what, unit } => Said {
            what: format!("recommended {}", key(what)),
            method: String::new(),
            unit: format!("rate {}", key(unit)),
        },
        HeadingMeans::Other { column } => Said { what: format!("other {}", key(column)), ..Said::default() },
        _ => Said { what: PASSED_OVER.to_owned(), ..Said::default() },
    }
}

/// The meaning that a column's texts name, or which of them is open and why.
pub(super) fn meaning(said: &Said) -> Result<HeadingMeans, (usize, &'static str)> {
    if said.what == PASSED_OVER {
        return Ok(HeadingMeans::PassedOver);
    }
    if let Some((_, means)) = PLAIN.iter().find(|(key, _)| *key == said.what) {
        return Ok(*means);
    }
    let unknown = (0, "say what it holds, or pass it over");
    let (kind, name) = said.what.split_once(' ').ok_or(unknown)?;
    match kind {
        "other" => Ok(HeadingMeans::Other { column: of_key::<LabColumn>(name).ok_or(unknown)? }),
        "recommended" => {
            let what: RecommendedWhat = of_key(name).ok_or(unknown)?;
            let unit = said.unit.strip_prefix("rate ").and_then(of_key::<RateUnit>);
            Ok(HeadingMeans::Recommended { what, unit: unit.ok_or((2, "say in which unit the rate is"))? })
        }
        "figure" => {
            let analyte: Analyte = of_key(name).ok_or(unknown)?;
            let unit = match (of_key::<ReportUnit>(&said.unit), analyte.units()) {
                (Some(unit), _) if analyte.units().contains(&unit) => unit,
                (None, [only]) if said.unit.is_empty() => *only,
                (Some(_), _) => return Err((2, "this is not given in that unit")),
                (None, _) => return Err((2, "say in which unit it is")),
            };
            let procedure = match said.method.as_str() {
                "" => Procedure::NotStated,
                key => of_key(key).ok_or((1, "choose a method of the list"))?,
            };
            if !procedure.fits(analyte) {
                return Err((1, "that method does not measure this"));
            }
            Ok(HeadingMeans::Figure { analyte, procedure, unit })
        }
        _ => Err(unknown),
    }
}

/// What the person said of the table's columns.
pub(super) fn answers(read: &mut Reader<'_>, proposal: &LabProposal, said: &[Said]) -> Vec<LabHeading> {
    let mut columns = Vec::with_capacity(said.len());
    for (at, (seen, said)) in proposal.columns.iter().zip(said).enumerate() {
        match meaning(said) {
            Ok(means) => columns.push(LabHeading { heading: seen.heading.clone(), means }),
            Err((field, why)) => {
                let given = [&said.what, &said.method, &said.unit][field];
                read.refuse(
                    Refusal::new(
                        names(at)[field].clone(),
                        format!("\u{201c}{}\u{201d}: {why}", seen.heading),
                    )
                    .given(if given.is_empty() { "nothing" } else { given })
                    .accepted("one of the list"),
                );
            }
        }
    }
    columns
}

/// The fields of every column.
pub(super) fn views(proposal: &LabProposal, said: &[Said]) -> Vec<FieldView> {
    let answer = |value: String, label: String| Answer { value, label, chosen: false };
    let mut whats = vec![answer(PASSED_OVER.to_owned(), "Pass it over".to_owned())];
    let mut what =
        |means: HeadingMeans, label: String| whats.push(answer(texts(means).what, capital(&label)));
    for (_, means) in PLAIN {
        what(means, book::means_words(means));
    }
    for analyte in Analyte::ALL {
        let means = HeadingMeans::Figure {
            analyte: *analyte,
            procedure: Procedure::NotStated,
            unit: analyte.units()[0],
        };
        what(means, analyte.words().to_owned());
    }
    for material in RecommendedWhat::ALL {
        let means = HeadingMeans::Recommended { what: material, unit: RateUnit::LbPerAcre };
        what(means, format!("recommended {}", material.words()));
    }
    for column in LabColumn::all() {
        if let means @ HeadingMeans::Other { .. } = column.means() {
            what(means, book::means_words(means));
        }
    }
    let methods: Vec<Answer> =
        Procedure::ALL.iter().map(|one| answer(one.key(), capital(one.words()))).collect();
    let units: Vec<Answer> = ReportUnit::ALL
        .iter()
        .map(|one| answer(one.key(), one.words().to_owned()))
        .chain(
            RateUnit::ALL
                .iter()
                .map(|one| answer(format!("rate {}", key(one)), format!("{} (a rate)", one.symbol()))),
        )
        .collect();
    let mut views = Vec::new();
    for (at, (seen, said)) in proposal.columns.iter().zip(said).enumerate() {
        let heading = if seen.heading.is_empty() {
            format!("Column {} (without a heading)", at + 1)
        } else {
            format!("\u{201c}{}\u{201d}", seen.heading)
        };
        let [what, method, unit] = names(at);
        for (name, part, answers, text) in [
            (what, "what it holds", &whats, &said.what),
            (method, "method", &methods, &said.method),
            (unit, "unit", &units, &said.unit),
        ] {
            let mut view = FieldView::pick(&name, &[]).labelled(&format!("{heading}, {part}"), "", false);
            view.answers.clone_from(answers);
            views.push(view.typed(text));
        }
    }
    views
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_meaning_comes_back_from_its_texts() {
        let mut all: Vec<HeadingMeans> = PLAIN.iter().map(|(_, means)| *means).collect();
        all.push(HeadingMeans::PassedOver);
        all.extend(LabColumn::all().map(LabColumn::means));
        for analyte in Analyte::ALL {
            for unit in analyte.units() {
                let figure = |procedure| HeadingMeans::Figure { analyte: *analyte, procedure, unit: *unit };
                all.extend(Procedure::of(*analyte).map(figure));
            }
        }
        for what in RecommendedWhat::ALL {
            all.extend(RateUnit::ALL.map(|unit| HeadingMeans::Recommended { what, unit }));
        }
        for means in all {
            assert_eq!(meaning(&texts(means)), Ok(means), "{means:?}");
        }
    }

    #[test]
    fn what_is_open_is_named() {
        let said = |what: &str, method: &str, unit: &str| Said {
            what: what.to_owned(),
            method: method.to_owned(),
            unit: unit.to_owned(),
        };
        for (texts, field) in [
            (said("", "", ""), 0),
            (said("figure", "", ""), 0),
            (said("figure snow", "", "ppm"), 0),
            (said("figure phosphorus", "", ""), 2),
            (said("figure phosphorus", "smp", "ppm"), 1),
            (said("figure phosphorus", "", "percent"), 2),
            (said("recommended lime", "", "ppm"), 2),
        ] {
            assert_eq!(meaning(&texts).unwrap_err().0, field, "{texts:?}");
        }
        assert!(meaning(&said("figure ph_water", "", "")).is_ok());
    }
}
