//! How much soil a figure speaks of: the layer's mass, and the conventions laboratories count with.

use crate::kit::{Note, NoteKind};

crate::quantity! {
    /// Thickness of the layer that a figure speaks of.
    pub struct FigureDepth: "depth of the layer", "cm", 1.0 ..= 200.0, example 17.0;
    /// Dry bulk density of the layer.
    pub struct FigureDensity: "bulk density", "g/cm³", 0.1 ..= 2.4, example 1.32;
}

/// Kilograms in a pound (exact).
pub const KG_PER_LB: f64 = 0.453_592_37;
/// Square metres in an acre (exact for the international foot).
pub const M2_PER_ACRE: f64 = 4_046.856_422_4;
/// Square metres in a square foot (exact).
pub const M2_PER_FT2: f64 = 0.092_903_04;
/// Centimetres in an inch (exact).
pub const CM_PER_IN: f64 = 2.54;
/// Grams on a square metre in a pound an acre.
pub const G_M2_PER_LB_ACRE: f64 = 1000.0 * KG_PER_LB / M2_PER_ACRE;
/// Grams on a square metre in a pound on 1000 square feet.
pub const G_M2_PER_LB_1000FT2: f64 = KG_PER_LB / M2_PER_FT2;

/// The soil that laboratories count an acre's plough layer as, lb: pounds an acre are then twice the ppm.
pub const DOUBLE_BASIS_LB_ACRE: f64 = 2_000_000.0;
/// The depth that this mass is meant for, cm: 6 2/3 in.
pub const DOUBLE_BASIS_DEPTH_CM: f64 = 20.0 / 3.0 * CM_PER_IN;
/// Depths that laboratories call the plough layer and count with the same mass, cm: 6 to 7 in.
const PLOUGH_LAYER_CM: std::ops::RangeInclusive<f64> = 15.0..=18.0;
/// Departure of a bed's soil from the laboratory's above which pounds an acre mislead (judgement).
pub const WORTH_A_WARNING: f64 = 0.15;

/// Mass of a layer of soil, kg/m².
#[must_use]
pub fn soil_mass_kg_m2(depth_cm: f64, density_g_cm3: f64) -> f64 {
    10.0 * depth_cm * density_g_cm3
}

/// The mass of [`DOUBLE_BASIS_LB_ACRE`], kg/m².
#[must_use]
pub fn double_basis_kg_m2() -> f64 {
    DOUBLE_BASIS_LB_ACRE * KG_PER_LB / M2_PER_ACRE
}

/// The mass a laboratory counts with, kg/m²: by the density it states; else the plough layer as two million
/// pounds an acre, and other depths in proportion to 6 2/3 in.
#[must_use]
pub fn laboratory_mass_kg_m2(depth_cm: f64, density_g_cm3: Option<f64>) -> f64 {
    match density_g_cm3 {
        Some(density) => soil_mass_kg_m2(depth_cm, density),
        None if PLOUGH_LAYER_CM.contains(&depth_cm) => double_basis_kg_m2(),
        None => double_basis_kg_m2() * depth_cm / DOUBLE_BASIS_DEPTH_CM,
    }
}

/// The layer's soil over that of the laboratory's two million pounds an acre.
#[must_use]
pub fn over_double_basis(depth_cm: f64, density_g_cm3: f64) -> f64 {
    soil_mass_kg_m2(depth_cm, density_g_cm3) / double_basis_kg_m2()
}

/// Says it where a layer holds so much more or less soil that "twice the ppm" misleads.
#[must_use]
pub fn basis_note(depth_cm: f64, density_g_cm3: f64) -> Option<Note> {
    let over = over_double_basis(depth_cm, density_g_cm3);
    ((over - 1.0).abs() > WORTH_A_WARNING).then(|| {
        let million = over * DOUBLE_BASIS_LB_ACRE / 1e6;
        let side = if over > 1.0 { "understates" } else { "overstates" };
        Note::new(
            NoteKind::Method,
            format!(
                "This layer holds {million:.2} million pounds of soil an acre. A laboratory that doubles its ppm counts \
                 2 million and {side} what the layer holds by {:.0} %.",
                100.0 * (1.0 / over - 1.0).abs()
            ),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conventions_meet_at_the_plough_layer() {
        // 226 614 lb of soil on an acre-inch at 1 g/cm³, from the exact pound, acre and inch.
        let per_acre = soil_mass_kg_m2(CM_PER_IN, 1.0) * M2_PER_ACRE / KG_PER_LB;
        assert!((per_acre - 226_614.0).abs() < 1.0, "{per_acre}");
        // 2 million pounds is 6 2/3 in at 1.32 g/cm³, or 6 in at 1.47.
        for (depth_in, density) in [(20.0 / 3.0, 1.324), (6.0, 1.471)] {
            assert!((over_double_basis(depth_in * CM_PER_IN, density) - 1.0).abs() < 0.001);
        }
        assert_eq!(laboratory_mass_kg_m2(15.24, None), double_basis_kg_m2());
        assert!(
            (laboratory_mass_kg_m2(2.0 * DOUBLE_BASIS_DEPTH_CM, None) / double_basis_kg_m2() - 2.0).abs()
                < 1e-9
        );
        assert_eq!(laboratory_mass_kg_m2(20.0, Some(1.2)), 240.0);
    }

    #[test]
    fn a_deep_loose_bed_is_warned_of() {
        // 12 in at 1.1 g/cm³ hold 2.99 million pounds: "twice" understates by a third.
        let note = basis_note(30.48, 1.1).unwrap();
        assert!(note.text.contains("2.99 million") && note.text.contains("understates"), "{}", note.text);
        assert_eq!(basis_note(DOUBLE_BASIS_DEPTH_CM, 1.32), None);
        assert!(basis_note(10.0, 0.6).unwrap().text.contains("overstates"));
    }
}
