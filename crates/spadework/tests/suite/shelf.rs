//! `record material`, `record stock`, `shelf`, `spread` and `buying`: what is printed, and what is refused.

use crate::common::run_in;

fn farm() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    advice::demo::create(folder.path().join("farm.farmbook")).expect("the demonstration is written");
    folder
}

#[test]
fn a_material_is_put_on_the_shelf_and_bought() {
    let folder = farm();
    let run = |arguments: &[&str]| run_in(folder.path(), arguments, "");
    let put = run(&[
        "record",
        "material",
        "farm.farmbook",
        "Kelp, 25 lb",
        "--key",
        "kelp-meal",
        "--bag",
        "25lb",
        "--price",
        "60",
        "--organic",
        "yes",
    ]);
    assert_eq!(put.code, 0, "{}", put.told());
    let bought = run(&["record", "stock", "farm.farmbook", "Kelp, 25 lb", "bought", "50lb"]);
    assert_eq!(bought.code, 0, "{}", bought.told());
    let shelf = run(&["shelf", "farm.farmbook", "--json"]).json();
    let kelp =
        shelf.as_array().expect("lines").iter().find(|line| line["name"] == "Kelp, 25 lb").expect("kelp");
    assert!((kelp["in_hand_kg"].as_f64().expect("a mass") - 22.68).abs() < 0.01, "{kelp}");
    assert_eq!(kelp["pack_words"], "bag of 25 lb");
}

#[test]
fn unknown_keys_names_and_prices_are_answered_with_the_nearest() {
    let folder = farm();
    let run = |arguments: &[&str]| run_in(folder.path(), arguments, "");
    let key = run(&["record", "material", "farm.farmbook", "X", "--key", "fether-meal"]);
    assert!(key.code != 0 && key.said("feather-meal"), "{}", key.told());
    let name = run(&["record", "stock", "farm.farmbook", "Ureea", "bought", "50lb"]);
    assert!(name.code != 0 && name.said("Urea"), "{}", name.told());
    let price = run(&["record", "material", "farm.farmbook", "X", "--price", "cheap"]);
    assert!(price.code != 0 && price.said("is not a price"), "{}", price.told());
}

#[test]
fn the_plan_and_the_list_are_printed() {
    let folder = farm();
    let run = |arguments: &[&str]| run_in(folder.path(), arguments, "");
    let spread = run(&["spread", "farm.farmbook", "--on", "2026-05-21"]);
    assert_eq!(spread.code, 0, "{}", spread.told());
    assert!(spread.stdout.contains("[ ] "), "{}", spread.stdout);
    assert!(spread.stdout.contains("Caution:"), "{}", spread.stdout);
    let buying = run(&["buying", "farm.farmbook", "--on", "2026-05-21", "--aim", "p80"]);
    assert!(buying.stdout.contains("In all:"), "{}", buying.told());
    let many = run(&["spread", "farm.farmbook", "--materials", "40"]);
    assert!(many.code != 0 && many.said("1 to 12"), "{}", many.told());
}
