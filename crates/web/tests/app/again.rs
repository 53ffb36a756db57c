//! The years of a plot on their page, the list of looks of the farm, and their twins.

use axum::http::StatusCode;

use crate::record::Bench;

async fn organic(bench: &Bench, day: &str, percent: &str) {
    let fields = [
        ("sample", "plot"),
        ("seen_on", day),
        ("seen_by", "Ada"),
        ("percent", percent),
        ("method", "loss_on_ignition"),
    ];
    bench.keep(&bench.form("organic-matter"), &fields).await;
}

#[tokio::test]
async fn two_tests_are_told_from_scatter_with_their_picture() {
    let bench = Bench::us().await;
    let address = format!("/plots/{}/again", bench.plot);
    let empty = bench.yard.get(&address).await;
    assert_eq!(empty.status, StatusCode::OK, "{}", empty.body);
    assert!(empty.body.contains("Nothing was read twice yet"), "{}", empty.body);
    organic(&bench, "2023-04-20", "2.1").await;
    organic(&bench, "2026-04-20", "2.6").await;
    let page = bench.yard.get(&address).await.body;
    for part in
        ["Organic matter 2.1 → 2.6 %: not yet more than", "<svg", "When to look next", "loss on ignition"]
    {
        assert!(page.contains(part), "no {part}: {page}");
    }
    let twin = bench.yard.get(&format!("/api{address}")).await.json();
    assert_eq!(twin["series"][0]["property"], "organic_matter", "{twin}");
    assert_eq!(twin["series"][0]["step"]["difference"]["credible"], false, "{twin}");
    let plot = bench.yard.get(&format!("/plots/{}", bench.plot)).await.body;
    assert!(plot.contains(&address), "the plot leads there");
}

#[tokio::test]
async fn the_farm_s_list_says_when_to_look_at_what() {
    let bench = Bench::metric().await;
    let page = bench.yard.get("/again").await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    assert!(page.body.contains("Have the soil tested") && page.body.contains("Lower field"), "{}", page.body);
    let twin = bench.yard.get("/api/again").await.json();
    assert_eq!(twin["visits"][0]["walk"], "soil_test", "{twin}");
    assert!(bench.yard.get("/work").await.body.contains("href=\"/again\""));
}
