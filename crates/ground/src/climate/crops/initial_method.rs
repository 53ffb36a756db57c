//! `kc-initial`: the coefficient of the first stage, or of bare ground, from its wettings.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::initial::{InitialKc, Wetting, initial_kc};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

crate::quantity! {
    /// Reference evapotranspiration of the stage.
    pub struct StageEt0: "reference evapotranspiration", "mm/d", 0.1 ..= 15.0, example 5.0;
    /// Mean days between wettings.
    pub struct WettingInterval: "days between wettings", "d", 0.25 ..= 90.0, example 3.5;
    /// Depth of a wetting over the whole ground.
    pub struct WettingDepth: "depth of a wetting", "mm", 0.5 ..= 150.0, example 20.0;
    /// Share of the ground that is wetted.
    pub struct WettedFraction: "share of the ground wetted", "", 0.05 ..= 1.0, example 1.0;
}

/// Input of `kc-initial`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KcInitialInput {
    /// Mean reference evapotranspiration.
    pub et0_mm_d: StageEt0,
    /// Mean days between wettings, rain and irrigation; adjoining days count as one wetting.
    pub interval_d: WettingInterval,
    /// Mean depth of a wetting, over the whole ground.
    pub depth_mm: WettingDepth,
    /// Sand or loamy sand.
    pub coarse: bool,
    /// Share of the ground wetted: 1 rain and sprinkler, 0.3-0.4 drip; 1 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wetted_fraction: Option<WettedFraction>,
}

/// Coefficient of the first stage.
pub struct KcInitial;

impl Method for KcInitial {
    type Input = KcInitialInput;
    type Output = InitialKc;

    const CARD: Card = Card {
        name: "kc-initial",
        title: "Coefficient of young crops and bare ground",
        topic: Topic::Climate,
        computes: "How much water leaves nearly bare ground against the reference, from how often and how heavily it is \
                   wetted: the coefficient of a crop's first stage, and of ground without a crop.",
        validity: &[
            "Wettings up to 10 mm are light and alike on every soil; from 40 mm on coarse soil differs from others; \
             between them a straight line.",
            "Wettings of less than a fifth of a day's evapotranspiration are left out of the count.",
        ],
        sources: &[
            Cite::new("Fao56", "Annex 7, eq. 7-3; Figures 29 and 30"),
            Cite::new("Fao56", "eq. 59-61"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        KcInitialInput {
            et0_mm_d: StageEt0::literal(5.0),
            interval_d: WettingInterval::literal(3.5),
            depth_mm: WettingDepth::literal(20.0),
            coarse: true,
            wetted_fraction: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        Ok(Answer::plain(initial_kc(&Wetting {
            et0_mm_d: input.et0_mm_d.get(),
            interval_d: input.interval_d.get(),
            depth_mm: input.depth_mm.get(),
            coarse: input.coarse,
            wetted_fraction: input.wetted_fraction.map_or(1.0, Bounded::get),
        })))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        Working::new()
            .step(
                "light and heavy wettings",
                "(TEW − (TEW − REW) exp(−(tw − t1) Eso (1 + REW/(TEW − REW))/TEW)) / (tw ET0), Eso = 1.15 ET0, t1 = REW/Eso",
                format!("ET0 {} mm/d, every {} d", input.et0_mm_d.get(), input.interval_d.get()),
                format!("light {:.3}, heavy {:.3}", v.kc_light, v.kc_heavy),
            )
            .cite(Self::CARD.sources[0])
            .step(
                "this depth, on the part that is wetted",
                "fw (K light + (I/fw − 10)/30 (K heavy − K light)), from 10 to 40 mm",
                format!("I/fw = {:.1} mm", v.depth_on_wetted_mm),
                format!("{:.3}", v.kc_ini),
            )
            .cite(Self::CARD.sources[1])
    }
}
