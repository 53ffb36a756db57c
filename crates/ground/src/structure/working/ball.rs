//! The ball test: a handful from working depth says whether the ground may be worked.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::limits::Workable;
use crate::kit::{Answer, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;

/// What a handful from full working depth does when squeezed and pressed with the thumb, or dropped from the waist.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Handful {
    /// It makes no ball.
    NoBall,
    /// A ball that shatters into small pieces.
    Shatters,
    /// A ball that dents and holds together, or lands flat.
    Dents,
    /// It smears into a ribbon with a shine.
    Ribbons,
    /// Water comes out.
    Drips,
}

impl Handful {
    /// Every answer, dry to wet.
    pub const ALL: [Self; 5] = [Self::NoBall, Self::Shatters, Self::Dents, Self::Ribbons, Self::Drips];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::NoBall => "it makes no ball",
            Self::Shatters => "a ball that shatters into small pieces",
            Self::Dents => "a ball that dents and holds together",
            Self::Ribbons => "it smears into a shiny ribbon",
            Self::Drips => "water comes out",
        }
    }
}

/// Whether it may be worked. Sand crumbles at any moisture, so that only free water speaks there.
#[must_use]
pub fn by_ball(handful: Handful, class: Option<Class>) -> Workable {
    let sand = matches!(class, Some(Class::Sand | Class::LoamySand));
    match handful {
        Handful::NoBall if sand => Workable::Ready,
        Handful::NoBall => Workable::Dry,
        Handful::Shatters => Workable::Ready,
        Handful::Dents if sand => Workable::Doubtful,
        Handful::Dents | Handful::Ribbons | Handful::Drips => Workable::TooWet,
    }
}

/// Input of `ball-test`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BallInput {
    /// What the handful did.
    pub handful: Handful,
    /// Texture class, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<Class>,
}

/// Output of `ball-test`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct BallOutput {
    /// Whether it may be worked.
    pub workable: Workable,
    /// What to do.
    pub says: String,
}

/// Ball test.
pub struct BallTest;

impl Method for BallTest {
    type Input = BallInput;
    type Output = BallOutput;

    const CARD: Card = Card {
        name: "ball-test",
        title: "The ball test",
        topic: Topic::Structure,
        computes: "Whether the ground may be worked, from what a handful does when it is squeezed. It costs nothing and \
                   overrules every reckoning of days since rain.",
        validity: &[
            "A handful from the full depth that will be worked or driven on, from several places: the top dries first.",
            "Sand crumbles at any moisture; go by free water there.",
        ],
        sources: &[Cite::new("ExtensionBallTest", "ball and ribbon before tillage")],
        cautions: &[],
    };

    fn example() -> Self::Input {
        BallInput { handful: Handful::Shatters, class: Some(Class::Loam) }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let workable = by_ball(input.handful, input.class);
        let says = match workable {
            Workable::Ready => "It may be worked, no deeper than the handful came from.",
            Workable::Dry => {
                "It is dry: it breaks into clods and dust. Water it or wait for rain, then test again."
            }
            Workable::Doubtful => "It may be worked lightly; keep wheels off until no print stays.",
            Workable::TooWet => "Stay off it: each pass smears and packs. Test again tomorrow.",
        };
        let notes = if input.class.is_none() && input.handful == Handful::NoBall {
            vec![Note::new(
                NoteKind::Method,
                "Without the texture this is taken as loam or clay; sand that makes no ball is ready.",
            )]
        } else {
            Vec::new()
        };
        Ok(Answer::with_notes(BallOutput { workable, says: says.to_owned() }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        Working::new()
            .step(
                "whether it may be worked",
                "a ball that shatters is ready; one that dents, ribbons or drips is too wet; none at all is dry, but for sand",
                format!("{:?}, {}", input.handful, input.class.map_or("texture not given", Class::name)),
                format!("{:?}", answer.value.workable),
            )
            .cite(Self::CARD.sources[0])
    }
}
