//! Judging a picture, wet or dry.

use crate::studio::{Answer, Refusal, Studio, lookup};
use crate::trade::instant::Now;
use crate::trade::judgement::{CellSize, Fate, Judgement};
use crate::trade::moment::Moment;

/// What was seen. One number for the cells is the least.
#[derive(Debug, Clone, Default)]
pub struct JudgeOrder {
    /// The cells, 0 to 5.
    pub cells: u8,
    /// Whether the picture was dry.
    pub dry: bool,
    /// Their size.
    pub size: Option<CellSize>,
    /// How even they lie, 0 to 5; so of all grades below.
    pub evenness: Option<u8>,
    /// How much lacing.
    pub lacing: Option<u8>,
    /// How muddy.
    pub muddy: Option<u8>,
    /// How crazed.
    pub crazed: Option<u8>,
    /// How many pinholes.
    pub pinholes: Option<u8>,
    /// What became of it.
    pub fate: Option<Fate>,
    /// Anything else.
    pub note: Option<String>,
    /// When; now otherwise.
    pub at: Option<Moment>,
}

impl Studio {
    /// Writes a judgement down.
    ///
    /// # Errors
    /// Where there is no such pour, a grade is over 5, or the instant makes no sense.
    pub fn judge(&mut self, pour: i64, order: &JudgeOrder, now: &Now) -> Answer<Judgement> {
        refuse_grades(order)?;
        let seen = if order.dry { "dry" } else { "wet" };
        let label = format!("judged pour {pour} {seen}: cells {}", order.cells);
        self.book.commit(&label, now.at.into(), |write| {
            let read = write.read();
            let poured = read.pour(pour)?.ok_or(Refusal::NoPour(pour))?;
            let (at, _) = lookup::instant(order.at, now)?;
            if at < poured.at {
                return Err(Refusal::Range {
                    what: "the judgement",
                    range: "after the pour",
                }
                .into());
            }
            let mut new = judgement(pour, order, at);
            new.id = write.add_judgement(&new)?;
            Ok(new)
        })
    }
}

fn judgement(pour: i64, order: &JudgeOrder, at: Moment) -> Judgement {
    Judgement {
        id: 0,
        pour,
        at,
        dry: order.dry,
        cells: order.cells,
        size: order.size,
        evenness: order.evenness,
        lacing: order.lacing,
        muddy: order.muddy,
        crazed: order.crazed,
        pinholes: order.pinholes,
        fate: order.fate,
        note: order.note.clone(),
    }
}

fn refuse_grades(order: &JudgeOrder) -> Answer<()> {
    let grades = [
        ("cells", Some(order.cells)),
        ("evenness", order.evenness),
        ("lacing", order.lacing),
        ("muddy", order.muddy),
        ("crazed", order.crazed),
        ("pinholes", order.pinholes),
    ];
    match grades
        .iter()
        .find(|(_, grade)| grade.is_some_and(|grade| grade > 5))
    {
        Some((what, _)) => Err(Refusal::Grade(what).into()),
        None => Ok(()),
    }
}
