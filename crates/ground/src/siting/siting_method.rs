//! `crop-siting`: one crop against one place.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::judge::{
    Grade, LIMITS, Limit, Spot, Verdict, WaterWay, bed_cm, depletion, draws_mm_d, judge, lasts_d, rooted_cm,
    salts_leave_percent,
};
use super::needs::{SiteNeeds, needs_of};
use super::needs_method::provenance_notes;
use crate::covers::kinds::Band;
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::texture::Class;
use crate::water::drainage::raised_bed::EmptyingCurve;
use crate::water::salts::yield_loss::RootZoneEc;

crate::quantity! {
    /// Stones, share of the volume.
    pub struct StonesByVolume: "stones by volume", "%", 0.0 ..= 90.0, example 5.0;
    /// Depth of something that limits roots.
    pub struct LimitDepth: "depth", "cm", 0.0 ..= 500.0, example 60.0;
    /// pH in water.
    pub struct SitePh: "pH in water", "", 3.0 ..= 11.0, example 6.4;
    /// Water that crops can use.
    pub struct WaterHeld: "water that crops can use", "m³/m³", 0.005 ..= 0.6, example 0.15;
    /// Reference evapotranspiration at the height of the season.
    pub struct HighEt0: "reference evapotranspiration at the height of the season", "mm/d", 0.5 ..= 15.0, example 5.0;
    /// Days of growing weather.
    pub struct GrowingDays: "days of growing weather", "d", 0.0 ..= 365.0, example 150.0;
}

/// Input of `crop-siting`. What is left out is taken as unknown and holds nothing against the crop.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SitingInput {
    /// The crop, by its key or name.
    pub crop: String,
    /// Texture class of the topsoil.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub texture_class: Option<Class>,
    /// Stones.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stones_percent: Option<StonesByVolume>,
    /// Depth from which the ground lies wet at times.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wet_from_cm: Option<LimitDepth>,
    /// Depth to rock.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rock_cm: Option<LimitDepth>,
    /// Depth to a pan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pan_cm: Option<LimitDepth>,
    /// pH in water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph: Option<SitePh>,
    /// Does the ground hold free lime (does vinegar fizz)?
    #[serde(default)]
    pub free_lime: bool,
    /// Salts in the saturation extract.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_ds_m: Option<RootZoneEc>,
    /// Water that crops can use.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub available_water_m3_m3: Option<WaterHeld>,
    /// Reference evapotranspiration at the height of the season; 5 mm/d where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub et0_mm_d: Option<HighEt0>,
    /// How water comes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterWay>,
    /// Days of growing weather.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub growing_d: Option<GrowingDays>,
}

/// A limit and its grade.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LimitGrade {
    /// The limit.
    pub limit: Limit,
    /// Was anything known of it?
    pub known: bool,
    /// How it stands.
    pub grade: Grade,
}

/// Output of `crop-siting`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct SitingOutput {
    /// The verdict by what is known.
    pub verdict: Verdict,
    /// The limit that decides, where one stands in the way.
    pub decides: Option<Limit>,
    /// Every limit.
    pub limits: Vec<LimitGrade>,
    /// Yield that salts leave, percent; where salts are known.
    pub salts_leave_percent: Option<f64>,
    /// Days that the water held lasts the full-grown crop; where it is known.
    pub water_lasts_d: Option<f64>,
    /// Water that the full-grown crop draws a day, mm.
    pub water_use_mm_d: f64,
    /// Height of a bed that keeps its roots in air, cm; where they want one.
    pub bed_cm: Option<f64>,
}

/// One crop against one place.
pub struct CropSiting;

fn spot(input: &SitingInput) -> Spot {
    // The depths of what was not met are unknown, not great.
    let or_none = |value: Option<f64>| value.unwrap_or(f64::NAN);
    Spot {
        band: input.texture_class.map(Band::of),
        stones_percent: or_none(input.stones_percent.map(Bounded::get)),
        wet_from_cm: or_none(input.wet_from_cm.map(Bounded::get)),
        fringe_cm: input
            .texture_class
            .and_then(EmptyingCurve::of_class)
            .map_or(0.0, |curve| curve.bubbling_cm),
        rock_cm: or_none(input.rock_cm.map(Bounded::get)),
        pan_cm: or_none(input.pan_cm.map(Bounded::get)),
        closeness: f64::NAN,
        ph: or_none(input.ph.map(Bounded::get)),
        free_lime: input.free_lime,
        ec_ds_m: or_none(input.ec_ds_m.map(Bounded::get)),
        available: or_none(input.available_water_m3_m3.map(Bounded::get)),
        et0_mm_d: input.et0_mm_d.map_or(Spot::UNKNOWN.et0_mm_d, Bounded::get),
        water: input.water,
        ..Spot::UNKNOWN
    }
}

fn known(input: &SitingInput) -> [bool; LIMITS] {
    [
        input.texture_class.is_some(),
        input.stones_percent.is_some(),
        input.wet_from_cm.is_some(),
        input.rock_cm.is_some(),
        input.pan_cm.is_some(),
        input.ph.is_some(),
        input.ec_ds_m.is_some(),
        input.growing_d.is_some(),
        input.available_water_m3_m3.is_some() && input.water.is_some(),
    ]
}

fn grades(needs: &SiteNeeds, input: &SitingInput) -> [Grade; LIMITS] {
    judge(needs, &spot(input), input.growing_d.map_or(f64::NAN, Bounded::get))
}

impl Method for CropSiting {
    type Input = SitingInput;
    type Output = SitingOutput;

    const CARD: Card = Card {
        name: "crop-siting",
        title: "A crop against a place",
        topic: Topic::Siting,
        computes: "Whether a crop suits a place, limit by limit: texture, stones, wetness, rock, pans, acidity, salts, days of \
                   growing weather, and water. The worst of them decides.",
        validity: &[
            "What is left out holds nothing against the crop: a verdict is only as good as what was told.",
            "The lines between grades are judgement and common practice; what they are laid on is published.",
            "Pests, markets, rotation and winter cold on perennials are not weighed.",
        ],
        sources: &[
            Cite::new("Fao56", "Tables 12 and 22, depletion fraction at the crop's use"),
            Cite::new("Maas1990", "threshold and slope of yield under salts"),
            Cite::new("KnottHandbook", "temperature and acidity"),
            Cite::new("BrooksCorey1964", "height above standing water at which pores hold air"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        SitingInput {
            crop: "tomato".to_owned(),
            texture_class: Some(Class::SandyLoam),
            stones_percent: Some(StonesByVolume::literal(5.0)),
            wet_from_cm: Some(LimitDepth::literal(90.0)),
            rock_cm: None,
            pan_cm: Some(LimitDepth::literal(40.0)),
            ph: Some(SitePh::literal(5.1)),
            free_lime: false,
            ec_ds_m: Some(RootZoneEc::literal(1.1)),
            available_water_m3_m3: Some(WaterHeld::literal(0.13)),
            et0_mm_d: None,
            water: Some(WaterWay::Piped),
            growing_d: Some(GrowingDays::literal(150.0)),
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let needs = needs_of(&input.crop)?;
        let (spot, known, grades) = (spot(input), known(input), grades(needs, input));
        let real = |value: f64| value.is_finite().then_some(value);
        let worst = grades.iter().copied().max().unwrap_or(Grade::Fits);
        let mut notes = Vec::new();
        let missing: Vec<&str> = Limit::ALL
            .into_iter()
            .zip(known)
            .filter_map(|(limit, known)| (!known).then_some(limit.words()))
            .collect();
        if !missing.is_empty() {
            notes.push(Note::new(
                NoteKind::NoValue,
                format!("Nothing was told of {}: it is not weighed.", missing.join(", ")),
            ));
        }
        notes.extend(provenance_notes(needs));
        Ok(Answer::with_notes(
            SitingOutput {
                verdict: Verdict::of(worst),
                decides: (worst > Grade::Fits)
                    .then(|| Limit::ALL.into_iter().zip(grades).find(|(_, grade)| *grade == worst))
                    .flatten()
                    .map(|(limit, _)| limit),
                limits: Limit::ALL
                    .into_iter()
                    .zip(known)
                    .zip(grades)
                    .map(|((limit, known), grade)| LimitGrade { limit, known, grade })
                    .collect(),
                salts_leave_percent: input.ec_ds_m.is_some().then(|| salts_leave_percent(needs, &spot)),
                water_lasts_d: real(lasts_d(needs, &spot)),
                water_use_mm_d: draws_mm_d(needs, &spot),
                bed_cm: real(bed_cm(needs, &spot)).filter(|bed| *bed > 0.0 && input.wet_from_cm.is_some()),
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let Ok(needs) = needs_of(&input.crop) else { return Working::new() };
        let (value, spot) = (&answer.value, spot(input));
        let mut working = Working::new()
            .step(
                "water drawn a day",
                "Kc × reference evapotranspiration",
                format!("{} × {}", number(needs.kc_mid), number(spot.et0_mm_d)),
                format!("{:.1} mm", value.water_use_mm_d),
            )
            .cite(Self::CARD.sources[0]);
        if let (Some(days), Some(held)) = (value.water_lasts_d, input.available_water_m3_m3) {
            working = working
                .step(
                    "days the water held lasts",
                    "(p + 0.04 (5 − use), within 0.1 to 0.8) × water held × depth of roots, no deeper than rock / use",
                    format!(
                        "p {}, at this use {}; {} m³/m³; roots {} cm",
                        number(needs.depletion_fraction),
                        number(depletion(needs, &spot)),
                        number(held.get()),
                        number(rooted_cm(needs, &spot))
                    ),
                    format!("{days:.1} d"),
                )
                .cite(Self::CARD.sources[0]);
        }
        if let Some(left) = value.salts_leave_percent {
            working = working
                .step(
                    "yield that salts leave",
                    "100 − b (EC − a), midway between the published lines",
                    format!("EC {} dS/m", number(input.ec_ds_m.map_or(0.0, Bounded::get))),
                    format!("{left:.0} %"),
                )
                .cite(Self::CARD.sources[1]);
        }
        working.step(
            "verdict",
            "the worst grade of all limits",
            value
                .limits
                .iter()
                .filter(|one| one.grade > Grade::Fits)
                .map(|one| format!("{}: {}", one.limit.words(), grade_words(one.grade)))
                .collect::<Vec<_>>()
                .join("; "),
            value.verdict.words(),
        )
    }
}

fn grade_words(grade: Grade) -> &'static str {
    match grade {
        Grade::Fits => "fits",
        Grade::Drawback => "a drawback",
        Grade::Work => "takes work",
        Grade::Fails => "fails",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_working_uses_what_the_answer_used() {
        // Tomato: roots of 70 cm end at rock of 40; Kc 1.15 at 5 mm/d: p = 0.40 + 0.04 × (5 − 5.75) = 0.37 [Fao56, Table 22].
        let input = SitingInput { rock_cm: Some(LimitDepth::literal(40.0)), ..CropSiting::example() };
        let answer = CropSiting::compute(&input).unwrap();
        let working = serde_json::to_value(CropSiting::working(&input, &answer)).unwrap().to_string();
        assert!(working.contains("at this use 0.37; 0.13 m³/m³; roots 40 cm"), "{working}");
        assert!((answer.value.water_lasts_d.unwrap() - 0.37 * 0.13 * 400.0 / 5.75).abs() < 1e-9);
    }

    #[test]
    fn no_bed_is_told_where_none_is_wanted() {
        let bed = |cm| {
            let input = SitingInput { wet_from_cm: Some(LimitDepth::literal(cm)), ..CropSiting::example() };
            CropSiting::compute(&input).unwrap().value.bed_cm
        };
        assert!(bed(20.0).is_some_and(|bed| bed > 0.0) && bed(150.0).is_none());
    }

    #[test]
    fn one_deep_limit_decides() {
        let answer = CropSiting::compute(&CropSiting::example()).unwrap().value;
        // The pan at 40 cm lies above the 55 cm that tomatoes need; so does pH 5.1 lie below 5.3.
        assert_eq!((answer.verdict, answer.decides), (Verdict::WithWork, Some(Limit::Pan)));
        let bare = SitingInput { pan_cm: None, ph: None, ..CropSiting::example() };
        let answer = CropSiting::compute(&bare).unwrap();
        assert_eq!(answer.value.verdict, Verdict::Suits);
        assert!(answer.notes[0].text.contains("acidity"), "{:?}", answer.notes[0]);
    }
}
