//! `manners`: man pages and what shells need to complete words, shown or put in their places.

use crate::command::complete::ASKED;
use crate::command::report::{Report, Table};
use crate::command::{Arguments, Desk};
use crate::exchange::{Homes, MADE_BY, Stands, put_manner, stands};
use crate::studio::Answer;
use crate::tell::views::{MannerView, MannersView};
use clap::{Args, Command, CommandFactory};
use clap_complete::env::{Bash, EnvCompleter, Fish, Zsh};
use clap_mangen::Man;
use std::path::PathBuf;

/// Whether they are put there.
#[derive(Debug, Args)]
pub struct MannersArguments {
    /// Put them where the platform looks for them; only files of its own are replaced
    #[arg(long)]
    pub install: bool,
}

/// A file for the shell or the reader of man pages.
struct Manner {
    what: &'static str,
    path: PathBuf,
    text: String,
}

impl Desk<'_> {
    pub(super) fn manners(&mut self, typed: &MannersArguments) -> Answer<Report> {
        let mut views = Vec::new();
        let mut table = Table::default();
        for manner in all(self.homes) {
            let stood = match typed.install {
                true => put_manner(self.studio, &manner.path, &manner.text)?,
                false => stands(&manner.path, &manner.text),
            };
            let path = manner.path.display().to_string();
            let state = state(stood, typed.install);
            // Of the pages of single verbs the first stands for all, unless one was left alone.
            if manner.what != VERB_PAGE || stood == Stands::Others {
                table = table.row([manner.what.into(), state.into(), path.clone()]);
            }
            views.push(MannerView {
                what: manner.what.to_owned(),
                state: word(stood, typed.install).to_owned(),
                path,
            });
        }
        let pages = views.iter().filter(|one| one.what == VERB_PAGE).count();
        let report = Report::of(&MannersView { files: views }).table(&table);
        let report = report.line(format!(
            "and beside the man page one for each of {pages} verbs: man stillcup-mix"
        ));
        Ok(match typed.install {
            true => report.lines(NEXT.map(str::to_owned)),
            false => report.line("To put them there: stillcup manners --install"),
        })
    }
}

const VERB_PAGE: &str = "man page of a verb";

const NEXT: [&str; 3] = [
    "A shell that is opened from now on completes verbs, options, marks and names.",
    "zsh: its folder must be in fpath before compinit is called, as in fpath=(~/.local/share/zsh/site-functions $fpath)",
    "bash: the package bash-completion must be there; it looks into this folder by itself, as fish and man do",
];

/// The same in a word.
const fn word(stood: Stands, put: bool) -> &'static str {
    match (stood, put) {
        (Stands::Missing, false) => "missing",
        (Stands::Missing, true) => "written",
        (Stands::Current, _) => "current",
        (Stands::Older, false) => "older",
        (Stands::Older, true) => "replaced",
        (Stands::Others, _) => "foreign",
    }
}

const fn state(stood: Stands, put: bool) -> &'static str {
    match (stood, put) {
        (Stands::Missing, false) => "not there",
        (Stands::Missing, true) => "written",
        (Stands::Current, _) => "there",
        (Stands::Older, false) => "there, of another version",
        (Stands::Older, true) => "replaced",
        (Stands::Others, _) => "left alone: not of this program",
    }
}

fn all(homes: &Homes) -> Vec<Manner> {
    let mut all = vec![
        shell(
            "bash",
            &Bash,
            homes.data.join("bash-completion/completions/stillcup"),
        ),
        shell("zsh", &Zsh, homes.data.join("zsh/site-functions/_stillcup")),
        shell(
            "fish",
            &Fish,
            homes.config.join("fish/completions/stillcup.fish"),
        ),
    ];
    let mut command = Arguments::command().disable_help_subcommand(true);
    command.build();
    pages(&command, homes, &mut all);
    all
}

/// zsh reads the file when it is first asked, and would only answer the second time.
const ZSH_FIRST: &str =
    "[[ $funcstack[1] = _stillcup ]] && _clap_dynamic_completer_stillcup \"$@\"\n";

fn shell(what: &'static str, shell: &dyn EnvCompleter, path: PathBuf) -> Manner {
    let mut script = Vec::new();
    // Into memory nothing fails to be written.
    let _written = shell.write_registration(ASKED, "stillcup", "stillcup", "stillcup", &mut script);
    let script = String::from_utf8_lossy(&script);
    let first = if what == "zsh" { ZSH_FIRST } else { "" };
    let text = format!("{}\n{first}# {MADE_BY}\n", script.trim());
    Manner { what, path, text }
}

fn pages(command: &Command, homes: &Homes, all: &mut Vec<Manner>) {
    let whole = command.get_name() == "stillcup";
    let man = Man::new(command.clone());
    let mut page = Vec::new();
    let _written = man.render(&mut page);
    all.push(Manner {
        what: if whole { "man page" } else { VERB_PAGE },
        path: homes.data.join("man/man1").join(man.get_filename()),
        text: format!(".\\\" {MADE_BY}\n{}", String::from_utf8_lossy(&page)),
    });
    for verb in command.get_subcommands().filter(|verb| !verb.is_hide_set()) {
        pages(verb, homes, all);
    }
}
