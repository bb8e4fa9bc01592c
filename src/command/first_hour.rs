//! `demo` and `starters`: ways into an empty studio.

use crate::command::Desk;
use crate::command::bar::Bar;
use crate::command::report::Report;
use crate::studio::{Answer, DEMO_SESSIONS};
use crate::tell::views::{DemoView, StartersView};
use crate::tell::{self, Face};

impl Desk<'_> {
    pub(super) fn demo(&mut self) -> Answer<Report> {
        let bar = Bar::slow("sessions of the demo", DEMO_SESSIONS);
        let told = |begun| bar.at(begun);
        let seeded = self.studio.seed_demo_telling(&self.now, &told)?;
        drop(bar);
        let file = self.file.display().to_string();
        let report = Report::of(&DemoView::of(&seeded, &file));
        Ok(report
            .line(format!(
                "{} cups and {} pours of an invented studio",
                seeded.cups, seeded.pours
            ))
            .line(format!("Look around: stillcup --studio {file}")))
    }

    pub(super) fn starters(&mut self) -> Answer<Report> {
        let seeded = self.studio.seed_starters(&self.now)?;
        let report = Report::of(&StartersView::of(&seeded));
        Ok(report.lines(tell::starters(&seeded, Face::CommandLine)))
    }
}
