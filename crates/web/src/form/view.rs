//! A form as it is drawn: fields with what was typed in them and why they were refused.

use askama::Template;
use ground::kit::Refusal;
use ground::kit::units::{Unit, UnitSystem};
use serde::Serialize;

use super::field::{Choice, Field, Kind, Width};
use crate::typed::Typed;

/// A form with what was typed and what was refused.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Form {
    fields: Vec<FieldView>,
    /// Every refusal, in the order found.
    pub refusals: Vec<Refusal>,
}

/// An answer that can be chosen, owned so that plots and samples can be answers too.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Answer {
    /// Value in the post.
    pub value: String,
    /// What a person reads.
    pub label: String,
    /// Whether it is chosen.
    pub chosen: bool,
}

/// What would be accepted, where a refusal's sentence does not say it: ". Accepted: one of the list".
pub(super) fn accepts(refusal: &Refusal) -> String {
    let told = refusal.message.contains("for example") || refusal.message.contains(&refusal.accepted);
    // To a field left empty its hint stands beside it.
    if refusal.accepted.is_empty() || refusal.given == "nothing" || told {
        return String::new();
    }
    let example = match refusal.example.as_str() {
        "" => String::new(),
        example => format!(", for example {example}"),
    };
    let stop = if refusal.message.ends_with(['.', '?']) { "" } else { "." };
    format!("{stop} Accepted: {}{example}", refusal.accepted)
}

/// One field as it is drawn; `{{ form.draw("name") }}` in a template draws it whole.
#[derive(Debug, Clone, Template, Serialize)]
#[template(path = "parts/field.html")]
pub struct FieldView {
    /// Name in the post; the field's id is `field-` and the name.
    pub name: String,
    /// What it asks for.
    pub label: String,
    /// How to find it or write it.
    pub hint: String,
    /// Unit shown behind it.
    pub unit: String,
    /// What was typed.
    pub text: String,
    /// Fixed answers.
    pub answers: Vec<Answer>,
    /// Texts offered while typing, each with more words to it; any other may be typed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub suggestions: Vec<(String, String)>,
    /// Why it was refused.
    pub refusal: Option<Refusal>,
    /// How the text was understood, in other units.
    pub echo: String,
    /// Whether it may be left empty.
    pub optional: bool,
    #[serde(skip)]
    shape: &'static str,
    #[serde(skip)]
    width: &'static str,
}

impl askama::filters::HtmlSafe for FieldView {}

impl FieldView {
    fn new(field: &Field, system: UnitSystem) -> Self {
        let shape = match field.kind {
            Kind::Text => "text",
            Kind::Lines => "lines",
            Kind::Measure(_) => "number",
            // A range or "not seen" cannot be typed on a keypad of digits.
            Kind::Reading(_) => "reading",
            Kind::Day => "day",
            Kind::OneOf(_) => "one_of",
            Kind::Pick(_) => "pick",
            Kind::AnyOf(_) => "any_of",
            Kind::Tick => "tick",
            Kind::Hidden => "hidden",
            Kind::Picture => "picture",
            Kind::File => "file",
        };
        let width = match field.width {
            Width::Short => "short",
            Width::Middle => "middle",
            Width::Full => "full",
        };
        let unit = field.unit(system).map_or("", Unit::symbol);
        let answer = |choice: &Choice| Answer {
            value: choice.value.to_owned(),
            label: choice.label.to_owned(),
            chosen: false,
        };
        Self {
            name: field.name.to_owned(),
            label: field.label.to_owned(),
            hint: field.hint.to_owned(),
            unit: unit.to_owned(),
            text: String::new(),
            answers: field.choices().iter().map(answer).collect(),
            suggestions: Vec::new(),
            refusal: None,
            echo: String::new(),
            optional: field.optional,
            shape,
            width,
        }
    }

    /// A number with its unit, for a form that is made of a schema.
    #[must_use]
    pub fn number(name: &str, unit: &str) -> Self {
        Self { unit: unit.to_owned(), shape: "number", width: "short", ..Self::line(name) }
    }

    /// A line of text.
    #[must_use]
    pub fn line(name: &str) -> Self {
        Self { name: name.to_owned(), ..Self::new(&Field::text("", "", ""), UnitSystem::Metric) }
    }

    /// Several lines of text.
    #[must_use]
    pub fn lines(name: &str) -> Self {
        Self { shape: "lines", ..Self::line(name) }
    }

    /// One of several words.
    #[must_use]
    pub fn pick(name: &str, words: &[String]) -> Self {
        let answer = |word: &String| Answer { value: word.clone(), label: word.clone(), chosen: false };
        Self { shape: "pick", answers: words.iter().map(answer).collect(), ..Self::line(name) }
    }

    /// The same field with its label and hint.
    #[must_use]
    pub fn labelled(mut self, label: &str, hint: impl Into<String>, optional: bool) -> Self {
        label.clone_into(&mut self.label);
        self.hint = hint.into();
        self.optional = optional;
        self
    }

    /// The same field without the mark of one that may be left empty, where a page asks for nothing else.
    #[must_use]
    pub fn asked(mut self) -> Self {
        self.optional = false;
        self
    }

    /// The same field with a text in it.
    #[must_use]
    pub fn typed(mut self, text: &str) -> Self {
        self.type_texts(std::iter::once(text));
        self
    }

    /// Ids of the texts that describe the field, for assistive technology.
    fn described_by(&self) -> String {
        let hint = (!self.hint.is_empty()).then(|| format!("field-{}-hint", self.name));
        let refusal = self.refusal.as_ref().map(|_| format!("field-{}-error", self.name));
        [refusal, hint].into_iter().flatten().collect::<Vec<_>>().join(" ")
    }

    /// Whether a calendar day is typed in it.
    pub(super) fn is_day(&self) -> bool {
        self.shape == "day"
    }

    /// Whether it is chosen from a list that opens.
    pub(super) fn is_pick(&self) -> bool {
        self.shape == "pick"
    }

    /// Whether a number is typed in it.
    pub(super) fn is_number(&self) -> bool {
        self.shape == "number"
    }

    /// Lines of a box for several lines: as many as there are, within reason.
    fn rows(&self) -> usize {
        self.text.lines().count().clamp(4, 18)
    }

    fn type_texts<'a>(&mut self, texts: impl Iterator<Item = &'a str>) {
        let texts: Vec<&str> = texts.collect();
        for answer in &mut self.answers {
            answer.chosen = texts.contains(&answer.value.as_str());
        }
        if let Some(first) = texts.first() {
            (*first).clone_into(&mut self.text);
        }
    }
}

/// The list of refusals on top of a refused form, each a link to its field.
#[derive(Debug, Clone, Template)]
#[template(path = "parts/summary.html")]
pub struct Summary {
    entries: Vec<(String, String)>,
}

impl askama::filters::HtmlSafe for Summary {}

impl Form {
    /// An empty form.
    #[must_use]
    pub fn blank(fields: &[Field], system: UnitSystem) -> Self {
        let fields = fields.iter().map(|field| FieldView::new(field, system)).collect();
        Self { fields, refusals: Vec::new() }
    }

    /// A form with what was typed.
    #[must_use]
    pub fn filled(fields: &[Field], system: UnitSystem, typed: &Typed) -> Self {
        let mut form = Self::blank(fields, system);
        for field in &mut form.fields {
            let name = field.name.clone();
            field.type_texts(typed.all(&name));
        }
        form
    }

    /// A form of fields made one by one.
    #[must_use]
    pub fn of(fields: Vec<FieldView>) -> Self {
        Self { fields, refusals: Vec::new() }
    }

    /// Puts `text` in a field that is still empty: a default, or what the book holds.
    #[must_use]
    pub fn with(mut self, name: &str, text: impl AsRef<str>) -> Self {
        if let Some(field) = self.find(name)
            && field.text.is_empty()
        {
            field.type_texts(std::iter::once(text.as_ref()));
        }
        self
    }

    /// Puts `text` in a field, whatever stands there.
    #[must_use]
    pub fn set(mut self, name: &str, text: impl AsRef<str>) -> Self {
        if let Some(field) = self.find(name) {
            field.type_texts(std::iter::once(text.as_ref()));
        }
        self
    }

    /// Chooses several answers of a field.
    #[must_use]
    pub fn set_all<'a>(mut self, name: &str, texts: impl Iterator<Item = &'a str>) -> Self {
        if let Some(field) = self.find(name) {
            field.type_texts(texts);
        }
        self
    }

    /// The fields of another form below these.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.fields.extend(other.fields);
        self.refusals.extend(other.refusals);
        self
    }

    /// Gives a field its answers, when they come from the book.
    #[must_use]
    pub fn choices(mut self, name: &str, choices: impl IntoIterator<Item = (String, String)>) -> Self {
        if let Some(field) = self.find(name) {
            let text = field.text.clone();
            field.answers = choices
                .into_iter()
                .map(|(value, label)| Answer { chosen: value == text, value, label })
                .collect();
        }
        self
    }

    /// Offers texts while a field is typed in.
    #[must_use]
    pub fn suggest(mut self, name: &str, suggestions: Vec<(String, String)>) -> Self {
        if let Some(field) = self.find(name) {
            field.suggestions = suggestions;
        }
        self
    }

    /// Replaces a field's hint, when it depends on the farm or the plot.
    #[must_use]
    pub fn hint(mut self, name: &str, hint: impl Into<String>) -> Self {
        if let Some(field) = self.find(name) {
            field.hint = hint.into();
        }
        self
    }

    /// Says at a field how its text was understood.
    #[must_use]
    pub fn echo(mut self, name: &str, echo: impl Into<String>) -> Self {
        if let Some(field) = self.find(name) {
            field.echo = echo.into();
        }
        self
    }

    /// Puts a refusal at its field. `marks[1].top` belongs to the field of that name or, failing
    /// that, to `marks`.
    pub fn refuse(&mut self, refusal: Refusal) {
        let path = refusal.field.clone();
        let stem = path.split(['.', '[']).next().unwrap_or_default().to_owned();
        let at = [path, stem].into_iter().find(|name| self.fields.iter().any(|field| field.name == *name));
        if let Some(field) = at.and_then(|name| self.find(&name)) {
            field.refusal.get_or_insert_with(|| refusal.clone());
        }
        self.refusals.push(refusal);
    }

    /// Whether anything was refused.
    #[must_use]
    pub fn is_refused(&self) -> bool {
        !self.refusals.is_empty()
    }

    /// Draws one field: `{{ form.draw("name") }}` in a template.
    ///
    /// # Panics
    /// In debug builds, when the form has no such field: a template and its form differ.
    #[must_use]
    pub fn draw(&self, name: &str) -> FieldView {
        let field = self.fields.iter().find(|field| field.name == name);
        debug_assert!(field.is_some(), "the form has no field {name}");
        field.cloned().unwrap_or_else(|| FieldView::new(&Field::hidden(""), UnitSystem::Metric))
    }

    /// Every field in order.
    #[must_use]
    pub fn fields(&self) -> &[FieldView] {
        &self.fields
    }

    /// The list of refusals, for the top of the page.
    #[must_use]
    pub fn summary(&self) -> Summary {
        let mut entries: Vec<(String, String)> = Vec::new();
        for field in &self.fields {
            if let Some(refusal) = &field.refusal {
                let first = if field.answers.is_empty() || field.shape == "pick" { "" } else { "-0" };
                entries.push((format!("field-{}{first}", field.name), refusal.message.clone()));
            }
        }
        for refusal in &self.refusals {
            if !entries.iter().any(|(_, message)| *message == refusal.message) {
                entries.push((String::new(), refusal.message.clone()));
            }
        }
        Summary { entries }
    }

    /// Takes the mark off fields that may be left empty, where the page fills them in by itself.
    #[must_use]
    pub fn asked(mut self, names: &[&str]) -> Self {
        for field in self.fields.iter_mut().filter(|field| names.contains(&field.name.as_str())) {
            field.optional = false;
        }
        self
    }

    fn find(&mut self, name: &str) -> Option<&mut FieldView> {
        self.fields.iter_mut().find(|field| field.name == name)
    }
}
