//! What every refusal says, as one sentence without its full stop.

use crate::studio::{
    ByCells, LEAST_CUP, Limit, MOST_CUP, NameOf, Refusal, RunFault, StudioError, ThingIs,
    Unchanged, Unread, local,
};
use crate::tell::Told;
use crate::tell::models::out_of_model;
use crate::tell::{known, parse};
use crate::trade::amount::{Measures, show_mass, show_volume};
use crate::trade::instant::Now;
use crate::trade::mark::{Mark, MarkProblem};
use crate::trade::pour::{MoveKind, PourProblem};
use crate::trade::problem::said_back;
use crate::trade::recipe::variant_title;
use crate::trade::text::inert;
use crate::trade::units::{Millilitres, US_FLUID_OUNCE};

impl Told for StudioError {
    fn told(&self, measures: Measures, now: &Now) -> String {
        match self {
            Self::Refused(refusal) => refusal.told(measures, now),
            Self::Store(error) => error.told(measures, now),
        }
    }
}

impl Told for Refusal {
    fn told(&self, measures: Measures, now: &Now) -> String {
        match self {
            Self::Words(problem) => parse::sentence(problem),
            Self::Pour(problem) => of_pour(problem),
            Self::NoMark { said, problem } => {
                format!("{} is no mark: {}", inert(said), of_mark(problem))
            }
            Self::UnknownMark(mark, _) => format!("no cup is marked {}", inert(mark)),
            Self::Spent(mark, _) => format!("{mark} is spent"),
            Self::SpentSince(pour, mark) => format!("{mark} of pour {pour} is spent"),
            Self::MarkInUse(mark) => format!("{mark} is on a living cup"),
            Self::NoMarkLeft => "every mark is in use".to_owned(),
            Self::Tape(tape) => format!("{tape} tape is kept for activators alone"),
            Self::UnknownName { of, name, .. } => {
                format!("no {} is called {}", name_of(*of), inert(name))
            }
            Self::NameTaken { of, name } => {
                format!("there is already a {} called {}", name_of(*of), inert(name))
            }
            Self::MergedWithItself => "both names are of one thing already".to_owned(),
            Self::TwoThings {
                from,
                is,
                into,
                other,
            } => {
                let (from, into) = (inert(from), inert(into));
                format!(
                    "{from} is {}, and {into} is {}",
                    with_article(thing_is(*is)),
                    with_article(thing_is(*other))
                )
            }
            Self::InUse {
                name,
                recipes,
                cups,
            } => {
                let of = |count: usize, one: &str, many: &str| match count {
                    0 => None,
                    1 => Some(format!("1 {one}")),
                    count => Some(format!("{count} {many}")),
                };
                let uses = [
                    of(*recipes, "variant of a recipe", "variants of recipes"),
                    of(*cups, "cup", "cups"),
                ];
                let uses: Vec<String> = uses.into_iter().flatten().collect();
                format!("{} is in {}", inert(name), uses.join(" and "))
            }
            Self::RetiredAlready(name, true) => {
                format!("{} is retired already", inert(name))
            }
            Self::RetiredAlready(name, false) => format!("{} is not retired", inert(name)),
            Self::NoLetter(name) => {
                format!("\"{}\" reads like an amount, not like a name", inert(name))
            }
            Self::BadName => "a name has 1 to 80 characters".to_owned(),
            Self::Cycle(name) => format!("{} would go into itself", inert(name)),
            Self::BadPart(text) => format!(
                "{} is no part: write a name and how many parts of it, such as \"White 2\"",
                inert(text)
            ),
            Self::NoParts => "a recipe needs at least one part".to_owned(),
            Self::NoChange(what) => {
                format!(
                    "nothing was asked for that differs from {}",
                    unchanged(what)
                )
            }
            Self::FactorWithItself(said) => format!("\"{}\" is one factor twice", said_back(said)),
            Self::NoFactor(said, _) => format!("{} is no factor", inert(said)),
            Self::OneFactor(said, _) => format!(
                "\"{}\" names one factor, and a table needs two",
                said_back(said)
            ),
            Self::ByOwnCells(by, outcome) => format!(
                "{} goes by your own cells, not by the measured {outcome}",
                by_cells(*by)
            ),
            Self::NoVariant(recipe, number) => format!("{recipe} has no variant {number}"),
            Self::NoDensity(name) => format!("the density of {name} is unknown"),
            Self::Unweighed(unknown) => format!(
                "without its density {} cannot be turned into a volume",
                show_mass(unknown.mass, measures)
            ),
            Self::NoPack(name) => format!("what a pack of {} holds is not known", inert(name)),
            Self::MaterialGone => "the material is no longer there".to_owned(),
            Self::RecipeGone => "the recipe is no longer there".to_owned(),
            Self::PacksAndAmount => "packs and an amount were both said".to_owned(),
            Self::CupGone => "the cup is no longer there".to_owned(),
            Self::Needed(field) => format!("{field} is needed"),
            Self::NoVolume => "how much is to be mixed?".to_owned(),
            Self::NoRecipe => "which recipe is to be mixed?".to_owned(),
            Self::VolumeRange(volume) => {
                let [volume, least, most] =
                    [*volume, LEAST_CUP, MOST_CUP].map(|one| show_volume(one, measures));
                format!("{volume} is no cup: between {least} and {most} can be mixed")
            }
            Self::NotAPart {
                mark,
                holds,
                recipe,
            } => format!("{mark} holds {holds}, which is no part of {recipe}"),
            Self::NoAmount => "how much is added?".to_owned(),
            Self::IntoItself(mark) => format!("{mark} cannot be poured into itself"),
            Self::FilledFromIt { from, into } => {
                format!("{from} holds paint of {into} already")
            }
            Self::WhichThinner(names) => {
                format!("with which thinner: {}?", inert(&names.join(" or ")))
            }
            Self::WhichPart(said, parts) => {
                format!(
                    "it is not said what {} is of: {}",
                    inert(said),
                    inert(&parts.join(" or "))
                )
            }
            Self::TooMuch { mark, left, asked } => {
                let [left, asked] = [left, asked].map(|ml| closely(*ml, measures));
                format!("{mark} holds {left}, not {asked}")
            }
            Self::TooMuchThinner { mark, holds, asked } => {
                let [holds, asked] = [holds, asked].map(|ml| closely(*ml, measures));
                format!(
                    "{mark} holds {holds}, and {asked} of thinner is more than that cup ever held"
                )
            }
            Self::There(file) => format!("{file} is already there"),
            Self::Doubted(doubt) => doubt.told(measures, now),
            Self::FarCount {
                material,
                counted,
                left,
            } => {
                let [counted, left] = [counted, left].map(|ml| show_volume(*ml, measures));
                format!(
                    "{counted} of {} is far from the {left} that were thought to be left",
                    inert(material)
                )
            }
            Self::PlanWentOn(plan) => format!("another cup of plan {plan} is the next by now"),
            Self::JustLooked => "that was seen and written down within this minute".to_owned(),
            Self::Far(far) => far.told(measures, now),
            Self::NotAnEntry(said) => format!("\"{}\" is no number of an entry", said_back(said)),
            Self::NoEntries(mark) => format!("the life of {mark} is empty"),
            Self::NoEntry(mark, number) => format!("{number} is no entry of {mark}"),
            Self::EntryGone => "the entry is no longer there".to_owned(),
            Self::NoValue(kind) => format!("an entry \"{kind}\" has no value to put right"),
            Self::NotSaidOf { kind, field } => {
                format!("an entry \"{kind}\" does not say \"{field}\"")
            }
            Self::MixedAfter { at, mark, first } => format!(
                "{mark} cannot have been mixed at {}: something was done to it at {} already",
                local(*at, now),
                local(*first, now)
            ),
            Self::InPicture(pour) => {
                format!("it lies in picture {pour}, and is put right there")
            }
            Self::NotAlone(kind) => {
                format!("an entry \"{kind}\" stands or falls with the deed that made it")
            }
            Self::NothingAmended => "nothing was said that differs from what stands".to_owned(),
            Self::LayerStays(pour, mark) => {
                format!("{mark} is left out, and no layer can be taken out of pour {pour}")
            }
            Self::NotInPour(pour, said) => format!("{} is no layer of pour {pour}", inert(said)),
            Self::Future(at) => format!("{} has not come yet", local(*at, now)),
            Self::BeforeTheCup { at, mark, mixed } => {
                let [at, mixed] = [at, mixed].map(|at| local(*at, now));
                format!("{at} lies before {mark} was mixed, at {mixed}")
            }
            Self::NoLayers => "a pour needs at least one layer".to_owned(),
            Self::NoPour(pour) => format!("there is no pour {pour}"),
            Self::ScrapedAlready(pour, newest) => format!(
                "pour {pour} was scraped already; pour {newest} is the newest go on its panel"
            ),
            Self::NotJudged { pour, dry } => {
                let seen = if *dry { "dry" } else { "wet" };
                format!("pour {pour} was not judged {seen} yet")
            }
            Self::NotSeenDry(pour) => format!("pour {pour} was not judged dry yet"),
            Self::RepeatsNone(pour) => {
                format!("picture {pour} was not made as another one was")
            }
            Self::NotRepeatable(pour) => {
                format!("a cup or a recipe of picture {pour} is gone: it cannot be made once more")
            }
            Self::OverThinned { mark, share, limit } => {
                let [share, limit] = [share, limit].map(|one| one.get() * 100.0);
                format!(
                    "{mark} would hold {share:.0} % thinner; over {limit:.0} % the binder crazes and dusts"
                )
            }
            Self::Scraped(pour) => format!("pour {pour} was scraped: no picture is left of it"),
            Self::Varnished(pour) => format!("pour {pour} was varnished already"),
            Self::NotSold(pour) => format!("pour {pour} was not sold yet"),
            Self::SoldAlready(pour) => format!("pour {pour} was sold already"),
            Self::NoTitle => "neither a title nor a price was said".to_owned(),
            Self::Line { line, problem } => {
                format!("line {line}: {}", problem.told(measures, now))
            }
            Self::OnlyTried => "it was only tried".to_owned(),
            Self::Grade(what) => format!("{what} runs from 0 to 5"),
            Self::Word { of, said } => format!("{} is no {}", inert(said), known::what(*of)),
            Self::Range(limit) => of_limit(*limit).to_owned(),
            Self::WrongState(mark, state) => format!("{mark} is {state}"),
            Self::Design(error) => super::trials::design(*error),
            Self::NoTrial(trial) => format!("there is no trial {trial}"),
            Self::BadFactor(said) => format!("\"{said}\" is nothing to vary"),
            Self::OneSetting(name) => format!("{} has the same setting twice", inert(name)),
            Self::FactorTwice(name) => format!("{} is varied twice", inert(name)),
            Self::Run { trial, fault } => of_run(*trial, *fault),
            Self::NoPlan(plan) => format!("there is no plan {plan}"),
            Self::PlanGone(plan) => format!("plan {plan} asks for a variant that is gone"),
            Self::NothingToLabel(None) => "there is nothing to label: no cup lives".to_owned(),
            Self::NothingToLabel(Some(plan)) => {
                format!("there is nothing to label: no cup mixed for plan {plan} lives")
            }
            Self::PlanDone(plan) => format!("every cup of plan {plan} is mixed"),
            Self::NoRecipeYet => "there is no recipe to plan with yet".to_owned(),
            Self::NoCopyYet => "there is no copy of this studio yet".to_owned(),
            Self::NoCopy(place) => format!("there is no copy {place}"),
            Self::DemoNotHere => {
                "this studio is not empty, and the demo wants a file of its own".to_owned()
            }
            Self::Unread(mark, why) => of_unread(mark, *why),
            Self::OutOfModel(model) => out_of_model(model),
            Self::TooManyCups { most } => {
                format!("that is more than {most} cups: name larger ones, or fewer panels")
            }
            Self::OwnData { what, why } => format!("the {what} cannot be read: {why}"),
            Self::File(fault) => super::exchanged::fault(fault),
            Self::List(fault) => super::lists::fault(fault),
            Self::PhotoFile { name, why } => super::photo_files::problem(name, why),
            Self::Labels(fault) => super::outgoing::labels(*fault),
            Self::NoPhoto(photo) => format!("there is no photo {photo}"),
            Self::NotMeasured(photo) => format!("nothing was measured in photo {photo}"),
            Self::NoOriginal(photo) => {
                format!("the original of photo {photo} is gone or no longer what it was")
            }
            Self::PhotoKept { name, photo, pour } => {
                format!("{name} is kept already: photo {photo} of pour {pour}")
            }
            Self::Photo { name, why } => format!("{name}: {}", super::photos::fault(*why)),
            Self::NoFolder(path) => format!("the folder {} is missing", path.display()),
            Self::LidAlready { mark, on: true } => format!("the lid of {mark} is on"),
            Self::LidAlready { mark, on: false } => format!("the lid of {mark} is off"),
        }
    }
}

/// So closely that two amounts of which one is too much never read alike.
pub(super) fn closely(volume: Millilitres, measures: Measures) -> String {
    match measures {
        Measures::Metric => format!("{:.1} ml", volume.get()),
        Measures::UsCustomary => format!("{:.2} fl oz", volume / US_FLUID_OUNCE),
    }
}

const fn name_of(of: NameOf) -> &'static str {
    match of {
        NameOf::Material => "material",
        NameOf::Recipe => "recipe",
        NameOf::Part => "material or recipe",
        NameOf::Factor => "factor",
    }
}

const fn thing_is(is: ThingIs) -> &'static str {
    match is {
        ThingIs::Material => "material",
        ThingIs::Recipe => "recipe",
        ThingIs::Kind(kind) => kind.word(),
        ThingIs::Layer(layer) => layer.word(),
    }
}

fn unchanged(what: &Unchanged) -> String {
    match what {
        Unchanged::Named(name) => name.clone(),
        Unchanged::Variant(recipe, number) => variant_title(recipe, *number),
        Unchanged::Cup(mark) => mark.to_string(),
    }
}

const fn by_cells(by: ByCells) -> &'static str {
    match by {
        ByCells::Best => "which variant is best",
        ByCells::Pair => "a table of two factors",
        ByCells::Good => "when a pour is good",
    }
}

const fn of_limit(limit: Limit) -> &'static str {
    match limit {
        Limit::Panels => "the number of panels must be 1 to 1000",
        Limit::Edge => "the edge must be 0 to 200 mm",
        Limit::CupHolds => "what a cup holds must be 1 ml to 20 l",
        Limit::Film => "the wet film must be 0.05 to 10 mm",
        Limit::LayerFilm => "a wet film must be 0.01 to 20 mm",
        Limit::Films => "the number of films must be one, or one for each cup",
        Limit::NextLook => "the time to the next look must be more than nothing",
        Limit::ThinnerLimit => "the limit of thinner must be between 0 and 100 %",
        Limit::StartOver => "the start-over must be after the go it scrapes",
        Limit::Sale => "the sale must be after the pour",
        Limit::PictureText => "a title, a name or a place has at most 200 characters",
        Limit::ShelfAmount => "an amount on the shelf must be 0 to 1000 l",
        Limit::Judgement => "the judgement must be after the pour",
        Limit::Packs => "the number of packs must be more than nothing",
        Limit::Density => "a density must be between 0.5 and 5 g/ml",
        Limit::Copies => "the number of copies must be between 1 and 100",
        Limit::Centres => "the centre runs of a block must be 0 to 8",
        Limit::Seed => "the seed must be 0 to 9223372036854775807",
        Limit::Slope => "the slope must be 0 to 45 degrees",
        Limit::PlannedPour => "the pour must be still to come",
        Limit::Reading => "a reading must be said in seconds",
        Limit::Stirring => "a stirring must be said in minutes",
        Limit::DemoDay => "the present must be half a year after the calendar's beginning",
    }
}

fn of_run(trial: i64, fault: RunFault) -> String {
    match fault {
        RunFault::Missing(run) => format!("trial {trial} has no run {run}"),
        RunFault::AllDone => format!("every run of trial {trial} is done"),
        RunFault::Judged(run) => format!("run {run} of trial {trial} is judged already"),
        RunFault::GivenUp(run) => format!("run {run} of trial {trial} is given up already"),
        RunFault::NoReason => "say why the run is given up".to_owned(),
        RunFault::Taken { pour, run } => format!("pour {pour} is run {run} of trial {trial}"),
        RunFault::NothingPoured => "nothing was poured in the last 30 days".to_owned(),
    }
}

fn of_unread(mark: &Mark, why: Unread) -> String {
    match why {
        Unread::Gelled => format!(
            "the mound of {mark} never fades, so no amount can be told; thin it a little, stir it and read it"
        ),
        Unread::TooOld => {
            format!("the last reading of {mark} is too old to tell an amount by; read it again")
        }
        Unread::Never => format!("no mound of {mark} is known, so no amount can be told; read it"),
    }
}

/// Why a move or an air cannot be read.
fn of_pour(problem: &PourProblem) -> String {
    match problem {
        PourProblem::Move(said) => format!(
            "{said} is no move: write a direction, and how often after a colon, such as cw:2"
        ),
        PourProblem::Spin(said) => {
            format!("{said} is no spin, for a turntable turns left or right")
        }
        PourProblem::Kind(said) => {
            let kinds = MoveKind::words();
            format!("{said} is nothing done with a panel: begin with one of {kinds}")
        }
        PourProblem::Air(said) => {
            format!("{said} is no air: write temperature and humidity, such as 21C,45%")
        }
        PourProblem::AirRange(said) => {
            format!("{said} is no air of a room: -20 to 60 C and 0 to 100 % can be kept")
        }
    }
}

/// Why a text is no mark.
fn of_mark(problem: &MarkProblem) -> String {
    match problem {
        MarkProblem::Length => "a mark has two or three characters".to_owned(),
        MarkProblem::Character(c) => {
            format!("{c:?} does not stand in a mark: 0 and O, 1, I and L are easily misread")
        }
    }
}

/// `a paint`, `an additive`.
fn with_article(word: &str) -> String {
    let article = match word.starts_with(['a', 'e', 'i', 'o', 'u']) {
        true => "an",
        false => "a",
    };
    format!("{article} {word}")
}
