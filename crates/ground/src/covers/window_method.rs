//! One cover in one gap: does it come up, does it serve in time, what does the winter do, and what follows from it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::catalogue::find;
use super::expected::dry_matter_kg_ha;
use super::gap::fit;
use super::kinds::GrowsIn;
use super::place::{GapDays, PlaceYear, gap};
use super::species::{Figures, Range};
use crate::climate::quantities::DayOfYear;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Provenance, Refusal, Topic, Working};

/// Input of `cover-window`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WindowInput {
    /// The cover, by its key.
    pub cover: String,
    /// The place's year.
    pub place: PlaceYear,
    /// Day of the year on which it is sown.
    pub sow_day_of_year: DayOfYear,
    /// Days until the bed is wanted.
    pub gap_d: GapDays,
}

/// Output of `cover-window`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct WindowOutput {
    /// Is it warm enough at sowing to come up?
    pub comes_up: bool,
    /// Mean temperature about sowing, °C.
    pub sowing_c: f64,
    /// Temperature it wants, °C.
    pub germination_c: f64,
    /// Chance that it serves before the bed is wanted or frost takes it.
    pub serves_percent: f64,
    /// Days warm and light enough for it to grow.
    pub growing_d: f64,
    /// Degree days above its base, °C d.
    pub degree_days_c_d: f64,
    /// Does the depth of winter lie in the gap?
    pub over_winter: bool,
    /// Chance that it lives through it.
    pub lives_percent: Option<f64>,
    /// Chance that frost ends it within the gap.
    pub frost_ends_percent: f64,
    /// Dry matter of the tops as the table has it, kg/ha: a short gap lies at the low end, or below.
    pub dry_matter_kg_ha: Range,
    /// Dry matter to expect in this gap, kg/ha: that of the table, less in proportion where the days warm and light enough
    /// are fewer than the most it wants (our judgement).
    pub expected_kg_ha: Range,
    /// What follows from that.
    pub follows: String,
}

/// Cover window.
pub struct CoverWindow;

fn follows(over_winter: bool, lives: Option<f64>, tender: bool) -> &'static str {
    match (over_winter, lives) {
        (false, _) if tender => "The first frost ends it; what is left lies as mulch.",
        (false, _) => "No winter lies between: it must be ended by hand.",
        (true, None) => {
            "The lowest temperature of the winter was not given: whether it lives cannot be said."
        }
        (true, Some(lives)) if lives >= 0.9 => {
            "It lives: end it in spring, two weeks or more before the next crop, and count on the water it drinks."
        }
        (true, Some(lives)) if lives <= 0.1 => {
            "The winter kills it: the bed is ready early under a mulch, and nothing holds the nitrogen of early spring."
        }
        (true, Some(_)) => {
            "It may live or not: have a way at hand to end it in spring, and do not count on its nitrogen."
        }
    }
}

impl Method for CoverWindow {
    type Input = WindowInput;
    type Output = WindowOutput;

    const CARD: Card = Card {
        name: "cover-window",
        title: "A cover in a gap",
        topic: Topic::Covers,
        computes: "Whether a cover comes up, serves in the days there are, and lives through the winter in a gap between two \
                   crops, as odds from frost dates and the cold of the place, with the degree days and the light it gets.",
        validity: &[
            "The mean of the air stands for the soil at sowing depth: in spring the soil lags, in autumn it is warmer.",
            "Days until it serves are a range from the table; every length in it counts alike.",
            "Frost dates and the winter's lowest are taken as normal. Snow, which shelters, is not in it.",
            "Ten hours of light and the bases of 4.4 and 10 °C are common practice.",
        ],
        sources: &[
            Cite::new("OhioStateCovers2023", "sowing warmth, days, hardiness by species"),
            Cite::new("McMasterWilhelm1997", "method 1"),
            Cite::new("Fao56", "eq. 34, day length"),
            Cite::new("NistHandbook", "section 1.3.6.6.1, normal distribution"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        WindowInput {
            cover: "buckwheat".to_owned(),
            place: PlaceYear::example(),
            sow_day_of_year: DayOfYear::literal(200.0),
            gap_d: GapDays::literal(50.0),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let species = find("cover", &input.cover)?;
        let year = input.place.year().map_err(|refusal| refusal.inside("place"))?;
        let gap = gap(&year, input.sow_day_of_year, input.gap_d);
        let found = fit(species, &gap);
        let mut notes = Vec::new();
        let tender = species.grows_in == GrowsIn::Warm;
        if tender && gap.to_frost.is_none() {
            notes.push(Note::new(
                NoteKind::NoValue,
                "No autumn frost date was given: frost is left out, and the odds are too good.",
            ));
        }
        let recalled: Vec<&str> = [
            (Figures::Germination, "warmth to come up"),
            (Figures::Days, "days until it serves"),
            (Figures::Winterkill, "cold that kills"),
        ]
        .into_iter()
        .filter(|(figures, _)| species.provenance(*figures) != Provenance::Read)
        .map(|(_, words)| words)
        .collect();
        if !recalled.is_empty() {
            notes.push(Note::new(
                NoteKind::Provenance,
                format!("Recalled for {}: {}.", species.name, recalled.join(", ")),
            ));
        }
        Ok(Answer::with_notes(
            WindowOutput {
                comes_up: found.comes_up,
                sowing_c: gap.sowing_c,
                germination_c: species.germination_c,
                serves_percent: 100.0 * found.serves_chance,
                growing_d: found.growing_d,
                degree_days_c_d: found.degree_days,
                over_winter: gap.over_winter,
                lives_percent: found.lives_chance.map(|lives| 100.0 * lives),
                frost_ends_percent: 100.0 * found.frost_ends_chance,
                dry_matter_kg_ha: species.dry_matter_kg_ha,
                expected_kg_ha: dry_matter_kg_ha(species, &found),
                follows: follows(gap.over_winter, found.lives_chance, tender).to_owned(),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        let Ok(species) = find("cover", &input.cover) else { return Working::new() };
        let days = format!(
            "{} to {} days wanted, {} offered",
            species.useful_d.low,
            species.useful_d.high,
            input.gap_d.get()
        );
        Working::new()
            .step(
                "chance that it serves in time",
                "mean over the days it may need of the chance that bed and frost leave that many",
                days,
                format!("{:.0} %", v.serves_percent),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "degree days",
                "sum of mean − base, 4.4 °C cool-season, 10 °C warm-season",
                format!("{:.0} days of growth", v.growing_d),
                format!("{:.0} °C d", v.degree_days_c_d),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "dry matter to expect",
                "range of the table × days of growth / most days wanted, at most the range itself",
                format!(
                    "{:.0} to {:.0} kg/ha × {:.0} / {:.0}",
                    v.dry_matter_kg_ha.low, v.dry_matter_kg_ha.high, v.growing_d, species.useful_d.high
                ),
                format!("{:.0} to {:.0} kg/ha", v.expected_kg_ha.low, v.expected_kg_ha.high),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "chance that it lives through the winter",
                "Φ((mean lowest − cold that kills) / √(spread² + 1.8²)), temperatures in °C",
                if v.over_winter { "winter lies in the gap" } else { "no winter in the gap" },
                v.lives_percent.map_or_else(|| "not said".to_owned(), |lives| format!("{lives:.0} %")),
            )
            .cite(Self::CARD.sources[3])
    }
}
