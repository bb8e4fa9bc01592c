//! The Rack's forms, and how what was typed becomes a deed.

use super::{Ask, Deed, Rack};
use crate::screen::kit::correct;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::studio::local;
use crate::studio::orders::{RepeatField, RoomField, SaleField, TitleField};
use crate::trade::picture::Sale;

impl Rack {
    /// The form for a picture's title and price.
    pub(super) fn title(&self, pour: i64, desk: &Desk) -> Form {
        let known = self.pictures.get(&pour);
        let title = known.and_then(|one| one.title.clone()).unwrap_or_default();
        let asked = known
            .and_then(|one| one.asked)
            .map(|price| price.to_string());
        let field = |field| Field::of(field, desk.measures());
        let fields = vec![
            field(TitleField::Title).offering(&title),
            field(TitleField::Asked).offering(&asked.unwrap_or_default()),
        ];
        Form::new(format!("Picture {pour}"), fields)
    }

    /// The form for a sale.
    pub(super) fn sold(&self, pour: i64, desk: &Desk) -> Form {
        let picture = self.pictures.get(&pour);
        let sale = self.sale(pour);
        let price = sale.map(|sale| sale.price);
        let price = price.or_else(|| picture.and_then(|one| one.asked));
        let price = price.map(|price| price.to_string()).unwrap_or_default();
        let text = |text: Option<&String>| text.cloned().unwrap_or_default();
        let field = |field| Field::of(field, desk.measures());
        let fields = vec![
            field(SaleField::Price).offering(&price),
            field(SaleField::Buyer).offering(&text(sale.and_then(|sale| sale.buyer.as_ref()))),
            field(SaleField::Venue).offering(&text(sale.and_then(|sale| sale.venue.as_ref()))),
            field(SaleField::When),
        ];
        let title = match sale {
            Some(sale) => {
                let at = local(sale.at, &desk.beat.now);
                format!("Put the sale of picture {pour} right, {at}")
            }
            None => format!("Picture {pour} was sold"),
        };
        Form::new(title, fields)
    }

    /// The sale of a picture that was sold.
    fn sale(&self, pour: i64) -> Option<&Sale> {
        self.pictures.get(&pour)?.sale.as_ref()
    }
}

/// The form for the room's air.
pub fn air(rack: &Rack, desk: &Desk) -> Form {
    let measures = desk.measures();
    let offer = rack.room.map(|air| air.show(measures));
    let field = Field::of(RoomField::Air, measures);
    let fields = vec![field.offering(&offer.unwrap_or_default())];
    Form::new("The air of the room", fields)
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault, in its field.
pub fn read(rack: &Rack, desk: &Desk, ask: Ask, form: &Form) -> Result<Deed, Fault> {
    Ok(match ask {
        Ask::Air => {
            let air = RoomField::order(&form.typed(), &desk.given());
            Deed::Air(air.map_err(|wrong| desk.fault(wrong))?)
        }
        Ask::Title(pour) => {
            let order = TitleField::order(&form.typed(), true);
            let mut order = order.map_err(|wrong| desk.fault(wrong))?;
            order.even_so = form.is_meant();
            Deed::Title(pour, order)
        }
        Ask::Correct(pour) => {
            let mut lines = rack.lines.iter();
            let line = lines.find(|line| line.page.pour.id == pour);
            let gone = || Fault {
                field: None,
                words: "it lies on the rack no more".to_owned(),
            };
            let page = &line.ok_or_else(gone)?.page;
            Deed::Correct(pour, Box::new(correct::order(page, form, desk)?))
        }
        Ask::Compare(pour) => {
            let other = RepeatField::against(&form.typed());
            Deed::Compare(pour, other.map_err(|wrong| desk.fault(wrong))?)
        }
        Ask::Sold(pour) => {
            let order = SaleField::order(&form.typed(), &desk.given());
            let mut order = order.map_err(|wrong| desk.fault(wrong))?;
            order.anew = rack.sale(pour).is_some();
            order.even_so = form.is_meant();
            if order.anew {
                // All that stood was offered: what is empty now was emptied.
                order.buyer.get_or_insert_default();
                order.venue.get_or_insert_default();
            }
            Deed::Sold(pour, order)
        }
    })
}
