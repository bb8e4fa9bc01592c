//! Work on a thread of its own, so that no key waits for it: begun once, looked for at each tick, told how far it is.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, TryRecvError, channel};
use std::thread;
use std::time::Duration;

/// What takes less is awaited, so that nothing flickers.
const AWAITED: Duration = Duration::from_millis(20);

/// Something that is being worked out. Dropped, its result is thrown away.
#[derive(Debug)]
pub struct Later<T> {
    result: Receiver<T>,
    steps: Arc<AtomicUsize>,
}

impl<T: Send + 'static> Later<T> {
    /// Begins work that tells how many steps it has done. None where no thread is to be had.
    pub fn begin(work: impl FnOnce(&dyn Fn(usize)) -> T + Send + 'static) -> Option<Self> {
        let (done, result) = channel();
        let steps = Arc::new(AtomicUsize::new(0));
        let counted = Arc::clone(&steps);
        let run = move || {
            let told = work(&|so_far| counted.store(so_far, Ordering::Relaxed));
            // Nobody may wait any more.
            let _ = done.send(told);
        };
        thread::Builder::new().spawn(run).ok()?;
        Some(Self { result, steps })
    }

    /// The result, once, when it is there; an error where the work came to no end.
    ///
    /// # Errors
    /// Where the thread ended without a result.
    pub fn result(&self) -> Result<Option<T>, Ended> {
        match self.result.recv_timeout(AWAITED) {
            Ok(told) => Ok(Some(told)),
            Err(RecvTimeoutError::Timeout) => Ok(None),
            Err(RecvTimeoutError::Disconnected) => Err(Ended),
        }
    }

    /// The same without waiting at all.
    ///
    /// # Errors
    /// As [`Later::result`].
    pub fn glance(&self) -> Result<Option<T>, Ended> {
        match self.result.try_recv() {
            Ok(told) => Ok(Some(told)),
            Err(TryRecvError::Empty) => Ok(None),
            Err(TryRecvError::Disconnected) => Err(Ended),
        }
    }

    /// The result, waited for however long it takes.
    ///
    /// # Errors
    /// As [`Later::result`].
    pub fn wait(self) -> Result<T, Ended> {
        self.result.recv().map_err(|_| Ended)
    }

    /// How many steps were done so far.
    pub fn steps(&self) -> usize {
        self.steps.load(Ordering::Relaxed)
    }
}

/// Work that ended without a result.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ended;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_is_told_how_far_it_is_and_its_result_comes_once() {
        let (go, wait) = channel::<()>();
        let later = Later::begin(move |told| {
            told(7);
            let _ = wait.recv();
            42
        });
        let later = later.unwrap();
        while later.steps() < 7 {
            thread::yield_now();
        }
        assert_eq!(later.result(), Ok(None));
        go.send(()).unwrap();
        let told = loop {
            if let Some(told) = later.result().unwrap() {
                break told;
            }
        };
        assert_eq!((told, later.result()), (42, Err(Ended)));
    }
}
