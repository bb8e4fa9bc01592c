//! The wording of when a film is dry.

use crate::studio::{Dates, ends};
use crate::tell::models;
use crate::trade::instant::Now;

/// `28 Nov to 3 Dec`, or why no date can be said.
#[must_use]
pub fn dates(dates: &Dates, now: &Now) -> String {
    match dates {
        Ok(band) => {
            let (low, high) = ends(*band, now);
            format!("{low} to {high}")
        }
        Err(why) => models::drying(*why),
    }
}
