//! Trials: pours that vary chosen things on purpose.

pub(crate) mod trial;
pub(crate) mod trial_curve;
pub(crate) mod trial_drawing;
pub(crate) mod trial_findings;
pub(crate) mod trial_run;
