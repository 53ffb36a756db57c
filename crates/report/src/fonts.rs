//! The fonts of the sheets: those built into the program and no others, so that a sheet looks alike everywhere.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

/// The families in use: the text face, and one for signs the text face lacks.
const FAMILIES: [&str; 2] = ["Libertinus Serif", "DejaVu Sans Mono"];

/// The fonts and their list.
pub(crate) struct Fonts {
    /// What there is.
    pub book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

/// Read once; later sheets use them as they are.
pub(crate) static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
    let fonts: Vec<Font> = typst_assets::fonts()
        .flat_map(|file| Font::iter(Bytes::new(file)))
        .filter(|font| FAMILIES.contains(&font.info().family.as_str()))
        .collect();
    Fonts { book: LazyHash::new(FontBook::from_fonts(&fonts)), fonts }
});

impl Fonts {
    /// The font at a place of the list.
    pub(crate) fn at(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    /// Whether some font has a sign for it. What leaves no mark needs none.
    pub(crate) fn can_print(&self, letter: char) -> bool {
        let unmarked = letter.is_whitespace()
            || letter.is_control()
            || matches!(letter, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}');
        unmarked || self.fonts.iter().any(|font| font.info().coverage.contains(u32::from(letter)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_families_are_there() {
        for family in FAMILIES {
            assert!(FONTS.fonts.iter().any(|font| font.info().family == family), "{family}");
        }
        assert!(FONTS.at(FONTS.fonts.len()).is_none());
    }

    #[test]
    fn what_can_be_printed_is_known() {
        for letter in "Ærø Łódź Ñandú Жито Φ ½ × ≤ ° ₂ □ – “”\u{200b}".chars() {
            assert!(FONTS.can_print(letter), "{letter:?}");
        }
        for letter in "温室🥕".chars() {
            assert!(!FONTS.can_print(letter), "{letter:?}");
        }
    }
}
