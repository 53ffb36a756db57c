//! From a request to a page and back.

use std::future::poll_fn;
use std::pin::Pin;
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, HttpBody};
use axum::extract::{DefaultBodyLimit, FromRequest, Multipart, RawPathParams, Request, State};
use axum::http::{HeaderValue, Method, StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use axum::routing::{MethodFilter, get, on};
use ground::kit::Refusal;

use crate::app::App;
use crate::ask::{Ask, Format, TooLarge, Upload};
use crate::problem::{Problem, ProblemPage, Trouble};
use crate::route::{self, Faces, Page, Route, Shown, Verb};
use crate::shell::Section;
use crate::typed::Typed;
use crate::{assets, guards, who};

/// What is too large is read on so far, so that the browser comes to hear of it; then it is cut off.
const MOST_READ_BYTES: usize = 1 << 30;

/// Where a farm begins.
const START: &str = "/start";

/// The app behind its guards.
pub fn router(app: Arc<App>) -> Router {
    let mut router = Router::new().route("/assets/{file}", get(assets::serve));
    for route in route::all() {
        if route.faces != Faces::JsonOnly {
            router = router.route(route.path, serve(route, Format::Html));
        }
        if route.faces == Faces::Both {
            router = router.route(&route::twin(route.path), serve(route, Format::Json));
        }
        if route.faces == Faces::JsonOnly {
            router = router.route(route.path, serve(route, Format::Json));
        }
    }
    let router = router
        .fallback(nowhere)
        .method_not_allowed_fallback(other_verb)
        // Each route reads its body under a limit of its own.
        .layer(DefaultBodyLimit::disable())
        .with_state(Arc::clone(&app));
    guards::stand(router, &app)
}

fn serve(route: &'static Route, format: Format) -> axum::routing::MethodRouter<Arc<App>> {
    let filter = match route.verb {
        Verb::Get => MethodFilter::GET,
        Verb::Post => MethodFilter::POST,
    };
    on(filter, move |State(app): State<Arc<App>>, params: RawPathParams, request: Request| {
        answer(app, route, format, params, request)
    })
}

async fn answer(
    app: Arc<App>,
    route: &'static Route,
    format: Format,
    params: RawPathParams,
    request: Request,
) -> Response {
    let mut ask = blank(app, format, request.uri().path());
    ask.params = params.iter().map(|(name, value)| (name.to_owned(), value.to_owned())).collect();
    ask.query = Typed::from_form(request.uri().query().unwrap_or_default().as_bytes());
    ask.who = who::told(request.headers());
    if let Err(problem) = read_body(&mut ask, request, route.limit_bytes).await {
        return refuse(&ask, problem);
    }
    // A page may compute for milliseconds and wait for the disk: never on the threads that listen.
    let done = tokio::task::spawn_blocking(move || {
        let outcome = (route.run)(&ask);
        show(&ask, outcome)
    })
    .await;
    done.unwrap_or_else(|_panicked| broken(format))
}

fn blank(app: Arc<App>, format: Format, path: &str) -> Ask {
    let path = match format {
        Format::Json => path.strip_prefix("/api").unwrap_or(path),
        Format::Html => path,
    };
    let path = if path.is_empty() { "/" } else { path }.to_owned();
    Ask {
        app,
        format,
        path,
        params: Vec::new(),
        query: Typed::default(),
        body: Typed::default(),
        json: None,
        files: Vec::new(),
        too_large: Vec::new(),
        who: None,
    }
}

async fn read_body(ask: &mut Ask, request: Request, limit_bytes: usize) -> Result<(), Problem> {
    let (parts, body) = request.into_parts();
    let kind =
        parts.headers.get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok()).unwrap_or_default();
    let kind = kind.split(';').next().unwrap_or_default().trim().to_ascii_lowercase();
    if kind == "multipart/form-data" {
        return read_parts(ask, Request::from_parts(parts, body), limit_bytes)
            .await
            .map_err(|message| Refusal::new("", format!("the form could not be read: {message}")).into());
    }
    let bytes = whole(body, limit_bytes).await.ok_or_else(|| too_large(limit_bytes))?;
    match kind.as_str() {
        "application/json" => {
            let value = serde_json::from_slice(&bytes).map_err(|error| {
                Refusal::new("", format!("the request is not JSON: {error}"))
                    .accepted("one JSON object")
                    .example("{\"sand_percent\": 40}")
            })?;
            ask.body = Typed::from_json(&value);
            ask.json = Some(value);
        }
        _ => ask.body = Typed::from_form(&bytes),
    }
    Ok(())
}

/// A body of at most `limit_bytes`; none where it is larger or breaks off. It is read to its end all the same: a browser
/// that is still sending does not hear an answer.
async fn whole(mut body: Body, limit_bytes: usize) -> Option<Vec<u8>> {
    let mut bytes = Vec::new();
    let mut read = 0;
    while let Some(frame) = poll_fn(|context| Pin::new(&mut body).poll_frame(context)).await {
        let Ok(data) = frame.ok()?.into_data() else { continue };
        read += data.len();
        if read > MOST_READ_BYTES {
            return None;
        }
        if read > limit_bytes {
            bytes = Vec::new();
        } else {
            bytes.extend_from_slice(&data);
        }
    }
    (read <= limit_bytes).then_some(bytes)
}

async fn read_parts(ask: &mut Ask, request: Request, limit_bytes: usize) -> Result<(), String> {
    let mut form = Multipart::from_request(request, &()).await.map_err(|error| error.to_string())?;
    let mut all = 0;
    while let Some(mut part) = form.next_field().await.map_err(|error| error.to_string())? {
        let field = part.name().unwrap_or_default().to_owned();
        let file_name = part.file_name().map(str::to_owned);
        let media_type = part.content_type().unwrap_or_default().to_owned();
        let mut bytes = Vec::new();
        let mut read = 0;
        while let Some(chunk) = part.chunk().await.map_err(|error| error.to_string())? {
            read += chunk.len();
            all += chunk.len();
            if all > MOST_READ_BYTES {
                return Err("it is larger than any form of this program".to_owned());
            }
            if read > limit_bytes {
                bytes = Vec::new();
            } else {
                bytes.extend_from_slice(&chunk);
            }
        }
        if read > limit_bytes {
            // What is typed beside it still counts.
            ask.too_large.push(TooLarge { field, bytes: read, limit_bytes });
            continue;
        }
        match file_name {
            // A browser sends an empty part for a file field that was left alone.
            Some(name) if name.is_empty() && bytes.is_empty() => {}
            Some(file_name) => {
                ask.files.push(Upload { field, file_name, media_type, bytes });
            }
            None => ask.body.add(field, String::from_utf8_lossy(&bytes)),
        }
    }
    Ok(())
}

fn too_large(limit_bytes: usize) -> Problem {
    let limit = if limit_bytes >= 1 << 20 {
        format!("{} MB", limit_bytes >> 20)
    } else {
        format!("{} kB", limit_bytes >> 10)
    };
    Trouble::new(StatusCode::PAYLOAD_TOO_LARGE, "Too large", format!("What was sent is larger than {limit}."))
        .hint("Send a smaller file; a photo can be made smaller before it is sent.")
        .into()
}

fn show(ask: &Ask, outcome: route::Outcome) -> Response {
    match outcome {
        Ok(Shown::Page(page)) => render(ask, StatusCode::OK, page.as_ref()),
        Ok(Shown::Json(value)) => axum::Json(value).into_response(),
        Ok(Shown::Kept { to, twin, who }) => {
            let mut response = match ask.format {
                Format::Html => (StatusCode::SEE_OTHER, [(header::LOCATION, to)]).into_response(),
                Format::Json => {
                    (StatusCode::CREATED, [(header::LOCATION, route::twin(&to))], axum::Json(twin))
                        .into_response()
                }
            };
            if let Some(cookie) = who.as_deref().and_then(who::keep) {
                response.headers_mut().insert(header::SET_COOKIE, cookie);
            }
            response
        }
        Ok(Shown::File { media_type, name, bytes }) => file(&media_type, name.as_deref(), bytes),
        Err(problem) => refuse(ask, problem),
    }
}

fn render(ask: &Ask, status: StatusCode, page: &dyn Page) -> Response {
    let rendered = match ask.format {
        Format::Html => page.html().map(|html| Html(html).into_response()).map_err(|error| error.to_string()),
        Format::Json => {
            page.json().map(|json| axum::Json(json).into_response()).map_err(|error| error.to_string())
        }
    };
    match rendered {
        Ok(mut response) => {
            *response.status_mut() = status;
            response
        }
        Err(error) => {
            eprintln!("{} could not be rendered: {error}", ask.path);
            broken(ask.format)
        }
    }
}

fn refuse(ask: &Ask, problem: Problem) -> Response {
    let status = problem.status();
    if ask.format == Format::Json {
        return (status, axum::Json(problem.json())).into_response();
    }
    let page: Box<dyn Page> = match problem {
        Problem::NoFarm if route::exists(START) => {
            return (StatusCode::SEE_OTHER, [(header::LOCATION, START)]).into_response();
        }
        Problem::NoFarm => Box::new(ProblemPage {
            shell: ask.shell(Section::Farm, "No farm is open"),
            message: "There is no farm book to show yet.".to_owned(),
            refusals: Vec::new(),
            hints: vec!["Start Spadework with the name of a farm book.".to_owned()],
        }),
        Problem::Refused { page: Some(page), .. } => page,
        Problem::Refused { refusals, page: None, .. } => Box::new(ProblemPage {
            shell: ask.shell(Section::Farm, "There is a problem").refused(),
            message: "Something given was refused. Nothing was stored.".to_owned(),
            refusals,
            hints: vec!["Go back and correct it; what you typed is still in the form.".to_owned()],
        }),
        Problem::Trouble(Trouble { title, message, hints, .. }) => Box::new(ProblemPage {
            shell: ask.shell(Section::Farm, title),
            message,
            refusals: Vec::new(),
            hints,
        }),
    };
    render(ask, status, page.as_ref())
}

fn file(media_type: &str, name: Option<&str>, bytes: Vec<u8>) -> Response {
    let mut response = bytes.into_response();
    let plain = HeaderValue::from_static("application/octet-stream");
    let media_type = HeaderValue::from_str(media_type).unwrap_or(plain);
    response.headers_mut().insert(header::CONTENT_TYPE, media_type);
    if let Some(name) = name {
        let safe: String = name
            .chars()
            .map(|c| if c.is_ascii_alphanumeric() || "-_.".contains(c) { c } else { '-' })
            .collect();
        if let Ok(value) = HeaderValue::from_str(&format!("attachment; filename=\"{safe}\"")) {
            response.headers_mut().insert(header::CONTENT_DISPOSITION, value);
        }
    }
    response
}

/// The program itself failed. The page leans on nothing that could fail again.
fn broken(format: Format) -> Response {
    let message = "Spadework failed while making this page. Nothing that was confirmed before is lost.";
    let status = StatusCode::INTERNAL_SERVER_ERROR;
    match format {
        Format::Json => {
            (status, axum::Json(Problem::from(Trouble::new(status, "", message)).json())).into_response()
        }
        Format::Html => (
            status,
            Html(format!(
                "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>Error - Spadework</title></head>\
                 <body><main><h1>This page failed</h1><p>{message}</p>\
                 <p><a href=\"/\">Back to the farm page</a></p></main></body></html>"
            )),
        )
            .into_response(),
    }
}

async fn nowhere(State(app): State<Arc<App>>, request: Request) -> Response {
    let path = request.uri().path().to_owned();
    let format = if path.starts_with("/api/") { Format::Json } else { Format::Html };
    let ask = blank(app, format, &path);
    refuse(&ask, Problem::not_found(format!("There is no page at {path}.")))
}

/// The address is right, and asked in a way that it does not answer.
async fn other_verb(State(app): State<Arc<App>>, request: Request) -> Response {
    let path = request.uri().path().to_owned();
    let format = if path.starts_with("/api/") { Format::Json } else { Format::Html };
    let way = if request.method() == Method::GET || request.method() == Method::HEAD {
        "It takes a POST, which a form or a program sends."
    } else {
        "It is only read, with a GET."
    };
    let ask = blank(app, format, &path);
    let trouble = Trouble::new(
        StatusCode::METHOD_NOT_ALLOWED,
        "Asked in another way than it answers",
        format!("{path} does not take a {}. {way}", request.method()),
    );
    refuse(&ask, trouble.into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::Options;
    use tower::ServiceExt;

    static BREAKS: Route = Route::page("/breaks", "A page that fails", |_| panic!("a fault in the program"));

    async fn ask(format: Format) -> (StatusCode, String) {
        let app = Arc::new(App::new(Options::default()).unwrap());
        let router = Router::new().route("/breaks", serve(&BREAKS, format)).with_state(app);
        let request = Request::builder().uri("/breaks").body(Body::empty()).unwrap();
        let response = router.oneshot(request).await.unwrap();
        let status = response.status();
        let body = axum::body::to_bytes(response.into_body(), usize::MAX).await.unwrap();
        (status, String::from_utf8_lossy(&body).into_owned())
    }

    #[tokio::test]
    async fn a_fault_in_a_page_is_answered_in_words() {
        let (status, page) = ask(Format::Html).await;
        assert_eq!(status, StatusCode::INTERNAL_SERVER_ERROR);
        assert!(
            page.contains("<h1>This page failed</h1>") && !page.contains("a fault in the program"),
            "{page}"
        );
        let (status, twin) = ask(Format::Json).await;
        assert_eq!(status, StatusCode::INTERNAL_SERVER_ERROR);
        assert!(twin.contains("\"error\""), "{twin}");
    }
}
