//! The long pasture, sampled point by point before part of it becomes beds: enough readings of pH and organic matter for
//! a surface, and a few rings that are not enough for one. All invented.

use book::model::plan::{Form, Frame, Outline, PartKind, PlanPart, Spot};
use book::model::seen::{IntakeMinutes, Ring, RingDepth, RingDiameter, RingInfiltration, RingWater};
use book::model::{EntryId, Observation, Sample, SampleDepth, Seen};
use book::{Book, Result, Stamp};
use ground::fertility::analysis::report::{Amount, Analyte, LabFigure, LabReport, Procedure, ReportUnit};
use ground::kit::chance::Chance;
use ground::kit::{Bounded, Refusal};
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

const PLOT: &str = "Long pasture";
/// South-west corner of the pasture on the plan, and its sides, m.
const CORNER: [f64; 2] = [120.0, 40.0];
const SIDES: [f64; 2] = [84.0, 50.0];
/// Points from west to east and from south to north.
const POINTS: [u16; 2] = [9, 4];
const BACK: i64 = 40;
const SEED: u64 = 36;

/// Writes it down.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let missing = || Refusal::new("name", format!("the demonstration has nothing called {PLOT}"));
    let plot = book.snapshot()?.plot_named(PLOT).map(|held| held.id).ok_or_else(missing)?;
    let day = today.saturating_sub(BACK.days());
    let at = TimeZone::UTC.to_timestamp(day.at(9, 0, 0, 0)).map_err(|error| {
        Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
    })?;
    let mut chance = Chance::new(SEED);
    book.write(|writing| {
        let stamp = |minute: i64| Stamp::new(at + minute.minutes(), "Mab");
        let [west, south] = CORNER;
        let (east, north) = (west + SIDES[0], south + SIDES[1]);
        let outline = Outline {
            frame: Frame::Metres,
            form: Form::Area {
                outer: vec![[west, south], [east, south], [east, north], [west, north]],
                holes: Vec::new(),
            },
        };
        writing
            .record(PlanPart { plot: Some(plot), ..PlanPart::drawn(PartKind::Plot, outline) }, &stamp(0))?;
        for number in 0..POINTS[0] * POINTS[1] {
            let minute = i64::from(number) * 2 + 1;
            let share = |index: u16, of: u16| (f64::from(index) + 0.5) / f64::from(of);
            let across = share(number % POINTS[0], POINTS[0]) + 0.05 * chance.normal();
            let up = share(number / POINTS[0], POINTS[1]) + 0.06 * chance.normal();
            let (across, up) = (across.clamp(0.03, 0.97), up.clamp(0.04, 0.96));
            let spot =
                Spot::placed(Frame::Metres, [tenth(west + SIDES[0] * across), tenth(south + SIDES[1] * up)]);
            let sample = writing.record(sample(plot, day, number, spot), &stamp(minute))?;
            // Limed long ago from the gate in the east; thinner ground up the slope.
            let ph = 6.0 + 0.7 / (1.0 + libm::exp(-9.0 * (across - 0.55))) + 0.08 * chance.normal();
            let organic = 5.6 - 1.9 * up + 0.25 * chance.normal();
            let report = report(number, tenth(ph), tenth(organic));
            writing.record(
                seen(plot, day, Some(sample.id), None, Seen::LabReport(report)),
                &stamp(minute + 1),
            )?;
        }
        for (at, minutes) in
            [([20.0, 12.0], 7.0), ([42.0, 30.0], 11.0), ([70.0, 20.0], 18.0), ([60.0, 42.0], 24.0)]
        {
            let ring = Seen::RingInfiltration(RingInfiltration {
                inside_diameter_mm: RingDiameter::literal(152.4),
                rings: vec![Ring {
                    water: RingWater::DepthMm(RingDepth::literal(25.4)),
                    first_min: IntakeMinutes::literal(minutes * 0.6),
                    second_min: Some(IntakeMinutes::literal(minutes)),
                    still_stood: false,
                }],
            });
            let spot = Spot::placed(Frame::Metres, [west + at[0], south + at[1]]);
            writing.record(seen(plot, day, None, Some(spot), ring), &stamp(120))?;
        }
        Ok(())
    })
}

fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

fn sample(plot: EntryId, day: Date, number: u16, spot: Spot) -> Sample {
    Sample {
        plot,
        taken_on: day,
        from_cm: SampleDepth::literal(0.0),
        to_cm: SampleDepth::literal(15.0),
        cores: Some(5),
        taken_by: "Mab".to_owned(),
        bag_label: format!("LP-{}", number + 1),
        import: None,
        spot: Some(spot),
        note: String::new(),
    }
}

fn report(number: u16, ph: f64, organic: f64) -> LabReport {
    LabReport {
        laboratory: "Millrace soil laboratory".to_owned(),
        number: format!("46{:02}", number + 1),
        basis_depth_cm: None,
        density_g_cm3: None,
        free_lime: None,
        figures: vec![
            LabFigure {
                analyte: Analyte::PhWater,
                procedure: Procedure::Water1To1,
                unit: ReportUnit::None,
                amount: Amount::Exactly(ph),
            },
            LabFigure {
                analyte: Analyte::OrganicMatter,
                procedure: Procedure::LossOnIgnition,
                unit: ReportUnit::Percent,
                amount: Amount::Exactly(organic),
            },
        ],
        recommended: Vec::new(),
    }
}

fn seen(plot: EntryId, day: Date, sample: Option<EntryId>, spot: Option<Spot>, seen: Seen) -> Observation {
    Observation {
        plot,
        sample,
        seen_on: day,
        seen_by: "Mab".to_owned(),
        note: String::new(),
        import: None,
        spot,
        seen,
    }
}
