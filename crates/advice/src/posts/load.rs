//! What pushes and pulls at a post: a load that was given, wind on a tunnel or a fence, the wires of a line.

use ground::kit::Bounded;
use ground::posts::line_wind::{acts_at_m, line_push_m2};
use ground::posts::post_uplift::WEIGHT_COUNTED;
use ground::posts::tunnel_wind::{Place, PostDemand, WIND_COUNTED, post_demand};
use ground::posts::wind_pressure::{Edition, exposure_factor, velocity_pressure_kpa};
use serde::Serialize;

use super::ask::PostAsk;

/// Share of the front of a line that stops the wind where nobody said: wires and mesh (judgement).
pub(super) const USUAL_SOLID_PERCENT: f64 = 15.0;

/// Where a post stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Spot {
    /// Whatever was given.
    Given,
    /// Along the side of a tunnel.
    Side,
    /// At the corner or edge that faces the wind.
    WindwardEdge,
    /// At an end with a door that may stand open.
    DoorEnd,
    /// In the line of a fence or trellis.
    LinePost,
    /// At the end of a line, taking the wires alone.
    EndPost,
}

impl Spot {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Given => "the load that was given",
            Self::Side => "along the side, doors closed",
            Self::WindwardEdge => "at a corner, doors closed",
            Self::DoorEnd => "at an end with its door open to the wind",
            Self::LinePost => "in the line",
            Self::EndPost => "at the end, by its wires",
        }
    }
}

/// Working loads on a post: those that the code's margins stand beside.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Push {
    /// Where it stands.
    pub spot: Spot,
    /// In words.
    pub words: &'static str,
    /// Push sideways, kN.
    pub kn: f64,
    /// Height at which it acts, m.
    pub height_m: f64,
    /// Pull up after 0.6 of the dead weight, kN; nothing where it is not lifted.
    pub up_kn: Option<f64>,
}

/// A post that wind pulls at: what it takes for 1 kPa of velocity pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Windy {
    pub(super) spot: Spot,
    pub(super) demand: PostDemand,
    pub(super) height_m: f64,
    pub(super) dead_kn: f64,
    pub(super) kz: f64,
}

/// The posts of a structure that wind pulls at, or why none can be reckoned.
pub(super) fn windy(ask: &PostAsk) -> Result<Vec<Windy>, String> {
    if let Some((tunnel, bay_m, dead_kn)) = ask.tunnel()? {
        let kz = exposure_factor(ask.exposure, tunnel.mean_height_m(), Edition::default());
        let doors = ask.frame.and_then(|frame| frame.door_ends) != Some(0);
        let mut spots =
            vec![(Spot::Side, Place::Side, false), (Spot::WindwardEdge, Place::WindwardEdge, false)];
        if doors {
            spots.push((Spot::DoorEnd, Place::DoorEnd, true));
        }
        return Ok(spots
            .into_iter()
            .map(|(spot, place, open)| Windy {
                spot,
                demand: post_demand(&tunnel, bay_m, place, open),
                height_m: ask.joint_m(),
                dead_kn,
                kz,
            })
            .collect());
    }
    let Some(line) =
        ask.line.or_else(|| ask.kind.filter(|kind| kind.is_line()).map(|_| book::model::PostLine::default()))
    else {
        return Ok(Vec::new());
    };
    let (Some(height), Some(spacing)) = (line.height_m, line.spacing_m) else {
        return Err("Wind on it cannot be reckoned before its height and the distance between its posts are written down.".to_owned());
    };
    let solid = line.solid_percent.map_or(USUAL_SOLID_PERCENT, Bounded::get);
    let (height, spacing) = (height.get(), spacing.get());
    Ok(vec![Windy {
        spot: Spot::LinePost,
        demand: PostDemand { up_m2: 0.0, sideways_m2: line_push_m2(height, spacing, solid) },
        height_m: acts_at_m(height, solid),
        dead_kn: 0.0,
        kz: exposure_factor(ask.exposure, height, Edition::default()),
    }])
}

/// Every push that can be told.
pub(super) fn pushes(ask: &PostAsk, windy: &[Windy]) -> Vec<Push> {
    let mut pushes = Vec::new();
    if let Some(load) = ask.post.load_kn {
        let height_m = ask.joint_m();
        let spot = Spot::Given;
        pushes.push(Push { spot, words: spot.words(), kn: load.get(), height_m, up_kn: None });
    }
    if let Some(speed) = ask.wind_m_s {
        for one in windy {
            let pressure = velocity_pressure_kpa(speed, one.kz, 1.0);
            let lifted = one.demand.up_m2 > 0.0;
            pushes.push(Push {
                spot: one.spot,
                words: one.spot.words(),
                kn: WIND_COUNTED * pressure * one.demand.sideways_m2,
                height_m: one.height_m,
                up_kn: lifted.then(|| {
                    (WIND_COUNTED * pressure * one.demand.up_m2 - WEIGHT_COUNTED * one.dead_kn).max(0.0)
                }),
            });
        }
    }
    if let Some(wires) = wires(ask)
        && ask.line.and_then(|line| line.brace) == Some(book::model::EndBrace::Alone)
    {
        let spot = Spot::EndPost;
        pushes.push(Push { spot, words: spot.words(), kn: wires.0, height_m: wires.1, up_kn: None });
    }
    pushes
}

/// Pull of all wires and their mean height, where both are written down.
pub(super) fn wires(ask: &PostAsk) -> Option<(f64, f64)> {
    let line = ask.line?;
    let height =
        line.wire_height_m.map(Bounded::get).or_else(|| line.height_m.map(|height| height.get() / 2.0))?;
    Some((line.wires?.get() * line.wire_pull_kn?.get(), height))
}
