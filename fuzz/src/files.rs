//! A file that says it is a studio: taken in whole or refused whole, and sent out again the same.

use crate::readers;
use chrono::DateTime;
use std::cell::RefCell;
use std::path::{Path, PathBuf};
use stillcup::exchange::{Names, export, import, write_sheet};
use stillcup::studio::{PlanOrder, Sheet, Studio, TimeWindow};
use stillcup::tell;
use stillcup::trade::amount::Measures;
use stillcup::trade::ids::{CupId, RecipeId};
use stillcup::trade::instant::{Now, Zone};
use stillcup::trade::panel::Panel;
use stillcup::trade::plan::Panels;
use stillcup::trade::text::inert;
use stillcup::trade::units::Millimetres;
use tempfile::TempDir;

/// In memory where there is such a place: nothing here is about a disk.
pub fn folder() -> TempDir {
    let memory = Path::new("/dev/shm");
    if memory.is_dir() {
        tempfile::tempdir_in(memory)
    } else {
        tempfile::tempdir()
    }
    .unwrap()
}

pub fn now() -> Now {
    let at = DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").unwrap();
    let zone = Zone::Fixed(*at.offset());
    Now { at, zone }
}

/// An empty studio that is begun again once something came in.
struct Place {
    folder: TempDir,
    studio: Option<Studio>,
}

impl Place {
    fn studio(&mut self) -> &mut Studio {
        let path: PathBuf = self.folder.path().join("studio.db");
        self.studio
            .get_or_insert_with(|| Studio::open(&path).unwrap())
    }

    fn clear(&mut self) {
        self.studio = None;
        for suffix in ["", "-wal", "-shm"] {
            let _ = std::fs::remove_file(self.folder.path().join(format!("studio.db{suffix}")));
        }
    }
}

fn out(studio: &Studio) -> Vec<u8> {
    let mut bytes = Vec::new();
    export(studio, Names::Go, &mut bytes).unwrap();
    bytes
}

pub fn studio(bytes: &[u8]) {
    thread_local! {
        static PLACES: RefCell<[Place; 2]> = RefCell::new(std::array::from_fn(|_| Place { folder: folder(), studio: None }));
    }
    PLACES.with_borrow_mut(
        |[first, second]| match import(first.studio(), bytes, &now()) {
            Err(problem) => {
                let words = tell::words(&problem, Measures::Metric, &now());
                assert_eq!(inert(&words), words);
                assert!(words.len() < 2000, "{} bytes", words.len());
                assert!(first.studio().is_empty().unwrap());
            }
            Ok(taken) => {
                let there = out(first.studio());
                import(second.studio(), &there[..], &now()).unwrap();
                assert!(
                    !taken.exact || out(second.studio()) == there,
                    "the twin differs"
                );
                shown(first.studio());
                first.clear();
                second.clear();
            }
        },
    );
    if let Ok(text) = std::str::from_utf8(bytes) {
        readers::text(text);
    }
}

/// What a studio out of a file shows: an answer or a refusal, whatever came in.
fn shown(studio: &Studio) {
    for sheet in [
        Sheet::Cups,
        Sheet::Entries,
        Sheet::Pours,
        Sheet::Judgements,
        Sheet::Materials,
    ] {
        let mut bytes = Vec::new();
        write_sheet(studio, sheet, &mut bytes).unwrap();
    }
    let _ = studio.pours(None);
    let _ = studio.history(100);
    let cups = studio.bench(&now()).unwrap_or_default();
    let cups: Vec<CupId> = cups.iter().map(|cup| CupId(cup.cup.id)).collect();
    let _ = studio.stack(&cups, &[], &now());
    let _ = studio.findings(TimeWindow::default());
    let _ = studio.rack(&now());
    let _ = studio.plan(&plan(studio), &now());
    for page in studio.plans().unwrap_or_default() {
        let _ = studio.kept_sheet(page.plan.id, &now());
    }
}

/// A plan by every recipe there is.
fn plan(studio: &Studio) -> PlanOrder {
    let recipes = studio.recipes().unwrap_or_default().into_iter();
    PlanOrder {
        panels: Panels {
            panel: Panel::parse("40x50cm").unwrap(),
            count: 1,
            edge: Millimetres::ZERO,
        },
        way: None,
        pour_at: None,
        film: Some(Millimetres(1.8)),
        recipes: recipes.map(|page| RecipeId(page.recipe.id)).collect(),
        holds: None,
        note: None,
        fresh: false,
    }
}
