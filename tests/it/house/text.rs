//! Source text taken apart: what is code, what is a comment, what is a text, what only tests have.

use std::ops::Range;

/// Where the items stand that only tests have.
pub fn tests_in(code: &str) -> Vec<Range<usize>> {
    const MARK: &str = "#[cfg(test)]";
    let (mut found, mut from) = (Vec::new(), 0);
    while let Some(at) = code[from..].find(MARK) {
        let start = from + at;
        from = start + item_length(&code[start..]);
        found.push(start..from);
    }
    found
}

/// The code with every item blanked that only tests have, and what follows it left standing.
pub fn without_tests(code: &str) -> String {
    let (mut kept, mut from) = (String::new(), 0);
    for range in tests_in(code) {
        kept.push_str(&code[from..range.start]);
        let item = code[range.clone()].chars();
        kept.extend(item.map(|c| if c == '\n' { c } else { ' ' }));
        from = range.end;
    }
    kept + &code[from..]
}

/// How long an item is that begins here: to the `;` or the `}` that closes it.
fn item_length(code: &str) -> usize {
    let mut depth = 0;
    for (at, c) in code.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 && (c == ';' || c == '}') {
            return at + 1;
        }
    }
    code.len()
}

pub fn line_of(code: &str, at: usize) -> usize {
    code[..at].matches('\n').count() + 1
}

/// Blanks comments and texts, keeping every line where it is; the texts come apart.
pub fn taken_apart(source: &str) -> (String, Vec<(usize, String)>) {
    let (mut code, mut texts) = (String::new(), Vec::new());
    let mut rest = source;
    while let Some(c) = rest.chars().next() {
        let taken = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if let Some((taken, text)) = text_at(rest) {
            texts.push((code.len(), text.to_owned()));
            taken
        } else if rest.starts_with("'\"'") || rest.starts_with("'\\\"'") {
            rest[1..].find('\'').map_or(1, |end| end + 2)
        } else {
            code.push(c);
            rest = &rest[c.len_utf8()..];
            continue;
        };
        code.extend(rest[..taken].chars().filter(|c| *c == '\n'));
        code.push(' ');
        rest = &rest[taken..];
    }
    (code, texts)
}

/// The text that begins here, if one does: how long it is with its quotes, and what stands in it.
fn text_at(rest: &str) -> Option<(usize, &str)> {
    let raw = rest.strip_prefix('r').map(|tail| {
        let hashes = tail.len() - tail.trim_start_matches('#').len();
        (hashes, &tail[hashes..])
    });
    if let Some((hashes, tail)) = raw
        && let Some(body) = tail.strip_prefix('"')
    {
        let close = format!("\"{}", "#".repeat(hashes));
        let end = body.find(&close)?;
        return Some((2 + hashes + end + close.len(), &body[..end]));
    }
    let body = rest.strip_prefix('"')?;
    let mut escaped = false;
    for (at, c) in body.char_indices() {
        match c {
            '\\' => escaped = !escaped,
            '"' if !escaped => return Some((at + 2, &body[..at])),
            _ => escaped = false,
        }
    }
    None
}
