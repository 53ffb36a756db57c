//! How many cores to pull on a plot, where, how deep and when, and when not to put its soil into one bag.
//!
//! [`sampling_report`] answers an [`SamplingAsk`]; [`SamplingReport::plan`] makes the record that is kept, and [`told`]
//! reads a kept one back with its places in metres. [`tell`] puts both into sentences.

mod again;
mod around;
mod bags;
mod corner;
mod kept;
mod last;
mod lay_out;
mod number;
mod own_spread;
mod remarks;
mod split;
pub mod tell;

#[cfg(test)]
mod tests;

use book::model::{Design, EntryId, Frame, Plot, Point, SamplingPlan, SamplingPoint, SamplingPurpose, Shape};
use book::{Held, Snapshot};
use ground::kit::{Bounded, Refusal};
use ground::spatial::sampling::protocol::{Protocol, Situation, Wanted, protocol};
use ground::spatial::sampling::variation::Property;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

pub use around::KeptTo;
pub use corner::{Corner, across_words, along_words, heading, place_words, tape};
pub(crate) use kept::taken;
pub use kept::{ToldPlan, ToldPoint, kept_already, told};
pub use number::{Numbers, SpreadFrom, SpreadUsed};
pub use split::Split;

use crate::plan::FarmPlan;

/// What goes with pulling cores, whatever the numbers say.
pub const CAUTIONS: &[&str] = &[
    "Call the utility-locating service before any probe or core goes deeper than hand tools reach: buried gas, electric and water lines are common near buildings and tunnels.",
    "Wear gloves and wash your hands where soil may hold lead (old paint, traffic, old orchards) or fresh manure; ask the health department before food is grown on suspect ground.",
];

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SamplingAsk {
    /// What the soil is wanted for.
    pub purpose: SamplingPurpose,
    /// The property whose spread decides.
    pub property: Property,
    /// Error of the mean one can bear, to either side.
    pub error_percent: f64,
    /// How surely.
    pub confidence_percent: f64,
    /// How points are laid out.
    pub design: Design,
    /// The plan whose points are taken again.
    pub repeats: Option<EntryId>,
    /// How far to stay from the edges; by itself some 2 m, less on narrow plots.
    pub margin_m: Option<f64>,
    /// How far to stay from what is kept out of.
    pub keep_off_m: f64,
    /// What chance starts from.
    pub seed: u64,
    /// Cores in all, or points where each gets a bag; as many as the error asks where nothing is said.
    pub cores: Option<u16>,
    /// Bags; as many as the numbers ask where nothing is said.
    pub bags: Option<u16>,
    /// A bag for every point, for a map.
    pub apart: bool,
    /// Points in the drawn beds alone.
    #[serde(default)]
    pub in_beds: bool,
}

impl SamplingAsk {
    /// The usual question for a purpose.
    #[must_use]
    pub fn usual(purpose: SamplingPurpose) -> Self {
        Self {
            purpose,
            property: usual_property(purpose),
            error_percent: 20.0,
            confidence_percent: 90.0,
            design: Design::StratifiedRandom,
            repeats: None,
            margin_m: None,
            keep_off_m: 3.0,
            seed: 1,
            cores: None,
            bags: None,
            apart: false,
            in_beds: false,
        }
    }
}

/// The property that decides for a purpose: the one that varies most of those it is wanted for.
#[must_use]
pub fn usual_property(purpose: SamplingPurpose) -> Property {
    match purpose {
        SamplingPurpose::Fertility => Property::Phosphorus,
        SamplingPurpose::Nitrate => Property::Nitrate,
        SamplingPurpose::Texture => Property::Clay,
        SamplingPurpose::OrganicMatter => Property::OrganicMatter,
        SamplingPurpose::Salts => Property::Salts,
        SamplingPurpose::Structure => Property::BulkDensity,
    }
}

/// Where the outline that points are laid out in is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum OutlineFrom {
    /// It is drawn on the plan.
    Drawn,
    /// A rectangle of its sides, not placed on the plan.
    Sides,
    /// Only its area is known: numbers alone.
    Nothing,
}

/// The answer.
#[derive(Debug, Clone, Serialize)]
pub struct SamplingReport {
    /// The plot.
    pub plot: EntryId,
    /// What it is called.
    pub name: String,
    /// Its area.
    pub area_m2: f64,
    /// Where the outline is from.
    pub outline: OutlineFrom,
    /// What was asked.
    pub ask: SamplingAsk,
    /// How far it stays from the edges.
    pub margin_m: f64,
    /// How much single cores differ.
    pub spread: SpreadUsed,
    /// How many.
    pub numbers: Numbers,
    /// The layers to take, top first, each in bags of its own.
    pub layers: Vec<Protocol>,
    /// Why not to put it all into one bag.
    pub split: Vec<Split>,
    /// Parts to take it in, each in bags of its own; 1 unless it is too large for a bag.
    pub parts: u32,
    /// What it keeps away from.
    pub keeps_off: Vec<String>,
    /// What its points are kept to.
    pub kept_to: KeptTo,
    /// How many of its points lie in drawn beds; nothing where none is drawn.
    pub in_beds: Option<usize>,
    /// The corner that points are counted from.
    pub corner: Option<Corner>,
    /// The points, metres east and north, in the order in which they are walked.
    pub points: Vec<SamplingPoint>,
    /// Length of the walk.
    pub walk_m: f64,
    /// What should be known of the points.
    pub remarks: Vec<String>,
    /// Day of the last sample or look whose results answer the purpose.
    #[serde(serialize_with = "maybe_text")]
    pub last_on: Option<Date>,
    /// Day it is due again, by the interval that looking again goes by.
    #[serde(serialize_with = "maybe_text")]
    pub due_on: Option<Date>,
}

fn maybe_text<S: serde::Serializer>(date: &Option<Date>, to: S) -> Result<S::Ok, S::Error> {
    match date {
        Some(date) => to.collect_str(date),
        None => to.serialize_none(),
    }
}

/// What grows, as far as sampling goes.
#[must_use]
pub fn situation(plot: &Plot) -> Situation {
    use book::model::Place;
    match plot.place {
        Place::HighTunnel | Place::Greenhouse => Situation::Tunnel,
        Place::Orchard => Situation::Orchard,
        Place::Pasture => Situation::Sward,
        Place::OpenField | Place::Other => Situation::Bed,
    }
}

/// The same purpose as the table of protocols names it.
#[must_use]
pub fn wanted(purpose: SamplingPurpose) -> Wanted {
    match purpose {
        SamplingPurpose::Fertility => Wanted::Fertility,
        SamplingPurpose::Nitrate => Wanted::Nitrate,
        SamplingPurpose::Texture => Wanted::Texture,
        SamplingPurpose::OrganicMatter => Wanted::OrganicMatter,
        SamplingPurpose::Salts => Wanted::Salts,
        SamplingPurpose::Structure => Wanted::Structure,
    }
}

/// Answers.
///
/// # Errors
/// Nothing of the plot is left within its margins, or there is no plan whose points could be taken again.
pub fn sampling_report(
    snapshot: &Snapshot,
    plot: &Held<Plot>,
    ask: &SamplingAsk,
    today: Date,
) -> Result<SamplingReport, Refusal> {
    if let Some(zone) = snapshot.zones_of(plot.id).next() {
        return Err(Refusal::new(
            "plot",
            format!("{} was parted into zones: each is sampled by itself", plot.body.name),
        )
        .given(&plot.body.name)
        .accepted("one of its zones")
        .example(&zone.body.name));
    }
    let farm = FarmPlan::of(snapshot);
    let earlier = again::earlier(snapshot, plot, ask)?;
    let asked = ask;
    let ask = earlier.map_or(*ask, |earlier| again::as_before(ask, earlier));
    // A push of the probe goes into no bag.
    let ask = match ask.purpose {
        SamplingPurpose::Structure => SamplingAsk { apart: false, bags: Some(1), ..ask },
        _ => ask,
    };
    let layers: Vec<Protocol> =
        protocol(situation(&plot.body), wanted(ask.purpose)).into_iter().cloned().collect();
    let spread = number::spread(snapshot, plot.id, ask.property);
    let numbers = number::numbers(&spread, layers.first(), &ask, plot.body.shape.area_m2());
    let laid = lay_out::lay_out(&farm, plot, &ask, &numbers, earlier)?;
    let mut numbers =
        if laid.points.is_empty() { numbers } else { numbers.with_points(laid.points.len(), &ask, &spread) };
    let points = bags::into_bags(laid.points, &mut numbers, asked);
    let corner = corner_of(&farm, plot, laid.outline, points.first().map(|point| point.at));
    let last::Last { last_on, due_on } = last::last(snapshot, plot, ask.purpose, today);
    let pieces = remarks::pieces(&farm, plot.id);
    Ok(SamplingReport {
        plot: plot.id,
        name: plot.body.name.clone(),
        area_m2: laid.area_m2.unwrap_or_else(|| plot.body.shape.area_m2()),
        outline: laid.outline,
        ask,
        margin_m: laid.margin_m,
        spread,
        layers,
        split: split::reasons(snapshot, &farm, plot, ask.purpose, today),
        parts: split::parts(plot.body.shape.area_m2()),
        keeps_off: laid.keeps_off,
        kept_to: laid.kept_to,
        in_beds: laid.in_beds,
        corner,
        points,
        numbers,
        walk_m: laid.walk_m,
        remarks: pieces.into_iter().chain(laid.remarks).collect(),
        last_on,
        due_on,
    })
}

fn corner_of(
    farm: &FarmPlan,
    plot: &Held<Plot>,
    outline: OutlineFrom,
    first: Option<Point>,
) -> Option<Corner> {
    match (outline, plot.body.shape) {
        (OutlineFrom::Drawn, _) => Corner::of_drawn(farm, plot.id, first),
        (OutlineFrom::Sides, Shape::Rectangle { length_m, width_m }) => {
            Some(Corner::of_sides(length_m.get().max(width_m.get())))
        }
        _ => None,
    }
}

impl SamplingReport {
    /// The record to keep, for its first layer or for `layer` of its layers.
    ///
    /// # Errors
    /// The depths of the layer cannot be kept.
    pub fn plan(
        &self,
        snapshot: &Snapshot,
        name: Option<String>,
        layer: usize,
        today: Date,
    ) -> Result<SamplingPlan, Refusal> {
        let farm = FarmPlan::of(snapshot);
        let drawn = (self.outline == OutlineFrom::Drawn).then(|| farm.frame()).flatten();
        let place = |at: Point| drawn.as_ref().map_or(at, |frame| frame.to_degrees(at));
        let layer = self.layers.get(layer).or(self.layers.first());
        let (from_cm, to_cm) = layer.map_or((0.0, 20.0), |layer| (layer.from_cm, layer.to_cm));
        let bounded = ground::kit::refusal::bounded;
        Ok(SamplingPlan {
            plot: self.plot,
            name: name.unwrap_or_else(|| self.usual_name(today)),
            made_on: today,
            purpose: self.ask.purpose,
            design: self.ask.design,
            seed: self.ask.seed,
            frame: match (self.outline, &drawn) {
                (OutlineFrom::Drawn, Some(_)) => Frame::Wgs84,
                (OutlineFrom::Drawn, None) => Frame::Metres,
                _ => Frame::PlotCorner,
            },
            points: self.points.iter().map(|point| SamplingPoint { at: place(point.at), ..*point }).collect(),
            from_cm: bounded("from_cm", from_cm)?,
            to_cm: bounded("to_cm", to_cm)?,
            cores_per_bag: self.numbers.cores_per_bag,
            bags: self.numbers.bags,
            repeats: self.ask.repeats.filter(|_| self.ask.design == Design::Repeat),
            note: match self.outline {
                OutlineFrom::Sides => "Places are counted from a corner of the plot, along its longer side: the plot is not drawn on the plan.".to_owned(),
                _ => String::new(),
            },
        })
    }

    /// "Lower field, acidity and nutrients, April 2026".
    #[must_use]
    pub fn usual_name(&self, today: Date) -> String {
        let plot: String = self.name.chars().take(60).collect();
        format!("{plot}, {}, {}", self.ask.purpose.words(), today.strftime("%B %Y"))
    }
}
