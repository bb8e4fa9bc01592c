//! Judging: how many cells a picture has, asked over whatever place the picture was chosen in.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::keys::{Binding, bind, char, code};
use crate::screen::kit::place::{Hands, Next, Outcome};
use crate::studio::orders::JudgeField;
use crate::studio::{Answer, JudgeOrder, Studio};
use crate::tell;
use crate::trade::judgement::{CellSize, Fate};
use crossterm::event::KeyCode;

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
    /// All that was seen, in one form.
    Whole,
}

/// The whole judgement of the pour of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ask(i64);

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
        Some(format!("How many cells has picture {pour}, {seen}? 0 to 5"))
    }
}

impl Hands for Judging {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        match wish {
            Wish::Dry => {
                self.open = self.open.map(|(pour, dry)| (pour, !dry));
                None
            }
            Wish::Whole => {
                let (pour, dry) = self.open.take()?;
                Next::ask(Ask(pour), whole(pour, dry, desk))
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

    fn check(&self, _: &Ask, form: &Form, desk: &Desk) -> Result<(), Fault> {
        let order = JudgeField::order(&form.typed(), &desk.given());
        order.map(drop).map_err(|wrong| desk.fault(wrong))
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        let order = JudgeField::order(&form.typed(), &desk.given());
        let deed = order.map(|order| Deed::Judge(ask.0, Box::new(order)));
        deed.map(Some).map_err(|wrong| desk.fault(wrong))
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        let Deed::Judge(pour, order) = deed;
        let judged = studio.judge(pour, &order, &desk.beat.now)?;
        let words = tell::judged(&judged, studio.settings()?.good_from);
        Ok(Outcome {
            remarks: studio.judged_remarks(&judged, &desk.beat.now)?,
            ..Outcome::wrote(words)
        })
    }
}

/// The form of a whole judgement: a grade is one key.
fn whole(pour: i64, dry: bool, desk: &Desk) -> Form {
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
    let field = |field| Field::of(field, desk.measures());
    let mut fields = vec![field(JudgeField::Cells).one_key()];
    fields.extend(JudgeField::GRADES.map(|grade| field(grade).one_key()));
    let sizes = CellSize::ALL.iter().map(|size| size.word());
    let fates = [Fate::Kept, Fate::Scraped, Fate::Sold].map(Fate::word);
    fields.extend([
        field(JudgeField::Size)
            .among(words(&sizes.collect::<Vec<_>>()))
            .one_key(),
        field(JudgeField::Fate).among(words(&fates)),
        field(JudgeField::Seen)
            .one_of(words(&JudgeField::SEEN))
            .offering(JudgeField::SEEN[usize::from(dry)]),
        field(JudgeField::Title),
        field(JudgeField::Note),
        field(JudgeField::When),
    ]);
    Form::new(format!("Judge picture {pour}"), fields).at_once()
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
        &[code(KeyCode::Enter)],
        Wish::Whole,
        "all",
        "All that was seen, in one form: size, evenness, flaws, fate",
    ),
    bind(
        &[char('d')],
        Wish::Dry,
        "wet or dry",
        "Whether the picture is dry",
    ),
];
