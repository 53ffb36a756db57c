//! Whatever is posted to whichever form: never a failure of the program, never half a record.

use std::sync::LazyLock;

use axum::http::{Method, StatusCode};
use proptest::prelude::*;
use tokio::runtime::Runtime;

use crate::common::Yard;

static RUNTIME: LazyLock<Runtime> = LazyLock::new(|| Runtime::new().expect("threads"));

/// One farm for all cases: what one leaves behind the next must bear.
static YARD: LazyLock<Yard> = LazyLock::new(|| {
    let yard = Yard::empty();
    let fields = [("name", "Lower field"), ("place", "open_field"), ("area_m2", "300")];
    let kept = RUNTIME.block_on(yard.post("/plots/new", &fields));
    assert_eq!(kept.status, StatusCode::SEE_OTHER);
    yard
});

/// Names of the fields of the farm's forms.
const NAMES: [&str; 30] = [
    "name",
    "place",
    "length_m",
    "width_m",
    "area_m2",
    "slope_percent",
    "root_depth_cm",
    "watering",
    "use_note",
    "plot",
    "count",
    "kind",
    "note",
    "taken_on",
    "from_cm",
    "to_cm",
    "cores",
    "taken_by",
    "bag_label",
    "text",
    "caption",
    "reason",
    "from_number",
    "units",
    "latitude_degrees",
    "last_frost",
    "first_frost",
    "currency",
    "hour_worth",
    "table",
];

/// Texts near what is accepted, and any text.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        prop::sample::select(vec![
            "",
            "Lower field",
            "open_field",
            "150 ft",
            "2 3/16 in",
            "1e400",
            "-5",
            "NaN",
            "0",
            "1",
            "4294967296",
            "12 May",
            "2026-02-30",
            "2026-04-12",
            "metric",
            "shed",
            "drip",
            "USD",
            "PLOT",
            "\0",
            "x\r\ny",
            "plot,date,sand_percent\nLower field,2026-04-12,40",
            "plot,date\n\"",
            "<script>",
        ])
        .prop_map(str::to_owned),
        any::<String>(),
        "[0-9]{1,6} ?(ft|in|m|cm|%|ac)?",
    ]
}

fn path() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "/plots/new",
        "/beds/new",
        "/structures/new",
        "/samples/new",
        "/notes/new",
        "/photos/new",
        "/settings",
        "/import",
        "/records/PLOT/correct",
        "/records/PLOT/restore",
        "/plots/PLOT/findings/mulch",
        "/start",
    ])
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn no_form_body_breaks_a_page(
        path in path(),
        fields in prop::collection::vec((prop::sample::select(&NAMES[..]), text()), 0..14),
        as_json in any::<bool>(),
    ) {
        let plot = YARD.snapshot().plots[0].id.to_string();
        let path = path.replace("PLOT", &plot);
        let fields: Vec<(&str, String)> =
            fields.into_iter().map(|(name, text)| (name, if text == "PLOT" { plot.clone() } else { text })).collect();
        let before = YARD.snapshot().mark;
        let answer = if as_json {
            let object: serde_json::Map<String, serde_json::Value> =
                fields.iter().map(|(name, text)| ((*name).to_owned(), text.clone().into())).collect();
            let body = serde_json::to_vec(&object).expect("an object");
            let headers = [("content-type", "application/json")];
            RUNTIME.block_on(YARD.send(Method::POST, &format!("/api{path}"), &headers, body))
        } else {
            let fields: Vec<(&str, &str)> = fields.iter().map(|(name, text)| (*name, text.as_str())).collect();
            RUNTIME.block_on(YARD.post(&path, &fields))
        };
        prop_assert!(!answer.status.is_server_error(), "{} {:?}: {} {}", path, fields, answer.status, answer.body);
        let stored = matches!(answer.status, StatusCode::SEE_OTHER | StatusCode::CREATED);
        if !stored {
            prop_assert_eq!(YARD.snapshot().mark, before, "a refusal stored something");
        }
        // The book is whole, and the pages that show it still come.
        if stored {
            let farm = RUNTIME.block_on(YARD.get("/"));
            prop_assert_eq!(farm.status, StatusCode::OK);
        }
    }

    #[test]
    fn no_query_breaks_a_page(
        path in prop::sample::select(vec![
            "/", "/plots/new", "/samples/new", "/photos/new", "/import", "/settings", "/history", "/plots/PLOT",
        ]),
        fields in prop::collection::vec(("[a-z_]{1,9}", text()), 0..5),
    ) {
        let plot = YARD.snapshot().plots[0].id.to_string();
        let query: String = form_urlencoded::Serializer::new(String::new())
            .extend_pairs(fields.iter().map(|(name, text)| (name.as_str(), text.as_str())))
            .finish();
        let path = format!("{}?{query}", path.replace("PLOT", &plot));
        let answer = RUNTIME.block_on(YARD.get(&path));
        prop_assert_eq!(answer.status, StatusCode::OK, "{}", path);
    }
}
