//! Judging: how many cells a picture has, asked over whatever place the picture was chosen in.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::keys::{Binding, bind, char, code};
use crate::screen::kit::place::{Hands, Next, Outcome};
use crate::studio::orders::JudgeField;
use crate::studio::{Answer, JudgeOrder, Studio, local};
use crate::tell;
use crate::trade::judgement::{CellSize, Fate, Judgement};
use crossterm::event::KeyCode;

/// The picture that is being judged.
#[derive(Debug, Default)]
pub struct Judging {
    /// Its pour's number, and whether it is dry.
    open: Option<(i64, bool)>,
    /// What was seen of it before, in order of entry; `None` where that is not at hand.
    seen: Option<Vec<Judgement>>,
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
    /// What was seen last put right, in the same form.
    Rejudge,
    /// What was seen last struck.
    Strike,
}

/// The whole judgement of the pour of a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ask {
    /// A new one.
    New(i64),
    /// What was seen before put right.
    Rejudge(Box<Judgement>),
}

/// A deed of judging.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Judge the pour of the number.
    Judge(i64, Box<JudgeOrder>),
    /// Put what was seen before right.
    Rejudge(Box<Judgement>, Box<JudgeOrder>),
    /// Strike what was seen before.
    Strike(Box<Judgement>),
}

impl Judging {
    /// Asks about a picture.
    pub fn open(&mut self, pour: i64, dry: bool, seen: Option<Vec<Judgement>>) {
        self.open = Some((pour, dry));
        self.seen = seen;
    }

    /// What was seen last, wet or dry as it is asked now.
    fn last(&self) -> Option<&Judgement> {
        let (_, dry) = self.open?;
        self.seen.iter().flatten().rev().find(|one| one.dry == dry)
    }

    /// Whether it was judged before, wet or dry as it is asked now: there is something to put right.
    pub fn was_judged(&self) -> bool {
        self.last().is_some()
    }

    /// Asks no more.
    pub const fn close(&mut self) {
        self.open = None;
    }

    /// Whether a picture is being judged.
    pub const fn is_open(&self) -> bool {
        self.open.is_some()
    }

    /// Why nothing can be put right.
    fn nothing_before(&self) -> String {
        let seen = match self.open {
            Some((_, true)) => "dry",
            _ => "wet",
        };
        match self.seen {
            Some(_) => format!("It was not judged {seen} yet"),
            None => {
                "How a picture was judged is put right on the Rack (3): d, then e or x".to_owned()
            }
        }
    }

    /// What is asked.
    pub fn question(&self) -> Option<String> {
        let (pour, dry) = self.open?;
        let seen = if dry { "dry" } else { "wet" };
        // The keys that put it right and strike it stand in the footer.
        let before = self.last().map(|one| format!(" ({} so far)", one.cells));
        let before = before.unwrap_or_default();
        Some(format!(
            "How many cells has picture {pour}, {seen}{before}? 0 to 5"
        ))
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
                Next::ask(Ask::New(pour), whole(pour, dry, desk))
            }
            Wish::Rejudge | Wish::Strike => {
                let Some(last) = self.last().cloned().map(Box::new) else {
                    desk.refuse(&self.nothing_before());
                    return None;
                };
                self.open = None;
                match wish {
                    Wish::Rejudge => Next::ask(Ask::Rejudge(last.clone()), rejudged(&last, desk)),
                    _ => Some(Next::Do(Deed::Strike(last))),
                }
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
        let order = order.map(Box::new);
        let deed = order.map(|order| match ask {
            Ask::New(pour) => Deed::Judge(*pour, order),
            Ask::Rejudge(was) => Deed::Rejudge(was.clone(), order),
        });
        deed.map(Some).map_err(|wrong| desk.fault(wrong))
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        let now = &desk.beat.now;
        let (judged, corrected) = match deed {
            Deed::Judge(pour, order) => (studio.judge(pour, &order, now)?, false),
            Deed::Rejudge(was, order) => (studio.rejudge(&was, &order, now)?, true),
            Deed::Strike(was) => {
                studio.strike_judgement(&was, now)?;
                return Ok(Outcome::wrote(tell::judgement_struck(&was)));
            }
        };
        let words = tell::judged(&judged, studio.settings()?.good_from);
        let words = match corrected {
            true => format!("Put right: {words}"),
            false => words,
        };
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

/// The same form with what was seen before in it.
fn rejudged(was: &Judgement, desk: &Desk) -> Form {
    let mut form = whole(was.pour, was.dry, desk);
    form.title = format!(
        "Put right how picture {} was judged {}",
        was.pour,
        local(was.at, &desk.beat.now)
    );
    let grade = |grade: Option<u8>| grade.map(|grade| grade.to_string());
    let said = [
        (JudgeField::Cells, grade(Some(was.cells))),
        (JudgeField::Evenness, grade(was.evenness)),
        (JudgeField::Lacing, grade(was.lacing)),
        (JudgeField::Muddy, grade(was.muddy)),
        (JudgeField::Crazed, grade(was.crazed)),
        (JudgeField::Pinholes, grade(was.pinholes)),
        (
            JudgeField::Size,
            was.size.map(|size| size.word().to_owned()),
        ),
        (
            JudgeField::Fate,
            was.fate.map(|fate| fate.word().to_owned()),
        ),
        (JudgeField::Note, was.note.clone()),
    ];
    // A varnishing is a judgement too, and keeps its fate.
    if let (Some(Fate::Varnished), Some(field)) = (was.fate, form.field_mut(JudgeField::Fate)) {
        let words = [Fate::Varnished, Fate::Kept, Fate::Scraped, Fate::Sold];
        *field = field
            .clone()
            .among(words.map(|fate| fate.word().to_owned()).to_vec());
    }
    for (id, said) in said {
        if let (Some(field), Some(said)) = (form.field_mut(id), said) {
            *field = field.clone().offering(&said);
        }
    }
    form
}

/// Its keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(&[char('0')], Wish::Cells(0), "none", "No cells").anyway(),
    bind(&[char('1')], Wish::Cells(1), "", "A few"),
    bind(&[char('2')], Wish::Cells(2), "", "Some"),
    bind(&[char('3')], Wish::Cells(3), "", "Middling"),
    bind(&[char('4')], Wish::Cells(4), "", "Good"),
    bind(
        &[char('5')],
        Wish::Cells(5),
        "the best",
        "As good as they get",
    )
    .anyway(),
    bind(
        &[code(KeyCode::Enter)],
        Wish::Whole,
        "all",
        "All that was seen, in one form: size, evenness, flaws, fate",
    )
    .anyway(),
    bind(
        &[char('e')],
        Wish::Rejudge,
        "put right",
        "Put right what was seen last, wet or dry as it is asked",
    ),
    bind(
        &[char('x')],
        Wish::Strike,
        "strike",
        "Strike what was seen last, wet or dry as it is asked",
    ),
    bind(
        &[char('d')],
        Wish::Dry,
        "wet or dry",
        "Whether the picture is dry",
    )
    .anyway(),
];
