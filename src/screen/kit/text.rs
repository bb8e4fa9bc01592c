//! Text fitted into cells: what is wide is measured, what is too long is cut and says so.

use ratatui::text::{Line, Span};
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
    let mut kept = kept.concat();
    if cut == Cut::End {
        spare_number(text, &mut kept);
    }
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

/// Takes back what is left of a number, or of a number without its unit: a part of it would be another number.
fn spare_number(text: &str, kept: &mut String) {
    let mut from = 0;
    for chunk in chunks(text) {
        let Some(at) = text[from..].find(chunk).map(|at| from + at) else {
            return;
        };
        from = at + chunk.len();
        if from > kept.len() {
            if at < kept.len() && starts_number(chunk) {
                kept.truncate(at);
                kept.truncate(kept.trim_end().len());
            }
            return;
        }
    }
}

/// Words that follow a number and are nothing without it.
const UNITS: [&str; 32] = [
    "ml", "l", "g", "kg", "oz", "fl", "in", "ft", "mm", "cm", "cm2", "in2", "um", "m", "h", "s",
    "min", "d", "days", "day", "weeks", "hours", "minutes", "seconds", "%", "C", "F", "Pa", "x",
    "lb", "packs", "parts",
];

/// What may stand before the first digit of a number.
const SIGNS: [char; 7] = ['(', '~', '+', '-', '±', '<', '>'];

fn starts_number(word: &str) -> bool {
    let digits = word.trim_start_matches(SIGNS);
    digits.starts_with(|c: char| c.is_ascii_digit())
}

fn is_number(word: &str) -> bool {
    let digits = word.trim_start_matches(SIGNS);
    starts_number(word)
        && digits
            .chars()
            .all(|c| c.is_ascii_digit() || ".,:/-".contains(c))
        && digits.ends_with(|c: char| c.is_ascii_digit())
}

/// Whether a word stays on the line of the one before: a unit with its number, `fl` with `oz`, `40 x 50 cm`.
fn stays_with(before: &str, word: &str) -> bool {
    let bare = word.trim_end_matches(['.', ',', ';', ':', ')', '?', '!']);
    let unit = bare.split('/').next().unwrap_or(bare);
    match before {
        "x" => is_number(word),
        "fl" => unit == "oz",
        "Pa" => unit == "s",
        _ => is_number(before) && UNITS.contains(&unit),
    }
}

/// The pieces a text is broken between: words, and numbers with their units.
fn chunks(text: &str) -> Vec<&str> {
    let mut pieces: Vec<(usize, &str)> = Vec::new();
    let words: Vec<&str> = text.split_whitespace().collect();
    let number = |at: Option<usize>| {
        at.and_then(|at| words.get(at))
            .is_some_and(|one| is_number(one))
    };
    // `2 to 3 s` is one span.
    let spans = |at: usize| {
        words.get(at) == Some(&"to") && number(at.checked_sub(1)) && number(Some(at + 1))
    };
    let mut last = "";
    let mut from = 0;
    for (place, word) in words.iter().copied().enumerate() {
        let in_span = spans(place) || place.checked_sub(1).is_some_and(spans);
        let at = text[from..].find(word).map_or(from, |at| from + at);
        from = at + word.len();
        match pieces.last_mut() {
            Some((start, piece)) if in_span || stays_with(last, word) => {
                *piece = &text[*start..from]
            }
            _ => pieces.push((at, word)),
        }
        last = word;
    }
    pieces.into_iter().map(|(_, piece)| piece).collect()
}

/// A text in lines of at most so many cells, broken between words where it can be, and never between a number and its
/// unit.
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    let whole = |piece: &&str| piece.width() <= width;
    let pieces = chunks(text)
        .into_iter()
        .flat_map(|piece| match whole(&piece) {
            true => vec![piece],
            false => piece.split_whitespace().collect(),
        });
    for word in pieces {
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

/// Sentences in at most so many lines: as many whole ones as they hold, and of one that is longer its beginning.
pub fn whole_sentences(words: &str, width: usize, most: usize) -> Vec<String> {
    let mut kept = words;
    while wrap(kept, width).len() > most {
        let Some(end) = kept.trim_end_matches('.').rfind(". ") else {
            break;
        };
        kept = &kept[..=end];
    }
    lines_of(kept, width, most)
}

/// A text in at most so many lines; what is left out is marked.
pub fn lines_of(words: &str, width: usize, most: usize) -> Vec<String> {
    let mut lines = wrap(words, width);
    if lines.len() > most {
        let rest = lines.split_off(most.saturating_sub(1)).join(" ");
        lines.push(fit(&rest, width, Cut::End).trim_end().to_owned());
    }
    lines
}

/// A line of words broken to so many cells, each part as far in as its start; one that fits is left as it is.
pub fn fold(line: Line<'static>, width: usize) -> Vec<Line<'static>> {
    if line.width() <= width {
        return vec![line];
    }
    let text = line.to_string();
    let style = line
        .spans
        .first()
        .map_or(line.style, |span| line.style.patch(span.style));
    let blanks = text.len() - text.trim_start_matches(' ').len();
    let indent = " ".repeat(blanks.min(width / 2));
    let parts = wrap(&text, width.saturating_sub(indent.len())).into_iter();
    parts
        .map(|part| Line::styled(format!("{indent}{part}"), style))
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
    fn of_sentences_that_do_not_fit_whole_ones_are_left() {
        let three = "One is 1.6 s. Two is due. Three is cut nowhere.";
        assert_eq!(
            whole_sentences(three, 14, 2),
            ["One is 1.6 s.", "Two is due."]
        );
        assert_eq!(whole_sentences(three, 80, 2), [three]);
        let long = "One alone that no two lines can hold";
        assert!(whole_sentences(long, 10, 2)[1].ends_with('…'));
    }

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
    fn a_number_is_never_parted_from_its_unit_nor_cut() {
        assert_eq!(wrap("rests 12 h longer", 8), ["rests", "12 h", "longer"]);
        assert_eq!(
            wrap("with 0.22 fl oz of it", 10),
            ["with", "0.22 fl oz", "of it"]
        );
        assert_eq!(wrap("on 40 x 50 cm, wet", 13), ["on", "40 x 50 cm,", "wet"]);
        assert_eq!(
            wrap("mound 1.6 s; (0.4 mm)", 9),
            ["mound", "1.6 s;", "(0.4 mm)"]
        );
        assert_eq!(
            wrap("wants 2 to 3 s, lid", 12),
            ["wants", "2 to 3 s,", "lid"]
        );
        assert_eq!(wrap("back to 3 s", 8), ["back to", "3 s"]);
        // What fits no line whole is broken all the same.
        assert_eq!(wrap("0.22 fl oz", 7), ["0.22 fl", "oz"]);
        assert_eq!(fit("share over 0.28", 14, Cut::End), "share over…   ");
        assert_eq!(fit("depth: 60 mm", 11, Cut::End), "depth:…    ");
        assert_eq!(fit("River blue v2", 8, Cut::End), "River b…");
        // A digit in a name is no number.
        assert_eq!(fit("Fluid blue (PB15:3)", 16, Cut::End), "Fluid blue (PB1…");
    }

    #[test]
    fn a_line_that_is_too_long_is_folded_under_its_own_start() {
        let folded = fold(Line::from("  its depth is not known: 60 mm"), 27);
        let folded: Vec<String> = folded.iter().map(ToString::to_string).collect();
        assert_eq!(folded, ["  its depth is not known:", "  60 mm"]);
        assert_eq!(
            lines_of("one two three four", 8, 2),
            ["one two", "three f…"]
        );
    }

    #[test]
    fn words_are_kept_whole_and_long_ones_cut() {
        assert_eq!(wrap("K7 has thickened", 8), ["K7 has", "thicken…"]);
        assert_eq!(wrap("", 8), [""]);
    }
}
