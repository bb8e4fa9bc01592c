//! Speed, side by side with what one would use instead: a table of ratios.
//!
//! `cargo bench` runs all of it; `cargo bench -- small` leaves the largest studio out, `cargo bench --bench side -- photo`
//! leaves all but photos out. Figures are medians over rounds that
//! take turns, so that a slow minute of the machine falls on both sides.

mod bare;
mod generator;
mod photo;
mod raw;
mod shown;
mod table;

use generator::Made;
use shown::Shown;
use stillcup::studio::orders::MixOrder;
use stillcup::studio::{Studio, StudioError};
use stillcup::trade::instant::{Now, Zone};
use stillcup::trade::units::Millilitres;
use table::{Goal, Ratio, Table, turns};

/// A refusal as a fault of the bench: only a person needs its words.
fn told(error: StudioError) -> anyhow::Error {
    anyhow::anyhow!("{error:?}")
}

fn main() -> anyhow::Result<()> {
    let asked = |word: &str| std::env::args().any(|arg| arg == word);
    if asked(BARE) {
        return bare::run();
    }
    let small = asked("small");
    let folder = tempfile::tempdir()?;
    if asked("photo") {
        let mut table = Table::default();
        photo::cells_against_libraries(&mut table, folder.path())?;
        table.print();
        return Ok(());
    }
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
    first_picture_against_sqlite3(&mut table, &studios[1])?;
    key_against_bare_frame(&mut table, &studios[1])?;
    memory_against_bare(&mut table, &studios[1])?;
    import_against_sqlite3(&mut table, &studios[1])?;
    photo::cells_against_libraries(&mut table, folder.path())?;
    table.print();
    Ok(())
}

/// The Bench's data must cost what is alive, not what ever was.
fn bench_of_many_against_few(table: &mut Table, studios: &[Made]) -> anyhow::Result<()> {
    let few = Studio::open(&studios[0].file).map_err(told)?;
    let largest = &studios[studios.len() - 1];
    let many = Studio::open(&largest.file).map_err(told)?;
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
    let mut ours = Studio::open(&studio.file).map_err(told)?;
    let now = studio.now;
    let known = ours.known([]).map_err(told)?;
    let variant = known.newest("Colour 1").map_err(|why| told(why.into()))?;
    let order = MixOrder::of(variant, Millilitres(120.0));
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

/// From nothing to a painted Bench, against sqlite3 that answers and ends.
fn first_picture_against_sqlite3(table: &mut Table, studio: &Made) -> anyhow::Result<()> {
    let what = "start to painted Bench / sqlite3, the same question";
    let now = studio.now.at.to_rfc3339();
    let theirs = || raw::run("sqlite3", &[studio.path(), raw::LIVING], &now);
    if theirs().is_err() {
        table.skip(what, "no sqlite3 here");
        return Ok(());
    }
    // They are ended only afterwards, idle till then: only the start is timed.
    let mut shown = Vec::new();
    let ratio = turns(30, theirs, || -> anyhow::Result<()> {
        shown.push(bench_shown(studio)?);
        Ok(())
    })?;
    shown.into_iter().try_for_each(Shown::end)?;
    table.add(what, ratio, Goal::AtMost(1.5));
    Ok(())
}

/// A key that chooses another cup, until that is seen, against a frame of which every cell changes.
fn key_against_bare_frame(table: &mut Table, studio: &Made) -> anyhow::Result<()> {
    let mut ours = bench_shown(studio)?;
    let mut theirs = bare_shown()?;
    let (mut down, mut odd, mut at) = (true, true, ours.seen(chosen_row));
    let ratio = Ratio::of_tails(
        1_000,
        || {
            theirs.keys("x")?;
            let letter = if odd { "bbb" } else { "aaa" };
            odd = !odd;
            theirs.wait(|screen| screen.trim_end().ends_with(letter))
        },
        || {
            ours.keys(if down { "j" } else { "k" })?;
            down = !down;
            ours.wait(|screen| chosen_row(screen).is_some_and(|row| Some(row) != at))?;
            at = ours.seen(chosen_row);
            anyhow::Ok(())
        },
    )?;
    ours.end()?;
    theirs.end()?;
    table.add(
        "key to repaint, p99 / a bare full frame",
        ratio,
        Goal::AtMost(2.0),
    );
    Ok(())
}

/// What the Bench holds in memory, against the least that ratatui can be.
fn memory_against_bare(table: &mut Table, studio: &Made) -> anyhow::Result<()> {
    let what = "resident memory, KiB / a bare program's";
    let (ours, theirs) = (bench_shown(studio)?, bare_shown()?);
    match theirs.resident_kib().zip(ours.resident_kib()) {
        Some((theirs, ours)) => table.weigh(what, theirs, ours, 3.0),
        None => table.skip(what, "this system does not tell"),
    }
    ours.end()?;
    theirs.end()
}

/// A whole studio in from JSON, against as many rows in by sqlite3's own import.
fn import_against_sqlite3(table: &mut Table, studio: &Made) -> anyhow::Result<()> {
    let what = format!(
        "JSON import of {} cups / sqlite3 .import of as many rows",
        studio.cups
    );
    let program = env!("CARGO_BIN_EXE_stillcup");
    let now = studio.now.at.to_rfc3339();
    let folder = tempfile::tempdir()?;
    let at = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let (json, csv) = (at("studio.json"), at("rows.csv"));
    raw::run(program, &["--studio", studio.path(), "export", &json], &now)?;
    raw::rows_as_csv(&studio.file, &csv)?;
    let (mut nth, mut mth) = (0, 0);
    let ours = || {
        nth += 1;
        let file = at(&format!("ours{nth}.studio"));
        raw::run(program, &["--studio", &file, "import", &json], &now)
    };
    let theirs = || {
        mth += 1;
        let file = at(&format!("theirs{mth}.db"));
        let import = format!(".import {csv} row");
        raw::run(
            "sqlite3",
            &[&file, ".mode csv", raw::ROW_TABLE, &import],
            &now,
        )
    };
    if raw::run("sqlite3", &["-version"], &now).is_err() {
        table.skip(&what, "no sqlite3 here");
        return Ok(());
    }
    table.add(&what, turns(3, theirs, ours)?, Goal::AtMost(3.0));
    Ok(())
}

/// The word that makes this program the bare one.
const BARE: &str = "bare";

/// The row of the screen in which the chosen cup stands.
fn chosen_row(screen: &str) -> Option<usize> {
    screen.lines().position(|line| line.starts_with('›'))
}

fn bench_shown(studio: &Made) -> anyhow::Result<Shown> {
    let now = studio.now.at.to_rfc3339();
    let program = env!("CARGO_BIN_EXE_stillcup");
    let mut shown = Shown::start(program, &["--studio", studio.path()], &now)?;
    shown.wait(|screen| chosen_row(screen).is_some())?;
    Ok(shown)
}

fn bare_shown() -> anyhow::Result<Shown> {
    let this = std::env::current_exe()?;
    let mut shown = Shown::start(&this.to_string_lossy(), &[BARE], "")?;
    shown.wait(|screen| screen.trim_end().ends_with("aaa"))?;
    Ok(shown)
}

/// The instant every studio here ends at.
fn last_day() -> anyhow::Result<Now> {
    let at = chrono::DateTime::parse_from_rfc3339("2026-11-24T18:30:00+01:00")?;
    Ok(Now {
        at,
        zone: Zone::Fixed(*at.offset()),
    })
}
