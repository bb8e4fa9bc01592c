//! Labels: whose lids, laid out, then set.

use super::Progress;
use crate::exchange::paper::{self, LabelSheet, Layout, Printing};
use crate::studio::orders::LabelOrder;
use crate::studio::{Answer, LabelsOnto, Lid, Lids, Preview, Refusal, Studio};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::paper::PaperSize;
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
    pub paper: Option<PaperSize>,
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

    /// How many there are, on what, and whose.
    pub(super) fn preview(&self, studio: &Studio, now: &Now) -> Answer<Preview> {
        let layout = self.layout(studio.settings()?.measures)?;
        let lids = self.lids(studio, now)?;
        let labels = self.count(&lids);
        Ok(Preview::Labels {
            labels,
            onto: self.onto(&layout, labels),
            marks: lids.into_iter().map(|lid| lid.standing.cup.mark).collect(),
        })
    }

    /// The roll, or how many sheets so many labels take.
    fn onto(&self, layout: &Layout, count: usize) -> LabelsOnto {
        match layout {
            Layout::Roll(label) => LabelsOnto::Roll(*label),
            Layout::Sheet(sheet) => {
                let holds = sheet.holds().max(1) as usize;
                let sheets = (self.order.from as usize - 1 + count).div_ceil(holds);
                LabelsOnto::Sheets(sheets, sheet.paper)
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
            paper: self.paper.unwrap_or(PaperSize::usual(measures)),
            count: order.count,
            label: order.label,
            margin: order.margin,
            gap: order.gap,
            from: order.from,
        };
        Ok(Layout::Sheet(sheet.checked().map_err(Refusal::Labels)?))
    }
}
