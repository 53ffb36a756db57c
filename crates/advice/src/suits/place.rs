//! A plot as crops see it: equally likely draws of its ground, its year and its water, and what is not known of it.

use book::model::{Delivery, EntryId, Place, Plot, Watering};
use book::{Held, Snapshot};
use ground::covers::kinds::Band;
use ground::kit::chance::{Chance, Fingerprint};
use ground::kit::{Bounded, Spread};
use ground::siting::{FrostYear, Spot, WaterWay};
use ground::structure::root_limits::RootLimits;
use ground::water::drainage::raised_bed::EmptyingCurve;
use ground::water::drainage::water_table::{Likelihood, judge};
use serde::Serialize;

use crate::PlotReport;
use crate::covers::year::day_number;
use crate::facts::SeenSign;
use crate::feeding::acidity::{AcidTest, acid_test};
use crate::plot_report::signs_of_plot;
use crate::salt_reading::extracts;
use crate::structure::readings::Readings;
use crate::water::{Soils, latest_reading, signs_of, tighter_from_cm};
use crate::watering::{cover_factor, usual_water};

/// Depth over which the water of a plot is averaged, cm: the roots of most vegetables.
const WATER_OVER_CM: f64 = 45.0;
/// How far the pH of a field strays from that of its sample, standard deviation (judgement).
const PH_STRAYS: f64 = 0.2;
/// Depth taken where water was seen to stand on the ground, but no depth of wetness was seen, cm (judgement).
const WET_UNSEEN_CM: f64 = 10.0;
/// Hours of a day that a system can run on one bed, beside all others (judgement).
const RUNS_H_D: f64 = 12.0;
/// Efficiency where the book gives none: drip as kept well (common practice).
const USUAL_EFFICIENCY: f64 = 0.85;

/// Something that was not looked at, and what would tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Unknown {
    /// Nothing tells of sand, silt and clay.
    Texture,
    /// No pH in water.
    Acidity,
    /// Nobody looked whether water stands, or one sign hints at it.
    Wetness,
    /// No frost dates and no usual weather.
    Warmth,
    /// Nobody looked for a pan.
    Pan,
    /// Salts were not measured.
    Salts,
    /// How it is watered is not written down.
    Water,
}

impl Unknown {
    /// Does no verdict get firm while it is not known?
    #[must_use]
    pub fn holds_back(self) -> bool {
        matches!(self, Self::Texture | Self::Acidity | Self::Wetness | Self::Warmth)
    }

    /// What would settle it, in a sentence.
    #[must_use]
    pub fn settle(self) -> &'static str {
        match self {
            Self::Texture => {
                "Nothing recorded here tells the texture: squeeze a handful (a feel test takes twenty minutes) or settle a jar."
            }
            Self::Acidity => {
                "The pH was never tested here: a soil test, or a pH kit in distilled water, tells."
            }
            Self::Wetness => {
                "Nobody looked whether water stands here: dig a hole after a long wet spell and write down what it shows, dry or wet."
            }
            Self::Warmth => {
                "The farm's frost dates and usual weather are not in the book: enter them, and the days each crop gets can be told."
            }
            Self::Pan => {
                "Nobody looked for a packed layer: push a rod down when the ground is moist, or dig."
            }
            Self::Salts => "Salts were not measured here: a laboratory's conductivity tells.",
            Self::Water => "How this plot is watered is not written down: change the plot to say it.",
        }
    }

    /// Where to write it down, on this plot.
    #[must_use]
    pub fn address(self, plot: EntryId) -> String {
        match self {
            Self::Texture => format!("/plots/{plot}/record/feel"),
            Self::Acidity | Self::Salts => format!("/plots/{plot}/record/lab-report"),
            Self::Wetness => format!("/plots/{plot}/record/signs"),
            Self::Pan => format!("/plots/{plot}/record/probe"),
            Self::Warmth => "/settings".to_owned(),
            Self::Water => format!("/records/{plot}/correct"),
        }
    }
}

/// A plot as crops see it.
#[derive(Debug, Clone)]
pub struct PlotPlace {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// Under the sky or under cover.
    pub place: Place,
    /// Equally likely draws.
    pub spots: Vec<Spot>,
    /// How early or late the frosts of each draw's year are, in standard deviations.
    pub year_z: Vec<f64>,
    /// Its year.
    pub year: FrostYear,
    /// What is not known of it.
    pub unknown: Vec<Unknown>,
    /// Does evidence contradict evidence here, or is wetness inferred from signs alone?
    pub doubtful: bool,
    /// The soil test that tells its pH.
    pub test: Option<AcidTest>,
    /// Depth of wetness, cm, where the ground is wet at times.
    pub wet_from_cm: Option<f64>,
    /// Depth of rock, cm, where it was met.
    pub rock_cm: Option<f64>,
    /// Depth of a pan, cm, where one was felt or roots turned.
    pub pan_cm: Option<f64>,
    /// Saturation extract, dS/m, where salts were measured.
    pub salts_ds_m: Option<Spread>,
    /// Water that crops can use, m³/m³.
    pub available: Option<Spread>,
    /// What water a system at hand can bring a day, mm.
    pub gives_mm_d: Option<f64>,
    /// Rate of that system, mm/h over the bed.
    pub rate_mm_h: Option<f64>,
    /// How water comes.
    pub water: Option<WaterWay>,
}

/// Depth of a sign that limits roots, the shallowest of the latest visit that tells one.
fn shallowest(signs: &[SeenSign], of: impl Fn(&SeenSign) -> Option<f64>) -> Option<f64> {
    let on = signs.iter().find(|sign| of(sign).is_some())?.on;
    signs.iter().filter(|sign| sign.on == on).filter_map(of).min_by(f64::total_cmp)
}

/// The year of the farm, as a plot in the open or under cover has it.
fn year_of(snapshot: &Snapshot, plot: &Plot, means: &[f64]) -> FrostYear {
    let farm = &snapshot.farm.body;
    FrostYear {
        mean_c: means.to_vec(),
        last_frost: farm.last_frost.map(day_number),
        first_frost: farm.first_frost.map(day_number),
        covered: plot.place.under_cover(),
    }
}

/// What the weather of the farm gives every plot alike.
#[derive(Debug, Clone, Default)]
pub(super) struct FarmYear {
    means_c: Vec<f64>,
    /// Greatest monthly mean of reference evapotranspiration in the open, mm/d.
    high_et0_mm_d: Option<f64>,
}

impl FarmYear {
    pub(super) fn of(snapshot: &Snapshot) -> Self {
        let Some(usual) = usual_water(snapshot) else { return Self::default() };
        let means_c = match (&usual.tmax_c, &usual.tmin_c) {
            (Some(high), Some(low)) => {
                high.iter().zip(low).map(|(high, low)| f64::midpoint(*high, *low)).collect()
            }
            _ => Vec::new(),
        };
        Self { means_c, high_et0_mm_d: usual.monthly_et0_mm_d.iter().copied().reduce(f64::max) }
    }
}

/// The slowest system of the beds of a plot: its rate over the bed, and how it comes.
fn system_of(snapshot: &Snapshot, plot: &Held<Plot>) -> (Option<f64>, Option<WaterWay>) {
    let (mut rate, mut way) = (None, None);
    for bed in snapshot.beds_of(plot.id) {
        let Some(system) = snapshot.system_of(bed.id) else { continue };
        let body = &system.body;
        if matches!(body.delivery, Delivery::Hand) {
            way = way.or(Some(WaterWay::ByHand));
            continue;
        }
        way = Some(WaterWay::Piped);
        let efficiency = body.efficiency_percent.map_or(USUAL_EFFICIENCY, |share| share.get() / 100.0);
        let over_bed = body.delivery.rate_mm_h(bed.body.length_m.get(), bed.body.width_m.get());
        if let Some(over_bed) = over_bed {
            let usable = efficiency * over_bed;
            rate = Some(rate.map_or(usable, |least: f64| least.min(usable)));
        }
    }
    let said = plot.body.watering.map(|watering| match watering {
        Watering::Drip | Watering::Sprinkler | Watering::Furrow => WaterWay::Piped,
        Watering::ByHand => WaterWay::ByHand,
        Watering::RainOnly => WaterWay::RainOnly,
    });
    (rate, way.or(said))
}

impl PlotPlace {
    /// A plot as crops see it; `None` where the book has no such plot or nothing in its ground holds water.
    pub(super) fn of(snapshot: &Snapshot, report: &PlotReport, farm: &FarmYear) -> Option<Self> {
        let plot = snapshot.plot(report.id)?;
        let soils = Soils::of(snapshot, report)?;
        let signs = signs_of_plot(snapshot, report.id);
        let mut unknown = Vec::new();
        let texture_known = report.make_up_known || soils.top().own;
        let supposed = |what: &str| report.ensemble.assumed.iter().any(|one| one.what == what);
        if !texture_known {
            unknown.push(Unknown::Texture);
        }

        let test = acid_test(snapshot, report.id).filter(|test| test.ph_water.is_some());
        if test.is_none() {
            unknown.push(Unknown::Acidity);
        }

        let judged = judge(&signs_of(&signs, tighter_from_cm(&soils)), report.root_depth_cm);
        let wet_from_cm = match judged.likelihood {
            Likelihood::Seen | Likelihood::Likely => Some(judged.wet_from_cm.unwrap_or(WET_UNSEEN_CM)),
            _ => None,
        };
        if matches!(judged.likelihood, Likelihood::Possible | Likelihood::Unknown) {
            unknown.push(Unknown::Wetness);
        }
        let dry = judged.likelihood == Likelihood::Unlikely;

        use book::model::seen::Sign;
        let rock_cm = shallowest(&signs, |one| match one.sign {
            Sign::Rock { at_cm } => Some(at_cm.get()),
            _ => None,
        });
        // A transect in moist ground goes before single signs, also where it found none.
        let readings = Readings::of(snapshot, report.id);
        let probed = readings.transect().filter(|one| one.comparable);
        let pan_cm = match probed {
            Some(one) => one.found.pan_top_cm.map(|top| top.median),
            None => shallowest(&signs, |one| match one.sign {
                Sign::PanFelt { at_cm } | Sign::RootsTurn { at_cm } => Some(at_cm.get()),
                _ => None,
            }),
        };
        let packing_known = !supposed("packing");
        if pan_cm.is_none() && probed.is_none() && !packing_known {
            unknown.push(Unknown::Pan);
        }

        let reading = latest_reading(snapshot, report.id);
        let classes = || soils.top().soils.iter().map(|soil| soil.class);
        let salts: Option<Vec<f64>> = reading.map(|(_, salts)| extracts(salts, classes()));
        if salts.is_none() {
            unknown.push(Unknown::Salts);
        }

        let (rate_mm_h, water) = system_of(snapshot, plot);
        if water.is_none() {
            unknown.push(Unknown::Water);
        }
        let year = year_of(snapshot, &plot.body, &farm.means_c);
        if year.mean_c.is_empty() && year.frost_free_d().is_none() {
            unknown.push(Unknown::Warmth);
        }
        let et0_mm_d = farm.high_et0_mm_d.unwrap_or(Spot::UNKNOWN.et0_mm_d) * cover_factor(&plot.body);

        let mut print = Fingerprint::new();
        print.bytes(b"suits");
        print.whole(report.ensemble.seed);
        let mut chance = Chance::new(print.finish());
        let or_none = |depth: Option<f64>| depth.unwrap_or(f64::NAN);
        let ph = or_none(test.as_ref().and_then(|test| test.ph_water));
        let free_lime = test.as_ref().is_some_and(|test| test.free_lime);
        let gives_mm_d = rate_mm_h.map(|rate| RUNS_H_D * rate);
        let spots: Vec<Spot> = (0..soils.draws())
            .map(|at| {
                let (soil, water_of) = (soils.top().soils[at], &soils.top().water[at]);
                let held: f64 = soils
                    .layers
                    .iter()
                    .map(|layer| {
                        layer.thickness_mm(0.0, WATER_OVER_CM) * layer.water[at].available.unwrap_or(0.0)
                    })
                    .sum();
                let density = water_of.matric_density.filter(|_| packing_known);
                Spot {
                    band: Some(Band::of(soil.class)),
                    stones_percent: water_of
                        .gravel_volume
                        .filter(|_| !supposed("stones by mass"))
                        .map_or(f64::NAN, |share| 100.0 * share),
                    wet_from_cm: wet_from_cm.unwrap_or(if dry { f64::INFINITY } else { f64::NAN }),
                    fringe_cm: EmptyingCurve::of_soil(water_of).map_or(0.0, |curve| curve.bubbling_cm),
                    rock_cm: or_none(rock_cm),
                    pan_cm: or_none(pan_cm),
                    closeness: density.map_or(f64::NAN, |density| {
                        density / RootLimits::of(soil.soil, soil.class).restricts_above_g_cm3
                    }),
                    ph: ph + PH_STRAYS * chance.normal(),
                    free_lime,
                    ec_ds_m: salts.as_ref().map_or(f64::NAN, |each| each[at]),
                    salt_line: chance.uniform(),
                    available: held / (10.0 * WATER_OVER_CM),
                    et0_mm_d,
                    water,
                    gives_mm_d: gives_mm_d.unwrap_or(f64::NAN),
                }
            })
            .collect();
        Some(Self {
            id: report.id,
            name: report.name.clone(),
            place: plot.body.place,
            year_z: spots.iter().map(|_| chance.normal()).collect(),
            available: Spread::of_equal(&mut spots.iter().map(|spot| spot.available).collect::<Vec<_>>()),
            salts_ds_m: salts.and_then(|mut each| Spread::of_equal(&mut each)),
            spots,
            year,
            unknown,
            doubtful: report.disagreements.iter().any(|one| one.level == ground::belief::Level::Contradicts)
                || judged.likelihood == Likelihood::Likely,
            test,
            wet_from_cm,
            rock_cm,
            pan_cm,
            gives_mm_d,
            rate_mm_h,
            water,
        })
    }
}
