//! How long to run a bed for a depth of water.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::LITRES_PER_GALLON;
use super::bed::BedSystem;
use crate::kit::Refusal;
use crate::kit::quantity::with_unit;

/// What the ground takes: either may be known.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SoilIntake {
    /// Longest run before water stands, runs off or passes the roots, min.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub longest_pulse_min: Option<f64>,
    /// Rate that the ground takes for as long as one likes, mm/h over the ground wetted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub intake_mm_h: Option<f64>,
}

/// A run by the clock.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Run {
    /// Pulses.
    pub pulses: u32,
    /// Minutes of each, rounded for a timer.
    pub pulse_min: f64,
    /// Rest between two pulses, min; 0 for a single one.
    pub rest_min: f64,
}

/// What a depth of water takes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RunPlan {
    /// Rate over the ground served.
    pub rate_mm_h: f64,
    /// Flow of the bed.
    pub flow_l_h: f64,
    /// Depth to put on so that the net depth reaches the roots.
    pub gross_mm: f64,
    /// Run time, not rounded.
    pub run_h: f64,
    /// Run time, rounded for a timer.
    pub run_min: f64,
    /// The run by the clock.
    pub run: Run,
    /// Water used.
    pub volume_l: f64,
    /// The same in US gallons.
    pub volume_gal: f64,
    /// Whether no pulsing helps: the ground takes less than the bed's hardware gives.
    pub outruns_the_ground: bool,
}

/// Minutes as a timer is set: whole ones up to a quarter of an hour, then by five up to three hours,
/// then by a quarter of an hour. Never nothing where something was asked for.
#[must_use]
pub fn round_minutes(minutes: f64) -> f64 {
    let step = match minutes {
        m if m < 20.0 => 1.0,
        m if m < 180.0 => 5.0,
        _ => 15.0,
    };
    if minutes <= 0.0 { 0.0 } else { (step * (minutes / step).round()).max(1.0) }
}

/// Longest run asked for: beyond a week a number is wrong, h.
const LONGEST_RUN_H: f64 = 168.0;

/// The run for a net depth over the ground served. `efficiency` is the share that reaches the roots,
/// `leaching` the share to pass below them on purpose, `wetted_fraction` the share of the ground on
/// which the water falls (to hold its rate against the ground's).
///
/// # Errors
/// A bed that [`BedSystem::checked`] refuses, shares out of range, or a run beyond a week.
pub fn plan_run(
    bed: &BedSystem,
    net_mm: f64,
    efficiency: f64,
    leaching: f64,
    wetted_fraction: f64,
    intake: SoilIntake,
) -> Result<RunPlan, Refusal> {
    let bed = bed.checked()?;
    for (field, value, least, most, example) in [
        ("net_mm", net_mm, 0.0, 300.0, "20 mm"),
        ("efficiency", efficiency, 0.1, 1.0, "0.9"),
        ("leaching", leaching, 0.0, 0.5, "0.1"),
        ("wetted_fraction", wetted_fraction, 0.01, 1.0, "0.5"),
        ("longest_pulse_min", intake.longest_pulse_min.unwrap_or(30.0), 1.0, 10_000.0, "30 min"),
        ("intake_mm_h", intake.intake_mm_h.unwrap_or(10.0), 0.1, 2000.0, "10 mm/h"),
    ] {
        if !(least..=most).contains(&value) {
            return Err(Refusal::new(
                field,
                format!("{field} must be {least} to {most}, but {value} was given"),
            )
            .given(value)
            .accepted(format!("{least} to {most}"))
            .example(example));
        }
    }
    let gross = net_mm / efficiency / (1.0 - leaching);
    let (rate, flow) = (bed.rate_mm_h(), bed.flow_l_h());
    let hours = gross / rate;
    if hours > LONGEST_RUN_H {
        return Err(Refusal::new(
            "net_mm",
            format!(
                "at {} this takes {hours:.0} h: the flow, the bed's size or the depth is not what it should be",
                with_unit((100.0 * rate).round() / 100.0, "mm/h")
            ),
        )
        .given(with_unit(net_mm, "mm"))
        .accepted(format!("what {LONGEST_RUN_H} h put on, {:.1} mm", LONGEST_RUN_H * rate))
        .example("20 mm"));
    }
    let minutes = 60.0 * hours;
    let volume = gross * bed.area_m2();
    let local = rate / wetted_fraction;
    Ok(RunPlan {
        rate_mm_h: rate,
        flow_l_h: flow,
        gross_mm: gross,
        run_h: hours,
        run_min: round_minutes(minutes),
        run: pulses(minutes, local, intake),
        volume_l: volume,
        volume_gal: volume / LITRES_PER_GALLON,
        outruns_the_ground: intake.longest_pulse_min.is_none()
            && intake.intake_mm_h.is_some_and(|most| local > most),
    })
}

/// Splits a run where the ground cannot take it in one go. The rest lets what was put on sink at the
/// ground's own rate; where that is not known, it is as long as the pulse (common practice).
fn pulses(minutes: f64, local_mm_h: f64, intake: SoilIntake) -> Run {
    let single = Run { pulses: 1, pulse_min: round_minutes(minutes), rest_min: 0.0 };
    let Some(longest) = intake.longest_pulse_min else { return single };
    if minutes <= longest || intake.intake_mm_h.is_some_and(|most| local_mm_h <= most) {
        return single;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most a week in minutes")]
    let count = (minutes / longest).ceil() as u32;
    let each = minutes / f64::from(count);
    let sink = intake.intake_mm_h.map_or(each, |most| each * (local_mm_h / most - 1.0));
    // A pulse is rounded down where rounding up would pass the longest.
    let rounded = round_minutes(each);
    let pulse_min = if rounded > longest { each.floor().max(1.0) } else { rounded };
    Run { pulses: count, pulse_min, rest_min: round_minutes(sink.max(1.0)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::irrigation::hardware::Emission;

    fn tape() -> BedSystem {
        BedSystem { length_m: 30.0, width_m: 0.75, lines: 1, emission: Emission::Tape { flow_l_h_m: 5.0 } }
    }

    #[test]
    fn minutes_are_rounded_for_a_timer() {
        for (minutes, wanted) in
            [(0.0, 0.0), (0.2, 1.0), (11.4, 11.0), (48.0, 50.0), (172.0, 170.0), (250.0, 255.0)]
        {
            assert_eq!(round_minutes(minutes), wanted);
        }
    }

    /// tape 1 L/h each 0.20 m, 17.2 mm at 90 %: 6.67 mm/h, 19.1 mm, 2.86 h [computed by hand].
    #[test]
    fn our_own_worked_bed() {
        let plan = plan_run(&tape(), 17.16, 0.9, 0.0, 0.5, SoilIntake::default()).unwrap();
        assert!((plan.rate_mm_h - 6.667).abs() < 0.001 && (plan.run_h - 2.86).abs() < 0.005, "{plan:?}");
        assert!((plan.volume_l - 19.07 * 22.5).abs() < 0.2);
        assert_eq!((plan.run_min, plan.run.pulses), (170.0, 1));
    }

    #[test]
    fn a_slow_ground_gets_pulses_that_add_up() {
        let intake = SoilIntake { longest_pulse_min: Some(40.0), intake_mm_h: Some(5.0) };
        let plan = plan_run(&tape(), 17.16, 0.9, 0.0, 0.5, intake).unwrap();
        assert_eq!(plan.run.pulses, 5);
        assert!(plan.run.pulse_min <= 40.0 && plan.run.rest_min > plan.run.pulse_min, "{plan:?}");
        assert!((5.0 * plan.run.pulse_min - 171.6).abs() < 15.0, "{plan:?}");
        let quick = SoilIntake { longest_pulse_min: Some(40.0), intake_mm_h: Some(50.0) };
        assert_eq!(plan_run(&tape(), 17.16, 0.9, 0.0, 0.5, quick).unwrap().run.pulses, 1);
    }

    #[test]
    fn shares_and_long_runs_are_refused() {
        let refused = |net, efficiency, leaching| {
            plan_run(&tape(), net, efficiency, leaching, 0.5, SoilIntake::default()).unwrap_err().field
        };
        assert_eq!(refused(-1.0, 0.9, 0.0), "net_mm");
        assert_eq!(refused(10.0, 0.0, 0.0), "efficiency");
        assert_eq!(refused(10.0, 0.9, 1.0), "leaching");
        let trickle = BedSystem { emission: Emission::Tape { flow_l_h_m: 0.2 }, ..tape() };
        let refused = plan_run(&trickle, 100.0, 0.9, 0.0, 0.5, SoilIntake::default()).unwrap_err();
        assert_eq!(refused.field, "net_mm");
    }
}
