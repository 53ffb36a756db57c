//! `tunnel-et0`: evapotranspiration under cover from the best that is known.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::day::WeatherDay;
use super::tunnel::{
    Transmission, TunnelCover, TunnelEt0, TunnelTier, tunnel_from_inside, tunnel_from_outside_et0,
    tunnel_from_outside_weather,
};
use crate::climate::quantities::{DayOfYear, ReferenceEt};
use crate::climate::site::Site;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

/// Input of `tunnel-et0`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TunnelInput {
    /// State of the cover.
    pub cover: TunnelCover,
    /// Evapotranspiration outside; enough by itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_et0_mm_d: Option<ReferenceEt>,
    /// Where; needed with weather.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub site: Option<Site>,
    /// Day of the year; needed with weather.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day_of_year: Option<DayOfYear>,
    /// Weather outside.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside: Option<WeatherDay>,
    /// Readings inside. With solar radiation they are used alone; without it their temperatures go with the
    /// weather outside.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub inside: Option<WeatherDay>,
    /// Share of the light that the cover lets through.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transmission: Option<Transmission>,
}

/// Tunnel evapotranspiration.
pub struct TunnelEt0Method;

impl Method for TunnelEt0Method {
    type Input = TunnelInput;
    type Output = TunnelEt0;

    const CARD: Card = Card {
        name: "tunnel-et0",
        title: "Evapotranspiration under cover",
        topic: Topic::Climate,
        computes: "Reference evapotranspiration inside an unheated tunnel with its range: from sensors inside, else from \
                   the weather outside and the light that the cover lets through, else from the evapotranspiration \
                   outside times 0.65 (0.55 to 0.80). No rain reaches the ground while it is covered.",
        validity: &[
            "Unheated plastic or glass. Published ratios are few: 0.56 to 0.69, none from a hoop house with rolled-up \
             sides in a temperate humid climate.",
            "Whitening or shade takes a further 21 %. With the sides fully up in wind it comes near that outside (common \
             practice).",
            "Readings inside are taken as the crop's own air; a sensor in the sun reads too warm.",
        ],
        sources: &[
            Cite::new("Fao56", "eq. 6"),
            Cite::new("Fernandes2003", "class A pan, reduced pan and atmometer inside and outside, abstract"),
            Cite::new("Amiri2018", "class A pan inside and outside, abstract"),
            Cite::new("FernandezMD2010", "whitening; fixed aerodynamic resistance, abstract"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        TunnelInput {
            cover: TunnelCover::Covered,
            outside_et0_mm_d: Some(ReferenceEt::literal(3.9)),
            site: None,
            day_of_year: None,
            outside: None,
            inside: None,
            transmission: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let place = || -> Result<(Site, f64), Refusal> {
            let site = input.site.ok_or_else(|| missing("site", "a latitude and a height"))?;
            let day = input.day_of_year.ok_or_else(|| missing("day_of_year", "1 to 366"))?;
            Ok((site, day.get()))
        };
        let output = match (&input.inside, &input.outside, input.outside_et0_mm_d) {
            (Some(inside), _, _) if inside.solar_mj_m2_d.is_some() => {
                let (site, day) = place()?;
                tunnel_from_inside(&site, day, inside, input.transmission)?
            }
            (inside, Some(outside), _) => {
                let (site, day) = place()?;
                if let Some(inside) = inside {
                    inside.check(&site, day).map_err(|refusal| refusal.inside("inside"))?;
                }
                tunnel_from_outside_weather(
                    &site,
                    day,
                    outside,
                    inside.as_ref(),
                    input.transmission,
                    input.cover,
                )?
            }
            (_, None, Some(outside)) => tunnel_from_outside_et0(outside.get(), input.cover),
            (_, None, None) => {
                return Err(missing(
                    "outside_et0_mm_d",
                    "evapotranspiration outside, weather outside, or readings inside with solar radiation",
                ));
            }
        };
        let mut notes = vec![Note::new(
            NoteKind::Provenance,
            "Measured ratios of covered to open ground are few and from other covers and places; the best value and the \
             ends of the range are our judgement of them.",
        )];
        if input.cover == TunnelCover::SidesUp {
            notes.push(Note::new(
                NoteKind::Provenance,
                "The factor with sides up is common practice, no source.",
            ));
        }
        if input.cover != TunnelCover::Uncovered {
            notes.push(Note::new(NoteKind::Method, "No rain reaches the ground inside while it is covered."));
        }
        Ok(Answer::with_notes(output, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        let (rule, numbers, source) = match v.tier {
            TunnelTier::MeasuredInside => (
                "the reference equation with readings inside; wind as measured but at least 0.5 m/s, and 1.39 m/s of a \
                 fixed resistance of 150 s/m",
                "low and high end; the best value lies between".to_owned(),
                Self::CARD.sources[3],
            ),
            TunnelTier::OutsideWeather => (
                "the reference equation with Rs inside = τ Rs outside and wind 0.5, 0.95, 1.39 m/s; × 0.79 where shaded",
                match input.transmission {
                    Some(share) => format!("τ = {}", share.get()),
                    None => "τ = 0.6, 0.7, 0.8".to_owned(),
                },
                Self::CARD.sources[0],
            ),
            TunnelTier::OutsideFactor => (
                "f × evapotranspiration outside; f 0.65 (0.55 to 0.80), × 0.79 where shaded, 0.9 (0.8 to 1.0) with sides up",
                format!("f = {:.3}", v.factor.unwrap_or(1.0)),
                Self::CARD.sources[1],
            ),
        };
        Working::new()
            .step(
                "evapotranspiration inside",
                rule,
                numbers,
                format!("{:.2} mm/d ({:.2} to {:.2})", v.et0_mm_d, v.low_mm_d, v.high_mm_d),
            )
            .cite(source)
    }
}

fn missing(field: &str, accepted: &str) -> Refusal {
    Refusal::new(field, format!("{field} is missing"))
        .given("nothing")
        .accepted(accepted)
        .example(if field == "outside_et0_mm_d" { "3.9 mm/d" } else { "" })
}
