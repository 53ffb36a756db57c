//! What a structure stands on: the frame of a tunnel, a line of posts and wires, and the posts themselves.

use ground::kit::quantity::number;
use ground::kit::{Bounded, Refusal};
use ground::posts::embedment::Section;
use ground::posts::fence_brace::{BraceSpan, TiebackAngle, WireHeight, WirePull, Wires};
use ground::posts::fence_practice::HeightAbove;
use ground::posts::galvanized_life::ZincThickness;
use ground::posts::line_wind::{LinePostSpacing, SolidShare};
use ground::posts::quantities::{CollarDiameter, LateralLoad, LoadHeight, PostDepth, PostWidth};
use ground::posts::screw_anchor::HelixDiameter;
use ground::posts::tunnel_wind::{BowSpacing, SideWall};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

ground::quantity! {
    /// Height of the ridge above the ground.
    pub struct RidgeHeight: "height of the ridge", "m", 0.5 ..= 12.0, example 3.7;
    /// Weight of frame and cover for each square metre of ground.
    pub struct FrameWeight: "weight of frame and cover", "kg/m²", 0.0 ..= 60.0, example 5.0;
    /// Thickness of the wall of a tube.
    pub struct TubeWall: "wall of the tube", "mm", 0.5 ..= 20.0, example 2.0;
}

/// Height of a ridge over its side walls, m: less is no roof.
const RIDGE_ABOVE_M: f64 = 0.2;

/// The frame of a tunnel or greenhouse.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TunnelFrame {
    /// Height of upright side walls; 0 where the bows spring from the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wall_m: Option<SideWall>,
    /// Height of the ridge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ridge_m: Option<RidgeHeight>,
    /// Distance between bows; each stands on two posts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bow_spacing_m: Option<BowSpacing>,
    /// Shape of the bows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub profile: Option<TunnelProfile>,
    /// Ends with a door.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub door_ends: Option<u8>,
    /// Is the cover on in the season of storms?
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub covered: Option<bool>,
    /// Weight of frame and cover for each square metre of ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weight_kg_m2: Option<FrameWeight>,
}

/// Shape of bows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TunnelProfile {
    /// Round.
    Round,
    /// Pointed at the ridge.
    Pointed,
}

impl TunnelProfile {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Round => "round",
            Self::Pointed => "pointed",
        }
    }
}

/// A line of posts and wires.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PostLine {
    /// Height above the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<HeightAbove>,
    /// Distance between posts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spacing_m: Option<LinePostSpacing>,
    /// Number of tight wires.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wires: Option<Wires>,
    /// Pull of each when it is tight and cold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wire_pull_kn: Option<WirePull>,
    /// Their mean height.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wire_height_m: Option<WireHeight>,
    /// How its ends are braced.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub brace: Option<EndBrace>,
    /// Distance between the two posts of a brace.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub brace_span_m: Option<BraceSpan>,
    /// Slope of a tieback, above level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tieback_degrees: Option<TiebackAngle>,
    /// Share of the front that stops the wind, on its worst day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solid_percent: Option<SolidShare>,
    /// Is it a deer fence?
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub deer: bool,
}

/// How the end of a line is braced.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum EndBrace {
    /// Not at all: the end post takes the wires.
    Alone,
    /// A second post with a level brace between.
    TwoPosts,
    /// A tieback to an anchor in the ground.
    Tieback,
}

impl EndBrace {
    /// Every way, for lists to choose from.
    pub const ALL: [Self; 3] = [Self::Alone, Self::TwoPosts, Self::Tieback];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Alone => "the end post alone",
            Self::TwoPosts => "two posts with a level brace",
            Self::Tieback => "a tieback to an anchor",
        }
    }
}

/// A post in the ground.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PostFoot {
    /// Cross-section.
    pub section: Section,
    /// Diameter, or face of a square one.
    pub width_mm: PostWidth,
    /// Thickness of its wall, of a tube.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tube_wall_mm: Option<TubeWall>,
    /// Depth of its foot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth_m: Option<PostDepth>,
    /// Height above the ground at which bow, rail or load joins it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub above_m: Option<LoadHeight>,
    /// How it is set.
    pub set: PostSet,
    /// Diameter of the concrete, of a collar or of the shaft above a bell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub collar_mm: Option<CollarDiameter>,
    /// Diameter of the bell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bell_mm: Option<CollarDiameter>,
    /// Diameter of the helix of a screw anchor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub helix_mm: Option<HelixDiameter>,
    /// Zinc on one face of a galvanized post.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zinc_um: Option<ZincThickness>,
    /// Does a rigid floor or pavement hold it at the ground?
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub rigid_floor: bool,
    /// Does it stand alone, and does 12 mm of movement harm nothing? The code then doubles what ground bears sideways.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub movement_harmless: bool,
    /// A sideways load that the maker or an engineer gave.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load_kn: Option<LateralLoad>,
}

/// How a post is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PostSet {
    /// Driven into undisturbed ground.
    Driven,
    /// In a hole, the ground tamped back in layers.
    Tamped,
    /// In a straight collar of concrete.
    Collar,
    /// In concrete with a bell at its foot.
    Belled,
    /// On a screw anchor.
    ScrewAnchor,
}

impl PostSet {
    /// Every way, for lists to choose from.
    pub const ALL: [Self; 5] = [Self::Driven, Self::Tamped, Self::Collar, Self::Belled, Self::ScrewAnchor];

    /// Its name in the file.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Driven => "driven",
            Self::Tamped => "tamped",
            Self::Collar => "collar",
            Self::Belled => "belled",
            Self::ScrewAnchor => "screw_anchor",
        }
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Driven => "driven",
            Self::Tamped => "set in a hole and tamped",
            Self::Collar => "set in a collar of concrete",
            Self::Belled => "set in concrete with a bell at the foot",
            Self::ScrewAnchor => "on a screw anchor",
        }
    }

    /// Is concrete poured round it?
    #[must_use]
    pub fn takes_concrete(self) -> bool {
        matches!(self, Self::Collar | Self::Belled)
    }
}

impl TunnelFrame {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        if let Some(ends) = self.door_ends.filter(|ends| *ends > 2) {
            return Err(Refusal::new("door_ends", format!("a tunnel has two ends, but {ends} were given"))
                .given(ends)
                .accepted("0, 1 or 2")
                .example(2));
        }
        match (self.wall_m, self.ridge_m) {
            (Some(wall), Some(ridge)) if ridge.get() - wall.get() < RIDGE_ABOVE_M - 1e-9 => {
                Err(Refusal::new("ridge_m", "the ridge must stand above the side walls")
                    .given(format!("{} m over walls of {} m", number(ridge.get()), number(wall.get())))
                    .accepted(format!("{} m or more", number(wall.get() + RIDGE_ABOVE_M)))
                    .example(format!("{} m", number(wall.get() + 2.4))))
            }
            _ => Ok(()),
        }
    }
}

impl PostLine {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        match (self.height_m, self.wire_height_m) {
            (Some(height), Some(wires)) if wires.get() > height.get() => {
                Err(Refusal::new("wire_height_m", "the wires cannot hang higher than the posts stand")
                    .given(format!("{} m on posts of {} m", wires.get(), height.get()))
                    .accepted(format!("up to {} m", height.get()))
                    .example(format!("{} m", height.get() / 2.0)))
            }
            _ => Ok(()),
        }
    }
}

impl PostFoot {
    /// A post of that width, set that way.
    #[must_use]
    pub fn of(section: Section, width_mm: PostWidth, set: PostSet) -> Self {
        Self {
            section,
            width_mm,
            tube_wall_mm: None,
            depth_m: None,
            above_m: None,
            set,
            collar_mm: None,
            bell_mm: None,
            helix_mm: None,
            zinc_um: None,
            rigid_floor: false,
            movement_harmless: false,
            load_kn: None,
        }
    }

    /// Checks the post against itself: a collar goes round it, a bell is wider than its shaft.
    ///
    /// # Errors
    /// The field that contradicts another.
    pub fn check(&self) -> Result<(), Refusal> {
        let width = self.width_mm.get();
        if let Some(wall) = self.tube_wall_mm.filter(|wall| 2.0 * wall.get() >= width) {
            return Err(Refusal::new("tube_wall_mm", "two walls of a tube are thinner than the tube")
                .given(format!("{} mm in a tube of {width} mm", wall.get()))
                .accepted(format!("less than {} mm", width / 2.0))
                .example("2 mm"));
        }
        let across = match self.section {
            Section::Round => width,
            Section::Square => width * std::f64::consts::SQRT_2,
        };
        if let Some(collar) = self.collar_mm.filter(|collar| collar.get() < across) {
            return Err(Refusal::new("collar_mm", "the collar must go round the post")
                .given(format!("{} mm round a post of {width} mm", collar.get()))
                .accepted(format!("{:.0} mm or more", across.ceil()))
                .example(format!("{:.0} mm", across + 200.0)));
        }
        if let Some(bell) = self.bell_mm {
            let shaft = self.collar_mm.map_or(across, Bounded::get);
            if bell.get() <= shaft {
                return Err(Refusal::new("bell_mm", "the bell must be wider than the shaft above it")
                    .given(format!("{} mm under a shaft of {shaft:.0} mm", bell.get()))
                    .accepted(format!("more than {shaft:.0} mm"))
                    .example(format!("{:.0} mm", shaft + 150.0)));
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn post() -> PostFoot {
        PostFoot::of(Section::Square, PostWidth::literal(89.0), PostSet::Belled)
    }

    /// The diagonal of a square post of 89 mm is 126 mm, by Pythagoras.
    #[test]
    fn a_collar_goes_round_the_diagonal() {
        let with = |mm: f64| PostFoot { collar_mm: Some(CollarDiameter::literal(mm)), ..post() }.check();
        assert_eq!(with(120.0).unwrap_err().field, "collar_mm");
        assert!(with(130.0).is_ok());
    }

    #[test]
    fn a_bell_is_wider_than_its_shaft() {
        let belled = |bell: f64| {
            PostFoot {
                collar_mm: Some(CollarDiameter::literal(300.0)),
                bell_mm: Some(CollarDiameter::literal(bell)),
                ..post()
            }
            .check()
        };
        assert_eq!(belled(300.0).unwrap_err().field, "bell_mm");
        assert!(belled(450.0).is_ok());
    }

    #[test]
    fn keys_are_those_of_the_json() {
        for set in PostSet::ALL {
            assert_eq!(serde_json::to_value(set).unwrap(), set.key());
        }
    }

    #[test]
    fn what_is_said_to_be_accepted_is() {
        let frame = |ridge: f64| TunnelFrame {
            wall_m: Some(SideWall::literal(2.2)),
            ridge_m: Some(RidgeHeight::literal(ridge)),
            ..TunnelFrame::default()
        };
        let told = frame(2.3).check().unwrap_err();
        assert_eq!((told.accepted.as_str(), told.example.as_str()), ("2.4 m or more", "4.6 m"));
        assert!(frame(2.4).check().is_ok());
        let collar = |mm: f64| PostFoot { collar_mm: Some(CollarDiameter::literal(mm)), ..post() }.check();
        assert_eq!(collar(120.0).unwrap_err().accepted, "126 mm or more");
        assert!(collar(126.0).is_ok());
    }

    #[test]
    fn a_ridge_stands_above_its_walls() {
        let frame = TunnelFrame {
            wall_m: Some(SideWall::literal(2.0)),
            ridge_m: Some(RidgeHeight::literal(1.9)),
            ..TunnelFrame::default()
        };
        assert_eq!(frame.check().unwrap_err().field, "ridge_m");
        assert_eq!(
            TunnelFrame { door_ends: Some(3), ..TunnelFrame::default() }.check().unwrap_err().field,
            "door_ends"
        );
    }
}
