//! The declaration of a field.

use ground::kit::units::{Dimension, Unit, UnitSystem};

/// One field of a form.
#[derive(Debug, Clone, Copy)]
pub struct Field {
    /// Name in the post, the JSON twin and the errors.
    pub name: &'static str,
    /// What it asks for.
    pub label: &'static str,
    /// How to find it or write it; the accepted unit belongs here.
    pub hint: &'static str,
    /// What is typed.
    pub kind: Kind,
    /// How wide the answer is.
    pub width: Width,
    /// Whether it may be left empty.
    pub optional: bool,
    /// Unit of a measure whose trade has one unit on any farm.
    pub unit: Option<Unit>,
}

/// What is typed in a field.
#[derive(Debug, Clone, Copy)]
pub enum Kind {
    /// A line of text.
    Text,
    /// Several lines of text.
    Lines,
    /// A measure, in any unit of its dimension. The farm's own unit stands behind the field and is
    /// meant by a bare number.
    Measure(Dimension),
    /// A measure, a range of it, or "not seen".
    Reading(Dimension),
    /// A calendar day.
    Day,
    /// One of a few, all in sight.
    OneOf(&'static [Choice]),
    /// One of many, in a list that opens.
    Pick(&'static [Choice]),
    /// Any of a few.
    AnyOf(&'static [Choice]),
    /// Yes or no.
    Tick,
    /// Carried along, not shown.
    Hidden,
    /// A picture to send.
    Picture,
    /// A file to send.
    File,
}

/// One answer of a field with fixed answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Choice {
    /// Value in the post.
    pub value: &'static str,
    /// What a person reads.
    pub label: &'static str,
}

impl Choice {
    /// A choice.
    #[must_use]
    pub const fn new(value: &'static str, label: &'static str) -> Self {
        Self { value, label }
    }
}

/// How wide an answer is, so that the field's size hints at it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Width {
    /// A number with its unit.
    Short,
    /// A range, a date, a name.
    Middle,
    /// A sentence.
    Full,
}

impl Field {
    const fn of(
        name: &'static str,
        label: &'static str,
        hint: &'static str,
        kind: Kind,
        width: Width,
    ) -> Self {
        Self { name, label, hint, kind, width, optional: false, unit: None }
    }

    /// A line of text.
    #[must_use]
    pub const fn text(name: &'static str, label: &'static str, hint: &'static str) -> Self {
        Self::of(name, label, hint, Kind::Text, Width::Full)
    }

    /// Several lines of text.
    #[must_use]
    pub const fn lines(name: &'static str, label: &'static str, hint: &'static str) -> Self {
        Self::of(name, label, hint, Kind::Lines, Width::Full)
    }

    /// A measure, in any unit of its dimension.
    #[must_use]
    pub const fn measure(
        name: &'static str,
        label: &'static str,
        hint: &'static str,
        dimension: Dimension,
    ) -> Self {
        Self::of(name, label, hint, Kind::Measure(dimension), Width::Short)
    }

    /// A measure, a range of it, or "not seen".
    #[must_use]
    pub const fn reading(
        name: &'static str,
        label: &'static str,
        hint: &'static str,
        dimension: Dimension,
    ) -> Self {
        Self::of(name, label, hint, Kind::Reading(dimension), Width::Middle)
    }

    /// A calendar day.
    #[must_use]
    pub const fn day(name: &'static str, label: &'static str, hint: &'static str) -> Self {
        Self::of(name, label, hint, Kind::Day, Width::Middle)
    }

    /// One of a few, all in sight.
    #[must_use]
    pub const fn one_of(
        name: &'static str,
        label: &'static str,
        hint: &'static str,
        choices: &'static [Choice],
    ) -> Self {
        Self::of(name, label, hint, Kind::OneOf(choices), Width::Full)
    }

    /// One of many, in a list that opens.
    #[must_use]
    pub const fn pick(
        name: &'static str,
        label: &'static str,
        hint: &'static str,
        choices: &'static [Choice],
    ) -> Self {
        Self::of(name, label, hint, Kind::Pick(choices), Width::Middle)
    }

    /// Any of a few.
    #[must_use]
    pub const fn any_of(
        name: &'static str,
        label: &'static str,
        hint: &'static str,
        choices: &'static [Choice],
    ) -> Self {
        Self::of(name, label, hint, Kind::AnyOf(choices), Width::Full).optional()
    }

    /// Yes or no.
    #[must_use]
    pub const fn tick(name: &'static str, label: &'static str, hint: &'static str) -> Self {
        Self::of(name, label, hint, Kind::Tick, Width::Full).optional()
    }

    /// Carried along, not shown.
    #[must_use]
    pub const fn hidden(name: &'static str) -> Self {
        Self::of(name, "", "", Kind::Hidden, Width::Full)
    }

    /// A picture to send.
    #[must_use]
    pub const fn picture(name: &'static str, label: &'static str, hint: &'static str) -> Self {
        Self::of(name, label, hint, Kind::Picture, Width::Full).optional()
    }

    /// A file to send.
    #[must_use]
    pub const fn file(name: &'static str, label: &'static str, hint: &'static str) -> Self {
        Self::of(name, label, hint, Kind::File, Width::Full)
    }

    /// The same field, which may be left empty.
    #[must_use]
    pub const fn optional(mut self) -> Self {
        self.optional = true;
        self
    }

    /// The same field in another width.
    #[must_use]
    pub const fn width(mut self, width: Width) -> Self {
        self.width = width;
        self
    }

    /// The same measure in one unit on any farm, as a laboratory's grams.
    #[must_use]
    pub const fn in_unit(mut self, unit: Unit) -> Self {
        self.unit = Some(unit);
        self
    }

    /// The unit that stands behind the field and is meant by a bare number.
    #[must_use]
    pub fn unit(&self, system: UnitSystem) -> Option<Unit> {
        match self.kind {
            Kind::Measure(dimension) | Kind::Reading(dimension) => {
                Some(self.unit.unwrap_or_else(|| dimension.unit(system)))
            }
            _ => None,
        }
    }

    /// The fixed answers, where it has some.
    #[must_use]
    pub const fn choices(&self) -> &'static [Choice] {
        match self.kind {
            Kind::OneOf(choices) | Kind::Pick(choices) | Kind::AnyOf(choices) => choices,
            _ => &[],
        }
    }
}

/// Two lists of fields as one, for forms that share some: `&join::<{ A.len() + B.len() }>(A, B)`.
#[must_use]
pub const fn join<const N: usize>(first: &[Field], second: &[Field]) -> [Field; N] {
    let mut all = [Field::hidden(""); N];
    let mut at = 0;
    while at < N {
        all[at] = if at < first.len() { first[at] } else { second[at - first.len()] };
        at += 1;
    }
    all
}
