//! Arguments to studio file to screen or command to exit code; nothing else.

use etcetera::BaseStrategy;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use stillcup::clock::Clock;
use stillcup::command::{self, Arguments, Ending, Manner, Verb};
use stillcup::exchange::{Homes, keys_file};
use stillcup::screen;
use stillcup::studio::{Studio, refuse_no_folder};

fn main() -> ExitCode {
    outlive_full_files();
    if let Some(shell) = std::env::var_os(command::ASKED) {
        let usual = named_file().or_else(|| usual_file().ok());
        command::complete(&shell, std::env::args_os().collect(), usual);
        return ExitCode::SUCCESS;
    }
    Arguments::read(std::env::args_os())
        .and_then(begin)
        .unwrap_or_else(|ending| ending)
        .tell()
}

fn begin(arguments: Arguments) -> Result<Ending, Ending> {
    let clock = clock()?;
    let named = arguments.studio.clone().or_else(named_file);
    let file = match (&named, &arguments.verb) {
        // Only the usual place is made; in one that was named, a missing folder is a slip of the finger.
        (Some(file), _) => {
            refuse_no_folder(file).map_err(|error| {
                command::undone(&error.into(), file, &clock.now(), arguments.json)
            })?;
            file.clone()
        }
        // The demo never mixes with a studio of one's own.
        (None, Some(Verb::Demo)) => usual_file()?.with_file_name("demo.db"),
        (None, _) => usual_file()?,
    };
    let homes = homes();
    // What has its place in a person's own folders has none where nobody knows them.
    if homes.is_none() && matches!(arguments.verb, Some(Verb::Manners(_))) {
        return Err(Ending::homeless());
    }
    let manner = Manner {
        homes: &homes.clone().unwrap_or_default(),
        json: arguments.json,
        pages: !arguments.no_pager,
    };
    match arguments.verb {
        Some(verb) => Ok(command::run(verb, &file, &clock, manner)),
        None => show(&file, &clock, (homes.as_ref(), arguments.plain)),
    }
}

fn show(
    file: &Path,
    clock: &Clock,
    (homes, plain): (Option<&Homes>, bool),
) -> Result<Ending, Ending> {
    let studio = Studio::open(file)
        .map_err(|error| command::undone(&error.into(), file, &clock.now(), false))?;
    if let Some((name, text)) = homes.and_then(keys_file) {
        screen::take_keys(&name, text.as_deref());
    }
    let run = if plain {
        screen::run_in_lines
    } else {
        screen::run
    };
    match run(studio, file, &|| clock.now()) {
        Ok(()) => Ok(Ending::silent()),
        Err(error) => Err(Ending::unshown(&error, error.hint())),
    }
}

/// `STILLCUP_NOW` stops the clock, or lets it run from there as fast as it says; `TZ`, else the system, says in which zone it is told.
fn clock() -> Result<Clock, Ending> {
    if let Some(text) = std::env::var_os("STILLCUP_NOW") {
        return Clock::rehearsal(&text.to_string_lossy())
            .map_err(|problem| Ending::misused("STILLCUP_NOW", &problem));
    }
    let zone = std::env::var("TZ")
        .ok()
        .or_else(|| iana_time_zone::get_timezone().ok());
    Ok(Clock::system(zone.as_deref()))
}

/// A file that may grow no further (`ulimit -f`) is an answer to a write, as a full disk is, and not the end.
fn outlive_full_files() {
    #[cfg(unix)]
    {
        use signal_hook::{consts::SIGXFSZ, flag};
        // A handler that does nothing keeps the signal from ending the program; where none can be set, it ends it as ever.
        drop(flag::register(SIGXFSZ, std::sync::Arc::default()));
    }
}

/// The file that the environment names; a name of nothing is none.
fn named_file() -> Option<PathBuf> {
    let named = std::env::var_os("STILLCUP_STUDIO")?;
    (!named.is_empty()).then(|| named.into())
}

/// The person's own folders, where they are known.
fn homes() -> Option<Homes> {
    let folders = etcetera::choose_base_strategy().ok()?;
    Some(Homes {
        data: folders.data_dir(),
        config: folders.config_dir(),
    })
}

/// The platform's folder for data.
fn usual_file() -> Result<PathBuf, Ending> {
    let folders = etcetera::choose_base_strategy().map_err(|_| Ending::homeless())?;
    Ok(folders.data_dir().join("stillcup").join("studio.db"))
}
