//! The Plan's form: panels, when, from which recipes.

use super::{Deed, Plan};
use crate::screen::kit::amounts::{panels, volume};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::studio::PlanOrder;
use crate::trade::amount::{Measures, show_volume};
use crate::trade::instant::{Lean, Now, parse_instant};
use crate::trade::length::{parse_film, parse_length};
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::plan::Panels;
use crate::trade::problem::ParseProblem;
use crate::trade::units::{INCH, Millilitres, Millimetres};

/// The fields for recipes, lowest first.
const LAYERS: [&str; 6] = [
    "lowest layer",
    "layer 2",
    "layer 3",
    "layer 4",
    "layer 5",
    "layer 6",
];

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
}

impl Offer {
    /// What the sheet that is open was asked, else what was poured last.
    fn of(plan: &Plan, desk: &Desk) -> Self {
        let measures = desk.measures();
        match &plan.open {
            Some(open) => Self::again(&open.order, measures, &desk.beat.now),
            None => Self::usual(plan, measures),
        }
    }

    fn again(order: &PlanOrder, measures: Measures, now: &Now) -> Self {
        let panels = &order.panels;
        let edge = Some(panels.edge).filter(|edge| edge.get() > 0.0);
        let pour = order.pour_at.map(|at| now.zone.tell(at));
        Self {
            panel: panels.panel.show(measures),
            count: panels.count.to_string(),
            edge: edge.map(|edge| length(edge, measures)).unwrap_or_default(),
            way: order.way.clone().unwrap_or_default(),
            pour: pour
                .map(|at| at.format("%Y-%m-%d %H:%M").to_string())
                .unwrap_or_default(),
            film: order
                .film
                .map(|film| typed_film(film, measures))
                .unwrap_or_default(),
            holds: order
                .holds
                .map(|holds| show_volume(holds, measures))
                .unwrap_or_default(),
            recipes: order.recipes.clone(),
            note: order.note.clone().unwrap_or_default(),
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
        }
    }
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
    let mut fields = vec![
        Field::such_as("panel", panels(desk.measures()), &offer.panel),
        Field::text("how many", "panels of that size", &offer.count),
        Field::text("edge", "2 cm, if the edges are painted", &offer.edge),
        Field::text(
            "pour",
            "empty: as soon as it can; tomorrow 10:00",
            &offer.pour,
        ),
        Field::text("way", "the technique, in your words", &offer.way),
        Field::text(
            "film",
            "empty: your own, else practice; 1.8 mm wet",
            &offer.film,
        ),
    ];
    // A stack of more layers than there are fields is left to the studio, which knows it whole.
    let fits = offer.recipes.len() <= LAYERS.len();
    let recipes = if fits { offer.recipes.as_slice() } else { &[] };
    let hint = "type some letters; empty for none";
    fields.extend(LAYERS.iter().enumerate().map(|(place, name)| {
        let offered = recipes.get(place).map_or("", String::as_str);
        Field::maybe_offering(name, hint, desk.known.recipe_names(), offered)
    }));
    let hint = "empty: a cup a layer; 250 ml at most in one";
    fields.push(Field::text("cup holds", hint, &offer.holds));
    fields.push(Field::text("note", "what it is to try", &offer.note));
    Form::new("Paint for a panel", fields)
}

/// Asks what would follow, where that much can be read.
pub fn changed(desk: &Desk, form: &Form) -> Option<Deed> {
    let order = read(desk, form).ok();
    order.map(|order| Deed::Draft(Box::new(order)))
}

/// Turns what was typed into a plan to be worked out.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(desk: &Desk, form: &Form) -> Result<Deed, Fault> {
    let order = Box::new(read(desk, form)?);
    Ok(Deed::Work(order))
}

fn read(desk: &Desk, form: &Form) -> Result<PlanOrder, Fault> {
    let panels = Panels {
        panel: form.need("panel", Panel::parse)?,
        count: form.read("how many", count)?.unwrap_or(1),
        edge: form.read("edge", edge)?.unwrap_or(Millimetres::ZERO),
    };
    let recipes = LAYERS.iter().filter_map(|name| form.given(*name));
    Ok(PlanOrder {
        panels,
        way: form.given("way"),
        pour_at: pour_at(form, &desk.beat.now)?,
        film: form.read("film", parse_film)?,
        recipes: recipes.collect(),
        holds: form.read("cup holds", |text| holds(text, desk.measures()))?,
        note: form.given("note"),
    })
}

fn count(text: &str) -> Result<u32, ParseProblem> {
    let count = text.trim().parse().ok().filter(|count| *count > 0);
    count.ok_or_else(|| ParseProblem::new(text, "is no number of panels", "such as 2"))
}

/// What a cup holds, by volume.
fn holds(text: &str, measures: Measures) -> Result<Millilitres, String> {
    let amount = volume(text, measures).map_err(|problem| problem.to_string())?;
    let weighed = |_| "is told by volume: write it in ml or fl oz".to_owned();
    amount.volume(None).map_err(weighed)
}

/// A bare 0 says that no edge is painted.
fn edge(text: &str) -> Result<Millimetres, ParseProblem> {
    match text.trim() {
        "0" => Ok(Millimetres::ZERO),
        text => parse_length(text),
    }
}

fn pour_at(form: &Form, now: &Now) -> Result<Option<Moment>, Fault> {
    let at = form.read("pour", |text| parse_instant(text, now, Lean::Future))?;
    if at.is_some_and(|at| at < now.at) {
        return Err(Fault::of("pour", "is over already: say a time to come"));
    }
    Ok(at)
}
