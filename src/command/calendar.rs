//! `calendar`: what is due, for the phone that wakes the painter.

use crate::command::report::Report;
use crate::command::{Desk, watch};
use crate::exchange::AirWatch;
use crate::exchange::outgoing::Outgoing;
use crate::studio::Answer;
use crate::studio::orders::{CalendarField, Typed};
use crate::tell;
use crate::tell::views::CalendarView;
use chrono::TimeDelta;
use clap::Args;
use std::convert::Infallible;
use std::path::PathBuf;

pub(super) const EXAMPLE: &str = "\
Examples:
  stillcup calendar --out cups.ics --alarm 10m
  stillcup calendar --out /srv/shared/cups.ics --follow
A second import moves events and never doubles them.";

/// A following calendar is written anew at least this often, for what is due moves with what is learned.
const ANEW: TimeDelta = TimeDelta::hours(1);

/// A calendar file.
#[derive(Debug, Args)]
pub struct CalendarArguments {
    /// The calendar file
    #[arg(long, value_name = "FILE.ics")]
    pub out: PathBuf,
    /// How long before each event its alarm rings; within the quiet hours it waits for their end
    #[arg(long, value_name = "10m", default_value = "0m")]
    pub alarm: String,
    /// Write the file anew at each change, until Ctrl-C
    #[arg(long)]
    pub follow: bool,
    /// Replace a file that is there already; what it told and will not come is told as cancelled
    #[arg(long)]
    pub replace: bool,
}

impl Desk<'_> {
    pub(super) fn calendar(&mut self, typed: &CalendarArguments) -> Answer<Report> {
        let alarm = Typed::default().given(CalendarField::Alarm, Some(typed.alarm.clone()));
        let before = CalendarField::order(&alarm)?;
        let events = self.write_calendar(typed, before, typed.replace)?;
        if typed.follow {
            self.follow(typed, before)?;
        }
        let reminders = self.studio.reminders(&self.now)?;
        let next = reminders.coming().next().map(|one| one.at);
        let file = typed.out.display().to_string();
        let line = match events {
            1 => format!("1 event is in {file}"),
            events => format!("{events} events are in {file}"),
        };
        let measures = self.settings.measures;
        let first = reminders.coming().next();
        let first = first.map(|one| tell::outgoing::reminder(one, measures, &self.now));
        let first = first.map(|says| format!("first: {says}"));
        Ok(
            Report::of(&CalendarView::of(file, events, next, &self.telling()))
                .line(line)
                .lines(first),
        )
    }

    /// Writes the file anew at each change; it ends with the process, or where the file cannot be written.
    fn follow(&mut self, typed: &CalendarArguments, before: TimeDelta) -> Answer<Infallible> {
        let mut air = AirWatch::default();
        loop {
            let until = Some(self.now.at + ANEW);
            watch::pause(self.studio, &self.clock, until, &mut air)?;
            self.now = self.clock.now();
            self.write_calendar(typed, before, true)?;
        }
    }

    fn write_calendar(
        &self,
        typed: &CalendarArguments,
        before: TimeDelta,
        replace: bool,
    ) -> Answer<usize> {
        self.send(Outgoing::Calendar(before), &typed.out, replace)
    }
}
