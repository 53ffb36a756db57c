//! What stands on a bag: the text of its QR code, and the short code that people read and type.

use std::fmt;

use crate::model::EntryId;

/// What a label names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tag {
    /// A sample that is in the book.
    Sample(EntryId),
    /// A bag of a sampling plan, whether it has been filled or not.
    Bag {
        /// The plan.
        plan: EntryId,
        /// The number on the bag.
        number: u16,
    },
}

/// How every text of a label begins.
const SCHEME: &str = "spadework:";
/// Digits of a short code: those of base 32 that are hard to mistake for each other.
const DIGITS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// Digits of a record in a short code: 35 bits, so that two of 10,000 records share one once in 700 farms.
const OF_RECORD: usize = 7;
/// The digits a check character is reckoned over.
const CHECKED: &[u8; 36] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

impl Tag {
    /// The text of its QR code: "spadework:sample/0190163d-8694-739b-aea5-966c26f8ad91",
    /// "spadework:plan/0190163d-8694-739b-aea5-966c26f8ad91/bag/3".
    #[must_use]
    pub fn uri(self) -> String {
        match self {
            Self::Sample(sample) => format!("{SCHEME}sample/{sample}"),
            Self::Bag { plan, number } => format!("{SCHEME}plan/{plan}/bag/{number}"),
        }
    }

    /// The code printed beside it: seven digits of the record and one that checks them, and the number of a bag.
    #[must_use]
    pub fn short(self) -> ShortCode {
        match self {
            Self::Sample(sample) => ShortCode { record: digits_of(sample), bag: None },
            Self::Bag { plan, number } => ShortCode { record: digits_of(plan), bag: Some(number) },
        }
    }
}

/// A short code, as it was typed or is printed: "4K7M-2XPW", "4K7M-2XPA-3".
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ShortCode {
    record: [u8; OF_RECORD],
    bag: Option<u16>,
}

impl ShortCode {
    /// The number of the bag, where the code is that of a bag.
    #[must_use]
    pub fn bag(self) -> Option<u16> {
        self.bag
    }

    /// Is it the code of this record?
    #[must_use]
    pub fn names(self, record: EntryId) -> bool {
        self.record == digits_of(record)
    }

    fn check(self) -> u8 {
        let bag = self.bag.map_or_else(String::new, |number| number.to_string());
        check_character(self.record.iter().copied().chain(bag.bytes()))
    }
}

impl fmt::Display for ShortCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letters: String =
            self.record.iter().copied().chain([self.check()]).map(char::from).collect::<String>();
        write!(f, "{}-{}", &letters[..4], &letters[4..])?;
        self.bag.map_or(Ok(()), |number| write!(f, "-{number}"))
    }
}

/// What was scanned or typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scanned {
    /// The text of a QR code.
    Tag(Tag),
    /// A short code; which record it names, the book says.
    Short(ShortCode),
}

/// Why a text is no code of a label.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotACode {
    /// It looks like nothing that stands on a label.
    #[error(
        "{0:?} is not a code of a label. One looks like 4K7M-2XPW, or 4K7M-2XPW-3 with the number of a bag; the text of \
         its QR code begins with spadework:"
    )]
    Unlike(String),
    /// A digit was misread: the check character does not fit.
    #[error(
        "A digit of {0:?} was misread: its last letter does not fit the others. Compare it with the label, above all 0 \
         with O and 1 with I"
    )]
    Misread(String),
}

impl Scanned {
    /// Reads what was scanned or typed; spaces, dashes and the case of letters do not matter in a short code.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn read(text: &str) -> Result<Self, NotACode> {
        let text = text.trim();
        let unlike = || NotACode::Unlike(text.chars().take(80).collect());
        let Some(start) = text.get(..SCHEME.len()).filter(|start| start.eq_ignore_ascii_case(SCHEME)) else {
            return short(text).ok_or_else(unlike)?.map(Self::Short);
        };
        let path = text[start.len()..].to_ascii_lowercase();
        let parts: Vec<&str> = path.split('/').collect();
        match parts[..] {
            ["sample", sample] => sample.parse().map(|sample| Self::Tag(Tag::Sample(sample))).ok(),
            ["plan", plan, "bag", number] => {
                (|| Some(Self::Tag(Tag::Bag { plan: plan.parse().ok()?, number: number.parse().ok()? })))()
            }
            _ => None,
        }
        .ok_or_else(unlike)
    }
}

fn short(text: &str) -> Option<Result<ShortCode, NotACode>> {
    let letters: Vec<u8> =
        text.bytes().filter(|b| !matches!(b, b' ' | b'-')).map(|b| plain(b.to_ascii_uppercase())).collect();
    let bag = letters.get(OF_RECORD + 1..)?;
    let mut record = [0; OF_RECORD];
    for (digit, letter) in record.iter_mut().zip(&letters) {
        *digit = DIGITS.contains(letter).then_some(*letter)?;
    }
    let check = *letters.get(OF_RECORD).filter(|letter| letter.is_ascii_alphanumeric())?;
    let bag = match bag {
        [] => None,
        digits if digits.iter().all(u8::is_ascii_digit) => {
            Some(std::str::from_utf8(digits).ok()?.parse().ok()?)
        }
        _ => return None,
    };
    let code = ShortCode { record, bag };
    Some(if plain(code.check()) == check { Ok(code) } else { Err(NotACode::Misread(text.to_owned())) })
}

/// A letter as it is told from a digit: O is read as 0, I and L as 1.
fn plain(letter: u8) -> u8 {
    match letter {
        b'O' => b'0',
        b'I' | b'L' => b'1',
        other => other,
    }
}

/// The last digits of a record's identity, which are drawn by chance (RFC 9562, version 7: `rand_b`).
fn digits_of(record: EntryId) -> [u8; OF_RECORD] {
    let mut bits = record.as_u128();
    let mut digits = [0; OF_RECORD];
    for digit in digits.iter_mut().rev() {
        *digit = DIGITS[usize::try_from(bits & 31).unwrap_or(0)];
        bits >>= 5;
    }
    digits
}

/// The check character of ISO/IEC 7064, MOD 37,36: it finds every single misread character and nearly every pair of
/// neighbours that changed places.
fn check_character(text: impl Iterator<Item = u8>) -> u8 {
    let mut product = 36;
    for letter in text {
        let value = CHECKED.iter().position(|known| *known == letter).unwrap_or(0);
        let sum = (product + value) % 36;
        product = if sum == 0 { 36 } else { sum } * 2 % 37;
    }
    CHECKED[(37 - product) % 36]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ID: &str = "0190163d-8694-739b-aea5-966c26f8ad91";

    fn id() -> EntryId {
        ID.parse().unwrap()
    }

    #[test]
    fn the_check_character_is_that_of_the_standard() {
        // The specimen of the Global Release Identifier, which ISO/IEC 7064 MOD 37,36 checks: A1-2425G-ABC1234002-M.
        // Recalled, and reckoned anew by another program.
        assert_eq!(check_character(b"A12425GABC1234002".iter().copied()), b'M');
    }

    #[test]
    fn a_qr_code_holds_its_record() {
        let sample = Tag::Sample(id());
        assert_eq!(sample.uri(), format!("spadework:sample/{ID}"));
        assert_eq!(Scanned::read(&sample.uri()), Ok(Scanned::Tag(sample)));
        let bag = Tag::Bag { plan: id(), number: 12 };
        assert_eq!(Scanned::read(&format!("  {}\n", bag.uri().to_uppercase())), Ok(Scanned::Tag(bag)));
    }

    #[test]
    fn a_short_code_is_read_however_it_is_written() {
        let code = Tag::Bag { plan: id(), number: 3 }.short();
        let printed = code.to_string();
        assert_eq!(printed.len(), "4K7M-2XPA-3".len());
        for typed in
            [printed.clone(), printed.to_lowercase(), printed.replace('-', " "), printed.replace('-', "")]
        {
            assert_eq!(Scanned::read(&typed), Ok(Scanned::Short(code)), "{typed}");
        }
        assert!(code.names(id()));
        assert_eq!(code.bag(), Some(3));
        assert_eq!(Tag::Sample(id()).short().bag(), None);
    }

    #[test]
    fn what_is_no_code_is_told() {
        for text in [
            "",
            "bag 3",
            "spadework:",
            "spadework:sample/12",
            "spadework:plan/x/bag/1",
            "4K7M",
            "é".repeat(9).as_str(),
        ] {
            assert!(matches!(Scanned::read(text), Err(NotACode::Unlike(_))), "{text}");
        }
    }

    proptest! {
        #[test]
        fn a_misread_digit_is_found(bits in any::<[u8; 10]>(), number in proptest::option::of(1_u16..999), at in 0_usize..7, other in 0_usize..32) {
            let record = EntryId::from_parts(1_700_000_000_000, &bits);
            let code = number.map_or(Tag::Sample(record), |number| Tag::Bag { plan: record, number }).short();
            let printed = code.to_string().replace('-', "");
            prop_assert_eq!(Scanned::read(&printed), Ok(Scanned::Short(code)));
            let mut wrong = printed.clone().into_bytes();
            prop_assume!(wrong[at] != DIGITS[other]);
            wrong[at] = DIGITS[other];
            let wrong = String::from_utf8(wrong).unwrap();
            // 0 and O, 1 and I and L are taken for one another, so the few checks that differ in those alone slip by.
            let slips = matches!(printed.as_bytes()[7], b'0' | b'O' | b'1' | b'I' | b'L');
            prop_assert!(slips || Scanned::read(&wrong) == Err(NotACode::Misread(wrong.clone())));
        }

        #[test]
        fn any_text_is_answered(text in any::<String>()) {
            let _ = Scanned::read(&text);
        }
    }
}
