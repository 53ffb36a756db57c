//! One request through the whole app, guards included.

use std::sync::Arc;

use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Method, Request, StatusCode};
use tower::ServiceExt;

/// The port the app under test believes it listens on.
pub(crate) const PORT: u16 = 4180;

/// An answer with its body read.
pub(crate) struct Answer {
    pub(crate) status: StatusCode,
    pub(crate) headers: HeaderMap,
    pub(crate) body: String,
}

impl Answer {
    pub(crate) fn header(&self, name: &str) -> &str {
        self.headers.get(name).and_then(|value| value.to_str().ok()).unwrap_or_default()
    }

    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.body).unwrap_or_else(|error| panic!("{error}: {}", self.body))
    }
}

/// The app without a book.
fn app() -> axum::Router {
    let options = web::Options { port: PORT, ..web::Options::default() };
    web::router(Arc::new(web::App::new(options).expect("no book to open")))
}

pub(crate) async fn ask(method: Method, path: &str, headers: &[(&str, &str)], body: &str) -> Answer {
    let mut request = Request::builder().method(method).uri(path);
    for (name, value) in headers {
        request = request.header(*name, *value);
    }
    let request = request.body(Body::from(body.to_owned())).expect("a sound request");
    let response = app().oneshot(request).await.expect("the router always answers");
    let (parts, body) = response.into_parts();
    let bytes = to_bytes(body, usize::MAX).await.expect("a body in memory");
    Answer {
        status: parts.status,
        headers: parts.headers,
        body: String::from_utf8_lossy(&bytes).into_owned(),
    }
}

/// Reads one address as a browser would.
pub(crate) async fn read(path: &str) -> Answer {
    ask(Method::GET, path, &[("host", "127.0.0.1:4180")], "").await
}
