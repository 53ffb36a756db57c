//! What a person typed, kept as typed.

use serde_json::Value;

/// Field names with their text, in the order given. A name may stand more than once.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Typed(Vec<(String, String)>);

impl Typed {
    /// From a query string or a posted form.
    #[must_use]
    pub fn from_form(bytes: &[u8]) -> Self {
        Self(form_urlencoded::parse(bytes).into_owned().collect())
    }

    /// From a JSON object. Nested fields get dotted names, items of a list repeat the name.
    #[must_use]
    pub fn from_json(value: &Value) -> Self {
        let mut typed = Self::default();
        typed.take(String::new(), value);
        typed
    }

    fn take(&mut self, name: String, value: &Value) {
        match value {
            Value::Null => {}
            Value::String(text) => self.add(name, text.clone()),
            Value::Array(items) => items.iter().for_each(|item| self.take(name.clone(), item)),
            Value::Object(fields) => {
                for (field, value) in fields {
                    let path = if name.is_empty() { field.clone() } else { format!("{name}.{field}") };
                    self.take(path, value);
                }
            }
            other => self.add(name, other.to_string()),
        }
    }

    /// Adds one field.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) {
        self.0.push((name.into(), text.into()));
    }

    /// The text of a field as typed, or `None` where the form did not carry it.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&str> {
        self.0.iter().find(|(field, _)| field == name).map(|(_, text)| text.as_str())
    }

    /// The text of a field without surrounding space, or `None` where nothing was typed.
    #[must_use]
    pub fn text(&self, name: &str) -> Option<&str> {
        self.get(name).map(str::trim).filter(|text| !text.is_empty())
    }

    /// Every text given under one name, as from a row of check boxes.
    pub fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a str> {
        self.0.iter().filter(move |(field, _)| field == name).map(|(_, text)| text.as_str())
    }

    /// All fields in order.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(name, text)| (name.as_str(), text.as_str()))
    }

    /// Whether nothing at all was typed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|(_, text)| text.trim().is_empty())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_form_and_its_json_twin_read_alike() {
        let form = Typed::from_form(b"depth=2+3%2F16+in&sign=crust&sign=pan&place.kind=tunnel");
        let json =
            serde_json::json!({"depth": "2 3/16 in", "sign": ["crust", "pan"], "place": {"kind": "tunnel"}});
        assert_eq!(form, Typed::from_json(&json));
        assert_eq!(form.all("sign").collect::<Vec<_>>(), ["crust", "pan"]);
    }

    #[test]
    fn blank_is_not_text() {
        let typed = Typed::from_form(b"depth=++&width=");
        assert_eq!(typed.get("depth"), Some("  "));
        assert_eq!(typed.text("depth"), None);
        assert!(typed.is_empty());
    }
}
