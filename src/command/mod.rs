//! The command line: arguments to studio to text or JSON.
//!
//! One file a topic: first what is typed, then what is done. Nothing typed is read here: it goes into the fields of the
//! orders (`studio::orders`), as the screen's forms do.

mod add;
mod amend;
mod bar;
mod bench_numbers;
mod calendar;
mod cells;
mod complete;
mod cups;
mod day_copy;
mod doctor;
mod ending;
mod files;
mod findings;
mod findings_measured;
mod first_hour;
mod flow;
mod judge;
mod lists;
mod looks;
mod manners;
mod materials;
mod mix;
mod moves;
mod naming;
mod paper;
mod past;
mod photos;
mod planning;
mod pour;
mod recipes;
mod repeat;
mod report;
mod sales;
mod settings;
mod shelf;
mod show;
mod tend;
mod trial;
mod trial_findings;
mod watch;

pub use complete::{ASKED, complete};
pub use ending::{Ending, Undone};
pub use files::undone;

use crate::clock::Clock;
use crate::command::day_copy::When;
use crate::command::ending::Afterwards;
use crate::exchange::{Homes, Outlet};
use crate::studio::orders::{Bare, Given, Known, SimpleDeed, Typed, WindowField};
use crate::studio::{self, Answer, Settings, Studio, TimeWindow};
use crate::tell::{self, Face};
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use clap::{Parser, Subcommand};
use report::Report;
use std::ffi::OsString;
use std::io::Write;
use std::path::{Path, PathBuf};

/// The logbook and bench computer of a pour painter: mix, wait, thin, pour, judge, look back.
///
/// Without a verb it opens the Bench on the screen.
#[derive(Debug, Parser)]
#[command(name = "stillcup", version, disable_help_subcommand = false)]
#[command(after_help = AMOUNTS)]
pub struct Arguments {
    /// The studio's file; else what STILLCUP_STUDIO names, else one in the platform's data folder
    #[arg(long, global = true, value_name = "FILE")]
    pub studio: Option<PathBuf>,
    /// Answer in JSON: volumes in ml, times in RFC 3339, null for what is not known
    #[arg(long, global = true)]
    pub json: bool,
    /// Print long answers as they are, without a pager
    #[arg(long, global = true)]
    pub no_pager: bool,
    /// Open the screen in lines as they change, without drawings, for a screen reader
    #[arg(long)]
    pub plain: bool,
    /// What to do; none opens the screen
    #[command(subcommand)]
    pub verb: Option<Verb>,
}

const AMOUNTS: &str = "\
Amounts: 120ml, 4 fl oz, 1 qt, 35 g (where a density is known).  Waits: 12h, 90m, 1h30.
Instants: 18:30, yesterday 18:30, 2026-11-24T18:30:00+01:00.  Panels: 40x50cm, 16x20in, round 30cm.
STILLCUP_NOW=2026-11-24T18:30:00+01:00 stops the clock, for rehearsals; with ' x60' behind it it runs, sixty times as fast.
Exit codes: 0 done, 1 refused, 2 misused, 3 the studio's file failed, 4 kept but the answer not printed.";

/// What can be done.
#[derive(Debug, Subcommand)]
pub enum Verb {
    /// The living cups, the next to act on first
    #[command(after_help = "Example: stillcup cups")]
    Cups,
    /// One cup's whole life
    #[command(after_help = "Example: stillcup cup K7")]
    Cup(cups::CupArguments),
    /// Mix a cup: its mark, its parts, the start of its rest
    #[command(after_help = mix::EXAMPLE)]
    Mix(Box<mix::MixArguments>),
    /// Write down a reading of a cup
    #[command(after_help = "Example: stillcup read K7 2.8")]
    Read(tend::ReadArguments),
    /// Thin a cup
    #[command(after_help = "Example: stillcup thin K7 3ml --mound 2.4")]
    Thin(tend::ThinArguments),
    /// Add paint to a cup that is too thin, from the shelf or out of a thicker cup; or pour one cup into another
    #[command(after_help = add::EXAMPLE)]
    Add(add::AddPaintArguments),
    /// Stir a cup: its rest starts anew
    #[command(after_help = "Example: stillcup stir K7 4m")]
    Stir(tend::StirArguments),
    /// Say what is seen in a cup: clear ends its rest, bubbles draw it out, a gelled one no rest will clear
    #[command(after_help = "Example: stillcup look K7 clear")]
    Look(tend::LookArguments),
    /// Put a cup's lid on
    #[command(after_help = "Example: stillcup cap K7")]
    Cap(tend::SimpleArguments),
    /// Take a cup's lid off
    #[command(after_help = "Example: stillcup open K7")]
    Open(tend::SimpleArguments),
    /// End a cup
    #[command(after_help = "Example: stillcup end K7 skinned")]
    End(tend::EndArguments),
    /// Write another mark or tape on a cup's lid
    #[command(after_help = "Example: stillcup lid K7 --mark K9 --tape blue")]
    Lid(naming::RelabelArguments),
    /// Put an entry of a cup's life right; the history keeps what it was
    #[command(after_help = "Example: stillcup amend K7 last 2.6")]
    Amend(amend::AmendArguments),
    /// Strike an entry out of a cup's life; the history keeps it
    #[command(after_help = "Example: stillcup strike K7 last")]
    Strike(amend::EntryArguments),
    /// Pour cups onto a panel, the lowest layer first
    #[command(after_help = pour::EXAMPLE)]
    Pour(Box<pour::PourArguments>),
    /// Start over: scrape a pour and pour again on its panel
    #[command(after_help = "Example: stillcup again 12 --layer K7:60ml --layer A3:10ml")]
    Again(Box<pour::StartOverArguments>),
    /// Put a pour right: its panel, amounts, technique, air, moves, note
    #[command(after_help = "Example: stillcup correct 12 --layer K7:60ml --spin cw:2")]
    Correct(Box<pour::CorrectArguments>),
    /// A picture made once more: the same variants, rests, mounds and moves, its amounts on another panel
    #[command(after_help = repeat::EXAMPLE)]
    Repeat(repeat::RepeatArguments),
    /// Two pictures side by side: what was the same, and what was not
    #[command(after_help = "Example: stillcup compare 14 12")]
    Compare(repeat::CompareArguments),
    /// The pours, newest first
    #[command(after_help = "Example: stillcup pours --since 30d")]
    Pours(pour::PoursArguments),
    /// Judge a picture, wet or dry
    #[command(after_help = "Example: stillcup judge 12 --cells 4 --size fine --kept")]
    Judge(judge::JudgeArguments),
    /// Say that a picture was varnished: it leaves the rack
    #[command(after_help = "Example: stillcup varnish 12")]
    Varnish(judge::VarnishArguments),
    /// Give a picture its title, and the price asked for it
    #[command(after_help = "Example: stillcup title 12 \"River in May\" --asking 240")]
    Title(sales::TitleArguments),
    /// Say that a picture was sold: it leaves the rack and stands in the ledger
    #[command(
        after_help = "Example: stillcup sell 12 --price 240 --on 2026-11-20 --where \"open studio\""
    )]
    Sell(sales::SellArguments),
    /// What was sold, what its paint cost and what is left, by picture and in all
    #[command(after_help = "Example: stillcup ledger --year 2026 --csv ledger.csv")]
    Ledger(sales::LedgerArguments),
    /// A look back as one page for a browser or a printer: pours, what worked, what is drying, what it cost
    #[command(after_help = "Example: stillcup report --month 2026-10 --out october.html")]
    Report(looks::ReportArguments),
    /// A certificate for the one who buys a picture, as PDF or HTML
    #[command(after_help = "Example: stillcup certificate 12 --out picture12.pdf")]
    Certificate(looks::CertificateArguments),
    /// What is due as a calendar file: what clears, wants a look, may be touched or varnished, the steps of plans
    #[command(after_help = calendar::EXAMPLE)]
    Calendar(calendar::CalendarArguments),
    /// One line at each turn of a cup, until Ctrl-C: bells without a screen
    #[command(after_help = watch::EXAMPLE)]
    Watch(watch::WatchArguments),
    /// What worked: variants, their good pours and how sure that is
    #[command(after_help = "Example: stillcup findings --month 2026-10")]
    Findings(findings::FindingsArguments),
    /// Write a material down, or change what is known of it
    #[command(subcommand)]
    Material(materials::MaterialVerb),
    /// The materials
    #[command(after_help = "Example: stillcup materials")]
    Materials,
    /// Write a recipe down, or change it
    #[command(subcommand)]
    Recipe(recipes::RecipeVerb),
    /// The recipes with their variants
    #[command(after_help = "Example: stillcup recipes")]
    Recipes,
    /// What is left on the shelf
    #[command(after_help = "Example: stillcup shelf")]
    Shelf,
    /// Write down a purchase
    #[command(after_help = "Example: stillcup bought \"Titan white\" --packs 2")]
    Bought(shelf::BoughtArguments),
    /// Write down what was counted on the shelf
    #[command(after_help = "Example: stillcup counted \"Titan white\" 180ml")]
    Counted(shelf::CountedArguments),
    /// Plan a pour: paint for each cup, what the shelf lacks, what it costs, and when to begin what
    #[command(after_help = planning::EXAMPLE)]
    Plan(Box<planning::PlanArguments>),
    /// Labels for lids as a PDF: sheets or rolls, to the millimetre
    #[command(after_help = paper::LABELS_EXAMPLE)]
    Labels(Box<paper::LabelsArguments>),
    /// A kept plan as a PDF for the wall by the bench, to be filled in with a pencil
    #[command(after_help = "Example: stillcup session 3 --out plan.pdf")]
    Session(paper::SessionArguments),
    /// The kept plans beside what happened
    #[command(after_help = "Example: stillcup plans")]
    Plans,
    /// Trials: pours that vary chosen things on purpose, to find out what they do
    #[command(subcommand)]
    Trial(trial::TrialVerb),
    /// The trials, newest first
    #[command(after_help = "Example: stillcup trials")]
    Trials,
    /// What a cup or a picture cost
    #[command(after_help = "Example: stillcup cost K7")]
    Cost(planning::CostArguments),
    /// The cautions of the trade; the label, the data sheet and local codes come first
    #[command(after_help = "Example: stillcup cautions torch")]
    Cautions(planning::CautionsArguments),
    /// The ladder of layers, lowest first: does the order hold, what sinks, what would mend it
    #[command(
        after_help = "Example: stillcup stack B2 K7 A3 --film 0.9mm --film 0.7mm --film 0.2mm"
    )]
    Stack(bench_numbers::StackArguments),
    /// Pictures drying: when they may be touched and varnished
    #[command(after_help = "Example: stillcup rack")]
    Rack(flow::PageArguments),
    /// Measure the cells in a photo of a picture, in millimetres; nothing is written down
    #[command(after_help = cells::EXAMPLE)]
    Cells(cells::CellsArguments),
    /// Keep photos of a pour and measure them; measure one anew, drop one
    #[command(after_help = photos::EXAMPLE)]
    Photo(Box<photos::PhotoArguments>),
    /// The photos kept; take a folder's, check them, tidy up
    #[command(after_help = "Example: stillcup photos take Pictures/november")]
    Photos(photos::PhotosArguments),
    /// How long a film dries in some air
    #[command(after_help = "Example: stillcup drying --air 18C,70% --film 1.0mm")]
    Drying(bench_numbers::DryingArguments),
    /// Turn a flow cup's seconds into viscosity
    #[command(after_help = "Example: stillcup flow-cup iso4 38s")]
    FlowCup(bench_numbers::FlowCupArguments),
    /// A studio of invented people, in a file of its own, to look around in
    #[command(after_help = "Example: stillcup demo")]
    Demo,
    /// Starter materials and recipes in generic names, to be changed to yours
    #[command(after_help = "Example: stillcup starters")]
    Starters,
    /// Write the whole studio, its history too, into one JSON file
    #[command(after_help = "Example: stillcup export studio.json")]
    Export(files::ExportArguments),
    /// Take a studio in from its JSON file, or a list of one's own from a spreadsheet's CSV
    #[command(after_help = files::IMPORT_EXAMPLE)]
    Import(files::FileArguments),
    /// A sheet as CSV for a spreadsheet
    #[command(after_help = "Example: stillcup csv cups cups.csv")]
    Csv(files::CsvArguments),
    /// Copy the studio whole while it is in use, and check the copy
    #[command(after_help = "Example: stillcup backup")]
    Backup(files::BackupArguments),
    /// The dated copies, newest first
    #[command(after_help = "Example: stillcup backups")]
    Backups,
    /// Bring a copy back; what stands there now is kept aside
    #[command(after_help = "Example: stillcup restore newest")]
    Restore(files::RestoreArguments),
    /// What was done, newest first
    #[command(after_help = "Example: stillcup history --limit 5")]
    History(past::HistoryArguments),
    /// Take the last thing back, or one by its number in the history
    #[command(after_help = "Example: stillcup undo")]
    Undo(past::UndoArguments),
    /// Do again what was taken back last
    #[command(after_help = "Example: stillcup redo")]
    Redo,
    /// Change a setting
    #[command(after_help = "Example: stillcup set measures us")]
    Set(settings::SetArguments),
    /// The settings
    #[command(after_help = "Example: stillcup settings")]
    Settings,
    /// How the terminal, the file, its copies and the clock stand, and what to do about each
    #[command(after_help = "Example: stillcup doctor")]
    Doctor,
    /// Man pages, and what bash, zsh and fish need to complete words: what there is, or put in their places
    #[command(after_help = "Example: stillcup manners --install")]
    Manners(manners::MannersArguments),
}

impl Arguments {
    /// Reads the arguments, the program's own name first.
    ///
    /// # Errors
    /// The ending, where they are wrong or only help was asked for.
    pub fn read(words: impl IntoIterator<Item = OsString>) -> Result<Self, Ending> {
        let read = Self::try_parse_from(words).map_err(|error| Ending::of_clap(&error))?;
        if read.plain && read.verb.is_some() {
            let conflict = clap::error::ErrorKind::ArgumentConflict;
            let told = "--plain is for the screen: leave it out, or leave the command out";
            let error = <Self as clap::CommandFactory>::command().error(conflict, told);
            return Err(Ending::of_clap(&error));
        }
        Ok(read)
    }
}

/// The open studio and the present instant, as every verb needs them.
pub(crate) struct Desk<'a> {
    studio: &'a mut Studio,
    file: &'a Path,
    now: Now,
    clock: Clock,
    json: bool,
    settings: Settings,
    out: &'a mut Outlet,
    homes: &'a Homes,
}

/// How an answer is given.
#[derive(Debug, Clone, Copy)]
pub struct Manner<'a> {
    /// In JSON.
    pub json: bool,
    /// Through a pager, where a person reads it on a terminal that it is longer than.
    pub pages: bool,
    /// The person's own folders.
    pub homes: &'a Homes,
}

impl Manner<'_> {
    fn outlet(self) -> Outlet {
        match self.pages && !self.json {
            true => Outlet::paged(),
            false => Outlet::plain(),
        }
    }
}

/// Does what was asked with the studio in a file.
#[must_use]
pub fn run(verb: Verb, file: &Path, clock: &Clock, manner: Manner<'_>) -> Ending {
    let now = clock.now();
    studio::on_wait(say_wait);
    let mut out = manner.outlet();
    let ending = match answer(verb, file, *clock, (manner, &mut out)) {
        Ok(answered) => Ending::done(&answered.report, manner.json)
            .kept(answered.kept)
            .afterwards(answered.afterwards),
        Err(error) => undone(&error, file, &now, manner.json),
    };
    ending.through(out)
}

fn say_wait() {
    // Nothing is the matter where it cannot be said.
    let _ = writeln!(
        std::io::stderr(),
        "stillcup: another program is writing into the studio; waiting for it"
    );
}

/// What a verb answers.
struct Answered {
    report: Report,
    /// Whether it wrote anything.
    kept: bool,
    /// What is done once it is told; nothing where all is done.
    afterwards: Option<Afterwards>,
}

impl Answered {
    const fn whole(report: Report, kept: bool) -> Self {
        Self {
            report,
            kept,
            afterwards: None,
        }
    }
}

fn answer(
    verb: Verb,
    file: &Path,
    clock: Clock,
    (manner, out): (Manner<'_>, &mut Outlet),
) -> Result<Answered, Undone> {
    let (now, json, homes) = (clock.now(), manner.json, manner.homes);
    // A copy is brought back where the file itself may not open any more.
    match &verb {
        Verb::Doctor => return Ok(Answered::whole(doctor::doctor(file, &now), false)),
        Verb::Backups => return Ok(Answered::whole(files::backups(file, &now)?, false)),
        Verb::Restore(restore) => {
            return Ok(Answered::whole(files::restore(file, restore, &now)?, true));
        }
        _ => {}
    }
    let writes = match &verb {
        Verb::Export(_) | Verb::Backup(_) | Verb::Report(_) | Verb::Certificate(_) => true,
        Verb::Calendar(_) | Verb::Labels(_) | Verb::Session(_) => true,
        Verb::Csv(csv) => csv.file.is_some(),
        Verb::Ledger(ledger) => ledger.csv.is_some(),
        _ => false,
    };
    let mut studio = Studio::open(file)?;
    let when = day_copy::when(&verb, &studio);
    // A copy that fails must not stop the day's work, but must not be passed over either. Which measures are wished is not known
    // before a damaged file was found to be one.
    let failed = (when == When::First)
        .then(|| day_copy::take(&mut studio, &now, Measures::default()))
        .flatten();
    let settings = studio.settings()?;
    let measures = settings.measures;
    let barred = studio.barred().map(|why| {
        let way = why.wants_a_copy().then(|| studio::way_back(file, &now));
        let way = way.flatten().map(|way| tell::words(&way, measures, &now));
        let hint = way.unwrap_or_else(|| tell::store_hint(why, Face::CommandLine));
        let why = tell::words(why, measures, &now);
        format!("read only: {why}; {hint}")
    });
    let oddity = studio.clock_oddity(&now)?;
    let oddity = oddity.map(|odd| tell::words(&odd, measures, &now));
    let mut desk = Desk {
        studio: &mut studio,
        file,
        now,
        clock,
        json,
        settings,
        out,
        homes,
    };
    let told = |error| Undone { error, measures };
    let report = desk.perform(verb);
    let report = report
        .inspect_err(|error| studio.met(error))
        .map_err(told)?;
    let report = report.note(barred).note(oddity).note(failed);
    let kept = writes || studio.wrote();
    let copy = move || day_copy::take(&mut studio, &now, measures);
    Ok(Answered {
        report,
        kept,
        afterwards: (when == When::Afterwards).then(|| Afterwards::new(copy)),
    })
}

impl Desk<'_> {
    fn perform(&mut self, verb: Verb) -> Answer<Report> {
        match verb {
            Verb::Cups => self.cups(),
            Verb::Cup(cup) => self.cup(&cup),
            Verb::Mix(mix) => self.mix(*mix),
            Verb::Read(read) => self.read(&read),
            Verb::Thin(thin) => self.thin(thin),
            Verb::Stir(stir) => self.stir(&stir),
            Verb::Look(look) => self.look(&look),
            Verb::Cap(lid) => self.simple(&lid, SimpleDeed::Cap),
            Verb::Open(lid) => self.simple(&lid, SimpleDeed::Open),
            Verb::End(end) => self.end(&end),
            Verb::Lid(lid) => self.relabel(lid),
            Verb::Add(add) => self.add(add),
            Verb::Amend(amend) => self.amend(amend),
            Verb::Strike(entry) => self.strike(&entry),
            Verb::Pour(pour) => self.pour(*pour),
            Verb::Again(again) => self.start_over(*again),
            Verb::Correct(correct) => self.correct(*correct),
            Verb::Repeat(repeat) => self.repeat(repeat),
            Verb::Compare(compare) => self.compare(&compare),
            Verb::Pours(pours) => self.pours(&pours),
            Verb::Judge(judge) => self.judge(&judge),
            Verb::Varnish(varnish) => self.varnish(&varnish),
            Verb::Title(title) => self.title(&title),
            Verb::Sell(sell) => self.sell(&sell),
            Verb::Ledger(ledger) => self.ledger(&ledger),
            Verb::Report(report) => self.report(&report),
            Verb::Certificate(certificate) => self.certificate(&certificate),
            Verb::Calendar(calendar) => self.calendar(&calendar),
            Verb::Watch(watch) => self.watch(&watch),
            Verb::Findings(findings) => self.findings(&findings),
            Verb::Material(verb) => self.material(verb),
            Verb::Materials => self.materials(),
            Verb::Recipe(verb) => self.recipe(verb),
            Verb::Recipes => self.recipes(),
            Verb::Shelf => self.shelf(),
            Verb::Bought(bought) => self.bought(bought),
            Verb::Counted(counted) => self.counted(counted),
            Verb::Plan(plan) => self.plan(*plan),
            Verb::Plans => self.plans(),
            Verb::Labels(labels) => self.labels(&labels),
            Verb::Session(session) => self.session(&session),
            Verb::Trial(verb) => self.trial(verb),
            Verb::Trials => self.trials(),
            Verb::Cost(cost) => self.cost(&cost),
            Verb::Cautions(cautions) => self.cautions(&cautions),
            Verb::Stack(stack) => self.stack(&stack),
            Verb::Rack(page) => self.rack(page),
            Verb::Cells(cells) => self.cells(&cells),
            Verb::Photo(photo) => self.photo(&photo),
            Verb::Photos(photos) => self.photos(&photos),
            Verb::Drying(drying) => self.drying(&drying),
            Verb::FlowCup(cup) => self.flow_cup(&cup),
            Verb::Demo => self.demo(),
            Verb::Starters => self.starters(),
            Verb::Export(file) => self.export(&file),
            Verb::Import(file) => self.import(&file),
            Verb::Csv(csv) => self.csv(&csv),
            Verb::Backup(backup) => self.backup(&backup),
            Verb::Backups => files::backups(self.file, &self.now),
            Verb::Restore(restore) => files::restore(self.file, &restore, &self.now),
            Verb::History(history) => self.history(&history),
            Verb::Undo(undo) => self.undo(&undo),
            Verb::Redo => self.redo(),
            Verb::Set(set) => self.set(&set),
            Verb::Settings => self.show_settings(),
            Verb::Doctor => Ok(doctor::doctor(self.file, &self.now)),
            Verb::Manners(manners) => self.manners(&manners),
        }
    }

    /// What texts are read by: a number on the command line has its unit.
    const fn given<'a>(&'a self, known: &'a Known) -> Given<'a> {
        Given {
            known,
            now: &self.now,
            bare: Bare::Refused,
        }
    }

    /// A window of time: a month, a year, or the last so long; all of it where none is said.
    fn time_window(
        &self,
        month: Option<&String>,
        year: Option<&String>,
        since: Option<&String>,
    ) -> Answer<TimeWindow> {
        let typed = Typed::default()
            .given(WindowField::Month, month.cloned())
            .given(WindowField::Year, year.cloned())
            .given(WindowField::Since, since.cloned());
        let known = self.studio.known([])?;
        Ok(WindowField::order(&typed, &self.given(&known))?)
    }

    /// An instant that was typed; the last of its kind before now where its day is open.
    fn instant(&self, text: Option<&str>) -> Answer<Option<Moment>> {
        let known = self.studio.known([])?;
        let given = self.given(&known);
        Ok(text.map(|text| given.past(text)).transpose()?)
    }
}

/// A value out of a word list, for clap: `one of a, b, c` where it is none of them.
macro_rules! word {
    ($kind:ty) => {
        |text: &str| <$kind>::parse(text).ok_or_else(|| format!("one of {}", <$kind>::words()))
    };
}
pub(crate) use word;
