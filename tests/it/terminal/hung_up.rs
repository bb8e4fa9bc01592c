//! A terminal that is closed under the program ends it: nothing goes on spinning where nobody is.

use super::Stage;
use super::hands::program;
use portable_pty::{PtySize, native_pty_system};
use std::io::Read;
use std::sync::mpsc;
use std::time::Duration;

#[test]
fn a_terminal_that_hangs_up_ends_it() {
    let stage = Stage::with_cups();
    let size = PtySize {
        rows: 24,
        cols: 80,
        pixel_width: 0,
        pixel_height: 0,
    };
    let pair = native_pty_system().openpty(size).unwrap();
    let mut child = pair.slave.spawn_command(program(&stage)).unwrap();
    drop(pair.slave);
    let mut killer = child.clone_killer();
    let mut reader = pair.master.try_clone_reader().unwrap();
    let mut drawn = [0; 64];
    assert!(reader.read(&mut drawn).unwrap() > 0, "it was drawn");
    drop((reader, pair.master));
    let (tell, told) = mpsc::channel();
    std::thread::spawn(move || tell.send(child.wait()));
    let ended = told.recv_timeout(Duration::from_secs(30));
    // A program that went on must not outlive its test.
    let _ = killer.kill();
    assert!(ended.is_ok(), "it went on without a terminal");
}
