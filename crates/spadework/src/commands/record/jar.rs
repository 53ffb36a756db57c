//! `record jar`.

use book::model::Seen;
use book::model::seen::JarSeen;
use clap::Args;
use ground::kit::units::{field_unit, typed};
use ground::kit::{Bounded, Refusal};
use ground::texture::jar::reading::JarHeight;
use ground::texture::jar::{Packing, assess};
use jiff::tz::TimeZone;
use jiff::{Timestamp, civil};

use super::About;
use crate::args::Global;
use crate::commands::jar_args::JarArgs;
use crate::report::Report;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record jar`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework record jar home.farmbook \"Lower field\" --sand 7/8in --silt 13/16in --clay 1/2in --ruler 1/16in
  spadework record jar home.farmbook \"Lower field\" --mark 1min=7/8in --still-settling")]
pub(crate) struct RecordJar {
    #[command(flatten)]
    about: About,
    #[command(flatten)]
    jar: JarArgs,
    /// Not all marks are made yet: keep the jar, and do not lean on it
    #[arg(long)]
    still_settling: bool,
    /// When the shaken jar was set down, such as 2026-04-12T08:30; now, for a jar still settling
    #[arg(long, value_name = "TIME")]
    set_down: Option<String>,
    /// Height of the loose dry soil before the water went in; it sets when to mark
    #[arg(long, value_name = "HEIGHT")]
    soil_height: Option<String>,
}

impl RecordJar {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let farm = shelf::read(&self.about.book)?.snapshot()?.farm.body.units;
        let system = global.system_or(farm);
        let reading = self.jar.reading(system)?;
        let soil_height_mm = self
            .soil_height
            .as_deref()
            .map(|text| typed::<JarHeight>("soil-height", text, field_unit(JarHeight::UNIT, system)))
            .transpose()?;
        if !self.still_settling {
            // A finished jar that no one could read is refused now, and not when advice is asked for.
            assess(&reading, &Packing::default()).map_err(|refusal| self.jar.told(refusal, system))?;
        }
        let started_at = match &self.set_down {
            Some(text) => Some(moment(text)?),
            None => self.still_settling.then(Timestamp::now),
        };
        let seen = Seen::Jar(JarSeen { started_at, finished: !self.still_settling, soil_height_mm, reading });
        self.about.store(seen, global, terminal)
    }
}

/// A moment in UTC, or a time of day where this computer stands.
fn moment(text: &str) -> Result<Timestamp, Refusal> {
    let text = text.trim();
    let here = || -> Option<Timestamp> {
        let wall: civil::DateTime = text.parse().ok()?;
        wall.to_zoned_datetime(TimeZone::system()).ok().map(|zoned| zoned.timestamp())
    };
    text.parse().ok().or_else(here).ok_or_else(|| {
        Refusal::new("set-down", format!("{text:?} is not a date and time"))
            .given(text)
            .accepted("a date and time, of this computer's clock or with its offset")
            .example("2026-04-12T08:30")
    })
}
