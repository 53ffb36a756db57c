//! The form of a check file.

use std::collections::BTreeMap;
use std::fmt;

use ground::kit::Provenance;
use serde::Deserialize;

/// One source's cases.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckFile {
    /// Name of the file.
    #[serde(skip)]
    pub name: String,
    /// Where the cases are from.
    pub source: SourceNote,
    /// Parts of inputs that several cases share, by name.
    #[serde(default)]
    pub shared: BTreeMap<String, toml::Table>,
    /// The cases.
    pub case: Vec<Case>,
}

/// Where the cases of a file are from.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SourceNote {
    /// Key in the bibliography.
    pub key: String,
    /// Equation, table, page or section.
    pub at: String,
    /// How the expected values reached this project.
    pub provenance: Provenance,
    /// Anything a reader should know.
    #[serde(default)]
    pub note: String,
}

/// One case: an input and what the source says comes out.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    /// What the case is, in words.
    pub name: String,
    /// Method in the registry.
    pub method: String,
    /// Its input.
    pub input: toml::Table,
    /// A shared part that belongs to the input.
    #[serde(default)]
    pub with: Option<String>,
    /// Expected outputs by dotted path, numbers in quotes as printed.
    #[serde(default)]
    pub expect: BTreeMap<String, Expected>,
    /// The input must be refused at this field, instead of giving outputs.
    #[serde(default)]
    pub refused: Option<String>,
    /// Wider tolerances by path; `why` says why.
    #[serde(default)]
    pub tolerance: BTreeMap<String, f64>,
    /// Why a tolerance is wider than the printed digits.
    #[serde(default)]
    pub why: String,
    /// Where in the source, when the file's `at` is too coarse.
    #[serde(default)]
    pub at: String,
    /// How this case's values reached this project, when other than the file's.
    #[serde(default)]
    pub provenance: Option<Provenance>,
    /// Why this published case cannot be reproduced. It stays listed with its residual, and the
    /// run fails when it starts to pass.
    #[serde(default)]
    pub known_difference: Option<String>,
}

/// An expected output.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum Expected {
    /// A number as printed, a word, or `null`.
    Text(String),
    /// True or false.
    Truth(bool),
    /// A whole count, compared exactly.
    Count(i64),
}

impl fmt::Display for Expected {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text(text) => f.write_str(text),
            Self::Truth(truth) => write!(f, "{truth}"),
            Self::Count(count) => write!(f, "{count}"),
        }
    }
}

/// A check file that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileError {
    /// Name of the file.
    pub file: String,
    /// What is wrong, with the line.
    pub message: String,
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.file, self.message)
    }
}

impl std::error::Error for FileError {}

/// Reads a check file.
///
/// # Errors
/// Text that is not TOML of this form, a source missing from the bibliography, a case that expects
/// nothing, or a wider tolerance without a reason.
pub fn parse(name: &str, text: &str) -> Result<CheckFile, FileError> {
    let refuse = |message: String| FileError { file: name.to_owned(), message };
    let mut file: CheckFile = toml::from_str(text).map_err(|error| refuse(at_line(&error, text)))?;
    name.clone_into(&mut file.name);
    for case in &mut file.case {
        let Some(name) = &case.with else { continue };
        let Some(part) = file.shared.get(name) else {
            return Err(refuse(format!("case `{}` shares `{name}`, which is not there", case.name)));
        };
        for (key, value) in part {
            case.input.entry(key).or_insert_with(|| value.clone());
        }
    }
    if !ground::kit::sources::BIBLIOGRAPHY.contains_key(&file.source.key) {
        return Err(refuse(format!("source key `{}` is not in the bibliography", file.source.key)));
    }
    for case in &file.case {
        let at = &case.name;
        if case.expect.is_empty() == case.refused.is_none() {
            return Err(refuse(format!(
                "case `{at}` needs either expected outputs or the field that is refused"
            )));
        }
        if !case.tolerance.is_empty() && case.why.is_empty() {
            return Err(refuse(format!("case `{at}` widens a tolerance without saying why")));
        }
        if let Some(path) = case.tolerance.keys().find(|path| !case.expect.contains_key(*path)) {
            return Err(refuse(format!(
                "case `{at}` has a tolerance for `{path}`, which it does not expect"
            )));
        }
    }
    Ok(file)
}

/// What is wrong with TOML, with the line it stands on.
fn at_line(error: &toml::de::Error, text: &str) -> String {
    let message = error.message();
    match error.span().and_then(|span| text.get(..span.start)) {
        Some(before) => format!("line {}: {message}", before.matches('\n').count() + 1),
        None => message.to_owned(),
    }
}
