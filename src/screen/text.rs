//! Text fitted into cells: what is wide is measured, what is too long is cut and says so.

use ratatui::text::Span;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Where a text that is too long is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cut {
    /// At its end, so that its start is seen.
    End,
    /// At its start, so that its end is seen.
    Start,
}

/// Text without a style.
pub fn plain(text: impl Into<std::borrow::Cow<'static, str>>) -> Span<'static> {
    Span::raw(text)
}

/// A text in exactly so many cells: filled up with blanks, or cut with `…`.
pub fn fit(text: &str, width: usize, cut: Cut) -> String {
    let cells = text.width();
    if cells <= width {
        return format!("{text}{}", " ".repeat(width - cells));
    }
    let room = width.saturating_sub(1);
    let kept = match cut {
        Cut::End => kept(text.graphemes(true), room),
        Cut::Start => {
            let mut signs = kept(text.graphemes(true).rev(), room);
            signs.reverse();
            signs
        }
    };
    let kept = kept.concat();
    let blanks = " ".repeat(room.saturating_sub(kept.width()));
    let sign = if width == 0 { "" } else { "…" };
    match cut {
        Cut::End => format!("{kept}{sign}{blanks}"),
        Cut::Start => format!("{blanks}{sign}{kept}"),
    }
}

fn kept<'a>(signs: impl Iterator<Item = &'a str>, room: usize) -> Vec<&'a str> {
    let mut used = 0;
    signs
        .take_while(|sign| {
            used += sign.width();
            used <= room
        })
        .collect()
}

/// A text in lines of at most so many cells, broken between words where it can be.
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let line = lines.last().map_or(0, |line| line.width());
        match lines.last_mut() {
            Some(last) if line == 0 => last.push_str(word),
            Some(last) if line + 1 + word.width() <= width => {
                last.push(' ');
                last.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
        .into_iter()
        .map(|line| shortened(line, width))
        .collect()
}

fn shortened(line: String, width: usize) -> String {
    if line.width() > width {
        return fit(&line, width, Cut::End);
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_takes_exactly_its_cells() {
        assert_eq!(fit("Teal", 6, Cut::End), "Teal  ");
        assert_eq!(fit("River blue", 6, Cut::End), "River…");
        assert_eq!(fit("River blue", 6, Cut::Start), "… blue");
        // A wide sign that would be cut in half is left out whole.
        assert_eq!(fit("青い絵", 4, Cut::End), "青… ");
        assert_eq!(fit("x", 0, Cut::End), "");
    }

    #[test]
    fn words_are_kept_whole_and_long_ones_cut() {
        assert_eq!(wrap("K7 has thickened", 8), ["K7 has", "thicken…"]);
        assert_eq!(wrap("", 8), [""]);
    }
}
