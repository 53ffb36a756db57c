//! The command line before and after it is read: values that begin with a minus, and what the options
//! of the command that was called are named.

use std::collections::BTreeSet;
use std::ffi::OsString;

use clap::{ArgMatches, Command};

/// Joins a value that begins with a minus to the option before it, `--sand -3mm` to `--sand=-3mm`, so
/// that the measure itself is judged. Elsewhere a word that begins with a minus is taken for an option.
pub(crate) fn joined(
    arguments: impl IntoIterator<Item = OsString>,
    command: &Command,
) -> impl Iterator<Item = OsString> {
    let with_values = options_with_values(command);
    let mut out: Vec<OsString> = Vec::new();
    let mut values_only = false;
    for argument in arguments {
        values_only |= argument == "--";
        let asks = out
            .last()
            .and_then(|before| before.to_str()?.strip_prefix("--"))
            .is_some_and(|name| with_values.contains(name));
        let below_zero = argument.to_str().is_some_and(|text| {
            text.strip_prefix('-')
                .and_then(|rest| rest.chars().next())
                .is_some_and(|first| first.is_numeric() || matches!(first, '.' | ' '))
        });
        match out.last_mut() {
            Some(before) if asks && below_zero && !values_only => {
                before.push("=");
                before.push(argument);
            }
            _ => out.push(argument),
        }
    }
    out.into_iter()
}

fn options_with_values(command: &Command) -> BTreeSet<String> {
    let own = own_names(command).options;
    command.get_subcommands().fold(own, |mut all, inner| {
        all.append(&mut options_with_values(inner));
        all
    })
}

/// What the command that was called takes, by name.
#[derive(Debug, Default)]
pub(crate) struct Names {
    options: BTreeSet<String>,
    places: BTreeSet<String>,
}

/// Fields of a reading whose option is not called like them.
const CALLED_OTHERWISE: &[(&str, &str)] = &[
    ("shape.at", "width"),
    ("shape.fills", "fill"),
    ("marks.marks", "mark"),
    ("floating_organic_mm", "float"),
    ("ruler_step_mm", "ruler"),
];
/// Units at the end of a field's name.
const UNITS: &[&str] = &["_mm", "_cm", "_m2", "_m", "_c", "_percent", "_degrees"];

impl Names {
    /// Those of the command that was called.
    pub(crate) fn of(command: &Command, matches: &ArgMatches) -> Self {
        match matches.subcommand() {
            Some((name, inner)) => match command.find_subcommand(name) {
                Some(command) => Self::of(command, inner),
                None => Self::default(),
            },
            None => own_names(command),
        }
    }

    /// What the person typed who is told of `field`, and whether it is an option.
    pub(crate) fn typed_for(&self, field: &str) -> Option<(String, bool)> {
        let named = |name: String| {
            let option = self.options.contains(&name);
            (option || self.places.contains(&name)).then_some((name, option))
        };
        // Where fields are set by their path, the path is what was typed.
        if self.options.contains("set") {
            return named(field.to_owned());
        }
        let otherwise = CALLED_OTHERWISE.iter().find(|(path, _)| field.contains(path));
        let last = field.rsplit('.').next().unwrap_or_default();
        let bare = UNITS.iter().find_map(|unit| last.strip_suffix(unit)).unwrap_or(last);
        otherwise
            .and_then(|(_, option)| named((*option).to_owned()))
            .or_else(|| named(field.replace('_', "-")))
            .or_else(|| named(bare.replace('_', "-")))
    }
}

fn own_names(command: &Command) -> Names {
    let mut names = Names::default();
    for argument in command.get_arguments().filter(|one| one.get_action().takes_values()) {
        match argument.get_long() {
            Some(long) => names.options.insert(long.to_owned()),
            None => names.places.insert(argument.get_id().as_str().replace('_', "-")),
        };
    }
    names
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    fn read(words: &[&str]) -> Vec<String> {
        let command = crate::args::Cli::command();
        joined(words.iter().map(OsString::from), &command).map(|word| word.into_string().unwrap()).collect()
    }

    #[test]
    fn a_minus_belongs_to_the_measure_before_it() {
        assert_eq!(
            read(&["jar", "--sand", "-3mm", "--silt", "-.5in"]),
            ["jar", "--sand=-3mm", "--silt=-.5in"]
        );
        // An option is never taken for the value of the one before it.
        assert_eq!(read(&["jar", "--sand", "--silt", "1in"]), ["jar", "--sand", "--silt", "1in"]);
        assert_eq!(read(&["jar", "--json", "-3mm"]), ["jar", "--json", "-3mm"]);
        assert_eq!(read(&["x", "--", "--sand", "-3mm"]), ["x", "--", "--sand", "-3mm"]);
    }

    #[test]
    fn a_field_is_told_by_the_option_it_was_typed_at() {
        let mut command = crate::args::Cli::command();
        let matches = command.try_get_matches_from_mut(["spadework", "jar", "--sand", "1in"]).unwrap();
        let names = Names::of(&command, &matches);
        for (field, option) in [
            ("marks.sand", "sand"),
            ("seen.reading.marks.marks[1].top", "mark"),
            ("shape.fills", "fill"),
            ("water_height_mm", "water-height"),
            ("floating_organic_mm", "float"),
        ] {
            assert_eq!(names.typed_for(field), Some((option.to_owned(), true)), "{field}");
        }
        assert_eq!(names.typed_for("clay_of_nowhere"), None);
    }
}
