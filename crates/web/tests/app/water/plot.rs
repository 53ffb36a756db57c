//! The page of a plot's water and its twin.

use axum::http::StatusCode;

use crate::common::Yard;

fn id(yard: &Yard, name: &str) -> String {
    yard.snapshot().plot_named(name).expect("the demonstration has it").id.to_string()
}

#[tokio::test]
async fn every_plot_has_a_page_of_its_water() {
    let yard = Yard::demo();
    for plot in &yard.snapshot().plots {
        let page = yard.get(&format!("/plots/{}/water", plot.id)).await;
        assert_eq!(page.status, StatusCode::OK, "{}: {}", plot.body.name, page.body);
        let twin = yard.get(&format!("/api/plots/{}/water", plot.id)).await.json();
        assert_eq!(twin["name"], plot.body.name.as_str());
        if twin["water"].is_null() {
            assert!(page.body.contains("nothing can be said of its water"), "{}", plot.body.name);
            continue;
        }
        for part in
            ["What it holds", "How it takes water", "Where water stands", "What to do", "Salts", "A watering"]
        {
            assert!(page.body.contains(part), "{}: no {part}", plot.body.name);
        }
        assert!(page.body.contains("<svg") && !page.body.contains("NaN"), "{}", plot.body.name);
    }
    let plot = yard.get(&format!("/plots/{}", id(&yard, "Hill field"))).await;
    assert!(plot.body.contains("All the water of this plot"));
}

#[tokio::test]
async fn wet_ground_shows_its_reasons_drains_and_cautions() {
    let yard = Yard::demo();
    let page = yard.get(&format!("/plots/{}/water", id(&yard, "Lower clay"))).await.body;
    assert!(page.contains("What speaks for it") && page.contains("grey layer"), "{page}");
    assert!(page.contains("Hooghoudt") && page.contains("buried pipes"));
    // A farm in US units reads inches and feet.
    assert!(page.contains(" in per foot") && !page.contains("from 45 cm"));
}

#[tokio::test]
async fn a_change_is_chosen_without_script() {
    let yard = Yard::demo();
    let creek = id(&yard, "Creek field");
    for what_if in ["organic-matter", "loosened", "no-stones", "pulsed"] {
        let page = yard.get(&format!("/plots/{creek}/water?what_if={what_if}")).await;
        assert!(page.body.contains(&format!("value=\"{what_if}\" selected")), "{what_if}");
        let twin = yard.get(&format!("/api/plots/{creek}/water?what_if={what_if}")).await.json();
        assert_eq!(twin["wetting"]["what_if"], what_if);
        assert_eq!(twin["wetting"]["grounds"].as_array().map(Vec::len), Some(2));
    }
    let odd = yard.get(&format!("/plots/{creek}/water?what_if=magic%3Cb%3E")).await;
    assert_eq!(odd.status, StatusCode::OK);
    assert!(odd.body.contains("There is no change called “magic&#60;b&#62;”"), "{}", odd.body);
}

#[tokio::test]
async fn a_plot_that_is_not_there_is_said() {
    let yard = Yard::demo();
    let page = yard.get("/plots/00000000-0000-0000-0000-000000000000/water").await;
    assert_eq!(page.status, StatusCode::NOT_FOUND);
}
