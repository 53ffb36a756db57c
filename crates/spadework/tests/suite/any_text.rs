//! Whatever is typed, the program ends by itself with a documented code and, asked for JSON, prints JSON.

use crate::common::run;
use proptest::prelude::*;

/// Text that a process can be given: no NUL.
fn text() -> impl Strategy<Value = String> {
    let measures = prop::sample::select(vec![
        "7/8in",
        "1 to 2 in",
        "?",
        "55mm",
        "1min=7/8in",
        "1/0",
        "-3",
        "1e999",
        "40",
        "yes",
        "none",
        "0in=2in",
        "",
        "sand_percent=40",
        "marks[3].top=1",
        "68F",
        "2 lb",
        "½\"",
    ]);
    prop_oneof![measures.prop_map(str::to_owned), "[^\u{0}]{0,12}"]
}

/// Flags of the commands that touch no file.
fn arguments() -> impl Strategy<Value = Vec<String>> {
    let jar = vec![
        "--sand",
        "--silt",
        "--clay",
        "--sand-top",
        "--silt-top",
        "--clay-top",
        "--mark",
        "--ruler",
        "--water-height",
        "--water-temperature",
        "--float",
        "--width",
        "--fill",
    ];
    let of = |command: &'static str, flags: Vec<&'static str>| {
        prop::collection::vec((prop::sample::select(flags), text()), 0..6).prop_map(move |pairs| {
            let mut words = vec![command.to_owned(), "--json".to_owned()];
            words.extend(pairs.into_iter().map(|(flag, value)| format!("{flag}={value}")));
            words
        })
    };
    let texture = prop::collection::vec(text(), 0..4).prop_map(|shares| {
        [vec!["texture".to_owned(), "--json".to_owned(), "--".to_owned()], shares].concat()
    });
    let method = prop::sample::select(vec![
        "texture-class",
        "jar-test",
        "settling-time",
        "soil-water",
        "convert-measure",
    ]);
    let calc = (method, prop::collection::vec(text(), 1..4)).prop_map(|(method, pairs)| {
        let mut words = vec!["calc".to_owned(), method.to_owned(), "--json".to_owned()];
        words.extend(pairs.into_iter().map(|pair| format!("--set={pair}")));
        words
    });
    prop_oneof![
        of("jar", jar),
        of("feel", vec!["--ball", "--ribbon", "--rub", "--hand"]),
        of("when", vec!["--water-height", "--water-temperature", "--soil-height"]),
        texture,
        calc,
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_arguments_make_it_panic(arguments in arguments()) {
        let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let ended = run(&words);
        prop_assert!((0..=4).contains(&ended.code), "{arguments:?}: {}", ended.told());
        let answer: serde_json::Value = serde_json::from_str(&ended.stdout)
            .map_err(|error| TestCaseError::fail(format!("{arguments:?}: {error}: {}", ended.told())))?;
        prop_assert_eq!(ended.code == 0, answer.get("error").is_none());
        if let Some(error) = answer.get("error") {
            for part in ["field", "message", "given", "accepted", "example"] {
                prop_assert!(error.get(part).is_some_and(serde_json::Value::is_string));
            }
        }
    }
}
