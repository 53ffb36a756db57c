//! A laboratory's figures, their units and what follows from them alone.
//!
//! * [`report`]: the printout as it was received.
//! * [`soil_mass`], [`figure_units`], [`oxides`], [`in_ppm`]: one figure in every unit.
//! * [`cation_exchange`], [`nitrate`], [`manganese`], [`boron_tolerance`], [`metals`]: what a figure says by itself.
//! * [`test_conversion`]: from one soil test to another, as an indication and only when asked for.

pub mod boron_tolerance;
pub mod cation_exchange;
pub mod figure_units;
pub mod in_ppm;
pub mod manganese;
pub mod metals;
pub mod nitrate;
pub mod oxides;
pub mod report;
pub mod soil_mass;
pub mod test_conversion;

crate::kit::method::methods![
    figure_units::SoilFigureUnits,
    cation_exchange::CationExchangeSummation,
    nitrate::NitrateNInLayer,
    manganese::ManganeseActivityIndex,
    boron_tolerance::BoronTolerance,
    metals::MetalInGardenSoil,
    test_conversion::SoilTestConversion,
];
