//! What the book holds on the structure of a plot, each reading as its method reads it.

use book::Snapshot;
use book::model::seen::{DensityCores, MoistureFeel, ProbeSeen, SpadeBlock, WhenWorked, WorkingTest};
use book::model::{EntryId, Seen};
use ground::kit::{Bounded, Method, Spread};
use ground::structure::density::core::CoreBulkDensity;
use ground::structure::probe::strength::comparable;
use ground::structure::probe::transect::{ProbeTransect, TransectOutput};
use ground::structure::spade::look::{LookInput, SpadeLook, short_of_air};
use ground::structure::spade::score::{ScoreInput, ScoreOutput, VisualStructureScore};
use ground::structure::spade::slake::{SlakeOutput, SlakeTest};
use ground::structure::spade::worms::{EarthwormCount, WormOutput};
use ground::structure::working::ball::Handful;
use ground::structure::working::limits::{ConsistencyLimits, LimitsOutput};
use jiff::civil::Date;
use serde::Serialize;

/// Scatter of cores within a plot where fewer than three were taken, g/cm³ (0.05 to 0.10, common practice).
const CORE_SCATTER_G_CM3: f64 = 0.075;

/// A transect of probe pushes.
#[derive(Debug, Clone, Serialize)]
pub struct TransectRead {
    /// The record.
    pub record: EntryId,
    /// The day.
    pub on: Date,
    /// How moist the ground was.
    pub moisture: MoistureFeel,
    /// Was it moist enough to put to the limits of roots?
    pub comparable: bool,
    /// In wheel tracks or paths only?
    pub tracks: bool,
    /// Pushes that were stopped in the top 38 cm.
    pub stopped: usize,
    /// Pushes.
    pub pushes: usize,
    /// Pushes that were not driven out below the hard layer.
    pub not_through: usize,
    /// What the method says.
    pub found: TransectOutput,
    /// The readings, for the chart.
    #[serde(skip)]
    pub seen: ProbeSeen,
}

/// Cores of one layer together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoresRead {
    /// The record.
    pub record: EntryId,
    /// The day.
    pub on: Date,
    /// Top of the layer.
    pub from_cm: f64,
    /// Its bottom.
    pub to_cm: f64,
    /// Density of the fine earth, core by core.
    pub each_g_cm3: Vec<f64>,
    /// Their mean.
    pub mean_g_cm3: f64,
    /// Standard error of the mean.
    pub error_g_cm3: f64,
    /// Stones by volume, mean.
    pub rock_volume_percent: f64,
    /// Pores of the fine earth, mean.
    pub porosity_percent: f64,
    /// Air on the day, mean of the cores that were weighed moist.
    pub air_percent: Option<f64>,
}

/// A spade block.
#[derive(Debug, Clone, Serialize)]
pub struct BlockRead {
    /// The record.
    pub record: EntryId,
    /// The day.
    pub on: Date,
    /// Does it confirm a hard layer?
    pub confirms: Option<bool>,
    /// Do mottles or smell say that air runs short?
    pub short_of_air: bool,
    /// What its signs mean.
    pub says: Option<String>,
    /// Its score.
    pub score: Option<ScoreOutput>,
    /// Earthworms.
    pub worms: Option<WormOutput>,
}

/// A slake test.
#[derive(Debug, Clone, Serialize)]
pub struct SlakeRead {
    /// The record.
    pub record: EntryId,
    /// The day.
    pub on: Date,
    /// What the method says.
    pub found: SlakeOutput,
}

/// A working test.
#[derive(Debug, Clone, Serialize)]
pub struct HandfulRead {
    /// The record.
    pub record: EntryId,
    /// The day.
    pub on: Date,
    /// From which depth.
    pub depth_cm: f64,
    /// What the handful did.
    pub handful: Handful,
    /// Days since a soaking rain.
    pub days_since_rain: Option<f64>,
    /// What the ground did when it was worked.
    pub worked: Option<WhenWorked>,
    /// Consistency limits, where they were found.
    pub limits: Option<LimitsOutput>,
}

/// Every reading of structure on a plot, earliest first.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Readings {
    /// Probe transects.
    pub transects: Vec<TransectRead>,
    /// Density cores.
    pub cores: Vec<CoresRead>,
    /// Spade blocks.
    pub blocks: Vec<BlockRead>,
    /// Slake tests.
    pub slakes: Vec<SlakeRead>,
    /// Working tests.
    pub handfuls: Vec<HandfulRead>,
}

impl Readings {
    /// Of a plot.
    #[must_use]
    pub fn of(snapshot: &Snapshot, plot: EntryId) -> Self {
        let mut all = Self::default();
        for held in snapshot.evidence(plot) {
            let (record, on) = (held.id, held.body.seen_on);
            // What its method no longer reads is kept in the book and left out here.
            match &held.body.seen {
                Seen::Probe(probe) => all.transects.extend(transect(record, on, probe)),
                Seen::Cores(cores) => all.cores.extend(cores_read(record, on, cores)),
                Seen::Spade(block) => all.blocks.push(block_read(record, on, block)),
                Seen::Slake(test) => {
                    all.slakes.extend(SlakeTest::compute(test).ok().map(|answer| SlakeRead {
                        record,
                        on,
                        found: answer.value,
                    }))
                }
                Seen::Working(test) => all.handfuls.push(handful(record, on, test)),
                _ => {}
            }
        }
        all
    }

    /// Is there a reading that tells of a hard layer?
    #[must_use]
    pub fn tell_of_hardness(&self) -> bool {
        !self.transects.is_empty()
            || !self.cores.is_empty()
            || self.blocks.iter().any(|block| block.confirms.is_some())
    }

    /// The latest transect where crops grow that may be put to the limits of roots, else the latest there.
    #[must_use]
    pub fn transect(&self) -> Option<&TransectRead> {
        let grown = || self.transects.iter().rev().filter(|one| !one.tracks);
        grown().find(|one| one.comparable).or_else(|| grown().next())
    }

    /// The latest transect in wheel tracks.
    #[must_use]
    pub fn tracks(&self) -> Option<&TransectRead> {
        self.transects.iter().rev().find(|one| one.tracks && one.comparable)
    }

    /// The latest block whose signs tell of a hard layer.
    #[must_use]
    pub fn telling_block(&self) -> Option<&BlockRead> {
        self.blocks.iter().rev().find(|block| block.confirms.is_some())
    }
}

fn transect(record: EntryId, on: Date, probe: &ProbeSeen) -> Option<TransectRead> {
    let found = ProbeTransect::compute(&probe.input()).ok()?.value;
    Some(TransectRead {
        record,
        on,
        moisture: probe.moisture,
        comparable: comparable(probe.moisture.into()),
        tracks: probe.tracks,
        stopped: found.pushes.iter().filter(|push| push.stopped).count(),
        pushes: found.pushes.len(),
        not_through: found
            .pushes
            .iter()
            .filter(|push| push.pan.is_some_and(|pan| pan.bottom_cm.is_none()))
            .count(),
        found,
        seen: probe.clone(),
    })
}

/// Density of the fine earth of cores, with the standard error of the mean.
pub(crate) fn mean_density(cores: &DensityCores) -> Option<(f64, f64, Vec<f64>)> {
    let each: Vec<f64> = cores
        .cores
        .iter()
        .filter_map(|core| CoreBulkDensity::compute(core).ok())
        .map(|answer| answer.value.fine_earth_g_cm3)
        .collect();
    if each.is_empty() {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "a few cores")]
    let n = each.len() as f64;
    let mean = each.iter().sum::<f64>() / n;
    let scatter = if each.len() < 3 {
        CORE_SCATTER_G_CM3
    } else {
        let squares: f64 = each.iter().map(|one| (one - mean) * (one - mean)).sum();
        (squares / (n - 1.0)).sqrt().max(CORE_SCATTER_G_CM3 / 1.5)
    };
    Some((mean, scatter / n.sqrt(), each))
}

fn cores_read(record: EntryId, on: Date, cores: &DensityCores) -> Option<CoresRead> {
    let (mean_g_cm3, error_g_cm3, each_g_cm3) = mean_density(cores)?;
    let answers: Vec<_> = cores
        .cores
        .iter()
        .filter_map(|core| CoreBulkDensity::compute(core).ok())
        .map(|one| one.value)
        .collect();
    let mean = |values: Vec<f64>| {
        #[expect(clippy::cast_precision_loss, reason = "a few cores")]
        let n = values.len() as f64;
        (n > 0.0).then(|| values.iter().sum::<f64>() / n)
    };
    Some(CoresRead {
        record,
        on,
        from_cm: cores.from_cm.get(),
        to_cm: cores.to_cm.get(),
        each_g_cm3,
        mean_g_cm3,
        error_g_cm3,
        rock_volume_percent: mean(answers.iter().map(|one| one.rock_volume_percent).collect())?,
        porosity_percent: mean(answers.iter().map(|one| one.porosity_percent).collect())?,
        air_percent: mean(answers.iter().filter_map(|one| one.air_volume_percent).collect()),
    })
}

fn block_read(record: EntryId, on: Date, block: &SpadeBlock) -> BlockRead {
    let look = (!block.signs.is_empty())
        .then(|| SpadeLook::compute(&LookInput { signs: block.signs.clone() }).ok())
        .flatten()
        .map(|answer| answer.value);
    BlockRead {
        record,
        on,
        confirms: look.as_ref().and_then(|look| look.confirms),
        short_of_air: short_of_air(&block.signs),
        says: look.map(|look| look.says),
        score: (!block.layers.is_empty())
            .then(|| VisualStructureScore::compute(&ScoreInput { layers: block.layers.clone() }).ok())
            .flatten()
            .map(|answer| answer.value),
        worms: block
            .worms
            .as_ref()
            .and_then(|worms| EarthwormCount::compute(worms).ok())
            .map(|answer| answer.value),
    }
}

fn handful(record: EntryId, on: Date, test: &WorkingTest) -> HandfulRead {
    HandfulRead {
        record,
        on,
        depth_cm: test.depth_cm.get(),
        handful: test.handful,
        days_since_rain: test.days_since_rain.map(Bounded::get),
        worked: test.worked,
        limits: test
            .limits
            .as_ref()
            .and_then(|limits| ConsistencyLimits::compute(limits).ok())
            .map(|one| one.value),
    }
}

/// Thickness of the hard layer, where both ends were found in some pushes.
#[must_use]
pub fn thickness_cm(found: &TransectOutput) -> Option<Spread> {
    let mut each: Vec<f64> =
        found.pushes.iter().filter_map(|push| push.pan.and_then(|pan| pan.thickness_cm())).collect();
    Spread::of_equal(&mut each)
}
