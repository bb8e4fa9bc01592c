//! What to do next after a refusal: the command line names commands, the screen names keys.

use crate::numbers::statistics::factorial::DesignError;
use crate::studio::{Limit, OutOfModel, Refusal, RunFault, StudioError};
use crate::tell::store::store_hint;
use crate::tell::{exchanged, known, lists, outgoing, parse, photo_files};
use crate::trade::mark::Mark;
use crate::trade::pour::PourProblem;
use crate::trade::text::inert;

/// Where a person reads it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// The command line: a hint names commands.
    CommandLine,
    /// The screen: a hint names keys.
    Screen,
}

impl Face {
    /// What is said here, of what is said on each.
    fn pick(self, commands: &str, keys: &str) -> String {
        self.pick_one(commands, keys).to_owned()
    }

    /// The same, where nothing is put into it.
    pub(super) const fn pick_one<'a>(self, commands: &'a str, keys: &'a str) -> &'a str {
        match self {
            Self::CommandLine => commands,
            Self::Screen => keys,
        }
    }
}

/// What to do next, as one sentence without its full stop.
#[must_use]
pub fn hint(error: &StudioError, face: Face) -> String {
    match error {
        StudioError::Refused(refusal) => of_refusal(refusal, face),
        StudioError::Store(error) => store_hint(error, face),
    }
}

fn of_refusal(refusal: &Refusal, face: Face) -> String {
    let both = |words: &str| words.to_owned();
    let pick = |commands, keys| face.pick(commands, keys);
    match refusal {
        Refusal::Words(problem) => parse::hint(problem),
        Refusal::File(fault) => exchanged::hint(fault, face).to_owned(),
        Refusal::List(fault) => lists::hint(fault, face),
        Refusal::PhotoFile { why, .. } => photo_files::problem_hint(why).to_owned(),
        Refusal::Labels(fault) => outgoing::labels_hint(*fault).to_owned(),
        Refusal::Photo { why, .. } => super::photos::hint(*why, face).to_owned(),
        Refusal::NoPhoto(_) => pick(
            "stillcup photos shows which there are",
            "it was dropped, or its adding was taken back",
        ),
        Refusal::NotMeasured(photo) => pick(
            &format!("measure it anew: stillcup photo again {photo}"),
            "m measures it anew",
        ),
        Refusal::NoOriginal(_) => pick(
            "copy it into the studio's photo folder again; stillcup photos check tells all",
            "copy it into the studio's photo folder again",
        ),
        Refusal::PhotoKept { photo, .. } => pick(
            &format!("to measure it anew: stillcup photo again {photo}"),
            "m on it measures it anew",
        ),
        Refusal::Pour(problem) => of_pour(problem, face),
        Refusal::NoMark { .. } => both("such as K7: two or three of A-Z and 2-9, without I, L, O"),
        Refusal::UnknownMark(_, near) | Refusal::Spent(_, near) => near_marks(near),
        Refusal::SpentSince(pour, _) => pick(
            &format!("start it over with other cups: stillcup again {pour} --layer MARK:AMOUNT"),
            "put other cups on the stack, then start it over: o",
        ),
        Refusal::MarkInUse(_) => both("leave the mark out to be given a free one"),
        Refusal::NoMarkLeft => pick(
            "end cups that are gone: stillcup end MARK used",
            "end cups that are gone: e on the Bench",
        ),
        Refusal::Tape(_) => both("take another colour, or change the setting activator-tape"),
        Refusal::UnknownName { near, .. } => near_names(near),
        Refusal::NameTaken { .. } => both("choose another name, or change the one there is"),
        Refusal::NoAmount => both("say it in ml"),
        Refusal::IntoItself(_) => both("name another cup"),
        Refusal::FilledFromIt { .. } => both("pour it the other way round"),
        Refusal::WhichThinner(_) => pick("say it: --with NAME", "choose it in the field with"),
        Refusal::WhichPart(..) => both("say its name before the amount"),
        Refusal::MergedWithItself => both("say the name that it really has"),
        Refusal::TwoThings { .. } => pick(
            "where they are one all the same, first: stillcup material set NAME --kind KIND, or recipe set NAME --layer LAYER",
            "where they are one all the same, say first what kind or layer the one is",
        ),
        Refusal::InUse { .. } => pick(
            "retire it, so that it is no longer offered: stillcup material retire NAME, or recipe retire NAME",
            "retire it, so that it is no longer offered: x",
        ),
        Refusal::RetiredAlready(..) => pick(
            "with --back it is offered again",
            "x retires it, and brings it back",
        ),
        Refusal::NoLetter(_) => both("put a letter in it, as in Blue 200"),
        Refusal::BadName => both("write one that fits on a label"),
        Refusal::Cycle(_) => both("leave out the part that leads back to it"),
        Refusal::BadPart(_) => {
            both("more than nothing, and only the proportion to the others counts")
        }
        Refusal::NoParts => pick(
            "add one with --part \"NAME 1\"",
            "name one, and how many parts of it",
        ),
        Refusal::NoChange(..) => pick(
            "say what is to differ, after the name; what may be said: the verb with --help",
            "change a field, or leave it: Esc",
        ),
        Refusal::NoVariant(..) => pick(
            "stillcup recipes shows which there are",
            "7 shows which there are",
        ),
        Refusal::NoDensity(_) => pick(
            "weigh 10 ml in a syringe, then: stillcup material set NAME --density 1.24",
            "weigh 10 ml in a syringe, then write its density down: e on the Shelf",
        ),
        Refusal::Unweighed(_) => pick(
            "say it in ml, or first: stillcup material set NAME --density 1.24",
            "say it in ml, or first write its density down: e on the Shelf",
        ),
        Refusal::NoPack(_) => pick(
            "say the amount, or first: stillcup material set NAME --pack 250ml",
            "say the amount in all",
        ),
        Refusal::MaterialGone => pick(
            "it was taken back: stillcup materials shows which there are",
            "it was taken back",
        ),
        Refusal::RecipeGone => pick(
            "it was taken back: stillcup recipes shows which there are",
            "it was taken back",
        ),
        Refusal::PacksAndAmount => both("say one of them"),
        Refusal::CupGone => pick(
            "its mixing was taken back: stillcup cups shows which live",
            "its mixing was taken back",
        ),
        Refusal::Needed(_) => both("type it"),
        Refusal::NoVolume => pick("say --volume 120ml", "say how much in ml"),
        Refusal::NoRecipe => pick("name one, or repeat a cup with --like MARK", "name one"),
        Refusal::VolumeRange(_) => both("split a larger batch over several cups"),
        Refusal::NotAPart { .. } => {
            both("fill only from a cup of the same recipe or of one of its parts")
        }
        Refusal::TooMuch { .. } => pick(
            "if it was measured so, say --even-so",
            "take less; if it was so, Enter again keeps a form, G pours the stack",
        ),
        Refusal::TooMuchThinner { .. } => both("check the mark and the unit, such as 5ml"),
        Refusal::OverThinned { .. } => pick(
            "add a thicker cup of it, or mix anew; to thin it so all the same, say --even-so",
            "add a thicker cup of it, or mix anew; Enter again thins it so all the same",
        ),
        Refusal::There(_) => pick(
            "take another name, or say --replace",
            "type another name, or Enter again replaces it",
        ),
        Refusal::PlanWentOn(_) => both("look on the Bench whether this one is mixed already"),
        Refusal::JustLooked => pick(
            "look again later; if both were seen, say --at",
            "look again later",
        ),
        Refusal::FarCount { .. } | Refusal::Far(_) => pick(
            "check the number and its unit; if it is so, say --even-so",
            "check the number and its unit; Enter again keeps it",
        ),
        Refusal::Doubted(_) => pick(
            "check the mark and the number; if it is so, say --even-so",
            "check the mark and the number; Enter again keeps it",
        ),
        Refusal::NoEntry(mark, _) | Refusal::NoEntries(mark) => pick(
            &format!("stillcup cup {mark} shows them with their numbers"),
            "choose one in the cup's life",
        ),
        Refusal::NotAnEntry(_) => pick(
            "say last, or a number as stillcup cup MARK shows it",
            "choose one in the cup's life",
        ),
        Refusal::EntryGone => both("it was struck or taken back meanwhile"),
        Refusal::NoValue(_) => both("put its time or its cup right, or strike it"),
        Refusal::NotSaidOf { .. } => both(
            "only a mixing says an amount and a stirring; a mound is read as it is mixed, thinned or read",
        ),
        Refusal::MixedAfter { .. } => {
            both("give an instant before that, or put that entry right first")
        }
        Refusal::InPicture(pour) => pick(
            &format!(
                "stillcup correct {pour} --layer MARK:60ml; or stillcup undo, where it never was"
            ),
            "e on the Rack (3), or E on the Pour (2), has its amounts",
        ),
        Refusal::NotAlone(_) => pick(
            "take that deed back by its number: stillcup history, then stillcup undo NUMBER",
            "take that deed back in the history: h",
        ),
        Refusal::NothingAmended => both("say what it really was, when, or which cup"),
        Refusal::LayerStays(..) => {
            both("say how much of it there was; a pour that was another altogether is taken back")
        }
        Refusal::NotInPour(..) => both("say a cup that lies in it and how much, such as K7 120 ml"),
        Refusal::Future(_) => pick(
            "leave the time out for now: --at, --on",
            "leave the time out for now",
        ),
        Refusal::BeforeTheCup { .. } => pick(
            "say a later --at; what is written down has happened already",
            "say a later time; what is written down has happened already",
        ),
        Refusal::NoLayers => pick(
            "add one with --layer MARK:120ml, the lowest first",
            "a puts a cup on the stack",
        ),
        Refusal::NoPour(_) => pick(
            "stillcup pours shows which there are",
            "3 shows which there are; f there has all of them",
        ),
        Refusal::ScrapedAlready(..) => both("start over from the newest"),
        Refusal::NotJudged { pour, .. } => pick(
            &format!("stillcup pours {pour} shows how it was judged"),
            "d turns between wet and dry; 0 to 5 judges it",
        ),
        Refusal::NotSeenDry(_) => pick(
            "look at it first: stillcup judge POUR --dry --cells 3",
            "judge it first: d",
        ),
        Refusal::RepeatsNone(_) => pick(
            "name the other one too: stillcup compare 12 3",
            "write the number of the other one",
        ),
        Refusal::NotRepeatable(_) => pick(
            "plan it anew: stillcup plan --panel 40x50cm",
            "plan it anew: a on 6",
        ),
        Refusal::Scraped(_) => pick(
            "stillcup rack shows the pictures there are",
            "3 shows the pictures there are",
        ),
        Refusal::Varnished(_) => pick(
            "if that was a slip, take it back: stillcup undo",
            "if that was a slip, u takes it back",
        ),
        Refusal::SoldAlready(_) => pick(
            "put its sale right with --correct; stillcup history shows the change that stillcup undo NUMBER takes back",
            "choose it and press s: its sale is put right there",
        ),
        Refusal::NotSold(_) => pick("leave --correct out", "choose it and press s to sell it"),
        Refusal::NoTitle => pick(
            "stillcup title POUR \"River in May\" --asking 240",
            "say a title or a price",
        ),
        Refusal::Line { problem, .. } => of_refusal(problem, face),
        Refusal::OnlyTried => both("nothing was written"),
        Refusal::Grade(_) => both("0 is none, 5 the most"),
        Refusal::Word { of, .. } => format!("one of {}", known::words(*of)),
        Refusal::FactorWithItself(_) => both("two different ones, such as rest,humidity"),
        Refusal::NoFactor(_, factors) => format!("one of {}", inert(&factors.join(", "))),
        Refusal::OneFactor(_, factors) => {
            let factors = factors.join(", ");
            format!("two with a comma between, of {}", inert(&factors))
        }
        Refusal::ByOwnCells(..) => pick(
            "take --outcome good or cells for it, or leave it out",
            "take good or cells for it",
        ),
        Refusal::Range(limit) => of_limit(*limit).to_owned(),
        Refusal::WrongState(..) => pick("see stillcup cup MARK", "Enter shows its life"),
        Refusal::Design(DesignError::GivenUp) => pick(
            "a run may be done after all: stillcup trial done TRIAL POUR --run RUN",
            "a run may be done after all: p pours it, l takes the last pour",
        ),
        Refusal::Design(
            DesignError::Curve(_) | DesignError::CurveDays(_) | DesignError::NoCentres,
        ) => pick(
            "such as --factor \"rest=8h,24h\" --factor \"share=4%,10%\" --curve face-centred",
            "such as rest 8h and 24h, share 4% and 10%, for a curve",
        ),
        Refusal::Design(_) => pick(
            "such as --factor \"rest=12h,24h\" --factor \"share=5%,10%\" --runs 8",
            "such as rest 12h and 24h, share 5% and 10%, 8 runs",
        ),
        Refusal::NoTrial(_) => pick(
            "stillcup trials shows which there are",
            "8 shows which there are",
        ),
        Refusal::BadFactor(_) => both("a name and its low and high setting: \"rest=12h,24h\""),
        Refusal::OneSetting(_) => both("give it a low and a high one, well apart"),
        Refusal::FactorTwice(_) => both("give each thing its own name"),
        Refusal::Run {
            fault: RunFault::NothingPoured,
            ..
        } => pick("stillcup pours shows which there are", "p pours it"),
        Refusal::Run { trial, .. } => pick(
            &format!("its runs: stillcup trial show {trial}"),
            "8 has its runs",
        ),
        Refusal::NoPlan(_) => pick(
            "stillcup plans shows which there are",
            "6 shows which there are",
        ),
        Refusal::PlanDone(_) => pick(
            "mix one more by its recipe: stillcup mix RECIPE --volume 120ml",
            "m on the Recipes mixes one more",
        ),
        Refusal::PlanGone(_) => pick(
            "plan it anew: stillcup plan --panel 40x50cm --keep",
            "plan it anew: a on the Plan",
        ),
        Refusal::NothingToLabel(_) => pick(
            "mix one first: stillcup mix RECIPE --volume 120ml",
            "mix one first: m",
        ),
        Refusal::NoRecipeYet => pick(
            "write one down: stillcup recipe add, or stillcup starters",
            "7 is where one is written down",
        ),
        Refusal::NoCopyYet => {
            both("take one: stillcup backup; one is taken each day it is written to")
        }
        Refusal::NoCopy(_) => both("stillcup backups shows which there are"),
        Refusal::DemoNotHere => both("name another: stillcup --studio demo.db demo"),
        Refusal::Unread(..) => pick("stillcup read MARK 2.8", "w times its mound, r types it"),
        Refusal::OutOfModel(OutOfModel::FlowCup(_)) => {
            both("read its mound, or take a cup whose window holds the time")
        }
        Refusal::OutOfModel(_) => both("outside what a model holds for, no number is given"),
        Refusal::TooManyCups { .. } => both("a plan is for one day's work"),
        Refusal::OwnData { .. } => both("this is a fault of the program; nothing was kept"),
        Refusal::NoFolder(_) => both("check the path, or make the folder first"),
        Refusal::LidAlready { .. } => pick("see stillcup cup MARK", "Enter shows its life"),
    }
}

fn of_pour(problem: &PourProblem, face: Face) -> String {
    match problem {
        PourProblem::Move(_) | PourProblem::Spin(_) => face.pick(
            "such as --spin cw:2, --tilt left",
            "such as left 2, or right",
        ),
        PourProblem::Kind(_) => "such as spin right 1, tilt left".to_owned(),
        PourProblem::Air(_) | PourProblem::AirRange(_) => {
            "with C or F after the degrees and % after the humidity: 21C,45%".to_owned()
        }
    }
}

const fn of_limit(limit: Limit) -> &'static str {
    match limit {
        Limit::StartOver | Limit::Judgement | Limit::Sale | Limit::PlannedPour => {
            "check the day and the time"
        }
        Limit::DemoDay => "check the clock",
        Limit::Reading => "such as 2.8",
        Limit::Stirring => "such as 4m",
        Limit::Panels
        | Limit::Edge
        | Limit::CupHolds
        | Limit::Film
        | Limit::LayerFilm
        | Limit::Films
        | Limit::NextLook
        | Limit::ThinnerLimit
        | Limit::Packs
        | Limit::PictureText
        | Limit::ShelfAmount
        | Limit::Density
        | Limit::Copies
        | Limit::Centres
        | Limit::Seed
        | Limit::Slope => "check the number",
    }
}

fn near_marks(near: &[Mark]) -> String {
    if near.is_empty() {
        return "no cup lives; mix one".to_owned();
    }
    let marks: Vec<_> = near.iter().map(Mark::as_str).collect();
    format!("living cups near it: {}", marks.join(", "))
}

fn near_names(near: &[String]) -> String {
    if near.is_empty() {
        return "add it first".to_owned();
    }
    let names: Vec<_> = near.iter().map(|name| inert(name)).collect();
    format!("near it: {}", names.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::Unchanged;

    /// Guards the rule that the screen's hints name keys.
    #[test]
    fn the_screen_names_no_command_and_no_argument() {
        let mark = Mark::parse("K7").unwrap();
        let refusals = [
            Refusal::NoMarkLeft,
            Refusal::NoParts,
            Refusal::NoChange(Unchanged::Variant("River blue".to_owned(), 2)),
            Refusal::NoVariant("River blue".to_owned(), 9),
            Refusal::NoDensity("Titan white".to_owned()),
            Refusal::NoPack("Titan white".to_owned()),
            Refusal::NoVolume,
            Refusal::NoRecipe,
            Refusal::NoLayers,
            Refusal::NoPour(3),
            Refusal::NotSeenDry(3),
            Refusal::Scraped(3),
            Refusal::Varnished(3),
            Refusal::SpentSince(3, mark.clone()),
            Refusal::Unread(mark.clone(), crate::studio::Unread::Never),
            Refusal::LidAlready { mark, on: true },
            Refusal::NoPhoto(3),
            Refusal::NoOriginal(3),
            Refusal::PhotoKept {
                name: "tide.jpg".to_owned(),
                photo: 3,
                pour: 1,
            },
            Refusal::Design(DesignError::GivenUp),
            Refusal::NoTrial(3),
            Refusal::NoPlan(3),
            Refusal::PlanDone(3),
            Refusal::NoRecipeYet,
        ];
        for refusal in refusals {
            let error = StudioError::Refused(refusal);
            let keys = hint(&error, Face::Screen);
            assert!(!keys.contains("stillcup") && !keys.contains("--"), "{keys}");
            assert_ne!(keys, hint(&error, Face::CommandLine), "{error:?}");
        }
    }
}
