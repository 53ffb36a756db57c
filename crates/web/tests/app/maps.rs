//! Maps of what varies and zones, as pages, as JSON and on paper.

use axum::http::StatusCode;

use crate::common::Yard;

#[tokio::test]
async fn a_property_is_chosen_mapped_and_printed() {
    let yard = Yard::demo();
    let choose = yard.get("/maps").await;
    assert_eq!(choose.status, StatusCode::OK, "{}", choose.body);
    assert!(choose.body.contains("/maps/ph?plot=") && choose.body.contains("Long pasture"));
    let plot = yard.snapshot().plot_named("Long pasture").unwrap().id;
    let page = yard.get(&format!("/maps/ph?plot={plot}")).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in ["map-value", "map-doubt", "not known", "How good the surface is", "Zones of this plot"] {
        assert!(page.body.contains(part), "no {part}");
    }
    let twin = yard.get(&format!("/api/maps/ph?plot={plot}")).await.json();
    assert_eq!((twin["shown"].as_str(), twin["property"].as_str()), (Some("bounded_fit"), Some("ph")));
    assert_eq!(twin["at_places"].as_array().unwrap().len(), 36);
    let few = yard.get(&format!("/maps/infiltration?plot={plot}")).await;
    assert!(few.body.contains("6 more readings") && !few.body.contains("map-doubt"), "{}", few.body);
    assert_eq!(yard.get("/maps/gold").await.status, StatusCode::NOT_FOUND);
    assert_eq!(yard.get("/maps/ph?plot=nowhere").await.status, StatusCode::NOT_FOUND);
    let sheet = yard.get(&format!("/maps/ph/map.pdf?plot={plot}")).await;
    assert_eq!(sheet.status, StatusCode::OK);
}

#[tokio::test]
async fn zones_are_taken_as_plots_and_joined_back() {
    let yard = Yard::demo();
    let plot = yard.snapshot().plot_named("Long pasture").unwrap().id.to_string();
    let before = yard.snapshot().plots.len();
    let page = yard.get(&format!("/maps/ph/zones?plot={plot}&count=2")).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    assert!(page.body.contains("Make 2 plots of them"), "{}", page.body);
    assert_eq!(
        yard.get(&format!("/maps/ph/zones?plot={plot}&count=9")).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    let taken = yard.post("/maps/ph/zones", &[("plot", &plot), ("count", "2")]).await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.body);
    // The two stand in the stead of the one, which says so on its page and on the farm's.
    assert_eq!(yard.snapshot().plots.len(), before + 1);
    let farm = yard.get("/").await.body;
    assert!(farm.contains("was parted into 2 zones") && farm.contains("Long pasture, zone 2"), "{farm}");
    let whole = yard.get(&format!("/plots/{plot}")).await.body;
    assert!(whole.contains("This plot was parted") && whole.contains("Join the zones back"), "{whole}");
    let zone = yard.snapshot().plot_named("Long pasture, zone 1").unwrap().id;
    let zone = yard.get(&format!("/plots/{zone}")).await.body;
    assert!(zone.contains("A zone of") && zone.contains(&format!("/plots/{plot}")), "{zone}");
    // Its other pages say so too, and nothing is planned or parted there again.
    let note = "was parted into zones</strong>";
    for path in ["acidity", "feeding", "water", "again", "posts"] {
        let page = yard.get(&format!("/plots/{plot}/{path}")).await.body;
        assert!(page.contains(note), "{path}");
    }
    assert!(!whole.contains(note), "it is said once");
    let sampling = yard.get(&format!("/plots/{plot}/sampling")).await;
    assert!(sampling.body.contains("each is sampled by itself"), "{}", sampling.body);
    let again = yard.post("/maps/ph/zones", &[("plot", &plot), ("count", "2")]).await;
    assert!(again.body.contains("has zones already"), "{}", again.body);
    let map = yard.get(&format!("/maps/ph?plot={plot}")).await.body;
    assert!(map.contains("was parted into 2 zones"), "{map}");
    let joined = yard.post("/maps/join", &[("plot", &plot)]).await;
    assert_eq!(joined.status, StatusCode::SEE_OTHER, "{}", joined.body);
    assert_eq!(yard.snapshot().plots.len(), before);
}

#[tokio::test]
async fn the_map_of_the_farm_tints_plots_and_names_those_without() {
    let yard = Yard::demo();
    let page = yard.get("/maps/texture-class").await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    for part in ["Plot by plot", "Creek field: silt loam", "New ground: nothing is known of its make-up"] {
        assert!(page.body.contains(part), "no {part}: {}", page.body);
    }
    let twin = yard.get("/api/maps/texture-class").await.json();
    let plots = twin["plots"].as_array().unwrap();
    assert_eq!(plots.len(), yard.snapshot().plots.len());
    let creek = plots.iter().find(|plot| plot["name"] == "Creek field").unwrap();
    assert_eq!(creek["figure"]["named"].as_str(), Some("silt loam"));
    for property in ["lime-need", "usable-water-over-the-roots", "days-to-drain", "standing-water"] {
        let page = yard.get(&format!("/maps/{property}")).await;
        assert_eq!(page.status, StatusCode::OK, "{property}: {}", page.body);
        assert!(page.body.contains("nothing within a plot is told apart"), "{property}: {}", page.body);
        assert_eq!(yard.get(&format!("/maps/{property}/map.pdf")).await.status, StatusCode::OK);
    }
    // Zones are made of figures at places, and these have none.
    let plot = yard.snapshot().plot_named("Long pasture").unwrap().id;
    assert_eq!(yard.get(&format!("/maps/lime-need/zones?plot={plot}")).await.status, StatusCode::NOT_FOUND);
}
