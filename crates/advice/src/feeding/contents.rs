//! What is in a material that was spread: by the shelf's own analysis, else by the catalogue.

use book::Snapshot;
use book::model::{Material, SpreadMaterial};
use ground::fertility::blend::catalogue::{GenericMaterial, MaterialKind, generic};
use ground::fertility::organic::amendment::{OrganicKind, season_share};
use ground::kit::Bounded;
use serde::Serialize;

/// Shares of a material as it is spread.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Contents {
    /// What it is called.
    pub name: String,
    /// All nitrogen, kg in a kg.
    pub n: f64,
    /// Share of the nitrogen that a crop finds in the season: low, usual, high.
    pub available: [f64; 3],
    /// Phosphate, kg in a kg.
    pub p2o5: f64,
    /// Potash, kg in a kg.
    pub k2o: f64,
    /// How the available share was found.
    pub available_words: &'static str,
}

/// What a material holds. `None` where nothing is known of it.
#[must_use]
pub fn contents(snapshot: &Snapshot, spread: &SpreadMaterial) -> Option<Contents> {
    match spread {
        SpreadMaterial::Shelf(id) => of_material(&snapshot.material(*id)?.body),
        SpreadMaterial::Catalogue(key) => generic(key).map(of_catalogue),
    }
}

/// Neutralizing value of a material as it came, percent of calcium carbonate. `None` where none is known.
#[must_use]
pub fn neutralizing_percent(snapshot: &Snapshot, spread: &SpreadMaterial) -> Option<f64> {
    let moist = |dry: f64, water: Option<f64>| dry * (1.0 - water.unwrap_or(0.0) / 100.0);
    let of_known = |known: &GenericMaterial| (known.cce_percent > 0.0).then_some(known.cce_percent);
    match spread {
        SpreadMaterial::Catalogue(key) => of_known(generic(key)?),
        SpreadMaterial::Shelf(id) => {
            let material = &snapshot.material(*id)?.body;
            match material.neutralizing_percent {
                Some(dry) => Some(moist(dry.get(), material.moisture_percent.map(Bounded::get))),
                None => of_known(material.key.as_deref().and_then(generic)?),
            }
        }
    }
}

/// The kind of a material, where the catalogue has it or it is made from one that the catalogue has.
#[must_use]
pub fn known_kind(snapshot: &Snapshot, spread: &SpreadMaterial) -> Option<MaterialKind> {
    let key = match spread {
        SpreadMaterial::Catalogue(key) => Some(key.as_str()),
        SpreadMaterial::Shelf(id) => snapshot.material(*id)?.body.key.as_deref(),
    };
    key.and_then(generic).map(|known| known.kind)
}

/// The catalogue's share of the season, give or take two fifths where the nitrogen is organic (manures and
/// composts differ by a factor of two).
fn of_catalogue(known: &GenericMaterial) -> Contents {
    let (available, available_words) = match known.n_available_percent {
        Some(percent) => {
            let usual = percent / 100.0;
            ([0.6 * usual, usual, (1.4 * usual).min(1.0)], "by the usual share of such a material")
        }
        None => ([1.0; 3], "all of it, as of a mineral fertilizer"),
    };
    Contents {
        name: known.name.clone(),
        n: known.n_percent / 100.0,
        available,
        p2o5: known.p2o5_percent / 100.0,
        k2o: known.k2o_percent / 100.0,
        available_words,
    }
}

/// The shelf's own figures come first; what it leaves out is the catalogue's where it names one of its materials.
fn of_material(material: &Material) -> Option<Contents> {
    let known = material.key.as_deref().and_then(generic).map(of_catalogue);
    let analysis = &material.analysis;
    let own = [analysis.n_percent, analysis.p2o5_percent, analysis.k2o_percent];
    if known.is_none() && own.iter().all(Option::is_none) {
        return None;
    }
    let share = |at: usize, usual: fn(&Contents) -> f64| {
        own[at].map_or_else(|| known.as_ref().map_or(0.0, usual), |value| value.get() / 100.0)
    };
    let n = share(0, |known| known.n);
    let (available, available_words) = match &known {
        Some(known) if material.available_n_percent.is_none() => (known.available, known.available_words),
        _ => available(material, n),
    };
    Some(Contents {
        name: material.name.clone(),
        n,
        available,
        p2o5: share(1, |known| known.p2o5),
        k2o: share(2, |known| known.k2o),
        available_words,
    })
}

/// Bulk goods that are mostly moist and poor in nitrogen are taken as compost; the rest by its nitrogen.
fn available(material: &Material, n: f64) -> ([f64; 3], &'static str) {
    if let Some(percent) = material.available_n_percent {
        return ([percent.get() / 100.0; 3], "by the share given on the shelf");
    }
    if material.carbon_nitrogen.is_none() && material.moisture_percent.is_none() {
        // Without carbon it is a mineral fertilizer: all of it counts.
        return ([1.0; 3], "taken as soluble, since no carbon is given");
    }
    let dry = 1.0 - material.moisture_percent.map_or(0.1, |percent| percent.get() / 100.0);
    let dry_n = 100.0 * n / dry.max(0.05);
    let c_n = material.carbon_nitrogen.map(Bounded::get);
    let kind = if dry_n < 2.5 { OrganicKind::Compost } else { OrganicKind::Fresh };
    let words = match kind {
        OrganicKind::Compost => "as finished compost, 3 to 10 % in the season",
        _ => "by its nitrogen, as meals and pellets release it",
    };
    (season_share(kind, dry_n, c_n), words)
}

/// The usual share of a material's nitrogen that a crop finds in the season, kg in a kg; `None` where no
/// nitrogen is given.
pub(super) fn usual_available(material: &Material) -> Option<f64> {
    let n = material.analysis.n_percent?.get() / 100.0;
    Some(available(material, n).0[1])
}
