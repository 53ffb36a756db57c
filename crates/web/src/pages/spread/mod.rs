//! What to spread on each bed, and what to buy for it.

mod settings;

use advice::feeding::plan::{FarmPlan, PlanOutcome};
use askama::Template;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::Form;
use crate::plans::{Asked, HowFar};
use crate::problem::Problem;
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::when;

/// Addresses of the plan.
pub const ROUTES: &[Route] = &[
    Route::page("/spread", "What to spread on each bed", show_spread),
    Route::page("/buying", "What to buy for it, in whole bags", show_buying),
    Route::save("/spread/stop", "Stops the search for a better plan", &[], stop),
];

#[derive(Template, Serialize)]
#[template(path = "spread/spread.html")]
struct SpreadPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(skip)]
    form: Form,
    #[serde(skip)]
    query: String,
    #[serde(flatten)]
    plan: FarmPlan,
}

#[derive(Template, Serialize)]
#[template(path = "spread/buying.html")]
struct BuyingPage {
    #[serde(skip)]
    shell: Shell,
    #[serde(skip)]
    form: Form,
    #[serde(skip)]
    query: String,
    #[serde(flatten)]
    plan: FarmPlan,
}

#[derive(Template, Serialize)]
#[template(path = "spread/under_way.html")]
struct UnderWay {
    #[serde(skip)]
    shell: Shell,
    /// Always true: programs ask again until the plan itself comes.
    under_way: bool,
    how_far: HowFar,
    #[serde(skip)]
    again: String,
    #[serde(skip)]
    back: String,
}

fn show_spread(ask: &Ask) -> Outcome {
    show(ask, "What to spread", |shell, form, query, plan| {
        Shown::page(SpreadPage { shell, form, query, plan })
    })
}

fn show_buying(ask: &Ask) -> Outcome {
    show(ask, "What to buy", |shell, form, query, plan| Shown::page(BuyingPage { shell, form, query, plan }))
}

fn show(ask: &Ask, title: &str, page: impl FnOnce(Shell, Form, String, FarmPlan) -> Outcome) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot().map_err(Problem::from)?;
    let (form, settings) = settings::read(ask)?;
    let today = when::day_of(ask.stamp().at);
    let query = settings::query(ask);
    let shell = ask.shell(Section::Work, title);
    match desk.plan(&snapshot, settings, today) {
        Asked::Ready(plan) => page(shell, form, query, FarmPlan::clone(&plan)),
        Asked::UnderWay(how_far) => {
            let (again, back) = (format!("{}{query}", ask.path), ask.path.clone());
            Shown::page(UnderWay { shell, under_way: true, how_far, again, back })
        }
    }
}

fn stop(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot().map_err(Problem::from)?;
    desk.stop_plans(&snapshot);
    let back = ask.query.text("back").filter(|back| *back == "/buying").unwrap_or("/spread");
    Shown::kept(back, serde_json::json!({ "stopped": true }))
}

/// Whether there is a plan to show.
fn is_planned(plan: &FarmPlan) -> bool {
    plan.outcome == PlanOutcome::Planned
}
