//! Findings: what goes with good pours, and what to try next.

pub(crate) mod best;
pub(crate) mod drift;
pub(crate) mod evidence;
pub(crate) mod factors;
pub(crate) mod logged;
pub(crate) mod measured;
pub(crate) mod next;
pub(crate) mod ranking;
pub(crate) mod reasons;
