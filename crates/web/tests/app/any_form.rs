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

/// Names of the fields of the farm's forms, from the app's own description of itself.
static NAMES: LazyLock<Vec<&'static str>> = LazyLock::new(|| {
    let lists = [web::pages::things::ROUTES, web::pages::settings::ROUTES, web::pages::weather::ROUTES];
    let mut names: Vec<&str> =
        lists.iter().copied().flatten().flat_map(|route| route.fields).map(|field| field.name).collect();
    names.extend(["caption", "reason", "from_number", "table", "take", "column_0", "column_1"]);
    names.sort_unstable();
    names.dedup();
    names
});

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
            "drip_tape",
            "0.45 gpm/100 ft",
            "sown",
            "date,tmax_f,rain_in\n2026-06-01,80,0",
            "date,tmax_c\n2026-06-01,80",
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
        "/plantings/new",
        "/crops/new",
        "/cover-crops/new",
        "/water-supplies/new",
        "/watering-systems/new",
        "/waterings/new",
        "/weather/normals/new",
        "/weather/days/new",
        "/weather/import",
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
        fields in prop::collection::vec(((0..NAMES.len()).prop_map(|at| NAMES[at]), text()), 0..14),
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
            "/plantings/new", "/waterings/new", "/covers", "/cover-crops/new", "/weather", "/weather/days/new", "/weather/import",
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
