//! The report and the certificate, as a browser and poppler read them; the room's air on each pour.

use super::{printed, text_of};
use crate::command::Rehearsal;
use std::path::Path;

fn poured() -> Rehearsal {
    let desk = Rehearsal::stocked();
    for words in [
        "set|name|Seven <Springs> & co",
        "set|address|1 Example Lane",
        "material set|Titan white|--colour-index|PW6",
        "mix|Ground|--volume|120ml|--mark|B2|--mound|3.5",
        "mix|River blue|--volume|90ml|--mark|K7|--mound|2.5",
        "pour|--panel|20x30cm|--layer|B2:60ml|--layer|K7:30ml|--way|<script>alert(1)</script>",
        "judge|1|--cells|4|--dry",
        "varnish|1",
        "title|1|深い河 <b>River</b>",
    ] {
        desk.does(words);
    }
    desk
}

/// Its photo as a page or a PDF holds it: the only JPEG in it.
fn jpeg_in(bytes: &[u8]) -> &[u8] {
    let at = |what: &[u8]| bytes.windows(what.len()).position(|one| one == what);
    let from = at(&[0xff, 0xd8, 0xff]).expect("a JPEG");
    let to = at(&[0xff, 0xd9]).expect("its end");
    &bytes[from..to + 2]
}

/// The bytes of the picture that a page holds itself.
fn picture_of(page: &str) -> Vec<u8> {
    use base64::Engine;
    let (_, rest) = page.split_once("src=\"data:image/jpeg;base64,").unwrap();
    let (text, _) = rest.split_once('"').unwrap();
    let decoder = base64::engine::general_purpose::STANDARD;
    decoder.decode(text).unwrap()
}

#[test]
fn a_kept_photo_stands_in_the_report_and_on_the_certificate_without_what_the_camera_wrote() {
    let desk = poured();
    let folder = tempfile::tempdir().unwrap();
    let out = |name: &str| folder.path().join(name);
    desk.does(&format!("report|--out|{}", out("before.html").display()));
    let photo = crate::command::photos::data("a_wood.jpg");
    desk.does(&format!("photo|1|{photo}"));
    for (verb, name) in [
        ("report", "r.html"),
        ("certificate|1", "c.html"),
        ("certificate|1", "c.pdf"),
    ] {
        desk.does(&format!("{verb}|--out|{}", out(name).display()));
    }
    let read = |name: &str| std::fs::read_to_string(out(name)).unwrap();
    assert!(!read("before.html").contains("<img"));
    let pdf = std::fs::read(out("c.pdf")).unwrap();
    let report = picture_of(&read("r.html"));
    for (picture, side) in [
        (report, 240),
        (picture_of(&read("c.html")), 320),
        (jpeg_in(&pdf).to_vec(), 320),
    ] {
        let seen = image::load_from_memory(&picture).unwrap();
        assert_eq!(seen.width().max(seen.height()), side);
        assert!(!picture.windows(4).any(|four| four == b"Exif"));
    }
    // Its page is one, and what stands below the photo is still on it.
    if let Some(text) = text_of(&out("c.pdf")) {
        assert_eq!(text.matches('\u{c}').count(), 1, "one page");
        assert!(text.contains("1 Example Lane"), "{text}");
    }
}

/// A page as Chromium has it once it was read, without any net.
fn read_by_browser(page: &Path) -> Option<String> {
    let url = format!("file://{}", page.display());
    let words = [
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--host-resolver-rules=MAP * ~NOTFOUND",
        "--dump-dom",
        &url,
    ];
    Some(String::from_utf8(printed("chromium", &words)?).unwrap())
}

#[test]
fn the_report_stands_alone_and_escapes_what_was_typed() {
    let desk = poured();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("report.html");
    desk.does(&format!("report|--since|90d|--out|{}", out.display()));
    let page = std::fs::read_to_string(&out).unwrap();
    for live in [
        "<script", "http://", "https://", "src=\"/", "@import", "url(",
    ] {
        assert!(!page.contains(live), "{live}");
    }
    for accessible in [
        "<html lang=\"en\">",
        "<caption>",
        "scope=\"col\"",
        "scope=\"row\"",
        "role=\"img\" aria-label=",
        "<h1>",
        "<main>",
    ] {
        assert!(page.contains(accessible), "{accessible}");
    }
    // On a phone a pour is a card, whose cells say what they are themselves.
    for head in [
        "no",
        "poured",
        "picture",
        "layers, lowest first",
        "cells",
        "paint cost",
    ] {
        assert!(page.contains(&format!("data-head=\"{head}\"")), "{head}");
    }
    for media in [
        "prefers-color-scheme: dark",
        "@media print",
        "@page",
        "width=device-width",
    ] {
        assert!(page.contains(media), "{media}");
    }
    let Some(dom) = read_by_browser(&out) else {
        return;
    };
    for text in [
        "Seven &lt;Springs&gt; &amp; co",
        "深い河 &lt;b&gt;River&lt;/b&gt;",
        "River blue v1 (K7)",
        "1 of 1 good, 100 %",
        "&lt;script&gt;",
    ] {
        assert!(dom.contains(text), "{text} in {dom}");
    }
}

/// By hand: Wilson's 95 % interval of 1 of 1 is 20.7 to 100 % (Wilson 1927), so its line runs from 6 + 2 x 20.65 to 206.
#[test]
fn intervals_are_drawn_where_they_lie() {
    let desk = poured();
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("report.html");
    desk.does(&format!("report|--out|{}", out.display()));
    let page = std::fs::read_to_string(&out).unwrap();
    assert!(
        page.contains("class=\"span\" x1=\"47.3\" y1=\"10\" x2=\"206.0\""),
        "{page}"
    );
}

#[test]
fn the_certificate_tells_what_the_picture_is_and_no_more() {
    let desk = poured();
    let folder = tempfile::tempdir().unwrap();
    let (pdf, html) = (folder.path().join("c.pdf"), folder.path().join("c.html"));
    desk.does(&format!("certificate|1|--out|{}", pdf.display()));
    desk.does(&format!("certificate|1|--out|{}", html.display()));
    let page = std::fs::read_to_string(&html).unwrap();
    let texts = text_of(&pdf).into_iter().chain([page]);
    for text in texts {
        for word in [
            "深い河",
            "20 x 30 cm",
            "24 November 2026",
            "PW6",
            "Deep blue",
            "varnished 24 November 2026",
            "1 Example Lane",
        ] {
            assert!(text.contains(word), "{word} in {text}");
        }
        // Nothing that no test of the studio shows, and no thinner that dried off.
        for word in ["archival", "lightfast", "permanen", "Water"] {
            assert!(!text.contains(word), "{word} in {text}");
        }
    }
    let (sentence, hint) = desk.refuses(&format!(
        "certificate 1|--out|{}",
        folder.path().join("c.doc").display()
    ));
    assert!(
        sentence.contains("doc") && hint.contains(".pdf"),
        "{sentence} {hint}"
    );
    desk.refuses(&format!(
        "certificate 9|--out|{}",
        folder.path().join("d.pdf").display()
    ));
}

#[test]
fn each_pour_has_the_rooms_air_unasked_and_typed_air_wins() {
    let desk = Rehearsal::stocked();
    let folder = tempfile::tempdir().unwrap();
    let sensor = folder.path().join("air");
    std::fs::write(&sensor, "21.4 C 45 %\n").unwrap();
    desk.does(&format!("set|air-from|{}", sensor.display()));
    desk.does("mix|Ground|--volume|120ml|--mark|B2");
    let pour = "pour|--panel|20x30cm|--layer|B2:20ml";
    assert_eq!(desk.does(pour)["air"]["celsius"], 21.4);
    assert_eq!(
        desk.does(&format!("{pour}|--air|19C"))["air"]["celsius"],
        19.0
    );
    // A room has one sensor: a program that is set takes the file's place, and the other way round.
    let settings = desk.does("set|air-by|echo 23 50").to_string();
    let file = sensor.display().to_string();
    assert!(
        settings.contains("echo 23 50") && !settings.contains(&file),
        "{settings}"
    );
    assert_eq!(desk.does(pour)["air"]["celsius"], 23.0);
    desk.does(&format!("set|air-from|{}", sensor.display()));
    // A sensor that fails is said, and the pour is kept without its air.
    std::fs::write(&sensor, "broken").unwrap();
    let done = desk.run(&["pour", "--panel", "20x30cm", "--layer", "B2:20ml"]);
    assert_eq!(done.code, 0, "{done:?}");
    assert!(done.out.contains("the room's air was not read"), "{done:?}");
    assert!(desk.does("pours")["pours"][0]["air"].is_null());
}
