//! `doctor`: how the terminal, the file, its copies and the clock stand, and what to do. It changes and makes
//! nothing, and answers where nothing else does.

use crate::command::report::{Report, Table};
use crate::exchange::check_up;
use crate::tell::checkup::{Standing, findings};
use crate::tell::views::CheckupView;
use crate::trade::instant::Now;
use std::path::Path;

pub(super) fn doctor(file: &Path, now: &Now) -> Report {
    let found = findings(&check_up(file, now), now);
    let mut table = Table::default();
    for one in &found {
        let sign = match one.stands {
            Standing::Good => "good",
            Standing::Poor => "poor",
            Standing::Wrong => "WRONG",
        };
        table = table.row([one.what.clone(), sign.to_owned(), one.found.clone()]);
        if let Some(advice) = &one.advice {
            table = table.row([String::new(), String::new(), format!("  {advice}")]);
        }
    }
    let view = CheckupView { findings: found };
    Report::of(&view).table(&table)
}
