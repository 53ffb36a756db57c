//! The quantities that acidity is told in.

crate::quantity! {
    /// pH of soil in water.
    pub struct SoilPh: "pH in water", "", 3.0 ..= 10.5, example 5.6;
    /// pH that liming or sulfur is to reach.
    pub struct TargetPh: "pH to reach", "", 4.0 ..= 7.0, example 6.5;
    /// pH of soil stirred in a laboratory's buffer.
    pub struct BufferPh: "buffer pH", "", 4.5 ..= 8.0, example 6.4;
    /// Depth that a material is mixed into.
    pub struct MixedDepth: "depth it is mixed into", "cm", 2.0 ..= 45.0, example 15.0;
    /// Dry bulk density of that depth, where it was measured.
    pub struct MixedDensity: "bulk density", "g/cm³", 0.15 ..= 1.9, example 1.2;
    /// Exchangeable acidity.
    pub struct Acidity: "exchangeable acidity", "meq/100 g", 0.0 ..= 60.0, example 5.0;
    /// Aluminium extracted by modified Morgan solution.
    pub struct ReactiveAluminium: "reactive aluminium", "ppm", 0.0 ..= 2000.0, example 55.0;
    /// Cation exchange capacity.
    pub struct ExchangeCapacity: "cation exchange capacity", "meq/100 g", 0.5 ..= 200.0, example 12.0;
    /// Organic matter by mass.
    pub struct OrganicPercent: "organic matter", "%", 0.0 ..= 95.0, example 3.0;
    /// Calcium carbonate equivalent of a material: pure calcium carbonate is 100.
    pub struct CarbonateEquivalent: "calcium carbonate equivalent", "%", 5.0 ..= 180.0, example 92.0;
    /// Water in a material as sold.
    pub struct MaterialMoisture: "moisture", "%", 0.0 ..= 90.0, example 3.0;
    /// Share of a material that passes a sieve.
    pub struct PassingPercent: "share passing", "%", 0.0 ..= 100.0, example 90.0;
    /// An amount spread over an area, told as pure and fully effective calcium carbonate.
    pub struct CarbonateRate: "lime need as calcium carbonate", "kg/m²", 0.0 ..= 12.0, example 0.5;
}
