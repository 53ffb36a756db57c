//! Whatever is posted to whichever form of evidence: never a failure of the program, never half a record.

use std::sync::LazyLock;

use axum::http::{Method, StatusCode};
use proptest::prelude::*;
use tokio::runtime::Runtime;

use super::{ABOUT, Bench};

static RUNTIME: LazyLock<Runtime> = LazyLock::new(|| Runtime::new().expect("threads"));

/// One farm for all cases, with a jar that settles and a feel test to correct.
static BENCH: LazyLock<(Bench, String, String)> = LazyLock::new(|| {
    RUNTIME.block_on(async {
        let bench = Bench::us().await;
        let jar = [("water_height", "7 1/4"), ("dispersant", "none"), ("shape", "straight"), ("ago", "1 d")];
        bench.record("timed-jar", &jar).await;
        let jar = bench.latest().id.to_string();
        bench.record("feel", &[("ball_holds", "no"), ("hand", "new")]).await;
        let feel = bench.latest().id.to_string();
        (bench, jar, feel)
    })
});

/// Every field of the forms of evidence, from the app's own description of itself.
static NAMES: LazyLock<Vec<String>> = LazyLock::new(|| {
    let mut names: Vec<String> = web::pages::record::ROUTES
        .iter()
        .flat_map(|route| route.fields)
        .map(|field| field.name.to_owned())
        .collect();
    names.extend(["reason", "look", "after_1", "top_1", "after_2", "top_2"].map(str::to_owned));
    names.sort();
    names.dedup();
    names
});

/// Answers of every field with fixed ones, so that forms come near to being accepted.
static ANSWERS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let fields = web::pages::record::ROUTES.iter().flat_map(|route| route.fields);
    fields.flat_map(|field| field.choices()).map(|choice| choice.value.to_owned()).collect()
});

fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        prop::sample::select(vec![
            "",
            "2 3/16 in",
            "not seen",
            "1 1/8 to 1 1/4 in",
            "40",
            "0",
            "-1",
            "1e400",
            "NaN",
            "2 h",
            "45 s",
            "68 F",
            "plot",
            "new",
            "true",
            "2026-05-20",
            "2026-02-30",
            "2026-05-20T08:00:30Z",
            "1",
            "4294967296",
            "\0",
            "<b>",
        ])
        .prop_map(str::to_owned),
        (0..ANSWERS.len()).prop_map(|at| ANSWERS[at].clone()),
        any::<String>(),
        "[0-9]{1,4}( [0-9]/[0-9])? ?(in|mm|cm|g|%|min)?",
    ]
}

fn path() -> impl Strategy<Value = String> {
    let kinds = super::kinds::KINDS.map(|kind| format!("/plots/PLOT/record/{kind}"));
    let others = [
        "/records/JAR/jar/mark",
        "/records/JAR/jar/heights",
        "/records/JAR/jar/finish",
        "/records/JAR/correct",
        "/records/FEEL/correct",
    ]
    .map(str::to_owned);
    prop::sample::select(kinds.into_iter().chain(others).collect::<Vec<_>>())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, ..ProptestConfig::default() })]

    #[test]
    fn no_form_body_breaks_a_recording(
        path in path(),
        fields in prop::collection::vec(((0..NAMES.len()).prop_map(|at| NAMES[at].clone()), text()), 0..18),
        about in any::<bool>(),
        face in 0..3_u8,
    ) {
        let (bench, jar, feel) = &*BENCH;
        let path = path.replace("PLOT", &bench.plot.to_string()).replace("JAR", jar).replace("FEEL", feel);
        let mut fields = fields;
        if about {
            fields.extend(ABOUT.map(|(name, text)| (name.to_owned(), text.to_owned())));
        }
        let before = bench.yard.snapshot();
        let typed: Vec<(&str, &str)> = fields.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        let answer = match face {
            0 => RUNTIME.block_on(bench.yard.post(&path, &typed)),
            1 => {
                let object: serde_json::Map<String, serde_json::Value> =
                    fields.iter().map(|(name, text)| (name.clone(), text.clone().into())).collect();
                let headers = [("content-type", "application/json")];
                let body = serde_json::to_vec(&object).expect("an object");
                RUNTIME.block_on(bench.yard.send(Method::POST, &format!("/api{path}"), &headers, body))
            }
            // The live look takes the same fields; where there is none, 404 is right.
            _ => RUNTIME.block_on(bench.yard.post(&format!("/api{path}/preview"), &typed)),
        };
        prop_assert!(!answer.status.is_server_error(), "{} {:?}: {} {}", path, fields, answer.status, answer.body);
        let after = bench.yard.snapshot();
        let stored = matches!(answer.status, StatusCode::SEE_OTHER | StatusCode::CREATED);
        if stored {
            // One reading, with its bag at most: never a bag alone.
            let new = after.observations.len() - before.observations.len();
            let bags = after.samples.len() - before.samples.len();
            prop_assert!(bags <= 1 && new <= 1);
            prop_assert!(bags == 0 || after.observations.iter().any(|held| held.body.sample == after.samples.last().map(|bag| bag.id)));
            let plot = RUNTIME.block_on(bench.yard.get(&format!("/plots/{}", bench.plot)));
            prop_assert_eq!(plot.status, StatusCode::OK);
        } else {
            prop_assert_eq!(after.mark, before.mark, "a refusal stored something");
        }
    }

    #[test]
    fn no_query_breaks_a_form(
        path in prop::sample::select(super::kinds::KINDS.to_vec()),
        fields in prop::collection::vec(((0..NAMES.len()).prop_map(|at| NAMES[at].clone()), text()), 0..5),
    ) {
        let (bench, ..) = &*BENCH;
        let query: String = form_urlencoded::Serializer::new(String::new())
            .extend_pairs(fields.iter().map(|(name, text)| (name.as_str(), text.as_str())))
            .finish();
        let answer = RUNTIME.block_on(bench.yard.get(&format!("{}?{query}", bench.form(path))));
        prop_assert!(answer.status.is_success() || answer.status == StatusCode::UNPROCESSABLE_ENTITY, "{} {query}", path);
    }
}
