//! `cells`, `photo` and `photos`: what they answer.

use super::Rehearsal;
use super::photo_faults::even;
use image::{DynamicImage, ImageBuffer, Luma, Rgb, Rgba};
use std::path::{Path, PathBuf};

pub(crate) fn data(name: &str) -> String {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data/cells");
    folder.join(name).display().to_string()
}

fn panel() -> DynamicImage {
    image::open(data("panel_easy.png")).unwrap()
}

/// A studio with a pour on a panel of 40 by 30 cm.
pub(super) fn poured() -> Rehearsal {
    let desk = Rehearsal::stocked();
    desk.does("mix|Ground|--volume|200ml|--mark|B2");
    desk.does("pour|--panel|40x30cm|--layer|B2:150ml");
    desk
}

pub(super) fn beside(desk: &Rehearsal, name: &str) -> PathBuf {
    desk.file().with_file_name(name)
}

pub(super) fn originals(desk: &Rehearsal) -> Vec<PathBuf> {
    let folder = beside(desk, "studio.db-photos");
    std::fs::read_dir(folder).map_or(Vec::new(), |all| {
        all.map(|one| one.unwrap().path()).collect()
    })
}

#[test]
fn cells_are_measured_in_millimetres_and_drawn() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    let (overlay, csv) = (beside(&desk, "seen.png"), beside(&desk, "seen.csv"));
    let words = format!(
        "cells|{}|--panel|40x30cm|--each|--overlay|{}|--csv|{}",
        data("a_wood.jpg"),
        overlay.display(),
        csv.display()
    );
    let told = desk.does(&words);
    assert_eq!(told["photo"]["format"], "jpeg");
    assert_eq!(told["panel_mm"], serde_json::json!([400.0, 300.0]));
    assert_eq!(told["corners"]["how"], "found");
    let cells = told["cells"].as_u64().unwrap();
    assert!((285..=297).contains(&cells), "{cells}");
    let median = told["diameter_mm"]["median"].as_f64().unwrap();
    assert!((median / 10.863 - 1.0).abs() < 0.02, "{median}");
    assert_eq!(told["each"].as_array().unwrap().len() as u64, cells);
    let drawn = image::open(&overlay).unwrap().to_rgb8();
    assert!(
        drawn
            .pixels()
            .filter(|pixel| **pixel == Rgb([255, 0, 200]))
            .count()
            > 2000
    );
    let rows = std::fs::read_to_string(&csv).unwrap();
    assert_eq!(rows.lines().count() as u64, cells + 1);
    assert!(rows.starts_with("x_mm,y_mm,diameter_mm,roundness\r\n"));
    let done = desk.run(&words.split('|').collect::<Vec<_>>());
    assert_eq!(
        done.code, 1,
        "an overlay that is there is not replaced: {done:?}"
    );
    assert_eq!(
        desk.does("history")["changes"]
            .as_array()
            .map_or(0, Vec::len),
        0
    );
}

#[test]
fn without_a_panel_nothing_is_told_in_lengths() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    let told = desk.does(&format!("cells|{}|--whole", data("panel_easy.png")));
    assert_eq!(told["cells"], 105);
    assert!(
        told["panel_mm"].is_null() && told["diameter_mm"].is_null() && told["per_dm2"].is_null()
    );
    assert_eq!(told["warnings"].as_array().unwrap().len(), 1);
}

/// Every format and every depth gives about the same cells; EXIF turns a photo and says when it was taken.
#[test]
fn any_format_and_depth_gives_its_cells() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    let sixteen = beside(&desk, "sixteen.png");
    panel().to_rgb16().save(&sixteen).unwrap();
    let grey = beside(&desk, "grey.png");
    let light: ImageBuffer<Luma<u16>, Vec<u16>> = panel().to_luma16();
    light.save(&grey).unwrap();
    let clear = beside(&desk, "clear.png");
    let mut rgba = panel().to_rgba8();
    rgba.pixels_mut()
        .for_each(|pixel| *pixel = Rgba([pixel[0], pixel[1], pixel[2], 250]));
    rgba.save(&clear).unwrap();
    let wrong_ending = beside(&desk, "panel.jpg");
    std::fs::copy(data("panel_easy.png"), &wrong_ending).unwrap();
    let files = [
        (sixteen.display().to_string(), "png", 105..=105),
        (grey.display().to_string(), "png", 104..=106),
        (clear.display().to_string(), "png", 104..=106),
        (wrong_ending.display().to_string(), "png", 105..=105),
        (data("panel_easy.heic"), "heic", 104..=106),
        (data("panel_turned.jpg"), "jpeg", 104..=106),
        (data("panel_cmyk.jpg"), "jpeg", 95..=108),
    ];
    for (file, format, cells) in files {
        let told = desk.does(&format!("cells|{file}|--whole"));
        assert_eq!(told["photo"]["format"], format, "{file}");
        let found = told["cells"].as_u64().unwrap();
        assert!(cells.contains(&found), "{file}: {found}");
    }
    for name in ["panel_easy.heic", "panel_turned.jpg"] {
        let told = desk.does(&format!("cells|{}|--whole", data(name)));
        assert_eq!(
            told["photo"]["taken_at"], "2026-11-24T19:05:00+01:00",
            "{name}"
        );
        assert_eq!(
            (
                told["photo"]["width"].as_u64(),
                told["photo"]["height"].as_u64()
            ),
            (Some(600), Some(450))
        );
    }
}

#[test]
fn a_photo_is_kept_measured_dropped_and_brought_back() {
    let desk = poured();
    let told = desk.does(&format!(
        "photo|1|{}|--wet|--note|by the window",
        data("a_wood.jpg")
    ));
    assert_eq!(
        (
            &told["photos"][0]["photo"],
            &told["photos"][0]["pour"],
            &told["photos"][0]["dry"]
        ),
        (&1.into(), &1.into(), &false.into())
    );
    assert_eq!(told["photos"][0]["taken_by"], "file");
    let cells = told["photos"][0]["measured"][0]["cells"].as_i64().unwrap();
    assert!((285..=297).contains(&cells));
    let kept = originals(&desk);
    assert_eq!(kept.len(), 1);
    assert_eq!(
        std::fs::read(&kept[0]).unwrap(),
        std::fs::read(data("a_wood.jpg")).unwrap()
    );
    let name = kept[0].file_stem().unwrap().to_string_lossy().into_owned();
    assert_eq!(told["photos"][0]["sha256"], name);
    let (sentence, _) = desk.refuses(&format!("photo|1|{}", data("a_wood.jpg")));
    assert!(
        sentence.contains("kept already: photo 1 of pour 1"),
        "{sentence}"
    );
    let again = desk.does("photo|again|1");
    assert_eq!(again["measured"].as_array().unwrap().len(), 2);
    desk.does("photo|drop|1");
    assert_eq!(desk.does("photos")["photos"].as_array().unwrap().len(), 0);
    assert_eq!(
        desk.does("photos|tidy|--yes")["needless"]
            .as_array()
            .unwrap()
            .len(),
        0,
        "an undo needs it"
    );
    desk.does("undo");
    assert_eq!(
        desk.does("photos|1")["photos"][0]["measured"]
            .as_array()
            .unwrap()
            .len(),
        2
    );
    assert_eq!(desk.does("photos|check")["whole"], 1);
}

#[test]
fn a_lost_or_changed_original_and_one_too_many_are_told() {
    let desk = poured();
    desk.does(&format!("photo|1|{}", data("c_isolum_dark.jpg")));
    let kept = originals(&desk).remove(0);
    std::fs::write(&kept, b"other").unwrap();
    assert_eq!(desk.does("photos|check")["changed"], serde_json::json!([1]));
    desk.refuses("photo|again|1");
    std::fs::remove_file(&kept).unwrap();
    assert_eq!(desk.does("photos|check")["missing"], serde_json::json!([1]));
    let stray = kept.with_file_name(format!("{}.png", "0".repeat(64)));
    std::fs::write(&stray, b"stray").unwrap();
    let holiday = kept.with_file_name("holiday.jpg");
    std::fs::write(&holiday, b"not ours").unwrap();
    assert_eq!(
        desk.does("photos|tidy")["needless"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    assert!(stray.exists(), "only told");
    desk.does("photos|tidy|--yes");
    assert!(!stray.exists() && holiday.exists());
}

/// A kill while an original is written leaves it under a passing name, held by nobody.
#[cfg(unix)]
#[test]
fn an_original_that_was_not_written_to_its_end_is_told_and_tidied() {
    let desk = poured();
    desk.does(&format!("photo|1|{}", data("c_isolum_dark.jpg")));
    let whole = originals(&desk).remove(0);
    let part = whole.with_file_name(".stillcup-Ab3dEf.part");
    std::fs::write(&part, b"half").unwrap();
    let named = serde_json::json!([".stillcup-Ab3dEf.part"]);
    assert_eq!(desk.does("photos|check")["needless"], named);
    // One that is being written is held by its maker.
    let held = std::fs::File::open(&part).unwrap();
    held.try_lock().unwrap();
    let none = serde_json::json!([]);
    assert_eq!(desk.does("photos|check")["needless"], none);
    drop(held);
    desk.does("photos|tidy|--yes");
    assert!(!part.exists() && whole.exists());
}

#[test]
fn one_that_cannot_be_measured_is_kept_and_said() {
    let desk = poured();
    let file = beside(&desk, "even.png");
    even(640, 480, [80, 90, 100]).save(&file).unwrap();
    let told = desk.does(&format!("photo|1|{}|--at|18:00", file.display()));
    assert!(
        told["photos"][0]["not_measured"].is_string()
            && told["photos"][0]["measured"].as_array().unwrap().is_empty()
    );
    desk.refuses("photo|9|nothing.jpg");
    desk.refuses("photo|again|7");
    desk.refuses("photo|drop|7");
    desk.refuses("photos|9");
}

#[test]
fn a_folder_s_photos_are_laid_beside_their_pours_and_none_twice() {
    let mut desk = poured();
    desk.clock("2026-11-25T18:00:00+01:00");
    let folder = beside(&desk, "card");
    std::fs::create_dir(&folder).unwrap();
    let put = |name: &str| std::fs::copy(data(name), folder.join(name)).unwrap();
    put("panel_easy.heic");
    put("panel_turned.jpg");
    put("a_wood.jpg");
    std::fs::write(folder.join("torn.jpg"), b"\xff\xd8\xff\xe0").unwrap();
    let words = format!("photos|take|{}", folder.display());
    let told = desk.does(&words);
    let row = |told: &serde_json::Value, name: &str| {
        let rows = told["photos"].as_array().unwrap().clone();
        rows.into_iter()
            .find(|row| Path::new(row["file"].as_str().unwrap()).ends_with(name))
            .unwrap()
    };
    assert_eq!(told["kept"], 0);
    assert_eq!(
        (
            &row(&told, "panel_easy.heic")["pour"],
            &row(&told, "panel_easy.heic")["certain"]
        ),
        (&1.into(), &true.into())
    );
    assert_eq!(
        row(&told, "a_wood.jpg")["certain"],
        false,
        "only its file has a date"
    );
    let told = desk.does(&format!("{words}|--yes"));
    assert_eq!(told["kept"], 2);
    let told = desk.does(&format!("{words}|--yes"));
    assert_eq!(told["kept"], 0);
    assert_eq!(row(&told, "panel_easy.heic")["known"], true);
    assert_eq!(desk.does("photos")["photos"].as_array().unwrap().len(), 2);
}

#[test]
fn originals_go_along_with_an_export_and_are_found_by_an_import() {
    let desk = poured();
    desk.does(&format!("photo|1|{}|--wet", data("panel_easy.heic")));
    desk.does(&format!("photo|1|{}|--wet", data("panel_easy.png")));
    let (file, folder) = (beside(&desk, "out.json"), beside(&desk, "along"));
    let words = format!(
        "export|{}|--photos|{}|--replace",
        file.display(),
        folder.display()
    );
    let told = desk.does(&words);
    assert_eq!(told["photos"]["copied"], 2);
    assert_eq!(desk.does(&words)["photos"]["there"], 2, "the same again");
    let other = Rehearsal::at("2026-11-24T20:00:00+01:00");
    let took = other.does(&format!(
        "import|{}|--photos|{}",
        file.display(),
        folder.display()
    ));
    assert_eq!(took["originals"], 2);
    assert_eq!(other.does("photos|check")["whole"], 2);
    assert_eq!(
        other.does("photos")["photos"][0]["measured"],
        desk.does("photos")["photos"][0]["measured"]
    );
    // What is not what its name says stays where it is; an import that fails takes none along.
    let third = Rehearsal::at("2026-11-24T20:00:00+01:00");
    let one = std::fs::read_dir(&folder)
        .unwrap()
        .next()
        .unwrap()
        .unwrap()
        .path();
    std::fs::write(&one, b"other").unwrap();
    let torn = beside(&third, "torn.json");
    std::fs::write(&torn, b"{").unwrap();
    third.refuses(&format!(
        "import|{}|--photos|{}",
        torn.display(),
        folder.display()
    ));
    assert!(originals(&third).is_empty());
    let took = third.does(&format!(
        "import|{}|--photos|{}",
        file.display(),
        folder.display()
    ));
    assert_eq!(took["originals"], 1);
    assert_eq!(
        third.does("photos|check")["missing"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    // Never into the studio's own folder.
    let own = beside(&desk, "studio.db-photos");
    let unmade = beside(&desk, "refused.json");
    let done = desk.run(&[
        "export",
        &unmade.display().to_string(),
        "--photos",
        &own.display().to_string(),
    ]);
    assert_ne!(done.code, 0, "{done:?}");
    assert!(!unmade.exists(), "refused, and yet written");
}

/// A folder that may not be written, or is gone: said, and the logbook goes on.
#[test]
fn a_photo_folder_that_is_gone_or_no_folder_is_said_and_the_logbook_goes_on() {
    let desk = poured();
    desk.does(&format!("photo|1|{}|--wet", data("panel_easy.png")));
    let folder = beside(&desk, "studio.db-photos");
    std::fs::remove_dir_all(&folder).unwrap();
    assert_eq!(desk.does("photos|check")["missing"], serde_json::json!([1]));
    assert_eq!(desk.does("photos")["photos"].as_array().unwrap().len(), 1);
    std::fs::write(&folder, b"a file in its place").unwrap();
    let words = ["photo", "1", &data("panel_easy.heic"), "--wet"];
    let done = desk.run(&words);
    assert_eq!((done.code, done.out.as_str()), (3, ""), "{done:?}");
    assert_eq!(done.err.lines().count(), 2, "{}", done.err);
    assert_eq!(
        desk.does("photos")["photos"].as_array().unwrap().len(),
        1,
        "nothing half-kept"
    );
    desk.does("judge|1|--cells|4");
    std::fs::remove_file(&folder).unwrap();
    desk.does(&format!("photo|1|{}|--wet", data("panel_easy.heic")));
}

/// Cells of less than a millimetre are asked for and counted, or it is said why they cannot be.
#[test]
fn a_least_cell_under_a_millimetre_is_a_sentence_or_a_count() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    let file = data("a_wood.jpg");
    let told = desk.does(&format!("cells|{file}|--panel|40x30cm|--least|0.5mm"));
    let warnings = told["warnings"].to_string();
    assert!(
        warnings.contains("few pixels to the millimetre"),
        "{warnings}"
    );
    assert!(told["cells"].as_i64().unwrap() >= 285);
    let (sentence, hint) = desk.refuses(&format!("cells|{file}|--panel|40x30cm|--least|0.1mm"));
    assert!(
        sentence.contains("the least cell is 0.2 to 100 mm"),
        "{sentence}"
    );
    assert!(hint.contains("1mm"), "{hint}");
}
