//! `when`: when to mark a jar.

use clap::Args;
use ground::kit::Bounded;
use ground::kit::Method;
use ground::kit::units::{Dimension, field_unit, show, typed};
use ground::texture::jar::mark_times::{JarMarkTimes, JarMarkTimesInput};
use ground::texture::jar::reading::{JarHeight, JarTemperature};
use serde_json::json;

use crate::args::Global;
use crate::report::{Report, columns, notes};
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `when`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework when --water-height 7in --water-temperature 68F --soil-height 2in")]
pub(crate) struct When {
    /// Height of the water above the jar floor
    #[arg(long, value_name = "HEIGHT")]
    water_height: String,
    /// Temperature of the water
    #[arg(long, value_name = "TEMPERATURE")]
    water_temperature: String,
    /// Height of the loose dry soil before the water went in
    #[arg(long, value_name = "HEIGHT")]
    soil_height: Option<String>,
    /// Add the steps
    #[arg(long)]
    working: bool,
}

impl When {
    /// Says when.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let system = global.system();
        let height =
            |field: &str, text: &str| typed::<JarHeight>(field, text, field_unit(JarHeight::UNIT, system));
        let input = JarMarkTimesInput {
            water_height_mm: height("water-height", &self.water_height)?,
            water_temperature_c: typed::<JarTemperature>(
                "water-temperature",
                &self.water_temperature,
                field_unit(JarTemperature::UNIT, system),
            )?,
            soil_height_mm: self
                .soil_height
                .as_deref()
                .map(|text| height("soil-height", text))
                .transpose()?,
        };
        let answer = JarMarkTimes::compute(&input).map_err(|refusal| refusal.in_units(system))?;
        let time = |seconds: f64| show(seconds, Dimension::Duration, system);
        let mark = |name: &str, mark: &ground::texture::jar::mark_times::MarkTime| {
            vec![
                name.to_owned(),
                format!("after {}", time(mark.time_s)),
                format!("(between {} and {})", time(mark.earliest_s), time(mark.latest_s)),
            ]
        };
        let mut text = columns(
            &[mark("mark the sand", &answer.value.sand_mark), mark("mark the silt", &answer.value.silt_mark)],
            "",
        );
        text.push_str("\nStill up in the water\n");
        let rows: Vec<Vec<String>> = answer
            .value
            .still_up
            .iter()
            .map(|still| {
                vec![
                    format!("after {:.0} h", still.after_h),
                    format!("grains finer than {:.2} µm", still.finer_than_um),
                ]
            })
            .collect();
        text.push_str(&columns(&rows, "  "));
        let mut json = json!(answer);
        if self.working {
            let working = JarMarkTimes::working(&input, &answer);
            json["working"] = json!(working);
            text.push_str(&super::steps(&working));
        }
        if !answer.notes.is_empty() {
            text.push_str("\n\n");
            let told: Vec<_> = answer.notes.iter().map(|note| note.in_units(system)).collect();
            text.push_str(&notes(&told, terminal.width));
        }
        Report::new(&json, text)
    }
}
