//! What leaves the studio is written from the screen: which file by one key, the rest in a form, the same files as the command line's.

use super::{Play, Stage, keys, lines, shows, typed};
use crate::studio::{SaleOrder, TitleOrder};
use rust_decimal::Decimal;
use std::path::{Path, PathBuf};

/// Ticks enough for a file to be made: one waits for it no longer than it takes.
fn meanwhile() -> Vec<Play> {
    (0..400).map(|_| Play::Tick).collect()
}

/// A form whose last field, the file, is typed anew in a folder of its own.
fn into(stage: &Stage, way: &str, name: &str) -> (Vec<Play>, PathBuf) {
    let file = stage.file().with_file_name(name);
    let mut script = keys(way);
    script.extend(keys("BackTab"));
    script.extend(typed(&file.display().to_string()));
    (script, file)
}

fn read(file: &Path) -> String {
    std::fs::read_to_string(file).unwrap()
}

#[test]
fn a_report_of_the_month_is_three_keys_and_a_path() {
    let stage = super::rack::stage(0);
    let (mut script, file) = into(&stage, "W r", "month.html");
    script.extend(keys("Enter"));
    script.extend(meanwhile());
    let cells = stage.play(script);
    assert!(shows(&cells, "✓ The report is in"), "{:#?}", lines(&cells));
    assert!(read(&file).contains("swipe"));
}

#[test]
fn what_a_file_will_hold_and_its_name_are_told_before_it_is_written() {
    let stage = super::rack::stage(0);
    let cells = stage.play(keys("W r"));
    let all = lines(&cells).join("\n");
    assert!(all.contains("report-2026-11.html"), "{all}");
    assert!(all.contains("1 pour, 0 of them judged"), "{all}");
    let cells = stage.play(keys("R W c"));
    let all = lines(&cells).join("\n");
    assert!(
        all.contains("picture-1.pdf") && all.contains("no title yet"),
        "{all}"
    );
    assert!(all.contains("no varnish is written down"), "{all}");
}

#[test]
fn a_file_that_is_there_is_replaced_only_by_a_second_enter() {
    let stage = super::rack::stage(0);
    let (script, file) = into(&stage, "R W c", "c.html");
    std::fs::write(&file, "mine").unwrap();
    let once = script.into_iter().chain(keys("Enter"));
    let once: Vec<_> = once.chain(meanwhile()).collect();
    let cells = stage.play(once);
    let all = lines(&cells).join(" ");
    assert!(all.contains("is already there"), "{all}");
    assert_eq!(read(&file), "mine");
    let (script, _) = into(&stage, "R W c", "c.html");
    let twice = script.into_iter().chain(keys("Enter Enter"));
    stage.play(twice.chain(meanwhile()));
    assert!(read(&file).contains("<html"));
}

#[test]
fn a_folder_that_is_missing_and_an_ending_of_another_file_stay_in_the_form() {
    let stage = super::rack::stage(0);
    for (name, said) in [("no/such/c.pdf", "no/such"), ("c.doc", "doc")] {
        let (script, file) = into(&stage, "R W c", name);
        let cells = stage.play(script.into_iter().chain(keys("Enter")));
        let all = lines(&cells).join(" ");
        assert!(all.contains("✗") && all.contains(said), "{all}");
        assert!(!file.exists());
    }
}

#[test]
fn a_ledger_is_shown_where_no_file_is_named_and_buyers_only_where_asked() {
    let stage = super::rack::stage(0);
    let (mut studio, now) = (stage.studio(), stage.now);
    let title = TitleOrder {
        title: Some("River in May".to_owned()),
        asked: None,
        even_so: false,
    };
    studio.title(1, &title, &now).unwrap();
    let sale = SaleOrder {
        anew: false,
        even_so: false,
        price: Decimal::from(240),
        at: None,
        buyer: Some("Ida".to_owned()),
        venue: Some("open studio".to_owned()),
    };
    studio.sell(1, &sale, &now).unwrap();
    let shown = lines(&stage.play(keys("W y Enter"))).join("\n");
    for word in ["Sold in 2026", "River in May", "240.00", "open studio"] {
        assert!(shown.contains(word), "{word} in {shown}");
    }
    assert!(!shown.contains("Ida"), "{shown}");
    let shown = lines(&stage.play(keys("W y Tab Right Enter"))).join("\n");
    assert!(shown.contains("to Ida"), "{shown}");
    let (script, file) = into(&stage, "W y", "ledger.csv");
    stage.play(script.into_iter().chain(keys("Enter")).chain(meanwhile()));
    let csv = read(&file);
    assert!(
        csv.contains("River in May,400 x 600 mm,2026-11-25,240") && !csv.contains("Ida"),
        "{csv}"
    );
}

#[test]
fn the_plan_in_hand_is_the_one_on_the_session_sheet() {
    let stage = super::plan::kept();
    let (script, file) = into(&stage, "L W s", "plan.pdf");
    let cells = stage.play(script.into_iter().chain(keys("Enter")).chain(meanwhile()));
    assert!(
        shows(&cells, "✓ The session sheet is in"),
        "{:#?}",
        lines(&cells)
    );
    assert!(std::fs::read(&file).unwrap().starts_with(b"%PDF"));
}

#[test]
fn a_screen_that_is_left_at_once_cuts_no_file_off() {
    let stage = super::rack::stage(0);
    let (script, file) = into(&stage, "W d", "cups.ics");
    stage.play(script.into_iter().chain(keys("Enter q")));
    assert!(read(&file).trim_end().ends_with("END:VCALENDAR"));
}

#[test]
fn the_cup_in_hand_is_labelled_and_the_sheets_are_the_same_the_next_time() {
    let stage = Stage::with_cups();
    let offered = lines(&stage.play(keys("W l"))).join("\n");
    for word in ["K7", "labels-K7.pdf", "1 label on 1 sheet of A4", "100 %"] {
        assert!(offered.contains(word), "{word} in {offered}");
    }
    let (script, file) = into(&stage, "W l", "l.pdf");
    let mut script: Vec<_> = script;
    // Back from the file to the label's size: paper, copies, roll, first place, gap, margin, label.
    script.extend(keys(
        "BackTab BackTab BackTab BackTab BackTab BackTab BackTab",
    ));
    script.extend(typed("60x30mm"));
    script.extend(keys("Enter"));
    script.extend(meanwhile());
    script.extend(keys("W l"));
    let again = lines(&stage.play(script)).join("\n");
    assert!(
        again.contains("60x30mm") && !again.contains("70x37mm"),
        "{again}"
    );
    assert!(std::fs::read(&file).unwrap().starts_with(b"%PDF"));
}

#[test]
fn labels_of_all_living_cups_and_those_that_fit_no_paper() {
    let stage = Stage::with_cups();
    let all = |text: &str| {
        let mut script = keys("W l");
        script.extend(typed(text));
        lines(&stage.play(script)).join(" ")
    };
    assert!(
        all("living").contains("3 labels on 1 sheet of A4"),
        "{}",
        all("living")
    );
    assert!(all("Z9").contains("Z9"), "{}", all("Z9"));
    let mut script = keys("W l Tab");
    script.extend(typed("9x9"));
    script.extend(keys("Enter"));
    let refused = lines(&stage.play(script)).join(" ");
    assert!(refused.contains("labels need"), "{refused}");
}

/// A list of one's own: what each column becomes is told while it is typed, it comes in as one change, and one undo takes it back.
#[test]
fn a_list_of_ones_own_comes_in_by_three_keys_and_a_path() {
    let stage = super::rack::stage(0);
    let file = stage.file().with_file_name("mine.csv");
    let list = "Date poured;Canvas;Mood\n05.03.2024;40 x 50 cm;calm\n17.04.2024;30 cm rund;\n";
    std::fs::write(&file, list).unwrap();
    let script = || {
        let path = typed(&file.display().to_string());
        keys("W i Tab").into_iter().chain(path)
    };
    let tried = lines(&stage.play(script())).join(" ");
    for said in [
        "Date poured → at",
        "Canvas → panel",
        "Mood → left out",
        "2 lines",
    ] {
        assert!(tried.contains(said), "{said} in {tried}");
    }
    let cells = stage.play(script().chain(keys("Enter")));
    assert!(shows(&cells, "2 pours came in"), "{:#?}", lines(&cells));
    assert!(shows(&cells, "semicolons"), "{:#?}", lines(&cells));
}

/// A list that cannot be read stays in its form with the line that is wrong, and nothing comes in.
#[test]
fn a_list_that_cannot_be_read_says_so_and_comes_in_not_at_all() {
    let stage = super::rack::stage(0);
    let file = stage.file().with_file_name("mine.csv");
    std::fs::write(&file, "date,panel\n2024-03-05,20x30cm\nsoon,20x30cm\n").unwrap();
    let mut script = keys("W i Tab");
    script.extend(typed(&file.display().to_string()));
    script.extend(keys("Enter"));
    let all = lines(&stage.play(script)).join(" ");
    assert!(
        all.contains("✗") && all.contains("line 3: \"soon\""),
        "{all}"
    );
    assert!(
        !all.contains("--"),
        "no option of the command line on the screen: {all}"
    );
}
