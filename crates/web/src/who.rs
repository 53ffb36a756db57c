//! Who records: told once in the settings, kept by the browser, so that each phone has its own name.

use axum::http::{HeaderMap, HeaderValue, header};

/// Name of the cookie; nothing else is ever kept in one.
const COOKIE: &str = "recorded_by";
/// A year, in seconds.
const KEPT_S: u32 = 31_536_000;
/// As long as a name may be in the book.
const CHARACTERS: usize = 120;

/// Who records, as this browser was told.
pub(crate) fn told(headers: &HeaderMap) -> Option<String> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|cookies| cookies.split(';'))
        .find_map(|cookie| cookie.trim().strip_prefix(COOKIE)?.strip_prefix('='))
        // The same escapes as in a form.
        .and_then(|text| {
            form_urlencoded::parse(format!("n={text}").as_bytes()).next().map(|(_, name)| name.into_owned())
        })
        .filter(|name| name.chars().count() <= CHARACTERS && !name.contains('\0'))
        .filter(|name| !name.trim().is_empty())
}

/// The header that makes this browser remember who records; an empty name forgets.
pub(crate) fn keep(name: &str) -> Option<HeaderValue> {
    let text: String = form_urlencoded::byte_serialize(name.trim().as_bytes()).collect();
    let age = if text.is_empty() { 0 } else { KEPT_S };
    HeaderValue::from_str(&format!("{COOKIE}={text}; Path=/; Max-Age={age}; SameSite=Strict; HttpOnly")).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_name_comes_back_as_it_was_given(name in "[^\0]{1,40}") {
            prop_assume!(!name.trim().is_empty());
            let kept = keep(&name).unwrap();
            let pair = kept.to_str().unwrap().split(';').next().unwrap().to_owned();
            let mut headers = HeaderMap::new();
            headers.insert(header::COOKIE, HeaderValue::from_str(&format!("other=1; {pair}")).unwrap());
            prop_assert_eq!(told(&headers), Some(name.trim().to_owned()));
        }
    }
}
