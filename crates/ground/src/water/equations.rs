//! Soil water from texture and organic matter: the equations themselves, for hot paths.
//!
//! # Method
//! Saxton and Rawls 2006 [SaxtonRawls2006], equations 1-10, 14-16 and 18-23. Sand and clay enter as
//! decimal fractions and organic matter in percent: only so is the paper's Table 3 reproduced.
//!
//! # Differences from the paper
//! * A negative air entry (sands, and much organic matter) is taken as 0 and flagged.
//! * A wilting point below 0 (sand with next to no clay or organic matter) is taken as 0 and flagged.
//! * Under compaction the air entry (eq. 4) uses the compacted air-filled porosity of eq. 10; the
//!   paper does not say.
//! * Where the equations contradict themselves there is no value, and a flag says why.

/// Density of soil minerals, g/cm³.
pub const MINERAL_DENSITY: f64 = 2.65;
/// Tension of field capacity, kPa.
pub const FIELD_CAPACITY_KPA: f64 = 33.0;
/// Tension of the wilting point, kPa.
pub const WILTING_KPA: f64 = 1500.0;
/// Osmotic tension of the saturation extract per unit of electrical conductivity, kPa per dS/m (eq. 23).
pub const OSMOTIC_KPA_PER_DS_M: f64 = 36.0;
/// Clay above this was not in the data behind the equations, percent.
pub const CLAY_LIMIT: f64 = 60.0;
/// Organic matter above this was not in the data behind the equations, percent.
pub const ORGANIC_MATTER_LIMIT: f64 = 8.0;
/// Density factors the paper covers.
pub const DENSITY_FACTOR_RANGE: std::ops::RangeInclusive<f64> = 0.9..=1.3;

/// What the equations are given. The caller holds valid numbers; [`soil_water`] never panics on any.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SoilWaterInput {
    /// Sand, percent of the fine earth by mass.
    pub sand_percent: f64,
    /// Clay, percent of the fine earth by mass.
    pub clay_percent: f64,
    /// Organic matter, percent of the fine earth by mass.
    pub organic_matter_percent: f64,
    /// Gravel and stones (> 2 mm), percent of the whole soil by mass.
    pub gravel_mass_percent: f64,
    /// Density relative to the normal density of that texture: above 1 compacted, below 1 loosened.
    pub density_factor: f64,
    /// Electrical conductivity of the saturation extract, dS/m.
    pub ec_ds_m: f64,
}

/// What stands in the way of a plain answer. Each is told to the reader as a note.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
#[expect(clippy::struct_excessive_bools, reason = "independent remarks, each shown by itself")]
pub struct Flags {
    /// Clay above 60 %.
    pub clay_outside: bool,
    /// Organic matter above 8 %.
    pub organic_matter_outside: bool,
    /// Density factor outside 0.9 to 1.3.
    pub density_factor_outside: bool,
    /// Fine-earth density outside 1.0 to 1.8 g/cm³.
    pub density_outside: bool,
    /// The equations give no possible soil at all; no value is given.
    pub impossible: bool,
    /// A negative wilting point was taken as 0.
    pub wilting_point_raised: bool,
    /// The wilting point is not below field capacity; no available water.
    pub nothing_available: bool,
    /// No air is left at field capacity; no conductivity.
    pub airless: bool,
    /// A negative air entry was taken as 0.
    pub air_entry_raised: bool,
    /// The air entry is not below 33 kPa; none is given.
    pub air_entry_too_high: bool,
}

impl Flags {
    /// Whether any input or the density lies outside the range of the data behind the equations.
    #[must_use]
    pub fn outside_range(self) -> bool {
        self.clay_outside
            || self.organic_matter_outside
            || self.density_factor_outside
            || self.density_outside
    }
}

/// The water of a soil. Water contents are volume fractions; `None` is "no value".
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct SoilWater {
    /// Water held at 1500 kPa, of the soil without stones (eq. 1).
    pub wilting_point: Option<f64>,
    /// Water held at 33 kPa, of the soil without stones (eq. 2, 9).
    pub field_capacity: Option<f64>,
    /// All pores, of the soil without stones (eq. 5, 8).
    pub saturation: Option<f64>,
    /// Field capacity less wilting point, of the soil without stones.
    pub available_fine_earth: Option<f64>,
    /// The same of the whole soil, stones included (eq. 21).
    pub available: Option<f64>,
    /// Saturated conductivity of the whole soil, mm/h (eq. 16, 22).
    pub saturated_conductivity: Option<f64>,
    /// Saturated conductivity without stones, mm/h (eq. 16).
    pub saturated_conductivity_fine_earth: Option<f64>,
    /// Dry density of the whole soil, g/cm³ (eq. 20).
    pub bulk_density: Option<f64>,
    /// Dry density without stones, g/cm³ (eq. 6, 7).
    pub matric_density: Option<f64>,
    /// Tension at which air enters, kPa (eq. 4).
    pub air_entry: Option<f64>,
    /// Coefficient A of tension = A θ^−B, kPa (eq. 14).
    pub tension_coefficient: Option<f64>,
    /// Exponent B (eq. 15).
    pub tension_exponent: Option<f64>,
    /// Slope of the logarithmic tension-moisture curve, λ = 1/B (eq. 18).
    pub lambda: Option<f64>,
    /// Stones, share of the whole soil by volume (eq. 19).
    pub gravel_volume: Option<f64>,
    /// Conductivity of the whole soil over that without stones (eq. 22).
    pub gravel_conductivity_ratio: Option<f64>,
    /// Osmotic tension at saturation, kPa (eq. 23).
    pub osmotic_at_saturation: f64,
    /// What stands in the way.
    pub flags: Flags,
}

/// Wilting point before any guard (eq. 1).
pub(super) fn wilting_point(s: f64, c: f64, om: f64) -> f64 {
    let t = -0.024 * s + 0.487 * c + 0.006 * om + 0.005 * s * om - 0.013 * c * om + 0.068 * s * c + 0.031;
    t + (0.14 * t - 0.02)
}

/// Field capacity at normal density before any guard (eq. 2).
pub(super) fn field_capacity(s: f64, c: f64, om: f64) -> f64 {
    let t = -0.251 * s + 0.195 * c + 0.011 * om + 0.006 * s * om - 0.027 * c * om + 0.452 * s * c + 0.299;
    t + (1.283 * t * t - 0.374 * t - 0.015)
}

/// Saturation less field capacity at normal density (eq. 3).
pub(super) fn air_at_field_capacity(s: f64, c: f64, om: f64) -> f64 {
    let t = 0.278 * s + 0.034 * c + 0.022 * om - 0.018 * s * om - 0.027 * c * om - 0.584 * s * c + 0.078;
    t + (0.636 * t - 0.107)
}

/// Air entry before any guard (eq. 4).
pub(super) fn air_entry(s: f64, c: f64, air: f64) -> f64 {
    let t = -21.67 * s - 27.93 * c - 81.97 * air + 71.12 * s * air + 8.29 * c * air + 14.05 * s * c + 27.16;
    t + (0.02 * t * t - 0.113 * t - 0.70)
}

/// Dry density of this texture and organic matter at its normal packing, without stones, g/cm³
/// (eq. 6). A measured density over this one is the density factor (eq. 7).
#[must_use]
pub fn normal_density(sand_percent: f64, clay_percent: f64, organic_matter_percent: f64) -> f64 {
    let (s, c, om) = (sand_percent / 100.0, clay_percent / 100.0, organic_matter_percent);
    let saturation = field_capacity(s, c, om) + air_at_field_capacity(s, c, om) - 0.097 * s + 0.043;
    (1.0 - saturation) * MINERAL_DENSITY
}

/// Share of stones by volume from their share by mass (eq. 19); both 0 to 1.
#[must_use]
pub fn gravel_volume(gravel_mass: f64, matric_density: f64) -> f64 {
    let alpha = matric_density / MINERAL_DENSITY;
    alpha * gravel_mass / (1.0 - gravel_mass * (1.0 - alpha))
}

/// Share of stones by mass from their share by volume: eq. 19 turned round.
#[must_use]
pub fn gravel_mass(gravel_volume: f64, matric_density: f64) -> f64 {
    let alpha = matric_density / MINERAL_DENSITY;
    gravel_volume / (alpha + gravel_volume * (1.0 - alpha))
}

/// All the equations for one soil.
#[must_use]
pub fn soil_water(input: &SoilWaterInput) -> SoilWater {
    let (s, c, om) = (input.sand_percent / 100.0, input.clay_percent / 100.0, input.organic_matter_percent);
    let mut water = SoilWater {
        osmotic_at_saturation: OSMOTIC_KPA_PER_DS_M * input.ec_ds_m,
        flags: Flags {
            clay_outside: input.clay_percent > CLAY_LIMIT,
            organic_matter_outside: om > ORGANIC_MATTER_LIMIT,
            density_factor_outside: !DENSITY_FACTOR_RANGE.contains(&input.density_factor),
            ..Flags::default()
        },
        ..SoilWater::default()
    };

    let mut wilting = wilting_point(s, c, om);
    let mut capacity = field_capacity(s, c, om);
    let mut air = air_at_field_capacity(s, c, om);
    let normal_saturation = capacity + air - 0.097 * s + 0.043;
    let density = (1.0 - normal_saturation) * MINERAL_DENSITY * input.density_factor;
    let saturation = 1.0 - density / MINERAL_DENSITY;
    if input.density_factor != 1.0 {
        capacity -= 0.2 * (normal_saturation - saturation);
        air = saturation - capacity;
    }
    if !(0.1..=0.9).contains(&saturation) || !(0.0..0.9).contains(&capacity) || !wilting.is_finite() {
        water.flags.impossible = true;
        return water;
    }
    if wilting <= 0.0 {
        wilting = 0.0;
        water.flags.wilting_point_raised = true;
    }
    water.wilting_point = Some(wilting);
    water.field_capacity = Some(capacity);
    water.saturation = Some(saturation);
    water.matric_density = Some(density);
    water.flags.density_outside = !(1.0..=1.8).contains(&density);

    let stones = input.gravel_mass_percent / 100.0;
    let alpha = density / MINERAL_DENSITY;
    let volume = gravel_volume(stones, density);
    let ratio = (1.0 - stones) / (1.0 - stones * (1.0 - 1.5 * alpha));
    water.gravel_volume = Some(volume);
    water.gravel_conductivity_ratio = Some(ratio);
    water.bulk_density = Some(density * (1.0 - volume) + MINERAL_DENSITY * volume);

    if wilting < capacity {
        water.available_fine_earth = Some(capacity - wilting);
        water.available = Some((capacity - wilting) * (1.0 - volume));
    } else {
        water.flags.nothing_available = true;
    }
    water.flags.airless = saturation <= capacity;
    if !water.flags.airless {
        let entry = air_entry(s, c, air);
        water.flags.air_entry_raised = entry < 0.0;
        water.flags.air_entry_too_high = entry >= FIELD_CAPACITY_KPA;
        water.air_entry = (!water.flags.air_entry_too_high).then_some(entry.max(0.0));
    }
    if wilting > 0.0 && wilting < capacity {
        let span = libm::log(WILTING_KPA) - libm::log(FIELD_CAPACITY_KPA);
        let log_capacity = libm::log(capacity);
        let exponent = span / (log_capacity - libm::log(wilting));
        let lambda = 1.0 / exponent;
        water.tension_exponent = Some(exponent);
        water.tension_coefficient = Some(libm::exp(libm::log(FIELD_CAPACITY_KPA) + exponent * log_capacity));
        water.lambda = Some(lambda);
        // From λ = 3 on eq. 16 would make a tighter soil faster.
        if !water.flags.airless && lambda < 3.0 {
            let fine = 1930.0 * libm::pow(saturation - capacity, 3.0 - lambda);
            water.saturated_conductivity_fine_earth = Some(fine);
            water.saturated_conductivity = Some(fine * ratio);
        }
    }
    water
}

#[cfg(test)]
mod tests {
    use super::*;

    fn soil(sand_percent: f64, clay_percent: f64, organic_matter_percent: f64) -> SoilWaterInput {
        SoilWaterInput {
            sand_percent,
            clay_percent,
            organic_matter_percent,
            gravel_mass_percent: 0.0,
            density_factor: 1.0,
            ec_ds_m: 0.0,
        }
    }

    #[test]
    fn no_soil_gives_a_number_that_is_not_finite() {
        for sand in 0..=20 {
            for clay in 0..=(20 - sand) {
                for om in [0.0, 0.5, 2.5, 8.0, 12.0, 30.0] {
                    for density_factor in [0.7, 0.9, 1.0, 1.2, 1.5] {
                        for gravel in [0.0, 40.0, 95.0] {
                            let water = soil_water(&SoilWaterInput {
                                density_factor,
                                gravel_mass_percent: gravel,
                                ..soil(f64::from(sand) * 5.0, f64::from(clay) * 5.0, om)
                            });
                            for value in values(&water).into_iter().flatten() {
                                assert!(value.is_finite() && value >= 0.0, "{water:?}");
                            }
                            if let Some(entry) = water.air_entry {
                                assert!(entry < 33.0);
                            }
                            if let (Some(low), Some(high)) = (water.wilting_point, water.field_capacity) {
                                assert_eq!(low < high, water.available.is_some());
                            }
                        }
                    }
                }
            }
        }
    }

    fn values(water: &SoilWater) -> [Option<f64>; 14] {
        [
            water.wilting_point,
            water.field_capacity,
            water.saturation,
            water.available_fine_earth,
            water.available,
            water.saturated_conductivity,
            water.saturated_conductivity_fine_earth,
            water.bulk_density,
            water.matric_density,
            water.air_entry,
            water.tension_coefficient,
            water.tension_exponent,
            water.lambda,
            water.gravel_volume,
        ]
    }

    #[test]
    fn known_breaks_are_guarded_and_flagged() {
        assert!(soil_water(&soil(88.0, 5.0, 2.5)).flags.air_entry_raised);
        assert_eq!(soil_water(&soil(88.0, 5.0, 2.5)).air_entry, Some(0.0));
        let airless = soil_water(&soil(40.0, 60.0, 5.0));
        assert!(airless.flags.airless && airless.saturated_conductivity.is_none());
        let poor = soil_water(&soil(90.0, 0.0, 0.5));
        assert!(poor.flags.wilting_point_raised && poor.saturated_conductivity.is_none());
        for (sand, clay, density_factor) in [(50.0, 40.0, 1.2), (25.0, 50.0, 1.2), (30.0, 35.0, 1.3)] {
            let pressed = soil_water(&SoilWaterInput { density_factor, ..soil(sand, clay, 2.5) });
            assert!(pressed.flags.airless && pressed.saturated_conductivity.is_none(), "{sand} {clay}");
        }
    }

    #[test]
    fn stones_by_volume_and_by_mass_are_the_same_stones() {
        for mass in [0.0, 0.1, 0.3, 0.9, 1.0] {
            let back = gravel_mass(gravel_volume(mass, 1.43), 1.43);
            assert!((back - mass).abs() < 1e-12, "{mass} {back}");
        }
    }
}
