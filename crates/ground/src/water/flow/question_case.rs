//! From a case as a person writes it to one that can be run, or to what is wrong with it.

use super::boundary::{Bottom, Period, Surface, Top};
use super::case::{Case, Start};
use super::profile::{Layer, Profile, Spacing};
use super::question::{BottomQuestion, CellsQuestion, ProfileQuestion, Rate, RootsQuestion, StartQuestion};
use super::record::Run;
use super::roots::{Roots, Uptake};
use super::solver::{Options, Solver};
use crate::kit::method::read;
use crate::kit::{Bounded, Note, NoteKind, Refusal};
use crate::water::retention::Retention;

/// Most layers, periods, times and cells accepted, and most cells times output times.
const MOST_LAYERS: usize = 20;
const MOST_PERIODS: usize = 2000;
const MOST_TIMES: usize = 400;
const MOST_CELLS: usize = 1000;
const MOST_VALUES: usize = 100_000;
/// Steps times cells that one answer may cost.
const MOST_WORK: usize = 10_000_000;

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
