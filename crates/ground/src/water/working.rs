//! The pencil version of the soil water equations.

use super::equations::{
    MINERAL_DENSITY, SoilWater, SoilWaterInput, air_at_field_capacity, air_entry, field_capacity,
    wilting_point,
};
use crate::kit::{Cite, Working};

const fn eq(at: &'static str) -> Cite {
    Cite::new("SaxtonRawls2006", at)
}

/// The steps from input to soil water.
pub(super) fn steps(input: &SoilWaterInput, water: &SoilWater) -> Working {
    let (s, c, om) = (input.sand_percent / 100.0, input.clay_percent / 100.0, input.organic_matter_percent);
    let soil = format!("S = {s:.4}, C = {c:.4}, OM = {om} %");
    let (wilting, capacity) = (wilting_point(s, c, om), field_capacity(s, c, om));
    let air = air_at_field_capacity(s, c, om);
    let saturation = capacity + air - 0.097 * s + 0.043;
    let density = (1.0 - saturation) * MINERAL_DENSITY;
    let mut working = Working::new()
        .step(
            "water at the wilting point (1500 kPa)",
            "t = −0.024 S + 0.487 C + 0.006 OM + 0.005 S·OM − 0.013 C·OM + 0.068 S·C + 0.031; θ1500 = t + (0.14 t − 0.02)",
            &soil,
            format!("{wilting:.4} m³/m³"),
        )
        .cite(eq("eq. 1"))
        .step(
            "water at field capacity (33 kPa)",
            "t = −0.251 S + 0.195 C + 0.011 OM + 0.006 S·OM − 0.027 C·OM + 0.452 S·C + 0.299; θ33 = t + (1.283 t² − 0.374 t − 0.015)",
            &soil,
            format!("{capacity:.4} m³/m³"),
        )
        .cite(eq("eq. 2"))
        .step(
            "pores that are empty at field capacity",
            "t = 0.278 S + 0.034 C + 0.022 OM − 0.018 S·OM − 0.027 C·OM − 0.584 S·C + 0.078; θ(S−33) = t + (0.636 t − 0.107)",
            &soil,
            format!("{air:.4} m³/m³"),
        )
        .cite(eq("eq. 3"))
        .step(
            "saturation at normal density",
            "θS = θ33 + θ(S−33) − 0.097 S + 0.043",
            format!("{capacity:.4} + {air:.4} − 0.097 × {s:.4} + 0.043"),
            format!("{saturation:.4} m³/m³"),
        )
        .cite(eq("eq. 5"))
        .step(
            "normal density without stones",
            "ρ = (1 − θS) · 2.65",
            format!("(1 − {saturation:.4}) × 2.65"),
            format!("{density:.4} g/cm³"),
        )
        .cite(eq("eq. 6"));
    if input.density_factor != 1.0
        && let (Some(packed), Some(full), Some(held)) =
            (water.matric_density, water.saturation, water.field_capacity)
    {
        working = working
            .step(
                "density and saturation at this packing",
                "ρDF = ρ · DF; θS,DF = 1 − ρDF / 2.65",
                format!("{density:.4} × {}; 1 − {packed:.4} / 2.65", input.density_factor),
                format!("{packed:.4} g/cm³, {full:.4} m³/m³"),
            )
            .cite(eq("eq. 7-8"))
            .step(
                "field capacity at this packing",
                "θ33,DF = θ33 − 0.2 (θS − θS,DF)",
                format!("{capacity:.4} − 0.2 × ({saturation:.4} − {full:.4})"),
                format!("{held:.4} m³/m³"),
            )
            .cite(eq("eq. 9"));
    }
    if let (Some(entry), Some(full), Some(held)) = (water.air_entry, water.saturation, water.field_capacity) {
        let free = if input.density_factor == 1.0 { air } else { full - held };
        working = working
            .step(
                "tension at which air enters",
                "t = −21.67 S − 27.93 C − 81.97 θ(S−33) + 71.12 S·θ(S−33) + 8.29 C·θ(S−33) + 14.05 S·C + 27.16; ψe = t + (0.02 t² − 0.113 t − 0.70), never below 0",
                format!("{soil}, θ(S−33) = {free:.4}: {:.4}", air_entry(s, c, free)),
                format!("{entry:.3} kPa"),
            )
            .cite(eq("eq. 4"));
    }
    working = conductivity_steps(working, water);
    stones_and_salts(working, input, water)
}

fn conductivity_steps(working: Working, water: &SoilWater) -> Working {
    let (Some(exponent), Some(lambda), Some(held), Some(dry), Some(full)) =
        (water.tension_exponent, water.lambda, water.field_capacity, water.wilting_point, water.saturation)
    else {
        return working;
    };
    let working = working
        .step(
            "slope of the tension curve",
            "B = (ln 1500 − ln 33) / (ln θ33 − ln θ1500); λ = 1 / B",
            format!("(ln 1500 − ln 33) / (ln {held:.4} − ln {dry:.4})"),
            format!("B = {exponent:.4}, λ = {lambda:.5}"),
        )
        .cite(eq("eq. 15, 18"));
    let Some(fine) = water.saturated_conductivity_fine_earth else { return working };
    working
        .step(
            "saturated conductivity without stones",
            "Ks = 1930 (θS − θ33)^(3 − λ)",
            format!("1930 × ({full:.4} − {held:.4})^(3 − {lambda:.5})"),
            format!("{fine:.3} mm/h"),
        )
        .cite(eq("eq. 16"))
}

fn stones_and_salts(mut working: Working, input: &SoilWaterInput, water: &SoilWater) -> Working {
    if let (Some(fine), Some(whole), Some(volume)) =
        (water.available_fine_earth, water.available, water.gravel_volume)
    {
        working = working
            .step(
                "water plants can use, stones included",
                "(θ33 − θ1500) · (1 − Rv)",
                format!("{fine:.4} × (1 − {volume:.4})"),
                format!("{whole:.4} m³/m³"),
            )
            .cite(eq("eq. 21"));
    }
    if input.gravel_mass_percent > 0.0
        && let (Some(density), Some(volume), Some(bulk), Some(ratio)) =
            (water.matric_density, water.gravel_volume, water.bulk_density, water.gravel_conductivity_ratio)
    {
        let stones = input.gravel_mass_percent / 100.0;
        let alpha = density / MINERAL_DENSITY;
        working = working
            .step(
                "share of stones by volume",
                "α = ρ / 2.65; Rv = α Rw / (1 − Rw (1 − α))",
                format!("α = {alpha:.4}; {alpha:.4} × {stones} / (1 − {stones} × (1 − {alpha:.4}))"),
                format!("{volume:.4}"),
            )
            .cite(eq("eq. 19"))
            .step(
                "density of the whole soil",
                "ρB = ρ (1 − Rv) + 2.65 Rv",
                format!("{density:.4} × (1 − {volume:.4}) + 2.65 × {volume:.4}"),
                format!("{bulk:.4} g/cm³"),
            )
            .cite(eq("eq. 20"))
            .step(
                "how much stones slow the water",
                "Kb / Ks = (1 − Rw) / (1 − Rw (1 − 3α / 2))",
                format!("(1 − {stones}) / (1 − {stones} × (1 − 1.5 × {alpha:.4}))"),
                format!("{ratio:.4}"),
            )
            .cite(eq("eq. 22"));
    }
    if input.ec_ds_m > 0.0 {
        working = working
            .step(
                "osmotic tension at saturation",
                "ψo = 36 EC",
                format!("36 × {}", input.ec_ds_m),
                format!("{:.1} kPa", water.osmotic_at_saturation),
            )
            .cite(eq("eq. 23"));
    }
    working
}
