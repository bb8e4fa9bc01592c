//! The page that says what went with good pours, and what to try next: words first.

use crate::numbers::statistics::findings::Finding;
use crate::screen::sheet::Sheet;
use crate::studio::{Findings, Reasons};

/// A q below this is a sign worth speaking of; the rest are listed after it.
const A_SIGN: f64 = 0.1;

/// The page.
pub fn sheet(found: &Findings, reasons: &Reasons) -> Sheet {
    let mut sheet = Sheet::titled("What went with good pours");
    let (good, pours) = (found.good, found.pours);
    sheet.words(&format!(
        "{good} of {pours} judged pours are good (cells {} or more).",
        found.bar
    ));
    if found.too_early {
        sheet.words("It is too early to tell: judge more pours, good and bad ones.");
    }
    let sign = |one: &&Finding| one.q.is_some_and(|q| q < A_SIGN);
    sheet.heading("to try next");
    for one in &reasons.next {
        sheet.beside(&format!("{} v{}", one.recipe, one.variant), &one.why);
    }
    sheet.heading("signs");
    let signs: Vec<&Finding> = reasons.factors.iter().filter(sign).collect();
    if signs.is_empty() {
        sheet.words("None that would not turn up by chance among so many factors.");
    }
    signs.iter().for_each(|one| sheet.words(&one.words));
    sheet.heading("the few that matter, together");
    match &reasons.fit {
        Ok(joint) => joint.words.iter().for_each(|words| sheet.words(words)),
        Err(why) => sheet.words(why),
    }
    sheet.heading("everything that was looked at");
    let rest = reasons.factors.iter().filter(|one| !sign(one));
    rest.for_each(|one| sheet.words(&one.words));
    sheet
}
