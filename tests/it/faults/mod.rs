//! What goes wrong around the program: a disk that fails or is full, a process that is killed, files that are
//! broken, lost or not to be written, clocks that jump, hostile text, many at once. Nothing is ever torn, and what
//! is said is true.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a helper of a test fails the test, as the test itself may"
)]

mod altered;
mod broken;
mod clocks;
mod contradicting;
mod denied;
mod disk;
mod full;
mod gone;
pub(crate) mod hostile;
mod keeping;
mod killed;
mod leaving;
mod links;
mod network;
mod overwriting;
mod power;
mod private;
pub(crate) mod program;
mod readable;
mod restoring;
mod stopped;
mod together;
mod unheard;
mod wording;
