//! Stillcup: the logbook and bench computer of a pour painter's studio.
//!
//! The house has eight rooms, and a door opens only one way:
//!
//! | room | holds | may know |
//! |---|---|---|
//! | [`trade`] | what a studio is: materials, recipes, cups, panels, pours; pure | nobody |
//! | [`numbers`] | what is computed, one model a file; pure | trade |
//! | [`logbook`] | the SQLite store, the only room that knows SQL | trade |
//! | [`studio`] | what the painter does, told once | trade, numbers, logbook |
//! | [`tell`] | the wording of every fact, once for both faces | trade, numbers, studio |
//! | [`exchange`] | what comes in and goes out | trade, numbers, studio, tell |
//! | [`screen`] | the terminal: keys, model, view | studio, trade, numbers, tell, exchange |
//! | [`command`] | the command line | studio, trade, numbers, tell, exchange |
//!
//! Beside them stands the [`clock`], which main hands to the screen and the commands.
//!
//! `tests/it/house.rs` reads every `use` and fails on a door that should be shut.

// The stage of the tests, which those of the real program use too, names the program as they do.
#[cfg(test)]
extern crate self as stillcup;

pub mod clock;
pub mod command;
pub mod exchange;
pub mod logbook;
pub mod numbers;
pub mod screen;
pub mod studio;
pub mod tell;
pub mod trade;
