//! Labels: whose lids, laid out, then set.

use super::Progress;
use crate::exchange::paper::{self, LabelSheet, Layout, Printing, Stock};
use crate::studio::orders::LabelOrder;
use crate::studio::{Answer, Lid, Lids, Refusal, Studio};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::units::Millimetres;

/// The least height of a label off a roll that says all there is to say.
const ROLL_HEIGHT: Millimetres = Millimetres(40.0);

/// Labels for lids.
#[derive(Debug, Clone)]
pub struct Labels {
    /// Whose.
    pub whose: Lids,
    /// How large, how many, where on the sheet.
    pub order: LabelOrder,
    /// The sheet's paper; the usual one where none is said.
    pub stock: Option<Stock>,
}

impl Labels {
    /// They as a PDF, and how many there are.
    pub(super) fn made(
        &self,
        studio: &Studio,
        now: &Now,
        told: Progress<'_>,
    ) -> Answer<(Vec<u8>, usize)> {
        let measures = studio.settings()?.measures;
        let printing = Printing {
            layout: self.layout(measures)?,
            copies: self.order.copies,
            measures,
            now,
        };
        let lids = self.lids(studio, now)?;
        let count = self.count(&lids);
        let pdf = paper::labels(&lids, printing, &|done| told(done, count))?;
        Ok((pdf, count))
    }

    /// How many there are, on how many sheets of which paper.
    pub(super) fn preview(&self, studio: &Studio, now: &Now) -> Answer<Vec<String>> {
        let layout = self.layout(studio.settings()?.measures)?;
        let lids = self.lids(studio, now)?;
        let labels = match self.count(&lids) {
            1 => "1 label".to_owned(),
            many => format!("{many} labels"),
        };
        let marks = lids.iter().map(|lid| lid.standing.cup.mark.to_string());
        Ok(vec![
            format!("{labels} {}", self.onto(&layout, self.count(&lids))),
            marks.collect::<Vec<_>>().join(", "),
            "print at 100 %, not fitted to the page".to_owned(),
        ])
    }

    /// `on 2 sheets of A4`, `of 62 x 40 mm off a roll`.
    fn onto(&self, layout: &Layout, count: usize) -> String {
        match layout {
            Layout::Roll((w, h)) => format!("of {} x {} mm off a roll", w.get(), h.get()),
            Layout::Sheet(sheet) => {
                let holds = sheet.holds().max(1) as usize;
                let sheets = (self.order.from as usize - 1 + count).div_ceil(holds);
                let sheets = match sheets {
                    1 => "1 sheet".to_owned(),
                    many => format!("{many} sheets"),
                };
                format!("on {sheets} of {}", sheet.stock.word())
            }
        }
    }

    fn count(&self, lids: &[Lid]) -> usize {
        lids.len() * self.order.copies as usize
    }

    fn lids(&self, studio: &Studio, now: &Now) -> Answer<Vec<Lid>> {
        let lids = studio.lids(&self.whose, now)?;
        let plan = match self.whose {
            Lids::Plan(plan) => Some(plan),
            Lids::Living | Lids::Marked(_) => None,
        };
        match lids.is_empty() {
            true => Err(Refusal::NothingToLabel(plan).into()),
            false => Ok(lids),
        }
    }

    fn layout(&self, measures: Measures) -> Answer<Layout> {
        let order = &self.order;
        if let Some((width, height)) = order.roll {
            let size = (width, height.unwrap_or(ROLL_HEIGHT));
            return Ok(Layout::Roll(
                paper::readable(size).map_err(Refusal::Labels)?,
            ));
        }
        let sheet = LabelSheet {
            stock: self.stock.unwrap_or(Stock::usual(measures)),
            count: order.count,
            label: order.label,
            margin: order.margin,
            gap: order.gap,
            from: order.from,
        };
        Ok(Layout::Sheet(sheet.checked().map_err(Refusal::Labels)?))
    }
}
