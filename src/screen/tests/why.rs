//! Why pours came out so, and what to try next: rows that open, two factors at once, one key to a plan or a mix.

use super::{Stage, keys, lines, place, shows, typed};
use crate::screen::kit::look::Look;
use crate::studio::{JudgeOrder, PourOrder, RecipeOrder};
use crate::trade::pour::Air;
use crate::trade::units::{Celsius, Share};
use chrono::TimeDelta;
use ratatui::buffer::Buffer;
use ratatui::style::{Color, Modifier};

const SIZES: [(u16, u16); 3] = [(50, 16), (80, 24), (160, 50)];

/// One pour, its day counted back from now, in air as damp and warm as said.
struct Day {
    mark: &'static str,
    ago: i64,
    damp: f64,
    warm: f64,
    cells: u8,
}

fn pour(stage: &Stage, day: &Day) {
    let at = stage.now.at - TimeDelta::days(day.ago);
    let order = PourOrder {
        way: Some("swipe".to_owned()),
        air: Some(Air {
            celsius: Some(Celsius(day.warm)),
            humidity: (day.damp > 0.0).then_some(Share(day.damp)),
        }),
        at: Some(at),
        ..stage.stack("20x30cm", &[(day.mark, 4.0)])
    };
    let mut studio = stage.studio();
    let number = studio.pour(&order, &stage.now).unwrap().pour.id;
    let order = JudgeOrder {
        cells: day.cells,
        at: Some(at),
        ..JudgeOrder::default()
    };
    studio.judge(number, &order, &stage.now).unwrap();
}

/// 24 pours over 24 days, K7 of River blue v1 and B4 of v2: dry days were good (11 of 12), damp ones not (1 of 12);
/// on the last day, a good one, the air's dampness was not written down. It was warm on every second day, which did nothing.
fn stage() -> Stage {
    let stage = Stage::with_recipes();
    let old = -TimeDelta::days(60);
    stage.mix("River blue", "K7", old, None);
    let order = RecipeOrder {
        parts: stage.parts(["Blue paint 1", "Medium 3"]),
        ..RecipeOrder::default()
    };
    let mut studio = stage.studio();
    studio
        .change_recipe(stage.recipe("River blue"), &order, &stage.now)
        .unwrap();
    drop(studio);
    stage.mix("River blue", "B4", old, None);
    for ago in (1..=24).rev() {
        let dry = ago % 4 < 2;
        let turned = ago == 4 || ago == 6;
        pour(
            &stage,
            &Day {
                mark: if ago % 3 == 0 { "B4" } else { "K7" },
                ago,
                damp: match ago {
                    1 => 0.0,
                    _ if dry => 0.42,
                    _ => 0.61,
                },
                warm: if ago % 2 == 0 { 24.0 } else { 19.0 },
                cells: if dry != turned { 5 } else { 1 },
            },
        );
    }
    stage
}

fn text(cells: &Buffer) -> String {
    let lines = lines(cells).join(" ");
    lines.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Keys down to the row that begins so, counted on a screen that is high enough for all.
fn down_to(stage: &mut Stage, before: &str, row: &str) -> String {
    let size = std::mem::replace(&mut stage.size, (100, 90));
    let shown = lines(&stage.play(keys(before)));
    stage.size = size;
    let is_row = |line: &&String| line.starts_with("› ") || is_named(line);
    let rows: Vec<&String> = shown.iter().filter(is_row).collect();
    let at = |sign: &str| rows.iter().position(|line| line.starts_with(sign));
    let (from, to) = (at("› ").unwrap(), at(&format!("  {row}")).unwrap());
    format!("{before}{}", " Down".repeat(to - from))
}

/// Two blanks and then a name.
fn is_named(line: &str) -> bool {
    let mut signs = line.chars();
    signs.by_ref().take(2).all(|sign| sign == ' ') && signs.next().is_some_and(|sign| sign != ' ')
}

#[test]
fn what_to_try_and_what_stands_out_take_two_keys_at_every_size() {
    let mut stage = stage();
    for size in SIZES {
        for look in [Look::Full, Look::Plain] {
            (stage.size, stage.look) = (size, look);
            let cells = stage.play(keys("F y"));
            let text = text(&cells);
            let told = "humidity went with good pours in the last 30 days. Found by looking, not by a trial.";
            assert!(text.starts_with(told), "{text}");
            for told in ["to try next", "likely best", "a control", "p plans"] {
                assert!(text.contains(told), "{told}: {text}");
            }
            let coloured = cells.content().iter().any(|cell| cell.fg != Color::Reset);
            assert!(look == Look::Full || !coloured);
        }
    }
}

#[test]
fn a_factor_draws_both_its_sides_and_opens_to_the_pours_of_each() {
    let mut stage = stage();
    let script = down_to(&mut stage, "F y", "humidity");
    let cells = stage.play(keys(&script));
    let shown = lines(&cells);
    let row = shown
        .iter()
        .find(|line| line.starts_with("› humidity"))
        .unwrap();
    assert!(
        row.contains('○') && row.contains('●') && row.contains(" in 100"),
        "{row}"
    );
    let text = text(&cells);
    assert!(text.contains("that it matters"), "{text}");
    let cells = stage.play(keys(&format!("{script} Enter")));
    assert!(
        shows(&cells, "humidity at 61 %: 1 of 12 good"),
        "{:#?}",
        lines(&cells)
    );
    let first = lines(&cells)
        .into_iter()
        .find(|line| line.starts_with("› pour"));
    assert!(first.is_some());
    let last = format!("{script} Enter{}", " Down".repeat(23));
    let cells = stage.play(keys(&last));
    assert!(
        shows(&cells, "humidity was not written down"),
        "{:#?}",
        lines(&cells)
    );
    let (x, y) = place(&cells, "pour 24");
    assert!(cells[(x, y)].modifier.contains(Modifier::REVERSED));
    let cells = stage.play(keys(&format!("{last} Esc")));
    assert!(shows(&cells, "› humidity"), "back to where it was");
}

#[test]
fn two_factors_are_set_in_a_table_with_two_presses_and_its_cells_open() {
    let mut stage = stage();
    let first = down_to(&mut stage, "F y", "humidity") + " x";
    let cells = stage.play(keys(&first));
    assert!(shows(
        &cells,
        "humidity beside which factor? Choose it, then x."
    ));
    let script = down_to(&mut stage, &first, "temperature") + " x";
    for size in SIZES {
        stage.size = size;
        let cells = stage.play(keys(&script));
        let text = text(&cells);
        assert!(
            text.starts_with("humidity beside temperature: how many pours were good."),
            "{text}"
        );
        // Every second damp day was warm.
        assert!(text.contains("at 61 %") && text.contains("of 6"), "{text}");
    }
    stage.size = (80, 24);
    let cells = stage.play(keys(&script));
    assert!(text(&cells).contains("On 1 pour one of the two was not written down."));
    let cells = stage.play(keys(&format!("{script} Enter")));
    assert!(
        shows(&cells, "humidity under 61 %, temperature"),
        "{:#?}",
        lines(&cells)
    );
    assert!(shows(&cells, "› pour"));
    let cells = stage.play(keys(&format!("{script} Enter Esc Esc")));
    assert!(shows(&cells, "› temperature"), "{:#?}", lines(&cells));
    let cells = stage.play(keys(&format!("{script} Esc Esc")));
    assert!(shows(&cells, "River blue v1") && !shows(&cells, "to try next"));
}

#[test]
fn a_factor_beside_itself_is_let_go_and_a_suggestion_is_no_factor() {
    let mut stage = stage();
    let script = down_to(&mut stage, "F y", "humidity") + " x x";
    let cells = stage.play(keys(&script));
    assert!(text(&cells).starts_with("humidity went with good pours"));
    let cells = stage.play(keys("F y x"));
    assert!(text(&cells).contains("Choose a factor first"));
    let script = down_to(&mut stage, "F y", "humidity") + " m";
    let cells = stage.play(keys(&script));
    assert!(text(&cells).contains("Choose one of what to try next"));
}

#[test]
fn a_suggestion_is_one_key_from_a_plan_like_its_last_pour() {
    let stage = stage();
    let cells = stage.play(keys("F y p"));
    assert!(shows(&cells, "Paint for a panel"), "{:#?}", lines(&cells));
    for told in ["20 x 30 cm", "swipe", "River blue"] {
        assert!(shows(&cells, told), "{told}: {:#?}", lines(&cells));
    }
    assert!(shows(&cells, "6 Plan"));
}

#[test]
fn a_suggestion_is_one_key_from_a_mix_of_its_own_variant() {
    let stage = stage();
    let shown = text(&stage.play(keys("F y")));
    let old = if shown.contains("River blue v1 likely best") {
        "F y m"
    } else {
        "F y Down m"
    };
    let cells = stage.play(keys(old));
    assert!(
        shows(&cells, "Mix a cup of River blue v1"),
        "{:#?}",
        lines(&cells)
    );
    stage.play(keys(old).into_iter().chain(keys("Enter")));
    let cups = stage.studio().bench(&stage.now).unwrap();
    let newest = cups.iter().max_by_key(|cup| cup.cup.id).unwrap();
    assert_eq!(
        (newest.recipe.name.as_str(), newest.variant.number),
        ("River blue", 1)
    );
    // Another recipe in the form is mixed as it is now.
    let other = [keys(old), keys("Tab Tab Tab Tab Tab Tab Tab Tab Tab")];
    let other = other
        .into_iter()
        .flatten()
        .chain(typed("Cell"))
        .chain(keys("Enter Enter"));
    let cells = stage.play(other);
    assert!(shows(&cells, "Cell opener v1"), "{:#?}", lines(&cells));
}

#[test]
fn time_is_drawn_by_stretches_that_open() {
    let mut stage = stage();
    let script = down_to(&mut stage, "F y", "9 Nov");
    let cells = stage.play(keys(&script));
    assert!(shows(&cells, "as time went on: no sign of change"));
    assert!(text(&cells).contains("No sign that cells change with time, in 24 pours."));
    let cells = stage.play(keys(&format!("{script} Enter")));
    assert!(shows(&cells, "› pour"), "{:#?}", lines(&cells));
}

#[test]
fn one_pour_and_none_are_told_honestly() {
    let stage = Stage::with_recipes();
    let cells = stage.play(keys("F y"));
    assert!(text(&cells).contains("No pour was judged in the last 30 days"));
    stage.mix("River blue", "K7", -TimeDelta::days(3), None);
    let day = Day {
        mark: "K7",
        ago: 1,
        damp: 0.5,
        warm: 20.0,
        cells: 5,
    };
    pour(&stage, &day);
    for script in [
        "F y",
        "F y Down Down Down",
        "F y Enter",
        "F y Down Enter",
        "F y p",
        "F y m",
    ] {
        let cells = stage.play(keys(script));
        assert!(!text(&cells).contains("NaN"), "{:#?}", lines(&cells));
    }
    let text = text(&stage.play(keys("F y")));
    assert!(
        text.contains("what went with good pours: 1 of 1 judged pour good"),
        "{text}"
    );
}
