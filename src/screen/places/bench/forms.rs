//! The Bench's forms, and how what was typed becomes a deed.

use super::{Ask, Deed, advice};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::known::Known;
use crate::studio::orders::{
    AddField, AddOrder, AmendField, AmendOrder, Field as _, FirstField, FirstOrder, LidField,
    LidOrder, MixField, MixOrder, ReadField, SHELF, TendField, TendOrder, ThinField, Typed,
};
use crate::studio::{CupStatus, Names, Refusal, Setting, Settings, to_thicken};
use crate::tell;
use crate::trade::amount::{exactly, show_volume};
use crate::trade::cup::Entry;
use crate::trade::ids::{CupId, RecipeId};
use crate::trade::life::State;
use crate::trade::mark::Mark;
use crate::trade::recipe::{LayerKind, variant_title};
use crate::trade::text::inert;
use crate::trade::units::Millilitres;

/// What a colour cup holds where nothing was mixed before (our own choice).
const USUAL: Millilitres = Millilitres(120.0);

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
    let shown = show_volume(volume, known.measures());
    let marks = known.cups.iter().map(|cup| cup.cup.mark.to_string());
    let marks = marks.chain([SHELF.to_owned()]);
    let title = match (ask, newest) {
        (Ask::Of(recipe, variant), _) => {
            let recipe = known.names.recipe_name(*recipe).unwrap_or_default();
            format!("Mix a cup of {}", variant_title(recipe, *variant))
        }
        (_, Some(cup)) if like => format!("Mix a cup like {}", cup.cup.mark),
        _ => "Mix a cup".to_owned(),
    };
    let field = |field| Field::of(field, known.measures());
    let fields = vec![
        field(MixField::Recipe)
            .one_of(known.recipe_names())
            .offering(recipe),
        field(MixField::Amount).showing(&shown, exactly(volume)),
        field(MixField::Mound),
        field(MixField::Stirred),
        field(MixField::Mark).offering(&known.next_mark),
        field(MixField::Tape),
        field(MixField::From).among(marks.collect()),
        field(MixField::Puts),
        field(MixField::When),
        field(MixField::Note),
    ];
    let form = Form::new(title, fields);
    if like {
        form.starting_at(MixField::Amount)
    } else {
        form
    }
}

/// The form for thinner: the advised amount is already in it, and above it which cup this is and what it was read as.
pub fn thin(cup: &CupStatus, desk: &Desk) -> Form {
    let known = &desk.known;
    let offer = advice(cup).map(|ml| show_volume(ml, known.measures()));
    let thinners = known.thinners();
    let usual = known.names.usual_thinner(CupId(cup.cup.id));
    let usual = usual.map(|one| one.name.clone()).unwrap_or_default();
    let field = |field| Field::of(field, known.measures());
    let mut fields = vec![field(ThinField::Amount).offering(&offer.unwrap_or_default())];
    if thinners.len() > 1 {
        fields.push(field(ThinField::With).one_of(thinners).offering(&usual));
    }
    let stirs = ThinField::STIRS.map(String::from).to_vec();
    fields.extend([
        field(ThinField::Mound),
        field(ThinField::Stirred)
            .one_of(stirs)
            .offering(ThinField::STIRS[0]),
        field(ThinField::When),
    ]);
    let read = tell::cups::last_reading(cup, &desk.beat.now);
    Form::new(format!("Thin {}: {read}", cup.cup.mark), fields)
}

/// The form for paint that is added: out of the cup that brings it back with the least, else from the shelf.
pub fn add(cup: &CupStatus, known: &Known) -> Form {
    let others = known.cups.iter().filter(|one| one.cup.id != cup.cup.id);
    let same = others.clone().filter(|one| one.recipe.id == cup.recipe.id);
    let best = same
        .filter_map(|one| Some((one, to_thicken(cup, Some(one))?.band.mid)))
        .filter(|(one, ml)| one.life.left >= *ml)
        .min_by(|a, b| a.1.get().total_cmp(&b.1.get()));
    let mark = best.map(|(one, _)| one.cup.mark.to_string());
    let amount = best.map(|(_, ml)| show_volume(ml, known.measures()));
    let marks = others.map(|one| one.cup.mark.to_string());
    let materials = known.materials.iter().map(|(name, _)| name.clone());
    let field = |field| Field::of(field, known.measures());
    let fields = vec![
        field(AddField::From)
            .among(marks.chain(materials).collect())
            .offering(&mark.unwrap_or_default()),
        field(AddField::Amount).offering(&amount.unwrap_or_default()),
        field(AddField::Mound),
        field(AddField::When),
    ];
    Form::new(format!("Add paint to {}", cup.cup.mark), fields)
}

/// What follows from what is typed so far: how much of that cup, or of its own paint, brings it back.
fn thicker(cup: CupId, form: &Form, desk: &Desk) -> Vec<String> {
    let Some(cup) = desk.known.cups.iter().find(|one| one.cup.id == cup.0) else {
        return Vec::new();
    };
    let from = desk.known.cup(form.value(AddField::From).trim());
    let mark = from.map(|from| from.cup.mark.to_string());
    let likely = to_thicken(cup, from);
    match &likely {
        None if cup.state != State::Thin => Vec::new(),
        likely => {
            let (likely, mark) = (likely.as_ref(), mark.as_deref());
            vec![tell::cups::thicker(likely, mark, desk.measures())]
        }
    }
}

/// The form for a reading.
pub fn read(cup: &CupStatus, known: &Known) -> Form {
    let fields = [ReadField::Seconds, ReadField::FlowCup, ReadField::When];
    let fields = fields.map(|field| Field::of(field, known.measures()));
    let title = format!("Read {}", cup.cup.mark);
    Form::new(title, fields.to_vec())
}

/// The form for what a lid says.
pub fn lid(cup: &CupStatus, known: &Known) -> Form {
    let field = |field, offer: &str| Field::of(field, known.measures()).offering(offer);
    let tape = cup.cup.tape.as_deref().unwrap_or_default();
    let fields = vec![
        field(LidField::Mark, cup.cup.mark.as_str()),
        field(LidField::Tape, tape),
    ];
    Form::new(format!("The lid of {}", cup.cup.mark), fields)
}

/// The form of all settings; beneath the one in hand stands what it does.
pub fn settings(settings: &Settings) -> Form {
    let field = |one| Field::of(one, settings.measures).offering(&settings.written(one));
    Form::new("Settings", Setting::ASKED.map(field).to_vec())
}

/// What was changed; nothing is done where nothing was.
fn keep_settings(desk: &Desk, form: &Form) -> Result<Option<Deed>, Fault> {
    let Some(settings) = &desk.known.settings else {
        return Ok(None);
    };
    let order = Setting::changes(&form.typed(), settings);
    let order = order.map_err(|wrong| desk.fault(wrong))?;
    Ok((!order.is_empty()).then_some(Deed::Settings(order)))
}

/// The form that puts an entry of the cup of a mark right.
pub fn amend(entry: &Entry, mark: &Mark, desk: &Desk) -> Form {
    let (known, measures) = (&desk.known, desk.measures());
    let marks = known.cups.iter().map(|cup| cup.cup.mark.to_string());
    let field = |field| Field::of(field, measures);
    let marks: Vec<String> = marks.collect();
    let fields = AmendField::of_kind(&entry.what).into_iter();
    let fields = fields.map(|one| match one {
        AmendField::Cup => field(one).among(marks.clone()),
        _ => field(one),
    });
    let fields = fields.collect();
    // Names are not at hand here; what it was stands in the life beneath.
    let was = tell::happened(&entry.what, &Names::default(), measures);
    Form::new(format!("Put {mark} right: {was}"), fields)
}

/// The paint that is offered for the very first cup.
const PAINT: &str = "Blue paint";

/// What a mixture of a paint is called: a material and a recipe never share a name.
fn mixed_of(paint: &str) -> String {
    format!("{} mix", paint.trim())
}

/// The mixture is called by its paint until another name was typed.
fn named_as_paint(form: &mut Form) {
    let paint = mixed_of(form.value(FirstField::Paint));
    let name = form.field_mut(FirstField::Name);
    if let Some(name) = name.filter(|name| name.line.is_offered()) {
        name.show(&paint, paint.clone());
    }
}

/// The form for the very first cup.
pub fn first(known: &Known) -> Form {
    let measures = known.measures();
    let layers = LayerKind::ALL.iter().map(ToString::to_string).collect();
    let field = |field, offer: &str| Field::of(field, measures).offering(offer);
    let fields = vec![
        field(FirstField::Paint, PAINT),
        field(FirstField::Medium, "Pouring medium"),
        field(FirstField::PaintParts, "1"),
        field(FirstField::MediumParts, "2"),
        Field::of(FirstField::Layer, measures)
            .one_of(layers)
            .offering(&LayerKind::Colour.to_string()),
        field(FirstField::Name, &mixed_of(PAINT)),
        field(FirstField::Amount, &show_volume(USUAL, measures)),
        field(FirstField::Mound, ""),
    ];
    Form::new("Your first cup", fields).guided()
}

/// What follows from an edit: a mixing form shows what would go in, or why that cannot be told yet.
pub fn changed(ask: &Ask, form: &mut Form, desk: &Desk) -> Option<Deed> {
    if let Ask::Add(cup) = ask {
        form.aside = thicker(*cup, form, desk);
        return None;
    }
    if *ask == Ask::First {
        named_as_paint(form);
    }
    if !matches!(ask, Ask::Mix | Ask::Of(..) | Ask::Like(_)) {
        return None;
    }
    match MixOrder::preview(typed_mix(desk, ask, form), &desk.given()) {
        Ok(order) => Some(Deed::Draft(Box::new(order))),
        Err(wrong) => {
            let words = tell::words(&wrong.why, desk.measures(), &desk.beat.now);
            form.aside = vec![inert(&words).into_owned()];
            None
        }
    }
}

/// Turns what was typed into a deed.
///
/// # Errors
/// The first fault, in its field.
pub fn keep(desk: &Desk, ask: &Ask, form: &Form) -> Result<Option<Deed>, Fault> {
    let given = desk.given();
    let meant = |order: TendOrder| Deed::Tend(order.even_so(form.is_meant()));
    let deed = match ask {
        Ask::Mix | Ask::Of(..) | Ask::Like(_) => {
            let order = MixOrder::read(&typed_mix(desk, ask, form), &given);
            let meant = |order| MixOrder {
                even_so: form.is_meant(),
                ..order
            };
            order.map(|order| Deed::Mix(Box::new(meant(order))))
        }
        Ask::Thin(cup) => ThinField::order(&form.typed(), *cup, &given).map(meant),
        Ask::Read(cup) => ReadField::order(&form.typed(), *cup, &given).map(meant),
        Ask::Add(cup) => {
            let order = AddOrder::read(&form.typed(), *cup, &given);
            let even_so = form.is_meant();
            order.map(|order| Deed::Add(AddOrder { even_so, ..order }))
        }
        Ask::Settings => return keep_settings(desk, form),
        Ask::Lid(cup) => LidOrder::edited(&form.typed(), *cup).map(Deed::Lid),
        Ask::Visit => {
            let missing = Refusal::Needed(TendField::Cup.label());
            let read = |text: &str| Ok::<_, Refusal>(text.to_owned());
            let mark = form.typed().need(TendField::Cup, missing, read);
            mark.map(Deed::Visit)
        }
        Ask::Amend(entry) => {
            let order = AmendField::order(&form.typed(), entry, &given);
            let even_so = form.is_meant();
            order.map(|order| Deed::Amend(AmendOrder { even_so, ..order }))
        }
        Ask::First => {
            let order = FirstOrder::read(&form.typed(), &given);
            let meant = |order| FirstOrder {
                even_so: form.is_meant(),
                ..order
            };
            order.map(|order| Deed::First(Box::new(meant(order))))
        }
    };
    deed.map(Some).map_err(|wrong| desk.fault(wrong))
}

/// What was typed of a mixing, with what the form was opened for.
fn typed_mix(desk: &Desk, ask: &Ask, form: &Form) -> Typed<MixField> {
    let typed = form.typed::<MixField>();
    // The mark that was offered is only a guess: another bench may have been given it meanwhile.
    let typed = match form.is_typed(MixField::Mark) {
        true => typed,
        false => typed.without(MixField::Mark),
    };
    let recipe = desk.known.names.recipe(form.value(MixField::Recipe)).ok();
    match ask {
        // Its own variant too, while the recipe is still that cup's.
        Ask::Like(mark) if recipe.is_some() && recipe == mixed_by(desk, mark) => {
            typed.without(MixField::Recipe).with(MixField::Like, mark)
        }
        Ask::Like(mark) => typed.with(MixField::Like, mark),
        // The variant that was asked for, while its recipe is still the one in the form.
        Ask::Of(asked, number) if recipe == Some(*asked) => {
            typed.with(MixField::Variant, number.to_string())
        }
        _ => typed,
    }
}

/// The recipe that the cup of a mark was mixed by.
fn mixed_by(desk: &Desk, mark: &str) -> Option<RecipeId> {
    Some(RecipeId(desk.known.cup(mark)?.recipe.id))
}

/// Asks whose life, of a cup that may be spent.
pub fn visit(desk: &Desk) -> Form {
    let fields = vec![Field::of(TendField::Cup, desk.measures())];
    Form::new("The life of a cup", fields)
}
