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
