//! Arguments to studio file to screen or command to exit code; nothing else.
fn main() {}
