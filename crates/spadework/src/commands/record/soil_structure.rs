//! `record probe`, `record core`, `record spade`, `record slake` and `record working`: structure.

use book::model::Seen;
use book::model::seen::{
    DensityCores, MoistureFeel, ProbePoint, ProbeSeen, SpadeBlock, WhenWorked, WorkingTest,
};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::kit::units::{Dimension, UnitSystem, typed};
use ground::kit::{Bounded, Refusal};
use ground::structure::density::core::CoreInput;
use ground::structure::probe::line::read_push;
use ground::structure::probe::push::ProbeDepth;
use ground::structure::spade::crumbs::read_crumbs;
use ground::structure::spade::look::SpadeSign;
use ground::structure::spade::score::ScoredLayer;
use ground::structure::spade::slake::SlakeInput;
use ground::structure::spade::worms::WormInput;
use ground::structure::working::ball::Handful;
use ground::structure::working::limits::LimitsInput;
use serde::Serialize;
use serde_json::Value;

use super::About;
use super::in_bed::{given, needed};
use super::moisture::{depths, step};
use crate::args::Global;
use crate::report::Report;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// A value's own word, as an argument: with hyphens.
fn word(value: impl Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(Value::String(word)) => word.replace('_', "-"),
        _ => String::new(),
    }
}

fn words<T: Serialize + Copy>(all: &[T]) -> PossibleValuesParser {
    // Argument parsers keep their words for as long as the program runs.
    PossibleValuesParser::new(
        all.iter().map(|one| clap::builder::PossibleValue::new(word(*one).leak() as &str)),
    )
}

fn chosen<T: Serialize + Copy>(all: &[T], said: &str) -> Option<T> {
    all.iter().copied().find(|one| word(*one) == said)
}

fn system(about: &About, global: &Global) -> Result<UnitSystem, Trouble> {
    Ok(global.system_or(shelf::read(&about.book)?.snapshot()?.farm.body.units))
}

/// Options of `record probe`.
#[derive(Debug, Args)]
#[command(
    after_help = "A point is its readings from the top down: numbers of the gauge (psi on a US farm, MPa on a metric one), or slides,
leans and stops for a plain rod; stuck where it went no further, - for a depth left out. A reading at another depth
has it in front (\"4 in: 150\"), and a place may stand before all of them (\"gate = 120, 180\").

Example:
  spadework record probe home.farmbook \"Lower field\" --moisture field-capacity
    --point \"gate = 120, 180, 320, 340, 210\" --point \"110, 170, 310, stuck\""
)]
pub(crate) struct RecordProbe {
    #[command(flatten)]
    about: About,
    /// What a handful from that depth does when squeezed; the limits of roots hold near field capacity alone
    #[arg(long, value_name = "STEP", value_parser = PossibleValuesParser::new(MoistureFeel::ALL.map(step)))]
    moisture: String,
    /// Pushed in wheel tracks or paths only
    #[arg(long)]
    tracks: bool,
    /// Depth between readings; 3 in or 7.5 cm, unless said
    #[arg(long, value_name = "DEPTH")]
    step: Option<String>,
    /// One push; once for each
    #[arg(long = "point", value_name = "READINGS", required = true)]
    points: Vec<String>,
}

impl RecordProbe {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let system = system(&self.about, global)?;
        let usual = if system == UnitSystem::UsCustomary { "3 in" } else { "7.5 cm" };
        let step_cm: ProbeDepth =
            typed("step", self.step.as_deref().unwrap_or(usual), Dimension::Depth.unit(system))?;
        let points = self
            .points
            .iter()
            .map(|text| {
                let (place, readings) = text.split_once('=').unwrap_or(("", text));
                let push = read_push("point", readings, step_cm.get(), system)?;
                Ok(ProbePoint {
                    place: place.trim().to_owned(),
                    readings: push.readings,
                    stuck_at_cm: push.stuck_at_cm,
                })
            })
            .collect::<Result<Vec<_>, Refusal>>()?;
        let moisture = MoistureFeel::ALL
            .into_iter()
            .find(|feel| step(*feel) == self.moisture)
            .unwrap_or(MoistureFeel::FieldCapacity);
        self.about.store(Seen::Probe(ProbeSeen { moisture, tracks: self.tracks, points }), global, terminal)
    }
}

/// Options of `record core`.
#[derive(Debug, Args)]
#[command(
    after_help = "A core is VOLUME,DRY or VOLUME,DRY,MOIST or VOLUME,DRY,MOIST,STONES: the inside of the ring in mL, its mass after
drying, before drying, and of the dry stones in it, in g where no unit is written. A - leaves one out.

Example:
  spadework record core home.farmbook \"Lower field\" --layer 8-12in --core 350,560,650 --core 350,548,-,40"
)]
pub(crate) struct RecordCore {
    #[command(flatten)]
    about: About,
    /// The layer they were taken from: \"8-12in\"
    #[arg(long)]
    layer: String,
    /// One core; once for each
    #[arg(long = "core", value_name = "VOLUME,DRY,MOIST,STONES", required = true)]
    cores: Vec<String>,
}

impl RecordCore {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let system = system(&self.about, global)?;
        let (from_cm, to_cm) = depths("layer", &self.layer, system)?;
        let to_cm = to_cm.ok_or_else(|| {
            Refusal::new("layer", "one depth was given, and not a layer between two")
                .given(self.layer.clone())
                .accepted("a layer between two depths")
                .example("8-12in")
        })?;
        let cores = self.cores.iter().map(|text| core(text)).collect::<Result<Vec<_>, _>>()?;
        self.about.store(Seen::Cores(DensityCores { from_cm, to_cm, cores }), global, terminal)
    }
}

fn core(text: &str) -> Result<CoreInput, Refusal> {
    let parts: Vec<Option<&str>> =
        text.split(',').map(str::trim).map(|part| (!matches!(part, "" | "-")).then_some(part)).collect();
    let (volume, dry, rest) = match parts[..] {
        [Some(volume), Some(dry), ref rest @ ..] if rest.len() <= 2 => (volume, dry, rest),
        _ => {
            return Err(Refusal::new("core", format!("{text:?} does not say a volume and a dry mass"))
                .given(text)
                .accepted("VOLUME,DRY,MOIST,STONES, the last two if you have them")
                .example("350,560,650"));
        }
    };
    // A ring is measured in mL and weighed in g on any farm.
    let metric = UnitSystem::Metric;
    Ok(CoreInput {
        volume_ml: needed("core", Some(volume), metric)?,
        dry_mass_g: needed("core", Some(dry), metric)?,
        moist_mass_g: given("core", rest.first().copied().flatten(), metric)?,
        rock_mass_g: given("core", rest.get(1).copied().flatten(), metric)?,
        rock_density_g_cm3: None,
        grain_density_g_cm3: None,
    })
}

/// Options of `record spade`.
#[derive(Debug, Args)]
#[command(
    after_help = "A layer is THICKNESS,SCORE from the surface down; scores go from 1 (crumbs smaller than a pea, roots everywhere) to
5 (very compact, no pores).

Example:
  spadework record spade home.farmbook \"Lower field\" --layer 6in,2 --layer 5in,4 --sign roots-turn-aside --sign plates
    --worms 6 --block 12in,12in,12in"
)]
pub(crate) struct RecordSpade {
    #[command(flatten)]
    about: About,
    /// A layer with its score; once for each, from the surface down
    #[arg(long = "layer", value_name = "THICKNESS,SCORE")]
    layers: Vec<String>,
    /// What the block shows; once for each
    #[arg(long = "sign", value_name = "SIGN", value_parser = words(&SpadeSign::ALL))]
    signs: Vec<String>,
    /// Earthworms in the block
    #[arg(long, requires = "block")]
    worms: Option<String>,
    /// Length, width and depth of the block
    #[arg(long, value_name = "LENGTH,WIDTH,DEPTH", requires = "worms")]
    block: Option<String>,
}

impl RecordSpade {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let system = system(&self.about, global)?;
        let layers = self.layers.iter().map(|text| scored(text, system)).collect::<Result<Vec<_>, _>>()?;
        let signs = self.signs.iter().filter_map(|said| chosen(&SpadeSign::ALL, said)).collect();
        let worms = match (&self.worms, &self.block) {
            (Some(worms), Some(block)) => {
                let sides: Vec<&str> = block.split(',').map(str::trim).collect();
                let [length, width, depth] = sides[..] else {
                    return Err(Refusal::new("block", format!("{block:?} does not say three sides"))
                        .given(block.clone())
                        .accepted("LENGTH,WIDTH,DEPTH")
                        .example("12in,12in,12in")
                        .into());
                };
                Some(WormInput {
                    worms: needed("worms", Some(worms), system)?,
                    length_cm: needed("block", Some(length), system)?,
                    width_cm: needed("block", Some(width), system)?,
                    depth_cm: needed("block", Some(depth), system)?,
                })
            }
            _ => None,
        };
        self.about.store(Seen::Spade(SpadeBlock { layers, signs, worms }), global, terminal)
    }
}

fn scored(text: &str, system: UnitSystem) -> Result<ScoredLayer, Refusal> {
    let Some((thickness, score)) = text.split_once(',') else {
        return Err(Refusal::new("layer", format!("{text:?} does not say a thickness and a score"))
            .given(text)
            .accepted("THICKNESS,SCORE")
            .example("6in,2"));
    };
    Ok(ScoredLayer {
        thickness_cm: needed("layer", Some(thickness.trim()), system)?,
        score: needed("layer", Some(score.trim()), system)?,
    })
}

/// Options of `record slake`.
#[derive(Debug, Args)]
#[command(
    after_help = "For each crumb: the time until half of it had fallen apart (20 s), what stayed on the mesh after five dips (60 %), or
weak where it could not be picked up. 3 x 60 % stands for three alike.

Example:
  spadework record slake home.farmbook \"Lower field\" --crumbs \"4 x 20 s, 8 x 40 s, 4 x 60 %\""
)]
pub(crate) struct RecordSlake {
    #[command(flatten)]
    about: About,
    /// What each crumb did
    #[arg(long)]
    crumbs: String,
}

impl RecordSlake {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let crumbs = read_crumbs("crumbs", &self.crumbs)?;
        self.about.store(Seen::Slake(SlakeInput { crumbs }), global, terminal)
    }
}

/// Options of `record working`.
#[derive(Debug, Args)]
#[command(after_help = "Example:
  spadework record working home.farmbook \"Lower field\" --depth 6in --handful shatters --days-since-rain 3 --worked crumbled")]
pub(crate) struct RecordWorking {
    #[command(flatten)]
    about: About,
    /// From which depth the handful came
    #[arg(long)]
    depth: String,
    /// What it does when squeezed and pressed
    #[arg(long, value_name = "WHAT", value_parser = words(&Handful::ALL))]
    handful: String,
    /// Days since a soaking rain or watering
    #[arg(long, value_name = "DAYS")]
    days_since_rain: Option<String>,
    /// What the ground did, where it was worked that day
    #[arg(long, value_name = "WHAT", value_parser = words(&WhenWorked::ALL))]
    worked: Option<String>,
    /// Plastic limit, percent of water by mass
    #[arg(long, value_name = "PERCENT")]
    plastic_limit: Option<String>,
    /// Liquid limit
    #[arg(long, value_name = "PERCENT", requires = "plastic_limit")]
    liquid_limit: Option<String>,
    /// Water in the ground by mass
    #[arg(long, value_name = "PERCENT", requires = "plastic_limit")]
    water: Option<String>,
}

impl RecordWorking {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let system = system(&self.about, global)?;
        let limits = match &self.plastic_limit {
            Some(plastic) => Some(LimitsInput {
                plastic_limit_percent: needed("plastic-limit", Some(plastic), system)?,
                liquid_limit_percent: given("liquid-limit", self.liquid_limit.as_deref(), system)?,
                water_percent: given("water", self.water.as_deref(), system)?,
            }),
            None => None,
        };
        let test = WorkingTest {
            depth_cm: needed("depth", Some(&self.depth), system)?,
            handful: chosen(&Handful::ALL, &self.handful).unwrap_or(Handful::Shatters),
            days_since_rain: given("days-since-rain", self.days_since_rain.as_deref(), system)?,
            worked: self.worked.as_deref().and_then(|said| chosen(&WhenWorked::ALL, said)),
            limits,
        };
        self.about.store(Seen::Working(test), global, terminal)
    }
}
