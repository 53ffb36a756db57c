//! Each kind of evidence that fits on one form: kept as typed, refused with everything kept.

use axum::http::StatusCode;
use book::model::Seen;
use book::model::seen::{Gravel, Packing, Sign};
use ground::kit::Bounded;
use ground::texture::SiltLimit;
use serde_json::json;

use super::{ABOUT, Bench, problems};

pub(super) const KINDS: [&str; 22] = [
    "timed-jar",
    "jar",
    "feel",
    "kitchen-scale",
    "hydrometer",
    "laboratory",
    "lab-report",
    "organic-matter",
    "gravel",
    "packing",
    "salinity",
    "signs",
    "moisture",
    "ring-infiltration",
    "percolation",
    "layers",
    "probe",
    "spade",
    "cores",
    "slake",
    "working",
    "building-ground",
];

#[tokio::test]
async fn every_kind_is_offered_and_has_its_form() {
    let bench = Bench::us().await;
    let choice = bench.yard.get(&format!("/plots/{}/record", bench.plot)).await;
    assert_eq!(choice.status, StatusCode::OK);
    for kind in KINDS {
        assert!(choice.body.contains(&format!("href=\"{}\"", bench.form(kind))), "{kind}");
        let form = bench.yard.get(&bench.form(kind)).await;
        assert_eq!(form.status, StatusCode::OK, "{kind}");
    }
    // What would settle an open finding stands on top.
    let wanted = bench.yard.get(&format!("/plots/{}/record?for=laboratory", bench.plot)).await;
    let at = |text: &str| wanted.body.find(text).expect("it is there");
    assert!(at("Laboratory texture") < at("A jar, shaken now"));
    assert_eq!(wanted.body.matches(&bench.form("laboratory")).count(), 1);
    let plots = bench.yard.get("/record").await;
    assert!(plots.body.contains(&format!("/plots/{}/record", bench.plot)));
}

#[tokio::test]
async fn an_empty_form_asks_for_what_is_missing_and_stores_nothing() {
    let bench = Bench::metric().await;
    for kind in KINDS {
        let told = bench.refuse(&bench.form(kind), &[]).await;
        assert!(told.contains("href=\"#field-"), "{kind}: {told}");
    }
    assert_eq!(bench.count(), (0, 0));
}

#[tokio::test]
async fn a_form_of_a_plot_that_is_not_there_says_so() {
    let bench = Bench::metric().await;
    let path = "/plots/0190163d-8694-739b-aea5-966c26f8ad91/record/feel";
    assert_eq!(bench.yard.get(path).await.status, StatusCode::NOT_FOUND);
    assert_eq!(bench.yard.post(path, &ABOUT).await.status, StatusCode::NOT_FOUND);
    assert_eq!(bench.yard.get("/plots/none/record").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_laboratory_off_by_rounding_is_closed_and_said_so() {
    let bench = Bench::metric().await;
    let onward = bench
        .record(
            "laboratory",
            &[
                ("sand_percent", "44"),
                ("silt_percent", "38 %"),
                ("clay_percent", "19"),
                ("silt_limit", "63 um"),
                ("procedure", "pipette"),
            ],
        )
        .await;
    let Seen::LabTexture(lab) = bench.seen() else { panic!("a laboratory") };
    assert_eq!((lab.sand_percent.get(), lab.clay_percent.get()), (44.0, 19.0), "kept as printed");
    assert_eq!(lab.silt_limit, SiltLimit::Iso63);
    let page = bench.yard.get(&onward).await;
    assert!(page.body.contains("add to 101 %"), "the note follows to the plot");
    assert!(page.body.contains("Nothing was known of this ground. Now the odds are"), "{}", page.body);
}

#[tokio::test]
async fn a_laboratory_that_adds_to_ninety_is_refused_at_its_field() {
    let bench = Bench::metric().await;
    let fields = [
        ("sand_percent", "44"),
        ("silt_percent", "28"),
        ("clay_percent", "18"),
        ("silt_limit", "50 um"),
        ("procedure", "not_stated"),
    ];
    let told = bench.refuse_record("laboratory", &fields).await;
    assert!(told.contains("#field-sand_percent") && told.contains("90"), "{told}");
    let twin = bench.post_json(&format!("/api{}", bench.form("laboratory")), &json!({
        "sand_percent": 44, "silt_percent": 28, "clay_percent": 18, "silt_limit": "50 um", "procedure": "pipette",
        "sample": "plot", "seen_on": "2026-05-20"
    })).await;
    assert_eq!(twin.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(twin.json()["error"]["field"], "sand_percent");
}

#[tokio::test]
async fn a_program_records_with_the_same_fields() {
    let bench = Bench::metric().await;
    let kept = bench.post_json(&format!("/api{}", bench.form("laboratory")), &json!({
        "sand_percent": 44, "silt_percent": 38, "clay_percent": 18, "silt_limit": "50 um", "procedure": "pipette",
        "sample": "plot", "seen_on": "2026-05-20"
    })).await;
    assert_eq!(kept.status, StatusCode::CREATED, "{}", kept.body);
    assert_eq!(kept.json()["id"], bench.latest().id.to_string());
}

#[tokio::test]
async fn a_hydrometer_is_read_in_its_own_units_on_any_farm() {
    let bench = Bench::us().await;
    bench
        .record(
            "hydrometer",
            &[
                ("dry_mass_g", "50"),
                ("early_after_s", "40"),
                ("early_reading_g_l", "27"),
                ("early_temperature_c", "68"),
                ("late_after_s", "2"),
                ("late_reading_g_l", "15"),
                ("blank_g_l", "4"),
            ],
        )
        .await;
    let Seen::Hydrometer(read) = bench.seen() else { panic!("a hydrometer") };
    assert_eq!(read.dry_mass_g.get(), 50.0);
    assert_eq!((read.early.after_s.get(), read.late.after_s.get()), (40.0, 7200.0));
    assert_eq!(read.early.temperature_c.map(Bounded::get), Some(20.0));
    assert_eq!(read.late.temperature_c, None);

    let told = bench
        .refuse_record(
            "hydrometer",
            &[
                ("dry_mass_g", "50"),
                ("early_after_s", "40 s"),
                ("early_reading_g_l", "15"),
                ("late_after_s", "2 h"),
                ("late_reading_g_l", "27"),
            ],
        )
        .await;
    assert!(told.contains("#field-late_reading_g_l"), "{told}");
}

#[tokio::test]
async fn a_kitchen_scale_takes_ounces_and_refuses_more_sand_than_soil() {
    let bench = Bench::us().await;
    let fields = [("total_g", "3 1/2"), ("sand_g", "45 g"), ("silt_g", "1.2 oz"), ("dispersed", "yes")];
    bench.record("kitchen-scale", &fields).await;
    let Seen::KitchenScale(weighed) = bench.seen() else { panic!("a kitchen scale") };
    // The avoirdupois ounce is 28.349523125 g by definition.
    assert!((weighed.total_g.get() - 3.5 * 28.349_523_125).abs() < 1e-9);
    assert_eq!(weighed.sand_g.get(), 45.0);
    assert!(weighed.dispersed);
    let told = bench
        .refuse_record(
            "kitchen-scale",
            &[("total_g", "100 g"), ("sand_g", "140 g"), ("silt_g", "0 g"), ("dispersed", "no")],
        )
        .await;
    assert!(told.contains("#field-sand_g"), "{told}");
}

#[tokio::test]
async fn organic_matter_gravel_and_salts_are_kept() {
    let bench = Bench::metric().await;
    bench.record("organic-matter", &[("percent", "3.2"), ("method", "loss_on_ignition")]).await;
    assert!(
        matches!(bench.seen(), Seen::OrganicMatter(found) if found.percent.get() == 3.2 && found.method.is_some())
    );
    bench.record("organic-matter", &[("percent", "2"), ("method", "")]).await;
    assert!(matches!(bench.seen(), Seen::OrganicMatter(found) if found.method.is_none()));
    bench.record("gravel", &[("judged", "by_eye"), ("percent", "8")]).await;
    assert!(matches!(bench.seen(), Seen::Gravel(Gravel::VolumePercent(share)) if share.get() == 8.0));
    bench.record("gravel", &[("judged", "weighed"), ("percent", "12")]).await;
    assert!(matches!(bench.seen(), Seen::Gravel(Gravel::MassPercent(share)) if share.get() == 12.0));
    bench.record("salinity", &[("ec_ds_m", "850 uS/cm"), ("extract", "one_to_two")]).await;
    assert!(matches!(bench.seen(), Seen::Salinity(salts) if (salts.ec_ds_m.get() - 0.85).abs() < 1e-12));
    let told = bench.refuse_record("gravel", &[("judged", "by_eye"), ("percent", "140")]).await;
    assert!(told.contains("#field-percent"), "{told}");
}

#[tokio::test]
async fn packing_comes_in_words_or_from_a_core() {
    let bench = Bench::metric().await;
    bench.record("packing", &[("told", "words"), ("words", "firm")]).await;
    assert!(matches!(bench.seen(), Seen::Packing(Packing::Words(words)) if words.words() == "firm"));
    bench
        .record(
            "packing",
            &[("told", "core"), ("core_mass", "420"), ("core_volume", "300"), ("note", "dry day")],
        )
        .await;
    assert!(
        matches!(bench.seen(), Seen::Packing(Packing::BulkDensity(density)) if (density.get() - 1.4).abs() < 1e-12)
    );
    assert_eq!(bench.latest().body.note, "dry day\nCore: 420 g dry in 300 mL.");
    for (fields, at) in [
        (&[("told", "words")][..], "field-words"),
        (&[("told", "core"), ("core_mass", "420")], "field-core_volume"),
        (&[("told", "core"), ("core_mass", "4200"), ("core_volume", "300")], "field-core_mass"),
        (&[("told", "words"), ("words", "firm"), ("density", "1.4")], "field-told"),
    ] {
        let told = bench.refuse_record("packing", fields).await;
        assert!(told.contains(at), "{at}: {told}");
    }
}

#[tokio::test]
async fn signs_are_ticked_off_with_their_depths() {
    let bench = Bench::us().await;
    bench
        .record(
            "signs",
            &[
                ("standing_water", "2"),
                ("surface", "crust"),
                ("surface", "clods"),
                ("crust", "1/8"),
                ("pan_felt", "8"),
                ("mottles", "30 cm"),
                ("wormcasts", "few"),
                ("smell", "sour"),
            ],
        )
        .await;
    let Seen::Signs(found) = bench.seen() else { panic!("signs") };
    let found: Vec<String> = found
        .signs
        .iter()
        .map(|sign| match sign {
            Sign::StandingWater { days } => format!("water {} d", days.get()),
            Sign::Crust { thickness_mm } => format!("crust {:?} mm", thickness_mm.map(Bounded::get)),
            Sign::PanFelt { at_cm } => format!("pan {} cm", at_cm.get()),
            Sign::Mottles { from_cm } => format!("mottles {} cm", from_cm.get()),
            other => format!("{other:?}"),
        })
        .collect();
    assert_eq!(
        found,
        [
            "water 2 d",
            "crust Some(3.175) mm",
            "Clods",
            "pan 20.32 cm",
            "mottles 30 cm",
            "Wormcasts { amount: Few }",
            "Smell { of: Sour }"
        ]
    );
    let told = bench.refuse_record("signs", &[("pan_felt", "about a foot"), ("surface", "clods")]).await;
    assert!(told.contains("#field-pan_felt"), "{told}");
}

#[tokio::test]
async fn a_bag_is_written_down_on_the_way_or_not_at_all() {
    let bench = Bench::us().await;
    let reading = [("percent", "3")];
    let bag = [
        ("sample", "new"),
        ("sample_label", "LF-1"),
        ("sample_from", "0"),
        ("sample_to", "8"),
        ("sample_cores", "15"),
        ("seen_on", "2026-05-20"),
        ("seen_by", "Ada"),
    ];
    let fields: Vec<(&str, &str)> = reading.iter().chain(&bag).copied().collect();
    bench.keep(&bench.form("organic-matter"), &fields).await;
    let snapshot = bench.yard.snapshot();
    let sample = &snapshot.samples[0];
    assert_eq!(snapshot.observations[0].body.sample, Some(sample.id));
    assert_eq!((sample.body.to_cm.get(), sample.body.cores), (20.32, Some(15)));
    assert_eq!((sample.body.bag_label.as_str(), sample.body.taken_by.as_str()), ("LF-1", "Ada"));

    // The next reading of the same bag finds it in the list.
    let form = bench.yard.get(&bench.form("feel")).await;
    assert_eq!(form.status, StatusCode::OK);
    let form = bench.yard.get(&bench.form("laboratory")).await;
    assert!(form.body.contains(&format!("value=\"{}\"", sample.id)) && form.body.contains("LF-1"));

    // A bag whose bottom lies above its top: neither bag nor reading is kept.
    let upside_down: Vec<(&str, &str)> =
        fields.iter().map(|(name, text)| (*name, if *name == "sample_to" { "0" } else { *text })).collect();
    let told = bench.refuse(&bench.form("organic-matter"), &upside_down).await;
    assert!(told.contains("#field-sample_to"), "{told}");
    // A bag described and not chosen would be overlooked, so it is asked about.
    let told = bench
        .refuse(
            &bench.form("organic-matter"),
            &[("percent", "3"), ("sample", "plot"), ("sample_label", "LF-2"), ("seen_on", "2026-05-20")],
        )
        .await;
    assert!(told.contains("#field-sample"), "{told}");
    let told = bench
        .refuse(
            &bench.form("organic-matter"),
            &[("percent", "3"), ("sample", "new"), ("seen_on", "2026-05-20")],
        )
        .await;
    assert!(told.contains("#field-sample_from") && told.contains("#field-sample_to"), "{told}");
    assert_eq!(bench.count(), (1, 1));
}

#[tokio::test]
async fn looking_first_stores_nothing_and_keeps_everything() {
    let bench = Bench::metric().await;
    let fields: Vec<(&str, &str)> = [
        ("sand_percent", "44"),
        ("silt_percent", "38"),
        ("clay_percent", "18"),
        ("silt_limit", "50 um"),
        ("procedure", "pipette"),
        ("look", "1"),
    ]
    .into_iter()
    .chain(ABOUT)
    .collect();
    let page = bench.yard.post(&bench.form("laboratory"), &fields).await;
    assert_eq!(page.status, StatusCode::OK, "{}", problems(&page));
    assert!(page.body.contains("Sand 44 %, silt 38 %, clay 18 %."));
    assert!(
        super::keeps(&page.body, "sand_percent", "44") && super::keeps(&page.body, "procedure", "pipette")
    );
    assert_eq!(bench.count(), (0, 0));
}

/// What a record changes is what the reports with and without it say.
#[tokio::test]
async fn the_plot_page_tells_what_changed_in_the_odds() {
    let bench = Bench::metric().await;
    let feel = [
        ("ball_holds", "yes"),
        ("ribbon_made", "yes"),
        ("ribbon", "35"),
        ("rub", "neither"),
        ("hand", "practised"),
    ];
    bench.record("feel", &feel).await;
    let options = advice::Options { weigh_measurements: false, ..advice::Options::default() };
    let before = advice::plot_report(&bench.yard.snapshot(), bench.plot, &options).expect("a report");
    let lab = [
        ("sand_percent", "42"),
        ("silt_percent", "38"),
        ("clay_percent", "20"),
        ("silt_limit", "50 um"),
        ("procedure", "pipette"),
    ];
    let onward = bench.record("laboratory", &lab).await;
    let after = advice::plot_report(&bench.yard.snapshot(), bench.plot, &options).expect("a report");
    let loam = |report: &advice::PlotReport| {
        let one = report.make_up.class_odds.iter().find(|one| one.class.name() == "loam");
        web::parts::OddsLine::new("", one.map_or(0.0, |one| one.odds)).words()
    };
    let page = bench.yard.get(&onward).await;
    let sentence = format!("oam was {}, now {}", loam(&before), loam(&after));
    assert!(page.body.contains(&sentence), "{sentence} in {}", page.body);
    assert_ne!(loam(&before), loam(&after));
    // Another plot's page does not tell it.
    let lost = bench.yard.get(&format!("/plots/{}?saw=none", bench.plot)).await;
    assert!(!lost.body.contains("id=\"changed\""));
}
