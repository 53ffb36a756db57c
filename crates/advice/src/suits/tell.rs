//! What suits where, in sentences: for pages and the command line alike.

use book::model::UnitSystem;
use ground::siting::{SiteNeeds, Verdict};

use super::detail::day_of_year;
use super::{BestPlace, Cell, OnPlot, PlotPlace, Standing, SuitsTable};
use crate::words;

/// "suits with work: acidity, wetness", for a cell of the table.
#[must_use]
pub fn in_short(cell: &Cell) -> String {
    let what = cell.verdict_words;
    if cell.verdict == Verdict::Suits || cell.in_the_way_words.is_empty() {
        what.to_owned()
    } else {
        format!("{what}: {}", cell.in_the_way_words.iter().take(3).copied().collect::<Vec<_>>().join(", "))
    }
}

/// "likely (86 % of what the ground may be)": what is not known holds the word back, not the odds.
#[must_use]
pub fn how_surely(cell: &Cell) -> String {
    format!("{} ({} of what the ground may be)", cell.firmness.words(), words::odds(cell.odds))
}

/// One sentence on the farm.
#[must_use]
pub fn lead(table: &SuitsTable) -> String {
    if table.plots.is_empty() {
        return "No plot is written down yet, or nothing of their ground holds water.".to_owned();
    }
    let grown: Vec<_> = table.rows.iter().filter(|row| row.crop.grown).collect();
    let misplaced: Vec<&str> = grown
        .iter()
        .filter(|row| !row.cells.iter().any(|cell| cell.verdict == Verdict::Suits))
        .map(|row| row.crop.name.as_str())
        .collect();
    let counted = format!(
        "{} crops against {} {}",
        table.rows.len(),
        table.plots.len(),
        if table.plots.len() == 1 { "plot" } else { "plots" }
    );
    match (grown.len(), misplaced.as_slice()) {
        (0, _) => format!(
            "{counted}. No planting is written down yet, so they stand in the order of the catalogue."
        ),
        (_, []) => format!("{counted}. Everything that the farm grows has a plot that suits it."),
        (_, names) => {
            format!("{counted}. Of what the farm grows, no plot suits {} without work.", names.join("; "))
        }
    }
}

/// One sentence on where a crop goes best.
#[must_use]
pub fn best_lead(best: &BestPlace) -> String {
    let name = words::capital(&best.needs.name);
    match best.places.first() {
        None => "No plot is written down yet.".to_owned(),
        Some(first) => {
            let surely = how_surely(&first.cell);
            match first.cell.verdict {
                Verdict::Suits => {
                    format!("{name} goes best on {}, which suits it: {surely}.", first.cell.plot_name)
                }
                Verdict::WithWork => format!(
                    "No plot suits {} as it is; {} does with work: {surely}.",
                    best.needs.name, first.cell.plot_name
                ),
                Verdict::DoesNot => format!(
                    "No plot suits {}; {} is the least unfit: {surely}.",
                    best.needs.name, first.cell.plot_name
                ),
            }
        }
    }
}

/// One sentence on a plot.
#[must_use]
pub fn plot_lead(on: &OnPlot) -> String {
    let count = |verdict: Verdict| on.crops.iter().filter(|one| one.cell.verdict == verdict).count();
    format!(
        "Of {} crops {} suit {}, {} suit with work, {} do not.",
        on.crops.len(),
        count(Verdict::Suits),
        on.name,
        count(Verdict::WithWork),
        count(Verdict::DoesNot)
    )
}

/// What a crop asks for, in a line each.
#[must_use]
pub fn asks_for(needs: &SiteNeeds, units: UnitSystem) -> Vec<String> {
    let depth = |cm: f64| words::depth(cm, units);
    let warm = |celsius: f64| words::temperature(celsius, units);
    let bands = |list: &[ground::covers::kinds::Band]| {
        list.iter().map(|band| band.words()).collect::<Vec<_>>().join(", ")
    };
    let mut lines = vec![
        format!(
            "Ground: {} of depth at least, {} for full-grown roots, the top {} of it in air all year.",
            depth(needs.needed_root_cm),
            depth(needs.root_cm),
            depth(needs.aired_cm)
        ),
        format!(
            "Texture: best {}{}{} (common practice, no source).",
            bands(&needs.best_in),
            if needs.poor_in.is_empty() {
                String::new()
            } else {
                format!("; poor in {}", bands(&needs.poor_in))
            },
            if needs.fails_in.is_empty() {
                String::new()
            } else {
                format!("; fails in {}", bands(&needs.fails_in))
            }
        ),
        format!(
            "pH {} to {} ({}).",
            words::short(needs.ph_low),
            words::short(needs.ph_high),
            needs.ph_provenance.words()
        ),
        format!(
            "Salts: it yields less from {} dS/m on{}.",
            words::short(needs.salts.usual.threshold_ds_m),
            if needs.salts_own { "" } else { " (by its rating, or as most vegetables)" }
        ),
        format!(
            "Warmth: monthly means of {} to {}, best {} to {}; {} ({}).",
            warm(needs.air.min_c),
            warm(needs.air.max_c),
            warm(needs.air.best_low_c),
            warm(needs.air.best_high_c),
            needs.frost.words(),
            needs.air_provenance.words()
        ),
    ];
    if let Some(soil) = needs.soil {
        lines.push(format!(
            "Its seed comes up in soil of {} to {}, best {} to {} ({}).",
            warm(soil.min_c),
            warm(soil.max_c),
            warm(soil.best_low_c),
            warm(soil.best_high_c),
            needs.soil_provenance.words()
        ));
    }
    if let (Some(season), Some(picking)) = (needs.season_d, needs.picking_d) {
        lines.push(format!("Time: about {picking:.0} days to the first picking, {season:.0} to the last."));
    }
    lines
}

/// The part of the year a place gives, where it is known.
#[must_use]
pub fn season_line(place: &PlotPlace) -> Option<String> {
    let days = place.year.frost_free_d()?;
    let from = place.year.last_frost?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a day of the year")]
    let from = from.clamp(1.0, 365.0) as u16;
    Some(format!(
        "{days:.0} days between the frosts{}; the last frost of spring is about {}.",
        if place.year.covered { ", those that the cover gains counted" } else { "" },
        day_of_year(from)
    ))
}

/// A standing as lines for the command line.
#[must_use]
pub fn lines(one: &Standing) -> Vec<String> {
    let mut lines: Vec<String> = one.speaks_for.iter().map(|line| format!("For: {line}")).collect();
    lines.extend(one.speaks_against.iter().map(|against| format!("Against: {}", against.text)));
    lines.extend(one.measures.iter().map(|measure| format!("It would take: {}", measure.text)));
    lines.extend(one.settles.iter().map(|settle| format!("Not known: {}", settle.text)));
    lines
}
