//! What was seen: one variant for each kind of evidence, each with the reading as it was made.

mod building;
mod intake;
mod jar;
mod layers;
mod moisture;
mod properties;
mod signs;
mod soil_structure;

use ground::fertility::analysis::report::LabReport;
use ground::kit::{Method, Refusal};
use ground::structure::spade::slake::{SlakeInput, SlakeTest};
use ground::texture::feel::{self, FeelReading};
use ground::texture::hydrometer::{self, HydrometerReading};
use ground::texture::kitchen_scale::{self, KitchenScaleReading};
use ground::texture::lab::{self, LabTexture};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use building::{BuildingGround, PlasticLimit, Thread};
pub use intake::{
    HoleDepth, HoleDiameter, IntakeMinutes, Percolation, Ring, RingDepth, RingDiameter, RingInfiltration,
    RingVolume, RingWater, WaterFall,
};
pub use jar::JarSeen;
pub use layers::{Layer, Layers, MOST_LAYERS};
pub use moisture::{Moisture, MoistureFeel, MoistureReading, SoilTension, VolumetricWater};
pub use properties::{
    BulkDensity, CoreMass, CoreVolume, DensityFactor, ElectricalConductivity, Gravel, GravelMass,
    GravelVolume, OrganicMatter, OrganicMatterMethod, OrganicMatterPercent, Packing, PackingWords, Salinity,
    SalinityExtract,
};
pub use signs::{Amount, CrackWidth, CrustThickness, DaysOfWater, Sign, SignDepth, Signs, Smell};
pub use soil_structure::{
    DensityCores, MOST_CORES, MOST_POINTS, ProbePoint, ProbeSeen, SpadeBlock, WhenWorked, WorkingTest,
};

/// What was seen.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum Seen {
    /// A jar of settled soil, finished or still settling.
    Jar(JarSeen),
    /// Sieve, settle, weigh.
    KitchenScale(KitchenScaleReading),
    /// Texture by feel.
    Feel(FeelReading),
    /// Two hydrometer readings.
    Hydrometer(HydrometerReading),
    /// A laboratory's sand, silt and clay.
    LabTexture(LabTexture),
    /// Organic matter.
    OrganicMatter(OrganicMatter),
    /// Gravel and stones.
    Gravel(Gravel),
    /// How tightly the ground is packed.
    Packing(Packing),
    /// Salts.
    Salinity(Salinity),
    /// What the eye, the spade and the boot found.
    Signs(Signs),
    /// How moist the ground was.
    Moisture(Moisture),
    /// Water timed in rings at the surface.
    RingInfiltration(RingInfiltration),
    /// Water timed in a soaked hole.
    Percolation(Percolation),
    /// The layers of the ground.
    Layers(Layers),
    /// A laboratory's report on acidity, nutrients and salts.
    LabReport(LabReport),
    /// A probe pushed in at several points.
    Probe(ProbeSeen),
    /// Cores of known volume.
    Cores(DensityCores),
    /// A block dug with the spade.
    Spade(SpadeBlock),
    /// Dry crumbs put into water.
    Slake(SlakeInput),
    /// A handful from working depth, and how the ground worked.
    Working(WorkingTest),
    /// Ground to build on.
    BuildingGround(BuildingGround),
}

impl Seen {
    /// Its name in the file.
    #[must_use]
    pub fn what(&self) -> &'static str {
        match self {
            Self::Jar(_) => "jar",
            Self::KitchenScale(_) => "kitchen_scale",
            Self::Feel(_) => "feel",
            Self::Hydrometer(_) => "hydrometer",
            Self::LabTexture(_) => "lab_texture",
            Self::OrganicMatter(_) => "organic_matter",
            Self::Gravel(_) => "gravel",
            Self::Packing(_) => "packing",
            Self::Salinity(_) => "salinity",
            Self::Signs(_) => "signs",
            Self::Moisture(_) => "moisture",
            Self::RingInfiltration(_) => "ring_infiltration",
            Self::Percolation(_) => "percolation",
            Self::Layers(_) => "layers",
            Self::LabReport(_) => "lab_report",
            Self::Probe(_) => "probe",
            Self::Cores(_) => "cores",
            Self::Spade(_) => "spade",
            Self::Slake(_) => "slake",
            Self::Working(_) => "working",
            Self::BuildingGround(_) => "building_ground",
        }
    }

    /// Its name for people.
    #[must_use]
    pub fn label(&self) -> &'static str {
        match self {
            Self::Jar(_) => "jar test",
            Self::KitchenScale(_) => "sieve and kitchen scale",
            Self::Feel(_) => "feel test",
            Self::Hydrometer(_) => "hydrometer",
            Self::LabTexture(_) => "lab texture",
            Self::OrganicMatter(_) => "organic matter",
            Self::Gravel(_) => "gravel and stones",
            Self::Packing(_) => "packing",
            Self::Salinity(_) => "salts",
            Self::Signs(_) => "signs in the field",
            Self::Moisture(_) => "soil moisture",
            Self::RingInfiltration(_) => "ring infiltration",
            Self::Percolation(_) => "percolation test",
            Self::Layers(_) => "layers of the ground",
            Self::LabReport(_) => "soil test",
            Self::Probe(_) => "probe transect",
            Self::Cores(_) => "density cores",
            Self::Spade(_) => "spade block",
            Self::Slake(_) => "slake test",
            Self::Working(_) => "working test",
            Self::BuildingGround(_) => "ground to build on",
        }
    }

    /// Does it speak of sand, silt and clay?
    #[must_use]
    pub fn tells_texture(&self) -> bool {
        matches!(
            self,
            Self::Jar(_) | Self::KitchenScale(_) | Self::Feel(_) | Self::Hydrometer(_) | Self::LabTexture(_)
        )
    }

    /// Checks what the reading types cannot: what no version of the book may hold.
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        match self {
            Self::Jar(jar) => jar.check(),
            Self::Signs(signs) => signs.check(),
            Self::Moisture(moisture) => moisture.check(),
            Self::RingInfiltration(rings) => rings.check(),
            Self::Layers(layers) => layers.check(),
            Self::LabReport(report) => report.check(),
            Self::Probe(probe) => probe.check(),
            Self::Cores(cores) => cores.check(),
            Self::Spade(block) => block.check(),
            Self::BuildingGround(found) => found.check(),
            Self::KitchenScale(_)
            | Self::Slake(_)
            | Self::Working(_)
            | Self::Feel(_)
            | Self::Hydrometer(_)
            | Self::LabTexture(_)
            | Self::OrganicMatter(_)
            | Self::Gravel(_)
            | Self::Packing(_)
            | Self::Salinity(_)
            | Self::Percolation(_) => Ok(()),
        }
    }

    /// Asks the method that will read it whether it can: a reading that makes no sense is refused
    /// while the person still has the jar at hand. What stands in the book already is not judged
    /// again, so that a stricter method never shuts out old evidence.
    ///
    /// # Errors
    /// The field that contradicts another.
    pub fn accept(&self) -> Result<(), Refusal> {
        match self {
            Self::KitchenScale(weighed) => kitchen_scale::assess(weighed).map(drop),
            Self::Hydrometer(readings) => hydrometer::assess(readings).map(drop),
            Self::LabTexture(lab) => lab::assess(lab).map(drop),
            Self::Feel(feel) => feel::path::check(&feel::Answers::from(feel)),
            Self::Jar(jar) => jar.accept(),
            Self::Probe(probe) => probe.accept(),
            Self::Cores(cores) => cores.accept(),
            Self::Spade(block) => block.accept(),
            Self::Slake(crumbs) => SlakeTest::compute(crumbs).map(drop),
            Self::Working(test) => test.accept(),
            Self::OrganicMatter(_)
            | Self::Gravel(_)
            | Self::Packing(_)
            | Self::Salinity(_)
            | Self::Signs(_)
            | Self::Moisture(_)
            | Self::RingInfiltration(_)
            | Self::Percolation(_)
            | Self::Layers(_)
            | Self::LabReport(_)
            | Self::BuildingGround(_) => Ok(()),
        }
    }
}
