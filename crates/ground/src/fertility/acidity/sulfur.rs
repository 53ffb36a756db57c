//! Elemental sulfur to lower the pH, and where it cannot.
//!
//! # Method
//! Two published tables by pH and texture; between a table's target and one above it the difference of its rates is
//! taken (our judgement). Free lime is refused: a pound of sulfur goes for each 3.122 lb of it before the pH moves.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::basis::{KG_PER_LB, M2_PER_1000_FT2, RateUnit, USUAL_DENSITY_G_CM3, along, inches};
use super::quantity::{MixedDensity, MixedDepth, SoilPh, TargetPh};
use crate::kit::quantity::number;
use crate::kit::table;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;
use crate::water::salts::TextureGroup;

crate::quantity! {
    /// Free lime in soil.
    pub struct FreeLimePercent: "free lime", "%", 0.0 ..= 60.0, example 0.0;
}

/// kg of calcium carbonate that one kg of sulfur neutralizes: 100.087 / 32.06.
pub const CARBONATE_PER_SULFUR: f64 = 100.087 / 32.06;
/// Ferrous sulfate for one of sulfur, by weight (1080 to 2160 against 135 to 270 g/m²).
pub const FERROUS_SULFATE_PER_SULFUR: f64 = 8.0;
/// Above this pH soil is taken to hold free lime.
pub const FREE_LIME_ABOVE_PH: f64 = 7.8;
/// Most sulfur in one pass: 20 lb/1000 ft² (common practice).
const A_PASS_KG_M2: f64 = 20.0 * KG_PER_LB / M2_PER_1000_FT2;
/// Most on standing plants: 0.7 lb/100 ft² a year.
const ON_PLANTS_KG_M2: f64 = 0.7 * 10.0 * KG_PER_LB / M2_PER_1000_FT2;
const DEPTH_CM: f64 = inches(7.0);

/// Which table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SulfurTable {
    /// Michigan's for blueberries, down to pH 4.5.
    Blueberry,
    /// The western one, from alkaline ground down to pH 6.5.
    General,
}

impl SulfurTable {
    /// The table for a pH to reach.
    #[must_use]
    pub fn for_target(target_ph: f64) -> Self {
        if target_ph < 6.4 { Self::Blueberry } else { Self::General }
    }

    /// Its lowest and highest pH.
    #[must_use]
    pub fn covers(self) -> (f64, f64) {
        match self {
            Self::Blueberry => (4.5, 7.0),
            Self::General => (6.5, 8.5),
        }
    }

    const fn cite(self) -> Cite {
        match self {
            Self::Blueberry => Cite::new("MichiganSulfur", "sulfur to pH 4.5"),
            Self::General => Cite::new("WesternFertilizerHandbook", "sulfur to pH 6.5"),
        }
    }
}

#[derive(Deserialize)]
struct Row {
    table: SulfurTable,
    soil_ph: f64,
    sand: f64,
    loam: f64,
    clay: f64,
}

type Columns = [Vec<(f64, f64)>; 3];

static TABLES: LazyLock<[Columns; 2]> = LazyLock::new(|| {
    let rows: Vec<Row> = table::rows("sulfur.csv", include_str!("data/sulfur.csv"));
    [SulfurTable::Blueberry, SulfurTable::General].map(|which| {
        let column = |of: fn(&Row) -> f64| {
            rows.iter().filter(|row| row.table == which).map(|row| (row.soil_ph, of(row))).collect()
        };
        [column(|row| row.sand), column(|row| row.loam), column(|row| row.clay)]
    })
});

/// Sulfur, lb/acre in 7 inches, from one pH to another; nothing where the target is not lower. `None` outside the
/// table.
#[must_use]
pub fn rate_lb_acre(which: SulfurTable, soil_ph: f64, target_ph: f64, group: TextureGroup) -> Option<f64> {
    if soil_ph <= target_ph {
        return Some(0.0);
    }
    let column = &TABLES[which as usize][group as usize];
    Some((along(column, soil_ph)? - along(column, target_ph)?).max(0.0))
}

/// The same as kg/m² over a depth in cm.
#[must_use]
pub fn rate_kg_m2(
    which: SulfurTable,
    soil_ph: f64,
    target_ph: f64,
    group: TextureGroup,
    depth_cm: f64,
) -> Option<f64> {
    rate_lb_acre(which, soil_ph, target_ph, group)
        .map(|rate| rate * RateUnit::PoundPerAcre.kg_m2() * depth_cm / DEPTH_CM)
}

/// Sulfur that free lime uses up before the pH can move, kg/m².
#[must_use]
pub fn sulfur_for_free_lime_kg_m2(free_lime_percent: f64, depth_cm: f64, density_g_cm3: f64) -> f64 {
    10.0 * depth_cm * density_g_cm3 * free_lime_percent / 100.0 / CARBONATE_PER_SULFUR
}

/// Passes that an amount goes on in, by the most for one pass.
#[must_use]
pub fn sulfur_passes(sulfur_kg_m2: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of passes")]
    let passes = (sulfur_kg_m2 / A_PASS_KG_M2 - 1e-9).ceil().clamp(1.0, 1000.0) as u32;
    passes
}

/// Input of `sulfur-to-lower-ph`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SulfurInput {
    /// Which table.
    pub table: SulfurTable,
    /// pH in water.
    pub soil_ph: SoilPh,
    /// pH to reach.
    pub target_ph: TargetPh,
    /// Texture class.
    pub class: Class,
    /// Free lime, where it was measured or the soil fizzes; any is refused.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_lime_percent: Option<FreeLimePercent>,
    /// Do plants stand there?
    #[serde(default)]
    pub standing_plants: bool,
    /// Depth it is mixed into.
    pub depth_cm: MixedDepth,
    /// Bulk density, for the free lime.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density_g_cm3: Option<MixedDensity>,
}

/// Output of `sulfur-to-lower-ph`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SulfurOutput {
    /// Is it practicable?
    pub practicable: bool,
    /// Elemental sulfur; nothing where it is not.
    pub sulfur_kg_m2: Option<f64>,
    /// The same.
    pub sulfur_lb_acre: Option<f64>,
    /// The same.
    pub sulfur_lb_100_ft2: Option<f64>,
    /// Most of it to put on in this pass, or in this year on standing plants.
    pub first_kg_m2: Option<f64>,
    /// In how many passes.
    pub passes: Option<u32>,
    /// Ferrous sulfate that does the same, quicker.
    pub ferrous_sulfate_kg_m2: Option<f64>,
    /// Sulfur that the free lime alone would use up.
    pub free_lime_sulfur_kg_m2: Option<f64>,
}

/// What may hurt whoever spreads sulfur.
pub const SULFUR_CAUTIONS: &[&str] = &[
    "Sulfur dust stings eyes and lungs and can catch fire or explode: no sparks, no smoking; goggles, a dust mask, a still day.",
    "Never mix sulfur with nitrate or chlorate fertilizers or other oxidizers, with lime sulfur, or with anything that gives off chlorine.",
    "Aluminium sulfate lowers the pH too, but brings aluminium, which harms roots: leave it.",
];

/// What to do instead where the soil holds free lime.
pub const FREE_LIME_INSTEAD: &str = "Sulfur is not practical on soil with free lime: grow crops that suit it, raise acid-loving ones in beds or pots of other soil, and use chelated iron or a band of acidifying fertilizer for what turns yellow.";

/// Sulfur to lower the pH.
pub struct SulfurToLowerPh;

fn outside(input: &SulfurInput) -> Refusal {
    let (low, high) = input.table.covers();
    let target_wrong = input.target_ph.get() < low - 1e-9;
    let (field, given) =
        if target_wrong { ("target_ph", input.target_ph.get()) } else { ("soil_ph", input.soil_ph.get()) };
    Refusal::new(field, format!("this table runs from pH {} to {}", number(low), number(high)))
        .given(number(given))
        .accepted(format!("{} to {}, or the other table", number(low), number(high)))
        .example(number(if target_wrong { low } else { high }))
}

impl Method for SulfurToLowerPh {
    type Input = SulfurInput;
    type Output = SulfurOutput;

    const CARD: Card = Card {
        name: "sulfur-to-lower-ph",
        title: "Sulfur to lower the pH",
        topic: Topic::Fertility,
        computes: "The elemental sulfur that lowers the pH by texture, in passes, with the ferrous sulfate that does the same; or a \
                   plain statement that it is not practical where the soil holds free lime.",
        validity: &[
            "Blueberry table: pH 7.0 and below, down to 4.5. General table: pH 8.5 and below, down to 6.5.",
            "Between two pH of one table the difference of its rates is taken: our judgement. Depth of about 7 inches.",
            "Bacteria make the acid: weeks to a year, above 13 °C, in moist and airy ground. At most 20 lb/1000 ft² in a pass (common practice), and test after 3 to 6 months.",
            "For blueberries on ground above pH 6 it is hardly practicable without peat or bark; on standing plants at most 0.7 lb/100 ft² a year.",
            "Fizz in vinegar, or a pH above 7.8, means free lime: not practical.",
        ],
        sources: &[
            SulfurTable::Blueberry.cite(),
            SulfurTable::General.cite(),
            Cite::new("ExtensionBlueberry", "lowering the pH"),
            Cite::new("RhsAcidify", "sulfur and ferrous sulfate for 15 cm"),
        ],
        cautions: SULFUR_CAUTIONS,
    };

    fn example() -> Self::Input {
        SulfurInput {
            table: SulfurTable::Blueberry,
            soil_ph: SoilPh::literal(5.8),
            target_ph: TargetPh::literal(4.8),
            class: Class::SandyLoam,
            free_lime_percent: None,
            standing_plants: false,
            depth_cm: MixedDepth::literal(18.0),
            bulk_density_g_cm3: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let (ph, target, depth_cm) = (input.soil_ph.get(), input.target_ph.get(), input.depth_cm.get());
        let free = input.free_lime_percent.map(Bounded::get).filter(|share| *share > 0.0);
        if free.is_some() || ph > FREE_LIME_ABOVE_PH {
            let density = input.bulk_density_g_cm3.map_or(USUAL_DENSITY_G_CM3, Bounded::get);
            let value = SulfurOutput {
                practicable: false,
                sulfur_kg_m2: None,
                sulfur_lb_acre: None,
                sulfur_lb_100_ft2: None,
                first_kg_m2: None,
                passes: None,
                ferrous_sulfate_kg_m2: None,
                free_lime_sulfur_kg_m2: free
                    .map(|share| sulfur_for_free_lime_kg_m2(share, depth_cm, density)),
            };
            return Ok(Answer::with_notes(value, vec![Note::new(NoteKind::NoValue, FREE_LIME_INSTEAD)]));
        }
        let group = TextureGroup::of(input.class);
        let Some(kg_m2) = rate_kg_m2(input.table, ph, target, group, depth_cm) else {
            return Err(outside(input));
        };
        let (passes, first) = if input.standing_plants {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of years")]
            let years = (kg_m2 / ON_PLANTS_KG_M2 - 1e-9).ceil().clamp(1.0, 1000.0) as u32;
            (years, kg_m2.min(ON_PLANTS_KG_M2))
        } else {
            let passes = sulfur_passes(kg_m2);
            (passes, kg_m2 / f64::from(passes))
        };
        let mut notes = Vec::new();
        if kg_m2 == 0.0 {
            notes.push(Note::new(NoteKind::Method, "The pH is at or below the pH to reach already."));
        }
        if input.table == SulfurTable::Blueberry && ph > 6.0 {
            notes.push(Note::new(
                NoteKind::Method,
                "Above pH 6 lowering it for blueberries is hardly practicable without much peat or bark.",
            ));
        }
        notes.push(match input.table {
            SulfurTable::Blueberry => Note::new(
                NoteKind::Provenance,
                "The table was read in another's reprint; the depth of 7 inches is our judgement.",
            ),
            SulfurTable::General => super::basis::recalled("The table"),
        });
        Ok(Answer::with_notes(
            SulfurOutput {
                practicable: true,
                sulfur_kg_m2: Some(kg_m2),
                sulfur_lb_acre: Some(kg_m2 / RateUnit::PoundPerAcre.kg_m2()),
                sulfur_lb_100_ft2: Some(kg_m2 / RateUnit::PoundPer100SquareFeet.kg_m2()),
                first_kg_m2: Some(first),
                passes: Some(passes),
                ferrous_sulfate_kg_m2: Some(FERROUS_SULFATE_PER_SULFUR * kg_m2),
                free_lime_sulfur_kg_m2: None,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        if !value.practicable {
            return Working::new().step(
                "free lime",
                "1 kg of sulfur is used up by 3.122 kg of calcium carbonate",
                format!(
                    "free lime {}, pH {}",
                    input
                        .free_lime_percent
                        .map_or("not measured".to_owned(), |share| format!("{} %", number(share.get()))),
                    number(input.soil_ph.get())
                ),
                value.free_lime_sulfur_kg_m2.map_or("not practical".to_owned(), |kg| {
                    format!("{kg:.2} kg/m² of sulfur before the pH can move: not practical")
                }),
            );
        }
        Working::new()
            .step(
                "sulfur",
                "(rate of the table at the pH − rate at the pH to reach) × depth / 7 in",
                format!(
                    "pH {} to {}, {}, {} cm",
                    number(input.soil_ph.get()),
                    number(input.target_ph.get()),
                    input.class.name(),
                    number(input.depth_cm.get())
                ),
                format!("{:.0} lb/acre", value.sulfur_lb_acre.unwrap_or(0.0)),
            )
            .cite(input.table.cite())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heavier_and_sweeter_ground_asks_for_more() {
        for which in [SulfurTable::Blueberry, SulfurTable::General] {
            let (low, high) = which.covers();
            let rates = [TextureGroup::Coarse, TextureGroup::Medium, TextureGroup::Fine]
                .map(|group| rate_lb_acre(which, high, low, group).unwrap());
            assert!(rates.windows(2).all(|pair| pair[0] < pair[1]), "{rates:?}");
            let mut last = 0.0;
            for step in 0..=20_u32 {
                let ph = low + (high - low) * f64::from(step) / 20.0;
                let rate = rate_lb_acre(which, ph, low, TextureGroup::Fine).unwrap();
                assert!(rate >= last);
                last = rate;
            }
            assert_eq!(rate_lb_acre(which, high + 0.1, low, TextureGroup::Fine), None);
        }
    }

    #[test]
    fn passes_hold_no_more_than_their_most() {
        for step in 1..=60_u32 {
            let sulfur = f64::from(step) / 60.0;
            assert!(sulfur / f64::from(sulfur_passes(sulfur)) <= A_PASS_KG_M2 + 1e-9);
        }
        assert_eq!(sulfur_passes(0.0), 1);
    }
}
