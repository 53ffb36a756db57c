//! Readings of structure on their forms, the page of a plot's structure, and its twin.

use axum::http::StatusCode;
use book::model::Seen;
use ground::kit::Bounded;
use ground::structure::spade::slake::Crumb;

use crate::record::{Bench, problems};

const PAN: [(&str, &str); 12] = [
    ("moisture", "field_capacity"),
    ("step", "3"),
    ("point1", "gate = 120, 180, 340, 230, 210"),
    ("point2", "110, 170, 330, 240, 200"),
    ("point3", "130, 190, 350, 250, 220"),
    ("point4", "120, 180, 345, stuck"),
    ("point5", "115, 175, 335, 245, 215"),
    ("point6", "125, 185, 355, 255, 225"),
    ("point7", "slides, leans, stops, leans"),
    ("point8", "120, 180, 320, 240, 205"),
    ("point9", "105, 165, 310, 235, 200"),
    ("point10", "120, 180, 340, 230, 210"),
];

#[tokio::test]
async fn a_transect_of_a_pan_leads_from_the_form_to_the_decision() {
    let bench = Bench::us().await;
    let address = format!("/plots/{}/structure", bench.plot);
    let empty = bench.yard.get(&address).await;
    assert_eq!(empty.status, StatusCode::OK, "{}", empty.body);
    assert!(
        empty.body.contains("Push a probe in ten places") && empty.body.contains("No probe was pushed yet")
    );
    let loam = [
        ("sand_percent", "40"),
        ("silt_percent", "40"),
        ("clay_percent", "20"),
        ("silt_limit", "50 um"),
        ("procedure", "pipette"),
    ];
    bench.record("laboratory", &loam).await;
    let look = bench.yard.post(&format!("/api{}/preview", bench.form("probe")), &PAN).await;
    assert!(look.body.contains("A hard layer begins at 9 in"), "{}", look.body);
    bench.record("probe", &PAN).await;
    let Seen::Probe(probe) = bench.seen() else { panic!("a probe") };
    assert_eq!((probe.points.len(), probe.points[0].place.as_str()), (10, "gate"));
    assert_eq!(probe.points[3].stuck_at_cm.map(|depth| depth.get().round()), Some(30.0));
    let page = bench.yard.get(&address).await.body;
    for part in
        ["Dig a block before iron goes in", "<svg", "10 of 10 pushes", "How hard the ground is by depth"]
    {
        assert!(page.contains(part), "no {part}: {page}");
    }
    bench
        .record(
            "spade",
            &[("signs", "roots_turn_aside"), ("layer1_thickness", "8 in"), ("layer1_score", "4")],
        )
        .await;
    let page = bench.yard.get(&address).await.body;
    for part in [
        "Loosen, just below the hard layer",
        "With a broadfork, 13 in deep",
        "Take care",
        "Sow a dense-rooted cover",
    ] {
        assert!(page.contains(part), "no {part}: {page}");
    }
    let twin = bench.yard.get(&format!("/api{address}")).await.json();
    assert_eq!(
        (&twin["decision"]["what"], &twin["decision"]["tool"]),
        (&"loosen".into(), &"broadfork".into()),
        "{twin}"
    );
    assert_eq!(twin["transect"]["stopped"], 10);
    // Without a tool that reaches, covers and paths.
    let none = bench.yard.get(&format!("{address}?broadfork=none")).await.body;
    assert!(none.contains("No iron: keep wheels and feet on permanent paths"), "{none}");
    let wrong = bench.yard.get(&format!("{address}?broadfork=9%20feet")).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.body.contains("aria-invalid=\"true\"") && wrong.body.contains("9 feet"), "{}", wrong.body);
    let twin = bench.yard.get(&format!("/api{address}?broadfork=9%20feet")).await;
    assert_eq!(twin.status, StatusCode::UNPROCESSABLE_ENTITY);
    let error = &twin.json()["errors"][0];
    assert!(
        error["field"] == "broadfork" && error["accepted"].is_string() && error["example"].is_string(),
        "{error}"
    );
    assert!(bench.yard.get(&format!("/plots/{}", bench.plot)).await.body.contains(&address));
}

#[tokio::test]
async fn readings_that_make_no_sense_are_refused_at_their_field() {
    let bench = Bench::us().await;
    for (kind, fields, field) in [
        ("probe", vec![("moisture", "wet"), ("step", "3"), ("point1", "120, hard")], "point1"),
        ("probe", vec![("moisture", "wet"), ("step", "3"), ("point2", "120, stuck, 150")], "point2"),
        ("probe", vec![("moisture", "wet"), ("step", "3")], "point1"),
        (
            "cores",
            vec![("from_depth", "4 in"), ("to_depth", "8 in"), ("core1_volume", "100"), ("core1_dry", "900")],
            "core1_dry",
        ),
        ("cores", vec![("from_depth", "4 in"), ("to_depth", "8 in"), ("core1_volume", "100")], "core1_dry"),
        (
            "cores",
            vec![("from_depth", "9 in"), ("to_depth", "8 in"), ("core1_volume", "100"), ("core1_dry", "140")],
            "to_depth",
        ),
        // A blank row between: told at the row that was typed, not at the second of the list.
        (
            "cores",
            vec![
                ("from_depth", "4 in"),
                ("to_depth", "8 in"),
                ("core1_volume", "100"),
                ("core1_dry", "140"),
                ("core4_dry", "140"),
                ("core4_moist", "120"),
            ],
            "core4_moist",
        ),
        ("spade", vec![("layer1_thickness", "6 in")], "layer1_score"),
        ("spade", vec![("signs", "crumbs"), ("worms", "4")], "block_length"),
        ("slake", vec![("crumbs", "20 s, fine")], "crumbs"),
        ("working", vec![("depth", "6 in"), ("handful", "dents"), ("water", "20")], "plastic_limit"),
        (
            "working",
            vec![("depth", "6 in"), ("handful", "dents"), ("plastic_limit", "30"), ("liquid_limit", "20")],
            "liquid_limit",
        ),
    ] {
        let told = bench.refuse_record(kind, &fields).await;
        assert!(told.contains(&format!("#field-{field}")), "{kind} {fields:?}: {told}");
    }
    assert_eq!(bench.count(), (0, 0));
}

#[tokio::test]
async fn cores_crumbs_and_handfuls_are_kept_as_they_were_read() {
    let bench = Bench::metric().await;
    let fields = [
        ("from_depth", "20"),
        ("to_depth", "30"),
        ("core1_volume", "350"),
        ("core1_dry", "520"),
        ("core1_moist", "610"),
        ("core1_stones", "90"),
        ("core2_dry", "530"),
    ];
    bench.record("cores", &fields).await;
    let Seen::Cores(cores) = bench.seen() else { panic!("cores") };
    assert_eq!(cores.cores[1].volume_ml.get(), 350.0, "the same ring");
    bench.record("slake", &[("crumbs", "20 s\r\n2 x 60 %, weak")]).await;
    let Seen::Slake(slake) = bench.seen() else { panic!("crumbs") };
    assert_eq!((slake.crumbs.len(), slake.crumbs[3]), (4, Crumb::TooWeak));
    bench
        .record(
            "working",
            &[("depth", "15"), ("handful", "shatters"), ("days_since_rain", "2"), ("worked", "crumbled")],
        )
        .await;
    let Seen::Working(test) = bench.seen() else { panic!("a handful") };
    assert_eq!(test.days_since_rain.map(Bounded::get), Some(2.0));
    // The history puts each of them into words, and a correction that changes nothing is told so.
    for held in &bench.yard.snapshot().observations {
        let history = bench.yard.get(&format!("/records/{}/history", held.id)).await;
        assert_eq!(history.status, StatusCode::OK, "{}", history.body);
    }
    let id = bench.latest().id;
    let fields = [
        ("depth", "15"),
        ("handful", "dents"),
        ("seen_on", "2026-05-20"),
        ("seen_by", "Ada"),
        ("sample", "plot"),
        ("reason", "felt it again"),
        ("from_number", "1"),
    ];
    let kept = bench.yard.post(&format!("/records/{id}/correct"), &fields).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
}
