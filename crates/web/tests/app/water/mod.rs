//! Recording everything that the water work needs: beds, weather, moisture and intake.

mod beds;
mod import;
mod places;
mod plot;
mod seen;
mod weather;

use axum::http::StatusCode;
use book::model::{EntryId, UnitSystem};

use crate::record::Bench;

/// A farm with one plot and one bed in it: eight beds of 50 ft by 30 in.
pub(super) struct Rows {
    pub(super) bench: Bench,
    pub(super) bed: EntryId,
}

impl Rows {
    pub(super) async fn new(units: UnitSystem) -> Self {
        let bench = Bench::new(units).await;
        let plot = bench.plot.to_string();
        let fields = [
            ("plot", plot.as_str()),
            ("name", "Rows 1 to 8"),
            ("length_m", "50 ft"),
            ("width_m", "30 in"),
            ("count", "8"),
        ];
        bench.keep("/beds/new", &fields).await;
        let bed = bench.yard.snapshot().beds[0].id;
        Self { bench, bed }
    }

    /// The fields with the bed in front.
    fn with_bed<'a>(&self, bed: &'a str, fields: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
        assert_eq!(bed, self.bed.to_string());
        std::iter::once(("bed", bed)).chain(fields.iter().copied()).collect()
    }

    /// Posts what must be kept; it leads back to the plot of the bed.
    pub(super) async fn keep(&self, path: &str, fields: &[(&str, &str)]) {
        let bed = self.bed.to_string();
        let to = self.bench.keep(path, &self.with_bed(&bed, fields)).await;
        assert_eq!(to, format!("/plots/{}?done=kept", self.bench.plot));
    }

    /// Posts a correction that must be kept.
    pub(super) async fn keep_correction(&self, path: &str, fields: &[(&str, &str)]) {
        let bed = self.bed.to_string();
        let kept = self.bench.yard.post(path, &self.with_bed(&bed, fields)).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.body);
    }

    /// Posts what must be refused at the field `named`, with everything typed kept and nothing stored.
    pub(super) async fn refuse(&self, path: &str, fields: &[(&str, &str)], named: &str) -> String {
        let bed = self.bed.to_string();
        let fields = self.with_bed(&bed, fields);
        let told = self.bench.refuse(path, &fields).await;
        assert!(told.contains(&format!("href=\"#field-{named}\"")), "{path}: {named} is not named: {told}");
        let twin = self.bench.yard.post(&format!("/api{path}"), &fields).await;
        assert_eq!(twin.status, StatusCode::UNPROCESSABLE_ENTITY, "{path}");
        told
    }

    /// The page of the plot.
    pub(super) async fn page(&self) -> String {
        self.bench.yard.get(&format!("/plots/{}", self.bench.plot)).await.body
    }

    /// The form of a correction, and its address.
    pub(super) async fn correction(&self, id: EntryId) -> (String, String) {
        let path = format!("/records/{id}/correct");
        let form = self.bench.yard.get(&path).await;
        assert_eq!(form.status, StatusCode::OK, "{}", form.body);
        (path, form.body)
    }
}
