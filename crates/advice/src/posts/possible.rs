//! What the ground of a post may be: every draw of the plot's layers, with what texture and the book leave open.

use book::Snapshot;
use book::model::seen::{BuildingGround, Sign, Smell};
use book::model::{EntryId, Seen};
use ground::kit::Bounded;
use ground::posts::building_class::BuildingClass;
use ground::posts::class_odds::ClassOdds;
use ground::posts::shrink_swell::ShrinkSwell;
use ground::posts::soil_class::{TOO_ORGANIC_PERCENT, VERY_FINE_AT_MOST, class_of_fines, passing_75um};
use ground::posts::strength::Strength;

use crate::plot_report::{PlotReport, signs_of_plot};
use crate::water::{LayerDraws, Soils};

/// Shares of the very fine sand that may be there: none, half, all (as [`ClassOdds::of`] takes them).
pub(crate) const VERY_FINE_SHARES: [f64; 3] = [0.0, 0.5, 1.0];
/// Depths of tilled ground where nobody wrote one down, 6, 8 and 12 in (common practice), m.
pub(crate) const TILLED_M: [f64; 3] = [0.152_4, 0.203_2, 0.304_8];
/// Ground at the top that drought parts from a post where it shrinks and swells much: 2 ft, of 1 to 3 (common practice).
pub(crate) const CRACKED_M: f64 = 0.609_6;
/// Draws in four of which the foot stands in water at times where nobody looked (judgement).
const UNKNOWN_WET_OF_4: usize = 1;
/// The same below the depth from which the ground is mottled or grey (judgement).
const MOTTLED_WET_OF_4: usize = 3;

/// What is known of water about the foot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum WaterAt {
    /// It stood in a hole at that depth, cm.
    Stood(f64),
    /// The ground is mottled or grey from that depth down, cm.
    Mottled(f64),
    /// A hole of that depth stayed dry in the wettest season, cm.
    Dry(f64),
    /// Nobody looked.
    Unknown,
}

/// The possible grounds of a plot.
pub(crate) struct Grounds {
    pub(crate) soils: Soils,
    /// The latest of each thing that was found for building.
    pub(crate) found: BuildingGround,
    /// Plasticity index, and whether a laboratory gave it.
    pub(crate) plasticity: Option<(f64, bool)>,
    pub(crate) water: WaterAt,
    /// Cracks were seen: its clay swells.
    pub(crate) swelling: bool,
    /// Rotten eggs were smelled.
    pub(crate) sulfides: bool,
    /// Depth of rock or stones that stopped a spade, a bar or an auger, cm.
    pub(crate) stopped_cm: Option<f64>,
}

/// One possible ground about a post of some depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Case {
    pub(crate) class: BuildingClass,
    pub(crate) below_water: bool,
    /// Ground at the top that is not counted, m.
    pub(crate) top_m: f64,
    /// Mineral ground that bears at all.
    pub(crate) bears: bool,
}

impl Case {
    pub(crate) fn bearing_kpa_m(&self, harmless: bool) -> f64 {
        self.class.presumptive().lateral_kpa_m(self.below_water) * if harmless { 2.0 } else { 1.0 }
    }

    pub(crate) fn strength(&self) -> Strength {
        Strength::planning(self.class, self.below_water)
    }
}

impl Grounds {
    pub(crate) fn of(snapshot: &Snapshot, report: &PlotReport) -> Option<Self> {
        let soils = Soils::of(snapshot, report)?;
        let signs = signs_of_plot(snapshot, report.id);
        let found = found(snapshot, report.id);
        let shallowest =
            |pick: fn(Sign) -> Option<f64>| signs.iter().filter_map(|one| pick(one.sign)).reduce(f64::min);
        let stood = shallowest(|sign| match sign {
            Sign::WaterTable { at_cm } => Some(at_cm.get()),
            _ => None,
        });
        let mottled = shallowest(|sign| match sign {
            Sign::Mottles { from_cm } | Sign::GreyLayer { from_cm } => Some(from_cm.get()),
            _ => None,
        });
        let stood = stood.into_iter().chain(found.water_at_cm.map(Bounded::get)).reduce(f64::min);
        let water = match (stood, mottled, found.dry_to_cm) {
            (Some(at), ..) => WaterAt::Stood(at),
            (None, Some(from), _) => WaterAt::Mottled(from),
            (None, None, Some(dry)) => WaterAt::Dry(dry.get()),
            (None, None, None) => WaterAt::Unknown,
        };
        let rock = shallowest(|sign| match sign {
            Sign::Rock { at_cm } => Some(at_cm.get()),
            _ => None,
        });
        Some(Self {
            soils,
            plasticity: found.plasticity_index(),
            water,
            swelling: signs.iter().any(|one| matches!(one.sign, Sign::Cracks { .. })),
            sulfides: signs.iter().any(|one| matches!(one.sign, Sign::Smell { of: Smell::RottenEggs })),
            stopped_cm: rock.into_iter().chain(found.stopped_at_cm.map(Bounded::get)).reduce(f64::min),
            found,
        })
    }

    /// How many possible grounds there are; all count alike.
    pub(crate) fn len(&self) -> usize {
        VERY_FINE_SHARES.len() * self.soils.draws()
    }

    fn layer(&self, depth_m: f64) -> &LayerDraws {
        self.soils.at(100.0 * depth_m)
    }

    /// Silt and clay with what passes the fine sieve of the sand, percent, of one possible ground at a depth.
    pub(crate) fn passing(&self, at: usize, depth_m: f64) -> f64 {
        let (draw, share) = (at / VERY_FINE_SHARES.len(), VERY_FINE_SHARES[at % VERY_FINE_SHARES.len()]);
        let one = &self.layer(depth_m).soils[draw];
        passing_75um(one.soil, share * VERY_FINE_AT_MOST * one.soil.sand, one.gravel_mass_percent)
    }

    /// How much one draw shrinks and swells at a depth.
    pub(crate) fn shrink_swell(&self, draw: usize, depth_m: f64) -> ShrinkSwell {
        match self.plasticity {
            Some((index, _)) => ShrinkSwell::of_plasticity(index),
            None => ShrinkSwell::of_clay(self.layer(depth_m).soils[draw].soil.clay, self.swelling),
        }
    }

    /// Ground at the top of one draw that no code counts, m: tilled, fill or organic, and what drought opens.
    pub(crate) fn top_m(&self, draw: usize) -> f64 {
        let m = |depth: Option<book::model::seen::SignDepth>| depth.map(|depth| depth.get() / 100.0);
        let found = &self.found;
        let tilled = m(found.tilled_to_cm).unwrap_or(TILLED_M[draw % TILLED_M.len()]);
        let laid = m(found.fill_to_cm).unwrap_or(0.0).max(m(found.organic_to_cm).unwrap_or(0.0));
        let cracked = if self.shrink_swell(draw, 0.3) >= ShrinkSwell::High { CRACKED_M } else { 0.0 };
        tilled.max(laid).max(cracked)
    }

    fn below_water(&self, draw: usize, foot_m: f64) -> bool {
        let foot_cm = 100.0 * foot_m;
        let quarter = draw / TILLED_M.len() % 4;
        match self.water {
            WaterAt::Stood(at) => foot_cm > at,
            WaterAt::Mottled(from) => foot_cm > from && quarter < MOTTLED_WET_OF_4,
            WaterAt::Dry(to) => foot_cm > to && quarter < UNKNOWN_WET_OF_4,
            WaterAt::Unknown => quarter < UNKNOWN_WET_OF_4,
        }
    }

    /// One possible ground about a post of that depth: the softer class of what stands at a third of the
    /// counted depth and at the foot.
    pub(crate) fn case(&self, at: usize, depth_m: f64) -> Case {
        let draw = at / VERY_FINE_SHARES.len();
        let top_m = self.top_m(draw);
        let third_m = top_m + (depth_m - top_m).max(0.0) / 3.0;
        let class = class_of_fines(self.passing(at, third_m)).max(class_of_fines(self.passing(at, depth_m)));
        let organic =
            |depth: f64| self.layer(depth).soils[draw].organic_matter_percent >= TOO_ORGANIC_PERCENT;
        Case {
            class,
            below_water: self.below_water(draw, depth_m),
            top_m,
            bears: depth_m > top_m && !organic(third_m) && !organic(depth_m),
        }
    }

    /// Odds of the building classes about a post of that depth.
    pub(crate) fn class_odds(&self, cases: &[Case]) -> ClassOdds {
        let fine = share(cases, |case| case.class == BuildingClass::SiltAndClay);
        ClassOdds { sand: 1.0 - fine, silt_and_clay: fine }
    }

    pub(crate) fn cases(&self, depth_m: f64) -> Vec<Case> {
        (0..self.len()).map(|at| self.case(at, depth_m)).collect()
    }
}

/// Share of the cases for which something holds.
#[expect(clippy::cast_precision_loss, reason = "cases by the thousand")]
pub(crate) fn share<T>(cases: &[T], holds: impl Fn(&T) -> bool) -> f64 {
    cases.iter().filter(|case| holds(case)).count() as f64 / cases.len().max(1) as f64
}

/// What most of the cases are, and their share; of two that are as many the one that came first.
pub(crate) fn commonest<T: Copy + PartialEq>(cases: &[T]) -> Option<(T, f64)> {
    let mut counts: Vec<(T, usize)> = Vec::new();
    for one in cases {
        match counts.iter_mut().find(|(other, _)| other == one) {
            Some((_, count)) => *count += 1,
            None => counts.push((*one, 1)),
        }
    }
    let (most, _) = counts.into_iter().reduce(|best, one| if one.1 > best.1 { one } else { best })?;
    Some((most, share(cases, |one| *one == most)))
}

/// The latest of each thing that was written down of the ground to build on.
fn found(snapshot: &Snapshot, plot: EntryId) -> BuildingGround {
    let mut read: Vec<(jiff::civil::Date, &BuildingGround)> = snapshot
        .evidence(plot)
        .filter_map(|held| match &held.body.seen {
            Seen::BuildingGround(found) => Some((held.body.seen_on, found)),
            _ => None,
        })
        .collect();
    read.sort_by_key(|(on, _)| std::cmp::Reverse(*on));
    let mut all = BuildingGround::default();
    for (_, one) in read {
        if all.liquid_limit_percent.is_none() {
            all.liquid_limit_percent = one.liquid_limit_percent;
            all.plastic_limit_percent = one.plastic_limit_percent;
        }
        all.at_cm = all.at_cm.or(one.at_cm);
        all.thread = all.thread.or(one.thread);
        all.resistivity_ohm_m = all.resistivity_ohm_m.or(one.resistivity_ohm_m);
        all.tilled_to_cm = all.tilled_to_cm.or(one.tilled_to_cm);
        all.fill_to_cm = all.fill_to_cm.or(one.fill_to_cm);
        all.organic_to_cm = all.organic_to_cm.or(one.organic_to_cm);
        all.stopped_at_cm = all.stopped_at_cm.or(one.stopped_at_cm);
        all.water_at_cm = all.water_at_cm.or(one.water_at_cm);
        all.dry_to_cm = all.dry_to_cm.or(one.dry_to_cm);
    }
    all
}
