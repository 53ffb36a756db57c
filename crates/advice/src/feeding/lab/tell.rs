//! A printout put into sentences, for the page and the command line alike.

use book::model::UnitSystem;
use ground::fertility::analysis::soil_mass::G_M2_PER_LB_ACRE;

use super::{ExchangeRead, FigureRead, LabReading, RecommendedRead, ReportRead};
use crate::words;

/// What stands on top: which printout is read, by which scheme.
#[must_use]
pub fn head(reading: &LabReading, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    match &reading.report {
        None => lines.push(format!("No laboratory report is written down for {}.", reading.plot_name)),
        Some(report) => lines.push(source(report, units)),
    }
    lines.push(scheme(reading));
    lines
}

fn source(report: &ReportRead, units: UnitSystem) -> String {
    let mut line = format!("Report of {}, {}", report.from, words::day(report.on));
    if !report.bag.is_empty() {
        line.push_str(&format!(", bag {}", report.bag));
    }
    if let Some([from, to]) = report.sampled_cm {
        line.push_str(&format!(", sampled {} to {}", words::depth(from, units), words::depth(to, units)));
    }
    line.push('.');
    line
}

/// The scheme, or that none is chosen.
#[must_use]
pub fn scheme(reading: &LabReading) -> String {
    match (&reading.scheme, &reading.unknown_scheme) {
        (Some(scheme), _) => format!("Read by: {} ({}). {}", scheme.title, scheme.region, scheme.says),
        (None, Some(key)) => format!("The settings name a scheme that is not known here ({key}); figures have no class."),
        (None, None) => "No scheme is chosen for this farm, so figures have no class. Choose the one your region's advisers use, \
                         in the settings; schemes are never mixed."
            .to_owned(),
    }
}

/// A figure's class, or why there is none.
#[must_use]
pub fn class(figure: &FigureRead) -> String {
    match (&figure.class, &figure.no_class) {
        (Some(class), _) => {
            let mut line = format!("{}: {}", class.class, class.standing);
            if !class.limits.is_empty() {
                line.push_str(&format!(" ({})", class.limits));
            }
            if let Some(unsure) = class.unsure {
                line.push_str(&format!("; limits {unsure}"));
            }
            for said in &class.said {
                line.push_str(&format!("; {said}"));
            }
            line
        }
        (None, Some(why)) => format!("No class: {why}."),
        (None, None) => String::new(),
    }
}

/// Exchange capacity and base saturation.
#[must_use]
pub fn exchange(read: &ExchangeRead) -> Vec<String> {
    let mut lines = Vec::new();
    if !read.printed.is_empty() {
        lines.push(format!("On the report: {}.", read.printed.join(", ")));
    }
    match (&read.summed, &read.not_summed) {
        (Some(sum), _) => {
            let validity = if read.holds { "" } else { " (not valid)" };
            lines.push(format!(
                "By summation{validity}: capacity {:.1} meq/100 g, of which bases hold {:.0} %: calcium {:.0} %, magnesium \
                 {:.0} %, potassium {:.1} %, sodium {:.1} %; acidity {:.0} %.",
                sum.cec_meq_100_g,
                sum.base_saturation_percent,
                sum.calcium_percent,
                sum.magnesium_percent,
                sum.potassium_percent,
                sum.sodium_percent,
                100.0 - sum.base_saturation_percent
            ));
        }
        (None, Some(why)) => lines.push(format!("Not summed: {why}.")),
        (None, None) => {}
    }
    lines.extend(read.caveats.iter().cloned());
    lines
}

/// Nitrate in the sampled layer.
#[must_use]
pub fn nitrate(report: &ReportRead, units: UnitSystem) -> Option<String> {
    let kg_ha = report.nitrate_kg_ha?;
    let amount = match units {
        UnitSystem::UsCustomary => format!("{:.0} lb of nitrogen an acre", 0.1 * kg_ha / G_M2_PER_LB_ACRE),
        UnitSystem::Metric => format!("{kg_ha:.0} kg of nitrogen a hectare"),
    };
    Some(format!("Nitrate in the sampled layer on that day: {amount}. It moves with water, so it ages fast."))
}

/// One line of the laboratory's own recommendation.
#[must_use]
pub fn recommended(line: &RecommendedRead) -> String {
    let crop = if line.for_crop.is_empty() { String::new() } else { format!(" for {}", line.for_crop) };
    let carried =
        if line.carried.is_empty() { String::new() } else { format!(" ({})", line.carried.join(", ")) };
    format!("{}{crop}: {}{carried}", words::capital(line.what), line.printed)
}
