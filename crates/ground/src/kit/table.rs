//! Reading the tables that are compiled in.

use serde::de::DeserializeOwned;

/// Every row of a table, `#` lines left out. Each table is read whole by a test.
pub(crate) fn rows<T: DeserializeOwned>(name: &str, text: &str) -> Vec<T> {
    let rows = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes()).into_deserialize();
    match rows.collect() {
        Ok(rows) => rows,
        Err(error) => unreachable!("{name}: {error}"),
    }
}
