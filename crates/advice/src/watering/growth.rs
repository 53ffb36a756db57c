//! What grows in a bed, day by day: the catalogue's crop or the farm's own, over its stages.

use book::Snapshot;
use book::model::{EntryId, FarmCrop, MulchKind, PlantedCrop, PlantedHow, Planting};
use ground::climate::crops::{Crop, CropCurve, CropDay, CropSetting, Mulch, Overrides, find};
use ground::kit::{Bounded, Note, NoteKind, Refusal};
use jiff::civil::Date;

use super::season::BARE;

/// Catalogue crop whose form a crop of the farm's own takes where it is based on none; every number that
/// counts is the farm's.
const FORM: &str = "tomato";
/// Share of evaporation that film and loose mulch hold back where they lie [Fao56, chapter 10: loose mulch cuts
/// it by 5 % for each 10 % covered].
const HELD_BACK: [f64; 2] = [1.0, 0.5];

/// One planting, worked out.
#[derive(Debug, Clone)]
pub(super) struct Growth {
    pub name: String,
    pub planting: EntryId,
    pub planted_on: Date,
    /// Last day of its stages, or the day it ended.
    pub ends_on: Date,
    pub ended: bool,
    pub salt_key: Option<String>,
    pub notes: Vec<Note>,
    pub stages_words: String,
    curve: CropCurve,
    /// Share of the bare ground that mulch keeps from evaporating.
    sheltered: f64,
}

/// Works a planting out.
///
/// # Errors
/// An unknown crop, a farm crop that was withdrawn, or numbers that contradict each other.
pub(super) fn growth(
    snapshot: &Snapshot,
    id: EntryId,
    planting: &Planting,
    latitude_degrees: f64,
) -> Result<Growth, Refusal> {
    let mut notes = Vec::new();
    let (crop, name) = match &planting.crop {
        PlantedCrop::Catalogue(key) => {
            let crop = find(key)?.clone();
            let name = crop.name.clone();
            (crop, name)
        }
        PlantedCrop::FarmCrop(crop) => {
            let held = snapshot.crop(*crop).ok_or_else(|| {
                Refusal::new("crop", "the farm's own crop that this planting names was withdrawn")
                    .given(crop)
                    .accepted("a crop of the catalogue, or one of the farm's own that counts")
            })?;
            (of_farm(&held.body)?, held.body.name.clone())
        }
    };
    let month = planting.planted_on.month().unsigned_abs();
    let row = crop.stages_for(Some(month), latitude_degrees);
    let mut stages = row.stages;
    let mut stages_words = format!("stage lengths of {}", row.region);
    if let Some(harvest) = planting.harvest_on {
        let days = f64::from(harvest.since(planting.planted_on).map_or(0, |span| span.get_days()));
        if days >= 5.0 {
            stages = stages.scaled_to(days);
            stages_words = "stage lengths scaled to the expected end of the harvest".to_owned();
        }
    } else if row.region != "this farm" {
        notes.push(Note::new(
            NoteKind::Method,
            format!(
                "Stage lengths of {name} are those of {} in FAO-56, examples and not recommendations: give the expected end of the harvest, or the farm's own lengths, to do better.",
                row.region
            ),
        ));
    }
    let (mulch, sheltered) = mulch_of(planting);
    let setting = CropSetting { mulch, ..CropSetting::plain(stages) };
    notes.extend(crop.notes());
    let length = stages.total_d().round();
    let ends_on = planting.ended_on.unwrap_or_else(|| after(planting.planted_on, length));
    if planting.how == PlantedHow::Transplanted {
        notes.push(Note::new(
            NoteKind::Method,
            "Stages are counted from the day of planting out; transplants may cover the ground sooner than the table has it.",
        ));
    }
    Ok(Growth {
        name,
        planting: id,
        planted_on: planting.planted_on,
        ends_on,
        ended: planting.ended_on.is_some(),
        salt_key: crop.salt_key.clone(),
        notes,
        stages_words,
        curve: CropCurve::new(&crop, &setting),
        sheltered,
    })
}

fn after(date: Date, days: f64) -> Date {
    #[expect(clippy::cast_possible_truncation, reason = "a season of days")]
    date.saturating_add(jiff::Span::new().days(days as i64))
}

fn mulch_of(planting: &Planting) -> (Mulch, f64) {
    let Some(mulch) = planting.mulch else { return (Mulch::None, 0.0) };
    let share = (mulch.covered_percent.get() / 100.0).clamp(0.0, 1.0);
    let taken = match mulch.of {
        MulchKind::Plastic => Bounded::new(share).map(|share| Mulch::Plastic { share }),
        MulchKind::Organic => Bounded::new(share).map(|share| Mulch::Organic { share }),
    };
    let held_back = match mulch.of {
        MulchKind::Plastic => HELD_BACK[0],
        MulchKind::Organic => HELD_BACK[1],
    };
    (taken.unwrap_or(Mulch::None), held_back * share)
}

/// The farm's figures over those of the catalogue's crop it is based on.
fn of_farm(own: &FarmCrop) -> Result<Crop, Refusal> {
    fn put<A: Bounded, B: Bounded>(field: &str, value: Option<A>) -> Result<Option<B>, Refusal> {
        value
            .map(|value| {
                B::new(value.get()).map_err(|_| {
                    Refusal::new(field, format!("{} is beyond what can be reckoned with", value.get()))
                        .given(value.get())
                        .accepted(format!("{} to {}", B::MIN, B::MAX))
                        .example(B::EXAMPLE)
                })
            })
            .transpose()
    }
    fn days<B: Bounded>(value: Option<f64>) -> Option<B> {
        value.and_then(|value| B::new(value).ok())
    }
    let base = find(own.key.as_deref().unwrap_or(FORM))?;
    let given = [own.initial_days, own.development_days, own.mid_days, own.late_days];
    // All four stages count, or none: those not given are the catalogue's.
    let row = base.stages_for(None, 0.0).stages;
    let lengths = given.iter().any(Option::is_some).then(|| {
        let usual = [row.initial_d, row.development_d, row.mid_d, row.late_d];
        std::array::from_fn::<f64, 4, _>(|at| given[at].map_or(usual[at], f64::from))
    });
    let length = |at: usize| lengths.map(|lengths| lengths[at]);
    let mut crop = base.with(&Overrides {
        kc_ini: put("kc_initial", own.kc_initial)?,
        kc_mid: put("kc_mid", own.kc_mid)?,
        kc_end: put("kc_end", own.kc_end)?,
        height_m: put("height_m", own.height_m)?,
        root_full_m: put("root_depth_m", own.root_depth_m)?,
        depletion_fraction: put("depletion_fraction", own.depletion_fraction)?,
        initial_d: days(length(0)),
        development_d: days(length(1)),
        mid_d: days(length(2)),
        late_d: days(length(3)),
        ..Overrides::default()
    })?;
    crop.name.clone_from(&own.name);
    if own.key.is_none() {
        crop.salt_key = None;
        crop.ky = None;
        crop.note = String::new();
        crop.taken_as = None;
    }
    Ok(crop)
}

impl Growth {
    /// The crop on a day; after its stages it stands as at their end until it is ended in the book.
    pub(super) fn on(&self, date: Date) -> CropDay {
        let days = f64::from(date.since(self.planted_on).map_or(0, |span| span.get_days()));
        let day = self.curve.day(days.min(self.curve.season_d()));
        CropDay { cover_fraction: day.cover_fraction + (1.0 - day.cover_fraction) * self.sheltered, ..day }
    }

    /// Days since planting; the day itself is day 1.
    pub(super) fn day_number(&self, date: Date) -> i32 {
        date.since(self.planted_on).map_or(0, |span| span.get_days()) + 1
    }

    /// Does it stand longer than its stages last?
    pub(super) fn beyond(&self, date: Date) -> bool {
        !self.ended && date > self.ends_on
    }
}

/// The crop of a day among plantings worked out, latest planted first where they overlap; bare ground else.
pub(super) fn crop_on(plantings: &[Growth], date: Date) -> CropDay {
    plantings
        .iter()
        .filter(|growth| growth.planted_on <= date && (!growth.ended || date <= growth.ends_on))
        .max_by_key(|growth| growth.planted_on)
        .map_or(BARE, |growth| growth.on(date))
}
