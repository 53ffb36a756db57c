//! How a laboratory measured: buffers, extractants, pastes. Figures of two procedures are never mixed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Analyte;

/// What a procedure is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ProcedureKind {
    /// pH in water.
    Water,
    /// pH in salt.
    Salt,
    /// A buffer for the lime requirement.
    Buffer,
    /// An extractant for nutrients.
    Extractant,
    /// An extractant for nitrate and ammonium.
    MineralNitrogen,
    /// Organic matter and carbon.
    OrganicMatter,
    /// Exchange capacity, acidity and saturation.
    Exchange,
    /// Conductivity.
    Conductivity,
    /// All there is of an element.
    Total,
    /// Carbonate.
    Carbonate,
    /// Nothing is said.
    NotStated,
}

macro_rules! procedures {
    ($($(#[$meta:meta])* $name:ident, $kind:ident, $words:literal;)+) => {
        /// How it was measured.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
        #[serde(rename_all = "snake_case")]
        pub enum Procedure {$($(#[$meta])* $name,)+}

        impl Procedure {
            /// Every procedure.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// In words.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self {$(Self::$name => $words,)+}
            }

            /// What it is for.
            #[must_use]
            pub fn kind(self) -> ProcedureKind {
                match self {$(Self::$name => ProcedureKind::$kind,)+}
            }
        }
    };
}

procedures! {
    /// The report does not say.
    NotStated, NotStated, "not stated";
    /// One part soil, one part water.
    #[serde(rename = "water_1_1")]
    Water1To1, Water, "water, 1:1";
    /// One part soil, two parts water.
    #[serde(rename = "water_1_2")]
    Water1To2, Water, "water, 1:2";
    /// One part soil, 2.5 parts water.
    #[serde(rename = "water_1_2_5")]
    Water1To25, Water, "water, 1:2.5";
    /// One part soil, five parts water.
    #[serde(rename = "water_1_5")]
    Water1To5, Water, "water, 1:5";
    /// In the saturated paste.
    WaterPaste, Water, "saturated paste";
    /// Calcium chloride 0.01 M.
    CalciumChloride, Salt, "calcium chloride 0.01 M";
    /// Potassium chloride 1 M.
    PotassiumChloride, Salt, "potassium chloride 1 M";
    /// Shoemaker-McLean-Pratt buffer.
    Smp, Buffer, "SMP buffer";
    /// Sikora buffer, made to read as SMP.
    Sikora, Buffer, "Sikora buffer";
    /// Second Sikora buffer.
    #[serde(rename = "sikora_2")]
    Sikora2, Buffer, "Sikora-2 buffer";
    /// Mehlich buffer.
    Mehlich, Buffer, "Mehlich buffer";
    /// Modified Mehlich buffer.
    ModifiedMehlich, Buffer, "modified Mehlich buffer";
    /// Adams-Evans buffer.
    AdamsEvans, Buffer, "Adams-Evans buffer";
    /// Modified Adams-Evans buffer.
    ModifiedAdamsEvans, Buffer, "modified Adams-Evans buffer";
    /// Moore-Sikora buffer, made to read as Adams-Evans.
    MooreSikora, Buffer, "Moore-Sikora buffer";
    /// Woodruff buffer.
    Woodruff, Buffer, "Woodruff buffer";
    /// Mehlich 1, double acid.
    #[serde(rename = "mehlich_1")]
    Mehlich1, Extractant, "Mehlich 1";
    /// Mehlich 3, phosphorus by plasma (ICP).
    #[serde(rename = "mehlich_3_icp")]
    Mehlich3Icp, Extractant, "Mehlich 3 (ICP)";
    /// Mehlich 3, phosphorus by colour.
    #[serde(rename = "mehlich_3_colorimetric")]
    Mehlich3Colorimetric, Extractant, "Mehlich 3 (colorimetric)";
    /// Bray and Kurtz P1.
    #[serde(rename = "bray_1")]
    Bray1, Extractant, "Bray 1";
    /// Bray and Kurtz P2.
    #[serde(rename = "bray_2")]
    Bray2, Extractant, "Bray 2";
    /// Sodium bicarbonate.
    Olsen, Extractant, "Olsen (bicarbonate)";
    /// Morgan.
    Morgan, Extractant, "Morgan";
    /// Modified Morgan.
    ModifiedMorgan, Extractant, "modified Morgan";
    /// Ammonium acetate.
    AmmoniumAcetate, Extractant, "ammonium acetate";
    /// Ammonium nitrate.
    AmmoniumNitrate, Extractant, "ammonium nitrate";
    /// Ammonium bicarbonate with DTPA.
    AbDtpa, Extractant, "ammonium bicarbonate-DTPA";
    /// DTPA.
    Dtpa, Extractant, "DTPA";
    /// EDTA.
    Edta, Extractant, "EDTA";
    /// Hydrochloric acid 0.1 M.
    HydrochloricAcid, Extractant, "hydrochloric acid 0.1 M";
    /// Hot water.
    HotWater, Extractant, "hot water";
    /// Resin.
    Resin, Extractant, "resin";
    /// Calcium acetate-lactate.
    CalciumAcetateLactate, Extractant, "calcium acetate-lactate";
    /// Water or the saturated paste.
    WaterExtract, Extractant, "water extract";
    /// Calcium phosphate, for sulfate.
    CalciumPhosphate, Extractant, "calcium phosphate";
    /// Potassium chloride 2 M.
    #[serde(rename = "kcl_2m")]
    Kcl2M, MineralNitrogen, "potassium chloride 2 M";
    /// Loss on ignition.
    LossOnIgnition, OrganicMatter, "loss on ignition";
    /// Wet oxidation, Walkley-Black.
    WalkleyBlack, OrganicMatter, "wet oxidation (Walkley-Black)";
    /// Dry combustion.
    DryCombustion, OrganicMatter, "dry combustion";
    /// Sum of the bases and the acidity.
    Summation, Exchange, "by summation";
    /// Displacement by ammonium at pH 7.
    AmmoniumAtPh7, Exchange, "ammonium displaced at pH 7";
    /// From a buffer's pH.
    FromBuffer, Exchange, "from the buffer pH";
    /// Potassium chloride extract, titrated.
    Titration, Exchange, "potassium chloride extract, titrated";
    /// Conductivity of the saturated paste extract.
    EcPaste, Conductivity, "saturated paste extract";
    /// Conductivity at 1:1.
    #[serde(rename = "ec_1_1")]
    Ec1To1, Conductivity, "1:1 extract";
    /// Conductivity at 1:2.
    #[serde(rename = "ec_1_2")]
    Ec1To2, Conductivity, "1:2 extract";
    /// Conductivity at 1:5.
    #[serde(rename = "ec_1_5")]
    Ec1To5, Conductivity, "1:5 extract";
    /// Strong acid, all that is there.
    TotalDigest, Total, "total, acid digest";
    /// X-ray fluorescence.
    Xrf, Total, "total, X-ray fluorescence";
    /// Gas given off with acid.
    AcidGas, Carbonate, "gas given off with acid";
}

impl Procedure {
    /// Can it have measured that?
    #[must_use]
    pub fn fits(self, analyte: Analyte) -> bool {
        use ProcedureKind as Kind;
        let kind = self.kind();
        if kind == Kind::NotStated {
            return true;
        }
        match analyte {
            Analyte::PhWater => kind == Kind::Water,
            Analyte::PhSalt => kind == Kind::Salt,
            Analyte::BufferPh => kind == Kind::Buffer,
            Analyte::Phosphorus
            | Analyte::Potassium
            | Analyte::Calcium
            | Analyte::Magnesium
            | Analyte::Sodium
            | Analyte::Sulfur
            | Analyte::Boron
            | Analyte::Zinc
            | Analyte::Manganese
            | Analyte::Copper
            | Analyte::Iron
            | Analyte::Molybdenum
            | Analyte::Chloride => matches!(kind, Kind::Extractant | Kind::Total),
            Analyte::Aluminium => matches!(kind, Kind::Extractant | Kind::Total) || self == Self::Titration,
            Analyte::Lead
            | Analyte::Arsenic
            | Analyte::Cadmium
            | Analyte::Chromium
            | Analyte::Mercury
            | Analyte::Nickel
            | Analyte::Selenium => matches!(kind, Kind::Total | Kind::Extractant),
            Analyte::NitrateN | Analyte::AmmoniumN => {
                kind == Kind::MineralNitrogen
                    || matches!(self, Self::WaterExtract | Self::Morgan | Self::ModifiedMorgan)
            }
            Analyte::TotalN => kind == Kind::Total || self == Self::DryCombustion,
            Analyte::OrganicMatter | Analyte::OrganicCarbon => kind == Kind::OrganicMatter,
            Analyte::Cec => matches!(self, Self::Summation | Self::AmmoniumAtPh7),
            Analyte::ExchangeableAcidity => matches!(self, Self::FromBuffer | Self::Titration),
            Analyte::PotassiumSaturation
            | Analyte::CalciumSaturation
            | Analyte::MagnesiumSaturation
            | Analyte::SodiumSaturation
            | Analyte::AciditySaturation
            | Analyte::BaseSaturation => matches!(self, Self::Summation | Self::AmmoniumAtPh7),
            Analyte::Ec => kind == Kind::Conductivity,
            Analyte::SodiumAdsorptionRatio => matches!(self, Self::EcPaste | Self::WaterExtract),
            Analyte::Carbonate => kind == Kind::Carbonate,
        }
    }

    /// The procedures that can have measured an analyte, "not stated" first.
    pub fn of(analyte: Analyte) -> impl Iterator<Item = Self> {
        Self::ALL.iter().copied().filter(move |procedure| procedure.fits(analyte))
    }

    /// Its name in the file, and in tables.
    #[must_use]
    pub fn key(self) -> String {
        key_of(self)
    }
}

/// The name that serde gives a unit variant.
pub(super) fn key_of(value: impl Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(key)) => key,
        _ => String::new(),
    }
}
