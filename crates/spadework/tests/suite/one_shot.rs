//! Questions without a book: what is printed, what is refused, and how the program ends.

use crate::common;

use crate::common::{run, run_in};
use serde_json::json;

#[test]
fn help_names_every_command_and_exit_code() {
    insta::assert_snapshot!(run(&["-h"]).told());
}

#[test]
fn the_jar_says_how_it_is_used() {
    insta::assert_snapshot!(run(&["jar", "--help"]).told(), @r"
    exit 0
    --- stdout
    Read a jar of settled soil, without a book

    Usage: spadework jar [OPTIONS]

    Options:
          --working
              Add the steps

      -h, --help
              Print help (see a summary with '-h')

    Thickness of each layer:
          --sand <HEIGHT>
              Thickness of the sand layer

          --silt <HEIGHT>
              Thickness of the silt layer

          --clay <HEIGHT>
              Thickness of the clay layer

    Or the top of each layer above the floor:
          --sand-top <HEIGHT>
              Top of the sand above the jar floor

          --silt-top <HEIGHT>
              Top of the silt above the jar floor

          --clay-top <HEIGHT>
              Top of the clay above the jar floor

    Or marks made at known times:
          --mark <TIME=HEIGHT>
              Top of the settled soil after a time, such as 1min=7/8in; once for
              each mark

    The jar and the water:
          --ruler <STEP>
              Distance between two marks of the ruler; 1 mm where nothing is said

          --water-height <HEIGHT>
              Height of the water above the jar floor

          --water-temperature <TEMPERATURE>
              Temperature of the water

          --dispersant <DISPERSANT>
              What was added to part the clay

              Possible values:
              - none:              Nothing
              - liquid-soap:       A drop of liquid dish soap
              - dishwasher-powder: Powdered automatic-dishwasher detergent or water
                softener
              - hexametaphosphate: Sodium hexametaphosphate
              - unknown:           Not known

          --after-a-day <AFTER_A_DAY>
              How the water looked after a day or more

              Possible values:
              - clear:      Clear: the clay clumped and fell
              - cloudy:     Still cloudy
              - not-looked: Nobody looked

          --float <HEIGHT>
              Thickness of the organic matter that floats or caps the clay

          --width <HEIGHT=WIDTH>
              Inside width of a tapered jar at a height, bottom up, such as
              0in=2.5in

          --fill <HEIGHT=VOLUME>
              Height that a volume of water fills the jar to, bottom up, such as
              2in=8floz

    Everywhere:
          --json
              Print one JSON object on stdout, errors too

          --picture
              Draw the small pictures even where stdout is no terminal

          --units <UNITS>
              Units shown, and meant by a number without unit; a farm book brings
              its own

              Possible values:
              - us:     Inches, feet, pounds, °F (without a book, unless said
                otherwise)
              - metric: Millimetres, metres, grams, °C
              
              [env: SPADEWORK_UNITS=]

    Examples:
      spadework jar --sand 7/8in --silt 13/16in --clay 1/2in --ruler 1/16in
      spadework jar --sand-top 22mm --silt-top '41 to 44 mm' --clay-top '?'
      --water-temperature 68F
      spadework jar --mark 1min=7/8in --mark 2h='1 11/16in' --mark 1d='2 3/16in'
      --water-height 7in \
        --dispersant dishwasher-powder --after-a-day cloudy
    ");
}

/// Each exit code in the help, brought about.
#[test]
fn documented_exit_codes_are_the_real_ones() {
    let folder = tempfile::tempdir().unwrap();
    let wrong = "[source]\nkey = \"SoilSurveyManual2017\"\nat = \"p. 122\"\nprovenance = \"computed\"\n\
                 [[case]]\nname = \"not so\"\nmethod = \"texture-class\"\n\
                 input = { sand_percent = 40, silt_percent = 40, clay_percent = 20 }\nexpect = { class = \"sand\" }\n";
    std::fs::write(folder.path().join("wrong.toml"), wrong).unwrap();
    let brought_about = [
        (0, vec!["texture", "40", "40", "20"]),
        (1, vec!["calc", "texture-class", "--in", "no-such-file.json"]),
        (2, vec!["texture", "40", "40", "40"]),
        (3, vec!["farm", "no-such.farmbook"]),
        (4, vec!["verify", "wrong.toml"]),
    ];
    let help = run(&["--help"]).stdout;
    let table = help.split("Exit codes:").nth(1).expect("the help has a table of exit codes");
    let documented: Vec<i32> =
        table.lines().filter_map(|line| line.split_whitespace().next()?.parse().ok()).collect();
    assert_eq!(documented, brought_about.iter().map(|(code, _)| *code).collect::<Vec<_>>());
    for (code, arguments) in brought_about {
        let plain = run_in(folder.path(), &arguments, "");
        assert_eq!(plain.code, code, "{arguments:?}: {}", plain.told());
        let as_json = run_in(folder.path(), &[&arguments[..], &["--json"]].concat(), "");
        assert_eq!(as_json.code, code, "{arguments:?}: {}", as_json.told());
        let answer = as_json.json();
        assert_eq!(answer.get("error").is_some(), matches!(code, 1..=3), "{arguments:?}");
        assert_eq!(
            plain.stdout.is_empty(),
            matches!(code, 1..=3),
            "data alone goes to stdout: {arguments:?}"
        );
    }
}

#[test]
fn texture_in_words_with_working() {
    insta::assert_snapshot!(run(&["texture", "40%", "40", "20", "--working"]).told(), @r"
    exit 0
    --- stdout
    Texture class: loam

    Working
    1. the class: The first rule of the definitions that holds: clay is 7 to below 27, silt is 28 to below 50 and sand is 52 or less.
       sand 40.0000, silt 40.0000, clay 20.0000; silt + 1.5 × clay = 70.0000; silt + 2 × clay = 80.0000
       = loam
       [SoilSurveyManual2017, ch. 3, pp. 122-124]
    ");
}

#[test]
fn texture_with_its_picture() {
    insta::assert_snapshot!(run(&["texture", "40", "40", "20", "--picture"]).told(), @r"
    exit 0
    --- stdout
                          clay
                           / \
                          /   \
                        /       \
                       /         \
                      /           \
                     /             \
                    /      C        \
                  /·               ·  \
                 / ··            ··    \
                /  SC···············SIC·\
               /········        ··       \
              /        ····CL······SICL···\
            /     SCL   ·        ·          \
           /·············   ●   ·            \
          /····         ·· L  ··    SIL   ····\
         /···LS···· SL   ·····           · SI  \
        /  S·     ·         ·           ·       \
    sand                                         silt

    Texture class: loam
    ");
}

#[test]
fn a_terminal_without_unicode_gets_a_plain_picture() {
    let output = common::program(&std::env::temp_dir())
        .args(["texture", "40", "40", "20", "--picture"])
        .env("LC_ALL", "C")
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.is_ascii() && text.contains('O'), "{text}");
}

#[test]
fn refusals_in_words_and_as_json() {
    insta::assert_snapshot!(run(&["texture", "40", "40", "40"]).told(), @r"
    exit 2
    --- stderr
    refused: sand, silt and clay must add to 100 %, but 40 + 40 + 40 makes 120
      accepted: three shares that add to 98 to 102 %
      example: 40 + 40 + 20
    ");
    insta::assert_snapshot!(run(&["texture", "40", "40", "40", "--json"]).told(), @r#"
    exit 2
    --- stdout
    {
      "error": {
        "field": "sand",
        "message": "sand, silt and clay must add to 100 %, but 40 + 40 + 40 makes 120",
        "given": "40 + 40 + 40 = 120 %",
        "accepted": "three shares that add to 98 to 102 %",
        "example": "40 + 40 + 20"
      }
    }
    "#);
    insta::assert_snapshot!(run(&["jar", "--sand", "7/8in", "--silt", "5 lb", "--clay", "?"]).told(), @r#"
    exit 2
    --- stderr
    refused: --silt: "5 lb" is in lb, which is another kind of measure; give a
      length in inches, feet, mm, cm or m (fractions are read), a range, or "not
      seen", for example 2 3/16 in
    "#);
    insta::assert_snapshot!(run(&["jar", "--sand", "7/8in", "--silt", "1in"]).told(), @r"
    exit 2
    --- stderr
    refused: --clay is missing
      accepted: a height, a range, or ? where it could not be seen
      example: --clay '?'
    ");
    insta::assert_snapshot!(run(&["feel"]).told(), @r"
    exit 2
    --- stderr
    refused: --ball: the path stops at a question: Squeeze the soil in your hand.
      Does it hold together as a ball?
      accepted: yes or no
      example: --ball yes
    ");
    let error = run(&["calc", "texture-clas", "--json"]).json()["error"].clone();
    assert_eq!((&error["field"], &error["example"]), (&json!("method"), &json!("texture-class")));
    assert!(error["accepted"].as_str().unwrap().contains("settling-time"));
    insta::assert_snapshot!(run(&["jar", "--rular", "1mm", "--json"]).told(), @r#"
    exit 2
    --- stdout
    {
      "error": {
        "field": "rular",
        "message": "unexpected argument '--rular' found",
        "given": "",
        "accepted": "",
        "example": "--ruler",
        "try": [
          "spadework --help lists every command; spadework COMMAND --help every option"
        ]
      }
    }
    "#);
}

#[test]
fn calc_reads_stdin_files_and_settings_alike() {
    let folder = tempfile::tempdir().unwrap();
    let input = json!({ "sand_percent": 40, "silt_percent": 40, "clay_percent": 20 }).to_string();
    std::fs::write(folder.path().join("loam.json"), &input).unwrap();
    let expected = json!({ "class": "loam", "as_near": [], "notes": [] });
    for (arguments, stdin) in [
        (vec!["calc", "texture-class"], input.as_str()),
        (vec!["calc", "texture-class", "--in", "-"], input.as_str()),
        (vec!["calc", "texture-class", "--in", "loam.json"], ""),
        (vec!["--json", "calc", "texture-class", "--in", "loam.json"], ""),
        (
            vec![
                "calc",
                "texture-class",
                "--set",
                "sand_percent=40",
                "--set",
                "silt_percent=40 %",
                "--set",
                "clay_percent=20",
            ],
            "",
        ),
    ] {
        let answer = run_in(folder.path(), &arguments, stdin);
        assert_eq!((answer.code, answer.json()), (0, expected.clone()), "{arguments:?}");
    }
    let refused = run_in(folder.path(), &["calc", "texture-class"], r#"{"sand_percent": 140}"#);
    insta::assert_snapshot!(refused.told(), @r"
    exit 2
    --- stderr
    refused: sand_percent: sand must be 0 to 100 %, but 140 % was given (for example
      40 %)
    ");
    let refused = run_in(folder.path(), &["calc", "texture-class", "--json"], "{not json");
    insta::assert_snapshot!(refused.told(), @r#"
    exit 2
    --- stdout
    {
      "error": {
        "field": "",
        "message": "the input is not JSON: key must be a string at line 1 column 2",
        "given": "{not json",
        "accepted": "one JSON object",
        "example": "{\"sand_percent\": 40, \"silt_percent\": 40, \"clay_percent\": 20}"
      }
    }
    "#);
}

#[test]
fn calc_shows_schema_working_and_example_of_every_method() {
    let listed = run(&["calc", "--list", "--json"]).json();
    let methods = listed["methods"].as_array().unwrap();
    assert!(methods.len() > 5);
    for method in methods {
        let name = method["name"].as_str().unwrap();
        assert!(method["validated"].is_boolean(), "{name}");
        let schema = run(&["calc", name, "--schema"]).json();
        assert_eq!(schema["input"]["type"], "object", "{name}");
        let example = run(&["calc", name, "--example"]);
        let answer = run_in(&std::env::temp_dir(), &["calc", name, "--working"], &example.stdout);
        assert_eq!(answer.code, 0, "{name}: {}", answer.told());
        assert!(!answer.json()["working"]["steps"].as_array().unwrap().is_empty(), "{name}");
        let about = run(&["calc", name, "--about"]);
        assert!(about.stdout.contains("Sources"), "{name}");
    }
}

/// The same heights in inches, in bare numbers of the shown unit and in millimetres.
#[test]
fn a_jar_says_the_same_however_it_is_written() {
    let inches =
        run(&["jar", "--sand", "1in", "--silt", "1/2in", "--clay", "1/4 in", "--ruler", "1/16in", "--json"]);
    let bare = run(&["jar", "--sand", "1", "--silt", "1/2", "--clay", "1/4", "--ruler", "1/16", "--json"]);
    let millimetres = run(&[
        "jar", "--sand", "25.4mm", "--silt", "12.7mm", "--clay", "6.35mm", "--ruler", "1.5875mm", "--units",
        "metric", "--json",
    ]);
    assert_eq!(inches.code, 0, "{}", inches.told());
    assert_eq!(inches.json(), bare.json());
    assert_eq!(inches.json(), millimetres.json());
    let median =
        |answer: &common::Run, part: &str| answer.json()["volume_percent"][part]["median"].as_f64().unwrap();
    // 1 : 1/2 : 1/4 is 4 : 2 : 1 by volume.
    for (part, share) in [("sand", 400.0 / 7.0), ("silt", 200.0 / 7.0), ("clay", 100.0 / 7.0)] {
        assert!((median(&inches, part) - share).abs() < 1.0, "{part}: {}", median(&inches, part));
    }
}

#[test]
fn doubt_widens_the_jar_and_never_refuses_it() {
    let width = |arguments: &[&str]| {
        let answer = run(&[arguments, &["--json"]].concat());
        assert_eq!(answer.code, 0, "{}", answer.told());
        let silt = &answer.json()["mass_percent"]["silt"];
        silt["high"].as_f64().unwrap() - silt["low"].as_f64().unwrap()
    };
    let sharp = width(&["jar", "--sand-top", "22mm", "--silt-top", "43mm", "--clay-top", "55mm"]);
    let range = width(&["jar", "--sand-top", "22mm", "--silt-top", "30 to 54 mm", "--clay-top", "55mm"]);
    let unseen = width(&["jar", "--sand-top", "?", "--silt-top", "not seen", "--clay-top", "55mm"]);
    assert!(sharp < range && range < unseen, "{sharp} {range} {unseen}");
}

#[test]
fn marks_widths_and_fills_are_read() {
    let answer = run(&[
        "jar",
        "--mark",
        "1min=7/8in",
        "--mark",
        "2 h=1 11/16in",
        "--mark",
        "1 d = 2 3/16 in",
        "--water-height",
        "7in",
        "--water-temperature",
        "68F",
        "--width",
        "0in=2.5in",
        "--width",
        "4in=3in",
        "--after-a-day",
        "cloudy",
        "--dispersant",
        "dishwasher-powder",
        "--working",
        "--json",
    ]);
    assert_eq!(answer.code, 0, "{}", answer.told());
    assert_eq!(answer.json()["marks"].as_array().unwrap().len(), 3);
    let times: Vec<f64> = answer.json()["marks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|mark| mark["after_s"].as_f64().unwrap())
        .collect();
    assert_eq!(times, [60.0, 7200.0, 86_400.0]);
    let mixed = run(&["jar", "--sand", "1in", "--mark", "1min=7/8in", "--json"]);
    assert_eq!((mixed.code, mixed.json()["error"]["field"].as_str()), (2, Some("sand")));
}

#[test]
fn feel_ends_at_the_class_of_the_chart() {
    // Thien 1979, flow chart: a ribbon of 1 to 2 in that is neither gritty nor smooth is clay loam.
    let answer = run(&["feel", "--ball", "yes", "--ribbon", "1.5in", "--rub", "neither", "--json"]);
    assert_eq!(answer.json()["class"], "clay loam");
    let open = run(&["feel", "--ribbon", "1.5in", "--json"]);
    assert_eq!((open.code, &open.json()["class"]), (0, &serde_json::Value::Null));
    let sand = run(&["feel", "--ball", "no", "--json"]);
    assert_eq!(sand.json()["class"], "sand");
}

#[test]
fn verify_prints_expected_got_and_residual() {
    let answer = run(&["verify"]);
    assert_eq!(answer.code, 0, "{}", answer.stdout.lines().last().unwrap_or_default());
    for word in ["expected", "got", "residual", "tolerance"] {
        assert!(answer.stdout.contains(word));
    }
    let as_json = run(&["verify", "--json"]).json();
    assert_eq!(as_json["failed"], 0);
    assert!(as_json["cases"].as_u64().unwrap() > 30);
}

#[test]
fn completions_and_man_know_every_command() {
    let help = run(&["-h"]).stdout;
    let commands: Vec<&str> = help
        .split("Commands:")
        .nth(1)
        .unwrap()
        .lines()
        .skip(1)
        .take_while(|line| !line.trim().is_empty())
        // Lines further in go on with what a command does.
        .filter(|line| !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert!(commands.len() > 15, "{commands:?}");
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = run(&["completions", shell]).stdout;
        for command in &commands {
            assert!(script.contains(command), "{shell} does not know {command}");
        }
    }
    let page = run(&["man"]).stdout;
    assert!(page.contains(".TH spadework 1") && page.contains("Exit codes"));
    for command in commands.iter().filter(|command| **command != "help") {
        assert!(
            page.contains(&format!("spadework\\-{}", command.replace('-', "\\-"))),
            "the man page does not know {command}"
        );
        let own = run(&["man", command]);
        assert_eq!(own.code, 0, "{}", own.told());
        assert!(own.stdout.contains(".SH OPTIONS"));
    }
    let kinds = [
        "plot",
        "bed",
        "structure",
        "sample",
        "jar",
        "feel",
        "lab",
        "seen",
        "moisture",
        "ring",
        "percolation",
        "layers",
        "probe",
        "core",
        "spade",
        "slake",
        "working",
        "normals",
        "weather",
        "crop",
        "planting",
        "watering",
        "note",
        "photo",
        "decision",
    ];
    let bash = run(&["completions", "bash"]).stdout;
    for kind in kinds {
        let own = run(&["man", "record", kind]);
        assert!(own.code == 0 && own.stdout.contains(".SH OPTIONS"), "{kind}: {}", own.told());
        assert!(
            bash.contains(&format!("record__subcmd__{kind}")) || bash.contains(&format!("record__{kind}")),
            "{kind}"
        );
    }
    let refused = run(&["man", "recrd", "--json"]);
    assert_eq!((refused.code, &refused.json()["error"]["example"]), (2, &json!("record")));
}
