//! The quantities that methods on posts share.

crate::quantity! {
    /// Width of a post: diameter of a round one, face of a square one.
    pub struct PostWidth: "width of the post", "mm", 10.0 ..= 1500.0, example 90.0;
    /// Diameter of a concrete collar.
    pub struct CollarDiameter: "diameter of the collar", "mm", 50.0 ..= 1500.0, example 300.0;
    /// Depth of a post in the ground.
    pub struct PostDepth: "depth in the ground", "m", 0.1 ..= 3.6576, example 0.9;
    /// Depth of loose, dry or cracked ground at the top that is not counted.
    pub struct IgnoredTop: "depth not counted at the top", "m", 0.0 ..= 2.0, example 0.15;
    /// Sideways force on one post.
    pub struct LateralLoad: "sideways load", "kN", 0.001 ..= 100.0, example 0.9;
    /// Height above ground at which the sideways force acts.
    pub struct LoadHeight: "height of the load", "m", 0.0 ..= 15.0, example 1.2;
    /// Lateral bearing pressure allowed for each metre of depth.
    pub struct LateralBearing: "lateral bearing", "kPa/m", 1.0 ..= 400.0, example 15.7;
    /// Weight of ground or concrete for its volume.
    pub struct UnitWeight: "unit weight", "kN/m³", 5.0 ..= 27.0, example 17.3;
    /// Angle of internal friction.
    pub struct FrictionAngle: "friction angle", "°", 15.0 ..= 45.0, example 30.0;
    /// Undrained shear strength of clay or silt.
    pub struct UndrainedStrength: "undrained shear strength", "kPa", 2.0 ..= 400.0, example 24.0;
    /// Odds.
    pub struct OddsPercent: "odds", "%", 0.0 ..= 100.0, example 60.0;
    /// Dead weight that rests on one post.
    pub struct DeadWeight: "dead weight", "kN", 0.0 ..= 100.0, example 0.3;
}
