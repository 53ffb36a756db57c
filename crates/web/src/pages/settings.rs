//! Settings of the farm, and who records in this browser.

use askama::Template;
use book::model::{Elevation, Farm, HourWorth, WinterLow};
use book::{BookError, Held};
use ground::covers::kinds::{Animal, Ending};
use ground::fertility::acidity::LimeMethod;
use ground::fertility::schemes::Scheme;
use ground::kit::units::{self, Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};
use serde::Serialize;

use super::start::{FIRST_FROST, LAST_FROST, LATITUDE, UNITS, frost, latitude, units as chosen_units, who};
use super::things::{Clash, clash_of, clash_refusal};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, Width};
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::typed_day;

/// Addresses of this page.
pub const ROUTES: &[Route] = &[
    Route::page("/settings", "Settings of the farm", show),
    Route::save("/settings", "Changes the settings of the farm", FIELDS, save),
];

const FIELDS: &[Field] = &[
    Field::text(
        "recorded_by",
        "Who is recording in this browser",
        "Written beside everything you record here; each phone may have its own name",
    )
    .optional(),
    Field::text("name", "Name of the farm", ""),
    Field::one_of(
        "units",
        "Units",
        "Both are understood wherever you type; this says which are shown",
        &UNITS,
    ),
    LATITUDE,
    Field::measure(
        "elevation_m",
        "Height above the sea",
        "For example 800 ft or 250 m; thin air dries more. Within a few hundred feet is enough",
        Dimension::Length,
    )
    .optional(),
    Field::pick(
        "coastal",
        "Does the weather come off a large water nearby",
        "The sea or a great lake. Sunlight worked out from temperatures needs it",
        &YES_OR_NO,
    )
    .optional(),
    Field::pick(
        "arid",
        "Is the country around dry",
        "Grass brown all summer beyond the watered fields. A dew point taken from the lowest temperature needs it",
        &YES_OR_NO,
    )
    .optional(),
    LAST_FROST,
    FIRST_FROST,
    Field::measure(
        "winter_low_c",
        "Lowest temperature of a usual winter",
        "The coldest night of it, for example -10 \u{b0}F or -23 \u{b0}C. It says which covers live through",
        Dimension::Temperature,
    )
    .optional(),
    Field::text("currency", "Currency", "Its three-letter code, for example USD or EUR")
        .width(Width::Short)
        .optional(),
    Field::measure(
        "hour_worth",
        "What an hour of your time is worth",
        "In that currency. It decides which measurement pays; 15 is taken where nothing is said",
        Dimension::Number,
    )
    .optional(),
    Field::pick(
        "nutrient_scheme",
        "Scheme that laboratory figures are read by",
        "The one that advisers of your region use. Schemes are never mixed; what yours does not tell stays untold",
        &[],
    )
    .optional(),
    Field::pick(
        "lime_method",
        "Method that lime is worked out by",
        "The one of your region's laboratory. Each reads its own buffer or none; none is followed until you choose",
        &[],
    )
    .optional(),
    Field::any_of(
        "cover_endings",
        "How you can end a cover crop",
        "Mowing and turning in are taken where nothing is said",
        &[
            Choice::new("mow", "Mow it"),
            Choice::new("mow_at_bloom", "Mow it at flower, and not before"),
            Choice::new("crimp_at_bloom", "Roll and crimp it at flower"),
            Choice::new("till", "Turn it in"),
            Choice::new("cover_up", "Cover it with an opaque sheet for weeks"),
        ],
    ),
    Field::any_of(
        "grazing",
        "Animals that may get at a cover crop",
        "Some covers kill animals that graze them",
        &[
            Choice::new("cattle", "Cattle"),
            Choice::new("horses", "Horses"),
            Choice::new("sheep", "Sheep"),
            Choice::new("goats", "Goats"),
            Choice::new("pigs", "Pigs"),
            Choice::new("poultry", "Poultry"),
        ],
    ),
    Field::measure(
        "design_wind_m_s",
        "Gust speed of your local code",
        "From its map for buildings of this kind (3 seconds, 10 m up): 105 mph or 47 m/s. Ask the building office; nothing stands in for it",
        Dimension::Speed,
    )
    .optional(),
    Field::pick("wind_exposure", "What stands upwind of your buildings", "", &crate::pages::posts::EXPOSURES).optional(),
    Field::measure(
        "frost_depth_m",
        "Frost depth of your local code",
        "For example 36 in or 90 cm; it is never reckoned from the ground",
        Dimension::Length,
    )
    .optional(),
    Field::text("code_note", "Where wind and frost were read", "The code, its map, or the office that told you").optional(),
    Field::hidden("from_number").optional(),
];

/// Ways to end a cover by their answer; mowing at any time includes mowing at flower.
const ENDINGS: [(&str, Ending); 5] = [
    ("mow", Ending::Mow),
    ("mow_at_bloom", Ending::MowAtBloom),
    ("crimp_at_bloom", Ending::CrimpAtBloom),
    ("till", Ending::Till),
    ("cover_up", Ending::CoverUp),
];

const ANIMALS: [(&str, Animal); 6] = [
    ("cattle", Animal::Cattle),
    ("horses", Animal::Horses),
    ("sheep", Animal::Sheep),
    ("goats", Animal::Goats),
    ("pigs", Animal::Pigs),
    ("poultry", Animal::Poultry),
];

fn key_of<T: PartialEq>(list: &[(&'static str, T)], kind: &T) -> Option<&'static str> {
    list.iter().find(|(_, one)| one == kind).map(|(key, _)| *key)
}

fn kinds_of<T: Copy>(list: &[(&'static str, T)], keys: &[&str]) -> Vec<T> {
    list.iter().filter(|(key, _)| keys.contains(key)).map(|(_, kind)| *kind).collect()
}

const YES_OR_NO: [Choice; 2] = [Choice::new("yes", "Yes"), Choice::new("no", "No")];

#[derive(Template, Serialize)]
#[template(path = "settings.html")]
struct Settings {
    #[serde(skip)]
    shell: Shell,
    form: Form,
    /// The book's file.
    file: String,
    #[serde(skip)]
    farm: book::model::EntryId,
    clash: Option<Clash>,
}

fn show(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let held = &snapshot.farm;
    let farm = &held.body;
    let form = ask
        .form(FIELDS)
        .with("recorded_by", ask.stamp().by)
        .with("name", &farm.name)
        .with("units", if farm.units == UnitSystem::Metric { "metric" } else { "us_customary" })
        .with("latitude_degrees", farm.latitude_degrees.map(|one| one.get().to_string()).unwrap_or_default())
        .measure("elevation_m", farm.elevation_m, ask.units())
        .with("coastal", farm.coastal.map_or("", yes_or_no))
        .with("arid", farm.arid.map_or("", yes_or_no))
        .with("last_frost", farm.last_frost.map(typed_day::words).unwrap_or_default())
        .with("first_frost", farm.first_frost.map(typed_day::words).unwrap_or_default())
        .measure("winter_low_c", farm.winter_low_c, ask.units())
        .set_all("cover_endings", farm.cover_endings.iter().filter_map(|way| key_of(&ENDINGS, way)))
        .set_all("grazing", farm.grazing.iter().filter_map(|animal| key_of(&ANIMALS, animal)))
        .with("currency", farm.currency.as_deref().unwrap_or_default())
        .with("hour_worth", farm.hour_worth.map(|one| one.get().to_string()).unwrap_or_default())
        .with("nutrient_scheme", farm.nutrient_scheme.as_deref().unwrap_or_default())
        .with("lime_method", farm.lime_method.as_deref().unwrap_or_default())
        .measure("design_wind_m_s", farm.design_wind_m_s, ask.units())
        .with("wind_exposure", farm.wind_exposure.map_or("", crate::pages::posts::exposure_key))
        .measure("frost_depth_m", farm.frost_depth_m, ask.units())
        .with("code_note", &farm.code_note)
        .set("from_number", held.number.to_string());
    Shown::page(page(ask, held, form, None)?)
}

fn page(
    ask: &Ask,
    held: &Held<Farm>,
    form: Form,
    clash: Option<Clash>,
) -> Result<Settings, crate::problem::Problem> {
    Ok(Settings {
        shell: ask.shell(Section::Settings, "Settings"),
        form: schemes(form, &held.body),
        file: ask.desk()?.path().display().to_string(),
        farm: held.id,
        clash,
    })
}

fn save(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let held = &snapshot.farm;
    let blank = page(ask, held, Form::default(), None)?;
    let again = |form: Form, clash: Option<Clash>| Settings {
        shell: blank.shell.refused(),
        form: schemes(form, &held.body),
        clash,
        ..blank
    };
    let mut read = ask.reader(FIELDS);
    let who = who(&mut read);
    let name = read.text("name").map(str::to_owned);
    let units = chosen_units(&mut read);
    let latitude_degrees = latitude(&mut read);
    let elevation_m = elevation(&mut read, ask.units());
    let coastal = read.choice("coastal").map(|said| said == "yes");
    let arid = read.choice("arid").map(|said| said == "yes");
    let last_frost = frost(&mut read, "last_frost");
    let first_frost = frost(&mut read, "first_frost");
    let winter_low_c: Option<WinterLow> = read.measure_kept("winter_low_c", held.body.winter_low_c);
    let cover_endings = kinds_of(&ENDINGS, &read.choices("cover_endings"));
    let grazing = kinds_of(&ANIMALS, &read.choices("grazing"));
    let currency = read.text("currency").map(str::to_uppercase);
    let hour_worth: Option<HourWorth> = read.measure("hour_worth");
    let nutrient_scheme = scheme(&mut read);
    let lime_method = lime_method(&mut read, held.body.lime_method.as_deref());
    let design_wind_m_s = read.measure_kept("design_wind_m_s", held.body.design_wind_m_s);
    let wind_exposure = read.choice("wind_exposure").map(crate::pages::posts::exposure_of);
    let frost_depth_m = read.measure_kept("frost_depth_m", held.body.frost_depth_m);
    let code_note = read.text("code_note").unwrap_or_default().to_owned();
    let from = read.count("from_number").map_or(held.number, u32::from);
    let (Some(name), Some(units), false) = (name, units, read.is_refused()) else {
        return Err(read.refused(|form| again(form, None)));
    };
    let farm = Farm {
        name,
        latitude_degrees,
        elevation_m,
        coastal,
        arid,
        units,
        last_frost,
        first_frost,
        winter_low_c,
        currency,
        hour_worth,
        nutrient_scheme,
        lime_method,
        cover_endings,
        grazing,
        design_wind_m_s,
        wind_exposure,
        frost_depth_m,
        code_note,
        ..held.body.clone()
    };
    // Only who records may have changed, and that is not in the book.
    let kept = if farm == held.body && from == held.number {
        Ok(held.clone())
    } else {
        ask.write(|book, stamp| book.revise(held.id, from, farm, "settings", stamp))?
    };
    match kept {
        Err(BookError::Clash { now, yours, .. }) => {
            let clash = clash_of(ask, &snapshot, &now, yours.as_deref());
            read.refuse(clash_refusal(&clash));
            let number = now.number.to_string();
            Err(read.clashed(|form| again(form.set("from_number", number), Some(clash))))
        }
        other => {
            let kept = read.kept(other, |form| again(form, None))?;
            let twin = serde_json::to_value(kept).unwrap_or_default();
            Ok(Shown::Kept { to: "/settings?done=settings".to_owned(), twin, who })
        }
    }
}

/// The schemes as answers; a key that stands in the book and is not known here stays one.
fn schemes(form: Form, farm: &Farm) -> Form {
    if form.fields().is_empty() {
        return form;
    }
    let known = Scheme::ALL
        .iter()
        .map(|scheme| (scheme.key().to_owned(), format!("{}: {}", scheme.title(), scheme.region())));
    let stranger = farm.nutrient_scheme.iter().filter(|key| Scheme::of_key(key).is_none());
    let form = form.choices(
        "nutrient_scheme",
        known.chain(stranger.map(|key| (key.clone(), format!("{key} (not known here)")))),
    );
    let known =
        LimeMethod::ALL.into_iter().map(|method| (method.key().to_owned(), method.words().to_owned()));
    let stranger = farm.lime_method.iter().filter(|key| LimeMethod::of_key(key).is_none());
    form.choices(
        "lime_method",
        known.chain(stranger.map(|key| (key.clone(), format!("{key} (not known here)")))),
    )
}

/// The lime method; a key that stands in the book already and is not known here may stay.
fn lime_method(read: &mut Reader<'_>, before: Option<&str>) -> Option<String> {
    let key = read.text("lime_method")?;
    if LimeMethod::of_key(key).is_none() && before != Some(key) {
        read.refuse(LimeMethod::unknown("lime_method", key));
    }
    Some(key.to_owned())
}

fn scheme(read: &mut Reader<'_>) -> Option<String> {
    let key = read.text("nutrient_scheme")?;
    if Scheme::of_key(key).is_none() {
        read.refuse(
            Refusal::new("nutrient_scheme", format!("\u{201c}{key}\u{201d} is no scheme that is known here"))
                .given(key)
                .accepted(Scheme::ALL.iter().map(|scheme| scheme.key()).collect::<Vec<_>>().join(", "))
                .example(Scheme::RutgersM3.key()),
        );
    }
    Some(key.to_owned())
}

fn yes_or_no(said: bool) -> &'static str {
    if said { "yes" } else { "no" }
}

/// A height above the sea; land below it has a minus, which no other length on a farm has.
fn elevation(read: &mut Reader<'_>, system: UnitSystem) -> Option<Elevation> {
    let text = read.text("elevation_m")?;
    let Some(below) = text.strip_prefix(['-', '\u{2212}']) else { return read.measure("elevation_m") };
    let metres = units::parse(below, Dimension::Length, Dimension::Length.unit(system))
        .map_err(|error| error.at("elevation_m"))
        .and_then(|metres| {
            Elevation::new(-metres).map_err(|error| Refusal::out_of_range("elevation_m", &error).given(text))
        });
    read.take(metres)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn offered(name: &str) -> Vec<&'static str> {
        let field = FIELDS.iter().find(|field| field.name == name).unwrap();
        field.choices().iter().map(|choice| choice.value).collect()
    }

    /// What the form does not offer is lost when it is saved.
    #[test]
    fn every_way_to_end_a_cover_and_every_animal_stands_in_the_form() {
        for way in Ending::ALL {
            let key = key_of(&ENDINGS, way);
            assert!(key.is_some_and(|key| offered("cover_endings").contains(&key)), "{way:?}");
        }
        for animal in Animal::ALL {
            let key = key_of(&ANIMALS, animal);
            assert!(key.is_some_and(|key| offered("grazing").contains(&key)), "{animal:?}");
        }
    }
}
