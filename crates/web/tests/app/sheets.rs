//! The sheets to print.

use axum::http::StatusCode;

use crate::common::Yard;

const SHEETS: [&str; 3] = ["work", "spread", "buying"];

#[tokio::test]
async fn every_sheet_is_a_pdf_named_after_farm_and_day() {
    for yard in [Yard::demo(), Yard::empty()] {
        for sheet in SHEETS {
            let answer = yard.get(&format!("/{sheet}.pdf")).await;
            assert_eq!(answer.status, StatusCode::OK, "{sheet}: {}", answer.body);
            assert_eq!(answer.header("content-type"), "application/pdf");
            // The header of every PDF file (ISO 32000-2, 7.5.2).
            assert!(answer.body.starts_with("%PDF-1."), "{sheet}");
            let name = answer.header("content-disposition").to_owned();
            assert!(name.contains("2026-05-21") && name.ends_with(&format!("-{sheet}.pdf\"")), "{name}");
        }
    }
}

#[tokio::test]
async fn without_a_book_a_sheet_leads_to_the_start() {
    let yard = Yard::bare();
    for sheet in SHEETS {
        assert_eq!(yard.get(&format!("/{sheet}.pdf")).await.status, StatusCode::SEE_OTHER);
    }
}
