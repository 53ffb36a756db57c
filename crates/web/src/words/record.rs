//! A record line by line, and what changed from one revision to the next.

use advice::words::day;
use book::Snapshot;
use book::model::{
    Bed, Body, Cover, Decision, EntryId, Farm, Kind, Note, Observation, Photo, PlantedCrop, Plot, Sample,
    Shape, Structure,
};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;
use serde::Serialize;

use super::{covers, feeding, jobs, plan, posts, seen, seen_water, water};
use crate::form::shown;

/// One thing a record says.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Line {
    /// What it is about.
    pub label: String,
    /// What it says.
    pub text: String,
}

impl Line {
    /// A line.
    #[must_use]
    pub fn new(label: impl Into<String>, text: impl Into<String>) -> Self {
        Self { label: label.into(), text: text.into() }
    }
}

/// What a record is called in a sentence: "bed Rows 1 to 8", "jar test of 3 May 2025".
#[must_use]
pub fn titled(body: &Body) -> String {
    match body {
        Body::Farm(farm) => format!("farm {}", farm.name),
        Body::Plot(plot) => format!("plot {}", plot.name),
        Body::Bed(bed) => format!("bed {}", bed.name),
        Body::Structure(structure) => format!("{} {}", structure.kind.words(), structure.name),
        Body::Sample(sample) if sample.bag_label.is_empty() => format!("sample of {}", day(sample.taken_on)),
        Body::Sample(sample) => format!("sample {} of {}", sample.bag_label, day(sample.taken_on)),
        Body::Observation(seen) => format!("{} of {}", seen.seen.label(), day(seen.seen_on)),
        Body::Decision(decision) => format!("decision on {}", decision.finding_id.replace('-', " ")),
        Body::Note(note) => format!("note \u{201c}{}\u{201d}", short(&note.text)),
        Body::Photo(photo) if photo.caption.is_empty() => "photo".to_owned(),
        Body::Photo(photo) => format!("photo \u{201c}{}\u{201d}", short(&photo.caption)),
        Body::WeatherNormals(normals) if normals.source.is_empty() => "usual weather".to_owned(),
        Body::WeatherNormals(normals) => format!("usual weather, {}", short(&normals.source)),
        Body::WeatherTable(table) => format!("{} weather, {}", table.what.words(), table.name),
        Body::Crop(crop) => format!("crop {}", crop.name),
        Body::Planting(planting) => {
            let crop = match &planting.crop {
                PlantedCrop::Catalogue(key) => format!(" of {}", crate::crops::words(key)),
                PlantedCrop::FarmCrop(_) => String::new(),
            };
            format!("planting{crop}, {}", day(planting.planted_on))
        }
        Body::WaterSupply(supply) => format!("water supply {}", supply.name),
        Body::WateringSystem(system) => format!("watering system, {}", system.delivery.words()),
        Body::Watering(watering) => format!("watering of {}", day(watering.on)),
        Body::Laboratory(laboratory) => format!("laboratory {}", laboratory.name),
        Body::Import(import) => format!("table {}", short(&import.file_name)),
        Body::Material(material) => format!("material {}", material.name),
        Body::Stock(stock) => format!("stock {} on {}", stock.what.words(), day(stock.on)),
        Body::Application(application) => format!("spreading of {}", day(application.on)),
        Body::Harvest(harvest) => format!("harvest of {}", day(harvest.on)),
        Body::Cover(cover) => {
            format!("cover of {}, {}", covers::seeds_words(&cover.seeds), day(cover.sown_on))
        }
        Body::PlanPart(part) => format!("{} on the plan", plan::part_title(part)),
        Body::Underlay(underlay) => format!("picture under the plan {}", short(&underlay.name)),
        Body::SamplingPlan(plan) => format!("sampling plan {}", short(&plan.name)),
        Body::Job(job) => format!("job \u{201c}{}\u{201d}", short(&job.as_planned.what)),
    }
}

fn short(text: &str) -> String {
    const MOST: usize = 40;
    let line = text.lines().next().unwrap_or_default();
    if line.chars().count() <= MOST {
        line.to_owned()
    } else {
        line.chars().take(MOST).chain(['…']).collect()
    }
}

/// What a plot or a sample is called, for a record that points to it.
#[must_use]
pub fn name_of(snapshot: &Snapshot, id: EntryId) -> String {
    if let Some(plot) = snapshot.plot(id) {
        return plot.body.name.clone();
    }
    let withdrawn = snapshot.withdrawn.iter().find(|one| one.record.id == id);
    let body = snapshot
        .sample(id)
        .map(|held| Body::Sample(held.body.clone()))
        .or_else(|| snapshot.observation(id).map(|held| Body::Observation(held.body.clone())))
        .or_else(|| snapshot.bed(id).map(|held| Body::Bed(held.body.clone())))
        .or_else(|| snapshot.crop(id).map(|held| Body::Crop(held.body.clone())))
        .or_else(|| snapshot.supply(id).map(|held| Body::WaterSupply(held.body.clone())))
        .or_else(|| snapshot.planting(id).map(|held| Body::Planting(held.body.clone())))
        .or_else(|| snapshot.material(id).map(|held| Body::Material(held.body.clone())))
        .or_else(|| snapshot.laboratory(id).map(|held| Body::Laboratory(held.body.clone())))
        .or_else(|| snapshot.structure(id).map(|held| Body::Structure(held.body.clone())))
        .or_else(|| snapshot.sampling_plan(id).map(|held| Body::SamplingPlan(held.body.clone())))
        .or_else(|| snapshot.import(id).map(|held| Body::Import(held.body.clone())))
        .or_else(|| withdrawn.map(|one| one.record.body.clone()));
    body.map_or_else(|| "a record that is not shown".to_owned(), |body| titled(&body))
}

/// Everything a record says, line by line. What was not given is left out.
#[must_use]
pub fn lines(body: &Body, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let name = |id: &EntryId| name_of(snapshot, *id);
    let lines = match body {
        Body::Farm(farm) => of_farm(farm, units),
        Body::Plot(plot) => of_plot(plot, units),
        Body::Bed(Bed { plot, name: bed, length_m, width_m, count }) => vec![
            Line::new("Name", bed),
            Line::new("Plot", name(plot)),
            Line::new("Length", shown(*length_m, units)),
            Line::new("Width", shown(*width_m, units)),
            Line::new("How many", count.to_string()),
        ],
        Body::Structure(structure) => {
            let Structure { plot, name: called, kind, length_m, width_m, planned, frame, line, post, note } =
                structure;
            let mut lines = vec![
                Line::new("Name", called),
                Line::new("What", kind.words()),
                Line::new("Plot", plot.as_ref().map(name).unwrap_or_default()),
                Line::new("Stands", if *planned { "planned, not built yet" } else { "" }),
                Line::new("Length", length_m.map(|side| shown(side, units)).unwrap_or_default()),
                Line::new("Width", width_m.map(|side| shown(side, units)).unwrap_or_default()),
            ];
            lines.extend(frame.iter().flat_map(|frame| posts::frame(frame, units)));
            lines.extend(line.iter().flat_map(|line| posts::line(line, units)));
            lines.extend(post.iter().flat_map(|post| posts::post(post, units)));
            lines.push(Line::new("Note", note));
            lines
        }
        Body::Sample(Sample {
            plot,
            taken_on,
            from_cm,
            to_cm,
            cores,
            taken_by,
            bag_label,
            import,
            spot,
            note,
        }) => {
            vec![
                Line::new("Plot", name(plot)),
                Line::new("Taken on", day(*taken_on)),
                Line::new("Depth", format!("{} to {}", shown(*from_cm, units), shown(*to_cm, units))),
                Line::new("Cores", cores.map(|count| count.to_string()).unwrap_or_default()),
                Line::new("Taken by", taken_by),
                Line::new("Bag", bag_label),
                Line::new("Where", spot.map(|spot| plan::spot(&spot, snapshot)).unwrap_or_default()),
                Line::new("Came in with", import.as_ref().map(name).unwrap_or_default()),
                Line::new("Note", note),
            ]
        }
        Body::Observation(Observation { plot, sample, seen_on, seen_by, note, import, spot, seen: what }) => {
            let mut lines = vec![
                Line::new("Plot", name(plot)),
                Line::new("Kind", what.label()),
                Line::new("Seen on", day(*seen_on)),
                Line::new("Seen by", seen_by),
                Line::new("Sample", sample.as_ref().map(name).unwrap_or_default()),
                Line::new("Where", spot.map(|spot| plan::spot(&spot, snapshot)).unwrap_or_default()),
                Line::new("Came in with", import.as_ref().map(name).unwrap_or_default()),
            ];
            lines.extend(seen_water::bed_of(what, snapshot));
            lines.extend(seen::reading(what, units));
            lines.push(Line::new("Note", note));
            lines
        }
        Body::Decision(Decision { plot, finding_id, choice, reason }) => vec![
            Line::new("Plot", name(plot)),
            Line::new("About", finding_id.replace('-', " ")),
            Line::new("Decided", choice.words()),
            Line::new("Reason", reason),
        ],
        Body::Note(Note { plot, text }) => {
            vec![Line::new("Plot", plot.as_ref().map(name).unwrap_or_default()), Line::new("Note", text)]
        }
        Body::Photo(Photo { plot, observation, sha256, media_type: _, caption }) => vec![
            Line::new("Caption", caption),
            Line::new("Plot", plot.as_ref().map(name).unwrap_or_default()),
            Line::new("Belongs to", observation.as_ref().map(name).unwrap_or_default()),
            Line::new("File", sha256.chars().take(12).collect::<String>()),
        ],
        Body::WeatherNormals(normals) => water::normals(normals, units),
        Body::WeatherTable(table) => water::table(table, units),
        Body::Crop(crop) => water::crop(crop, units),
        Body::Planting(planting) => water::planting(planting, snapshot, units),
        Body::WaterSupply(supply) => water::supply(supply, units),
        Body::WateringSystem(system) => water::system(system, snapshot, units),
        Body::Watering(watering) => water::watering(watering, snapshot, units),
        Body::Laboratory(laboratory) => feeding::laboratory(laboratory, units),
        Body::Import(import) => feeding::import(import, snapshot),
        Body::Material(material) => feeding::material(material, units),
        Body::Stock(stock) => feeding::stock(stock, snapshot, units),
        Body::Application(application) => feeding::application(application, snapshot, units),
        Body::Harvest(harvest) => feeding::harvest(harvest, snapshot, units),
        Body::Cover(cover) => covers::cover(cover, snapshot, units),
        Body::PlanPart(part) => plan::part(part, snapshot),
        Body::Underlay(underlay) => plan::underlay(underlay, units),
        Body::SamplingPlan(sampling) => plan::sampling(sampling, snapshot, units),
        Body::Job(job) => jobs::lines(job, snapshot, units),
    };
    lines.into_iter().filter(|line| !line.text.is_empty()).collect()
}

fn of_farm(farm: &Farm, shown_in: UnitSystem) -> Vec<Line> {
    let Farm {
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
        code_note,
        plan_origin,
    } = farm;
    let endings: Vec<&str> = cover_endings.iter().map(|way| way.words()).collect();
    let animals: Vec<&str> = grazing.iter().map(|animal| animal.words()).collect();
    let frost = |day: &Option<book::model::MonthDay>| day.map(crate::typed_day::words).unwrap_or_default();
    vec![
        Line::new("Name", name),
        Line::new("Units", units.words()),
        Line::new("Latitude", latitude_degrees.map(|d| format!("{}°", d.get())).unwrap_or_default()),
        Line::new("Longitude", longitude_degrees.map(|d| format!("{}°", d.get())).unwrap_or_default()),
        Line::new(
            "Origin of the plan",
            plan_origin
                .map(|at| format!("{}°, {}°", at.latitude_degrees.get(), at.longitude_degrees.get()))
                .unwrap_or_default(),
        ),
        Line::new("Elevation", elevation_m.map(|height| shown(height, shown_in)).unwrap_or_default()),
        Line::new("Near a large water", yes_or_no(*coastal)),
        Line::new("In dry country", yes_or_no(*arid)),
        Line::new("Last frost of spring", frost(last_frost)),
        Line::new("First frost of autumn", frost(first_frost)),
        Line::new(
            "Lowest of a usual winter",
            winter_low_c.map(|low| shown(low, shown_in)).unwrap_or_default(),
        ),
        Line::new("Currency", currency.clone().unwrap_or_default()),
        Line::new("Worth of an hour", hour_worth.map(|worth| worth.get().to_string()).unwrap_or_default()),
        Line::new("Under organic rules", yes_or_no(*organic)),
        Line::new("Scheme for nutrients", nutrient_scheme.clone().unwrap_or_default().replace('-', " ")),
        Line::new("Method for lime", lime_method.clone().unwrap_or_default().replace('-', " ")),
        Line::new("Ways to end a cover", endings.join(", ")),
        Line::new("Animals that may graze", animals.join(", ")),
        Line::new(
            "Gust of the local code",
            design_wind_m_s.map(|speed| shown(speed, shown_in)).unwrap_or_default(),
        ),
        Line::new("Exposure to wind", wind_exposure.map_or("", advice::posts::exposure_letter)),
        Line::new(
            "Frost depth of the local code",
            frost_depth_m.map(|depth| shown(depth, shown_in)).unwrap_or_default(),
        ),
        Line::new("Where wind and frost were read", code_note),
    ]
}

fn yes_or_no(said: Option<bool>) -> &'static str {
    said.map_or("", |yes| if yes { "yes" } else { "no" })
}

fn of_plot(plot: &Plot, units: UnitSystem) -> Vec<Line> {
    // Which plot it is a zone of stands on its page, with a link.
    let Plot {
        name,
        place,
        shape,
        slope_percent,
        root_depth_cm,
        use_note,
        watering,
        cover,
        organic,
        zone_of: _,
    } = plot;
    vec![
        Line::new("Name", name),
        Line::new("Lies under", place.words()),
        Line::new("Size", size(*shape, units)),
        Line::new("Slope", slope_percent.map(|slope| shown(slope, units)).unwrap_or_default()),
        Line::new("Root depth", root_depth_cm.map(|depth| shown(depth, units)).unwrap_or_default()),
        Line::new("Watered by", watering.map_or("", |way| way.words())),
        Line::new("Cover", cover.map(cover_words).unwrap_or_default()),
        Line::new("Under organic rules", yes_or_no(*organic)),
        Line::new("Use", use_note),
    ]
}

/// "draws 0.6 to 0.8 (likely 0.7) of the demand outside, shaded".
fn cover_words(cover: Cover) -> String {
    let mut parts = Vec::new();
    if let Some(factor) = cover.et0_factor {
        let (low, likely, high) = (factor.low.get(), factor.likely.get(), factor.high.get());
        parts.push(format!("evaporation {low} to {high} of that outside, most likely {likely}"));
    }
    parts.push(if cover.shaded { "shaded".to_owned() } else { "not shaded".to_owned() });
    parts.join(", ")
}

/// "200 ft by 60 ft", "1 800 m²".
#[must_use]
pub fn size(shape: Shape, units: UnitSystem) -> String {
    match shape {
        Shape::Rectangle { length_m, width_m } => {
            format!("{} by {}", shown(length_m, units), shown(width_m, units))
        }
        Shape::Area { area_m2 } => shown(area_m2, units),
    }
}

/// A line that differs between two revisions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Change {
    /// What it is about.
    pub label: String,
    /// What it said before; empty when it was not given.
    pub before: String,
    /// What it says after; empty when it is no longer given.
    pub after: String,
}

/// What differs between two bodies of one kind, line by line.
#[must_use]
pub fn changes(before: &Body, after: &Body, snapshot: &Snapshot, units: UnitSystem) -> Vec<Change> {
    let mut left = lines(before, snapshot, units);
    let mut changes = Vec::new();
    for new in lines(after, snapshot, units) {
        match left.iter().position(|old| old.label == new.label) {
            Some(at) => {
                let old = left.remove(at);
                if old.text != new.text {
                    changes.push(Change { label: new.label, before: old.text, after: new.text });
                }
            }
            None => changes.push(Change { label: new.label, before: String::new(), after: new.text }),
        }
    }
    changes.extend(left.into_iter().map(|old| Change {
        label: old.label,
        before: old.text,
        after: String::new(),
    }));
    if changes.is_empty() && before != after {
        // Digits beyond what is shown.
        changes.push(Change {
            label: Kind::label(after.kind()).to_owned(),
            before: "as before".to_owned(),
            after: "changed by less than is shown".to_owned(),
        });
    }
    changes
}
