//! `report` and `certificate`: what a studio shows others.

use crate::command::Desk;
use crate::command::bar::Bar;
use crate::command::files::told;
use crate::command::findings::reason_lines;
use crate::command::paper::PaperWord;
use crate::command::report::Report;
use crate::exchange::{self, Certified, ReportFacts};
use crate::studio::{self, Answer, Asked, LookedBack, Refusal, TimeWindow};
use crate::tell::views::PaperView;
use crate::trade::moment::Moment;
use clap::Args;
use std::path::{Path, PathBuf};

/// A look back.
#[derive(Debug, Args)]
pub struct ReportArguments {
    /// A month: 2026-10
    #[arg(long, value_name = "MONTH")]
    pub month: Option<String>,
    /// So long back: 90d
    #[arg(long, value_name = "TIME", conflicts_with = "month")]
    pub since: Option<String>,
    /// The HTML file
    #[arg(long, value_name = "FILE.html")]
    pub out: PathBuf,
    /// Replace a file that is there already
    #[arg(long)]
    pub replace: bool,
}

/// A certificate.
#[derive(Debug, Args)]
pub struct CertificateArguments {
    /// The pour's number
    pub pour: i64,
    /// The file: .pdf or .html
    #[arg(long, value_name = "FILE.pdf|.html")]
    pub out: PathBuf,
    /// The paper of a PDF; A4 with metric measures, letter otherwise
    #[arg(long, value_name = "a4|letter")]
    pub paper: Option<PaperWord>,
    /// Replace a file that is there already
    #[arg(long)]
    pub replace: bool,
}

impl Desk<'_> {
    pub(super) fn report(&mut self, typed: &ReportArguments) -> Answer<Report> {
        studio::refuse_no_folder(&typed.out)?;
        let window = self.time_window(typed.month.as_ref(), None, typed.since.as_ref())?;
        let looked = self.studio.look_back(&Asked {
            window,
            ..Asked::default()
        })?;
        let pages = self
            .studio
            .pours(window.from)?
            .into_iter()
            .filter(|page| window.holds(page.pour.at));
        let pages: Vec<_> = pages.collect();
        let bar = Bar::new("pours", pages.len());
        let mut pours = Vec::new();
        for page in pages {
            let cost = self.studio.pour_cost(page.pour.id)?.total;
            pours.push((page, cost));
            bar.at(pours.len());
        }
        drop(bar);
        let ledger = self.studio.ledger(window)?;
        let (pictures, rack) = (self.studio.pictures()?, self.studio.rack(&self.now)?);
        let facts = ReportFacts {
            studio: self.settings.name.as_deref(),
            span: self.span_words(window, &pours),
            looked: &looked,
            learned: self.learned_lines(&looked)?,
            pours,
            pictures: &pictures,
            rack: &rack,
            takings: ledger.takings(),
            money: &|price| self.money(price),
            measures: self.settings.measures,
            now: &self.now,
        };
        let html = exchange::report(&facts).map_err(told)?;
        exchange::write_bytes(self.studio, &typed.out, typed.replace, html.as_bytes())
            .map_err(told)?;
        self.left("The report", &typed.out)
    }

    fn span_words(
        &self,
        window: TimeWindow,
        pours: &[(studio::PourPage, Option<rust_decimal::Decimal>)],
    ) -> String {
        let day = |at: Moment| self.now.zone.tell(at).format("%-d %B %Y").to_string();
        let first = window
            .from
            .or_else(|| pours.last().map(|(page, _)| page.pour.at));
        let last = window
            .to
            .map(|to| to - chrono::TimeDelta::minutes(1))
            .unwrap_or(self.now.at);
        match first {
            Some(first) => format!("{} to {}", day(first), day(last)),
            None => format!("until {}", day(last)),
        }
    }

    pub(super) fn certificate(&mut self, typed: &CertificateArguments) -> Answer<Report> {
        studio::refuse_no_folder(&typed.out)?;
        let facts = self.studio.picture_facts(typed.pour)?;
        let certified = Certified {
            facts: &facts,
            studio: self.settings.name.as_deref(),
            address: self.settings.address.as_deref(),
            measures: self.settings.measures,
            now: &self.now,
        };
        let ending = typed
            .out
            .extension()
            .map(|ending| ending.to_string_lossy().to_lowercase());
        let file = match ending.as_deref() {
            Some("pdf") => exchange::certificate_pdf(certified, self.stock(typed.paper)),
            Some("html" | "htm") => exchange::certificate_page(certified).map(String::into_bytes),
            _ => {
                let (said, known) = (ending.unwrap_or_default(), ".pdf, .html".to_owned());
                return Err(Refusal::Word {
                    what: "ending of a certificate's file",
                    said,
                    known,
                }
                .into());
            }
        };
        exchange::write_bytes(self.studio, &typed.out, typed.replace, &file.map_err(told)?)
            .map_err(told)?;
        self.left("The certificate", &typed.out)
    }

    /// What stands out, in sentences.
    fn learned_lines(&self, looked: &LookedBack) -> Answer<Vec<String>> {
        if looked.found.variants.is_empty() {
            return Ok(Vec::new());
        }
        let reasons = self.studio.reasons(looked, &self.now)?;
        Ok(reason_lines(&reasons))
    }

    fn left(&self, what: &str, path: &Path) -> Answer<Report> {
        let file = path.display().to_string();
        let line = format!("{what} is in {file}");
        Ok(Report::of(&PaperView { file }).line(line))
    }
}
