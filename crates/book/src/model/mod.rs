//! The record types: what a farm can see, have and decide.
//!
//! The kinds are listed once, in the table below. A new kind is one file here, one line in that
//! table, and one view in a migration.

mod application;
mod bed;
mod cover;
mod crop;
mod decision;
mod farm;
mod harvest;
mod id;
mod import;
mod job;
mod laboratory;
mod material;
mod month_day;
mod note;
mod observation;
mod photo;
pub mod plan;
mod planting;
mod plot;
mod posts;
mod price;
mod sample;
mod sampling_plan;
pub mod seen;
mod stock;
mod structure;
mod supply;
pub(crate) mod text;
mod watering_done;
mod watering_system;
pub mod weather;

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;

pub use application::{Application, Placed, SpreadMass, SpreadMaterial};
pub use bed::{Bed, BedLength, BedWidth};
pub use cover::{
    CoverBiomass, CoverCrop, CoverEnd, CoverEnding, CoverSeed, CoverStand, CutMass, MOST_COVER_SEEDS,
    SeedRate,
};
pub use crop::{
    CropCoefficient, CropHeight, CropRate, CropRootDepth, DepletionFraction, FarmCrop, area_rate,
    area_rate_words,
};
pub use decision::{Choice, Decision};
pub use farm::{Elevation, Farm, HourWorth, Latitude, Longitude, UnitSystem, WinterLow};
pub use harvest::{Harvest, HarvestMass};
pub use id::{EntryId, NotAnId};
pub use import::Import;
pub(crate) use import::kept_remarks;
pub use job::{JobChange, JobChoice, JobDone, JobMaterial, JobWord, OWN_JOB, PlannedJob};
pub use laboratory::{HeadingMeans, LabHeading, Laboratory, MOST_LAB_HEADINGS};
pub use material::{
    Analysis, BagMass, CarbonNitrogen, JugVolume, LoadMass, LoadVolume, Material, MaterialDensity,
    MaterialEc, MaterialMoisture, MaterialShare, NeutralizingValue, OrganicUse, Pack, Sieve, SievePassing,
    sieves_shown, sieves_typed,
};
pub use month_day::{MONTHS, MonthDay, NotAMonthDay, month_name};
pub use note::Note;
pub use observation::Observation;
pub use photo::Photo;
pub use plan::{
    FixedPoint, Form, Frame, KeepOutWhy, Located, LocatedWithin, Opacity, Outline, PartKind, PlanOrigin,
    PlanPart, Point, Spot, Underlay,
};
pub use planting::{Mulch, MulchCover, MulchKind, PlantedCrop, PlantedHow, Planting, YieldGoal};
pub use plot::{
    Cover, CoverEt0, CoverFactor, Place, Plot, PlotArea, PlotSide, RootDepth, Shape, Slope, Watering,
};
pub use posts::{
    EndBrace, FrameWeight, PostFoot, PostLine, PostSet, RidgeHeight, TubeWall, TunnelFrame, TunnelProfile,
};
pub use price::Price;
pub use sample::{Sample, SampleDepth};
pub use sampling_plan::{Design, SamplingPlan, SamplingPoint, SamplingPurpose};
pub use seen::Seen;
pub use stock::{Stock, StockChange, StockMass};
pub use structure::{Structure, StructureKind, StructureSide};
pub use supply::{Dissolved, SupplyFlow, WaterConductivity, WaterSupply};
pub use watering_done::{WateringAmount, WateringDepth, WateringDone, WateringMinutes, WateringVolume};
pub use watering_system::{
    Delivery, Efficiency, EmitterFlow, EmitterSpacing, SprinklerRate, TapeFlow, WateringSystem, WettedShare,
};
pub use weather::{MonthNormals, WeatherDay, WeatherNormals, WeatherTable, WeatherWhat};

/// A record type.
pub trait Record:
    Serialize + DeserializeOwned + JsonSchema + Clone + PartialEq + Into<Body> + TryFrom<Body, Error = Body>
{
    /// Its kind.
    const KIND: Kind;

    /// Checks what the types cannot: fields against each other, texts, counts.
    ///
    /// # Errors
    /// The first field that is refused, in words for the person.
    fn check(&self) -> Result<(), Refusal>;

    /// The other records it points to.
    fn links(&self) -> Links {
        Links::default()
    }
}

/// What a record points to.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Links {
    /// Its plot.
    pub plot: Option<EntryId>,
    /// Its sample.
    pub sample: Option<EntryId>,
    /// Its observation.
    pub observation: Option<EntryId>,
    /// Its bed.
    pub bed: Option<EntryId>,
    /// Its crop.
    pub crop: Option<EntryId>,
    /// Its water supply.
    pub supply: Option<EntryId>,
    /// Its planting.
    pub planting: Option<EntryId>,
    /// Its material of the shelf.
    pub material: Option<EntryId>,
    /// Its laboratory.
    pub laboratory: Option<EntryId>,
    /// The table it came in.
    pub import: Option<EntryId>,
    /// Its structure.
    pub structure: Option<EntryId>,
    /// The sampling plan it follows.
    pub sampling_plan: Option<EntryId>,
    /// The plot it is a zone of.
    pub zone_of: Option<EntryId>,
    /// SHA-256 of the file it shows.
    pub attachment: Option<String>,
}

impl Links {
    /// The links to other records, each with the kind it must lead to.
    pub(crate) fn records(&self) -> [(Option<EntryId>, Kind); 13] {
        [
            (self.plot, Kind::Plot),
            (self.sample, Kind::Sample),
            (self.observation, Kind::Observation),
            (self.bed, Kind::Bed),
            (self.crop, Kind::Crop),
            (self.supply, Kind::WaterSupply),
            (self.planting, Kind::Planting),
            (self.material, Kind::Material),
            (self.laboratory, Kind::Laboratory),
            (self.import, Kind::Import),
            (self.structure, Kind::Structure),
            (self.sampling_plan, Kind::SamplingPlan),
            (self.zone_of, Kind::Plot),
        ]
    }
}

macro_rules! kinds {
    ($($kind:ident, $type:ident, $name:literal, $label:literal, view $view:literal;)+) => {
        /// The kinds of record.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
        pub enum Kind {$(
            #[doc = $label]
            #[serde(rename = $name)]
            $kind,
        )+}

        impl Kind {
            /// Every kind.
            pub const ALL: &'static [Self] = &[$(Self::$kind),+];

            /// Its name in the file.
            #[must_use]
            pub fn name(self) -> &'static str {
                match self {$(Self::$kind => $name,)+}
            }

            /// Its name for people.
            #[must_use]
            pub fn label(self) -> &'static str {
                match self {$(Self::$kind => $label,)+}
            }

            /// The view of the file, and the table of the CSV export, that shows its current records.
            #[must_use]
            pub fn view(self) -> &'static str {
                match self {$(Self::$kind => $view,)+}
            }

            /// The kind of that name.
            #[must_use]
            pub fn of_name(name: &str) -> Option<Self> {
                match name {$($name => Some(Self::$kind),)+ _ => None}
            }
        }

        impl Kind {
            /// The JSON schema of its records.
            #[must_use]
            pub fn schema(self) -> schemars::Schema {
                match self {$(Self::$kind => schemars::schema_for!($type),)+}
            }
        }

        /// A record of any kind.
        // `expect` goes unheard inside this macro.
        #[allow(clippy::large_enum_variant, reason = "bodies are read one by one; whole books are held typed")]
        #[derive(Debug, Clone, PartialEq, Serialize)]
        #[serde(untagged)]
        pub enum Body {$(
            #[doc = $label]
            $kind($type),
        )+}

        impl Body {
            /// Its kind.
            #[must_use]
            pub fn kind(&self) -> Kind {
                match self {$(Self::$kind(_) => Kind::$kind,)+}
            }

            /// Reads a record of a known kind from JSON and checks it.
            ///
            /// # Errors
            /// The field that is refused, in words for the person.
            pub fn read(kind: Kind, json: &Value) -> Result<Self, Refusal> {
                match kind {$(Kind::$kind => {
                    let record: $type = ground::kit::method::read(json)?;
                    record.check()?;
                    Ok(Self::$kind(record))
                })+}
            }

            /// Reads a record from the text the book holds; quick, for whole books.
            pub(crate) fn parse(kind: Kind, text: &str) -> Result<Self, serde_json::Error> {
                match kind {$(Kind::$kind => serde_json::from_str(text).map(Self::$kind),)+}
            }

            /// See [`Record::check`].
            pub(crate) fn check(&self) -> Result<(), Refusal> {
                match self {$(Self::$kind(record) => record.check(),)+}
            }

            /// See [`Record::links`].
            #[must_use]
            pub fn links(&self) -> Links {
                match self {$(Self::$kind(record) => record.links(),)+}
            }
        }

        $(
            impl From<$type> for Body {
                fn from(record: $type) -> Self {
                    Self::$kind(record)
                }
            }

            impl TryFrom<Body> for $type {
                type Error = Body;

                fn try_from(body: Body) -> Result<Self, Body> {
                    match body {
                        Body::$kind(record) => Ok(record),
                        other => Err(other),
                    }
                }
            }
        )+
    };
}

kinds! {
    Farm, Farm, "farm", "Farm", view "farm";
    Plot, Plot, "plot", "Plot", view "plots";
    Bed, Bed, "bed", "Bed", view "beds";
    Structure, Structure, "structure", "Structure", view "structures";
    Sample, Sample, "sample", "Sample", view "samples";
    Observation, Observation, "observation", "Observation", view "observations";
    Decision, Decision, "decision", "Decision", view "decisions";
    Note, Note, "note", "Note", view "notes";
    Photo, Photo, "photo", "Photo", view "photos";
    WeatherNormals, WeatherNormals, "weather_normals", "Weather normals", view "weather_normals";
    WeatherTable, WeatherTable, "weather_table", "Weather table", view "weather_tables";
    Crop, FarmCrop, "crop", "Crop", view "crops";
    Planting, Planting, "planting", "Planting", view "plantings";
    WaterSupply, WaterSupply, "water_supply", "Water supply", view "water_supplies";
    WateringSystem, WateringSystem, "watering_system", "Watering system", view "watering_systems";
    Watering, WateringDone, "watering", "Watering", view "waterings";
    Laboratory, Laboratory, "laboratory", "Laboratory", view "laboratories";
    Import, Import, "import", "Import", view "imports";
    Material, Material, "material", "Material", view "materials";
    Stock, Stock, "stock", "Stock", view "stocks";
    Application, Application, "application", "Application", view "applications";
    Harvest, Harvest, "harvest", "Harvest", view "harvests";
    Job, JobWord, "job", "Job", view "jobs";
    Cover, CoverCrop, "cover", "Cover crop", view "covers";
    PlanPart, PlanPart, "plan_part", "Part of the plan", view "plan_parts";
    Underlay, Underlay, "underlay", "Picture under the plan", view "underlays";
    SamplingPlan, SamplingPlan, "sampling_plan", "Sampling plan", view "sampling_plans";
}
