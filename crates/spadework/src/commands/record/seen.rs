//! `record seen`: any evidence, as JSON or field by field.

use book::model::Seen;
use clap::Args;
use ground::kit::method;
use serde_json::Value;

use super::About;
use crate::args::Global;
use crate::commands::input::json_from;
use crate::report::Report;
use crate::setting;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record seen`.
#[derive(Debug, Args)]
#[command(
    after_help = "What can be seen: jar, kitchen_scale, feel, hydrometer, lab_texture, organic_matter, gravel,
packing, salinity, signs, moisture, ring_infiltration, percolation, layers, probe, cores, spade, slake, working,
building_ground.

Example:
  spadework record seen home.farmbook \"Lower field\" --set what=organic_matter --set percent=3.2"
)]
pub(crate) struct RecordSeen {
    #[command(flatten)]
    about: About,
    /// Read it, a JSON object, from a file, or from stdin where it is -
    #[arg(long = "in", value_name = "FILE", required_unless_present = "settings")]
    input: Option<String>,
    /// Set one field; measures are read as people write them
    #[arg(long = "set", value_name = "FIELD=VALUE")]
    settings: Vec<String>,
}

impl RecordSeen {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let farm = shelf::read(&self.about.book)?.snapshot()?.farm.body.units;
        let mut input = match &self.input {
            Some(from) => json_from(from)?,
            None => Value::Null,
        };
        let schema = schemars::schema_for!(Seen).to_value();
        setting::apply(&self.settings, &schema, global.system_or(farm), &mut input)?;
        let seen: Seen = method::read(&input)?;
        self.about.store(seen, global, terminal)
    }
}
