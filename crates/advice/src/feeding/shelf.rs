//! The shelf: each material of the book with what the catalogue adds, how it is sold, and what is in hand.

use std::collections::BTreeMap;

use book::model::{EntryId, Material, OrganicUse, Pack, Price, UnitSystem};
use book::{Held, Snapshot};
use ground::fertility::blend::Carried;
use ground::fertility::blend::catalogue::{GenericMaterial, MaterialKind, UnderOrganicRules, generic};
use ground::kit::{Bounded, Provenance};
use ground::posts::us::M3_PER_YD3;
use serde::Serialize;

use super::mass;

/// A material as a plan uses it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShelfLine {
    /// The record.
    pub id: EntryId,
    /// What it is called on this farm.
    pub name: String,
    /// Its key in the catalogue.
    pub key: Option<String>,
    /// Its kind, where the catalogue knows it or its figures tell.
    pub kind: MaterialKind,
    /// What a kg of it carries, kg/kg, nitrogen as what the crop can have in the first season.
    pub carries_kg_kg: BTreeMap<Carried, f64>,
    /// "12-0-0", "2-27-0 and 24 % Ca".
    pub grade: String,
    /// Weight of a heaped cubic metre.
    pub density_kg_m3: Option<f64>,
    /// Is it a liquid, measured out by volume?
    pub liquid: bool,
    /// Weight of a bag or load.
    pub pack_kg: Option<f64>,
    /// "50 lb bag", "load of 1.5 t".
    pub pack_words: String,
    /// Price of one.
    pub price: Option<Price>,
    /// In hand, kg; never below nothing.
    pub in_hand_kg: f64,
    /// The same as it is carried.
    pub in_hand: String,
    /// More was spread than was written down as bought.
    pub overdrawn: bool,
    /// Under organic rules.
    pub organic: OrganicUse,
    /// How its analysis reached this farm: its own label, or the catalogue's provenance.
    pub analysis: Option<Provenance>,
    /// What keeps it from a plan, and what to watch.
    pub wanted: Vec<String>,
}

impl ShelfLine {
    /// Whether a plan can use it: something is in it, and it is in hand or can be bought.
    #[must_use]
    pub fn usable(&self) -> bool {
        !self.carries_kg_kg.is_empty()
            && (self.in_hand_kg > 0.0 || (self.pack_kg.is_some() && self.price.is_some()))
    }

    /// Content of one thing, kg/kg.
    #[must_use]
    pub fn content(&self, carried: Carried) -> f64 {
        self.carries_kg_kg.get(&carried).copied().unwrap_or(0.0)
    }
}

/// Every material of the shelf, by name.
#[must_use]
pub fn shelf(snapshot: &Snapshot) -> Vec<ShelfLine> {
    let mut lines: Vec<_> = snapshot.materials.iter().map(|material| line(snapshot, material)).collect();
    lines.sort_by_key(|line| line.name.to_lowercase());
    lines
}

fn line(snapshot: &Snapshot, held: &Held<Material>) -> ShelfLine {
    let units = snapshot.farm.body.units;
    let material = &held.body;
    let known = material.key.as_deref().and_then(generic);
    let carries = carries(material, known);
    let density = material.density_kg_m3.map(Bounded::get).or(known.map(|known| known.bulk_density_kg_m3));
    let in_hand = snapshot.in_hand(held.id).kg;
    let pack_kg = material.sold.and_then(|pack| match pack {
        Pack::BagKg(kg) => Some(kg.get()),
        Pack::LoadT(t) => Some(1000.0 * t.get()),
        Pack::LoadM3(m3) => density.map(|density| density * m3.get()),
        Pack::JugL(litres) => density.map(|density| density * litres.get() / 1000.0),
    });
    let mut wanted = Vec::new();
    if carries.is_empty() {
        wanted.push("its analysis, from the label or the laboratory".to_owned());
    }
    match (material.sold, pack_kg) {
        (None, _) => wanted.push("how it is sold: the weight of a bag, or a load".to_owned()),
        (Some(_), None) => wanted.push("its density: it is sold by volume".to_owned()),
        _ => {}
    }
    if material.price.is_none() {
        wanted.push("its price".to_owned());
    }
    let organic = material.organic.unwrap_or(match known.map(|known| known.organic) {
        Some(UnderOrganicRules::Yes) => OrganicUse::Yes,
        Some(UnderOrganicRules::No) => OrganicUse::No,
        _ => OrganicUse::Ask,
    });
    ShelfLine {
        id: held.id,
        name: material.name.clone(),
        key: material.key.clone(),
        kind: known.map_or_else(|| kind(material, &carries), |known| known.kind),
        grade: grade(material, known),
        density_kg_m3: density,
        liquid: matches!(material.sold, Some(Pack::JugL(_))) || known.is_some_and(|known| known.liquid),
        pack_kg,
        pack_words: pack_words(material.sold, units),
        price: material.price,
        in_hand_kg: in_hand.max(0.0),
        in_hand: mass(in_hand.max(0.0), units),
        overdrawn: in_hand < -1e-6,
        organic,
        analysis: known.filter(|_| !has_own(material)).map(|known| known.provenance),
        carries_kg_kg: carries,
        wanted,
    }
}

fn has_own(material: &Material) -> bool {
    material.analysis.shares().iter().any(|(_, share)| share.is_some())
}

/// The farm's own figures come first; where the farm gave none at all, those of the catalogue count.
fn carries(material: &Material, known: Option<&GenericMaterial>) -> BTreeMap<Carried, f64> {
    let mut carries = known.map(GenericMaterial::carries).unwrap_or_default();
    let analysis = &material.analysis;
    for (carried, share) in [
        (Carried::N, analysis.n_percent),
        (Carried::P2o5, analysis.p2o5_percent),
        (Carried::K2o, analysis.k2o_percent),
        (Carried::Ca, analysis.ca_percent),
        (Carried::Mg, analysis.mg_percent),
        (Carried::S, analysis.s_percent),
        (Carried::B, analysis.b_percent),
        (Carried::Zn, analysis.zn_percent),
        (Carried::Mn, analysis.mn_percent),
        (Carried::Cu, analysis.cu_percent),
        (Carried::Fe, analysis.fe_percent),
        (Carried::Cl, analysis.cl_percent),
        (Carried::Na, analysis.na_percent),
    ] {
        if let Some(share) = share {
            carries.insert(carried, share.get() / 100.0);
        }
    }
    if let Some(value) = material.neutralizing_percent {
        carries.insert(Carried::Lime, value.get() / 100.0);
    }
    let total =
        analysis.n_percent.map(|share| share.get() / 100.0).or(known.map(|known| known.n_percent / 100.0));
    if let (Some(total), true) =
        (total, analysis.n_percent.is_some() || material.available_n_percent.is_some())
    {
        let share = match (material.available_n_percent, known) {
            (Some(share), _) => share.get() / 100.0,
            (None, Some(known)) => known.n_available_percent.unwrap_or(100.0) / 100.0,
            (None, None) => super::contents::usual_available(material).unwrap_or(1.0),
        };
        carries.insert(Carried::N, total * share);
    }
    carries.retain(|_, share| *share > 0.0);
    carries
}

/// By its figures, where the catalogue does not say.
fn kind(material: &Material, carries: &BTreeMap<Carried, f64>) -> MaterialKind {
    let content = |carried| carries.get(&carried).copied().unwrap_or(0.0);
    if content(Carried::Lime) >= 0.3 {
        MaterialKind::Liming
    } else if content(Carried::B) >= 0.05 || content(Carried::Zn) >= 0.1 || content(Carried::Cu) >= 0.1 {
        MaterialKind::Micronutrient
    } else if material.moisture_percent.is_some_and(|percent| percent.get() > 25.0) {
        MaterialKind::Compost
    } else if material.carbon_nitrogen.is_some() {
        MaterialKind::Organic
    } else {
        MaterialKind::Mineral
    }
}

fn grade(material: &Material, known: Option<&GenericMaterial>) -> String {
    let own = |share: Option<book::model::MaterialShare>, generic: fn(&GenericMaterial) -> f64| {
        share.map(Bounded::get).or(known.map(generic)).unwrap_or(0.0)
    };
    let analysis = &material.analysis;
    let main = [
        own(analysis.n_percent, |known| known.n_percent),
        own(analysis.p2o5_percent, |known| known.p2o5_percent),
        own(analysis.k2o_percent, |known| known.k2o_percent),
    ]
    .map(crate::words::short);
    let others = [
        ("Ca", own(analysis.ca_percent, |known| known.ca_percent)),
        ("Mg", own(analysis.mg_percent, |known| known.mg_percent)),
        ("S", own(analysis.s_percent, |known| known.s_percent)),
        ("B", own(analysis.b_percent, |known| known.b_percent)),
        ("Zn", own(analysis.zn_percent, |known| known.zn_percent)),
        ("Mn", own(analysis.mn_percent, |known| known.mn_percent)),
        ("Cu", own(analysis.cu_percent, |known| known.cu_percent)),
    ];
    let mut parts = vec![main.join("-")];
    parts.extend(
        others
            .iter()
            .filter(|(_, percent)| *percent > 0.0)
            .map(|(sign, percent)| format!("{} % {sign}", crate::words::short(*percent))),
    );
    let neutralizing = material
        .neutralizing_percent
        .map(Bounded::get)
        .or(known.map(|known| known.cce_percent))
        .unwrap_or(0.0);
    if neutralizing > 0.0 {
        parts.push(format!("neutralizes {} % of its weight", crate::words::short(neutralizing)));
    }
    parts.join(", ")
}

/// "50 lb bag", "load of 1 yd³".
#[must_use]
pub fn pack_words(sold: Option<Pack>, units: UnitSystem) -> String {
    match sold {
        None => String::new(),
        Some(Pack::BagKg(kg)) => format!("bag of {}", mass(kg.get(), units)),
        Some(Pack::LoadT(t)) => match units {
            UnitSystem::UsCustomary => {
                format!("load of {} tons", crate::words::short(t.get() / TONNES_PER_SHORT_TON))
            }
            UnitSystem::Metric => format!("load of {} t", crate::words::short(t.get())),
        },
        Some(Pack::JugL(litres)) => format!("jug of {}", liquid(litres.get(), units)),
        Some(Pack::LoadM3(m3)) => match units {
            UnitSystem::UsCustomary => {
                format!("load of {} yd³", crate::words::short(m3.get() / M3_PER_YD3))
            }
            UnitSystem::Metric => format!("load of {} m³", crate::words::short(m3.get())),
        },
    }
}

/// What a person measures out: a mass, or of a liquid its volume with the mass beside it.
#[must_use]
pub fn measured(kg: f64, line: &ShelfLine, units: UnitSystem) -> String {
    match line.density_kg_m3.filter(|density| line.liquid && *density > 0.0) {
        Some(density) => format!("{} ({})", liquid(1000.0 * kg / density, units), mass(kg, units)),
        None => mass(kg, units),
    }
}

/// Litres per US gallon and per US fluid ounce, exact: 231 cubic inches of 2.54 cm, and a 128th of it.
const LITRES_PER_GALLON: f64 = 3.785_411_784;
const LITRES_PER_FLUID_OUNCE: f64 = LITRES_PER_GALLON / 128.0;

/// A volume of a liquid: "12 fl oz", "2.4 gal", "350 mL", "9.1 L".
#[must_use]
pub fn liquid(litres: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::UsCustomary if litres >= 0.5 * LITRES_PER_GALLON => {
            format!("{} gal", crate::words::short(litres / LITRES_PER_GALLON))
        }
        UnitSystem::UsCustomary => {
            format!("{} fl oz", crate::words::short(litres / LITRES_PER_FLUID_OUNCE))
        }
        UnitSystem::Metric if litres >= 1.0 => format!("{} L", crate::words::short(litres)),
        UnitSystem::Metric => format!("{} mL", crate::words::short(1000.0 * litres)),
    }
}

/// Exact: 2000 pounds of 0.45359237 kg.
const TONNES_PER_SHORT_TON: f64 = 0.907_184_74;

#[cfg(test)]
mod tests {
    use super::*;

    /// A US gallon is 3.785 411 784 L and 128 fluid ounces (NIST SP 811).
    #[test]
    fn liquids_are_told_as_they_are_measured_out() {
        for (litres, us, metric) in [
            (3.785_411_784, "1 gal", "3.8 L"),
            (0.946_352_946, "32 fl oz", "946 mL"),
            (0.029_573_529_6, "1 fl oz", "30 mL"),
            (37.854_117_84, "10 gal", "38 L"),
        ] {
            assert_eq!(liquid(litres, UnitSystem::UsCustomary), us, "{litres}");
            assert_eq!(liquid(litres, UnitSystem::Metric), metric, "{litres}");
        }
    }
}
