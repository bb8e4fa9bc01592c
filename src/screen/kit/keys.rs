//! Keys as this room names them.

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
            other => format!("{other:?}"),
        };
        if self.ctrl {
            return format!("Ctrl-{}", plain.to_uppercase());
        }
        plain
    }
}
