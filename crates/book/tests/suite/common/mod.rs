//! Valid records of every kind, from chance.

#![allow(dead_code, unreachable_pub, reason = "each test file uses its own part")]
#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

pub mod covers;
pub mod feeding;
pub mod plan;
pub mod posts;
mod seen;
mod soil_structure;
pub mod water;

use book::model::*;
use book::{Book, Stamp};
use ground::kit::testing::any_of;
use ground::kit::{Bounded, Refusal};
use jiff::Timestamp;
use jiff::civil::Date;
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

pub use feeding::Feeding;
pub use seen::any_seen;
pub use water::Water;

pub fn stamp(second: i64, by: &str) -> Stamp {
    Stamp::new(Timestamp::from_second(1_776_000_000 + second).unwrap(), by)
}

pub fn farm() -> Farm {
    Farm::named("Long Furrow Farm", UnitSystem::Metric)
}

pub fn plain_plot(name: &str) -> Plot {
    Plot {
        name: name.to_owned(),
        place: Place::OpenField,
        shape: Shape::Area { area_m2: PlotArea::literal(300.0) },
        slope_percent: None,
        root_depth_cm: None,
        use_note: String::new(),
        watering: None,
        cover: None,
        organic: None,
        zone_of: None,
    }
}

pub fn plain_note(text: impl Into<String>) -> Note {
    Note { plot: None, text: text.into() }
}

/// A number that needs all its digits, so that a lossy way through text would show.
fn quantity<Q: Bounded + std::fmt::Debug>() -> impl Strategy<Value = Q> {
    any_of::<Q>()
}

/// Any text a person or a pasted page may hold; never a NUL, which is refused.
fn text(most: usize) -> impl Strategy<Value = String> {
    vec(any::<char>().prop_filter("NUL is refused", |c| *c != '\0'), 0..=most).prop_map(String::from_iter)
}

fn name() -> impl Strategy<Value = String> {
    text(40).prop_filter("a name is not blank", |name| !name.trim().is_empty())
}

fn date() -> impl Strategy<Value = Date> {
    (1990_i16..2100, 1_i8..=12, 1_i8..=28).prop_map(|(year, month, day)| Date::constant(year, month, day))
}

fn moment() -> impl Strategy<Value = Timestamp> {
    (0_i64..4_000_000_000, 0_i32..1_000_000_000).prop_map(|(s, ns)| Timestamp::new(s, ns).unwrap())
}

fn month_day() -> impl Strategy<Value = MonthDay> {
    (1_i8..=12, 1_i8..=31).prop_filter_map("a day of that month", |(month, day)| MonthDay::new(month, day))
}

pub fn any_farm() -> impl Strategy<Value = Farm> {
    (
        name(),
        (of(quantity()), of(quantity()), of(quantity()), of(any::<bool>()), of(any::<bool>())),
        select(vec![UnitSystem::UsCustomary, UnitSystem::Metric]),
        of(month_day()),
        of(month_day()),
        of("[A-Z]{3}"),
        (of(quantity()), of(any::<bool>()), of("[a-z-]{1,30}"), of("[a-z-]{1,30}")),
        covers::farm_says(),
        (
            of(quantity()),
            of(select(posts::EXPOSURES.to_vec())),
            of(quantity()),
            text(60),
            of(plan::any_origin()),
        ),
    )
        .prop_map(
            |(
                name,
                (latitude_degrees, longitude_degrees, elevation_m, coastal, arid),
                units,
                last_frost,
                first_frost,
                currency,
                (hour_worth, organic, nutrient_scheme, lime_method),
                (winter_low_c, cover_endings, grazing),
                (design_wind_m_s, wind_exposure, frost_depth_m, code_note, plan_origin),
            )| Farm {
                name,
                latitude_degrees,
                longitude_degrees,
                elevation_m,
                coastal,
                arid,
                units,
                last_frost,
                first_frost,
                currency,
                hour_worth,
                organic,
                nutrient_scheme,
                lime_method,
                winter_low_c,
                cover_endings,
                grazing,
                design_wind_m_s,
                wind_exposure,
                frost_depth_m,
                plan_origin,
                code_note,
            },
        )
}

fn any_cover() -> impl Strategy<Value = Cover> {
    let factors = vec(quantity::<CoverFactor>(), 3).prop_map(|mut factors| {
        factors.sort_by(|a, b| a.get().total_cmp(&b.get()));
        CoverEt0 { low: factors[0], likely: factors[1], high: factors[2] }
    });
    (of(factors), any::<bool>()).prop_map(|(et0_factor, shaded)| Cover { et0_factor, shaded })
}

/// A plot; its place in the book makes its name its own.
pub fn any_plot() -> impl Strategy<Value = Plot> {
    let shape = prop_oneof![
        (quantity(), quantity()).prop_map(|(length_m, width_m)| Shape::Rectangle { length_m, width_m }),
        quantity().prop_map(|area_m2| Shape::Area { area_m2 }),
    ];
    (
        name(),
        select(Place::ALL.to_vec()),
        shape,
        of(quantity()),
        of(quantity()),
        text(60),
        of(select(Watering::ALL.to_vec())),
        of(any_cover()),
        of(any::<bool>()),
    )
        .prop_map(
            |(name, place, shape, slope_percent, root_depth_cm, use_note, watering, cover, organic)| Plot {
                name,
                place,
                shape,
                slope_percent,
                root_depth_cm,
                use_note,
                watering,
                cover: cover.filter(|_| place.under_cover()),
                organic,
                zone_of: None,
            },
        )
}

pub fn any_bed(plot: EntryId) -> impl Strategy<Value = Bed> {
    (name(), quantity(), quantity(), 1_u16..=10_000).prop_map(move |(name, length_m, width_m, count)| Bed {
        plot,
        name,
        length_m,
        width_m,
        count,
    })
}

pub fn any_structure(plot: EntryId) -> impl Strategy<Value = Structure> {
    (
        any::<bool>(),
        name(),
        select(StructureKind::ALL.to_vec()),
        of(quantity()),
        of(quantity()),
        (any::<bool>(), of(posts::frame()), of(posts::line()), of(posts::post())),
        text(60),
    )
        .prop_map(move |(on, name, kind, length_m, width_m, (planned, frame, line, post), note)| {
            Structure {
                plot: on.then_some(plot),
                name,
                kind,
                length_m,
                width_m,
                planned,
                frame,
                line,
                post,
                note,
            }
        })
}

pub fn any_sample(plot: EntryId) -> impl Strategy<Value = Sample> {
    (
        date(),
        quantity::<SampleDepth>(),
        quantity::<SampleDepth>(),
        of(1_u16..=500),
        text(40),
        text(40),
        text(60),
        of(plan::any_spot()),
    )
        .prop_filter_map(
            "a layer has a thickness",
            move |(taken_on, a, b, cores, taken_by, bag_label, note, spot)| {
                let (from_cm, to_cm) = if a < b { (a, b) } else { (b, a) };
                (from_cm < to_cm).then_some(Sample {
                    plot,
                    taken_on,
                    from_cm,
                    to_cm,
                    cores,
                    taken_by,
                    bag_label,
                    import: None,
                    spot,
                    note,
                })
            },
        )
}

pub fn any_observation(plot: EntryId, sample: Option<EntryId>) -> impl Strategy<Value = Observation> {
    let about = (date(), text(40), text(60), of(plan::any_spot()));
    (about, any_seen()).prop_map(move |((seen_on, seen_by, note, spot), seen)| Observation {
        plot,
        sample,
        seen_on,
        seen_by,
        note,
        import: None,
        spot,
        seen,
    })
}

pub fn any_decision(plot: EntryId) -> impl Strategy<Value = Decision> {
    (name(), select(Choice::ALL.to_vec()), text(60)).prop_map(move |(finding_id, choice, reason)| Decision {
        plot,
        finding_id,
        choice,
        reason,
    })
}

pub fn any_note(plot: EntryId) -> impl Strategy<Value = Note> {
    (any::<bool>(), name()).prop_map(move |(on, text)| Note { plot: on.then_some(plot), text })
}

/// Everything needed to fill a book, links left to be made.
#[derive(Debug, Clone)]
pub struct Script {
    pub farm: Farm,
    pub farm_again: Farm,
    pub plot: Plot,
    pub plot_again: Plot,
    pub bed: Bed,
    pub structure: Structure,
    pub sample: Sample,
    pub observations: Vec<Observation>,
    pub observation_again: Observation,
    pub decision: Decision,
    pub note: Note,
    pub water: Water,
    pub feeding: Feeding,
    pub covers: covers::Covers,
    pub plan: plan::Plan,
    pub picture: Vec<u8>,
    pub caption: String,
    pub reason: String,
    pub by: String,
}

/// An identity that stands for "the plot of this book" until there is one.
pub fn any_script() -> impl Strategy<Value = Script> {
    let nowhere: EntryId = "0190163d-8694-739b-aea5-966c26f8ad91".parse().unwrap();
    (
        (any_farm(), any_farm(), any_plot(), any_plot()),
        (any_bed(nowhere), any_structure(nowhere), any_sample(nowhere)),
        (vec(any_observation(nowhere, None), 1..6), any_observation(nowhere, None)),
        (
            any_decision(nowhere),
            any_note(nowhere),
            water::any_water(nowhere).boxed(),
            feeding::any_feeding(nowhere).boxed(),
            covers::any_covers(nowhere).boxed(),
            plan::any_plan(nowhere).boxed(),
        ),
        (vec(any::<u8>(), 1..200), text(40), text(60), text(40)),
    )
        .prop_map(
            |(
                (farm, farm_again, plot, plot_again),
                (bed, structure, sample),
                (observations, observation_again),
                (decision, note, water, feeding, covers, plan),
                (picture, caption, reason, by),
            )| Script {
                farm,
                farm_again,
                plot,
                plot_again,
                bed,
                structure,
                sample,
                observations,
                observation_again,
                decision,
                note,
                water,
                feeding,
                covers,
                plan,
                picture,
                caption,
                reason,
                by,
            },
        )
}

/// Writes a script into a new book at `path`: every kind, with corrections, withdrawals and undoing.
pub fn fill(path: &std::path::Path, script: &Script) -> book::Result<Book> {
    let at = |second| stamp(second, &script.by);
    let mut book = Book::create(path, script.farm.clone(), &at(0))?;
    let farm = book.snapshot()?.farm;
    book.revise(farm.id, farm.number, script.farm_again.clone(), &script.reason, &at(1))?;
    let plot = book.record(script.plot.clone(), &at(2))?;
    book.revise(plot.id, 1, script.plot_again.clone(), &script.reason, &at(3))?;
    let bed = book.record(Bed { plot: plot.id, ..script.bed.clone() }, &at(4))?.id;
    let structure = Structure { plot: script.structure.plot.map(|_| plot.id), ..script.structure.clone() };
    book.record(structure, &at(5))?;
    let sample = book.record(Sample { plot: plot.id, ..script.sample.clone() }, &at(6))?;
    let mut last = None;
    for (turn, observation) in script.observations.iter().enumerate() {
        let sample = (turn % 2 == 0).then_some(sample.id);
        let observation = Observation { plot: plot.id, sample, ..observation.clone() };
        last = Some(book.record(observation, &at(7))?);
    }
    let Some(last) = last else { return Err(Refusal::new("observations", "none").into()) };
    let again = Observation { plot: plot.id, sample: None, ..script.observation_again.clone() };
    book.revise(last.id, 1, again, &script.reason, &at(8))?;
    book.withdraw(last.id, 2, &script.reason, &at(9))?;
    book.restore(last.id, 3, "", &at(10))?;
    let decision = book.record(Decision { plot: plot.id, ..script.decision.clone() }, &at(11))?;
    book.withdraw(decision.id, 1, &script.reason, &at(12))?;
    book.record(Note { plot: script.note.plot.map(|_| plot.id), ..script.note.clone() }, &at(13))?;
    let sha256 = book.attach(&script.picture, "image/png")?;
    book.record(
        Photo {
            plot: Some(plot.id),
            observation: Some(last.id),
            sha256,
            media_type: "image/png".into(),
            caption: script.caption.clone(),
        },
        &at(14),
    )?;
    let planting = fill_water(&mut book, script, plot.id, bed)?;
    fill_feeding(&mut book, script, plot.id, bed, planting)?;
    let cover = book.record(CoverCrop { bed, ..script.covers.cover.clone() }, &at(60))?;
    let again = CoverCrop { bed, ..script.covers.cover_again.clone() };
    book.revise(cover.id, 1, again, &script.reason, &at(61))?;
    fill_plan(&mut book, script, plot.id, bed)?;
    Ok(book)
}

/// The plan of a script, with corrections; a sample taken at a point of a sampling plan.
fn fill_plan(book: &mut Book, script: &Script, plot: EntryId, bed: EntryId) -> book::Result<()> {
    let at = |second| stamp(second, &script.by);
    let plan = &script.plan;
    let here = |part: &PlanPart| PlanPart { plot: Some(plot), bed: Some(bed), ..part.clone() };
    let part = book.record(here(&plan.part), &at(70))?;
    book.revise(part.id, 1, here(&plan.part_again), &script.reason, &at(71))?;
    let sha256 = book.attach(&script.picture, "image/png")?;
    book.record(Underlay { sha256, ..plan.underlay.clone() }, &at(72))?;
    let first = book.record(SamplingPlan { plot, ..plan.sampling.clone() }, &at(73))?;
    let again = SamplingPlan { plot, repeats: Some(first.id), ..plan.sampling_again.clone() };
    book.record(again, &at(74))?;
    book.record(Sample { plot, spot: Some(Spot::numbered(first.id, 4)), ..script.sample.clone() }, &at(75))?;
    Ok(())
}

/// The water of a script, with a correction, a withdrawal and its undoing.
fn fill_water(book: &mut Book, script: &Script, plot: EntryId, bed: EntryId) -> book::Result<EntryId> {
    let at = |second| stamp(second, &script.by);
    let water = &script.water;
    book.record(water.normals.clone(), &at(20))?;
    let table = book.record(water.table.clone(), &at(21))?;
    book.withdraw(table.id, 1, &script.reason, &at(22))?;
    book.restore(table.id, 2, "", &at(23))?;
    let crop = book.record(water.crop.clone(), &at(24))?.id;
    let mut last = None;
    for planting in &water.plantings {
        let named = match &planting.crop {
            PlantedCrop::Catalogue(key) => PlantedCrop::Catalogue(key.clone()),
            PlantedCrop::FarmCrop(_) => PlantedCrop::FarmCrop(crop),
        };
        last = Some(book.record(Planting { bed, crop: named, ..planting.clone() }, &at(25))?.id);
    }
    let supply = Some(book.record(water.supply.clone(), &at(26))?.id);
    book.record(WateringSystem { bed, supply, ..water.system.clone() }, &at(27))?;
    let watering = book.record(WateringDone { bed, ..water.watering.clone() }, &at(28))?;
    let again = WateringDone { bed, ..water.watering_again.clone() };
    book.revise(watering.id, 1, again, &script.reason, &at(29))?;
    let moisture = seen_moisture(Some(bed), &water.moisture);
    let observation = Observation { plot, sample: None, seen: moisture, ..script.observation_again.clone() };
    book.record(observation, &at(30))?;
    last.ok_or_else(|| Refusal::new("plantings", "none").into())
}

/// The feeding of a script, with corrections, withdrawals and an import undone and another kept.
fn fill_feeding(
    book: &mut Book,
    script: &Script,
    plot: EntryId,
    bed: EntryId,
    planting: EntryId,
) -> book::Result<()> {
    let at = |second| stamp(second, &script.by);
    let feeding = &script.feeding;
    let laboratory = Some(book.record(feeding.laboratory.clone(), &at(40))?.id);
    for undone in [true, false] {
        let import = book.record(Import { laboratory, ..feeding.import.clone() }, &at(41))?.id;
        let bag = Sample { plot, import: Some(import), ..script.sample.clone() };
        let sample = Some(book.record(bag, &at(42))?.id);
        let seen = Seen::LabReport(feeding.report.clone());
        let observation =
            Observation { plot, sample, import: Some(import), seen, ..script.observation_again.clone() };
        book.record(observation, &at(43))?;
        if undone {
            book.undo_import(import, &script.reason, &at(44))?;
        }
    }
    let shelf = book.record(feeding.material.clone(), &at(45))?.id;
    book.revise(shelf, 1, feeding.material.clone(), &script.reason, &at(46))?;
    for stock in &feeding.stocks {
        book.record(Stock { material: shelf, ..stock.clone() }, &at(47))?;
    }
    for application in &feeding.applications {
        let spread = match &application.spread {
            SpreadMaterial::Shelf(_) => SpreadMaterial::Shelf(shelf),
            catalogue => catalogue.clone(),
        };
        let bed = application.bed.map(|_| bed);
        book.record(Application { plot, bed, spread, ..application.clone() }, &at(48))?;
    }
    let harvest = book.record(Harvest { planting, ..feeding.harvest.clone() }, &at(49))?;
    book.withdraw(harvest.id, 1, &script.reason, &at(50))?;
    book.restore(harvest.id, 2, "", &at(51))?;
    let word = |job: &JobWord| JobWord { plot: Some(plot), bed: Some(bed), ..job.clone() };
    let job = book.record(word(&feeding.job), &at(52))?;
    let again = JobWord { key: feeding.job.key.clone(), ..word(&feeding.job_again) };
    book.revise(job.id, 1, again, &script.reason, &at(53))?;
    Ok(())
}

fn seen_moisture(bed: Option<EntryId>, moisture: &book::model::seen::Moisture) -> Seen {
    Seen::Moisture(book::model::seen::Moisture { bed, ..*moisture })
}
