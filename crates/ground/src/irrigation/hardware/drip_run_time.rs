//! How long to run the drip on a bed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::bed::{BedSystem, Emission};
use super::run::{RunPlan, SoilIntake, plan_run};
use crate::irrigation::balance::root_zone_balance::ReachesRoots;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Length of a bed.
    pub struct BedLength: "bed length", "m", 0.3 ..= 2000.0, example 30.0;
    /// Width of ground a bed's crop draws on.
    pub struct BedWidth: "bed width", "m", 0.1 ..= 100.0, example 0.75;
    /// Lines on a bed.
    pub struct Lines: "lines on the bed", "", 1.0 ..= 40.0, example 2.0;
    /// Flow of drip tape.
    pub struct TapeFlow: "flow of the tape", "L/h/m", 0.2 ..= 50.0, example 3.35;
    /// Flow of one emitter.
    pub struct EmitterFlow: "flow of an emitter", "L/h", 0.1 ..= 100.0, example 1.0;
    /// Spacing of emitters along a line.
    pub struct EmitterSpacing: "spacing of the emitters", "m", 0.02 ..= 10.0, example 0.2;
    /// Depth that is to reach the roots.
    pub struct NetDepth: "net depth", "mm", 0.0 ..= 300.0, example 17.2;
    /// Share of the water to pass below the roots on purpose.
    pub struct LeachingShare: "leaching share", "%", 0.0 ..= 50.0, example 10.0;
    /// Longest run that the ground takes in one go.
    pub struct LongestPulse: "longest pulse", "min", 1.0 ..= 10000.0, example 40.0;
    /// Rate that the ground takes for as long as one likes.
    pub struct IntakeRate: "intake of the ground", "mm/h", 0.1 ..= 2000.0, example 10.0;
}

/// Input of `drip-run-time`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DripRunTimeInput {
    /// Length of the bed.
    pub bed_length_m: BedLength,
    /// Width of ground that the bed's crop draws on; with paths where roots reach them.
    pub bed_width_m: BedWidth,
    /// Lines on the bed.
    pub lines: Lines,
    /// Flow of the tape per metre (1 US gal/min per 100 ft is 7.45 L/h per m). Give this, or the emitters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tape_flow_l_h_m: Option<TapeFlow>,
    /// Flow of one emitter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub emitter_flow_l_h: Option<EmitterFlow>,
    /// Spacing of the emitters along the line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub emitter_spacing_m: Option<EmitterSpacing>,
    /// Depth over the bed that is to reach the roots.
    pub net_depth_mm: NetDepth,
    /// Share of the water that reaches the roots: 85 to 95 for drip.
    pub efficiency_percent: ReachesRoots,
    /// Share of the water to pass below the roots on purpose, against salts; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaching_percent: Option<LeachingShare>,
    /// Share of the bed that the drip wets; all of it where nothing is said. It matters for pulses only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wetted_percent: Option<crate::irrigation::balance::evaporation_layer::WettedShare>,
    /// Longest run that the ground takes in one go.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longest_pulse_min: Option<LongestPulse>,
    /// Rate that the ground takes for as long as one likes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub intake_mm_h: Option<IntakeRate>,
}

/// Run time of drip.
pub struct DripRunTime;

impl Method for DripRunTime {
    type Input = DripRunTimeInput;
    type Output = RunPlan;

    const CARD: Card = Card {
        name: "drip-run-time",
        title: "Minutes of drip",
        topic: Topic::Irrigation,
        computes: "How long to run the drip on a bed for a depth of water, how much water that is, and pulses with \
                   rests where the ground cannot take it in one go.",
        validity: &[
            "Flow at the pressure the line really has; a bucket under ten emitters tells.",
            "The depth is over the whole width given, not over the wetted strip alone.",
            "Minutes are rounded: to 1 below 20, to 5 below 180, to 15 beyond. Hours are not.",
            "Rests as long as the pulses, where the ground's intake is not given, are common practice without a source.",
        ],
        sources: &[Cite::new("PennStateDrip2013", "run times of drip tape")],
        cautions: &[
            "Drip on a drinking-water supply needs backflow prevention; feeding through it needs a check valve and a low-pressure cut-off. Local plumbing codes decide.",
        ],
    };

    fn example() -> Self::Input {
        DripRunTimeInput {
            bed_length_m: BedLength::literal(30.0),
            bed_width_m: BedWidth::literal(0.75),
            lines: Lines::literal(1.0),
            tape_flow_l_h_m: None,
            emitter_flow_l_h: Some(EmitterFlow::literal(1.0)),
            emitter_spacing_m: Some(EmitterSpacing::literal(0.2)),
            net_depth_mm: NetDepth::literal(17.2),
            efficiency_percent: ReachesRoots::literal(90.0),
            leaching_percent: None,
            wetted_percent: None,
            longest_pulse_min: None,
            intake_mm_h: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let bed = bed(input)?;
        let intake = SoilIntake {
            longest_pulse_min: input.longest_pulse_min.map(Bounded::get),
            intake_mm_h: input.intake_mm_h.map(Bounded::get),
        };
        let plan = plan_run(
            &bed,
            input.net_depth_mm.get(),
            input.efficiency_percent.get() / 100.0,
            input.leaching_percent.map_or(0.0, |share| share.get() / 100.0),
            input.wetted_percent.map_or(1.0, |share| share.get() / 100.0),
            intake,
        )
        .map_err(|mut refusal| {
            if refusal.field == "net_mm" {
                "net_depth_mm".clone_into(&mut refusal.field);
            }
            refusal
        })?;
        let mut notes = Vec::new();
        if plan.outruns_the_ground {
            notes.push(Note::new(
                NoteKind::Method,
                "The drip gives more than the ground takes for long: water will stand or run. Find the longest pulse \
                 with a trial run, and split the time.",
            ));
        }
        Ok(Answer::with_notes(plan, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let plan = &answer.value;
        let Ok(bed) = bed(input) else { return Working::new() };
        Working::new()
            .step(
                "rate over the bed",
                "flow of the bed / (length × width)",
                format!("{:.1} L/h / ({} × {})", plan.flow_l_h, bed.length_m, bed.width_m),
                format!("{:.2} mm/h", plan.rate_mm_h),
            )
            .step(
                "depth to put on",
                "net / efficiency / (1 − leaching)",
                format!(
                    "{} / {} / (1 − {})",
                    input.net_depth_mm.get(),
                    input.efficiency_percent.get() / 100.0,
                    input.leaching_percent.map_or(0.0, |share| share.get() / 100.0)
                ),
                format!("{:.1} mm, {:.0} L", plan.gross_mm, plan.volume_l),
            )
            .step(
                "run time",
                "depth / rate",
                format!("{:.1} / {:.2}", plan.gross_mm, plan.rate_mm_h),
                format!("{:.2} h; {} × {} min", plan.run_h, plan.run.pulses, plan.run.pulse_min),
            )
            .cite(Self::CARD.sources[0])
    }
}

fn bed(input: &DripRunTimeInput) -> Result<BedSystem, Refusal> {
    let emission = match (input.tape_flow_l_h_m, input.emitter_flow_l_h, input.emitter_spacing_m) {
        (Some(flow), None, None) => Emission::Tape { flow_l_h_m: flow.get() },
        (None, Some(flow), Some(spacing)) => {
            Emission::Emitters { flow_l_h: flow.get(), spacing_m: spacing.get() }
        }
        (None, Some(_), None) => {
            return Err(Refusal::new("emitter_spacing_m", "the spacing of the emitters is missing")
                .given("nothing")
                .accepted("0.02 to 10 m")
                .example("0.2 m"));
        }
        _ => {
            return Err(Refusal::new(
                "tape_flow_l_h_m",
                "either the flow of the tape or the flow and spacing of its emitters is wanted, not both and not neither",
            )
            .given("both or neither")
            .accepted("tape_flow_l_h_m, or emitter_flow_l_h with emitter_spacing_m")
            .example("tape_flow_l_h_m 3.35"));
        }
    };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 40")]
    let lines = input.lines.get().round() as u32;
    Ok(BedSystem { length_m: input.bed_length_m.get(), width_m: input.bed_width_m.get(), lines, emission })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tape_or_emitters_not_both() {
        let mut input = DripRunTime::example();
        input.tape_flow_l_h_m = Some(TapeFlow::literal(5.0));
        assert_eq!(DripRunTime::compute(&input).unwrap_err().field, "tape_flow_l_h_m");
        input.emitter_flow_l_h = None;
        input.emitter_spacing_m = None;
        let tape = DripRunTime::compute(&input).unwrap().value;
        assert!((tape.rate_mm_h - 6.667).abs() < 0.001);
        input.intake_mm_h = Some(IntakeRate::literal(4.0));
        assert_eq!(DripRunTime::compute(&input).unwrap().notes.len(), 1);
    }
}
