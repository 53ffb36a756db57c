//! A form for a probe: pushes by depth, to fill in at each point.

use book::model::SamplingPlan;
use book::{Held, Snapshot};
use ground::kit::units::UnitSystem;
use ground::registry;
use ground::structure::probe::strength::{HINDERED_MPA, MPA_PER_PSI, STOPPED_MPA};
use serde::Serialize;

use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::render::render;
use crate::sheet::Sheet;
use crate::templates::Template;

/// What a form is made for.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ProbeFormAsk {
    /// The plot; empty for a line to write it on.
    pub plot: String,
    /// Numbers of the points, in walking order; none for empty rows.
    pub points: Vec<u16>,
}

impl ProbeFormAsk {
    /// The form of a sampling plan, its points in walking order.
    #[must_use]
    pub fn of_plan(snapshot: &Snapshot, plan: &Held<SamplingPlan>) -> Self {
        Self {
            plot: snapshot.plot(plan.body.plot).map(|plot| plot.body.name.clone()).unwrap_or_default(),
            points: plan.body.points.iter().map(|point| point.number).collect(),
        }
    }
}

/// Rows where no points are named.
const EMPTY_ROWS: u16 = 15;

/// The probe form.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ProbeForm {
    /// The plot; empty for a line to write it on.
    pub plot: String,
    /// Depths of the readings: "3 in", "6 in" ...
    pub depths: Vec<String>,
    /// A row each: the number of a point.
    pub rows: Vec<String>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// The limits of roots.
    pub limits: String,
    /// Cautions.
    pub cautions: Vec<String>,
}

impl Sheet for ProbeForm {
    const TEMPLATE: Template = Template::PROBE_FORM;

    fn title(&self) -> &'static str {
        "Probe form"
    }
}

/// The form, in the units of its reader.
#[must_use]
pub fn probe_form(ask: &ProbeFormAsk, units: UnitSystem) -> ProbeForm {
    let us = units == UnitSystem::UsCustomary;
    let depths = (1..=6_u8)
        .map(|step| match us {
            true => format!("{} in", 3 * step),
            false => format!("{} cm", advice::words::short(7.5 * f64::from(step))),
        })
        .collect();
    let pressure = |mpa: f64| match us {
        true => format!("{:.0} psi", mpa / MPA_PER_PSI),
        false => format!("{mpa:.1} MPa"),
    };
    let rows = match ask.points[..] {
        [] => (1..=EMPTY_ROWS).map(|number| number.to_string()).collect(),
        ref points => points.iter().map(u16::to_string).collect(),
    };
    ProbeForm {
        plot: ask.plot.clone(),
        depths,
        rows,
        steps: [
            "Come a day or two after the whole depth was wetted. Dry ground reads hard whatever its structure.",
            "Squeeze a handful from the depth of the readings and tick how moist it is.",
            "Push straight down, slowly and evenly, a hand's length in three or four seconds. Read the gauge at each depth.",
            "Without a gauge write S where one hand slides the rod in, L where it takes both arms, X where it stops.",
            "Write \"stuck\" and the depth where it went no further. Try again a step aside: one stone is no pan.",
            "Keep wheel tracks and paths on a form of their own.",
        ]
        .map(str::to_owned)
        .to_vec(),
        limits: format!(
            "In ground near field capacity roots are hindered from about {} and stopped at about {}.",
            pressure(HINDERED_MPA),
            pressure(STOPPED_MPA)
        ),
        cautions: registry::find("probe-transect")
            .map(|method| method.card().cautions)
            .unwrap_or_default()
            .iter()
            .map(|caution| (*caution).to_owned())
            .collect(),
    }
}

/// The form as PDF.
///
/// # Errors
/// A fault of the program.
pub fn probe_form_pdf(
    ask: &ProbeFormAsk,
    units: UnitSystem,
    options: &SheetOptions,
) -> Result<Vec<u8>, SheetError> {
    render(&probe_form(ask, units), options)
}
