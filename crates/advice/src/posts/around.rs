//! What the ground does to a post over the years: frost, swelling, driving, rust.

use book::Snapshot;
use ground::fertility::analysis::report::{Amount, Analyte};
use ground::kit::{Bounded, Method};
use ground::posts::driving::{Driving, WhenDriven, driving};
use ground::posts::frost_foot::{FrostGroup, foot_depth_m, frost_group};
use ground::posts::galvanized_life::{GalvanizedInput, GalvanizedLife, GalvanizedOutput};
use ground::posts::shrink_swell::ShrinkSwell;
use ground::posts::soil_class::VERY_FINE_AT_MOST;
use ground::posts::soil_corrosivity::{
    Corrosivity, CorrosivityInput, GroundPh, SoilCorrosivity, Sulfides, Wetness,
};
use ground::water::equations::gravel_volume;
use serde::Serialize;

use super::ask::PostAsk;
use super::possible::{Grounds, VERY_FINE_SHARES, WaterAt, commonest, share};
use crate::finding::Firmness;
use crate::lab_rounds::lab_rounds;

/// An answer with its odds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WithOdds<T> {
    /// The likeliest answer.
    pub answer: T,
    /// In words.
    pub words: &'static str,
    /// Its odds.
    pub odds: f64,
    /// How surely.
    pub firmness: Firmness,
}

/// Frost and the foot.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Frost {
    /// How readily the ground heaves.
    pub group: WithOdds<FrostGroup>,
    /// Odds that frost can heave it at all.
    pub heaves: f64,
    /// Frost depth of the local code, m.
    pub depth_m: Option<f64>,
    /// Least depth of the foot for it, m.
    pub foot_m: Option<f64>,
    /// The foot stands that deep.
    pub deep_enough: Option<bool>,
}

/// How a post drives when the ground is dry, moist and soaked.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Drives {
    /// How wet the ground is.
    pub when: WhenDriven,
    /// How it drives then.
    pub drives: WithOdds<Driving>,
}

/// What rusts it.
#[derive(Debug, Clone, Serialize)]
pub struct Rust {
    /// pH of the latest soil test.
    pub ph: Option<f64>,
    /// Resistivity of the wet ground, ohm·m.
    pub resistivity_ohm_m: Option<f64>,
    /// Corrosivity by resistivity.
    pub corrosivity: Option<Corrosivity>,
    /// Ten points or more: steel is to be protected; `None` where pH or resistivity is not known.
    pub protect: Option<bool>,
    /// Life of its zinc, where the zinc is known.
    pub life: Option<GalvanizedOutput>,
    /// What would say more.
    pub missing: Vec<&'static str>,
}

fn likeliest<T: Copy + PartialEq>(all: &[T], words: fn(T) -> &'static str) -> Option<WithOdds<T>> {
    let (answer, odds) = commonest(all)?;
    Some(WithOdds { answer, words: words(answer), odds, firmness: Firmness::of(odds) })
}

/// Depth at which frost meets the ground below what is tilled, m.
const FROST_LOOK_M: f64 = 0.4;

pub(super) fn frost(ask: &PostAsk, grounds: &Grounds) -> Option<Frost> {
    let layer = grounds.soils.at(100.0 * FROST_LOOK_M);
    let index = grounds.plasticity.map(|(index, _)| index);
    let groups: Vec<FrostGroup> = layer
        .soils
        .iter()
        .flat_map(|one| {
            VERY_FINE_SHARES.map(|part| {
                frost_group(
                    one.soil,
                    one.gravel_mass_percent,
                    part * VERY_FINE_AT_MOST * one.soil.sand,
                    index,
                )
            })
        })
        .collect();
    let foot_m = ask.frost_m.map(foot_depth_m);
    Some(Frost {
        group: likeliest(&groups, FrostGroup::words)?,
        heaves: share(&groups, |group| *group != FrostGroup::NotSusceptible),
        depth_m: ask.frost_m,
        foot_m,
        deep_enough: foot_m.map(|foot| ask.depth_m().0 >= foot - 1e-9),
    })
}

pub(super) fn shrink_swell(grounds: &Grounds) -> Option<WithOdds<ShrinkSwell>> {
    let all: Vec<ShrinkSwell> =
        (0..grounds.soils.draws()).map(|draw| grounds.shrink_swell(draw, FROST_LOOK_M)).collect();
    likeliest(&all, ShrinkSwell::words)
}

pub(super) fn drives(ask: &PostAsk, grounds: &Grounds) -> Vec<Drives> {
    let layer = grounds.soils.at(100.0 * ask.depth_m().0 * 0.75);
    [WhenDriven::Dry, WhenDriven::Moist, WhenDriven::Soaked]
        .into_iter()
        .filter_map(|when| {
            let all: Vec<Driving> = layer
                .soils
                .iter()
                .zip(&layer.water)
                .map(|(one, water)| {
                    let mass = one.gravel_mass_percent / 100.0;
                    let stones = water.gravel_volume.unwrap_or_else(|| gravel_volume(mass, 1.5));
                    driving(one.class, when, 100.0 * stones)
                })
                .collect();
            Some(Drives { when, drives: likeliest(&all, Driving::words)? })
        })
        .collect()
}

pub(super) fn rust(snapshot: &Snapshot, ask: &PostAsk, grounds: &Grounds) -> Rust {
    let ph = lab_rounds(snapshot, ask.plot).iter().rev().find_map(|round| {
        match round.report.first(Analyte::PhWater)?.amount {
            Amount::Exactly(ph) => Some(ph),
            _ => None,
        }
    });
    let ground_ph = ph.and_then(|ph| GroundPh::new(ph).ok());
    let resistivity = grounds.found.resistivity_ohm_m;
    let wetness = match grounds.water {
        WaterAt::Stood(_) | WaterAt::Mottled(_) => Wetness::Wet,
        WaterAt::Dry(_) => Wetness::Dry,
        WaterAt::Unknown => Wetness::Moist,
    };
    let points = ground_ph.zip(resistivity).and_then(|(ph, resistivity_ohm_m)| {
        let input = CorrosivityInput {
            resistivity_ohm_m,
            ph,
            wetness,
            redox_mv: None,
            sulfides: grounds.sulfides.then_some(Sulfides::Positive),
        };
        SoilCorrosivity::compute(&input).ok()
    });
    let life = ask.post.zinc_um.and_then(|zinc| {
        let input = GalvanizedInput {
            zinc_um: Some(zinc),
            zinc_g_m2: None,
            steel_allowance_mm: None,
            ph: ground_ph,
            resistivity_ohm_m: resistivity,
        };
        GalvanizedLife::compute(&input).ok().map(|answer| answer.value)
    });
    let missing = [
        (ph.is_none(), "a soil test with its pH"),
        (resistivity.is_none(), "the resistivity of the wet ground"),
        (ask.post.zinc_um.is_none(), "how much zinc is on the post"),
    ];
    Rust {
        ph,
        resistivity_ohm_m: resistivity.map(Bounded::get),
        corrosivity: resistivity.map(|one| Corrosivity::of(one.get())),
        protect: points.map(|answer| answer.value.protect),
        life,
        missing: missing.into_iter().filter_map(|(is, what)| is.then_some(what)).collect(),
    }
}
