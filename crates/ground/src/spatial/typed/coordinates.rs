//! Latitude and longitude as people write them, and what they may have meant.

use super::decimal_comma::decimal_commas;
use crate::kit::Refusal;
use crate::kit::quantity::number;
use crate::spatial::area::distance_m;

/// Farther from the farm than this, a place is told as a likely slip.
pub const FAR_FROM_FARM_M: f64 = 100_000.0;

/// The international mile (exact by definition).
const METRES_A_MILE: f64 = 1609.344;

/// A place as typed.
#[derive(Debug, Clone, PartialEq)]
pub struct TypedPlace {
    /// [longitude, latitude] in degrees.
    pub at: [f64; 2],
    /// What was taken otherwise than it was written, and why.
    pub remarks: Vec<String>,
}

/// Reads a place: decimal degrees, degrees and minutes, degrees minutes seconds, with or without letters; latitude
/// first where no letter says otherwise. `farm` ([longitude, latitude]) lets a swap or a lost minus sign be seen.
///
/// # Errors
/// What is no place, or a place far from the farm whichever way it is read.
pub fn place_of(field: &str, text: &str, farm: Option<[f64; 2]>) -> Result<TypedPlace, Refusal> {
    let refused = |why: String| {
        Refusal::new(field, why)
            .given(text.trim().chars().take(80).collect::<String>())
            .accepted("latitude, then longitude, in degrees, or degrees and minutes with their letters")
            .example("42.5012, -93.4987 or 42 30.07 N, 93 29.92 W")
    };
    let read = halves(text).map_err(&refused)?;
    let mut remarks = Vec::new();
    let [first, second] = read.values;
    let mut at = if read.longitude_first { [first, second] } else { [second, first] };
    let on_earth = |at: [f64; 2]| at[0].abs() <= 180.0 && at[1].abs() <= 90.0;
    if !on_earth(at) && !read.lettered && on_earth([at[1], at[0]]) {
        at = [at[1], at[0]];
        remarks.push(format!(
            "{}° cannot be a latitude, so the two numbers were taken the other way round: longitude first.",
            number(first)
        ));
    }
    if !on_earth(at) {
        return Err(refused(format!(
            "latitude lies between -90 and 90° and longitude between -180 and 180°, but {}° and {}° were given",
            number(at[1]),
            number(at[0])
        )));
    }
    let Some(farm) = farm else { return Ok(TypedPlace { at, remarks }) };
    let off = distance_m(farm, at);
    if off <= FAR_FROM_FARM_M {
        return Ok(TypedPlace { at, remarks });
    }
    let near = |other: [f64; 2]| on_earth(other) && distance_m(farm, other) <= FAR_FROM_FARM_M;
    let slips = [
        ([at[1], at[0]], "latitude and longitude were swapped"),
        ([-at[0], at[1]], "the longitude had lost its minus sign (west is negative)"),
        ([at[0], -at[1]], "the latitude had lost its minus sign (south is negative)"),
        ([-at[1], at[0]], "latitude and longitude were swapped and a minus sign was lost"),
    ];
    let meant = if read.lettered { None } else { slips.into_iter().find(|(other, _)| near(*other)) };
    match meant {
        Some((other, why)) => {
            remarks.push(format!(
                "As written this place lies {}; {why}, and it was taken as {}°, {}°.",
                far_from_farm(off),
                number(other[1]),
                number(other[0])
            ));
            Ok(TypedPlace { at: other, remarks })
        }
        None => Err(refused(format!(
            "this place lies {}, which is at {}°, {}°; if it is right, mend the place of the farm first",
            far_from_farm(off),
            number((farm[1] * 1e4).round() / 1e4),
            number((farm[0] * 1e4).round() / 1e4)
        ))),
    }
}

/// How far from the farm in both ways of measuring: "158 km from the farm (98 miles)".
#[must_use]
pub fn far_from_farm(metres: f64) -> String {
    format!(
        "{} km from the farm ({} miles)",
        number((metres / 1000.0).round()),
        number((metres / METRES_A_MILE).round())
    )
}

struct Halves {
    values: [f64; 2],
    longitude_first: bool,
    lettered: bool,
}

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Number(String),
    Letter(char),
    Comma,
}

fn halves(text: &str) -> Result<Halves, String> {
    let tokens = tokens(text)?;
    let letters: Vec<char> = tokens
        .iter()
        .filter_map(|token| if let Token::Letter(c) = token { Some(*c) } else { None })
        .collect();
    let groups: [Vec<f64>; 2] = match letters.as_slice() {
        [] => unlettered(&tokens)?,
        [a, b] => {
            if is_latitude(*a) == is_latitude(*b) {
                return Err("one of the two must be north or south, and the other east or west".to_owned());
            }
            lettered(&tokens)?
        }
        _ => {
            return Err(
                "there must be one letter (N, S, E or W) for each of the two numbers, or none".to_owned()
            );
        }
    };
    let mut values = [0.0; 2];
    for (at, group) in groups.iter().enumerate() {
        let value = degrees(group)?;
        values[at] = match letters.get(at) {
            Some('S' | 'W') if value > 0.0 => -value,
            _ => value,
        };
    }
    Ok(Halves {
        values,
        longitude_first: letters.first().is_some_and(|first| !is_latitude(*first)),
        lettered: !letters.is_empty(),
    })
}

fn is_latitude(letter: char) -> bool {
    matches!(letter, 'N' | 'S')
}

fn tokens(text: &str) -> Result<Vec<Token>, String> {
    let mut upper = text.trim().to_uppercase();
    for (words, letter) in
        [("LATITUDE", ""), ("LONGITUDE", ""), ("LAT", ""), ("LONG", ""), ("LON", ""), ("LNG", "")]
    {
        upper = upper.replace(words, letter);
    }
    for (word, letter) in [("NORTH", "N"), ("SOUTH", "S"), ("EAST", "E"), ("WEST", "W")] {
        upper = upper.replace(word, letter);
    }
    let upper = decimal_commas(&upper)?;
    let mut tokens = Vec::new();
    let mut run = String::new();
    for c in upper.chars().chain([' ']) {
        match c {
            '0'..='9' | '.' => run.push(c),
            '-' | '\u{2212}' | '+' if run.is_empty() => run.push(if c == '+' { '+' } else { '-' }),
            _ => {
                if !run.is_empty() {
                    tokens.push(Token::Number(std::mem::take(&mut run)));
                }
                match c {
                    'N' | 'S' | 'E' | 'W' => tokens.push(Token::Letter(c)),
                    ',' | ';' | '/' => tokens.push(Token::Comma),
                    c if c.is_whitespace() || "°º'\u{2032}\u{2033}\u{2019}\u{201d}\":()[]=".contains(c) => {
                    }
                    c => return Err(format!("{c:?} has no place in a latitude or longitude")),
                }
            }
        }
    }
    if tokens.is_empty() { Err("nothing was given".to_owned()) } else { Ok(tokens) }
}

fn value(text: &str) -> Result<f64, String> {
    text.parse()
        .ok()
        .filter(|value: &f64| value.is_finite())
        .ok_or_else(|| format!("{text:?} is not a number"))
}

fn unlettered(tokens: &[Token]) -> Result<[Vec<f64>; 2], String> {
    let commas = tokens.iter().filter(|token| **token == Token::Comma).count();
    let numbers = |tokens: &[Token]| {
        tokens
            .iter()
            .filter_map(|token| if let Token::Number(text) = token { Some(value(text)) } else { None })
            .collect::<Result<Vec<f64>, String>>()
    };
    if commas == 1 {
        let at = tokens.iter().position(|token| *token == Token::Comma).unwrap_or_default();
        return Ok([numbers(&tokens[..at])?, numbers(&tokens[at + 1..])?]);
    }
    let all = numbers(tokens)?;
    if all.len() % 2 != 0 || all.len() > 6 || all.is_empty() {
        return Err("two numbers are needed, latitude and longitude".to_owned());
    }
    let (a, b) = all.split_at(all.len() / 2);
    Ok([a.to_vec(), b.to_vec()])
}

/// Numbers stand before their letter, or behind it where a letter comes first.
fn lettered(tokens: &[Token]) -> Result<[Vec<f64>; 2], String> {
    let before = matches!(tokens.first(), Some(Token::Letter(_)));
    let mut groups = [Vec::new(), Vec::new()];
    let mut seen = 0_usize;
    for token in tokens {
        match token {
            Token::Letter(_) => seen += 1,
            Token::Number(text) => {
                let group = if before { seen.saturating_sub(1) } else { seen };
                groups
                    .get_mut(group)
                    .ok_or_else(|| "a number stands behind the last letter".to_owned())?
                    .push(value(text)?);
            }
            Token::Comma => {}
        }
    }
    Ok(groups)
}

fn degrees(group: &[f64]) -> Result<f64, String> {
    let [first, rest @ ..] = group else { return Err("one of the two numbers is missing".to_owned()) };
    if rest.len() > 2 {
        return Err("more than degrees, minutes and seconds were given".to_owned());
    }
    let mut whole = first.abs();
    for (at, part) in rest.iter().enumerate() {
        let (name, by) = [("minutes", 60.0), ("seconds", 3600.0)][at];
        if !(0.0..60.0).contains(part) {
            return Err(format!("{name} lie between 0 and 60, but {} was given", number(*part)));
        }
        if group[at].fract() != 0.0 {
            return Err(format!("{name} cannot follow a number with decimals"));
        }
        whole += part / by;
    }
    Ok(if first.is_sign_negative() { -whole } else { whole })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 43° 04.2′ is 43.07°, 89° 24.0′ is 89.4°, 30′ 36″ is 0.51°.
    #[test]
    fn the_ways_people_write_places() {
        for text in [
            "43.07, -89.4",
            "43 04.2 N, 89 24.0 W",
            "43°04'12\"N 89°24'00\"W",
            "N 43 04.2 W 89 24.0",
            "W 89 24.0, N 43 04.2",
            "89.4 W, 43.07 N",
            "lat 43.07 lon -89.4",
            "43,07 -89,4",
            "43,07;-89,4",
            "43,07; -89,4",
            "43,07, -89,4",
            "43,07,-89,4",
            "43,07 / -89,4",
            "43,07 N; 89,4 W",
            "43,07°N 89,4°W",
            "N 43,07 W 89,4",
            "43 04,2 N, 89 24,0 W",
            "43 04,2; -89 24,0",
            "43,4.2N 89,24.0W",
            "43,4,12N 89,24,0W",
            "43.07 -89.4",
            "43 4.2 -89 24",
            "43.07; -89.4",
            "43.07° north, 89.4° west",
        ] {
            let read = place_of("place", text, None).unwrap();
            assert!(
                (read.at[1] - 43.07).abs() < 1e-9 && (read.at[0] + 89.4).abs() < 1e-9,
                "{text}: {read:?}"
            );
            assert!(read.remarks.is_empty(), "{text}");
        }
    }

    /// 100 international miles are 160.9344 km (exact by definition).
    #[test]
    fn a_distance_is_told_to_both_kinds_of_reader() {
        assert_eq!(far_from_farm(160_934.4), "161 km from the farm (100 miles)");
    }

    #[test]
    fn slips_are_seen_against_the_place_of_the_farm() {
        let farm = Some([-93.5, 42.5]);
        for text in ["-93.49, 42.51", "42.51, 93.49", "93.49, 42.51"] {
            let read = place_of("place", text, farm).unwrap();
            assert!(
                (read.at[0] + 93.49).abs() < 1e-9 && (read.at[1] - 42.51).abs() < 1e-9,
                "{text}: {read:?}"
            );
            assert!(!read.remarks.is_empty(), "{text}");
        }
        let refusal = place_of("place", "-42.5, 86.5", farm).unwrap_err();
        assert!(refusal.message.contains("km from the farm ("), "{refusal}");
        // Letters are believed: no sign was lost.
        assert!(place_of("place", "42.51 N, 93.49 E", farm).is_err());
    }

    #[test]
    fn what_is_no_place_is_refused() {
        for text in [
            "",
            "43",
            "43, 200",
            "43 70 N, 89 W",
            "43 N, 89 N",
            "43.5 30 N, 89 W",
            "here",
            "1 2 3",
            "N W",
            "43, 07; -89, 04",
            "43, 07, -89, 04",
            "43,07, -89",
            "..,--",
        ] {
            assert!(!place_of("place", text, None).unwrap_err().example.is_empty(), "{text}");
        }
    }

    proptest::proptest! {
        #[test]
        fn no_text_panics(text in ".{0,40}") {
            let _ = place_of("place", &text, Some([-93.5, 42.5]));
        }

        #[test]
        fn what_is_written_is_read_back(latitude in -89.0..89.0_f64, longitude in -179.0..179.0_f64) {
            let read = place_of("place", &format!("{latitude:.6}, {longitude:.6}"), None).unwrap();
            proptest::prop_assert!((read.at[1] - latitude).abs() < 1e-6 && (read.at[0] - longitude).abs() < 1e-6);
        }
    }
}
