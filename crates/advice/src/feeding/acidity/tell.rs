//! The acidity of a plot in sentences, in the units of the farm, for a page and for the command line alike.

use book::model::UnitSystem;
use ground::fertility::acidity::LimeMethod;
use ground::kit::quantity::number;
use ground::kit::units::{Dimension, show};

use super::{AcidityReport, Chosen, LimeSpread, Standing};
use crate::words;

const LB_PER_KG: f64 = 1.0 / 0.453_592_37;
const M2_PER_100_FT2: f64 = 9.290_304;

fn us(units: UnitSystem) -> bool {
    units == UnitSystem::UsCustomary
}

/// An amount over an area: "4.6 lb/100 ft²", "225 g/m²".
#[must_use]
pub fn per_area(kg_m2: f64, units: UnitSystem) -> String {
    if us(units) {
        format!("{} lb/100 ft²", words::short(kg_m2 * LB_PER_KG * M2_PER_100_FT2))
    } else {
        format!("{} g/m²", words::short(1000.0 * kg_m2))
    }
}

/// A need with its range: "4.6 (90 %: 3.2 to 6) lb/100 ft²".
#[must_use]
pub fn need(need: &LimeSpread, units: UnitSystem) -> String {
    if us(units) {
        format!("{} lb/100 ft²", words::range(need.carbonate_kg_m2, LB_PER_KG * M2_PER_100_FT2))
    } else {
        format!("{} g/m²", words::range(need.carbonate_kg_m2, 1000.0))
    }
}

/// What is carried: "12 lb 4 oz", "5.6 kg".
#[must_use]
pub fn carried(kg: f64, units: UnitSystem) -> String {
    show(kg, Dimension::Load, units)
}

/// The sentences of each part.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sentences {
    /// The one that answers the page's question.
    pub lead: String,
    /// What was measured.
    pub measured: Vec<String>,
    /// What the crops ask for.
    pub target: Vec<String>,
    /// The lime need and its method.
    pub lime: Vec<String>,
    /// What to spread, bed by bed, and when.
    pub to_do: Vec<String>,
    /// Lowering it.
    pub lower: Vec<String>,
    /// Sodium and gypsum.
    pub sodium: Vec<String>,
}

/// All of it.
#[must_use]
pub fn sentences(report: &AcidityReport, units: UnitSystem) -> Sentences {
    Sentences {
        lead: lead(report, units),
        measured: measured(report),
        target: target(report),
        lime: lime(report, units),
        to_do: to_do(report, units),
        lower: lower(report, units),
        sodium: sodium(report, units),
    }
}

fn lead(report: &AcidityReport, units: UnitSystem) -> String {
    let aim = number(report.target.target_ph);
    let ph = report.test.as_ref().and_then(|test| test.ph_water).map_or(String::new(), number);
    match report.standing {
        Standing::NotTested => "No soil test here tells the pH. Have it measured before you lime: too much does more harm than too little.".to_owned(),
        Standing::SaltOnly => "Only a pH in salt was measured, which no lime method reads. It is about half a unit below the pH in water on sour ground: ask the laboratory for that.".to_owned(),
        Standing::Fits => format!("At pH {ph} this ground suits what grows here; it needs no lime."),
        Standing::TooSweet => format!(
            "At pH {ph} this ground is above the {} that its most acid-loving crop bears. Spread no lime.",
            number(report.target.at_most_ph)
        ),
        Standing::FreeLime => format!(
            "At pH {ph} this ground holds free lime, above the {} that its most acid-loving crop bears. Spread no lime.",
            number(report.target.at_most_ph)
        ),
        Standing::TooAcid => match (&report.need, &report.chosen) {
            (Some(need), Chosen::Method(method)) => format!(
                "At pH {ph} this ground is too sour: its crops ask for {aim}. By {} it needs {} of pure calcium carbonate, {} deep.",
                method.words(),
                self::need(need, units),
                words::depth(report.depth_cm, units)
            ),
            (None, Chosen::Method(method)) => format!(
                "At pH {ph} this ground is too sour: its crops ask for {aim}. The farm's lime method ({}) gives no need for this report; see the others below.",
                method.words()
            ),
            _ => format!(
                "At pH {ph} this ground is too sour: its crops ask for {aim}. How much lime depends on the method: choose your region's in the settings. None is followed until you do."
            ),
        },
    }
}

fn measured(report: &AcidityReport) -> Vec<String> {
    let Some(test) = &report.test else { return Vec::new() };
    let from = if test.laboratory.is_empty() { String::new() } else { format!(" by {}", test.laboratory) };
    let mut parts: Vec<String> = Vec::new();
    parts.extend(test.ph_water.map(|ph| format!("pH in water {}", number(ph))));
    parts.extend(test.ph_salt.map(|ph| format!("pH in salt {}", number(ph))));
    parts.extend(test.buffers.iter().cloned());
    parts.extend(
        test.figures.acidity_meq_100_g.map(|acid| format!("exchangeable acidity {} meq/100 g", number(acid))),
    );
    parts.extend(
        test.figures.aluminium_morgan_ppm.map(|ppm| format!("reactive aluminum {} ppm", number(ppm))),
    );
    let bags = if test.bags > 1 { format!(", the mean of {} bags", test.bags) } else { String::new() };
    let mut lines = vec![format!(
        "Tested {}{from}{bags}: {}.",
        words::day(test.on),
        if parts.is_empty() { "nothing of acidity".to_owned() } else { parts.join(", ") }
    )];
    if !test.lime_recommended.is_empty() {
        lines.push(format!(
            "The laboratory itself recommends lime: {}. Its own rate comes before ours.",
            test.lime_recommended.join("; ")
        ));
    }
    lines
}

fn target(report: &AcidityReport) -> Vec<String> {
    let target = &report.target;
    let mut lines = Vec::new();
    match (&target.demanding, &target.sensitive) {
        (Some(demanding), Some(sensitive)) if demanding != sensitive => lines.push(format!(
            "pH to reach: {}. The most demanding crop of the rotation is {demanding}; the one that bears least lime is {sensitive}, up to {}.",
            number(target.target_ph),
            number(target.at_most_ph)
        )),
        (Some(only), _) => lines.push(format!(
            "pH to reach: {}, for {only}, which bears up to {}.",
            number(target.target_ph),
            number(target.at_most_ph)
        )),
        _ => lines.push(format!(
            "pH to reach: {}. No planting of the last three years is recorded here, so what suits most vegetables is taken.",
            number(target.target_ph)
        )),
    }
    if target.apart {
        lines.push("No pH suits them all: keep the acid-loving crop on ground of its own.".to_owned());
    }
    if target.organic_soil {
        lines.push("Muck and peat are kept about 0.7 lower than mineral ground.".to_owned());
    }
    if !target.unknown.is_empty() {
        lines.push(format!("No range of pH is known for {}.", target.unknown.join(", ")));
    }
    lines
}

fn lime(report: &AcidityReport, units: UnitSystem) -> Vec<String> {
    if report.standing != Standing::TooAcid {
        return Vec::new();
    }
    let mut lines = Vec::new();
    match &report.chosen {
        Chosen::None => lines.push(
            "The methods that this report permits stand side by side; none of them is followed until the farm has chosen one. Take your own region's: no mean of them is anyone's advice.".to_owned(),
        ),
        Chosen::Unknown(key) => lines.push(format!(
            "The settings name a lime method \u{201c}{key}\u{201d} that is not known here. Choose again: {}.",
            LimeMethod::ALL.map(LimeMethod::key).join(", ")
        )),
        Chosen::Method(_) => {}
    }
    for line in report.methods.iter().filter(|line| line.need.is_some() || line.chosen) {
        let mark = if line.chosen { ", the farm's method" } else { "" };
        match (&line.need, &line.why_not) {
            (Some(need), _) => lines.push(format!(
                "{}{mark}: {} to pH {} ({}).",
                line.words,
                self::need(need, units),
                line.target_ph.map_or(String::new(), number),
                line.provenance_words
            )),
            (None, Some(why)) => lines.push(format!("{}{mark}: {why}.", line.words)),
            (None, None) => {}
        }
    }
    lines
}

/// What to carry to each bed: name, then the amount.
#[must_use]
pub fn bed_lines(report: &AcidityReport, product: usize, units: UnitSystem) -> Vec<String> {
    let Some(line) = report.products.get(product) else { return Vec::new() };
    report
        .beds
        .iter()
        .zip(&line.beds_kg)
        .map(|(bed, kg)| {
            let each = if bed.count > 1 { format!("each of {}", bed.name) } else { bed.name.clone() };
            if *kg <= 0.0 {
                return format!("{each}: none, the lime spread before has yet to work");
            }
            let taken = if bed.credit_kg_m2 > 0.0 { ", lime spread before taken off" } else { "" };
            format!("{each}: {}{taken}", carried(*kg, units))
        })
        .collect()
}

fn to_do(report: &AcidityReport, units: UnitSystem) -> Vec<String> {
    if report.need.is_none() {
        return Vec::new();
    }
    let mut lines = Vec::new();
    for (place, product) in report.products.iter().enumerate() {
        let mut said = format!(
            "{} ({} % of it works): {}; {} to be enough in four cases of five.",
            product.name,
            words::short(product.works_percent),
            per_area(product.median_kg_m2, units),
            per_area(product.p80_kg_m2, units)
        );
        if product.split.parts > 1 {
            said.push_str(&format!(
                " Put it on in {} parts, {} months apart, {} first.",
                product.split.parts,
                product.split.months_between,
                per_area(product.split.first_kg_m2, units)
            ));
        }
        if product.split.half_before_half_after {
            said.push_str(" Spread half before and half after the ground is turned.");
        }
        said.push_str(&format!(" {}.", words::capital(&bed_lines(report, place, units).join("; "))));
        for note in &product.notes {
            said.push(' ');
            said.push_str(note);
        }
        lines.push(said);
    }
    lines.extend(report.kind.map(|kind| format!("Kind of lime: {kind}.")));
    if let Some(season) = &report.season {
        lines.push(format!(
            "When: {} to {} ({}). Work it in {} deep and test again from {} on, not before.",
            words::day(season.from),
            words::day(season.to),
            season.why,
            words::depth(report.depth_cm, units),
            words::day(season.retest_on)
        ));
    }
    lines
}

fn lower(report: &AcidityReport, units: UnitSystem) -> Vec<String> {
    let Some(lower) = &report.lower else { return Vec::new() };
    let mut lines = Vec::new();
    if let Some(sulfur) = &lower.sulfur {
        let spread = if us(units) {
            format!("{} lb/100 ft²", words::range(sulfur.sulfur_kg_m2, LB_PER_KG * M2_PER_100_FT2))
        } else {
            format!("{} g/m²", words::range(sulfur.sulfur_kg_m2, 1000.0))
        };
        lines.push(format!(
            "Elemental sulfur down to pH {}: {spread} over what this ground may be, in {} {}. Ferrous sulfate does the same at eight times the weight ({}), and quicker.",
            number(sulfur.target_ph),
            sulfur.passes,
            if sulfur.passes == 1 { "pass" } else { "passes" },
            per_area(sulfur.ferrous_sulfate_kg_m2, units)
        ));
    }
    lines.push(lower.says.clone());
    lines
}

fn sodium(report: &AcidityReport, units: UnitSystem) -> Vec<String> {
    let Some(sodium) = &report.sodium else { return Vec::new() };
    let mut lines = vec![format!(
        "Exchangeable sodium {} %, from {}: {}.",
        words::short(sodium.sodium_percent),
        sodium.from,
        sodium.standing.words()
    )];
    lines.extend(sodium.gypsum_kg_m2.map(|kg| {
        format!("Pure gypsum for the top {}: {}.", words::depth(15.0, units), per_area(kg, units))
    }));
    lines.push(sodium.says.clone());
    lines
}
