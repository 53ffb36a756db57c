//! Wind on a tunnel: push and pull on its ground posts, and the speed at which they let go.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::post_uplift::WEIGHT_COUNTED;
use super::quantities::DeadWeight;
use super::tunnel_shape::{Tunnel, UnitLoad};
use super::wind_pressure::{
    Edition, Exposure, GustSpeed, HillFactor, exposure_factor, speed_of_pressure, velocity_pressure_kpa,
};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Width of a tunnel from side to side.
    pub struct Span: "width of the tunnel", "m", 1.5 ..= 15.0, example 9.1;
    /// Height of upright side walls.
    pub struct SideWall: "height of the side walls", "m", 0.0 ..= 4.0, example 1.2;
    /// Height of the arch above the side walls.
    pub struct Rise: "rise of the arch", "m", 0.2 ..= 8.0, example 2.4;
    /// Distance between bows, along the tunnel.
    pub struct BowSpacing: "distance between bows", "m", 0.3 ..= 4.0, example 1.2;
    /// Pull or push that a post holds.
    pub struct Hold: "what the post holds", "kN", 0.0 ..= 500.0, example 1.5;
}

/// Part of a strength-level wind load that counts against working values.
pub const WIND_COUNTED: f64 = 0.6;
/// Internal pressure of a closed tunnel.
const CLOSED: f64 = 0.18;
/// Internal pressure with a door open to the wind.
const DOOR_OPEN: f64 = 0.55;
/// Greatest rise over span in the table of coefficients.
const STEEPEST: f64 = 0.6;

/// Where a post stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// Along the side.
    #[default]
    Side,
    /// At the corner or edge that faces the wind.
    WindwardEdge,
    /// At an end with a door that may stand open.
    DoorEnd,
}

impl Place {
    /// What its load is multiplied by: ends carry half a bay but suction of their own; common practice
    /// takes 1.0 to 1.5 of a post along the side, here the upper end.
    #[must_use]
    pub fn local_factor(self) -> f64 {
        if self == Self::Side { 1.0 } else { 1.5 }
    }
}

/// Load on one post for 1 kPa of velocity pressure, m² (times kPa: kN).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PostDemand {
    /// Pull up.
    pub up_m2: f64,
    /// Push sideways: half of the whole push.
    pub sideways_m2: f64,
}

/// The worst of the cases for one post, for hot paths.
#[must_use]
pub fn post_demand(tunnel: &Tunnel, bay_m: f64, place: Place, door_open: bool) -> PostDemand {
    let inside = if door_open { DOOR_OPEN } else { CLOSED };
    let (first, second) = tunnel.coefficients();
    let mut up: f64 = 0.0;
    let mut sideways: f64 = 0.0;
    for arch in [Some(first), second].into_iter().flatten() {
        let load = tunnel.across(arch, inside);
        up = up.max(load.most_up_m());
        sideways = sideways.max(load.sideways_m.abs());
    }
    if place != Place::Side {
        up = up.max(tunnel.along_up_m(inside));
    }
    let factor = bay_m * place.local_factor();
    PostDemand { up_m2: up * factor, sideways_m2: sideways / 2.0 * factor }
}

/// What holds a post, kN, for hot paths. Infinite: not known, and never what decides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Holds {
    /// Pull that may be counted on.
    pub up_allowable_kn: f64,
    /// Pull at which it comes up.
    pub up_ultimate_kn: f64,
    /// Push that the code lets it carry.
    pub sideways_allowable_kn: Option<f64>,
    /// Push at which it turns over.
    pub sideways_ultimate_kn: Option<f64>,
    /// Dead weight of the tunnel on it.
    pub dead_kn: f64,
}

/// Velocity pressure at which the working margins of a post are used up, kPa, and whether pull decides.
#[must_use]
pub fn pressure_within_margins(demand: PostDemand, holds: &Holds) -> (f64, bool) {
    let up = (holds.up_allowable_kn + WEIGHT_COUNTED * holds.dead_kn) / (WIND_COUNTED * demand.up_m2);
    let side =
        holds.sideways_allowable_kn.map_or(f64::INFINITY, |hold| hold / (WIND_COUNTED * demand.sideways_m2));
    (up.min(side), up <= side)
}

/// Velocity pressure at which a post is likely to let go, kPa, without margins, and whether pull decides.
#[must_use]
pub fn pressure_of_letting_go(demand: PostDemand, holds: &Holds) -> (f64, bool) {
    let up = (holds.up_ultimate_kn + holds.dead_kn) / demand.up_m2;
    let side = holds.sideways_ultimate_kn.map_or(f64::INFINITY, |hold| hold / demand.sideways_m2);
    (up.min(side), up <= side)
}

/// A tunnel with its place in the wind.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TunnelWindInput {
    /// Width.
    pub span_m: Span,
    /// Height of upright side walls; 0 where the arch springs from the ground.
    pub side_wall_m: SideWall,
    /// Height of the arch above them.
    pub rise_m: Rise,
    /// Distance between bows.
    pub bow_spacing_m: BowSpacing,
    /// Gust speed of the map.
    pub wind_speed_m_s: GustSpeed,
    /// What stands upwind.
    pub exposure: Exposure,
    /// Edition of the standard.
    #[serde(default)]
    pub edition: Edition,
    /// Speed-up over hills.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hill_factor: Option<HillFactor>,
    /// Where the post stands.
    #[serde(default)]
    pub place: Place,
    /// A door on the windward end stands open; always reckoned so at a door end.
    #[serde(default)]
    pub door_open: bool,
    /// Dead weight of the tunnel on the post.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dead_weight_kn: Option<DeadWeight>,
    /// Pull that the post may be counted on for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uplift_allowable_kn: Option<Hold>,
    /// Pull at which it is likely to come up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uplift_ultimate_kn: Option<Hold>,
    /// Push that the code lets it carry at the height where the bow joins it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sideways_allowable_kn: Option<Hold>,
    /// Push at which it turns over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sideways_ultimate_kn: Option<Hold>,
}

/// One case of wind across the tunnel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WindCase {
    /// Coefficient on the quarter that faces the wind.
    pub windward_coefficient: f64,
    /// Sideways push on a metre of tunnel, kN/m.
    pub sideways_kn_m: f64,
    /// Pull up on a metre of it, kN/m.
    pub uplift_kn_m: f64,
    /// Of that, on the windward side, kN/m.
    pub windward_uplift_kn_m: f64,
    /// Of that, on the leeward side, kN/m.
    pub leeward_uplift_kn_m: f64,
}

/// Output of `tunnel-wind`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct TunnelWindOutput {
    /// Velocity pressure, kPa.
    pub pressure_kpa: f64,
    /// Cases of wind across, strength-level.
    pub cases: Vec<WindCase>,
    /// Working pull on the post, 0.6 wind less 0.6 dead weight, kN.
    pub post_uplift_kn: f64,
    /// Working push on the post, kN.
    pub post_sideways_kn: f64,
    /// Map speed at which the working margins are used up, m/s.
    pub margins_until_m_s: Option<f64>,
    /// Pull, and not push, uses them up first.
    pub margins_by_uplift: Option<bool>,
    /// Gust at which this post in this ground is likely to let go, m/s.
    pub lets_go_at_m_s: Option<f64>,
    /// It comes up, rather than turning over.
    pub lets_go_by_uplift: Option<bool>,
}

/// Wind on a tunnel.
pub struct TunnelWind;

fn tunnel(input: &TunnelWindInput) -> Result<Tunnel, Refusal> {
    let tunnel =
        Tunnel { span_m: input.span_m.get(), wall_m: input.side_wall_m.get(), rise_m: input.rise_m.get() };
    if tunnel.rise_over_span() > STEEPEST {
        return Err(Refusal::new(
            "rise_m",
            "the table of coefficients ends where the arch is six tenths as high as it is wide",
        )
        .given(format!("{} m on {} m", tunnel.rise_m, tunnel.span_m))
        .accepted(format!("up to {:.2} m", STEEPEST * tunnel.span_m))
        .example("2.4 m"));
    }
    Ok(tunnel)
}

impl TunnelWindInput {
    fn open(&self) -> bool {
        self.door_open || self.place == Place::DoorEnd
    }

    fn case(&self, coefficient: f64, load: &UnitLoad, pressure: f64) -> WindCase {
        WindCase {
            windward_coefficient: coefficient,
            sideways_kn_m: pressure * load.sideways_m,
            uplift_kn_m: pressure * load.total_up_m(),
            windward_uplift_kn_m: pressure * load.windward_up_m,
            leeward_uplift_kn_m: pressure * load.leeward_up_m,
        }
    }
}

impl Method for TunnelWind {
    type Input = TunnelWindInput;
    type Output = TunnelWindOutput;

    const CARD: Card = Card {
        name: "tunnel-wind",
        title: "Wind on the ground posts of a tunnel",
        topic: Topic::Posts,
        computes: "How hard wind across a tunnel pulls each ground post up and pushes it sideways, and, where it is known \
                   what the post holds, the wind speed at which this post in this ground lets go.",
        validity: &[
            "A round arch on upright walls or on the ground, cover whole; pointed bows come near it.",
            "Statics of the whole section: the frame, its joints, purlins, braces and end walls are not checked.",
            "The speed of letting go is an estimate without margins; the speed within margins is the one to build to.",
        ],
        sources: &[Cite::new("Asce7", "arched roofs, walls and internal pressure, chapter 27")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        TunnelWindInput {
            span_m: Span::literal(9.144),
            side_wall_m: SideWall::literal(1.2192),
            rise_m: Rise::literal(2.4384),
            bow_spacing_m: BowSpacing::literal(1.2192),
            wind_speed_m_s: GustSpeed::literal(46.94),
            exposure: Exposure::C,
            edition: Edition::Asce2016,
            hill_factor: None,
            place: Place::Side,
            door_open: false,
            dead_weight_kn: Some(DeadWeight::literal(0.267)),
            uplift_allowable_kn: Some(Hold::literal(1.49)),
            uplift_ultimate_kn: Some(Hold::literal(3.25)),
            sideways_allowable_kn: None,
            sideways_ultimate_kn: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let tunnel = tunnel(input)?;
        if let (Some(allowable), Some(ultimate)) = (input.uplift_allowable_kn, input.uplift_ultimate_kn)
            && allowable > ultimate
        {
            return Err(Refusal::new(
                "uplift_allowable_kn",
                "a post cannot be counted on for more than it holds",
            )
            .given(format!("{} of {} kN", allowable.get(), ultimate.get()))
            .accepted(format!("up to {} kN", ultimate.get()))
            .example("1.5 kN"));
        }
        let kz = exposure_factor(input.exposure, tunnel.mean_height_m(), input.edition);
        let hill = input.hill_factor.map_or(1.0, Bounded::get);
        let pressure_kpa = velocity_pressure_kpa(input.wind_speed_m_s.get(), kz, hill);
        let inside = if input.open() { DOOR_OPEN } else { CLOSED };
        let (first, second) = tunnel.coefficients();
        let cases = [Some(first), second]
            .into_iter()
            .flatten()
            .map(|arch| input.case(arch.windward, &tunnel.across(arch, inside), pressure_kpa))
            .collect();
        let demand = post_demand(&tunnel, input.bow_spacing_m.get(), input.place, input.open());
        let dead_kn = input.dead_weight_kn.map_or(0.0, Bounded::get);
        let speed = |pressure: f64| speed_of_pressure(pressure, kz, hill);
        let known = |hold: Option<Hold>| hold.map(Bounded::get);
        let holds = Holds {
            up_allowable_kn: known(input.uplift_allowable_kn).unwrap_or(f64::INFINITY),
            up_ultimate_kn: known(input.uplift_ultimate_kn).unwrap_or(f64::INFINITY),
            sideways_allowable_kn: known(input.sideways_allowable_kn),
            sideways_ultimate_kn: known(input.sideways_ultimate_kn),
            dead_kn,
        };
        let margins = Some(pressure_within_margins(demand, &holds)).filter(|found| found.0.is_finite());
        let letting_go = Some(pressure_of_letting_go(demand, &holds)).filter(|found| found.0.is_finite());
        let mut notes = vec![
            Note::new(
                NoteKind::Provenance,
                "Coefficients of arched roofs are partly recalled: check them against the standard before they decide anything.",
            ),
            Note::new(
                NoteKind::Safety,
                "Close the doors before the wind comes: a door open to it adds about half to the pull on every post.",
            ),
        ];
        if input.place != Place::Side {
            notes.push(Note::new(
                NoteKind::Method,
                "Ends and corners are reckoned at one and a half times a post along the side, by common practice.",
            ));
        }
        Ok(Answer::with_notes(
            TunnelWindOutput {
                pressure_kpa,
                cases,
                post_uplift_kn: WIND_COUNTED * pressure_kpa * demand.up_m2 - WEIGHT_COUNTED * dead_kn,
                post_sideways_kn: WIND_COUNTED * pressure_kpa * demand.sideways_m2,
                margins_until_m_s: margins.map(|found| speed(found.0)),
                margins_by_uplift: margins.map(|found| found.1),
                lets_go_at_m_s: letting_go.map(|found| speed(found.0)),
                lets_go_by_uplift: letting_go.map(|found| found.1),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let dead = input.dead_weight_kn.map_or(0.0, Bounded::get);
        let mut working = Working::new().step(
            "velocity pressure",
            "0.613 × Kz × Kzt × 0.85 × V², Pa",
            format!("V = {} m/s", input.wind_speed_m_s.get()),
            format!("{:.3} kPa", value.pressure_kpa),
        );
        for case in &value.cases {
            working = working
                .step(
                    "wind across a metre of tunnel",
                    "pressure × (0.85 × coefficient − inside) on walls and parts of the arch; moments about a foot share the pull between the sides",
                    format!("coefficient {:.2} on the quarter that faces the wind", case.windward_coefficient),
                    format!(
                        "push {:.2}, pull {:.2} ({:.2} windward, {:.2} leeward) kN/m",
                        case.sideways_kn_m, case.uplift_kn_m, case.windward_uplift_kn_m, case.leeward_uplift_kn_m
                    ),
                )
                .cite(Self::CARD.sources[0]);
        }
        working = working.step(
            "working load on the post",
            "0.6 × (pull of the worse side × bay × place) − 0.6 × dead weight",
            format!(
                "bay {} m, place {}, dead weight {dead} kN",
                input.bow_spacing_m.get(),
                input.place.local_factor()
            ),
            format!("pull {:.2} kN, push {:.2} kN", value.post_uplift_kn, value.post_sideways_kn),
        );
        if let Some(speed) = value.margins_until_m_s {
            working = working.step(
                "speed at which the margins are used up",
                "V × √((hold + 0.6 × dead weight) / (0.6 × wind))",
                format!("hold {} kN", input.uplift_allowable_kn.map_or(0.0, Bounded::get)),
                format!("{speed:.1} m/s"),
            );
        }
        if let Some(speed) = value.lets_go_at_m_s {
            working = working.step(
                "speed at which it lets go",
                "V × √((greatest hold + dead weight) / wind)",
                format!("greatest hold {} kN", input.uplift_ultimate_kn.map_or(0.0, Bounded::get)),
                format!("{speed:.1} m/s"),
            );
        }
        working
    }
}
