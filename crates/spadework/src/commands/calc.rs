//! `calc`: any method of the registry, JSON in and JSON out.

use std::io::IsTerminal;

use clap::Args;
use ground::kit::{Refusal, Registered, Topic};
use ground::registry;
use serde_json::{Value, json};

use super::input::json_from;
use crate::args::Global;
use crate::near::nearest;
use crate::report::{Report, columns, wrapped};
use crate::setting;
use crate::trouble::Trouble;

/// Options of `calc`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  spadework calc --list
  spadework calc texture-class --set sand_percent=40 --set silt_percent=40 --set clay_percent=20
  echo '{\"diameter_um\": 50, \"depth_mm\": 100, \"water_temperature_c\": 20}' | spadework calc settling-time
  spadework calc settling-time --set diameter_um=50 --set depth_mm=4in --set water_temperature_c=68F --working")]
pub(crate) struct Calc {
    /// The method; --list names them all
    #[arg(required_unless_present = "list")]
    method: Option<String>,
    /// List every method
    #[arg(long)]
    list: bool,
    /// Read the input, a JSON object, from a file, or from stdin where it is -
    #[arg(long = "in", value_name = "FILE")]
    input: Option<String>,
    /// Set one field of the input; measures are read as people write them
    #[arg(long = "set", value_name = "FIELD=VALUE")]
    settings: Vec<String>,
    /// Add the steps of the computation, with numbers and sources
    #[arg(long)]
    working: bool,
    /// Print the JSON schemas of input and output instead
    #[arg(long, conflicts_with_all = ["working", "about", "example"])]
    schema: bool,
    /// Print what the method computes, its range, sources and cautions instead
    #[arg(long, conflicts_with_all = ["working", "example"])]
    about: bool,
    /// Print an example of its input instead
    #[arg(long, conflicts_with = "working")]
    example: bool,
}

impl Calc {
    /// Computes, lists or explains.
    pub(crate) fn run(self, global: &Global) -> Result<Report, Trouble> {
        let Some(name) = self.method.as_deref().filter(|_| !self.list) else { return list() };
        let method = registry::find(name).ok_or_else(|| no_such_method(name))?;
        if self.schema {
            return Ok(Report::json_only(
                json!({ "method": name, "input": method.input_schema(), "output": method.output_schema() }),
            ));
        }
        if self.about {
            return about(method);
        }
        if self.example {
            return Ok(Report::json_only(method.example()));
        }
        let input = self.input(method, global)?;
        if self.working {
            let (mut answer, working) = method.answer_with_working(&input)?;
            answer["working"] = json!(working);
            return Ok(Report::json_only(answer));
        }
        Ok(Report::json_only(method.answer(&input)?))
    }

    fn input(&self, method: &dyn Registered, global: &Global) -> Result<Value, Trouble> {
        let name = method.card().name;
        let mut input = match self.input.as_deref() {
            Some(from) => json_from(from)?,
            None if !self.settings.is_empty() => Value::Null,
            None if std::io::stdin().is_terminal() => {
                return Err(Trouble::from(
                    Refusal::new("", format!("{name} needs an input"))
                        .given("nothing")
                        .accepted("a JSON object on stdin, --in FILE, or --set field=value")
                        .example(method.example().to_string()),
                )
                .hint(format!("spadework calc {name} --about")));
            }
            None => json_from("-")?,
        };
        setting::apply(&self.settings, &method.input_schema(), global.system(), &mut input)?;
        Ok(input)
    }
}

fn no_such_method(name: &str) -> Trouble {
    let known: Vec<&str> = registry::METHODS.iter().map(|method| method.card().name).collect();
    let likely = nearest(name, known.iter().copied()).unwrap_or("texture-class");
    Trouble::from(
        Refusal::new("method", format!("no method is called {name:?}"))
            .given(name)
            .accepted(known.join(", "))
            .example(likely),
    )
    .hint("spadework calc --list")
}

/// Names of the methods that a shipped case checks.
fn checked() -> Vec<String> {
    let files = checks::shipped().unwrap_or_default();
    files.iter().flat_map(|file| file.case.iter().map(|case| case.method.clone())).collect()
}

fn list() -> Result<Report, Trouble> {
    let checked = checked();
    let is_checked = |name: &str| checked.iter().any(|method| method == name);
    let listed: Vec<Value> = registry::METHODS
        .iter()
        .map(|method| {
            let card = method.card();
            let mut entry = json!(card);
            entry["validated"] = json!(is_checked(card.name));
            entry
        })
        .collect();
    let mut text = String::new();
    for topic in Topic::ALL {
        let rows: Vec<Vec<String>> = registry::METHODS
            .iter()
            .map(|method| method.card())
            .filter(|card| card.topic == topic)
            .map(|card| {
                let mark = if is_checked(card.name) { "" } else { " (implemented, not validated)" };
                vec![card.name.to_owned(), format!("{}{mark}", card.title)]
            })
            .collect();
        if !rows.is_empty() {
            text.push_str(&format!("{}\n{}\n\n", topic.title(), columns(&rows, "  ")));
        }
    }
    text.push_str("spadework calc METHOD --about says what a method computes and what it needs.");
    Report::new(&json!({ "methods": listed }), text)
}

fn about(method: &dyn Registered) -> Result<Report, Trouble> {
    const WIDTH: usize = 90;
    let card = method.card();
    let is_checked = checked().iter().any(|name| name == card.name);
    let mut text = format!("{} ({})\n\n{}\n", card.title, card.name, wrapped(card.computes, WIDTH, ""));
    let schema = method.input_schema();
    let required: Vec<&str> = schema
        .get("required")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
        .collect();
    let rows: Vec<Vec<String>> = schema
        .get("properties")
        .and_then(Value::as_object)
        .into_iter()
        .flatten()
        .map(|(name, property)| {
            let place = ground::kit::schema::at(&schema, name).unwrap_or(property);
            let needed = if required.contains(&name.as_str()) { "" } else { "may be left out" };
            let says = property.get("description").and_then(Value::as_str).unwrap_or_default();
            let says = says.lines().next().unwrap_or_default().to_owned();
            vec![name.clone(), ground::kit::schema::accepted(place), needed.to_owned(), says]
        })
        .collect();
    text.push_str(&format!("\nInput\n{}\n", columns(&rows, "  ")));
    let mut part = |title: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            let lines: Vec<String> =
                lines.iter().map(|line| format!("  {}", wrapped(line, WIDTH, "    "))).collect();
            text.push_str(&format!("\n{title}\n{}\n", lines.join("\n")));
        }
    };
    let own = |lines: &[&str]| lines.iter().map(|line| (*line).to_owned()).collect::<Vec<_>>();
    part("Valid for", own(card.validity));
    part("Cautions", own(card.cautions));
    part(
        "Sources",
        card.sources
            .iter()
            .map(|cite| match cite.source() {
                Some(source) => format!(
                    "{} ({}). {}. {}. {} [{}]",
                    source.authors,
                    source.year,
                    source.title,
                    source.published_in,
                    cite.at,
                    source.provenance.words()
                ),
                None => format!("{} {}", cite.key, cite.at),
            })
            .collect(),
    );
    let state = if is_checked {
        "Held against published cases; spadework verify shows them."
    } else {
        "Implemented, not validated: no published case checks it yet."
    };
    part("Checked", vec![state.to_owned()]);
    let mut json = json!(card);
    json["validated"] = json!(is_checked);
    json["example"] = method.example();
    Report::new(&json, text)
}
