//! Why the studio will not do a thing, each with a hint of what to do instead.

use crate::logbook::LogbookError;
use crate::numbers::statistics::factorial::DesignError;
use crate::trade::amount::{DensityUnknown, Measures, show_mass, show_volume};
use crate::trade::life::State;
use crate::trade::mark::{Mark, MarkProblem};
use crate::trade::pour::PourProblem;
use crate::trade::problem::ParseProblem;
use crate::trade::text::inert;
use crate::trade::units::{Millilitres, US_FLUID_OUNCE};

/// What the studio answers with where it cannot do what was asked.
#[derive(Debug, thiserror::Error)]
pub enum StudioError {
    /// What was asked for makes no sense; nothing was written.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// The store could not do it.
    #[error(transparent)]
    Store(#[from] LogbookError),
}

impl StudioError {
    /// What to do next, in one sentence.
    #[must_use]
    pub fn hint(&self) -> String {
        match self {
            Self::Refused(refusal) => refusal.hint(),
            Self::Store(error) => error.hint().to_string(),
        }
    }
}

impl From<ParseProblem> for StudioError {
    fn from(problem: ParseProblem) -> Self {
        Self::Refused(Refusal::Words(problem))
    }
}

impl From<PourProblem> for StudioError {
    fn from(problem: PourProblem) -> Self {
        Self::Refused(Refusal::Pour(problem))
    }
}

impl From<DensityUnknown> for StudioError {
    fn from(unknown: DensityUnknown) -> Self {
        Self::Refused(Refusal::Unweighed(unknown))
    }
}

/// The least that is mixed, and the most (our own choice).
pub(crate) const LEAST_CUP: Millilitres = Millilitres(1.0);
/// As above.
pub(crate) const MOST_CUP: Millilitres = Millilitres(20_000.0);

/// What a studio's answer is.
pub type Answer<T> = Result<T, StudioError>;

/// A refusal: nothing was written.
#[derive(Debug, Clone, thiserror::Error)]
pub enum Refusal {
    /// A text that could not be read.
    #[error("\"{}\" {}", .0.said, .0.why)]
    Words(ParseProblem),
    /// A move or an air that could not be read.
    #[error("{0}")]
    Pour(PourProblem),
    /// A text that is no mark.
    #[error("{} is no mark: {problem}", inert(.said))]
    NoMark {
        /// What was said.
        said: String,
        /// What is wrong with it.
        problem: MarkProblem,
    },
    /// No cup bears the mark.
    #[error("no cup is marked {}", inert(.0))]
    UnknownMark(String, Vec<Mark>),
    /// The cup with the mark lives no more.
    #[error("{0} is spent")]
    Spent(Mark, Vec<Mark>),
    /// A cup of a go that is to be started over is spent since.
    #[error("{1} of pour {0} is spent")]
    SpentSince(i64, Mark),
    /// The mark is on a living cup.
    #[error("{0} is on a living cup")]
    MarkInUse(Mark),
    /// Every mark is on a living cup.
    #[error("every mark is in use")]
    NoMarkLeft,
    /// The tape kept for activators on another layer, or another on an activator.
    #[error("{0} tape is kept for activators alone")]
    Tape(String),
    /// No material or recipe of the name.
    #[error("no {kind} is called {}", inert(.name))]
    UnknownName {
        /// `material`, `recipe`, `material or recipe`.
        kind: &'static str,
        /// What was asked for.
        name: String,
        /// Names that are near it.
        near: Vec<String>,
    },
    /// A name that is taken.
    #[error("there is already a {kind} called {}", inert(.name))]
    NameTaken {
        /// `material` or `recipe`.
        kind: &'static str,
        /// The name.
        name: String,
    },
    /// A name that is empty or too long.
    #[error("a name has 1 to 80 characters")]
    BadName,
    /// A recipe that would contain itself.
    #[error("{} would go into itself", inert(.0))]
    Cycle(String),
    /// A part without its share.
    #[error("{} is no part: write a name and how many parts of it, such as \"White 2\"", inert(.0))]
    BadPart(String),
    /// A recipe without parts.
    #[error("a recipe needs at least one part")]
    NoParts,
    /// A change that changes nothing.
    #[error("nothing was asked for that differs from {0}")]
    NoChange(String),
    /// No such variant.
    #[error("{0} has no variant {1}")]
    NoVariant(String, i64),
    /// The density of something must be known for this.
    #[error("the density of {0} is unknown")]
    NoDensity(String),
    /// A weight was said of something whose density is unknown.
    #[error("without its density {} cannot be turned into a volume", show_mass(.0.mass, Measures::Metric))]
    Unweighed(DensityUnknown),
    /// Packs were bought of something whose pack is unknown.
    #[error("what a pack of {} holds is not known", inert(.0))]
    NoPack(String),
    /// No volume was said.
    #[error("how much is to be mixed?")]
    NoVolume,
    /// Neither recipe nor a cup to repeat.
    #[error("which recipe is to be mixed?")]
    NoRecipe,
    /// A volume that no cup holds.
    #[error(
        "{} is no cup: between {} and {} can be mixed",
        show_volume(*.0, *.1), show_volume(LEAST_CUP, *.1), show_volume(MOST_CUP, *.1)
    )]
    VolumeRange(Millilitres, Measures),
    /// A cup of another paint.
    #[error("{mark} holds {holds}, which is no part of {recipe}")]
    NotAPart {
        /// The cup.
        mark: Mark,
        /// Its recipe.
        holds: String,
        /// What was to be mixed.
        recipe: String,
    },
    /// More than is in the cup.
    #[error("{mark} holds {}, not {}", closely(*.left, *.measures), closely(*.asked, *.measures))]
    TooMuch {
        /// The cup.
        mark: Mark,
        /// What it holds.
        left: Millilitres,
        /// What was asked for.
        asked: Millilitres,
        /// In which measures that is said.
        measures: Measures,
    },
    /// More thinner than paint.
    #[error(
        "{mark} holds {}, and {} of thinner is more than that cup ever held",
        closely(*.holds, *.measures), closely(*.asked, *.measures)
    )]
    TooMuchThinner {
        /// The cup.
        mark: Mark,
        /// What it holds.
        holds: Millilitres,
        /// What was to go in.
        asked: Millilitres,
        /// In which measures that is said.
        measures: Measures,
    },
    /// A date that has not come.
    #[error("{0} has not come yet")]
    Future(String),
    /// A date before the cup was mixed.
    #[error("{mark} was mixed only at {mixed}")]
    BeforeTheCup {
        /// The cup.
        mark: Mark,
        /// When it was mixed.
        mixed: String,
    },
    /// A pour without layers.
    #[error("a pour needs at least one layer")]
    NoLayers,
    /// No such pour.
    #[error("there is no pour {0}")]
    NoPour(i64),
    /// A pour that was scraped already.
    #[error("pour {0} was scraped already; pour {1} is the newest go on its panel")]
    ScrapedAlready(i64, i64),
    /// A picture that was never judged dry, and so is not known to be.
    #[error("pour {0} was not judged dry yet")]
    NotSeenDry(i64),
    /// A pour whose paint is off its panel.
    #[error("pour {0} was scraped: no picture is left of it")]
    Scraped(i64),
    /// A picture that was varnished.
    #[error("pour {0} was varnished already")]
    Varnished(i64),
    /// A grade outside 0 to 5.
    #[error("{0} runs from 0 to 5")]
    Grade(&'static str),
    /// A word that is none of those known.
    #[error("{} is no {what}", inert(.said))]
    Word {
        /// What it should be.
        what: &'static str,
        /// What was said.
        said: String,
        /// The words there are.
        known: String,
    },
    /// A number out of its range.
    #[error("{what} must be {range}")]
    Range {
        /// Of what.
        what: &'static str,
        /// The range, in words.
        range: &'static str,
    },
    /// The cup is in no state for it.
    #[error("{0} is {1}")]
    WrongState(Mark, State),
    /// A trial that fits no design, or whose results cannot be read.
    #[error("{0}")]
    Design(DesignError),
    /// No such trial.
    #[error("there is no trial {0}")]
    NoTrial(i64),
    /// A text that is no factor of a trial; it is safe to show.
    #[error("\"{0}\" is nothing to vary")]
    BadFactor(String),
    /// A factor whose settings are one and the same.
    #[error("{} has the same setting twice", inert(.0))]
    OneSetting(String),
    /// A factor that was named twice.
    #[error("{} is varied twice", inert(.0))]
    FactorTwice(String),
    /// A run of a trial that cannot be done so.
    #[error("{said}")]
    Run {
        /// The trial.
        trial: i64,
        /// What is wrong.
        said: String,
    },
    /// No plan of the number.
    #[error("there is no plan {0}")]
    NoPlan(i64),
    /// A plan of which nothing is left to mix.
    #[error("every cup of plan {0} is mixed")]
    PlanDone(i64),
    /// A plan of which a variant is gone.
    #[error("plan {0} asks for a variant that is gone")]
    PlanGone(i64),
    /// Nothing that a label could be made for.
    #[error("there is nothing to label: {0}")]
    NothingToLabel(String),
    /// No recipe at all.
    #[error("there is no recipe to plan with yet")]
    NoRecipeYet,
    /// No dated copy at all.
    #[error("there is no copy of this studio yet")]
    NoCopyYet,
    /// No dated copy at that place of the list.
    #[error("there is no copy {0}")]
    NoCopy(usize),
    /// The demo asked for in a studio that is used.
    #[error("this studio is not empty, and the demo wants a file of its own")]
    DemoNotHere,
    /// A cup whose consistency is not known well enough.
    #[error("{0}")]
    Unread(String),
    /// Outside what a model holds for.
    #[error("{0}")]
    OutOfModel(String),
    /// A file that cannot be read or written as was asked.
    #[error("{said}")]
    File {
        /// What is wrong with it.
        said: String,
        /// What to do next.
        hint: String,
    },
    /// Anything already there.
    #[error("{0}")]
    Already(String),
}

/// So closely that two amounts of which one is too much never read alike.
fn closely(volume: Millilitres, measures: Measures) -> String {
    match measures {
        Measures::Metric => format!("{:.1} ml", volume.get()),
        Measures::UsCustomary => format!("{:.2} fl oz", volume / US_FLUID_OUNCE),
    }
}

impl Refusal {
    /// What to do next.
    #[must_use]
    pub fn hint(&self) -> String {
        match self {
            Self::File { hint, .. } => hint.clone(),
            Self::Words(problem) => problem.hint.clone(),
            Self::UnknownMark(_, near) | Self::Spent(_, near) => near_marks(near),
            Self::SpentSince(pour, _) => {
                format!("start it over with other cups: stillcup again {pour} --layer MARK:AMOUNT")
            }
            Self::UnknownName { near, .. } => near_names(near),
            Self::NoMark { .. } => {
                "such as K7: two or three of A-Z and 2-9, without I, L, O".into()
            }
            Self::Word { known, .. } => format!("one of {known}"),
            Self::Run { trial, .. } => format!("its runs: stillcup trial show {trial}"),
            Self::TooMuch { .. } => "if it was measured so, say --even-so".into(),
            _ => self.fixed_hint().into(),
        }
    }

    const fn fixed_hint(&self) -> &'static str {
        match self {
            Self::MarkInUse(_) => "leave the mark out to be given a free one",
            Self::NoMarkLeft => "end cups that are gone: stillcup end MARK used",
            Self::Tape(_) => "take another colour, or change the setting activator-tape",
            Self::NameTaken { .. } => "choose another name, or change the one there is",
            Self::BadName => "write one that fits on a label",
            Self::Cycle(_) => "leave out the part that leads back to it",
            Self::BadPart(_) => "more than nothing, and only the proportion to the others counts",
            Self::NoParts => "add one with --part \"NAME 1\"",
            Self::NoVariant(..) => "stillcup recipes shows which there are",
            Self::NoDensity(_) => {
                "weigh 10 ml in a syringe, then: stillcup material set NAME --density 1.24"
            }
            Self::Unweighed(_) => {
                "say it in ml, or first: stillcup material set NAME --density 1.24"
            }
            Self::Pour(PourProblem::Move(_) | PourProblem::Spin(_)) => {
                "such as --spin cw:2, --tilt left"
            }
            Self::Pour(_) => "with C or F after the degrees and % after the humidity: 21C,45%",
            Self::NotSeenDry(_) => "look at it first: stillcup judge POUR --dry --cells 3",
            Self::Scraped(_) => "stillcup rack shows the pictures there are",
            Self::Varnished(_) => "if that was a slip, take it back: stillcup undo",
            Self::Already(_) => "see stillcup cup MARK",
            Self::Range { .. } => "check the number",
            Self::NoPack(_) => "say the amount, or first: stillcup material set NAME --pack 250ml",
            Self::NoVolume => "say --volume 120ml",
            Self::NoRecipe => "name one, or repeat a cup with --like MARK",
            Self::NotAPart { .. } => {
                "fill only from a cup of the same recipe or of one of its parts"
            }
            Self::TooMuchThinner { .. } => "check the mark and the unit, such as 5ml",
            Self::Future(_) => "leave --at out for now",
            Self::BeforeTheCup { .. } => "say a later --at",
            Self::NoLayers => "add one with --layer MARK:120ml, the lowest first",
            Self::NoPour(_) => "stillcup pours shows which there are",
            Self::ScrapedAlready(..) => "start over from the newest",
            Self::Grade(_) => "0 is none, 5 the most",
            Self::Design(DesignError::GivenUp) => {
                "a run may be done after all: stillcup trial done TRIAL POUR --run RUN"
            }
            Self::Design(_) => {
                "such as --factor \"rest=12h,24h\" --factor \"share=5%,10%\" --runs 8"
            }
            Self::NoTrial(_) => "stillcup trials shows which there are",
            Self::BadFactor(_) => "a name and its low and high setting: \"rest=12h,24h\"",
            Self::OneSetting(_) => "give it a low and a high one, well apart",
            Self::FactorTwice(_) => "give each thing its own name",
            Self::VolumeRange(..) => "split a larger batch over several cups",
            Self::NoChange(_) => {
                "say what is to differ, after the name; what may be said: the verb with --help"
            }
            Self::PlanGone(_) => "plan it anew: stillcup plan --panel 40x50cm --keep",
            Self::NothingToLabel(_) => "mix one first: stillcup mix RECIPE --volume 120ml",
            Self::NoPlan(_) => "stillcup plans shows which there are",
            Self::PlanDone(_) => "mix one more by its recipe: stillcup mix RECIPE --volume 120ml",
            Self::NoRecipeYet => "write one down: stillcup recipe add, or stillcup starters",
            Self::NoCopyYet => "take one: stillcup backup; one is taken each day it is written to",
            Self::NoCopy(_) => "stillcup backups shows which there are",
            Self::DemoNotHere => "name another: stillcup --studio demo.db demo",
            Self::Unread(_) => "stillcup read MARK 2.8",
            Self::OutOfModel(_) => "outside what a model holds for, no number is given",
            _ => "see stillcup help",
        }
    }
}

fn near_marks(near: &[Mark]) -> String {
    if near.is_empty() {
        return "no cup lives; mix one".into();
    }
    let marks: Vec<_> = near.iter().map(Mark::as_str).collect();
    format!("living cups near it: {}", marks.join(", "))
}

fn near_names(near: &[String]) -> String {
    if near.is_empty() {
        return "add it first".into();
    }
    let names: Vec<_> = near.iter().map(|name| inert(name)).collect();
    format!("near it: {}", names.join(", "))
}
