//! A material on the farm's shelf: what is in it, how it is sold, what it costs.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Kind, Price, Record, text};

ground::quantity! {
    /// Share of a material as it is sold, by mass.
    pub struct MaterialShare: "share of the material", "%", 0.0 ..= 100.0, example 5.0;
    /// Water in a material as it is sold, by mass of the whole.
    pub struct MaterialMoisture: "moisture of the material", "%", 0.0 ..= 95.0, example 40.0;
    /// Calcium carbonate equivalent: what it neutralizes beside pure calcium carbonate.
    pub struct NeutralizingValue: "neutralizing value", "% of calcium carbonate", 0.0 ..= 200.0, example 92.0;
    /// Share that passes a sieve, by mass.
    pub struct SievePassing: "share that passes the sieve", "%", 0.0 ..= 100.0, example 60.0;
    /// Mass of a cubic metre as it lies.
    pub struct MaterialDensity: "bulk density of the material", "kg/m³", 20.0 ..= 3000.0, example 600.0;
    /// Mass in a bag.
    pub struct BagMass: "mass of a bag", "kg", 0.05 ..= 2000.0, example 22.7;
    /// Volume of a bulk load that is sold as one.
    pub struct LoadVolume: "volume of a load", "m³", 0.01 ..= 200.0, example 1.0;
    /// Volume of a jug or drum of a liquid that is sold as one.
    pub struct JugVolume: "volume of a jug", "L", 0.05 ..= 20000.0, example 10.0;
    /// Mass of a bulk load that is sold as one.
    pub struct LoadMass: "mass of a load", "t", 0.01 ..= 100.0, example 1.0;
    /// Carbon to nitrogen by mass.
    pub struct CarbonNitrogen: "carbon to nitrogen", "to 1", 0.5 ..= 800.0, example 15.0;
    /// Conductivity of a material's extract.
    pub struct MaterialEc: "conductivity of the material", "dS/m", 0.0 ..= 200.0, example 4.0;
}

/// Most sieves of one material.
const MOST_SIEVES: usize = 12;

/// A material on the shelf. What is left out is taken from the catalogue where `key` names one of its
/// materials, and is unknown otherwise.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Material {
    /// The generic material of the catalogue that it is, by its key.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub key: Option<String>,
    /// What it is called on this farm.
    pub name: String,
    /// What is in it as it is sold.
    #[serde(default)]
    pub analysis: Analysis,
    /// Water in it as it is sold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moisture_percent: Option<MaterialMoisture>,
    /// What it neutralizes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub neutralizing_percent: Option<NeutralizingValue>,
    /// How fine it is, coarsest sieve first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sieves: Vec<Sieve>,
    /// Mass of a cubic metre.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_kg_m3: Option<MaterialDensity>,
    /// How it is sold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sold: Option<Pack>,
    /// Price of one bag or load, in the farm's currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Price>,
    /// May it be used under the rules of organic farming?
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub organic: Option<OrganicUse>,
    /// Share of its nitrogen that plants can take in the first season, where the farm knows better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub available_n_percent: Option<MaterialShare>,
    /// Carbon to nitrogen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub carbon_nitrogen: Option<CarbonNitrogen>,
    /// Conductivity, of composts and manures.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_ds_m: Option<MaterialEc>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// Shares of a material as it is sold, by mass.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Analysis {
    /// Nitrogen, N.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub n_percent: Option<MaterialShare>,
    /// Phosphate, P2O5.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub p2o5_percent: Option<MaterialShare>,
    /// Potash, K2O.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k2o_percent: Option<MaterialShare>,
    /// Calcium, Ca.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ca_percent: Option<MaterialShare>,
    /// Magnesium, Mg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mg_percent: Option<MaterialShare>,
    /// Sulfur, S.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub s_percent: Option<MaterialShare>,
    /// Boron, B.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub b_percent: Option<MaterialShare>,
    /// Zinc, Zn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zn_percent: Option<MaterialShare>,
    /// Manganese, Mn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mn_percent: Option<MaterialShare>,
    /// Copper, Cu.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cu_percent: Option<MaterialShare>,
    /// Iron, Fe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fe_percent: Option<MaterialShare>,
    /// Chloride, Cl.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cl_percent: Option<MaterialShare>,
    /// Sodium, Na.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub na_percent: Option<MaterialShare>,
}

impl Analysis {
    /// Every share with its sign, in the order of labels.
    #[must_use]
    pub fn shares(&self) -> [(&'static str, Option<MaterialShare>); 13] {
        let Self {
            n_percent,
            p2o5_percent,
            k2o_percent,
            ca_percent,
            mg_percent,
            s_percent,
            b_percent,
            zn_percent,
            mn_percent,
            cu_percent,
            fe_percent,
            cl_percent,
            na_percent,
        } = *self;
        [
            ("N", n_percent),
            ("P2O5", p2o5_percent),
            ("K2O", k2o_percent),
            ("Ca", ca_percent),
            ("Mg", mg_percent),
            ("S", s_percent),
            ("B", b_percent),
            ("Zn", zn_percent),
            ("Mn", mn_percent),
            ("Cu", cu_percent),
            ("Fe", fe_percent),
            ("Cl", cl_percent),
            ("Na", na_percent),
        ]
    }
}

/// How much passes one sieve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Sieve {
    /// The sieve: meshes to the inch.
    pub mesh: u16,
    /// Share that passes.
    pub passing_percent: SievePassing,
}

/// How a material is sold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Pack {
    /// In bags of so much.
    BagKg(BagMass),
    /// In bulk, by volume.
    LoadM3(LoadVolume),
    /// In bulk, by mass.
    LoadT(LoadMass),
    /// A liquid in jugs, drums or totes of so much.
    JugL(JugVolume),
}

/// Sieve shares as people write them: "8 mesh 95, 60 mesh 50" or "8=95, 60=50", coarse to fine or not.
///
/// # Errors
/// A piece that is not a mesh with its share, or a share out of range.
pub fn sieves_typed(field: &str, text: &str) -> Result<Vec<Sieve>, Refusal> {
    let refused = |piece: &str, why: &str| {
        Refusal::new(field, format!("{why}: {piece:?}"))
            .given(piece)
            .accepted("for each sieve its mesh and the share that passes it, parted by commas")
            .example("8 mesh 95, 60 mesh 50")
    };
    let mut sieves = Vec::new();
    for piece in text.split([',', ';', '\n']).map(str::trim).filter(|piece| !piece.is_empty()) {
        let numbers: Vec<String> = piece
            .to_lowercase()
            .replace("mesh", " ")
            .replace(['=', ':', '%', '#'], " ")
            .split_whitespace()
            .map(str::to_owned)
            .collect();
        let [mesh, share] = numbers.as_slice() else {
            return Err(refused(piece, "a sieve is given by its mesh and the share that passes it"));
        };
        let mesh: u16 = mesh.parse().map_err(|_| refused(piece, "the mesh of a sieve is a whole number"))?;
        let share: f64 = share.parse().map_err(|_| refused(piece, "the share that passes is no number"))?;
        let passing_percent = <SievePassing as ground::kit::Bounded>::new(share)
            .map_err(|error| refused(piece, &error.to_string()))?;
        sieves.push(Sieve { mesh, passing_percent });
    }
    sieves.sort_by_key(|sieve| sieve.mesh);
    Ok(sieves)
}

/// The same in the words that [`sieves_typed`] reads.
#[must_use]
pub fn sieves_shown(sieves: &[Sieve]) -> String {
    use ground::kit::Bounded as _;
    let each: Vec<String> = sieves
        .iter()
        .map(|sieve| {
            let share = ground::kit::quantity::number(sieve.passing_percent.get());
            format!("{} mesh {share}", sieve.mesh)
        })
        .collect();
    each.join(", ")
}

impl Pack {
    /// Is it a bag, or a load?
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::BagKg(_) => "bag",
            Self::LoadM3(_) | Self::LoadT(_) => "load",
            Self::JugL(_) => "jug",
        }
    }
}

/// May it be used under the rules of organic farming?
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum OrganicUse {
    /// Yes.
    Yes,
    /// No.
    No,
    /// Only after asking the certifier.
    Ask,
}

impl OrganicUse {
    /// Every answer.
    pub const ALL: [Self; 3] = [Self::Yes, Self::No, Self::Ask];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Yes => "allowed",
            Self::No => "not allowed",
            Self::Ask => "ask the certifier",
        }
    }
}

impl Material {
    /// A material of which only the name is known.
    #[must_use]
    pub fn named(name: impl Into<String>) -> Self {
        Self {
            key: None,
            name: name.into(),
            analysis: Analysis::default(),
            moisture_percent: None,
            neutralizing_percent: None,
            sieves: Vec::new(),
            density_kg_m3: None,
            sold: None,
            price: None,
            organic: None,
            available_n_percent: None,
            carbon_nitrogen: None,
            ec_ds_m: None,
            note: String::new(),
        }
    }
}

impl Record for Material {
    const KIND: Kind = Kind::Material;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "Feather meal, 50 lb")?;
        if let Some(key) = &self.key {
            text::name("key", key, "feather-meal")?;
        }
        text::note("note", &self.note)?;
        if self.sieves.len() > MOST_SIEVES {
            return Err(Refusal::new("sieves", format!("{} sieves were given", self.sieves.len()))
                .given(self.sieves.len())
                .accepted(format!("at most {MOST_SIEVES} sieves"))
                .example("mesh 60: 70 %"));
        }
        for (place, sieve) in self.sieves.iter().enumerate() {
            text::count(&format!("sieves[{place}].mesh"), sieve.mesh, 1, 400, 60)?;
        }
        for (place, pair) in self.sieves.windows(2).enumerate() {
            let (coarse, fine) = (pair[0], pair[1]);
            let at = place + 1;
            if coarse.mesh >= fine.mesh {
                return Err(Refusal::new(
                    format!("sieves[{at}].mesh"),
                    format!(
                        "mesh {} comes after mesh {}, but sieves go from coarse to fine",
                        fine.mesh, coarse.mesh
                    ),
                )
                .given(fine.mesh)
                .accepted(format!("a mesh above {}", coarse.mesh))
                .example(coarse.mesh.saturating_mul(2)));
            }
            if coarse.passing_percent < fine.passing_percent {
                use ground::kit::Bounded as _;
                return Err(Refusal::new(
                    format!("sieves[{at}].passing_percent"),
                    format!(
                        "what passes mesh {} also passes the coarser mesh {}, of which only {} % was given",
                        fine.mesh,
                        coarse.mesh,
                        coarse.passing_percent.get()
                    ),
                )
                .given(fine.passing_percent.get())
                .accepted(format!("at most {} %", coarse.passing_percent.get()))
                .example(coarse.passing_percent.get()));
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sieves_are_read_as_people_write_them() {
        let read = |text: &str| sieves_typed("sieves", text);
        for text in
            ["8 mesh 95, 60 mesh 50", "8=95,60=50", "#60: 50 %; #8: 95 %", "8 mesh 95 %\n60 mesh 50 %"]
        {
            assert_eq!(sieves_shown(&read(text).unwrap()), "8 mesh 95, 60 mesh 50", "{text}");
        }
        assert_eq!(read("").unwrap(), []);
        assert_eq!(sieves_shown(&read("100=38.5").unwrap()), "100 mesh 38.5");
        for text in ["8", "8 mesh 195", "coarse 95", "8 mesh -1", "8 mesh many", "8 9 10", "70000=5"] {
            let refusal = read(text).unwrap_err();
            assert_eq!(refusal.field, "sieves", "{text}");
            assert!(!refusal.message.is_empty() && refusal.example.contains("mesh"), "{text}");
        }
    }
}
