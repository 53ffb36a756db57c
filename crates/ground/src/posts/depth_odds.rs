//! Odds that a chosen depth suffices, and which look at the ground would say more.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::building_class::BuildingClass;
use super::cautions;
use super::embedment::{DEEPEST_M, Restraint, Section, bearing_width_m};
use super::embedment_equations::{depth_free, depth_restrained};
use super::quantities::{
    CollarDiameter, IgnoredTop, LateralLoad, LoadHeight, OddsPercent, PostDepth, PostWidth,
};
use crate::belief::Odds;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Odds from which a depth may be called enough.
pub const ENOUGH_FROM: f64 = 0.90;

/// One possible ground, for hot paths.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroundDraw {
    /// Lateral bearing for each metre of depth.
    pub bearing_kpa_m: f64,
    /// Ground at the top that is not counted.
    pub ignored_top_m: f64,
}

/// A post and what pushes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PushedPost {
    /// Sideways force.
    pub load_kn: f64,
    /// Height above the surface at which it acts.
    pub height_m: f64,
    /// Width that bears on the ground.
    pub width_m: f64,
    /// Held at the ground by a rigid floor.
    pub restrained: bool,
}

/// Depth from the surface that a post needs in one possible ground, m.
#[must_use]
pub fn needed_depth_m(post: &PushedPost, ground: &GroundDraw) -> f64 {
    let solve = if post.restrained { depth_restrained } else { depth_free };
    let height = post.height_m + ground.ignored_top_m;
    solve(post.load_kn, height, post.width_m, ground.bearing_kpa_m) + ground.ignored_top_m
}

/// Least depth that suffices with these odds. `None` when nothing carries weight. `needed_m` and
/// `weights` are draw by draw; weights need not add to one.
#[must_use]
pub fn depth_for_odds_m(needed_m: &[f64], weights: &[f64], odds: f64) -> Option<f64> {
    let mut pairs: Vec<(f64, f64)> =
        needed_m.iter().copied().zip(weights.iter().copied()).filter(|pair| pair.1 > 0.0).collect();
    pairs.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let total: f64 = pairs.iter().map(|pair| pair.1).sum();
    let mut below = 0.0;
    for (depth, weight) in &pairs {
        below += weight;
        // A hair of slack, so that ten tenths are one.
        if below >= (odds - 1e-9) * total {
            return Some(*depth);
        }
    }
    pairs.last().map(|pair| pair.0)
}

/// Chance of being wrong about a truth, to be expected after a reading that tells which group a draw is
/// in. Weights add to one.
#[must_use]
pub fn doubt_after(truths: &[bool], weights: &[f64], groups: &[usize]) -> f64 {
    let count = groups.iter().max().map_or(0, |last| last + 1);
    let mut sums = vec![(0.0, 0.0); count];
    for ((truth, weight), group) in truths.iter().zip(weights).zip(groups) {
        let sum: &mut (f64, f64) = &mut sums[*group];
        if *truth {
            sum.0 += weight;
        } else {
            sum.1 += weight;
        }
    }
    sums.iter().map(|(yes, no): &(f64, f64)| yes.min(*no)).sum()
}

/// One possible ground with its odds.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PossibleGround {
    /// Building class at a third of the depth and at the foot.
    pub class: BuildingClass,
    /// The water table stands above the foot.
    #[serde(default)]
    pub below_water: bool,
    /// Loose, dry or cracked ground at the top that is not counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ignored_top_m: Option<IgnoredTop>,
    /// Its odds.
    pub odds_percent: OddsPercent,
}

impl PossibleGround {
    fn top(&self) -> f64 {
        self.ignored_top_m.map_or(0.0, Bounded::get)
    }

    fn draw(&self, factor: f64) -> GroundDraw {
        GroundDraw {
            bearing_kpa_m: factor * self.class.presumptive().lateral_kpa_m(self.below_water),
            ignored_top_m: self.top(),
        }
    }
}

/// What can be looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Look {
    /// A feel test or a sieve on ground from the foot of the hole.
    TextureAtTheFoot,
    /// An open hole in the wettest season.
    WaterInTheHole,
    /// A probe or spade for how deep the loose ground goes.
    DepthOfLooseGround,
}

impl Look {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::TextureAtTheFoot => "a feel test or a sieve on ground from the foot of the hole",
            Self::WaterInTheHole => "an open hole in the wettest season",
            Self::DepthOfLooseGround => "a probe or a spade for how deep the loose ground goes",
        }
    }
}

/// What a look may be expected to do.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LookWorth {
    /// The look.
    pub look: Look,
    /// Chance of being wrong about this depth after it, to be expected.
    pub wrong_after_percent: f64,
}

/// Input of `post-depth-odds`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DepthOddsInput {
    /// Sideways force on the post.
    pub load_kn: LateralLoad,
    /// Height above the surface at which it acts.
    pub load_height_m: LoadHeight,
    /// Cross-section.
    pub section: Section,
    /// Diameter or face.
    pub post_width_mm: PostWidth,
    /// Diameter of a concrete collar, if it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub collar_diameter_mm: Option<CollarDiameter>,
    /// What holds it at the ground.
    #[serde(default)]
    pub restraint: Restraint,
    /// A lone pole that 12 mm of movement does not harm.
    #[serde(default)]
    pub isolated_and_movement_harmless: bool,
    /// The depth in question.
    pub chosen_depth_m: PostDepth,
    /// What the ground may be, with the odds of each.
    pub grounds: Vec<PossibleGround>,
}

/// Output of `post-depth-odds`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct DepthOddsOutput {
    /// Odds that the chosen depth suffices.
    pub suffices_percent: f64,
    /// Depth needed in each possible ground, in the order given.
    pub needed_m: Vec<f64>,
    /// Least depth that suffices with nine chances in ten.
    pub enough_m: f64,
    /// Chance of being wrong about the chosen depth as things stand.
    pub wrong_now_percent: f64,
    /// What each look may be expected to leave of it, best first.
    pub looks: Vec<LookWorth>,
}

/// Odds of a chosen depth.
pub struct PostDepthOdds;

impl Method for PostDepthOdds {
    type Input = DepthOddsInput;
    type Output = DepthOddsOutput;

    const CARD: Card = Card {
        name: "post-depth-odds",
        title: "Odds that a depth suffices",
        topic: Topic::Posts,
        computes: "The odds that a chosen depth of a post suffices, given what the ground may be, the depth that \
                   suffices with nine chances in ten, and which look at the ground would say most about it.",
        validity: &[
            "The odds are those of what is known of the ground; the load is taken as given.",
            "Enough by the code's equations is enough with their margins, not the point of falling over.",
        ],
        sources: &[
            Cite::new("IbcFoundations", "1807.3.2, equations 18-1 and 18-2"),
            Cite::new("IbcSoilClasses", "Table 1806.2"),
        ],
        cautions: cautions::POSTS,
    };

    fn example() -> Self::Input {
        let ground = |class, top, odds| PossibleGround {
            class,
            below_water: false,
            ignored_top_m: Some(IgnoredTop::literal(top)),
            odds_percent: OddsPercent::literal(odds),
        };
        DepthOddsInput {
            load_kn: LateralLoad::literal(0.45),
            load_height_m: LoadHeight::literal(1.2),
            section: Section::Round,
            post_width_mm: PostWidth::literal(150.0),
            collar_diameter_mm: None,
            restraint: Restraint::Free,
            isolated_and_movement_harmless: false,
            chosen_depth_m: PostDepth::literal(1.2),
            grounds: vec![
                ground(BuildingClass::Sand, 0.15, 60.0),
                ground(BuildingClass::Sand, 0.30, 15.0),
                ground(BuildingClass::SiltAndClay, 0.15, 25.0),
            ],
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let total: f64 = input.grounds.iter().map(|ground| ground.odds_percent.get()).sum();
        if (total - 100.0).abs() > 2.0 {
            return Err(Refusal::new(
                "grounds",
                format!("the odds must add to 100 %, but they add to {total} %"),
            )
            .given(format!("{total} %"))
            .accepted("odds that add to 98 to 102 %")
            .example("sand 60 %, silt_and_clay 40 %"));
        }
        let post = PushedPost {
            load_kn: input.load_kn.get(),
            height_m: input.load_height_m.get(),
            width_m: bearing_width_m(
                input.section,
                input.post_width_mm.get() / 1000.0,
                input.collar_diameter_mm.map(|collar| collar.get() / 1000.0),
            ),
            restrained: input.restraint == Restraint::RigidFloor,
        };
        let factor = if input.isolated_and_movement_harmless { 2.0 } else { 1.0 };
        let weights: Vec<f64> =
            input.grounds.iter().map(|ground| ground.odds_percent.get() / total).collect();
        let needed_m: Vec<f64> =
            input.grounds.iter().map(|ground| needed_depth_m(&post, &ground.draw(factor))).collect();
        let chosen = input.chosen_depth_m.get();
        let truths: Vec<bool> = needed_m.iter().map(|needed| *needed <= chosen).collect();
        let suffices = Odds::of_truths(&weights, &truths);
        let enough_m = depth_for_odds_m(&needed_m, &weights, ENOUGH_FROM).unwrap_or(f64::NAN);
        let mut looks: Vec<LookWorth> = [
            (Look::TextureAtTheFoot, groups(&input.grounds, |ground| f64::from(ground.class.number()))),
            (Look::WaterInTheHole, groups(&input.grounds, |ground| f64::from(u8::from(ground.below_water)))),
            (Look::DepthOfLooseGround, groups(&input.grounds, PossibleGround::top)),
        ]
        .into_iter()
        .map(|(look, groups)| LookWorth {
            look,
            wrong_after_percent: 100.0 * doubt_after(&truths, &weights, &groups),
        })
        .collect();
        looks.sort_by(|a, b| a.wrong_after_percent.total_cmp(&b.wrong_after_percent));
        let mut notes = vec![Note::new(
            NoteKind::Method,
            "Odds of nine in ten are our choice of what is enough; a post that can hurt someone deserves better.",
        )];
        if enough_m > DEEPEST_M {
            notes.insert(
                0,
                Note::new(
                    NoteKind::OutsideRange,
                    "What would suffice lies deeper than 3.66 m, beyond what the code counts and a planning aid may say: use a wider collar, brace it, or ask an engineer.",
                ),
            );
        }
        Ok(Answer::with_notes(
            DepthOddsOutput {
                suffices_percent: 100.0 * suffices,
                needed_m,
                enough_m,
                wrong_now_percent: 100.0 * suffices.min(1.0 - suffices),
                looks,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let each: Vec<String> = input
            .grounds
            .iter()
            .zip(&answer.value.needed_m)
            .map(|(ground, needed)| {
                format!("{} ({} %): {needed:.2} m", ground.class.words(), ground.odds_percent.get())
            })
            .collect();
        Working::new()
            .step(
                "depth needed in each possible ground",
                "s b d³ = 7.02 P d + 7.65 P h with its lateral bearing, plus the ground at the top that is not counted",
                format!("P = {} kN at {} m", input.load_kn.get(), input.load_height_m.get()),
                each.join("; "),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "odds that the chosen depth suffices",
                "sum of the odds of the grounds in which it does",
                format!("{} m", input.chosen_depth_m.get()),
                format!("{:.0} %", answer.value.suffices_percent),
            )
    }
}

/// Numbers the draws by a value they share.
fn groups(grounds: &[PossibleGround], value: impl Fn(&PossibleGround) -> f64) -> Vec<usize> {
    let mut seen: Vec<f64> = Vec::new();
    grounds
        .iter()
        .map(|ground| {
            let value = value(ground);
            seen.iter().position(|other| other.total_cmp(&value).is_eq()).unwrap_or_else(|| {
                seen.push(value);
                seen.len() - 1
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_look_that_parts_the_truths_leaves_no_doubt() {
        let truths = [true, true, false];
        let weights = [0.5, 0.2, 0.3];
        assert!((doubt_after(&truths, &weights, &[0, 0, 0]) - 0.3).abs() < 1e-12);
        assert_eq!(doubt_after(&truths, &weights, &[0, 0, 1]), 0.0);
        assert!((doubt_after(&truths, &weights, &[0, 1, 1]) - 0.2).abs() < 1e-12);
    }

    #[test]
    fn depth_for_odds_walks_up_the_weights() {
        let (needed, weights) = ([1.5, 1.0, 2.0], [0.3, 0.6, 0.1]);
        assert_eq!(depth_for_odds_m(&needed, &weights, 0.5), Some(1.0));
        assert_eq!(depth_for_odds_m(&needed, &weights, 0.9), Some(1.5));
        assert_eq!(depth_for_odds_m(&needed, &weights, 0.95), Some(2.0));
        assert_eq!(depth_for_odds_m(&[], &[], 0.9), None);
    }
}
