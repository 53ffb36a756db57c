//! A paper scale to tape on a jar, with the times at which to mark it.

use ground::kit::units::UnitSystem;
use ground::kit::{Bounded, Method, Refusal};
use ground::texture::jar::{JarHeight, JarMarkTimes, JarMarkTimesInput, JarTemperature, MarkTime};
use serde::Serialize;

use super::ruler::{Tick, inches, millimetres};
use crate::error::SheetError;
use crate::options::SheetOptions;
use crate::render::render;
use crate::sheet::Sheet;
use crate::templates::Template;

/// What a strip is made for.
#[derive(Debug, Clone)]
pub struct JarStripAsk {
    /// Height of the jar's straight wall, from the inner floor.
    pub jar_height_mm: JarHeight,
    /// Height of the water above the inner floor.
    pub water_height_mm: JarHeight,
    /// Height of the loose dry soil before the water.
    pub soil_height_mm: Option<JarHeight>,
    /// Temperature of the water.
    pub water_temperature_c: JarTemperature,
}

/// A jar is a jar from here on, mm.
const SHORTEST_MM: f64 = 40.0;
/// The longest strip that both papers hold, mm.
const LONGEST_MM: f64 = 225.0;
/// Length of the scale that shows whether the sheet was printed true to size, mm: 4 in.
const PROOF_MM: f64 = 101.6;

/// The jar strip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JarStrip {
    /// Length of the strip.
    pub length_mm: f64,
    /// Ticks in millimetres.
    pub millimetres: Vec<Tick>,
    /// Ticks in inches.
    pub inches: Vec<Tick>,
    /// Lines to fill the jar to.
    pub fill: Vec<Tick>,
    /// When to mark.
    pub marks: Vec<StripMark>,
    /// What the times are for.
    pub about: String,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// What to know beside it.
    pub notes: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// The scale that shows whether the print is true to size: millimetres, inches.
    proof: (f64, Vec<Tick>, Vec<Tick>),
}

/// When to make one mark.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct StripMark {
    /// "Top of the sand".
    pub what: String,
    /// "48 s".
    pub after: String,
    /// "between 36 s and 58 s"; may be empty.
    pub between: String,
}

impl Sheet for JarStrip {
    const TEMPLATE: Template = Template::JAR_STRIP;

    fn title(&self) -> &'static str {
        "Jar strip"
    }
}

/// The strip of a jar.
///
/// # Errors
/// A jar too short or too tall for a strip, water above its rim, and what `jar-mark-times` refuses.
pub fn jar_strip(ask: &JarStripAsk, units: UnitSystem) -> Result<JarStrip, Refusal> {
    let length = |mm: f64| advice::words::small(mm, units);
    let (jar_mm, water_mm) = (ask.jar_height_mm.get(), ask.water_height_mm.get());
    if !(SHORTEST_MM..=LONGEST_MM).contains(&jar_mm) {
        return Err(Refusal::new(
            "jar_height_mm",
            format!("A strip for a jar {} high does not fit the sheet or is of no use", length(jar_mm)),
        )
        .given(length(jar_mm))
        .accepted(format!(
            "{} to {}: the straight wall, from the inner floor",
            length(SHORTEST_MM),
            length(LONGEST_MM)
        ))
        .example(length(180.0)));
    }
    if water_mm > jar_mm {
        return Err(Refusal::new(
            "water_height_mm",
            format!("Water {} high runs over a jar of {}", length(water_mm), length(jar_mm)),
        )
        .given(length(water_mm))
        .accepted(format!("up to {}", length(jar_mm)))
        .example(length(0.85 * jar_mm)));
    }
    let answer = JarMarkTimes::compute(&JarMarkTimesInput {
        water_height_mm: ask.water_height_mm,
        water_temperature_c: ask.water_temperature_c,
        soil_height_mm: ask.soil_height_mm,
    })?;
    let times = &answer.value;
    let soil_mm = ask.soil_height_mm.map(Bounded::get).filter(|soil| *soil > 0.0);
    let temperature = advice::words::temperature(ask.water_temperature_c.get(), units);
    let soil = soil_mm
        .map_or_else(|| "little soil".to_owned(), |soil| format!("{} of loose dry soil", length(soil)));
    let fill = |at_mm: f64, label: &str| Tick { at_mm, long_mm: 0.0, label: label.to_owned() };
    let mut marks =
        vec![mark("Top of the sand", &times.sand_mark), mark("Top of the silt", &times.silt_mark)];
    for still in times.still_up.iter().filter(|still| still.after_h <= 48.0) {
        marks.push(StripMark {
            what: "Top of everything".to_owned(),
            after: by_the_clock(3600.0 * still.after_h),
            between: format!("clay finer than {:.1} µm may still be up", still.finer_than_um),
        });
    }
    Ok(JarStrip {
        length_mm: jar_mm,
        millimetres: millimetres(jar_mm),
        inches: inches(jar_mm),
        fill: soil_mm
            .map(|soil| fill(soil, "dry soil"))
            .into_iter()
            .chain([fill(water_mm, "water")])
            .collect(),
        marks,
        about: format!("For {} of water at {temperature} over {soil}.", length(water_mm)),
        steps: steps(),
        notes: answer.notes.iter().map(|note| note.text.clone()).collect(),
        cautions: JarMarkTimes::CARD.cautions.iter().map(|caution| (*caution).to_owned()).collect(),
        proof: (PROOF_MM, millimetres(PROOF_MM), inches(PROOF_MM)),
    })
}

fn mark(what: &str, time: &MarkTime) -> StripMark {
    StripMark {
        what: what.to_owned(),
        after: by_the_clock(time.time_s),
        between: format!("{} to {}", by_the_clock(time.earliest_s), by_the_clock(time.latest_s)),
    }
}

/// A time as it is read off a clock in the field: no tenths of a second.
fn by_the_clock(seconds: f64) -> String {
    match seconds {
        s if s < 180.0 => format!("{s:.0} s"),
        s if s < 5400.0 => format!("{:.0} min", s / 60.0),
        s => format!("{:.0} h", s / 3600.0),
    }
}

fn steps() -> Vec<String> {
    [
        "Cut out a strip. Tape it upright on the outside of the jar, its lower end level with the inner floor: that is \
         higher than the table by the thickness of the glass.",
        "Fill in sieved dry soil, then water with a spoon of powdered dishwasher detergent, to the dashed lines.",
        "Shake for ten minutes, set the jar down in the shade where it can stand, and start the clock.",
        "At each time draw a line on the strip at the top of what lies settled, with the eye level with it, and write \
         down its height. Write \"not seen\" where no line shows.",
        "After a day note whether the water is clear or cloudy.",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// The strip as PDF.
///
/// # Errors
/// See [`jar_strip`].
pub fn jar_strip_pdf(
    ask: &JarStripAsk,
    units: UnitSystem,
    options: &SheetOptions,
) -> Result<Vec<u8>, SheetError> {
    render(&jar_strip(ask, units)?, options)
}
