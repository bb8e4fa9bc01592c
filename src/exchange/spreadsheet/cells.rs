//! One line's cells, each read by what its column becomes.

use super::dates;
use super::fields::Column;
use super::grid::Line;
use super::numbers::{self, Decimal, Scale};
use super::rows::Columns;
use crate::studio::orders::ListField;
use crate::studio::{
    CellFault, CupRow, GradesRow, JudgedRow, MaterialRow, PourRow, SaleRow, StockRow,
};
use crate::trade::amount::{Amount, Measures};
use crate::trade::colour::Colour;
use crate::trade::judgement::Fate;
use crate::trade::material::MaterialKind;
use crate::trade::moment::Moment;
use crate::trade::money::parse_price;
use crate::trade::panel::Panel;
use crate::trade::pour::Air;
use crate::trade::problem::ParseProblem;
use crate::trade::range::parse_mound;
use crate::trade::units::{Celsius, Density, Millilitres, Seconds, Share};
use rust_decimal::Decimal as Money;

/// The most characters of a text.
const LONGEST: usize = 2000;

/// The unit of a column's bare numbers: its heading's, else that of all its other cells, else the studio's measures'.
pub(super) fn unit_of(column: &Column, us: bool) -> &'static str {
    let said = column.unit.as_deref().or(column.written.as_deref());
    match (column.field, said) {
        (Some(ListField::Panel | ListField::Width | ListField::Height), Some("mm")) => "mm",
        (Some(ListField::Panel | ListField::Width | ListField::Height), Some("cm")) => "cm",
        (Some(ListField::Panel | ListField::Width | ListField::Height), Some("in")) => "in",
        (Some(ListField::Panel | ListField::Width | ListField::Height), _) if us => "in",
        (Some(ListField::Panel | ListField::Width | ListField::Height), _) => "cm",
        (_, Some("fl oz")) => "fl oz",
        // No volume: told at the first cell of it.
        (_, Some("g")) => "g",
        (_, Some("kg")) => "kg",
        (_, Some("l")) => "l",
        (_, Some("cl")) => "cl",
        (_, Some("qt")) => "qt",
        (_, Some("pt")) => "pt",
        (_, Some("gal")) => "gal",
        (_, Some("ml")) => "ml",
        _ if us => "fl oz",
        _ => "ml",
    }
}

/// What a line says in a column; nothing where its cell only says that nothing is known.
pub(super) fn said<'a>(line: &'a Line, column: &Column) -> Option<&'a str> {
    let cell = line.cells.get(column.place)?.as_str();
    let nothing = matches!(
        cell,
        "" | "-" | "--" | "\u{2013}" | "\u{2014}" | "n/a" | "N/A" | "?"
    );
    (!nothing).then_some(cell)
}

/// The cells of one line.
pub(super) struct Cells<'a> {
    pub(super) columns: &'a Columns<'a>,
    pub(super) line: &'a Line,
}

impl Cells<'_> {
    fn raw(&self, field: ListField) -> Option<(&str, &Column, Decimal)> {
        let (column, decimal) = self
            .columns
            .known
            .iter()
            .find(|(one, _)| one.field == Some(field))?;
        Some((said(self.line, column)?, *column, *decimal))
    }

    fn text(&self, field: ListField) -> Result<Option<String>, CellFault> {
        let text = self
            .raw(field)
            .map(|(cell, ..)| numbers::unformula(cell).map(str::to_owned))
            .transpose()?;
        let long = |text: &String| text.chars().count() > LONGEST;
        match text.as_ref().is_some_and(long) {
            true => Err(CellFault::TooLong(field, LONGEST)),
            false => Ok(text),
        }
    }

    fn needed<T>(&self, field: ListField, value: Option<T>) -> Result<T, CellFault> {
        value.ok_or(CellFault::Missing(field))
    }

    /// What stands in all columns of notes, each but the first beneath its heading.
    fn note(&self) -> Result<Option<String>, CellFault> {
        let columns = self.columns.known.iter().map(|(column, _)| *column);
        let mut notes: Vec<String> = Vec::new();
        for column in columns.filter(|one| one.field == Some(ListField::Note)) {
            let Some(cell) = said(self.line, column) else {
                continue;
            };
            let said = numbers::unformula(cell)?;
            match notes.is_empty() {
                true => notes.push(said.to_owned()),
                false => notes.push(format!("{}: {said}", column.heading)),
            }
        }
        let note = notes.join("; ");
        match note.chars().count() > LONGEST {
            true => Err(CellFault::TooLong(ListField::Note, LONGEST)),
            false => Ok((!note.is_empty()).then_some(note)),
        }
    }

    fn at(&self) -> Result<Option<Moment>, CellFault> {
        self.moment(ListField::At)
    }

    fn moment(&self, field: ListField) -> Result<Option<Moment>, CellFault> {
        let Some((cell, ..)) = self.raw(field) else {
            return Ok(None);
        };
        let at = dates::date(cell, self.columns.order, self.columns.reading.now)?;
        let now = self.columns.reading.now;
        let today = now.zone.tell(now.at).date_naive();
        // A day alone was read as its noon, which today may still be to come.
        match (at > now.at, now.zone.tell(at).date_naive() == today) {
            (false, _) => Ok(Some(at)),
            (true, true) => Ok(Some(now.at)),
            (true, false) => Err(CellFault::StillToCome(cell.into())),
        }
    }

    fn number(&self, field: ListField) -> Result<Option<f64>, CellFault> {
        let Some((cell, _, decimal)) = self.raw(field) else {
            return Ok(None);
        };
        let (number, _) = numbers::number(cell, decimal)?;
        let number = number.parse().map(Some);
        number.map_err(|_| CellFault::NoNumber(cell.into()))
    }

    fn money(&self, field: ListField) -> Result<Option<Money>, CellFault> {
        let Some((cell, _, decimal)) = self.raw(field) else {
            return Ok(None);
        };
        let (number, _) = numbers::number(cell, decimal)?;
        parse_price(&number).map(Some).map_err(unread(cell))
    }

    fn volume(&self, field: ListField) -> Result<Option<Millilitres>, CellFault> {
        let Some((cell, column, decimal)) = self.raw(field) else {
            return Ok(None);
        };
        let (number, around) = numbers::number(cell, decimal)?;
        let us = self.columns.reading.measures == Measures::UsCustomary;
        let unit = match around.to_lowercase().trim_end_matches('.') {
            "" => unit_of(column, us).to_owned(),
            "oz" | "ounce" | "ounces" => "fl oz".to_owned(),
            unit => unit.to_owned(),
        };
        let said = format!("{number} {unit}");
        let amount = Amount::parse(&said).map_err(unread(cell))?;
        let volume = amount.volume(None);
        let volume = volume.map_err(|_| CellFault::Weight(cell.into()))?;
        Ok(Some(volume.stored()))
    }

    fn panel(&self) -> Result<Panel, CellFault> {
        let us = self.columns.reading.measures == Measures::UsCustomary;
        let said = match self.raw(ListField::Panel) {
            Some((cell, column, _)) => {
                let size = size_said(numbers::unformula(cell)?);
                let has_unit = size.ends_with(|c: char| c.is_alphabetic() || c == '"');
                match has_unit {
                    true => size,
                    false => format!("{size} {}", unit_of(column, us)),
                }
            }
            None => {
                let (w, h) = (self.side(ListField::Width)?, self.side(ListField::Height)?);
                format!("{w} x {h}")
            }
        };
        Panel::parse(&said).map_err(unread(&said))
    }

    fn side(&self, field: ListField) -> Result<String, CellFault> {
        let us = self.columns.reading.measures == Measures::UsCustomary;
        let (cell, column, decimal) = self.needed(field, self.raw(field))?;
        let (number, unit) = numbers::number(cell, decimal)?;
        Ok(format!(
            "{number} {}",
            if unit.is_empty() {
                unit_of(column, us)
            } else {
                &unit
            }
        ))
    }

    fn celsius(&self) -> Result<Option<f64>, CellFault> {
        let Some((cell, column, decimal)) = self.raw(ListField::Temperature) else {
            return Ok(None);
        };
        let (degrees, own) = numbers::temperature(cell, decimal)?;
        let scale = own.or_else(|| self.columns.scale_of(column));
        Ok(Some(scale.unwrap_or(Scale::Celsius).celsius(degrees)))
    }

    fn air(&self) -> Result<Option<Air>, CellFault> {
        let celsius = self.celsius()?;
        let humidity = self.number(ListField::Humidity)?.map(|number| {
            if number <= 1.0 {
                number
            } else {
                number / 100.0
            }
        });
        let fits = celsius.is_none_or(|c| (-20.0..=60.0).contains(&c))
            && humidity.is_none_or(|rh| (0.0..=1.0).contains(&rh));
        if !fits {
            return Err(CellFault::Air);
        }
        let known = celsius.is_some() || humidity.is_some();
        Ok(known.then_some(Air {
            celsius: celsius.map(Celsius),
            humidity: humidity.map(Share),
        }))
    }

    fn grade(&self, field: ListField) -> Result<Option<u8>, CellFault> {
        let Some((cell, ..)) = self.raw(field) else {
            return Ok(None);
        };
        numbers::unformula(cell)?;
        let none = || CellFault::NoGrade(cell.into(), field);
        numbers::grade(cell).map(Some).ok_or_else(none)
    }

    fn dry(&self) -> Result<Option<bool>, CellFault> {
        let Some((cell, ..)) = self.raw(ListField::Dry) else {
            return Ok(None);
        };
        match cell.to_lowercase().as_str() {
            "dry" | "trocken" | "yes" | "y" | "x" | "1" | "true" => Ok(Some(true)),
            "wet" | "nass" | "no" | "n" | "0" | "false" => Ok(Some(false)),
            _ => Err(CellFault::NeitherWetNorDry(cell.into())),
        }
    }

    fn fate(&self) -> Result<Option<Fate>, CellFault> {
        let Some((cell, ..)) = self.raw(ListField::Fate) else {
            return Ok(None);
        };
        let said = cell.to_lowercase();
        let meant = match said.as_str() {
            "yes" | "y" | "ja" | "keep" | "hung" | "behalten" => "kept",
            "no" | "n" | "nein" | "scrap" | "scraped off" | "binned" | "trash" | "abgekratzt" => {
                "scraped"
            }
            "verkauft" => "sold",
            other => other,
        };
        let fate = Fate::parse(meant).map(Some);
        fate.ok_or_else(|| CellFault::NoFate(cell.into()))
    }

    fn mound(&self) -> Result<Option<Seconds>, CellFault> {
        let Some((cell, _, decimal)) = self.raw(ListField::Mound) else {
            return Ok(None);
        };
        let (number, _) = numbers::number(cell, decimal)?;
        parse_mound(&number).map(Some).map_err(unread(cell))
    }

    fn grades(&self) -> Result<Option<GradesRow>, CellFault> {
        let Some(cells) = self.grade(ListField::Cells)? else {
            return Ok(None);
        };
        Ok(Some(GradesRow {
            cells,
            dry: self.dry()?.unwrap_or(true),
            evenness: self.grade(ListField::Evenness)?,
            lacing: self.grade(ListField::Lacing)?,
            muddy: self.grade(ListField::Muddy)?,
            crazed: self.grade(ListField::Crazed)?,
            pinholes: self.grade(ListField::Pinholes)?,
            fate: self.fate()?,
        }))
    }

    pub(super) fn judged(&self, content: String) -> Result<JudgedRow, CellFault> {
        let pour = self.needed(ListField::Pour, self.number(ListField::Pour)?)?;
        if pour.fract() != 0.0 || !(1.0..1e15).contains(&pour) {
            return Err(CellFault::NoPour);
        }
        Ok(JudgedRow {
            pour: pour as i64,
            at: self.at()?,
            grades: self.needed(ListField::Cells, self.grades()?)?,
            note: self.note()?,
            line: self.line.place.line,
            content,
        })
    }

    /// A sale: its price, and what more is said of it.
    fn sale(&self) -> Result<Option<SaleRow>, CellFault> {
        let (at, price) = (
            self.moment(ListField::SoldOn)?,
            self.money(ListField::Sold)?,
        );
        let (buyer, venue) = (self.text(ListField::Buyer)?, self.text(ListField::Where)?);
        let Some(price) = price else {
            return Ok(None);
        };
        let early = at.zip(self.at()?);
        if early.is_some_and(|(sold, poured)| sold < poured) {
            return Err(CellFault::SoldBefore);
        }
        Ok(Some(SaleRow {
            at,
            price,
            buyer,
            venue,
        }))
    }

    pub(super) fn pour(&self, content: String) -> Result<PourRow, CellFault> {
        Ok(PourRow {
            at: self.needed(ListField::At, self.at()?)?,
            panel: self.panel()?,
            way: self.text(ListField::Way)?,
            air: self.air()?,
            note: self.note()?,
            title: self.text(ListField::Title)?,
            asked: self.money(ListField::Asking)?,
            sale: self.sale()?,
            judged: self.grades()?,
            line: self.line.place.line,
            content,
        })
    }

    pub(super) fn cup(&self, content: String) -> Result<CupRow, CellFault> {
        Ok(CupRow {
            at: self.needed(ListField::At, self.at()?)?,
            recipe: self.needed(ListField::Recipe, self.text(ListField::Recipe)?)?,
            mark: self.text(ListField::Mark)?,
            volume: self.needed(ListField::Volume, self.volume(ListField::Volume)?)?,
            mound: self.mound()?,
            tape: self.text(ListField::Tape)?,
            note: self.note()?,
            line: self.line.place.line,
            content,
        })
    }

    pub(super) fn material(&self, content: String) -> Result<MaterialRow, CellFault> {
        let kind = self.text(ListField::What)?;
        let kind = match &kind {
            None => MaterialKind::Paint,
            Some(said) => kind_of(said).ok_or_else(|| CellFault::NoKind(said.clone()))?,
        };
        let density = self.number(ListField::Density)?;
        if density.is_some_and(|density| !(0.5..=8.0).contains(&density)) {
            return Err(CellFault::Density);
        }
        Ok(MaterialRow {
            name: self.needed(ListField::Name, self.text(ListField::Name)?)?,
            kind,
            pack: self.volume(ListField::Pack)?,
            price: self.money(ListField::Price)?,
            density: density.map(Density),
            colour_index: self.text(ListField::ColourIndex)?,
            hazard: self.text(ListField::Hazard)?,
            colour: self.colour()?,
            line: self.line.place.line,
            content,
        })
    }

    /// A paint's colour as a word or `#rrggbb`.
    fn colour(&self) -> Result<Option<Colour>, CellFault> {
        let said = self.text(ListField::Colour)?;
        let read = |said: String| {
            let colour = Colour::parse(&said);
            colour.map_err(|problem| CellFault::Unread(said, problem))
        };
        said.map(read).transpose()
    }

    pub(super) fn stock(&self, content: String) -> Result<StockRow, CellFault> {
        let counted = self
            .text(ListField::What)?
            .is_some_and(|said| said.to_lowercase().starts_with("count"));
        Ok(StockRow {
            at: self.needed(ListField::At, self.at()?)?,
            material: self.needed(ListField::Name, self.text(ListField::Name)?)?,
            volume: self.volume(ListField::Volume)?,
            packs: self.number(ListField::Packs)?,
            price: self.money(ListField::Price)?,
            counted,
            line: self.line.place.line,
            content,
        })
    }
}

/// That a cell cannot be read as what its column holds.
fn unread(cell: &str) -> impl FnOnce(ParseProblem) -> CellFault {
    |problem| CellFault::Unread(cell.to_owned(), problem)
}

/// A material's kind by its word, or by a word that painters use for it.
fn kind_of(said: &str) -> Option<MaterialKind> {
    let said = said.to_lowercase();
    let other = match said.trim_end_matches('s') {
        "medium" | "pouring medium" | "flow aid" | "gießmedium" | "pouringmedium" => "conditioner",
        "colour" | "color" | "acrylic" | "tube" | "pigment" | "farbe" | "acryl" => "paint",
        "water" | "wasser" | "verdünner" => "thinner",
        "ground" | "gesso" | "house paint" | "grund" | "grundierung" => "base",
        "oil" | "silicone" | "drop" | "öl" | "silikonöl" | "zusatz" => "additive",
        "lack" | "firni" => "varnish",
        word => return MaterialKind::parse(word).or_else(|| MaterialKind::parse(&said)),
    };
    MaterialKind::parse(other)
}

/// A panel's size as it is read everywhere, from how it stands in lists: `40 × 50`, `50,5 x 40 cm`, `12" round`, `Ø 30`.
fn size_said(cell: &str) -> String {
    const ROUND: &[&str] = &[
        "round", "circle", "circular", "diameter", "diam", "dia", "rund", "kreis",
    ];
    let plain = cell
        .replace(['×', '*'], "x")
        .replace(['Ø', 'ø', '⌀'], "round ")
        .replace(['″', '”', '“'], "\"")
        .to_lowercase()
        .replace(" by ", "x");
    let words = plain.split_whitespace();
    let is_round = |word: &&str| ROUND.contains(&word.trim_end_matches(['.', ',', ':']));
    let is_oval = |word: &&str| matches!(*word, "oval" | "ellipse");
    let (outline, sizes): (Vec<&str>, Vec<&str>) =
        words.partition(|word| is_round(word) || is_oval(word));
    let sizes = pointed(&sizes.join(" "));
    match outline.first() {
        Some(word) if is_oval(word) => format!("oval {sizes}"),
        Some(_) => format!("round {sizes}"),
        None => sizes,
    }
}

/// With points for the decimal commas: no panel has a thousand of anything.
fn pointed(sizes: &str) -> String {
    let signs: Vec<char> = sizes.chars().collect();
    let digit = |place: Option<usize>| {
        let sign = place.and_then(|place| signs.get(place));
        sign.is_some_and(char::is_ascii_digit)
    };
    let point = |(place, sign): (usize, &char)| {
        let within = digit(place.checked_sub(1)) && digit(Some(place + 1));
        if *sign == ',' && within { '.' } else { *sign }
    };
    signs.iter().enumerate().map(point).collect()
}
