//! Concrete and bags for post holes.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cautions;
use super::embedment::Section;
use super::quantities::{CollarDiameter, PostDepth, PostWidth};
use super::strength::CONCRETE_KN_M3;
use super::us::M3_PER_FT3;
use crate::kit::table::rows;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// How many posts are set.
    pub struct PostCount: "number of posts", "", 1.0 ..= 2000.0, example 24.0;
    /// Concrete spilled, left in the barrow or lost.
    pub struct WastePercent: "waste", "%", 0.0 ..= 50.0, example 10.0;
    /// How much a hole in loose ground grows by caving.
    pub struct CavingPercent: "caving of the hole", "%", 0.0 ..= 100.0, example 25.0;
}

/// Concrete in one collar, m³; never less than nothing.
#[must_use]
pub fn collar_volume_m3(hole_m: f64, depth_m: f64, section: Option<(Section, f64)>) -> f64 {
    let round = |width: f64| std::f64::consts::FRAC_PI_4 * width * width;
    let post = match section {
        Some((Section::Round, width)) => round(width),
        Some((Section::Square, width)) => width * width,
        None => 0.0,
    };
    ((round(hole_m) - post) * depth_m).max(0.0)
}

/// Bags of one size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Bags {
    /// Mass of a bag, lb.
    pub bag_lb: f64,
    /// Whole bags to buy.
    pub bags: u32,
}

#[derive(Deserialize)]
struct Row {
    bag_lb: f64,
    yield_ft3: f64,
}

static BAGS: LazyLock<Vec<Row>> =
    LazyLock::new(|| rows("concrete_bags.csv", include_str!("data/concrete_bags.csv")));

/// Whole bags of each size for a volume that already holds waste.
#[must_use]
pub fn bags_for(volume_m3: f64) -> Vec<Bags> {
    BAGS.iter()
        .map(|row| {
            // A hair less, so that exactly sixty bags are not sixty-one.
            let bags = (volume_m3 / M3_PER_FT3 / row.yield_ft3 - 1e-9).ceil().clamp(0.0, f64::from(u32::MAX));
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped, whole")]
            let bags = bags as u32;
            Bags { bag_lb: row.bag_lb, bags }
        })
        .collect()
}

/// Input of `collar-concrete`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CollarConcreteInput {
    /// Diameter of the hole.
    pub hole_diameter_mm: CollarDiameter,
    /// Depth that is filled.
    pub depth_m: PostDepth,
    /// Diameter or face of the post that stands in it, if its room is to be taken off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub post_width_mm: Option<PostWidth>,
    /// Cross-section of the post; round without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub section: Option<Section>,
    /// How many.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub posts: Option<PostCount>,
    /// How much the hole grows by caving: 25 to 50 % in dry sand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub caving_percent: Option<CavingPercent>,
    /// Waste; 10 % without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub waste_percent: Option<WastePercent>,
}

/// Output of `collar-concrete`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CollarConcreteOutput {
    /// Concrete in one hole, m³.
    pub each_m3: f64,
    /// Concrete for all with waste, m³.
    pub total_m3: f64,
    /// Weight of one collar, kN.
    pub each_kn: f64,
    /// Bags for one hole, each bought and mixed for itself, by size.
    pub each_bags: Vec<Bags>,
    /// Bags for all, by size.
    pub total_bags: Vec<Bags>,
}

/// Concrete of a collar.
pub struct CollarConcrete;

impl Method for CollarConcrete {
    type Input = CollarConcreteInput;
    type Output = CollarConcreteOutput;

    const CARD: Card = Card {
        name: "collar-concrete",
        title: "Concrete for post holes",
        topic: Topic::Posts,
        computes: "Concrete in post holes, its weight, and whole bags to buy.",
        validity: &[
            "Straight round holes; in dry sand that caves add 25 to 50 %, or use a form tube and tamp outside it.",
            "Bags make what their makers print: read the bag.",
        ],
        sources: &[Cite::new("ConcreteTrade", "yield of bags")],
        cautions: &[
            cautions::PLANNING,
            cautions::SERVICES,
            cautions::AUTHORITY,
            cautions::COLLAR,
            "Wet cement burns skin and eyes and its dust harms lungs: gloves, goggles, a mask. Cover open holes.",
        ],
    };

    fn example() -> Self::Input {
        CollarConcreteInput {
            hole_diameter_mm: CollarDiameter::literal(300.0),
            depth_m: PostDepth::literal(0.9),
            post_width_mm: Some(PostWidth::literal(60.0)),
            section: None,
            posts: Some(PostCount::literal(24.0)),
            caving_percent: None,
            waste_percent: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let hole = input.hole_diameter_mm.get() / 1000.0;
        let section =
            input.post_width_mm.map(|width| (input.section.unwrap_or(Section::Round), width.get() / 1000.0));
        if let Some((kind, width)) = section
            && super::embedment::bearing_width_m(kind, width, None) >= hole
        {
            return Err(Refusal::new("post_width_mm", "the post does not fit the hole")
                .given(format!("{} mm in a hole of {} mm", 1000.0 * width, 1000.0 * hole))
                .accepted("a diameter or diagonal less than the hole")
                .example("60 mm"));
        }
        let posts = input.posts.map_or(1.0, Bounded::get);
        if posts.fract() != 0.0 {
            return Err(Refusal::new("posts", "posts come whole")
                .given(posts)
                .accepted("1 to 2000")
                .example("24"));
        }
        let caving = 1.0 + input.caving_percent.map_or(0.0, Bounded::get) / 100.0;
        let waste = 1.0 + input.waste_percent.map_or(10.0, Bounded::get) / 100.0;
        // What caves adds to the hole, not to the room of the post.
        let plain = collar_volume_m3(hole, input.depth_m.get(), section);
        let full = collar_volume_m3(hole, input.depth_m.get(), None);
        let each_m3 = plain + (caving - 1.0) * full;
        let total_m3 = posts * each_m3 * waste;
        Ok(Answer::with_notes(
            CollarConcreteOutput {
                each_m3,
                total_m3,
                each_kn: each_m3 * CONCRETE_KN_M3,
                each_bags: bags_for(each_m3 * waste),
                total_bags: bags_for(total_m3),
            },
            vec![Note::new(
                NoteKind::Provenance,
                "Waste of 10 % and the weight of concrete, 22.8 kN/m³, are common practice.",
            )],
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let bags: Vec<String> =
            answer.value.total_bags.iter().map(|row| format!("{} of {} lb", row.bags, row.bag_lb)).collect();
        Working::new()
            .step(
                "concrete in one hole",
                "π/4 × diameter² × depth, less the post, more what caves",
                format!("{} mm, {} m", input.hole_diameter_mm.get(), input.depth_m.get()),
                format!("{:.4} m³", answer.value.each_m3),
            )
            .step(
                "bags",
                "concrete with waste over what a bag makes, up to whole bags",
                format!("{:.3} m³", answer.value.total_m3),
                bags.join(" or "),
            )
            .cite(Self::CARD.sources[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sixty bags of 60 lb make a cubic yard: a trade page.
    #[test]
    fn sixty_bags_make_a_cubic_yard() {
        let bags = bags_for(27.0 * M3_PER_FT3);
        assert_eq!(bags.iter().find(|row| row.bag_lb == 60.0).unwrap().bags, 60);
    }
}
