//! `pour`, `again` and `pours`: what was poured, on what, and how it was moved.

use crate::command::Desk;
use crate::command::flow::{Flow, PageArguments};
use crate::command::moves::Moves;
use crate::command::report::Report;
use crate::command::show::or_dash;
use crate::exchange::fill_air;
use crate::studio::orders::{CorrectField, PourField, Typed};
use crate::studio::{Answer, PourPage, Poured, PouredCup, PoursPage};
use crate::tell::views::{PourView, PouredView};
use crate::trade::moment::Moment;
use crate::trade::pour::{Air, Pour};
use clap::Args;

pub(super) const EXAMPLE: &str = "\
Example:
  stillcup pour --panel 40x50cm --layer B2:120ml --layer K7:60ml --layer A3:10ml \\
    --way \"flip cup\" --spin cw:2 --spin ccw:2 --tilt left --air 21C,45%";

/// A pour.
#[derive(Debug, Args)]
pub struct PourArguments {
    /// What is poured on: 40x50cm, 16x20in, round 30cm
    #[arg(long, value_name = "PANEL", allow_hyphen_values = true)]
    pub panel: String,
    #[command(flatten)]
    pub go: GoArguments,
}

/// A start-over: what is left out is as in the go that is scraped.
#[derive(Debug, Args)]
pub struct StartOverArguments {
    /// The number of the pour that is scraped
    pub pour: i64,
    #[command(flatten)]
    pub go: GoArguments,
}

/// One go at a panel.
#[derive(Debug, Args)]
pub struct GoArguments {
    /// A cup and how much of it: K7:120ml; repeated, the lowest layer first
    #[arg(long = "layer", value_name = "MARK:AMOUNT")]
    pub layers: Vec<String>,
    /// The technique, in your own words
    #[arg(long, value_name = "TEXT")]
    pub way: Option<String>,
    #[command(flatten)]
    pub moves: Moves,
    /// The air of the room: 21C,45%
    #[arg(long, value_name = "AIR", allow_hyphen_values = true)]
    pub air: Option<String>,
    /// Anything else
    #[arg(long, allow_hyphen_values = true)]
    pub note: Option<String>,
    /// More really came out of a cup than was thought to be in it
    #[arg(long)]
    pub even_so: bool,
    /// When: 18:30; now otherwise
    #[arg(long, value_name = "WHEN")]
    pub at: Option<String>,
}

/// What a pour really was; what is left out stays as it is.
#[derive(Debug, Args)]
pub struct CorrectArguments {
    /// The pour's number
    pub pour: i64,
    /// What it was poured on: 40x50cm, 16x20in, round 30cm
    #[arg(long, value_name = "PANEL", allow_hyphen_values = true)]
    pub panel: Option<String>,
    /// A cup that lies in it and how much it really was: K7:120ml; repeated
    #[arg(long = "layer", value_name = "MARK:AMOUNT")]
    pub layers: Vec<String>,
    /// The technique, in your own words; empty takes it away
    #[arg(long, value_name = "TEXT")]
    pub way: Option<String>,
    #[command(flatten)]
    pub moves: Moves,
    /// The moves said here are all there were; they are added otherwise
    #[arg(long)]
    pub only_moves: bool,
    /// The air of the room: 21C,45%
    #[arg(long, value_name = "AIR", allow_hyphen_values = true)]
    pub air: Option<String>,
    /// Anything else; empty takes it away
    #[arg(long, allow_hyphen_values = true)]
    pub note: Option<String>,
    /// More really came out of a cup than was thought to be in it
    #[arg(long)]
    pub even_so: bool,
}

/// Which pours are shown.
#[derive(Debug, Args)]
pub struct PoursArguments {
    /// Only those of the last while: 30d
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub since: Option<String>,
    #[command(flatten)]
    pub page: PageArguments,
}

impl GoArguments {
    /// What was typed of a go, each text in its field.
    fn typed(self) -> Typed<PourField> {
        let mut typed = Typed::default()
            .given(PourField::Way, self.way)
            .given(PourField::Air, self.air)
            .given(PourField::Note, self.note)
            .given(PourField::When, self.at);
        for layer in self.layers {
            typed = typed.given(PourField::Layer, Some(layer));
        }
        self.moves.typed_into(typed)
    }
}

impl Desk<'_> {
    pub(super) fn pour(&mut self, typed: PourArguments) -> Answer<Report> {
        let even_so = typed.go.even_so;
        let fields = typed.go.typed().given(PourField::Panel, Some(typed.panel));
        let known = self.studio.known(fields.marks())?;
        let mut order = PourField::order(&fields, even_so, &self.given(&known))?;
        let failed = self.read_room(&mut order.air, order.at);
        let poured = self.studio.pour(&order, &self.now)?;
        Ok(self.poured(&poured)?.note(failed))
    }

    pub(super) fn start_over(&mut self, typed: StartOverArguments) -> Answer<Report> {
        let even_so = typed.go.even_so;
        let fields = typed.go.typed();
        let known = self.studio.known(fields.marks())?;
        let mut order = PourField::start_over(&fields, even_so, &self.given(&known))?;
        let failed = self.read_room(&mut order.air, order.at);
        let poured = self.studio.start_over(typed.pour, &order, &self.now)?;
        Ok(self.poured(&poured)?.note(failed))
    }

    pub(super) fn correct(&mut self, typed: CorrectArguments) -> Answer<Report> {
        let mut fields = Typed::default()
            .given(CorrectField::Panel, typed.panel)
            .given(CorrectField::Way, typed.way)
            .given(CorrectField::Air, typed.air)
            .given(CorrectField::Note, typed.note);
        for layer in typed.layers {
            fields = fields.given(CorrectField::Layers, Some(layer));
        }
        let page = self.studio.pour_page(typed.pour)?;
        let known = self.studio.known([])?;
        let mut order = CorrectField::order(&fields, false, &page, &self.given(&known))?;
        let moves = PourField::moves(&typed.moves.typed_into(Typed::default()))?;
        match typed.only_moves {
            true => order.moves = Some(moves),
            false => order.more_moves = moves,
        }
        order.even_so = typed.even_so;
        let remarks = self.studio.correct_pour(typed.pour, &order, &self.now)?;
        let page = self.studio.pour_page(typed.pour)?;
        let marks = page.layers.iter().map(|cup| cup.mark.clone()).collect();
        self.poured(&Poured {
            pour: page.pour,
            marks,
            remarks,
        })
    }

    /// Fills in the room's air where none was typed; what failed is said.
    pub(super) fn read_room(&self, air: &mut Option<Air>, at: Option<Moment>) -> Option<String> {
        let fault = fill_air(air, at, (self.studio, &self.settings), &self.now);
        fault.map(|fault| self.words(&fault))
    }

    fn poured(&self, poured: &Poured) -> Answer<Report> {
        let page = self.studio.pour_page(poured.pour.id)?;
        let said = self.remarked(&poured.remarks);
        let pour = &poured.pour;
        let view = PouredView::of(&page, said.clone(), &self.telling());
        let report = Report::of(&view).line(format!(
            "Pour {} on {}{}",
            pour.id,
            pour.panel.show(self.settings.measures),
            go_words(pour)
        ));
        let rows = page.layers.iter().zip(&pour.layers).rev();
        let rows = rows.map(|(PouredCup { mark, variant }, layer)| {
            [
                mark.clone(),
                self.volume(layer.ml),
                layer.state.to_string(),
                variant.to_string(),
            ]
        });
        let table = super::cups::indented(rows).right(&[2]);
        Ok(report.line("top to bottom:").table(&table).remarks(&said))
    }

    pub(super) fn pours(&mut self, typed: &PoursArguments) -> Answer<Report> {
        let window = self.time_window(None, None, typed.since.as_ref())?;
        let heads = [
            "pour",
            "when",
            "panel",
            "cells",
            "layers, lowest first",
            "way",
        ];
        let out = std::mem::take(self.out);
        let mut said = out;
        let mut flow = Flow::new(
            (&mut said, self.json),
            "pours",
            (&heads, &[0, 3]),
            typed.page.limit,
        );
        let read = self.pour_flow(&mut flow, window.from, typed.page.skip());
        let (shown, report) = flow.end();
        *self.out = said;
        read?;
        let all = self.studio.count_pours(window.from)?;
        if shown == 0 && all == 0 {
            return Ok(report
                .line("No pour is written down.")
                .line("Pour: stillcup pour --panel 40x50cm --layer MARK:120ml"));
        }
        Ok(report.lines(typed.page.rest("pour", shown, all)))
    }

    /// Reads pours and says them, a few at a time.
    fn pour_flow(&self, flow: &mut Flow<'_>, since: Option<Moment>, skip: u32) -> Answer<()> {
        let mut page = PoursPage {
            skip,
            ..PoursPage::default()
        };
        let telling = self.telling();
        while flow.wanted() > 0 {
            page.limit = Some(flow.wanted());
            let pages = self.studio.pours_paged(since, page)?;
            flow.say(
                &pages,
                |page| Report::of(&PourView::of(page, &telling)),
                |page| self.pour_row(page).to_vec(),
            );
            let Some(last) = pages.last() else { break };
            page.skip = 0;
            page.below = Some((last.pour.at, last.pour.id));
        }
        Ok(())
    }

    fn pour_row(&self, page: &PourPage) -> [String; 6] {
        let layers = page.layers.iter().map(|cup| cup.variant.to_string());
        let layers: Vec<String> = layers.collect();
        let scraped = page.scraped_for.map(|pour| format!("scraped for {pour}"));
        let cells = page.counting().map(|one| one.cells.to_string());
        [
            page.pour.id.to_string(),
            self.clock(page.pour.at),
            page.pour.panel.show(self.settings.measures),
            or_dash(cells.or(scraped)),
            layers.join(", "),
            page.pour.way.clone().unwrap_or_default(),
        ]
    }
}

fn go_words(pour: &Pour) -> String {
    match pour.again_of {
        Some(before) => format!(", go {} (pour {before} is scraped)", pour.go),
        None => String::new(),
    }
}
