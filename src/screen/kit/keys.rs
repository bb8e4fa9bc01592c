//! Keys as this room names them, and the lines of a table that says what each does.

use crate::screen::kit::own;
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

/// One key, with the control key held or not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Key {
    /// What was pressed; a capital letter stands for itself with shift.
    pub code: KeyCode,
    /// Whether the control key was held.
    pub ctrl: bool,
}

/// A key that writes a character.
pub const fn char(c: char) -> Key {
    code(KeyCode::Char(c))
}

/// A key by its code.
pub const fn code(code: KeyCode) -> Key {
    Key { code, ctrl: false }
}

/// A character with the control key held.
pub const fn ctrl(c: char) -> Key {
    Key {
        code: KeyCode::Char(c),
        ctrl: true,
    }
}

impl From<KeyEvent> for Key {
    fn from(event: KeyEvent) -> Self {
        Self {
            code: event.code,
            ctrl: event.modifiers.contains(KeyModifiers::CONTROL),
        }
    }
}

impl Key {
    /// The key in a word, as it stands in the footer and the help.
    pub fn name(self) -> String {
        let plain = match self.code {
            KeyCode::Char(' ') => "Space".to_owned(),
            KeyCode::Char(c) => c.to_string(),
            KeyCode::Up => "↑".to_owned(),
            KeyCode::Down => "↓".to_owned(),
            KeyCode::Left => "←".to_owned(),
            KeyCode::Right => "→".to_owned(),
            KeyCode::BackTab => "Shift-Tab".to_owned(),
            KeyCode::F(number) => format!("F{number}"),
            other => format!("{other:?}"),
        };
        if self.ctrl {
            return format!("Ctrl-{}", plain.to_uppercase());
        }
        plain
    }
}

/// One line of a table of keys: these keys wish that.
#[derive(Debug, Clone, Copy)]
pub struct Binding<W> {
    /// Which keys.
    pub keys: &'static [Key],
    /// What they wish.
    pub wish: W,
    /// In a word, for the footer; empty where the footer does not show it.
    pub word: &'static str,
    /// In a sentence, for the help.
    pub help: &'static str,
    /// Whether it does something where the place has nothing in it yet.
    pub anyway: bool,
}

impl<W: Copy> Binding<W> {
    /// The same, of use where the place has nothing in it yet: the footer shows it there too.
    pub const fn anyway(self) -> Self {
        Self {
            anyway: true,
            ..self
        }
    }

    /// The same, left out of the footer.
    pub const fn unlabelled(self) -> Self {
        Self { word: "", ..self }
    }
}

/// A line of a table.
pub const fn bind<W>(
    keys: &'static [Key],
    wish: W,
    word: &'static str,
    help: &'static str,
) -> Binding<W> {
    Binding {
        keys,
        wish,
        word,
        help,
        anyway: false,
    }
}

/// The key of a wish, as its table has it, for a sentence that names it; empty where none has it.
pub fn key_of<W: PartialEq>(table: &[Binding<W>], wish: &W) -> String {
    let bound = table.iter().find(|binding| binding.wish == *wish);
    let keys = bound.map(|binding| own::keys(binding.help, binding.keys));
    let first = keys.and_then(<[Key]>::first);
    first.map(|key| key.name()).unwrap_or_default()
}
