//! A judgement put right, or struck: the history keeps what it was.

use crate::logbook::Reader;
use crate::studio::pours::judge::{judgement, refuse_grades};
use crate::studio::pours::sales;
use crate::studio::{Answer, JudgeOrder, Limit, Refusal, Studio, lookup};
use crate::trade::act::Act;
use crate::trade::instant::Now;
use crate::trade::judgement::Judgement;

impl Studio {
    /// What was seen of a picture last, wet or dry.
    ///
    /// # Errors
    /// Where there is no such pour, or it was not judged so.
    pub fn last_judgement(&self, pour: i64, dry: bool) -> Answer<Judgement> {
        let read = self.book.read()?;
        read.pour(pour)?.ok_or(Refusal::NoPour(pour))?;
        let all = read.judgements(pour)?.into_iter();
        let last = all.rev().find(|one| one.dry == dry);
        Ok(last.ok_or(Refusal::NotJudged { pour, dry })?)
    }

    /// Puts a judgement right: all of it is what the order says, its instant stays where none is said.
    ///
    /// # Errors
    /// As [`Studio::judge`], and where it is no longer there.
    pub fn rejudge(&mut self, was: &Judgement, order: &JudgeOrder, now: &Now) -> Answer<Judgement> {
        refuse_grades(order)?;
        self.book.commit_as(now.at.into(), |write| {
            let stands = stands(&write.read(), was)?;
            let poured = write.read().pour(was.pour)?;
            let poured = poured.ok_or(Refusal::NoPour(was.pour))?;
            let at = order.at.map(|at| lookup::instant(Some(at), now));
            let at = at.transpose()?.map_or(stands.at, |(at, _)| at);
            if at < poured.at {
                return Err(Refusal::Range(Limit::Judgement).into());
            }
            let new = Judgement {
                id: stands.id,
                ..judgement(was.pour, order, at)
            };
            write.change_judgement(&new)?;
            if let Some(title) = &order.title {
                sales::call(write, was.pour, title)?;
            }
            let (pour, dry, cells) = (new.pour, new.dry, new.cells);
            Ok((new, Act::Rejudged { pour, dry, cells }))
        })
    }

    /// Strikes a judgement.
    ///
    /// # Errors
    /// Where it is no longer there.
    pub fn strike_judgement(&mut self, was: &Judgement, now: &Now) -> Answer<()> {
        self.book.commit_as(now.at.into(), |write| {
            let stands = stands(&write.read(), was)?;
            write.strike_judgement(stands.id)?;
            let (pour, dry, cells) = (stands.pour, stands.dry, stands.cells);
            Ok(((), Act::JudgementStruck { pour, dry, cells }))
        })
    }
}

fn stands(read: &Reader<'_>, was: &Judgement) -> Answer<Judgement> {
    let mut all = read.judgements(was.pour)?.into_iter();
    Ok(all.find(|one| one.id == was.id).ok_or(Refusal::EntryGone)?)
}
