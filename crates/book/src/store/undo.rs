//! Undoing a table that was taken in, and something that was drawn: all that came with it, together.

use super::{Book, Writing};
use crate::error::{BookError, Result};
use crate::held::{Held, Stamp};
use crate::model::{Body, EntryId, Farm, Kind};

/// Why a part, and the plot that was made with it, no longer counts.
const OFF_THE_PLAN: &str = "taken off the plan";

impl Book {
    /// Withdraws an import and every record that came from it and still counts, together or not at all;
    /// gives how many records that were, the import itself not counted.
    ///
    /// # Errors
    /// There is no such import, it was undone already, or the book cannot be written.
    pub fn undo_import(&mut self, id: EntryId, reason: &str, stamp: &Stamp) -> Result<usize> {
        self.write(|writing| writing.undo_import(id, reason, stamp))
    }
}

impl Writing<'_> {
    /// See [`Book::undo_import`].
    ///
    /// # Errors
    /// See [`Book::undo_import`].
    pub fn undo_import(&mut self, id: EntryId, reason: &str, stamp: &Stamp) -> Result<usize> {
        let import = self.latest(id, Some(Kind::Import))?;
        let plots = self.plots_made_with(id)?;
        let fixed = self.farm_fixed_with(id)?;
        // An import that was undone already is refused here, before anything else is touched.
        self.set_withdrawn(id, import.held.number, true, reason, stamp)?;
        let made = self.came_in_with(id)?;
        for (record, number) in &made {
            self.set_withdrawn(*record, *number, true, reason, stamp)?;
        }
        for (plot, number) in &plots {
            self.set_withdrawn(*plot, *number, true, reason, stamp)?;
        }
        if let Some((farm, number)) = fixed
            && let Body::Farm(body) = self.latest(farm, Some(Kind::Farm))?.held.body
        {
            self.revise(farm, number, Farm { plan_origin: None, ..body }, reason, stamp)?;
        }
        Ok(made.len() + plots.len())
    }

    /// Takes a part off the plan. A plot that was made by drawing it, and of which nothing else speaks, goes with it.
    ///
    /// # Errors
    /// As [`Book::withdraw`].
    pub fn take_off_plan(&mut self, part: EntryId, from_number: u32, stamp: &Stamp) -> Result<Held<Body>> {
        let plots = self.identities(
            "SELECT p.id, p.number FROM latest AS p WHERE p.kind = 'plot' AND NOT p.withdrawn AND p.number = 1 \
             AND p.recorded_at = (SELECT min(recorded_at) FROM history WHERE id = ?1) \
             AND EXISTS (SELECT 1 FROM latest AS q WHERE q.id = ?1 AND q.body ->> '$.plot' = p.id) \
             AND NOT EXISTS (SELECT 1 FROM latest AS r WHERE NOT r.withdrawn AND r.body ->> '$.plot' = p.id \
                             AND r.id <> ?1)",
            part,
        )?;
        let kept = self.set_withdrawn(part, from_number, true, OFF_THE_PLAN, stamp)?;
        for (plot, number) in plots {
            self.set_withdrawn(plot, number, true, OFF_THE_PLAN, stamp)?;
        }
        Ok(kept)
    }

    /// Brings a part back that was taken off the plan, with the plot that went with it.
    ///
    /// # Errors
    /// As [`Book::restore`].
    pub fn bring_back_to_plan(
        &mut self,
        part: EntryId,
        from_number: u32,
        stamp: &Stamp,
    ) -> Result<Held<Body>> {
        let plots = self.identities(
            "SELECT p.id, p.number FROM latest AS p JOIN history AS h ON h.id = p.id AND h.number = p.number \
             WHERE p.kind = 'plot' AND p.withdrawn AND h.reason = 'taken off the plan' \
             AND EXISTS (SELECT 1 FROM latest AS q WHERE q.id = ?1 AND q.body ->> '$.plot' = p.id)",
            part,
        )?;
        for (plot, number) in plots {
            self.set_withdrawn(plot, number, false, "brought back", stamp)?;
        }
        self.set_withdrawn(part, from_number, false, "brought back", stamp)
    }

    /// Plots that were made for outlines of a file and of which nothing else speaks.
    fn plots_made_with(&self, import: EntryId) -> Result<Vec<(EntryId, u32)>> {
        self.identities(
            "SELECT p.id, p.number FROM latest AS p WHERE p.kind = 'plot' AND NOT p.withdrawn AND p.number = 1 \
             AND p.recorded_at = (SELECT min(recorded_at) FROM history WHERE id = ?1) \
             AND EXISTS (SELECT 1 FROM latest AS q WHERE q.kind = 'plan_part' \
                         AND q.body ->> '$.import' = ?1 AND q.body ->> '$.plot' = p.id) \
             AND NOT EXISTS (SELECT 1 FROM latest AS r WHERE NOT r.withdrawn AND r.body ->> '$.plot' = p.id \
                             AND coalesce(r.body ->> '$.import', '') <> ?1)",
            import,
        )
    }

    /// The farm, where a file fixed its plan to the Earth and nothing else is drawn in degrees.
    fn farm_fixed_with(&self, import: EntryId) -> Result<Option<(EntryId, u32)>> {
        let found = self.identities(
            "SELECT f.id, f.number FROM latest AS f WHERE f.kind = 'farm' AND NOT f.withdrawn \
             AND EXISTS (SELECT 1 FROM history AS h WHERE h.id = f.id AND h.reason = 'the plan was fixed by a file' \
                         AND h.recorded_at = (SELECT min(recorded_at) FROM history WHERE id = ?1) \
                         AND h.body ->> '$.plan_origin' = f.body ->> '$.plan_origin') \
             AND NOT EXISTS (SELECT 1 FROM latest AS r WHERE NOT r.withdrawn AND r.kind = 'plan_part' \
                             AND r.body ->> '$.outline.frame' = 'wgs84' \
                             AND coalesce(r.body ->> '$.import', '') <> ?1)",
            import,
        )?;
        Ok(found.into_iter().next())
    }

    /// The records of an import that still count, with their present revisions.
    fn came_in_with(&self, import: EntryId) -> Result<Vec<(EntryId, u32)>> {
        self.identities(
            "SELECT id, number FROM latest WHERE NOT withdrawn AND kind <> 'import' \
             AND body ->> '$.import' = ?1 ORDER BY sequence",
            import,
        )
    }

    /// Identities and present revisions that a question about a record finds.
    pub(super) fn identities(&self, sql: &str, about: EntryId) -> Result<Vec<(EntryId, u32)>> {
        let failed = |error| BookError::of(self.path, error);
        let rows = self
            .transaction
            .prepare_cached(sql)
            .and_then(|mut statement| {
                statement
                    .query_map([about.to_string()], |row| Ok((row.get::<_, String>(0)?, row.get(1)?)))?
                    .collect::<rusqlite::Result<Vec<(String, u32)>>>()
            })
            .map_err(failed)?;
        rows.into_iter()
            .map(|(id, number)| {
                let id = id.parse().map_err(|error| BookError::Damaged {
                    path: self.path.to_owned(),
                    detail: format!("the identity of a record: {error}"),
                })?;
                Ok((id, number))
            })
            .collect()
    }
}
