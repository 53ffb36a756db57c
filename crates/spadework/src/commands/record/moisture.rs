//! `record moisture`, `record ring` and `record percolation`.

use book::model::Seen;
use book::model::seen::{
    Moisture, MoistureFeel, MoistureReading, Percolation, Ring, RingDepth, RingInfiltration, RingWater,
    SignDepth,
};
use clap::builder::PossibleValuesParser;
use clap::{ArgGroup, Args};
use ground::kit::units::{TypedReading, UnitSystem, field_unit, typed_reading};
use ground::kit::{Bounded, Refusal};

use super::About;
use super::in_bed::{bed, given, needed};
use crate::args::Global;
use crate::report::Report;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record moisture`.
#[derive(Debug, Args)]
#[command(
    group = ArgGroup::new("reading").required(true),
    after_help = "By feel, a step is a quarter of the available water: dry, slightly-moist, moist, wet, field-capacity.

Examples:
  spadework record moisture home.farmbook \"Lower field\" --bed \"Beds 1 to 8\" --depth 8in --feel moist
  spadework record moisture home.farmbook \"Lower field\" --depth 12in --tension 30kPa"
)]
pub(crate) struct RecordMoisture {
    #[command(flatten)]
    about: About,
    /// Name of the bed it was made in
    #[arg(long)]
    bed: Option<String>,
    /// Its depth, or the layer it was made in: 8in, or \"4-12in\"
    #[arg(long)]
    depth: String,
    /// How a handful feels and looks
    #[arg(long, value_name = "STEP", group = "reading", value_parser = PossibleValuesParser::new(MoistureFeel::ALL.map(step)))]
    feel: Option<String>,
    /// Tension of the soil water, in kPa or cbar
    #[arg(long, group = "reading")]
    tension: Option<String>,
    /// Water by volume
    #[arg(long, value_name = "PERCENT", group = "reading")]
    volumetric: Option<String>,
}

/// A step as one argument.
pub(super) fn step(feel: MoistureFeel) -> &'static str {
    match feel {
        MoistureFeel::Dry => "dry",
        MoistureFeel::SlightlyMoist => "slightly-moist",
        MoistureFeel::Moist => "moist",
        MoistureFeel::Wet => "wet",
        MoistureFeel::FieldCapacity => "field-capacity",
    }
}

impl RecordMoisture {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.about.book)?.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let plot = shelf::plot(&snapshot, &self.about.plot)?.id;
        let bed = self.bed.as_deref().map(|name| bed(&snapshot, plot, name)).transpose()?;
        let (from_cm, to_cm) = depths("depth", &self.depth, system)?;
        let feel = self.feel.and_then(|word| MoistureFeel::ALL.into_iter().find(|feel| step(*feel) == word));
        let reading = match (feel, &self.tension) {
            (Some(feel), _) => MoistureReading::Feel(feel),
            (None, Some(tension)) => MoistureReading::TensionKpa(needed("tension", Some(tension), system)?),
            (None, None) => {
                MoistureReading::VolumetricPercent(needed("volumetric", self.volumetric.as_deref(), system)?)
            }
        };
        let seen = Moisture { bed: bed.map(|bed| bed.id), from_cm, to_cm, reading };
        self.about.store(Seen::Moisture(seen), global, terminal)
    }
}

/// A depth, or a layer between two.
pub(super) fn depths(
    field: &str,
    text: &str,
    system: UnitSystem,
) -> Result<(SignDepth, Option<SignDepth>), Refusal> {
    match typed_reading::<SignDepth>(field, text, field_unit(SignDepth::UNIT, system))? {
        TypedReading::At(depth) => Ok((depth, None)),
        TypedReading::Between(from, to) => Ok((from, Some(to))),
        TypedReading::NotSeen => Err(Refusal::new(field, "the depth is missing")
            .given(text)
            .accepted("a depth, or a layer between two")
            .example("8in, or 4-12in")),
    }
}

/// Options of `record ring`.
#[derive(Debug, Args)]
#[command(
    after_help = "A ring is given as WATER,FIRST or WATER,FIRST,SECOND: the water poured each time, the time until the first
pouring was gone, and that of the second, which tells of the wet ground. A plus after the last time says that
water still stood when the watch was stopped.

Example:
  spadework record ring home.farmbook \"Lower field\" --inside 6in --ring 1in,4min,12min --ring 1in,5min,90min+"
)]
pub(crate) struct RecordRing {
    #[command(flatten)]
    about: About,
    /// Inside diameter of the rings
    #[arg(long, value_name = "DIAMETER")]
    inside: String,
    /// One ring; once for each
    #[arg(long = "ring", value_name = "WATER,TIME,TIME", required = true)]
    rings: Vec<String>,
}

impl RecordRing {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let farm = shelf::read(&self.about.book)?.snapshot()?.farm.body.units;
        let system = global.system_or(farm);
        let rings = self.rings.iter().map(|text| ring(text, system)).collect::<Result<_, _>>()?;
        let inside_diameter_mm = needed("inside", Some(&self.inside), system)?;
        let seen = RingInfiltration { inside_diameter_mm, rings };
        self.about.store(Seen::RingInfiltration(seen), global, terminal)
    }
}

fn ring(text: &str, system: UnitSystem) -> Result<Ring, Refusal> {
    let still_stood = text.trim().ends_with('+');
    let parts: Vec<&str> = text.trim().trim_end_matches('+').split(',').map(str::trim).collect();
    let (water, first, second) = match parts[..] {
        [water, first] => (water, first, None),
        [water, first, second] => (water, first, Some(second)),
        _ => {
            return Err(Refusal::new("ring", format!("{text:?} does not say the water and its times"))
                .given(text)
                .accepted("WATER,FIRST or WATER,FIRST,SECOND")
                .example("1in,4min,12min"));
        }
    };
    // A depth of water in the ring, else its volume.
    let water = match given::<RingDepth>("ring", Some(water), system) {
        Ok(depth) => depth.map(RingWater::DepthMm),
        Err(no_depth) => match given("ring", Some(water), system) {
            Ok(volume) => volume.map(RingWater::VolumeMl),
            Err(_) => return Err(no_depth),
        },
    };
    let Some(water) = water else { return Err(Refusal::new("ring", "the water is missing").given(text)) };
    Ok(Ring {
        water,
        first_min: needed("ring", Some(first), system)?,
        second_min: given("ring", second, system)?,
        still_stood,
    })
}

/// Options of `record percolation`.
#[derive(Debug, Args)]
#[command(
    after_help = "A test hole tells how a wet subsoil takes water. Whether the ground is fit for a septic system is for the local
health department's own test and rules.

Example:
  spadework record percolation home.farmbook \"Lower field\" --fall 1in --time 12min --soaked --hole-depth 24in"
)]
pub(crate) struct RecordPercolation {
    #[command(flatten)]
    about: About,
    /// How far the water fell
    #[arg(long, value_name = "LENGTH")]
    fall: String,
    /// In how long
    #[arg(long)]
    time: String,
    /// The hole was soaked beforehand
    #[arg(long)]
    soaked: bool,
    /// Depth of the hole
    #[arg(long, value_name = "DEPTH")]
    hole_depth: Option<String>,
    /// Diameter of the hole
    #[arg(long, value_name = "DIAMETER")]
    hole_width: Option<String>,
}

impl RecordPercolation {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let farm = shelf::read(&self.about.book)?.snapshot()?.farm.body.units;
        let system = global.system_or(farm);
        let seen = Percolation {
            fall_mm: needed("fall", Some(&self.fall), system)?,
            minutes: needed("time", Some(&self.time), system)?,
            soaked: self.soaked,
            hole_depth_cm: given("hole-depth", self.hole_depth.as_deref(), system)?,
            hole_diameter_mm: given("hole-width", self.hole_width.as_deref(), system)?,
        };
        self.about.store(Seen::Percolation(seen), global, terminal)
    }
}
