//! Wind on a post in the line of a fence or trellis.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::fence_practice::HeightAbove;
use super::tunnel_shape::GUST;
use super::tunnel_wind::WIND_COUNTED;
use super::wind_pressure::{Edition, Exposure, GustSpeed, exposure_factor, velocity_pressure_kpa};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Distance between posts in the line.
    pub struct LinePostSpacing: "distance between posts", "m", 0.3 ..= 30.0, example 3.0;
    /// Share of the front that stops the wind: wires and mesh, with what grows or hangs on them.
    pub struct SolidShare: "share that stops the wind", "%", 1.0 ..= 100.0, example 15.0;
}

/// Share from which a front counts as solid, percent.
const SOLID_FROM: f64 = 70.0;

/// Force coefficient on the part that stops the wind. Open fronts of wires and other round members: 1.2 below
/// a tenth, 1.3 below three tenths, 1.5 up to seven tenths; a solid front on the ground: 1.3 for its whole face.
#[must_use]
pub fn force_coefficient(solid_percent: f64) -> f64 {
    match solid_percent {
        share if share < 10.0 => 1.2,
        share if share < 30.0 => 1.3,
        share if share <= SOLID_FROM => 1.5,
        _ => 1.3,
    }
}

/// Share of the front that is reckoned with, percent: a solid front counts whole.
#[must_use]
pub fn counted_percent(solid_percent: f64) -> f64 {
    if solid_percent > SOLID_FROM { 100.0 } else { solid_percent }
}

/// Push on one post for 1 kPa of velocity pressure, m² (times kPa: kN); it acts at [`acts_at_m`].
#[must_use]
pub fn line_push_m2(height_m: f64, spacing_m: f64, solid_percent: f64) -> f64 {
    GUST * force_coefficient(solid_percent) * counted_percent(solid_percent) / 100.0 * height_m * spacing_m
}

/// Height at which the push acts, m: half the height of an open front; on a solid one, which stands on the ground, a
/// twentieth of its height above the middle.
#[must_use]
pub fn acts_at_m(height_m: f64, solid_percent: f64) -> f64 {
    if solid_percent > SOLID_FROM { 0.55 * height_m } else { 0.5 * height_m }
}

/// Input of `line-wind`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LineWindInput {
    /// Height of the fence or trellis above the ground.
    pub height_m: HeightAbove,
    /// Distance between posts.
    pub spacing_m: LinePostSpacing,
    /// Share of the front that stops the wind.
    pub solid_percent: SolidShare,
    /// Gust speed of the map.
    pub wind_speed_m_s: GustSpeed,
    /// What stands upwind.
    pub exposure: Exposure,
    /// Edition of the standard.
    #[serde(default)]
    pub edition: Edition,
}

/// Output of `line-wind`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct LineWindOutput {
    /// Velocity pressure, kPa.
    pub pressure_kpa: f64,
    /// Force coefficient on what stops the wind.
    pub force_coefficient: f64,
    /// Share of the front that is reckoned with: all of a solid one, percent.
    pub counted_percent: f64,
    /// Strength-level push on one post, kN.
    pub push_kn: f64,
    /// Working push, 0.6 of it, kN.
    pub working_kn: f64,
    /// Height at which it acts, m.
    pub acts_at_m: f64,
}

/// Wind on a line post.
pub struct LineWind;

impl Method for LineWind {
    type Input = LineWindInput;
    type Output = LineWindOutput;

    const CARD: Card = Card {
        name: "line-wind",
        title: "Wind on a fence or trellis post",
        topic: Topic::Posts,
        computes: "How hard wind pushes one post in the line of a fence or trellis, from its height, the distance between \
                   posts and how much of its front stops the wind.",
        validity: &[
            "Wires, mesh and leaves are taken as round members; a front that is more than seven tenths closed as solid.",
            "The push is that on a post along a solid fence. Wind at a slant pushes two to three times as hard on a stretch \
             of its height and more from each free end.",
            "Ice on the mesh and crop in full leaf can close a front: choose the share of its worst day.",
        ],
        sources: &[Cite::new("Asce7", "open lattices and free-standing walls, chapter 29")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        LineWindInput {
            height_m: HeightAbove::literal(2.4),
            spacing_m: LinePostSpacing::literal(4.6),
            solid_percent: SolidShare::literal(15.0),
            wind_speed_m_s: GustSpeed::literal(47.0),
            exposure: Exposure::C,
            edition: Edition::Asce2016,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (height, solid) = (input.height_m.get(), input.solid_percent.get());
        let kz = exposure_factor(input.exposure, height, input.edition);
        let pressure_kpa = velocity_pressure_kpa(input.wind_speed_m_s.get(), kz, 1.0);
        let push_kn = pressure_kpa * line_push_m2(height, input.spacing_m.get(), solid);
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "Coefficients of open lattices and walls are recalled: check them against the standard before they decide anything.",
        )];
        if solid > SOLID_FROM {
            notes.push(Note::new(
                NoteKind::Method,
                "A solid front: near its free ends posts take two to three times this push, and it acts a twentieth of the height above the middle (both recalled). Leave gaps, or set the posts there deeper and closer.",
            ));
        }
        Ok(Answer::with_notes(
            LineWindOutput {
                pressure_kpa,
                force_coefficient: force_coefficient(solid),
                counted_percent: counted_percent(solid),
                push_kn,
                working_kn: WIND_COUNTED * push_kn,
                acts_at_m: acts_at_m(height, solid),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        Working::new()
            .step(
                "velocity pressure",
                "0.613 × Kz × 0.85 × V², Pa",
                format!("V = {} m/s", input.wind_speed_m_s.get()),
                format!("{:.3} kPa", value.pressure_kpa),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "push on one post",
                "pressure × 0.85 × coefficient × share that stops the wind × height × spacing",
                format!(
                    "{:.3} × 0.85 × {} × {} % × {} × {}",
                    value.pressure_kpa,
                    value.force_coefficient,
                    value.counted_percent,
                    input.height_m.get(),
                    input.spacing_m.get()
                ),
                format!("{:.3} kN, of which 0.6 counts: {:.3} kN", value.push_kn, value.working_kn),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_closer_front_is_pushed_harder_and_a_solid_one_counts_whole() {
        let push = |share| line_push_m2(2.0, 3.0, share);
        assert!(push(5.0) < push(20.0) && push(20.0) < push(50.0) && push(50.0) < push(90.0));
        assert_eq!(push(80.0), push(100.0));
        assert!((push(100.0) - GUST * 1.3 * 6.0).abs() < 1e-12);
    }

    #[test]
    fn the_working_shows_the_share_that_is_counted() {
        let said = |share: f64| {
            let input = LineWindInput { solid_percent: SolidShare::literal(share), ..LineWind::example() };
            let answer = LineWind::compute(&input).unwrap();
            let push = serde_json::to_value(LineWind::working(&input, &answer)).unwrap().to_string();
            (push, answer.notes.len())
        };
        let (open, solid) = (said(15.0), said(90.0));
        assert!(open.0.contains("15 %") && open.1 == 1, "{open:?}");
        assert!(solid.0.contains("100 %") && !solid.0.contains("90 %") && solid.1 == 2, "{solid:?}");
    }
}
