//! Recording on a plot: each kind of evidence, its refusals, its corrections.

mod any_form;
pub(crate) mod corrections;
mod feel;
mod jar;
mod kinds;
mod preview;
mod timed_jar;

use axum::http::{Method, StatusCode};
use book::Held;
use book::model::{EntryId, Observation, Seen, UnitSystem};
use serde_json::Value;

use crate::common::{Answer, Yard};

/// A farm with one plot to record on.
pub(crate) struct Bench {
    pub(crate) yard: Yard,
    pub(crate) plot: EntryId,
}

/// What surrounds every reading, in the usual case.
pub(crate) const ABOUT: [(&str, &str); 3] =
    [("sample", "plot"), ("seen_on", "2026-05-20"), ("seen_by", "Ada")];

impl Bench {
    pub(crate) async fn new(units: UnitSystem) -> Self {
        let yard = Yard::empty_in(units);
        let fields = [("name", "Lower field"), ("place", "open_field"), ("area_m2", "300 m2")];
        let kept = yard.post("/plots/new", &fields).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
        let plot = yard.snapshot().plots[0].id;
        Self { yard, plot }
    }

    pub(crate) async fn metric() -> Self {
        Self::new(UnitSystem::Metric).await
    }

    pub(crate) async fn us() -> Self {
        Self::new(UnitSystem::UsCustomary).await
    }

    /// Address of a form of this plot.
    pub(crate) fn form(&self, kind: &str) -> String {
        format!("/plots/{}/record/{kind}", self.plot)
    }

    /// Observations and samples in the book.
    pub(crate) fn count(&self) -> (usize, usize) {
        let snapshot = self.yard.snapshot();
        (snapshot.observations.len(), snapshot.samples.len())
    }

    /// The observation written last.
    pub(crate) fn latest(&self) -> Held<Observation> {
        self.yard.snapshot().observations.last().expect("something was recorded").clone()
    }

    pub(crate) fn seen(&self) -> Seen {
        self.latest().body.seen
    }

    pub(crate) async fn post_json(&self, path: &str, body: &Value) -> Answer {
        let headers = [("content-type", "application/json")];
        self.yard.send(Method::POST, path, &headers, body.to_string().into_bytes()).await
    }

    /// Posts what must be kept; gives where one is sent on to.
    pub(crate) async fn keep(&self, path: &str, fields: &[(&str, &str)]) -> String {
        let answer = self.yard.post(path, fields).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", problems(&answer));
        answer.header("location").to_owned()
    }

    /// Posts what must be kept on a form of this plot, with the usual day and person.
    pub(crate) async fn record(&self, kind: &str, fields: &[(&str, &str)]) -> String {
        let fields: Vec<(&str, &str)> = fields.iter().chain(&ABOUT).copied().collect();
        self.keep(&self.form(kind), &fields).await
    }

    /// Posts what must be refused; gives the list of problems after checking that nothing was stored
    /// and that everything typed is still there.
    pub(crate) async fn refuse(&self, path: &str, fields: &[(&str, &str)]) -> String {
        let before = self.yard.snapshot().mark;
        let answer = self.yard.post(path, fields).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", problems(&answer));
        assert_eq!(self.yard.snapshot().mark, before, "a refusal stores nothing");
        assert!(answer.body.contains("<title>Error: "), "the tab says so");
        for (name, text) in fields.iter().filter(|(_, text)| !text.is_empty()) {
            assert!(keeps(&answer.body, name, text), "{name} = {text} is kept in\n{}", answer.body);
        }
        problems(&answer)
    }

    pub(crate) async fn refuse_record(&self, kind: &str, fields: &[(&str, &str)]) -> String {
        let fields: Vec<(&str, &str)> = fields.iter().chain(&ABOUT).copied().collect();
        self.refuse(&self.form(kind), &fields).await
    }
}

/// The list of problems of a page.
pub(crate) fn problems(answer: &Answer) -> String {
    let list = answer.body.split("id=\"error-summary-title\"").nth(1).unwrap_or(&answer.body);
    list.split("</div>").next().unwrap_or_default().to_owned()
}

/// Whether a page carries a text in the field of that name, typed, chosen or carried along.
pub(crate) fn keeps(page: &str, name: &str, text: &str) -> bool {
    let text = text
        .replace('&', "&#38;")
        .replace('<', "&#60;")
        .replace('>', "&#62;")
        .replace('"', "&#34;")
        .replace('\'', "&#39;");
    let value = format!("value=\"{text}\"");
    page.match_indices(&format!("name=\"{name}\"")).any(|(at, _)| {
        let rest = &page[at..];
        let start = page[..at].rfind('<').unwrap_or(at);
        let element = &page[start..at + rest.find('>').unwrap_or(rest.len())];
        let boxed = element.contains("type=\"radio\"") || element.contains("type=\"checkbox\"");
        if element.starts_with("<select") {
            rest.split("</select>").next().is_some_and(|list| list.contains(&format!("{value} selected")))
        } else if element.starts_with("<textarea") {
            rest.split("</textarea>").next().is_some_and(|area| area.ends_with(&text))
        } else {
            element.contains(&value) && (!boxed || element.contains(" checked"))
        }
    })
}
