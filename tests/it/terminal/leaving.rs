//! A screen that is killed costs no more than the last keys: what was built on it is offered by the next.

use super::Stage;
use super::hands::Hands;

#[test]
fn a_stack_survives_a_kill_and_is_not_offered_beside_a_living_screen() {
    let stage = Stage::with_cups();
    let mut hands = Hands::on(&stage, 80, 24);
    hands.see_text("B4");
    hands.press("P a Enter Enter");
    hands.see_text("1 B4");
    // While that screen lives, what it builds is its own.
    let kept = (0..200_000).any(|_| drafts(&stage) > 0);
    assert!(kept, "what is built is kept while the hands rest");
    let third = Hands::on(&stage, 80, 24);
    let offered = third.see_text("wants a hand now");
    assert!(!offered.contains("As you left it"), "{offered}");
    hands.signal("KILL");
    // Its end is heard of.
    drop(hands);
    let mut next = Hands::on(&stage, 80, 24);
    next.see_text("As you left it: the stack on the Pour");
    next.press("P");
    next.see_text("1 B4");
}

fn drafts(stage: &Stage) -> i64 {
    let conn = rusqlite::Connection::open(stage.file()).unwrap();
    conn.query_row("SELECT count(*) FROM draft", [], |row| row.get(0))
        .unwrap()
}
