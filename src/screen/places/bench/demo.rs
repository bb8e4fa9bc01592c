//! The demo is made on a thread of its own: months of a studio's life take a while, and keys are answered meanwhile.

use crate::exchange::make_demo;
use crate::screen::kit::later::Later;
use crate::studio::{Answer, DEMO_SESSIONS, StudioError};
use crate::trade::instant::Now;
use std::path::{Path, PathBuf};

/// A demo in the making.
#[derive(Debug)]
pub struct Making {
    file: PathBuf,
    made: Later<Answer<()>>,
}

impl Making {
    /// Begins to make the demo in a file. None where no thread is to be had.
    pub fn begin(file: PathBuf, now: Now) -> Option<Self> {
        let target = file.clone();
        Self::of(file, move |told| make_demo(&target, &now, told))
    }

    fn of(
        file: PathBuf,
        make: impl FnOnce(&dyn Fn(usize)) -> Answer<()> + Send + 'static,
    ) -> Option<Self> {
        let made = Later::begin(make)?;
        Some(Self { file, made })
    }

    /// How far it is, in words.
    pub fn told(&self) -> String {
        let day = self.made.steps().max(1);
        format!("The demo is being made: day {day} of {DEMO_SESSIONS}; go on meanwhile")
    }

    /// The file, once it is made; none before.
    ///
    /// # Errors
    /// Why none could be made, where that is known.
    pub fn made(&self) -> Result<Option<&Path>, Option<StudioError>> {
        match self.made.result() {
            Ok(None) => Ok(None),
            Ok(Some(Ok(()))) => Ok(Some(&self.file)),
            Ok(Some(Err(error))) => Err(Some(error)),
            Err(_) => Err(None),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::Refusal;

    /// How it ends.
    fn end(making: &Making) -> Result<PathBuf, Option<StudioError>> {
        loop {
            if let Some(file) = making.made()? {
                return Ok(file.to_owned());
            }
        }
    }

    #[test]
    fn it_is_told_how_far_it_is_and_then_gone_over_to() {
        let (go, wait) = std::sync::mpsc::channel::<()>();
        let file = PathBuf::from("demo.db");
        let making = Making::of(file.clone(), move |told| {
            told(7);
            let _ = wait.recv();
            Ok(())
        });
        let making = making.unwrap();
        while making.made.steps() < 7 {
            std::thread::yield_now();
        }
        assert!(matches!(making.made(), Ok(None)));
        assert!(making.told().contains("day 7 of 36"), "{}", making.told());
        go.send(()).unwrap();
        assert!(matches!(end(&making), Ok(made) if made == file));
    }

    #[test]
    fn what_cannot_be_made_is_said() {
        let making = Making::of(PathBuf::new(), |_| Err(Refusal::DemoNotHere.into()));
        assert!(matches!(end(&making.unwrap()), Err(Some(_))));
    }
}
