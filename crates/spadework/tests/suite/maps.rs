//! Maps and zones from the command line.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use crate::common::run_in;

#[test]
fn a_map_is_told_printed_and_parted() {
    let folder = tempfile::tempdir().unwrap();
    drop(advice::demo::create(folder.path().join("a.farmbook")).unwrap());
    let run = |args: &[&str]| run_in(folder.path(), args, "");
    let map = run(&["map", "a.farmbook", "ph", "long pasture"]);
    assert_eq!(map.code, 0, "{}", map.told());
    let told = map.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("kriged surface") && told.contains("64 more readings"), "{told}");
    let json = run(&["map", "a.farmbook", "organic-matter", "long pasture", "--json"]).json();
    assert_eq!(json["at_places"].as_array().unwrap().len(), 36);
    let odd = run(&["map", "a.farmbook", "hp"]);
    assert!(odd.code != 0 && odd.said("nothing that can be mapped"), "{}", odd.told());
    let zones = run(&["zones", "a.farmbook", "ph", "long pasture", "--count", "2", "--accept"]);
    assert_eq!(zones.code, 0, "{}", zones.told());
    assert!(zones.stdout.contains("2 plots were made"), "{}", zones.told());
    let joined = run(&["zones", "a.farmbook", "ph", "long pasture", "--join"]);
    assert!(
        joined.stdout.split_whitespace().collect::<Vec<_>>().join(" ").contains("one plot again"),
        "{}",
        joined.told()
    );
    let none = run(&["zones", "a.farmbook", "infiltration", "long pasture"]);
    assert!(none.code != 0 && none.said("nothing smooth"), "{}", none.told());
    let print = run(&["print", "map", "a.farmbook", "ph", "long pasture", "--out", "map.pdf"]);
    assert_eq!(print.code, 0, "{}", print.told());
    assert!(std::fs::read(folder.path().join("map.pdf")).unwrap().starts_with(b"%PDF"));
}

#[test]
fn a_bag_from_one_place_is_mapped_and_a_place_that_is_none_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let ok = |args: &[&str]| {
        let run = run_in(folder.path(), args, "");
        assert_eq!(run.code, 0, "{args:?}: {}", run.told());
        run
    };
    ok(&["new", "a.farmbook", "--name", "Long Furrow"]);
    ok(&["record", "plot", "a.farmbook", "Lower field", "--length", "100ft", "--width", "40ft"]);
    for (label, at, percent) in [("A", "30 ft, 20 ft", "2.1"), ("B", "60 ft, 25 ft", "2.9")] {
        ok(&["record", "sample", "a.farmbook", "Lower field", "--to", "6in", "--label", label, "--at", at]);
        let percent = format!("percent={percent}");
        let seen = ["record", "seen", "a.farmbook", "Lower field", "--sample", label];
        let set = ["--set", "what=organic_matter", "--set", &percent, "--set", "method=loss_on_ignition"];
        ok(&[&seen[..], &set[..]].concat());
    }
    let map = ok(&["map", "a.farmbook", "organic-matter", "Lower field", "--json"]).json();
    let places = map["at_places"].as_array().unwrap();
    assert_eq!((places.len(), map["shown"].as_str()), (2, Some("points_only")), "{map}");
    assert!((places[0]["at"][0].as_f64().unwrap() - 60.0 * 0.3048).abs() < 1e-9, "{map}");
    let text = ok(&["map", "a.farmbook", "organic-matter"]).stdout;
    assert!(text.contains("Lower field: 2.5 %") && text.contains("Not drawn on the plan"), "{text}");
    let lime = ok(&["map", "a.farmbook", "lime-need"]).stdout;
    assert!(lime.contains("its acidity was not tested"), "{lime}");
    let wrong = ["record", "sample", "a.farmbook", "Lower field", "--to", "6in", "--at", "by the gate"];
    let wrong = run_in(folder.path(), &wrong, "");
    assert!(wrong.code != 0 && wrong.said("no place on the plan") && wrong.said("--at"), "{}", wrong.told());
}
