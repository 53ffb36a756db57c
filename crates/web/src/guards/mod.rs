//! What stands between the app and any other page open in the same browser.
//!
//! Two different attacks, two guards: a page elsewhere may re-point its own name at this computer
//! (the [`host`] list stops it), or post a form across (the cross-origin layer stops it).

pub mod headers;
pub mod host;

use std::sync::Arc;

use axum::Router;
use axum::body::Body;
use axum::http::{Response, StatusCode, header};
use axum::middleware;
use tower_http::csrf::{CsrfLayer, ProtectionError};

use crate::app::App;

/// Puts the guards around the app. The outermost is asked first.
pub(crate) fn stand(router: Router, app: &Arc<App>) -> Router {
    router
        .layer(CsrfLayer::new().with_rejection_response(|_: ProtectionError| from_elsewhere()))
        .layer(middleware::from_fn_with_state(Arc::clone(app), host::only_ours))
        .layer(middleware::from_fn(headers::add))
}

fn from_elsewhere() -> Response<Body> {
    plain(
        StatusCode::FORBIDDEN,
        "This change was sent by a page from elsewhere, so nothing was stored.\n\
         Open Spadework at the address it printed, and make the change there.\n",
    )
}

/// A refusal in plain words, without the frame of the app.
fn plain(status: StatusCode, words: impl Into<String>) -> Response<Body> {
    let mut response = Response::new(Body::from(words.into()));
    *response.status_mut() = status;
    response
        .headers_mut()
        .insert(header::CONTENT_TYPE, header::HeaderValue::from_static("text/plain; charset=utf-8"));
    response
}
