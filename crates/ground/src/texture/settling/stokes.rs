//! Stokes' law, slowed by crowding.
//!
//! # Method
//! A small grain falls at v = g (ρs - ρw) d² / (18 µ) [Stokes1851]. In a crowd it falls at
//! v (1 - φ)^4.65, φ the share of the volume that is solid [RichardsonZaki1954]. Above a Reynolds
//! number of about 0.2 the law is too fast, by about 3/16 of that number at first [Oseen1910].

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::water;
use crate::kit::{Bounded, Cite, Note, NoteKind, Working};

crate::quantity! {
    /// Equivalent diameter of a grain: of the quartz sphere that falls as fast.
    pub struct GrainDiameter: "grain diameter", "µm", 0.05 ..= 2000.0, example 50.0;
    /// Depth of still water that a grain falls through.
    pub struct FallDepth: "depth of fall", "mm", 1.0 ..= 5000.0, example 100.0;
    /// Time that a grain falls.
    pub struct FallTime: "time of fall", "s", 1.0 ..= 31536000.0, example 7200.0;
    /// Density of the solid grains.
    pub struct ParticleDensity: "particle density", "kg/m³", 1100.0 ..= 5500.0, example 2650.0;
    /// Share of the suspension's volume that is solid grains.
    pub struct SolidsVolumeFraction: "solids volume fraction", "", 0.0 ..= 0.4, example 0.1;
}

/// Standard acceleration of gravity, m/s².
pub const GRAVITY_M_S2: f64 = 9.806_65;
/// Density of quartz and of most soil minerals, kg/m³: the convention of particle-size analysis.
pub const MINERAL_DENSITY_KG_M3: f64 = 2650.0;
/// Exponent of hindered settling for slow, small grains.
pub const CROWDING_EXPONENT: f64 = 4.65;
/// Reynolds number up to which Stokes' law is taken as it stands.
pub const REYNOLDS_LIMIT: f64 = 0.2;

/// Reynolds number up to which Oseen's first correction says by how much the law is off.
const OSEEN_LIMIT: f64 = 1.0;

/// Source of the law.
pub const STOKES: Cite = Cite::new("Stokes1851", "terminal velocity of a sphere");
/// Source of the slowing by crowding.
pub const CROWDING: Cite = Cite::new("RichardsonZaki1954", "exponent 4.65 at low Reynolds numbers");
/// Source of the law's limit.
pub const LIMIT: Cite = Cite::new("Oseen1910", "drag factor 1 + 3/16 Re");
/// Sources of both settling methods.
pub(super) const SOURCES: &[Cite] =
    &[STOKES, CROWDING, LIMIT, Cite::new("Huber2009", "viscosity"), Cite::new("Tanaka2001", "density")];

/// Still water and the crowd in it: all that decides how fast a grain of known size falls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fall {
    /// Viscosity of the water.
    pub viscosity_pa_s: f64,
    /// Density of the water.
    pub water_kg_m3: f64,
    /// Density of the grains.
    pub particle_kg_m3: f64,
    /// Speed in the crowd over the speed alone: 1 when dilute.
    pub slowing: f64,
}

impl Fall {
    /// Water at a temperature, grains of a density, and the solid share of the suspension's volume.
    #[must_use]
    pub fn new(temperature_c: f64, particle_kg_m3: f64, solids_volume_fraction: f64) -> Self {
        Self {
            viscosity_pa_s: water::viscosity_pa_s(temperature_c),
            water_kg_m3: water::density_kg_m3(temperature_c),
            particle_kg_m3,
            slowing: slowing(solids_volume_fraction),
        }
    }

    /// The same water and grains in another crowd.
    #[must_use]
    pub fn crowded(self, solids_volume_fraction: f64) -> Self {
        Self { slowing: slowing(solids_volume_fraction), ..self }
    }

    /// Speed per squared diameter, 1/(m s).
    fn per_square(&self) -> f64 {
        GRAVITY_M_S2 * (self.particle_kg_m3 - self.water_kg_m3) / (18.0 * self.viscosity_pa_s) * self.slowing
    }

    /// Speed of fall in m/s of a grain of this diameter.
    #[must_use]
    pub fn velocity_m_s(&self, diameter_um: f64) -> f64 {
        let metres = diameter_um * 1e-6;
        self.per_square() * metres * metres
    }

    /// Time in seconds to fall through a depth.
    #[must_use]
    pub fn time_s(&self, diameter_um: f64, depth_mm: f64) -> f64 {
        depth_mm * 1e-3 / self.velocity_m_s(diameter_um)
    }

    /// Diameter in µm of the grain that just falls through a depth in a time. All coarser grains are
    /// down by then.
    #[must_use]
    pub fn cut_um(&self, time_s: f64, depth_mm: f64) -> f64 {
        (depth_mm * 1e-3 / (time_s * self.per_square())).sqrt() * 1e6
    }

    /// Speed of a grain of this diameter, and the slowing.
    pub(super) fn details(&self, diameter_um: f64) -> FallDetails {
        FallDetails { velocity_mm_s: 1000.0 * self.velocity_m_s(diameter_um), slowing: self.slowing }
    }

    /// Reynolds number of the grain's fall.
    #[must_use]
    pub fn reynolds(&self, diameter_um: f64) -> f64 {
        self.water_kg_m3 * self.velocity_m_s(diameter_um) * diameter_um * 1e-6 / self.viscosity_pa_s
    }
}

/// Speed in a crowd over the speed alone [RichardsonZaki1954].
#[must_use]
pub fn slowing(solids_volume_fraction: f64) -> f64 {
    if solids_volume_fraction <= 0.0 {
        return 1.0;
    }
    libm::pow(1.0 - solids_volume_fraction, CROWDING_EXPONENT)
}

/// What both settling methods ask beside size, time and depth.
#[derive(Debug, Clone, Copy)]
pub(super) struct Suspension {
    pub(super) temperature_c: f64,
    pub(super) particle_kg_m3: f64,
    pub(super) solids: f64,
}

impl Suspension {
    pub(super) fn new(
        temperature: water::WaterTemperature,
        particle: Option<ParticleDensity>,
        solids: Option<SolidsVolumeFraction>,
    ) -> Self {
        Self {
            temperature_c: temperature.get(),
            particle_kg_m3: particle.map_or(MINERAL_DENSITY_KG_M3, Bounded::get),
            solids: solids.map_or(0.0, Bounded::get),
        }
    }

    pub(super) fn fall(self) -> Fall {
        Fall::new(self.temperature_c, self.particle_kg_m3, self.solids)
    }

    /// The steps that both methods share: the water, and the crowd where there is one.
    pub(super) fn working(self) -> Working {
        let fall = self.fall();
        let water = Working::new()
            .step(
                "viscosity and density of the water",
                "method water-viscosity",
                format!("T = {} °C", self.temperature_c),
                format!("µ = {:.4} mPa s, ρw = {:.2} kg/m³", 1000.0 * fall.viscosity_pa_s, fall.water_kg_m3),
            )
            .cite(Cite::new("Huber2009", "correlating equation for the liquid at 0.1 MPa"));
        if self.solids > 0.0 {
            water
                .step(
                    "slowing by crowding",
                    "(1 - φ)^4.65",
                    format!("(1 - {})^4.65", self.solids),
                    format!("grains fall at {:.3} of their speed alone", fall.slowing),
                )
                .cite(CROWDING)
        } else {
            water
        }
    }

    /// The step that both methods end with: whether the law holds for this grain.
    pub(super) fn with_limit(self, working: Working, diameter_um: f64) -> Working {
        let fall = self.fall();
        working
            .step(
                "Reynolds number, which should stay below about 0.2",
                "Re = ρw v d / µ",
                format!("v = {:.5} mm/s, d = {diameter_um:.4} µm", 1000.0 * fall.velocity_m_s(diameter_um)),
                format!("{:.2e}", fall.reynolds(diameter_um)),
            )
            .cite(LIMIT)
    }

    /// Remarks on the limits of the law for a grain of this size.
    pub(super) fn notes(self, diameter_um: f64) -> Vec<Note> {
        let mut notes = Vec::new();
        let reynolds = self.fall().reynolds(diameter_um);
        if reynolds > REYNOLDS_LIMIT {
            let slower = if reynolds <= OSEEN_LIMIT {
                format!("by about {:.0} %", 100.0 * (3.0 / 16.0) * reynolds / (1.0 + (3.0 / 16.0) * reynolds))
            } else {
                "by far more than its first correction can tell".to_owned()
            };
            notes.push(Note::new(
                NoteKind::OutsideRange,
                format!(
                    "Grains this coarse stir the water (Reynolds number {reynolds:.2}, limit about {REYNOLDS_LIMIT}): \
                     they really fall more slowly than Stokes' law says, {slower}. Sand this coarse is better sieved."
                ),
            ));
        }
        if diameter_um < 1.0 {
            notes.push(Note::new(
                NoteKind::OutsideRange,
                "Below about 1 µm the jostling of the water and its slow currents matter as much as the fall: \
                 take this as a rough figure.",
            ));
        }
        if self.solids > 0.0 {
            notes.push(Note::new(
                NoteKind::Provenance,
                "The slowing by crowding uses a published exponent recalled from memory and measured on grains \
                 of one size; a soil is a mix.",
            ));
        }
        notes
    }
}

/// What the law gives besides the number asked for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FallDetails {
    /// Speed of fall.
    pub velocity_mm_s: f64,
    /// Speed in the crowd over the speed alone.
    pub slowing: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn time_and_cut_follow_an_independent_table() {
        // Computed outside this program with the same published viscosity: 15 °C, 15 cm: 50 µm 75.9 s, 2 µm 13.174 h, cut at 2 h 5.13 µm.
        let fall = Fall::new(15.0, MINERAL_DENSITY_KG_M3, 0.0);
        assert!((fall.time_s(50.0, 150.0) - 75.9).abs() < 0.05);
        assert!((fall.time_s(2.0, 150.0) / 3600.0 - 13.174).abs() < 0.0005);
        assert!((fall.cut_um(7200.0, 150.0) - 5.13).abs() < 0.005);
    }

    proptest! {
        #[test]
        fn cut_undoes_time(d in 0.05..2000.0, depth in 1.0..5000.0, t in 0.0..40.0, solids in 0.0..0.4) {
            let fall = Fall::new(t, MINERAL_DENSITY_KG_M3, solids);
            let back = fall.cut_um(fall.time_s(d, depth), depth);
            prop_assert!((back / d - 1.0).abs() < 1e-12);
        }

        #[test]
        fn coarser_warmer_and_sparser_fall_faster(d in 0.1..1000.0, t in 0.0..39.0, solids in 0.0..0.39) {
            let at = |d: f64, t: f64, solids: f64| Fall::new(t, MINERAL_DENSITY_KG_M3, solids).velocity_m_s(d);
            let here = at(d, t, solids);
            prop_assert!(at(d * 1.01, t, solids) > here);
            prop_assert!(at(d, t + 1.0, solids) > here);
            prop_assert!(at(d, t, solids + 0.01) < here);
        }
    }
}
