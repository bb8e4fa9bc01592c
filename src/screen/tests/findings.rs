//! What worked: the rows, the windows, the pours behind a row; before, keys, after.

use super::{Play, Stage, code, keys, lines, place, shows, typed};
use crate::screen::kit::look::Look;
use crate::studio::{JudgeOrder, PourOrder};
use crate::trade::pour::Air;
use crate::trade::units::Celsius;
use chrono::TimeDelta;
use crossterm::event::KeyCode;
use ratatui::style::{Color, Modifier};

const SIZES: [(u16, u16); 3] = [(50, 16), (80, 24), (160, 50)];

/// Pours 5 ml of a cup so long ago, and judges it with so many cells.
fn pour(stage: &Stage, mark: &str, days: i64, cells: u8) -> i64 {
    let at = stage.now.at - TimeDelta::days(days);
    let order = PourOrder {
        at: Some(at),
        ..stage.stack("20x20cm", &[(mark, 5.0)])
    };
    let mut studio = stage.studio();
    let poured = studio.pour(&order, &stage.now).unwrap().pour.id;
    let order = JudgeOrder {
        cells,
        at: Some(at),
        ..JudgeOrder::default()
    };
    studio.judge(poured, &order, &stage.now).unwrap();
    poured
}

/// Pours 3 ml so many times, a day apart, best at 21 degrees; or as good at any, where `height` is nothing.
fn warmths(pours: i64, height: f64) -> Stage {
    let stage = Stage::with_recipes();
    stage.mix("River blue", "K7", -TimeDelta::days(60), None);
    for day in 1..=pours {
        let warm = 15.0 + ((day * 7) % 13) as f64;
        let luck = ((day * 29) % 11) as f64 / 11.0 - 0.5;
        let cells = 4.3 - height * ((warm - 21.0) / 6.0).powi(2) + luck;
        let at = stage.now.at - TimeDelta::days(day);
        let order = PourOrder {
            air: Some(Air {
                celsius: Some(Celsius(warm)),
                humidity: None,
            }),
            even_so: true,
            at: Some(at),
            ..stage.stack("20x20cm", &[("K7", 3.0)])
        };
        let mut studio = stage.studio();
        let poured = studio.pour(&order, &stage.now).unwrap().pour.id;
        let order = JudgeOrder {
            cells: cells.round().clamp(0.0, 5.0) as u8,
            at: Some(at),
            ..JudgeOrder::default()
        };
        studio.judge(poured, &order, &stage.now).unwrap();
    }
    stage
}

/// Some keys, and ticks until what they ask for is worked out.
fn with_ticks(names: &str) -> Vec<Play> {
    let ticks = (0..500).map(|_| Play::Tick);
    keys(names).into_iter().chain(ticks).collect()
}

#[test]
fn the_best_settings_are_drawn_and_one_key_plans_them() {
    let mut stage = warmths(36, 3.5);
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(with_ticks("F a b"));
        let promise = "p plans these settings: expect ";
        assert!(head(&cells).contains(promise), "{:#?}", lines(&cells));
        assert!(shows(&cells, "Next: ") && shows(&cells, "temperature 21 C"));
        let shown = lines(&cells);
        let row = |sign: char| shown.iter().position(|line| line.contains(sign));
        assert!(row('●').is_some() && row('░').is_some(), "{shown:#?}");
        assert!(shows(&cells, "› ") && shows(&cells, "temperature: best near 2"));
    }
    let mut plan = with_ticks("F a b");
    plan.extend(keys("p"));
    let cells = stage.play(plan);
    assert!(shows(&cells, "Paint for a panel"));
    assert!(shows(&cells, "temperature 2"), "{:#?}", lines(&cells));
    let mut back = with_ticks("F a b");
    back.extend(keys("Esc"));
    assert!(shows(&stage.play(back), "River blue v1"));
}

#[test]
fn where_settings_explain_nothing_no_plan_is_made_of_them() {
    let stage = warmths(36, 0.0);
    let cells = stage.play(with_ticks("F a b"));
    assert!(
        head(&cells).contains("Nothing that your settings explain yet"),
        "{:#?}",
        lines(&cells)
    );
    assert!(
        !shows(&cells, "p plan it"),
        "nothing is advised: {:#?}",
        lines(&cells)
    );
    let mut planned = with_ticks("F a b");
    planned.extend(keys("p"));
    assert!(shows(&stage.play(planned), "Nothing is advised yet"));
    let few = warmths(6, 3.5);
    let cells = few.play(with_ticks("F a b"));
    assert!(head(&cells).contains("Too early for the best settings"));
}

/// River blue: 9 good of 12 within 30 days, one bad before it. Cell opener: 3 good of 3.
fn stage() -> Stage {
    let stage = Stage::with_recipes();
    let old = -TimeDelta::days(100);
    stage.mix("River blue", "K7", old, None);
    stage.mix("Cell opener", "B4", old, None);
    pour(&stage, "K7", 40, 1);
    for day in (1..=12).rev() {
        pour(&stage, "K7", day, if day > 3 { 4 } else { 2 });
    }
    for day in [3, 2, 1] {
        pour(&stage, "B4", day, 5);
    }
    stage
}

fn head(cells: &ratatui::buffer::Buffer) -> String {
    let lines = lines(cells);
    let strip = lines.iter().position(|line| line.contains("4 Findings"));
    lines[..strip.unwrap()].join(" ")
}

#[test]
fn what_worked_last_month_takes_one_key_for_thirty_days_and_two_for_the_calendars() {
    let mut stage = stage();
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(keys("F"));
        let told = "Cell opener v1: 3 of 3 good, too early to tell. Of 5 pours or more River blue v1 leads: 9 of 12 good.";
        assert_eq!(head(&cells).trim(), told);
        assert!(shows(&cells, "in the last 30 days"), "{:#?}", lines(&cells));
        let left = Play::Key(code(KeyCode::Left));
        let cells = stage.play(keys("F").into_iter().chain([left]));
        assert!(head(&cells).contains("Too early to tell: 1 judged pour in 2026-10"));
    }
}

// Wilson's interval of 9 in 12 at 95 %: 46.8 to 91.1 % (E. B. Wilson, 1927; computed by hand from his formula).
#[test]
fn a_row_draws_its_interval_and_says_it_in_words_beside() {
    let mut stage = stage();
    stage.size = (80, 24);
    let cells = stage.play(keys("F"));
    let lines = lines(&cells);
    let row = lines
        .iter()
        .find(|line| line.contains("9 of 12 good "))
        .unwrap();
    assert!(row.contains("75 %, 47 to 91 %"), "{row}");
    let plot = |c| row.chars().position(|one| one == c).unwrap();
    assert!(plot('├') < plot('●') && plot('●') < plot('┤'), "{row}");
    let early = lines
        .iter()
        .find(|line| line.contains("3 of 3 good"))
        .unwrap();
    assert!(early.contains("too early to tell"), "{early}");
}

#[test]
fn the_surest_is_first_and_few_pours_are_called_too_early_at_every_size() {
    let mut stage = stage();
    for size in SIZES {
        for look in [Look::Full, Look::Plain] {
            (stage.size, stage.look) = (size, look);
            let cells = stage.play(keys("F"));
            let shown = lines(&cells);
            let row = |tally: &str| {
                let is_row = |line: &String| line.contains(tally) && line.contains('●');
                shown.iter().position(is_row).unwrap()
            };
            // By what is surely good, as on the command line; the other is marked.
            assert!(row("3 of 3") < row("9 of 12"), "{shown:#?}");
            assert!(shown[row("3 of 3")].contains("too early"), "{shown:#?}");
            let coloured = cells.content().iter().any(|cell| cell.fg != Color::Reset);
            assert!(look == Look::Full || !coloured);
        }
    }
}

#[test]
fn windows_are_one_key_each_and_a_month_may_be_typed() {
    let stage = stage();
    assert!(shows(&stage.play(keys("F s")), "9 of 13 good"));
    assert!(shows(&stage.play(keys("F a")), "9 of 13 good"));
    assert!(shows(&stage.play(keys("F a t")), "9 of 12 good"));
    let month = [keys("F m"), typed("2026-11"), keys("Enter")];
    let cells = stage.play(month.into_iter().flatten());
    assert!(shows(&cells, "in 2026-11"), "{:#?}", lines(&cells));
    let wrong = [keys("F m"), typed("May"), keys("Enter")];
    let cells = stage.play(wrong.into_iter().flatten());
    assert_eq!(place(&cells, "✗").1, place(&cells, "May").1 + 1);
}

#[test]
fn a_row_opens_its_pours_and_each_of_them_its_page() {
    let mut stage = stage();
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(keys("F Down Enter Down"));
        let (x, y) = place(&cells, "pour 12 ");
        assert!(cells[(x, y)].modifier.contains(Modifier::REVERSED));
        let row = &lines(&cells)[usize::from(y)];
        assert!(row.contains("■■··· 2"), "{row}");
        assert!(
            !shows(&cells, "pour 1 "),
            "40 days ago is not in the window"
        );
        let page = stage.play(keys("F Down Enter Down Enter"));
        assert!(shows(&page, "Picture 12, "), "{:#?}", lines(&page));
        assert!(
            shows(&page, "wet: cells 2")
                && shows(&page, "5 ml  ")
                && shows(&page, "River blue v1, ")
        );
        let back = stage.play(keys("F Down Enter Down Enter Esc"));
        assert!(shows(&back, "pour 12 "), "{:#?}", lines(&back));
        let rows = stage.play(keys("F Down Enter Down Enter Esc Esc"));
        assert!(shows(&rows, "in the last 30 days") && shows(&rows, "3 of 3"));
    }
}

#[test]
fn nothing_judged_says_how_to_judge() {
    let stage = Stage::with_cups();
    let cells = stage.play(keys("F"));
    assert!(shows(
        &cells,
        "No pour was judged in the last 30 days: d on the Pour"
    ));
    let cells = stage.play(keys("F Enter"));
    assert!(
        shows(&cells, "There is no row to open"),
        "{:#?}",
        lines(&cells)
    );
}

#[test]
fn what_is_judged_elsewhere_appears() {
    let stage = stage();
    let file = stage.file();
    let judge = move |now: &_| {
        let mut other = crate::studio::Studio::open(&file).unwrap();
        let order = JudgeOrder {
            cells: 5,
            ..JudgeOrder::default()
        };
        other.judge(13, &order, now).unwrap();
    };
    let script = [
        keys("F"),
        vec![Play::Elsewhere(Box::new(judge)), Play::Tick],
    ];
    let cells = stage.play(script.into_iter().flatten());
    assert!(shows(&cells, "10 of 12 good"), "{:#?}", lines(&cells));
}
