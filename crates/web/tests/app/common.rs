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

/// A farm of its own for one test.
pub(crate) struct Yard {
    router: axum::Router,
    app: Arc<web::App>,
    folder: tempfile::TempDir,
}

/// The day after the demonstration's jar was set down.
fn clock() -> jiff::Timestamp {
    jiff::Timestamp::constant(1_779_350_400, 0)
}

impl Yard {
    fn at(folder: tempfile::TempDir) -> Self {
        let options = web::Options {
            port: PORT,
            book: Some(folder.path().join("farm.farmbook")),
            recorded_by: "Ada".to_owned(),
            clock,
        };
        let app = Arc::new(web::App::new(options).expect("the book opens"));
        Self { router: web::router(Arc::clone(&app)), app, folder }
    }

    /// No book yet.
    pub(crate) fn bare() -> Self {
        Self::at(tempfile::tempdir().expect("a folder"))
    }

    /// The demonstration farm.
    pub(crate) fn demo() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        advice::demo::create(folder.path().join("farm.farmbook")).expect("the demonstration is written");
        Self::at(folder)
    }

    /// A metric farm without a plot.
    pub(crate) fn empty() -> Self {
        Self::empty_in(book::model::UnitSystem::Metric)
    }

    /// A farm without a plot that reads and writes in those units.
    pub(crate) fn empty_in(units: book::model::UnitSystem) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let farm = book::model::Farm::named("Long Furrow Farm", units);
        let stamp = book::Stamp::new(jiff::Timestamp::UNIX_EPOCH, "Ada");
        drop(book::Book::create(folder.path().join("farm.farmbook"), farm, &stamp).expect("a new book"));
        Self::at(folder)
    }

    /// What the book holds now.
    pub(crate) fn snapshot(&self) -> Arc<book::Snapshot> {
        self.app.desk().expect("a book is open").snapshot().expect("it can be read")
    }

    /// The file of the book.
    pub(crate) fn path(&self) -> std::path::PathBuf {
        self.folder.path().join("farm.farmbook")
    }

    pub(crate) async fn send(
        &self,
        method: Method,
        path: &str,
        headers: &[(&str, &str)],
        body: Vec<u8>,
    ) -> Answer {
        let mut request = Request::builder().method(method).uri(path).header("host", "127.0.0.1:4180");
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        let request = request.body(Body::from(body)).expect("a sound request");
        let response = self.router.clone().oneshot(request).await.expect("the router always answers");
        let (parts, body) = response.into_parts();
        let bytes = to_bytes(body, usize::MAX).await.expect("a body in memory");
        Answer {
            status: parts.status,
            headers: parts.headers,
            body: String::from_utf8_lossy(&bytes).into_owned(),
        }
    }

    /// Reads a page.
    pub(crate) async fn get(&self, path: &str) -> Answer {
        self.send(Method::GET, path, &[], Vec::new()).await
    }

    /// Posts a form as a browser without script would.
    pub(crate) async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let mut body = form_urlencoded::Serializer::new(String::new());
        body.extend_pairs(fields);
        let headers =
            [("origin", "http://127.0.0.1:4180"), ("content-type", "application/x-www-form-urlencoded")];
        self.send(Method::POST, path, &headers, body.finish().into_bytes()).await
    }

    /// Posts a form with a file.
    pub(crate) async fn post_file(
        &self,
        path: &str,
        fields: &[(&str, &str)],
        file: (&str, &str, &[u8]),
    ) -> Answer {
        const BOUNDARY: &str = "----a-boundary-for-tests";
        let mut body = Vec::new();
        for (name, value) in fields {
            body.extend(
                format!("--{BOUNDARY}\r\ncontent-disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n")
                    .into_bytes(),
            );
        }
        let (name, file_name, bytes) = file;
        body.extend(
            format!(
                "--{BOUNDARY}\r\ncontent-disposition: form-data; name=\"{name}\"; filename=\"{file_name}\"\r\n\
                 content-type: application/octet-stream\r\n\r\n"
            )
            .into_bytes(),
        );
        body.extend(bytes);
        body.extend(format!("\r\n--{BOUNDARY}--\r\n").into_bytes());
        let kind = format!("multipart/form-data; boundary={BOUNDARY}");
        let headers = [("origin", "http://127.0.0.1:4180"), ("content-type", kind.as_str())];
        self.send(Method::POST, path, &headers, body).await
    }
}

/// Reads one address as a browser would.
pub(crate) async fn read(path: &str) -> Answer {
    ask(Method::GET, path, &[("host", "127.0.0.1:4180")], "").await
}
