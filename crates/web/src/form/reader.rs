//! Reading a form: every refusal is collected, so that a person mends all at once.

use ground::kit::quantity::with_unit;
use ground::kit::{Bounded, Refusal};

use super::field::{Field, Kind};
use super::view::Form;
use crate::problem::Problem;
use crate::route::Page;
use crate::typed::Typed;

/// Reads typed text into values and keeps the refusals.
pub struct Reader<'a> {
    fields: &'static [Field],
    typed: &'a Typed,
    refusals: Vec<Refusal>,
}

impl<'a> Reader<'a> {
    /// Reads `typed` by the declaration `fields`.
    #[must_use]
    pub fn new(fields: &'static [Field], typed: &'a Typed) -> Self {
        Self { fields, typed, refusals: Vec::new() }
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

    /// A plain number of quantity `Q`, in `Q`'s own unit.
    pub fn number<Q: Bounded>(&mut self, name: &str) -> Option<Q> {
        let text = self.text(name)?;
        let label = self.label(name);
        match plain_number(text) {
            Some(value) => self.bound(name, text, value),
            None => {
                self.refuse(
                    Refusal::new(name, format!("{label}: \u{201c}{text}\u{201d} is not a number"))
                        .given(text)
                        .accepted(ground::kit::quantity::range_words(Q::MIN, Q::MAX, Q::UNIT))
                        .example(with_unit(Q::EXAMPLE, Q::UNIT)),
                );
                None
            }
        }
    }

    /// Checks a value against its quantity; the refusal repeats the text as it was typed.
    fn bound<Q: Bounded>(&mut self, name: &str, text: &str, value: f64) -> Option<Q> {
        match Q::new(value) {
            Ok(quantity) => Some(quantity),
            Err(error) => {
                self.refuse(Refusal::out_of_range(name, &error).given(text));
                None
            }
        }
    }

    /// Keeps a result found by other means, or its refusal.
    pub fn take<T>(&mut self, result: Result<T, Refusal>) -> Option<T> {
        result.map_err(|refusal| self.refuse(refusal)).ok()
    }

    /// Refuses something that only the page can judge.
    pub fn refuse(&mut self, refusal: Refusal) {
        self.refusals.push(refusal);
    }

    /// Whether anything was refused so far.
    #[must_use]
    pub fn is_refused(&self) -> bool {
        !self.refusals.is_empty()
    }

    /// The form again, with everything typed and each refusal at its field, on the page that
    /// `page` makes of it.
    pub fn refused<P: Page + 'static>(self, page: impl FnOnce(Form) -> P) -> Problem {
        let mut form = Form::filled(self.fields, self.typed);
        for refusal in &self.refusals {
            form.refuse(refusal.clone());
        }
        Problem::form(self.refusals, page(form))
    }

    fn declared(&self, name: &str) -> Option<&'static Field> {
        self.fields.iter().find(|field| field.name == name)
    }

    fn label(&self, name: &str) -> &'static str {
        self.declared(name).map_or("", |field| field.label)
    }
}

/// A number as people write it: spaces around, a decimal comma, a plus sign.
fn plain_number(text: &str) -> Option<f64> {
    let text: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    let text =
        if text.matches(',').count() == 1 && !text.contains('.') { text.replace(',', ".") } else { text };
    text.parse::<f64>().ok().filter(|value| value.is_finite())
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
