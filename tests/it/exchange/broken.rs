//! Files that are no whole studio: one sentence, and nothing changed.

use super::{Place, empty, now, out, small, take, text, words};
use std::io::Read;
use stillcup::exchange::import;
use stillcup::studio::{FileFault, Refusal, StudioError, TitleOrder};
use stillcup::tell::{self, Face};

/// Refused by an empty studio and by one with rows, both left as they were; the sentence.
fn refused(bytes: &[u8]) -> String {
    refused_by(&mut [empty(), small()], bytes)
}

fn refused_by(places: &mut [Place], bytes: &[u8]) -> String {
    let mut said = String::new();
    for place in places {
        let before = out(place);
        let err = take(place, bytes).expect_err("taken in");
        assert_eq!(out(place), before, "{err:?}");
        said = words(&err);
        assert!(
            said.len() < 500 && !said.contains(['\n', '\u{1b}', '\u{202e}']),
            "{said:?}"
        );
        assert!(!tell::hint(&err, Face::CommandLine).is_empty());
    }
    said
}

/// What is wrong with the file.
fn fault(error: &StudioError) -> Option<&FileFault> {
    match error {
        StudioError::Refused(Refusal::File(fault)) => Some(fault),
        _ => None,
    }
}

/// The small studio's file with one piece of text changed.
fn with(from: &str, to: &str) -> Vec<u8> {
    changed(&text(&small()), from, to)
}

fn changed(whole: &str, from: &str, to: &str) -> Vec<u8> {
    assert!(whole.contains(from), "{from}");
    whole.replacen(from, to, 1).into_bytes()
}

#[test]
fn cut_at_every_97th_byte_it_is_refused_and_nothing_is_kept() {
    let whole = out(&small());
    let mut place = empty();
    let before = out(&place);
    for end in (0..whole.len() - 2).step_by(97) {
        let err = take(&mut place, &whole[..end]).expect_err("half a file was taken in");
        let cut = matches!(fault(&err), Some(FileFault::CutShort(_)));
        assert!(cut, "{end}: {err:?}");
    }
    assert_eq!(out(&place), before);
    take(&mut place, &whole).unwrap();
}

#[test]
fn what_is_not_json_or_no_studio_is_refused() {
    for bytes in [
        &b""[..],
        b"\0\0\0\0",
        b"SQLite format 3\0",
        b"[]",
        b"null",
        b"{}",
        b"{\"format\":\"other\",\"version\":1,\"schema\":1}",
        b"{\"version\":1}",
        b"\xff\xfe{\"",
    ] {
        refused(bytes);
    }
    let nested = "[".repeat(100_000);
    refused(nested.as_bytes());
    refused(
        format!("{{\"format\":\"stillcup studio\",\"version\":1,\"schema\":1,\"cup\":{nested}")
            .as_bytes(),
    );
}

#[test]
fn a_newer_file_is_named_with_both_versions() {
    let said = refused(&with("\"version\":1", "\"version\":2"));
    assert!(
        said.contains("version 2") && said.contains("up to 1"),
        "{said}"
    );
    refused(&with("\"schema\":", "\"schema\":9"));
}

#[test]
fn values_of_a_wrong_kind_or_out_of_range_are_refused() {
    let whole = text(&small());
    let mut places = [empty(), small()];
    for (from, to) in [
        ("\"volume_ml\":\"120.0\"", "\"volume_ml\":\"NaN\""),
        ("\"volume_ml\":\"120.0\"", "\"volume_ml\":\"inf\""),
        ("\"volume_ml\":\"120.0\"", "\"volume_ml\":\"-1.0\""),
        ("\"volume_ml\":\"120.0\"", "\"volume_ml\":\"1e300\""),
        ("\"volume_ml\":\"120.0\"", "\"volume_ml\":120.0"),
        ("\"volume_ml\":\"120.0\"", "\"volume_ml\":[[[[1]]]]"),
        ("\"volume_ml\":\"120.0\"", "\"volume_ml\":null"),
        (
            "\"volume_ml\":\"120.0\"",
            "\"volume_ml\":\"120.0\",\"volume_ml\":\"120.0\"",
        ),
        ("\"mark\":\"K7\"", "\"mark\":\"\u{1b}[2J\u{202e}\""),
        ("\"mark\":\"K7\"", "\"mark\":7"),
        ("\"mark\":\"K7\"", "\"mark\":\"A3\",\"mark\":\"A3\""),
        ("\"mark\":\"K7\"", "\"colour\u{1b}\":1"),
        ("\"cells\":4", "\"cells\":6"),
        ("\"cells\":4", "\"cells\":99999999999999999999"),
        ("\"kind\":\"mixed\"", "\"kind\":\"boiled\""),
        ("\"rest_ms\":", "\"rest_ms\":-"),
        ("\"offset_min\":60", "\"offset_min\":99999"),
        ("\"at_ms\":1", "\"at_ms\":99999999"),
        ("\"layer\":\"base\"", "\"layer\":\"sky\""),
        ("{\"id\":1,", "{\"id\":0,"),
        ("{\"id\":2,", "{\"id\":1,"),
        ("\n]\n}\n", "\n]\n} x"),
    ] {
        refused_by(&mut places, &changed(&whole, from, to));
    }
}

#[test]
fn a_reference_to_nothing_and_a_uid_twice_are_refused() {
    let whole = text(&small());
    let read: serde_json::Value = serde_json::from_str(&whole).unwrap();
    let uid = |table: &str, row: usize| read[table][row]["uid"].as_str().unwrap().to_owned();
    let (first, second) = (uid("cup", 0), uid("cup", 1));
    let cup = format!("\"cup\":\"{first}\"");
    let said = refused(&changed(&whole, &cup, "\"cup\":\"gone\""));
    assert!(said.contains("cup"), "{said}");
    let twice = whole.replacen(&second, &first, 1);
    let mut place = empty();
    let before = out(&place);
    take(&mut place, twice.as_bytes()).expect_err("a uid twice");
    assert_eq!(out(&place), before);
}

#[test]
fn recipes_that_go_into_each_other_are_refused() {
    let whole = text(&small());
    let read: serde_json::Value = serde_json::from_str(&whole).unwrap();
    let (white, opener) = (&read["material"][0]["uid"], &read["recipe"][1]["uid"]);
    let from = format!("\"place\":1,\"material\":{white},\"recipe\":null,\"share\"");
    let to = format!("\"place\":1,\"material\":null,\"recipe\":{opener},\"share\"");
    assert!(whole.contains(&from));
    let mut place = empty();
    let before = out(&place);
    let err = take(&mut place, whole.replacen(&from, &to, 1).as_bytes()).expect_err("a cycle");
    assert!(words(&err).contains("itself"), "{err:?}");
    assert_eq!(out(&place), before);
}

/// A head, then a piece again and again; it counts what is read of it.
struct Endless {
    head: Vec<u8>,
    piece: u8,
    given: u64,
}

impl Read for Endless {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        let from_head = self.head.len().min(buffer.len());
        buffer[..from_head].copy_from_slice(&self.head[..from_head]);
        self.head.drain(..from_head);
        buffer[from_head..].fill(self.piece);
        self.given += buffer.len() as u64;
        Ok(buffer.len())
    }
}

#[test]
fn an_endless_row_is_given_up_after_sixteen_mebibytes() {
    let start =
        "{\"format\":\"stillcup studio\",\"version\":1,\"schema\":1,\"material\":[{\"name\":\"";
    for (head, piece) in [(start, b'a'), ("", b' '), (&start[..start.len() - 9], b' ')] {
        let mut place: Place = empty();
        let before = out(&place);
        let mut endless = Endless {
            head: head.into(),
            piece,
            given: 0,
        };
        let err = import(&mut place.studio, &mut endless, &now(0)).expect_err("endless");
        assert_eq!(fault(&err), Some(&FileFault::RowTooLarge));
        assert!(endless.given <= (16 << 20) + 100_000, "{}", endless.given);
        assert_eq!(out(&place), before);
    }
}

// What a reader chokes on must not come in: else every later answer would call the file damaged.
#[test]
fn a_pictures_price_that_is_none_is_refused() {
    let mut place = small();
    let order = TitleOrder {
        title: Some("Tide".to_owned()),
        asked: Some("240".parse().unwrap()),
        even_so: false,
    };
    place.studio.title(2, &order, &now(1_000)).unwrap();
    let said = refused(&changed(&text(&place), "\"240\"", "\"much\""));
    assert!(said.contains("picture"), "{said}");
}
