//! When to mark a jar: after how long the sand, and the silt, are down.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::grains::{SAND_FROM_SILT_UM, SILT_FROM_CLAY_UM};
use super::reading::{JarHeight, JarTemperature};
use super::words::duration;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::settling::stokes::{CROWDING, Fall, MINERAL_DENSITY_KG_M3, STOKES};

/// Dry mass in a volume of loose sieved soil, kg/m³. Common practice, no source.
const LOOSE_SOIL_KG_M3: f64 = 1250.0;
/// Share of the soil that crowds the last sand and the last silt of a middling loam (40 % sand, 40 %
/// silt, 20 % clay): halfway between all that is still up around it and only what is finer.
const CROWDING_SHARE: [f64; 2] = [0.8, 0.4];
/// Share of the soil's height that has settled when the last sand is down, and later.
const SETTLED_SHARE: [f64; 2] = [0.5, 1.0];
/// Least water over the soil, mm.
const LEAST_WATER_MM: f64 = 10.0;
/// Hours at which the size still up is told.
const LATER_H: [f64; 3] = [24.0, 48.0, 72.0];

/// Input of `jar-mark-times`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JarMarkTimesInput {
    /// Height of the water surface above the jar floor.
    pub water_height_mm: JarHeight,
    /// Temperature of the water.
    pub water_temperature_c: JarTemperature,
    /// Height of the loose dry soil in the jar before the water; where nothing is said the soil is
    /// taken as too little to crowd or to fill.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub soil_height_mm: Option<JarHeight>,
}

/// When to make one mark.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MarkTime {
    /// Size that should just be down.
    pub diameter_um: f64,
    /// When to mark.
    pub time_s: f64,
    /// If the grains did not crowd each other at all.
    pub earliest_s: f64,
    /// If all the soil crowded them all the way.
    pub latest_s: f64,
}

/// Size still up after a time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StillUp {
    /// Time since the jar was set down.
    pub after_h: f64,
    /// All grains coarser than this are down. What is still up is finer.
    pub finer_than_um: f64,
}

/// Output of `jar-mark-times`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct JarMarkTimesOutput {
    /// The mark for the top of the sand.
    pub sand_mark: MarkTime,
    /// The mark for the top of the silt.
    pub silt_mark: MarkTime,
    /// What is still up a day and more later.
    pub still_up: Vec<StillUp>,
    /// Share of the shaken jar that is solid.
    pub solids_volume_fraction: f64,
}

/// Marks and sizes of one jar.
struct Column {
    water_mm: f64,
    soil_mm: f64,
    solids: f64,
    fall: Fall,
}

impl Column {
    fn of(input: &JarMarkTimesInput) -> Result<Self, Refusal> {
        let water_mm = input.water_height_mm.get();
        let soil_mm = input.soil_height_mm.map_or(0.0, Bounded::get);
        if water_mm < LEAST_WATER_MM {
            return Err(Refusal::new(
                "water_height_mm",
                format!("{water_mm} mm of water is too little to settle in"),
            )
            .given(format!("{water_mm} mm"))
            .accepted(format!("{LEAST_WATER_MM} to {} mm", JarHeight::MAX))
            .example("180 mm"));
        }
        if soil_mm > 0.6 * water_mm {
            return Err(Refusal::new(
                "soil_height_mm",
                format!(
                    "{soil_mm} mm of soil under {water_mm} mm of water leaves no room to shake and settle"
                ),
            )
            .given(format!("{soil_mm} mm"))
            .accepted(format!(
                "up to {:.0} mm, six tenths of the water's height; a quarter or less is better",
                0.6 * water_mm
            ))
            .example(format!("{:.0} mm", water_mm / 4.0)));
        }
        let solids = soil_mm / water_mm * LOOSE_SOIL_KG_M3 / MINERAL_DENSITY_KG_M3;
        let fall = Fall::new(input.water_temperature_c.get(), MINERAL_DENSITY_KG_M3, 0.0);
        Ok(Self { water_mm, soil_mm, solids, fall })
    }

    fn depth_mm(&self, mark: usize) -> f64 {
        (self.water_mm - SETTLED_SHARE[mark] * self.soil_mm).max(LEAST_WATER_MM)
    }

    fn mark(&self, mark: usize, diameter_um: f64) -> MarkTime {
        let at = |share: f64| self.fall.crowded(share * self.solids).time_s(diameter_um, self.depth_mm(mark));
        MarkTime { diameter_um, time_s: at(CROWDING_SHARE[mark]), earliest_s: at(0.0), latest_s: at(1.0) }
    }
}

/// When to mark a jar.
pub struct JarMarkTimes;

impl Method for JarMarkTimes {
    type Input = JarMarkTimesInput;
    type Output = JarMarkTimesOutput;

    const CARD: Card = Card {
        name: "jar-mark-times",
        title: "When to mark a jar",
        topic: Topic::Texture,
        computes: "Gives the times at which to mark the top of the sand and of the silt in a settling jar, from the \
                   height and temperature of its water and how much soil is in it, and which size is still up after \
                   one, two and three days.",
        validity: &[
            "A jar that stands still in the shade at an even temperature, with its clay parted by dishwasher powder or hexametaphosphate.",
            "The more soil, the less sure the times: the grains crowd each other. A tenth of the jar is plenty when thin layers can be measured.",
            "The customary marks at 1 minute and 2 hours part other sizes than 50 and 2 µm in most jars; jar-test puts that right.",
        ],
        sources: &[STOKES, CROWDING, Cite::new("SoilSurveyManual2017", "ch. 3, limits at 50 and 2 µm")],
        cautions: &[
            "Dishwasher powder and hexametaphosphate irritate eyes and skin: keep them off children.",
        ],
    };

    fn example() -> Self::Input {
        JarMarkTimesInput {
            water_height_mm: JarHeight::literal(180.0),
            water_temperature_c: JarTemperature::literal(20.0),
            soil_height_mm: Some(JarHeight::literal(45.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let column = Column::of(input)?;
        let value = JarMarkTimesOutput {
            sand_mark: column.mark(0, SAND_FROM_SILT_UM),
            silt_mark: column.mark(1, SILT_FROM_CLAY_UM),
            // By then only clay is up, too little to crowd.
            still_up: LATER_H
                .map(|after_h| StillUp {
                    after_h,
                    finer_than_um: column.fall.cut_um(3600.0 * after_h, column.depth_mm(1)),
                })
                .to_vec(),
            solids_volume_fraction: column.solids,
        };
        let mut notes = Vec::new();
        if column.soil_mm > column.water_mm / 4.0 {
            notes.push(Note::new(
                NoteKind::Method,
                "There is much soil in this jar: the grains crowd each other and the times are unsure. A tenth to a \
                 quarter of the water's height is better.",
            ));
        } else if input.soil_height_mm.is_none() {
            notes.push(Note::new(
                NoteKind::Method,
                "The times are for little soil. Say how high the dry soil stood for the times of a fuller jar, which are \
                 later.",
            ));
        }
        if value.silt_mark.time_s > 10.0 * 3600.0 {
            notes.push(Note::new(
                NoteKind::Method,
                "A jar with less water can be marked sooner: the times go with the depth of the water.",
            ));
        }
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok(column) = Column::of(input) else { return Working::new() };
        let mut working = Working::new()
            .step(
                "share of the shaken jar that is solid",
                "φ = soil height / water height × 1250 / 2650 (loose soil and mineral, kg/m³)",
                format!("{} / {} × 1250 / 2650", column.soil_mm, column.water_mm),
                format!("{:.3}", column.solids),
            )
            .cite(CROWDING);
        for (i, (name, mark)) in
            [("sand", answer.value.sand_mark), ("silt", answer.value.silt_mark)].into_iter().enumerate()
        {
            working = working
                .step(
                    format!("when the last {name} is down"),
                    "t = 18 µ H / (g (ρs - ρw) d² (1 - φ')^4.65), φ' the part of φ that crowds it in a middling loam",
                    format!(
                        "H = {:.0} mm, d = {} µm, φ' = {:.3}",
                        column.depth_mm(i),
                        mark.diameter_um,
                        CROWDING_SHARE[i] * column.solids
                    ),
                    format!(
                        "{} ({} to {})",
                        duration(mark.time_s),
                        duration(mark.earliest_s),
                        duration(mark.latest_s)
                    ),
                )
                .cite(STOKES);
        }
        working
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn times(water: f64, temperature: f64, soil: Option<f64>) -> JarMarkTimesOutput {
        JarMarkTimes::compute(&JarMarkTimesInput {
            water_height_mm: JarHeight::literal(water),
            water_temperature_c: JarTemperature::literal(temperature),
            soil_height_mm: soil.map(JarHeight::literal),
        })
        .unwrap()
        .value
    }

    #[test]
    fn a_jar_a_third_full_is_far_from_dilute() {
        // Worked by hand: a third of loose soil is φ 0.157 and slows the fall 2.2 times.
        let out = times(150.0, 20.0, Some(50.0));
        assert!((out.solids_volume_fraction - 0.157).abs() < 0.0005);
        assert!((out.sand_mark.latest_s / out.sand_mark.earliest_s - 2.2).abs() < 0.05);
        assert!(
            out.sand_mark.earliest_s < out.sand_mark.time_s && out.sand_mark.time_s < out.sand_mark.latest_s
        );
    }

    #[test]
    fn colder_taller_and_fuller_is_later() {
        let here = times(150.0, 20.0, Some(20.0));
        for other in
            [times(150.0, 15.0, Some(20.0)), times(180.0, 20.0, Some(20.0)), times(150.0, 20.0, Some(30.0))]
        {
            assert!(other.sand_mark.time_s > here.sand_mark.time_s);
        }
    }

    #[test]
    fn a_jar_full_of_soil_is_refused() {
        let input = JarMarkTimesInput {
            water_height_mm: JarHeight::literal(150.0),
            water_temperature_c: JarTemperature::literal(20.0),
            soil_height_mm: Some(JarHeight::literal(140.0)),
        };
        assert_eq!(JarMarkTimes::compute(&input).unwrap_err().field, "soil_height_mm");
    }
}
