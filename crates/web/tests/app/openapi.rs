//! The OpenAPI document against the shape its specification asks for, and against the routes.

use crate::common::read;
use ground::registry;
use serde_json::Value;
use web::route::{self, Faces, Verb};

/// OpenAPI Specification 3.1.0: the fixed fields of the objects used here (sections 4.8.1 to 4.8.17).
/// From memory of the specification.
#[tokio::test]
async fn the_document_has_the_shape_of_openapi_3_1() {
    let document = read("/api/openapi.json").await.json();
    assert_eq!(document["openapi"], "3.1.0");
    assert!(document["info"]["title"].is_string() && document["info"]["version"].is_string());
    let mut ids = Vec::new();
    for (path, item) in document["paths"].as_object().expect("paths") {
        assert!(path.starts_with('/'), "{path}");
        for (verb, operation) in item.as_object().expect("a path item") {
            assert!(["get", "post"].contains(&verb.as_str()), "{path}: {verb}");
            ids.push(operation["operationId"].as_str().expect("an operationId").to_owned());
            check_parameters(path, operation);
            check_responses(path, operation);
            if let Some(body) = operation.get("requestBody") {
                assert!(body["content"]["application/json"]["schema"].is_object(), "{path}");
            }
        }
    }
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all, "operation ids must be unique");
}

/// Every name in the path's braces is a required path parameter, and the other way about.
fn check_parameters(path: &str, operation: &Value) {
    let mut named: Vec<&str> = path.split('{').skip(1).filter_map(|part| part.split('}').next()).collect();
    let parameters = operation["parameters"].as_array().expect("parameters");
    let mut given: Vec<&str> = parameters
        .iter()
        .filter(|parameter| parameter["in"] == "path")
        .map(|parameter| {
            assert_eq!(parameter["required"], true, "{path}");
            parameter["name"].as_str().expect("a name")
        })
        .collect();
    for parameter in parameters {
        assert!(parameter["schema"].is_object(), "{path}");
    }
    named.sort_unstable();
    given.sort_unstable();
    assert_eq!(named, given, "{path}");
}

fn check_responses(path: &str, operation: &Value) {
    let responses = operation["responses"].as_object().expect("responses");
    assert!(!responses.is_empty(), "{path}");
    for (status, response) in responses {
        let known = status.len() == 3
            && matches!(status.as_bytes(), [b'1'..=b'5', b'0'..=b'9' | b'X', b'0'..=b'9' | b'X']);
        assert!(known, "{path}: {status}");
        assert!(response["description"].is_string() || response["$ref"].is_string(), "{path}: {status}");
    }
}

#[tokio::test]
async fn every_reference_leads_somewhere() {
    fn follow(root: &Value, here: &Value, place: &Value) {
        // A schema with an identity of its own is the root of the references inside it.
        let root = if here.get("$id").is_some() { here } else { root };
        match here {
            Value::Object(fields) => {
                if let Some(target) = fields.get("$ref").and_then(Value::as_str) {
                    assert!(root.pointer(target.trim_start_matches('#')).is_some(), "{target} in {place}");
                }
                fields.iter().for_each(|(name, value)| follow(root, value, &Value::from(name.as_str())));
            }
            Value::Array(items) => items.iter().for_each(|value| follow(root, value, place)),
            _ => {}
        }
    }
    let document = read("/api/openapi.json").await.json();
    follow(&document, &document, &Value::Null);
}

#[tokio::test]
async fn every_route_and_every_method_is_in_it() {
    let document = read("/api/openapi.json").await.json();
    let has = |path: &str, verb: Verb| {
        let verb = if verb == Verb::Get { "get" } else { "post" };
        document["paths"].get(path).and_then(|item| item.get(verb)).is_some()
    };
    for route in route::all().filter(|route| route.path != "/api/calc/{method}") {
        let path = if route.faces == Faces::Both { route::twin(route.path) } else { route.path.to_owned() };
        assert!(has(&path, route.verb), "{path}");
    }
    for method in registry::METHODS.iter() {
        assert!(has(&format!("/api/calc/{}", method.card().name), Verb::Post), "{}", method.card().name);
    }
}

#[test]
fn no_two_routes_share_an_address() {
    let mut seen = Vec::new();
    for route in route::all() {
        assert!(!seen.contains(&(route.verb == Verb::Get, route.path)), "{}", route.path);
        seen.push((route.verb == Verb::Get, route.path));
        assert!(!route.summary.is_empty() && !route.summary.ends_with('.'), "{}", route.path);
    }
}
