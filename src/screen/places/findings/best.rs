//! The best settings: worked out on a thread of its own, a setting chosen, its curve drawn.

use super::{BEST, Wish};
use crate::screen::kit::keys::key_of;
use crate::screen::kit::later::Later;
use crate::screen::kit::step::Step;
use crate::studio::{BestSettings, Curve, NoSurface, Tried};
use crate::tell;

type Found = Result<BestSettings, NoSurface>;

/// What is known of the best settings, and the setting in hand.
#[derive(Debug, Default)]
pub struct Best {
    later: Option<Later<Found>>,
    told: Option<Found>,
    /// The chosen setting.
    pub at: usize,
    pours: usize,
    ended: bool,
}

impl Best {
    /// Begins with what was set so far.
    pub fn begin(&mut self, tried: Result<Tried, NoSurface>) {
        match tried {
            Err(why) => self.told = Some(Err(why)),
            Ok(tried) => {
                self.pours = tried.rows.len();
                self.later = Later::begin(move |watch| tried.best(watch));
                self.ended = self.later.is_none();
                self.poll();
            }
        }
    }

    /// Whether it is still being worked out.
    pub const fn is_waiting(&self) -> bool {
        self.later.is_some()
    }

    /// Looks whether it is there.
    pub fn poll(&mut self) {
        let Some(later) = &self.later else { return };
        match later.result() {
            Ok(None) => return,
            Ok(Some(told)) => self.told = Some(told),
            Err(_) => self.ended = true,
        }
        self.later = None;
        self.at = self.at.min(self.curves().len().saturating_sub(1));
    }

    /// What was found, once it is.
    pub fn found(&self) -> Option<&BestSettings> {
        self.told.as_ref()?.as_ref().ok()
    }

    /// Each setting's curve.
    pub fn curves(&self) -> &[Curve] {
        self.found().map_or(&[], |found| &found.curves)
    }

    /// Another setting.
    pub fn step(&mut self, step: Step) {
        self.at = step.from(self.at, self.curves().len());
    }

    /// What to set next; or what is known, or how far it is.
    pub fn headline(&self) -> String {
        if let Some(later) = &self.later {
            return format!(
                "Fitting a surface to {} pours: {} tried so far.",
                self.pours,
                later.steps()
            );
        }
        if let Some(advice) = self.found().and_then(|found| found.advice.as_ref()) {
            let plan = key_of(BEST, &Wish::Plan);
            return format!(
                "{plan} plans these settings: {}.",
                tell::best::promise(advice)
            );
        }
        match &self.told {
            Some(told) => tell::best::lines(told).pop().unwrap_or_default(),
            None if self.ended => "The surface could not be worked out.".to_owned(),
            None => "Looking at what was set so far.".to_owned(),
        }
    }

    /// Whether anything is advised.
    pub fn is_advised(&self) -> bool {
        self.found().is_some_and(|found| found.advice.is_some())
    }

    /// What to set, and what that rests on; nothing where nothing is advised.
    pub fn beneath(&self) -> Vec<String> {
        let told = self.told.as_ref().filter(|_| self.is_advised());
        let mut told = told.map(tell::best::lines).unwrap_or_default();
        told.reverse();
        told
    }
}
