//! What every sheet has in common.

use serde::Serialize;

use crate::templates::Template;

/// A sheet: words that are ready to read, and the template that lays them out.
///
/// What it serialises to is what its template finds as `body`. Text is printed as it stands, whatever signs are in it.
pub trait Sheet: Serialize {
    /// Its template.
    const TEMPLATE: Template;
    /// Its title, printed on every page.
    fn title(&self) -> &str;
    /// Pictures its template shows, each by its path.
    fn pictures(&self) -> &[Picture] {
        &[]
    }
}

/// A picture of a sheet, as SVG.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Where the template finds it.
    pub(crate) path: String,
    /// The picture.
    pub(crate) svg: String,
}

impl Picture {
    /// A picture under a name of letters and digits that is its own on its sheet.
    #[must_use]
    pub fn new(name: &str, svg: String) -> Self {
        Self { path: Self::path(name), svg }
    }

    /// Where a template finds the picture of a name.
    #[must_use]
    pub fn path(name: &str) -> String {
        format!("/{name}.svg")
    }
}

/// A caution at the foot of a sheet, and the sign by which lines point to it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// "a", "b" ...
    pub sign: String,
    /// The caution.
    pub text: String,
}

/// Cautions as they are met on the lines of a sheet: each is printed once and pointed to by its sign.
#[derive(Debug, Default)]
pub(crate) struct Cautions(Vec<Caution>);

impl Cautions {
    /// The sign of a caution.
    pub(crate) fn sign(&mut self, text: &str) -> String {
        let text = text.trim();
        if let Some(known) = self.0.iter().find(|known| known.text == text) {
            return known.sign.clone();
        }
        let sign = letters(self.0.len());
        self.0.push(Caution { sign: sign.clone(), text: text.to_owned() });
        sign
    }

    /// All of them, in the order they were met.
    pub(crate) fn into_list(self) -> Vec<Caution> {
        self.0
    }
}

/// "a" to "z", then "aa", "ab" ...
fn letters(at: usize) -> String {
    let last = char::from(b'a' + u8::try_from(at % 26).unwrap_or(0));
    if at < 26 { last.to_string() } else { format!("{}{last}", letters(at / 26 - 1)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_caution_is_printed_once_and_keeps_its_sign() {
        let mut cautions = Cautions::default();
        assert_eq!(cautions.sign("Lime dust burns the eyes."), "a");
        assert_eq!(cautions.sign("Wash your hands."), "b");
        assert_eq!(cautions.sign(" Lime dust burns the eyes. "), "a");
        assert_eq!(cautions.into_list().len(), 2);
    }

    #[test]
    fn signs_go_on_after_z() {
        assert_eq!(
            [0, 25, 26, 27, 51, 52, 701, 702].map(letters),
            ["a", "z", "aa", "ab", "az", "ba", "zz", "aaa"]
        );
    }
}
