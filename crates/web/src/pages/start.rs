//! The start of a farm: four questions, then on to its plots.

use askama::Template;
use book::model::{Farm, Latitude, MonthDay};
use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader};
use crate::problem::{Problem, Trouble};
use crate::route::{Outcome, Route, Shown};
use crate::shell::{Section, Shell};
use crate::typed_day::month_day;

/// Addresses of this page.
pub const ROUTES: &[Route] = &[
    Route::page("/start", "The start of a farm", show),
    Route::save("/start", "Makes a new farm book", FIELDS, save),
];

const FIELDS: &[Field] = &[
    Field::text("name", "What is the farm called", ""),
    Field::one_of(
        "units",
        "Units",
        "Both are understood wherever you type; this says which are shown",
        &UNITS,
    ),
    LATITUDE,
    LAST_FROST,
    FIRST_FROST,
    Field::text("recorded_by", "Who is writing", "Your name goes beside what you record in this browser")
        .optional(),
];

/// Unit systems as answers.
pub(super) const UNITS: [Choice; 2] = [
    Choice::new("us_customary", "US customary (inches, feet, pounds, °F)"),
    Choice::new("metric", "Metric (millimetres, metres, kilograms, °C)"),
];

/// Rough latitude.
pub(super) const LATITUDE: Field = Field::measure(
    "latitude_degrees",
    "Rough latitude",
    "In degrees, for example 42.5 or 42 N; it is in any map, and a whole degree is enough",
    Dimension::Number,
)
.optional();

/// Last frost.
pub(super) const LAST_FROST: Field =
    Field::text("last_frost", "Usual last frost of spring", "For example 12 May")
        .width(crate::form::Width::Middle)
        .optional();

/// First frost.
pub(super) const FIRST_FROST: Field =
    Field::text("first_frost", "Usual first frost of autumn", "For example 2 October")
        .width(crate::form::Width::Middle)
        .optional();

#[derive(Template, Serialize)]
#[template(path = "start.html")]
struct Start {
    #[serde(skip)]
    shell: Shell,
    form: Form,
    /// The file that will be made.
    file: String,
}

fn show(ask: &Ask) -> Outcome {
    nothing_open(ask)?;
    Shown::page(page(ask, ask.form(FIELDS).with("units", "us_customary")))
}

fn save(ask: &Ask) -> Outcome {
    nothing_open(ask)?;
    let mut read = ask.reader(FIELDS);
    let name = read.text("name");
    let units = units(&mut read);
    let latitude_degrees = latitude(&mut read);
    let last_frost = frost(&mut read, "last_frost");
    let first_frost = frost(&mut read, "first_frost");
    let who = who(&mut read);
    let again = |form: Form| {
        let page = page(ask, form);
        Start { shell: page.shell.refused(), ..page }
    };
    let (Some(name), Some(units), false) = (name, units, read.is_refused()) else {
        return Err(read.refused(again));
    };
    let farm = Farm { latitude_degrees, last_frost, first_frost, ..Farm::named(name, units) };
    let made = ask.app.start(farm).map(|desk| desk.path().to_owned());
    let made = read.kept(made, again)?;
    let twin = serde_json::json!({ "book": made.display().to_string() });
    Ok(Shown::Kept { to: "/plots/new".to_owned(), twin, who: who.filter(|who| !who.is_empty()) })
}

/// One program run has one book: a second farm is a second book.
fn nothing_open(ask: &Ask) -> Result<(), Problem> {
    match ask.app.farm() {
        None => Ok(()),
        Some(farm) => Err(Trouble::new(
            axum::http::StatusCode::CONFLICT,
            "A farm is open already",
            format!("This is the book of {}.", farm.name),
        )
        .hint("Go on with it from the farm page.")
        .hint(
            "For another farm, start Spadework with the name of another book: spadework serve other.farmbook",
        )
        .into()),
    }
}

fn page(ask: &Ask, form: Form) -> Start {
    let file = ask
        .app
        .place_for_a_book()
        .map_or_else(|| "farm.farmbook".to_owned(), |path| path.display().to_string());
    Start { shell: ask.shell(Section::Farm, "New farm"), form, file }
}

/// The unit system chosen.
pub(super) fn units(read: &mut Reader<'_>) -> Option<UnitSystem> {
    Some(match read.choice("units")? {
        "metric" => UnitSystem::Metric,
        _ => UnitSystem::UsCustomary,
    })
}

/// A latitude: "42.5", "42.5 N", "33° S".
pub(super) fn latitude(read: &mut Reader<'_>) -> Option<Latitude> {
    let text = read.text("latitude_degrees")?;
    read.take(latitude_of(text))
}

fn latitude_of(text: &str) -> Result<Latitude, Refusal> {
    let bare = text.trim().replace(['°', '\u{ba}'], " ").to_uppercase();
    let (number, sign) = match bare.trim_end().strip_suffix(['N', 'S']) {
        Some(number) if bare.trim_end().ends_with('S') => (number, -1.0),
        Some(number) => (number, 1.0),
        None => (bare.as_str(), 1.0),
    };
    let refused = || {
        Refusal::new(
            "latitude_degrees",
            format!("Latitude: \u{201c}{}\u{201d} could not be read as degrees", text.trim()),
        )
        .given(text.trim())
        .accepted("-90 to 90 degrees, or degrees with N or S")
        .example("42.5")
    };
    let degrees: f64 = number.trim().replace(',', ".").parse().map_err(|_| refused())?;
    if sign < 0.0 && degrees < 0.0 {
        return Err(refused());
    }
    Latitude::new(sign * degrees).map_err(|_| refused())
}

/// A frost date.
pub(super) fn frost(read: &mut Reader<'_>, name: &'static str) -> Option<MonthDay> {
    let text = read.text(name)?;
    read.take(month_day(name, text))
}

/// Who writes, as it may stand in the book.
pub(super) fn who(read: &mut Reader<'_>) -> Option<String> {
    let name = read.text("recorded_by").unwrap_or_default();
    if name.chars().count() > 120 || name.contains('\0') {
        read.refuse(
            Refusal::new("recorded_by", "Who is writing: the name is too long")
                .accepted("at most 120 characters")
                .example("Ada"),
        );
        return None;
    }
    Some(name.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn latitudes_are_read_as_maps_give_them() {
        for (text, degrees) in [
            ("42.5", 42.5),
            ("42,5", 42.5),
            ("42.5 N", 42.5),
            ("42°", 42.0),
            ("33° s", -33.0),
            ("-33", -33.0),
            ("0", 0.0),
        ] {
            assert_eq!(latitude_of(text).map(Bounded::get), Ok(degrees), "{text}");
        }
        for text in ["", "N", "north", "91", "-33 S", "NaN", "inf", "42 30 10"] {
            assert!(latitude_of(text).is_err(), "{text}");
        }
    }
}
