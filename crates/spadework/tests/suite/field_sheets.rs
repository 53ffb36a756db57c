//! Sheets for the field from the command line, and results that come back from it.

use crate::common::{Run, demo, run_in};

fn plan_of(folder: &std::path::Path) -> String {
    let made = run_in(
        folder,
        &[
            "record",
            "sampling",
            "a.farmbook",
            "Lower clay",
            "--bags",
            "3",
            "--seed",
            "3",
            "--name",
            "Spring, \"low\" end",
            "--json",
        ],
        "",
    );
    assert_eq!(made.code, 0, "{}", made.told());
    made.json()["recorded"]["id"].as_str().expect("an id").to_owned()
}

#[test]
fn every_sheet_for_the_field_is_a_pdf() {
    let folder = demo();
    let plan = plan_of(folder.path());
    let jar = ["--jar-height", "6 1/2in", "--water-height", "6in", "--water-temperature", "68F"];
    let cases: [(&str, Vec<&str>); 9] = [
        ("field-sheet", vec!["a.farmbook", "--plan", &plan]),
        ("field-sheet", vec!["a.farmbook", "--plan", "spring, \"low\" end", "--paper", "a4"]),
        (
            "labels",
            vec![
                "a.farmbook",
                "--plan",
                "Lower clay",
                "--stock",
                "a4-3x8",
                "--start",
                "24",
                "--day",
                "2026-04-12",
            ],
        ),
        ("labels", vec!["a.farmbook", "--plan", &plan, "--edges"]),
        ("jar-strip", jar.to_vec()),
        ("jar-strip", [&["a.farmbook"], &jar[..], &["--soil-height", "1 1/2in"]].concat()),
        ("feel-card", vec!["--units", "metric"]),
        ("probe-form", vec!["a.farmbook", "--plan", &plan]),
        ("probe-form", vec![]),
    ];
    for (at, (sheet, arguments)) in cases.iter().enumerate() {
        let out = format!("{sheet}-{at}.pdf");
        let all = [&["print", sheet], &arguments[..], &["--out", &out, "--json"]].concat();
        let made = run_in(folder.path(), &all, "");
        assert_eq!(made.code, 0, "{all:?}: {}", made.told());
        let bytes = std::fs::read(folder.path().join(&out)).expect("it is there");
        // The header of every PDF file (ISO 32000-2, 7.5.2).
        assert!(bytes.starts_with(b"%PDF-1."), "{all:?}");
        assert_eq!(made.json()["bytes"].as_u64(), Some(bytes.len() as u64));
        let again = run_in(folder.path(), &all, "");
        assert_eq!(again.code, 2, "nothing is written over: {}", again.told());
    }
}

#[test]
fn a_plan_is_told_from_its_corner_and_kept_once() {
    let folder = demo();
    let plan = plan_of(folder.path());
    let told = run_in(folder.path(), &["sampling", "a.farmbook", "--plan", &plan], "").told();
    for part in ["along", "across", "from A, the "] {
        assert!(told.contains(part), "no {part}: {told}");
    }
    let ask = ["record", "sampling", "a.farmbook", "Lower clay", "--bags", "3", "--seed", "3"];
    let twice = run_in(folder.path(), &ask, "");
    assert_eq!(twice.code, 2, "{}", twice.told());
    assert!(twice.told().contains("kept already") && twice.told().contains(&plan), "{}", twice.told());
    let again = ["sampling", "a.farmbook", "Lower clay", "--design", "repeat", "--repeats", &plan, "--json"];
    let again = run_in(folder.path(), &again, "").json();
    assert_eq!(again["numbers"]["bags"], 3, "{again}");
    let beds = run_in(folder.path(), &["sampling", "a.farmbook", "Creek field", "--in-beds"], "");
    assert!(beds.code == 0 && beds.told().contains("in the drawn beds alone"), "{}", beds.told());
}

#[test]
fn bags_in_the_book_get_labels_without_a_plan() {
    let folder = demo();
    let record = |label: &str| {
        let made = run_in(
            folder.path(),
            &["record", "sample", "a.farmbook", "Lower clay", "--to", "8in", "--label", label],
            "",
        );
        assert_eq!(made.code, 0, "{}", made.told());
    };
    record("LC-71");
    record("LC-72");
    let print = |arguments: &[&str], out: &str| {
        let all = [&["print", "labels", "a.farmbook"], arguments, &["--out", out, "--json"]].concat();
        run_in(folder.path(), &all, "")
    };
    let both = print(&["--plot", "Lower clay"], "both.pdf");
    assert_eq!(both.code, 0, "{}", both.told());
    assert!(both.json()["sheet"].as_str().expect("what it is").starts_with("labels (2, "), "{}", both.told());
    let one = print(&["--plot", "Lower clay", "--sample", "lc-72"], "one.pdf");
    assert!(one.json()["sheet"].as_str().expect("what it is").starts_with("labels (1, "), "{}", one.told());

    let tell = |arguments: &[&str]| {
        let all = [&["print", "labels", "a.farmbook"], arguments, &["--out", "x.pdf"]].concat();
        run_in(folder.path(), &all, "")
    };
    let unknown = tell(&["--plot", "Lower clay", "--sample", "LC-7"]);
    assert_eq!(unknown.code, 2, "{}", unknown.told());
    assert!(unknown.said("LC-71"), "{}", unknown.told());
    let no_day = tell(&["--plot", "Lower clay", "--day", "1999-01-01"]);
    assert!(no_day.code == 2 && no_day.said("--day"), "{}", no_day.told());
    let neither = tell(&[]);
    assert!(neither.code == 2 && neither.said("--plan"), "{}", neither.told());
    assert!(!folder.path().join("x.pdf").exists());
}

#[test]
fn sheets_that_cannot_be_are_refused_at_their_option() {
    let folder = demo();
    let tell = |arguments: &[&str]| -> Run {
        run_in(folder.path(), &[&["print"], arguments, &["--out", "x.pdf"]].concat(), "")
    };
    let cases: [(&[&str], &str); 6] = [
        (&["field-sheet", "a.farmbook", "--plan", "no such plan"], "Lower clay, two bags"),
        (&["labels", "a.farmbook", "--plan", "Lower clay", "--start", "31"], "--start"),
        (&["labels", "a.farmbook", "--plan", "Lower clay", "--stock", "napkin"], "letter-3x10"),
        (
            &["jar-strip", "--jar-height", "20in", "--water-height", "6in", "--water-temperature", "68F"],
            "--jar-height",
        ),
        (
            &["jar-strip", "--jar-height", "6in", "--water-height", "7in", "--water-temperature", "68F"],
            "--water-height",
        ),
        (
            &["jar-strip", "--jar-height", "tall", "--water-height", "5in", "--water-temperature", "68F"],
            "--jar-height",
        ),
    ];
    for (arguments, said) in cases {
        let refused = tell(arguments);
        assert_eq!(refused.code, 2, "{arguments:?}: {}", refused.told());
        assert!(refused.said(said), "{arguments:?}: {}", refused.told());
    }
    assert!(!folder.path().join("x.pdf").exists());
}

fn results(folder: &std::path::Path, arguments: &[&str], table: &str) -> Run {
    run_in(folder, &[&["record", "results", "a.farmbook"], arguments].concat(), table)
}

#[test]
fn a_table_of_results_is_recorded_once() {
    let folder = demo();
    let plan = plan_of(folder.path());
    // Headings in another order, units in the cells, a decimal comma, an empty row, a bag left out.
    let table = "note;pH;bag;feel;organic_matter\n;6,4;1;1 1/4 in gritty;3,1\n\"wet; cloddy\";6.8;3;no ribbon;\n;;2;;\n";
    let arguments = ["--plan", &plan, "--csv", "-", "--by", "Ada", "--hand", "practised", "--json"];
    let first = results(folder.path(), &arguments, table);
    assert_eq!(first.code, 0, "{}", first.told());
    let kept = &first.json()["recorded"];
    assert_eq!(kept["samples"].as_array().map(Vec::len), Some(2), "{}", first.told());
    assert_eq!(kept["observations"].as_array().map(Vec::len), Some(5), "{}", first.told());
    let again = results(folder.path(), &arguments, table);
    assert_eq!(again.json()["recorded"]["known_already"].as_u64(), Some(5), "{}", again.told());
    assert_eq!(again.json()["recorded"]["observations"].as_array().map(Vec::len), Some(0));

    // From a file, of bags without a plan, for a person.
    std::fs::write(
        folder.path().join("r.csv"),
        "bag,sand_top,silt_top,clay_top\nX-1,1 in,1 1/2 in,not seen\n",
    )
    .expect("a table");
    let told = results(folder.path(), &["--plot", "Lower clay", "--to", "6in", "--csv", "r.csv"], "");
    assert_eq!(told.code, 0, "{}", told.told());
    assert!(told.stdout.contains("Recorded: 1 result, 1 new bag, Lower clay."), "{}", told.told());
}

#[test]
fn every_wrong_cell_of_a_table_is_told_and_nothing_is_stored() {
    let folder = demo();
    let plan = plan_of(folder.path());
    let before = std::fs::read(folder.path().join("a.farmbook")).expect("the book");
    let tell = |table: &str| results(folder.path(), &["--plan", &plan, "--csv", "-"], table);
    let wrong = tell("bag,pH,feel,hard_from\n1,71,2 in,\n2,acid,squashy,\n9,6.5,,\n");
    assert_eq!(wrong.code, 2, "{}", wrong.told());
    for said in ["line 2", "71", "line 3", "acid", "squashy", "line 4", "no 9"] {
        assert!(wrong.said(said), "{said}: {}", wrong.told());
    }
    let headings = tell("bag,colour of the moon\n1,6\n");
    assert!(headings.code == 2 && headings.said("colour of the moon"), "{}", headings.told());
    let dry = tell("point,hard_from\n1,9 in\n");
    assert!(dry.code == 2 && dry.said("--moisture"), "{}", dry.told());
    let empty = tell("bag,pH\n1,\n2,\n");
    assert!(empty.code == 2 && empty.said("No result was typed"), "{}", empty.told());
    let nothing = tell("");
    assert_eq!(nothing.code, 2, "{}", nothing.told());
    let no_depth = results(folder.path(), &["--plot", "Lower clay", "--csv", "-"], "bag,pH\nA,6.5\n");
    assert!(no_depth.code == 2 && no_depth.said("--to"), "{}", no_depth.told());
    let no_file = results(folder.path(), &["--plan", &plan, "--csv", "gone.csv"], "");
    assert!(no_file.code == 1 && no_file.said("gone.csv"), "{}", no_file.told());
    let book = run_in(folder.path(), &["list", "a.farmbook", "sample", "--json"], "");
    assert!(!book.stdout.contains("\"pH\""), "{}", book.told());
    assert_eq!(std::fs::read(folder.path().join("a.farmbook")).expect("the book"), before);
}

#[test]
fn a_second_figure_of_a_bag_is_refused_unless_it_is_said_to_be_one() {
    let folder = demo();
    let plan = plan_of(folder.path());
    let tell = |table: &str, more: &[&str]| {
        results(folder.path(), &[&["--plan", &plan, "--csv", "-", "--by", "Ada"], more].concat(), table)
    };
    let first = tell("bag,pH\n1,6.4\n", &[]);
    assert_eq!(first.code, 0, "{}", first.told());
    // Nothing typed tells of sand, silt and clay, so no word of them either.
    assert_eq!(first.stdout.trim().lines().count(), 1, "{}", first.told());
    let refused = tell("bag,pH\n1,5.2\n", &[]);
    assert_eq!(refused.code, 2, "{}", refused.told());
    for said in ["line 2", "6.4", "--second-reading"] {
        assert!(refused.said(said), "{said}: {}", refused.told());
    }
    assert_eq!(tell("bag,pH\n1,5.2\n", &["--second-reading"]).code, 0);
    let felt = tell("bag,feel\n2,no ribbon\n", &[]);
    assert!(felt.stdout.trim().lines().count() > 1, "{}", felt.told());
    // A wrong day and a wrong cell are told at once.
    let both = tell("bag,pH\n3,64\n", &["--on", "2026-15-01"]);
    assert_eq!(both.code, 2, "{}", both.told());
    assert!(both.said("2026-15-01") && both.said("line 2"), "{}", both.told());
}
