//! Kinds that each have their words.

/// Declares an enumeration whose kinds each have their words; JSON names them in `snake_case`.
///
/// ```
/// ground::named! {
///     /// What is drawn.
///     Drawn {
///         WetSpot = "a wet spot",
///         Fence = "a fence",
///     }
/// }
/// assert_eq!(Drawn::WetSpot.words(), "a wet spot");
/// assert_eq!(Drawn::ALL.len(), 2);
/// assert_eq!(serde_json::to_string(&Drawn::WetSpot).unwrap(), "\"wet_spot\"");
/// ```
#[macro_export]
macro_rules! named {
    ($(#[$doc:meta])* $name:ident { $($variant:ident = $words:literal,)+ }) => {
        $(#[$doc])*
        #[derive(
            Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash,
            ::serde::Serialize, ::serde::Deserialize, ::schemars::JsonSchema,
        )]
        #[serde(rename_all = "snake_case")]
        pub enum $name {$(
            #[doc = $words]
            $variant,
        )+}

        impl $name {
            /// Every one, for lists to choose from.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// In words.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self {$(Self::$variant => $words,)+}
            }
        }
    };
}
