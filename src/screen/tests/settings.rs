//! All settings on one form, each with what it does, its default and whom it is for.

use super::{Stage, keys, lines, shows, typed};
use crate::trade::amount::Measures;

#[test]
fn each_setting_says_what_it_does_and_what_it_is_without_you() {
    let stage = Stage::with_cups();
    let cells = stage.play(keys("P ,"));
    assert!(
        shows(&cells, "quiet hours") && shows(&cells, "unless you say us"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys(", Tab Tab Tab"));
    assert!(shows(&cells, "4 unless"), "{:#?}", lines(&cells));
}

#[test]
fn what_was_changed_is_set_and_can_be_taken_back_and_nothing_else_is() {
    let stage = Stage::with_cups();
    let before = stage.studio().history(1000).unwrap().len();
    let mut script = keys(",");
    script.extend(typed("us"));
    script.extend(keys("Tab"));
    script.extend(typed("EUR"));
    script.extend(keys("Enter"));
    let cells = stage.play(script);
    assert!(
        shows(&cells, "Set: measures, currency"),
        "{:#?}",
        lines(&cells)
    );
    let settings = stage.studio().settings().unwrap();
    assert_eq!(
        (settings.measures, settings.currency.as_str()),
        (Measures::UsCustomary, "EUR")
    );
    assert_eq!(stage.studio().history(1000).unwrap().len(), before + 2);
    // Left as it stands, nothing is written.
    stage.play(keys(", Enter"));
    assert_eq!(stage.studio().history(1000).unwrap().len(), before + 2);
}

#[test]
fn a_value_that_makes_no_sense_is_refused_in_its_field_as_on_the_command_line() {
    let stage = Stage::with_cups();
    let mut script = keys(", Tab Tab");
    script.extend(typed("late"));
    script.extend(keys("Enter"));
    let cells = stage.play(script);
    assert!(
        shows(&cells, "✗") && shows(&cells, "late"),
        "{:#?}",
        lines(&cells)
    );
    let refused = stage.studio().set("quiet-hours", "late", &stage.now);
    assert!(refused.is_err());
}
