//! `record building-ground`: what a hole, a bar and the fingers tell of ground to build on.

use book::model::Seen;
use book::model::seen::{BuildingGround, Thread};
use clap::Args;
use clap::builder::PossibleValuesParser;

use super::About;
use crate::args::Global;
use crate::post_args::given;
use crate::report::Report;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record building-ground`.
#[derive(Debug, Args)]
#[command(after_help = "Locate buried services before you dig, and cover open holes.

Example:
  spadework record building-ground home.farmbook \"Lower field\" --tilled-to 10in --water-at 44in --thread medium")]
pub(crate) struct RecordBuildingGround {
    #[command(flatten)]
    about: About,
    /// Tilled or loosened down to
    #[arg(long, value_name = "DEPTH")]
    tilled_to: Option<String>,
    /// Fill or moved earth down to
    #[arg(long, value_name = "DEPTH")]
    fill_to: Option<String>,
    /// Peat, muck or rich in organic matter down to
    #[arg(long, value_name = "DEPTH")]
    organic_to: Option<String>,
    /// A bar or an auger stopped at
    #[arg(long, value_name = "DEPTH")]
    stopped_at: Option<String>,
    /// Water stood in the open hole at
    #[arg(long, value_name = "DEPTH")]
    water_at: Option<String>,
    /// An open hole stayed dry down to, in the wettest season
    #[arg(long, value_name = "DEPTH")]
    dry_to: Option<String>,
    /// Depth of the soil that was tested
    #[arg(long, value_name = "DEPTH")]
    at: Option<String>,
    /// How it rolls into a thread of 1/8 in (3 mm)
    #[arg(long, value_parser = PossibleValuesParser::new(Thread::ALL.map(Thread::key)))]
    thread: Option<String>,
    /// Liquid limit, from a laboratory
    #[arg(long, value_name = "PERCENT")]
    liquid_limit: Option<String>,
    /// Plastic limit, from the same report
    #[arg(long, value_name = "PERCENT")]
    plastic_limit: Option<String>,
    /// Electrical resistivity of the wet ground, in ohm·m
    #[arg(long, value_name = "OHM-M")]
    resistivity: Option<String>,
}

impl RecordBuildingGround {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let farm = shelf::read(&self.about.book)?.snapshot()?.farm.body.units;
        let system = global.system_or(farm);
        let found = BuildingGround {
            at_cm: given("at", &self.at, system)?,
            liquid_limit_percent: given("liquid_limit", &self.liquid_limit, system)?,
            plastic_limit_percent: given("plastic_limit", &self.plastic_limit, system)?,
            thread: Thread::ALL.into_iter().find(|thread| self.thread.as_deref() == Some(thread.key())),
            resistivity_ohm_m: given("resistivity", &self.resistivity, system)?,
            tilled_to_cm: given("tilled_to", &self.tilled_to, system)?,
            fill_to_cm: given("fill_to", &self.fill_to, system)?,
            organic_to_cm: given("organic_to", &self.organic_to, system)?,
            stopped_at_cm: given("stopped_at", &self.stopped_at, system)?,
            water_at_cm: given("water_at", &self.water_at, system)?,
            dry_to_cm: given("dry_to", &self.dry_to, system)?,
        };
        self.about.store(Seen::BuildingGround(found), global, terminal)
    }
}
