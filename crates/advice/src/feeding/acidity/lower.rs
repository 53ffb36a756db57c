//! Lowering the pH: sulfur by what the ground may be, or the plain statement that it is not practical.

use ground::fertility::acidity::sulfur::{
    FERROUS_SULFATE_PER_SULFUR, FREE_LIME_INSTEAD, SulfurTable, rate_kg_m2, sulfur_passes,
};
use ground::kit::Spread;
use ground::water::salts::TextureGroup;
use serde::Serialize;

use super::crops::TargetTold;
use super::reading::AcidTest;
use crate::plot_report::PlotReport;

/// pH that ordinary vegetables are content with; lowering it further for them does nothing.
const CONTENT_PH: f64 = 6.5;

/// What to do about ground that is too sweet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Lower {
    /// Elemental sulfur; nothing where it is not practical or no table covers it.
    pub sulfur: Option<SulfurTold>,
    /// Why there is none, or what to know of it.
    pub says: String,
}

/// Sulfur over what the ground may be.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SulfurTold {
    /// The pH it aims at.
    pub target_ph: f64,
    /// Elemental sulfur, kg/m².
    pub sulfur_kg_m2: Spread,
    /// Ferrous sulfate that does the same, kg/m², for the median.
    pub ferrous_sulfate_kg_m2: f64,
    /// In how many passes the median goes on.
    pub passes: u32,
    /// Which table.
    pub table: SulfurTable,
}

pub(super) fn lower(
    report: &PlotReport,
    test: &AcidTest,
    target: &TargetTold,
    depth_cm: f64,
) -> Option<Lower> {
    let ph = test.ph_water?;
    if test.free_lime {
        return Some(Lower { sulfur: None, says: FREE_LIME_INSTEAD.to_owned() });
    }
    // Down to where the tenderest crop is content, no further: vegetables are at 6.5.
    let aim = if target.at_most_ph >= CONTENT_PH {
        target.target_ph.max(CONTENT_PH).min(target.at_most_ph)
    } else {
        target.target_ph.min(target.at_most_ph)
    };
    let table = SulfurTable::for_target(aim);
    let rate = |group: TextureGroup| rate_kg_m2(table, ph, aim, group, depth_cm);
    if rate(TextureGroup::Medium).is_none() {
        return Some(Lower {
            sulfur: None,
            says: format!(
                "No table goes from pH {} down to {}: grow the acid-loving crop elsewhere, or in beds of peat and bark.",
                ground::kit::quantity::number(ph),
                ground::kit::quantity::number(aim)
            ),
        });
    }
    if !report.make_up_known {
        return Some(Lower {
            sulfur: None,
            says: "How much sulfur goes by texture: clay takes four times what sand does. Find the texture first."
                .to_owned(),
        });
    }
    let values: Vec<f64> = report
        .ensemble
        .draws
        .iter()
        .map(|draw| rate(TextureGroup::of(draw.class)).unwrap_or(f64::NAN))
        .collect();
    let sulfur_kg_m2 = Spread::of(&values, &report.ensemble.weights)?;
    let hardly = table == SulfurTable::Blueberry && ph > 6.0;
    Some(Lower {
        sulfur: Some(SulfurTold {
            target_ph: aim,
            sulfur_kg_m2,
            ferrous_sulfate_kg_m2: FERROUS_SULFATE_PER_SULFUR * sulfur_kg_m2.median,
            passes: sulfur_passes(sulfur_kg_m2.median),
            table,
        }),
        says: if hardly {
            "Above pH 6 lowering it for acid-loving crops is hardly practicable without much peat or bark."
                .to_owned()
        } else {
            "Bacteria make the acid: it takes weeks to a year, in moist ground above 13 °C. Test again after 3 to 6 months and before each pass."
                .to_owned()
        },
    })
}
