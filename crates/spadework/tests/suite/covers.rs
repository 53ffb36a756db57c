//! Covers from the command line: written down, ended, told and chosen.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::Demo;

#[test]
fn a_cover_is_recorded_and_ended_and_its_nitrogen_told() {
    let farm = Demo::new();
    let sown = farm.ok(&[
        "record",
        "cover",
        "a.farmbook",
        "creek field",
        "herb bed",
        "oats=70lb/acre",
        "hairy vetch",
        "--on",
        "2026-08-10",
    ]);
    assert!(sown.stdout.contains("spring oats and hairy vetch"), "{}", sown.stdout);
    let ended = farm.ok(&[
        "record",
        "cover-end",
        "a.farmbook",
        "creek field",
        "herb bed",
        "turned_in",
        "--on",
        "2026-11-01",
        "--stage",
        "before_bloom",
        "--height",
        "18 in",
        "--covered",
        "100%",
        "--json",
    ]);
    assert_eq!(ended.json()["recorded"]["body"]["ended"]["how"], "turned_in");
    let told = farm.ok(&["covers", "a.farmbook", "--on", "2026-11-10"]);
    assert!(told.stdout.contains("Spring oats and hairy vetch, ended 1 November 2026"), "{}", told.stdout);
    // None stands there any more.
    let again = farm.run(&[
        "record",
        "cover-end",
        "a.farmbook",
        "creek field",
        "herb bed",
        "mown",
        "--on",
        "2026-11-02",
    ]);
    assert!(again.code != 0 && again.stderr.contains("no cover stood"), "{}", again.told());
    let unknown = farm.run(&["record", "cover", "a.farmbook", "creek field", "herb bed", "moon clover"]);
    assert!(unknown.code != 0 && unknown.stderr.contains("clover-"), "{}", unknown.told());
}

#[test]
fn a_cover_is_chosen_with_its_reasons() {
    let farm = Demo::new();
    let base = [
        "cover-choice",
        "a.farmbook",
        "creek field",
        "trial bed",
        "--from",
        "2027-08-01",
        "--to",
        "2027-09-16",
        "--purpose",
        "cover-quickly,smother",
    ];
    let plain = farm.ok(&base);
    for part in [
        "Buckwheat",
        "For it:",
        "Seed:",
        "of live seed",
        "Serves: ",
        "Ruled out",
        "Take care",
        "What was taken",
        "Recalled and not read again",
    ] {
        let told = plain.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains(part.trim()), "no {part}: {}", plain.stdout);
    }
    let json = farm.run(&[&base[..], &["--json"]].concat()).json();
    assert_eq!(json["gap"]["days"], 46);
    assert_eq!(json["covers"].as_array().map(Vec::len), Some(35));
    let purpose =
        farm.run(&["cover-choice", "a.farmbook", "creek field", "trial bed", "--purpose", "moonlight"]);
    assert!(purpose.code != 0 && purpose.stderr.contains("hold-nitrogen"), "{}", purpose.told());
    let short = farm.run(&[
        "cover-choice",
        "a.farmbook",
        "creek field",
        "trial bed",
        "--from",
        "2027-08-01",
        "--to",
        "2027-08-03",
    ]);
    assert!(short.code != 0 && short.stderr.contains("7 to 730"), "{}", short.told());
}

#[test]
fn what_a_farm_ends_covers_with_is_a_setting() {
    let farm = Demo::new();
    let kept = farm.ok(&[
        "settings",
        "a.farmbook",
        "--cover-endings",
        "mow, cover up",
        "--grazing",
        "horses",
        "--winter-low",
        "-10F",
    ]);
    assert!(kept.stdout.contains("covering up") && kept.stdout.contains("horses"), "{}", kept.stdout);
    let wrong = farm.run(&["settings", "a.farmbook", "--cover-endings", "burn"]);
    assert!(wrong.code != 0 && wrong.stderr.contains("crimp-at-bloom"), "{}", wrong.told());
}
