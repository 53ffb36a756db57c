//! Ring infiltration on a plot: all rings together, freed of the water that leaves them sideways.

use book::Snapshot;
use book::model::EntryId;
use book::model::seen::{Ring, RingInfiltration};
use ground::kit::{Bounded, Spread};
use ground::water::infiltration::IntakeClass;
use ground::water::infiltration::ring::{Combined, GroundKind, combine, rate_mm_h, side_flow_factor};
use jiff::civil::Date;
use serde::Serialize;

/// Depth a ring is driven where nothing is said, cm: three inches, the usual test.
const DRIVEN_CM: f64 = 7.62;
/// Factor by which a single ring strays from the ground around it, 90 %: rings a stride apart commonly
/// differ threefold (common practice, no source).
pub(crate) const LONE_RING_FACTOR: f64 = 3.0;

/// One ring as it was read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RingSeen {
    /// Day.
    pub on: Date,
    /// Rate of the last pouring, mm/h.
    pub rate_mm_h: f64,
    /// Its class.
    pub class: IntakeClass,
    /// Conductivity of the ground, mm/h, the water that left sideways taken off.
    pub conductivity_mm_h: f64,
    /// Only one pouring was timed: ground that was not wet before drinks faster.
    pub first_pouring: bool,
    /// Water still stood when the watch was stopped: the rate is at most this.
    pub at_most: bool,
}

/// The rings of a plot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Rings {
    /// Each, earliest first.
    pub rings: Vec<RingSeen>,
    /// Rates together.
    pub rate: Combined,
    /// Conductivities together.
    pub conductivity: Combined,
    /// The mean conductivity with its 90 % range; a lone ring is taken to be off by a factor of three.
    pub mean_mm_h: Spread,
}

/// The rings of one record.
pub(crate) fn seen_in(on: Date, test: &RingInfiltration) -> Vec<RingSeen> {
    let diameter_cm = test.inside_diameter_mm.get() / 10.0;
    let read = |ring: &Ring| {
        let depth_mm = test.depth_mm(ring);
        let rate = rate_mm_h(depth_mm, ring.second_min.unwrap_or(ring.first_min).get());
        // Half of what was poured stands in the ring on the average.
        let alpha = GroundKind::Structured.alpha_per_cm();
        let factor = side_flow_factor(diameter_cm, DRIVEN_CM, depth_mm / 20.0, alpha);
        RingSeen {
            on,
            rate_mm_h: rate,
            class: IntakeClass::of(rate),
            conductivity_mm_h: rate / factor,
            first_pouring: ring.second_min.is_none(),
            at_most: ring.still_stood,
        }
    };
    test.rings.iter().map(read).collect()
}

impl Rings {
    /// All rings of a plot; `None` without any.
    #[must_use]
    pub fn of(snapshot: &Snapshot, plot: EntryId) -> Option<Self> {
        let mut rings = Vec::new();
        for (held, test) in snapshot.rings_of(plot) {
            rings.extend(seen_in(held.body.seen_on, test));
        }
        let all = |of: fn(&RingSeen) -> f64| combine(&rings.iter().map(of).collect::<Vec<_>>());
        let (rate, conductivity) = (all(|ring| ring.rate_mm_h)?, all(|ring| ring.conductivity_mm_h)?);
        let mean = conductivity.mean_mm_h;
        let mean_mm_h = Spread {
            low: conductivity.low_mm_h.unwrap_or(mean / LONE_RING_FACTOR),
            median: mean,
            high: conductivity.high_mm_h.unwrap_or(mean * LONE_RING_FACTOR),
        };
        Some(Self { rings, rate, conductivity, mean_mm_h })
    }

    /// The day of the latest.
    #[must_use]
    pub fn last_on(&self) -> Date {
        self.rings.iter().map(|ring| ring.on).max().unwrap_or(Date::ZERO)
    }

    /// How many.
    #[must_use]
    pub fn count(&self) -> usize {
        self.rings.len()
    }

    /// "one ring", "3 rings".
    #[must_use]
    pub fn words(&self) -> String {
        if self.count() == 1 { "one ring".to_owned() } else { format!("{} rings", self.count()) }
    }
}
