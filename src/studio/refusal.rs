//! Why the studio will not do a thing: kinds with what they are about. `tell` words them and says what to do instead.

use crate::logbook::LogbookError;
use crate::numbers::statistics::factorial::DesignError;
use crate::studio::faults::{
    ByCells, FileFault, LabelFault, Limit, ListFault, NameOf, OutOfModel, PhotoProblem, RunFault,
    ThingIs, Unchanged, Unread, WordOf,
};
use crate::studio::orders::Wrong;
use crate::studio::{Doubt, Far, OutcomeKind, PhotoFault};
use crate::trade::amount::DensityUnknown;
use crate::trade::cup::EntryKind;
use crate::trade::life::State;
use crate::trade::mark::{Mark, MarkProblem};
use crate::trade::moment::Moment;
use crate::trade::pour::PourProblem;
use crate::trade::problem::ParseProblem;
use crate::trade::units::{Millilitres, Share};
use std::path::PathBuf;

/// What the studio answers with where it cannot do what was asked; `tell::refusal` words it.
#[derive(Debug)]
pub enum StudioError {
    /// What was asked for makes no sense; nothing was written.
    Refused(Refusal),
    /// The store could not do it.
    Store(LogbookError),
}

impl From<Refusal> for StudioError {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl From<FileFault> for StudioError {
    fn from(fault: FileFault) -> Self {
        Self::Refused(Refusal::File(fault))
    }
}

impl From<ListFault> for StudioError {
    fn from(fault: ListFault) -> Self {
        Self::Refused(Refusal::List(fault))
    }
}

impl From<LogbookError> for StudioError {
    fn from(error: LogbookError) -> Self {
        Self::Store(error)
    }
}

impl From<ParseProblem> for Refusal {
    fn from(problem: ParseProblem) -> Self {
        Self::Words(problem)
    }
}

impl From<PourProblem> for Refusal {
    fn from(problem: PourProblem) -> Self {
        Self::Pour(problem)
    }
}

impl From<DensityUnknown> for Refusal {
    fn from(unknown: DensityUnknown) -> Self {
        Self::Unweighed(unknown)
    }
}

impl From<Wrong> for StudioError {
    fn from(wrong: Wrong) -> Self {
        Self::Refused(wrong.why)
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
pub const LEAST_CUP: Millilitres = Millilitres(1.0);
/// As above.
pub const MOST_CUP: Millilitres = Millilitres(20_000.0);

/// What a studio's answer is.
pub type Answer<T> = Result<T, StudioError>;

/// A refusal: nothing was written.
#[derive(Debug, Clone)]
pub enum Refusal {
    /// A text that could not be read.
    Words(ParseProblem),
    /// A move or an air that could not be read.
    Pour(PourProblem),
    /// A text that is no mark.
    NoMark {
        /// What was said.
        said: String,
        /// What is wrong with it.
        problem: MarkProblem,
    },
    /// No cup bears the mark.
    UnknownMark(String, Vec<Mark>),
    /// A cup that was taken back meanwhile.
    CupGone,
    /// The material is no longer there.
    MaterialGone,
    /// The recipe is no longer there.
    RecipeGone,
    /// Packs and an amount were both said.
    PacksAndAmount,
    /// The cup with the mark lives no more.
    Spent(Mark, Vec<Mark>),
    /// A cup of a go that is to be started over is spent since.
    SpentSince(i64, Mark),
    /// The mark is on a living cup.
    MarkInUse(Mark),
    /// Every mark is on a living cup.
    NoMarkLeft,
    /// The tape kept for activators on another layer, or another on an activator.
    Tape(String),
    /// No material or recipe of the name.
    UnknownName {
        /// Of what.
        of: NameOf,
        /// What was asked for.
        name: String,
        /// Names that are near it.
        near: Vec<String>,
    },
    /// A name that is taken.
    NameTaken {
        /// Of what: a material or a recipe.
        of: NameOf,
        /// The name.
        name: String,
    },
    /// Something was to be merged with itself.
    MergedWithItself,
    /// Two things of two kinds or layers were to be merged.
    TwoThings {
        /// What was to go.
        from: String,
        /// Its kind or layer.
        is: ThingIs,
        /// What was to stay.
        into: String,
        /// Its kind or layer.
        other: ThingIs,
    },
    /// What was to be removed is used.
    InUse {
        /// Its name.
        name: String,
        /// In how many variants of recipes.
        recipes: usize,
        /// In how many cups, mixed and planned.
        cups: usize,
    },
    /// What is no longer offered already, or is offered still, by its name.
    RetiredAlready(String, bool),
    /// A name that is empty or too long.
    BadName,
    /// A name of a material or recipe that is a number without a letter.
    NoLetter(String),
    /// A recipe that would contain itself.
    Cycle(String),
    /// A part without its share.
    BadPart(String),
    /// A recipe without parts.
    NoParts,
    /// A change that changes nothing.
    NoChange(Unchanged),
    /// No such variant.
    NoVariant(String, i64),
    /// The density of something must be known for this.
    NoDensity(String),
    /// A weight was said of something whose density is unknown.
    Unweighed(DensityUnknown),
    /// Packs were bought of something whose pack is unknown.
    NoPack(String),
    /// A field that must not be empty, by its name.
    Needed(&'static str),
    /// No volume was said.
    NoVolume,
    /// Neither recipe nor a cup to repeat.
    NoRecipe,
    /// A volume that no cup holds.
    VolumeRange(Millilitres),
    /// A cup of another paint.
    NotAPart {
        /// The cup.
        mark: Mark,
        /// Its recipe.
        holds: String,
        /// What was to be mixed.
        recipe: String,
    },
    /// No amount was said.
    NoAmount,
    /// A cup was to be poured into itself.
    IntoItself(Mark),
    /// A cup was to be poured into one that its own paint came from.
    FilledFromIt {
        /// What was to be poured.
        from: Mark,
        /// Into what.
        into: Mark,
    },
    /// A cup was thinned, and several thinners are on the shelf.
    WhichThinner(Vec<String>),
    /// An amount without a name that fits no part of the mixture, or several: what was said, and the parts.
    WhichPart(String, Vec<String>),
    /// More than is in the cup.
    TooMuch {
        /// The cup.
        mark: Mark,
        /// What it holds.
        left: Millilitres,
        /// What was asked for.
        asked: Millilitres,
    },
    /// More thinner than paint.
    TooMuchThinner {
        /// The cup.
        mark: Mark,
        /// What it holds.
        holds: Millilitres,
        /// What was to go in.
        asked: Millilitres,
    },
    /// A file that stands there already and would be replaced.
    There(String),
    /// A reading far from what was expected; it may be right all the same.
    Doubted(Doubt),
    /// A count far from what was thought to be on the shelf; it may be right all the same.
    FarCount {
        /// The material's name.
        material: String,
        /// What was counted.
        counted: Millilitres,
        /// What was thought to be left.
        left: Millilitres,
    },
    /// Another cup of the plan of this number is the next by now.
    PlanWentOn(i64),
    /// The same look at the same cup within a minute.
    JustLooked,
    /// A number many times another that it is like, or a small part of it; it may be right all the same.
    Far(Far),
    /// An entry that the life of the cup with this mark does not have.
    NoEntry(Mark, i64),
    /// A text that is neither an entry's number nor the last.
    NotAnEntry(String),
    /// The life of the cup with this mark is empty.
    NoEntries(Mark),
    /// An entry that is no longer there.
    EntryGone,
    /// An entry of a kind that has no value to be put right.
    NoValue(EntryKind),
    /// An entry of such a kind does not say that.
    NotSaidOf {
        /// Its kind.
        kind: EntryKind,
        /// What was to be put right, as its field is called.
        field: &'static str,
    },
    /// A cup cannot have been mixed after something else happened to it.
    MixedAfter {
        /// The instant that was said.
        at: Moment,
        /// The cup.
        mark: Mark,
        /// The first thing that happened to it.
        first: Moment,
    },
    /// Paint that lies in the picture of a pour: its amount is put right there.
    InPicture(i64),
    /// An entry of a kind that stands or falls with another deed.
    NotAlone(EntryKind),
    /// Nothing was said that differs from what stands.
    NothingAmended,
    /// A layer was left out that was poured.
    LayerStays(i64, String),
    /// What was said lies in no layer of the pour.
    NotInPour(i64, String),
    /// A date that has not come.
    Future(Moment),
    /// A date before the cup was mixed.
    BeforeTheCup {
        /// The instant that was said.
        at: Moment,
        /// The cup.
        mark: Mark,
        /// When it was mixed.
        mixed: Moment,
    },
    /// A pour without layers.
    NoLayers,
    /// No such pour.
    NoPour(i64),
    /// A pour that was scraped already.
    ScrapedAlready(i64, i64),
    /// A picture that was never judged dry, and so is not known to be.
    NotSeenDry(i64),
    /// A picture that was not judged yet, wet or dry.
    NotJudged {
        /// The pour.
        pour: i64,
        /// Whether a dry judgement was asked for.
        dry: bool,
    },
    /// A pour whose paint is off its panel.
    Scraped(i64),
    /// So much thinner would craze the binder: asked once.
    OverThinned {
        /// The cup.
        mark: Mark,
        /// How much of it would be thinner.
        share: Share,
        /// How much may be.
        limit: Share,
    },
    /// A picture that makes none once more, and none to hold it against was named.
    RepeatsNone(i64),
    /// A cup or a recipe of a picture is gone, so that it cannot be made once more.
    NotRepeatable(i64),
    /// A picture that was varnished.
    Varnished(i64),
    /// A picture that was sold.
    SoldAlready(i64),
    /// A picture that was not sold.
    NotSold(i64),
    /// Neither a title nor a price.
    NoTitle,
    /// A line of a list that does not fit the studio.
    Line {
        /// Its number in the file.
        line: u64,
        /// What is wrong with it.
        problem: Box<Refusal>,
    },
    /// What was only tried is given up; nobody is told this.
    OnlyTried,
    /// A grade outside 0 to 5.
    Grade(&'static str),
    /// A word that is none of those known.
    Word {
        /// What it should be.
        of: WordOf,
        /// What was said.
        said: String,
    },
    /// No factor of the name; the factors there are.
    NoFactor(String, Vec<String>),
    /// A table of two factors was asked for, and one was named twice.
    FactorWithItself(String),
    /// A table of two factors was asked for, and one was named; the factors there are.
    OneFactor(String, Vec<String>),
    /// What goes by the painter's own cells was asked of what was measured.
    ByOwnCells(ByCells, OutcomeKind),
    /// A number out of its range, or an instant out of its order.
    Range(Limit),
    /// The cup is in no state for it.
    WrongState(Mark, State),
    /// A trial that fits no design, or whose results cannot be read.
    Design(DesignError),
    /// No such trial.
    NoTrial(i64),
    /// A text that is no factor of a trial; it is safe to show.
    BadFactor(String),
    /// A factor whose settings are one and the same.
    OneSetting(String),
    /// A factor that was named twice.
    FactorTwice(String),
    /// A run of a trial that cannot be done so.
    Run {
        /// The trial.
        trial: i64,
        /// What is wrong.
        fault: RunFault,
    },
    /// No plan of the number.
    NoPlan(i64),
    /// A plan of which nothing is left to mix.
    PlanDone(i64),
    /// A plan of which a variant is gone.
    PlanGone(i64),
    /// No living cup that a label could be made for; of which plan, where one was named.
    NothingToLabel(Option<i64>),
    /// No recipe at all.
    NoRecipeYet,
    /// No dated copy at all.
    NoCopyYet,
    /// No dated copy at that place of the list.
    NoCopy(usize),
    /// The demo asked for in a studio that is used.
    DemoNotHere,
    /// A cup whose consistency is not known well enough.
    Unread(Mark, Unread),
    /// Outside what a model holds for.
    OutOfModel(OutOfModel),
    /// More cups than one plan holds.
    TooManyCups {
        /// The most there may be.
        most: u32,
    },
    /// Data that this program carries with it and cannot read: a fault of the program.
    OwnData {
        /// Which data.
        what: &'static str,
        /// The reader's reason.
        why: String,
    },
    /// There is no such photo.
    NoPhoto(i64),
    /// A photo in which nothing was measured, so that nothing can be refused.
    NotMeasured(i64),
    /// A photo whose original is gone or no longer what it was.
    NoOriginal(i64),
    /// A photo that is kept already.
    PhotoKept {
        /// What the file is called.
        name: String,
        /// As which photo.
        photo: i64,
        /// Of which pour.
        pour: i64,
    },
    /// A photo that cannot be measured.
    Photo {
        /// What the photo is called.
        name: String,
        /// Why not.
        why: PhotoFault,
    },
    /// A file that was not read as a photo.
    PhotoFile {
        /// What the photo is called.
        name: String,
        /// Why not.
        why: PhotoProblem,
    },
    /// Labels that do not lie on their paper.
    Labels(LabelFault),
    /// A file that did not come in or did not go out.
    File(FileFault),
    /// A list of one's own that did not come in.
    List(ListFault),
    /// The folder that a file is to stand in is not there.
    NoFolder(PathBuf),
    /// A lid that is on already, or off.
    LidAlready {
        /// The cup.
        mark: Mark,
        /// Whether it is on.
        on: bool,
    },
}
