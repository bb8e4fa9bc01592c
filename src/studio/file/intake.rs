//! Rows of a painter's own lists taken in: all of them or none, as one change; what came in before adds nothing.

use crate::logbook::{Stock, Writer};
use crate::studio::{Answer, Limit, ListNote, Refusal, Studio, lookup};
use crate::trade::act::Act;
use crate::trade::colour::Colour;
use crate::trade::cup::{Cup, End, Happened, Reading};
use crate::trade::instant::Now;
use crate::trade::judgement::{Fate, Judgement};
use crate::trade::mark::Mark;
use crate::trade::material::{Material, MaterialKind};
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::picture::{Picture, Sale};
use crate::trade::pour::{Air, Pour};
use crate::trade::units::{Density, Millilitres, Seconds};
use chrono::TimeDelta;
use rust_decimal::Decimal;

/// One row of a list. `content` is all that its line says: the same content is the same row again.
#[derive(Debug, Clone)]
pub enum SheetRow {
    /// A material.
    Material(MaterialRow),
    /// A bottle bought, or a shelf counted.
    Stock(StockRow),
    /// A cup.
    Cup(CupRow),
    /// A pour.
    Pour(Box<PourRow>),
    /// A judgement.
    Judged(JudgedRow),
}

/// A material in a list.
#[derive(Debug, Clone)]
#[allow(missing_docs)]
pub struct MaterialRow {
    pub line: u64,
    pub content: String,
    pub name: String,
    pub kind: MaterialKind,
    pub pack: Option<Millilitres>,
    pub price: Option<Decimal>,
    pub density: Option<Density>,
    pub colour_index: Option<String>,
    pub hazard: Option<String>,
    pub colour: Option<Colour>,
}

/// A bottle bought or a shelf counted, in a list.
#[derive(Debug, Clone)]
#[allow(missing_docs)]
pub struct StockRow {
    pub line: u64,
    pub content: String,
    pub at: Moment,
    pub material: String,
    pub volume: Option<Millilitres>,
    pub packs: Option<f64>,
    pub price: Option<Decimal>,
    pub counted: bool,
}

/// A cup in a list.
#[derive(Debug, Clone)]
#[allow(missing_docs)]
pub struct CupRow {
    pub line: u64,
    pub content: String,
    pub at: Moment,
    pub recipe: String,
    pub mark: Option<String>,
    pub volume: Millilitres,
    pub mound: Option<Seconds>,
    pub tape: Option<String>,
    pub note: Option<String>,
}

/// A pour in a list, with what was seen on it.
#[derive(Debug, Clone)]
#[allow(missing_docs)]
pub struct PourRow {
    pub line: u64,
    pub content: String,
    pub at: Moment,
    pub panel: Panel,
    pub way: Option<String>,
    pub air: Option<Air>,
    pub note: Option<String>,
    pub title: Option<String>,
    pub asked: Option<Decimal>,
    pub sale: Option<SaleRow>,
    pub judged: Option<GradesRow>,
}

/// A sale in a list; on the day of the pour where none is said.
#[derive(Debug, Clone)]
#[allow(missing_docs)]
pub struct SaleRow {
    pub at: Option<Moment>,
    pub price: Decimal,
    pub buyer: Option<String>,
    pub venue: Option<String>,
}

/// A judgement in a list.
#[derive(Debug, Clone)]
#[allow(missing_docs)]
pub struct JudgedRow {
    pub line: u64,
    pub content: String,
    pub pour: i64,
    pub at: Option<Moment>,
    pub grades: GradesRow,
    pub note: Option<String>,
}

/// How a pour came out, in a list of either kind.
#[derive(Debug, Clone)]
#[allow(missing_docs)]
pub struct GradesRow {
    pub cells: u8,
    pub dry: bool,
    pub evenness: Option<u8>,
    pub lacing: Option<u8>,
    pub muddy: Option<u8>,
    pub crazed: Option<u8>,
    pub pinholes: Option<u8>,
    pub fate: Option<Fate>,
}

impl GradesRow {
    /// The same as a judgement.
    fn of(&self, pour: i64, at: Moment, note: Option<String>) -> Judgement {
        Judgement {
            id: 0,
            pour,
            at,
            dry: self.dry,
            cells: self.cells,
            size: None,
            evenness: self.evenness,
            lacing: self.lacing,
            muddy: self.muddy,
            crazed: self.crazed,
            pinholes: self.pinholes,
            fate: self.fate,
            note,
        }
    }
}

/// What became of a list.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct RowsTaken {
    /// Rows that came in.
    pub new: usize,
    /// Rows that were here already.
    pub known: usize,
    /// Cups that were taken as used up, for their day is long over.
    pub used_up: usize,
}

/// A cup of a list that is older than this is taken as used up (ours, no source).
const LONG_OVER: TimeDelta = TimeDelta::days(30);

impl RowsTaken {
    /// What was taken for granted of its rows.
    #[must_use]
    pub fn note(&self) -> Option<ListNote> {
        let note = ListNote::UsedUp(self.used_up, LONG_OVER.num_days());
        (self.used_up > 0).then_some(note)
    }
}

impl Studio {
    /// Takes the rows of a list in, as one change. Without `keep` everything is checked and nothing written.
    ///
    /// # Errors
    /// The first line that does not fit the studio, with its number; nothing is written then.
    pub fn take_rows(
        &mut self,
        rows: &[SheetRow],
        keep: bool,
        far: &dyn Fn(usize),
        now: &Now,
    ) -> Answer<RowsTaken> {
        self.memory.forget();
        let mut taken = RowsTaken::default();
        let done = self.book.commit_as(now.at.into(), |write| {
            for (nth, row) in rows.iter().enumerate() {
                take(write, row, &mut taken, now)?;
                far(nth + 1);
            }
            // What was only tried is given up as a whole.
            if keep {
                Ok(((), Act::ListTaken))
            } else {
                Err(Refusal::OnlyTried.into())
            }
        });
        self.memory.forget();
        match done {
            Err(crate::studio::StudioError::Refused(Refusal::OnlyTried)) => Ok(taken),
            Err(error) => Err(error),
            Ok(()) => Ok(taken),
        }
    }
}

fn take(write: &mut Writer<'_>, row: &SheetRow, taken: &mut RowsTaken, now: &Now) -> Answer<()> {
    let (line, done) = match row {
        SheetRow::Material(row) => (row.line, take_material(write, row)),
        SheetRow::Stock(row) => (row.line, take_stock(write, row)),
        SheetRow::Cup(row) => (row.line, take_cup(write, row, taken, now)),
        SheetRow::Pour(row) => (row.line, take_pour(write, row)),
        SheetRow::Judged(row) => (row.line, take_judged(write, row)),
    };
    let new = done.map_err(|error| match error {
        crate::studio::StudioError::Refused(refusal) => {
            let problem = Box::new(refusal);
            Refusal::Line { line, problem }.into()
        }
        error => error,
    })?;
    if new {
        taken.new += 1
    } else {
        taken.known += 1
    }
    Ok(())
}

/// A row's name for good: 128 bits of FNV-1a over its table and content (its authors' public description; no secret hangs on it).
fn uid(table: &str, content: &str) -> String {
    let bytes = table
        .bytes()
        .chain(std::iter::once(0))
        .chain(content.bytes());
    let hash = bytes.fold(
        0x6c62_272e_07bb_0142_62b8_2175_6295_c58d_u128,
        |hash, byte| {
            (hash ^ u128::from(byte)).wrapping_mul(0x0000_0000_0100_0000_0000_0000_0000_013b)
        },
    );
    format!("list-{hash:032x}")
}

fn take_material(write: &mut Writer<'_>, row: &MaterialRow) -> Answer<bool> {
    let name = lookup::lettered_name(&row.name)?;
    let there = write.read().material_named(&name)?;
    let known = there.clone().unwrap_or(Material {
        id: 0,
        name,
        kind: row.kind,
        pack_ml: None,
        price: None,
        density: None,
        colour_index: None,
        hazard: None,
        colour: None,
        priced_ml: None,
        retired: false,
    });
    // What the studio knows of a material stays; a list fills in what is not known.
    let filled = Material {
        pack_ml: known.pack_ml.or(row.pack),
        price: known.price.or(row.price),
        density: known.density.or(row.density),
        colour_index: known
            .colour_index
            .clone()
            .or_else(|| row.colour_index.clone()),
        hazard: known.hazard.clone().or_else(|| row.hazard.clone()),
        colour: known.colour.or(row.colour),
        ..known
    };
    match there {
        Some(there) if there == filled => return Ok(false),
        Some(_) => write.set_material(&filled)?,
        None => {
            write.add_material(&filled)?;
        }
    }
    Ok(true)
}

fn take_stock(write: &mut Writer<'_>, row: &StockRow) -> Answer<bool> {
    let uid = uid("stock", &row.content);
    if write.has_uid("stock", &uid)? {
        return Ok(false);
    }
    let material = lookup::material_called(&write.read(), &row.material)?;
    let packed = |packs: f64| material.pack_ml.map(|pack| pack * packs);
    let ml = match (row.volume, row.packs) {
        (Some(volume), packs) => volume * packs.unwrap_or(1.0),
        (None, Some(packs)) => {
            packed(packs).ok_or_else(|| Refusal::NoPack(material.name.clone()))?
        }
        (None, None) => return Err(Refusal::NoVolume.into()),
    };
    if !ml.is_finite() || ml < Millilitres::ZERO || ml > Millilitres(1e6) {
        return Err(Refusal::Range(Limit::ShelfAmount).into());
    }
    let id = write.add_stock(&Stock {
        material: material.id,
        at: row.at,
        counted: row.counted,
        ml: ml.stored(),
        price: row.price.filter(|_| !row.counted),
    })?;
    write.set_uid("stock", id, &uid)?;
    Ok(true)
}

fn take_cup(
    write: &mut Writer<'_>,
    row: &CupRow,
    taken: &mut RowsTaken,
    now: &Now,
) -> Answer<bool> {
    let uid = uid("cup", &row.content);
    if write.has_uid("cup", &uid)? {
        return Ok(false);
    }
    let read = write.read();
    let recipe = lookup::recipe_called(&read, &row.recipe)?;
    let variant = lookup::variant_of(&read, &recipe, None)?;
    let living = read.living_marks()?;
    let over = now.at - row.at > LONG_OVER;
    let said = row.mark.as_deref().map(lookup::parse_mark).transpose()?;
    let mark = match said {
        Some(mark) if !over && living.contains(&mark) => {
            return Err(Refusal::MarkInUse(mark).into());
        }
        Some(mark) => mark,
        None => Mark::next_free(None, |mark| living.contains(mark)).ok_or(Refusal::NoMarkLeft)?,
    };
    // Of two cups of one mark the earlier is spent before the later is written.
    let cup = Cup {
        id: 0,
        mark: mark.clone(),
        variant: variant.id,
        mixed_at: row.at,
        volume: row.volume,
        depth: None,
        diameter: None,
        tape: row.tape.clone(),
        note: row.note.clone(),
        spent: false,
    };
    // The mark of a cup that lives may be wanted by one that is long over: it lives for a moment under a free one.
    let passing = match over && living.contains(&mark) {
        true => Mark::next_free(None, |one| living.contains(one)).ok_or(Refusal::NoMarkLeft)?,
        false => mark.clone(),
    };
    let id = write.add_cup(&Cup {
        mark: passing.clone(),
        ..cup
    })?;
    write.set_uid("cup", id, &uid)?;
    let mixed = Happened::Mixed {
        stirred: None,
        reading: row.mound.map(Reading::Mound),
    };
    write.add_entry(id, row.at, true, &mixed)?;
    if over {
        write.add_entry(id, row.at, true, &Happened::Ended(End::Used))?;
        write.set_spent(id, row.at)?;
        if passing != mark {
            write.set_mark(id, &mark)?;
        }
        taken.used_up += 1;
    }
    Ok(true)
}

fn take_pour(write: &mut Writer<'_>, row: &PourRow) -> Answer<bool> {
    let uid = uid("pour", &row.content);
    if write.has_uid("pour", &uid)? {
        return Ok(false);
    }
    let panel_id = write.add_panel(row.panel)?;
    let id = write.add_pour(&Pour {
        id: 0,
        panel_id,
        panel: row.panel,
        go: 1,
        again_of: None,
        at: row.at,
        way: row.way.clone(),
        air: row.air,
        layers: Vec::new(),
        moves: Vec::new(),
        note: row.note.clone(),
    })?;
    write.set_uid("pour", id, &uid)?;
    let sale = row.sale.clone().map(|sale| Sale {
        at: sale.at.unwrap_or(row.at),
        price: sale.price,
        buyer: sale.buyer,
        venue: sale.venue,
    });
    let known = Picture {
        title: row.title.clone(),
        asked: row.asked,
        sale,
        ..Picture::of(id)
    };
    if known != Picture::of(id) {
        write.set_picture(&known)?;
    }
    if let Some(grades) = &row.judged {
        write.add_judgement(&grades.of(id, row.at, None))?;
    }
    Ok(true)
}

fn take_judged(write: &mut Writer<'_>, row: &JudgedRow) -> Answer<bool> {
    let uid = uid("judgement", &row.content);
    if write.has_uid("judgement", &uid)? {
        return Ok(false);
    }
    let pour = write
        .read()
        .pour(row.pour)?
        .ok_or(Refusal::NoPour(row.pour))?;
    let at = row.at.unwrap_or(pour.at);
    if at < pour.at {
        return Err(Refusal::Range(Limit::Judgement).into());
    }
    let id = write.add_judgement(&row.grades.of(pour.id, at, row.note.clone()))?;
    write.set_uid("judgement", id, &uid)?;
    Ok(true)
}
