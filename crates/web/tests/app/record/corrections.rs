//! Corrections of evidence: the form it was recorded with, filled in.

use axum::http::StatusCode;
use book::model::Seen;
use ground::kit::Bounded;
use ground::texture::jar::{Boundary, Marks};

use super::{ABOUT, Bench, keeps, problems};
use crate::common::Yard;

const JAR: [(&str, &str); 8] = [
    ("read_as", "thicknesses"),
    ("sand", "2 3/16 in"),
    ("silt", "11/16 to 13/16 in"),
    ("clay", "not seen"),
    ("water_after_a_day", "cloudy"),
    ("dispersant", "dishwasher_powder"),
    ("shape", "straight"),
    ("water_height", "7 1/4 in"),
];

fn corrected<'a>(change: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let usual = JAR.iter().chain(&ABOUT).chain(&[("reason", "typing slip"), ("from_number", "1")]).copied();
    usual
        .map(|(name, text)| change.iter().find(|(other, _)| *other == name).copied().unwrap_or((name, text)))
        .collect()
}

#[tokio::test]
async fn a_typing_slip_is_corrected_in_the_same_form() {
    let bench = Bench::us().await;
    bench.record("jar", &JAR).await;
    let id = bench.latest().id;
    let path = format!("/records/{id}/correct");
    let form = bench.yard.get(&path).await;
    assert_eq!(form.status, StatusCode::OK);
    for (name, text) in [
        ("read_as", "thicknesses"),
        ("sand", "2 3/16"),
        ("silt", "11/16 in to 13/16 in"),
        ("clay", "not seen"),
        ("dispersant", "dishwasher_powder"),
        ("sample", "plot"),
        ("seen_on", "2026-05-20"),
        ("seen_by", "Ada"),
    ] {
        assert!(keeps(&form.body, name, text), "{name} = {text}: {}", form.body);
    }

    let told = bench.refuse(&path, &corrected(&[("sand", "1 3/16 in"), ("reason", "")])).await;
    assert!(told.contains("#field-reason"), "{told}");
    let told = bench.refuse(&path, &corrected(&[])).await;
    assert!(told.contains("Nothing differs"), "{told}");

    let onward = bench.keep(&path, &corrected(&[("sand", "1 3/16 in")])).await;
    let held = bench.latest();
    assert_eq!((held.id, held.number), (id, 2));
    let Seen::Jar(jar) = held.body.seen else { panic!("a jar") };
    assert!(
        matches!(jar.reading.marks, Marks::Thicknesses { sand: Boundary::At { mm }, .. } if mm.get() == 30.162_5)
    );
    let page = bench.yard.get(&onward).await;
    assert!(page.body.contains("What the jar test") && page.body.contains(" was "), "told against the slip");
    let history = bench.yard.get(&format!("/records/{id}/history")).await;
    assert!(history.body.contains("2 3/16 in") && history.body.contains("typing slip"), "{}", history.body);
}

#[tokio::test]
async fn two_corrections_at_once_are_both_shown() {
    let bench = Bench::us().await;
    bench.record("jar", &JAR).await;
    let path = format!("/records/{}/correct", bench.latest().id);
    bench.keep(&path, &corrected(&[("sand", "1 3/16 in")])).await;
    let late = bench.yard.post(&path, &corrected(&[("sand", "2 1/16 in")])).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(late.body.contains("1 3/16 in") && keeps(&late.body, "sand", "2 1/16 in"));
    assert!(keeps(&late.body, "from_number", "2"), "saving again is knowing");
    assert_eq!(bench.latest().number, 2);
    bench.keep(&path, &corrected(&[("sand", "2 1/16 in"), ("from_number", "2")])).await;
    assert_eq!(bench.latest().number, 3);
}

#[tokio::test]
async fn a_correction_that_makes_no_sense_is_refused() {
    let bench = Bench::us().await;
    bench.record("jar", &JAR).await;
    let path = format!("/records/{}/correct", bench.latest().id);
    let told = bench.refuse(&path, &corrected(&[("water_height", "1 in")])).await;
    assert!(told.contains("#field-water_height"), "{told}");
    let withdrawn = format!("/records/{}/withdraw", bench.latest().id);
    let gone = bench.yard.post(&withdrawn, &[("reason", "another field"), ("from_number", "1")]).await;
    assert_eq!(gone.status, StatusCode::SEE_OTHER, "{}", problems(&gone));
    assert_eq!(bench.yard.get(&path).await.status, StatusCode::CONFLICT);
}

/// Every piece of the demonstration's evidence, of each kind: its form shows what the book holds, and
/// sending the form back as it came changes nothing.
#[tokio::test]
async fn a_form_sent_back_untouched_changes_nothing() {
    let yard = Yard::demo();
    let mut kinds = std::collections::BTreeSet::new();
    for held in &yard.snapshot().observations {
        kinds.insert(held.body.seen.what());
        let path = format!("/records/{}/correct", held.id);
        let form = yard.get(&path).await;
        assert_eq!(form.status, StatusCode::OK, "{:?}", held.body.seen);
        let mut fields = fields_of(&form.body);
        fields.retain(|(name, _)| name != "reason");
        fields.push(("reason".to_owned(), "looked at it again".to_owned()));
        let fields: Vec<(&str, &str)> =
            fields.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        let back = yard.post(&path, &fields).await;
        assert!(
            problems(&back).contains("Nothing differs"),
            "{:?}\n{fields:?}\n{}",
            held.body.seen,
            problems(&back)
        );
    }
    let all = [
        "building_ground",
        "cores",
        "feel",
        "gravel",
        "hydrometer",
        "jar",
        "kitchen_scale",
        "lab_report",
        "lab_texture",
        "layers",
        "moisture",
        "organic_matter",
        "packing",
        "probe",
        "ring_infiltration",
        "salinity",
        "signs",
        "slake",
        "spade",
        "working",
    ];
    assert_eq!(kinds.into_iter().collect::<Vec<_>>(), all);
}

/// What a browser without script would send of the form of a correction.
pub(crate) fn fields_of(page: &str) -> Vec<(String, String)> {
    let form = page
        .split("class=\"record-form")
        .nth(1)
        .or_else(|| page.split("<form method=\"post\" novalidate>").nth(1))
        .and_then(|rest| rest.split("</form>").next())
        .expect("a form");
    let attribute = |element: &str, name: &str| {
        let rest = element.split(&format!(" {name}=\"")).nth(1)?;
        Some(
            rest.split('"')
                .next()?
                .replace("&#34;", "\"")
                .replace("&#39;", "'")
                .replace("&#60;", "<")
                .replace("&#62;", ">")
                .replace("&#38;", "&"),
        )
    };
    let mut fields = Vec::new();
    for (at, _) in form.match_indices('<') {
        let element = &form[at..at + form[at..].find('>').unwrap_or(0)];
        let Some(name) = attribute(element, "name") else { continue };
        let boxed = element.contains("type=\"radio\"") || element.contains("type=\"checkbox\"");
        if element.starts_with("<input")
            && (!boxed || element.ends_with(" checked") || element.contains(" checked "))
        {
            fields.push((name, attribute(element, "value").unwrap_or_default()));
        } else if element.starts_with("<textarea") {
            let text = form[at..]
                .split('>')
                .nth(1)
                .and_then(|rest| rest.split("</textarea").next())
                .unwrap_or_default();
            let text = text
                .trim_start_matches('\n')
                .replace("&#34;", "\"")
                .replace("&#39;", "'")
                .replace("&#60;", "<")
                .replace("&#62;", ">")
                .replace("&#38;", "&");
            if name != "reason" {
                fields.push((name, text));
            }
        } else if element.starts_with("<select") {
            let list = form[at..].split("</select>").next().unwrap_or_default();
            let chosen = list.split("<option").find(|option| option.contains(" selected"));
            fields.push((name, chosen.and_then(|option| attribute(option, "value")).unwrap_or_default()));
        }
    }
    fields
}
