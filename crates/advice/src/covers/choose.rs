//! Choosing a cover for a bed and a gap: every cover of the table with its reasons, best first.

use std::sync::LazyLock;

use book::Snapshot;
use book::model::{EntryId, UnitSystem};
use ground::covers::choice::{Asked, Firmness, Reason, Standing, WinterWish, all_needs, rank};
use ground::covers::expected::dry_matter_kg_ha;
use ground::covers::gap::{Gap, fit};
use ground::covers::ground::Needs;
use ground::covers::kinds::{Ending, NitrogenFrom, Purpose};
use ground::covers::mix::{Sowing, Thickness};
use ground::covers::reasons::{speaks_against, speaks_for};
use ground::covers::species::{Figures, Range, Species};
use ground::kit::{Provenance, Refusal};
use jiff::civil::Date;
use serde::Serialize;

use super::gaps::{BedGap, BedYear, bed_year};
use super::mixes::{MixLine, SeedLine, mixes, seed};
use super::plot_ground::{GroundDraws, Said, of_plot};
use super::purposes::{PurposeWhy, proposed};
use super::rotation::beside;
use super::year::{FarmYear, day_of_year, farm_year};
use super::{tell, winter};
use crate::PlotReport;
use crate::work::season;

/// Shortest and longest gap that is judged, days.
const LEAST_D: i64 = 7;
const MOST_D: i64 = 730;
const SURE: f64 = 0.9;
const EVEN: f64 = 0.5;

static NEEDS: LazyLock<Vec<Needs>> = LazyLock::new(all_needs);

/// What is asked.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CoverQuestion {
    /// Which gap of the bed, from 1; the first where nothing is said.
    pub gap: Option<usize>,
    /// First day on which it can be sown.
    pub from: Option<Date>,
    /// Day on which the bed is wanted.
    pub to: Option<Date>,
    /// What it is sown for; proposed where nothing is said.
    pub purposes: Vec<Purpose>,
    /// What the winter shall do.
    pub winter: Option<WinterWish>,
    /// Does the ground lie wet then? By what was seen where nothing is said.
    pub wet: Option<bool>,
    /// Does it run short of water then?
    pub dry: Option<bool>,
    /// Is it drilled, and not broadcast?
    pub drilled: bool,
}

/// How well a cover serves one purpose.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Serves {
    /// The purpose, in words.
    pub purpose: &'static str,
    /// 0 poor to 4 excellent.
    pub rating: u8,
}

/// One cover in the order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoverLine {
    /// Key in the table.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Its botanical name.
    pub scientific_name: String,
    /// Is it ruled out?
    pub ruled_out: bool,
    /// Does it serve every purpose at least well?
    pub serves: bool,
    /// How surely it comes off.
    pub firmness: Firmness,
    /// The same in words with its odds.
    pub firmness_words: String,
    /// The odds alone.
    pub odds_words: String,
    /// How well it serves each purpose.
    pub ratings: Vec<Serves>,
    /// Chance that it serves in time, percent.
    pub in_time_percent: f64,
    /// Share of what the ground may be that suits it, percent.
    pub ground_percent: f64,
    /// Chance that it lives through the winter in the gap, percent; none where there is no winter in it.
    pub lives_percent: Option<f64>,
    /// What speaks for it.
    pub speaks_for: Vec<String>,
    /// What speaks against it.
    pub speaks_against: Vec<String>,
    /// First day on which it comes up and is in time with even odds.
    #[serde(serialize_with = "super::as_maybe_text")]
    pub sow_from: Option<Date>,
    /// Last day for nine chances of ten.
    #[serde(serialize_with = "super::as_maybe_text")]
    pub sow_by_sure: Option<Date>,
    /// Last day for even odds.
    #[serde(serialize_with = "super::as_maybe_text")]
    pub sow_by_even: Option<Date>,
    /// The window in words.
    pub window: String,
    /// Dry matter that may be expected, kg/ha.
    pub dry_matter_kg_ha: Range,
    /// The same in the farm's measures.
    pub dry_matter: String,
    /// Nitrogen in a stand that had its time, kg/ha.
    pub nitrogen_kg_ha: Range,
    /// Where that nitrogen is from.
    pub nitrogen_from: NitrogenFrom,
    /// What the winter does, and what follows.
    pub winter: String,
    /// How it is ended and how long before the next crop.
    pub end: String,
    /// Day by which it is to be ended.
    #[serde(serialize_with = "super::as_maybe_text")]
    pub end_by: Option<Date>,
    /// Seed for the bed.
    pub seed: SeedLine,
    /// Which of its figures are recalled and not read.
    pub recalled: String,
}

/// The answer for one bed and gap.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoverAnswer {
    /// The bed with its year.
    pub bed: BedYear,
    /// The gap that was judged.
    pub gap: BedGap,
    /// The gap in a line.
    pub gap_line: String,
    /// What it is sown for.
    pub purposes: Vec<PurposeWhy>,
    /// What the winter shall do.
    pub winter_wish: Option<WinterWish>,
    /// Is there a winter in the gap?
    pub over_winter: bool,
    /// The best three, by key.
    pub best: Vec<String>,
    /// The best, in a sentence.
    pub lead: String,
    /// Every cover, best first; empty where something must be entered first.
    pub covers: Vec<CoverLine>,
    /// Mixes that fit.
    pub mixes: Vec<MixLine>,
    /// What was taken for the ground, the rotation and the means at hand.
    pub taken: Vec<String>,
    /// What must be entered first.
    pub wanted: Vec<String>,
    /// What would make the choice surer, cheapest first.
    pub settle: Vec<String>,
    /// What the year rests on.
    pub rests_on: Vec<String>,
    /// What could hurt.
    pub cautions: Vec<&'static str>,
}

/// Cautions of every choice.
pub const CAUTIONS: [&str; 3] = [
    "Some covers kill animals that graze them: keep stock off, and ask a veterinarian before any grazing.",
    "Local rules may forbid some species near seed growers or list them as invasive: ask before you sow.",
    "Wear a dust mask and gloves with treated seed and inoculant, and keep seed from children and animals.",
];

/// Chooses for a bed. `None`: the bed or its plot does not count.
///
/// # Errors
/// A gap that the bed has not, or days that make none.
pub fn choose(
    snapshot: &Snapshot,
    report: &PlotReport,
    bed: EntryId,
    question: &CoverQuestion,
    today: Date,
) -> Result<Option<CoverAnswer>, Refusal> {
    let Some(year) = bed_year(snapshot, bed, today) else { return Ok(None) };
    let gap = gap_of(snapshot, &year, question, today)?;
    let units = snapshot.farm.body.units;
    let place = farm_year(snapshot, year.under_cover);
    let mut answer = CoverAnswer {
        gap_line: tell::gap_line(&gap),
        purposes: question.purposes.iter().map(|purpose| PurposeWhy::asked(*purpose)).collect(),
        winter_wish: question.winter,
        over_winter: false,
        best: Vec::new(),
        lead: String::new(),
        covers: Vec::new(),
        mixes: Vec::new(),
        taken: Vec::new(),
        wanted: Vec::new(),
        settle: Vec::new(),
        rests_on: Vec::new(),
        cautions: CAUTIONS.to_vec(),
        bed: year,
        gap,
    };
    match place {
        Ok(place) => judge(snapshot, report, question, &place, &mut answer),
        Err(wanted) => answer.wanted = wanted,
    }
    answer.lead = tell::lead(&answer);
    // What the year rests on is told in the farm's units already: differences of temperature are no temperatures.
    for list in [&mut answer.taken, &mut answer.settle] {
        tell::in_measures(list, units);
    }
    Ok(Some(answer))
}

/// The gap that is meant.
fn gap_of(
    snapshot: &Snapshot,
    year: &BedYear,
    question: &CoverQuestion,
    today: Date,
) -> Result<BedGap, Refusal> {
    let number = question.gap.unwrap_or(1);
    let known = year.gaps.iter().find(|gap| gap.number == number);
    if known.is_none() && question.gap.is_some() {
        return Err(Refusal::new("gap", format!("this bed has {} gaps in the coming year", year.gaps.len()))
            .given(number)
            .accepted(if year.gaps.is_empty() {
                "no number: give the days from and to instead".to_owned()
            } else {
                format!("1 to {}", year.gaps.len())
            })
            .example("1"));
    }
    let from = question.from.or(known.map(|gap| gap.from)).unwrap_or(today);
    let to = question.to.or(known.map(|gap| gap.to)).unwrap_or_else(|| {
        season(snapshot, today).last_frost_after(from.saturating_add(jiff::Span::new().days(60)))
    });
    let days = i64::from(from.until(to).map_or(0, |span| span.get_days()));
    if !(LEAST_D..=MOST_D).contains(&days) {
        return Err(Refusal::new(
            "to",
            format!("from {from} to {to} are {days} days; a cover is judged for {LEAST_D} to {MOST_D}"),
        )
        .given(to)
        .accepted(format!("a day {LEAST_D} to {MOST_D} days after {from}"))
        .example(from.saturating_add(jiff::Span::new().days(60))));
    }
    let (before, after) = match known {
        Some(known) if (known.from, known.to) == (from, to) => (known.before.clone(), known.after.clone()),
        _ => beside(snapshot, year.bed, from),
    };
    let bare_since = known.filter(|known| known.from == from).and_then(|known| known.bare_since);
    Ok(BedGap { number, from, to, days, bare_since, before, after })
}

fn judge(
    snapshot: &Snapshot,
    report: &PlotReport,
    question: &CoverQuestion,
    place: &FarmYear,
    answer: &mut CoverAnswer,
) {
    let units = snapshot.farm.body.units;
    let days = u16::try_from(answer.gap.days).unwrap_or(u16::MAX);
    let climate = Gap::new(&place.year, day_of_year(answer.gap.from), days);
    if answer.purposes.is_empty() {
        answer.purposes = proposed(Some(report), &answer.gap, &climate);
    }
    let farm = &snapshot.farm.body;
    let neighbours = [&answer.gap.before, &answer.gap.after];
    let endings: Vec<Ending> = if farm.cover_endings.is_empty() {
        vec![Ending::Mow, Ending::Till]
    } else {
        farm.cover_endings.clone()
    };
    let asked = Asked {
        purposes: answer.purposes.iter().map(|one| one.purpose).collect(),
        gap: climate,
        families: neighbours.iter().filter_map(|one| one.as_ref()?.family).collect(),
        small_seed_next: answer.gap.after.as_ref().is_some_and(|after| after.small_seed),
        endings: endings.iter().copied().collect(),
        animals: farm.grazing.iter().copied().collect(),
        winter: question.winter.filter(|_| climate.over_winter),
        under_cover: answer.bed.under_cover,
    };
    let said = Said { wet: question.wet, dry: question.dry };
    let ground = of_plot(snapshot, report, answer.bed.bed, &climate, answer.gap.from, said);
    let mut order = Vec::new();
    rank(&asked, &NEEDS, &ground.draws, &ground.weights, &mut order);
    let sowing = if question.drilled { Sowing::Drilled } else { Sowing::Broadcast };
    let smothers =
        asked.purposes.iter().any(|purpose| matches!(purpose, Purpose::Smother | Purpose::CoverQuickly));
    let thickness = if smothers { Thickness::Weeds } else { Thickness::Usual };
    let windows = Windows::new(place, &answer.gap);
    answer.over_winter = climate.over_winter;
    answer.covers = order
        .iter()
        .map(|standing| line(standing, &asked, &windows, answer, (sowing, thickness), units))
        .collect();
    let serving = |open: bool| -> Vec<String> {
        let lines = answer.covers.iter().filter(|line| !line.ruled_out && line.serves);
        lines
            .filter(|line| open || line.firmness != Firmness::Open)
            .take(3)
            .map(|line| line.key.clone())
            .collect()
    };
    // What fails more often than not is offered only where nothing better is.
    let sure = serving(false);
    answer.best = if sure.is_empty() { serving(true) } else { sure };
    answer.mixes = mixes(&order, &asked, &answer.bed, sowing, thickness, units);
    answer.taken = taken(answer, &ground, &endings, farm);
    answer.settle = settle(answer, report, &ground, place);
    answer.rests_on.clone_from(&place.rests_on);
    answer.rests_on.push(
        "Ratings of service and tolerance are recalled, not copied from any chart; where two covers stand close, try both. Ways to end a cover and intervals are common practice.".to_owned(),
    );
}

/// The days of a gap, each as a gap of its own.
struct Windows {
    from: Date,
    gaps: Vec<Gap>,
}

impl Windows {
    fn new(place: &FarmYear, gap: &BedGap) -> Self {
        let left = |day: i64| u16::try_from(gap.days - day).unwrap_or(1);
        let first = usize::from(day_of_year(gap.from)) - 1;
        let gaps = (0..gap.days)
            .map(|day| {
                let at = (first + usize::try_from(day).unwrap_or(0)) % 365;
                Gap::new(&place.year, u16::try_from(at + 1).unwrap_or(1), left(day))
            })
            .collect();
        Self { from: gap.from, gaps }
    }

    /// First day with even odds, last with nine of ten, last with even odds.
    fn of(&self, species: &Species) -> [Option<Date>; 3] {
        let chances: Vec<f64> = self
            .gaps
            .iter()
            .map(|gap| fit(species, gap))
            .map(|fit| if fit.comes_up { fit.serves_chance } else { 0.0 })
            .collect();
        let date = |at: usize| {
            self.from.saturating_add(jiff::Span::new().days(i64::try_from(at).unwrap_or_default()))
        };
        let good = |least: f64| move |chance: &f64| *chance >= least;
        [
            chances.iter().position(good(EVEN)).map(date),
            chances.iter().rposition(good(SURE)).map(date),
            chances.iter().rposition(good(EVEN)).map(date),
        ]
    }
}

fn line(
    standing: &Standing,
    asked: &Asked,
    windows: &Windows,
    answer: &CoverAnswer,
    (sowing, thickness): (Sowing, Thickness),
    units: UnitSystem,
) -> CoverLine {
    let species = standing.species();
    // What is ruled out for another reason than cold is not to be sown on any day.
    let out = standing.reasons.rules_out() && !standing.reasons.has(Reason::TooCold);
    let [sow_from, sow_by_sure, sow_by_even] = if out { [None; 3] } else { windows.of(species) };
    let dry = dry_matter_kg_ha(species, &standing.fit);
    let (mut for_it, mut against) = (speaks_for(standing, asked), speaks_against(standing, asked));
    tell::in_measures(&mut for_it, units);
    tell::in_measures(&mut against, units);
    let recalled: Vec<&str> = [
        (Figures::Broadcast, "seed broadcast"),
        (Figures::Drill, "seed drilled"),
        (Figures::Winterkill, "the cold that kills it"),
        (Figures::Days, "its days"),
        (Figures::DryMatter, "dry matter"),
        (Figures::Nitrogen, "nitrogen"),
        (Figures::Ph, "acidity"),
    ]
    .into_iter()
    .filter(|(figures, _)| species.provenance(*figures) != Provenance::Read)
    .map(|(_, words)| words)
    .collect();
    let (end, end_by) = winter::end(species, standing, &answer.gap);
    CoverLine {
        key: species.key.clone(),
        name: species.name.clone(),
        scientific_name: species.scientific_name.clone(),
        ruled_out: standing.reasons.rules_out(),
        serves: standing.serves(),
        firmness: standing.firmness,
        firmness_words: format!("{}, {}", firmness_word(standing.firmness), odds_words(standing)),
        odds_words: odds_words(standing),
        ratings: asked
            .purposes
            .iter()
            .map(|purpose| Serves { purpose: purpose.words(), rating: species.serves(purpose) })
            .collect(),
        in_time_percent: 100.0 * standing.fit.serves_chance,
        ground_percent: 100.0 * standing.ground.suits,
        lives_percent: standing.fit.lives_chance.map(|lives| 100.0 * lives),
        speaks_for: for_it,
        speaks_against: against,
        sow_from,
        sow_by_sure,
        sow_by_even,
        window: if out {
            String::new()
        } else {
            tell::window(sow_by_sure, sow_by_even, sow_from.unwrap_or(answer.gap.from))
        },
        dry_matter_kg_ha: dry,
        dry_matter: tell::range_per_area(dry, units),
        nitrogen_kg_ha: species.nitrogen_kg_ha,
        nitrogen_from: species.nitrogen_from,
        winter: winter::words(species, standing, asked),
        end,
        end_by,
        seed: seed(species, 1.0, answer.bed.area_m2, answer.bed.beds, sowing, thickness, units),
        recalled: recalled.join(", "),
    }
}

fn firmness_word(firmness: Firmness) -> &'static str {
    match firmness {
        Firmness::Firm => "firm",
        Firmness::Likely => "likely",
        Firmness::Open => "open",
    }
}

/// "in time with odds of 82 %, ground that suits it with odds of 96 %".
fn odds_words(standing: &Standing) -> String {
    format!(
        "in time with odds of {}, ground that suits it with odds of {}",
        crate::words::odds(standing.fit.serves_chance),
        crate::words::odds(standing.ground.suits)
    )
}

fn taken(
    answer: &CoverAnswer,
    ground: &GroundDraws,
    endings: &[Ending],
    farm: &book::model::Farm,
) -> Vec<String> {
    let mut taken = Vec::new();
    if !ground.make_up_known {
        taken.push("Nobody has looked at the make-up of this ground: anything is possible.".to_owned());
    }
    taken.extend(ground.taken.iter().cloned());
    let families: Vec<String> = [&answer.gap.before, &answer.gap.after]
        .into_iter()
        .flatten()
        .map(|one| match one.family {
            Some(family) => format!("{} ({})", one.name, family.words()),
            None => one.name.clone(),
        })
        .collect();
    if !families.is_empty() {
        taken.push(format!("Next to it in the rotation: {}.", families.join(" and ")));
    }
    let ways: Vec<&str> = endings.iter().map(|way| way.words()).collect();
    taken.push(if farm.cover_endings.is_empty() {
        format!("At hand to end it: {} (taken; the settings say it better).", ways.join(", "))
    } else {
        format!("At hand to end it: {}.", ways.join(", "))
    });
    let animals: Vec<&str> = farm.grazing.iter().map(|animal| animal.words()).collect();
    taken.push(if animals.is_empty() {
        "No animals get at it, by the settings.".to_owned()
    } else {
        format!("Animals that may get at it: {}.", animals.join(", "))
    });
    taken
}

/// What would make the choice surer, cheapest first.
fn settle(answer: &CoverAnswer, report: &PlotReport, ground: &GroundDraws, place: &FarmYear) -> Vec<String> {
    let mut settle = Vec::new();
    if answer.over_winter && !place.low_known {
        settle.push(
            "Enter the lowest temperature of a usual winter in the settings: which covers live hangs on it."
                .to_owned(),
        );
    }
    if ground.wet_odds.is_none() && answer.over_winter {
        settle.push("Look after a long rain whether water stands, and write down what you saw.".to_owned());
    }
    if !ground.ph_known {
        settle.push("Have the pH measured: half of the legumes fail in acid ground.".to_owned());
    }
    let open = answer
        .covers
        .iter()
        .filter(|line| !line.ruled_out)
        .take(5)
        .any(|line| (10.0..90.0).contains(&line.ground_percent));
    if open && let Some(best) = report.measurements.first() {
        settle.push(format!("{} would tell more of the texture, on which the order hangs.", best.name));
    }
    if !ground.salts_known && ground.ph_known && answer.bed.under_cover {
        settle.push("Have the salts measured: under cover they gather.".to_owned());
    }
    settle
}
