//! A farm's own numbers in place of the catalogue's.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::crop::Crop;
use super::stages::{StageRow, Stages};
use crate::kit::{Bounded, Refusal};

crate::quantity! {
    /// A crop coefficient.
    pub struct CropCoefficientValue: "crop coefficient", "", 0.05 ..= 1.6, example 1.05;
    /// Height of a crop.
    pub struct CropHeight: "height of the crop", "m", 0.02 ..= 10.0, example 0.6;
    /// Depth of roots.
    pub struct RootDepth: "depth of the roots", "m", 0.03 ..= 3.0, example 0.4;
    /// Share of the available water that may be used.
    pub struct DepletionFraction: "depletion fraction", "", 0.05 ..= 0.9, example 0.4;
    /// Yield response factor.
    pub struct YieldResponse: "yield response factor", "", 0.1 ..= 2.0, example 1.05;
    /// Length of a stage.
    pub struct StageLength: "length of the stage", "d", 0.0 ..= 400.0, example 30.0;
}

/// What a farm sets otherwise; everything left out stays as in the catalogue.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Overrides {
    /// Single coefficient of the first stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kc_ini: Option<CropCoefficientValue>,
    /// Single coefficient of the middle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kc_mid: Option<CropCoefficientValue>,
    /// Single coefficient at harvest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kc_end: Option<CropCoefficientValue>,
    /// Basal coefficient of the first stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kcb_ini: Option<CropCoefficientValue>,
    /// Basal coefficient of the middle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kcb_mid: Option<CropCoefficientValue>,
    /// Basal coefficient at harvest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kcb_end: Option<CropCoefficientValue>,
    /// Greatest height.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height_m: Option<CropHeight>,
    /// Depth of the roots on the first day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub root_initial_m: Option<RootDepth>,
    /// Depth to which the roots grow here; a pan or a water table may hold them higher than the table says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub root_full_m: Option<RootDepth>,
    /// Depletion fraction at 5 mm/d.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depletion_fraction: Option<DepletionFraction>,
    /// Yield response factor.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ky: Option<YieldResponse>,
    /// Length of the first stage; give all four lengths or none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub initial_d: Option<StageLength>,
    /// Length of the second stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub development_d: Option<StageLength>,
    /// Length of the third stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mid_d: Option<StageLength>,
    /// Length of the last stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub late_d: Option<StageLength>,
}

impl Crop {
    /// This crop with a farm's own numbers. Where one of a pair of coefficients is set, the other moves by as much, so
    /// that the evaporation between them stays; a higher single one of the first stage is taken as wetter ground and
    /// leaves the basal one.
    ///
    /// # Errors
    /// A basal coefficient above its single one, roots deeper at first than full grown, some but not all of the
    /// four stage lengths.
    pub fn with(&self, set: &Overrides) -> Result<Self, Refusal> {
        let mut crop = self.clone();
        for (kc, kcb, set_kc, set_kcb, field) in [
            (&mut crop.kc_ini, &mut crop.kcb_ini, set.kc_ini, set.kcb_ini, "kcb_ini"),
            (&mut crop.kc_mid, &mut crop.kcb_mid, set.kc_mid, set.kcb_mid, "kcb_mid"),
            (&mut crop.kc_end, &mut crop.kcb_end, set.kc_end, set.kcb_end, "kcb_end"),
        ] {
            let evaporation = *kc - *kcb;
            match (set_kc.map(Bounded::get), set_kcb.map(Bounded::get)) {
                (Some(single), Some(basal)) => (*kc, *kcb) = (single, basal),
                // In the first stage a higher single one means wetter ground, not more plants.
                (Some(single), None) if field == "kcb_ini" => (*kc, *kcb) = (single, kcb.min(single)),
                (Some(single), None) => (*kc, *kcb) = (single, (single - evaporation).max(0.05)),
                (None, Some(basal)) => (*kc, *kcb) = (basal + evaporation, basal),
                (None, None) => {}
            }
            if *kcb > *kc {
                return Err(Refusal::new(
                    field,
                    "the basal coefficient holds no evaporation and cannot exceed the single one",
                )
                .given(*kcb)
                .accepted(format!("0.05 to {kc}"))
                .example(format!("{:.2}", (*kc - 0.1).max(0.05))));
            }
        }
        let number = |value: &mut f64, set: Option<f64>| *value = set.unwrap_or(*value);
        number(&mut crop.height_m, set.height_m.map(Bounded::get));
        number(&mut crop.root_full_m, set.root_full_m.map(Bounded::get));
        number(&mut crop.depletion_fraction, set.depletion_fraction.map(Bounded::get));
        // Shallow ground holds the first roots too, unless they are set.
        crop.root_initial_m =
            set.root_initial_m.map_or(crop.root_initial_m.min(crop.root_full_m), Bounded::get);
        if crop.root_initial_m > crop.root_full_m {
            return Err(Refusal::new(
                "root_initial_m",
                "the first roots lie deeper than the full-grown ones",
            )
            .given(format!("{} m", crop.root_initial_m))
            .accepted(format!("0.03 to {} m", crop.root_full_m))
            .example("0.15 m"));
        }
        crop.ky = set.ky.map(Bounded::get).or(crop.ky);
        if let Some(stages) = set.stages()? {
            crop.stages = vec![StageRow {
                stages,
                months: Vec::new(),
                region: "this farm".to_owned(),
                provenance: None,
                note: "set by the farm".to_owned(),
            }];
        }
        Ok(crop)
    }
}

impl Overrides {
    fn stages(&self) -> Result<Option<Stages>, Refusal> {
        let given = [
            ("initial_d", self.initial_d),
            ("development_d", self.development_d),
            ("mid_d", self.mid_d),
            ("late_d", self.late_d),
        ];
        if given.iter().all(|(_, length)| length.is_none()) {
            return Ok(None);
        }
        if let Some((field, _)) = given.iter().find(|(_, length)| length.is_none()) {
            return Err(Refusal::new(*field, "all four stage lengths are needed where one is given")
                .given("nothing")
                .accepted("0 to 400 d, with all four or none")
                .example("30 d"));
        }
        let [initial_d, development_d, mid_d, late_d] =
            given.map(|(_, length)| length.map_or(0.0, Bounded::get));
        let stages = Stages { initial_d, development_d, mid_d, late_d };
        if stages.total_d() < 1.0 {
            return Err(Refusal::new("initial_d", "the four stages together last less than a day")
                .given(format!("{} d", stages.total_d()))
                .accepted("1 d or more in all")
                .example("30 d"));
        }
        Ok(Some(stages))
    }
}

#[cfg(test)]
mod tests {
    use super::super::find;
    use super::*;

    #[test]
    fn what_is_set_is_used_and_the_rest_stays() {
        let tomato = find("tomato").unwrap();
        assert_eq!(&tomato.with(&Overrides::default()).unwrap(), tomato);
        let set = Overrides {
            kc_mid: Some(CropCoefficientValue::literal(1.0)),
            root_full_m: Some(RootDepth::literal(0.1)),
            ..Overrides::default()
        };
        let crop = tomato.with(&set).unwrap();
        assert_eq!((crop.kc_mid, crop.kc_end), (1.0, tomato.kc_end));
        assert!((crop.kcb_mid - 0.95).abs() < 1e-12, "the basal one moves with it");
        assert_eq!((crop.root_initial_m, crop.root_full_m), (0.1, 0.1), "a pan holds the first roots too");
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let tomato = find("tomato").unwrap();
        let field = |set: Overrides| tomato.with(&set).unwrap_err().field;
        let kc = |value| Some(CropCoefficientValue::literal(value));
        assert_eq!(field(Overrides { kc_mid: kc(0.5), kcb_mid: kc(0.6), ..Overrides::default() }), "kcb_mid");
        let deep = Some(RootDepth::literal(0.9));
        assert_eq!(field(Overrides { root_initial_m: deep, ..Overrides::default() }), "root_initial_m");
        let length = Some(StageLength::literal(0.0));
        assert_eq!(field(Overrides { mid_d: length, ..Overrides::default() }), "initial_d");
        let none = Overrides {
            initial_d: length,
            development_d: length,
            mid_d: length,
            late_d: length,
            ..Overrides::default()
        };
        assert_eq!(field(none), "initial_d");
    }
}
