//! Laboratory reports: typed in, taken in as a table, read by a scheme, undone.

use axum::http::StatusCode;
use book::model::{HeadingMeans, Seen};
use ground::fertility::analysis::report::{Amount, Analyte, Procedure, ReportUnit};

use crate::common::Yard;
use crate::record::{Bench, problems};

const TABLE: &str = "Sample ID,Lab No,pH,Buffer pH (SMP),P (Mehlich-3),K lb/ac,OM %,Colour\n\
    Lower field,101,5.4,6.3,<2,120,3.1,brown\n\
    Upper field,102,6.9,,310,640,7.2,black\n";

/// A metric farm with two plots.
async fn yard() -> Yard {
    let yard = Yard::empty();
    for name in ["Lower field", "Upper field"] {
        let kept =
            yard.post("/plots/new", &[("name", name), ("place", "open_field"), ("area_m2", "300 m2")]).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    }
    yard
}

fn with<'a>(more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let seen = "Sample ID\tLab No\tpH\tBuffer pH (SMP)\tP (Mehlich-3)\tK lb/ac\tOM %\tColour";
    let mut fields = vec![
        ("table", TABLE),
        ("seen", seen),
        ("take", "1"),
        ("laboratory", "Valley laboratory"),
        ("basis_depth", "17 cm"),
        ("date", "2026-04-01"),
        ("column_0", "bag_label"),
        ("column_1", "number"),
        ("column_2", "figure ph_water"),
        ("column_3", "figure buffer_ph"),
        ("method_3", "smp"),
        ("unit_3", "none"),
        ("column_4", "figure phosphorus"),
        ("method_4", "mehlich_3_icp"),
        ("unit_4", "ppm"),
        ("column_5", "figure potassium"),
        ("method_5", "mehlich_3_icp"),
        ("unit_5", "lb_per_acre"),
        ("column_6", "figure organic_matter"),
        ("unit_6", "percent"),
        ("column_7", "-"),
    ];
    fields.retain(|(name, _)| !more.iter().any(|(other, _)| other == name));
    fields.extend(more);
    fields
}

#[tokio::test]
async fn a_table_is_looked_at_then_taken_in_and_remembered() {
    let yard = yard().await;
    let mark = yard.snapshot().mark;
    let looked =
        yard.post("/import", &[("table", TABLE), ("look", "1"), ("laboratory", "Valley laboratory")]).await;
    assert_eq!(looked.status, StatusCode::OK, "{}", looked.body);
    assert_eq!(yard.snapshot().mark, mark, "a look stores nothing");
    assert!(looked.body.contains("value=\"figure phosphorus\" selected"), "{}", looked.body);
    assert!(looked.body.contains("value=\"smp\" selected"));
    // The unit of phosphorus is not on its heading, and "Colour" is nothing that is known: both are asked for.
    let refused = yard.post("/import", &with(&[("unit_4", ""), ("column_7", "")])).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let told = problems(&refused);
    assert!(told.contains("P (Mehlich-3)") && told.contains("Colour"), "{told}");
    assert!(refused.body.contains("Sample ID,Lab No"), "the table can be mended in place");
    assert_eq!(yard.snapshot().mark, mark);

    let kept = yard.post("/import", &with(&[])).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    let snapshot = yard.snapshot();
    assert_eq!((snapshot.observations.len(), snapshot.samples.len()), (2, 2));
    let Seen::LabReport(report) = &snapshot.observations[0].body.seen else { panic!("a report") };
    assert_eq!(report.first(Analyte::Phosphorus).map(|one| one.amount), Some(Amount::Below(2.0)));
    let columns = &snapshot.laboratories[0].body.columns;
    assert!(
        columns.iter().any(|column| column.heading == "Colour" && column.means == HeadingMeans::PassedOver)
    );
    let next = yard.post("/import", &[("table", TABLE), ("look", "1")]).await;
    assert!(next.body.contains("as they were the last time"), "{}", next.body);

    // The page of the plot, with a scheme that the farm chooses.
    let plot = snapshot.plot_named("Upper field").expect("a plot").id;
    let page = yard.get(&format!("/plots/{plot}/lab")).await;
    assert_eq!(page.status, StatusCode::OK, "{}", page.body);
    assert!(page.body.contains("No scheme is chosen") && page.body.contains("310 ppm"), "{}", page.body);
    let settings = [("name", "Long Furrow Farm"), ("units", "metric"), ("nutrient_scheme", "rutgers_m3")];
    let kept = yard.post("/settings", &settings).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    let page = yard.get(&format!("/plots/{plot}/lab")).await;
    assert!(page.body.contains("Very high: far above the optimum"), "{}", page.body);
    let twin = yard.get(&format!("/api/plots/{plot}/lab")).await.json();
    assert_eq!(twin["scheme"]["key"], "rutgers_m3");
    assert_eq!(twin["report"]["figures"][2]["class"]["class"], "very high", "{twin}");
    let refused = yard
        .post("/settings", &[("name", "Long Furrow Farm"), ("units", "metric"), ("nutrient_scheme", "x")])
        .await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn a_table_is_undone_as_a_whole_and_may_come_again() {
    let yard = yard().await;
    let kept = yard.post("/import", &with(&[])).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", problems(&kept));
    let id = yard.snapshot().imports[0].id;
    let page = yard.get("/import").await;
    assert!(page.body.contains(&format!("action=\"/imports/{id}/undo\"")), "{}", page.body);
    let undone = yard.post(&format!("/imports/{id}/undo"), &[]).await;
    assert_eq!(undone.status, StatusCode::SEE_OTHER, "{}", undone.body);
    let snapshot = yard.snapshot();
    assert_eq!((snapshot.observations.len(), snapshot.samples.len(), snapshot.imports.len()), (0, 0, 0));
    assert!(
        yard.get(undone.header("location")).await.body.contains("4 records made from it no longer count")
    );
    assert_eq!(yard.post(&format!("/imports/{id}/undo"), &[]).await.status, StatusCode::NOT_FOUND);
    assert_eq!(yard.post("/import", &with(&[])).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn bad_tables_are_named_and_nothing_is_half_imported() {
    let yard = yard().await;
    let mark = yard.snapshot().mark;
    for (file, word) in [(&b"%PDF-1.7 a report"[..], "PDF"), (b"PK\x03\x04 a workbook", "workbook")] {
        let refused =
            yard.post_file("/import", &[("table", ""), ("look", "1")], ("file", "report", file)).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(problems(&refused).contains(word), "{}", problems(&refused));
    }
    let worse =
        TABLE.replace("5.4,6.3", "71,8.4").replace("7.2,black", "120,black").replace("640", "640 ppm");
    let refused = yard.post("/import", &with(&[("table", &worse)])).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in
        ["did you mean 7.1", "buffer pH must be", "organic matter must be", "two units in one column"]
    {
        assert!(refused.body.contains(words), "{words}: {}", refused.body);
    }
    let refused = yard.post("/import", &with(&[("basis_depth", "")])).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(problems(&refused).contains("to what depth"), "{}", problems(&refused));
    assert_eq!(yard.snapshot().mark, mark);
}

#[tokio::test]
async fn a_report_is_typed_in_and_corrected() {
    let bench = Bench::us().await;
    let form = bench.yard.get(&bench.form("lab-report")).await;
    assert!(form.body.contains("value=\"ph_water\" selected"), "rows are offered");
    let fields = [
        ("laboratory", "County laboratory"),
        ("number", "12"),
        ("basis_depth", "6 2/3 in"),
        ("free_lime", "none"),
        ("what_1", "ph_water"),
        ("value_1", "6.4"),
        ("what_4", "phosphorus"),
        ("value_4", "< 2"),
        ("unit_4", "lb_per_acre"),
        ("method_4", "bray_1"),
        // A row without a number is passed over.
        ("what_5", "potassium"),
        ("rec_what_1", "lime"),
        ("rec_rate_1", "1.5"),
        ("rec_unit_1", "ton_per_acre"),
        ("rec_crop_1", "cabbage"),
    ];
    let to = bench.record("lab-report", &fields).await;
    assert!(to.ends_with("/lab?done=kept"), "{to}");
    let Seen::LabReport(report) = bench.seen() else { panic!("a report") };
    assert_eq!(report.figures.len(), 2);
    let phosphorus = report.figures[1];
    assert_eq!(
        (phosphorus.procedure, phosphorus.unit, phosphorus.amount),
        (Procedure::Bray1, ReportUnit::LbPerAcre, Amount::Below(2.0))
    );
    assert_eq!(report.recommended[0].for_crop, "cabbage");
    let page = bench.yard.get(to.split('?').next().unwrap_or(&to)).await;
    assert!(page.body.contains("1.5 ton/acre (69 lb/1000 ft²"), "{}", page.body);

    // The form of a correction holds what the book holds.
    let held = bench.latest();
    let form = bench.yard.get(&format!("/records/{}/correct", held.id)).await;
    assert_eq!(form.status, StatusCode::OK, "{}", form.body);
    assert!(form.body.contains("value=\"&#60; 2\""), "{}", form.body);
    // The next report is offered the unit and method of this one.
    let next = bench.yard.get(&bench.form("lab-report")).await;
    assert!(next.body.contains("value=\"bray_1\" selected"));
}

#[tokio::test]
async fn slips_of_a_typed_report_are_told_at_their_row() {
    let bench = Bench::metric().await;
    for (fields, told) in [
        (&[("what_1", "ph_water"), ("value_1", "71")][..], "did you mean 7.1"),
        (&[("what_2", "buffer_ph"), ("value_2", "8.3"), ("unit_2", "none")][..], "buffer pH must be"),
        (
            &[("what_3", "organic_matter"), ("value_3", "130"), ("unit_3", "percent")][..],
            "organic matter must be",
        ),
        (&[("what_4", "phosphorus"), ("value_4", "30"), ("unit_4", "lb_per_acre")][..], "to what depth"),
        (&[("what_4", "phosphorus"), ("value_4", "30")][..], "in which unit"),
        (&[("what_4", "phosphorus"), ("value_4", "30"), ("unit_4", "percent")][..], "is not given in"),
        (
            &[("what_4", "phosphorus"), ("value_4", "30"), ("unit_4", "ppm"), ("method_4", "smp")][..],
            "does not measure",
        ),
        (&[("value_4", "30")][..], "say what was measured"),
        (&[("what_4", "phosphorus"), ("value_4", "1,234.5"), ("unit_4", "ppm")][..], "commas and points"),
        (&[("what_1", "ph_water"), ("value_1", "6"), ("rec_rate_1", "2")][..], "say of what"),
    ] {
        let problems = bench.refuse_record("lab-report", fields).await;
        assert!(problems.contains(told), "{told}: {problems}");
    }
    assert_eq!(bench.count(), (0, 0));
    let answer = bench
        .post_json(
            &format!("/api{}", bench.form("lab-report")),
            &serde_json::json!({ "what_1": "ph_water", "value_1": "6.1", "sample": "plot", "seen_on": "2026-05-20" }),
        )
        .await;
    assert_eq!(answer.status, StatusCode::CREATED, "{}", answer.body);
}

#[tokio::test]
async fn the_demonstration_shows_its_reports() {
    let yard = Yard::demo();
    let snapshot = yard.snapshot();
    let page = |name: &str| format!("/plots/{}/lab", snapshot.plot_named(name).expect("a plot").id);
    let knoll = yard.get(&page("Sand knoll")).await;
    assert_eq!(knoll.status, StatusCode::OK);
    assert!(knoll.body.contains("No level of lead is free of risk"), "{}", knoll.body);
    assert!(knoll.body.contains("&#60; 0.2 ppm"), "{}", knoll.body);
    assert!(knoll.body.contains("not read again"), "recalled limits say so");
    let empty = yard.get(&page("New ground")).await;
    assert!(empty.body.contains("No laboratory report is written down"), "{}", empty.body);
}
