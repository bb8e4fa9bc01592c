//! Every sheet, page and question is opened, and left again: by Esc, by a digit, and after the help.

use super::{Play, Stage, keys, lines, place, shows, stack, typed};
use crate::studio::orders::PlanOrder;
use crate::studio::{JudgeOrder, TrialOrder, read_factor};
use crate::trade::panel::Panel;
use crate::trade::plan::Panels;
use crate::trade::units::Millimetres;
use chrono::TimeDelta;
use ratatui::buffer::Buffer;
use ratatui::style::Modifier;

/// Cups, a judged picture, a kept plan and a trial.
fn stage() -> Stage {
    let stage = Stage::with_cups();
    stage.mix("Cell opener", "C5", -TimeDelta::hours(2), None);
    let mut studio = stage.studio();
    let now = &stage.now;
    let order = stack(&studio, "20x20cm", &[("C5", 20.0)]);
    studio.pour(&order, now).unwrap();
    let judged = JudgeOrder {
        cells: 4,
        ..JudgeOrder::default()
    };
    studio.judge(1, &judged, now).unwrap();
    let factors = ["rest=12 h,24 h", "air=dry,damp"].map(|text| read_factor(text).unwrap());
    let trial = TrialOrder {
        factors: factors.to_vec(),
        runs: 4,
        blocks: 1,
        seed: Some(7),
        ..TrialOrder::default()
    };
    studio.design_trial(&trial, now).unwrap();
    for cells in [1, 2, 4, 5] {
        let order = stack(&studio, "20x20cm", &[("C5", 5.0)]);
        let pour = studio.pour(&order, now).unwrap().pour.id;
        studio.do_run(1, pour, None, now).unwrap();
        let judged = JudgeOrder {
            cells,
            ..JudgeOrder::default()
        };
        studio.judge(pour, &judged, now).unwrap();
    }
    let panels = Panels {
        panel: Panel::parse("20x20cm").unwrap(),
        count: 1,
        edge: Millimetres::ZERO,
    };
    let plan = PlanOrder {
        panels,
        way: None,
        pour_at: None,
        film: None,
        recipes: Vec::new(),
        holds: None,
        note: None,
        fresh: false,
    };
    studio.keep_plan(&plan, now).unwrap();
    stage
}

/// How each is opened, and what is seen of it alone. A digit among the grades is a grade, and a clock is left by Esc.
const WAYS: &[(&str, &str)] = &[
    ("Enter", "x strike"),
    ("x K 7 Enter", "x strike"),
    ("e", "How did K7 end?"),
    ("h", "x take back"),
    ("M", "Esc back"),
    ("R Enter", "Esc back"),
    ("F y", "statistics"),
    ("F b", "Esc back"),
    ("F a Enter", "Esc back"),
    ("F a Enter Enter", "Picture 5"),
    ("S !", "local codes"),
    ("L Enter", "Esc back"),
    ("C Enter", "Esc back"),
    ("T Enter", "x give up"),
    ("T f", "Esc back"),
    ("R p", "no photo yet"),
];

fn played(stage: &Stage, script: &str, more: &str) -> Buffer {
    let mut plays: Vec<Play> = keys(script);
    plays.extend(keys(more));
    stage.play(plays)
}

/// Which screen is open, by the strip.
fn open(cells: &Buffer, title: &str) -> bool {
    let (x, y) = place(cells, title);
    cells[(x, y)].modifier.contains(Modifier::REVERSED)
}

#[test]
fn a_digit_leaves_every_sheet_for_its_screen() {
    let stage = stage();
    for (script, seen) in WAYS {
        let cells = played(&stage, script, "");
        assert!(shows(&cells, seen), "{script}: {:#?}", lines(&cells));
        for (digit, title) in [("5", "5 Shelf"), ("7", "7 Recipes")] {
            let cells = played(&stage, script, digit);
            assert!(open(&cells, title), "{script}: {:#?}", lines(&cells));
            assert!(!shows(&cells, "Esc back"), "{script}: {:#?}", lines(&cells));
        }
    }
}

#[test]
fn esc_leaves_every_sheet_for_the_lines_it_was_opened_from() {
    let stage = stage();
    for (script, seen) in WAYS {
        let steps = if script.ends_with("Enter Enter") {
            "Esc Esc"
        } else {
            "Esc"
        };
        let cells = played(&stage, script, steps);
        assert!(!shows(&cells, seen), "{script}: {:#?}", lines(&cells));
        assert!(!shows(&cells, "Esc back"), "{script}: {:#?}", lines(&cells));
    }
}

#[test]
fn the_way_back_stands_in_the_footer_at_every_size() {
    let mut stage = stage();
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        for (script, _) in WAYS.iter().chain(&[("w", ""), ("R d", ""), ("m", "")]) {
            let cells = played(&stage, script, "");
            let foot = lines(&cells)[usize::from(size.1) - 2..].join(" ");
            assert!(foot.contains("Esc "), "{size:?} {script}: {foot}");
        }
    }
}

#[test]
fn the_help_of_every_sheet_leads_back_to_it() {
    let stage = stage();
    let asked = [("w", "as the drizzle ends"), ("R d", "How many cells")];
    for (script, seen) in WAYS.iter().chain(&asked) {
        let cells = played(&stage, script, "?");
        assert!(
            shows(&cells, "Everywhere"),
            "{script}: {:#?}",
            lines(&cells)
        );
        for back in ["? Esc", "? ?"] {
            let cells = played(&stage, script, back);
            assert!(shows(&cells, seen), "{script}: {:#?}", lines(&cells));
        }
    }
}

#[test]
fn the_digit_of_the_screen_itself_leads_to_its_lines() {
    let stage = stage();
    for (script, digit) in [
        ("Enter", "1"),
        ("F y", "4"),
        ("F b", "4"),
        ("F a Enter", "4"),
        ("L Enter", "6"),
        ("T Enter", "8"),
        ("T f", "8"),
        ("R p", "3"),
    ] {
        let cells = played(&stage, script, digit);
        assert!(!shows(&cells, "Esc back"), "{script}: {:#?}", lines(&cells));
    }
}

#[test]
fn esc_and_digits_in_a_form_are_as_they_are_typed() {
    let stage = stage();
    for script in [
        "m", "r", "t", "a", "g", "P p", "P a", "R t", "R s", "R e", "S a", "L a", "C a", "T a",
    ] {
        let cells = played(&stage, script, "Esc");
        assert!(!shows(&cells, "Esc away"), "{script}: {:#?}", lines(&cells));
        let mut plays = keys(script);
        plays.extend(typed("5?"));
        let cells = stage.play(plays);
        assert!(shows(&cells, "Esc away"), "{script}: {:#?}", lines(&cells));
    }
}

#[test]
fn the_help_is_one_screen_where_it_can_be_and_else_numbered_pages() {
    let mut stage = stage();
    let screens = ["1", "2", "3", "4", "5", "6", "7", "8"];
    stage.size = (160, 50);
    for screen in screens {
        let cells = played(&stage, screen, "?");
        assert!(!shows(&cells, "Space turns"), "{:#?}", lines(&cells));
        assert!(shows(&cells, "While filling in"));
    }
    stage.size = (80, 24);
    for screen in screens {
        let cells = played(&stage, screen, "?");
        assert!(
            !shows(&cells, "Space turns")
                || shows(&cells, "1 of 2:")
                || "123".contains(screen) && shows(&cells, "1 of 3:"),
            "{:#?}",
            lines(&cells)
        );
    }
    // Every key of the Bench stands on one of its pages, and a page too far is none.
    for size in [(80, 24), (50, 16)] {
        stage.size = size;
        let page = |more: &str| lines(&played(&stage, "?", more)).join(" ");
        let turned = [
            "",
            "Space",
            "Space Space",
            "Space Space Space",
            "Space Space Space Space",
        ];
        let all: String = turned.iter().map(|more| page(more)).collect();
        for word in [
            "mixed last",
            "stopwatch",
            "to be poured",
            "that screen",
            "sign away",
        ] {
            let all = all.to_lowercase();
            assert!(all.contains(word), "{word}: {all}");
        }
        let far = "Space ".repeat(30);
        assert_eq!(
            page(&format!("{far} Up")),
            page(&format!("{far} Up Down Up"))
        );
        assert_ne!(page(&far), page(&format!("{far} Up")));
    }
}

#[test]
fn keys_that_do_nothing_in_an_empty_place_stand_in_its_help_alone() {
    let mut stage = Stage::with_recipes();
    for size in [(50, 16), (80, 24), (160, 50)] {
        stage.size = size;
        for (screen, gone, there) in [
            ("8", "Enter runs", "a new"),
            ("6", "m mix next", "a new"),
            ("3", "d judge dry", "i air"),
            ("2", "Enter amount", "a add"),
            ("1", "t thin", "m mix"),
        ] {
            let cells = played(&stage, screen, "");
            let foot = lines(&cells)[usize::from(size.1) - 2..].join(" ");
            assert!(!foot.contains(gone) && foot.contains(there), "{foot}");
        }
    }
    stage.size = (160, 50);
    assert!(shows(&played(&stage, "8", "?"), "Go through the runs"));
}
