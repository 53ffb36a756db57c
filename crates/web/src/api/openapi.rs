//! `GET /api/openapi.json`: the whole interface, written from the registry and the list of routes.

use std::sync::LazyLock;

use ground::kit::Registered;
use ground::registry;
use serde_json::{Map, Value, json};

use crate::ask::Ask;
use crate::form::{Field, Kind};
use crate::route::{self, Faces, Outcome, Route, Shown, Verb};

/// Addresses of the description.
pub const ROUTES: &[Route] =
    &[Route::api(Verb::Get, "/api/openapi.json", "This interface, as OpenAPI 3.1", show)];

/// The one route that the registry spells out, method by method.
const CALCULATOR: &str = "/api/calc/{method}";

fn show(_: &Ask) -> Outcome {
    static DOCUMENT: LazyLock<Value> = LazyLock::new(document);
    Ok(Shown::Json(DOCUMENT.clone()))
}

/// The OpenAPI 3.1 document.
#[must_use]
pub fn document() -> Value {
    let mut paths: Map<String, Value> = Map::new();
    let mut add = |path: &str, verb: Verb, operation: Value| {
        let entry = paths.entry(path).or_insert_with(|| json!({}));
        entry[verb_name(verb)] = operation;
    };
    for route in route::all() {
        match route.faces {
            Faces::JsonOnly if route.path == CALCULATOR => {
                for method in registry::METHODS.iter() {
                    add(
                        &CALCULATOR.replace("{method}", method.card().name),
                        route.verb,
                        calculation(*method),
                    );
                }
            }
            Faces::JsonOnly => add(route.path, route.verb, operation(route, route.path)),
            Faces::Both => {
                add(&route::twin(route.path), route.verb, operation(route, &route::twin(route.path)))
            }
            Faces::Plain => add(route.path, route.verb, operation(route, route.path)),
        }
    }
    json!({
        "openapi": "3.1.0",
        "info": {
            "title": "Spadework",
            "version": env!("CARGO_PKG_VERSION"),
            "summary": "Soil decisions of a small farm, on this computer only",
            "license": { "name": "MIT OR Apache-2.0", "identifier": "MIT OR Apache-2.0" },
        },
        "servers": [{ "url": "/" }],
        "paths": paths,
        "components": {
            "schemas": { "Error": error_schema() },
            "responses": {
                "Refused": {
                    "description": "Something given was refused, or could not be kept. Nothing was stored.",
                    "content": { "application/json": { "schema": { "$ref": "#/components/schemas/Error" } } },
                },
            },
        },
    })
}

fn verb_name(verb: Verb) -> &'static str {
    match verb {
        Verb::Get => "get",
        Verb::Post => "post",
    }
}

fn operation(route: &Route, path: &str) -> Value {
    let mut operation = json!({
        "operationId": operation_id(route.verb, path),
        "summary": route.summary,
        "parameters": parameters(path),
        "responses": { "4XX": refused(), "5XX": refused() },
    });
    let (status, answer) = match (route.faces, route.verb) {
        (Faces::Plain, _) => ("200", json!({ "description": "The file." })),
        (Faces::Both, Verb::Post) => ("201", object_answer("What was kept.")),
        _ => ("200", object_answer("What the page shows.")),
    };
    operation["responses"][status] = answer;
    if route.verb == Verb::Post {
        operation["requestBody"] = json!({
            "required": !route.fields.is_empty(),
            "content": { "application/json": { "schema": form_schema(route.fields) } },
        });
    }
    operation
}

fn calculation(method: &dyn Registered) -> Value {
    let card = method.card();
    let path = format!("/api/calc/{}", card.name);
    json!({
        "operationId": operation_id(Verb::Post, &path),
        "summary": card.title,
        "description": card.computes,
        "parameters": [{
            "name": "working",
            "in": "query",
            "description": "1 adds the steps of the computation under `working`",
            "schema": { "type": "string", "enum": ["0", "1"] },
        }],
        "requestBody": {
            "required": true,
            "content": { "application/json": {
                "schema": inlined(method.input_schema()),
                "example": method.example(),
            } },
        },
        "responses": {
            "200": {
                "description": "The answer.",
                "content": { "application/json": { "schema": inlined(method.output_schema()) } },
            },
            "4XX": refused(),
        },
    })
}

fn refused() -> Value {
    json!({ "$ref": "#/components/responses/Refused" })
}

fn object_answer(description: &str) -> Value {
    json!({
        "description": description,
        "content": { "application/json": { "schema": { "type": "object" } } },
    })
}

fn operation_id(verb: Verb, path: &str) -> String {
    let words = path.trim_start_matches("/api").split(|c: char| !c.is_ascii_alphanumeric());
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    format!("{}-{}", verb_name(verb), if words.is_empty() { "home".to_owned() } else { words.join("-") })
}

fn parameters(path: &str) -> Vec<Value> {
    let names = path.split('{').skip(1).filter_map(|part| part.split('}').next());
    names
        .map(|name| json!({ "name": name, "in": "path", "required": true, "schema": { "type": "string" } }))
        .collect()
}

/// A form's fields: texts as a person would type them, so that measures may carry their unit.
fn form_schema(fields: &[Field]) -> Value {
    let mut properties = Map::new();
    for field in fields {
        let mut schema = json!({ "title": field.label, "description": field.hint });
        match field.kind {
            Kind::Tick => schema["type"] = json!("boolean"),
            Kind::AnyOf(_) => {
                schema["type"] = json!("array");
                schema["items"] = json!({ "type": "string", "enum": values(field) });
            }
            Kind::OneOf(choices) | Kind::Pick(choices) if !choices.is_empty() => {
                schema["type"] = json!("string");
                schema["enum"] = json!(values(field));
            }
            Kind::Measure(dimension) | Kind::Reading(dimension) => {
                schema["type"] = json!(["string", "number"]);
                schema["description"] =
                    json!(format!("{} Accepted: {}.", field.hint, dimension.accepted()).trim());
            }
            Kind::Day => {
                schema["type"] = json!("string");
                schema["format"] = json!("date");
            }
            _ => schema["type"] = json!("string"),
        }
        properties.insert(field.name.to_owned(), schema);
    }
    let required: Vec<&str> = fields.iter().filter(|field| !field.optional).map(|field| field.name).collect();
    json!({ "type": "object", "properties": properties, "required": required })
}

fn values(field: &Field) -> Vec<&'static str> {
    field.choices().iter().map(|choice| choice.value).collect()
}

/// A schema whose shared parts stand inside it; its references are made to start at its own root
/// by giving it an identity.
fn inlined(mut schema: Value) -> Value {
    if let Some(object) = schema.as_object_mut()
        && let Some(title) = object.get("title").and_then(Value::as_str).map(str::to_owned)
    {
        object.remove("$schema");
        object.insert("$id".to_owned(), json!(format!("/schemas/{title}")));
    }
    schema
}

fn error_schema() -> Value {
    let refusal = json!({
        "type": "object",
        "properties": {
            "field": { "type": "string", "description": "Path of the field; empty when the whole is meant" },
            "message": { "type": "string", "description": "One sentence for the person" },
            "given": { "type": "string" },
            "accepted": { "type": "string" },
            "example": { "type": "string" },
        },
        "required": ["field", "message", "given", "accepted", "example"],
    });
    json!({
        "type": "object",
        "properties": {
            "error": refusal,
            "errors": { "type": "array", "items": refusal, "description": "Every refusal, the first one too" },
        },
        "required": ["error", "errors"],
    })
}
