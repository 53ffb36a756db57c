//! Structure as it was read: probe, cores, spade, crumbs, the handful.

use book::model::seen::{DensityCores, ProbeSeen, SpadeBlock, WorkingTest};
use ground::kit::Bounded;
use ground::kit::units::{Dimension, UnitSystem, typed};
use ground::structure::probe::line::write_push;
use ground::structure::probe::push::ProbeDepth;
use ground::structure::spade::crumbs::write_crumbs;
use ground::structure::spade::slake::SlakeInput;

use super::Line;
use crate::form::shown;

/// A probe transect, a line a point.
pub(super) fn probe(seen: &ProbeSeen, units: UnitSystem) -> Vec<Line> {
    let ProbeSeen { moisture, tracks, points } = seen;
    let (step, unit) = match units {
        UnitSystem::UsCustomary => ("3 in", "psi"),
        UnitSystem::Metric => ("7.5 cm", "MPa"),
    };
    let step_cm = typed::<ProbeDepth>("step", step, Dimension::Depth.unit(units)).map_or(7.5, Bounded::get);
    let mut lines = vec![Line::new("Ground", moisture.words())];
    if *tracks {
        lines.push(Line::new("Where", "in wheel tracks or paths only"));
    }
    lines.push(Line::new("Readings", format!("{unit}, every {step} from the top, unless said")));
    lines.extend(points.iter().enumerate().map(|(at, point)| {
        let name = if point.place.is_empty() {
            format!("Point {}", at + 1)
        } else {
            format!("Point {}, {}", at + 1, point.place)
        };
        Line::new(name, write_push(&point.readings, point.stuck_at_cm, step_cm, units))
    }));
    lines
}

/// Density cores, a line each.
pub(super) fn cores(seen: &DensityCores, units: UnitSystem) -> Vec<Line> {
    let DensityCores { from_cm, to_cm, cores } = seen;
    let mut lines =
        vec![Line::new("Layer", format!("{} to {}", shown(*from_cm, units), shown(*to_cm, units)))];
    lines.extend(cores.iter().enumerate().map(|(at, core)| {
        let mut text = format!("{} g dry in {} mL", core.dry_mass_g.get(), core.volume_ml.get());
        if let Some(moist) = core.moist_mass_g {
            text.push_str(&format!(", {} g before drying", moist.get()));
        }
        if let Some(rock) = core.rock_mass_g {
            text.push_str(&format!(", {} g of stones in it", rock.get()));
        }
        if let Some(rock) = core.rock_density_g_cm3 {
            text.push_str(&format!(", stones of {} g/cm³", rock.get()));
        }
        if let Some(grains) = core.grain_density_g_cm3 {
            text.push_str(&format!(", grains of {} g/cm³", grains.get()));
        }
        Line::new(format!("Core {}", at + 1), text)
    }));
    lines
}

/// A spade block.
pub(super) fn spade(seen: &SpadeBlock, units: UnitSystem) -> Vec<Line> {
    let SpadeBlock { layers, signs, worms } = seen;
    let mut lines: Vec<Line> = layers
        .iter()
        .enumerate()
        .map(|(at, layer)| {
            let text = format!("{} thick, score {}", shown(layer.thickness_cm, units), layer.score.get());
            Line::new(format!("Layer {}", at + 1), text)
        })
        .collect();
    lines.extend(signs.iter().map(|sign| Line::new("Seen", sign.words())));
    lines.extend(worms.iter().map(|worms| {
        let [length, width, depth] =
            [worms.length_cm, worms.width_cm, worms.depth_cm].map(|side| shown(side, units));
        Line::new("Earthworms", format!("{} in {length} by {width} by {depth}", worms.worms.get()))
    }));
    lines
}

/// A slake test.
pub(super) fn slake(seen: &SlakeInput) -> Vec<Line> {
    let SlakeInput { crumbs } = seen;
    vec![Line::new("Crumbs", write_crumbs(crumbs))]
}

/// A working test.
pub(super) fn working(seen: &WorkingTest, units: UnitSystem) -> Vec<Line> {
    let WorkingTest { depth_cm, handful, days_since_rain, worked, limits } = seen;
    let mut lines = vec![Line::new("Handful", handful.words()), Line::new("From", shown(*depth_cm, units))];
    lines.extend(days_since_rain.map(|days| Line::new("Since a soaking rain", shown(days, units))));
    lines.extend(worked.map(|worked| Line::new("When worked", worked.words())));
    if let Some(limits) = limits {
        lines.push(Line::new("Plastic limit", format!("{} %", limits.plastic_limit_percent.get())));
        lines.extend(
            limits.liquid_limit_percent.map(|share| Line::new("Liquid limit", format!("{} %", share.get()))),
        );
        lines.extend(
            limits.water_percent.map(|share| Line::new("Water by mass", format!("{} %", share.get()))),
        );
    }
    lines
}
