//! Forged hosts, posts from elsewhere and the headers of every answer.

use crate::common::{PORT, ask};
use axum::http::{Method, StatusCode};

#[tokio::test]
async fn requests_for_this_computer_are_answered() {
    for host in ["127.0.0.1", "localhost", "[::1]"] {
        let answer = ask(Method::GET, "/methods", &[("host", &format!("{host}:{PORT}"))], "").await;
        assert_eq!(answer.status, StatusCode::OK, "{host}");
    }
}

#[tokio::test]
async fn a_forged_host_is_refused_on_every_kind_of_address() {
    for path in ["/methods", "/api/methods", "/assets/none.css", "/nowhere"] {
        for host in [
            "evil.example",
            "evil.example:4180",
            "127.0.0.1",
            "127.0.0.1:1",
            "localhost.evil.example:4180",
            "",
        ] {
            let answer = ask(Method::GET, path, &[("host", host)], "").await;
            assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST, "{path} for {host}");
            assert!(answer.body.contains("http://127.0.0.1:4180/"), "{}", answer.body);
        }
    }
}

#[tokio::test]
async fn a_request_without_a_host_or_with_two_is_refused() {
    let none = ask(Method::GET, "/methods", &[], "").await;
    assert_eq!(none.status, StatusCode::MISDIRECTED_REQUEST);
    let two = ask(Method::GET, "/methods", &[("host", "127.0.0.1:4180"), ("host", "evil.example")], "").await;
    assert_eq!(two.status, StatusCode::MISDIRECTED_REQUEST);
}

#[tokio::test]
async fn a_full_request_target_cannot_name_another_host() {
    let answer = ask(Method::GET, "http://evil.example/methods", &[("host", "127.0.0.1:4180")], "").await;
    assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST);
}

#[tokio::test]
async fn a_post_from_elsewhere_is_refused() {
    let ours = ("host", "127.0.0.1:4180");
    for sign in [
        ("origin", "https://evil.example"),
        ("origin", "http://127.0.0.1:4181"),
        ("origin", "null"),
        ("sec-fetch-site", "cross-site"),
        ("sec-fetch-site", "same-site"),
    ] {
        let answer = ask(Method::POST, "/api/calc/texture-class", &[ours, sign], "{}").await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{sign:?}");
        assert!(answer.body.contains("from elsewhere"), "{}", answer.body);
    }
}

#[tokio::test]
async fn a_post_from_our_own_page_or_a_program_passes() {
    let ours = ("host", "127.0.0.1:4180");
    let json = ("content-type", "application/json");
    let body = r#"{"sand_percent": 40, "silt_percent": 40, "clay_percent": 20}"#;
    for sign in [("origin", "http://127.0.0.1:4180"), ("sec-fetch-site", "same-origin"), ("accept", "*/*")] {
        let answer = ask(Method::POST, "/api/calc/texture-class", &[ours, json, sign], body).await;
        assert_eq!(answer.status, StatusCode::OK, "{sign:?}: {}", answer.body);
    }
}

#[tokio::test]
async fn every_answer_carries_the_guarding_headers() {
    for (path, host) in
        [("/methods", "localhost:4180"), ("/nowhere", "localhost:4180"), ("/methods", "evil.example")]
    {
        let answer = ask(Method::GET, path, &[("host", host)], "").await;
        let policy = answer.header("content-security-policy");
        assert!(policy.contains("default-src 'self'"), "{policy}");
        assert!(policy.contains("frame-ancestors 'none'"), "{policy}");
        assert!(!policy.contains("unsafe"), "{policy}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff");
        assert_eq!(answer.header("referrer-policy"), "same-origin");
    }
}

#[tokio::test]
async fn a_body_over_the_limit_is_refused_in_words() {
    let body = "x=".to_owned() + &"1".repeat(2 << 20);
    let answer = ask(Method::POST, "/api/calc/texture-class", &[("host", "localhost:4180")], &body).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(answer.body.contains("larger than 1 MB"), "{}", answer.body);
}

#[tokio::test]
async fn an_address_asked_in_the_wrong_way_says_how_to_ask() {
    let ours = ("host", "127.0.0.1:4180");
    let api = ask(Method::GET, "/api/calc/texture-class", &[ours], "").await;
    assert_eq!(api.status, StatusCode::METHOD_NOT_ALLOWED);
    let json: serde_json::Value = serde_json::from_str(&api.body).unwrap();
    assert!(json["error"]["message"].as_str().unwrap().contains("takes a POST"), "{}", api.body);
    let page = ask(Method::POST, "/methods", &[ours], "").await;
    assert_eq!(page.status, StatusCode::METHOD_NOT_ALLOWED);
    assert!(page.body.contains("only read"), "{}", page.body);
}
