//! The Plan's form: panels, when, from which recipes.

use super::{Ask, Asked, Plan};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::studio::orders::{PlanField, PlanOrder, RepeatField, RepeatOrder};
use crate::trade::amount::{Measures, exactly, show_volume};
use crate::trade::ids::RecipeId;
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::units::{INCH, Millilitres, Millimetres};

/// What is offered.
struct Offer {
    panel: Measured,
    count: String,
    edge: Measured,
    way: String,
    pour: String,
    film: Measured,
    holds: Measured,
    recipes: Vec<String>,
    note: String,
    fresh: bool,
}

/// A measure as it is read at a glance, and as it is.
#[derive(Default)]
struct Measured {
    shown: String,
    exact: String,
}

impl Measured {
    fn panel(panel: Panel, measures: Measures) -> Self {
        Self {
            shown: panel.show(measures),
            exact: panel.to_string(),
        }
    }

    /// The depth of painted edges; nothing where there is none.
    fn edge(edge: Millimetres, measures: Measures) -> Self {
        match edge.get() > 0.0 {
            true => Self {
                shown: length(edge, measures),
                exact: format!("{} mm", edge.get()),
            },
            false => Self::default(),
        }
    }

    fn film(film: Millimetres, measures: Measures) -> Self {
        Self {
            shown: film_shown(film, measures),
            exact: format!("{} mm", film.get()),
        }
    }

    fn volume(volume: Millilitres, measures: Measures) -> Self {
        Self {
            shown: show_volume(volume, measures),
            exact: exactly(volume),
        }
    }

    fn in_field(self, field: Field) -> Field {
        match self.exact.is_empty() {
            true => field,
            false => field.showing(&self.shown, self.exact),
        }
    }
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
        let film = order.film.map(|film| Measured::film(film, measures));
        let holds = order.holds.map(|ml| Measured::volume(ml, measures));
        Self {
            panel: Measured::panel(panels.panel, measures),
            count: panels.count.to_string(),
            edge: Measured::edge(panels.edge, measures),
            way: order.way.clone().unwrap_or_default(),
            pour: order
                .pour_at
                .map(|at| typed_at(at, desk))
                .unwrap_or_default(),
            film: film.unwrap_or_default(),
            holds: holds.unwrap_or_default(),
            recipes: order.recipes.iter().filter_map(name).collect(),
            note: order.note.clone().unwrap_or_default(),
            fresh: order.fresh,
        }
    }

    fn usual(plan: &Plan, measures: Measures) -> Self {
        let usual = &plan.usual;
        let panel = usual.panel.map(|panel| Measured::panel(panel, measures));
        let film = usual.film.map(|film| Measured::film(film, measures));
        Self {
            panel: panel.unwrap_or_default(),
            count: "1".to_owned(),
            edge: Measured::default(),
            way: usual.way.clone().unwrap_or_default(),
            pour: String::new(),
            film: film.unwrap_or_default(),
            holds: Measured::default(),
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

/// A film to the hundredth of a millimetre.
fn film_shown(film: Millimetres, measures: Measures) -> String {
    match measures {
        Measures::Metric => format!("{:.2} mm", film.get()),
        Measures::UsCustomary => format!("{:.4} in", film / INCH),
    }
}

/// The form for a plan.
pub fn order(plan: &Plan, desk: &Desk) -> Form {
    let offer = Offer::of(plan, desk);
    let empty = |of| Field::of(of, desk.measures());
    let field = |of, offer: &str| empty(of).offering(offer);
    let mut fields = vec![
        offer.panel.in_field(empty(PlanField::Panel)),
        field(PlanField::Count, &offer.count),
        offer.edge.in_field(empty(PlanField::Edge)),
        field(PlanField::Pour, &offer.pour),
        field(PlanField::Way, &offer.way),
        offer.film.in_field(empty(PlanField::Film)),
    ];
    fields.extend((0..PlanField::LAYERS).map(|place| layer(place, &offer.recipes, desk)));
    fields.push(offer.holds.in_field(empty(PlanField::Holds)));
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
    let empty = |of| Field::of(of, measures);
    let panel = order.panel.map(|panel| Measured::panel(panel, measures));
    let pour = order.pour_at.map(|at| typed_at(at, desk));
    let air = order.air.map(|air| Measured {
        shown: air.show(measures),
        exact: air.exactly(),
    });
    let fields = vec![
        panel
            .unwrap_or_default()
            .in_field(empty(RepeatField::Panel)),
        Measured::edge(order.edge, measures).in_field(empty(RepeatField::Edge)),
        empty(RepeatField::Pour).offering(&pour.unwrap_or_default()),
        air.unwrap_or_default().in_field(empty(RepeatField::Air)),
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
