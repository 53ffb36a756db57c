//! The versions of the file, and how one becomes the next.

use rusqlite::Connection;

/// Marks a file as a farm book: "SpWk" in ASCII.
pub(super) const APPLICATION_ID: i64 = 0x5370_576b;

/// Step `n` turns version `n` of the file into version `n + 1`. Steps are only ever added.
const STEPS: &[&str] = &[
    include_str!("../../migrations/0001_log.sql"),
    include_str!("../../migrations/0002_views.sql"),
    include_str!("../../migrations/0003_water.sql"),
    include_str!("../../migrations/0004_feeding.sql"),
    include_str!("../../migrations/0005_covers.sql"),
    include_str!("../../migrations/0006_posts.sql"),
    include_str!("../../migrations/0007_plan.sql"),
    include_str!("../../migrations/0008_zones.sql"),
];

/// The version this program writes.
pub(super) const LATEST: i64 = STEPS.len() as i64;

/// Brings the open file from version `from` to version `to`, all or nothing.
pub(super) fn migrate(connection: &mut Connection, from: i64, to: i64) -> rusqlite::Result<()> {
    let transaction = connection.transaction_with_behavior(rusqlite::TransactionBehavior::Exclusive)?;
    // Another process may have done it while this one waited.
    let now: i64 = transaction.pragma_query_value(None, "user_version", |row| row.get(0))?;
    for (version, step) in (0_i64..).zip(STEPS) {
        if version >= now.max(from) && version < to {
            transaction.execute_batch(step)?;
        }
    }
    if now < to {
        transaction.pragma_update(None, "application_id", APPLICATION_ID)?;
        transaction.pragma_update(None, "user_version", to)?;
    }
    transaction.commit()
}
