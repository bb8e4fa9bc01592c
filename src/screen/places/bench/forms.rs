//! The Bench's forms, and how what was typed becomes a deed.

use super::deeds::FirstCup;
use super::{Ask, Deed, advice};
use crate::numbers::flow_cup;
use crate::screen::kit::amounts::{amounts, volume};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::known::Known;
use crate::studio::{CupStatus, MixOrder, ThinOrder};
use crate::trade::amount::{Measures, show_volume};
use crate::trade::cup::{Reading, Seen};
use crate::trade::duration;
use crate::trade::instant::{Lean, Now, parse_instant};
use crate::trade::moment::Moment;
use crate::trade::problem::ParseProblem;
use crate::trade::range::{never_fades, parse_efflux, parse_mound};
use crate::trade::units::{Millilitres, Minutes};

/// What a colour cup holds where nothing was mixed before (our own choice).
const USUAL: Millilitres = Millilitres(120.0);

const WHEN: &str = "empty for now; 18:30, 2 h ago, yesterday 18:30";

/// The form for a cup: by its recipe, or like another.
pub fn mix(ask: &Ask, known: &Known) -> Form {
    let newest = known.newest_cup();
    let like = matches!(ask, Ask::Like(_));
    let only = match known.recipes.as_slice() {
        [(only, _)] => only.as_str(),
        _ => "",
    };
    let recipe = newest.map_or(only, |cup| cup.recipe.name.as_str());
    let volume = newest.map_or(USUAL, |cup| cup.cup.volume);
    let volume = show_volume(volume, known.measures());
    let marks = known.cups.iter().map(|cup| cup.cup.mark.to_string());
    let title = match (ask, newest) {
        (Ask::Of(recipe, variant), _) => format!("Mix a cup of {recipe} v{variant}"),
        (_, Some(cup)) if like => format!("Mix a cup like {}", cup.cup.mark),
        _ => "Mix a cup".to_owned(),
    };
    let fields = vec![
        Field::choice(
            "recipe",
            "type some letters, Enter takes it",
            known.recipe_names(),
            recipe,
        ),
        Field::such_as("amount", amounts(known.measures()), &volume),
        Field::text("mound", "seconds, if you have read it", ""),
        Field::text("stirred", "4 m, if you have timed it", ""),
        Field::text("mark", "what you write on the lid", &known.next_mark),
        Field::text("tape", "colour of the lid tape", ""),
        Field::maybe("filled from", "a cup it is filled from", marks.collect()),
        Field::text("really in", "what differs: White 41 ml, Blue 20 ml", ""),
        Field::text("when", WHEN, ""),
        Field::text("note", "anything", ""),
    ];
    let form = Form::new(title, fields);
    if like {
        form.starting_at("amount")
    } else {
        form
    }
}

/// The form for thinner: the advised amount is already in it.
pub fn thin(cup: &CupStatus, known: &Known) -> Form {
    let mark = cup.cup.mark.to_string();
    let offer = advice(cup).map(|ml| show_volume(ml, known.measures()));
    let thinners = known.thinners();
    let first = thinners.first().cloned().unwrap_or_default();
    let little = match known.measures() {
        Measures::Metric => "3 ml",
        Measures::UsCustomary => "0.1 fl oz",
    };
    let offer = offer.unwrap_or_default();
    let mut fields = vec![Field::such_as("amount", little, &offer)];
    if thinners.len() > 1 {
        fields.push(Field::choice("with", "which thinner", thinners, &first));
    }
    fields.push(Field::text("mound", "seconds, once it was stirred in", ""));
    let stirs = ["gently", "hard"].map(String::from).to_vec();
    fields.push(Field::choice(
        "stirred",
        "hard: its rest starts anew",
        stirs,
        "gently",
    ));
    fields.push(Field::text("when", WHEN, ""));
    Form::new(format!("Thin {mark}"), fields)
}

/// The form for a reading.
pub fn read(mark: &str) -> Form {
    let fields = vec![
        Field::text("seconds", "2.8; never where the mound does not fade", ""),
        Field::text(
            "flow cup",
            "empty for the drizzle mound; else its name, as iso4",
            "",
        ),
        Field::text("when", WHEN, ""),
    ];
    Form::new(format!("Read {mark}"), fields)
}

/// The form for the very first cup.
pub fn first() -> Form {
    let fields = vec![
        Field::text(
            "paint",
            "the colour in your hand, as its label says",
            "Blue paint",
        ),
        Field::text("medium", "what lets it down", "Pouring medium"),
        Field::text("parts paint", "1 to 2 is common practice", "1"),
        Field::text("parts medium", "how many parts of it", "2"),
        Field::text("name", "what you call this mixture", "First blue"),
        Field::text("amount", "a small panel takes about this", "120 ml"),
        Field::text("mound", "seconds a drizzle stays to be seen; may wait", ""),
    ];
    Form::new("Your first cup", fields).guided()
}

/// What follows from an edit: a mixing form shows what would go in.
pub fn changed(ask: &Ask, form: &Form) -> Option<Deed> {
    match ask {
        Ask::Mix | Ask::Of(..) | Ask::Like(_) => Some(draft(ask, form)),
        _ => None,
    }
}

/// Asks what would go in, where that much can be read.
fn draft(ask: &Ask, form: &Form) -> Deed {
    let amount = form.read("amount", |text| volume(text, Measures::Metric));
    let order = MixOrder {
        recipe: form.given("recipe"),
        variant: variant(ask, form),
        volume: amount.ok().flatten(),
        puts: puts(form),
        from: form.given("filled from"),
        ..MixOrder::default()
    };
    Deed::Draft(Box::new(order))
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(desk: &Desk, ask: &Ask, form: &Form) -> Result<Option<Deed>, Fault> {
    let deed = match ask {
        Ask::Mix | Ask::Of(..) | Ask::Like(_) => Deed::Mix(Box::new(mix_order(desk, ask, form)?)),
        Ask::Thin(mark) => thin_deed(desk, mark, form)?,
        Ask::Read(mark) => read_deed(desk, mark, form)?,
        Ask::First => Deed::First(Box::new(first_cup(desk, form)?)),
    };
    Ok(Some(deed))
}

fn mix_order(desk: &Desk, ask: &Ask, form: &Form) -> Result<MixOrder, Fault> {
    let like = match ask {
        Ask::Like(mark) => Some(mark.clone()),
        _ => None,
    };
    let measures = desk.measures();
    Ok(MixOrder {
        recipe: form.given("recipe"),
        variant: variant(ask, form),
        volume: Some(form.need("amount", |text| volume(text, measures))?),
        like,
        puts: puts(form),
        reading: form.read("mound", parse_mound)?.map(Reading::Mound),
        stirred: form.read("stirred", minutes)?,
        // The mark that was offered is only a guess: another bench may have been given it meanwhile.
        mark: form.typed("mark"),
        tape: form.given("tape"),
        from: form.given("filled from"),
        at: when(form, &desk.beat.now)?,
        note: form.given("note"),
        ..MixOrder::default()
    })
}

fn thin_deed(desk: &Desk, mark: &str, form: &Form) -> Result<Deed, Fault> {
    let amount = form.need("amount", |text| volume(text, desk.measures()))?;
    let ml = amount.volume(None).map_err(|_| {
        Fault::of(
            "amount",
            "write thinner in ml: its weight is no measure here",
        )
    })?;
    let order = ThinOrder {
        ml,
        with: form.given("with"),
        hard: form.value("stirred") == "hard",
        reading: form.read("mound", parse_mound)?.map(Reading::Mound),
    };
    Ok(Deed::Thin(
        mark.to_owned(),
        order,
        when(form, &desk.beat.now)?,
    ))
}

fn read_deed(desk: &Desk, mark: &str, form: &Form) -> Result<Deed, Fault> {
    let at = when(form, &desk.beat.now)?;
    Ok(match never_fades(form.value("seconds")) {
        true => Deed::Look(mark.to_owned(), Seen::Gelled, at),
        false => Deed::Read(mark.to_owned(), reading(form)?, at),
    })
}

fn reading(form: &Form) -> Result<Reading, Fault> {
    let Some(cup) = form.given("flow cup") else {
        return form.need("seconds", parse_mound).map(Reading::Mound);
    };
    let efflux = form.need("seconds", parse_efflux)?;
    let outside = |problem| Fault::of("flow cup", format!("{problem}: {}", flow_cup::HINT));
    flow_cup::reading(&cup, efflux).map_err(outside)
}

fn first_cup(desk: &Desk, form: &Form) -> Result<FirstCup, Fault> {
    let text = |name: &'static str| form.given(name).ok_or_else(|| Fault::of(name, "is needed"));
    let measures = desk.measures();
    let name = text("name")?;
    Ok(FirstCup {
        order: MixOrder {
            recipe: Some(name.clone()),
            volume: Some(form.need("amount", |text| volume(text, measures))?),
            reading: form.read("mound", parse_mound)?.map(Reading::Mound),
            ..MixOrder::default()
        },
        name,
        paint: text("paint")?,
        medium: text("medium")?,
        shares: (text("parts paint")?, text("parts medium")?),
    })
}

/// The variant that was asked for, while its recipe is still the one in the form.
fn variant(ask: &Ask, form: &Form) -> Option<i64> {
    match ask {
        Ask::Of(recipe, variant) if form.value("recipe") == recipe => Some(*variant),
        _ => None,
    }
}

/// What really went in, one thing after another with commas between.
fn puts(form: &Form) -> Vec<String> {
    let all = form.value("really in").split(", ").map(str::trim);
    all.filter(|put| !put.is_empty())
        .map(str::to_owned)
        .collect()
}

fn minutes(text: &str) -> Result<Minutes, ParseProblem> {
    let time = duration::parse_or(text, duration::Unit::Minute)?;
    Ok(Minutes(time.num_seconds() as f64 / 60.0))
}

fn when(form: &Form, now: &Now) -> Result<Option<Moment>, Fault> {
    form.read("when", |text| parse_instant(text, now, Lean::Past))
}
