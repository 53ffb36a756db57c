//! Posts and earthworks, from the command line.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::{demo, run_in};

#[test]
fn the_posts_of_a_planned_tunnel_are_told_and_given_as_json() {
    let folder = demo();
    let plain = run_in(folder.path(), &["posts", "a.farmbook", "new tunnel"], "");
    assert_eq!(plain.code, 0, "{}", plain.told());
    for part in ["Take care", "buried services", "licensed", "permit", "mph", "How deep", "Concrete"] {
        assert!(plain.stdout.contains(part), "no {part}: {}", plain.stdout);
    }
    let json = run_in(folder.path(), &["posts", "a.farmbook", "new tunnel", "--json"], "").json();
    // The twin of the page: the same report.
    assert_eq!(json["lets_go"].as_array().unwrap().len(), 3);
    let deeper =
        run_in(folder.path(), &["posts", "a.farmbook", "new tunnel", "--depth", "6 ft", "--json"], "").json();
    let odds = |json: &serde_json::Value| json["depths"][0]["suffices"].as_f64().unwrap();
    assert!(odds(&deeper) > odds(&json), "{} against {}", odds(&deeper), odds(&json));
}

#[test]
fn a_post_on_a_plot_and_earthworks_are_told_and_bad_sizes_refused_by_name() {
    let folder = demo();
    let post =
        ["posts", "a.farmbook", "--plot", "sand knoll", "--load", "200 lb", "--above", "4 ft", "--json"];
    let json = run_in(folder.path(), &post, "").json();
    assert_eq!(json["depths"].as_array().unwrap().len(), 1);
    // A load says nothing of the post that carries it.
    assert_eq!(json["post_given"], false);
    let wide = run_in(folder.path(), &[&post[..], &["--post-width", "4in"]].concat(), "").json();
    assert_eq!(wide["post_given"], true);
    let refused = run_in(folder.path(), &["posts", "a.farmbook", "new tunnel", "--depth", "9 furlongs"], "");
    assert!(refused.code != 0 && refused.said("depth"), "{}", refused.told());
    let unknown = run_in(folder.path(), &["posts", "a.farmbook", "moon base"], "");
    assert!(unknown.code != 0 && unknown.said("no structure is called"), "{}", unknown.told());
    let earth =
        run_in(folder.path(), &["earthworks", "a.farmbook", "sand knoll", "--trench-depth", "6 ft"], "");
    assert_eq!(earth.code, 0, "{}", earth.told());
    assert!(
        earth.stdout.contains("unsupported trench") && earth.stdout.contains("An access track"),
        "{}",
        earth.told()
    );
}

#[test]
fn a_structure_and_ground_to_build_on_are_recorded_and_printed() {
    let folder = demo();
    let run = |arguments: &[&str]| run_in(folder.path(), arguments, "");
    let ground = run(&[
        "record",
        "building-ground",
        "a.farmbook",
        "sand knoll",
        "--tilled-to",
        "8 in",
        "--dry-to",
        "5 ft",
    ]);
    assert_eq!(ground.code, 0, "{}", ground.told());
    let fence = [
        "record",
        "structure",
        "a.farmbook",
        "Knoll fence",
        "--kind",
        "fence",
        "--plot",
        "sand knoll",
        "--planned",
        "--length",
        "300ft",
        "--height",
        "8ft",
        "--spacing",
        "15ft",
        "--wires",
        "6",
        "--wire-pull",
        "200lb",
        "--brace",
        "two-posts",
        "--brace-span",
        "8ft",
        "--deer",
        "--set",
        "driven",
        "--post-width",
        "4in",
        "--depth",
        "3ft",
    ];
    let fence = run(&fence);
    assert_eq!(fence.code, 0, "{}", fence.told());
    let json = run(&["posts", "a.farmbook", "knoll fence", "--json"]).json();
    // Statics by hand: 6 × 200 lb at 4 ft over 8 ft lift the end post by 600 lb, 2.669 kN.
    let up = json["ends"]["statics"]["end_post_uplift_kn"].as_f64().unwrap();
    assert!((up - 2.669).abs() < 0.002, "{up}");
    assert_eq!(json["ground"]["top_given"], true);
    let narrow = run(&[
        "record",
        "structure",
        "a.farmbook",
        "X",
        "--kind",
        "fence",
        "--set",
        "collar",
        "--collar",
        "2in",
    ]);
    assert!(narrow.code != 0 && narrow.said("--collar"), "{}", narrow.told());
    let printed = run(&["print", "posts", "a.farmbook", "knoll fence", "--out", "posts.pdf"]);
    assert_eq!(printed.code, 0, "{}", printed.told());
    assert!(folder.path().join("posts.pdf").metadata().unwrap().len() > 5_000);
    let kept = run(&["settings", "a.farmbook", "--design-wind", "none", "--frost-depth", "48in"]);
    assert_eq!(kept.code, 0, "{}", kept.told());
}
