//! Moving what was said of one plot to another.

use super::Writing;
use crate::error::{BookError, Result};
use crate::held::Stamp;
use crate::model::{Body, EntryId};

/// Others lean on beds and samples, and photos on observations: those go first.
const IN_ORDER: &str =
    "CASE kind WHEN 'bed' THEN 0 WHEN 'sample' THEN 1 WHEN 'observation' THEN 2 ELSE 3 END, sequence";

impl Writing<'_> {
    /// Gives every record that speaks of one plot and still counts to another plot: beds, samples, observations, work,
    /// notes, plans to pull cores, whatever names it. How many were moved?
    ///
    /// # Errors
    /// A record that the other plot cannot have, or a book that cannot be written.
    pub fn move_to_plot(&mut self, from: EntryId, to: EntryId, reason: &str, stamp: &Stamp) -> Result<usize> {
        let found = self.identities(
            &format!(
                "SELECT id, number FROM latest WHERE NOT withdrawn AND body ->> '$.plot' = ?1 ORDER BY {IN_ORDER}"
            ),
            from,
        )?;
        self.give_to_plot(&found, to, reason, stamp)
    }

    /// Gives a bed to another plot, with every record that names both the bed and its plot: what was seen in it, spread
    /// on it, drawn of it. How many were moved?
    ///
    /// # Errors
    /// As [`Writing::move_to_plot`].
    pub fn move_bed(&mut self, bed: EntryId, to: EntryId, reason: &str, stamp: &Stamp) -> Result<usize> {
        let found = self.identities(
            &format!(
                "SELECT id, number FROM latest WHERE NOT withdrawn AND body ->> '$.plot' IS NOT NULL \
                 AND ?1 IN (id, body ->> '$.bed', body ->> '$.seen.bed') ORDER BY {IN_ORDER}"
            ),
            bed,
        )?;
        self.give_to_plot(&found, to, reason, stamp)
    }

    /// Gives records that name a plot to another one, in this order.
    ///
    /// # Errors
    /// As [`Writing::move_to_plot`].
    pub fn give_to_plot(
        &mut self,
        records: &[(EntryId, u32)],
        to: EntryId,
        reason: &str,
        stamp: &Stamp,
    ) -> Result<usize> {
        for (id, number) in records {
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
        Ok(records.len())
    }
}
