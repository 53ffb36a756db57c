//! Choosing a cover as a method: every species with its reasons, best first.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::choice::{Asked, Firmness, Standing, WinterWish, all_needs, rank};
use super::ground::CoverGround;
use super::kinds::{Animal, Band, Ending, Family, Purpose};
use super::place::{GapDays, PlaceYear, gap};
use super::reasons::{speaks_against, speaks_for};
use crate::climate::quantities::DayOfYear;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;
use crate::water::salts::yield_loss::RootZoneEc;

crate::quantity! {
    /// Acidity of the ground, in water.
    pub struct GroundPh: "pH", "", 3.0 ..= 10.0, example 6.4;
}

/// Input of `cover-choice`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ChoiceInput {
    /// What it is sown for; one or more.
    pub purposes: Vec<Purpose>,
    /// The place's year.
    pub place: PlaceYear,
    /// Day of the year on which it is sown.
    pub sow_day_of_year: DayOfYear,
    /// Days until the bed is wanted.
    pub gap_d: GapDays,
    /// Texture class of the plot.
    pub class: Class,
    /// Acidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph: Option<GroundPh>,
    /// Electrical conductivity of the saturation extract.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root_zone_ec_ds_m: Option<RootZoneEc>,
    /// Does it lie wet while the cover grows?
    #[serde(default)]
    pub wet: bool,
    /// Does it run short of water while the cover grows?
    #[serde(default)]
    pub dry: bool,
    /// Families before and after it in the rotation.
    #[serde(default)]
    pub families: Vec<Family>,
    /// Is small seed sown right after it?
    #[serde(default)]
    pub small_seed_next: bool,
    /// Ways at hand to end it.
    pub endings: Vec<Ending>,
    /// Animals that may get at it.
    #[serde(default)]
    pub animals: Vec<Animal>,
    /// What the winter shall do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub winter: Option<WinterWish>,
    /// Does it grow in a tunnel or under a row cover? Then give its temperatures as the place's.
    #[serde(default)]
    pub under_cover: bool,
}

/// One cover in the order.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Ranked {
    /// Key in the table.
    pub cover: String,
    /// Its name.
    pub name: String,
    /// Is it ruled out?
    pub ruled_out: bool,
    /// Does it serve every purpose at least well?
    pub serves: bool,
    /// How surely it comes off.
    pub firmness: Firmness,
    /// Chance that it serves in time.
    pub serves_percent: f64,
    /// Share of what the ground may be that suits it.
    pub ground_percent: f64,
    /// What speaks for it.
    pub speaks_for: Vec<String>,
    /// What speaks against it.
    pub speaks_against: Vec<String>,
}

impl Ranked {
    /// Of a standing.
    #[must_use]
    pub fn of(standing: &Standing, asked: &Asked) -> Self {
        let species = standing.species();
        Self {
            cover: species.key.clone(),
            name: species.name.clone(),
            ruled_out: standing.reasons.rules_out(),
            serves: standing.serves(),
            firmness: standing.firmness,
            serves_percent: 100.0 * standing.fit.serves_chance,
            ground_percent: 100.0 * standing.ground.suits,
            speaks_for: speaks_for(standing, asked),
            speaks_against: speaks_against(standing, asked),
        }
    }
}

/// Output of `cover-choice`.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ChoiceOutput {
    /// The best three that are not ruled out and serve every purpose, by key.
    pub best: Vec<String>,
    /// Every cover, best first.
    pub covers: Vec<Ranked>,
}

/// Cover choice.
pub struct CoverChoice;

/// The order in a sentence, for pages.
pub const ORDER: &str = "what is ruled out last; then what serves every purpose at least well; then what surely comes off \
                         before what may; then by the purpose it serves least, the sum of its ratings, and the fewest warnings";

impl ChoiceInput {
    /// What is asked, for the plain functions.
    ///
    /// # Errors
    /// No purpose, or a year that is not one.
    pub fn asked(&self) -> Result<Asked, Refusal> {
        if self.purposes.is_empty() {
            return Err(Refusal::new("purposes", "no purpose was given: say what the cover is for")
                .given("an empty list")
                .accepted(Purpose::ALL.iter().map(|purpose| purpose.words()).collect::<Vec<_>>().join(", "))
                .example("hold_nitrogen"));
        }
        let year = self.place.year().map_err(|refusal| refusal.inside("place"))?;
        Ok(Asked {
            purposes: self.purposes.iter().copied().collect(),
            gap: gap(&year, self.sow_day_of_year, self.gap_d),
            families: self.families.iter().copied().collect(),
            small_seed_next: self.small_seed_next,
            endings: self.endings.iter().copied().collect(),
            animals: self.animals.iter().copied().collect(),
            winter: self.winter,
            under_cover: self.under_cover,
        })
    }
}

impl Method for CoverChoice {
    type Input = ChoiceInput;
    type Output = ChoiceOutput;

    const CARD: Card = Card {
        name: "cover-choice",
        title: "Which cover crop",
        topic: Topic::Covers,
        computes: "Ranks every cover of the table for a purpose, a gap and a plot, with what speaks for and against each. \
                   There is no score: the order is a rule that can be said aloud, and each reason stands beside the name.",
        validity: &[
            "Small farms in the temperate zone. The ratings are recalled working values: where two covers stand close, try both.",
            "In a tunnel give its own temperatures; what the winter kills outside may live there.",
        ],
        sources: &[
            Cite::new("OhioStateCovers2023", "facts by species"),
            Cite::new("Sare2007", "choosing by purpose and niche"),
            Cite::new("CornellCovers", "choosing by goal and window"),
        ],
        cautions: &[
            "Some covers kill animals that graze them: keep stock off what is marked, and ask a veterinarian before any grazing.",
            "Local rules may forbid some species near seed growers or list them as invasive.",
        ],
    };

    fn example() -> Self::Input {
        ChoiceInput {
            purposes: vec![Purpose::CoverQuickly, Purpose::Smother],
            place: PlaceYear::example(),
            sow_day_of_year: DayOfYear::literal(200.0),
            gap_d: GapDays::literal(45.0),
            class: Class::Loam,
            ph: Some(GroundPh::literal(6.4)),
            root_zone_ec_ds_m: None,
            wet: false,
            dry: false,
            families: vec![Family::Brassicaceae],
            small_seed_next: false,
            endings: vec![Ending::Mow, Ending::Till],
            animals: Vec::new(),
            winter: None,
            under_cover: false,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let asked = input.asked()?;
        let ground = CoverGround {
            band: Band::of(input.class),
            ph: input.ph.map_or(f64::NAN, Bounded::get),
            ec_ds_m: input.root_zone_ec_ds_m.map_or(f64::NAN, Bounded::get),
            wet: input.wet,
            dry: input.dry,
        };
        let mut order = Vec::new();
        rank(&asked, &all_needs(), &[ground], &[1.0], &mut order);
        let covers: Vec<Ranked> = order.iter().map(|standing| Ranked::of(standing, &asked)).collect();
        let best: Vec<String> = covers
            .iter()
            .filter(|one| !one.ruled_out && one.serves)
            .take(3)
            .map(|one| one.cover.clone())
            .collect();
        let mut notes = Vec::new();
        if best.is_empty() {
            notes.push(Note::new(
                NoteKind::NoValue,
                "No cover of the table serves all of this in this gap: ask for less, or sow a mix.",
            ));
        }
        if asked.gap.over_winter && asked.gap.lowest_c.is_none() {
            notes.push(Note::new(
                NoteKind::NoValue,
                "The lowest temperature of the winter was not given: whether covers live through it is left out.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "Ratings of service and tolerance are recalled; ways to end a cover are common practice.",
        ));
        Ok(Answer::with_notes(ChoiceOutput { best, covers }, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let out = answer.value.covers.iter().filter(|one| one.ruled_out).count();
        Working::new()
            .step(
                "the order",
                ORDER,
                input.purposes.iter().map(|purpose| purpose.words()).collect::<Vec<_>>().join(", "),
                format!(
                    "{} covers, {out} ruled out; best: {}",
                    answer.value.covers.len(),
                    answer.value.best.join(", ")
                ),
            )
            .cite(Self::CARD.sources[1])
    }
}
