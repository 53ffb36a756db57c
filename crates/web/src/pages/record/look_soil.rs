//! What readings of structure say by themselves.

use advice::words;
use book::model::seen::{DensityCores, ProbeSeen, SpadeBlock, WorkingTest};
use figures::probe::{MarkedPan, ProbeChart, probe_chart};
use ground::kit::units::UnitSystem;
use ground::kit::{Method, Note, Refusal};
use ground::structure::density::core::CoreBulkDensity;
use ground::structure::probe::push::{Level, levels};
use ground::structure::probe::strength::comparable;
use ground::structure::probe::transect::{ProbeTransect, TransectOutput};
use ground::structure::spade::look::{LookInput, SpadeLook};
use ground::structure::spade::score::{ScoreInput, VisualStructureScore};
use ground::structure::spade::slake::{SlakeInput, SlakeTest};
use ground::structure::spade::worms::EarthwormCount;
use ground::structure::working::ball::{BallInput, BallTest};

use super::look::Look;

fn told(notes: &[Note]) -> Vec<String> {
    notes.iter().take(3).map(|note| note.text.clone()).collect()
}

/// The chart of a transect with its pan marked.
pub(crate) fn chart(
    id: &str,
    probe: &ProbeSeen,
    found: &TransectOutput,
    units: UnitSystem,
) -> Result<figures::Figure, Refusal> {
    let input = probe.input();
    let pushes: Vec<Vec<Level>> =
        input.pushes.iter().map(|push| levels(&push.readings, "points")).collect::<Result<_, _>>()?;
    let pushes: Vec<&[Level]> = pushes.iter().map(Vec::as_slice).collect();
    let pan = found.pan_top_cm.map(|top| MarkedPan {
        top_cm: top.median,
        bottom_cm: found.pan_bottom_cm.map(|bottom| bottom.median).filter(|bottom| *bottom >= top.median),
        stopped_share: found.stopped_percent / 100.0,
    });
    let comparable = comparable(probe.moisture.into());
    Ok(probe_chart(&ProbeChart { id, pushes: &pushes, pan, comparable, system: units }))
}

/// Where the pan lies, with the chart.
pub(super) fn probe(probe: &ProbeSeen, units: UnitSystem) -> Result<Look, Refusal> {
    let answer = ProbeTransect::compute(&probe.input())?;
    let found = &answer.value;
    let says = match found.pan_top_cm {
        Some(top) => {
            let ends = found.pan_bottom_cm.map_or_else(
                || "and no push came out below it".to_owned(),
                |bottom| format!("and ends at {}", words::depth(bottom.median, units)),
            );
            format!(
                "A hard layer begins at {} {ends}; {:.0} % of the pushes were stopped in the top {}.",
                words::depth(top.median, units),
                found.stopped_percent,
                words::depth(38.1, units)
            )
        }
        None => "No hard layer was found.".to_owned(),
    };
    Ok(Look {
        figure: Some(chart("look-probe", probe, found, units)?),
        says,
        notes: told(&answer.notes),
        ..Look::default()
    })
}

/// Density and pores of each core.
pub(super) fn cores(cores: &DensityCores) -> Result<Look, Refusal> {
    let mut said = Vec::new();
    let mut notes = Vec::new();
    for (at, core) in cores.cores.iter().enumerate() {
        let answer =
            CoreBulkDensity::compute(core).map_err(|refusal| refusal.inside(&format!("cores[{at}]")))?;
        said.push(format!(
            "{:.2} g/cm³ with {:.0} % pores",
            answer.value.fine_earth_g_cm3, answer.value.porosity_percent
        ));
        notes.extend(answer.notes);
    }
    notes.dedup();
    Ok(Look { says: format!("Fine earth of {}.", said.join(", ")), notes: told(&notes), ..Look::default() })
}

/// What the block says.
pub(super) fn spade(block: &SpadeBlock, units: UnitSystem) -> Result<Look, Refusal> {
    let mut says = Vec::new();
    let mut notes = Vec::new();
    if !block.signs.is_empty() {
        let answer = SpadeLook::compute(&LookInput { signs: block.signs.clone() })?;
        says.push(answer.value.says);
        notes.extend(answer.notes);
    }
    if !block.layers.is_empty() {
        let answer = VisualStructureScore::compute(&ScoreInput { layers: block.layers.clone() })?;
        let found = &answer.value;
        says.push(format!(
            "Score {:.1} of 5 (1 is best); the worst layer, {}, begins at {}.",
            found.score,
            found.worst_score,
            words::depth(found.worst_from_cm, units)
        ));
        notes.extend(answer.notes);
    }
    if let Some(worms) = &block.worms {
        let found = EarthwormCount::compute(worms).map_err(|refusal| refusal.inside("worms"))?.value;
        let under = match units {
            UnitSystem::UsCustomary => String::new(),
            UnitSystem::Metric => format!(", {:.0} under a square metre", found.per_m2),
        };
        says.push(format!("Earthworms: {}{under}.", advice::structure::worms(found.per_ft3, units)));
    }
    Ok(Look { says: says.join(" "), notes: told(&notes), ..Look::default() })
}

/// The mean class.
pub(super) fn slake(test: &SlakeInput) -> Result<Look, Refusal> {
    let answer = SlakeTest::compute(test)?;
    let says = format!(
        "Mean stability class {:.1} of 6 from {} crumbs.",
        answer.value.mean_class,
        answer.value.classes.len()
    );
    Ok(Look { says, notes: told(&answer.notes), ..Look::default() })
}

/// Whether it may be worked.
pub(super) fn working(test: &WorkingTest) -> Result<Look, Refusal> {
    let answer = BallTest::compute(&BallInput { handful: test.handful, class: None })?;
    Ok(Look { says: answer.value.says, notes: told(&answer.notes), ..Look::default() })
}
