//! Typing results in: rows, or a whole table.

use crate::record::Bench;

#[tokio::test]
async fn a_table_does_not_push_typed_rows_aside() {
    let bench = Bench::us().await;
    let address = format!("/plots/{}/enter", bench.plot);
    let typed = [
        ("column", "pH"),
        ("bag_0", "1"),
        ("cell_0_0", "6.4"),
        ("seen_on", "2026-05-20"),
        ("seen_by", "Mab"),
        ("table", "bag, pH\n7, 5.9"),
    ];
    let refused = bench.yard.post(&address, &typed).await;
    assert!(refused.status.is_client_error(), "{}", refused.body);
    let refused = refused.body;
    for part in ["1 row typed", "value=\"6.4\"", "7, 5.9"] {
        assert!(refused.contains(part), "no {part}: {refused}");
    }
    assert!(bench.yard.snapshot().samples.is_empty(), "nothing is kept of either");
}

#[tokio::test]
async fn other_columns_do_not_empty_what_was_typed() {
    let bench = Bench::us().await;
    let address = format!("/plots/{}/enter", bench.plot);
    let typed = [
        ("column", "pH"),
        ("column", "feel"),
        ("bag_0", "LF-1"),
        ("cell_0_0", "6.4"),
        ("note_0", "wet"),
        ("seen_on", "2026-05-20"),
        ("columns", "organic_matter"),
        ("figures", "P (Mehlich-3) ppm"),
        ("rows", "12"),
        ("redraw", "columns"),
    ];
    let again = bench.yard.post(&address, &typed).await;
    assert!(again.status.is_success(), "{}", again.body);
    // pH holds something and stays, behind what was asked for; the empty column goes.
    for part in ["name=\"cell_0_2\" value=\"6.4\"", "value=\"LF-1\"", "value=\"wet\"", "value=\"2026-05-20\""]
    {
        assert!(again.body.contains(part), "no {part}: {}", again.body);
    }
    assert!(!again.body.contains("name=\"column\" value=\"feel\""), "{}", again.body);
    assert!(bench.yard.snapshot().samples.is_empty(), "nothing is kept by that");
    // A heading that is not understood loses nothing either.
    let mut wrong = typed;
    wrong[7].1 = "wetness of the moon";
    let refused = bench.yard.post(&address, &wrong).await;
    assert!(refused.status.is_client_error() && refused.body.contains("value=\"6.4\""), "{}", refused.body);
    assert!(refused.body.contains("wetness of the moon"), "{}", refused.body);
}

#[tokio::test]
async fn a_second_figure_of_one_bag_is_told_before_it_is_kept() {
    let bench = Bench::us().await;
    let address = format!("/plots/{}/enter", bench.plot);
    let row = |ph: &'static str| {
        vec![
            ("column", "pH"),
            ("bag_0", "LF-1"),
            ("cell_0_0", ph),
            ("seen_on", "2026-05-20"),
            ("seen_by", "Mab"),
            ("from", "0"),
            ("to", "6"),
        ]
    };
    let first = bench.yard.post(&address, &row("6.4")).await;
    assert!(!first.status.is_client_error(), "{}", first.body);
    let record = bench.yard.snapshot().observations.last().expect("it is kept").id.to_string();
    let refused = bench.yard.post(&address, &row("5.2")).await;
    assert!(refused.status.is_client_error(), "{}", refused.body);
    for part in [record.as_str(), "6.4", "value=\"5.2\"", "name=\"second_reading\""] {
        assert!(refused.body.contains(part), "no {part}: {}", refused.body);
    }
    let kept = |bench: &Bench| bench.yard.snapshot().observations.len();
    let before = kept(&bench);
    let mut second = row("5.2");
    second.push(("second_reading", "true"));
    let told = bench.yard.post(&address, &second).await;
    assert!(!told.status.is_client_error(), "{}", told.body);
    assert_eq!(kept(&bench), before + 1);
}

#[tokio::test]
async fn a_wrong_day_and_wrong_cells_are_told_at_once() {
    let bench = Bench::us().await;
    let address = format!("/plots/{}/enter", bench.plot);
    let typed = [
        ("column", "pH"),
        ("bag_0", "1"),
        ("cell_0_0", "64"),
        ("seen_on", "2026-15-20"),
        ("from", "0"),
        ("to", "deep"),
    ];
    let refused = bench.yard.post(&address, &typed).await.body;
    for field in ["field-seen_on-error", "field-to-error", "cell_0_0"] {
        assert!(refused.contains(field), "no {field}: {refused}");
    }
    assert!(refused.contains("pH, row 1 (1)"), "{refused}");
}
