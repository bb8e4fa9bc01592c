//! What each bad photo gets: a sentence, and nothing half-kept.

use super::Rehearsal;
use super::photos::{beside, data, originals, poured};
use image::{Rgb, RgbImage};

/// A HEIC with some bytes put in the place of others, as often as they stand there.
fn altered(heic: &[u8], pairs: &[(&[u8; 4], &[u8; 4])]) -> Vec<u8> {
    let mut out = heic.to_vec();
    for (old, new) in pairs {
        for at in 0..out.len() - 4 {
            if out[at..at + 4] == **old {
                out[at..at + 4].copy_from_slice(*new);
            }
        }
    }
    out
}

/// Pictures in another codec than HEVC, boxes that lie about their size, boxes cut short: nothing is kept of any.
#[test]
fn a_heic_that_is_not_read_says_so_and_nothing_of_it_is_kept() {
    let desk = poured();
    let heic = std::fs::read(data("panel_easy.heic")).unwrap();
    let meta = heic.windows(4).position(|four| four == b"meta").unwrap() - 4;
    let sized = |size: u32| {
        let mut out = heic.clone();
        out[meta..meta + 4].copy_from_slice(&size.to_be_bytes());
        out
    };
    let coded = |item: &[u8; 4]| altered(&heic, &[(b"hvc1", item), (b"hvcC", b"xxxC")]);
    let cases = [
        (
            coded(b"av01"),
            "is a HEIC that is not read: its pictures are coded in AV1",
        ),
        (coded(b"avc1"), "its pictures are coded in H.264"),
        (coded(b"jpeg"), "its pictures are coded in JPEG"),
        (
            altered(&heic, &[(b"meta", b"free")]),
            "damaged or cut short",
        ),
        (sized(7), "damaged or cut short"),
        (sized(u32::MAX), "damaged or cut short"),
        (heic[..40].to_vec(), "cut short"),
        (heic[..600].to_vec(), "cut short"),
    ];
    for (at, (bytes, why)) in cases.iter().enumerate() {
        let file = beside(&desk, &format!("{at}.heic"));
        std::fs::write(&file, bytes).unwrap();
        let words = format!("photo|1|{}|--wet", file.display());
        let (sentence, _) = desk.refuses(&words);
        assert!(sentence.contains(why), "{at}: {sentence}");
    }
    assert!(originals(&desk).is_empty());
    assert_eq!(desk.does("photos")["photos"], serde_json::json!([]));
}

/// CRC-32 as PNG has it (ISO 3309; from memory, proved by a decoder that refuses a wrong one).
fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32| {
        if crc & 1 == 1 {
            0xedb8_8320 ^ (crc >> 1)
        } else {
            crc >> 1
        }
    };
    let one = |crc: u32, byte: &u8| (0..8).fold(crc ^ u32::from(*byte), |crc, _| step(crc));
    !bytes.iter().fold(!0, one)
}

fn chunk(kind: &[u8; 4], body: &[u8]) -> Vec<u8> {
    let named = [kind.as_slice(), body].concat();
    [
        &(body.len() as u32).to_be_bytes()[..],
        &named,
        &crc(&named).to_be_bytes(),
    ]
    .concat()
}

fn header(width: u32, height: u32) -> Vec<u8> {
    let body = [
        &width.to_be_bytes()[..],
        &height.to_be_bytes(),
        &[8, 2, 0, 0, 0],
    ]
    .concat();
    [b"\x89PNG\r\n\x1a\n".to_vec(), chunk(b"IHDR", &body)].concat()
}

pub(super) fn even(width: u32, height: u32, colour: [u8; 3]) -> RgbImage {
    RgbImage::from_pixel(width, height, Rgb(colour))
}

/// A table with flat panels on it, each with a few dots.
fn table(size: (u32, u32), panels: &[(u32, u32, u32, u32)], colour: [u8; 3]) -> RgbImage {
    let mut photo = even(size.0, size.1, [120, 120, 118]);
    for &(left, top, width, height) in panels {
        for y in top..(top + height).min(size.1) {
            for x in left..(left + width).min(size.0) {
                let (u, v) = (x % 40, y % 40);
                let dot = (u as i32 - 20).pow(2) + (v as i32 - 20).pow(2) < 64;
                photo.put_pixel(
                    x,
                    y,
                    Rgb(if dot && colour != [120, 120, 118] {
                        [230, 220, 60]
                    } else {
                        colour
                    }),
                );
            }
        }
    }
    photo
}

#[test]
fn each_bad_photo_gets_its_sentence() {
    let desk = Rehearsal::at("2026-11-24T18:00:00+01:00");
    let jpeg = std::fs::read(data("a_wood.jpg")).unwrap();
    let png = std::fs::read(data("panel_easy.png")).unwrap();
    let heic = std::fs::read(data("panel_easy.heic")).unwrap();
    let written = |name: &str, bytes: &[u8]| {
        let path = beside(&desk, name);
        std::fs::write(&path, bytes).unwrap();
        path.display().to_string()
    };
    let drawn = |name: &str, photo: &RgbImage| {
        let path = beside(&desk, name);
        photo.save(&path).unwrap();
        path.display().to_string()
    };
    let moving = [
        header(60, 60),
        chunk(b"acTL", &[0, 0, 0, 2, 0, 0, 0, 0]),
        png[33..].to_vec(),
    ]
    .concat();
    let blue = [40, 60, 150];
    let table_of = [
        (written("cut.jpg", &jpeg[..jpeg.len() / 2]), "cut short"),
        (written("cut.png", &png[..png.len() / 2]), "cut short"),
        (written("cut.heic", &heic[..heic.len() / 2]), "cut short"),
        (written("empty.jpg", b""), "is empty"),
        (
            written("text.jpg", b"a letter, and no picture at all"),
            "no picture that is known",
        ),
        (written("g.gif", b"GIF89a\x01\x00\x01\x00"), "is a GIF"),
        (
            written(
                "huge.png",
                &[
                    header(100_000, 100_000),
                    chunk(b"IDAT", &[]),
                    chunk(b"IEND", &[]),
                ]
                .concat(),
            ),
            "more than are read",
        ),
        (written("moving.png", &moving), "is animated"),
        (data("moving.webp"), "is animated"),
        (data("panel.avif"), "is an AVIF"),
        (
            drawn("one.png", &even(1, 1, [9, 9, 9])),
            "too few to measure",
        ),
        (
            drawn("none.png", &even(600, 450, [120, 120, 118])),
            "no panel is seen",
        ),
        (
            drawn(
                "same.png",
                &table((800, 600), &[(150, 120, 480, 360)], [120, 120, 118]),
            ),
            "no panel is seen",
        ),
        (
            drawn(
                "two.png",
                &table(
                    (1000, 600),
                    &[(60, 120, 400, 300), (540, 150, 400, 300)],
                    blue,
                ),
            ),
            "more than one panel",
        ),
        (
            desk.file().parent().unwrap().display().to_string(),
            "is no file",
        ),
        (
            beside(&desk, "gone.jpg").display().to_string(),
            "cannot be read",
        ),
    ];
    for (file, why) in &table_of {
        let (sentence, _) = desk.refuses(&format!("cells|{file}"));
        assert!(sentence.contains(why), "{file}: {sentence}");
    }
    let cut_off = drawn("off.png", &table((800, 600), &[(420, 120, 600, 360)], blue));
    let (sentence, _) = desk.refuses(&format!("cells|{cut_off}|--panel|60x36cm"));
    assert!(sentence.contains("cut by the picture's edge"), "{sentence}");
    for (photo, why) in [
        ([90, 90, 90], "no cells are seen"),
        ([255, 255, 255], "glare hides"),
    ] {
        let file = drawn("even.png", &even(600, 450, photo));
        let (sentence, _) = desk.refuses(&format!("cells|{file}|--whole"));
        assert!(sentence.contains(why), "{sentence}");
    }
    let file = data("panel_easy.png");
    for corners in [
        "1,2 3,4",
        "0,0 600,0 600,450 9999,450",
        "0,0 600,450 600,0 0,450",
    ] {
        desk.refuses(&format!("cells|{file}|--corners|{corners}"));
    }
    for least in ["0mm", "5m"] {
        desk.refuses(&format!(
            "cells|{file}|--whole|--panel|40x30cm|--least|{least}"
        ));
    }
}
