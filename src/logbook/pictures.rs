//! The table `picture`.

use crate::logbook::read::{Read, Reader, moment_in, unreadable};
use crate::logbook::{Value, Writer, write};
use crate::trade::picture::{Picture, Sale};
use rusqlite::Row;
use rust_decimal::Decimal;

const PICTURE: &str = "SELECT * FROM picture";

impl Reader<'_> {
    /// What is known of the picture of a pour.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all readings below.
    pub fn picture(&self, pour: i64) -> Read<Option<Picture>> {
        self.first(
            &format!("{PICTURE} WHERE pour_id = ?1 ORDER BY id"),
            [pour],
            picture,
        )
    }

    /// Every picture of which something is known, by its pour's number.
    pub fn pictures(&self) -> Read<Vec<Picture>> {
        self.all(
            &format!("{PICTURE} WHERE id IN (SELECT MIN(id) FROM picture GROUP BY pour_id)"),
            [],
            picture,
        )
    }
}

impl Writer<'_> {
    /// Writes down what is known of a picture, in place of what was known before.
    ///
    /// # Errors
    /// Where the store refuses it.
    pub fn set_picture(&mut self, picture: &Picture) -> Read<()> {
        let columns = columns(picture);
        let there: Option<i64> = self.read().first(
            "SELECT id FROM picture WHERE pour_id = ?1 ORDER BY id",
            [picture.pour],
            |row| row.get(0),
        )?;
        if let Some(id) = there {
            return self.update("picture", id, &columns);
        }
        let known = [("uid", write::uid()), ("pour_id", picture.pour.into())];
        let all: Vec<_> = known.into_iter().chain(columns).collect();
        self.insert("picture", &all).map(|_| ())
    }
}

fn columns(picture: &Picture) -> [(&'static str, Value); 7] {
    let sale = picture.sale.as_ref();
    let [at_ms, offset_min] =
        sale.map_or([Value::Null, Value::Null], |sale| write::moment(sale.at));
    let money = |price: Decimal| price.to_string();
    [
        ("title", picture.title.clone().into()),
        ("asked", picture.asked.map(money).into()),
        ("price", sale.map(|sale| money(sale.price)).into()),
        ("sold_at_ms", at_ms),
        ("sold_offset_min", offset_min),
        ("buyer", sale.and_then(|sale| sale.buyer.clone()).into()),
        ("venue", sale.and_then(|sale| sale.venue.clone()).into()),
    ]
}

pub(super) fn picture(row: &Row<'_>) -> rusqlite::Result<Picture> {
    let price = money(row, "price")?;
    let sale = match price {
        None => None,
        Some(price) => Some(Sale {
            at: moment_in(row, "sold_at_ms", "sold_offset_min")?,
            price,
            buyer: row.get("buyer")?,
            venue: row.get("venue")?,
        }),
    };
    Ok(Picture {
        pour: row.get("pour_id")?,
        title: row.get("title")?,
        asked: money(row, "asked")?,
        sale,
    })
}

fn money(row: &Row<'_>, column: &'static str) -> rusqlite::Result<Option<Decimal>> {
    let text: Option<String> = row.get(column)?;
    let read = |text: String| text.parse().map_err(|_| unreadable(column));
    text.map(read).transpose()
}
