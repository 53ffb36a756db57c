//! A plot's ground as covers see it: its make-up, acidity, salts, wet and drought over what it may be.

use book::Snapshot;
use book::model::EntryId;
use ground::covers::gap::{Gap, YEAR_D};
use ground::covers::ground::CoverGround;
use ground::covers::kinds::Band;
use ground::fertility::analysis::report::Analyte;
use ground::kit::chance::Chance;
use jiff::civil::Date;

use super::year::day_of_year;
use crate::PlotReport;
use crate::finding::Basis;
use crate::lab_rounds::lab_rounds;
use crate::salt_reading::extracts;
use crate::water::latest_reading;
use crate::watering::{RAIN_COUNTS, usual_water};
use crate::words;

/// Standard error of a pH from a laboratory or a good meter (our judgement).
const PH_ERROR: f64 = 0.15;
/// Depth over which a cover draws water, mm.
const ROOTS_MM: f64 = 450.0;
/// Water a cover uses of the reference evapotranspiration over its time (our judgement: little cover at first).
const USES_OF_ET0: f64 = 0.7;

/// What to take for wet and drought where the person says it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Said {
    pub wet: Option<bool>,
    pub dry: Option<bool>,
}

/// The ground over what it may be.
pub(super) struct GroundDraws {
    pub draws: Vec<CoverGround>,
    pub weights: Vec<f64>,
    /// What was taken, in sentences.
    pub taken: Vec<String>,
    pub ph_known: bool,
    pub make_up_known: bool,
    pub salts_known: bool,
    /// Odds that it lies wet, where anything is known.
    pub wet_odds: Option<f64>,
}

/// The ground of a report over a gap that begins on a day.
pub(super) fn of_plot(
    snapshot: &Snapshot,
    report: &PlotReport,
    bed: EntryId,
    gap: &Gap,
    from: Date,
    said: Said,
) -> GroundDraws {
    let plot = report.id;
    let mut taken = Vec::new();
    let ensemble = &report.ensemble;
    let ph = lab_rounds(snapshot, plot).iter().rev().find_map(|round| {
        Some((round.held.body.seen_on, round.report.first(Analyte::PhWater)?.amount.exactly()?))
    });
    match ph {
        Some((on, ph)) => {
            taken.push(format!("pH {} of the soil test of {}.", words::short(ph), words::day(on)))
        }
        None => taken.push("No pH is known: nothing is held against a cover for acidity.".to_owned()),
    }
    let salts = latest_reading(snapshot, plot)
        .map(|(_, reading)| extracts(reading, ensemble.draws.iter().map(|draw| draw.class)));
    let rain = water_of(snapshot, gap, from);
    let wet_odds = said.wet.map(|wet| f64::from(u8::from(wet))).or_else(|| seen_wet(report));
    let wet_season = gap.over_winter || rain.is_some_and(|(rain, et0)| rain > et0);
    let wet = match (said.wet, wet_odds) {
        (Some(wet), _) => {
            taken.push(if wet { "You say it lies wet." } else { "You say it does not lie wet." }.to_owned());
            f64::from(u8::from(wet))
        }
        (None, Some(odds)) if wet_season => {
            taken.push(format!("By the signs seen it lies wet with odds of {}.", words::odds(odds)));
            odds
        }
        (None, Some(_)) => {
            taken.push("It was seen wet, but in this gap the air takes more than rain brings.".to_owned());
            0.0
        }
        (None, None) => {
            taken.push("No sign of wetness is written down.".to_owned());
            0.0
        }
    };
    let watered = snapshot.system_of(bed).is_some()
        || snapshot
            .plot(plot)
            .is_some_and(|held| held.body.watering.is_some() || held.body.place.under_cover());
    let short_mm = match (said.dry, rain) {
        (None, Some((rain, et0))) if !watered => Some(USES_OF_ET0 * et0 - RAIN_COUNTS * rain),
        _ => None,
    };
    match said.dry {
        Some(true) => taken.push("You say it runs short of water.".to_owned()),
        Some(false) => taken.push("You say it does not run short of water.".to_owned()),
        None if watered => {
            taken.push("It can be watered, so drought is not held against a cover.".to_owned())
        }
        None if short_mm.is_some() => taken.push(
            "It is not watered: usual rain and what the ground holds are set against what a cover drinks."
                .to_owned(),
        ),
        None => {}
    }
    let mut chance = Chance::new(0xC0FE);
    let draws = ensemble
        .draws
        .iter()
        .enumerate()
        .map(|(at, draw)| {
            // Spread evenly over the draws, the same every time.
            #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
            let place = (0.618_033_988_75 * (at as f64 + 0.5)).fract();
            let holds_mm = ROOTS_MM * report.water_draws.available.get(at).copied().unwrap_or(f64::NAN);
            CoverGround {
                band: Band::of(draw.class),
                ph: ph.map_or(f64::NAN, |(_, ph)| ph + PH_ERROR * chance.normal()),
                ec_ds_m: salts.as_ref().and_then(|salts| salts.get(at)).copied().unwrap_or(f64::NAN),
                wet: place < wet,
                dry: said.dry.unwrap_or_else(|| short_mm.is_some_and(|short| short > holds_mm)),
            }
        })
        .collect();
    GroundDraws {
        draws,
        weights: ensemble.weights.clone(),
        taken,
        ph_known: ph.is_some(),
        make_up_known: report.make_up_known,
        salts_known: salts.is_some(),
        wet_odds,
    }
}

/// Odds that it lies wet by what was seen; nothing where nobody looked.
fn seen_wet(report: &PlotReport) -> Option<f64> {
    let finding = |id: &str| report.findings.iter().find(|finding| finding.id == id);
    if let Some(found) = finding("water-table") {
        // What stands behind the words (our judgement).
        return Some(match found.verdict {
            "seen" => 0.95,
            "likely" => 0.75,
            "possible" => 0.4,
            _ => 0.05,
        });
    }
    finding("drainage-first").filter(|found| found.basis == Basis::Seen).map(|_| 0.8)
}

/// Usual rain and reference evapotranspiration of a gap, mm; of its first year.
fn water_of(snapshot: &Snapshot, gap: &Gap, from: Date) -> Option<(f64, f64)> {
    let usual = usual_water(snapshot)?;
    let first = usize::from(day_of_year(from)) - 1;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "days of a gap")]
    let days = (gap.days as usize).min(YEAR_D);
    let sum = |list: &[f64]| (0..days).filter_map(|day| list.get((first + day) % YEAR_D)).sum::<f64>();
    Some((sum(&usual.rain_mm_d), sum(&usual.et0_mm_d)))
}
