//! Judging a picture, wet or dry.

use crate::logbook::Writer;
use crate::studio::pours::rack::is_scraped;
use crate::studio::pours::sales;
use crate::studio::{Answer, Limit, RackLine, Refusal, Remarks, Studio, Warning, facts, lookup};
use crate::trade::act::Act;
use crate::trade::caution::Place;
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
    /// What the picture is called; as before otherwise.
    pub title: Option<String>,
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
        self.book.commit_as(now.at.into(), |write| {
            let read = write.read();
            let poured = read.pour(pour)?.ok_or(Refusal::NoPour(pour))?;
            let (at, _) = lookup::instant(order.at, now)?;
            if at < poured.at {
                return Err(Refusal::Range(Limit::Judgement).into());
            }
            let mut new = judgement(pour, order, at);
            new.id = write.add_judgement(&new)?;
            if let Some(title) = &order.title {
                sales::call(write, pour, title)?;
            }
            let (dry, cells) = (new.dry, new.cells);
            Ok((new, Act::Judged { pour, dry, cells }))
        })
    }
}

impl Studio {
    /// What is odd about a judgement that was just written down.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn judged_remarks(&self, judged: &Judgement, now: &Now) -> Answer<Remarks> {
        let line = self.rack_line(judged.pour)?;
        let touch = line.touch.ok().filter(|band| judged.at < band.low);
        let early = touch.filter(|_| judged.dry && judged.fate != Some(Fate::Scraped));
        let mut warnings: Vec<Warning> = early.map(Warning::DryEarly).into_iter().collect();
        let sold = judged.fate == Some(Fate::Sold);
        let sale = self
            .pictures()?
            .remove(&judged.pour)
            .and_then(|one| one.sale);
        warnings.extend((sold && sale.is_none()).then_some(Warning::SoldUnpriced(judged.pour)));
        Ok(Remarks::from(warnings).dated(judged.at, now))
    }

    /// Writes down that a picture was varnished: it leaves the rack. It is a dry judgement with what the last one saw;
    /// the answer is what speaks against it, and the caution.
    ///
    /// # Errors
    /// Where there is no such pour, it was scraped, was not judged dry yet, was varnished already, or the instant makes no sense.
    pub fn varnish(&mut self, pour: i64, at: Option<Moment>, now: &Now) -> Answer<Remarks> {
        let line = self.rack_line(pour)?;
        if is_scraped(&line.page) {
            return Err(Refusal::Scraped(pour).into());
        }
        let (at, _) = lookup::instant(at, now)?;
        self.book.commit_as(now.at.into(), |write| {
            varnish_within(write, pour, at).map(|()| ((), Act::Varnished { pour }))
        })?;
        let mut warnings: Vec<Warning> = doubts(&line, at).into_iter().collect();
        warnings.extend(facts::cautions(Place::Varnish));
        Ok(Remarks::from(warnings).dated(at, now))
    }
}

fn varnish_within(write: &mut Writer<'_>, pour: i64, at: Moment) -> Answer<()> {
    let all = write.read().judgements(pour)?;
    if all.iter().any(|one| one.fate == Some(Fate::Varnished)) {
        return Err(Refusal::Varnished(pour).into());
    }
    let dry = all.into_iter().rev().find(|one| one.dry && one.at <= at);
    let mut new = dry.ok_or(Refusal::NotSeenDry(pour))?;
    (new.at, new.fate, new.note) = (at, Some(Fate::Varnished), None);
    write.add_judgement(&new)?;
    Ok(())
}

/// What speaks against varnishing now.
fn doubts(line: &RackLine, at: Moment) -> Option<Warning> {
    match &line.varnish {
        Ok(band) if at < band.low => Some(Warning::VarnishedEarly(*band)),
        Ok(_) => None,
        Err(why) => Some(Warning::VarnishUndated(*why)),
    }
}

pub(super) fn judgement(pour: i64, order: &JudgeOrder, at: Moment) -> Judgement {
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

pub(super) fn refuse_grades(order: &JudgeOrder) -> Answer<()> {
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
