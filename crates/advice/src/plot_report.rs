//! Everything there is to say about one plot.

use book::model::seen::{Sign, WhenWorked};
use book::model::{EntryId, Place, Plot, Seen};
use book::{Held, Snapshot};
use ground::belief::{
    Belief, BeliefSummary, DRAWS, Disagreement, Ensemble, Level, Options as BeliefOptions, believe,
};
use ground::kit::{Bounded, Note, NoteKind};
use ground::water::equations::gravel_volume;
use ground::water::{Scatter, WaterEnsemble, WaterSummary};
use serde::Serialize;

use crate::evidence::{Evidence, Exhibit};
use crate::facts::{Draw, Ground, Measured, ProbeSaid, SeenSign, Site, StructureSeen, WaterSeen};
use crate::farm_jars::FarmJars;
use crate::finding::{Basis, Finding, Firmness};
use crate::rings::Rings;
use crate::rules::RULES;
use crate::salt_reading::extracts;
use crate::settle::{self, Measurement};
use crate::structure::decision::{Known, Tools};
use crate::structure::readings::Readings;
use crate::{structure, water, words};

/// Root depth of vegetables where the plot does not give one, cm.
const USUAL_ROOT_DEPTH_CM: f64 = 45.0;

/// How to report.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Draws in the ensemble.
    pub draws: usize,
    /// Work out what would settle the open findings?
    pub weigh_measurements: bool,
}

impl Default for Options {
    fn default() -> Self {
        Self { draws: DRAWS, weigh_measurements: true }
    }
}

/// Something that was not measured on the plot and had to be supposed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Supposed {
    /// What: "organic matter".
    pub what: &'static str,
    /// Lower end of the 90 % range.
    pub low: f64,
    /// Median.
    pub likely: f64,
    /// Upper end.
    pub high: f64,
    /// Unit, may be empty.
    pub unit: &'static str,
    /// Where the range is from, in words.
    pub provenance_words: &'static str,
}

/// Everything there is to say about one plot.
#[derive(Debug, Clone, Serialize)]
pub struct PlotReport {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// What it lies under.
    pub place: Place,
    /// Does any evidence speak of its make-up?
    pub make_up_known: bool,
    /// One sentence on what the ground is and how surely.
    pub headline: String,
    /// Sand, silt, clay and the odds of the classes.
    pub make_up: BeliefSummary,
    /// Water over the ensemble.
    pub water: WaterSummary,
    /// Depth of roots the water is counted over, cm.
    pub root_depth_cm: f64,
    /// Every observation, with what became of it.
    pub evidence: Vec<Exhibit>,
    /// Evidence that the rest does not bear out, worst first.
    pub disagreements: Vec<Disagreement>,
    /// What was not measured and had to be supposed.
    pub supposed: Vec<Supposed>,
    /// Findings in the order of a page.
    pub findings: Vec<Finding>,
    /// What would settle the open findings, best for its cost first.
    pub measurements: Vec<Measurement>,
    /// Pairs of jar and laboratory, from other plots of the farm, that sharpen the jars here.
    pub jar_calibration_pairs: u32,
    /// Remarks, most important first.
    pub notes: Vec<Note>,
    /// The belief with its draws, for pictures.
    #[serde(skip)]
    pub belief: Belief,
    /// Water of each draw, for pictures and for the water of beds.
    #[serde(skip)]
    pub water_draws: WaterEnsemble,
    /// The draws with what is known beside the make-up, for the water of beds.
    #[serde(skip)]
    pub ensemble: Ensemble,
}

/// Reports on one plot; `None` when the book has no such plot.
#[must_use]
pub fn plot_report(snapshot: &Snapshot, plot: EntryId, options: &Options) -> Option<PlotReport> {
    plot_report_with(snapshot, snapshot.plot(plot)?, &FarmJars::of(snapshot), options).into()
}

/// The same for a caller that reports on many plots and finds the farm's jars once for all of them.
#[must_use]
pub fn plot_report_with(
    snapshot: &Snapshot,
    plot: &Held<Plot>,
    jars: &FarmJars,
    options: &Options,
) -> PlotReport {
    let evidence = Evidence::of(snapshot, plot.id, jars);
    let belief =
        believe(&evidence.witnesses, &BeliefOptions { draws: options.draws, ..BeliefOptions::default() });
    let ensemble = Ensemble::of(&belief, &evidence.beside);
    let water = WaterEnsemble::of(&ensemble, Scatter::OfRealSoils);
    let ground = ground_of(snapshot, plot, &evidence, &belief, &ensemble, &water);

    let mut findings: Vec<Finding> = RULES.iter().filter_map(|rule| rule.find(&ground)).collect();
    let packing = jars.packing(plot.id);
    let measurements = if options.weigh_measurements {
        let hour = snapshot.farm.body.hour_worth.map_or(settle::HOUR_WORTH, Bounded::get);
        settle::rank(&belief, &mut findings, &packing, hour)
    } else {
        Vec::new()
    };
    if !ground.make_up_known {
        // Odds from no evidence at all would only fill the page; what was seen still counts.
        findings.retain(|finding| finding.basis == Basis::Seen);
    }
    let contradicted = belief.disagreements.iter().any(|one| one.level == Level::Contradicts);
    for finding in &mut findings {
        finding.holds = Vec::new();
        if contradicted {
            doubt(finding);
        }
    }
    PlotReport {
        id: plot.id,
        name: plot.body.name.clone(),
        place: plot.body.place,
        make_up_known: ground.make_up_known,
        headline: headline(&belief, ground.make_up_known, &belief.disagreements),
        make_up: belief.summary(),
        water: water.summary(10.0 * ground.site.root_depth_cm),
        root_depth_cm: ground.site.root_depth_cm,
        disagreements: belief.disagreements.clone(),
        supposed: ensemble
            .assumed
            .iter()
            .map(|assumed| Supposed {
                what: assumed.what,
                low: assumed.known.low,
                likely: assumed.known.likely,
                high: assumed.known.high,
                unit: assumed.unit,
                provenance_words: assumed.provenance.words(),
            })
            .collect(),
        evidence: evidence.exhibits,
        findings,
        measurements,
        jar_calibration_pairs: packing.pairs,
        notes: notes(&water),
        belief,
        water_draws: water,
        ensemble,
    }
}

fn ground_of(
    snapshot: &Snapshot,
    plot: &Held<Plot>,
    evidence: &Evidence,
    belief: &Belief,
    ensemble: &Ensemble,
    water: &WaterEnsemble,
) -> Ground {
    let draws: Vec<Draw> = ensemble
        .draws
        .iter()
        .enumerate()
        .map(|(at, draw)| {
            let density = water.matric_density_g_cm3[at];
            Draw {
                soil: draw.soil,
                class: draw.class,
                organic_matter_percent: draw.organic_matter_percent,
                gravel_mass_percent: draw.gravel_mass_percent,
                gravel_volume_percent: 100.0 * gravel_volume(draw.gravel_mass_percent / 100.0, density),
                bulk_density_g_cm3: density,
                wilting_point: water.wilting_point[at],
                field_capacity: water.field_capacity[at],
                saturation: water.saturation[at],
                available_water: water.available[at],
                conductivity_mm_h: water.saturated_conductivity_mm_h[at],
            }
        })
        .collect();
    Ground {
        weights: ensemble.weights.clone(),
        site: Site {
            place: plot.body.place,
            slope_percent: plot.body.slope_percent.map(Bounded::get),
            root_depth_cm: plot.body.root_depth_cm.map_or(USUAL_ROOT_DEPTH_CM, Bounded::get),
            root_depth_given: plot.body.root_depth_cm.is_some(),
            watering: plot.body.watering,
        },
        signs: signs_of_plot(snapshot, plot.id),
        water: water_seen(snapshot, plot.id, &draws),
        structure: structure_seen(snapshot, plot.id),
        measured: Measured {
            organic_matter: evidence.beside.organic_matter_percent.is_some(),
            gravel: evidence.beside.stones.is_some(),
            packing: evidence.beside.packing.is_some(),
            salinity: evidence.beside.ec_ds_m.is_some(),
        },
        make_up_known: !belief.knows_nothing(),
        units: snapshot.farm.body.units,
        draws,
    }
}

/// The signs of a plot, latest first; what ground did when it was worked counts as one.
pub(crate) fn signs_of_plot(snapshot: &Snapshot, plot: EntryId) -> Vec<SeenSign> {
    let mut signs: Vec<SeenSign> = snapshot
        .evidence(plot)
        .flat_map(|held| {
            let on = held.body.seen_on;
            let found: Vec<Sign> = match &held.body.seen {
                Seen::Signs(signs) => signs.signs.clone(),
                Seen::Working(test) => match test.worked {
                    Some(WhenWorked::Smeared) => vec![Sign::Smeared],
                    Some(WhenWorked::Clods) => vec![Sign::Clods],
                    _ => Vec::new(),
                },
                _ => Vec::new(),
            };
            found.into_iter().map(move |sign| SeenSign { on, sign })
        })
        .collect();
    signs.reverse();
    signs
}

/// What was read of the structure of a plot, with the tools of most farms.
fn structure_seen(snapshot: &Snapshot, plot: EntryId) -> StructureSeen {
    let readings = Readings::of(snapshot, plot);
    let known = readings.tell_of_hardness().then(|| {
        let signs = signs_of_plot(snapshot, plot);
        let packing = structure::packing_told(snapshot, plot);
        // A finding holds on any day: no handful speaks for it.
        Known::of(&readings, &signs, packing, Tools::default(), None)
    });
    StructureSeen {
        probe: readings.transect().map(|one| ProbeSaid {
            on: one.on,
            stopped: one.stopped,
            pushes: one.pushes,
            comparable: one.comparable,
            top_cm: one.found.pan_top_cm.map(|top| top.median),
            bottom_cm: one.found.pan_bottom_cm.map(|bottom| bottom.median),
        }),
        cores: readings.cores.last().map(|cores| (cores.on, cores.mean_g_cm3)),
        handful: readings.handfuls.last().map(|one| (one.on, one.days_since_rain, one.handful)),
        known,
    }
}

/// What was measured of the water of a plot beside its make-up.
fn water_seen(snapshot: &Snapshot, plot: EntryId, draws: &[Draw]) -> WaterSeen {
    let reading = water::latest_reading(snapshot, plot);
    WaterSeen {
        rings: Rings::of(snapshot, plot),
        sprinklers_mm_h: water::sprinklers_mm_h(snapshot, plot),
        salts_ds_m: reading.map(|(_, salts)| extracts(salts, draws.iter().map(|draw| draw.class))),
        supply_ds_m: water::supplies(snapshot, plot)
            .iter()
            .filter_map(|(supply, _)| supply.body.ec_ds_m)
            .map(Bounded::get)
            .max_by(f64::total_cmp),
        sodium_percent: crate::feeding::acidity::exchangeable_sodium(snapshot, plot),
    }
}

/// While evidence contradicts evidence, nothing that rests on the make-up is called firm.
fn doubt(finding: &mut Finding) {
    if finding.basis == Basis::MakeUp && finding.firmness == Firmness::Firm {
        finding.firmness = Firmness::Likely;
        finding.reasons.push(
            "Not called firm while evidence on this plot contradicts itself: find out which of it is wrong."
                .to_owned(),
        );
    }
}

fn headline(belief: &Belief, known: bool, disagreements: &[Disagreement]) -> String {
    if !known {
        return "Nothing is known of this ground yet. A feel test takes twenty minutes.".to_owned();
    }
    let (class, odds) = belief.class();
    let shares = format!(
        "{}, {}, {}",
        words::share("sand", belief.sand),
        words::share("silt", belief.silt),
        words::share("clay", belief.clay)
    );
    let surely = match odds {
        o if o >= 0.95 => format!("It is {}", class.name()),
        o if o >= 0.75 => format!("It is likely {} ({})", class.name(), words::odds(odds)),
        _ => {
            let others: Vec<String> = belief
                .class_odds
                .iter()
                .take(3)
                .filter(|(_, odds)| *odds >= 0.05)
                .map(|(class, odds)| format!("{} ({})", class.name(), words::odds(*odds)))
                .collect();
            format!("It may be {}", others.join(", or "))
        }
    };
    let doubt = if disagreements.is_empty() { "" } else { " Not all the evidence agrees." };
    format!("{surely}: {shares}.{doubt}")
}

fn notes(water: &WaterEnsemble) -> Vec<Note> {
    let mut notes = Vec::new();
    if water.share_outside_range >= 0.05 {
        notes.push(Note::new(
            NoteKind::OutsideRange,
            format!(
                "{} of what is possible here lies outside the soils behind the water equations (clay above 60 %, organic matter above 8 %, or unusual packing); water figures lean on less there.",
                words::odds(water.share_outside_range)
            ),
        ));
    }
    if water.share_without_conductivity >= 0.05 {
        notes.push(Note::new(
            NoteKind::NoValue,
            format!(
                "For {} of what is possible here the equations leave no pores to drain through and give no rate.",
                words::odds(water.share_without_conductivity)
            ),
        ));
    }
    notes
}
