//! A case as a person writes it, in JSON or TOML.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::boundary::{Bottom, Period, Surface, Top};
use super::case::{Case, Start};
use super::profile::{Layer, Profile, Spacing};
use super::record::Run;
use super::roots::{RootShape, Roots, Uptake};
use super::solver::{Options, Solver};
use crate::kit::method::read;
use crate::kit::{Bounded, Note, NoteKind, Refusal};
use crate::water::retention::Retention;
use crate::water::retention::parameters::SoilChoice;
use crate::water::tension::WaterContent;

crate::quantity! {
    /// Thickness of a layer.
    pub struct Thickness: "thickness of the layer", "cm", 0.5 ..= 1000.0, example 30.0;
    /// Pressure head; negative in unsaturated ground.
    pub struct Head: "pressure head", "cm", -1000000.0 ..= 1000.0, example -336.5;
    /// Depth below the surface.
    pub struct ProfileDepth: "depth", "cm", 0.0 ..= 10000.0, example 60.0;
    /// Hours from the start.
    pub struct Hours: "time", "h", 0.0 ..= 100000.0, example 24.0;
    /// A rate of rain, irrigation, evaporation or transpiration.
    pub struct Rate: "rate", "mm/h", 0.0 ..= 1000.0, example 6.0;
    /// Water that can stand on the surface before it runs off.
    pub struct PondLimit: "water that can stand", "mm", 0.0 ..= 1000.0, example 5.0;
    /// Size of a cell.
    pub struct CellSize: "cell", "cm", 0.05 ..= 50.0, example 1.0;
    /// Factor from one cell to the next.
    pub struct CellFactor: "factor", "", 1.0 ..= 2.0, example 1.1;
}

/// Most layers, periods, times and cells accepted, and most cells times output times.
const MOST_LAYERS: usize = 20;
const MOST_PERIODS: usize = 2000;
const MOST_TIMES: usize = 400;
const MOST_CELLS: usize = 1000;
const MOST_VALUES: usize = 100_000;
/// Steps times cells that one answer may cost.
const MOST_WORK: usize = 10_000_000;

/// Input of `richards-profile`, and of a case file.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProfileQuestion {
    /// Layers from the surface down.
    pub layers: Vec<LayerQuestion>,
    /// How wet it starts.
    pub start: StartQuestion,
    /// Rates from above over time; all are 0 after the last.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub periods: Vec<PeriodQuestion>,
    /// Holds the surface at this head, in place of rates from above.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub surface_head_cm: Option<Head>,
    /// Water that can stand on the surface before the rest runs off; 5 mm where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pond_limit_mm: Option<PondLimit>,
    /// Head of the driest surface, which limits evaporation; that of the wilting point where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub driest_head_cm: Option<Head>,
    /// The lower end.
    pub bottom: BottomQuestion,
    /// Roots, where a crop stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roots: Option<RootsQuestion>,
    /// Cells; 1 cm where nothing is said and the profile is not deeper than 2 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cells: Option<CellsQuestion>,
    /// Hours from the start at which the profile is told, rising.
    pub times_h: Vec<Hours>,
    /// Tells how deep the ground is at least this wet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub front_water_m3_m3: Option<WaterContent>,
    /// Tells the water held above this depth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_above_cm: Option<ProfileDepth>,
}

/// A layer.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LayerQuestion {
    /// Its thickness.
    pub thickness_cm: Thickness,
    /// Its soil.
    pub soil: SoilChoice,
}

/// How wet the profile starts.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StartQuestion {
    /// The same head everywhere: −336.5 cm is field capacity at 33 kPa.
    HeadCm(Head),
    /// A head for each layer.
    LayerHeadsCm(Vec<Head>),
    /// A water content for each layer.
    #[serde(rename = "layer_water_m3_m3")]
    LayerWater(Vec<WaterContent>),
    /// At rest above a water table at this depth.
    WaterTableCm(ProfileDepth),
}

/// Rates that hold until a time.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PeriodQuestion {
    /// Hours from the start at which it ends.
    pub until_h: Hours,
    /// Rain and irrigation.
    pub water_mm_h: Rate,
    /// What the air could take from the surface; 0 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub evaporation_mm_h: Option<Rate>,
    /// What the crop could take; 0 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transpiration_mm_h: Option<Rate>,
}

/// The lower end.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BottomQuestion {
    /// Water drains under its own weight alone.
    FreeDrainage,
    /// Held at a head; 0 is a water table.
    HeadCm(Head),
    /// Nothing passes.
    Closed,
}

/// Roots.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RootsQuestion {
    /// Rooting depth.
    pub depth_cm: Thickness,
    /// How they thin out.
    pub shape: RootShape,
    /// Heads between which they take water; customary ones of a vegetable where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uptake: Option<UptakeQuestion>,
}

/// Heads between which roots take water, each below the one before.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UptakeQuestion {
    /// Wetter than this roots lack air.
    pub airless_head_cm: Head,
    /// Drier than this they take all they want.
    pub full_from_head_cm: Head,
    /// Drier than this they take less.
    pub full_to_head_cm: Head,
    /// Drier than this they take nothing.
    pub wilting_head_cm: Head,
}

/// How the profile is cut.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CellsQuestion {
    /// All of at most this size.
    EvenCm(CellSize),
    /// Small at the surface and growing with depth.
    Growing(GrowingCells),
}

/// Cells that grow with depth.
#[derive(Debug, Clone, Copy, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GrowingCells {
    /// The first.
    pub first_cm: CellSize,
    /// From one to the next.
    pub factor: CellFactor,
    /// The greatest.
    pub greatest_cm: CellSize,
}

fn counted(field: &str, count: usize, least: usize, most: usize) -> Result<(), Refusal> {
    if (least..=most).contains(&count) {
        return Ok(());
    }
    Err(Refusal::new(field, format!("{field} must have {least} to {most} entries, but {count} were given"))
        .given(count)
        .accepted(format!("{least} to {most} entries"))
        .example(least.max(1)))
}

fn rising(field: &str, times: impl Iterator<Item = f64>, least: f64) -> Result<(), Refusal> {
    let mut before = least;
    for (place, time) in times.enumerate() {
        if time < before || (time == before && place > 0) {
            return Err(Refusal::new(
                field.replace("[]", &format!("[{place}]")),
                format!("times must rise, but {time} h follows {before} h"),
            )
            .given(format!("{time} h"))
            .accepted(format!("above {before} h"))
            .example(before + 1.0));
        }
        before = time;
    }
    Ok(())
}

impl ProfileQuestion {
    /// Reads a case from a TOML text.
    ///
    /// # Errors
    /// Text that is no TOML, or a field that is missing, unknown or out of range, named.
    pub fn from_toml(text: &str) -> Result<Self, Refusal> {
        let table: toml::Table = toml::from_str(text).map_err(|error| {
            Refusal::new("", format!("the case file is not TOML: {}", error.message()))
                .given("a text that could not be read")
                .accepted("a TOML file with layers, start, bottom and times_h")
                .example("times_h = [1, 24]")
        })?;
        let value = serde_json::to_value(table)
            .map_err(|_| Refusal::new("", "the case file holds a value that is no number, text or list"))?;
        read(&value)
    }

    /// The case, the times to tell, and what to say beside it.
    ///
    /// # Errors
    /// What is out of range or contradicts itself, with the layer and field.
    pub fn case(&self) -> Result<(Case, Vec<f64>, Vec<Note>), Refusal> {
        counted("layers", self.layers.len(), 1, MOST_LAYERS)?;
        counted("times_h", self.times_h.len(), 1, MOST_TIMES)?;
        counted("periods", self.periods.len(), 0, MOST_PERIODS)?;
        rising("times_h[]", self.times_h.iter().map(|time| time.get()), 0.0)?;
        rising("periods[].until_h", self.periods.iter().map(|period| period.until_h.get()), 0.0)?;
        let mut notes = Vec::new();
        let mut layers = Vec::with_capacity(self.layers.len());
        for (place, layer) in self.layers.iter().enumerate() {
            let (curve, remarks) =
                layer.soil.curve().map_err(|refusal| refusal.inside(&format!("layers[{place}].soil")))?;
            for remark in remarks {
                if !notes.contains(&remark) {
                    notes.push(remark);
                }
            }
            layers.push(Layer { thickness_cm: layer.thickness_cm.get(), curve });
        }
        let profile = self.cut(&layers)?;
        let surface = self.surface(&mut notes)?;
        let case = Case {
            start: self.start(&layers)?,
            surface,
            bottom: match self.bottom {
                BottomQuestion::FreeDrainage => Bottom::FreeDrainage,
                BottomQuestion::HeadCm(head) => Bottom::Head(head.get()),
                BottomQuestion::Closed => Bottom::Closed,
            },
            roots: self.roots.map(|roots| roots.checked()).transpose()?,
            profile,
        };
        if self.roots.is_some_and(|roots| roots.uptake.is_none()) {
            notes.push(Note::new(
                NoteKind::Provenance,
                "The heads between which roots take water are customary ones of a vegetable, recalled without a source.",
            ));
        }
        Ok((case, self.times_h.iter().map(|time| time.get()).collect(), notes))
    }

    /// Runs the case.
    ///
    /// # Errors
    /// As [`ProfileQuestion::case`], and a run that could not be finished.
    pub fn run(&self) -> Result<(Run, Vec<Note>), Refusal> {
        let (case, times, notes) = self.case()?;
        let options =
            Options { most_steps: (MOST_WORK / case.profile.cells()).max(1000), ..Options::default() };
        let mut run = Run::new();
        Solver::new().run(&case, &options, &times, &mut run).map_err(|failure| {
            Refusal::new("layers", failure.to_string())
                .given(format!("{} cells to {} h", case.profile.cells(), times.last().unwrap_or(&0.0)))
                .accepted("a case that can be run to its end")
                .example("cells of 1 cm over 100 cm, 24 h")
        })?;
        Ok((run, notes))
    }

    fn cut(&self, layers: &[Layer]) -> Result<Profile, Refusal> {
        let depth: f64 = layers.iter().map(|layer| layer.thickness_cm).sum();
        let spacing = match self.cells {
            Some(CellsQuestion::EvenCm(size)) => Spacing::Even(size.get()),
            Some(CellsQuestion::Growing(cells)) => Spacing::Growing {
                first_cm: cells.first_cm.get(),
                factor: cells.factor.get(),
                greatest_cm: cells.greatest_cm.get(),
            },
            None => Spacing::Even((depth / 200.0).max(1.0)),
        };
        let too_many = |given: String| {
            Refusal::new("cells", format!("the profile would have {given} cells"))
                .given(given)
                .accepted(format!(
                    "at most {MOST_CELLS} cells, and at most {MOST_VALUES} cells times output times"
                ))
                .example("even_cm = 1")
        };
        let profile =
            Profile::new(layers, spacing).map_err(|fault| too_many("too many".to_owned()).given(fault))?;
        let cells = profile.cells();
        if cells > MOST_CELLS || cells * self.times_h.len() > MOST_VALUES {
            return Err(too_many(cells.to_string()));
        }
        Ok(profile)
    }

    fn start(&self, layers: &[Layer]) -> Result<Start, Refusal> {
        let same_count = |field: &str, count: usize| {
            if count == layers.len() {
                return Ok(());
            }
            Err(Refusal::new(
                format!("start.{field}"),
                format!(
                    "one entry a layer is needed: {} layers, but {count} entries were given",
                    layers.len()
                ),
            )
            .given(count)
            .accepted(format!("{} entries", layers.len()))
            .example(layers.len()))
        };
        Ok(match &self.start {
            StartQuestion::HeadCm(head) => Start::Head(head.get()),
            StartQuestion::LayerHeadsCm(heads) => {
                same_count("layer_heads_cm", heads.len())?;
                Start::LayerHeads(heads.iter().map(|head| head.get()).collect())
            }
            StartQuestion::LayerWater(water) => {
                same_count("layer_water_m3_m3", water.len())?;
                for (place, (water, layer)) in water.iter().zip(layers).enumerate() {
                    let (dry, full) = (layer.curve.residual(), layer.curve.saturation());
                    if water.get() <= dry || water.get() > full {
                        return Err(Refusal::new(
                            format!("start.layer_water_m3_m3[{place}]"),
                            format!(
                                "the soil of layer {} holds above {dry:.3} and at most {full:.3} m³/m³, but {} was given",
                                place + 1,
                                water.get()
                            ),
                        )
                        .given(format!("{} m³/m³", water.get()))
                        .accepted(format!("above {dry:.3} to {full:.3} m³/m³"))
                        .example(format!("{:.3}", dry + 0.5 * (full - dry))));
                    }
                }
                Start::LayerWater(water.iter().map(|water| water.get()).collect())
            }
            StartQuestion::WaterTableCm(depth) => Start::WaterTable(depth.get()),
        })
    }

    fn surface(&self, notes: &mut Vec<Note>) -> Result<Surface, Refusal> {
        let slow = |rate: Option<Rate>| rate.map_or(0.0, |rate| rate.get() / 10.0);
        let periods: Vec<Period> = self
            .periods
            .iter()
            .map(|period| Period {
                until_h: period.until_h.get(),
                water_cm_h: period.water_mm_h.get() / 10.0,
                evaporation_cm_h: slow(period.evaporation_mm_h),
                transpiration_cm_h: slow(period.transpiration_mm_h),
            })
            .collect();
        if let Some(head) = self.surface_head_cm {
            let offered = |period: &Period| period.water_cm_h > 0.0 || period.evaporation_cm_h > 0.0;
            if let Some(place) = periods.iter().position(offered) {
                return Err(Refusal::new(
                    "surface_head_cm",
                    format!("the surface is held at a head, so water and evaporation of periods[{place}] would be lost"),
                )
                .given(format!("{} cm", head.get()))
                .accepted("either surface_head_cm, or periods with water and evaporation")
                .example("no surface_head_cm"));
            }
            return Ok(Surface { top: Top::Head(head.get()), periods });
        }
        if self.pond_limit_mm.is_none() {
            notes.push(Note::new(
                NoteKind::Provenance,
                "Nothing is said of water standing on the surface: 5 mm is let stand before the rest runs off (our judgement).",
            ));
        }
        let driest_head_cm = self.driest_head_cm.map_or(-15_296.0, Bounded::get);
        if driest_head_cm >= 0.0 {
            return Err(Refusal::new("driest_head_cm", "the head of a dry surface is below 0")
                .given(driest_head_cm)
                .accepted("-1000000 to below 0 cm")
                .example("-15296"));
        }
        let pond_limit_cm = self.pond_limit_mm.map_or(0.5, |limit| limit.get() / 10.0);
        Ok(Surface { top: Top::Open { pond_limit_cm, driest_head_cm }, periods })
    }
}

impl RootsQuestion {
    fn checked(&self) -> Result<Roots, Refusal> {
        let uptake = match self.uptake {
            None => Uptake::default(),
            Some(given) => {
                let heads = [
                    ("airless_head_cm", given.airless_head_cm),
                    ("full_from_head_cm", given.full_from_head_cm),
                    ("full_to_head_cm", given.full_to_head_cm),
                    ("wilting_head_cm", given.wilting_head_cm),
                ];
                for pair in heads.windows(2) {
                    if pair[1].1 >= pair[0].1 {
                        return Err(Refusal::new(
                            format!("roots.uptake.{}", pair[1].0),
                            format!("each head must be below the one before, {}", pair[0].1.get()),
                        )
                        .given(format!("{} cm", pair[1].1.get()))
                        .accepted(format!("below {} cm", pair[0].1.get()))
                        .example(pair[0].1.get() - 100.0));
                    }
                }
                Uptake {
                    airless_head_cm: given.airless_head_cm.get(),
                    full_from_head_cm: given.full_from_head_cm.get(),
                    full_to_head_cm: given.full_to_head_cm.get(),
                    wilting_head_cm: given.wilting_head_cm.get(),
                }
            }
        };
        Ok(Roots { depth_cm: self.depth_cm.get(), shape: self.shape, uptake })
    }
}
