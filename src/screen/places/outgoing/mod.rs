//! What leaves the studio as a file, and the lists that come in, over whatever place they are asked for in: one key says
//! which, a form the rest. A file is written on a thread of its own, through a studio of its own.

mod forms;
mod list;
mod page;
mod writing;

use crate::exchange::outgoing::{Outgoing, OutgoingOrder, preview};
use crate::exchange::spreadsheet::ListOrder;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::keys::{Binding, bind, char};
use crate::screen::kit::place::{Hands, Next, Outcome, Subject};
use crate::screen::kit::refusal::words;
use crate::studio::orders::{IncomingField, LabelField, OutgoingField, OutgoingKind};
use crate::studio::{Answer, Studio, StudioError, TimeWindow};
use crate::tell;
use writing::Writing;

/// What is asked for, and what is being written.
#[derive(Debug, Default)]
pub struct Tray {
    /// Whether it is asked which file, and what was in hand there.
    asking: Option<Option<Subject>>,
    writing: Vec<Writing>,
    /// The folder that a file was written into last, with its slash.
    folder: String,
    /// How labels were laid out last: they are on the same sheets the next time.
    layout: Vec<(LabelField, String)>,
}

/// What a key wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// A file of this kind.
    Out(OutgoingKind),
    /// A list of one's own taken in.
    List,
}

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// A file.
    Out(OutgoingAsk),
    /// A list.
    List,
}

/// Which file, and of what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutgoingAsk {
    kind: OutgoingKind,
    of: Option<Subject>,
}

/// What is done about a file.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Tell what it will hold.
    Preview(Box<Outgoing>),
    /// Write it.
    Write(Box<OutgoingOrder>),
    /// Tell what would come in of a list.
    Try(Box<ListOrder>),
    /// Take a list in.
    Take(Box<ListOrder>),
    /// Show what was sold.
    Ledger {
        /// When.
        window: TimeWindow,
        /// Whether the names of buyers are shown.
        names: bool,
    },
}

impl Tray {
    /// Asks which file; `of` is what is in hand.
    pub fn ask(&mut self, of: Option<Subject>) {
        self.asking = Some(of);
    }

    /// Asks no more.
    pub fn close(&mut self) {
        self.asking = None;
    }

    /// Whether it is asked which file.
    pub const fn is_open(&self) -> bool {
        self.asking.is_some()
    }

    /// What is asked.
    pub fn question(&self) -> Option<String> {
        let question = "A file to print or to send, or a list of yours to take in: which?";
        self.is_open().then(|| question.to_owned())
    }

    /// How far it is with what is being written.
    pub fn progress(&self) -> Option<String> {
        self.writing.first().map(Writing::told)
    }

    /// Says what was written meanwhile, and what could not be.
    pub fn poll(&mut self, desk: &mut Desk) {
        self.writing.retain_mut(|one| one.is_going_on(desk));
    }

    /// Waits for what is being written: the terminal is left, but no file is cut off.
    pub fn finish(&mut self, desk: &mut Desk) {
        while !self.writing.is_empty() {
            self.poll(desk);
        }
    }
}

impl Hands for Tray {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        let of = self.asking.take().flatten();
        let kind = match wish {
            Wish::Out(kind) => kind,
            Wish::List => return Next::ask(Ask::List, list::form(&self.folder, desk)),
        };
        let ask = OutgoingAsk { kind, of };
        let form = forms::form(&ask, &self.folder, &self.layout, desk);
        Next::ask(Ask::Out(ask), form)
    }

    fn changed(&self, ask: &Ask, form: &mut Form, desk: &Desk) -> Option<Deed> {
        let Ask::Out(ask) = ask else {
            return Some(Deed::Try(Box::new(list::read(form, desk).ok()?)));
        };
        forms::name_file(ask, form, &self.folder);
        let what = forms::what(ask.kind, form, desk).ok()?;
        Some(Deed::Preview(Box::new(what)))
    }

    fn check(&self, ask: &Ask, form: &Form, desk: &Desk) -> Result<(), Fault> {
        match ask {
            Ask::Out(ask) => forms::read(ask.kind, form, desk).map(drop),
            Ask::List => list::read(form, desk).map(drop),
        }
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        let (deed, file) = match ask {
            Ask::Out(ask) => (
                forms::read(ask.kind, form, desk)?,
                form.value(OutgoingField::File),
            ),
            Ask::List => (
                Deed::Take(Box::new(list::read(form, desk)?)),
                form.value(IncomingField::File),
            ),
        };
        file[..file.rfind('/').map_or(0, |at| at + 1)].clone_into(&mut self.folder);
        if matches!(ask, Ask::Out(ask) if ask.kind == OutgoingKind::Labels) {
            self.layout = forms::layout(form);
        }
        Ok(Some(deed))
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        let now = desk.beat.now;
        match deed {
            Deed::Preview(what) => match preview(studio, &what, &now) {
                Ok(holds) => {
                    let settings = studio.settings()?;
                    let lines = tell::outgoing::preview(&holds, &settings, &now);
                    Ok(Outcome::aside(lines))
                }
                Err(error @ StudioError::Refused(_)) => {
                    Ok(Outcome::aside(vec![words(&error, desk.measures(), &now)]))
                }
                Err(error) => Err(error),
            },
            Deed::Try(order) => list::tried(studio, &order, desk),
            Deed::Take(order) => list::taken(studio, &order, &now),
            Deed::Ledger { window, names } => Ok(Outcome {
                closes: true,
                ..Outcome::page(page::ledger(studio, window, names, &now)?)
            }),
            Deed::Write(order) => {
                order.refuse_early()?;
                preview(studio, &order.what, &now)?;
                self.writing.extend(Writing::begin(studio, *order, now));
                Ok(Outcome::taken())
            }
        }
    }
}

/// Its keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(
        &[char('l')],
        Wish::Out(OutgoingKind::Labels),
        "labels",
        "Labels for lids: the cup in hand, all living ones, a plan's; sheets or rolls, as PDF",
    ),
    bind(
        &[char('s')],
        Wish::Out(OutgoingKind::Session),
        "session sheet",
        "A kept plan for the wall by the bench, for a pencil, as PDF",
    ),
    bind(
        &[char('c')],
        Wish::Out(OutgoingKind::Certificate),
        "certificate",
        "A certificate for the one who buys a picture, as PDF or HTML",
    ),
    bind(
        &[char('r')],
        Wish::Out(OutgoingKind::Report),
        "report",
        "A month or a span looked back at, as a page for a browser or a printer",
    ),
    bind(
        &[char('y')],
        Wish::Out(OutgoingKind::Ledger),
        "year's ledger",
        "What was sold in a year: shown here, or as CSV for a spreadsheet",
    ),
    bind(
        &[char('d')],
        Wish::Out(OutgoingKind::Calendar),
        "dates",
        "What is due, as a calendar for the phone that wakes you",
    ),
    bind(
        &[char('i')],
        Wish::List,
        "your list in",
        "A list of your own taken in from a spreadsheet's CSV: pours, cups, judgements, materials, stock",
    ),
];
