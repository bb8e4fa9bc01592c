//! What a key means, before anything is done about it.

use crate::screen::kit::form::Edit;
use crate::screen::kit::step::Step;
use crate::screen::{
    Screen,
    places::{
        bench, findings, judging, outgoing, photos, plan, pour, rack, recipes, shelf, trials,
    },
};

/// A wish of the painter's. It carries no text: typing is one character at a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
    /// Another screen.
    Go(Screen),
    /// The next cup that wants a hand.
    NextHand,
    /// The keys of this place.
    Help,
    /// What was done, newest first.
    History,
    /// The messages kept.
    Messages,
    /// The last deed taken back.
    Undo,
    /// The deed that is chosen in the history taken back.
    UndoChosen,
    /// A file is to be written: which?
    WriteOut,
    /// The deed taken back done again.
    Redo,
    /// The end.
    Quit,
    /// The message was read; or what lies over the screen goes away.
    Back,
    /// Another line.
    Step(Step),
    /// A line is found by what is typed.
    Seek(Seek),
    /// A form's own key.
    Form(Edit),
    /// A wish of the Bench.
    Bench(bench::Wish),
    /// A wish of the Pour.
    Pour(pour::Wish),
    /// A wish while a picture is judged.
    Judging(judging::Wish),
    /// A wish among a pour's photos.
    Photos(photos::Wish),
    /// A kind of file that is to be written.
    Outgoing(outgoing::Wish),
    /// A wish of the Rack.
    Rack(rack::Wish),
    /// A wish of the Shelf.
    Shelf(shelf::Wish),
    /// A wish of the Recipes.
    Recipes(recipes::Wish),
    /// A wish of the Findings.
    Findings(findings::Wish),
    /// A wish of the Plan.
    Plan(plan::Wish),
    /// A wish of the Trials.
    Trials(trials::Wish),
}

impl Action {
    /// Whether it begins, ends or changes a step of what is done step by step.
    pub const fn ends_a_step(self) -> bool {
        matches!(
            self,
            Self::Pour(
                pour::Wish::Begin
                    | pour::Wish::Next
                    | pour::Wish::Previous
                    | pour::Wish::LeaveOut
                    | pour::Wish::MoveNow(_)
            ) | Self::Plan(plan::Wish::MixSteps | plan::Wish::Tick | plan::Wish::Untick)
        )
    }
}

/// A key while a line is sought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seek {
    /// Stay on the line that was found.
    End,
    /// Begins.
    Begin,
    /// One more character.
    Insert(char),
    /// The last one away.
    Backspace,
}
