//! Checks any figure for soundness and writes what it is made of.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use figures::Figure;
use svg::parser::Event;

/// What a reader of the SVG meets: how many of each element, ids, references.
struct Parsed {
    elements: BTreeMap<String, usize>,
    words: Vec<String>,
}

fn parse(figure: &Figure) -> Parsed {
    let mut elements = BTreeMap::new();
    let (mut ids, mut references, mut words) = (Vec::new(), Vec::new(), Vec::new());
    let mut depth = 0_i32;
    for event in svg::read(&figure.svg).expect("readable") {
        match event {
            Event::Error(error) => panic!("not well formed: {error}\n{}", figure.svg),
            Event::Tag(name, kind, attributes) => {
                use svg::node::element::tag::Type;
                depth += match kind {
                    Type::Start => 1,
                    Type::End => -1,
                    Type::Empty => 0,
                };
                if kind == Type::End {
                    continue;
                }
                assert!(
                    !["style", "script", "foreignObject", "image", "a", "use"].contains(&name),
                    "<{name}>"
                );
                *elements.entry(name.to_owned()).or_insert(0) += 1;
                for (attribute, value) in &attributes {
                    assert!(attribute != "style" && !attribute.starts_with("on"), "{attribute}");
                    assert!(!value.contains("NaN") && !value.contains("inf"), "{name} {attribute}={value}");
                    if attribute == "id" {
                        ids.push(value.to_string());
                    }
                    if let Some(id) = value.strip_prefix("url(#").and_then(|rest| rest.strip_suffix(')')) {
                        references.push(id.to_owned());
                    }
                    if attribute == "aria-labelledby" {
                        references.extend(value.split(' ').map(str::to_owned));
                    }
                }
                if name == "svg" {
                    assert_eq!(attributes.get("role").map(|role| role.to_string()).as_deref(), Some("img"));
                    assert!(attributes.contains_key("viewBox") && attributes.contains_key("aria-labelledby"));
                }
            }
            Event::Text(text) => words.push(text.to_owned()),
            _ => {}
        }
    }
    assert_eq!(depth, 0);
    escaped(&figure.svg);
    let mut unique = ids.clone();
    unique.sort();
    unique.dedup();
    assert_eq!(unique.len(), ids.len(), "ids repeat: {ids:?}");
    for reference in references {
        assert!(ids.contains(&reference), "{reference} is not in {ids:?}");
    }
    for id in &ids {
        assert!(id.starts_with(ids[0].as_str()), "{id} could clash with another figure's");
    }
    Parsed { elements, words }
}

/// Checks a figure and writes what it is made of, for a snapshot.
pub(crate) fn outline(figure: &Figure) -> String {
    let parsed = parse(figure);
    assert!(!figure.title.is_empty() && !figure.description.is_empty());
    assert!(figure.table.rows.iter().all(|row| row.len() == figure.table.head.len()));
    let mut text = format!("{}\n{}\n\n", figure.title, figure.description);
    for row in std::iter::once(&figure.table.head).chain(&figure.table.rows) {
        let _ = writeln!(text, "| {} |", row.join(" | "));
    }
    let elements: Vec<String> =
        parsed.elements.iter().map(|(name, count)| format!("{name} {count}")).collect();
    let _ = write!(text, "\n{}\n{}", elements.join(", "), parsed.words.join(" / "));
    text
}

/// Characters and references that XML 1.0 allows (sections 2.2 and 4.1): the reader above is lenient.
fn escaped(svg: &str) {
    for c in svg.chars() {
        let legal =
            matches!(c, '\t' | '\n' | '\r' | ' '..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..);
        assert!(legal, "{c:?} has no place in XML");
    }
    for after in svg.split('&').skip(1) {
        let name = after.split(';').next().unwrap_or_default();
        assert!(["amp", "lt", "gt", "quot", "apos"].contains(&name) || name.starts_with('#'), "&{name}");
    }
}
