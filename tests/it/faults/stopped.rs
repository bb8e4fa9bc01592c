//! A screen that is stopped for a while (Ctrl-Z, SIGTSTP, SIGSTOP): the terminal is given back, taken over again and drawn
//! anew, under a real shell's job control too.

use super::program::{MORNING, studio};
use crate::terminal::hands::Hands;

fn is_stopped(hands: &Hands) -> bool {
    let pid = hands.child.process_id().unwrap();
    let stat = std::fs::read_to_string(format!("/proc/{pid}/stat")).unwrap();
    stat.rsplit(')').next().unwrap().trim().starts_with('T')
}

fn stop(hands: &mut Hands, how: &str) {
    match how {
        "Ctrl-z" => hands.type_amount("\x1a"),
        signal => hands.signal(signal),
    }
    hands.see("the shell's screen", |screen| !screen.alternate_screen());
    while !is_stopped(hands) {
        std::thread::yield_now();
    }
}

#[test]
fn a_screen_that_is_stopped_gives_the_terminal_back_and_takes_it_again() {
    let (_folder, file) = studio();
    let mut hands = Hands::on_file(&file, MORNING);
    hands.see_text("resting K7");
    for how in ["Ctrl-z", "TSTP"] {
        stop(&mut hands, how);
        hands.signal("CONT");
        let shown = hands.see("the Bench again", |screen| {
            screen.alternate_screen() && screen.contents().contains("resting K7")
        });
        assert!(shown.contains("Bench"), "{shown}");
    }
    // Keys reach it as before, one by one.
    hands.press("m");
    hands.see_text("Mix a cup");
    hands.press("Esc");
    hands.see("the form gone", |screen| {
        !screen.contents().contains("Mix a cup")
    });
    hands.press("q");
    assert!(hands.see_closed().1);
}
