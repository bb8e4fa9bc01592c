//! How a command ends: what it prints, and its exit code.

use crate::command::report::Report;
use crate::exchange::Outlet;
use crate::studio::StudioError;
use crate::tell;
use crate::tell::views::RefusedView;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::problem::{ParseProblem, said_back};
use crate::trade::text::{inert, inert_lines};
use clap::error::{ContextKind, ContextValue};
use std::error::Error;
use std::io::{IsTerminal, Write};
use std::process::ExitCode;

/// Done.
const DONE: u8 = 0;
/// Refused: nothing was written.
const REFUSED: u8 = 1;
/// Misused: the words of the command itself were wrong.
const MISUSED: u8 = 2;
/// The store failed.
const FAILED: u8 = 3;
/// Done and kept, but the answer could not be printed.
const UNHEARD: u8 = 4;

/// What the studio could not do, and in which measures that is said.
#[derive(Debug)]
pub struct Undone {
    /// Why.
    pub error: StudioError,
    /// Metric, where the settings were not read yet.
    pub measures: Measures,
}

impl From<StudioError> for Undone {
    fn from(error: StudioError) -> Self {
        let measures = Measures::default();
        Self { error, measures }
    }
}

/// What is done once the answer was told; it answers in words what went wrong.
pub(super) struct Afterwards(Box<dyn FnOnce() -> Option<String>>);

impl Afterwards {
    pub(super) fn new(work: impl FnOnce() -> Option<String> + 'static) -> Self {
        Self(Box::new(work))
    }
}

impl std::fmt::Debug for Afterwards {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Afterwards").finish_non_exhaustive()
    }
}

/// What is printed at the end, and the exit code.
#[derive(Debug, Default)]
pub struct Ending {
    code: u8,
    out: String,
    err: String,
    /// Whether something was kept, which must not be done again for want of an answer.
    kept: bool,
    /// What it is printed through, and may have been begun in.
    outlet: Option<Box<Outlet>>,
    afterwards: Option<Afterwards>,
}

/// Why a text is no whole number, where that is what is wrong: the standard library's own words for it say nothing of
/// a sign between thousands.
fn not_whole(error: &clap::Error) -> Option<Ending> {
    error.source()?.downcast_ref::<std::num::ParseIntError>()?;
    let context = |kind| match error.get(kind)? {
        ContextValue::String(text) => Some(text.as_str()),
        _ => None,
    };
    let said = context(ContextKind::InvalidValue)?;
    let hint = match context(ContextKind::InvalidArg) {
        Some(asked) => format!("say {asked} in digits alone, such as 1000 for a thousand"),
        None => "digits alone, such as 1000 for a thousand".to_owned(),
    };
    let sentence = format!("\"{}\" is no whole number here", said_back(said));
    Some(Ending::said(MISUSED, &sentence, &hint))
}

impl Ending {
    /// The same of a deed that was kept.
    pub(crate) fn kept(self, kept: bool) -> Self {
        Self { kept, ..self }
    }

    /// Printed through this, which may have begun to say it. Half an answer in JSON has no second one after it.
    pub(crate) fn through(self, outlet: Outlet) -> Self {
        let out = match self.code == DONE || !outlet.has_begun() {
            true => self.out,
            false => String::new(),
        };
        Self {
            out,
            outlet: Some(Box::new(outlet)),
            ..self
        }
    }

    /// The same with something that is done once it is told.
    pub(super) fn afterwards(self, afterwards: Option<Afterwards>) -> Self {
        Self { afterwards, ..self }
    }

    /// A report was made.
    pub(crate) fn done(report: &Report, json: bool) -> Self {
        let (out, err) = match report.exact() {
            _ if json => (report.json(), report.notes()),
            // Exact for a program, but nothing in it may act on a terminal.
            Some(exact) if std::io::stdout().is_terminal() => {
                (inert_lines(exact).into_owned(), report.notes())
            }
            Some(exact) => (exact.to_owned(), report.notes()),
            None => (report.text(), String::new()),
        };
        Self {
            code: DONE,
            out,
            err,
            ..Self::default()
        }
    }

    /// A refusal or a failure, in a sentence with a hint.
    pub(crate) fn undone(undone: &Undone, hint: &str, now: &Now, json: bool) -> Self {
        let code = match &undone.error {
            StudioError::Refused(_) => REFUSED,
            StudioError::Store(error) if error.is_refusal() => REFUSED,
            StudioError::Store(_) => FAILED,
        };
        let words = tell::words(&undone.error, undone.measures, now);
        let said = Self::said(code, &words, hint);
        let out = match json {
            true => {
                let (refused, hint) = (words, hint.to_owned());
                Report::of(&RefusedView { refused, hint }).json()
            }
            false => String::new(),
        };
        Self { out, ..said }
    }

    /// Done, with nothing to print.
    #[must_use]
    pub fn silent() -> Self {
        Self::default()
    }

    /// The screen could not be shown.
    #[must_use]
    pub fn unshown(error: &dyn std::error::Error, hint: &str) -> Self {
        Self::said(REFUSED, &error.to_string(), hint)
    }

    /// A value in the environment that cannot be read.
    #[must_use]
    pub fn misused(name: &str, problem: &ParseProblem) -> Self {
        let (why, hint) = (tell::parse::why(problem), tell::parse::hint(problem));
        let sentence = format!("{name}: \"{}\" {why}", problem.said);
        Self::said(MISUSED, &sentence, &hint)
    }

    /// No folder is known for the studio's file.
    #[must_use]
    pub fn homeless() -> Self {
        let sentence = "no home folder is known, so there is no place for the studio's file";
        Self::said(MISUSED, sentence, "name the file: --studio FILE")
    }

    /// The words of the command were wrong, or help was asked for. What was typed is said back inert.
    pub(crate) fn of_clap(error: &clap::Error) -> Self {
        if let Some(ending) = not_whole(error) {
            return ending;
        }
        let text = inert_lines(&error.render().to_string()).into_owned();
        if error.use_stderr() {
            return Self {
                code: MISUSED,
                err: text,
                ..Self::default()
            };
        }
        Self {
            code: DONE,
            out: text,
            ..Self::default()
        }
    }

    fn said(code: u8, sentence: &str, hint: &str) -> Self {
        Self {
            code,
            err: format!("stillcup: {}.\n  {}.\n", inert(sentence), inert(hint)),
            ..Self::default()
        }
    }

    /// Prints what there is to print. A reader that went away early (`| head`) is no fault, unless it was to hear that
    /// something was kept.
    #[must_use]
    pub fn tell(mut self) -> ExitCode {
        let afterwards = self.afterwards.take();
        let code = self.told();
        if let Some(Afterwards(work)) = afterwards {
            answer_is_whole();
            if let Some(words) = work() {
                let words = format!("! {}\n", inert(&words));
                drop(std::io::stderr().lock().write_all(words.as_bytes()));
            }
        }
        code.into()
    }

    fn told(self) -> u8 {
        let mut outlet = self.outlet.unwrap_or_default();
        outlet.say(&self.out);
        let written = outlet.finish();
        drop(std::io::stderr().lock().write_all(self.err.as_bytes()));
        let ending = match written {
            Ok(()) => return self.code,
            Err(error) if self.kept => Self::said(
                UNHEARD,
                &format!("this was done and is kept, but the answer could not be printed: {error}"),
                "do not do it again; stillcup history shows it",
            ),
            Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => {
                return self.code;
            }
            Err(error) => Self::said(
                FAILED,
                &format!("the answer could not be printed: {error}"),
                "nothing was changed; look where the output goes",
            ),
        };
        drop(std::io::stderr().lock().write_all(ending.err.as_bytes()));
        ending.code
    }
}

/// Lets whoever reads the answer through a pipe go on with it, whatever is still done here.
fn answer_is_whole() {
    #[cfg(unix)]
    use rustix::fs::{Mode, OFlags, open};
    #[cfg(unix)]
    if !std::io::stdout().is_terminal()
        && let Ok(nowhere) = open("/dev/null", OFlags::WRONLY, Mode::empty())
    {
        // Where it cannot be closed, the reader waits.
        let _ = rustix::stdio::dup2_stdout(nowhere);
    }
}
