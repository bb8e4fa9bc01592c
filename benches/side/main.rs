//! Speed, side by side with what one would use instead: a table of ratios.
//!
//! `cargo bench` runs all of it; `cargo bench -- small` leaves the largest studio out. Figures are medians over rounds that
//! take turns, so that a slow minute of the machine falls on both sides.

mod generator;
mod raw;
mod table;

use generator::Made;
use stillcup::studio::{MixOrder, Studio};
use stillcup::trade::amount::Amount;
use stillcup::trade::instant::{Now, Zone};
use table::{Goal, Table, turns};

fn main() -> anyhow::Result<()> {
    let small = std::env::args().any(|arg| arg == "small");
    let folder = tempfile::tempdir()?;
    let largest = if small { 100_000 } else { 1_000_000 };
    // A small run compares with the middle one.
    let mut sizes = vec![1_000, 100_000, largest];
    sizes.dedup();
    let studios: Vec<Made> = sizes
        .iter()
        .map(|&cups| generator::make(folder.path(), cups))
        .collect::<anyhow::Result<_>>()?;
    let mut table = Table::default();
    bench_of_many_against_few(&mut table, &studios)?;
    mix_against_raw_transaction(&mut table, &studios[0])?;
    first_answer_against_sqlite3(&mut table, &studios[1])?;
    table.print();
    Ok(())
}

/// The Bench's data must cost what is alive, not what ever was.
fn bench_of_many_against_few(table: &mut Table, studios: &[Made]) -> anyhow::Result<()> {
    let few = Studio::open(&studios[0].file)?;
    let largest = &studios[studios.len() - 1];
    let many = Studio::open(&largest.file)?;
    let now = studios[0].now;
    let ratio = turns(
        200,
        || few.bench(&now).map(|cups| cups.len()),
        || many.bench(&now).map(|cups| cups.len()),
    )?;
    let what = format!(
        "Bench's data: {} cups / {} cups",
        largest.cups, studios[0].cups
    );
    table.add(&what, ratio, Goal::AtMost(1.2));
    Ok(())
}

/// A durable mix, in process, against a durable transaction of the same rows by hand.
fn mix_against_raw_transaction(table: &mut Table, studio: &Made) -> anyhow::Result<()> {
    let mut ours = Studio::open(&studio.file)?;
    let now = studio.now;
    let order = MixOrder {
        recipe: Some("Colour 1".into()),
        volume: Some(Amount::parse("120ml").map_err(anyhow::Error::msg)?),
        ..MixOrder::default()
    };
    let raw = raw::Twin::of(&studio.file)?;
    let ratio = turns(
        200,
        || raw.mix(),
        || {
            let mixed = ours.mix(&order, &now);
            mixed.map(|_| ()).and_then(|()| ours.undo(&now).map(|_| ()))
        },
    )?;
    table.add(
        "durable mix and undo / two raw durable transactions",
        ratio,
        Goal::AtMost(1.3),
    );
    Ok(())
}

/// From nothing to the first answer, whole processes.
fn first_answer_against_sqlite3(table: &mut Table, studio: &Made) -> anyhow::Result<()> {
    let program = env!("CARGO_BIN_EXE_stillcup");
    let now = studio.now.at.to_rfc3339();
    let ours = || raw::run(program, &["--studio", studio.path(), "cups"], &now);
    let theirs = || raw::run("sqlite3", &[studio.path(), raw::LIVING], &now);
    if theirs().is_err() {
        table.skip(
            "cups, whole process / sqlite3, the same question",
            "no sqlite3 here",
        );
        return Ok(());
    }
    let ratio = turns(60, theirs, ours)?;
    table.add(
        "cups, whole process / sqlite3, the same question",
        ratio,
        Goal::AtMost(1.5),
    );
    Ok(())
}

/// The instant every studio here ends at.
fn last_day() -> anyhow::Result<Now> {
    let at = chrono::DateTime::parse_from_rfc3339("2026-11-24T18:30:00+01:00")?;
    Ok(Now {
        at,
        zone: Zone::Fixed(*at.offset()),
    })
}
