//! Completions in the real shells, and pages in a real terminal. A shell that is not here is skipped aloud.

use super::Stage;
use super::hands::Hands;
use portable_pty::CommandBuilder;
use std::path::{Path, PathBuf};
use std::process::Command;

fn program() -> &'static Path {
    Path::new(env!("CARGO_BIN_EXE_stillcup"))
}

fn is_here(shell: &str) -> bool {
    let here = Command::new(shell).arg("-c").arg("true").output().is_ok();
    if !here {
        println!("skipped: {shell} is not here, so its completions were not tried");
    }
    here
}

/// A home in which everything was put in its place.
fn at_home(stage: &Stage) -> PathBuf {
    let home = stage.file().with_file_name("home");
    let put = install(stage, &home).output().unwrap();
    assert!(put.status.success(), "{put:?}");
    home
}

fn install(stage: &Stage, home: &Path) -> Command {
    let mut command = Command::new(program());
    command.args(["manners", "--install"]);
    command.env("STILLCUP_STUDIO", stage.file());
    command.env("HOME", home);
    command.env("XDG_DATA_HOME", home.join("data"));
    command.env("XDG_CONFIG_HOME", home.join("config"));
    command
}

/// A shell with nothing of its own, that finds the program first.
fn shell(words: &[&str], stage: &Stage, home: &Path) -> Hands {
    let mut command = CommandBuilder::new(words[0]);
    command.args(&words[1..]);
    let path = std::env::var("PATH").unwrap();
    let folder = program().parent().unwrap().display();
    command.env("PATH", format!("{folder}:{path}"));
    command.env("STILLCUP_STUDIO", stage.file());
    command.env("HOME", home);
    command.env("XDG_CONFIG_HOME", home.join("config"));
    command.env("XDG_DATA_HOME", home.join("data"));
    Hands::start(command, 160, 40)
}

/// A mark that begins so, a recipe's name with a blank and a verb are written out by the Tab key.
fn completes(hands: &mut Hands, ready: &str) {
    hands.type_amount(&format!("{ready}; echo rea''dy\r"));
    hands.see_text("ready");
    hands.type_amount("stillcup cap K\t");
    hands.see_text("stillcup cap K7");
    hands.type_amount("\u{15}stillcup hist\t");
    hands.see_text("stillcup history");
    hands.type_amount("\u{15}stillcup mix Riv\t");
    hands.see("a name as it is typed", |screen| {
        let shown = screen.contents();
        ["River\\ blue", "'River blue'", "\"River blue\""]
            .iter()
            .any(|name| shown.contains(&format!("stillcup mix {name}")))
    });
    hands.type_amount("\u{15}exit\r");
    hands.see_closed();
}

#[test]
fn bash_completes_marks_and_names() {
    let stage = Stage::with_cups();
    let home = at_home(&stage);
    let script = home.join("data/bash-completion/completions/stillcup");
    if is_here("bash") {
        let mut hands = shell(&["bash", "--norc", "--noprofile", "-i"], &stage, &home);
        completes(&mut hands, &format!("source {}", script.display()));
    }
}

#[test]
fn zsh_completes_marks_and_names() {
    let stage = Stage::with_cups();
    let home = at_home(&stage);
    let folder = home.join("data/zsh/site-functions");
    if is_here("zsh") {
        let mut hands = shell(&["zsh", "-f", "-i"], &stage, &home);
        let ready = format!(
            "fpath=({} $fpath); autoload -U compinit; compinit -u -D; bindkey '^U' kill-whole-line",
            folder.display()
        );
        completes(&mut hands, &ready);
    }
}

#[test]
fn fish_completes_marks_and_names() {
    let stage = Stage::with_cups();
    let home = at_home(&stage);
    if is_here("fish") {
        // Fish finds what was put into its folder by itself.
        let mut hands = shell(&["fish", "-i"], &stage, &home);
        completes(&mut hands, "true");
    }
}

#[test]
fn completions_make_nothing_and_say_nothing_of_a_fault() {
    let stage = Stage::empty();
    let ask = |file: &Path| {
        let mut asked = Command::new(program());
        asked.args(["--", "stillcup", "cap", ""]);
        asked
            .env("STILLCUP_COMPLETE", "fish")
            .env("STILLCUP_STUDIO", file);
        asked.output().unwrap()
    };
    let missing = stage.file().with_file_name("none.db");
    let broken = stage.file().with_file_name("broken.db");
    std::fs::write(&broken, "no studio at all").unwrap();
    for file in [&missing, &broken] {
        let said = ask(file);
        assert!(said.status.success() && said.stderr.is_empty(), "{said:?}");
    }
    let there: Vec<_> = std::fs::read_dir(stage.file().parent().unwrap())
        .unwrap()
        .collect();
    assert_eq!(there.len(), 1, "only the broken file itself");
}

#[test]
fn only_what_it_put_there_itself_is_replaced() {
    let stage = Stage::with_cups();
    let home = at_home(&stage);
    let [mine, yours] = [
        "data/man/man1/stillcup.1",
        "config/fish/completions/stillcup.fish",
    ]
    .map(|file| home.join(file));
    let newest = std::fs::read_to_string(&mine).unwrap();
    std::fs::write(&mine, newest.replace("pour painter", "painter")).unwrap();
    std::fs::write(&yours, "# my own\n").unwrap();
    let said = install(&stage, &home).output().unwrap();
    let said = String::from_utf8(said.stdout).unwrap();
    assert_eq!(std::fs::read_to_string(&mine).unwrap(), newest);
    assert_eq!(std::fs::read_to_string(&yours).unwrap(), "# my own\n");
    assert!(
        said.contains("replaced") && said.contains("left alone"),
        "{said}"
    );
}

#[test]
fn a_long_answer_is_paged_on_a_terminal_and_a_short_one_is_not() {
    let stage = Stage::with_cups();
    let said = |words: &[&str], rows| {
        let mut command = CommandBuilder::new(program());
        command.args(words);
        command.env("STILLCUP_STUDIO", stage.file());
        command.env("PAGER", "sed 's/^/page: /'");
        Hands::start(command, 80, rows).see_closed().0
    };
    let paged = said(&["cautions"], 10);
    let lines: Vec<&str> = paged.lines().filter(|line| !line.is_empty()).collect();
    assert!(
        lines.iter().any(|line| line.starts_with("page: ")),
        "{paged}"
    );
    assert!(!said(&["cautions", "--no-pager"], 10).contains("page: "));
    assert!(!said(&["settings"], 40).contains("page: "));
    assert!(!said(&["cautions", "--json"], 10).contains("page: "));
}
