//! From the heading of a laboratory's column to what it means. What a heading does not say is asked for.

use ground::fertility::analysis::report::{Analyte, Procedure, RateUnit, RecommendedWhat, ReportUnit};

use super::columns::LabColumn;
use crate::model::HeadingMeans;

/// What a heading seems to mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Guess {
    /// All of it.
    Sure(HeadingMeans),
    /// A figure whose unit the heading does not say; the unit it is given in most often.
    UnitOpen(HeadingMeans),
    /// Nothing that is known here.
    Unknown,
}

/// What a heading seems to mean.
pub(super) fn guess(heading: &str) -> Guess {
    let words = words(heading);
    let has = |any: &[&str]| any.iter().any(|one| words.iter().any(|word| word == one));
    if let Some(means) = plain(&words) {
        return Guess::Sure(means);
    }
    if has(&["rec", "recommended", "recommendation", "apply", "requirement", "required", "needed", "rate"])
        || has(&["lime", "p2o5", "k2o", "phosphate", "potash", "gypsum"]) && !has(&["free", "index"])
    {
        return match (recommended(&words), rate_unit(heading)) {
            (Some(what), Some(unit)) => Guess::Sure(HeadingMeans::Recommended { what, unit }),
            (Some(what), None) => {
                Guess::UnitOpen(HeadingMeans::Recommended { what, unit: RateUnit::LbPerAcre })
            }
            (None, _) => Guess::Unknown,
        };
    }
    let Some(analyte) = analyte(&words, heading) else { return Guess::Unknown };
    let procedure = procedure(&words, heading, analyte);
    match unit(heading, analyte) {
        Some(unit) => Guess::Sure(HeadingMeans::Figure { analyte, procedure, unit }),
        None => Guess::UnitOpen(HeadingMeans::Figure { analyte, procedure, unit: analyte.units()[0] }),
    }
}

/// "NO3-N", "Mehlich-3", "Buffer pH (SMP)": words in small letters.
fn words(heading: &str) -> Vec<String> {
    // "mg" of a unit is no magnesium.
    let plain = ["mg/kg", "mg/l", "mg/dm3", "mg per kg", "mg per l"]
        .iter()
        .fold(heading.to_lowercase(), |text, unit| text.replace(unit, " "));
    plain
        .split(|c: char| !(c.is_alphanumeric() || c == '%'))
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

fn plain(words: &[String]) -> Option<HeadingMeans> {
    let joined = words.join(" ");
    Some(match joined.as_str() {
        "plot" | "field" | "field name" | "plot name" | "block" | "location" => HeadingMeans::Plot,
        "bag" | "bag label" | "label" | "sample id" | "sample" | "sample name" | "sample label"
        | "your id" | "client id" | "grower id" | "id on bag" => HeadingMeans::BagLabel,
        "lab no" | "lab number" | "lab id" | "laboratory number" | "report" | "report no"
        | "report number" | "lab sample id" | "lab" | "number on report" => HeadingMeans::Number,
        "date" | "date sampled" | "sampled" | "sample date" | "taken" | "taken on" | "sampling date" => {
            HeadingMeans::TakenOn
        }
        "date reported" | "report date" | "reported" | "date of report" | "date analyzed"
        | "date received" | "received" => HeadingMeans::ReportedOn,
        "crop" | "crop code" | "crop name" | "intended crop" => HeadingMeans::Crop,
        "top in" | "top depth in" | "from in" | "depth from in" | "begin depth in" => HeadingMeans::FromIn,
        "bottom in" | "bottom depth in" | "to in" | "depth to in" | "end depth in" | "depth in" => {
            HeadingMeans::ToIn
        }
        "top cm" | "top depth cm" | "from cm" | "depth from cm" => HeadingMeans::FromCm,
        "bottom cm" | "bottom depth cm" | "to cm" | "depth to cm" => HeadingMeans::ToCm,
        "free lime" | "fizz" | "excess lime" | "effervescence" | "excess lime rating" => {
            HeadingMeans::FreeLime
        }
        "density" | "density g cm3" | "sample density" | "w v" | "weight volume" | "weight vol" => {
            HeadingMeans::Density
        }
        "depth" => HeadingMeans::Other { column: LabColumn::Depth },
        "sand" | "sand %" | "% sand" => HeadingMeans::Other { column: LabColumn::Sand },
        "silt" | "silt %" | "% silt" => HeadingMeans::Other { column: LabColumn::Silt },
        "clay" | "clay %" | "% clay" => HeadingMeans::Other { column: LabColumn::Clay },
        "note" | "notes" | "remark" | "remarks" | "comment" | "comments" => {
            HeadingMeans::Other { column: LabColumn::Note }
        }
        "cores" => HeadingMeans::Other { column: LabColumn::Cores },
        _ => return None,
    })
}

fn recommended(words: &[String]) -> Option<RecommendedWhat> {
    let has = |any: &[&str]| any.iter().any(|one| words.iter().any(|word| word == one));
    Some(match () {
        () if has(&["lime", "limestone"]) => RecommendedWhat::Lime,
        () if has(&["gypsum"]) => RecommendedWhat::Gypsum,
        () if has(&["p2o5", "phosphate"]) => RecommendedWhat::P2o5,
        () if has(&["k2o", "potash"]) => RecommendedWhat::K2o,
        () if has(&["n", "nitrogen"]) => RecommendedWhat::N,
        () if has(&["mg", "magnesium"]) => RecommendedWhat::Mg,
        () if has(&["ca", "calcium"]) => RecommendedWhat::Ca,
        () if has(&["s", "sulfur", "sulphur"]) => RecommendedWhat::S,
        () if has(&["b", "boron"]) => RecommendedWhat::B,
        () if has(&["zn", "zinc"]) => RecommendedWhat::Zn,
        () if has(&["mn", "manganese"]) => RecommendedWhat::Mn,
        () if has(&["cu", "copper"]) => RecommendedWhat::Cu,
        () if has(&["fe", "iron"]) => RecommendedWhat::Fe,
        () => return None,
    })
}

const ELEMENTS: &[(&[&str], Analyte)] = &[
    (&["p", "p1", "p2", "phosphorus", "phos"], Analyte::Phosphorus),
    (&["k", "potassium"], Analyte::Potassium),
    (&["ca", "calcium"], Analyte::Calcium),
    (&["mg", "magnesium"], Analyte::Magnesium),
    (&["na", "sodium"], Analyte::Sodium),
    (&["s", "sulfur", "sulphur", "sulfate", "so4"], Analyte::Sulfur),
    (&["b", "boron"], Analyte::Boron),
    (&["zn", "zinc"], Analyte::Zinc),
    (&["mn", "manganese"], Analyte::Manganese),
    (&["cu", "copper"], Analyte::Copper),
    (&["fe", "iron"], Analyte::Iron),
    (&["mo", "molybdenum"], Analyte::Molybdenum),
    (&["al", "aluminum", "aluminium"], Analyte::Aluminium),
    (&["cl", "chloride"], Analyte::Chloride),
    (&["pb", "lead"], Analyte::Lead),
    (&["as", "arsenic"], Analyte::Arsenic),
    (&["cd", "cadmium"], Analyte::Cadmium),
    (&["cr", "chromium"], Analyte::Chromium),
    (&["hg", "mercury"], Analyte::Mercury),
    (&["ni", "nickel"], Analyte::Nickel),
    (&["se", "selenium"], Analyte::Selenium),
];

fn analyte(words: &[String], heading: &str) -> Option<Analyte> {
    let has = |any: &[&str]| any.iter().any(|one| words.iter().any(|word| word == one));
    let index = has(&["lti"]) || has(&["lime"]) && has(&["index"]);
    if index || has(&["buffer", "bph", "buf"]) || (has(&["ph"]) && buffer(words).is_some()) {
        return Some(Analyte::BufferPh);
    }
    if has(&["ph", "phs", "phw", "phcacl2"]) {
        let salt = has(&["cacl2", "kcl", "salt", "phs", "phcacl2"]);
        return Some(if salt { Analyte::PhSalt } else { Analyte::PhWater });
    }
    if has(&["acidity"]) {
        return Some(if has(&["saturation", "sat"]) {
            Analyte::AciditySaturation
        } else {
            Analyte::ExchangeableAcidity
        });
    }
    if has(&["cec"]) || has(&["exchange"]) && has(&["capacity"]) {
        return Some(Analyte::Cec);
    }
    let element = ELEMENTS.iter().find(|(names, _)| has(names)).map(|(_, analyte)| *analyte);
    let percent = heading.contains('%') || has(&["percent", "pct"]);
    let saturation = has(&["sat", "saturation", "bs"]) || has(&["base"]);
    if saturation || percent {
        let of_element = match element {
            Some(Analyte::Potassium) => Some(Analyte::PotassiumSaturation),
            Some(Analyte::Calcium) => Some(Analyte::CalciumSaturation),
            Some(Analyte::Magnesium) => Some(Analyte::MagnesiumSaturation),
            Some(Analyte::Sodium) => Some(Analyte::SodiumSaturation),
            _ => None,
        };
        if let Some(found) = of_element {
            return Some(found);
        }
        if has(&["h"]) {
            return Some(Analyte::AciditySaturation);
        }
        if saturation && element.is_none() {
            return Some(Analyte::BaseSaturation);
        }
    }
    if has(&["om", "som", "organic"]) {
        let carbon = has(&["carbon", "c", "oc", "soc"]);
        return Some(if carbon { Analyte::OrganicCarbon } else { Analyte::OrganicMatter });
    }
    if has(&["toc", "soc"]) {
        return Some(Analyte::OrganicCarbon);
    }
    if has(&["ec", "salts", "conductivity", "ece"]) {
        return Some(Analyte::Ec);
    }
    if has(&["sar"]) {
        return Some(Analyte::SodiumAdsorptionRatio);
    }
    if has(&["no3", "no3n", "nitrate"]) {
        return Some(Analyte::NitrateN);
    }
    if has(&["nh4", "nh4n", "ammonium"]) && !has(&["acetate", "nitrate"]) {
        return Some(Analyte::AmmoniumN);
    }
    if has(&["carbonate", "caco3", "carbonates"]) {
        return Some(Analyte::Carbonate);
    }
    if has(&["total"]) && has(&["n", "nitrogen"]) {
        return Some(Analyte::TotalN);
    }
    element
}

fn buffer(words: &[String]) -> Option<Procedure> {
    let has = |one: &str| words.iter().any(|word| word == one);
    let modified = has("modified") || has("mod");
    Some(match () {
        () if has("moore") => Procedure::MooreSikora,
        () if has("sikora2") || (has("sikora") && has("2")) => Procedure::Sikora2,
        () if has("sikora") => Procedure::Sikora,
        () if has("smp") || has("shoemaker") => Procedure::Smp,
        () if has("adams") || has("evans") || has("ae") => {
            if modified {
                Procedure::ModifiedAdamsEvans
            } else {
                Procedure::AdamsEvans
            }
        }
        () if has("woodruff") => Procedure::Woodruff,
        () if has("mehlich") => {
            if modified {
                Procedure::ModifiedMehlich
            } else {
                Procedure::Mehlich
            }
        }
        () => return None,
    })
}

/// The procedure that a heading names, where it can have measured the analyte.
fn procedure(words: &[String], heading: &str, analyte: Analyte) -> Procedure {
    let has = |any: &[&str]| any.iter().any(|one| words.iter().any(|word| word == one));
    let squeezed: String =
        heading.to_lowercase().chars().filter(|c| c.is_alphanumeric() || *c == ':').collect();
    let holds = |part: &str| squeezed.contains(part);
    let named = match analyte {
        Analyte::BufferPh => buffer(words),
        Analyte::PhSalt if has(&["kcl"]) => Some(Procedure::PotassiumChloride),
        Analyte::PhSalt => Some(Procedure::CalciumChloride),
        Analyte::PhWater if holds("1:1") => Some(Procedure::Water1To1),
        Analyte::PhWater if holds("1:2") => Some(Procedure::Water1To2),
        Analyte::Ec if holds("1:1") => Some(Procedure::Ec1To1),
        Analyte::Ec if holds("1:2") => Some(Procedure::Ec1To2),
        Analyte::Ec if holds("1:5") => Some(Procedure::Ec1To5),
        Analyte::Ec if has(&["paste", "ece", "saturated"]) => Some(Procedure::EcPaste),
        Analyte::OrganicMatter | Analyte::OrganicCarbon => match () {
            () if has(&["loi", "ignition"]) => Some(Procedure::LossOnIgnition),
            () if has(&["walkley", "wb"]) => Some(Procedure::WalkleyBlack),
            () if has(&["combustion"]) => Some(Procedure::DryCombustion),
            () => None,
        },
        _ => extractant(words, &squeezed),
    };
    named.filter(|named| named.fits(analyte)).unwrap_or(Procedure::NotStated)
}

fn extractant(words: &[String], squeezed: &str) -> Option<Procedure> {
    let has = |any: &[&str]| any.iter().any(|one| words.iter().any(|word| word == one));
    let holds = |part: &str| squeezed.contains(part);
    Some(match () {
        () if holds("mehlich3") || holds("mehlichiii") || has(&["m3"]) => {
            if has(&["colorimetric", "color", "col"]) {
                Procedure::Mehlich3Colorimetric
            } else {
                Procedure::Mehlich3Icp
            }
        }
        () if holds("mehlich1") || holds("doubleacid") || has(&["m1"]) => Procedure::Mehlich1,
        () if holds("modifiedmorgan") || has(&["mm"]) => Procedure::ModifiedMorgan,
        () if has(&["morgan"]) => Procedure::Morgan,
        () if holds("brayp2") || holds("bray2") || (has(&["bray"]) && has(&["p2", "2"])) => Procedure::Bray2,
        () if has(&["bray", "bray1", "p1"]) => Procedure::Bray1,
        () if has(&["olsen", "bicarb", "bicarbonate"]) => Procedure::Olsen,
        () if has(&["abdtpa"]) || holds("abdtpa") => Procedure::AbDtpa,
        () if has(&["dtpa"]) => Procedure::Dtpa,
        () if has(&["edta"]) => Procedure::Edta,
        () if holds("ammoniumacetate") || has(&["nh4oac", "aa", "acetate"]) => Procedure::AmmoniumAcetate,
        () if holds("ammoniumnitrate") || has(&["nh4no3"]) => Procedure::AmmoniumNitrate,
        () if holds("hotwater") || has(&["hw", "hws"]) => Procedure::HotWater,
        () if has(&["xrf"]) => Procedure::Xrf,
        () if has(&["total", "digest", "3050", "3050b", "3051"]) => Procedure::TotalDigest,
        () if has(&["resin"]) => Procedure::Resin,
        () => return None,
    })
}

/// The unit that a text names: "ppm", "mg/kg", "lb/ac", "meq/100g".
pub(super) fn unit_of_name(text: &str) -> Option<ReportUnit> {
    let plain: String = text
        .trim()
        .to_lowercase()
        .replace('³', "3")
        .replace('²', "2")
        .chars()
        .filter(|c| c.is_alphanumeric() || matches!(c, '/' | '%'))
        .collect();
    Some(match plain.as_str() {
        "ppm" | "mg/kg" | "mgkg" | "ug/g" => ReportUnit::Ppm,
        "mg/l" | "mgl" | "mg/dm3" => ReportUnit::MgPerL,
        "lb/ac" | "lb/acre" | "lbs/ac" | "lbs/acre" | "lbs/a" | "lb/a" | "lbac" | "lbacre" | "lbsacre"
        | "pp2m" => ReportUnit::LbPerAcre,
        "kg/ha" | "kgha" => ReportUnit::KgPerHa,
        "lb/1000ft2" | "lb/1000sqft" | "lbs/1000sqft" | "lbs/1000ft2" | "lb/msf" => ReportUnit::LbPer1000Ft2,
        "%" | "percent" | "pct" => ReportUnit::Percent,
        "meq/100g" | "meq100g" | "cmol/kg" | "cmolc/kg" | "cmolkg" | "me/100g" => ReportUnit::MeqPer100G,
        "meq/100cm3" | "meq/100cc" | "meq100cm3" => ReportUnit::MeqPer100Cm3,
        "ds/m" | "dsm" | "mmho/cm" | "mmhos/cm" | "mmhocm" | "mmhoscm" | "ms/cm" | "mscm" => {
            ReportUnit::DsPerM
        }
        "index" => ReportUnit::Index,
        _ => return None,
    })
}

/// The unit at the end of a heading, in brackets or not; a pH has none.
fn unit(heading: &str, analyte: Analyte) -> Option<ReportUnit> {
    let words: Vec<&str> = heading
        .split(|c: char| c.is_whitespace() || matches!(c, '(' | ')' | '[' | ']' | ',' | ';' | '_'))
        .filter(|word| !word.is_empty())
        .collect();
    let of = |text: &str| unit_of_name(text).filter(|unit| analyte.units().contains(unit));
    let named = (1..=words.len().min(3)).rev().find_map(|count| {
        words.windows(count).rev().find_map(|some| of(&some.concat()).or_else(|| of(&some.join("/"))))
    });
    if named.is_some() {
        return named;
    }
    match analyte {
        Analyte::BufferPh => {
            let index = words.iter().any(|word| word.eq_ignore_ascii_case("lti"))
                || heading.to_lowercase().contains("index");
            Some(if index { ReportUnit::Index } else { ReportUnit::None })
        }
        _ => match analyte.units() {
            [only] => Some(*only),
            _ => None,
        },
    }
}

/// The rate that a text names: "lb/ac", "ton/acre".
fn rate_unit(heading: &str) -> Option<RateUnit> {
    let plain: String = heading
        .to_lowercase()
        .replace('²', "2")
        .chars()
        .filter(|c| c.is_alphanumeric() || *c == '/')
        .collect();
    const NAMES: &[(&str, RateUnit)] = &[
        ("lb/1000", RateUnit::LbPer1000Ft2),
        ("lbs/1000", RateUnit::LbPer1000Ft2),
        ("lb/100", RateUnit::LbPer100Ft2),
        ("lbs/100", RateUnit::LbPer100Ft2),
        ("lb/a", RateUnit::LbPerAcre),
        ("lbs/a", RateUnit::LbPerAcre),
        ("ton/a", RateUnit::TonPerAcre),
        ("tons/a", RateUnit::TonPerAcre),
        ("t/ac", RateUnit::TonPerAcre),
        ("kg/ha", RateUnit::KgPerHa),
        ("t/ha", RateUnit::TonnePerHa),
        ("g/m2", RateUnit::GPerM2),
    ];
    NAMES.iter().find(|(name, _)| plain.contains(name)).map(|(_, unit)| *unit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn figure(analyte: Analyte, procedure: Procedure, unit: ReportUnit) -> Guess {
        Guess::Sure(HeadingMeans::Figure { analyte, procedure, unit })
    }

    /// Headings as laboratories write them; common practice, no source.
    #[test]
    fn headings_as_laboratories_write_them() {
        use {Analyte as A, Procedure as P, ReportUnit as U};
        for (heading, analyte, procedure, unit) in [
            ("P (Mehlich-3) ppm", A::Phosphorus, P::Mehlich3Icp, U::Ppm),
            ("P M3 colorimetric (mg/kg)", A::Phosphorus, P::Mehlich3Colorimetric, U::Ppm),
            ("Bray P1 ppm", A::Phosphorus, P::Bray1, U::Ppm),
            ("Olsen P (mg/L)", A::Phosphorus, P::Olsen, U::MgPerL),
            ("K lb/ac", A::Potassium, P::NotStated, U::LbPerAcre),
            ("K (ammonium acetate), lbs/acre", A::Potassium, P::AmmoniumAcetate, U::LbPerAcre),
            ("Ca meq/100 g", A::Calcium, P::NotStated, U::MeqPer100G),
            ("Buffer pH (SMP)", A::BufferPh, P::Smp, U::None),
            ("Sikora buffer pH", A::BufferPh, P::Sikora, U::None),
            ("Lime test index", A::BufferPh, P::NotStated, U::Index),
            ("Modified Mehlich buffer pH", A::BufferPh, P::ModifiedMehlich, U::None),
            ("pH", A::PhWater, P::NotStated, U::None),
            ("Soil pH (1:1)", A::PhWater, P::Water1To1, U::None),
            ("pH CaCl2", A::PhSalt, P::CalciumChloride, U::None),
            ("Organic Matter (LOI) %", A::OrganicMatter, P::LossOnIgnition, U::Percent),
            ("OM %", A::OrganicMatter, P::NotStated, U::Percent),
            ("CEC meq/100g", A::Cec, P::NotStated, U::MeqPer100G),
            ("EC 1:2 dS/m", A::Ec, P::Ec1To2, U::DsPerM),
            ("Soluble salts 1:1 mmhos/cm", A::Ec, P::Ec1To1, U::DsPerM),
            ("NO3-N ppm", A::NitrateN, P::NotStated, U::Ppm),
            ("% K", A::PotassiumSaturation, P::NotStated, U::Percent),
            ("Base saturation Ca %", A::CalciumSaturation, P::NotStated, U::Percent),
            ("Base saturation (%)", A::BaseSaturation, P::NotStated, U::Percent),
            ("Zn DTPA ppm", A::Zinc, P::Dtpa, U::Ppm),
            ("B hot water ppm", A::Boron, P::HotWater, U::Ppm),
            ("Lead, total (mg/kg)", A::Lead, P::TotalDigest, U::Ppm),
            ("Exchangeable acidity meq/100 g", A::ExchangeableAcidity, P::NotStated, U::MeqPer100G),
        ] {
            assert_eq!(guess(heading), figure(analyte, procedure, unit), "{heading}");
        }
    }

    #[test]
    fn what_a_heading_does_not_say_is_left_open() {
        assert!(matches!(
            guess("Mg (M3)"),
            Guess::UnitOpen(HeadingMeans::Figure {
                analyte: Analyte::Magnesium,
                procedure: Procedure::Mehlich3Icp,
                ..
            })
        ));
        assert_eq!(guess("sands"), Guess::Unknown);
        assert_eq!(guess("operator"), Guess::Unknown);
        assert_eq!(guess("Sample ID"), Guess::Sure(HeadingMeans::BagLabel));
        assert_eq!(
            guess("Lime rec ton/ac"),
            Guess::Sure(HeadingMeans::Recommended {
                what: RecommendedWhat::Lime,
                unit: RateUnit::TonPerAcre
            })
        );
        assert_eq!(
            guess("K2O lb/1000 ft2"),
            Guess::Sure(HeadingMeans::Recommended {
                what: RecommendedWhat::K2o,
                unit: RateUnit::LbPer1000Ft2
            })
        );
    }

    proptest! {
        #[test]
        fn no_heading_panics_and_every_guess_fits(heading in "([A-Za-z0-9%(): /é-]|pH|ppm|Mehlich|buffer|lb/ac){0,14}") {
            if let Guess::Sure(HeadingMeans::Figure { analyte, procedure, unit }) = guess(&heading) {
                prop_assert!(procedure.fits(analyte) && analyte.units().contains(&unit));
            }
        }
    }
}
