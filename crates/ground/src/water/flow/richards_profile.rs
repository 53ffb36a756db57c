//! Water moving down a layered profile, as a method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::question::{
    BottomQuestion, Head, Hours, LayerQuestion, PeriodQuestion, PondLimit, ProfileDepth, ProfileQuestion,
    Rate, StartQuestion, Thickness,
};
use super::record::{Run, Snapshot};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;
use crate::water::retention::ClassSet;
use crate::water::retention::parameters::{ClassAverage, SoilChoice};
use crate::water::tension::WaterContent;

/// Output of `richards-profile`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ProfileAnswer {
    /// Depth of the middle of each cell.
    pub depth_cm: Vec<f64>,
    /// The profile at the times asked for.
    pub times: Vec<ProfileAtTime>,
    /// Steps taken.
    pub steps: usize,
}

/// The profile at one time. Amounts of water are since the start.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ProfileAtTime {
    /// Hours from the start.
    pub time_h: f64,
    /// Water content of each cell.
    pub water_content_m3_m3: Vec<f64>,
    /// Pressure head of each cell.
    pub head_cm: Vec<f64>,
    /// Depth to which the ground is at least as wet as asked.
    pub front_cm: Option<f64>,
    /// Water above the depth asked for.
    pub water_above_mm: Option<f64>,
    /// Rain and irrigation that fell; with a surface held at a head, what entered.
    pub applied_mm: f64,
    /// What entered the ground.
    pub infiltration_mm: f64,
    /// What ran off.
    pub runoff_mm: f64,
    /// What stands on the surface now.
    pub standing_mm: f64,
    /// What the air took.
    pub evaporation_mm: f64,
    /// What roots took.
    pub transpiration_mm: f64,
    /// What left through the lower end; negative where it rose.
    pub drainage_mm: f64,
    /// Water in the profile now.
    pub storage_mm: f64,
    /// Change of it since the start.
    pub storage_change_mm: f64,
    /// Water that the fluxes do not account for.
    pub balance_error_mm: f64,
}

impl ProfileAtTime {
    fn of(run: &Run, place: usize, at: &Snapshot, input: &ProfileQuestion) -> Self {
        let t = &at.totals;
        let mm = |cm: f64| cm * 10.0;
        Self {
            time_h: at.time_h,
            water_content_m3_m3: at.theta.clone(),
            head_cm: at.head_cm.clone(),
            front_cm: input.front_water_m3_m3.and_then(|theta| run.front_cm(place, theta.get())),
            water_above_mm: input
                .water_above_cm
                .and_then(|depth| run.water_between_cm(place, 0.0, depth.get()))
                .map(mm),
            applied_mm: mm(t.applied_cm),
            infiltration_mm: mm(t.infiltration_cm),
            runoff_mm: mm(t.runoff_cm),
            standing_mm: mm(t.standing_cm),
            evaporation_mm: mm(t.evaporation_cm),
            transpiration_mm: mm(t.transpiration_cm),
            drainage_mm: mm(t.drainage_cm),
            storage_mm: mm(t.storage_cm),
            storage_change_mm: mm(t.storage_cm - t.storage_at_start_cm),
            balance_error_mm: mm(t.balance_error_cm()),
        }
    }
}

/// Water moving down a layered profile.
pub struct RichardsProfile;

impl Method for RichardsProfile {
    type Input = ProfileQuestion;
    type Output = ProfileAnswer;

    const CARD: Card = Card {
        name: "richards-profile",
        title: "Water moving down a profile",
        topic: Topic::Water,
        computes: "Follows rain or irrigation into layered ground: how deep it wets and when, what stands, runs off, \
                   evaporates, is drunk by roots and drains away. Solves the Richards equation in one dimension.",
        validity: &[
            "Water moves straight down or up: under a drip line it also spreads sideways, and wets less deep.",
            "Cracks, worm holes and root channels carry water past the ground that is reckoned with here.",
            "One curve for wetting and drying; hysteresis is not in it.",
            "Cells of 1 cm place a wetting front to about 1 cm; coarser cells smear it.",
        ],
        sources: &[
            Cite::new("Celia1990", "mixed form of the flow equation"),
            Cite::new("Bank1985", "two-stage step in time"),
            Cite::new("Feddes1978", "water taken by roots"),
        ],
        cautions: &[
            "Dig and look after an irrigation before a schedule is changed on the strength of a computed profile.",
        ],
    };

    fn example() -> Self::Input {
        let layer = |thickness: f64, texture| LayerQuestion {
            thickness_cm: Thickness::literal(thickness),
            soil: SoilChoice::Class(ClassAverage { texture, set: ClassSet::CarselParrish1988 }),
        };
        ProfileQuestion {
            layers: vec![layer(30.0, Class::SandyLoam), layer(30.0, Class::ClayLoam)],
            start: StartQuestion::HeadCm(Head::literal(-336.5)),
            periods: vec![PeriodQuestion {
                until_h: Hours::literal(4.0),
                water_mm_h: Rate::literal(6.0),
                evaporation_mm_h: None,
                transpiration_mm_h: None,
            }],
            surface_head_cm: None,
            pond_limit_mm: Some(PondLimit::literal(5.0)),
            driest_head_cm: None,
            bottom: BottomQuestion::FreeDrainage,
            roots: None,
            cells: None,
            times_h: [1.0, 4.0, 24.0].map(Hours::literal).to_vec(),
            front_water_m3_m3: Some(WaterContent::literal(0.15)),
            water_above_cm: Some(ProfileDepth::literal(30.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (run, mut notes) = input.run()?;
        let times: Vec<ProfileAtTime> = run
            .snapshots
            .iter()
            .enumerate()
            .map(|(place, at)| ProfileAtTime::of(&run, place, at, input))
            .collect();
        if times.last().is_some_and(|last| last.runoff_mm > 0.0) {
            notes.push(Note::new(
                NoteKind::Method,
                "Some water ran off: it is offered faster than this ground takes it in.",
            ));
        }
        Ok(Answer::with_notes(ProfileAnswer { depth_cm: run.depth_cm, times, steps: run.steps }, notes))
    }

    fn working(_: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let mut working = Working::new()
            .step(
                "the profile over time",
                "∂θ/∂t = ∂/∂z [K(h) (∂h/∂z − 1)] − uptake, in cells from the surface down, water in each cell balanced at every step",
                format!("{} cells, {} steps", answer.value.depth_cm.len(), answer.value.steps),
                format!("{} times", answer.value.times.len()),
            )
            .cite(Self::CARD.sources[0]);
        for at in &answer.value.times {
            working = working
                .step(
                    format!("water balance to {} h", at.time_h),
                    "change of storage + standing = applied − runoff − evaporation − taken by roots − drainage",
                    format!(
                        "{:.3} + {:.3} = {:.3} − {:.3} − {:.3} − {:.3} − {:.3}",
                        at.storage_change_mm,
                        at.standing_mm,
                        at.applied_mm,
                        at.runoff_mm,
                        at.evaporation_mm,
                        at.transpiration_mm,
                        at.drainage_mm
                    ),
                    format!("off by {:.1e} mm", at.balance_error_mm),
                )
                .cite(Self::CARD.sources[0]);
        }
        working
    }
}
