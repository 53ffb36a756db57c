//! A jar reading checked and put in order: which mark stands for which boundary.

use super::reading::{Boundary, Clarity, Dispersant, JarReading, Marks, TimedMark};
use super::vessel::Vessel;
use crate::kit::quantity::with_unit;
use crate::kit::{Bounded, Refusal};
use crate::texture::settling::stokes::{Fall, MINERAL_DENSITY_KG_M3};

/// Ruler step where nothing is said, mm.
const USUAL_RULER_STEP_MM: f64 = 1.0;
/// Height of the soil in a jar of which nothing could be seen, mm. Only shares are reported, so it
/// scales nothing but the crowding.
pub(super) const NOMINAL_SOIL_MM: f64 = 60.0;
/// Water over settled soil where the water was not recorded: sheets ask for a jar one quarter to one
/// half full, which is two to four heights, and thin layers are often chosen. Common practice.
pub(super) const WATER_OVER_SOIL: (f64, f64) = (2.0, 5.0);
/// Room temperature where nothing is said, °C. Judgement.
pub(super) const ROOM_C: (f64, f64) = (15.0, 25.0);
/// Between the sizes that a sand mark and a silt mark should part: their geometric mean, √(50 × 2) µm.
const SAND_OR_SILT_UM: f64 = 10.0;
/// A last mark this late, or with a cut this fine, stands for all that settles.
const LATE_S: f64 = 12.0 * 3600.0;
const FINE_UM: f64 = 1.7;
/// Settled soil sinks a little as it packs: a later mark may stand lower by this share.
const SINKS: f64 = 0.05;

/// How a height or thickness was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Seen {
    At(f64),
    Between(f64, f64),
    No,
}

impl Seen {
    pub(super) fn range(self) -> Option<(f64, f64)> {
        match self {
            Self::At(mm) => Some((mm, mm)),
            Self::Between(low, high) => Some((low, high)),
            Self::No => None,
        }
    }

    pub(super) fn middle(self) -> Option<f64> {
        self.range().map(|(low, high)| f64::midpoint(low, high))
    }
}

/// What was read for sand, silt and clay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Slots {
    /// Height of each layer's top.
    Tops([Seen; 3]),
    /// Thickness of each layer.
    Thicknesses([Seen; 3]),
}

/// A timed mark with the boundary it stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Planned {
    pub(super) after_s: f64,
    pub(super) top: Seen,
    /// 0 sand, 1 sand and silt, 2 all.
    pub(super) slot: Option<usize>,
}

/// A reading ready to be drawn from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Plan {
    pub(super) vessel: Vessel,
    pub(super) step_mm: f64,
    pub(super) slots: Slots,
    /// When each boundary was marked; `None` where it was not timed.
    pub(super) times_s: [Option<f64>; 3],
    /// All timed marks in the order of time.
    pub(super) marks: Vec<Planned>,
    pub(super) water_mm: Option<f64>,
    pub(super) temperature_c: Option<f64>,
    pub(super) dispersant: Dispersant,
    pub(super) clarity: Clarity,
}

impl Plan {
    pub(super) fn new(reading: &JarReading) -> Result<Self, Refusal> {
        let vessel = Vessel::new(&reading.shape)?;
        let step_mm = reading.ruler_step_mm.map_or(USUAL_RULER_STEP_MM, Bounded::get);
        let water_mm = reading.water_height_mm.map(Bounded::get);
        let temperature_c = reading.water_temperature_c.map(Bounded::get);
        let mut plan = Self {
            vessel,
            step_mm,
            slots: Slots::Tops([Seen::No; 3]),
            times_s: [None; 3],
            marks: Vec::new(),
            water_mm,
            temperature_c,
            dispersant: reading.dispersant,
            clarity: reading.water_after_a_day,
        };
        match &reading.marks {
            Marks::Thicknesses { sand, silt, clay } => {
                plan.slots = Slots::Thicknesses([
                    seen(*sand, "marks.sand")?,
                    seen(*silt, "marks.silt")?,
                    seen(*clay, "marks.clay")?,
                ]);
            }
            Marks::Heights { sand_top, silt_top, clay_top } => {
                let fields = ["marks.sand_top", "marks.silt_top", "marks.clay_top"];
                let tops =
                    [seen(*sand_top, fields[0])?, seen(*silt_top, fields[1])?, seen(*clay_top, fields[2])?];
                rising(&tops, |i| fields[i].to_owned(), 0.0, step_mm)?;
                plan.slots = Slots::Tops(tops);
            }
            Marks::Timed { marks } => plan.take_timed(marks)?,
        }
        plan.check_total()?;
        Ok(plan)
    }

    fn take_timed(&mut self, marks: &[TimedMark]) -> Result<(), Refusal> {
        if marks.is_empty() {
            return Err(Refusal::new("marks.marks", "no mark has been made yet")
                .given("no marks")
                .accepted(
                    "one mark or more, each with its time and height; a height may be 'could not see it'",
                )
                .example("55 mm after 60 s"));
        }
        let mut order: Vec<usize> = (0..marks.len()).collect();
        order.sort_by(|a, b| marks[*a].after_s.get().total_cmp(&marks[*b].after_s.get()));
        let field = |i: usize| format!("marks.marks[{}].top", order[i]);
        let mut tops = Vec::with_capacity(marks.len());
        for (i, at) in order.iter().enumerate() {
            tops.push(seen(marks[*at].top, &field(i))?);
        }
        rising(&tops, field, SINKS, self.step_mm)?;
        self.marks = order
            .iter()
            .zip(&tops)
            .map(|(at, top)| Planned { after_s: marks[*at].after_s.get(), top: *top, slot: None })
            .collect();
        self.give_slots();
        let mut slots = [Seen::No; 3];
        for mark in &self.marks {
            if let Some(slot) = mark.slot {
                slots[slot] = mark.top;
                self.times_s[slot] = Some(mark.after_s);
            }
        }
        self.slots = Slots::Tops(slots);
        Ok(())
    }

    /// The last mark, when late enough, stands for all. Of the others, the one that parts nearest to
    /// 50 µm stands for the sand, and the one nearest to 2 µm for sand and silt.
    fn give_slots(&mut self) {
        let cuts: Vec<f64> = (0..self.marks.len()).map(|i| self.likely_cut_um(i)).collect();
        let Some(last) = self.marks.len().checked_sub(1) else { return };
        let mut open = self.marks.len();
        if self.marks[last].after_s >= LATE_S || cuts[last] < FINE_UM {
            self.marks[last].slot = Some(2);
            open = last;
        }
        for (slot, target) in [(0, 50.0), (1, 2.0)] {
            let nearest = (0..open)
                .filter(|i| (cuts[*i] > SAND_OR_SILT_UM) == (slot == 0))
                // Of two marks made at one moment the later entry counts.
                .filter(|i| self.marks.get(i + 1).is_none_or(|next| next.after_s > self.marks[*i].after_s))
                // A height beats "could not see it", whatever the time.
                .min_by(|a, b| {
                    let unlike =
                        |i: usize| (self.marks[i].top == Seen::No, libm::log(cuts[i] / target).abs());
                    let (a, b) = (unlike(*a), unlike(*b));
                    a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
                });
            if let Some(nearest) = nearest {
                self.marks[nearest].slot = Some(slot);
            }
        }
    }

    /// Size parted by a mark with everything unknown at its middle: good enough to tell marks apart.
    fn likely_cut_um(&self, mark: usize) -> f64 {
        let known_top = self.marks.iter().rev().find_map(|mark| mark.top.middle()).unwrap_or(NOMINAL_SOIL_MM);
        let water = self.water_mm.unwrap_or(known_top * f64::midpoint(WATER_OVER_SOIL.0, WATER_OVER_SOIL.1));
        let top = self.marks[mark].top.middle().unwrap_or(known_top / 2.0);
        let temperature = self.temperature_c.unwrap_or(f64::midpoint(ROOM_C.0, ROOM_C.1));
        let depth = (water - top).max(5.0);
        Fall::new(temperature, MINERAL_DENSITY_KG_M3, 0.0).cut_um(self.marks[mark].after_s, depth)
    }

    fn check_total(&self) -> Result<(), Refusal> {
        let (seen, least) = match self.slots {
            Slots::Tops(tops) => {
                let lows: Vec<f64> = self
                    .marks
                    .iter()
                    .map(|mark| mark.top)
                    .chain(tops)
                    .filter_map(Seen::range)
                    .map(|range| range.0)
                    .collect();
                (tops, lows.into_iter().fold(0.0, f64::max))
            }
            Slots::Thicknesses(layers) => {
                (layers, layers.iter().filter_map(|layer| layer.range()).map(|r| r.0).sum())
            }
        };
        if seen.iter().all(|one| one.range().is_some_and(|range| range.1 <= 0.0)) {
            return Err(Refusal::new("marks", "all the heights are zero, so the jar holds no settled soil")
                .given("0 mm")
                .accepted("heights above the jar floor")
                .example("sand 34 mm, silt 24 mm, clay 14 mm"));
        }
        if let Some(water) = self.water_mm
            && water <= least
        {
            return Err(Refusal::new(
                "water_height_mm",
                format!(
                    "the water surface at {} is not above the settled soil at {}",
                    with_unit(water, "mm"),
                    with_unit(least, "mm")
                ),
            )
            .given(with_unit(water, "mm"))
            .accepted("the height of the water surface above the jar floor, above the soil")
            .example("180 mm"));
        }
        Ok(())
    }

    /// Whether too little was seen to tell any share of the soil: two boundaries, or a layer that is not
    /// there, is the least that does.
    pub(super) fn tells_nothing(&self) -> bool {
        let (Slots::Tops(seen) | Slots::Thicknesses(seen)) = self.slots;
        let ranges = seen.iter().filter_map(|one| one.range());
        let none_there = ranges.clone().any(|range| range.1 <= 0.0);
        ranges.count() < 2 && !none_there
    }

    /// Whether silt and clay were seen as one layer over the sand: a second one is not told from none
    /// by the ruler.
    pub(super) fn one_layer_above_sand(&self) -> bool {
        let step = self.step_mm;
        match self.slots {
            Slots::Tops([sand, silt, clay]) => match (sand.range(), silt.range(), clay.range()) {
                (Some(sand), Some(silt), Some(clay)) => {
                    clay.0 > sand.1 + step && (silt.1 - sand.0 < step || clay.1 - silt.0 < step)
                }
                _ => false,
            },
            Slots::Thicknesses([_, silt, clay]) => match (silt.range(), clay.range()) {
                (Some(silt), Some(clay)) => (silt.1 < step) != (clay.1 < step),
                _ => false,
            },
        }
    }

    /// Share of a jar's volume that is solid when `soil_volume` of settled soil of these layer masses
    /// is shaken through `water_volume`.
    pub(super) fn solids(layer_mass: [f64; 3], water_volume: f64) -> f64 {
        (layer_mass.iter().sum::<f64>() / MINERAL_DENSITY_KG_M3 / water_volume).min(0.5)
    }
}

fn seen(boundary: Boundary, field: &str) -> Result<Seen, Refusal> {
    match boundary {
        Boundary::At { mm } => Ok(Seen::At(mm.get())),
        Boundary::Between { low_mm, high_mm } if low_mm > high_mm => Err(Refusal::new(
            field,
            format!("the range runs backwards: {} to {} mm", low_mm.get(), high_mm.get()),
        )
        .given(format!("between {} and {} mm", low_mm.get(), high_mm.get()))
        .accepted("the lower height first")
        .example("between 28 and 32 mm")),
        Boundary::Between { low_mm, high_mm } => Ok(Seen::Between(low_mm.get(), high_mm.get())),
        Boundary::No => Ok(Seen::No),
    }
}

/// Refuses a top that is certainly below an earlier one. `sinks` is the share by which it may be.
fn rising(tops: &[Seen], field: impl Fn(usize) -> String, sinks: f64, step_mm: f64) -> Result<(), Refusal> {
    let mut below: Option<f64> = None;
    for (i, top) in tops.iter().enumerate() {
        let Some((low, high)) = top.range() else { continue };
        if let Some(before) = below
            && high < before * (1.0 - sinks) - step_mm
        {
            let remedy = if sinks > 0.0 { "later marks stand higher" } else { "sand below silt below clay" };
            return Err(Refusal::new(
                field(i),
                format!(
                    "this top at {} is below the one before it at {}",
                    with_unit(high, "mm"),
                    with_unit(before, "mm")
                ),
            )
            .given(with_unit(high, "mm"))
            .accepted(format!("heights above the jar floor, {} or more: {remedy}", with_unit(before, "mm")))
            .example(with_unit(before + 10.0, "mm")));
        }
        below = Some(below.map_or(low, |before: f64| before.max(low)));
    }
    Ok(())
}
