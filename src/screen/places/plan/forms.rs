//! The Plan's form: panels, when, from which recipes.

use super::{Ask, Asked, Plan};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::studio::orders::{PlanField, PlanOrder, RepeatField, RepeatOrder};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::ids::RecipeId;
use crate::trade::moment::Moment;
use crate::trade::units::{INCH, Millimetres};

/// What is offered.
struct Offer {
    panel: String,
    count: String,
    edge: String,
    way: String,
    pour: String,
    film: String,
    holds: String,
    recipes: Vec<String>,
    note: String,
    fresh: bool,
}

impl Offer {
    /// What the sheet that is open was asked, else what was poured last.
    fn of(plan: &Plan, desk: &Desk) -> Self {
        let measures = desk.measures();
        match plan.open.as_ref().map(|open| &open.asked) {
            Some(Asked::Paint(order)) => Self::reopened(order, desk),
            _ => Self::usual(plan, measures),
        }
    }

    fn reopened(order: &PlanOrder, desk: &Desk) -> Self {
        let measures = desk.measures();
        let name = |recipe: &RecipeId| desk.known.names.recipe_name(*recipe).map(str::to_owned);
        let panels = &order.panels;
        let edge = Some(panels.edge).filter(|edge| edge.get() > 0.0);
        Self {
            panel: panels.panel.show(measures),
            count: panels.count.to_string(),
            edge: edge.map(|edge| length(edge, measures)).unwrap_or_default(),
            way: order.way.clone().unwrap_or_default(),
            pour: order
                .pour_at
                .map(|at| typed_at(at, desk))
                .unwrap_or_default(),
            film: order
                .film
                .map(|film| typed_film(film, measures))
                .unwrap_or_default(),
            holds: order
                .holds
                .map(|holds| show_volume(holds, measures))
                .unwrap_or_default(),
            recipes: order.recipes.iter().filter_map(name).collect(),
            note: order.note.clone().unwrap_or_default(),
            fresh: order.fresh,
        }
    }

    fn usual(plan: &Plan, measures: Measures) -> Self {
        let usual = &plan.usual;
        let panel = usual.panel.map(|panel| panel.show(measures));
        Self {
            panel: panel.unwrap_or_default(),
            count: "1".to_owned(),
            edge: String::new(),
            way: usual.way.clone().unwrap_or_default(),
            pour: String::new(),
            film: usual
                .film
                .map(|film| typed_film(film, measures))
                .unwrap_or_default(),
            holds: String::new(),
            recipes: usual.recipes.clone(),
            note: usual.note.clone().unwrap_or_default(),
            fresh: false,
        }
    }
}

/// An instant so that it can be read back.
fn typed_at(at: Moment, desk: &Desk) -> String {
    let here = desk.beat.now.zone.tell(at);
    here.format("%Y-%m-%d %H:%M").to_string()
}

fn length(length: Millimetres, measures: Measures) -> String {
    match measures {
        Measures::Metric => format!("{} cm", length.get() / 10.0),
        Measures::UsCustomary => format!("{:.2} in", length / INCH),
    }
}

/// A film so that it can be read back to the hundredth of a millimetre.
fn typed_film(film: Millimetres, measures: Measures) -> String {
    match measures {
        Measures::Metric => format!("{:.2} mm", film.get()),
        Measures::UsCustomary => format!("{:.4} in", film / INCH),
    }
}

/// The form for a plan.
pub fn order(plan: &Plan, desk: &Desk) -> Form {
    let offer = Offer::of(plan, desk);
    let field = |of, offer: &str| Field::of(of, desk.measures()).offering(offer);
    let mut fields = vec![
        field(PlanField::Panel, &offer.panel),
        field(PlanField::Count, &offer.count),
        field(PlanField::Edge, &offer.edge),
        field(PlanField::Pour, &offer.pour),
        field(PlanField::Way, &offer.way),
        field(PlanField::Film, &offer.film),
    ];
    fields.extend((0..PlanField::LAYERS).map(|place| layer(place, &offer.recipes, desk)));
    fields.push(field(PlanField::Holds, &offer.holds));
    fields.push(field(PlanField::Note, &offer.note));
    let stands = PlanField::STANDING.map(String::from).to_vec();
    let offered = PlanField::STANDING[usize::from(offer.fresh)];
    fields.push(
        Field::of(PlanField::Standing, desk.measures())
            .one_of(stands)
            .offering(offered),
    );
    Form::new("Paint for a panel", fields)
}

/// The recipe of a layer. A stack of more layers than there are fields is left to the studio, which knows it whole.
fn layer(place: u8, recipes: &[String], desk: &Desk) -> Field {
    let fits = recipes.len() <= usize::from(PlanField::LAYERS);
    let offer = recipes.get(usize::from(place)).filter(|_| fits);
    let field = Field::of(PlanField::Layer(place), desk.measures());
    let field = field.among(desk.known.recipe_names());
    field.offering(offer.map_or("", String::as_str))
}

/// The form for a picture once more.
pub fn repeat(order: &RepeatOrder, desk: &Desk) -> Form {
    let measures = desk.measures();
    let field = |of, offer: Option<String>| {
        Field::of(of, measures).offering(offer.unwrap_or_default().as_str())
    };
    let edge = Some(order.edge).filter(|edge| edge.get() > 0.0);
    let fields = vec![
        field(
            RepeatField::Panel,
            order.panel.map(|panel| panel.show(measures)),
        ),
        field(RepeatField::Edge, edge.map(|edge| length(edge, measures))),
        field(
            RepeatField::Pour,
            order.pour_at.map(|at| typed_at(at, desk)),
        ),
        field(RepeatField::Air, order.air.map(|air| air.show(measures))),
    ];
    Form::new(format!("Picture {} once more", order.pour), fields)
}

/// What was typed, as a plan to be worked out.
///
/// # Errors
/// The first fault, in its field.
pub fn asked(ask: Ask, form: &Form, desk: &Desk) -> Result<Asked, Fault> {
    let given = desk.given();
    let asked = match ask {
        Ask::Order => PlanOrder::read(&form.typed(), &given).map(Asked::Paint),
        Ask::Repeat(pour) => RepeatOrder::read(pour, &form.typed(), &given).map(Asked::Repeat),
    };
    asked.map_err(|wrong| desk.fault(wrong))
}
