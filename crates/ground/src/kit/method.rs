//! The trait that turns a published computation into a registered method, and its type-erased
//! form, from which the command line, the JSON API, the check runner and the handbook are served.

use std::marker::PhantomData;

use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::note::Note;
use super::refusal::Refusal;
use super::schema;
use super::shape;
use super::sources::Cite;
use super::working::Working;

/// The trade topic a method belongs to: its folder, and its chapter in the handbook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Topic {
    /// Sand, silt and clay, and the tests that find them.
    Texture,
    /// Combining evidence and saying how sure.
    Belief,
    /// How the ground holds and passes water.
    Water,
    /// Weather, and what crops drink.
    Climate,
    /// How long and how often to water.
    Irrigation,
    /// Crusts, erosion and density.
    Structure,
    /// Acidity, nutrients, and what to spread.
    Fertility,
    /// Cover crops and what they leave behind.
    Covers,
    /// Posts, anchors and footings.
    Posts,
    /// Tracks, ponds and moved earth.
    Earthworks,
    /// Which crop suits which ground.
    Siting,
    /// Where things lie, and where to look.
    Spatial,
    /// What varies over the ground.
    Maps,
    /// What changes over the years.
    Trend,
    /// Measures and units.
    Measures,
}

impl Topic {
    /// Every topic in the order of the handbook.
    pub const ALL: [Self; 15] = [
        Self::Texture,
        Self::Belief,
        Self::Water,
        Self::Climate,
        Self::Irrigation,
        Self::Structure,
        Self::Fertility,
        Self::Covers,
        Self::Posts,
        Self::Earthworks,
        Self::Siting,
        Self::Spatial,
        Self::Maps,
        Self::Trend,
        Self::Measures,
    ];

    /// Heading of its chapter.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Texture => "What the ground is made of",
            Self::Belief => "How sure one may be",
            Self::Water => "How the ground holds water",
            Self::Climate => "Weather, and what crops drink",
            Self::Irrigation => "How long to water",
            Self::Structure => "How the ground keeps its shape",
            Self::Fertility => "Acidity, nutrients, and what to spread",
            Self::Covers => "Cover crops",
            Self::Posts => "Posts and anchors",
            Self::Earthworks => "Tracks, ponds and moved earth",
            Self::Siting => "Which crop suits which ground",
            Self::Spatial => "Where to look",
            Self::Maps => "What varies over the ground",
            Self::Trend => "What changes over the years",
            Self::Measures => "Measures",
        }
    }
}

/// What the handbook says about a method, apart from its input and output.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct Card {
    /// Name in the registry, kebab-case.
    pub name: &'static str,
    /// Title of its handbook page.
    pub title: &'static str,
    /// Its chapter.
    pub topic: Topic,
    /// What it computes and when a grower would want it: two or three sentences.
    pub computes: &'static str,
    /// The range it is valid in and what happens outside, one sentence each.
    pub validity: &'static [&'static str],
    /// Where it is published.
    pub sources: &'static [Cite],
    /// What could hurt someone who does this, one sentence each.
    pub cautions: &'static [&'static str],
}

/// A method's output with what should be known beside it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Answer<T> {
    /// The output itself; its fields stand at the top level of the JSON object.
    #[serde(flatten)]
    pub value: T,
    /// Remarks, most important first.
    pub notes: Vec<Note>,
}

impl<T> Answer<T> {
    /// An answer without remarks.
    #[must_use]
    pub fn plain(value: T) -> Self {
        Self { value, notes: Vec::new() }
    }

    /// An answer with remarks.
    #[must_use]
    pub fn with_notes(value: T, notes: Vec<Note>) -> Self {
        Self { value, notes }
    }
}

/// A published computation with typed input and output.
///
/// Inputs carry `#[serde(deny_unknown_fields)]`, so that a misspelt field is refused and not
/// ignored. Hot paths call the plain function behind the method, not the method.
pub trait Method: Sync + Send + 'static {
    /// What it is given. Units are in the field names; ranges in the quantity types.
    type Input: DeserializeOwned + Serialize + JsonSchema;
    /// What it gives. Units are in the field names.
    type Output: Serialize + JsonSchema;

    /// Name, title, sources, validity and cautions.
    const CARD: Card;

    /// A typical input, for the handbook page and for tests.
    fn example() -> Self::Input;

    /// The computation.
    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal>;

    /// The steps from this input to this answer, with numbers.
    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working;
}

/// A method behind its JSON face.
pub trait Registered: Sync + Send {
    /// The method's card.
    fn card(&self) -> &'static Card;
    /// A typical input.
    fn example(&self) -> Value;
    /// JSON schema of the input.
    fn input_schema(&self) -> Value;
    /// JSON schema of the output.
    fn output_schema(&self) -> Value;
    /// Computes from JSON to JSON.
    fn answer(&self, input: &Value) -> Result<Value, Refusal>;
    /// Computes, and gives the working too.
    fn answer_with_working(&self, input: &Value) -> Result<(Value, Working), Refusal>;
}

/// The registry's entry for method `M`.
pub struct Entry<M>(PhantomData<M>);

impl<M> Entry<M> {
    /// The entry.
    #[must_use]
    pub const fn new() -> Self {
        Self(PhantomData)
    }
}

/// Lists the methods of a folder, for the registry.
macro_rules! methods {
    ($($method:ty),* $(,)?) => {
        /// Methods of this folder, in the order of the handbook.
        pub(crate) static METHODS: &[&dyn $crate::kit::Registered] =
            &[$(&$crate::kit::method::Entry::<$method>::new()),*];
    };
}
pub(crate) use methods;

impl<M> Default for Entry<M> {
    fn default() -> Self {
        Self::new()
    }
}

impl<M: Method> Registered for Entry<M> {
    fn card(&self) -> &'static Card {
        const { &M::CARD }
    }

    fn example(&self) -> Value {
        to_json(&M::example())
    }

    fn input_schema(&self) -> Value {
        schemars::schema_for!(M::Input).to_value()
    }

    fn output_schema(&self) -> Value {
        schemars::schema_for!(Answer<M::Output>).to_value()
    }

    fn answer(&self, input: &Value) -> Result<Value, Refusal> {
        let input = typed::<M>(input)?;
        M::compute(&input).map(|answer| to_json(&answer))
    }

    fn answer_with_working(&self, input: &Value) -> Result<(Value, Working), Refusal> {
        let input = typed::<M>(input)?;
        let answer = M::compute(&input)?;
        let working = M::working(&input, &answer);
        Ok((to_json(&answer), working))
    }
}

/// The typed input of a method. A refusal that has no example takes it from the method's own.
fn typed<M: Method>(input: &Value) -> Result<M::Input, Refusal> {
    let read = read::<M::Input>(input).and_then(|typed| {
        let misfit = shape::holds_a_list(input)
            .then(|| shape::misfit(&schemars::schema_for!(M::Input).to_value(), input))
            .flatten();
        misfit.map_or(Ok(typed), Err)
    });
    read.map_err(|refusal| {
        if !refusal.example.is_empty() {
            return refusal;
        }
        let example = to_json(&M::example());
        match value_at(&example, &refusal.field) {
            Some(value) => refusal.example(value),
            None => refusal,
        }
    })
}

/// Our own types always serialise: no map has a key that is not a string.
fn to_json<T: Serialize>(value: &T) -> Value {
    serde_json::to_value(value).unwrap_or(Value::Null)
}

/// Reads a JSON value into `T`, turning serde's complaint into a [`Refusal`] that names the field.
pub fn read<T: DeserializeOwned + JsonSchema>(input: &Value) -> Result<T, Refusal> {
    serde_path_to_error::deserialize(input).map_err(|error| {
        let path = error.path().to_string();
        let field = if path == "." { String::new() } else { path };
        let schema = schemars::schema_for!(T).to_value();
        shape::misfit(&schema, input)
            .unwrap_or_else(|| explain(&field, &error.into_inner().to_string(), input, &schema))
    })
}

/// Serde says what is wrong; the schema knows what is accepted and an example.
fn explain(field: &str, message: &str, input: &Value, schema: &Value) -> Refusal {
    if let Some(rest) = message.strip_prefix("missing field `") {
        let name = rest.trim_end_matches('`');
        let path = if field.is_empty() { name.to_owned() } else { format!("{field}.{name}") };
        let place = schema::at(schema, &path);
        return Refusal::new(path, format!("{name} is missing"))
            .given("nothing")
            .accepted(accepted_words(place))
            .example(example_words(place));
    }
    if let Some(rest) = message.strip_prefix("unknown field `") {
        let name = rest.split('`').next().unwrap_or_default();
        let known = rest.split_once(", expected ").map_or("", |pair| pair.1).replace('`', "");
        let path = if field.is_empty() || field.ends_with(name) {
            name.to_owned()
        } else {
            format!("{field}.{name}")
        };
        return Refusal::new(path, format!("{name} is not one of the fields"))
            .given(name)
            .accepted(known.clone())
            .example(known.trim_start_matches("one of ").split(", ").next().unwrap_or_default());
    }
    let place = schema::at(schema, field);
    if let Some(rest) = message.strip_prefix("unknown variant `") {
        let given = rest.split('`').next().unwrap_or_default();
        let known = rest.split_once("expected ").map_or("", |pair| pair.1).replace('`', "");
        let known = known.trim_start_matches("one of ").to_owned();
        return Refusal::new(
            field,
            format!("{field} cannot be \u{201c}{given}\u{201d}, but one of: {known}"),
        )
        .given(given)
        .example(known.split(", ").next().unwrap_or_default())
        .accepted(known);
    }
    let given = value_at(input, field).map(Value::to_string).unwrap_or_default();
    Refusal::new(field, message).given(given).accepted(accepted_words(place)).example(example_words(place))
}

fn value_at<'a>(input: &'a Value, path: &str) -> Option<&'a Value> {
    schema::parts(path).try_fold(input, |here, part| match here {
        Value::Array(items) => items.get(part.parse::<usize>().ok()?),
        other => other.get(part),
    })
}

fn accepted_words(place: Option<&Value>) -> String {
    place.map(schema::accepted).unwrap_or_default()
}

fn example_words(place: Option<&Value>) -> String {
    place.map(schema::example).unwrap_or_default()
}
