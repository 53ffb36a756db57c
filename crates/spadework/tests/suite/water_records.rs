//! Weather, crops, plantings, watering and what was seen of the water, from the command line.

use std::path::Path;

use crate::common::{ok, run_in};
use serde_json::{Value, json};

/// What was recorded.
fn recorded(folder: &Path, arguments: &[&str]) -> Value {
    ok(folder, &[&["record"], arguments, &["--json"]].concat()).json()["recorded"]["body"].clone()
}

fn revisions(folder: &Path) -> Value {
    ok(folder, &["check", "a.farmbook", "--json"]).json()["revisions"].clone()
}

/// Refused at that field, and nothing was stored.
fn refused(folder: &Path, arguments: &[&str], field: &str) -> Value {
    let before = revisions(folder);
    let run = run_in(folder, &[arguments, &["--json"]].concat(), "");
    assert_eq!(run.code, 2, "{arguments:?}: {}", run.told());
    let error = run.json()["error"].clone();
    assert_eq!(error["field"], field, "{arguments:?}: {}", run.told());
    assert_eq!(revisions(folder), before, "{arguments:?}");
    error
}

/// A book with a plot and a bed; `new` makes it US customary unless told.
fn begun(folder: &Path) {
    ok(folder, &["new", "a.farmbook", "--name", "Long Furrow"]);
    ok(folder, &["record", "plot", "a.farmbook", "Lower field", "--length", "100ft", "--width", "40ft"]);
    let bed = ["record", "bed", "a.farmbook", "Lower field", "Rows", "--length", "50ft", "--width", "30in"];
    ok(folder, &bed);
}

#[test]
fn a_bed_is_planted_and_watered() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let rows = ["a.farmbook", "Lower field", "Rows"];
    let own =
        recorded(at, &["crop", "a.farmbook", "Paste tomato", "--based-on", "tomato", "--days", "30,,45,"]);
    assert_eq!(
        (&own["key"], &own["initial_days"], &own["development_days"]),
        (&json!("tomato"), &json!(30), &Value::Null)
    );
    let planting = recorded(
        at,
        &[
            &["planting"],
            &rows[..],
            &["paste tomato", "--on", "2026-05-20", "--how", "transplanted", "--harvest", "2026-09-15"],
            &["--mulch", "plastic", "--mulched", "80"],
        ]
        .concat(),
    );
    assert_eq!(planting["mulch"], json!({ "of": "plastic", "covered_percent": 80.0 }));
    assert!(planting["crop"]["farm_crop"].is_string(), "{planting}");
    let plain = recorded(at, &[&["planting"], &rows[..], &["lettuce", "--on", "2026-04-01"]].concat());
    assert_eq!(plain["crop"], json!({ "catalogue": "lettuce" }));

    // 5 US gallons are 18.927 058 92 L, by the gallon of 231 cubic inches.
    let supply = recorded(at, &["water-supply", "a.farmbook", "Well", "--flow", "5gpm", "--ec", "0.8"]);
    assert_eq!(supply["flow_l_min"], 18.9270589200);
    let tape = [
        &["watering-system"],
        &rows[..],
        &["drip-tape", "--flow", "0.5 gpm/100ft", "--lines", "2", "--supply", "well"],
    ];
    let system = recorded(at, &tape.concat());
    let flow = system["delivery"]["flow_l_h_per_m"].as_f64().unwrap();
    assert!((flow - 0.5 * 60.0 * 3.785_411_784 / 30.48).abs() < 1e-9, "{flow}");
    assert!(system["supply"].is_string());
    let watering =
        recorded(at, &[&["watering"], &rows[..], &["--minutes", "45", "--on", "2026-06-14"]].concat());
    assert_eq!(watering["amount"], json!({ "minutes": 45.0 }));
    let deep = recorded(at, &[&["watering"], &rows[..], &["--depth", "1/2in"]].concat());
    assert_eq!(deep["amount"], json!({ "depth_mm": 12.7 }));

    let late = ["--on", "2026-05-20", "--harvest", "2026-05-01"];
    refused(at, &[&["record", "planting"], &rows[..], &["lettuce"], &late].concat(), "harvest_on");
    refused(at, &["record", "planting", "a.farmbook", "Lower field", "Row", "lettuce"], "bed");
    refused(at, &[&["record", "watering-system"], &rows[..], &["hand", "--rate", "1in/h"]].concat(), "rate");
    refused(
        at,
        &[&["record", "watering-system"], &rows[..], &["drip-tape", "--flow", "5L/h/m"]].concat(),
        "lines",
    );
    refused(at, &["record", "crop", "a.farmbook", "Yacon"], "kc_initial");
    refused(at, &["record", "crop", "a.farmbook", "Yacon", "--days", "30,40"], "days");

    // In the lists, in the history and in the tables.
    let listed = ok(at, &["list", "a.farmbook", "--json"]).json();
    let titles: Vec<&str> =
        listed["records"].as_array().unwrap().iter().map(|one| one["title"].as_str().unwrap()).collect();
    for title in [
        "crop Paste tomato",
        "planting of lettuce, 1 April 2026",
        "water supply Well",
        "watering system, drip tape",
        "watering of 14 June 2026",
    ] {
        assert!(titles.contains(&title), "{title} in {titles:?}");
    }
    ok(at, &["export", "a.farmbook", "--csv", "tables"]);
    let table = std::fs::read_to_string(at.join("tables/plantings.csv")).unwrap();
    assert!(
        table.contains("Lower field") && table.contains("Rows") && table.contains("Paste tomato"),
        "{table}"
    );
}

#[test]
fn what_was_seen_of_the_water() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let field = ["a.farmbook", "Lower field"];
    let seen = |arguments: &[&str]| recorded(at, arguments)["seen"].clone();
    let moist = seen(
        &[&["moisture"], &field[..], &["--bed", "rows", "--depth", "4-12in", "--feel", "slightly-moist"]]
            .concat(),
    );
    assert_eq!(moist["reading"], json!({ "feel": "slightly_moist" }));
    // An inch is 2.54 cm by definition.
    assert_eq!((&moist["from_cm"], &moist["to_cm"]), (&json!(10.16), &json!(30.48)));
    assert!(moist["bed"].is_string());
    let tension = seen(&[&["moisture"], &field[..], &["--depth", "12in", "--tension", "30cb"]].concat());
    assert_eq!(tension["reading"], json!({ "tension_kpa": 30.0 }));
    let rings = seen(
        &[
            &["ring"],
            &field[..],
            &["--inside", "6in", "--ring", "1in,4min,12min", "--ring", "444mL,5,90min+"],
        ]
        .concat(),
    );
    assert_eq!(rings["inside_diameter_mm"], 152.4);
    assert_eq!(
        rings["rings"][0],
        json!({ "water": { "depth_mm": 25.4 }, "first_min": 4.0, "second_min": 12.0, "still_stood": false })
    );
    assert_eq!(
        (&rings["rings"][1]["water"], &rings["rings"][1]["still_stood"]),
        (&json!({ "volume_ml": 444.0 }), &json!(true))
    );
    let hole = seen(
        &[
            &["percolation"],
            &field[..],
            &["--fall", "1in", "--time", "12min", "--soaked", "--hole-depth", "24in"],
        ]
        .concat(),
    );
    assert_eq!(
        (&hole["fall_mm"], &hole["hole_depth_cm"], &hole["soaked"]),
        (&json!(25.4), &json!(60.96), &json!(true))
    );
    let two = [
        "--layer",
        "10in: loam, organic 3.5, normal",
        "--layer",
        "10-26in: sand 20, clay 45, density 1.5, note rusty, from 16 in",
    ];
    let layers = seen(&[&["layers"], &field[..], &two].concat());
    assert_eq!(
        (&layers["layers"][0]["class"], &layers["layers"][1]["from_cm"]),
        (&json!("loam"), &json!(25.4))
    );
    assert_eq!(layers["layers"][1]["note"], "rusty, from 16 in");

    let refuse = |what: &str, options: &[&str], at_field: &str| {
        refused(at, &[&["record", what], &field[..], options].concat(), at_field);
    };
    refuse("layers", &["--layer", "10in: gravelly"], "layer");
    refuse("layers", &["--layer", "0-10in", "--layer", "12-20in"], "seen.layers[1].from_cm");
    refuse("ring", &["--inside", "6in", "--ring", "1in"], "ring");
    refuse("ring", &["--inside", "6in", "--ring", "1mph,4min"], "ring");
    refuse("moisture", &["--depth", "8in", "--volumetric", "140"], "volumetric");
    refuse("moisture", &["--depth", "8in", "--feel", "wet", "--bed", "East"], "bed");

    // Told again in words.
    let history = ok(at, &["history", "a.farmbook"]).stdout;
    for words in ["soil moisture", "ring infiltration", "percolation test", "layers of the ground"] {
        assert!(history.contains(words), "{words} in {history}");
    }
}

#[test]
fn weather_comes_in_from_a_table() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    let import = |file: &str, options: &[&str]| -> Vec<String> {
        let start = ["import", "a.farmbook", "--weather", file, "--station", "Co-op station"];
        start.iter().chain(options).map(|text| (*text).to_owned()).collect()
    };
    let run = |arguments: &[String]| {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        run_in(at, &[&arguments[..], &["--json"]].concat(), "")
    };
    std::fs::write(
        at.join("june.csv"),
        "Date,Hi,Low (F),Precip (in),Moon\n06/01/2026,86,50,1,full\n06/04/2026,68,50,0,\n",
    )
    .unwrap();
    let open = run(&import("june.csv", &[]));
    assert_eq!((open.code, &open.json()["error"]["field"]), (2, &json!("dates")), "{}", open.told());
    let shown = run(&import("june.csv", &["--show-map"])).json();
    assert_eq!((&shown["date_order"], &shown["columns"][1]["column"]), (&Value::Null, &Value::Null));
    assert_eq!(shown["columns"][3], json!({ "heading": "Precip (in)", "column": "rain_mm", "unit": "in" }));
    let done =
        run(&import("june.csv", &["--dates", "month-first", "--map", "Hi=tmax_c:F", "--wind-height", "10m"]));
    assert_eq!(done.code, 0, "{}", done.told());
    let told = done.json();
    assert_eq!(told["gaps"], json!([{ "from": "2026-06-02", "to": "2026-06-03" }]));
    assert_eq!((&told["days"], &told["passed_over"]), (&json!(2), &json!(["Moon"])));
    // The same headings are read the same way, and the same table is not stored twice.
    let again = run(&import("june.csv", &["--wind-height", "10m"]));
    assert_eq!((again.code, &again.json()["known_already"]), (0, &json!(true)), "{}", again.told());

    std::fs::write(
        at.join("bad.csv"),
        "date,tmax_c,tmin_c,rh_mean_percent\n2026-06-01,10,12,60\n2026-06-02,20,10,140\n",
    )
    .unwrap();
    let before = revisions(at);
    let bad = run(&import("bad.csv", &[]));
    assert_eq!(bad.code, 2, "{}", bad.told());
    let words = bad.told();
    assert!(words.contains("line 2") && words.contains("tmax_c") && words.contains("line 3"), "{words}");
    assert_eq!(revisions(at), before);
    for (option, part) in [
        ("Hi", "equals"),
        ("Hi=colour", "colour"),
        ("Hi=tmax_c:mm", "highest temperature"),
        ("Ho=tmax_c:F", "no column"),
    ] {
        let wrong = run(&import("june.csv", &["--map", option]));
        assert_eq!((wrong.code, &wrong.json()["error"]["field"]), (2, &json!("map")), "{}", wrong.told());
        assert!(wrong.told().contains(part), "{}", wrong.told());
    }
    let columns = ok(at, &["import", "--weather-columns"]).stdout;
    assert!(columns.contains("radiation_mj_m2_d") && columns.contains("Ly/d"), "{columns}");

    // A day typed in; 82 °F is 27.777... °C.
    let day = recorded(
        at,
        &[
            "weather",
            "a.farmbook",
            "Farm gauge",
            "--on",
            "2026-06-02",
            "--tmax",
            "82F",
            "--tmin",
            "58",
            "--rain",
            "0.4in",
            "--wind",
            "5mph",
        ],
    );
    let day = &day["days"][0];
    assert!((day["tmax_c"].as_f64().unwrap() - 250.0 / 9.0).abs() < 1e-9);
    assert_eq!((&day["rain_mm"], &day["wind_m_s"]), (&json!(10.16), &json!(2.2352)));
    let upside = refused(
        at,
        &["record", "weather", "a.farmbook", "Farm gauge", "--tmax", "50", "--tmin", "60"],
        "tmax",
    );
    let message = upside["message"].as_str().unwrap();
    assert!(message.contains("50 °F") && message.contains("60 °F"), "in the units typed: {message}");
    refused(at, &["record", "weather", "a.farmbook", "Farm gauge"], "");

    let rows: String = (1..=12).map(|month| format!("{month},{},{},60\n", 10 + month, month)).collect();
    std::fs::write(at.join("usual.csv"), format!("month,tmax_c,tmin_c,rain_mm\n{rows}")).unwrap();
    let normals = recorded(at, &["normals", "a.farmbook", "usual.csv", "--source", "County station"]);
    assert_eq!(normals["months"][6]["tmax_c"], 17.0);
    std::fs::write(at.join("short.csv"), "month,tmax_c,tmin_c,rain_mm\n1,2,1,60\n").unwrap();
    assert_eq!(run_in(at, &["record", "normals", "a.farmbook", "short.csv"], "").code, 2);
    ok(at, &["export", "a.farmbook", "--csv", "tables"]);
    let days = std::fs::read_to_string(at.join("tables/weather_days.csv")).unwrap();
    assert_eq!(days.lines().count(), 4, "{days}");
}

#[test]
fn a_farm_and_a_plot_say_what_the_weather_needs() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    begun(at);
    ok(at, &["settings", "a.farmbook", "--elevation", "-20m", "--coastal", "yes", "--arid", "no"]);
    let settings = ok(at, &["correct", "a.farmbook", "farm", "--show"]).json();
    assert_eq!(
        (&settings["elevation_m"], &settings["coastal"], &settings["arid"]),
        (&json!(-20.0), &json!(true), &json!(false))
    );
    refused(at, &["settings", "a.farmbook", "--elevation", "9000m"], "elevation");
    refused(at, &["settings", "a.farmbook", "--coastal", "perhaps"], "coastal");
    let tunnel =
        ["plot", "a.farmbook", "Tunnel", "--length", "96ft", "--width", "30ft", "--place", "high-tunnel"];
    let plot = recorded(at, &[&tunnel[..], &["--cover-factor", "0.6,0.7,0.8", "--shaded"]].concat());
    assert_eq!(
        plot["cover"],
        json!({ "et0_factor": { "low": 0.6, "likely": 0.7, "high": 0.8 }, "shaded": true })
    );
    let open = ["record", "plot", "a.farmbook", "Open", "--area", "1ac"];
    refused(at, &[&open[..], &["--shaded"]].concat(), "cover");
    refused(at, &[&open[..], &["--cover-factor", "0.7"]].concat(), "cover-factor");
}
