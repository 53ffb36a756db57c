//! What a plot was given and what it gave, year by year, beside its phosphorus tests: compost that feeds
//! nitrogen builds up phosphorus, and it should be seen coming.

use book::Snapshot;
use book::model::{EntryId, PlantedCrop, UnitSystem};
use ground::fertility::analysis::report::{Analyte, ReportUnit};
use ground::fertility::needs::forecast::{P2O5_KG_HA_PER_PPM, years_to_draw_down, years_until};
use ground::fertility::needs::removal::{REMOVAL_SPREAD, content};
use ground::fertility::schemes::{ClassFound, Scheme, Standing, interpret_in};
use ground::kit::Bounded;
use jiff::civil::Date;
use serde::Serialize;

use super::contents::contents;
use super::needs::crop_names::CropNames;
use super::needs::scheme_of;
use super::{mass, rate};
use crate::lab_rounds::lab_rounds;
use crate::words;

/// Years that the forecast takes its yearly gain from.
const LOOKED_BACK: usize = 3;

/// Nitrogen, phosphate and potash.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct Npk {
    /// Nitrogen, all of it.
    pub n_kg: f64,
    /// Phosphate.
    pub p2o5_kg: f64,
    /// Potash.
    pub k2o_kg: f64,
}

impl Npk {
    fn add(&mut self, other: Self) {
        self.n_kg += other.n_kg;
        self.p2o5_kg += other.p2o5_kg;
        self.k2o_kg += other.k2o_kg;
    }

    fn less(self, other: Self) -> Self {
        Self {
            n_kg: self.n_kg - other.n_kg,
            p2o5_kg: self.p2o5_kg - other.p2o5_kg,
            k2o_kg: self.k2o_kg - other.k2o_kg,
        }
    }
}

/// One year.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct YearBalance {
    /// The year.
    pub year: i16,
    /// Spread on the plot.
    pub given: Npk,
    /// Carried off in harvests.
    pub taken: Npk,
    /// Given less taken.
    pub net: Npk,
    /// Lines of what was given and taken.
    pub lines: Vec<BalanceLine>,
    /// What could not be counted, and why.
    pub uncounted: Vec<String>,
}

/// One thing given or taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BalanceLine {
    /// Taken off rather than given?
    pub taken: bool,
    /// The day.
    pub on: Date,
    /// What.
    pub what: String,
    /// How much of it.
    pub kg: f64,
    /// What was in it.
    pub holds: Npk,
}

/// A phosphorus test.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhosphorusTested {
    /// The record.
    pub record: EntryId,
    /// The day.
    pub on: Date,
    /// As printed.
    pub printed: String,
    /// In ppm of the extractant, where the scheme has a class.
    pub ppm: Option<f64>,
    /// Its class.
    pub class: Option<String>,
    /// How it stands.
    pub standing: Option<Standing>,
}

/// Where phosphorus goes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhosphorusAhead {
    /// Gain of a year over the last years, kg P2O5 on a hectare.
    pub gain_kg_ha: f64,
    /// Years it was taken from.
    pub over_years: usize,
    /// The latest test, ppm.
    pub test_ppm: f64,
    /// Where the optimum ends, ppm.
    pub optimum_up_to_ppm: f64,
    /// Years until it passes the optimum: soonest, likeliest, latest; absent where it does not rise.
    pub years_until_above: Option<[f64; 3]>,
    /// Years until it is back at the optimum; absent where it does not fall.
    pub years_to_draw_down: Option<[f64; 3]>,
}

/// The balance of a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Balance {
    /// The plot.
    pub plot: EntryId,
    /// Its name.
    pub plot_name: String,
    /// Area that it is told over: its beds, or the plot where it has none.
    pub area_m2: f64,
    /// Years with anything in them, earliest first.
    pub years: Vec<YearBalance>,
    /// All of them together.
    pub total: Npk,
    /// Phosphorus tests, earliest first.
    pub tests: Vec<PhosphorusTested>,
    /// Where phosphorus goes.
    pub ahead: Option<PhosphorusAhead>,
    /// Where phosphorus goes, or what is wanted, in a sentence.
    pub headline: String,
    /// The rest in sentences.
    pub lines: Vec<String>,
}

/// The balance of a plot; `None` where the book has no such plot.
#[must_use]
pub fn balance(snapshot: &Snapshot, plot: EntryId) -> Option<Balance> {
    let held = snapshot.plot(plot)?;
    let beds: f64 = snapshot.beds_of(plot).map(|bed| bed.body.area_m2()).sum();
    let area_m2 = if beds > 0.0 { beds } else { held.body.shape.area_m2() };
    let mut years: Vec<i16> = snapshot.applications_on(plot).iter().map(|one| one.body.on.year()).collect();
    years.extend(
        snapshot
            .harvests
            .iter()
            .filter(|harvest| {
                let planting = snapshot.planting(harvest.body.planting);
                planting.is_some_and(|planting| snapshot.plot_of_bed(planting.body.bed) == Some(plot))
            })
            .map(|harvest| harvest.body.on.year()),
    );
    years.sort_unstable();
    years.dedup();
    let years: Vec<YearBalance> = years.into_iter().map(|year| of_year(snapshot, plot, year)).collect();
    let mut total = Npk::default();
    for year in &years {
        total.add(year.net);
    }
    let scheme = scheme_of(snapshot);
    let (tests, last) = tests(snapshot, plot, scheme);
    let ahead = last.and_then(|class| ahead(&years, &class, area_m2));
    let mut balance = Balance {
        plot,
        plot_name: held.body.name.clone(),
        area_m2,
        years,
        total,
        tests,
        ahead,
        headline: String::new(),
        lines: Vec::new(),
    };
    balance.headline = headline(&balance);
    balance.lines = tell(&balance, snapshot.farm.body.units);
    Some(balance)
}

fn of_year(snapshot: &Snapshot, plot: EntryId, year: i16) -> YearBalance {
    let (mut given, mut taken) = (Npk::default(), Npk::default());
    let (mut lines, mut uncounted) = (Vec::new(), Vec::new());
    for one in snapshot.spread_on_plot(plot, year) {
        let Some(holds) = contents(snapshot, &one.material) else {
            uncounted.push(format!(
                "{} spread on {}: nothing is known of what it holds; write its analysis on the shelf",
                name_of(snapshot, &one.material),
                one.on
            ));
            continue;
        };
        let npk = Npk { n_kg: one.kg * holds.n, p2o5_kg: one.kg * holds.p2o5, k2o_kg: one.kg * holds.k2o };
        given.add(npk);
        lines.push(BalanceLine { taken: false, on: one.on, what: holds.name, kg: one.kg, holds: npk });
    }
    for (harvest, planting, bed) in snapshot.harvests_on(plot, year) {
        let key = match &planting.body.crop {
            PlantedCrop::Catalogue(key) => Some(key.clone()),
            PlantedCrop::FarmCrop(id) => snapshot.crop(*id).and_then(|crop| crop.body.key.clone()),
        };
        let row = key.as_deref().and_then(CropNames::of).and_then(CropNames::removal);
        let what = key
            .as_deref()
            .and_then(|key| ground::climate::crops::find(key).ok())
            .map_or_else(|| format!("harvest from {}", bed.body.name), |crop| crop.name.clone());
        let kg = harvest.body.kg.get();
        let Some(holds) = row.and_then(content) else {
            uncounted.push(format!("{what} of {}: what it holds is not in the table", harvest.body.on));
            continue;
        };
        let t = kg / 1000.0;
        let npk = Npk { n_kg: holds.n_g_kg * t, p2o5_kg: holds.p2o5_g_kg * t, k2o_kg: holds.k2o_g_kg * t };
        taken.add(npk);
        lines.push(BalanceLine { taken: true, on: harvest.body.on, what, kg, holds: npk });
    }
    lines.sort_by_key(|line| line.on);
    YearBalance { year, given, taken, net: given.less(taken), lines, uncounted }
}

fn name_of(snapshot: &Snapshot, material: &book::model::SpreadMaterial) -> String {
    match material {
        book::model::SpreadMaterial::Shelf(id) => {
            snapshot.material(*id).map_or_else(|| "a material".to_owned(), |held| held.body.name.clone())
        }
        book::model::SpreadMaterial::Catalogue(key) => key.replace(['_', '-'], " "),
    }
}

/// ppm in one of a scheme's unit.
fn ppm_in(unit: ReportUnit) -> f64 {
    if unit == ReportUnit::LbPerAcre { 0.5 } else { 1.0 }
}

fn tests(
    snapshot: &Snapshot,
    plot: EntryId,
    scheme: Option<Scheme>,
) -> (Vec<PhosphorusTested>, Option<ClassFound>) {
    let mut found = Vec::new();
    let mut last = None;
    for round in lab_rounds(snapshot, plot) {
        let (held, report) = (round.held, &*round.report);
        let classed =
            |figure| scheme.and_then(|scheme| interpret_in(scheme, report, figure).class().cloned());
        let mut figures: Vec<_> =
            report.of(Analyte::Phosphorus).map(|figure| (figure, classed(figure))).collect();
        // One figure a report: the one that the scheme has a class for.
        figures.sort_by_key(|(_, class)| class.is_none());
        let Some((figure, class)) = figures.into_iter().next() else { continue };
        found.push(PhosphorusTested {
            record: held.id,
            on: held.body.seen_on,
            printed: format!("{} {}{}", figure.amount.words(), figure.unit.symbol(), round.of_bags()),
            ppm: class.as_ref().map(|class| class.value * ppm_in(class.unit)),
            class: class.as_ref().map(|class| class.class.clone()),
            standing: class.as_ref().map(|class| class.standing),
        });
        last = class.or(last);
    }
    (found, last)
}

fn ahead(years: &[YearBalance], class: &ClassFound, area_m2: f64) -> Option<PhosphorusAhead> {
    let recent = &years[years.len().saturating_sub(LOOKED_BACK)..];
    if recent.is_empty() {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "a few years")]
    let count = recent.len() as f64;
    let gain_kg_ha = recent.iter().map(|year| year.net.p2o5_kg).sum::<f64>() / count / area_m2 * 10_000.0;
    let scale = ppm_in(class.unit);
    let (test_ppm, end) = (class.value * scale, class.optimum_up_to.or(class.optimum_from)? * scale);
    Some(PhosphorusAhead {
        gain_kg_ha,
        over_years: recent.len(),
        test_ppm,
        optimum_up_to_ppm: end,
        years_until_above: years_until(test_ppm, end, gain_kg_ha),
        years_to_draw_down: years_to_draw_down(test_ppm, end, gain_kg_ha),
    })
}

fn headline(balance: &Balance) -> String {
    match &balance.ahead {
        Some(ahead) => ahead_words(ahead),
        None if balance.years.is_empty() => {
            "Nothing is written down yet: record what you spread and what you carry \
             off, and the balance keeps itself."
                .to_owned()
        }
        None => {
            "A laboratory report with phosphorus, read by the farm's scheme, tells where phosphorus is going."
                .to_owned()
        }
    }
}

fn tell(balance: &Balance, units: UnitSystem) -> Vec<String> {
    let mut lines = Vec::new();
    let Some(last) = balance.years.last() else { return lines };
    let net = last.net;
    lines.push(format!(
        "In {} the plot {} {} of phosphate and {} {} of potash ({} and {}).",
        last.year,
        if net.p2o5_kg >= 0.0 { "gained" } else { "lost" },
        mass(net.p2o5_kg.abs(), units),
        if net.k2o_kg >= 0.0 { "gained" } else { "lost" },
        mass(net.k2o_kg.abs(), units),
        rate(1000.0 * net.p2o5_kg / balance.area_m2, units),
        rate(1000.0 * net.k2o_kg / balance.area_m2, units),
    ));
    if balance.years.len() > 1 {
        lines.push(format!(
            "Over {} years it gained {} of phosphate more than was carried off.",
            balance.years.len(),
            mass(balance.total.p2o5_kg, units)
        ));
    }
    if balance.ahead.is_some() {
        lines.push(format!(
            "Counted with {} kg/ha of phosphate for 1 ppm ({} to {}): recalled from a build-up rule of field crops, half to \
             double of it our judgement. A repeat test settles it.",
            P2O5_KG_HA_PER_PPM[1], P2O5_KG_HA_PER_PPM[0], P2O5_KG_HA_PER_PPM[2]
        ));
    }
    lines.push(format!("What harvests hold is known to {:.0} % either way.", 100.0 * REMOVAL_SPREAD));
    lines
}

fn ahead_words(ahead: &PhosphorusAhead) -> String {
    let span = |[soon, likely, late]: [f64; 3]| {
        format!("about {} years ({} to {})", words::short(likely), words::short(soon), words::short(late))
    };
    if ahead.test_ppm >= ahead.optimum_up_to_ppm {
        return match ahead.years_to_draw_down {
            Some([soon, ..]) if soon <= 0.0 => "Phosphorus stands at the end of the optimum.".to_owned(),
            Some(years) => format!(
                "Phosphorus stands above the optimum; taking more than is given, it is back in {}.",
                span(years)
            ),
            None => "Phosphorus stands above the optimum and still rises: feed nitrogen from something that brings no \
                     phosphorus (feather or blood meal, legumes), and leave compost and manure off."
                .to_owned(),
        };
    }
    match ahead.years_until_above {
        Some(years) => {
            format!("At the gain of the last years phosphorus passes the optimum in {}.", span(years))
        }
        None => "Phosphorus does not rise: no more is given than is carried off.".to_owned(),
    }
}
