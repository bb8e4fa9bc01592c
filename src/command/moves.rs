//! The moves of a panel, in the order in which they were typed: `--spin cw:2 --tilt left --spin ccw:2`.

use crate::studio::orders::{PourField, Typed};
use crate::trade::pour::MoveKind;
use clap::{Arg, ArgAction, ArgMatches, Args, Command, FromArgMatches};

/// Moves as they were typed.
#[derive(Debug, Clone, Default)]
pub struct Moves(Vec<(MoveKind, String)>);

impl Moves {
    /// The texts of a pour with these, each in its field.
    pub(super) fn typed_into(self, typed: Typed<PourField>) -> Typed<PourField> {
        let put = |typed: Typed<_>, (kind, text)| typed.given(PourField::Move(kind), Some(text));
        self.0.into_iter().fold(typed, put)
    }
}

impl FromArgMatches for Moves {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        let mut placed = Vec::new();
        for &kind in MoveKind::ALL {
            let places = matches.indices_of(kind.word()).into_iter().flatten();
            let texts = matches
                .get_many::<String>(kind.word())
                .into_iter()
                .flatten();
            placed.extend(
                places
                    .zip(texts)
                    .map(|(place, text)| (place, kind, text.clone())),
            );
        }
        placed.sort_by_key(|(place, ..)| *place);
        Ok(Self(
            placed
                .into_iter()
                .map(|(_, kind, text)| (kind, text))
                .collect(),
        ))
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

impl Args for Moves {
    fn augment_args(command: Command) -> Command {
        MoveKind::ALL
            .iter()
            .fold(command, |command, kind| command.arg(argument(*kind)))
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}

fn argument(kind: MoveKind) -> Arg {
    let help = match kind {
        MoveKind::Tilt => "Tipped to a side: left, or left:2",
        MoveKind::Spin => "Turned: cw:2, ccw:2",
        MoveKind::Blow => "Blown",
        MoveKind::Swipe => "Wiped across",
        MoveKind::Torch => {
            "Passed over with a flame (never over solvent- or alcohol-thinned paint)"
        }
    };
    Arg::new(kind.word())
        .long(kind.word())
        .value_name("WAY:TIMES")
        .help(help)
        .action(ArgAction::Append)
        .num_args(0..=1)
        .default_missing_value("")
}
