//! What the Bench does through the studio.

use crate::screen::kit::desk::Desk;
use crate::screen::kit::handover::Handover;
use crate::screen::kit::place::Outcome;
use crate::studio::{
    Answer, MaterialOrder, MixOrder, MixPart, RecipeOrder, Studio, Tended, ThinOrder,
};
use crate::tell;
use crate::trade::amount::{Measures, show_mass, show_volume};
use crate::trade::cup::{End, Reading, Seen};
use crate::trade::instant::Now;
use crate::trade::material::MaterialKind;
use crate::trade::moment::Moment;
use crate::trade::recipe::LayerKind;
use crate::trade::text::inert;
use crate::trade::units::Minutes;

/// A deed of the Bench; cups by their marks.
#[derive(Debug, Clone)]
pub enum Deed {
    /// Mix a cup.
    Mix(Box<MixOrder>),
    /// Work out what would go into it.
    Draft(Box<MixOrder>),
    /// Mix the very first cup: writes down what it is made of as well.
    First(Box<FirstCup>),
    /// Thin a cup.
    Thin(String, ThinOrder, Option<Moment>),
    /// Read a cup.
    Read(String, Reading, Option<Moment>),
    /// Stir a cup.
    Stir(String, Minutes),
    /// Look at a cup.
    Look(String, Seen, Option<Moment>),
    /// Put a lid on.
    Cap(String),
    /// Take a lid off.
    Open(String),
    /// End a cup.
    End(String, End),
    /// Put starter materials and recipes in.
    Starters,
    /// Fill the studio with the demo.
    Demo,
}

/// The very first cup, and what it is made of.
#[derive(Debug, Clone)]
pub struct FirstCup {
    /// What the mixture is called.
    pub name: String,
    /// The paint.
    pub paint: String,
    /// The medium.
    pub medium: String,
    /// Parts of each.
    pub shares: (String, String),
    /// How the cup is mixed of it.
    pub order: MixOrder,
}

/// Does a deed.
///
/// # Errors
/// Where the studio refuses, or the store fails.
pub fn perform(studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
    let now = &desk.beat.now.clone();
    let goes_on = matches!(deed, Deed::Read(..));
    let stays = matches!(deed, Deed::Cap(_) | Deed::Open(_) | Deed::End(..));
    let tended = match deed {
        Deed::Mix(order) => return mix(studio, &order, desk),
        Deed::Draft(order) => return Ok(draft(studio, &order, now)),
        Deed::First(first) => return first_cup(studio, &first, desk),
        Deed::Starters => return starters(studio, now),
        Deed::Demo => return demo(studio, now),
        Deed::Thin(mark, order, at) => studio.thin_cup(&mark, &order, at, now)?,
        Deed::Read(mark, reading, at) => studio.read_cup(&mark, reading, at, now)?,
        Deed::Stir(mark, minutes) => studio.stir_cup(&mark, minutes, None, now)?,
        Deed::Look(mark, seen, at) => studio.look_at_cup(&mark, seen, at, now)?,
        Deed::Cap(mark) => studio.cap_cup(&mark, None, now)?,
        Deed::Open(mark) => studio.open_cup(&mark, None, now)?,
        Deed::End(mark, end) => studio.end_cup(&mark, end, None, now)?,
    };
    let mark = tended.standing.cup.mark.to_string();
    desk.hand(match stays {
        true => Handover::Cup(mark),
        false => Handover::Tended { mark, goes_on },
    });
    Ok(told(tended))
}

fn starters(studio: &mut Studio, now: &Now) -> Answer<Outcome> {
    let seeded = studio.seed_starters(now)?;
    if seeded.is_empty() {
        return Ok(Outcome::wrote("every starter is on the shelf already"));
    }
    let (materials, recipes) = (seeded.materials.len(), seeded.recipes.len());
    let words = format!(
        "{materials} materials and {recipes} recipes are on the shelf: change them to yours"
    );
    Ok(Outcome::wrote(words))
}

/// Goes over to the demo, which has a file of its own beside the studio's.
fn demo(studio: &mut Studio, now: &Now) -> Answer<Outcome> {
    let path = studio.demo_file();
    let mut demo = Studio::open(&path)?;
    if demo.is_empty()? {
        demo.seed_demo(now)?;
    }
    *studio = demo;
    Ok(Outcome::wrote(format!(
        "This is the demo, in {}; your own studio is untouched",
        path.display()
    )))
}

fn told(tended: Tended) -> Outcome {
    let standing = tended.standing;
    let words = format!(
        "{} is {}: {}",
        standing.cup.mark, standing.state, standing.why
    );
    Outcome {
        remarks: tended.remarks,
        ..Outcome::wrote(words)
    }
}

fn mix(studio: &mut Studio, order: &MixOrder, desk: &mut Desk) -> Answer<Outcome> {
    let mixed = studio.mix(order, &desk.beat.now)?;
    let mark = mixed.standing.cup.mark.to_string();
    desk.hand(Handover::Cup(mark.clone()));
    let words = format!(
        "Write {mark} on the lid: {}, {}; {}",
        mixed.standing.title(),
        show_volume(mixed.standing.cup.volume, measures(studio)),
        mixed.standing.why
    );
    Ok(Outcome {
        remarks: mixed.remarks,
        ..Outcome::wrote(words)
    })
}

/// What would go in; a mixture that makes no sense yet says why in its place.
fn draft(studio: &Studio, order: &MixOrder, now: &Now) -> Outcome {
    let lines = match studio.draft_mix(order) {
        Ok(draft) => {
            let measures = measures(studio);
            let parts = draft.parts.iter().map(|part| part_line(part, measures));
            parts.collect()
        }
        Err(error) => vec![inert(&tell::words(&error, measures(studio), now)).into_owned()],
    };
    Outcome {
        aside: Some(lines),
        ..Outcome::default()
    }
}

/// `40 ml  50 g  Deep paint (from K7)`.
fn part_line(part: &MixPart, measures: Measures) -> String {
    let weight = part.g.map(|g| show_mass(g, measures)).unwrap_or_default();
    let from = part.from.as_ref();
    let from = from
        .map(|mark| format!(" (from {mark})"))
        .unwrap_or_default();
    format!(
        "{:>9} {weight:>8}  {}{from}",
        show_volume(part.ml, measures),
        inert(&part.name)
    )
}

fn measures(studio: &Studio) -> Measures {
    studio
        .settings()
        .map_or(Measures::Metric, |settings| settings.measures)
}

/// Writes the paint and the medium down where they are new, then the recipe, then the cup.
fn first_cup(studio: &mut Studio, first: &FirstCup, desk: &mut Desk) -> Answer<Outcome> {
    let now = &desk.beat.now.clone();
    let material = |studio: &mut Studio, name: &str, kind| {
        let known = studio.materials()?;
        if known.iter().any(|one| one.name.eq_ignore_ascii_case(name)) {
            return Ok(());
        }
        let order = MaterialOrder {
            kind: Some(kind),
            ..MaterialOrder::default()
        };
        studio.add_material(name, &order, now).map(drop)
    };
    material(studio, &first.paint, MaterialKind::Paint)?;
    material(studio, &first.medium, MaterialKind::Conditioner)?;
    let known = studio.recipes()?;
    if !known
        .iter()
        .any(|one| one.recipe.name.eq_ignore_ascii_case(&first.name))
    {
        let recipe = RecipeOrder {
            parts: vec![
                format!("{} {}", first.paint, first.shares.0),
                format!("{} {}", first.medium, first.shares.1),
            ],
            ..RecipeOrder::default()
        };
        studio.add_recipe(&first.name, LayerKind::Colour, &recipe, now)?;
    }
    mix(studio, &first.order, desk)
}
