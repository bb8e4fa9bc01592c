//! Judging: how many cells a picture has, asked over whatever place the picture was chosen in.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::keys::{Binding, bind, char};
use crate::screen::kit::place::{Hands, Next, Outcome};
use crate::studio::{Answer, JudgeOrder, Studio};

/// The picture that is being judged.
#[derive(Debug, Default)]
pub struct Judging {
    /// Its pour's number, and whether it is dry.
    open: Option<(i64, bool)>,
}

/// What a key wishes while a picture is judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// It has so many cells.
    Cells(u8),
    /// It is dry; or wet after all.
    Dry,
}

/// A judgement has no form yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {}

/// A deed of judging.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Judge the pour of the number.
    Judge(i64, Box<JudgeOrder>),
}

impl Judging {
    /// Asks about a picture.
    pub const fn open(&mut self, pour: i64, dry: bool) {
        self.open = Some((pour, dry));
    }

    /// Asks no more.
    pub const fn close(&mut self) {
        self.open = None;
    }

    /// Whether a picture is being judged.
    pub const fn is_open(&self) -> bool {
        self.open.is_some()
    }

    /// What is asked.
    pub fn question(&self) -> Option<String> {
        let (pour, dry) = self.open?;
        let seen = if dry { "dry" } else { "wet" };
        Some(format!("How many cells has pour {pour}, {seen}? 0 to 5"))
    }
}

impl Hands for Judging {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, _desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        match wish {
            Wish::Dry => {
                self.open = self.open.map(|(pour, dry)| (pour, !dry));
                None
            }
            Wish::Cells(cells) => {
                let (pour, dry) = self.open.take()?;
                let order = JudgeOrder {
                    cells,
                    dry,
                    ..JudgeOrder::default()
                };
                Some(Next::Do(Deed::Judge(pour, Box::new(order))))
            }
        }
    }

    fn keep(&mut self, ask: &Ask, _form: &Form, _desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        match *ask {}
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        let Deed::Judge(pour, order) = deed;
        let judged = studio.judge(pour, &order, &desk.beat.now)?;
        let seen = if judged.dry { "dry" } else { "wet" };
        let words = format!("Pour {pour} is judged, {seen}: cells {}", judged.cells);
        Ok(Outcome::wrote(words))
    }
}

/// Its keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(&[char('0')], Wish::Cells(0), "none", "No cells"),
    bind(&[char('1')], Wish::Cells(1), "", "A few"),
    bind(&[char('2')], Wish::Cells(2), "", "Some"),
    bind(&[char('3')], Wish::Cells(3), "", "Middling"),
    bind(&[char('4')], Wish::Cells(4), "", "Good"),
    bind(
        &[char('5')],
        Wish::Cells(5),
        "the best",
        "As good as they get",
    ),
    bind(
        &[char('d')],
        Wish::Dry,
        "wet or dry",
        "Whether the picture is dry",
    ),
];
