//! Trials: set up, poured in their order, judged, given up, read; before, keys, after.

use super::{Play, Stage, keys, lines, place, shows, stack, typed};
use crate::numbers::statistics::curves::{Layout, coded};
use crate::screen::kit::look::Look;
use crate::studio::{JudgeOrder, Studio, TrialOrder, TrialPage, read_factor};
use crate::trade::instant::Now;
use chrono::TimeDelta;
use ratatui::buffer::Buffer;
use ratatui::style::Color;

const SIZES: [(u16, u16); 3] = [(50, 16), (80, 24), (160, 50)];

fn all(parts: Vec<Vec<Play>>) -> Vec<Play> {
    parts.into_iter().flatten().collect()
}

fn order(factors: &[&str], runs: usize) -> TrialOrder {
    let factors = factors.iter().map(|text| read_factor(text).unwrap());
    TrialOrder {
        factors: factors.collect(),
        runs,
        blocks: 1,
        seed: Some(7),
        ..TrialOrder::default()
    }
}

const SQUARE: [&str; 2] = ["rest=12 h,24 h", "air=dry,damp"];

/// Cups, and a trial of four runs.
fn stage() -> Stage {
    staged(&order(&SQUARE, 4))
}

fn staged(order: &TrialOrder) -> Stage {
    let stage = Stage::with_cups();
    stage.mix("Cell opener", "C5", -TimeDelta::hours(2), None);
    stage.studio().design_trial(order, &stage.now).unwrap();
    stage
}

fn pour(studio: &mut Studio, now: &Now) -> i64 {
    let order = stack(studio, "20x20cm", &[("C5", 5.0)]);
    studio.pour(&order, now).unwrap().pour.id
}

/// Does the next run, and judges it where cells are given.
fn done(stage: &Stage, cells: Option<u8>) {
    let mut studio = stage.studio();
    let pour = pour(&mut studio, &stage.now);
    studio.do_run(1, pour, None, &stage.now).unwrap();
    if let Some(cells) = cells {
        let order = JudgeOrder {
            cells,
            ..JudgeOrder::default()
        };
        studio.judge(pour, &order, &stage.now).unwrap();
    }
}

fn trial(stage: &Stage) -> TrialPage {
    stage.studio().trial_page_open(1).unwrap()
}

/// `rest 24 h, air dry`, from the store.
fn settings(stage: &Stage, run: usize) -> String {
    let page = trial(stage);
    let settings = page.settings(page.run(run).unwrap()).unwrap();
    format!("rest {}, air {}", settings[0], settings[1])
}

fn head(cells: &Buffer) -> String {
    let lines = lines(cells);
    let strip = lines.iter().position(|line| line.contains("8 Trials"));
    lines[..strip.unwrap()].join(" ")
}

#[test]
fn the_next_run_is_said_with_its_settings_at_every_size_without_colour() {
    let mut stage = stage();
    done(&stage, None);
    stage.look = Look::Plain;
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(keys("T"));
        let told = format!(
            "Trial 1, run 2 of 4: {}: pour it (p). 1 to judge (d).",
            settings(&stage, 2)
        );
        assert_eq!(head(&cells).trim(), told);
        assert!(shows(&cells, "1 of 4 poured, 0 judged"));
        assert!(shows(&cells, "pour 1: judge it"), "{:#?}", lines(&cells));
        let next = usize::from(place(&cells, "◂ next: pour it").1);
        assert!(lines(&cells)[next].contains("  2 "), "{:#?}", lines(&cells));
        assert!(cells.content().iter().all(|cell| cell.fg == Color::Reset));
    }
}

#[test]
fn every_screen_has_its_name_from_eighty_cells_on_and_its_digit_always() {
    let mut stage = stage();
    for (size, wanted) in [
        ((80, 24), "7 Recipes   8 Trials"),
        ((73, 24), "7 Recipes  8 Trials"),
        ((50, 16), "1  2  3  4  5  6  7  8 Trials"),
    ] {
        stage.size = size;
        let cells = stage.play(keys("8"));
        assert!(shows(&cells, wanted), "{:#?}", lines(&cells));
    }
}

#[test]
fn a_trial_is_set_up_by_hand_and_what_it_cannot_tell_is_said_before_it_is_kept() {
    let stage = Stage::with_recipes();
    let filled = all(vec![
        keys("T a"),
        typed("rest"),
        keys("Tab"),
        typed("12,5 h"),
        keys("Tab"),
        typed("24 h"),
        keys("Tab"),
        typed("air"),
        keys("Tab"),
        typed("dry"),
        keys("Tab"),
        typed("damp"),
        keys("Tab"),
        typed("spin"),
        keys("Tab"),
        typed("cw"),
        keys("Tab"),
        typed("ccw"),
        keys("Tab Tab Tab Tab"),
        typed("8"),
    ]);
    let mut sized = Stage::with_recipes();
    for size in SIZES {
        sized.size = size;
        let cells = sized.play(half_of_a_cube());
        let words = lines(&cells).join(" ");
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains("4, a half: resolution III"), "{words}");
        assert!(words.contains("resolution III: a factor cannot"), "{words}");
        assert!(words.contains("spin is set by rest x air"), "{words}");
        let told = size.0 < 80 || words.contains("rest cannot be told from air x spin");
        assert!(told, "{words}");
        assert!(sized.studio().trials().unwrap().is_empty());
    }
    let rest = all(vec![
        keys("Enter Right Enter"),
        typed("1"),
        keys("Tab Right Tab"),
        typed("7"),
        keys("Enter"),
    ]);
    let cells = stage.play(filled.into_iter().chain(rest));
    assert!(
        shows(&cells, "✓ Trial 1 is kept: 10 runs"),
        "{:#?}",
        lines(&cells)
    );
    let page = trial(&stage);
    assert_eq!((page.seed, page.blind, page.runs.len()), (7, true, 10));
    let blocks: Vec<u32> = page.runs.iter().map(|run| run.block).collect();
    assert_eq!(blocks, [[1; 5], [2; 5]].concat());
    assert_eq!(page.factors[0].low, "12,5 h");
    let undone = stage.play(keys("T u u"));
    assert!(head(&undone).contains("There is no trial yet: a sets one up."));
}

fn half_of_a_cube() -> Vec<Play> {
    all(vec![
        keys("T a"),
        typed("rest"),
        keys("Tab a Tab b Tab"),
        typed("air"),
        keys("Tab a Tab b Tab"),
        typed("spin"),
        keys("Tab a Tab b Tab Tab Tab Tab"),
        typed("4"),
    ])
}

#[test]
fn the_usual_runs_follow_the_things_varied_and_a_choice_by_hand_stays() {
    let stage = Stage::with_recipes();
    let thing = "Tab a Tab b Tab";
    let five = format!("T a v {thing} w {thing} x {thing} y {thing} z {thing}");
    let cells = stage.play(keys(&five));
    assert!(
        shows(&cells, "16, a half: resolution V"),
        "{:#?}",
        lines(&cells)
    );
    let four = format!("T a v {thing} w {thing} x {thing} y {thing}");
    let cells = stage.play(keys(&four));
    assert!(
        shows(&cells, "8, a half: resolution IV"),
        "{:#?}",
        lines(&cells)
    );
    // Past the three empty fields of a fifth thing to the runs, and back.
    let back_tab = || Play::Key(super::code(crossterm::event::KeyCode::BackTab));
    let back = (0..3).map(|_| back_tab()).collect();
    let by_hand = all(vec![
        keys(&four),
        keys("Tab Tab Tab Right"),
        back,
        keys("z"),
    ]);
    let cells = stage.play(by_hand);
    assert!(
        shows(&cells, "runs          16, a half"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn faults_are_said_in_their_fields_and_nothing_typed_is_lost() {
    let stage = Stage::with_recipes();
    let fault = |script: Vec<Vec<Play>>, field: &str, words: &str| {
        let cells = stage.play(all(script));
        let at = place(&cells, &format!("✗ {words}")).1;
        assert_eq!(place(&cells, field).1 + 1, at, "{:#?}", lines(&cells));
        cells
    };
    fault(vec![keys("T a Enter")], "› vary 1", "vary 1 is needed");
    let cells = fault(
        vec![keys("T a"), typed("rest"), keys("Tab a Enter")],
        "› high 1",
        "high 1 is needed",
    );
    assert!(shows(&cells, "vary 1        rest"));
    let same = keys("T a r Tab a Tab A Tab R Tab a Tab b Enter");
    fault(vec![same], "› high 1", "r has the same setting twice");
    let twice = keys("T a r Tab a Tab b Tab R Tab a Tab b Enter");
    fault(vec![twice], "› vary 2", "R is varied twice");
    // One thing varied: the three empty fields of a second one stand before the runs.
    let to_runs = "T a r Tab a Tab b Tab Tab Tab Tab";
    let most = "the centre runs of a block must be 0 to 8";
    let halfway = format!("{to_runs} Tab Tab 9 Enter");
    fault(vec![keys(&halfway)], "› halfway", most);
    let seed = format!("{to_runs} Tab Tab Tab Tab x Enter");
    fault(vec![keys(&seed)], "› seed", "the seed must be 0 to");
    let days = format!("{to_runs} Right Tab 4 Tab Enter");
    let split = "these runs cannot be split into 4 blocks";
    let cells = fault(vec![keys(&days)], "› days", split);
    assert!(shows(&cells, "runs          4"), "{:#?}", lines(&cells));
    assert!(stage.studio().trials().unwrap().is_empty());
}

#[test]
fn the_pour_screen_pours_for_the_run_and_a_start_over_takes_its_place() {
    let stage = stage();
    let cells = stage.play(keys("T p"));
    let told = format!("For run 1 of trial 1: {}", settings(&stage, 1));
    assert!(shows(&cells, &told), "{:#?}", lines(&cells));
    let script = || all(vec![keys("T p p"), typed("20x20cm"), keys("Enter A g")]);
    let cells = stage.play(script());
    assert!(
        shows(&cells, "Pour 1, run 1 of trial 1: "),
        "{:#?}",
        lines(&cells)
    );
    assert!(!shows(&cells, "For run 1"), "the next pour is for no run");
    assert_eq!(trial(&stage).runs[0].pour, Some(1));
    let again = all(vec![keys("P a C 5 Tab"), typed("5 ml"), keys("Enter o")]);
    let cells = stage.play(again);
    assert!(
        shows(&cells, "Pour 2, second start, run 1 of trial 1"),
        "{:#?}",
        lines(&cells)
    );
    assert_eq!(trial(&stage).runs[0].pour, Some(2));
    stage.play(keys("T u u"));
    assert_eq!(trial(&stage).runs[0].pour, Some(1));
}

#[test]
fn a_pour_stands_though_its_run_was_done_elsewhere_meanwhile() {
    let stage = stage();
    let file = stage.file();
    let do_it = move |now: &Now| {
        let mut other = Studio::open(&file).unwrap();
        let pour = pour(&mut other, now);
        other.do_run(1, pour, Some(1), now).unwrap();
        let order = JudgeOrder {
            cells: 4,
            ..JudgeOrder::default()
        };
        other.judge(pour, &order, now).unwrap();
    };
    let script = all(vec![
        keys("T p p"),
        typed("20x20cm"),
        keys("Enter A"),
        vec![Play::Elsewhere(Box::new(do_it)), Play::Tick],
        keys("g"),
    ]);
    let cells = stage.play(script);
    let told = lines(&cells).join(" ");
    assert!(told.contains("Pour 2: B4"), "{told}");
    assert!(
        told.contains("But it is not run 1 of trial 1: run 1 of"),
        "{told}"
    );
    assert_eq!(trial(&stage).runs[0].pour, Some(1));
    assert_eq!(stage.studio().pours(None).unwrap().len(), 2);
}

#[test]
fn the_last_pour_is_taken_for_a_run_with_one_key_and_judged_with_two() {
    let stage = stage();
    let cells = stage.play(keys("T l"));
    assert!(shows(&cells, "nothing was poured in the last 30 days"));
    pour(&mut stage.studio(), &stage.now);
    let cells = stage.play(keys("T l"));
    assert!(
        shows(&cells, "✓ Pour 1 is run 1 of trial 1"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("T l"));
    assert!(
        shows(&cells, "pour 1 is run 1 of trial 1"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("T d 4"));
    assert!(shows(&cells, "pour 1 ■■■■· 4"), "{:#?}", lines(&cells));
    assert_eq!(trial(&stage).judged(), 1);
    stage.play(keys("T u u u u"));
    assert_eq!(trial(&stage).done(), 0);
}

#[test]
fn the_run_in_hand_is_the_one_that_is_judged_given_up_or_poured() {
    let stage = stage();
    done(&stage, None);
    done(&stage, None);
    let cells = stage.play(keys("T Enter Up d"));
    assert!(
        shows(&cells, "How many cells has picture 2, wet?"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("T Enter Down d"));
    // Run 4 is not poured: the first that is, and waits for it, is judged.
    assert!(
        shows(&cells, "How many cells has picture 1, wet?"),
        "{:#?}",
        lines(&cells)
    );
    let cells = stage.play(keys("T Enter Up p"));
    assert!(shows(&cells, "Run 2 was poured already: pour 2"));
    let cells = stage.play(keys("T Enter x Enter"));
    assert!(shows(&cells, "✗ say why the run is given up"));
    let give_up = all(vec![keys("T Enter Up x"), typed("fell"), keys("Enter")]);
    let cells = stage.play(give_up);
    assert!(shows(&cells, "given up: fell"), "{:#?}", lines(&cells));
    assert_eq!(trial(&stage).runs[1].given_up.as_deref(), Some("fell"));
    let cells = stage.play(keys("T Enter Up x"));
    assert!(
        shows(&cells, "Run 2 is given up already"),
        "{:#?}",
        lines(&cells)
    );
    stage.play(keys("T u u"));
    assert_eq!(trial(&stage).runs[1].given_up, None);
}

#[test]
fn a_blind_trial_never_shows_a_setting_beside_a_picture_that_is_not_judged() {
    let blind = TrialOrder {
        blind: true,
        ..order(&SQUARE, 4)
    };
    let mut stage = staged(&blind);
    for _ in 0..3 {
        done(&stage, Some(3));
    }
    for size in SIZES {
        stage.size = size;
        for script in ["T", "T Enter", "T Enter Up d", "T p", "P d", "h"] {
            let cells = stage.play(keys(script));
            let words = lines(&cells).join("\n");
            for setting in ["12 h", "24 h", "damp"] {
                assert!(!words.contains(setting), "{script}: {words}");
            }
        }
    }
    // The hand that mixes sees one run, and only before it has its picture.
    let cells = stage.play(keys("T o"));
    let wanted = settings(&stage, 4);
    let [rest, air] = wanted.split(", ").collect::<Vec<_>>().try_into().unwrap();
    assert!(shows(&cells, "Trial 1, run 4: for the hand that mixes"));
    assert!(
        shows(&cells, &rest.replace("rest ", "rest  ")),
        "{:#?}",
        lines(&cells)
    );
    assert!(shows(&cells, &air.replace("air ", "air  ")));
    let cells = stage.play(keys("T Enter Up o"));
    assert!(shows(&cells, "It has its picture"), "{:#?}", lines(&cells));
    done(&stage, Some(5));
    let cells = stage.play(keys("T"));
    assert!(shows(&cells, "12 h") && shows(&cells, "damp"));
}

#[test]
fn a_curve_is_set_up_in_the_form_and_its_best_place_is_said() {
    let mut stage = staged(&order(&SQUARE, 4));
    // Past the empty third thing, to the runs: the last offer is the curve.
    stage.play(keys("T a r Tab 8 h Tab 2 4 h Tab s Tab 4 % Tab 9 % Tab Tab Tab Tab Right Right Enter Enter Enter Enter Enter Enter"));
    let page = stage.studio().trial_page_open(2).unwrap();
    assert_eq!(
        (page.runs.len(), page.curve),
        (8 + 3, Some(Layout::FaceCentred))
    );
    for run in &page.runs {
        let at = |place: usize| coded(run.levels.as_ref().unwrap()[place]);
        let cells = (4.4 - 2.0 * (at(0) - 0.3_f64).powi(2) - at(1).powi(2)).round();
        let mut studio = stage.studio();
        let pour = pour(&mut studio, &stage.now);
        studio.do_run(2, pour, Some(run.run), &stage.now).unwrap();
        let cells = cells.clamp(0.0, 5.0) as u8;
        let order = JudgeOrder {
            cells,
            ..JudgeOrder::default()
        };
        studio.judge(pour, &order, &stage.now).unwrap();
    }
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(keys("T f"));
        assert!(
            head(&cells).contains("best between the ends: r 1"),
            "{:#?}",
            lines(&cells)
        );
    }
    assert!(shows(
        &stage.play(keys("T f")),
        "a top: it falls off on every side"
    ));
}

#[test]
fn what_a_trial_found_is_drawn_on_one_axis_and_said_in_words() {
    let cube = ["rest=12 h,24 h", "share=5 %,10 %", "air=dry,damp"];
    let mut stage = staged(&order(&cube, 8));
    let cells = stage.play(keys("T f"));
    assert!(shows(&cells, "0 of 8 runs are judged: too early to tell"));
    // Low low low, high low low, low high low, ...: as in tests/it/command/trials.rs, worked out by hand.
    let by_corner = [1, 4, 1, 5, 2, 3, 1, 4];
    for run in trial(&stage).runs {
        let high = |level: &crate::trade::trial::Level| usize::from(level.sign() == '+');
        let bits = run.levels.unwrap();
        let corner = high(&bits[0]) + 2 * high(&bits[1]) + 4 * high(&bits[2]);
        done(&stage, Some(by_corner[corner]));
    }
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(keys("T f"));
        assert!(
            head(&cells).contains("24 h rest instead of 12 h: +2.8 cells (1.3 to 4.2)"),
            "{:#?}",
            lines(&cells)
        );
        let shown = lines(&cells);
        let plots: Vec<&String> = shown.iter().filter(|line| line.contains('●')).collect();
        let at = |line: &str, sign: char| line.chars().position(|c| c == sign);
        assert!(at(plots[0], '│') < at(plots[0], '├') && at(plots[0], '│').is_some());
        assert!(at(plots[0], '├') < at(plots[0], '●'));
        // The zero mark stands in one column; it is crossed where the interval holds nothing.
        assert_eq!(at(plots[0], '│'), at(plots[1], '┼').or(at(plots[1], '●')));
        let words = shown.join(" ");
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains("cannot be told from nothing"), "{words}");
    }
    let cells = stage.play(keys("T f"));
    let text = lines(&cells).join("\n");
    let end = stage.play(all(vec![
        keys("T f"),
        vec![Play::Key(super::code(crossterm::event::KeyCode::End))],
    ]));
    let text = text + &lines(&end).join("\n");
    for told in [
        "rest and share together: +0.8 cells",
        "(Lenth)",
        "every combination is poured",
    ] {
        assert!(text.contains(told), "{told}: {text}");
    }
}

#[test]
fn what_another_process_does_appears_and_a_trial_that_is_gone_is_left() {
    let stage = stage();
    let file = stage.file();
    let give_up = move |now: &Now| {
        let mut other = Studio::open(&file).unwrap();
        other.skip_run(1, 1, "no paint", now).unwrap();
    };
    let script = vec![
        keys("T Enter"),
        vec![Play::Elsewhere(Box::new(give_up)), Play::Tick],
    ];
    let cells = stage.play(all(script));
    assert!(shows(&cells, "given up: no paint"), "{:#?}", lines(&cells));
    assert!(head(&cells).starts_with("Trial 1, run 2 of 4"));
    let cells = stage.play(keys("T Enter u u u u"));
    assert!(
        head(&cells).contains("There is no trial yet"),
        "{:#?}",
        lines(&cells)
    );
    for key in ["p", "l", "d", "f", "o", "Enter"] {
        let cells = stage.play(keys(&format!("T {key}")));
        assert!(
            shows(&cells, "There is no trial yet: a sets one up"),
            "{key}"
        );
    }
}

#[test]
fn a_trial_without_a_judged_run_ends_and_says_that_it_told_nothing() {
    let stage = stage();
    for run in 1..=4 {
        let mut studio = stage.studio();
        studio.skip_run(1, run, "no paint", &stage.now).unwrap();
    }
    for script in ["T", "T f"] {
        let cells = stage.play(keys(script));
        let told = "Trial 1 is over: so many runs were given up";
        assert!(head(&cells).contains(told), "{:#?}", lines(&cells));
        assert!(head(&cells).contains("cannot be told apart"));
    }
}

#[test]
fn runs_of_several_days_stand_under_their_day() {
    let two_days = TrialOrder {
        blocks: 2,
        ..order(&SQUARE, 4)
    };
    let mut stage = staged(&two_days);
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(keys("T"));
        assert!(head(&cells).starts_with("Trial 1, day 1, run 1 of 4: "));
        assert!(place(&cells, "day 1").1 < place(&cells, "day 2").1);
        let told = "the difference between days cannot be told from rest x air";
        let words = lines(&cells).join(" ");
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(size.1 < 20 || words.contains(told), "{words}");
    }
}
