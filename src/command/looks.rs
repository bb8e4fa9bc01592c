//! `report` and `certificate`: what a studio shows others.

use crate::command::Desk;
use crate::command::bar::Bar;
use crate::command::paper::PaperWord;
use crate::command::report::Report;
use crate::exchange::outgoing::{self, Outgoing, OutgoingOrder};
use crate::studio::Answer;
use crate::tell;
use crate::tell::views::PaperView;
use clap::Args;
use std::cell::OnceCell;
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
        let window = self.time_window(typed.month.as_ref(), None, typed.since.as_ref())?;
        self.send_page(Outgoing::Report(window), &typed.out, typed.replace)
    }

    pub(super) fn certificate(&mut self, typed: &CertificateArguments) -> Answer<Report> {
        let (pour, paper) = (typed.pour, typed.paper.map(PaperWord::size));
        let what = Outgoing::Certificate { pour, paper };
        self.send_page(what, &typed.out, typed.replace)
    }

    /// Writes a page and says where it is.
    pub(super) fn send_page(&self, what: Outgoing, out: &Path, replace: bool) -> Answer<Report> {
        let kind = what.kind();
        self.send(what, out, replace)?;
        let file = out.display().to_string();
        let line = tell::outgoing::written(kind, &file);
        Ok(Report::of(&PaperView { file }).line(line))
    }

    /// Writes a file, with a bar where that takes long; answers how much it holds.
    pub(super) fn send(&self, what: Outgoing, out: &Path, replace: bool) -> Answer<usize> {
        let name = tell::outgoing::name(what.kind());
        let order = OutgoingOrder {
            what,
            file: out.to_owned(),
            replace,
        };
        let bar = OnceCell::new();
        outgoing::send(self.studio, &order, &self.now, &|done, of| {
            bar.get_or_init(|| Bar::new(name, of)).at(done);
        })
    }
}
