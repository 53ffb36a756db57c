//! The words of covers: families, bands of texture, purposes, ways to end a cover, animals.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::texture::Class;

/// Declares a list of kinds that also serves as a set of bits.
macro_rules! kinds {
    ($($(#[$meta:meta])* pub enum $type:ident, $set:ident { $($(#[$item:meta])* $kind:ident = $words:literal,)+ })+) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
        #[serde(rename_all = "snake_case")]
        pub enum $type { $($(#[$item])* $kind,)+ }

        impl $type {
            /// Every kind.
            pub const ALL: &[Self] = &[$(Self::$kind,)+];

            /// In words.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self { $(Self::$kind => $words,)+ }
            }
        }

        #[doc = concat!("A set of [`", stringify!($type), "`].")]
        #[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
        pub struct $set(u16);

        impl $set {
            /// Is it in the set?
            #[must_use]
            pub fn has(self, kind: $type) -> bool {
                self.0 & (1 << kind as u16) != 0
            }

            /// Takes it in.
            pub fn insert(&mut self, kind: $type) {
                self.0 |= 1 << kind as u16;
            }

            /// Have the two sets a kind in common?
            #[must_use]
            pub fn meets(self, other: Self) -> bool {
                self.0 & other.0 != 0
            }

            /// The kinds in the set.
            pub fn iter(self) -> impl Iterator<Item = $type> {
                $type::ALL.iter().copied().filter(move |kind| self.has(*kind))
            }
        }

        impl FromIterator<$type> for $set {
            fn from_iter<I: IntoIterator<Item = $type>>(kinds: I) -> Self {
                let mut set = Self::default();
                for kind in kinds {
                    set.insert(kind);
                }
                set
            }
        }
    )+};
}

kinds! {
    /// Plant families of vegetables and covers.
    pub enum Family, Families {
        /// Cabbage family.
        Brassicaceae = "cabbage family",
        /// Peas, beans, clovers.
        Fabaceae = "pea and bean family",
        /// Grasses, with sweet corn.
        Poaceae = "grass family",
        /// Cucumbers, squash, melons.
        Cucurbitaceae = "cucumber family",
        /// Tomato, pepper, potato.
        Solanaceae = "tomato and potato family",
        /// Lettuce, sunflower.
        Asteraceae = "lettuce and sunflower family",
        /// Beet, spinach, chard.
        Amaranthaceae = "beet and spinach family",
        /// Carrot, celery, parsley.
        Apiaceae = "carrot family",
        /// Onion, garlic, leek.
        Amaryllidaceae = "onion family",
        /// Sweet potato.
        Convolvulaceae = "sweet potato family",
        /// Buckwheat.
        Polygonaceae = "buckwheat family",
        /// Phacelia.
        Boraginaceae = "borage family",
        /// Flax.
        Linaceae = "flax family",
    }

    /// Bands of texture in which covers do well or badly.
    pub enum Band, Bands {
        /// Sand and loamy sand.
        Sand = "sand",
        /// Sandy loam.
        SandyLoam = "sandy loam",
        /// Loam, silt loam, silt, sandy clay loam.
        Loam = "loam",
        /// Clay loam, silty clay loam, sandy clay.
        ClayLoam = "clay loam",
        /// Clay and silty clay.
        Clay = "clay",
    }

    /// What a cover is sown for.
    pub enum Purpose, Purposes {
        /// Roots through a hard layer.
        BreakPan = "break a pan",
        /// Crumbs in the topsoil.
        LoosenTop = "loosen the topsoil",
        /// Nitrogen from the air for the next crop.
        FeedNitrogen = "feed nitrogen",
        /// Nitrogen kept from washing out.
        HoldNitrogen = "hold nitrogen",
        /// Cover against rain and wind.
        Protect = "protect bare ground",
        /// Weeds kept down.
        Smother = "smother weeds",
        /// Ground covered within weeks.
        CoverQuickly = "cover quickly",
        /// Much and lasting residue.
        BuildOrganic = "build organic matter",
        /// Water drawn out of a wet place.
        DryWetSpot = "dry a wet spot",
        /// Growth in summer heat.
        StandHeat = "stand heat",
    }

    /// How a cover may be ended.
    pub enum Ending, Endings {
        /// Mown close at any time.
        Mow = "mowing",
        /// Mown when it flowers or heads.
        MowAtBloom = "mowing at flower",
        /// Rolled and crimped when it flowers or heads.
        CrimpAtBloom = "crimping at flower",
        /// Turned in.
        Till = "turning in",
        /// Covered with an opaque sheet for weeks.
        CoverUp = "covering up",
    }

    /// Animals that may get at a cover.
    pub enum Animal, Animals {
        /// Cattle.
        Cattle = "cattle",
        /// Horses.
        Horses = "horses",
        /// Sheep.
        Sheep = "sheep",
        /// Goats.
        Goats = "goats",
        /// Pigs.
        Pigs = "pigs",
        /// Poultry.
        Poultry = "poultry",
    }
}

impl Band {
    /// Of a texture class.
    #[must_use]
    pub fn of(class: Class) -> Self {
        match class {
            Class::Sand | Class::LoamySand => Self::Sand,
            Class::SandyLoam => Self::SandyLoam,
            Class::Loam | Class::SiltLoam | Class::Silt | Class::SandyClayLoam => Self::Loam,
            Class::ClayLoam | Class::SiltyClayLoam | Class::SandyClay => Self::ClayLoam,
            Class::Clay | Class::SiltyClay => Self::Clay,
        }
    }
}

/// The part of the year it grows in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum GrowsIn {
    /// Spring, autumn and mild winters.
    Cool,
    /// Summer; the first frost ends it.
    Warm,
}

impl GrowsIn {
    /// Temperature below which it stands still, °C: 4.4 for cool-season, 10 for warm-season crops (common practice).
    #[must_use]
    pub fn base_c(self) -> f64 {
        match self {
            Self::Cool => 4.4,
            Self::Warm => 10.0,
        }
    }
}

/// Where its nitrogen is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NitrogenFrom {
    /// From the air: new to the ground.
    Fixes,
    /// From the ground: kept, not new.
    TakesUp,
}
