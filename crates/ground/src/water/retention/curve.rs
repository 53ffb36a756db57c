//! What a retention curve must answer, and the curves of the house as one type.

use super::{BrooksCorey, Gardner, Haverkamp, TextureCurve, VanGenuchten};

/// The ground at one head. Conductivity is cm/h.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CurvePoint {
    /// Water content, m³/m³.
    pub theta: f64,
    /// Slope of water content over head, 1/cm: never negative, 0 in full ground.
    pub capacity_per_cm: f64,
    /// Conductivity, cm/h.
    pub conductivity_cm_h: f64,
    /// Slope of conductivity over head, 1/h.
    pub conductivity_slope_per_h: f64,
}

/// A curve of water content and conductivity over pressure head (cm, negative when unsaturated).
///
/// Every curve rises with the head, is full at head 0 and above, and gives finite numbers at any
/// finite head.
pub trait Retention {
    /// Water content, its slope, conductivity and its slope, at a head.
    fn point(&self, head_cm: f64) -> CurvePoint;

    /// The head at a water content below saturation; the least and greatest contents are held to
    /// just inside the curve.
    fn head_at(&self, theta: f64) -> f64;

    /// Water content of the driest ground the curve knows, m³/m³.
    fn residual(&self) -> f64;

    /// Water content when full, m³/m³.
    fn saturation(&self) -> f64;

    /// Conductivity when full, cm/h.
    fn saturated_conductivity_cm_h(&self) -> f64;

    /// The head at which a drying soil begins to give water up at a rate that jumps, cm: air entry
    /// with a corner. Nothing where the rate grows from 0.
    fn corner_cm(&self) -> Option<f64> {
        None
    }

    /// The head at a water content, and the ground there.
    fn point_at(&self, theta: f64) -> (f64, CurvePoint) {
        let head = self.head_at(theta);
        (head, self.point(head))
    }

    /// Water content at a head, m³/m³.
    fn theta(&self, head_cm: f64) -> f64 {
        self.point(head_cm).theta
    }

    /// Slope of water content over head, 1/cm.
    fn capacity_per_cm(&self, head_cm: f64) -> f64 {
        self.point(head_cm).capacity_per_cm
    }

    /// Conductivity at a head, cm/h.
    fn conductivity_cm_h(&self, head_cm: f64) -> f64 {
        self.point(head_cm).conductivity_cm_h
    }
}

/// Any of the curves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// Van Genuchten with Mualem's conductivity.
    VanGenuchten(VanGenuchten),
    /// Brooks and Corey.
    BrooksCorey(BrooksCorey),
    /// The form of Haverkamp and others.
    Haverkamp(Haverkamp),
    /// Gardner's exponential.
    Gardner(Gardner),
    /// The curve of `soil-water`, from texture and organic matter.
    Texture(TextureCurve),
}

/// Runs `$body` with `$curve` bound to the curve inside, so that a loop over cells chooses once.
macro_rules! with_curve {
    ($any:expr, $curve:ident => $body:expr) => {
        match $any {
            $crate::water::retention::Curve::VanGenuchten($curve) => $body,
            $crate::water::retention::Curve::BrooksCorey($curve) => $body,
            $crate::water::retention::Curve::Haverkamp($curve) => $body,
            $crate::water::retention::Curve::Gardner($curve) => $body,
            $crate::water::retention::Curve::Texture($curve) => $body,
        }
    };
}
pub(crate) use with_curve;

impl Retention for Curve {
    fn point(&self, head_cm: f64) -> CurvePoint {
        with_curve!(self, curve => curve.point(head_cm))
    }

    fn head_at(&self, theta: f64) -> f64 {
        with_curve!(self, curve => curve.head_at(theta))
    }

    fn residual(&self) -> f64 {
        with_curve!(self, curve => curve.residual())
    }

    fn saturation(&self) -> f64 {
        with_curve!(self, curve => curve.saturation())
    }

    fn saturated_conductivity_cm_h(&self) -> f64 {
        with_curve!(self, curve => curve.saturated_conductivity_cm_h())
    }

    fn corner_cm(&self) -> Option<f64> {
        with_curve!(self, curve => curve.corner_cm())
    }

    fn point_at(&self, theta: f64) -> (f64, CurvePoint) {
        with_curve!(self, curve => curve.point_at(theta))
    }
}

/// Effective saturation of a water content, held a little inside 0 to 1 so that its head is finite.
pub(super) fn inside(theta: f64, residual: f64, saturation: f64) -> f64 {
    ((theta - residual) / (saturation - residual)).clamp(1e-12, 1.0)
}
