//! `POST /api/calc/{method}`: any method of the registry, JSON in and JSON out.

use ground::registry;
use serde_json::json;

use crate::ask::Ask;
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown, Verb};

/// Addresses of the calculator.
pub const ROUTES: &[Route] = &[Route::api(
    Verb::Post,
    "/api/calc/{method}",
    "Computes a method; with ?working=1 the steps come too",
    calc,
)];

fn calc(ask: &Ask) -> Outcome {
    let name = ask.param("method");
    let method = registry::find(name).ok_or_else(|| {
        Problem::not_found(format!("There is no method called {name}. GET /api/methods lists them."))
    })?;
    let input = ask.json()?;
    if ask.query.text("working").is_some_and(|text| text != "0") {
        let (mut answer, working) = method.answer_with_working(input)?;
        answer["working"] = json!(working.steps);
        return Ok(Shown::Json(answer));
    }
    Ok(Shown::Json(method.answer(input)?))
}
