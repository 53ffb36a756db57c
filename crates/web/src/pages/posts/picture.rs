//! The post in section, from its report.

use advice::posts::{Leads, PostReport};
use figures::Figure;
use figures::post::{Collar, Load, Look, PostLayer, PostSection, post_section};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;

pub(super) fn of(report: &PostReport, system: UnitSystem) -> Figure {
    let layers: Vec<PostLayer<'_>> = report
        .ground
        .layers
        .iter()
        .map(|layer| PostLayer {
            top_cm: layer.from_cm,
            bottom_cm: layer.to_cm,
            name: &layer.name,
            look: match (layer.counts, layer.leads) {
                (false, _) => Look::NotCounted,
                (true, Leads::Sand) => Look::Sandy,
                (true, Leads::Silt) => Look::Silty,
                (true, Leads::Clay) => Look::Clayey,
            },
        })
        .collect();
    let worst = report.worst();
    let mut loads = Vec::new();
    if let Some(worst) = worst {
        loads.push(Load::Sideways { kn: worst.push.kn, height_cm: 100.0 * worst.push.height_m });
        loads.extend(worst.push.up_kn.map(|kn| Load::Up { kn }));
    }
    post_section(&PostSection {
        id: "post-section",
        layers: &layers,
        post_cm: report.post.width_mm.get() / 10.0,
        depth_cm: 100.0 * report.depth_m,
        above_cm: 100.0 * report.above_m,
        collar: report.collar_m.map(|collar| Collar {
            diameter_cm: 100.0 * collar,
            bell_cm: report.bell_m.map(|bell| 100.0 * bell),
        }),
        needed_cm: worst.and_then(|worst| worst.for_90_m).map(|needed| 100.0 * needed),
        frost_cm: report.frost.as_ref().and_then(|frost| frost.depth_m).map(|depth| 100.0 * depth),
        water_table_cm: report.ground.water_cm,
        loads: &loads,
        system,
    })
}
