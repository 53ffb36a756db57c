//! JSON from a file or from stdin.

use std::io::Read;

use ground::kit::Refusal;
use serde_json::Value;

use crate::trouble::Trouble;

/// Larger than any input of ours; keeps something huge named by mistake from filling memory.
const LARGEST_INPUT_BYTES: u64 = 16 * 1024 * 1024;

/// Reads JSON from the file of that name, or from stdin where it is `-`.
pub(crate) fn json_from(name: &str) -> Result<Value, Trouble> {
    if name == "-" {
        return json_of(&read("stdin", std::io::stdin().lock())?);
    }
    let file = std::fs::File::open(name).map_err(|error| {
        Trouble::other(format!("{name} could not be read: {error}"))
            .hint("check the name, or use --in - and give the JSON on stdin")
    })?;
    json_of(&read(name, file)?)
}

fn read(name: &str, from: impl Read) -> Result<String, Trouble> {
    let mut text = String::new();
    match from.take(LARGEST_INPUT_BYTES).read_to_string(&mut text) {
        Ok(_) => Ok(text),
        Err(error) => Err(Trouble::other(format!("{name} could not be read as text: {error}"))),
    }
}

fn json_of(text: &str) -> Result<Value, Trouble> {
    serde_json::from_str(text).map_err(|error| {
        let message = if text.trim().is_empty() {
            "the input is empty".to_owned()
        } else {
            format!("the input is not JSON: {error}")
        };
        Refusal::new("", message)
            .given(text.chars().take(60).collect::<String>())
            .accepted("one JSON object")
            .example(r#"{"sand_percent": 40, "silt_percent": 40, "clay_percent": 20}"#)
            .into()
    })
}
