//! How the ground takes water: worked out, measured, and what that means for rain and sprinklers.

use book::Snapshot;
use book::model::seen::Sign;
use book::model::{Delivery, EntryId, UnitSystem};
use ground::kit::{Bounded, Spread};
use ground::water::infiltration::green_ampt::GreenAmpt;
use ground::water::infiltration::percolation::{PercolationSign, minutes_per_inch};
use ground::water::infiltration::sprinkler_rate::{IntakeProfile, greatest_rate_mm_h};
use ground::water::infiltration::{HydrologicGroup, KsatClass, hydrologic_group};
use jiff::civil::Date;
use serde::Serialize;

use super::soils::Soils;
use crate::ranks::rank;
use crate::rings::Rings;
use crate::words;

/// Showers that are judged: half an inch, an inch and two inches in an hour. The second is a hard shower in
/// most temperate places, the third a cloudburst (judgement).
pub const SHOWERS_MM: [f64; 3] = [12.7, 25.4, 50.8];
/// A layer conducts this many times less than the ground above it: water perches on it (judgement).
const TIGHTER_BY: f64 = 5.0;
/// Ground that has dried to where a shower is welcome: half of what crops can use is gone.
const DRY_SHARE: f64 = 0.5;

/// A percolation hole as a symptom.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HoleSeen {
    /// Day.
    pub on: Date,
    /// Its rate as it is written.
    pub minutes_per_inch: f64,
    /// What it says.
    pub sign: PercolationSign,
    /// The same in words.
    pub words: &'static str,
    /// Was the hole soaked beforehand? Else it says little.
    pub soaked: bool,
}

/// Odds that water stands in a shower.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Shower {
    /// Rain or sprinkling, mm/h.
    pub rate_mm_h: f64,
    /// How long, h.
    pub hours: f64,
    /// Is it a sprinkler of this farm and no rain?
    pub sprinkler: bool,
    /// Odds that water stands before the end, on ground that had drained.
    pub stands_when_drained: f64,
    /// The same on ground that had dried to half of its available water.
    pub stands_when_dry: f64,
    /// Water that does not go in, mm, on ground that had drained.
    pub sheds_mm: Option<Spread>,
}

/// Odds of a hydrologic group.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct GroupOdds {
    /// The group.
    pub group: HydrologicGroup,
    /// As it is written.
    pub name: &'static str,
    /// Odds, 0 to 1.
    pub odds: f64,
}

/// The greatest rate of sprinklers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SprinklerLimit {
    /// By the table, over what the ground may be; nothing on slopes beyond it.
    pub by_table_mm_h: Option<Spread>,
    /// The same on bare ground or ground that crusts.
    pub bare_mm_h: Option<Spread>,
    /// By the rings: the mean intake; the table is set aside.
    pub measured_mm_h: Option<f64>,
    /// Slope it is for, percent.
    pub slope_percent: f64,
    /// Was the slope recorded?
    pub slope_given: bool,
    /// Is the ground below more compact?
    pub compact_below: bool,
}

/// How the ground takes water.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Intake {
    /// Saturated conductivity of the top by the equations, mm/h.
    pub computed_mm_h: Option<Spread>,
    /// Class of its median.
    pub computed_class: Option<KsatClass>,
    /// Rings, where there are any: they outrank what is computed.
    pub rings: Option<Rings>,
    /// Class of the rings' mean.
    pub measured_class: Option<KsatClass>,
    /// How the rings and the equations compare, in a sentence.
    pub compared: Option<String>,
    /// Percolation holes, earliest first.
    pub holes: Vec<HoleSeen>,
    /// Tightest layer within a metre that is much tighter than the top, cm.
    pub tighter_from_cm: Option<f64>,
    /// Showers and sprinklers.
    pub showers: Vec<Shower>,
    /// Hydrologic soil group with its odds, likeliest first: a direction, not the mapped group.
    pub groups: Vec<GroupOdds>,
    /// Greatest rate of sprinklers.
    pub sprinkler: SprinklerLimit,
}

/// What the rings say against the equations.
fn compared(rings: &Rings, computed: Spread, units: UnitSystem) -> String {
    // A wetting front in the field reaches about half of the saturated conductivity.
    let front = computed.median * ground::water::infiltration::green_ampt::FRONT_SHARE;
    let times = rings.mean_mm_h.median / front;
    let by = if times >= 1.0 { times } else { 1.0 / times };
    let inside = rings.mean_mm_h.high >= 0.5 * computed.low && rings.mean_mm_h.low <= 0.5 * computed.high;
    let measured = words::rate(rings.mean_mm_h.median, units);
    if by < 1.5 {
        return format!("The rings ({measured}) and the make-up ({}) agree.", words::rate(front, units));
    }
    let way = if times > 1.0 { "faster" } else { "slower" };
    let why = match (times > 1.0, inside) {
        (_, true) => "Both can be true: the ranges overlap.",
        (true, false) => "Worm holes, cracks and crumbs do that, and the measured rate is what counts.",
        (false, false) => "Packing, a crust or a pan does that, and the measured rate is what counts.",
    };
    format!(
        "The rings took {measured}, {} times {way} than the make-up alone lets expect ({}). {why}",
        words::short(by),
        words::rate(front, units)
    )
}

/// What the wetting front meets in one draw at a start content, rings outranking the equations.
fn front(soils: &Soils, draw: usize, dry: f64, rings: Option<&Rings>) -> Option<GreenAmpt> {
    let water = &soils.top().water[draw];
    let (held, wilt) = (water.field_capacity?, water.wilting_point?);
    let mut front = GreenAmpt::of_soil(water, held - dry * (held - wilt))?;
    if let Some(rings) = rings {
        front.conductivity_mm_h = ring_draw(rings, draw);
    }
    Some(front)
}

/// The rings' mean with its doubt, spread evenly over the draws on a logarithmic scale.
fn ring_draw(rings: &Rings, draw: usize) -> f64 {
    let place = rank(draw);
    let Spread { low, median, high } = rings.mean_mm_h;
    let reach = if place < 0.5 { median / low } else { high / median };
    // The ends of the 90 % range fall on 0.05 and 0.95.
    median * reach.powf((place - 0.5) / 0.45)
}

fn shower(soils: &Soils, rate_mm_h: f64, hours: f64, sprinkler: bool, rings: Option<&Rings>) -> Shower {
    let stands = |dry: f64| {
        soils.odds(|draw| {
            // A draw without a conductivity has no pores left to drain through.
            front(soils, draw, dry, rings).is_none_or(|front| front.ponds_within(rate_mm_h, hours))
        })
    };
    let sheds = |draw: usize| Some(front(soils, draw, 0.0, rings)?.runoff_mm(rate_mm_h, hours, 0.0));
    Shower {
        rate_mm_h,
        hours,
        sprinkler,
        stands_when_drained: stands(0.0),
        stands_when_dry: stands(DRY_SHARE),
        sheds_mm: soils.spread(sheds),
    }
}

/// Rates of the sprinklers on the beds of a plot, mm/h, each once.
#[must_use]
pub fn sprinklers_mm_h(snapshot: &Snapshot, plot: EntryId) -> Vec<f64> {
    let mut rates: Vec<f64> = snapshot
        .beds
        .iter()
        .filter(|bed| bed.body.plot == plot)
        .filter_map(|bed| match snapshot.system_of(bed.id)?.body.delivery {
            Delivery::Sprinkler { rate_mm_h } => Some(rate_mm_h.get()),
            _ => None,
        })
        .collect();
    rates.sort_by(f64::total_cmp);
    rates.dedup();
    rates
}

/// Where the ground turns much tighter within a metre, cm, by the medians of its layers.
pub(crate) fn tighter_from_cm(soils: &Soils) -> Option<f64> {
    let median = |at: usize| Some(soils.layers[at].spread(|water| water.saturated_conductivity)?.median);
    (1..soils.layers.len()).find_map(|at| {
        let layer = &soils.layers[at];
        let tighter = median(at)? * TIGHTER_BY < median(at - 1)?;
        (tighter && layer.from_cm < 100.0).then_some(layer.from_cm)
    })
}

/// What the signs of a plot say of the surface and of hard floors.
pub(super) struct Surface {
    /// A crust was seen.
    pub crusts: bool,
    /// Rock or a felt pan, cm.
    pub floor_cm: Option<f64>,
    /// Wetness that the ground shows, cm.
    pub wet_from_cm: Option<f64>,
}

impl Surface {
    pub(super) fn of(signs: impl Iterator<Item = Sign>, wet_from_cm: Option<f64>) -> Self {
        let mut surface = Self { crusts: false, floor_cm: None, wet_from_cm };
        for sign in signs {
            match sign {
                Sign::Crust { .. } => surface.crusts = true,
                Sign::Rock { at_cm } => {
                    let at = at_cm.get();
                    surface.floor_cm = Some(surface.floor_cm.map_or(at, |floor| floor.min(at)));
                }
                _ => {}
            }
        }
        surface
    }
}

fn groups(soils: &Soils, surface: &Surface) -> Vec<GroupOdds> {
    let floor = surface.floor_cm.unwrap_or(f64::INFINITY);
    let table = surface.wet_from_cm.unwrap_or(f64::INFINITY);
    let depth_cm = if floor <= 100.0 || (60.0..=100.0).contains(&table) { 50.0 } else { 100.0 };
    let least = |draw: usize| {
        soils
            .layers
            .iter()
            .filter(|layer| layer.from_cm < depth_cm)
            .map(|layer| layer.water[draw].saturated_conductivity.unwrap_or(0.0))
            .fold(f64::INFINITY, f64::min)
    };
    let each: Vec<HydrologicGroup> =
        (0..soils.draws()).map(|draw| hydrologic_group(least(draw), floor, table)).collect();
    let mut odds: Vec<GroupOdds> = HydrologicGroup::ALL
        .into_iter()
        .map(|group| GroupOdds { group, name: group.name(), odds: soils.odds(|draw| each[draw] == group) })
        .filter(|one| one.odds > 0.0)
        .collect();
    odds.sort_by(|a, b| b.odds.total_cmp(&a.odds));
    odds
}

pub(super) fn intake(
    snapshot: &Snapshot,
    plot: EntryId,
    soils: &Soils,
    slope_percent: Option<f64>,
    surface: &Surface,
) -> Intake {
    let units = snapshot.farm.body.units;
    let rings = Rings::of(snapshot, plot);
    let computed_mm_h = soils.top().spread(|water| water.saturated_conductivity);
    let tighter = tighter_from_cm(soils);
    let slope = slope_percent.unwrap_or(0.0);
    let table = |bare: bool| {
        let rate = |class| greatest_rate_mm_h(IntakeProfile::of(class, tighter.is_some()), slope, bare);
        soils.spread(|draw| rate(soils.top().soils[draw].class))
    };
    let showers = SHOWERS_MM
        .into_iter()
        .map(|mm| shower(soils, mm, 1.0, false, rings.as_ref()))
        .chain(
            sprinklers_mm_h(snapshot, plot)
                .into_iter()
                // Until an inch is on: the usual watering.
                .map(|rate| shower(soils, rate, 25.4 / rate, true, rings.as_ref())),
        )
        .collect();
    Intake {
        computed_class: computed_mm_h.map(|spread| KsatClass::of(spread.median)),
        measured_class: rings.as_ref().map(|rings| KsatClass::of(rings.mean_mm_h.median)),
        compared: rings.as_ref().zip(computed_mm_h).map(|(rings, spread)| compared(rings, spread, units)),
        holes: snapshot
            .percolations_of(plot)
            .map(|(held, hole)| {
                let minutes_per_inch = minutes_per_inch(hole.fall_mm.get(), hole.minutes.get());
                let sign = PercolationSign::of(minutes_per_inch);
                HoleSeen {
                    on: held.body.seen_on,
                    minutes_per_inch,
                    sign,
                    words: sign.words(),
                    soaked: hole.soaked,
                }
            })
            .collect(),
        tighter_from_cm: tighter,
        showers,
        groups: groups(soils, surface),
        sprinkler: SprinklerLimit {
            by_table_mm_h: table(surface.crusts),
            bare_mm_h: table(true),
            measured_mm_h: rings.as_ref().map(|rings| rings.mean_mm_h.median),
            slope_percent: slope,
            slope_given: slope_percent.is_some(),
            compact_below: tighter.is_some(),
        },
        computed_mm_h,
        rings,
    }
}
