//! `/records/{id}/correct`: one address for the correction of every kind of record.

use book::model::{Bed, Kind, Note, Observation, Photo, Plot, Sample, Structure};

use super::latest;
use crate::ask::Ask;
use crate::pages::record;
use crate::pages::things::{self, Formed, gone};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};

pub(super) fn show(ask: &Ask) -> Outcome {
    act(ask, Act::Show)
}

pub(super) fn save(ask: &Ask) -> Outcome {
    act(ask, Act::Save)
}

#[derive(Clone, Copy)]
enum Act {
    Show,
    Save,
}

fn act(ask: &Ask, act: Act) -> Outcome {
    let id = ask.entry("id")?;
    let revision = latest(&ask.desk()?.book(), id)?;
    if revision.withdrawn {
        return Err(Problem::from(
            crate::problem::Trouble::new(
                axum::http::StatusCode::CONFLICT,
                "Withdrawn",
                format!(
                    "This {} was withdrawn, so it cannot be corrected.",
                    revision.kind.label().to_lowercase()
                ),
            )
            .hint("Restore it first, from the page of its plot or from its history."),
        ));
    }
    match revision.kind {
        Kind::Plot => of::<Plot>(ask, act),
        Kind::Bed => of::<Bed>(ask, act),
        Kind::Structure => of::<Structure>(ask, act),
        Kind::Sample => of::<Sample>(ask, act),
        Kind::Note => of::<Note>(ask, act),
        Kind::Photo => of::<Photo>(ask, act),
        Kind::Observation => {
            let held = ask.desk()?.book().get::<Observation>(id)?;
            match act {
                Act::Show => record::correct::show(ask, &held),
                Act::Save => record::correct::save(ask, &held),
            }
        }
        Kind::WeatherNormals
        | Kind::WeatherTable
        | Kind::Crop
        | Kind::Planting
        | Kind::WaterSupply
        | Kind::WateringSystem
        | Kind::Watering => Err(by_command(revision.kind.label())),
        // These two are changed where they are made.
        Kind::Farm => elsewhere(act, "/settings".to_owned()),
        Kind::Decision => {
            let body = revision.body;
            let book::model::Body::Decision(decision) = &body else { return Err(gone("the decision")) };
            elsewhere(act, format!("/plots/{}/findings/{}", decision.plot, decision.finding_id))
        }
    }
}

fn of<T: Formed>(ask: &Ask, act: Act) -> Outcome {
    let held = ask.desk()?.book().get::<T>(ask.entry("id")?)?;
    match act {
        Act::Show => things::correct(ask, &held),
        Act::Save => things::save_correction(ask, &held),
    }
}

/// A record that no form of these pages corrects.
pub(crate) fn by_command(label: &str) -> Problem {
    crate::problem::Trouble::new(
        axum::http::StatusCode::NOT_FOUND,
        "No form for this yet",
        format!("A {} is corrected from the command line.", label.to_lowercase()),
    )
    .hint("Run: spadework correct BOOK RECORD. Or withdraw the record and enter it again.")
    .into()
}

fn elsewhere(act: Act, to: String) -> Outcome {
    match act {
        Act::Show => Shown::kept(to.clone(), serde_json::json!({ "corrected_at": to })),
        Act::Save => Err(Problem::from(
            ground::kit::Refusal::new("", format!("this record is changed at {to}"))
                .accepted(format!("a post to {to}")),
        )),
    }
}
