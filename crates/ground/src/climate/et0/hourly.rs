//! Reference evapotranspiration of an hour or a shorter period (FAO-56 eq. 53).

use std::f64::consts::PI;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::equation::{
    ALBEDO, Balance, CALMEST_M_S, STEFAN_BOLTZMANN_DAY, emission, fourth, penman_monteith, wind_factor,
};
use crate::climate::quantities::{
    AirTemperature, DayOfYear, Elevation, Latitude, Longitude, RelativeHumidity, WindHeight, WindSpeed,
};
use crate::climate::site::Surroundings;
use crate::climate::sun::SunDay;
use crate::climate::vapour;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Solar radiation of an hour.
    pub struct HourlySolar: "solar radiation", "MJ/m²/h", 0.0 ..= 5.0, example 2.45;
    /// Clock hours at the middle of the period.
    pub struct MidTime: "clock time at the middle of the period", "h", 0.0 ..= 24.0, example 14.5;
    /// How far the clock runs ahead of universal time.
    pub struct UtcOffset: "offset of the clock from universal time", "h", -12.0 ..= 14.0, example -1.0;
    /// Length of the period.
    pub struct PeriodLength: "length of the period", "h", 0.05 ..= 1.0, example 1.0;
    /// Rs/Rso before sunset.
    pub struct CloudRatio: "ratio of sunlight to clear-sky sunlight", "", 0.0 ..= 1.2, example 0.8;
}

/// Input of `et0-hourly`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HourlyInput {
    /// Latitude, north positive.
    pub latitude_degrees: Latitude,
    /// Longitude, east positive.
    pub longitude_degrees: Longitude,
    /// Height above the sea.
    pub elevation_m: Elevation,
    /// Day of the year.
    pub day_of_year: DayOfYear,
    /// Clock time at the middle of the period, without summer time unless it is in `utc_offset_h`.
    pub mid_time_h: MidTime,
    /// Hours by which that clock runs ahead of universal time; west is negative.
    pub utc_offset_h: UtcOffset,
    /// Length of the period; an hour where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub period_h: Option<PeriodLength>,
    /// Mean temperature of the period.
    pub temperature_c: AirTemperature,
    /// Mean relative humidity of the period.
    pub rh_percent: RelativeHumidity,
    /// Mean wind speed.
    pub wind_m_s: WindSpeed,
    /// Height of the wind measurement; 2 m where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_height_m: Option<WindHeight>,
    /// Solar radiation, per hour.
    pub solar_mj_m2_h: HourlySolar,
    /// Rs/Rso two to three hours before sunset, for the night; without it the middle of the usual range.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub evening_cloud_ratio: Option<CloudRatio>,
    /// Humid or dry surroundings, for a night whose cloud is unknown.
    #[serde(default)]
    pub surroundings: Surroundings,
}

/// Output of `et0-hourly`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct HourlyOutput {
    /// Reference evapotranspiration.
    pub et0_mm_h: f64,
    /// Hour angle of the sun at the middle of the period.
    pub hour_angle_rad: f64,
    /// Sunlight above the air.
    pub extraterrestrial_mj_m2_h: f64,
    /// Sunlight under a clear sky.
    pub clear_sky_mj_m2_h: f64,
    /// The cloud ratio used.
    pub cloud_ratio: f64,
    /// Heat radiated away, net.
    pub net_longwave_mj_m2_h: f64,
    /// Net radiation.
    pub net_radiation_mj_m2_h: f64,
    /// Heat into the ground.
    pub soil_heat_mj_m2_h: f64,
    /// Sun below the horizon at the middle of the period.
    pub night: bool,
}

/// Reference evapotranspiration of an hour.
pub struct HourlyEt0;

/// Seasonal correction of solar time, h (eq. 32-33).
fn equation_of_time_h(day_of_year: f64) -> f64 {
    let b = 2.0 * PI * (day_of_year - 81.0) / 364.0;
    0.1645 * libm::sin(2.0 * b) - 0.1255 * libm::cos(b) - 0.025 * libm::sin(b)
}

/// An angle brought between −π and π.
fn wrapped(angle: f64) -> f64 {
    angle - 2.0 * PI * ((angle + PI) / (2.0 * PI)).floor()
}

impl Method for HourlyEt0 {
    type Input = HourlyInput;
    type Output = HourlyOutput;

    const CARD: Card = Card {
        name: "et0-hourly",
        title: "Reference evapotranspiration of an hour",
        topic: Topic::Climate,
        computes: "Reference evapotranspiration of an hour or part of one from an automatic weather station's readings.",
        validity: &[
            "Periods up to an hour with mean values of that period.",
            "With the sun down the cloud ratio is that of the evening, or 0.5 (humid) or 0.75 (dry surroundings), the \
             middles of the ranges the source gives.",
            "The cloud ratio is held between 0.33 and 1, wind is at least 0.5 m/s, and dew counts as 0.",
        ],
        sources: &[
            Cite::new("Fao56", "eq. 53"),
            Cite::new("Fao56", "eq. 28-33"),
            Cite::new("Fao56", "eq. 39, 45-46; chapter 4"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        HourlyInput {
            latitude_degrees: Latitude::literal(16.0),
            longitude_degrees: Longitude::literal(-16.25),
            elevation_m: Elevation::literal(8.0),
            day_of_year: DayOfYear::literal(274.0),
            mid_time_h: MidTime::literal(14.5),
            utc_offset_h: UtcOffset::literal(-1.0),
            period_h: None,
            temperature_c: AirTemperature::literal(38.0),
            rh_percent: RelativeHumidity::literal(52.0),
            wind_m_s: WindSpeed::literal(3.3),
            wind_height_m: None,
            solar_mj_m2_h: HourlySolar::literal(2.45),
            evening_cloud_ratio: None,
            surroundings: Surroundings::Watered,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let day = input.day_of_year.get();
        let sun = SunDay::new(input.latitude_degrees.get().to_radians(), day);
        let length = input.period_h.map_or(1.0, Bounded::get);
        // The source counts longitudes west, four minutes a degree.
        let zone_west = -15.0 * input.utc_offset_h.get();
        let west = -input.longitude_degrees.get();
        let solar_time = input.mid_time_h.get() + 24.0 / 360.0 * (zone_west - west) + equation_of_time_h(day);
        let hour_angle_rad = wrapped(PI / 12.0 * (solar_time - 12.0));
        let half = PI * length / 24.0;
        let above = sun.extraterrestrial_between_mj_m2(hour_angle_rad - half, hour_angle_rad + half) / length;
        let clear = (0.75 + 2e-5 * input.elevation_m.get()) * above;
        let solar = input.solar_mj_m2_h.get();
        if solar > 1.15 * above + 0.1 {
            return Err(Refusal::new(
                "solar_mj_m2_h",
                "more sunlight is given than reaches the air above this place at this time; check the clock, its offset and the longitude",
            )
            .given(format!("{solar} MJ/m²/h"))
            .accepted(format!("0 to {above:.2} MJ/m²/h"))
            .example(format!("{:.2} MJ/m²/h", 0.5 * above)));
        }
        let night = hour_angle_rad.abs() >= sun.sunset_rad || clear <= 0.0;
        let mut notes = Vec::new();
        let cloud_ratio = match (night, input.evening_cloud_ratio) {
            (false, _) => (solar / clear).min(1.0),
            (true, Some(ratio)) => ratio.get().min(1.0),
            (true, None) => {
                notes.push(Note::new(
                    NoteKind::Adjusted,
                    "The cloud of the night is unknown; the middle of the usual range is taken (FAO-56 chapter 4).",
                ));
                match input.surroundings {
                    Surroundings::Watered => 0.5,
                    Surroundings::Arid => 0.75,
                }
            }
        };
        let t = input.temperature_c.get();
        let saturation = vapour::saturation_kpa(t);
        let actual = saturation * input.rh_percent.get() / 100.0;
        let net_longwave = STEFAN_BOLTZMANN_DAY / 24.0 * fourth(t + 273.16) * emission(actual, cloud_ratio);
        let net_radiation = (1.0 - ALBEDO) * solar - net_longwave;
        let soil_heat = if night { 0.5 } else { 0.1 } * net_radiation;
        let wind =
            input.wind_m_s.get() * input.wind_height_m.map_or(1.0, |height| wind_factor_at(height.get()));
        let raw = penman_monteith(
            &Balance {
                mean_c: t,
                slope_kpa_c: vapour::slope_kpa_c(t),
                psychrometric_kpa_c: vapour::psychrometric_kpa_c(vapour::pressure_kpa(
                    input.elevation_m.get(),
                )),
                available_mj_m2_d: net_radiation - soil_heat,
                wind_2m_m_s: wind.max(CALMEST_M_S),
                deficit_kpa: saturation - actual,
            },
            37.0,
        );
        if raw < 0.0 {
            notes.push(Note::new(NoteKind::Adjusted, "The equation gives dew: 0 is given."));
        }
        Ok(Answer::with_notes(
            HourlyOutput {
                et0_mm_h: raw.max(0.0),
                hour_angle_rad,
                extraterrestrial_mj_m2_h: above,
                clear_sky_mj_m2_h: clear,
                cloud_ratio,
                net_longwave_mj_m2_h: net_longwave,
                net_radiation_mj_m2_h: net_radiation,
                soil_heat_mj_m2_h: soil_heat,
                night,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let v = &answer.value;
        Working::new()
            .step(
                "where the sun stands",
                "ω = π/12 (t + (Lz − Lm)/15 + Sc − 12), longitudes counted west",
                format!("t {} h, day {}", input.mid_time_h.get(), input.day_of_year.get()),
                format!("ω {:.4} rad, Ra {:.3} MJ/m²/h", v.hour_angle_rad, v.extraterrestrial_mj_m2_h),
            )
            .cite(Self::CARD.sources[1])
            .step(
                "net radiation and heat into the ground",
                "Rn = 0.77 Rs − Rnl; G = 0.1 Rn by day, 0.5 Rn by night",
                format!(
                    "0.77 × {} − {:.4}, cloud ratio {:.3}",
                    input.solar_mj_m2_h.get(),
                    v.net_longwave_mj_m2_h,
                    v.cloud_ratio
                ),
                format!("Rn {:.4}, G {:.4} MJ/m²/h", v.net_radiation_mj_m2_h, v.soil_heat_mj_m2_h),
            )
            .cite(Self::CARD.sources[2])
            .step(
                "reference evapotranspiration",
                "(0.408 Δ (Rn − G) + γ 37/(T + 273) u2 (e°(T) − ea)) / (Δ + γ (1 + 0.34 u2))",
                format!("T {} °C, humidity {} %", input.temperature_c.get(), input.rh_percent.get()),
                format!("{:.3} mm/h", v.et0_mm_h),
            )
            .cite(Self::CARD.sources[0])
    }
}

fn wind_factor_at(height_m: f64) -> f64 {
    if (height_m - 2.0).abs() < 1e-9 { 1.0 } else { wind_factor(height_m) }
}
