//! `set` and `settings`: what a studio may choose.

use crate::command::Desk;
use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::studio::Answer;
use crate::tell::views::SettingsView;
use crate::trade::quiet::Quiet;
use clap::Args;

/// A change of one setting.
#[derive(Debug, Args)]
pub struct SetArguments {
    /// Which: name, currency, address, measures, activator-tape, good-from, air, air-from, air-by, photos-from, pictures, half-life or quiet-hours
    pub name: String,
    /// What it is set to: measures to metric or us, good-from to 1 to 5; "" clears one that may be empty
    #[arg(allow_hyphen_values = true)]
    pub value: String,
}

impl Desk<'_> {
    pub(super) fn set(&mut self, typed: &SetArguments) -> Answer<Report> {
        self.settings = self.studio.set(&typed.name, &typed.value, &self.now)?;
        self.show_settings()
    }

    pub(super) fn show_settings(&mut self) -> Answer<Report> {
        let settings = &self.settings;
        let measures = settings.measures.word();
        let report = Report::of(&SettingsView::of(settings));
        let rows = [
            ("name", or_dash(settings.name.clone())),
            (
                "currency",
                or_dash(Some(settings.currency.clone()).filter(|one| !one.is_empty())),
            ),
            ("measures", measures.to_owned()),
            ("activator-tape", or_dash(settings.activator_tape.clone())),
            ("good-from", settings.good_from.to_string()),
            ("address", or_dash(settings.address.clone())),
            ("air-from", or_dash(settings.air_from.clone())),
            ("air-by", or_dash(settings.air_by.clone())),
            ("photos-from", or_dash(settings.photos_from.clone())),
            ("pictures", or_dash(settings.pictures.clone())),
            ("quiet-hours", Quiet::written(settings.quiet)),
            ("half-life", format!("{} days", settings.half_life)),
        ];
        let rows = rows
            .into_iter()
            .map(|(name, value)| [name.to_owned(), value]);
        Ok(report.table(&rows.fold(Table::default(), Table::row)))
    }
}
