//! Something built: a tunnel, a shed, a fence.

use ground::kit::Refusal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::posts::{PostFoot, PostLine, TunnelFrame};
use super::{EntryId, Kind, Links, Record, text};

ground::quantity! {
    /// A side of a structure.
    pub struct StructureSide: "side of the structure", "m", 0.1 ..= 5000.0, example 29.0;
}

/// A structure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Structure {
    /// The plot it stands on, if it stands on one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plot: Option<EntryId>,
    /// What it is called.
    pub name: String,
    /// What it is.
    pub kind: StructureKind,
    /// Its length.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_m: Option<StructureSide>,
    /// Its width.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_m: Option<StructureSide>,
    /// Is it planned, and not built yet?
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub planned: bool,
    /// Its frame, of a tunnel or greenhouse.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame: Option<TunnelFrame>,
    /// Its line of posts and wires, of a fence or trellis.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<PostLine>,
    /// Its posts in the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub post: Option<PostFoot>,
    /// Anything else.
    #[serde(default)]
    pub note: String,
}

/// What a structure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StructureKind {
    /// High tunnel.
    HighTunnel,
    /// Greenhouse.
    Greenhouse,
    /// Shed or barn.
    Shed,
    /// Fence.
    Fence,
    /// Trellis.
    Trellis,
    /// Something else.
    Other,
}

impl StructureKind {
    /// Does it stand on bows, as tunnels do?
    #[must_use]
    pub fn has_bows(self) -> bool {
        matches!(self, Self::HighTunnel | Self::Greenhouse)
    }

    /// Is it a line of posts and wires?
    #[must_use]
    pub fn is_line(self) -> bool {
        matches!(self, Self::Fence | Self::Trellis)
    }

    /// Every kind, for lists to choose from.
    pub const ALL: [Self; 6] =
        [Self::HighTunnel, Self::Greenhouse, Self::Shed, Self::Fence, Self::Trellis, Self::Other];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::HighTunnel => "high tunnel",
            Self::Greenhouse => "greenhouse",
            Self::Shed => "shed or barn",
            Self::Fence => "fence",
            Self::Trellis => "trellis",
            Self::Other => "other",
        }
    }
}

impl Structure {
    /// A structure of which only the name and kind are known.
    #[must_use]
    pub fn named(name: impl Into<String>, kind: StructureKind) -> Self {
        Self {
            plot: None,
            name: name.into(),
            kind,
            length_m: None,
            width_m: None,
            planned: false,
            frame: None,
            line: None,
            post: None,
            note: String::new(),
        }
    }
}

impl Record for Structure {
    const KIND: Kind = Kind::Structure;

    fn check(&self) -> Result<(), Refusal> {
        text::name("name", &self.name, "East tunnel")?;
        text::note("note", &self.note)?;
        if let Some(frame) = &self.frame {
            frame.check().map_err(|refusal| refusal.inside("frame"))?;
        }
        if let Some(line) = &self.line {
            line.check().map_err(|refusal| refusal.inside("line"))?;
        }
        self.post.as_ref().map_or(Ok(()), |post| post.check().map_err(|refusal| refusal.inside("post")))
    }

    fn links(&self) -> Links {
        Links { plot: self.plot, ..Links::default() }
    }
}
