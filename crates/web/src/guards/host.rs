//! Only requests that name this computer are answered.
//!
//! A page elsewhere can let its own name point at 127.0.0.1. The browser then thinks that page and
//! this app are one site, and only the `Host` header tells them apart.

use std::sync::Arc;

use axum::extract::{Request, State};
use axum::http::uri::Authority;
use axum::http::{HeaderMap, StatusCode, header};
use axum::middleware::Next;
use axum::response::Response;

use crate::app::App;

/// Names of this computer that a browser may use.
pub const NAMES: [&str; 3] = ["127.0.0.1", "localhost", "[::1]"];

/// Lets a request through when every host it names is this computer at our port.
pub async fn only_ours(State(app): State<Arc<App>>, request: Request, next: Next) -> Response {
    match check(request.headers(), request.uri().authority(), app.port()) {
        Ok(()) => next.run(request).await,
        Err(given) => super::plain(
            StatusCode::MISDIRECTED_REQUEST,
            format!(
                "Spadework answers only to this computer, and this request was for {given}.\n\
                 Open http://127.0.0.1:{}/ instead.\n",
                app.port()
            ),
        ),
    }
}

fn check(headers: &HeaderMap, target: Option<&Authority>, port: u16) -> Result<(), String> {
    let mut hosts = headers.get_all(header::HOST).iter();
    let host = match (hosts.next(), hosts.next()) {
        (Some(host), None) => String::from_utf8_lossy(host.as_bytes()).into_owned(),
        (Some(_), Some(_)) => return Err("two hosts at once".to_owned()),
        // HTTP/2 names the host in the request line only.
        (None, _) => match target {
            Some(target) => target.as_str().to_owned(),
            None => return Err("no host at all".to_owned()),
        },
    };
    for named in [Some(host.as_str()), target.map(Authority::as_str)].into_iter().flatten() {
        if !is_ours(named, port) {
            return Err(format!("\u{201c}{}\u{201d}", named.chars().take(100).collect::<String>()));
        }
    }
    Ok(())
}

fn is_ours(host: &str, port: u16) -> bool {
    let (name, given) = match host.rsplit_once(':') {
        // The last colon of a bare [::1] is inside the brackets.
        Some((name, given)) if !given.ends_with(']') => (name, given.parse::<u16>().ok()),
        _ => (host, Some(80)),
    };
    given == Some(port) && NAMES.iter().any(|ours| name.eq_ignore_ascii_case(ours))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_this_computer_at_our_port_is_ours() {
        for host in ["127.0.0.1:4180", "localhost:4180", "LOCALHOST:4180", "[::1]:4180"] {
            assert!(is_ours(host, 4180), "{host}");
        }
        for host in [
            "",
            ":4180",
            "127.0.0.1",
            "127.0.0.1:4181",
            "127.0.0.1:04180x",
            "127.0.0.1:-1",
            "localhost.:4180",
            "localhost.evil.example:4180",
            "evil.example:4180",
            "evil.example",
            "[::1]",
            "[::2]:4180",
            "::1:4180",
            "0.0.0.0:4180",
            "127.0.0.1:4180:4180",
            "user@127.0.0.1:4180",
        ] {
            assert!(!is_ours(host, 4180), "{host}");
        }
        assert!(is_ours("[::1]", 80));
        assert!(is_ours("localhost", 80));
    }
}
