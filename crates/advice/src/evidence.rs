//! From what the book holds on a plot to what belief can weigh.

use book::model::seen::{Gravel, Packing, PackingWords, Salinity};
use book::model::{EntryId, Observation, Seen};
use book::{Held, Snapshot};
use ground::belief::{Account, Beside, Known, Packing as KnownPacking, SharedError, Stones, Witness, ilr};
use ground::fertility::analysis::report::LabReport;
use ground::kit::Bounded;
use ground::texture::{Class, Composition, feel, hydrometer, kitchen_scale, lab};
use schemars::JsonSchema;
use serde::Serialize;

use crate::farm_jars::FarmJars;
use crate::structure::readings::mean_density;
use crate::{lab_report, salt_reading, sampling, words};

/// Samples whose middle lies deeper than this speak of the subsoil, not of the ground that is worked.
const SUBSOIL_BELOW_CM: f64 = 30.0;

/// One piece of evidence as it was used, for a page.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Exhibit {
    /// The observation it is.
    pub id: EntryId,
    /// What to call it: "the jar of 3 May 2025".
    pub label: String,
    /// Kind of evidence: "jar", "feel" ...
    pub what: &'static str,
    /// Was it used for the make-up?
    pub used: bool,
    /// Why it was not used, or what should be known about its use. May be empty.
    pub remark: String,
    /// Its best guess of the make-up, where it measured one.
    pub says: Option<Composition>,
    /// The class it named, where it named one.
    pub named: Option<Class>,
}

/// Everything the book says on a plot, sorted for use.
#[derive(Debug, Clone, Default)]
pub struct Evidence {
    /// What speaks of sand, silt and clay.
    pub witnesses: Vec<Witness>,
    /// What is known beside the make-up.
    pub beside: Beside,
    /// Every observation, with what became of it.
    pub exhibits: Vec<Exhibit>,
}

impl Evidence {
    /// Gathers the evidence on a plot.
    #[must_use]
    pub fn of(snapshot: &Snapshot, plot: EntryId, jars: &FarmJars) -> Self {
        let mut all = Self::default();
        for held in snapshot.evidence(plot) {
            all.add(snapshot, plot, held, jars);
        }
        share_errors_of_one_bag(snapshot, &mut all);
        all
    }

    fn add(&mut self, snapshot: &Snapshot, plot: EntryId, held: &Held<Observation>, jars: &FarmJars) {
        let label = label(&held.body);
        let mut exhibit = Exhibit {
            id: held.id,
            label: label.clone(),
            what: held.body.seen.what(),
            used: false,
            remark: String::new(),
            says: None,
            named: None,
        };
        if let Some(depth) = depth_of(snapshot, &held.body).filter(|depth| *depth > SUBSOIL_BELOW_CM) {
            exhibit.remark = format!(
                "Taken around {depth:.0} cm down: it speaks of the subsoil and is not mixed with the ground above."
            );
            self.exhibits.push(exhibit);
            return;
        }
        let id = held.id.to_string();
        let witness = match &held.body.seen {
            Seen::Jar(jar) if !jar.finished => {
                exhibit.remark = "Still settling; it is weighed when the last mark is made.".to_owned();
                None
            }
            Seen::Jar(jar) => Some(jars.witness(plot, &jar.reading, &id, &label)),
            Seen::KitchenScale(weighed) => Some(kitchen_scale::witness(weighed, &id, &label)),
            Seen::Feel(reading) => Some(feel::witness(reading, &id, &label)),
            Seen::Hydrometer(readings) => Some(hydrometer::witness(readings, &id, &label)),
            Seen::LabTexture(texture) => Some(lab::witness(texture, &id, &label)),
            Seen::LabReport(report) => {
                exhibit.used = self.printout(snapshot, &held.body, report);
                exhibit.remark = if exhibit.used {
                    "Its organic matter and salts are counted here; the rest speaks of acidity and nutrients."
                        .to_owned()
                } else {
                    "It speaks of acidity and nutrients and not of the make-up, and is kept beside it."
                        .to_owned()
                };
                None
            }
            Seen::Cores(cores) if cores.middle_cm() > SUBSOIL_BELOW_CM => {
                exhibit.remark = "Cores of the subsoil: they speak of the hard layer on the page of the plot's structure, and not of the ground above.".to_owned();
                None
            }
            Seen::Probe(_) | Seen::Spade(_) | Seen::Slake(_) | Seen::Working(_) => {
                exhibit.remark =
                    "It speaks of the structure of the ground and not of its make-up.".to_owned();
                None
            }
            beside => {
                self.beside(snapshot, &held.body, beside);
                exhibit.used = true;
                None
            }
        };
        match witness {
            Some(Ok(mut witness)) => {
                exhibit.used = true;
                match &witness.account {
                    Account::Measured { centre, .. } => exhibit.says = Some(ilr::from_ilr((*centre).into())),
                    Account::Named { class, .. } => exhibit.named = Some(*class),
                }
                let cores = sampling::cores(snapshot, &held.body);
                if let Some(remark) = sampling::widen(&mut witness, cores) {
                    exhibit.remark = remark;
                }
                self.witnesses.push(witness);
            }
            Some(Err(refusal)) => exhibit.remark = format!("Left out: {}", refusal.message),
            None => {}
        }
        self.exhibits.push(exhibit);
    }

    /// The latest of each kind counts: organic matter, packing and salts change over the years.
    fn beside(&mut self, snapshot: &Snapshot, body: &Observation, seen: &Seen) {
        let cores = sampling::cores(snapshot, body);
        match seen {
            Seen::OrganicMatter(found) => {
                let error = sampling::organic_matter_error(found, cores);
                self.beside.organic_matter_percent = Some(within(found.percent.get(), error, 0.0, 100.0));
            }
            Seen::Gravel(Gravel::MassPercent(mass)) => {
                let percent = mass.get();
                self.beside.stones =
                    Some(Stones::MassPercent(within(percent, 1.0 + 0.15 * percent, 0.0, 95.0)));
            }
            Seen::Gravel(Gravel::VolumePercent(volume)) => {
                let percent = volume.get();
                self.beside.stones =
                    Some(Stones::VolumePercent(within(percent, 2.0 + 0.3 * percent, 0.0, 95.0)));
            }
            Seen::Packing(packing) => self.beside.packing = Some(packing_known(*packing)),
            Seen::Cores(cores) => {
                if let Some((mean, error, _)) = mean_density(cores) {
                    self.beside.packing = Some(KnownPacking::DensityGCm3(within(mean, error, 0.1, 2.4)));
                }
            }
            Seen::Salinity(salts) => self.beside.ec_ds_m = Some(salts_known(*salts)),
            _ => {}
        }
    }
}

impl Evidence {
    /// Organic matter and salts of a printout, unless the same reading is written down by itself.
    /// Says whether there were any.
    fn printout(&mut self, snapshot: &Snapshot, body: &Observation, report: &LabReport) -> bool {
        let mut used = false;
        if let Some(found) = lab_report::organic_matter(report)
            && !lab_report::told_by_itself(snapshot, body.plot, body, |seen| {
                matches!(seen, Seen::OrganicMatter(_))
            })
        {
            self.beside(snapshot, body, &Seen::OrganicMatter(found));
            used = true;
        }
        if let Some(found) = lab_report::salinity(report)
            && !lab_report::told_by_itself(snapshot, body.plot, body, |seen| {
                matches!(seen, Seen::Salinity(_))
            })
        {
            self.beside(snapshot, body, &Seen::Salinity(found));
            used = true;
        }
        used
    }
}

/// A value with its standard error, kept within what is possible.
fn within(value: f64, standard_error: f64, least: f64, most: f64) -> Known {
    let known = Known::about(value, standard_error);
    Known { low: known.low.clamp(least, value), likely: value, high: known.high.clamp(value, most) }
}

/// Cores of one plot scatter by 0.05 to 0.10 g/cm³ (common practice); the words are our judgement.
pub(crate) fn packing_known(packing: Packing) -> KnownPacking {
    match packing {
        Packing::DensityFactor(factor) => KnownPacking::Factor(within(factor.get(), 0.03, 0.5, 2.0)),
        Packing::BulkDensity(density) => KnownPacking::DensityGCm3(within(density.get(), 0.07, 0.1, 2.4)),
        Packing::Words(words) => {
            let (low, likely, high) = match words {
                PackingWords::Loose => (0.85, 0.92, 0.99),
                PackingWords::Normal => (0.95, 1.0, 1.06),
                PackingWords::Firm => (1.02, 1.08, 1.15),
                PackingWords::Hard => (1.08, 1.16, 1.25),
            };
            KnownPacking::Factor(Known { low, likely, high })
        }
    }
}

/// To the conductivity of the saturated paste; the range of the published lines is taken as the 90 % range.
fn salts_known(salts: Salinity) -> Known {
    let lines = salt_reading::range(salts, None);
    Known { low: lines.low_ds_m, likely: lines.middle_ds_m, high: lines.high_ds_m }
}

/// "the jar of 3 May 2025".
#[must_use]
pub fn label(observation: &Observation) -> String {
    let name = match observation.seen {
        Seen::Jar(_) => "the jar",
        Seen::KitchenScale(_) => "the sieve and kitchen scale",
        Seen::Feel(_) => "the feel test",
        Seen::Hydrometer(_) => "the hydrometer",
        Seen::LabTexture(_) => "the laboratory report",
        Seen::OrganicMatter(_) => "the organic matter",
        Seen::Gravel(_) => "the stones",
        Seen::Packing(_) => "the packing",
        Seen::Salinity(_) => "the salts",
        Seen::Signs(_) => "the signs",
        Seen::Moisture(_) => "the moisture reading",
        Seen::RingInfiltration(_) => "the ring infiltration",
        Seen::Percolation(_) => "the percolation test",
        Seen::Layers(_) => "the layers",
        Seen::LabReport(_) => "the soil test",
        Seen::Probe(_) => "the probe transect",
        Seen::Cores(_) => "the density cores",
        Seen::Spade(_) => "the spade block",
        Seen::Slake(_) => "the slake test",
        Seen::Working(_) => "the working test",
        Seen::BuildingGround(_) => "the look at the ground to build on",
    };
    format!("{name} of {}", words::day(observation.seen_on))
}

/// Middle of the layer the sample came from.
pub(crate) fn depth_of(snapshot: &Snapshot, observation: &Observation) -> Option<f64> {
    let sample = snapshot.sample(observation.sample?)?;
    Some((sample.body.from_cm.get() + sample.body.to_cm.get()) / 2.0)
}

/// Readings of one bag share where its cores happened to fall; measuring the bag again does not
/// average that away. A reading that shares an error already (jars: the packing) keeps that one.
fn share_errors_of_one_bag(snapshot: &Snapshot, evidence: &mut Evidence) {
    let bag = |witness: &Witness| -> Option<EntryId> {
        let id: EntryId = witness.id.parse().ok()?;
        snapshot.observation(id)?.body.sample
    };
    let bags: Vec<Option<EntryId>> = evidence.witnesses.iter().map(bag).collect();
    for (at, witness) in evidence.witnesses.iter_mut().enumerate() {
        let Some(own) = bags[at] else { continue };
        if bags.iter().filter(|other| **other == Some(own)).count() < 2 {
            continue;
        }
        let cores = snapshot
            .sample(own)
            .and_then(|sample| sample.body.cores)
            .map_or(sampling::CORES_NOT_COUNTED, f64::from);
        if let Account::Measured { centre, covariance, shared: shared @ None } = &mut witness.account {
            let scatter = sampling::scatter(*centre, cores);
            for row in 0..2 {
                for column in 0..2 {
                    covariance[row][column] -= scatter[row][column];
                }
            }
            *shared = Some(SharedError { name: format!("cores of {own}"), covariance: scatter });
        }
    }
}
