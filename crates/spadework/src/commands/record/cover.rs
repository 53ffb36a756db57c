//! `record cover` and `record cover-end`: what was sown as a cover, and how it ended.

use book::model::{
    CoverBiomass, CoverCrop, CoverEnd, CoverEnding, CoverSeed, CoverStand, SeedRate, area_rate,
};
use book::{Held, Snapshot};
use clap::Args;
use clap::builder::PossibleValuesParser;
use ground::covers::catalogue::find;
use ground::covers::mix::Sowing;
use ground::covers::nitrogen::Stage;
use ground::kit::Refusal;
use ground::kit::units::UnitSystem;
use jiff::civil::Date;
use serde_json::json;

use super::in_bed::{InBed, given, needed, store};
use crate::args::Global;
use crate::report::{Report, wrapped};
use crate::shelf::{self, Witnessed};
use crate::terminal::Terminal;
use crate::trouble::{Trouble, in_units};

/// Options of `record cover`.
#[derive(Debug, Args)]
#[command(
    after_help = "Each cover by its name or key, with its seed from the bag after an equals sign where it is known.
`spadework cover-choice` tells which covers there are and how much seed they take.

Examples:
  spadework record cover home.farmbook \"Lower field\" \"Beds 1 to 8\" buckwheat --on 2026-08-01
  spadework record cover home.farmbook \"Lower field\" \"Beds 1 to 8\" oats=60lb/acre pea-spring=70lb/acre
    --on 2026-08-10 --sown drilled --end-by 2027-04-20"
)]
pub(crate) struct RecordCover {
    #[command(flatten)]
    place: InBed,
    /// The covers, each as COVER or COVER=SEED, such as oats=60lb/acre
    #[arg(required = true, value_name = "COVER")]
    covers: Vec<String>,
    /// How it was sown
    #[arg(long, value_parser = PossibleValuesParser::new(["broadcast", "drilled"]), default_value = "broadcast")]
    sown: String,
    /// Day by which it shall be ended
    #[arg(long, value_name = "DATE")]
    end_by: Option<String>,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl RecordCover {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.place.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let cover = CoverCrop {
            bed: self.place.find(&snapshot)?.id,
            seeds: self.covers.iter().map(|text| seed(text, system)).collect::<Result<_, _>>()?,
            sown_on: self.witnessed.day()?,
            sown: if self.sown == "drilled" { Sowing::Drilled } else { Sowing::Broadcast },
            end_by: self.end_by.as_deref().map(|text| shelf::day("end-by", text)).transpose()?,
            ended: None,
            stand: None,
            note: self.witnessed.note.clone(),
        };
        store(&mut book, cover, &self.witnessed.by, global, terminal)
    }
}

/// `oats=60lb/acre`, or a cover alone.
fn seed(text: &str, system: UnitSystem) -> Result<CoverSeed, Refusal> {
    let (name, rate) = text.split_once('=').map_or((text, None), |(name, rate)| (name, Some(rate)));
    Ok(CoverSeed {
        cover: find("cover", name)?.key.clone(),
        rate_kg_ha: rate.map(|rate| area_rate::<SeedRate>("cover", rate.trim(), system)).transpose()?,
    })
}

/// Options of `record cover-end`.
#[derive(Debug, Args)]
#[command(
    after_help = "Counts for the cover that stood in the bed on that day. Cut a few frames at the ground and weigh them together with
--cut and --from-area; or give --height and --covered where nothing was weighed.

Examples:
  spadework record cover-end home.farmbook \"Lower field\" \"Beds 1 to 8\" turned_in --on 2027-04-20
    --stage before_bloom --cut 3.1lb --from-area 10sqft
  spadework record cover-end home.farmbook \"Lower field\" \"Beds 1 to 8\" winterkilled --on 2027-03-01"
)]
pub(crate) struct RecordCoverEnd {
    #[command(flatten)]
    place: InBed,
    /// How it was ended
    #[arg(value_parser = PossibleValuesParser::new(["turned_in", "mown", "crimped", "covered_up", "winterkilled", "carried_off"]))]
    how: String,
    /// How far it was
    #[arg(long, value_parser = PossibleValuesParser::new(["before_bloom", "in_bloom"]))]
    stage: Option<String>,
    /// What was cut from the frames weighs
    #[arg(long, value_name = "MASS", requires = "from_area")]
    cut: Option<String>,
    /// Area that was cut
    #[arg(long, value_name = "AREA", requires = "cut")]
    from_area: Option<String>,
    /// It was dried before it was weighed
    #[arg(long, requires = "cut")]
    dried: bool,
    /// Its height, where nothing was weighed
    #[arg(long, value_name = "HEIGHT", requires = "covered", conflicts_with = "cut")]
    height: Option<String>,
    /// Share of the ground it covered
    #[arg(long, value_name = "PERCENT", requires = "height")]
    covered: Option<String>,
    /// Nitrogen of its dry matter, where a laboratory measured it
    #[arg(long, value_name = "PERCENT")]
    nitrogen: Option<String>,
    #[command(flatten)]
    witnessed: Witnessed,
}

impl RecordCoverEnd {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let mut book = shelf::open(&self.place.book)?;
        let snapshot = book.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let bed = self.place.find(&snapshot)?;
        let on = self.witnessed.day()?;
        let held = standing(&snapshot, bed.id, on).ok_or_else(|| {
            Trouble::from(
                Refusal::new(
                    "bed",
                    format!("no cover stood in {} on {}", bed.body.name, advice::words::day(on)),
                )
                .given(&bed.body.name)
                .accepted("a bed with a cover that was sown and not ended yet"),
            )
            .hint("spadework record cover BOOK PLOT BED COVER --on DATE, which adds one")
        })?;
        let how = CoverEnding::ALL.into_iter().find(|way| way.key() == self.how);
        let mut body = held.body.clone();
        body.ended = how.map(|how| CoverEnd { on, how });
        if let Some(stand) = self.stand(system)? {
            body.stand = Some(stand);
        }
        if !self.witnessed.note.is_empty() {
            body.note = self.witnessed.note.clone();
        }
        let kept = book
            .revise(held.id, held.number, body, "ended", &self.witnessed.stamp())
            .map_err(|error| in_units(error, system))?;
        let text = format!(
            "Ended: {}, {} {}.",
            web::words::titled(&kept.body.clone().into()),
            how.map_or("", CoverEnding::words),
            advice::words::day(on)
        );
        Report::new(&json!({ "recorded": kept }), wrapped(&text, terminal.width, "  "))
    }

    fn stand(&self, system: UnitSystem) -> Result<Option<CoverStand>, Refusal> {
        let nitrogen_percent = given("nitrogen", self.nitrogen.as_deref(), system)?;
        let biomass = match (&self.cut, &self.height) {
            (Some(cut), _) => Some(CoverBiomass::Cut {
                kg: needed("cut", Some(cut), system)?,
                area_m2: needed("from-area", self.from_area.as_deref(), system)?,
                dried: self.dried,
            }),
            (None, Some(height)) => Some(CoverBiomass::Height {
                height_cm: needed("height", Some(height), system)?,
                cover_percent: needed("covered", self.covered.as_deref(), system)?,
            }),
            (None, None) => None,
        };
        let Some(stage) = self.stage.as_deref() else {
            if biomass.is_none() && nitrogen_percent.is_none() {
                return Ok(None);
            }
            return Err(Refusal::new("stage", "say how far it was when it was measured")
                .given("nothing")
                .accepted("before_bloom or in_bloom")
                .example("before_bloom"));
        };
        let stage = if stage == "in_bloom" { Stage::InBloom } else { Stage::BeforeBloom };
        Ok(Some(CoverStand { stage, biomass, nitrogen_percent }))
    }
}

/// The cover that stood in a bed on a day and was not ended yet; of several the one sown last.
fn standing(snapshot: &Snapshot, bed: book::EntryId, on: Date) -> Option<&Held<CoverCrop>> {
    snapshot.covers_of(bed).into_iter().rfind(|held| held.body.ended.is_none() && held.body.sown_on <= on)
}
