//! What a deed answers beside its result: facts with ids and quantities. `tell` words them, and nothing below it does.

use crate::numbers::drying::DryingError;
use crate::numbers::surprise::{FAR, Surprise, far};
use crate::studio::{Refusal, Standing, Step};
use crate::trade::caution::{Caution, Place, at};
use crate::trade::instant::Now;
use crate::trade::life::State;
use crate::trade::mark::Mark;
use crate::trade::moment::Moment;
use crate::trade::recipe::variant_title;
use crate::trade::units::{Band, Hours, Millilitres, Millimetres, Seconds, Share};
use std::fmt;

/// One variant of a recipe: what is shown as `River blue v2`, and never read back from that.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct VariantRef {
    /// The variant's own id.
    pub id: i64,
    /// Its recipe's name.
    pub recipe: String,
    /// Its number within the recipe, from 1.
    pub number: i64,
}

impl fmt::Display for VariantRef {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&variant_title(&self.recipe, self.number))
    }
}

/// A reading that is far from what was expected: a wrong key, a wrong cup, a wrong unit, or so.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// The cup; `None` where it is only being mixed.
    pub mark: Option<Mark>,
    /// What was read.
    pub said: Seconds,
    /// What was expected.
    pub why: Surprise,
}

/// A number many times another that it is like, or a small part of it: a wrong key, a wrong unit, or so.
#[derive(Debug, Clone, PartialEq)]
pub struct Far {
    /// What it is of.
    pub of: FarOf,
    /// How many times the other it is.
    pub times: f64,
}

/// What a number that is far is of, and what it was held against.
#[derive(Debug, Clone, PartialEq)]
pub enum FarOf {
    /// The price of the material of this name; what it cost before.
    Price(String),
    /// What was bought at once of the material of this name; the most that was before.
    Bought(String),
    /// The same; one pack, of which there never was so much at once.
    Packs(String),
    /// A mixing of the recipe of this name; the newest of its cups.
    Mixed(String),
    /// A mixing of a recipe that was never mixed; the newest cups of all.
    FirstMixed,
    /// What the cup with this mark was mixed to hold; what was thought before.
    Remixed(Mark),
    /// The thinner that went into the cup with this mark; the most that it is likely to need, nine times in ten.
    Thinned {
        /// The cup.
        mark: Mark,
        /// The upper end of that band.
        most: Millilitres,
    },
    /// The sale of a pour's picture; what was asked for it.
    Sale(i64),
    /// What is asked for a pour's picture; what was asked before.
    Asked(i64),
}

impl Far {
    /// What must be said to be so: a number that is far from another.
    pub(crate) fn refuse(of: FarOf, said: f64, other: f64) -> Result<(), Refusal> {
        Self::refuse_from(FAR, of, said, other)
    }

    /// The same of a number that is so `many` times the other and more, or as small a part of it.
    pub(crate) fn refuse_from(many: f64, of: FarOf, said: f64, other: f64) -> Result<(), Refusal> {
        match far(said, other, many) {
            Some(times) => Err(Refusal::Far(Self { of, times })),
            None => Ok(()),
        }
    }
}

/// What a careful painter should be told after a deed: what is wrong, and what will happen.
#[derive(Debug, Clone, Default)]
pub struct Remarks {
    /// What is wrong, or may be.
    pub warnings: Vec<Warning>,
    /// What will happen, and may well be wished.
    pub notes: Vec<Note>,
}

impl From<Vec<Warning>> for Remarks {
    fn from(warnings: Vec<Warning>) -> Self {
        Self {
            warnings,
            notes: Vec::new(),
        }
    }
}

impl Remarks {
    /// The same of a deed that was done at an instant: on which day is said where it is not today.
    #[must_use]
    pub fn dated(mut self, at: Moment, now: &Now) -> Self {
        let day = |at: Moment| now.zone.tell(at).date_naive();
        let other = (day(at) != day(now.at)).then_some(Note::OtherDay(at));
        self.notes.extend(other);
        self
    }
}

/// What is wrong, or may be; the deed was done all the same.
#[derive(Debug, Clone)]
pub enum Warning {
    /// A caution of the trade bites here.
    Caution(&'static Caution),
    /// More thinner is in the cup than its binder bears.
    OverThinned {
        /// The cup.
        mark: Mark,
        /// How much of it is thinner.
        share: Share,
        /// How much may be.
        limit: Share,
    },
    /// It was thinned, and yet reads thicker than before.
    Thicker(Mark),
    /// A reading far from what was expected was kept.
    Doubted(Doubt),
    /// A cup of a plan went elsewhere.
    WentElsewhere {
        /// The cup.
        mark: Mark,
        /// The pours on other panels that took of it; none where it ended otherwise.
        pours: Vec<i64>,
    },
    /// The clock had stood later at an entry of the cup.
    ClockWentBack(Mark),
    /// More of a material went in than the shelf held.
    Overdrawn {
        /// Its name.
        material: String,
        /// What went in.
        needed: Millilitres,
        /// By how much the shelf is below nothing now.
        lacks: Millilitres,
    },
    /// A cup that was drawn from still rested.
    DrawnResting {
        /// The cup.
        mark: Mark,
        /// When it has cleared.
        clears_at: Moment,
    },
    /// Paint of another variant was added to a cup.
    Blended {
        /// The cup.
        mark: Mark,
        /// What was added.
        holds: VariantRef,
    },
    /// Something is wrong with the stack.
    Stack(StackFault),
    /// The pour stands, but is not the run of a trial that it was poured for.
    NotTheRun {
        /// The trial.
        trial: i64,
        /// The run, from 1.
        run: usize,
        /// Why the trial refused it.
        why: Box<Refusal>,
    },
    /// The pour is older than the trial's design.
    BeforeTheDesign(i64),
    /// Another run was to come first.
    OutOfTurn {
        /// The run that was to come first, from 1.
        first: usize,
    },
    /// The run had another pour.
    RunRepoured {
        /// The run, from 1.
        run: usize,
        /// The pour that it had.
        had: i64,
        /// The pour that counts.
        counts: i64,
    },
    /// The run had been given up.
    RunAfterAll {
        /// The run, from 1.
        run: usize,
        /// The pour that counts.
        counts: i64,
    },
    /// A plan begins to pour before its cups can be ready.
    TooSoon {
        /// When they are, mixed now.
        ready: Moment,
    },
    /// Steps of a plan that are to be done in the studio's quiet hours all the same.
    AtNight(Vec<Step>),
    /// A cup was mixed from a plan well before its time.
    MixedEarly {
        /// The plan.
        plan: i64,
        /// When it was to be mixed.
        due: Moment,
    },
    /// A recipe has changed since a plan was made.
    RecipeChanged {
        /// What the plan is for.
        planned: VariantRef,
        /// The number of its newest variant.
        newest: i64,
    },
    /// A picture was judged dry before it can be dry to the touch.
    DryEarly(Band<Moment>),
    /// A picture was judged sold, and no price is known of it.
    SoldUnpriced(i64),
    /// A picture may not be dry enough for varnish.
    VarnishedEarly(Band<Moment>),
    /// No date for a varnish is known of the picture, and why.
    VarnishUndated(DryingError),
}

/// What will happen, and may well be wished.
#[derive(Debug, Clone, PartialEq)]
pub enum Note {
    /// Of a part that is a mixture no cup stands: its own parts come from the shelf.
    FromShelf {
        /// The part's name.
        part: String,
        /// How much of it.
        ml: Millilitres,
    },
    /// Of a part that is a mixture too little stands.
    BottleShort {
        /// The part's name.
        part: String,
        /// How much of it is needed.
        needed: Millilitres,
        /// The cups that hold it, and what was left in each.
        had: Vec<(Mark, Millilitres)>,
    },
    /// What a plan needs of a part that is a mixture stands already.
    BottleServes {
        /// The part's name.
        part: String,
        /// How much of it is needed.
        needed: Millilitres,
        /// The cups that it is drawn from.
        from: Vec<Mark>,
    },
    /// Of what a plan needs of a variant so much stands in cups.
    CupServes {
        /// The variant.
        variant: VariantRef,
        /// The cups that stand, and how much of each is taken.
        from: Vec<(Standing, Millilitres)>,
        /// What is mixed beside it.
        mixed: Millilitres,
    },
    /// A cup that is drawn from holds an older variant than the newest.
    OlderBottle {
        /// The cup.
        mark: Mark,
        /// What it holds.
        holds: VariantRef,
        /// The number of the newest.
        newest: i64,
    },
    /// A part that comes from the shelf is itself made of what stands in a cup.
    BottleWithin {
        /// The name of what the cup holds.
        part: String,
        /// The cup.
        mark: Mark,
        /// How much is drawn.
        ml: Millilitres,
    },
    /// A pour makes a picture once more: the two can be held side by side.
    Repeats {
        /// The pour.
        pour: i64,
        /// The picture.
        of: i64,
    },
    /// It is written down for another day than today.
    OtherDay(Moment),
    /// A cup was mixed for a plan that makes a picture once more.
    AsInPicture {
        /// The cup.
        mark: Mark,
        /// The picture.
        pour: i64,
        /// The mound that the picture's cup had.
        mound: Option<Seconds>,
        /// How long the picture's cup had stood.
        stood: Option<Hours>,
    },
    /// An activator is heavier than the layer below it: cells come of it.
    Cells {
        /// The activator's cup.
        activator: Mark,
        /// The cup below it.
        below: Mark,
    },
}

/// What is wrong with a stack.
#[derive(Debug, Clone, PartialEq)]
pub enum StackFault {
    /// A cup is not ready.
    NotReady {
        /// The cup.
        mark: Mark,
        /// What it is in place of ready.
        state: State,
        /// When it has cleared.
        clears_at: Moment,
    },
    /// Another layer lies on the activator.
    OnActivator {
        /// What lies on it.
        upper: Mark,
        /// The activator's cup.
        activator: Mark,
    },
    /// A layer is not thinner than the one below it, by the mounds they are expected to have.
    NotThinner {
        /// The upper cup and its mound.
        upper: (Mark, Seconds),
        /// The lower cup and its mound.
        lower: (Mark, Seconds),
    },
    /// A layer may not be thinner than the one below it.
    Unsure {
        /// The upper cup.
        upper: Mark,
        /// The lower cup.
        lower: Mark,
        /// The probability that it is.
        holds: Share,
    },
    /// A layer that is no activator is heavier than the one below it.
    Heavier {
        /// The upper cup.
        upper: Mark,
        /// The lower cup.
        lower: Mark,
    },
    /// One cup twice in a row is one layer.
    SameCup(Mark),
    /// More is to be poured of a cup than is left in it.
    Overdrawn {
        /// The cup.
        mark: Mark,
        /// What is left of it.
        left: Millilitres,
        /// What is to be poured of it, all its layers together.
        asked: Millilitres,
    },
    /// The whole wet film is deeper than anyone pours.
    FilmDeep(Millimetres),
    /// The whole wet film is too thin to cover.
    FilmThin(Millimetres),
}

/// Whether the order of a whole stack holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StackVerdict {
    /// Each layer is surely thinner than the one below it.
    Holds,
    /// It probably is: the least of the probabilities.
    Probably(Share),
    /// One is not, or lies on the activator.
    Broken,
    /// A mound is not known.
    Unknown,
}

/// What would mend the order of two layers, or make it known.
#[derive(Debug, Clone, PartialEq)]
pub enum StackAdvice {
    /// Pour the other layer under the activator.
    ActivatorOnTop {
        /// The activator's cup.
        activator: Mark,
        /// What lies on it.
        upper: Mark,
    },
    /// Thin the upper cup, or pour it under the lower.
    Thin {
        /// The upper cup.
        upper: Mark,
        /// By how much.
        by: Millilitres,
        /// The lower cup.
        lower: Mark,
    },
    /// Pour the upper cup under the lower: no amount of thinner is known to mend it.
    Swap {
        /// The upper cup.
        upper: Mark,
        /// The lower cup.
        lower: Mark,
    },
    /// Read these cups: their mounds are not known.
    Read {
        /// The cups.
        unread: Vec<Mark>,
        /// Whether a flow cup read one of them, which tells no mound.
        flow_cup: bool,
    },
}

/// The cautions that bite at a place, as warnings.
pub(in crate::studio) fn cautions(place: Place) -> impl Iterator<Item = Warning> {
    at(place).map(Warning::Caution)
}
