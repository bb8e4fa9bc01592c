//! `demo` and `starters`: ways into an empty studio.

use crate::command::Desk;
use crate::command::report::Report;
use crate::studio::Answer;
use serde_json::json;

impl Desk<'_> {
    pub(super) fn demo(&mut self) -> Answer<Report> {
        let seeded = self.studio.seed_demo(&self.now)?;
        let file = self.file.display().to_string();
        let report = Report::new(json!({
            "file": file,
            "cups": seeded.cups,
            "pours": seeded.pours,
            "judged": seeded.judged,
        }));
        Ok(report
            .line(format!(
                "{} cups and {} pours of an invented studio",
                seeded.cups, seeded.pours
            ))
            .line(format!("Look around: stillcup --studio {file}")))
    }

    pub(super) fn starters(&mut self) -> Answer<Report> {
        let seeded = self.studio.seed_starters(&self.now)?;
        let report = Report::new(json!({
            "materials": seeded.materials,
            "recipes": seeded.recipes,
            "skipped": seeded.skipped,
        }));
        let left = seeded
            .skipped
            .iter()
            .map(|name| format!("! {name} is there already, and was left alone"));
        Ok(report
            .lines(added("materials", &seeded.materials))
            .lines(added("recipes", &seeded.recipes))
            .lines(left)
            .line("Change them to yours: stillcup material set, stillcup recipe change"))
    }
}

fn added(what: &str, names: &[String]) -> Option<String> {
    (!names.is_empty()).then(|| format!("{what}: {}", names.join(", ")))
}
