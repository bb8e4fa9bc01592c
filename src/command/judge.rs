//! `judge`: what was seen on a picture.

use crate::command::report::Report;
use crate::command::{Desk, word};
use crate::studio::orders::{JudgeField, Typed};
use crate::studio::{Answer, Remarks};
use crate::tell;
use crate::tell::views::{JudgedView, VarnishedView};
use crate::trade::judgement::{CellSize, Fate};
use clap::Args;

/// A judgement: every grade runs from 0, none, to 5, all over.
#[derive(Debug, Args)]
pub struct JudgeArguments {
    /// The pour's number
    pub pour: i64,
    /// The cells, 0 to 5
    #[arg(long, value_name = "0..5", allow_hyphen_values = true)]
    #[arg(required_unless_present = "strike")]
    pub cells: Option<String>,
    /// Put the last such judgement, wet or dry, right: it says this and no more
    #[arg(long)]
    pub instead: bool,
    /// Strike the last such judgement, wet or dry
    #[arg(long, conflicts_with_all = ["cells", "instead"])]
    pub strike: bool,
    /// The picture is dry
    #[arg(long)]
    pub dry: bool,
    /// The size of the cells
    #[arg(long, value_name = "fine|middling|large", value_parser = word!(CellSize))]
    pub size: Option<CellSize>,
    /// How even they lie
    #[arg(long, value_name = "0..5", allow_hyphen_values = true)]
    pub evenness: Option<String>,
    /// How much lacing
    #[arg(long, value_name = "0..5", allow_hyphen_values = true)]
    pub lacing: Option<String>,
    /// How muddy
    #[arg(long, value_name = "0..5", allow_hyphen_values = true)]
    pub muddy: Option<String>,
    /// How crazed
    #[arg(long, value_name = "0..5", allow_hyphen_values = true)]
    pub crazed: Option<String>,
    /// How many pinholes
    #[arg(long, value_name = "0..5", allow_hyphen_values = true)]
    pub pinholes: Option<String>,
    /// It was kept
    #[arg(long, group = "fate")]
    pub kept: bool,
    /// It was scraped
    #[arg(long, group = "fate")]
    pub scraped: bool,
    /// It was sold
    #[arg(long, group = "fate")]
    pub sold: bool,
    /// What the picture is called
    #[arg(long, value_name = "TITLE")]
    pub title: Option<String>,
    /// Anything else
    #[arg(long, allow_hyphen_values = true)]
    pub note: Option<String>,
    /// When: 18:30; now otherwise
    #[arg(long, value_name = "WHEN")]
    pub at: Option<String>,
}

/// A picture that was varnished.
#[derive(Debug, Args)]
pub struct VarnishArguments {
    /// The pour's number
    pub pour: i64,
    /// When: 18:30; now otherwise
    #[arg(long, value_name = "WHEN")]
    pub at: Option<String>,
}

impl JudgeArguments {
    const fn fate(&self) -> Option<Fate> {
        match (self.kept, self.scraped, self.sold) {
            (true, _, _) => Some(Fate::Kept),
            (_, true, _) => Some(Fate::Scraped),
            (_, _, true) => Some(Fate::Sold),
            _ => None,
        }
    }

    fn typed(&self) -> Typed<JudgeField> {
        let said = |text: &Option<String>| text.clone();
        Typed::default()
            .given(JudgeField::Cells, said(&self.cells))
            .given(JudgeField::Seen, self.dry.then(|| JudgeField::DRY.into()))
            .given(JudgeField::Size, self.size.map(|size| size.word().into()))
            .given(JudgeField::Evenness, said(&self.evenness))
            .given(JudgeField::Lacing, said(&self.lacing))
            .given(JudgeField::Muddy, said(&self.muddy))
            .given(JudgeField::Crazed, said(&self.crazed))
            .given(JudgeField::Pinholes, said(&self.pinholes))
            .given(JudgeField::Fate, self.fate().map(|fate| fate.word().into()))
            .given(JudgeField::Title, said(&self.title))
            .given(JudgeField::Note, said(&self.note))
            .given(JudgeField::When, said(&self.at))
    }
}

impl Desk<'_> {
    pub(super) fn judge(&mut self, typed: &JudgeArguments) -> Answer<Report> {
        if typed.strike {
            return self.strike_judgement(typed);
        }
        let known = self.studio.known([])?;
        let order = JudgeField::order(&typed.typed(), &self.given(&known))?;
        let judged = match typed.instead {
            true => {
                let was = self.studio.last_judgement(typed.pour, typed.dry)?;
                self.studio.rejudge(&was, &order, &self.now)?
            }
            false => self.studio.judge(typed.pour, &order, &self.now)?,
        };
        let good = judged.cells >= self.settings.good_from;
        let said = self.remarked(&self.studio.judged_remarks(&judged, &self.now)?);
        let view = JudgedView::of(&judged, good, said.clone(), &self.telling());
        let words = tell::judged(&judged, self.settings.good_from);
        Ok(Report::of(&view).line(words).remarks(&said))
    }

    fn strike_judgement(&mut self, typed: &JudgeArguments) -> Answer<Report> {
        let was = self.studio.last_judgement(typed.pour, typed.dry)?;
        self.studio.strike_judgement(&was, &self.now)?;
        let good = was.cells >= self.settings.good_from;
        let said = self.remarked(&Remarks::default());
        let view = JudgedView::of(&was, good, said, &self.telling());
        Ok(Report::of(&view).line(tell::judgement_struck(&was)))
    }

    pub(super) fn varnish(&mut self, typed: &VarnishArguments) -> Answer<Report> {
        let at = self.instant(typed.at.as_deref())?;
        let remarks = self.studio.varnish(typed.pour, at, &self.now)?;
        let said = self.remarked(&remarks);
        let at = at.unwrap_or(self.now.at);
        let view = VarnishedView::of(typed.pour, at, &remarks, &self.telling());
        let line = tell::varnished(typed.pour);
        Ok(Report::of(&view).line(line).remarks(&said))
    }
}
