//! The readings of a plot, property by property, each with how far it may be off and how it was made.

use std::collections::BTreeMap;

use book::model::seen::SalinityExtract;
use book::model::{EntryId, Observation, Seen};
use book::{Held, Snapshot};
use ground::belief::{Account, ilr};
use ground::fertility::analysis::in_ppm::ppm_factor;
use ground::fertility::analysis::report::{Analyte, LabFigure, LabReport, Procedure};
use ground::kit::Bounded;
use ground::trend::breaks::{Circumstances, ReadingCores, ReadingDepth, ReadingMonth};
use jiff::civil::Date;
use serde::Serialize;

use super::property::Property;
use super::scatter;
use crate::evidence::Evidence;
use crate::farm_jars::FarmJars;
use crate::structure::readings::Readings;
use crate::{lab_report, rings};

/// A reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reading {
    /// The records it stands in: several of one day are one reading.
    pub records: Vec<EntryId>,
    /// The day: of the sample, where there is one.
    #[serde(serialize_with = "day")]
    pub on: Date,
    /// The value, in the property's own unit.
    pub value: f64,
    /// One standard deviation that it may be off: in its unit, or as a share of it.
    pub error: f64,
    /// How it was made.
    pub how: Circumstances,
}

fn day<S: serde::Serializer>(date: &Date, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(date)
}

impl Reading {
    /// The range that holds nine times in ten, as far as there can be such a value.
    #[must_use]
    pub fn range(&self, property: Property) -> [f64; 2] {
        let reach = scatter::Z_90 * self.error;
        let range = if property.by_ratio() {
            [self.value * libm::exp(-reach), self.value * libm::exp(reach)]
        } else {
            [self.value - reach, self.value + reach]
        };
        let [least, most] = property.bounds();
        range.map(|end| end.max(least).min(most))
    }
}

/// A property, of a crop where it is a yield.
pub type Followed = (Property, String);
/// Readings, earliest first.
pub type Shelf = BTreeMap<Followed, Vec<Reading>>;

/// What is to be gathered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// Structure and organic matter.
    Structure,
    /// What there is a walk for.
    Walks,
    /// Everything, up to a day: a harvest that still goes on is no yield yet.
    All(Date),
}

/// The readings of a plot.
#[must_use]
pub fn gather(snapshot: &Snapshot, plot: EntryId, wanted: Wanted) -> Shelf {
    let mut all = Gathering { snapshot, shelf: Shelf::new() };
    all.structure(plot);
    all.laboratory(plot);
    if let Wanted::All(today) = wanted {
        all.make_up(plot);
        all.yields(plot, today);
    }
    if wanted == Wanted::Structure {
        all.shelf.retain(|(property, _), _| property.of_structure());
    }
    for readings in all.shelf.values_mut() {
        readings.sort_by_key(|reading| reading.on);
        together(readings);
    }
    all.shelf
}

/// Readings of one day made alike are one: their mean.
#[expect(clippy::cast_precision_loss, reason = "a few readings")]
fn together(readings: &mut Vec<Reading>) {
    let mut kept: Vec<(Reading, usize)> = Vec::with_capacity(readings.len());
    for reading in readings.drain(..) {
        match kept.last_mut() {
            Some((last, count)) if last.on == reading.on && last.how == reading.how => {
                let n = *count as f64;
                last.value = (n * last.value + reading.value) / (n + 1.0);
                last.error =
                    (n * n * last.error * last.error + reading.error * reading.error).sqrt() / (n + 1.0);
                last.records.extend(reading.records);
                *count += 1;
            }
            _ => kept.push((reading, 1)),
        }
    }
    readings.extend(kept.into_iter().map(|(reading, _)| reading));
}

struct Gathering<'a> {
    snapshot: &'a Snapshot,
    shelf: Shelf,
}

impl Gathering<'_> {
    fn put(&mut self, property: Property, of: &str, reading: Reading) {
        if reading.value.is_finite() && reading.error.is_finite() {
            self.shelf.entry((property, of.to_owned())).or_default().push(reading);
        }
    }

    fn see(&mut self, property: Property, record: EntryId, on: Date, value: f64, error: f64) {
        let how = Circumstances { month: month(on), ..Circumstances::default() };
        self.put(property, "", Reading { records: vec![record], on, value, error, how });
    }

    /// Readings of dry ground and of wheel tracks do not compare.
    fn structure(&mut self, plot: EntryId) {
        let readings = Readings::of(self.snapshot, plot);
        for one in readings.transects.iter().filter(|one| one.comparable && !one.tracks) {
            let error = scatter::stopped_percent(&one.found);
            self.see(Property::Stopped, one.record, one.on, one.found.stopped_percent, error);
            if let (Some(top), Some(error)) = (one.found.pan_top_cm, scatter::pan_top_cm(&one.found)) {
                self.see(Property::PanTop, one.record, one.on, top.median, error);
            }
        }
        for one in &readings.cores {
            let how = Circumstances {
                from_cm: ReadingDepth::new(one.from_cm).ok(),
                to_cm: ReadingDepth::new(one.to_cm).ok(),
                month: month(one.on),
                ..Circumstances::default()
            };
            let (value, error) = (one.mean_g_cm3, one.error_g_cm3);
            self.put(
                Property::Density,
                "",
                Reading { records: vec![one.record], on: one.on, value, error, how },
            );
        }
        for one in &readings.blocks {
            if let Some(score) = &one.score {
                self.see(Property::Score, one.record, one.on, score.score, scatter::SCORE_OFF);
            }
            if let (Some(worms), Some(count)) = (&one.worms, self.worms(one.record)) {
                let error = scatter::worms(count, worms.per_ft3);
                self.see(Property::Worms, one.record, one.on, worms.per_ft3, error);
            }
        }
        for one in &readings.slakes {
            self.see(Property::Slake, one.record, one.on, one.found.mean_class, scatter::slake(&one.found));
        }
        for (held, test) in self.snapshot.rings_of(plot) {
            let on = held.body.seen_on;
            if let Some((value, error)) = scatter::rings(&rings::seen_in(on, test)) {
                self.see(Property::Infiltration, held.id, on, value, error);
            }
        }
    }

    fn worms(&self, record: EntryId) -> Option<f64> {
        match &self.snapshot.observation(record)?.body.seen {
            Seen::Spade(block) => block.worms.as_ref().map(|worms| worms.worms.get()),
            _ => None,
        }
    }

    fn laboratory(&mut self, plot: EntryId) {
        for held in self.snapshot.evidence(plot) {
            match &held.body.seen {
                Seen::OrganicMatter(found) => {
                    let error = scatter::organic_matter(self.snapshot, &held.body, found);
                    let procedure = found.method.map(|method| method.words().to_owned());
                    let value = found.percent.get();
                    let reading = self.sampled(held, value, error, None, procedure);
                    self.put(Property::OrganicMatter, "", reading);
                }
                Seen::Salinity(found) => {
                    let error = scatter::figure(Analyte::Ec);
                    let procedure = extract(found.extract);
                    let reading = self.sampled(held, found.ec_ds_m.get(), error, None, procedure);
                    self.put(Property::Salts, "", reading);
                }
                Seen::LabReport(report) => self.report(plot, held, report),
                _ => {}
            }
        }
    }

    fn report(&mut self, plot: EntryId, held: &Held<Observation>, report: &LabReport) {
        let laboratory = Some(report.laboratory.clone()).filter(|name| !name.trim().is_empty());
        let by =
            |procedure: Procedure| (procedure != Procedure::NotStated).then(|| procedure.words().to_owned());
        for (property, analyte) in
            [(Property::PhWater, Analyte::PhWater), (Property::PhSalt, Analyte::PhSalt)]
        {
            let Some(figure) = report.first(analyte) else { continue };
            let Some(value) = figure.amount.exactly() else { continue };
            let error = scatter::ph(self.snapshot, &held.body);
            let reading = self.sampled(held, value, error, laboratory.clone(), by(figure.procedure));
            self.put(property, "", reading);
        }
        for (property, analyte) in [
            (Property::Phosphorus, Analyte::Phosphorus),
            (Property::Potassium, Analyte::Potassium),
            (Property::Magnesium, Analyte::Magnesium),
        ] {
            // Each extractant is a scale of its own.
            for figure in report.of(analyte) {
                let Some(value) = ppm(report, figure).filter(|value| *value > 0.0) else { continue };
                let error = scatter::figure(analyte);
                let reading = self.sampled(held, value, error, laboratory.clone(), by(figure.procedure));
                self.put(property, &by(figure.procedure).unwrap_or_default(), reading);
            }
        }
        for figure in report.of(Analyte::NitrateN) {
            let Some(value) = ppm(report, figure).filter(|value| *value > 0.0) else { continue };
            let error = scatter::figure(Analyte::NitrateN);
            let reading = self.sampled(held, value, error, laboratory.clone(), by(figure.procedure));
            let of = quarter(reading.on);
            self.put(Property::Nitrate, of, reading);
        }
        let itself = |is: fn(&Seen) -> bool| lab_report::told_by_itself(self.snapshot, plot, &held.body, is);
        if let Some(found) = lab_report::organic_matter(report)
            && !itself(|seen| matches!(seen, Seen::OrganicMatter(_)))
        {
            let error = scatter::organic_matter(self.snapshot, &held.body, &found);
            let procedure = found.method.map(|method| method.words().to_owned());
            let reading = self.sampled(held, found.percent.get(), error, laboratory.clone(), procedure);
            self.put(Property::OrganicMatter, "", reading);
        }
        if let Some(found) = lab_report::salinity(report)
            && !itself(|seen| matches!(seen, Seen::Salinity(_)))
        {
            let procedure = extract(found.extract);
            let error = scatter::figure(Analyte::Ec);
            let reading = self.sampled(held, found.ec_ds_m.get(), error, laboratory.clone(), procedure);
            self.put(Property::Salts, "", reading);
        }
    }

    /// A reading of a bag: its day, depth and cores are those of the sample.
    fn sampled(
        &self,
        held: &Held<Observation>,
        value: f64,
        error: f64,
        laboratory: Option<String>,
        procedure: Option<String>,
    ) -> Reading {
        let sample = held.body.sample.and_then(|id| self.snapshot.sample(id));
        let on = sample.map_or(held.body.seen_on, |sample| sample.body.taken_on);
        let how = Circumstances {
            laboratory,
            procedure,
            from_cm: sample.and_then(|sample| ReadingDepth::new(sample.body.from_cm.get()).ok()),
            to_cm: sample.and_then(|sample| ReadingDepth::new(sample.body.to_cm.get()).ok()),
            month: month(on),
            cores: sample
                .and_then(|sample| sample.body.cores)
                .and_then(|cores| ReadingCores::new(f64::from(cores)).ok()),
        };
        Reading { records: vec![held.id], on, value, error, how }
    }

    /// Sand and clay as each test told them by itself.
    fn make_up(&mut self, plot: EntryId) {
        let evidence = Evidence::of(self.snapshot, plot, &FarmJars::of(self.snapshot));
        for witness in &evidence.witnesses {
            let Account::Measured { centre, covariance, shared } = &witness.account else { continue };
            let Some(held) = witness.id.parse().ok().and_then(|id| self.snapshot.observation(id)) else {
                continue;
            };
            let mut whole = *covariance;
            if let Some(shared) = shared {
                for (row, other) in whole.iter_mut().zip(&shared.covariance) {
                    for (cell, more) in row.iter_mut().zip(other) {
                        *cell += more;
                    }
                }
            }
            let at = |u: f64, v: f64| ilr::from_ilr(ilr::Point::new(centre[0] + u, centre[1] + v));
            let soil = at(0.0, 0.0);
            let error = |of: fn(ground::texture::Composition) -> f64| {
                const STEP: f64 = 1e-4;
                let slope = [
                    (of(at(STEP, 0.0)) - of(at(-STEP, 0.0))) / (2.0 * STEP),
                    (of(at(0.0, STEP)) - of(at(0.0, -STEP))) / (2.0 * STEP),
                ];
                let variance: f64 = (0..2)
                    .flat_map(|row| (0..2).map(move |column| (row, column)))
                    .map(|(row, column)| slope[row] * whole[row][column] * slope[column])
                    .sum();
                variance.max(0.0).sqrt()
            };
            let procedure = Some(held.body.seen.label().to_owned());
            for (property, value, error) in [
                (Property::Sand, soil.sand, error(|soil| soil.sand)),
                (Property::Clay, soil.clay, error(|soil| soil.clay)),
            ] {
                let reading = self.sampled(held, value, error, None, procedure.clone());
                self.put(property, "", reading);
            }
        }
    }

    /// What each crop yielded in a season, by its planting, once its harvest is over.
    fn yields(&mut self, plot: EntryId, today: Date) {
        let snapshot = self.snapshot;
        for planting in &snapshot.plantings {
            let Some(bed) = snapshot.bed(planting.body.bed).filter(|bed| bed.body.plot == plot) else {
                continue;
            };
            let end = planting.body.ended_on.or(planting.body.harvest_on);
            if end.is_none_or(|end| end > today) {
                continue;
            }
            let harvests = snapshot.harvests_of(planting.id);
            let Some(last) = harvests.last() else { continue };
            let kg: f64 = harvests.iter().map(|held| held.body.kg.get()).sum();
            let (_, crop) = crate::feeding::needs::crop_of(snapshot, &planting.body);
            let area_m2 = bed.body.area_m2();
            if area_m2 <= 0.0 {
                continue;
            }
            let reading = Reading {
                records: harvests.iter().map(|held| held.id).collect(),
                on: last.body.on,
                value: kg / area_m2,
                error: scatter::YIELD_CV,
                how: Circumstances::default(),
            };
            self.put(Property::Yield, &crop, reading);
        }
    }
}

fn ppm(report: &LabReport, figure: &LabFigure) -> Option<f64> {
    let depth = report.basis_depth_cm.map(Bounded::get);
    let (factor, _) = ppm_factor(figure, depth, report.density_g_cm3.map(Bounded::get))?;
    Some(factor * figure.amount.exactly()?)
}

fn extract(extract: SalinityExtract) -> Option<String> {
    (extract != SalinityExtract::NotStated).then(|| extract.words().to_owned())
}

/// Nitrate rises and falls with the seasons, so only readings of one quarter of the year stand in one series.
fn quarter(on: Date) -> &'static str {
    match on.month() {
        12 | 1 | 2 => "December to February",
        3..=5 => "March to May",
        6..=8 => "June to August",
        _ => "September to November",
    }
}

fn month(on: Date) -> Option<ReadingMonth> {
    ReadingMonth::new(f64::from(on.month())).ok()
}
