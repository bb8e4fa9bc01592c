//! A painter's own keys out of a file: which key takes the place of which, checked line by line. What is wrong is said
//! with its line and what stands in its way; it keeps its own key, and all the rest holds.

use crate::screen::Screen;
use crate::screen::kit::keys::{Binding, Key, char, code, ctrl};
use crate::screen::kit::own;
use crate::screen::shell::action::Action;
use crate::screen::shell::keys::{Context, as_they_come};
use crossterm::event::KeyCode;
use std::sync::OnceLock;
use toml_edit::{Document, Item};

/// Keys of one line of a table that are others.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    line: usize,
    context: Context,
    from: Key,
    to: &'static [Key],
}

/// The keys of a file, and what is wrong in it, in sentences.
#[derive(Debug, Default)]
pub struct OwnKeys {
    changes: Vec<Change>,
    /// What is wrong, and where.
    pub faults: Vec<String>,
}

static OWN: OnceLock<OwnKeys> = OnceLock::new();

/// Takes the keys of a file before the screen opens, of no text where it cannot be read; only the first time.
pub fn take(name: &str, text: Option<&str>) {
    let unread = || OwnKeys {
        faults: vec![format!("{name} cannot be read: every key is as it comes")],
        ..OwnKeys::default()
    };
    let own = text.map_or_else(unread, |text| OwnKeys::read(name, text));
    own::take(own.changes.iter().filter_map(Change::moved).collect());
    drop(OWN.set(own));
}

/// The keys that were taken, if any were.
pub fn taken() -> Option<&'static OwnKeys> {
    OWN.get()
}

/// The places that a file may name, as the help calls them.
const PLACES: &[Context] = &[
    Context::Shell,
    Context::Screen(Screen::Bench),
    Context::Screen(Screen::Pour),
    Context::Screen(Screen::Rack),
    Context::Screen(Screen::Findings),
    Context::Screen(Screen::Shelf),
    Context::Screen(Screen::Plan),
    Context::Screen(Screen::Recipes),
    Context::Screen(Screen::Trials),
    Context::Life,
    Context::History,
    Context::Clock,
    Context::Stirring,
    Context::Ending,
    Context::Photos,
    Context::Why,
    Context::Best,
    Context::Measured,
    Context::Behind,
    Context::Sheet,
    Context::Pouring,
    Context::Mixing,
    Context::Runs,
    Context::Effects,
];

impl Change {
    fn line_of_table(&self) -> Option<Binding<Action>> {
        let mut table = as_they_come(self.context).into_iter();
        table.find(|line| line.keys.contains(&self.from))
    }

    fn moved(&self) -> Option<own::Moved> {
        let line = self.line_of_table()?;
        Some(own::Moved {
            help: line.help,
            from: line.keys,
            to: self.to,
        })
    }
}

impl OwnKeys {
    /// Reads a file's text, whose name is said where something is wrong.
    pub fn read(name: &str, text: &str) -> Self {
        let mut own = Self::default();
        match Document::parse(text) {
            Ok(document) => {
                let table = document.as_table();
                for (place, keys) in table {
                    let at = line_of(text, table.key(place));
                    own.read_place((name, text), (at, place), keys);
                }
            }
            Err(error) => {
                let at = line_at(text, error.span());
                let said = error.message().replace('\n', " ");
                own.faults.push(format!("{name}, line {at}: {said}"));
            }
        }
        own.refuse_clashes(name);
        own
    }

    /// Reads the keys of one place.
    fn read_place(&mut self, (name, text): (&str, &str), (at, place): (usize, &str), keys: &Item) {
        let fault = match (named_place(place), keys.as_table()) {
            (Some(context), Some(keys)) => {
                for (from, to) in keys {
                    let at = line_of(text, keys.key(from));
                    let read = change((at, context), from, to).and_then(|one| self.add(one));
                    let why = read.err();
                    let told = why.map(|why| format!("{name}, line {at}: {from}: {why}"));
                    self.faults.extend(told);
                }
                return;
            }
            (None, _) => format!("there is no place \"{place}\"; the help (?) names them"),
            (_, None) => format!("{place} must be a heading, as in [{place}]"),
        };
        self.faults.push(format!("{name}, line {at}: {fault}"));
    }

    /// A change more; not of what another line has changed already, for all its keys are of one line.
    fn add(&mut self, change: Change) -> Result<(), String> {
        let of = |one: &Change| one.line_of_table().map(|line| (one.context, line.help));
        let before = self.changes.iter().find(|one| of(one) == of(&change));
        match before {
            Some(before) => Err(format!(
                "line {} gives that its keys already: several stand in [ ]",
                before.line
            )),
            None => {
                self.changes.push(change);
                Ok(())
            }
        }
    }

    /// What stands in another's way goes back to its own key, until nothing does.
    fn refuse_clashes(&mut self, name: &str) {
        while let Some((at, why)) = self.first_clash() {
            let change = self.changes.remove(at);
            let from = change.from.name();
            self.faults
                .push(format!("{name}, line {}: {from}: {why}", change.line));
        }
    }

    fn first_clash(&self) -> Option<(usize, String)> {
        let mut all = self.changes.iter().enumerate();
        all.find_map(|(at, change)| Some((at, self.clash(change)?)))
    }

    /// What a change would stand in the way of.
    fn clash(&self, change: &Change) -> Option<String> {
        let own = change.line_of_table()?.help;
        for context in neighbours(change.context) {
            for line in self.apply(context, as_they_come(context)) {
                let same = context == change.context && line.help == own;
                let taken = change
                    .to
                    .iter()
                    .find(|key| !same && line.keys.contains(key));
                if let Some(key) = taken {
                    let (key, place) = (key.name(), context.title());
                    return Some(format!("{key} is taken ({place}: {})", line.help));
                }
            }
        }
        None
    }

    /// The first of what is wrong, and how much more there is.
    pub fn told(&self) -> Option<String> {
        let first = self.faults.first()?;
        Some(match self.faults.len() {
            1 => first.clone(),
            many => format!("{first} (and {} more)", many - 1),
        })
    }

    /// A place's table with the painter's keys.
    pub fn apply(&self, context: Context, mut table: Vec<Binding<Action>>) -> Vec<Binding<Action>> {
        for change in self
            .changes
            .iter()
            .filter(|change| change.context == context)
        {
            let Some(own) = change.line_of_table() else {
                continue;
            };
            for line in table
                .iter_mut()
                .filter(|line| line.help == own.help && line.keys == own.keys)
            {
                line.keys = change.to;
            }
        }
        table
    }
}

/// The line on which a key of the file stands, from 1.
fn line_of(text: &str, key: Option<&toml_edit::Key>) -> usize {
    line_at(text, key.and_then(toml_edit::Key::span))
}

fn line_at(text: &str, span: Option<std::ops::Range<usize>>) -> usize {
    let start = span.map_or(0, |span| span.start).min(text.len());
    1 + text[..start].matches('\n').count()
}

/// The places in which a key of one would be in another's way: itself, what lies beneath it, and what lies over it.
fn neighbours(context: Context) -> Vec<Context> {
    let chain = |from: Context| std::iter::successors(Some(from), |one| one.beneath());
    let over = PLACES.iter().copied();
    let over = over.filter(|one| *one != context && chain(*one).any(|beneath| beneath == context));
    chain(context).chain(over).collect()
}

/// A place by the help's own title, in whichever letters; blanks may be hyphens.
fn named_place(word: &str) -> Option<Context> {
    let plain = |text: &str| text.to_lowercase().replace(['-', '\''], " ");
    let found = PLACES
        .iter()
        .find(|place| plain(place.title()) == plain(word));
    found.copied()
}

fn change((line, context): (usize, Context), from: &str, to: &Item) -> Result<Change, String> {
    let named = |name: &str| key(name).ok_or_else(|| format!("\"{name}\" is no key"));
    let from = named(from)?;
    let one = to.as_str().map(|name| vec![name]);
    let many = || {
        to.as_array()?
            .iter()
            .map(|one| one.as_str())
            .collect::<Option<Vec<_>>>()
    };
    let names = one.or_else(many).filter(|names| !names.is_empty());
    let names = names.ok_or("a key in quotes comes after the =, or several in [ ]")?;
    let to: Vec<Key> = names.into_iter().map(named).collect::<Result<_, _>>()?;
    let change = Change {
        line,
        context,
        from,
        // Read once, and held as long as the program runs.
        to: Box::leak(to.into_boxed_slice()),
    };
    match change.line_of_table() {
        Some(_) => Ok(change),
        None => Err(format!(
            "nothing is done by {} there ({})",
            from.name(),
            context.title()
        )),
    }
}

/// A key by its name, as the footer and the help write it.
fn key(name: &str) -> Option<Key> {
    let mut letters = name.chars();
    if let (Some(letter), None) = (letters.next(), letters.next()) {
        return (!letter.is_control()).then(|| char(letter));
    }
    let lower = name.to_lowercase();
    if let Some(letter) = lower.strip_prefix("ctrl-") {
        let mut letters = letter.chars();
        return match (letters.next(), letters.next()) {
            (Some(letter), None) if letter.is_ascii_lowercase() => Some(ctrl(letter)),
            _ => None,
        };
    }
    let found = match lower.as_str() {
        "space" => KeyCode::Char(' '),
        "enter" => KeyCode::Enter,
        "esc" => KeyCode::Esc,
        "tab" => KeyCode::Tab,
        "shift-tab" => KeyCode::BackTab,
        "backspace" => KeyCode::Backspace,
        "delete" => KeyCode::Delete,
        "insert" => KeyCode::Insert,
        "home" => KeyCode::Home,
        "end" => KeyCode::End,
        "pageup" => KeyCode::PageUp,
        "pagedown" => KeyCode::PageDown,
        "up" => KeyCode::Up,
        "down" => KeyCode::Down,
        "left" => KeyCode::Left,
        "right" => KeyCode::Right,
        function => KeyCode::F(
            function
                .strip_prefix('f')?
                .parse()
                .ok()
                .filter(|n| (1..=12).contains(n))?,
        ),
    };
    Some(code(found))
}

#[cfg(test)]
mod tests {
    use super::*;

    const BENCH: Context = Context::Screen(Screen::Bench);

    /// What a key does on the Bench, as its sentence says.
    fn on_bench(own: &OwnKeys, key: Key) -> Option<&'static str> {
        let table = own.apply(BENCH, as_they_come(BENCH));
        let found = table.into_iter().find(|line| line.keys.contains(&key));
        found.map(|line| line.help)
    }

    // Two keys for one thing are of one line; a second line for it is said, and changes nothing.
    #[test]
    fn what_was_changed_is_not_changed_again_in_silence() {
        let own = OwnKeys::read("keys.toml", "[Pour]\nx = \"Z\"\nDelete = \"F9\"\n");
        assert_eq!(own.changes.len(), 1);
        let told = own.told().unwrap();
        assert!(
            told.contains("line 3") && told.contains("line 2 gives that"),
            "{told}"
        );
    }

    #[test]
    fn keys_are_moved_and_may_change_places() {
        let own = OwnKeys::read(
            "keys.toml",
            "[Bench]\nm = \"F2\"\nt = \"r\"\nr = [\"t\", \"Ctrl-r\"]\n",
        );
        assert!(own.faults.is_empty(), "{:?}", own.faults);
        let plain = OwnKeys::default();
        assert_eq!(
            on_bench(&own, code(KeyCode::F(2))),
            on_bench(&plain, char('m'))
        );
        assert_eq!(on_bench(&own, char('m')), None);
        assert_eq!(on_bench(&own, char('r')), on_bench(&plain, char('t')));
        assert_eq!(on_bench(&own, char('t')), on_bench(&plain, char('r')));
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line_and_the_rest_holds() {
        let text = "[bench]\nm = \"t\"\n\"ä\" = \"x\"\nr = \"q\"\ns = \"Hyper-s\"\nt = \"T9\"\nw = 7\nl = \"F3\"\n[bar]\n";
        let own = OwnKeys::read("keys.toml", text);
        let said = own.faults.join("\n");
        for (line, why) in [
            (2, "m: t is taken (Bench: Write down thinner"),
            (3, "nothing is done by ä there (Bench)"),
            (4, "r: q is taken (Everywhere: Leave"),
            (5, "\"Hyper-s\" is no key"),
            (6, "\"T9\" is no key"),
            (7, "a key in quotes"),
            (9, "there is no place \"bar\""),
        ] {
            let found = own
                .faults
                .iter()
                .any(|one| one.contains(&format!("line {line}: ")) && one.contains(why));
            assert!(found, "{line} {why}\n{said}");
        }
        assert_eq!(own.faults.len(), 7, "{said}");
        let like = on_bench(&OwnKeys::default(), char('l'));
        assert_eq!(on_bench(&own, code(KeyCode::F(3))), like);
    }

    #[test]
    fn a_file_that_cannot_be_read_changes_nothing() {
        let own = OwnKeys::read("keys.toml", "[Bench]\nm = = 3\n");
        assert!(
            own.changes.is_empty() && own.faults[0].starts_with("keys.toml, line 2: "),
            "{:?}",
            own.faults
        );
    }

    #[test]
    fn what_holds_everywhere_does_not_hide_behind_a_screen() {
        let own = OwnKeys::read("keys.toml", "[Everywhere]\nu = \"m\"\n");
        assert!(
            own.faults[0].contains("m is taken (Bench: "),
            "{:?}",
            own.faults
        );
    }
}
