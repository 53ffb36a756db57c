//! Texture class from the answers of a feel test, with how often such an answer is right.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::accuracy::{accuracy, likelihood, name_in_chart};
use super::path::{Answers, LONG_FROM_MM, MEDIUM_FROM_MM, check, possible};
use super::reading::{FeelReading, Hand, RibbonLength, Rub};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};
use crate::texture::{Class, ClassOdds};

/// A ribbon this close to a limit may as well have fallen on the other side, in mm. Our judgement.
const NEAR_MM: f64 = 5.0;

/// Output of `texture-by-feel`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct ByFeelOutput {
    /// The class at the end of the path; null where a question is still open.
    pub class: Option<Class>,
    /// Classes the answers leave open.
    pub possible: Vec<Class>,
    /// Classes on the other side of a ribbon limit closer than 5 mm.
    pub as_near: Vec<Class>,
    /// How often such a hand names exactly the right class, in percent.
    pub exact_percent: f64,
    /// How often it names the right class or a neighbour of it, in percent.
    pub within_one_percent: f64,
    /// Odds of each true class if all were equally common beforehand, in percent, likeliest first.
    pub class_odds: Vec<ClassOdds>,
}

/// Texture by feel.
pub struct TextureByFeel;

impl Method for TextureByFeel {
    type Input = FeelReading;
    type Output = ByFeelOutput;

    const CARD: Card = Card {
        name: "texture-by-feel",
        title: "Texture by feel",
        topic: Topic::Texture,
        computes: "Follows the ball, the ribbon and the rub to a texture class, and says how often a hand as \
                   practised as yours is right.",
        validity: &[
            "Soil finer than 2 mm, kneaded moist until it is like putty.",
            "The chart has no end for silt; silt feels like silt loam.",
            "Organic matter makes soil feel more loamy and silky, very fine sand feels like silt, coarse sand hides clay, and some clays ribbon short (common practice, no source).",
        ],
        sources: &[
            Cite::new("Thien1979", "flow chart, p. 55"),
            Cite::new("Salley2018", "abstract"),
            Cite::new("StudentFeel1987", "abstract"),
        ],
        cautions: &[
            "Wash your hands afterwards, and wear gloves for soil near old paint, treated timber, roads or old orchards, which may hold lead or arsenic.",
        ],
    };

    fn example() -> Self::Input {
        FeelReading {
            ball_holds: true,
            ribbon_mm: Some(RibbonLength::literal(35.0)),
            rub: Some(Rub::Neither),
            hand: Hand::Practised,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let answers = Answers::from(input);
        check(&answers)?;
        let possible = possible(&answers);
        let class = match possible.as_slice() {
            [only] => Some(*only),
            _ => None,
        };
        let accuracy = accuracy(input.hand);
        let value = ByFeelOutput {
            class,
            as_near: near(input, &possible),
            class_odds: odds(&possible, input.hand),
            possible,
            exact_percent: accuracy.exact_percent,
            within_one_percent: accuracy.within_one_percent,
        };
        let notes = notes(input, &value, accuracy.provenance);
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let names =
            |classes: &[Class]| classes.iter().map(|class| class.name()).collect::<Vec<_>>().join(", ");
        let out = &answer.value;
        let answered = match (input.ball_holds, input.ribbon_mm) {
            (false, _) => "the ball does not hold".to_owned(),
            (true, None) => "the ball holds, no ribbon".to_owned(),
            (true, Some(length)) => format!(
                "the ball holds, the ribbon breaks at {} mm, the rub is {}",
                length.get(),
                match input.rub {
                    Some(Rub::Gritty) => "very gritty",
                    Some(Rub::Smooth) => "very smooth",
                    Some(Rub::Neither) => "neither gritty nor smooth",
                    None => "not known",
                }
            ),
        };
        Working::new()
            .step(
                "the class",
                "Ball, then ribbon (short below 25 mm, medium to below 50 mm, long from 50 mm), then rub.",
                answered,
                names(&out.possible),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "how far to trust it",
                "chance of this name for each true class, every class being equally common beforehand",
                format!(
                    "exactly right {} %, right or next to it {} %",
                    out.exact_percent, out.within_one_percent
                ),
                out.class_odds
                    .iter()
                    .take(4)
                    .map(|odds| format!("{} {:.0} %", odds.class.name(), odds.odds_percent))
                    .collect::<Vec<_>>()
                    .join(", "),
            )
            .cite(Self::CARD.sources[1])
    }
}

fn odds(named: &[Class], hand: Hand) -> Vec<ClassOdds> {
    let chances = likelihood(named, hand);
    let total: f64 = chances.iter().sum();
    let mut odds: Vec<ClassOdds> = Class::ALL
        .into_iter()
        .map(|class| ClassOdds { class, odds_percent: 100.0 * chances[class as usize] / total })
        .collect();
    odds.sort_by(|a, b| b.odds_percent.total_cmp(&a.odds_percent));
    odds
}

/// The ends a slightly shorter or longer ribbon would have led to.
fn near(reading: &FeelReading, named: &[Class]) -> Vec<Class> {
    let Some(length) = reading.ribbon_mm else { return Vec::new() };
    let mut near = Vec::new();
    for limit in [MEDIUM_FROM_MM, LONG_FROM_MM] {
        if (length.get() - limit).abs() > NEAR_MM {
            continue;
        }
        let across = if length.get() < limit { limit } else { limit - NEAR_MM };
        let moved = FeelReading { ribbon_mm: RibbonLength::new(across).ok(), ..reading.clone() };
        near.extend(possible(&Answers::from(&moved)).into_iter().filter(|class| !named.contains(class)));
    }
    near
}

fn notes(reading: &FeelReading, value: &ByFeelOutput, provenance: Provenance) -> Vec<Note> {
    let mut notes = Vec::new();
    if value.class.is_none() {
        notes.push(Note::new(
            NoteKind::Method,
            "The rub is still open, so several classes remain. Rub a very wet pinch to choose between them.",
        ));
    }
    if let Some(class) = value.as_near.first() {
        notes.push(Note::new(
            NoteKind::Method,
            format!(
                "The ribbon broke close to a limit; a little more or less would have made it {}.",
                class.name()
            ),
        ));
    }
    if reading.rub.is_some() && reading.ribbon_mm.is_none() {
        notes.push(Note::new(
            NoteKind::Method,
            "The rub was not used: without a ribbon the class is known already.",
        ));
    }
    if value.possible.iter().any(|class| *class == name_in_chart(Class::Silt)) {
        notes.push(Note::new(NoteKind::Method, "Silt feels like silt loam, so silt is not ruled out."));
    }
    if provenance != Provenance::Read {
        notes.push(Note::new(
            NoteKind::Provenance,
            "No published figure was found for hands new to it; theirs is set below that of trained seasonal staff by our judgement.",
        ));
    }
    notes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn felt(ribbon_mm: Option<f64>, rub: Option<Rub>) -> ByFeelOutput {
        let ribbon_mm = ribbon_mm.map(RibbonLength::literal);
        TextureByFeel::compute(&FeelReading { ball_holds: true, ribbon_mm, rub, hand: Hand::New })
            .unwrap()
            .value
    }

    #[test]
    fn a_ribbon_near_a_limit_names_the_class_beyond() {
        assert_eq!(felt(Some(23.0), Some(Rub::Gritty)).as_near, [Class::SandyClayLoam]);
        assert_eq!(felt(Some(25.0), Some(Rub::Gritty)).as_near, [Class::SandyLoam]);
        assert_eq!(felt(Some(48.0), Some(Rub::Neither)).as_near, [Class::Clay]);
        assert!(felt(Some(35.0), Some(Rub::Neither)).as_near.is_empty());
        assert!(felt(None, None).as_near.is_empty());
    }

    #[test]
    fn odds_add_to_a_hundred() {
        let odds = felt(Some(35.0), None).class_odds;
        assert!((odds.iter().map(|odds| odds.odds_percent).sum::<f64>() - 100.0).abs() < 1e-9);
    }
}
