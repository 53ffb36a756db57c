//! The feel test: one question a page, the answers in the address.

use axum::http::StatusCode;
use book::model::Seen;
use ground::kit::Bounded;
use ground::texture::feel::{Hand, Rub};

use super::{Bench, keeps, problems};

#[tokio::test]
async fn the_path_is_walked_one_question_at_a_time() {
    let bench = Bench::us().await;
    let path = bench.form("feel");
    let first = bench.yard.get(&path).await;
    assert!(
        first.body.contains("hold together as a ball?")
            && first.body.contains("size") | first.body.contains("egg")
    );
    let second = bench.yard.get(&format!("{path}?ball_holds=yes")).await;
    assert!(second.body.contains("into a ribbon") && keeps(&second.body, "ball_holds", "yes"));
    let third = bench.yard.get(&format!("{path}?ball_holds=yes&ribbon=1+3%2F8&ribbon_made=yes")).await;
    assert!(third.body.contains("How does it feel?") && keeps(&third.body, "ribbon", "1 3/8"));
    assert!(third.body.contains("sandy clay loam, silty clay loam, clay loam"), "{}", third.body);
    let end =
        bench.yard.get(&format!("{path}?ball_holds=yes&ribbon_made=yes&ribbon=1+3%2F8&rub=gritty")).await;
    assert!(end.body.contains("<h1>It feels like sandy clay loam</h1>"));
    assert!(keeps(&end.body, "rub", "gritty") && end.body.contains("method=\"post\""));

    // Short paths end early, and an open end leaves several classes.
    let sand = bench.yard.get(&format!("{path}?ball_holds=no")).await;
    assert!(sand.body.contains("It feels like sand<"));
    let loamy_sand = bench.yard.get(&format!("{path}?ball_holds=yes&ribbon_made=no&ribbon=")).await;
    assert!(loamy_sand.body.contains("It feels like loamy sand"));
    let open = bench.yard.get(&format!("{path}?ball_holds=yes&ribbon_made=yes&ribbon=35+mm&rub=open")).await;
    assert!(open.body.contains("Several classes are left"));

    let twin = bench.yard.get(&format!("/api{path}?ball_holds=yes")).await.json();
    assert_eq!(twin["question"]["asks"], "ribbon");
}

#[tokio::test]
async fn a_bad_answer_asks_the_same_question_again() {
    let bench = Bench::metric().await;
    let path = bench.form("feel");
    for (query, typed, told) in [
        ("ball_holds=yes&ribbon_made=yes&ribbon=long", "long", "does not begin with a number"),
        ("ball_holds=yes&ribbon_made=yes&ribbon=900", "900", "1 to 200 mm"),
        ("ball_holds=yes&ribbon_made=yes&ribbon=", "", "fill this in"),
    ] {
        let again = bench.yard.get(&format!("{path}?{query}")).await;
        assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(again.body.contains("into a ribbon"), "{query}");
        assert!(problems(&again).contains("#field-ribbon"), "{}", problems(&again));
        assert!(again.body.contains(told), "{told}: {}", problems(&again));
        assert!(keeps(&again.body, "ribbon", typed), "{query}");
    }
    let odd = bench.yard.get(&format!("{path}?ball_holds=perhaps")).await;
    assert_eq!(odd.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(odd.body.contains("hold together as a ball?"));
}

#[tokio::test]
async fn the_answers_are_kept_with_the_hand_that_felt() {
    let bench = Bench::us().await;
    bench
        .record(
            "feel",
            &[
                ("ball_holds", "yes"),
                ("ribbon_made", "yes"),
                ("ribbon", "1 3/8"),
                ("rub", "gritty"),
                ("hand", "new"),
            ],
        )
        .await;
    let Seen::Feel(felt) = bench.seen() else { panic!("a feel test") };
    assert_eq!(felt.ribbon_mm.map(Bounded::get), Some(34.925));
    assert_eq!((felt.rub, felt.hand), (Some(Rub::Gritty), Hand::New));
    bench.record("feel", &[("ball_holds", "no"), ("hand", "practised")]).await;
    assert!(matches!(bench.seen(), Seen::Feel(felt) if !felt.ball_holds && felt.ribbon_mm.is_none()));
    for (fields, at) in [
        (&[("ball_holds", "yes"), ("hand", "new")][..], "field-ribbon_made"),
        (
            &[("ball_holds", "no"), ("ribbon_made", "yes"), ("ribbon", "1 in"), ("hand", "new")],
            "field-ribbon",
        ),
        (
            &[("ball_holds", "yes"), ("ribbon_made", "no"), ("ribbon", "1 in"), ("hand", "new")],
            "field-ribbon",
        ),
        (&[("ball_holds", "yes"), ("ribbon_made", "no")], "field-hand"),
    ] {
        let told = bench.refuse_record("feel", fields).await;
        assert!(told.contains(at), "{at}: {told}");
    }
}
