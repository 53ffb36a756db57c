//! Why so many, how deep, and when.

use book::model::{SamplingPurpose, UnitSystem};
use ground::kit::Provenance;

use super::super::{SamplingReport, SpreadFrom};
use super::{far, layer_between};
use crate::words;

/// Places nearer to each other than this tell nearly the same (judgement: a long step).
const STEP_M: f64 = 0.5;

pub(super) fn number(report: &SamplingReport, units: UnitSystem) -> Vec<String> {
    let (spread, numbers, ask) = (&report.spread, &report.numbers, &report.ask);
    let what = spread.property.words();
    let probe = ask.purpose == SamplingPurpose::Structure;
    let (single, many) = if probe { ("readings", "pushes") } else { ("cores", "cores") };
    let mut lines = vec![match spread.from {
        SpreadFrom::Own { results, year } => format!(
            "Your own {results} results of {year} say that single {single} of {what} differ by {:.0} % of their mean ({:.0} to {:.0} %: few results tell a spread roughly).",
            spread.taken_percent, spread.low_percent, spread.high_percent
        ),
        SpreadFrom::Table { provenance } => format!(
            "Single {single} of {what} within one field differ by {:.0} to {:.0} % of their mean ({}). A plot worked as one is evener, so the lower half of that is supposed here, {:.0} to {:.0} %, and {:.0} % is taken: our judgement, until you have four results of one year from this plot.",
            spread.low_percent,
            spread.published_high_percent.unwrap_or(spread.high_percent),
            provenance.words(),
            spread.low_percent,
            spread.high_percent,
            spread.taken_percent
        ),
    }];
    let said = |count: Option<u32>| {
        count.map_or_else(|| "more than anyone makes".to_owned(), |count| count.to_string())
    };
    let asked = numbers.asked.map_or_else(
        || format!("more {many} than anyone makes"),
        |count| match count {
            1 if probe => "1 push".to_owned(),
            1 => "1 core".to_owned(),
            count => format!("{count} {many}"),
        },
    );
    let widest = spread.published_high_percent.map_or_else(String::new, |high| {
        format!(", and {} at the {high:.0} % of the most uneven fields", said(numbers.asked_published))
    });
    lines.push(format!(
        "To have the mean within {:.0} % with {:.0} % confidence takes {asked}: {} if the plot is even, {} if it is not{widest}.",
        ask.error_percent,
        ask.confidence_percent,
        said(numbers.asked_low),
        said(numbers.asked_high)
    ));
    lines.push(format!(
        "{} places leave an error of {:.0} % if the plot is even, {:.0} % if it is not{}.",
        numbers.places,
        numbers.error_low_percent,
        numbers.error_high_percent,
        if probe { "" } else { "; the laboratory's own error comes on top" }
    ));
    lines.extend(crowded(report, units));
    if !ask.apart || probe {
        let of = if probe { "pushes of the probe" } else { "cores in a bag" };
        lines.push(format!(
            "Usual advice for this purpose: {} to {} {of}.",
            numbers.advice_low, numbers.advice_high
        ));
    }
    if numbers.falls_short {
        lines.push("That is fewer than the error asks. Bear a larger error, part the plot into evener pieces, or sample it year after year at the same points: a change shows sooner than a level.".to_owned());
    }
    if spread.skewed {
        lines.push(format!("A few high spots pull the mean of {what} up: take the number as the least."));
    }
    if numbers.bags < 2 && !probe {
        lines.push(
            "One mixed bag gives a mean but no measure of its error; two or three bags would show it."
                .to_owned(),
        );
    }
    lines
}

/// On a plot of a few steps many places are the same place.
fn crowded(report: &SamplingReport, units: UnitSystem) -> Option<String> {
    let places = f64::from(report.numbers.places);
    let apart_m = (report.area_m2 / places).sqrt();
    (places > 1.0 && apart_m < STEP_M).then(|| {
        format!(
            "On so small a plot the places lie some {} apart and tell nearly the same: 5 do, or one bag with ground like it.",
            far(apart_m, units)
        )
    })
}

pub(super) fn depth(report: &SamplingReport, units: UnitSystem) -> Vec<String> {
    let mut lines: Vec<String> = report
        .layers
        .iter()
        .map(|row| {
            let own = if row.provenance == Provenance::Read { "" } else { " (common practice)" };
            format!("{}: {}{own}.", layer_between(row.from_cm, row.to_cm, units), row.why)
        })
        .collect();
    if report.layers.len() > 1 {
        lines.push("Bag each layer apart, from the same holes.".to_owned());
    }
    lines.push("If your laboratory or the rates you follow name another depth, take that one: their tables were made for it. Always the same depth, or years cannot be compared.".to_owned());
    lines
}

pub(super) fn when(report: &SamplingReport) -> Vec<String> {
    let mut lines = vec![match report.ask.purpose {
        SamplingPurpose::Nitrate => "When the crop is about a foot high and before it is fed again; nitrate moves with every heavy rain, so an old result tells nothing.",
        SamplingPurpose::Salts => "At the end of the crop, before the beds are watered through, when salts stand highest.",
        SamplingPurpose::Texture => "Any time the ground is moist. Once is enough, unless soil is brought in or washed away.",
        SamplingPurpose::Structure => "A day or two after a good rain, at field moisture: dry ground is hard whatever its structure.",
        SamplingPurpose::Fertility => "In the same month every time; autumn leaves time for lime to work. Before lime, compost or fertilizer, or two months after, and not in wet ground.",
        SamplingPurpose::OrganicMatter => "In the same month every time, before compost or a cover is worked in.",
    }
    .to_owned()];
    match (report.last_on, report.due_on) {
        (Some(last), Some(due)) => lines.push(format!(
            "The last results for this are of {}; by the usual interval it is due again from {}.",
            words::day(last),
            words::day(due)
        )),
        (Some(last), None) => lines.push(format!("The last results for this are of {}.", words::day(last))),
        (None, _) => lines.push("No results of this plot for this are in the book yet.".to_owned()),
    }
    lines
}
