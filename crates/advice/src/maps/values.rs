//! Readings of a property at places, and those without a place.

use std::collections::BTreeMap;

use book::model::plan::Point;
use book::model::seen::SalinityExtract;
use book::model::{EntryId, Observation, Seen};
use book::{Held, Snapshot};
use ground::fertility::analysis::report::Procedure;
use ground::kit::{Bounded, Method};
use ground::spatial::scale::Scale;
use ground::structure::probe::strength::comparable;
use ground::structure::probe::transect::ProbeTransect;
use ground::texture::{Class, Composition};
use ground::water::equations::{SoilWaterInput, soil_water};
use ground::water::infiltration::ring::rate_mm_h;
use jiff::ToSpan;
use jiff::civil::Date;
use serde::Serialize;

use super::property::Property;
use crate::evidence::{Evidence, depth_of};
use crate::farm_jars::FarmJars;
use crate::lab_report;
use crate::plan::FarmPlan;
use crate::structure::readings::mean_density;

/// Samples whose middle lies deeper than this speak of the subsoil and are not mapped with the ground above.
const SUBSOIL_BELOW_CM: f64 = 30.0;
/// Readings of one plot nearer than this stand at one place, and the latest counts.
const ONE_PLACE_M: f64 = 1.0;
/// Organic matter where none was measured, for available water (our judgement: a usual garden loam).
const SUPPOSED_ORGANIC_MATTER_PERCENT: f64 = 2.5;

/// A reading at a place.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpotValue {
    /// The observation it is from.
    pub observation: EntryId,
    /// Its plot.
    pub plot: EntryId,
    /// Metres east and north of the plan's origin.
    pub at: Point,
    /// The figure; for the texture class, clay in percent.
    pub value: f64,
    /// The class, for texture.
    pub class: Option<Class>,
    /// Sand, silt and clay, for texture.
    #[serde(skip)]
    pub soil: Option<Composition>,
    /// Day.
    pub seen_on: Date,
}

/// Readings of one property on some plots.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Values {
    /// At places, the latest of each.
    pub at_places: Vec<SpotValue>,
    /// Plot, day and figure of those without a place.
    #[serde(skip)]
    pub elsewhere: Vec<(EntryId, Date, f64)>,
    /// How they were measured, and in what, where that must be the same for all.
    pub how: String,
    /// Unit after a figure.
    pub unit: String,
    /// Readings left out because they were made in another way.
    pub other_ways: usize,
    /// Plots that they are of.
    #[serde(skip)]
    pub other_ways_on: Vec<EntryId>,
    /// Readings left out because the latest of their plot is more than a year younger.
    pub older: usize,
    /// Readings left out because another one of the same place and day was recorded after them.
    pub same_day: usize,
    /// Places that were looked at and have none of it: no pan.
    pub without: usize,
    /// The scale that maps and means are worked on.
    pub scale: Scale,
}

/// One reading before it is sorted.
struct Raw {
    held: EntryId,
    plot: EntryId,
    at: Option<Point>,
    on: Date,
    value: f64,
    soil: Option<Composition>,
    how: String,
    unit: String,
}

impl Values {
    /// Of these plots.
    #[must_use]
    pub fn of(snapshot: &Snapshot, plan: &FarmPlan, property: Property, plots: &[EntryId]) -> Self {
        let jars = FarmJars::of(snapshot);
        let mut all = Vec::new();
        let mut without = 0;
        for plot in plots.iter().filter(|_| !property.of_plots_alone()) {
            let evidence = needs_make_up(property).then(|| Evidence::of(snapshot, *plot, &jars));
            for held in snapshot.evidence(*plot) {
                let body = &held.body;
                if depth_of(snapshot, body).is_some_and(|depth| depth > SUBSOIL_BELOW_CM) {
                    continue;
                }
                let found = match &evidence {
                    Some(evidence) => made_up(evidence, held, property),
                    None => plain(snapshot, *plot, body, property),
                };
                if found.is_none()
                    && has_no_pan(property, &body.seen)
                    && plan.spot_of(snapshot, body).is_some()
                {
                    without += 1;
                }
                let Some((value, soil, how, unit)) = found else { continue };
                if !value.is_finite() {
                    continue;
                }
                let at = plan.spot_of(snapshot, body);
                all.push(Raw { held: held.id, plot: *plot, at, on: body.seen_on, value, soil, how, unit });
            }
        }
        Values { without, ..sorted(all, property) }
    }
}

fn needs_make_up(property: Property) -> bool {
    property.is_texture() || property == Property::AvailableWater
}

type Found = (f64, Option<Composition>, String, String);

/// Figures that come from the make-up an observation tells.
fn made_up(evidence: &Evidence, held: &Held<Observation>, property: Property) -> Option<Found> {
    let soil = evidence.exhibits.iter().find(|exhibit| exhibit.id == held.id && exhibit.used)?.says?;
    let value = match property {
        Property::Sand => soil.sand,
        Property::Silt => soil.silt,
        Property::AvailableWater => {
            let organic = evidence.beside.organic_matter_percent.as_ref();
            let water = soil_water(&SoilWaterInput {
                sand_percent: soil.sand,
                clay_percent: soil.clay,
                organic_matter_percent: organic
                    .map_or(SUPPOSED_ORGANIC_MATTER_PERCENT, |known| known.likely)
                    .min(8.0),
                gravel_mass_percent: 0.0,
                density_factor: 1.0,
                ec_ds_m: 0.0,
            });
            return Some((
                1000.0 * water.available?,
                None,
                "from texture and organic matter, at normal density and without stones".to_owned(),
                "mm/m".to_owned(),
            ));
        }
        _ => soil.clay,
    };
    Some((value, Some(soil), String::new(), "%".to_owned()))
}

/// What stands for the method of a figure whose report does not name it.
pub(super) const NOT_SAID_HOW: &str = "method not said";

/// Figures that an observation states.
fn plain(snapshot: &Snapshot, plot: EntryId, body: &Observation, property: Property) -> Option<Found> {
    let told = |value: f64, how: &str, unit: &str| Some((value, None, how.to_owned(), unit.to_owned()));
    let by_itself = |is: fn(&Seen) -> bool| lab_report::told_by_itself(snapshot, plot, body, is);
    match (property, &body.seen) {
        (Property::OrganicMatter, Seen::OrganicMatter(found)) => told(found.percent.get(), "", "%"),
        (Property::OrganicMatter, Seen::LabReport(report))
            if !by_itself(|seen| matches!(seen, Seen::OrganicMatter(_))) =>
        {
            told(lab_report::organic_matter(report)?.percent.get(), "", "%")
        }
        (Property::Salts, seen) => {
            if matches!(seen, Seen::LabReport(_)) && by_itself(|seen| matches!(seen, Seen::Salinity(_))) {
                return None;
            }
            let salts = lab_report::salts_seen(body)?;
            told(salts.ec_ds_m.get(), extract(salts.extract), "dS/m")
        }
        (Property::Infiltration, Seen::RingInfiltration(test)) => {
            let rates: Vec<f64> = test
                .rings
                .iter()
                .map(|ring| rate_mm_h(test.depth_mm(ring), ring.second_min.unwrap_or(ring.first_min).get()))
                .collect();
            told(mean(&rates)?, "", "mm/h")
        }
        (Property::PanTop, Seen::Probe(probe)) if !probe.tracks && comparable(probe.moisture.into()) => {
            let found = ProbeTransect::compute(&probe.input()).ok()?.value;
            told(found.pan_top_cm?.median, "", "cm")
        }
        (Property::Density, Seen::Cores(cores)) if cores.middle_cm() <= SUBSOIL_BELOW_CM => {
            told(mean_density(cores)?.0, "", "g/cm³")
        }
        (Property::Lab(analyte), Seen::LabReport(report)) => {
            let figure = report.first(analyte)?;
            let how = match figure.procedure {
                Procedure::NotStated => NOT_SAID_HOW,
                procedure => procedure.words(),
            };
            told(figure.amount.exactly()?, how, figure.unit.symbol())
        }
        _ => None,
    }
}

/// A push in moist ground that met no pan.
fn has_no_pan(property: Property, seen: &Seen) -> bool {
    let Seen::Probe(probe) = seen else { return false };
    property == Property::PanTop
        && !probe.tracks
        && comparable(probe.moisture.into())
        && ProbeTransect::compute(&probe.input()).is_ok_and(|found| found.value.pan_top_cm.is_none())
}

/// Leaves out what is more than a year older than the latest of its plot, where a year can change it.
fn of_one_round(all: &mut Vec<Raw>, property: Property) -> usize {
    if !property.changes_in_a_year() {
        return 0;
    }
    let mut latest = BTreeMap::<EntryId, Date>::new();
    for raw in all.iter() {
        let on = latest.entry(raw.plot).or_insert(raw.on);
        *on = (*on).max(raw.on);
    }
    let before = all.len();
    all.retain(|raw| raw.on >= latest[&raw.plot].saturating_sub(1.year()));
    before - all.len()
}

fn extract(extract: SalinityExtract) -> &'static str {
    match extract {
        SalinityExtract::SaturatedPaste => "conductivity of the saturation extract",
        SalinityExtract::OneToOne => "conductivity of one part soil in one part water",
        SalinityExtract::OneToTwo => "conductivity of one part soil in two parts water",
        SalinityExtract::OneToFive => "conductivity of one part soil in five parts water",
        SalinityExtract::NotStated => "conductivity of an extract that is not stated",
    }
}

fn mean(values: &[f64]) -> Option<f64> {
    #[expect(clippy::cast_precision_loss, reason = "a few readings")]
    let count = values.len() as f64;
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / count)
}

/// Keeps the way that most were measured in, and of each place the latest.
fn sorted(mut all: Vec<Raw>, property: Property) -> Values {
    let mut ways = BTreeMap::<(String, String), usize>::new();
    for raw in &all {
        *ways.entry((raw.how.clone(), raw.unit.clone())).or_default() += 1;
    }
    let most = ways.into_iter().max_by_key(|(_, count)| *count).map(|(way, _)| way).unwrap_or_default();
    let before = all.len();
    let other_ways_on =
        all.iter().filter(|raw| (&raw.how, &raw.unit) != (&most.0, &most.1)).map(|raw| raw.plot).collect();
    all.retain(|raw| (&raw.how, &raw.unit) == (&most.0, &most.1));
    let other_ways = before - all.len();
    let older = of_one_round(&mut all, property);
    // The book holds them by day and in the order of recording: of one day the one recorded last comes first.
    all.reverse();
    all.sort_by_key(|raw| std::cmp::Reverse(raw.on));
    let mut same_day = 0;
    let mut at_places: Vec<SpotValue> = Vec::new();
    let mut elsewhere = Vec::new();
    for raw in all {
        let Some(at) = raw.at else {
            elsewhere.push((raw.plot, raw.on, raw.value));
            continue;
        };
        let taken = at_places.iter().find(|known| {
            known.plot == raw.plot && ground::spatial::plane::distance_m(known.at, at) < ONE_PLACE_M
        });
        if let Some(taken) = taken {
            same_day += usize::from(taken.seen_on == raw.on);
            continue;
        }
        at_places.push(SpotValue {
            observation: raw.held,
            plot: raw.plot,
            at,
            value: raw.value,
            class: raw.soil.map(Class::of),
            soil: raw.soil,
            seen_on: raw.on,
        });
    }
    // From the north-west, as a page is read.
    at_places.sort_by(|a, b| b.at[1].total_cmp(&a.at[1]).then(a.at[0].total_cmp(&b.at[0])));
    let scale = scale(property, &at_places, &elsewhere);
    Values {
        at_places,
        elsewhere,
        how: most.0,
        unit: most.1,
        other_ways,
        other_ways_on,
        older,
        same_day,
        without: 0,
        scale,
    }
}

/// Texture has log-ratios of its own; rates are ratios by nature; the rest goes by its skewness.
fn scale(property: Property, at_places: &[SpotValue], elsewhere: &[(EntryId, Date, f64)]) -> Scale {
    let all: Vec<f64> =
        at_places.iter().map(|one| one.value).chain(elsewhere.iter().map(|one| one.2)).collect();
    match property {
        _ if property.is_texture() => Scale::Plain,
        _ if property.is_of_ratios() && all.iter().all(|value| *value > 0.0) => Scale::Logarithm,
        _ => Scale::of(&all),
    }
}
