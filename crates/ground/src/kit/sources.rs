//! The bibliography: every source once, cited by key with its equation, table or page.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A place in a published source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Cite {
    /// Key in the bibliography.
    pub key: &'static str,
    /// Equation, table, page or section.
    pub at: &'static str,
}

impl Cite {
    /// Cites `key` at `at`.
    #[must_use]
    pub const fn new(key: &'static str, at: &'static str) -> Self {
        Self { key, at }
    }

    /// The source behind the key. Every key in the code is known: a test looks each one up.
    #[must_use]
    pub fn source(&self) -> Option<&'static Source> {
        BIBLIOGRAPHY.get(self.key)
    }
}

/// How a value or rule reached this project. A decision that leans on anything but
/// [`Read`](Provenance::Read) says so beside the number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Provenance {
    /// Seen in the source, or in a page that reproduces it.
    Read,
    /// Recalled without a copy at hand, and a computation reproduces a published result.
    RecalledAndReproduced,
    /// Recalled without a copy at hand.
    Recalled,
    /// Common practice, no source.
    CommonPractice,
    /// The judgement of this project.
    Judgement,
    /// Computed by this project.
    Computed,
}

impl Provenance {
    /// In words for a page.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Read => "read in the source",
            Self::RecalledAndReproduced => "recalled; a published result is reproduced",
            Self::Recalled => "recalled, not read again",
            Self::CommonPractice => "common practice, no source",
            Self::Judgement => "our judgement, no source",
            Self::Computed => "computed here",
        }
    }
}

/// One published source.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Authors or the issuing body.
    pub authors: String,
    /// Year of print.
    pub year: u16,
    /// Title.
    pub title: String,
    /// Journal with volume and pages, publisher, report number, or standard number.
    pub published_in: String,
    /// Whether it was read for this project.
    pub provenance: Provenance,
}

/// All sources by key. The bibliography is one list, kept in one file a topic.
pub static BIBLIOGRAPHY: LazyLock<BTreeMap<String, Source>> = LazyLock::new(|| {
    let mut all = BTreeMap::new();
    for (file, text) in FILES {
        let part: BTreeMap<String, Source> = match toml::from_str(text) {
            Ok(part) => part,
            // The files are compiled in, and a test reads them all.
            Err(error) => unreachable!("bibliography/{file}: {error}"),
        };
        all.extend(part);
    }
    all
});

const FILES: &[(&str, &str)] = &[
    ("measures.toml", include_str!("../../bibliography/measures.toml")),
    ("texture.toml", include_str!("../../bibliography/texture.toml")),
    ("settling.toml", include_str!("../../bibliography/settling.toml")),
    ("belief.toml", include_str!("../../bibliography/belief.toml")),
    ("water.toml", include_str!("../../bibliography/water.toml")),
    ("retention.toml", include_str!("../../bibliography/retention.toml")),
    ("flow.toml", include_str!("../../bibliography/flow.toml")),
    ("infiltration.toml", include_str!("../../bibliography/infiltration.toml")),
    ("drainage.toml", include_str!("../../bibliography/drainage.toml")),
    ("salts.toml", include_str!("../../bibliography/salts.toml")),
    ("climate.toml", include_str!("../../bibliography/climate.toml")),
    ("crops.toml", include_str!("../../bibliography/crops.toml")),
    ("irrigation.toml", include_str!("../../bibliography/irrigation.toml")),
    ("structure.toml", include_str!("../../bibliography/structure.toml")),
    ("analysis.toml", include_str!("../../bibliography/analysis.toml")),
    ("schemes.toml", include_str!("../../bibliography/schemes.toml")),
    ("acidity.toml", include_str!("../../bibliography/acidity.toml")),
    ("needs.toml", include_str!("../../bibliography/needs.toml")),
    ("organic.toml", include_str!("../../bibliography/organic.toml")),
    ("blend.toml", include_str!("../../bibliography/blend.toml")),
    ("covers.toml", include_str!("../../bibliography/covers.toml")),
    ("posts.toml", include_str!("../../bibliography/posts.toml")),
    ("trend.toml", include_str!("../../bibliography/trend.toml")),
    ("earthworks.toml", include_str!("../../bibliography/earthworks.toml")),
    ("sampling.toml", include_str!("../../bibliography/sampling.toml")),
    ("maps.toml", include_str!("../../bibliography/maps.toml")),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_source_is_given_once() {
        let entries: usize = FILES
            .iter()
            .map(|(_, text)| toml::from_str::<BTreeMap<String, Source>>(text).unwrap().len())
            .sum();
        assert_eq!(entries, BIBLIOGRAPHY.len(), "a key stands in two files");
        assert!(entries > 0);
    }
}
