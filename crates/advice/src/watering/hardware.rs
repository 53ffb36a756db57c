//! A bed's watering as the book describes it, in the terms of the equations.

use book::model::{Bed, Delivery, WaterSupply, WateringAmount, WateringDone, WateringSystem};
use ground::belief::Known;
use ground::irrigation::hardware::{
    BedSystem, Emission, Kind, Layering, StripTexture, efficiency_range, strip,
};
use ground::kit::Bounded;
use ground::texture::Class;

use super::place::{Wanted, WantedKind};

/// Water a can holds, L: the usual garden can of 2 US gallons is 7.6, the metric one 10.
const CAN_L: (f64, f64) = (7.570_823_568, 10.0);

/// A bed's watering.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Hardware {
    /// What waters one bed; absent where no flow is known.
    pub system: Option<BedSystem>,
    /// In words: "drip tape".
    pub words: &'static str,
    /// Its kind.
    pub kind: Kind,
    /// Share of the water that reaches the roots.
    pub efficiency: Known,
    /// Was that share given?
    pub efficiency_given: bool,
    /// Share of the ground it wets, where it was given.
    pub wetted_given: Option<f64>,
    /// What is wanted to say more.
    pub wanted: Vec<Wanted>,
}

impl Hardware {
    /// From the book's records. A hose has the flow of its supply.
    pub(super) fn of(bed: &Bed, system: &WateringSystem, supply: Option<&WaterSupply>) -> Self {
        let (length_m, width_m) = (bed.length_m.get(), bed.width_m.get());
        let (kind, lines, emission) = match system.delivery {
            Delivery::DripTape { flow_l_h_per_m, lines } => {
                (Kind::Drip, lines, Some(Emission::Tape { flow_l_h_m: flow_l_h_per_m.get() }))
            }
            Delivery::Emitters { flow_l_h, spacing_m, lines } => (
                Kind::Drip,
                lines,
                Some(Emission::Emitters { flow_l_h: flow_l_h.get(), spacing_m: spacing_m.get() }),
            ),
            Delivery::Sprinkler { rate_mm_h } => {
                (Kind::Sprinkler, 1, Some(Emission::SprinklerRate { rate_mm_h: rate_mm_h.get() }))
            }
            Delivery::Hand => {
                let flow = supply.and_then(|supply| supply.flow_l_min).map(Bounded::get);
                (Kind::Hand, 1, flow.map(|flow_l_min| Emission::Hand { flow_l_min }))
            }
        };
        let mut wanted = Vec::new();
        let system_of = |emission| BedSystem { length_m, width_m, lines: lines.into(), emission }.checked();
        let checked = match emission.map(system_of) {
            Some(Ok(system)) => Some(system),
            Some(Err(refusal)) => {
                wanted.push(Wanted::new(
                    WantedKind::System,
                    format!(
                        "How the bed is watered cannot be reckoned with: {}. Correct it.",
                        refusal.message
                    ),
                ));
                None
            }
            None => {
                wanted.push(Wanted::new(
                    WantedKind::Flow,
                    "Time how long the hose takes to fill a bucket and enter its flow with the water supply: water can then be told in minutes too.",
                ));
                None
            }
        };
        let given = system.efficiency_percent.map(|percent| Known::exactly(percent.get()));
        let usual = efficiency_range(kind);
        let percent = given.unwrap_or(usual);
        Self {
            system: checked,
            words: system.delivery.words(),
            kind,
            efficiency: Known {
                low: percent.low / 100.0,
                likely: percent.likely / 100.0,
                high: percent.high / 100.0,
            },
            efficiency_given: given.is_some(),
            wetted_given: system.wetted_percent.map(|percent| percent.get() / 100.0),
            wanted,
        }
    }

    /// Share of the bed's ground that it wets, with roots this deep in ground of that class.
    pub(super) fn wetted(&self, class: Class, root_depth_m: f64) -> f64 {
        if let Some(share) = self.wetted_given {
            return share;
        }
        let strip = strip(StripTexture::of(class), Layering::Even, root_depth_m);
        self.system.as_ref().map_or(1.0, |system| system.wetted_fraction(strip.width_m))
    }

    /// Depth over the bed, mm, of a watering; `None` for minutes without a known flow.
    pub(super) fn depth_mm(&self, bed: &Bed, watering: &WateringDone) -> Option<f64> {
        match watering.amount {
            WateringAmount::DepthMm(depth) => Some(depth.get()),
            // 1 L on 1 m² is 1 mm.
            WateringAmount::VolumeL(volume) => Some(volume.get() / bed.area_m2()),
            WateringAmount::Minutes(minutes) => {
                let system = self.system?;
                Some(system.rate_mm_h() * minutes.get() / 60.0)
            }
        }
    }
}

/// A volume in cans: "12 cans of 2 gal".
pub(super) fn cans(volume_l: f64, us: bool) -> String {
    let (can, words) = if us { (CAN_L.0, "2 gal") } else { (CAN_L.1, "10 L") };
    let count = (volume_l / can).ceil().max(1.0);
    format!("{count:.0} can{} of {words}", if count > 1.0 { "s" } else { "" })
}
