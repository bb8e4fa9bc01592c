//! What a shell asks while a command is typed: verbs, options, and the studio's own marks and names.

use crate::command::Arguments;
use crate::studio::{AtHand, at_hand};
use crate::trade::text::is_live;
use clap::{Arg, Command, CommandFactory};
use clap_complete::CompletionCandidate;
use clap_complete::engine::ArgValueCompleter;
use clap_complete::env::CompleteEnv;
use std::ffi::{OsStr, OsString};
use std::path::PathBuf;

/// The variable by which a shell's own script asks.
pub const ASKED: &str = "STILLCUP_COMPLETE";

/// What an argument names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Names {
    /// A living cup.
    Mark,
    /// A living cup, with an amount to follow.
    MarkAmount,
    Recipe,
    Material,
}

/// Which argument of which verb names what.
const NAMED: &[(&str, &str, Names)] = &[
    ("cup", "mark", Names::Mark),
    ("read", "mark", Names::Mark),
    ("thin", "mark", Names::Mark),
    ("thin", "with", Names::Material),
    ("add", "mark", Names::Mark),
    ("add", "from", Names::Mark),
    ("stir", "mark", Names::Mark),
    ("look", "mark", Names::Mark),
    ("cap", "mark", Names::Mark),
    ("open", "mark", Names::Mark),
    ("end", "mark", Names::Mark),
    ("lid", "cup", Names::Mark),
    ("amend", "mark", Names::Mark),
    ("amend", "to", Names::Mark),
    ("strike", "mark", Names::Mark),
    ("labels", "marks", Names::Mark),
    ("stack", "marks", Names::Mark),
    ("cost", "of", Names::Mark),
    ("mix", "recipe", Names::Recipe),
    ("mix", "from", Names::Mark),
    ("mix", "puts", Names::Material),
    ("mix", "like", Names::Mark),
    ("plan", "recipes", Names::Recipe),
    ("pour", "layers", Names::MarkAmount),
    ("again", "layers", Names::MarkAmount),
    ("correct", "layers", Names::MarkAmount),
    ("bought", "name", Names::Material),
    ("counted", "name", Names::Material),
    ("material set", "name", Names::Material),
    ("material merge", "name", Names::Material),
    ("material merge", "into", Names::Material),
    ("material retire", "name", Names::Material),
    ("material remove", "name", Names::Material),
    ("recipe add", "parts", Names::Material),
    ("recipe change", "name", Names::Recipe),
    ("recipe change", "parts", Names::Material),
    ("recipe set", "name", Names::Recipe),
    ("recipe merge", "name", Names::Recipe),
    ("recipe merge", "into", Names::Recipe),
    ("recipe retire", "name", Names::Recipe),
    ("recipe remove", "name", Names::Recipe),
];

/// Answers a shell that asks: its name, all words it was given, and the studio's usual file. Whatever goes wrong is
/// silence, as a person who types is not to be stopped.
pub fn complete(shell: &OsStr, words: Vec<OsString>, usual: Option<PathBuf>) {
    let file = file_among(&words).or(usual);
    let is_bash = shell == "bash";
    let factory = || with_names(Arguments::command(), "", &file, is_bash);
    let env = CompleteEnv::with_factory(factory).var(ASKED);
    let env = env.bin("stillcup").completer("stillcup");
    let _nothing_is_said = env.try_complete(words, None);
}

/// The file that `--studio` names among the words so far.
fn file_among(words: &[OsString]) -> Option<PathBuf> {
    let mut words = words.iter().map(|word| word.to_string_lossy());
    let after = words.find_map(|word| match word.strip_prefix("--studio") {
        Some("") => Some(None),
        Some(rest) => rest.strip_prefix('=').map(|file| Some(file.to_owned())),
        None => None,
    })?;
    after
        .or_else(|| words.next().map(Into::into))
        .map(PathBuf::from)
}

/// The command with what the studio knows behind its arguments.
fn with_names(command: Command, path: &str, file: &Option<PathBuf>, is_bash: bool) -> Command {
    let named = |arg: Arg| {
        let id = arg.get_id().to_string();
        let found = NAMED
            .iter()
            .find(|(verb, name, _)| *verb == path && *name == id);
        match (found, file) {
            (Some((_, _, names)), Some(file)) => {
                let (names, file) = (*names, file.clone());
                arg.add(ArgValueCompleter::new(move |typed: &OsStr| {
                    candidates(&at_hand(&file), names, typed, is_bash)
                }))
            }
            _ => arg,
        }
    };
    command.mut_args(named).mut_subcommands(|verb| {
        let path = format!("{path} {}", verb.get_name());
        with_names(verb, path.trim(), file, is_bash)
    })
}

/// The names that begin with what was typed, in whichever letters.
fn candidates(
    known: &AtHand,
    names: Names,
    typed: &OsStr,
    is_bash: bool,
) -> Vec<CompletionCandidate> {
    let typed = typed.to_string_lossy();
    // Bash hands a word over as it was typed, and takes one as it would be typed.
    let quoted = typed.starts_with(['"', '\'']);
    let bare = |text: &str| -> String {
        let letters = text.chars().filter(|c| !matches!(c, '\\' | '"' | '\''));
        letters.collect::<String>().to_lowercase()
    };
    let sought = bare(&typed);
    let (list, tail) = match names {
        Names::Mark => (&known.marks, ""),
        Names::MarkAmount => (&known.marks, ":"),
        Names::Recipe => (&known.recipes, ""),
        Names::Material => (&known.materials, ""),
    };
    let fits = |(name, _): &&(String, String)| {
        bare(name).starts_with(&sought) && !name.chars().any(is_live)
    };
    let candidate = |(name, about): &(String, String)| {
        let name = if is_bash && !quoted {
            escaped(name)
        } else {
            name.clone()
        };
        let about: String = about.chars().filter(|c| !is_live(*c)).collect();
        CompletionCandidate::new(name + tail).help(Some(about.into()))
    };
    list.iter().filter(fits).map(candidate).collect()
}

/// As it is typed in a shell without quotes.
fn escaped(name: &str) -> String {
    let mut typed = String::new();
    for c in name.chars() {
        if c.is_ascii() && !c.is_ascii_alphanumeric() && !matches!(c, '-' | '_' | '.' | '/' | ',') {
            typed.push('\\');
        }
        typed.push(c);
    }
    typed
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_argument_that_names_something_is_there() {
        for (path, id, _) in NAMED {
            let mut command = Arguments::command();
            for verb in path.split(' ') {
                command = command.find_subcommand(verb).unwrap().clone();
            }
            let has = command.get_arguments().any(|arg| arg.get_id() == id);
            assert!(has, "{path} has no {id}");
        }
    }

    /// Every argument of a verb and its verbs, by its path, with what its value is called.
    fn arguments(command: &Command, path: &str, all: &mut Vec<(String, String, String)>) {
        for arg in command.get_arguments() {
            let called = arg.get_value_names().unwrap_or_default().join(" ");
            all.push((path.to_owned(), arg.get_id().to_string(), called));
        }
        for verb in command.get_subcommands() {
            let path = format!("{path} {}", verb.get_name());
            arguments(verb, path.trim(), all);
        }
    }

    #[test]
    fn every_argument_that_is_called_a_mark_a_recipe_or_a_material_is_completed() {
        let mut all = Vec::new();
        arguments(&Arguments::command(), "", &mut all);
        let named = |called: &str| {
            let mut words = called.split([' ', '|', ':', '=']);
            words.any(|word| matches!(word, "MARK" | "MARKS" | "RECIPE" | "MATERIAL"))
        };
        // A mark that is given is a new one.
        let is_new = |path: &str, id: &str| matches!(path, "mix" | "lid") && id == "mark";
        let missing = all.iter().filter(|(path, id, called)| {
            named(called)
                && !is_new(path, id)
                && !NAMED.iter().any(|(verb, arg, _)| verb == path && arg == id)
        });
        let missing: Vec<_> = missing.collect();
        assert!(missing.is_empty(), "{missing:#?}");
    }

    #[test]
    fn names_are_offered_as_they_are_typed() {
        let known = AtHand {
            recipes: vec![
                ("River blue".into(), "colour".into()),
                ("Rust".into(), "base".into()),
                ("Painter's green".into(), "colour".into()),
            ],
            marks: vec![("K7".into(), "River blue".into())],
            ..AtHand::default()
        };
        let offered = |names, typed: &str, is_bash| -> Vec<String> {
            let all = candidates(&known, names, OsStr::new(typed), is_bash);
            all.iter()
                .map(|one| one.get_value().to_string_lossy().into_owned())
                .collect()
        };
        assert_eq!(offered(Names::Recipe, "ri", false), ["River blue"]);
        assert_eq!(offered(Names::Recipe, "River\\ b", true), ["River\\ blue"]);
        assert_eq!(offered(Names::Recipe, "\"Riv", true), ["River blue"]);
        assert_eq!(offered(Names::MarkAmount, "", true), ["K7:"]);
        assert_eq!(
            offered(Names::Recipe, "Painter's g", false),
            ["Painter's green"]
        );
    }

    #[test]
    fn the_file_is_the_one_that_is_named() {
        let words = |text: &str| text.split(' ').map(OsString::from).collect::<Vec<_>>();
        assert_eq!(
            file_among(&words("s -- s --studio a.db cup")),
            Some("a.db".into())
        );
        assert_eq!(
            file_among(&words("s -- s --studio=b.db cup")),
            Some("b.db".into())
        );
        assert_eq!(file_among(&words("s -- s cup")), None);
    }
}
