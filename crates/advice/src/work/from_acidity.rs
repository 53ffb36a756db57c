//! Lime and sulfur: a job for each bed that needs some, by the farm's lime method.

use book::Snapshot;
use book::model::{Placed, UnitSystem};
use ground::fertility::acidity::sulfur::SULFUR_CAUTIONS;
use ground::kit::Working;
use ground::kit::quantity::number;

use super::carry::{buckets, carried, density};
use super::job::{Job, Source, Spread, Topic, Window};
use super::season::Season;
use crate::PlotReport;
use crate::feeding::acidity::{AcidityOptions, AcidityReport, BedLime, acidity, tell};
use crate::words;

/// Less calcium carbonate than this on a bed is not worth a walk, kg/m².
const WORTH_A_WALK_KG_M2: f64 = 0.02;

pub(super) fn jobs(snapshot: &Snapshot, report: &PlotReport, season: &Season) -> Vec<Job> {
    let Some(told) = acidity(snapshot, report, AcidityOptions::default(), season.today) else {
        return Vec::new();
    };
    let units = snapshot.farm.body.units;
    let year = season.today.year();
    let mut jobs: Vec<Job> = told
        .beds
        .iter()
        .enumerate()
        .filter(|(_, bed)| bed.median_kg_m2 >= WORTH_A_WALK_KG_M2)
        .filter_map(|(place, bed)| lime(snapshot, &told, place, bed, year, units))
        .collect();
    jobs.extend(sulfur(&told, year, units));
    jobs
}

fn place(told: &AcidityReport, job: Job, bed: &BedLime) -> Job {
    let job = job.on_plot(told.id, &told.name);
    match bed.bed {
        Some(id) => job.on_bed(id, &bed.name),
        None => job,
    }
}

fn lime(
    snapshot: &Snapshot,
    told: &AcidityReport,
    at: usize,
    bed: &BedLime,
    year: i16,
    units: UnitSystem,
) -> Option<Job> {
    let product = told.products.first()?;
    let when = told.season.as_ref()?;
    let of = bed.bed.map_or_else(|| told.id.to_string(), |id| id.to_string());
    let parts = product.split.parts;
    // The first part; the others wait for the test between them.
    let kg = product.beds_kg.get(at)? * f64::from(bed.count) / f64::from(parts);
    let what = if parts > 1 {
        format!("Lime, part 1 of {parts}: {}", product.name)
    } else {
        format!("Lime: {}", product.name)
    };
    let said = tell::sentences(told, units);
    let mut job = Job::new(format!("lime.{of}.{year}"), Topic::Acidity, what, Source::Acidity);
    job.spread = vec![Spread {
        material: product.material.clone(),
        name: product.name.clone(),
        kg,
        placed: Placed::Incorporated,
        carried: format!("{} of {}", carried(kg, units), product.name),
        buckets: buckets(kg, density(snapshot, &product.material), units),
    }];
    let mut job = place(told, job, bed)
        .within(Window::between(when.from, when.to, words::capital(&when.why)))
        .because(said.lead)
        .because(format!(
            "That is {} here, worked in {} deep.",
            carried(kg, units),
            words::depth(told.depth_cm, units)
        ))
        .because(format!("Test again from {} on, not before.", words::day(when.retest_on)))
        .worked(Working::new().step(
            "lime for this bed",
            "(need − lime still at work) / effectiveness × area, in parts",
            format!(
                "({} − {}) kg/m² / {:.2} × {} m² / {parts}",
                number(bed.median_kg_m2 + bed.credit_kg_m2),
                number(bed.credit_kg_m2),
                product.works_percent / 100.0,
                number(bed.area_m2 * f64::from(bed.count)),
            ),
            carried(kg, units),
        ));
    for caution in &told.cautions {
        job = job.caution(*caution);
    }
    Some(job)
}

fn sulfur(told: &AcidityReport, year: i16, units: UnitSystem) -> Option<Job> {
    let sulfur = told.lower.as_ref()?.sulfur?;
    let pass = sulfur.sulfur_kg_m2.median / f64::from(sulfur.passes);
    if pass <= 0.0 {
        return None;
    }
    let said = tell::sentences(told, units);
    let mut job = Job::new(
        format!("sulfur.{}.{year}", told.id),
        Topic::Acidity,
        format!("Sulfur, pass 1 of {}: {}", sulfur.passes, tell::per_area(pass, units)),
        Source::Acidity,
    )
    .on_plot(told.id, &told.name)
    .because(said.lead);
    for line in said.lower {
        job = job.because(line);
    }
    for caution in SULFUR_CAUTIONS {
        job = job.caution(*caution);
    }
    Some(job)
}
