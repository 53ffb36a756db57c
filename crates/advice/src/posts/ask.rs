//! Which post is asked about: that of a structure, or one that is not of any yet.

use book::model::{EntryId, PostFoot, PostLine, PostSet, Structure, StructureKind, TunnelFrame};
use book::{Held, Snapshot};
use ground::kit::Bounded;
use ground::posts::embedment::Section;
use ground::posts::quantities::{LoadHeight, PostWidth};
use ground::posts::tunnel_shape::Tunnel;
use ground::posts::wind_pressure::Exposure;

/// Depth where none was given, 30 in.
pub const USUAL_DEPTH_M: f64 = 0.762;
/// Height at which a bow joins its ground post where none was given, 12 in.
pub(super) const USUAL_JOINT_M: f64 = 0.3048;
/// Diameter of the concrete where none was given, 12 in.
pub const USUAL_COLLAR_M: f64 = 0.3048;
/// A bell is this much wider than its shaft where none was given.
const BELL_OVER_SHAFT: f64 = 1.5;
/// Diameter of a helix where none was given, 10 in.
pub const USUAL_HELIX_M: f64 = 0.254;
/// Steepest arch of the table of wind coefficients, rise over span.
const STEEPEST_ARCH: f64 = 0.6;

/// A post, what it carries, and the wind and frost it stands in.
#[derive(Debug, Clone, PartialEq)]
pub struct PostAsk {
    /// The plot whose ground it stands in.
    pub plot: EntryId,
    /// The structure, where it is of one.
    pub structure: Option<EntryId>,
    /// What it is called.
    pub name: String,
    /// What it is, where it is a structure.
    pub kind: Option<StructureKind>,
    /// Is it planned, and not built yet?
    pub planned: bool,
    /// Length.
    pub length_m: Option<f64>,
    /// Width.
    pub width_m: Option<f64>,
    /// Frame of a tunnel.
    pub frame: Option<TunnelFrame>,
    /// Line of a fence or trellis.
    pub line: Option<PostLine>,
    /// The post.
    pub post: PostFoot,
    /// Was a post recorded or typed, or is it the usual one of such a structure?
    pub post_given: bool,
    /// Gust speed of the local code, m/s.
    pub wind_m_s: Option<f64>,
    /// What stands upwind; open fields where nobody said.
    pub exposure: Exposure,
    /// Was that said?
    pub exposure_given: bool,
    /// Frost depth of the local code, m.
    pub frost_m: Option<f64>,
    /// Where wind and frost were read.
    pub code_note: String,
}

impl PostAsk {
    /// The posts of a structure; `None` where it stands on no plot, as its ground is not known then.
    #[must_use]
    pub fn of_structure(snapshot: &Snapshot, held: &Held<Structure>) -> Option<Self> {
        let body = &held.body;
        let plot = snapshot.plot(body.plot?)?.id;
        let mut ask = Self::of_plot(snapshot, plot, body.post.unwrap_or_else(|| usual_post(Some(body.kind))));
        ask.structure = Some(held.id);
        ask.name.clone_from(&body.name);
        ask.kind = Some(body.kind);
        ask.planned = body.planned;
        ask.length_m = body.length_m.map(Bounded::get);
        ask.width_m = body.width_m.map(Bounded::get);
        ask.frame = body.frame.filter(|_| body.kind.has_bows());
        ask.line = body.line.filter(|_| body.kind.is_line());
        ask.post_given = body.post.is_some();
        Some(ask)
    }

    /// A post on a plot that is of no structure yet.
    #[must_use]
    pub fn of_plot(snapshot: &Snapshot, plot: EntryId, post: PostFoot) -> Self {
        let farm = &snapshot.farm.body;
        Self {
            plot,
            structure: None,
            name: "A post".to_owned(),
            kind: None,
            planned: true,
            length_m: None,
            width_m: None,
            frame: None,
            line: None,
            post,
            post_given: true,
            wind_m_s: farm.design_wind_m_s.map(Bounded::get),
            exposure: farm.wind_exposure.unwrap_or(Exposure::C),
            exposure_given: farm.wind_exposure.is_some(),
            frost_m: farm.frost_depth_m.map(Bounded::get),
            code_note: farm.code_note.clone(),
        }
    }

    /// Depth of the foot, and whether it was given.
    #[must_use]
    pub fn depth_m(&self) -> (f64, bool) {
        self.post.depth_m.map_or((USUAL_DEPTH_M, false), |depth| (depth.get(), true))
    }

    /// Height at which its load joins it.
    #[must_use]
    pub(super) fn joint_m(&self) -> f64 {
        self.post.above_m.map_or(USUAL_JOINT_M, LoadHeight::get)
    }

    /// Diameter or face, m.
    #[must_use]
    pub(super) fn width(&self) -> f64 {
        self.post.width_mm.get() / 1000.0
    }

    /// Diameter of the concrete that is poured, or would be.
    #[must_use]
    pub fn collar_m(&self) -> f64 {
        let least =
            self.width() * if self.post.section == Section::Square { std::f64::consts::SQRT_2 } else { 1.0 };
        self.post.collar_mm.map_or_else(|| USUAL_COLLAR_M.max(least + 0.1), |collar| collar.get() / 1000.0)
    }

    /// Diameter of the bell that is dug, or would be.
    #[must_use]
    pub fn bell_m(&self) -> f64 {
        self.post.bell_mm.map_or_else(|| BELL_OVER_SHAFT * self.collar_m(), |bell| bell.get() / 1000.0)
    }

    /// Diameter of the helix that is screwed in, or would be.
    #[must_use]
    pub fn helix_m(&self) -> f64 {
        self.post.helix_mm.map_or(USUAL_HELIX_M, |helix| helix.get() / 1000.0)
    }

    /// The tunnel in section, the distance between its bows and the dead weight on a post; or what is missing.
    pub(super) fn tunnel(&self) -> Result<Option<(Tunnel, f64, f64)>, String> {
        if !self.kind.is_some_and(StructureKind::has_bows) {
            return Ok(None);
        }
        let frame = self.frame.unwrap_or_default();
        let mut missing = Vec::new();
        if self.width_m.is_none() {
            missing.push("its width");
        }
        if frame.ridge_m.is_none() {
            missing.push("the height of its ridge");
        }
        if frame.bow_spacing_m.is_none() {
            missing.push("the distance between its bows");
        }
        let (Some(span_m), Some(ridge), Some(bay)) = (self.width_m, frame.ridge_m, frame.bow_spacing_m)
        else {
            return Err(format!(
                "Wind on it cannot be reckoned before these are written down: {}.",
                missing.join(", ")
            ));
        };
        let wall_m = frame.wall_m.map_or(0.0, Bounded::get);
        let tunnel = Tunnel { span_m, wall_m, rise_m: ridge.get() - wall_m };
        if tunnel.rise_m <= 0.0 || tunnel.rise_over_span() > STEEPEST_ARCH {
            return Err("The table of wind coefficients ends where the arch is six tenths as high as it is wide; this one is steeper, and its wind is not reckoned.".to_owned());
        }
        let dead = frame
            .weight_kg_m2
            .map_or(0.0, |weight| weight.get() * GRAVITY / 1000.0 * span_m / 2.0 * bay.get());
        Ok(Some((tunnel, bay.get(), dead)))
    }

    /// How many posts stand in the ground, where length and spacing tell it.
    #[must_use]
    pub fn count(&self) -> Option<u32> {
        let length = self.length_m?;
        let (spacing, rows) = match (&self.frame, &self.line) {
            (Some(frame), _) => (frame.bow_spacing_m?.get(), 2),
            (None, Some(line)) => (line.spacing_m?.get(), 1),
            (None, None) => return None,
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped, whole")]
        let bays = (length / spacing - 1e-9).ceil().clamp(1.0, 100_000.0) as u32;
        Some(rows * (bays + 1))
    }
}

/// Standard gravity, m/s².
const GRAVITY: f64 = 9.806_65;

/// The usual post of a structure: a steel tube of 2 3/8 in under a tunnel, a round post of 4 in in a line, a square
/// one of 3 1/2 in else (common practice).
#[must_use]
pub fn usual_post(kind: Option<StructureKind>) -> PostFoot {
    match kind {
        Some(kind) if kind.has_bows() => {
            PostFoot::of(Section::Round, PostWidth::literal(60.325), PostSet::Driven)
        }
        Some(kind) if kind.is_line() => {
            PostFoot::of(Section::Round, PostWidth::literal(101.6), PostSet::Tamped)
        }
        _ => PostFoot::of(Section::Square, PostWidth::literal(88.9), PostSet::Tamped),
    }
}
