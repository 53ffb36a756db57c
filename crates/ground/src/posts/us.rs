//! Sizes of the US customary units in which codes print their tables.

/// Metres in a foot.
pub const M_PER_FT: f64 = 0.3048;
/// Kilonewtons in a pound-force.
pub const KN_PER_LBF: f64 = 0.004_448_221_615_260_5;
/// Kilopascals in a pound per square foot.
pub const KPA_PER_PSF: f64 = KN_PER_LBF / (M_PER_FT * M_PER_FT);
/// Kilopascals per metre in a pound per square foot per foot; also kN/m³ in a pound per cubic foot.
pub const KPA_M_PER_PSF_FT: f64 = KPA_PER_PSF / M_PER_FT;
/// Cubic metres in a cubic foot.
pub const M3_PER_FT3: f64 = M_PER_FT * M_PER_FT * M_PER_FT;
/// Cubic metres in a cubic yard.
pub const M3_PER_YD3: f64 = 27.0 * M3_PER_FT3;
