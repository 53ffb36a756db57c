//! What surrounds every reading: the day, the person, the soil it was made on, and a note.

use book::model::{EntryId, Observation, Sample, SampleDepth, Seen, Spot};
use book::{BookError, Held, Snapshot, Stamp, Writing};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};
use jiff::civil::Date;

use crate::ask::Ask;
use crate::form::{Field, Form, Reader, Width};
use crate::{when, words};

/// Fields of every form of evidence.
pub(super) const ABOUT: &[Field] = &[
    Field::pick(
        "sample",
        "Which soil",
        "One bag of mixed cores can go into a jar, through the fingers and to a laboratory",
        &[],
    ),
    Field::text("sample_label", "What stands on the bag", "").optional().width(Width::Middle),
    Field::measure("sample_from", "Taken from which depth", "0 is the surface", Dimension::Depth).optional(),
    Field::measure("sample_to", "Down to which depth", "For example 8 in or 20 cm", Dimension::Depth)
        .optional(),
    Field::text("sample_cores", "Cores mixed", "How many holes the soil came from")
        .optional()
        .width(Width::Short),
    Field::day("seen_on", "Day it was seen", ""),
    Field::text("seen_by", "Who saw it", "").optional().width(Width::Middle),
    Field::lines("note", "Note", "Doubts above all").optional(),
];

/// Answers to which soil it was.
const STRAIGHT: &str = "plot";
const NEW: &str = "new";

/// What surrounds a reading.
#[derive(Debug, Clone)]
pub(super) struct About {
    soil: Soil,
    seen_on: Date,
    seen_by: String,
    note: String,
    /// The table it came in.
    import: Option<EntryId>,
    /// Where on the plot it was made.
    spot: Option<Spot>,
}

#[derive(Debug, Clone)]
enum Soil {
    Straight,
    Bag(EntryId),
    NewBag { label: String, from_cm: SampleDepth, to_cm: SampleDepth, cores: Option<u16> },
}

impl About {
    /// A reading that is corrected came in with the same table and from the same spot as before.
    pub(super) fn of(&mut self, before: &Observation) {
        self.import = before.import;
        self.spot = before.spot;
    }

    /// Reads it from a form.
    pub(super) fn read(read: &mut Reader<'_>) -> Option<Self> {
        let soil = Soil::read(read);
        let seen_on = read.day_gone("seen_on");
        let seen_by = read.text("seen_by").unwrap_or_default().to_owned();
        let note = read.lines("note");
        Some(Self { soil: soil?, seen_on: seen_on?, seen_by, note, import: None, spot: None })
    }

    /// Adds a sentence to the note.
    pub(super) fn remark(&mut self, text: &str) {
        if !text.is_empty() && !self.note.contains(text) {
            if !self.note.is_empty() {
                self.note.push('\n');
            }
            self.note.push_str(text);
        }
    }

    /// The observation, its bag written down on the way.
    fn observation(
        self,
        writing: &mut Writing<'_>,
        plot: EntryId,
        seen: Seen,
        stamp: &Stamp,
    ) -> Result<Observation, BookError> {
        let sample = match self.soil {
            Soil::Straight => None,
            Soil::Bag(id) => Some(id),
            Soil::NewBag { label, from_cm, to_cm, cores } => {
                let bag = Sample {
                    plot,
                    taken_on: self.seen_on,
                    from_cm,
                    to_cm,
                    cores,
                    taken_by: self.seen_by.clone(),
                    bag_label: label,
                    import: None,
                    spot: None,
                    note: String::new(),
                };
                Some(writing.record(bag, stamp).map_err(bag_refused)?.id)
            }
        };
        let Self { seen_on, seen_by, note, import, spot, .. } = self;
        Ok(Observation { plot, sample, seen_on, seen_by, note, import, spot, seen })
    }

    /// Records a reading.
    pub(super) fn record(
        self,
        writing: &mut Writing<'_>,
        plot: EntryId,
        seen: Seen,
        stamp: &Stamp,
    ) -> Result<Held<Observation>, BookError> {
        let observation = self.observation(writing, plot, seen, stamp)?;
        writing.record(observation, stamp)
    }

    /// Corrects a reading.
    pub(super) fn revise(
        self,
        writing: &mut Writing<'_>,
        (id, from): (EntryId, u32),
        plot: EntryId,
        seen: Seen,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<Held<Observation>, BookError> {
        let observation = self.observation(writing, plot, seen, stamp)?;
        writing.revise(id, from, observation, reason, stamp)
    }

    /// The observation it would make without a new bag; for telling whether anything was changed.
    pub(super) fn as_it_stands(&self, plot: EntryId, seen: &Seen) -> Option<Observation> {
        let sample = match self.soil {
            Soil::Straight => None,
            Soil::Bag(id) => Some(id),
            Soil::NewBag { .. } => return None,
        };
        let Self { seen_on, seen_by, note, import, spot, .. } = self.clone();
        Some(Observation { plot, sample, seen_on, seen_by, note, import, spot, seen: seen.clone() })
    }
}

impl Soil {
    fn read(read: &mut Reader<'_>) -> Option<Self> {
        let chosen = read.text("sample")?;
        let label = read.text("sample_label");
        let from_cm = read.measure::<SampleDepth>("sample_from");
        let to_cm = read.measure::<SampleDepth>("sample_to");
        let cores = read.count("sample_cores");
        if chosen == NEW {
            for (name, given) in [("sample_from", from_cm.is_some()), ("sample_to", to_cm.is_some())] {
                if !given && !read.is_refused_at(name) {
                    read.refuse(
                        Refusal::new(name, "A new bag needs the depth it was taken from and down to")
                            .given("nothing")
                            .accepted("a depth in inches or centimetres; 0 is the surface")
                            .example("0 to 8 in"),
                    );
                }
            }
            let label = label.unwrap_or_default().to_owned();
            return Some(Self::NewBag { label, from_cm: from_cm?, to_cm: to_cm?, cores });
        }
        if label.is_some() || from_cm.is_some() || to_cm.is_some() || cores.is_some() {
            read.refuse(
                Refusal::new("sample", "The soil of a new bag was described, but another answer was chosen")
                    .given(chosen)
                    .accepted("\u{201c}a new bag\u{201d}, or the lines of the new bag left empty"),
            );
            return None;
        }
        if chosen == STRAIGHT { Some(Self::Straight) } else { read.entry("sample").map(Self::Bag) }
    }
}

/// Refusals of a bag, at the fields that this form has for it.
fn bag_refused(error: BookError) -> BookError {
    match error {
        BookError::Refused(mut refusal) => {
            refusal.field = match refusal.field.as_str() {
                "taken_by" => "seen_by".to_owned(),
                "taken_on" => "seen_on".to_owned(),
                "bag_label" => "sample_label".to_owned(),
                "from_cm" => "sample_from".to_owned(),
                "to_cm" => "sample_to".to_owned(),
                "cores" => "sample_cores".to_owned(),
                other => other.to_owned(),
            };
            BookError::Refused(refusal)
        }
        other => other,
    }
}

/// Usual values for a form that nobody has touched yet.
pub(super) fn usual(form: Form, ask: &Ask) -> Form {
    let stamp = ask.stamp();
    form.with("sample", ask.query.text("sample").unwrap_or(STRAIGHT))
        .with("seen_on", when::day_of(stamp.at).to_string())
        .with("seen_by", stamp.by)
}

/// What the book holds, for a correction.
pub(super) fn fill(observation: &Observation, form: Form) -> Form {
    form.set("sample", observation.sample.map_or(STRAIGHT.to_owned(), |sample| sample.to_string()))
        .set("seen_on", observation.seen_on.to_string())
        .set("seen_by", &observation.seen_by)
        .set("note", &observation.note)
}

/// The bags that it can be, latest first.
pub(super) fn answers(form: Form, snapshot: &Snapshot, plot: EntryId, units: UnitSystem) -> Form {
    let mut bags: Vec<&Held<Sample>> = snapshot.samples_of(plot).collect();
    bags.sort_by_key(|bag| std::cmp::Reverse(bag.body.taken_on));
    let named = |bag: &Held<Sample>| {
        let sample = &bag.body;
        let depths = format!(
            "{} to {}",
            crate::form::shown(sample.from_cm, units),
            crate::form::shown(sample.to_cm, units)
        );
        (
            bag.id.to_string(),
            format!("{}, {depths}", crate::problem::capital(&words::titled(&sample.clone().into()))),
        )
    };
    let straight = (STRAIGHT.to_owned(), "Straight from the plot".to_owned());
    let new = (NEW.to_owned(), "A new bag, described below".to_owned());
    form.choices("sample", std::iter::once(straight).chain(bags.into_iter().map(named)).chain([new]))
}
