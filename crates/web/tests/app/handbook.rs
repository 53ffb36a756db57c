//! Every handbook page, its twin, and what it does with bad input.

use crate::common::{ask, read};
use axum::http::{Method, StatusCode};
use ground::registry;

#[tokio::test]
async fn every_method_has_a_page_with_its_worked_example() {
    for method in registry::METHODS.iter() {
        let card = method.card();
        let page = read(&format!("/methods/{}", card.name)).await;
        assert_eq!(page.status, StatusCode::OK, "{}", card.name);
        assert!(page.body.contains("<h1>"), "{}", card.name);
        assert!(page.body.contains("The working"), "{} shows no working", card.name);
        assert!(
            page.body.contains(&format!("href=\"/api/methods/{}\"", card.name)),
            "{} names no twin",
            card.name
        );
        let twin = read(&format!("/api/methods/{}", card.name)).await.json();
        assert_eq!(twin["card"]["name"], card.name);
        assert!(twin["trial"]["answer"].is_object());
    }
}

#[tokio::test]
async fn a_method_without_a_check_says_so() {
    for method in registry::METHODS.iter() {
        let name = method.card().name;
        let page = read(&format!("/methods/{name}")).await.body;
        let says = page.contains("Implemented, not validated");
        assert_eq!(says, checks::of_method(name).is_empty(), "{name}");
    }
}

#[tokio::test]
async fn a_trial_without_script_is_a_link() {
    let page = read("/methods/texture-class?sand_percent=10&silt_percent=30&clay_percent=60").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.body.contains(">clay<"), "{}", page.body);
}

#[tokio::test]
async fn a_refused_trial_keeps_what_was_typed_and_links_to_the_field() {
    let page =
        read("/methods/texture-class?sand_percent=about+40&silt_percent=30&clay_percent=%3Cb%3E").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    for part in [
        "<title>Error: Texture class",
        "role=\"alert\"",
        "href=\"#field-sand_percent\"",
        "value=\"about 40\"",
        "aria-invalid=\"true\"",
        "aria-describedby=\"field-sand_percent-error field-sand_percent-hint\"",
    ] {
        assert!(page.body.contains(part), "{part} is missing");
    }
    assert!(!page.body.contains("<b>"), "typed markup must come back as text");
}

#[tokio::test]
async fn a_twin_refuses_in_the_agreed_shape() {
    let answer = read("/api/methods/texture-class?sand_percent=140&silt_percent=30&clay_percent=20").await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let error = &answer.json()["error"];
    assert_eq!(error["field"], "sand_percent");
    for key in ["message", "given", "accepted", "example"] {
        assert!(error[key].as_str().is_some_and(|text| !text.is_empty()), "{key}: {error}");
    }
}

#[tokio::test]
async fn the_calculator_gives_what_the_registry_gives() {
    let headers = [("host", "127.0.0.1:4180"), ("content-type", "application/json")];
    for method in registry::METHODS.iter() {
        let path = format!("/api/calc/{}?working=1", method.card().name);
        let answer = ask(Method::POST, &path, &headers, &method.example().to_string()).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}");
        let mut given = answer.json();
        let working = given.as_object_mut().and_then(|object| object.remove("working")).expect("a working");
        assert!(working.as_array().is_some_and(|steps| !steps.is_empty()), "{path}");
        assert_eq!(given, method.answer(&method.example()).expect("the example computes"), "{path}");
    }
}

#[tokio::test]
async fn the_calculator_refuses_in_words() {
    let host = ("host", "127.0.0.1:4180");
    let json = ("content-type", "application/json");
    for (headers, body, part) in [
        (vec![host, json], "{", "is not JSON"),
        (vec![host, json], "[1, 2]", ""),
        (vec![host, json], "null", ""),
        (vec![host], "sand_percent=40", "no JSON object"),
        (vec![host, json], "{\"sand_percent\": 40, \"silt_percent\": 40}", "clay_percent is missing"),
        (vec![host, json], "{\"sand\": 40}", "not one of the fields"),
    ] {
        let answer = ask(Method::POST, "/api/calc/texture-class", &headers, body).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{body}");
        let message = answer.json()["error"]["message"].as_str().unwrap_or_default().to_owned();
        assert!(message.contains(part) && !message.is_empty(), "{body}: {message}");
    }
    let unknown = ask(Method::POST, "/api/calc/no-such-method", &[host, json], "{}").await;
    assert_eq!(unknown.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn what_is_not_there_is_said_in_the_right_tongue() {
    let page = read("/methods/no-such-method").await;
    assert_eq!(page.status, StatusCode::NOT_FOUND);
    assert!(page.body.contains("no method called no-such-method"));
    let nowhere = read("/no/such/page").await;
    assert_eq!(nowhere.status, StatusCode::NOT_FOUND);
    assert!(nowhere.body.contains("<h1>"));
    let twin = read("/api/no/such/page").await;
    assert_eq!(twin.status, StatusCode::NOT_FOUND);
    assert!(twin.json()["error"]["message"].is_string());
}

#[tokio::test]
async fn every_source_has_its_anchor() {
    let page = read("/sources").await.body;
    for key in ground::kit::sources::BIBLIOGRAPHY.keys() {
        assert!(page.contains(&format!("id=\"{key}\"")), "{key}");
    }
}

#[tokio::test]
async fn assets_are_kept_for_ever_and_confirmed_by_name() {
    let page = read("/methods").await.body;
    let style = page.split("rel=\"stylesheet\" href=\"").nth(1).and_then(|rest| rest.split('"').next());
    let style = style.expect("a style sheet");
    let sheet = read(style).await;
    assert_eq!(sheet.status, StatusCode::OK);
    assert_eq!(sheet.header("content-type"), "text/css; charset=utf-8");
    assert!(sheet.header("cache-control").contains("immutable"));
    let again =
        ask(Method::GET, style, &[("host", "localhost:4180"), ("if-none-match", sheet.header("etag"))], "")
            .await;
    assert_eq!(again.status, StatusCode::NOT_MODIFIED);
    assert_eq!(read("/assets/..%2F..%2Fetc%2Fpasswd").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn pages_carry_no_script_or_style_of_their_own() {
    for path in ["/methods", "/methods/texture-class", "/sources", "/patterns", "/nowhere"] {
        let page = read(path).await.body;
        assert!(!page.contains(" style="), "{path} has an inline style");
        assert!(!page.contains(" onclick=") && !page.contains("<style"), "{path}");
        assert_eq!(page.matches("<script").count(), 1, "{path}");
        for attribute in ["href", "src", "action", "data", "srcset", "poster"] {
            for scheme in ["http:", "https:", "//"] {
                let elsewhere = format!("{attribute}=\"{scheme}");
                assert!(!page.contains(&elsewhere), "{path} leads to another site: {elsewhere}");
            }
        }
    }
}
