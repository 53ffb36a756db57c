//! Moving everything that was said of one plot to another.

use super::Writing;
use crate::error::{BookError, Result};
use crate::held::Stamp;
use crate::model::{Body, EntryId};

impl Writing<'_> {
    /// Gives every record that speaks of one plot and still counts to another plot: samples, observations, work, notes,
    /// plans to pull cores, whatever names it. How many were moved?
    ///
    /// # Errors
    /// A record that the other plot cannot have, or a book that cannot be written.
    pub fn move_to_plot(&mut self, from: EntryId, to: EntryId, reason: &str, stamp: &Stamp) -> Result<usize> {
        let found = self.identities(
            "SELECT id, number FROM latest WHERE NOT withdrawn AND body ->> '$.plot' = ?1 ORDER BY sequence",
            from,
        )?;
        for (id, number) in &found {
            let body = self.latest(*id, None)?.held.body;
            let kind = body.kind();
            let damaged = |error: serde_json::Error| BookError::Damaged {
                path: self.path.to_owned(),
                detail: format!("a record that names a plot: {error}"),
            };
            let mut json = serde_json::to_value(&body).map_err(damaged)?;
            json["plot"] = serde_json::json!(to);
            let body = Body::parse(kind, &json.to_string()).map_err(damaged)?;
            self.revise_body(*id, *number, body, reason, stamp)?;
        }
        Ok(found.len())
    }
}
