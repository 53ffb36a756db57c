//! One watering followed into the ground: how deep it wets, and what passes below the roots.

use book::Snapshot;
use book::model::{Delivery, EntryId};
use ground::kit::{Bounded, Spread};
use ground::water::SoilWater;
use ground::water::flow::solver::Options;
use ground::water::flow::{Bottom, Case, Layer, Period, Profile, Run, Solver, Spacing, Start, Surface, Top};
use serde::Serialize;

use super::soils::{Soils, earth};
use super::whatif::{PULSES, REST, WORKED_CM, WhatIf};

/// Draws that the odds of loss are run for.
const MANY: usize = 40;
/// Ground followed below the roots, cm.
const BELOW_ROOTS_CM: f64 = 40.0;
/// Share of the usable water that is gone before the watering.
const USED: f64 = 0.5;
/// The watering gives a fifth more than the roots lack: most do (judgement).
const MORE: f64 = 1.2;
/// Least and most water of the run, mm.
const WATER_MM: [f64; 2] = [10.0, 60.0];
/// Rate where no watering system is recorded, mm/h (judgement).
const USUAL_RATE_MM_H: f64 = 10.0;
/// Share of a bed that drip wets where it is not recorded (judgement).
const DRIP_WETS: f64 = 0.5;
/// Water the hollows hold, cm.
const HOLLOWS_CM: f64 = 0.5;
/// Hours followed after the water is off.
const AFTER_H: f64 = 48.0;
/// Moments while water runs and after.
const DURING: u32 = 8;
const AFTERWARDS: u32 = 12;
/// A loss of more than this share of the water counts.
pub const WORTH_NOTING: f64 = 0.1;

/// The ground at one moment.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Moment {
    /// Since the water was turned on.
    pub hours: f64,
    /// Water at each depth, m³/m³.
    pub water_m3_m3: Vec<f64>,
    /// Water that has gone in so far, mm.
    pub in_mm: f64,
    /// Water that has passed below the roots so far, mm.
    pub below_roots_mm: f64,
}

/// A layer of the ground that was followed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RunLayer {
    /// Top, cm.
    pub from_cm: f64,
    /// Bottom, cm.
    pub to_cm: f64,
    /// Water when drained.
    pub field_capacity_m3_m3: f64,
    /// Water when full.
    pub saturation_m3_m3: f64,
}

/// One ground or one way of watering.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Followed {
    /// "this ground", "loosened".
    pub name: &'static str,
    /// Layers.
    pub layers: Vec<RunLayer>,
    /// Depths of the water contents, cm.
    pub depths_cm: Vec<f64>,
    /// Moments in order.
    pub moments: Vec<Moment>,
    /// Water that ran off, mm.
    pub ran_off_mm: f64,
    /// Water below the roots two days later, mm, over what the ground may be.
    pub lost_mm: Option<Spread>,
    /// Odds that more than a tenth of the water passes below the roots.
    pub odds_lost: Option<f64>,
}

/// A watering followed on the ground as it is and with one change.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Wetting {
    /// The change.
    pub what_if: WhatIf,
    /// The change in a sentence.
    pub told: String,
    /// Water given, mm.
    pub water_mm: f64,
    /// Rate at which it comes, mm/h.
    pub rate_mm_h: f64,
    /// Is that the rate of a watering system here?
    pub rate_recorded: bool,
    /// Depth of the roots, cm.
    pub root_depth_cm: f64,
    /// The ground as it is, and then with the change.
    pub grounds: Vec<Followed>,
    /// Draws behind the odds.
    pub draws: usize,
    /// Draws that could not be followed.
    pub left_out: usize,
}

/// Rate at which water comes on the ground it wets, mm/h, with whether it is recorded.
fn rate_of(snapshot: &Snapshot, plot: EntryId) -> (f64, bool) {
    let rates = snapshot.beds.iter().filter(|bed| bed.body.plot == plot).filter_map(|bed| {
        let system = &snapshot.system_of(bed.id)?.body;
        let over_bed = system.delivery.rate_mm_h(bed.body.length_m.get(), bed.body.width_m.get())?;
        let wets = match (system.wetted_percent, system.delivery) {
            (Some(percent), _) => percent.get() / 100.0,
            (None, Delivery::Sprinkler { .. } | Delivery::Hand) => 1.0,
            (None, _) => DRIP_WETS,
        };
        Some(over_bed / wets)
    });
    rates.max_by(f64::total_cmp).map_or((USUAL_RATE_MM_H, false), |rate| (rate.clamp(0.5, 200.0), true))
}

/// One ground to run: layers cut at the worked depth and at the roots.
struct Stack {
    edges_cm: Vec<f64>,
    water: Vec<SoilWater>,
}

fn stack(soils: &Soils, draw: usize, roots_cm: f64, bottom_cm: f64, change: Option<WhatIf>) -> Option<Stack> {
    let mut edges: Vec<f64> = soils.layers.iter().map(|layer| layer.to_cm).collect();
    edges.extend([WORKED_CM, roots_cm, bottom_cm]);
    edges.retain(|edge| *edge <= bottom_cm);
    edges.sort_by(f64::total_cmp);
    edges.dedup_by(|a, b| (*a - *b).abs() < 0.5);
    let mut top = 0.0;
    let water = edges
        .iter()
        .map(|edge| {
            let layer = soils.at((top + edge) / 2.0);
            let own = &layer.water[draw];
            let worked = *edge <= WORKED_CM + 0.5;
            top = *edge;
            match change {
                Some(change) if worked => change.changed(&layer.soils[draw], own),
                _ => Some(*own),
            }
        })
        .collect::<Option<_>>()?;
    Some(Stack { edges_cm: edges, water })
}

/// The watering: rates over time, and until when it runs, h.
fn periods(water_mm: f64, rate_mm_h: f64, pulsed: bool) -> (Vec<Period>, f64) {
    let hours = water_mm / rate_mm_h;
    let on = |until_h: f64| Period { until_h, water_cm_h: rate_mm_h / 10.0, ..Period::default() };
    if !pulsed {
        return (vec![on(hours)], hours);
    }
    let each = hours / f64::from(PULSES);
    let mut at = 0.0;
    let mut periods = Vec::new();
    for pulse in 0..PULSES {
        at += each;
        periods.push(on(at));
        if pulse + 1 < PULSES {
            at += REST * each;
            periods.push(Period { until_h: at, ..Period::default() });
        }
    }
    (periods, at)
}

fn case(stack: &Stack, roots_cm: f64, periods: Vec<Period>, spacing: Spacing) -> Option<Case> {
    let mut top = 0.0;
    let mut layers = Vec::with_capacity(stack.water.len());
    let mut start = Vec::with_capacity(stack.water.len());
    for (edge, water) in stack.edges_cm.iter().zip(&stack.water) {
        layers.push(Layer::of_soil_water(edge - top, water).ok()?);
        let (held, dry) = (water.field_capacity?, water.wilting_point?);
        let gone = if *edge <= roots_cm + 0.5 { USED } else { 0.0 };
        start.push((held - gone * (held - dry)) * earth(water));
        top = *edge;
    }
    Some(Case {
        profile: Profile::new(&layers, spacing).ok()?,
        start: Start::LayerWater(start),
        surface: Surface { top: Top::Open { pond_limit_cm: HOLLOWS_CM, driest_head_cm: -15_296.0 }, periods },
        bottom: Bottom::FreeDrainage,
        roots: None,
    })
}

fn below_roots_mm(run: &Run, at: usize, roots_cm: f64) -> f64 {
    let below = |at: usize| run.water_between_cm(at, roots_cm, f64::INFINITY).unwrap_or(0.0);
    10.0 * (below(at) - below(0) + run.snapshots[at].totals.drainage_cm).max(0.0)
}

/// The draw nearest the middle of what the ground may be that can be followed, with and without the change.
fn middle(soils: &Soils, roots_cm: f64, bottom_cm: f64, change: WhatIf) -> Option<usize> {
    let top = soils.top();
    let usable = top.spread(|water| water.available)?;
    let speed = top.spread(|water| water.saturated_conductivity)?;
    let far = |draw: usize| -> Option<f64> {
        let water = &top.water[draw];
        let off = (water.available? - usable.median) / usable.width().max(1e-6);
        let ratio =
            (water.saturated_conductivity? / speed.median).ln() / (speed.high / speed.low).ln().max(1e-6);
        Some(off * off + ratio * ratio)
    };
    let mut near: Vec<(f64, usize)> =
        (0..soils.draws()).filter_map(|draw| Some((far(draw)?, draw))).collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let runs = |draw: usize, change: Option<WhatIf>| {
        stack(soils, draw, roots_cm, bottom_cm, change)
            .is_some_and(|stack| case(&stack, roots_cm, Vec::new(), Spacing::Even(5.0)).is_some())
    };
    near.into_iter().map(|(_, draw)| draw).find(|draw| runs(*draw, None) && runs(*draw, Some(change)))
}

/// Follows a watering on a plot's ground as it is and with one change; `None` where the ground cannot be
/// followed at all.
#[must_use]
pub(super) fn wetting(
    snapshot: &Snapshot,
    plot: EntryId,
    soils: &Soils,
    usable_mm: f64,
    root_depth_cm: f64,
    what_if: WhatIf,
) -> Option<Wetting> {
    let (rate_mm_h, rate_recorded) = rate_of(snapshot, plot);
    let water_mm = (MORE * USED * usable_mm).clamp(WATER_MM[0], WATER_MM[1]);
    let roots_cm = root_depth_cm;
    let bottom_cm = roots_cm + BELOW_ROOTS_CM;
    let draw = middle(soils, roots_cm, bottom_cm, what_if)?;
    let longest = periods(water_mm, rate_mm_h, what_if == WhatIf::Pulsed).1;
    let times = times(water_mm / rate_mm_h, longest);
    let mut solver = Solver::new();
    let mut left_out = 0;
    let mut grounds = Vec::new();
    for change in [None, Some(what_if)] {
        let pulsed = change == Some(WhatIf::Pulsed);
        let watered = || periods(water_mm, rate_mm_h, pulsed).0;
        let of = |draw: usize, spacing: Spacing| {
            let stack = stack(soils, draw, roots_cm, bottom_cm, change)?;
            let case = case(&stack, roots_cm, watered(), spacing)?;
            Some((stack, case))
        };
        let (stack, run_of) = of(draw, Spacing::Even(2.0))?;
        let mut run = Run::new();
        solver.run(&run_of, &Options::default(), &times, &mut run).ok()?;
        let mut followed = followed(&stack, &run, roots_cm, change);
        // Coarser cells do for an amount.
        let coarse = Spacing::Growing { first_cm: 1.5, factor: 1.15, greatest_cm: 6.0 };
        let options = Options { step_error: 6e-3, residual_cm: 1e-6, ..Options::default() };
        let ends = [0.0, longest + AFTER_H];
        let mut lost = Vec::with_capacity(MANY);
        for at in (0..soils.draws()).step_by((soils.draws() / MANY).max(1)) {
            let done = of(at, coarse).and_then(|(_, case)| solver.run(&case, &options, &ends, &mut run).ok());
            match done {
                Some(()) => lost.push(below_roots_mm(&run, 1, roots_cm)),
                None => left_out += 1,
            }
        }
        #[expect(clippy::cast_precision_loss, reason = "draws by the dozen")]
        let share =
            lost.iter().filter(|mm| **mm > WORTH_NOTING * water_mm).count() as f64 / lost.len().max(1) as f64;
        followed.odds_lost = (!lost.is_empty()).then_some(share);
        followed.lost_mm = Spread::of_equal(&mut lost);
        grounds.push(followed);
    }
    Some(Wetting {
        what_if,
        told: what_if.told(snapshot.farm.body.units),
        water_mm,
        rate_mm_h,
        rate_recorded,
        root_depth_cm: roots_cm,
        grounds,
        draws: MANY,
        left_out,
    })
}

fn followed(stack: &Stack, run: &Run, roots_cm: f64, change: Option<WhatIf>) -> Followed {
    let mut top = 0.0;
    let layers = stack
        .edges_cm
        .iter()
        .zip(&stack.water)
        .map(|(edge, water)| {
            let from_cm = std::mem::replace(&mut top, *edge);
            RunLayer {
                from_cm,
                to_cm: *edge,
                field_capacity_m3_m3: water.field_capacity.unwrap_or(0.0) * earth(water),
                saturation_m3_m3: water.saturation.unwrap_or(0.0) * earth(water),
            }
        })
        .collect();
    let moments = (0..run.snapshots.len())
        .map(|at| {
            let now = &run.snapshots[at];
            Moment {
                hours: now.time_h,
                water_m3_m3: now.theta.clone(),
                in_mm: (10.0 * now.totals.infiltration_cm).max(0.0),
                below_roots_mm: below_roots_mm(run, at, roots_cm),
            }
        })
        .collect();
    Followed {
        name: change.map_or("this ground", WhatIf::words),
        layers,
        depths_cm: run.depth_cm.clone(),
        moments,
        ran_off_mm: run.snapshots.last().map_or(0.0, |last| 10.0 * last.totals.runoff_cm.max(0.0)),
        lost_mm: None,
        odds_lost: None,
    }
}

/// Moments: evenly while the longest watering runs, then ever further apart.
fn times(hours: f64, longest: f64) -> Vec<f64> {
    let mut times: Vec<f64> = (0..=DURING).map(|n| longest * f64::from(n) / f64::from(DURING)).collect();
    if hours < longest {
        times.push(hours);
    }
    times.extend((1..=AFTERWARDS).map(|n| {
        let share = f64::from(n) / f64::from(AFTERWARDS);
        longest + AFTER_H * share * share
    }));
    times.sort_by(f64::total_cmp);
    times.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    times
}
