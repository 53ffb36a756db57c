//! `/records/{id}/correct`: one address for the correction of every kind of record.

use book::model::{
    Application, Bed, CoverCrop, FarmCrop, Harvest, Kind, Material, Note, Observation, Photo, Planting, Plot,
    Sample, Stock, Structure, WaterSupply, WateringDone, WateringSystem, WeatherNormals, WeatherTable,
};

use super::{latest, without_form};
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
        Kind::WeatherNormals => of::<WeatherNormals>(ask, act),
        Kind::WeatherTable => {
            let held = ask.desk()?.book().get::<WeatherTable>(id)?;
            if things::fits_the_form(&held.body) { of::<WeatherTable>(ask, act) } else { Err(too_long()) }
        }
        Kind::Crop => of::<FarmCrop>(ask, act),
        Kind::Planting => of::<Planting>(ask, act),
        Kind::Material => of::<Material>(ask, act),
        Kind::Stock => of::<Stock>(ask, act),
        Kind::WaterSupply => of::<WaterSupply>(ask, act),
        Kind::WateringSystem => of::<WateringSystem>(ask, act),
        Kind::Watering => of::<WateringDone>(ask, act),
        Kind::Application => of::<Application>(ask, act),
        Kind::Harvest => of::<Harvest>(ask, act),
        Kind::Cover => of::<CoverCrop>(ask, act),
        Kind::Laboratory | Kind::Import | Kind::SamplingPlan => Err(without_form(revision.kind)),
        // What is drawn is changed where it is drawn.
        Kind::PlanPart | Kind::Underlay => elsewhere(act, "/plan".to_owned()),
        Kind::Job => {
            let body = revision.body;
            let book::model::Body::Job(job) = &body else { return Err(gone("the job")) };
            elsewhere(act, format!("/work/{}", job.key))
        }
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

/// An imported table is mended where it came from.
fn too_long() -> Problem {
    crate::problem::Trouble::new(
        axum::http::StatusCode::CONFLICT,
        "Withdrawn and taken in again, not changed",
        "This table of weather was taken in whole and is too long to be changed by hand.",
    )
    .hint("Withdraw it on the weather page, mend it in the spreadsheet it came from, and take it in again.")
    .hint("A single day can be put right by typing it in: of two entries for one day the later counts.")
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
