//! A trial set up, poured, judged and given up by its keys on a real terminal.

use super::hands::Hands;
use super::{Stage, now};

#[test]
fn a_trial_is_set_up_poured_judged_and_taken_back_by_keys_alone() {
    let stage = Stage::with_cups();
    for (columns, rows) in [(50, 16), (160, 50)] {
        let mut hands = Hands::on(&stage, columns, rows);
        hands.see_text("B4");
        hands.press("T");
        hands.see_text("There is no trial yet: a sets one up.");
        hands.press("a");
        for typed in ["rest", "12 h", "24 h", "air", "dry", "damp"] {
            hands.type_amount(typed);
            hands.press("Tab");
        }
        // Past the empty third thing, to the runs.
        hands.press("Tab Tab Tab");
        hands.see_text("8 for a curve: all ends and faces");
        hands.type_amount("4");
        hands.see_text("4, every combination");
        hands.press("Tab Enter Enter");
        hands.see_text("is kept: 4 runs");
        hands.press("p");
        hands.see_text("For run 1 of trial 1: rest");
        hands.press("a Enter Enter p");
        hands.type_amount("20x20cm");
        hands.press("Enter g");
        hands.see_text("Pour 1, run 1 of trial 1");
        hands.press("T d 4");
        hands.see_text("Picture 1 is judged wet: cells 4 of 5");
        let page = stage.studio().trial_page(1).unwrap();
        assert_eq!((page.judged(), page.runs[0].cells), (1, Some(4)));
        // The judgement, the pour with its run, the trial.
        hands.press("u u u");
        hands.see_text("There is no trial yet");
        assert!(stage.studio().trials().unwrap().is_empty());
        assert!(stage.studio().pours(None).unwrap().is_empty());
        assert_eq!(stage.studio().bench(&now()).unwrap().len(), 3);
        hands.press("q");
        hands.see_closed();
    }
}
