//! Hostile text on every screen of a real terminal: none of it gets through to the terminal itself.

use super::hands::Hands;
use crate::faults::hostile::studio;

/// What of the hostile text would act, as bytes: a title, the clipboard, a C1 sign, a reversal, what cannot be seen.
const LIVE: [&[u8]; 6] = [
    b"\x1b]0;pwned",
    b"\x1b]52;",
    "\u{9b}".as_bytes(),
    "\u{202e}".as_bytes(),
    "\u{200b}".as_bytes(),
    b"\x1b[9;9H\xc2",
];

#[test]
fn no_screen_lets_hostile_text_through_to_the_terminal() {
    let (_folder, file) = studio();
    let mut hands = Hands::on_file(&file, "2026-11-26T11:00:00+01:00");
    hands.see_text("␛]0;pwned");
    let mut seen = 0;
    for (screen, title, keys) in [
        ("1", "wants a hand now", "Enter h m t l"),
        ("2", "no panel yet", "a y"),
        ("3", "room's air", "Enter"),
        ("4", "judged pours", "y"),
        ("5", "formula", "e !"),
        ("6", "plan 1", ""),
        ("7", "Recipes", "Enter e M"),
        ("8", "factor ␛", "Enter"),
    ] {
        hands.press(screen);
        let shown = hands.see_text(title);
        seen += usize::from(shown.contains('␛'));
        for key in keys.split_whitespace() {
            hands.press(key);
            let lies_over = |screen: &vt100::Screen| {
                let shown = screen.contents();
                shown.contains("Esc away") || shown.contains("Esc back")
            };
            let shown = hands.see(key, lies_over);
            seen += usize::from(shown.contains('␛'));
            hands.press("Esc");
            // An Esc and a key that come together would be one.
            hands.see("what lay below", |screen| !lies_over(screen));
        }
    }
    assert!(seen >= 12, "hostile text is there to be seen: {seen}");
    let (sent, titles, odd) = hands.heard();
    for live in LIVE {
        assert!(
            !sent.windows(live.len()).any(|bytes| bytes == live),
            "{live:?} got through"
        );
    }
    assert_eq!(titles, ["stillcup studio.db"]);
    assert_eq!(odd, Vec::<String>::new());
    assert_eq!(hands.bells(), 0, "a bell in a text does not ring");
    hands.press("q");
    assert!(hands.see_closed().1);
}

/// A sheet is exact for a program that reads it, but nothing in it acts on a terminal.
#[test]
fn a_sheet_printed_on_a_terminal_is_inert() {
    let (_folder, file) = studio();
    let hands = Hands::on_words(&file, "2026-11-26T11:00:00+01:00", &["csv", "materials"]);
    let (shown, _) = hands.see_closed();
    assert!(shown.contains("␛]0;pwned"), "{shown}");
    let (sent, titles, odd) = hands.heard();
    for live in LIVE {
        assert!(
            !sent.windows(live.len()).any(|bytes| bytes == live),
            "{live:?} got through"
        );
    }
    assert_eq!((titles, odd, hands.bells()), (vec![], vec![], 0));
}
