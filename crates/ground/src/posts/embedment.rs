//! Depth of a post under sideways load by the building code.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::embedment_equations::{capacity_free, capacity_restrained, depth_free, depth_restrained, trial};
use super::quantities::{
    CollarDiameter, IgnoredTop, LateralBearing, LateralLoad, LoadHeight, PostDepth, PostWidth,
};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Depth below which the code counts no more pressure, 12 ft.
pub const DEEPEST_M: f64 = 3.6576;

/// Cross-section of a post.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Section {
    /// Round.
    Round,
    /// Square; the code counts its diagonal.
    Square,
}

/// How a post is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Setting {
    /// Driven into undisturbed ground.
    Driven,
    /// Set in a hole, clean sand compacted round it in layers.
    Tamped,
    /// Set in a hole filled with concrete.
    Collar,
}

/// What holds a post at the ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Restraint {
    /// Nothing.
    #[default]
    Free,
    /// A rigid floor or pavement.
    RigidFloor,
}

/// Width that bears on the ground, m: collar, diameter, or diagonal.
#[must_use]
pub fn bearing_width_m(section: Section, post_width_m: f64, collar_m: Option<f64>) -> f64 {
    collar_m.unwrap_or(match section {
        Section::Round => post_width_m,
        Section::Square => post_width_m * std::f64::consts::SQRT_2,
    })
}

/// Input of `post-embedment`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EmbedmentInput {
    /// Sideways force on the post.
    pub load_kn: LateralLoad,
    /// Height above ground at which it acts; moment at the ground over force when there are several.
    pub load_height_m: LoadHeight,
    /// Cross-section.
    pub section: Section,
    /// Diameter or face.
    pub post_width_mm: PostWidth,
    /// How it is set.
    pub setting: Setting,
    /// Diameter of the collar; only with `collar`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub collar_diameter_mm: Option<CollarDiameter>,
    /// What holds it at the ground.
    #[serde(default)]
    pub restraint: Restraint,
    /// Lateral bearing allowed for each metre of depth, by the class of the ground.
    pub lateral_bearing_kpa_m: LateralBearing,
    /// A lone pole that 12 mm of movement at the ground does not harm: doubles the lateral bearing.
    #[serde(default)]
    pub isolated_and_movement_harmless: bool,
    /// Count the face of a square post instead of its diagonal (wind square to it; the safer way).
    #[serde(default)]
    pub across_face: bool,
    /// Tilled, dry or frozen ground at the top that is not counted: it lengthens the post and lifts the load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ignored_top_m: Option<IgnoredTop>,
    /// A depth somebody has in mind, to be tested.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chosen_depth_m: Option<PostDepth>,
}

/// A chosen depth put to the test.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Chosen {
    /// Pressure allowed at a third of the counted depth, kPa.
    pub third_kpa: f64,
    /// The term A of the equation at that depth, m; free posts only.
    pub a_m: Option<f64>,
    /// Depth that the equation asks for with the pressure of the chosen depth, m; free posts only.
    pub required_at_chosen_m: Option<f64>,
    /// Sideways load that it may carry, kN.
    pub capacity_kn: f64,
    /// It carries the load.
    pub suffices: bool,
}

/// Output of `post-embedment`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct EmbedmentOutput {
    /// Width that bears on the ground, m.
    pub bearing_width_m: f64,
    /// Lateral bearing after doubling, kPa/m.
    pub lateral_bearing_kpa_m: f64,
    /// Depth from the surface, m.
    pub depth_m: f64,
    /// Pressure allowed at a third (free) or all (held) of the counted depth, kPa.
    pub pressure_kpa: f64,
    /// The chosen depth put to the test.
    pub chosen: Option<Chosen>,
}

/// Depth of a post.
pub struct PostEmbedment;

struct Case {
    load: f64,
    height: f64,
    width: f64,
    bearing: f64,
    top: f64,
}

impl Case {
    fn of(input: &EmbedmentInput) -> Result<Self, Refusal> {
        let collar = match (input.setting, input.collar_diameter_mm) {
            (Setting::Collar, None) => {
                return Err(Refusal::new(
                    "collar_diameter_mm",
                    "a post in a concrete collar needs the diameter of the collar",
                )
                .given("nothing")
                .accepted("50 to 1500 mm")
                .example("300 mm"));
            }
            (Setting::Collar, Some(collar)) => Some(collar.get() / 1000.0),
            (_, Some(_)) => {
                return Err(Refusal::new("collar_diameter_mm", "only a post set in concrete has a collar")
                    .given("a diameter")
                    .accepted("leave it out, or set the post with `collar`")
                    .example("300 mm"));
            }
            (_, None) => None,
        };
        let post = input.post_width_mm.get() / 1000.0;
        let section = if input.across_face { Section::Round } else { input.section };
        if let Some(collar) = collar
            && collar < bearing_width_m(input.section, post, None)
        {
            return Err(Refusal::new("collar_diameter_mm", "the collar must go round the post")
                .given(format!("{} mm round a post of {} mm", 1000.0 * collar, 1000.0 * post))
                .accepted("more than the diameter or diagonal of the post")
                .example("300 mm"));
        }
        let top = input.ignored_top_m.map_or(0.0, Bounded::get);
        Ok(Self {
            load: input.load_kn.get(),
            height: input.load_height_m.get() + top,
            width: bearing_width_m(section, post, collar),
            bearing: input.lateral_bearing_kpa_m.get()
                * if input.isolated_and_movement_harmless { 2.0 } else { 1.0 },
            top,
        })
    }
}

impl Method for PostEmbedment {
    type Input = EmbedmentInput;
    type Output = EmbedmentOutput;

    const CARD: Card = Card {
        name: "post-embedment",
        title: "Depth of a post under sideways load",
        topic: Topic::Posts,
        computes: "How deep a post must stand to resist wind or wire that pushes it sideways, free at the ground or \
                   held there by a floor, by the equations of the building code; and what a chosen depth may carry.",
        validity: &[
            "Undisturbed, near-level mineral ground (slope up to 10 %), one post clear of its neighbours.",
            "Depths up to 3.66 m, below which the code counts no more; deeper answers are refused.",
            "Sideways load alone: uplift, weight, frost and the strength of the post are other questions.",
        ],
        sources: &[Cite::new("IbcFoundations", "1807.3.2, equations 18-1 and 18-2")],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        EmbedmentInput {
            load_kn: LateralLoad::literal(0.9),
            load_height_m: LoadHeight::literal(1.5),
            section: Section::Square,
            post_width_mm: PostWidth::literal(89.0),
            setting: Setting::Driven,
            collar_diameter_mm: None,
            restraint: Restraint::Free,
            lateral_bearing_kpa_m: LateralBearing::literal(15.7),
            isolated_and_movement_harmless: false,
            across_face: false,
            ignored_top_m: None,
            chosen_depth_m: Some(PostDepth::literal(1.8)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let case = Case::of(input)?;
        let free = input.restraint == Restraint::Free;
        let solve = if free { depth_free } else { depth_restrained };
        let counted = solve(case.load, case.height, case.width, case.bearing);
        let depth_m = counted + case.top;
        if depth_m > DEEPEST_M {
            return Err(Refusal::new(
                "load_kn",
                format!("this load at this height would need a post {depth_m:.2} m deep, which is beyond a planning aid: use a wider collar, shorten the span, brace it, or ask an engineer"),
            )
            .given(format!("{} kN at {} m", input.load_kn.get(), input.load_height_m.get()))
            .accepted("loads that need up to 3.66 m (12 ft)")
            .example("0.9 kN at 1.5 m"));
        }
        let chosen = match input.chosen_depth_m.map(|depth| depth.get() - case.top) {
            Some(depth) if depth <= 0.0 => {
                return Err(Refusal::new(
                    "chosen_depth_m",
                    "the chosen depth ends in ground that is not counted",
                )
                .given(format!("{} m", depth + case.top))
                .accepted(format!("more than {} m", case.top))
                .example(format!("{:.1} m", case.top + 0.9)));
            }
            Some(depth) => {
                let at = trial(depth, case.load, case.height, case.width, case.bearing);
                let carry = if free { capacity_free } else { capacity_restrained };
                let capacity_kn = carry(depth, case.height, case.width, case.bearing).min(f64::MAX);
                Some(Chosen {
                    third_kpa: at.third_kpa,
                    a_m: free.then_some(at.a_m),
                    required_at_chosen_m: free.then_some(at.required_m + case.top),
                    capacity_kn,
                    suffices: capacity_kn >= case.load,
                })
            }
            None => None,
        };
        let pressure_kpa = case.bearing * if free { counted / 3.0 } else { counted };
        Ok(Answer::with_notes(
            EmbedmentOutput {
                bearing_width_m: case.width,
                lateral_bearing_kpa_m: case.bearing,
                depth_m,
                pressure_kpa,
                chosen,
            },
            notes(input),
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok(case) = Case::of(input) else { return Working::new() };
        let Case { load, height, width, bearing, top } = case;
        let depth = answer.value.depth_m - top;
        let working = Working::new().step(
            "width that bears on the ground",
            "diameter of a round post or collar, diagonal of a square one",
            format!("{} mm", input.post_width_mm.get()),
            format!("{width:.3} m"),
        );
        let working = if input.restraint == Restraint::Free {
            let at = trial(depth, load, height, width, bearing);
            working
                .step(
                    "depth, as a cubic",
                    "s b d³ = 7.02 P d + 7.65 P h, the equation of the code with S₁ = s d / 3 put in",
                    format!(
                        "{bearing:.2} × {width:.3} × d³ = 7.02 × {load} × d + 7.65 × {load} × {height:.2}"
                    ),
                    format!("{depth:.3} m"),
                )
                .cite(Self::CARD.sources[0])
                .step(
                    "the same in the code's own form",
                    "d = 0.5 A (1 + √(1 + 4.36 h / A)), A = 2.34 P / (S₁ b), S₁ = s d / 3",
                    format!("S₁ = {:.2} kPa, A = {:.3} m", at.third_kpa, at.a_m),
                    format!("{:.3} m", at.required_m),
                )
                .cite(Self::CARD.sources[0])
        } else {
            working
                .step(
                    "depth",
                    "d³ = 4.25 P h / (s b)",
                    format!("4.25 × {load} × {height:.2} / ({bearing:.2} × {width:.3})"),
                    format!("{depth:.3} m"),
                )
                .cite(Self::CARD.sources[0])
        };
        if top > 0.0 {
            return working.step(
                "depth from the surface",
                "counted depth + ground at the top that is not counted",
                format!("{depth:.3} + {top}"),
                format!("{:.3} m", answer.value.depth_m),
            );
        }
        working
    }
}

fn notes(input: &EmbedmentInput) -> Vec<Note> {
    let mut notes = vec![
        Note::new(NoteKind::Method, "Start counting below tilled ground, fill and organic layers."),
        Note::new(
            NoteKind::Provenance,
            "The limit of 12 ft and the rules for what fills the hole are recalled from the code and were not read again.",
        ),
    ];
    if input.isolated_and_movement_harmless {
        notes.push(Note::new(
            NoteKind::Method,
            "Lateral bearing is doubled for a lone pole that 12 mm of movement at the ground does not harm: never for a post of a rigid frame or a glazed wall.",
        ));
    }
    match input.setting {
        Setting::Tamped => notes.push(Note::new(
            NoteKind::Method,
            "Fill the hole with clean sand compacted in layers of 200 mm or less; the dug earth thrown back is not what the code counts on.",
        )),
        Setting::Collar => notes.push(Note::new(NoteKind::Safety, cautions::COLLAR)),
        Setting::Driven => {}
    }
    notes
}
