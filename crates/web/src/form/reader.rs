//! Reading a form: every refusal is collected, so that a person mends all at once.

use axum::http::StatusCode;
use book::BookError;
use book::model::EntryId;
use ground::kit::units::{self, Dimension, TypedReading, Unit, UnitSystem};
use ground::kit::{Bounded, Refusal};
use jiff::ZonedDateTime;
use jiff::civil::Date;

use super::field::{Field, Kind};
use super::view::Form;
use crate::problem::{Problem, capital, status_of};
use crate::route::Page;
use crate::typed::Typed;

/// Reads typed text into values and keeps the refusals.
pub struct Reader<'a> {
    fields: &'static [Field],
    also: &'static [Field],
    system: UnitSystem,
    typed: &'a Typed,
    refusals: Vec<Refusal>,
    too_large: Vec<String>,
}

impl<'a> Reader<'a> {
    /// Reads `typed` by the declaration `fields`.
    #[must_use]
    pub fn new(fields: &'static [Field], system: UnitSystem, typed: &'a Typed) -> Self {
        Self { fields, also: &[], system, typed, refusals: Vec::new(), too_large: Vec::new() }
    }

    /// The units that the person likes to write.
    #[must_use]
    pub fn system(&self) -> UnitSystem {
        self.system
    }

    /// Reads further fields below the first, as a correction asks for its reason.
    #[must_use]
    pub fn also(mut self, fields: &'static [Field]) -> Self {
        self.also = fields;
        self
    }

    /// The text of a field; refused when it is missing and the field is not optional.
    pub fn text(&mut self, name: &str) -> Option<&'a str> {
        let text = self.typed.text(name);
        if text.is_none()
            && let Some(field) = self.declared(name)
            && !field.optional
        {
            self.refuse(missing(field));
        }
        text
    }

    /// Whether a box was ticked.
    pub fn tick(&mut self, name: &str) -> bool {
        self.typed.text(name).is_some_and(|text| text != "false")
    }

    /// One of the field's fixed answers.
    pub fn choice(&mut self, name: &str) -> Option<&'static str> {
        let text = self.text(name)?;
        let field = self.declared(name)?;
        let known = field.choices().iter().find(|choice| choice.value == text);
        if known.is_none() {
            self.refuse(unknown(field, text));
        }
        known.map(|choice| choice.value)
    }

    /// Those of the field's fixed answers that were chosen.
    pub fn choices(&mut self, name: &'a str) -> Vec<&'static str> {
        let Some(field) = self.declared(name) else { return Vec::new() };
        let mut chosen = Vec::new();
        for text in self.typed.all(name).filter(|text| !text.trim().is_empty()) {
            match field.choices().iter().find(|choice| choice.value == text) {
                Some(choice) => chosen.push(choice.value),
                None => self.refusals.push(unknown(field, text)),
            }
        }
        chosen
    }

    /// A measure of quantity `Q`, in any of its units; a bare number is in the field's own.
    pub fn measure<Q: Bounded>(&mut self, name: &str) -> Option<Q> {
        let text = self.text(name)?;
        let unit = self.unit::<Q>(name);
        self.take(units::typed(name, text, unit))
    }

    /// A measure in a table: its refusal also says in which row and column.
    pub fn cell<Q: Bounded>(&mut self, name: &str) -> Option<Q> {
        let known = self.refusals.len();
        let read = self.measure(name);
        let label = self.declared(name).map_or(name, |field| field.label);
        for refusal in self.refusals.iter_mut().skip(known) {
            refusal.message = format!("{label}: {}", refusal.message);
        }
        read
    }

    /// A measure of quantity `Q`, a range of it, or "not seen".
    pub fn reading<Q: Bounded>(&mut self, name: &str) -> Option<TypedReading<Q>> {
        let text = self.text(name)?;
        let unit = self.unit::<Q>(name);
        self.take(units::typed_reading(name, text, unit))
    }

    /// Several lines of text, with line ends as the book keeps them; empty when nothing was typed.
    pub fn lines(&mut self, name: &str) -> String {
        self.text(name).unwrap_or_default().replace("\r\n", "\n")
    }

    /// A measure in a form that shows what the book holds: text left as it was shown keeps the value
    /// to the last digit, which the shown text rounds.
    pub fn measure_kept<Q: Bounded>(&mut self, name: &str, before: Option<Q>) -> Option<Q> {
        match before {
            Some(value) if self.typed.text(name) == Some(shown(value, self.system).as_str()) => Some(value),
            _ => self.measure(name),
        }
    }

    /// A whole number of things.
    pub fn count(&mut self, name: &str) -> Option<u16> {
        let text = self.text(name)?;
        let label = self.declared(name).map_or(name, |field| field.label);
        let read = text.parse::<u16>().map_err(|_| {
            Refusal::new(name, format!("{label}: \u{201c}{text}\u{201d} is not a whole number"))
                .given(text)
                .accepted("a whole number in figures")
                .example("12")
        });
        self.take(read)
    }

    /// The record that a field names.
    pub fn entry(&mut self, name: &str) -> Option<EntryId> {
        let text = self.text(name)?;
        let label = self.declared(name).map_or(name, |field| field.label);
        let read = text.parse::<EntryId>().map_err(|_| {
            Refusal::new(name, format!("{label}: \u{201c}{text}\u{201d} is not a record of this book"))
                .given(text)
                .accepted("one of the list")
        });
        self.take(read)
    }

    /// A calendar day.
    pub fn day(&mut self, name: &str) -> Option<Date> {
        let text = self.text(name)?;
        let label = self.declared(name).map_or(name, |field| field.label);
        let read = text.parse::<Date>().map_err(|_| {
            Refusal::new(name, format!("{label}: \u{201c}{text}\u{201d} is not a day"))
                .given(text)
                .accepted("a day as year-month-day")
                .example("2025-04-16")
        });
        self.take(read)
    }

    /// A calendar day that has come: something was seen or done on it.
    pub fn day_gone(&mut self, name: &str) -> Option<Date> {
        let day = self.day(name)?;
        let today = ZonedDateTime::now().date();
        if day <= today {
            return Some(day);
        }
        let label = self.declared(name).map_or(name, |field| field.label);
        self.refuse(
            Refusal::new(name, format!("{label}: {day} has not come yet"))
                .given(day)
                .accepted("today or a day before")
                .example(today),
        );
        None
    }

    /// Keeps a result found by other means, or its refusal.
    pub fn take<T>(&mut self, result: Result<T, Refusal>) -> Option<T> {
        result.map_err(|refusal| self.refuse(refusal)).ok()
    }

    /// Refuses something that only the page can judge.
    pub fn refuse(&mut self, refusal: Refusal) {
        // A file that was too large has been told as such; that none arrived is no news.
        if !(self.too_large.contains(&refusal.field)) {
            self.refusals.push(refusal);
        }
    }

    /// Refuses a file that was too large, once for all.
    pub(crate) fn refuse_file(&mut self, refusal: Refusal) {
        self.too_large.push(refusal.field.clone());
        self.refusals.push(refusal);
    }

    /// Whether that field was refused so far.
    #[must_use]
    pub fn is_refused_at(&self, name: &str) -> bool {
        self.refusals.iter().any(|refusal| refusal.field == name)
    }

    /// Every refusal so far.
    #[must_use]
    pub fn refusals(&self) -> &[Refusal] {
        &self.refusals
    }

    /// Whether anything was refused so far.
    #[must_use]
    pub fn is_refused(&self) -> bool {
        !self.refusals.is_empty()
    }

    /// The form again, with everything typed and each refusal at its field, on the page that
    /// `page` makes of it.
    pub fn refused<P: Page + 'static>(self, page: impl FnOnce(Form) -> P) -> Problem {
        self.shown_again(StatusCode::UNPROCESSABLE_ENTITY, page)
    }

    /// The form again after somebody else changed the record.
    pub fn clashed<P: Page + 'static>(self, page: impl FnOnce(Form) -> P) -> Problem {
        self.shown_again(StatusCode::CONFLICT, page)
    }

    /// What the book made of the reading. When it would not take it (refused, changed by someone
    /// else, disk full), the form comes back with everything typed and the reason.
    pub fn kept<T, P: Page + 'static>(
        mut self,
        result: Result<T, BookError>,
        page: impl FnOnce(Form) -> P,
    ) -> Result<T, Problem> {
        result.map_err(|error| {
            let status = status_of(&error);
            self.refuse(match error {
                // The book speaks in the units it keeps, the person in the farm's.
                BookError::Refused(refusal) => refusal.in_units(self.system),
                other => Refusal::new("", capital(&other.to_string())),
            });
            self.shown_again(status, page)
        })
    }

    fn shown_again<P: Page + 'static>(self, status: StatusCode, page: impl FnOnce(Form) -> P) -> Problem {
        let mut form = Form::filled(self.fields, self.system, self.typed).and(Form::filled(
            self.also,
            self.system,
            self.typed,
        ));
        for refusal in &self.refusals {
            form.refuse(refusal.clone());
        }
        Problem::Refused { refusals: self.refusals, page: Some(Box::new(page(form))), status }
    }

    fn declared(&self, name: &str) -> Option<&'static Field> {
        self.fields.iter().chain(self.also).find(|field| field.name == name)
    }

    /// The unit that stands behind the field.
    fn unit<Q: Bounded>(&self, name: &str) -> Unit {
        self.declared(name)
            .and_then(|field| field.unit(self.system))
            .unwrap_or_else(|| units::field_unit(Q::UNIT, self.system))
    }
}

/// A quantity as a field shows it, in the units of the farm.
#[must_use]
pub fn shown<Q: Bounded>(value: Q, system: UnitSystem) -> String {
    let Some(own) = Unit::of_symbol(Q::UNIT) else {
        // A unit of the trade that is written one way everywhere.
        return ground::kit::quantity::with_unit(value.get(), Q::UNIT);
    };
    let dimension = Dimension::of_unit(own);
    units::show(own.convert(value.get(), dimension.base()), dimension, system)
}

/// The path of an item of a list, `cores[1].volume_ml`, with the number of the row that the item was typed in.
/// `rows` holds the row of each item, counted from 0; an item without one keeps its number.
#[must_use]
pub fn in_its_row(path: &str, list: &str, rows: &[usize]) -> String {
    let row = path.strip_prefix(list).and_then(|rest| rest.strip_prefix('[')).and_then(|rest| {
        let (at, rest) = rest.split_once(']')?;
        Some((rows.get(at.parse::<usize>().ok()?)?, rest))
    });
    row.map_or_else(|| path.to_owned(), |(row, rest)| format!("{list}[{row}]{rest}"))
}

fn missing(field: &Field) -> Refusal {
    let accepted = if field.hint.is_empty() { field.label } else { field.hint };
    let what = match field.kind {
        Kind::OneOf(_) | Kind::Pick(_) => "choose one",
        _ => "fill this in",
    };
    Refusal::new(field.name, format!("{}: {what}", field.label)).given("nothing").accepted(accepted)
}

fn unknown(field: &Field, text: &str) -> Refusal {
    let known: Vec<&str> = field.choices().iter().map(|choice| choice.value).collect();
    Refusal::new(field.name, format!("{}: \u{201c}{text}\u{201d} is not one of the answers", field.label))
        .given(text)
        .accepted(known.join(", "))
        .example(known.first().copied().unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::form::Choice;
    use proptest::prelude::*;

    use ground::texture::jar::reading::JarHeight as Height;

    const FIELDS: &[Field] = &[
        Field::measure("height", "Height of the water", "", Dimension::SmallLength),
        Field::reading("sand_top", "Top of the sand", "", Dimension::SmallLength).optional(),
        Field::one_of(
            "water",
            "Water",
            "",
            &[Choice::new("clear", "Clear"), Choice::new("cloudy", "Cloudy")],
        ),
        Field::day("day", "Day", "").optional(),
    ];

    fn typed(form: &str) -> Typed {
        Typed::from_form(form.as_bytes())
    }

    #[test]
    fn a_bare_number_is_in_the_unit_the_farm_sees() {
        for (system, mm) in [(UnitSystem::UsCustomary, 177.8), (UnitSystem::Metric, 7.0)] {
            let typed = typed("height=7");
            let mut read = Reader::new(FIELDS, system, &typed);
            assert_eq!(read.measure::<Height>("height").map(Height::get), Some(mm));
            let mut form = Form::blank(FIELDS, system);
            form.refuse(Refusal::new("height", "x"));
            assert_eq!(form.draw("height").unit, Dimension::SmallLength.unit(system).symbol());
        }
    }

    #[test]
    fn all_problems_are_told_at_once_and_all_text_stays() {
        let typed = typed("height=9+ft&sand_top=between+2+and&water=muddy&day=yesterday");
        let mut read = Reader::new(FIELDS, UnitSystem::Metric, &typed);
        let _ = read.measure::<Height>("height");
        let _ = read.reading::<Height>("sand_top");
        let _ = read.choice("water");
        let _ = read.day("day");
        let mut shown = None;
        let problem = read.refused(|form| {
            shown = Some(form.clone());
            crate::problem::ProblemPage::empty()
        });
        let form = shown.unwrap();
        assert_eq!(form.refusals.len(), 4, "{:?}", form.refusals);
        for (name, text) in typed.iter().filter(|(name, _)| *name != "water") {
            assert_eq!(form.draw(name).text, text);
            assert!(form.draw(name).refusal.is_some(), "{name}");
        }
        assert_eq!(problem.status(), StatusCode::UNPROCESSABLE_ENTITY);
        assert_eq!(problem.json()["errors"].as_array().map(Vec::len), Some(4));
    }

    #[test]
    fn an_item_is_refused_in_the_row_it_was_typed_in() {
        // Rows 1 and 3 were filled in, counted from 0.
        assert_eq!(in_its_row("cores[1].volume_ml", "cores", &[1, 3]), "cores[3].volume_ml");
        assert_eq!(in_its_row("cores[2].volume_ml", "cores", &[1, 3]), "cores[2].volume_ml");
        assert_eq!(in_its_row("from_cm", "cores", &[1, 3]), "from_cm");
    }

    #[test]
    fn what_must_be_given_is_asked_for() {
        let nothing = Typed::default();
        let mut read = Reader::new(FIELDS, UnitSystem::Metric, &nothing);
        assert_eq!(read.measure::<Height>("height"), None);
        assert_eq!(read.reading::<Height>("sand_top"), None);
        assert_eq!(read.choice("water"), None);
        let fields: Vec<_> = read.refusals.iter().map(|refusal| refusal.field.as_str()).collect();
        assert_eq!(fields, ["height", "water"]);
    }

    proptest! {
        #[test]
        fn no_text_makes_the_reader_panic(text in any::<String>()) {
            let mut typed = Typed::default();
            for field in FIELDS {
                typed.add(field.name, text.clone());
            }
            let mut read = Reader::new(FIELDS, UnitSystem::UsCustomary, &typed);
            let _ = read.measure::<Height>("height");
            let _ = read.reading::<Height>("sand_top");
            let _ = read.choice("water");
            let _ = read.day("day");
        }
    }
}
