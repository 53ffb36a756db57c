//! Style, script and pictures, built from `ui/` and carried inside the binary.

use axum::extract::Path;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use include_dir::{Dir, include_dir};
use serde_json::Value;

static BUILT: Dir<'_> = include_dir!("$OUT_DIR/ui");

/// Paths of the built files, each with its content's hash in the name.
#[derive(Debug, Clone)]
pub struct Assets {
    /// The style sheet.
    pub style: String,
    /// The script.
    pub script: String,
    /// The mark of the browser tab.
    pub icon: String,
}

impl Assets {
    /// Reads the bundler's list of what it made.
    #[must_use]
    pub fn embedded() -> Self {
        let list: Value = BUILT
            .get_file(".vite/manifest.json")
            .and_then(|file| serde_json::from_slice(file.contents()).ok())
            .unwrap_or_default();
        let entry = &list["src/main.ts"];
        let path = |value: &Value| format!("/{}", value.as_str().unwrap_or("assets/missing"));
        let icon = entry["assets"].as_array().and_then(|assets| {
            assets.iter().find(|name| name.as_str().is_some_and(|name| name.contains("mark")))
        });
        Self {
            style: path(&entry["css"][0]),
            script: path(&entry["file"]),
            icon: path(icon.unwrap_or(&Value::Null)),
        }
    }
}

/// Serves `/assets/{file}`. The name changes with the content, so a browser may keep it for ever.
pub(crate) async fn serve(Path(name): Path<String>, headers: HeaderMap) -> Response {
    let Some(file) = BUILT.get_file(format!("assets/{name}")) else {
        return (StatusCode::NOT_FOUND, "There is no such file.").into_response();
    };
    let etag = format!("\"{name}\"");
    let kept =
        [(header::ETAG, etag.as_str()), (header::CACHE_CONTROL, "public, max-age=31536000, immutable")];
    if headers.get(header::IF_NONE_MATCH).is_some_and(|given| given.as_bytes() == etag.as_bytes()) {
        return (StatusCode::NOT_MODIFIED, kept).into_response();
    }
    (kept, [(header::CONTENT_TYPE, media_type(&name))], file.contents()).into_response()
}

fn media_type(name: &str) -> &'static str {
    match name.rsplit('.').next() {
        Some("css") => "text/css; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("svg") => "image/svg+xml",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_named_asset_is_embedded() {
        let assets = Assets::embedded();
        for path in [&assets.style, &assets.script, &assets.icon] {
            assert!(BUILT.get_file(path.trim_start_matches('/')).is_some(), "{path}");
        }
    }
}
