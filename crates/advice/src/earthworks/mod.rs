//! Moving earth on a plot: gravel on a track, earth out of a pit or a trench, a pond, over everything its ground
//! may be. [`tell`] puts it into sentences; every number is of `ground::earthworks`.

pub mod tell;

use book::Snapshot;
use book::model::EntryId;
use ground::earthworks::excavation::{pit_volume_m3, trench_volume_m3};
use ground::earthworks::pond_lining::{PondGround, blanket_m, pond_ground};
use ground::earthworks::track_gravel::{Subgrade, gravel_mm, wet_cbr, wet_cbr_of_class};
use ground::earthworks::trench::{LADDER_FROM_M, PROTECT_FROM_M, TrenchType};
use ground::earthworks::volume::{Material, VolumeFactors};
use ground::kit::{Bounded, Spread};
use ground::posts::soil_class::class_of_fines;
use ground::posts::unified::unified_group;
use ground::texture::Class;
use serde::Serialize;

use crate::finding::Firmness;
use crate::plot_report::PlotReport;
use crate::posts::{Grounds, WaterAt, commonest, share};

/// What stands beside every number on earthworks.
pub const CAUTIONS: &[&str] = ground::posts::cautions::EARTHWORKS;
/// What stands beside a pond.
pub const POND_CAUTION: &str =
    "Dams, streams and wetlands need permits and an engineer. Fence a pond where children may come.";

const RESTS_ON: &[&str] = &[
    "Gravel: thickness by trucks a day and bearing ratio, a catalogue for rural roads (recalled); wet-season bearing ratios of groups of ground (Look 2007, read).",
    "Volumes: the prismoidal rule and a table of volume factors (US Army, read in part).",
    "Ponds: limits of Agriculture Handbook 590 (read in a copy) and of the practice standards; the thicker of two rules for a blanket.",
    "Trenches: 29 CFR 1926, subpart P; ground of a farm is never taken better than type B.",
];

/// What is to be dug or built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EarthworksAsk {
    /// Length of an access track, m.
    pub track_length_m: f64,
    /// Its width, m.
    pub track_width_m: f64,
    /// Heavy vehicles a day in the busy season.
    pub heavy_per_day: f64,
    /// Length of a trench, m.
    pub trench_length_m: f64,
    /// Width of its bottom, m.
    pub trench_width_m: f64,
    /// Its depth, m.
    pub trench_depth_m: f64,
    /// Length of the bottom of a pond or pit, m.
    pub pond_length_m: f64,
    /// Its width, m.
    pub pond_width_m: f64,
    /// Depth of water when full, m.
    pub pond_depth_m: f64,
    /// Slope of its sides, horizontal for one vertical.
    pub pond_slope: f64,
}

impl Default for EarthworksAsk {
    /// Something to begin with: a track of 300 ft, a water line, a pond for a small farm.
    fn default() -> Self {
        Self {
            track_length_m: 91.44,
            track_width_m: 3.6576,
            heavy_per_day: 2.0,
            trench_length_m: 30.48,
            trench_width_m: 0.6096,
            trench_depth_m: 0.9144,
            pond_length_m: 9.144,
            pond_width_m: 6.096,
            pond_depth_m: 1.8288,
            pond_slope: 3.0,
        }
    }
}

/// Earth in its three volumes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Earth {
    /// In place, m³.
    pub bank_m3: f64,
    /// Loose, to be hauled, m³.
    pub loose_m3: f64,
    /// As compacted fill, m³.
    pub compacted_m3: f64,
}

/// Gravel on a track.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Track {
    /// Bearing ratio of the wet ground, percent.
    pub cbr_percent: Spread,
    /// The likeliest rating.
    pub subgrade: Subgrade,
    /// How surely.
    pub firmness: Firmness,
    /// Its odds.
    pub odds: f64,
    /// Compacted gravel over what the ground may be, mm.
    pub gravel_mm: Option<Spread>,
    /// The thickness to build, nine chances in ten, mm.
    pub build_mm: Option<f64>,
    /// Compacted gravel for that, m³.
    pub compacted_m3: Option<f64>,
    /// Loose gravel to order, m³.
    pub loose_m3: Option<f64>,
}

/// A trench.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Trench {
    /// Odds of the looser type.
    pub type_c: f64,
    /// The type to dig by: C as soon as its odds reach one in ten.
    pub trench_type: TrenchType,
    /// How surely the ground is of that type.
    pub firmness: Firmness,
    /// Is it dug by the looser type although the firmer one is likelier?
    pub precaution: bool,
    /// Steepest slope of its sides, horizontal for one vertical.
    pub slope: f64,
    /// Width at the top, m.
    pub top_width_m: f64,
    /// Protection is required by its depth alone.
    pub protection_required: bool,
    /// A ladder is required.
    pub ladder_required: bool,
    /// Earth out of it, laid back.
    pub earth: Earth,
}

/// Ground under a pond.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pond {
    /// The likeliest answer.
    pub ground: PondGround,
    /// How surely.
    pub firmness: Firmness,
    /// Each answer with its odds.
    pub odds: Vec<(PondGround, f64)>,
    /// Odds that earth from here serves as a clay blanket elsewhere.
    pub serves_as_blanket: f64,
    /// Thickness of a blanket for this depth of water, m.
    pub blanket_m: f64,
    /// Earth out of it.
    pub earth: Earth,
    /// Was a plasticity index known? Without one no ground is trusted to hold as it lies.
    pub plasticity_known: bool,
}

/// Everything there is to say about moving earth on a plot.
#[derive(Debug, Clone, Serialize)]
pub struct EarthworksReport {
    /// The plot.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// Does any evidence speak of its ground?
    pub known: bool,
    /// What earth it is taken for when it is hauled.
    pub material: &'static str,
    /// Gravel on a track.
    pub track: Track,
    /// A trench.
    pub trench: Trench,
    /// A pond.
    pub pond: Pond,
    /// What should be known of the ground.
    pub notes: Vec<String>,
    /// What stands beside every number.
    pub cautions: Vec<&'static str>,
    /// What it rests on.
    pub rests_on: &'static [&'static str],
}

/// Depth below the topsoil at which the ground under a track counts, m.
const UNDER_TRACK_M: f64 = 0.35;
/// Odds from which the looser type of a trench is dug by.
const CAREFUL_FROM: f64 = 0.10;

/// Answers for a plot; `None` where the book has no such plot, or nothing can be believed of its ground.
#[must_use]
pub fn earthworks(snapshot: &Snapshot, report: &PlotReport, ask: &EarthworksAsk) -> Option<EarthworksReport> {
    snapshot.plot(report.id)?;
    let grounds = Grounds::of(snapshot, report)?;
    let mut cautions = CAUTIONS.to_vec();
    cautions.push(POND_CAUTION);
    let (class, _) = grounds.soils.at(100.0 * ask.trench_depth_m / 2.0).class();
    let material = material_of(class);
    Some(EarthworksReport {
        id: report.id,
        name: report.name.clone(),
        known: report.make_up_known || grounds.soils.layers.iter().any(|layer| layer.own),
        material: material.words(),
        track: track(&grounds, ask)?,
        trench: trench(&grounds, ask, material),
        pond: pond(&grounds, ask)?,
        notes: grounds.soils.notes.clone(),
        cautions,
        rests_on: RESTS_ON,
    })
}

fn material_of(class: Class) -> Material {
    match class {
        Class::Sand | Class::LoamySand => Material::Sand,
        Class::Clay | Class::SiltyClay | Class::SandyClay => Material::Clay,
        _ => Material::Loam,
    }
}

fn earth(bank_m3: f64, material: Material) -> Earth {
    let factors = VolumeFactors::of(material);
    Earth { bank_m3, loose_m3: bank_m3 * factors.loose, compacted_m3: bank_m3 * factors.compacted }
}

fn track(grounds: &Grounds, ask: &EarthworksAsk) -> Option<Track> {
    let limits = grounds
        .found
        .liquid_limit_percent
        .zip(grounds.plasticity)
        .filter(|(_, (_, read))| *read)
        .map(|(liquid, (index, _))| (liquid.get(), index));
    let cbr: Vec<f64> = (0..grounds.len())
        .map(|at| {
            let fines = grounds.passing(at, UNDER_TRACK_M);
            match limits {
                Some((liquid, index)) => wet_cbr(unified_group(fines, false, liquid, index)),
                None => wet_cbr_of_class(class_of_fines(fines)),
            }
        })
        .collect();
    let rated: Vec<Subgrade> = cbr.iter().map(|ratio| Subgrade::of(*ratio)).collect();
    let (subgrade, odds) = commonest(&rated)?;
    let mut thick: Vec<f64> = cbr.iter().filter_map(|ratio| gravel_mm(*ratio, ask.heavy_per_day)).collect();
    thick.sort_by(f64::total_cmp);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "cases by the thousand"
    )]
    let at_90 = (0.9 * thick.len() as f64).ceil() as usize;
    let build_mm = thick.get(at_90.saturating_sub(1)).copied();
    let compacted_m3 = build_mm.map(|mm| mm / 1000.0 * ask.track_length_m * ask.track_width_m);
    let gravel = VolumeFactors::of(Material::Sand);
    Some(Track {
        cbr_percent: Spread::of_equal(&mut cbr.clone())?,
        subgrade,
        firmness: Firmness::of(odds),
        odds,
        gravel_mm: Spread::of_equal(&mut thick),
        build_mm,
        compacted_m3,
        loose_m3: compacted_m3.map(|volume| volume / gravel.compacted * gravel.loose),
    })
}

fn trench(grounds: &Grounds, ask: &EarthworksAsk, material: Material) -> Trench {
    let depth = ask.trench_depth_m;
    let wet = match grounds.water {
        WaterAt::Stood(at) | WaterAt::Mottled(at) => 100.0 * depth > at,
        WaterAt::Dry(_) | WaterAt::Unknown => false,
    };
    // The weakest layer that is cut decides.
    let types: Vec<TrenchType> = (0..grounds.soils.draws())
        .map(|draw| {
            grounds
                .soils
                .layers
                .iter()
                .filter(|layer| layer.from_cm < 100.0 * depth)
                .map(|layer| {
                    let one = &layer.soils[draw];
                    TrenchType::of(one.class, one.gravel_mass_percent > 50.0, wet)
                })
                .max()
                .unwrap_or(TrenchType::C)
        })
        .collect();
    let type_c = share(&types, |one| *one == TrenchType::C);
    let trench_type = if type_c >= CAREFUL_FROM { TrenchType::C } else { TrenchType::B };
    let slope = trench_type.slope();
    Trench {
        type_c,
        trench_type,
        firmness: Firmness::of(if trench_type == TrenchType::C { type_c } else { 1.0 - type_c }),
        precaution: trench_type == TrenchType::C && type_c < 0.5,
        slope,
        top_width_m: ask.trench_width_m + 2.0 * slope * depth,
        protection_required: depth >= PROTECT_FROM_M,
        ladder_required: depth >= LADDER_FROM_M,
        earth: earth(trench_volume_m3(ask.trench_length_m, ask.trench_width_m, depth, slope), material),
    }
}

fn pond(grounds: &Grounds, ask: &EarthworksAsk) -> Option<Pond> {
    let depth = ask.pond_depth_m;
    let index = grounds.plasticity.filter(|(_, read)| *read).map(|(index, _)| index);
    // Only ground that somebody looked at below the bottom counts for its thickness.
    let below = grounds.soils.seen_to_cm.map_or(0.0, |seen| (seen / 100.0 - depth).max(0.0));
    let each = crate::posts::VERY_FINE_CASES;
    let answers: Vec<PondGround> = (0..grounds.len())
        .map(|at| {
            let fines = grounds.passing(at, depth);
            let one = &grounds.soils.at(100.0 * depth).soils[at / each];
            let clay = one.soil.clay * (1.0 - one.gravel_mass_percent / 100.0);
            pond_ground(fines, clay, index, below, depth)
        })
        .collect();
    let blanket: Vec<bool> =
        grounds.soils.at(100.0 * depth).soils.iter().map(|one| one.soil.clay >= 20.0).collect();
    let (ground, odds) = commonest(&answers)?;
    let (class, _) = grounds.soils.at(50.0 * depth).class();
    Some(Pond {
        ground,
        firmness: Firmness::of(odds),
        odds: [PondGround::HoldsAsItLies, PondGround::SealsByCompaction, PondGround::NeedsBlanket]
            .into_iter()
            .map(|one| (one, share(&answers, |answer| *answer == one)))
            .collect(),
        serves_as_blanket: share(&blanket, |serves| *serves),
        blanket_m: blanket_m(depth),
        earth: earth(
            pit_volume_m3(ask.pond_length_m, ask.pond_width_m, depth, ask.pond_slope),
            material_of(class),
        ),
        plasticity_known: index.is_some(),
    })
}

impl Track {
    /// Is the ground so soft that a geotextile or firming comes first?
    #[must_use]
    pub fn sinks(&self) -> bool {
        self.subgrade == Subgrade::VeryPoor
    }
}
