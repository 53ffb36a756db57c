//! `crop-coefficient`: the coefficients of a crop as it is grown here.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::curve::CropCurve;
use super::mend::{Coefficients, StageClimate};
use super::question::{Growing, asked};
use crate::climate::quantities::{MinimumHumidity, WindSpeed};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Provenance, Refusal, Topic, Working};

/// Input of `crop-coefficient`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoefficientInput {
    /// Key of the crop.
    pub crop: String,
    /// How it is grown.
    #[serde(default)]
    pub growing: Growing,
}

/// Output of `crop-coefficient`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct CoefficientOutput {
    /// Name of the crop.
    pub name: String,
    /// The coefficients used.
    #[serde(flatten)]
    pub used: Coefficients,
    /// The coefficients of the table, or the farm's own.
    pub table: Coefficients,
    /// What the climate adds in the middle.
    pub climate_mid: f64,
    /// What a thin stand takes.
    pub stand_reduction: f64,
    /// Depth of full-grown roots for deciding irrigation.
    pub root_min_m: f64,
    /// Depth of full-grown roots in ground without hindrance.
    pub root_max_m: f64,
    /// Share of the available water that may be used at 5 mm/d.
    pub depletion_fraction: f64,
    /// Yield response factor.
    pub ky: Option<f64>,
    /// Greatest height.
    pub height_m: f64,
    /// Planting to harvest.
    pub season_d: f64,
    /// How the coefficients reached this project.
    pub provenance: Provenance,
}

/// Crop coefficients.
pub struct CropCoefficient;

impl Method for CropCoefficient {
    type Input = CoefficientInput;
    type Output = CoefficientOutput;

    const CARD: Card = Card {
        name: "crop-coefficient",
        title: "Crop coefficients",
        topic: Topic::Climate,
        computes: "How much a crop uses against the reference, at first, in the middle and at harvest: single (with the \
                   evaporation of the ground) and basal (the plants alone), mended for wind and dry air, a thin stand and \
                   mulch; with its roots, and how dry it may get.",
        validity: &[
            "Coefficients hold for the whole ground, bed and path, and are good to about 0.1 to 0.15 (common practice).",
            "The single coefficient of the first stage is for planning; kc-initial gives it from the wettings.",
            "Climate is held to the equation's limits: 1 to 6 m/s, 20 to 80 %, 0.1 to 10 m.",
            "Crops without a row of their own are taken as another, and the answer says so.",
        ],
        sources: &[
            Cite::new("Fao56", "Tables 12, 17, 22, 24"),
            Cite::new("Fao56", "eq. 62, 65, 70"),
            Cite::new("Fao56", "eq. 94-96"),
            Cite::new("Fao56", "chapter 10, Table 25"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        CoefficientInput {
            crop: "tomato-trellised".to_owned(),
            growing: Growing {
                mid_climate: Some(StageClimate {
                    wind_2m_m_s: WindSpeed::literal(1.1),
                    rh_min_percent: MinimumHumidity::literal(30.0),
                }),
                ..Growing::default()
            },
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let asked = asked(&input.crop, &input.growing)?;
        let curve = CropCurve::new(&asked.crop, &asked.setting);
        let crop = &asked.crop;
        let output = CoefficientOutput {
            name: crop.name.clone(),
            used: curve.used,
            table: Coefficients::of(crop),
            climate_mid: asked.setting.mid_climate.map_or(0.0, |climate| climate.term(crop.height_m)),
            stand_reduction: asked.setting.stand.map_or(0.0, |stand| stand.reduction()),
            root_min_m: crop.root_min_m,
            root_max_m: crop.root_max_m,
            depletion_fraction: crop.depletion_fraction,
            ky: crop.ky,
            height_m: crop.height_m,
            season_d: curve.season_d(),
            provenance: crop.provenance,
        };
        Ok(Answer::with_notes(output, asked.notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        let sources = Self::CARD.sources;
        let show = |c: &Coefficients| {
            format!(
                "Kc {:.2}, {:.2}, {:.2}; Kcb {:.2}, {:.2}, {:.2}",
                c.kc_ini, c.kc_mid, c.kc_end, c.kcb_ini, c.kcb_mid, c.kcb_end
            )
        };
        Working::new()
            .step(
                "the crop's row",
                "first stage, middle, harvest, for wind 2 m/s and least humidity 45 %",
                input.crop.clone(),
                show(&v.table),
            )
            .cite(sources[0])
            .step(
                "what the climate adds in the middle",
                "(0.04 (u2 − 2) − 0.004 (RHmin − 45)) (h/3)^0.3; at harvest only where Kc is 0.45 or more",
                format!("h = {} m", v.height_m),
                format!("{:+.3}", v.climate_mid),
            )
            .cite(sources[1])
            .step(
                "what a thin stand takes",
                "1 − √(cover / dense cover)",
                "",
                format!("{:.3}", v.stand_reduction),
            )
            .cite(sources[2])
            .step("as used, mulch included", "shares of Kc and Kcb by chapter 10", "", show(&v.used))
            .cite(sources[3])
    }
}
