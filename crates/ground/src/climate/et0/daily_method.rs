//! `et0-penman-monteith`: reference evapotranspiration of a day or month, missing data and all.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::daily::{Et0, Neighbours, et0_day, et0_month};
use crate::climate::quantities::{
    AirTemperature, DayOfYear, Elevation, Latitude, RelativeHumidity, Sunshine,
};
use crate::climate::quantities::{WindHeight, WindSpeed};
use crate::climate::site::Site;
use crate::climate::weather::WeatherDay;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Refusal, Topic, Working};

/// What the weather values are means of.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Period {
    /// One day.
    #[default]
    Day,
    /// A month; the day of the year is one near its middle.
    Month,
}

/// Input of `et0-penman-monteith`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PenmanMonteithInput {
    /// Where.
    pub site: Site,
    /// Day of the year, 1 January is 1.
    pub day_of_year: DayOfYear,
    /// What is known of the weather; both temperatures are the least.
    pub weather: WeatherDay,
    /// Whether it is a day or the mean of a month.
    #[serde(default)]
    pub period: Period,
    /// Mean temperature of the month before, for the heat that goes into the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub previous_month_mean_c: Option<AirTemperature>,
    /// Mean temperature of the month after.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_month_mean_c: Option<AirTemperature>,
}

/// FAO-56 Penman-Monteith.
pub struct PenmanMonteith;

const FAO: &str = "Fao56";

impl Method for PenmanMonteith {
    type Input = PenmanMonteithInput;
    type Output = Et0;

    const CARD: Card = Card {
        name: "et0-penman-monteith",
        title: "Reference evapotranspiration",
        topic: Topic::Climate,
        computes: "How much water a clipped, well-watered sward would use in a day, mm: the measure against which every \
                   crop's use is set. Highest and lowest temperature are enough; each further measurement of humidity, \
                   sun and wind takes the place of an estimate, and the answer says which rule stood in for which.",
        validity: &[
            "Days, or means of a month with the day of the year near its middle.",
            "Estimated sunlight is good for sums and means over several days, less for one day.",
            "Wind below 0.5 m/s is taken as 0.5 m/s; the cloud ratio is held between 0.33 and 1; dew counts as 0.",
            "North or south of 55° the sunlight above the air is weak in the winter months.",
            "On a small island a single day's sunlight is estimated as on a coast; the island's own rule is for months.",
        ],
        sources: &[
            Cite::new(FAO, "eq. 6; chapters 3 and 4"),
            Cite::new(FAO, "eq. 11-13"),
            Cite::new(FAO, "eq. 14-19, 48"),
            Cite::new(FAO, "eq. 21-25"),
            Cite::new(FAO, "eq. 35, 49-51"),
            Cite::new(FAO, "eq. 38-40"),
            Cite::new(FAO, "eq. 42-44"),
            Cite::new(FAO, "eq. 47"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        let mut weather =
            WeatherDay::of_temperatures(AirTemperature::literal(21.5), AirTemperature::literal(12.3));
        weather.rh_max_percent = Some(RelativeHumidity::literal(84.0));
        weather.rh_min_percent = Some(RelativeHumidity::literal(63.0));
        weather.wind_m_s = Some(WindSpeed::literal(2.78));
        weather.wind_height_m = Some(WindHeight::literal(10.0));
        weather.sunshine_h = Some(Sunshine::literal(9.25));
        PenmanMonteithInput {
            site: Site::new(Latitude::literal(50.8), Elevation::literal(100.0)),
            day_of_year: DayOfYear::literal(187.0),
            weather,
            period: Period::Day,
            previous_month_mean_c: None,
            next_month_mean_c: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let day = input.day_of_year.get();
        let inside = |refusal: Refusal| refusal.inside("weather");
        let et0 = match input.period {
            Period::Day => {
                for (field, given) in [
                    ("previous_month_mean_c", input.previous_month_mean_c),
                    ("next_month_mean_c", input.next_month_mean_c),
                ] {
                    if let Some(given) = given {
                        return Err(Refusal::new(
                            field,
                            format!("{field} is of use for a month only, but the period is a day"),
                        )
                        .given(given.get())
                        .accepted("nothing for a day; a temperature when period is month")
                        .example("period month"));
                    }
                }
                et0_day(&input.site, day, &input.weather).map_err(inside)?
            }
            Period::Month => {
                let neighbours = Neighbours {
                    previous_c: input.previous_month_mean_c.map(Bounded::get),
                    next_c: input.next_month_mean_c.map(Bounded::get),
                };
                et0_month(&input.site, day, &input.weather, neighbours).map_err(inside)?
            }
        };
        let notes = et0.notes();
        Ok(Answer::with_notes(et0, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let (p, rules) = (answer.value.parts, answer.value.rules);
        let sources = Self::CARD.sources;
        let wind = if rules.wind_raised { 0.5 } else { p.wind_2m_m_s };
        Working::new()
            .step(
                "saturation of the air",
                "es = (e°(Tmax) + e°(Tmin)) / 2, e°(T) = 0.6108 exp(17.27 T / (T + 237.3)); Δ is its slope",
                format!("({:.3} + {:.3}) / 2", p.saturation_tmax_kpa, p.saturation_tmin_kpa),
                format!("es {:.3} kPa, Δ {:.4} kPa/°C", p.saturation_kpa, p.slope_kpa_c),
            )
            .cite(sources[1])
            .step(
                "vapour in the air",
                format!("rule: {}", words(&rules.humidity)),
                format!("es − ea = {:.3} − {:.3}", p.saturation_kpa, p.actual_vapour_kpa),
                format!("deficit {:.3} kPa", p.deficit_kpa),
            )
            .cite(sources[2])
            .step(
                "sunlight above the air",
                "Ra = 1440/π · 0.0820 · dr (ωs sin φ sin δ + cos φ cos δ sin ωs)",
                format!("latitude {}°, day {}", input.site.latitude_degrees.get(), input.day_of_year.get()),
                format!("{:.2} MJ/m²/d, day length {:.2} h", p.extraterrestrial_mj_m2_d, p.day_length_h),
            )
            .cite(sources[3])
            .step(
                "sunlight on the ground",
                format!("rule: {}", words(&rules.radiation)),
                format!("clear sky {:.2} MJ/m²/d", p.clear_sky_mj_m2_d),
                format!("{:.2} MJ/m²/d", p.solar_mj_m2_d),
            )
            .cite(sources[4])
            .step(
                "net radiation",
                "Rn = 0.77 Rs − Rnl, Rnl = σ (Tmax⁴ + Tmin⁴)/2 (0.34 − 0.14 √ea)(1.35 Rs/Rso − 0.35)",
                format!("{:.2} − {:.2}", p.net_shortwave_mj_m2_d, p.net_longwave_mj_m2_d),
                format!("{:.2} MJ/m²/d", p.net_radiation_mj_m2_d),
            )
            .cite(sources[5])
            .step(
                "heat into the ground",
                "0 for a day; for a month 0.07 (T after − T before), or 0.14 (T − T before)",
                "",
                format!("{:.2} MJ/m²/d", p.soil_heat_mj_m2_d),
            )
            .cite(sources[6])
            .step(
                "wind at 2 m",
                "u2 = uz · 4.87 / ln(67.8 z − 5.42), at least 0.5 m/s",
                format!("rule: {}", words(&rules.wind)),
                format!("{wind:.2} m/s"),
            )
            .cite(sources[7])
            .step(
                "reference evapotranspiration",
                "(0.408 Δ (Rn − G) + γ 900/(T + 273) u2 (es − ea)) / (Δ + γ (1 + 0.34 u2))",
                format!(
                    "Δ {:.4}, Rn − G {:.2}, γ {:.4}, T {:.2}, u2 {wind:.2}, es − ea {:.3}",
                    p.slope_kpa_c,
                    p.net_radiation_mj_m2_d - p.soil_heat_mj_m2_d,
                    p.psychrometric_kpa_c,
                    p.mean_c,
                    p.deficit_kpa
                ),
                format!("{:.2} mm/d", answer.value.et0_mm_d),
            )
            .cite(sources[0])
    }
}

/// A rule's name as JSON writes it, with spaces.
fn words<T: Serialize>(rule: &T) -> String {
    match serde_json::to_value(rule) {
        Ok(serde_json::Value::String(name)) => name.replace('_', " "),
        _ => String::new(),
    }
}
