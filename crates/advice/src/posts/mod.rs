//! Posts: what their ground is to a builder, how deep they must stand, what pulls them out, and the wind at
//! which they let go, over everything the ground of the plot may be.
//!
//! [`posts`] answers one [`PostAsk`]: the posts of a structure, or a post that is of none yet. Pages, sheets, jobs
//! and the command line all take it from here; [`tell`] puts it into sentences. Every number is of
//! `ground::posts`; nothing here is a design, and [`CAUTIONS`] go wherever a number goes.

mod around;
mod ask;
mod depth;
mod ends;
mod hold;
mod load;
mod possible;
pub mod tell;

use book::Snapshot;
use book::model::{EntryId, PostFoot, StructureKind};
use ground::kit::{Bounded, Spread};
use ground::posts::building_class::BuildingClass;
use ground::posts::fence_practice::FencePracticeOutput;
use ground::posts::scope::{OutOfScope, STEEPEST_PERCENT};
use ground::posts::shrink_swell::ShrinkSwell;
use ground::posts::unified::{UnifiedGroup, unified_group};
use serde::Serialize;

use crate::finding::Firmness;
use crate::plot_report::PlotReport;

pub use around::{Drives, Frost, Rust, WithOdds};
pub use ask::{PostAsk, USUAL_COLLAR_M, USUAL_DEPTH_M, USUAL_HELIX_M, usual_post};
pub use depth::{DepthAdvice, LookHelps};
pub use ends::Ends;
pub use hold::{Concrete, FootCompared, LetsGo};
pub use load::{Push, Spot};
pub(crate) use possible::{Grounds, WaterAt, commonest, share};

/// Possible grounds of each draw: very fine sand as none, half and all of what may be there.
pub(crate) const VERY_FINE_CASES: usize = possible::VERY_FINE_SHARES.len();

/// What stands beside every number on posts.
pub const CAUTIONS: &[&str] = ground::posts::cautions::POSTS;

/// What it rests on.
const RESTS_ON: &[&str] = &[
    "Classes of ground and what each bears: International Building Code, Table 1806.2, read in reproductions. The softer class is built on as soon as its odds reach one in ten (common practice).",
    "Depth under sideways load: the code's equations 18-1 and 18-2, solved in closed form.",
    "Pull: the least of weight, grip, cone and breakout; textbook factors, partly recalled, and strengths estimated from the class alone (judgement): hence a third of the ground's part and six tenths of the weight.",
    "Wind: coefficients of arched roofs and open lattices of ASCE 7, recalled; the edition of 2016; no hill.",
    "Tilled ground of 15 to 30 cm, and one chance in four of water about the foot, stand in where nobody looked (common practice and judgement).",
];

/// One layer about the post.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PostGround {
    /// Its top, cm.
    pub from_cm: f64,
    /// Its bottom, cm.
    pub to_cm: f64,
    /// What it is.
    pub name: String,
    /// Share of it that is likely sand, silt, clay: which of them leads.
    pub leads: Leads,
    /// Does it count for the post?
    pub counts: bool,
}

/// What leads in a layer, for a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Leads {
    /// Sand.
    Sand,
    /// Silt, or a loam.
    Silt,
    /// Clay.
    Clay,
}

/// The ground as builders class it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BuildingGroundTold {
    /// Does any evidence speak of it?
    pub known: bool,
    /// Odds of silty or clayey sand and coarser.
    pub sand: f64,
    /// Odds of silt and clay.
    pub silt_and_clay: f64,
    /// The likelier class.
    pub likely: BuildingClass,
    /// How surely.
    pub firmness: Firmness,
    /// The class to build on.
    pub conservative: BuildingClass,
    /// Sideways pressure to build on, kPa for each metre of depth.
    pub lateral_kpa_m: f64,
    /// Ground at the top that is not counted, m.
    pub top_m: Option<Spread>,
    /// Was its depth written down?
    pub top_given: bool,
    /// Odds that the foot stands in water at times.
    pub below_water: f64,
    /// How that is known, in words.
    pub water_words: &'static str,
    /// Plasticity index in percent, and whether a laboratory gave it.
    pub plasticity: Option<(f64, bool)>,
    /// Unified group, where a laboratory gave the limits.
    pub unified: Option<UnifiedGroup>,
    /// Odds that the foot stands in ground that bears at all.
    pub bears: f64,
    /// Layers about the post.
    pub layers: Vec<PostGround>,
    /// Depth at which a spade, a bar or an auger stopped, cm.
    pub stopped_cm: Option<f64>,
    /// Depth of water that was seen, cm.
    pub water_cm: Option<f64>,
}

/// Everything there is to say about a post.
#[derive(Debug, Clone, Serialize)]
pub struct PostReport {
    /// The plot.
    pub plot: EntryId,
    /// Its name.
    pub plot_name: String,
    /// The structure, where it is of one.
    pub structure: Option<EntryId>,
    /// What it is called.
    pub name: String,
    /// What the structure is.
    pub kind: Option<StructureKind>,
    /// Is it planned, and not built yet?
    pub planned: bool,
    /// The post as it was worked out.
    pub post: PostFoot,
    /// Was it recorded or typed, or is it the usual one?
    pub post_given: bool,
    /// Depth of its foot, m.
    pub depth_m: f64,
    /// Was that given?
    pub depth_given: bool,
    /// Diameter of the concrete, m, where some is poured.
    pub collar_m: Option<f64>,
    /// Diameter of the bell, m.
    pub bell_m: Option<f64>,
    /// Height above the ground, m.
    pub above_m: f64,
    /// How many posts stand, where it can be told.
    pub posts: Option<u32>,
    /// Gust speed of the local code, m/s.
    pub wind_m_s: Option<f64>,
    /// Letter of the exposure.
    pub exposure: &'static str,
    /// Was it given?
    pub exposure_given: bool,
    /// Where wind and frost were read.
    pub code_note: String,
    /// Why no number is given; then there is none.
    pub out_of_scope: Vec<&'static str>,
    /// The ground as builders class it.
    pub ground: BuildingGroundTold,
    /// How deep for each push.
    pub depths: Vec<DepthAdvice>,
    /// The wind at which it lets go.
    pub lets_go: Vec<LetsGo>,
    /// The ways to set it, side by side.
    pub feet: Vec<FootCompared>,
    /// Concrete for all.
    pub concrete: Option<Concrete>,
    /// Frost.
    pub frost: Option<Frost>,
    /// Shrinking and swelling.
    pub shrink_swell: Option<WithOdds<ShrinkSwell>>,
    /// How it drives.
    pub drives: Vec<Drives>,
    /// A bar or spade stopped above the foot.
    pub may_stop_short: bool,
    /// What rusts it.
    pub rust: Rust,
    /// Usual depths of such posts.
    pub practice: Option<FencePracticeOutput>,
    /// The ends of the line.
    pub ends: Option<Ends>,
    /// What must be written down before more can be told.
    pub needs: Vec<String>,
    /// What should be known of the ground.
    pub notes: Vec<String>,
    /// What stands beside every number.
    pub cautions: &'static [&'static str],
    /// What it rests on.
    pub rests_on: &'static [&'static str],
}

impl PostReport {
    /// The push that asks for the deepest foot.
    #[must_use]
    pub fn worst(&self) -> Option<&DepthAdvice> {
        self.depths.iter().min_by(|a, b| {
            a.suffices.total_cmp(&b.suffices).then_with(|| {
                let deep = |one: &DepthAdvice| one.needed_m.map_or(f64::INFINITY, |needed| needed.median);
                deep(b).total_cmp(&deep(a))
            })
        })
    }

    /// The place that lets go first.
    #[must_use]
    pub fn weakest(&self) -> Option<&LetsGo> {
        self.lets_go.iter().min_by(|a, b| a.speed_m_s.median.total_cmp(&b.speed_m_s.median))
    }
}

/// Answers for a post; `None` where the book has no such plot, or nothing can be believed of its ground.
#[must_use]
pub fn posts(snapshot: &Snapshot, report: &PlotReport, ask: &PostAsk) -> Option<PostReport> {
    let plot = snapshot.plot(ask.plot)?;
    let grounds = Grounds::of(snapshot, report)?;
    let (depth_m, depth_given) = ask.depth_m();
    let cases = grounds.cases(depth_m);
    let out_of_scope = out_of_scope(plot.body.slope_percent.map(Bounded::get), &grounds, ask);
    let mut needs = needs(ask, &grounds);
    let in_scope = out_of_scope.is_empty();
    let windy = if in_scope {
        load::windy(ask).unwrap_or_else(|missing| {
            needs.insert(0, missing);
            Vec::new()
        })
    } else {
        Vec::new()
    };
    let pushes = if in_scope { load::pushes(ask, &windy) } else { Vec::new() };
    let feet = if in_scope { hold::feet(ask, &grounds, &windy) } else { Vec::new() };
    if pushes.is_empty() && in_scope {
        needs.push(if windy.is_empty() {
            "A sideways load on the post: the maker's or an engineer's, or height and spacing of the structure. Without one no depth can be told.".to_owned()
        } else {
            "The wind speed of your local code (in the settings of the farm): without it no depth can be told, only the wind at which the post lets go.".to_owned()
        });
    }
    let mut notes = grounds.soils.notes.clone();
    if ask.frame.is_some_and(|frame| frame.covered == Some(false)) {
        notes.push("The cover is off in the season of storms: a bare frame is pulled at far less than is reckoned here, which is for the cover on and whole.".to_owned());
    }
    if ask.frame.is_some_and(|frame| frame.profile == Some(book::model::TunnelProfile::Pointed)) {
        notes.push(
            "Pointed bows are reckoned as round ones of the same width and height, which come near them."
                .to_owned(),
        );
    }
    Some(PostReport {
        plot: plot.id,
        plot_name: plot.body.name.clone(),
        structure: ask.structure,
        name: ask.name.clone(),
        kind: ask.kind,
        planned: ask.planned,
        post: ask.post,
        post_given: ask.post_given,
        depth_m,
        depth_given,
        collar_m: ask.post.set.takes_concrete().then(|| ask.collar_m()),
        bell_m: (ask.post.set == book::model::PostSet::Belled).then(|| ask.bell_m()),
        above_m: ask.line.and_then(|line| line.height_m).map_or_else(|| ask.joint_m(), Bounded::get),
        posts: ask.count(),
        wind_m_s: ask.wind_m_s,
        exposure: exposure_letter(ask.exposure),
        exposure_given: ask.exposure_given,
        code_note: ask.code_note.clone(),
        ground: told(&grounds, report, &cases, depth_m),
        depths: pushes.iter().map(|push| depth::advise(ask, &grounds, push)).collect(),
        lets_go: hold::lets_go(ask, &cases, &windy),
        ends: ends::ends(ask, &feet).filter(|_| in_scope),
        feet,
        concrete: hold::concrete(ask).filter(|_| in_scope),
        frost: around::frost(ask, &grounds),
        shrink_swell: around::shrink_swell(&grounds),
        drives: around::drives(ask, &grounds),
        may_stop_short: grounds.stopped_cm.is_some_and(|cm| cm < 100.0 * depth_m),
        rust: around::rust(snapshot, ask, &grounds),
        practice: ends::practice(ask).filter(|_| in_scope),
        out_of_scope,
        needs,
        notes,
        cautions: CAUTIONS,
        rests_on: RESTS_ON,
    })
}

/// The letter by which codes know an exposure.
#[must_use]
pub fn exposure_letter(exposure: ground::posts::wind_pressure::Exposure) -> &'static str {
    use ground::posts::wind_pressure::Exposure;
    match exposure {
        Exposure::B => "B",
        Exposure::C => "C",
        Exposure::D => "D",
    }
}

fn out_of_scope(slope: Option<f64>, grounds: &Grounds, ask: &PostAsk) -> Vec<&'static str> {
    let wet_at_top = matches!(grounds.water, WaterAt::Stood(at) if at <= 1.0);
    [
        (slope.is_some_and(|slope| slope > STEEPEST_PERCENT), OutOfScope::SteepSlope),
        (wet_at_top, OutOfScope::WaterAtTheSurface),
        (ask.kind == Some(StructureKind::Shed), OutOfScope::PeopleInside),
    ]
    .into_iter()
    .filter(|(is, _)| *is)
    .map(|(_, why)| why.words())
    .collect()
}

fn needs(ask: &PostAsk, grounds: &Grounds) -> Vec<String> {
    let mut needs = Vec::new();
    if !ask.exposure_given {
        needs.push("What stands upwind was not said: open fields (exposure C) are taken.".to_owned());
    }
    if ask.frost_m.is_none() {
        needs.push("The frost depth of your local code: it is never reckoned from the ground.".to_owned());
    }
    if !ask.post_given {
        needs.push("The post itself: the usual one of such a structure is taken.".to_owned());
    }
    if grounds.found.tilled_to_cm.is_none() {
        needs.push(
            "How deep the ground is tilled or filled: 15 to 30 cm are taken as not counted.".to_owned(),
        );
    }
    needs
}

fn told(
    grounds: &Grounds,
    report: &PlotReport,
    cases: &[possible::Case],
    depth_m: f64,
) -> BuildingGroundTold {
    let odds = grounds.class_odds(cases);
    let (likely, conservative) = (odds.likely(), odds.conservative());
    let below_water = share(cases, |case| case.below_water);
    let mut tops: Vec<f64> = (0..grounds.soils.draws()).map(|draw| grounds.top_m(draw)).collect();
    let top_m = Spread::of_equal(&mut tops);
    let unified =
        grounds.found.liquid_limit_percent.zip(grounds.plasticity).and_then(|(liquid, (index, read))| {
            let mut fines: Vec<f64> = (0..grounds.len()).map(|at| grounds.passing(at, depth_m)).collect();
            let fines = Spread::of_equal(&mut fines)?.median;
            read.then(|| unified_group(fines, false, liquid.get(), index))
        });
    let water_words = match grounds.water {
        WaterAt::Stood(_) => "water was seen standing in the ground",
        WaterAt::Mottled(_) => "the ground is mottled or grey, three chances in four of water at times",
        WaterAt::Dry(_) => "a hole stayed dry in the wettest season",
        WaterAt::Unknown => "nobody looked, and one chance in four is taken",
    };
    BuildingGroundTold {
        known: report.make_up_known || grounds.soils.layers.iter().any(|layer| layer.own),
        sand: odds.sand,
        silt_and_clay: odds.silt_and_clay,
        likely,
        firmness: Firmness::of(odds.sand.max(odds.silt_and_clay)),
        conservative,
        lateral_kpa_m: conservative.presumptive().lateral_kpa_m(below_water >= 0.5),
        top_given: grounds.found.tilled_to_cm.is_some(),
        below_water,
        water_words,
        plasticity: grounds.plasticity,
        unified,
        bears: share(cases, |case| case.bears),
        layers: layers(grounds, top_m.map_or(0.0, |top| top.median), depth_m),
        top_m,
        stopped_cm: grounds.stopped_cm,
        water_cm: match grounds.water {
            WaterAt::Stood(at) => Some(at),
            _ => None,
        },
    }
}

/// The layers for a picture: what is not counted at the top, and the layers below it.
fn layers(grounds: &Grounds, top_m: f64, depth_m: f64) -> Vec<PostGround> {
    let top_cm = 100.0 * top_m;
    let deepest = 100.0 * depth_m * 1.4;
    let mut layers = Vec::new();
    if top_cm > 0.0 {
        let (class, _) = grounds.soils.top().class();
        let name = "tilled or loose ground".to_owned();
        layers.push(PostGround { from_cm: 0.0, to_cm: top_cm, name, leads: leads(class), counts: false });
    }
    let lowest = grounds.soils.layers.len() - 1;
    for (place, layer) in grounds.soils.layers.iter().enumerate() {
        let from_cm = layer.from_cm.max(top_cm);
        let to_cm = if place == lowest { layer.to_cm.max(deepest) } else { layer.to_cm };
        if to_cm <= from_cm || from_cm > deepest {
            continue;
        }
        let (class, odds) = layer.class();
        let name = if layer.named.is_some() || odds >= 0.75 {
            class.name().to_owned()
        } else {
            format!("{} likeliest", class.name())
        };
        layers.push(PostGround { from_cm, to_cm, name, leads: leads(class), counts: true });
    }
    layers
}

fn leads(class: ground::texture::Class) -> Leads {
    use ground::texture::Class;
    match class {
        Class::Sand | Class::LoamySand | Class::SandyLoam => Leads::Sand,
        Class::Loam | Class::SiltLoam | Class::Silt => Leads::Silt,
        _ => Leads::Clay,
    }
}
