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
