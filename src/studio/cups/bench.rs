//! The living cups as they stand now, the next to act on first.

use crate::logbook::Reader;
use crate::studio::cups::forecast::Outlook;
use crate::studio::cups::learned::Learned;
use crate::studio::file::settings::measures;
use crate::studio::recipes::names;
use crate::studio::{Advice, Answer, Names, Refusal, Studio, VariantRef, lookup};
use crate::trade::amount::Measures;
use crate::trade::cup::{Cup, Entry, PutFrom};
use crate::trade::instant::Now;
use crate::trade::life::{self, Life, State};
use crate::trade::moment::Moment;
use crate::trade::recipe::{Recipe, Variant, variant_title};
use crate::trade::units::{Band, Estimate, Hours, Millilitres, Seconds};
use chrono::TimeDelta;
use std::borrow::Cow;
use std::collections::HashMap;

/// A cup as it stands at an instant: what it is, what it was, what is to be done.
#[derive(Debug, Clone)]
pub struct CupStatus {
    /// The cup.
    pub cup: Cup,
    /// Its recipe.
    pub recipe: Recipe,
    /// Its variant.
    pub variant: Variant,
    /// What its entries add up to.
    pub life: Life,
    /// What it is.
    pub state: State,
    /// What the models expect of it.
    pub outlook: Outlook,
    /// Until when it stays ready; `None` where it is not ready, or nothing ends it.
    pub ready_until: Option<Moment>,
}

/// What shapes a cup's life: variants and recipes by number.
#[derive(Debug, Clone, Default)]
pub struct RecipeBook {
    /// Variants by number.
    pub variants: HashMap<i64, Variant>,
    /// Recipes by number.
    pub recipes: HashMap<i64, Recipe>,
    /// In which measures a cup's words are said.
    pub measures: Measures,
}

impl Studio {
    /// Every living cup as it stands now, the next to act on first.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn bench(&self, now: &Now) -> Answer<Vec<CupStatus>> {
        let read = self.book.read()?;
        let learned = self.memory.recall(&read)?;
        let mut entries = read.entries_of_living()?;
        let stand = |cup: Cup| {
            let entries = entries.remove(&cup.id).unwrap_or_default();
            learned.stands(&read, cup, &entries, now)
        };
        let stood: Answer<Vec<_>> = read.living_cups()?.into_iter().map(stand).collect();
        let mut standings: Vec<_> = stood?.into_iter().flatten().collect();
        standings.sort_by_key(|standing| standing.urgency(now.at));
        Ok(standings)
    }

    /// One cup as it stands now, its entries and what went into it.
    ///
    /// # Errors
    /// Where no cup bears the mark, or the store cannot be read.
    pub fn cup_page(&self, mark: &str, now: &Now) -> Answer<CupPage> {
        let read = self.book.read()?;
        let cup = lookup::cup_marked(&read, mark)?;
        let entries = read.entries(cup.id)?;
        let puts = put_names(&read, cup.id)?;
        let learned = self.memory.recall(&read)?;
        let standing = learned.stand(&read, cup, now)?;
        Ok(CupPage {
            foreseen: foreseen(&read, &learned, &standing, now)?,
            standing,
            names: names::of_entries(&read, &entries)?,
            entries,
            puts,
        })
    }
}

/// A cup's whole life.
#[derive(Debug, Clone)]
pub struct CupPage {
    /// How it stands.
    pub standing: CupStatus,
    /// Its entries, in order of entry.
    pub entries: Vec<Entry>,
    /// The names that its entries lead to.
    pub names: Names,
    /// What went into it: names and amounts.
    pub puts: Vec<(String, Millilitres)>,
    /// What is expected of its mound, from its last reading into the next hours; nothing of a spent cup, or of one that
    /// nothing can be told of.
    pub foreseen: Vec<Foreseen>,
}

/// What is expected of a mound at an instant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Foreseen {
    /// When.
    pub at: Moment,
    /// The 80 % band.
    pub mound: Band<Seconds>,
}

/// How far the expected course is told.
const AHEAD: TimeDelta = TimeDelta::hours(3);
/// In so many steps.
const STEPS: i32 = 12;

fn foreseen(
    read: &Reader<'_>,
    learned: &Learned,
    standing: &CupStatus,
    now: &Now,
) -> Answer<Vec<Foreseen>> {
    let read_at = standing.life.known.as_ref().map(|known| known.at);
    let Some(from) = read_at.filter(|_| !standing.cup.spent) else {
        return Ok(Vec::new());
    };
    let from = from.max(standing.life.last_at).min(now.at);
    let step = (now.at - from + AHEAD) / STEPS;
    let mut all = Vec::new();
    for at in (0..=STEPS).filter_map(|nth| from.checked_add_signed(step * nth)) {
        let then = learned.stand(read, standing.cup.clone(), &Now { at, ..*now })?;
        let mound = then.outlook.mound.map(|mound| mound.band);
        all.extend(mound.map(|mound| Foreseen { at, mound }));
    }
    Ok(all)
}

fn put_names(read: &Reader<'_>, cup: i64) -> Answer<Vec<(String, Millilitres)>> {
    let materials: HashMap<_, _> = read
        .materials()?
        .into_iter()
        .map(|material| (material.id, material.name))
        .collect();
    let name = |from| match from {
        PutFrom::Material(id) => Ok(materials.get(&id).cloned()),
        PutFrom::Cup(id) => read.cup(id).map(|cup| cup.map(|cup| cup.mark.to_string())),
    };
    let puts = read.puts(cup)?;
    puts.into_iter()
        .map(|put| Ok((name(put.from)?.unwrap_or_default(), put.ml)))
        .collect()
}

impl RecipeBook {
    /// All variants and recipes of the studio.
    pub(crate) fn read(read: &Reader<'_>) -> Answer<Self> {
        let recipes = read
            .recipes()?
            .into_iter()
            .map(|recipe| (recipe.id, recipe))
            .collect();
        let variants = read
            .variants()?
            .into_iter()
            .map(|one| (one.id, one))
            .collect();
        Ok(Self {
            variants,
            recipes,
            measures: measures(read)?,
        })
    }

    /// What a variant is called; `None` where it is not known.
    #[must_use]
    pub fn variant_ref(&self, variant: i64) -> Option<VariantRef> {
        let variant = self.variants.get(&variant)?;
        let recipe = self.recipes.get(&variant.recipe);
        Some(VariantRef {
            id: variant.id,
            recipe: recipe.map_or_else(String::new, |recipe| recipe.name.clone()),
            number: variant.number,
        })
    }

    /// `River blue v2`.
    #[must_use]
    pub fn title(&self, variant: i64) -> String {
        let known = self.variant_ref(variant);
        known.map_or_else(String::new, |one| one.to_string())
    }
}

impl Learned {
    /// One cup as it stands.
    pub(crate) fn stand(&self, read: &Reader<'_>, cup: Cup, now: &Now) -> Answer<CupStatus> {
        let mark = cup.mark.to_string();
        let entries = read.entries(cup.id)?;
        let stood = self.stands(read, cup, &entries, now)?;
        stood.ok_or_else(|| Refusal::UnknownMark(mark, vec![]).into())
    }

    /// A cup as it stands; `None` where its variant is not among the cards.
    fn stands(
        &self,
        read: &Reader<'_>,
        cup: Cup,
        entries: &[Entry],
        now: &Now,
    ) -> Answer<Option<CupStatus>> {
        let made = self.made(read, entries, now.at)?;
        let made = |entry: &Entry| made.get(&entry.id).copied().unwrap_or_default();
        let seen = life::not_ahead(entries, now.at, made);
        let mut stood = self.stands_by(cup, &seen, now);
        if let (Some(stood), Cow::Owned(_)) = (&mut stood, &seen) {
            stood.life.clock_went_back = true;
        }
        Ok(stood)
    }

    /// The same, by its entries as they count.
    fn stands_by(&self, cup: Cup, seen: &[Entry], now: &Now) -> Option<CupStatus> {
        let (cards, forecast) = (self.cards(), &self.forecast);
        let variant = cards.variants.get(&cup.variant)?.clone();
        let recipe = cards.recipes.get(&variant.recipe)?.clone();
        let rest = forecast.rest(&cup, seen, &variant);
        let mut life = Life::of(&cup, seen, forecast.waits(&rest, &variant));
        life.gelled |= never_clears(&life, &rest, now.at);
        let outlook = forecast.outlook(&cup, seen, &life, &variant, now.at);
        let state = life.state(now.at, outlook.expected, variant.targets.window);
        let windowed = variant.targets.window.is_some();
        let ready_until =
            (state == State::Ready && windowed).then_some(outlook.expected.holds_until);
        Some(CupStatus {
            cup,
            recipe,
            variant,
            life,
            state,
            outlook,
            ready_until,
        })
    }
}

/// A rest of months is none: such a mound does not fade for a painter (ours, no source).
const LONGEST_REST: Hours = Hours(30.0 * 24.0);

/// Whether a cup that still rests would do so for longer than anyone waits.
fn never_clears(life: &Life, rest: &Estimate<Hours>, now: Moment) -> bool {
    now < life.clears_at && rest.band.mid > LONGEST_REST
}

impl CupStatus {
    /// Which cup wants a hand first: what has turned, then what will turn soonest.
    fn urgency(&self, now: Moment) -> (u8, TimeDelta, i64) {
        let wait = match self.state {
            State::Resting => self.life.clears_at - now,
            State::Ready => self.ready_until.map_or(TimeDelta::MAX, |until| until - now),
            _ => TimeDelta::zero(),
        };
        let group = match self.state {
            State::Thick | State::Thin => 0,
            State::Look => 1,
            State::Ready => 2,
            State::Resting => 3,
            State::Spent => 4,
        };
        (group, wait, self.cup.id)
    }

    /// How much thinner would bring it back; nothing where it is not above its window.
    #[must_use]
    pub fn advice(&self) -> Advice {
        let nothing = || Advice::nothing(self.outlook.room, self.outlook.thinner);
        self.outlook.advice.unwrap_or_else(nothing)
    }

    /// `River blue v2`.
    #[must_use]
    pub fn title(&self) -> String {
        variant_title(&self.recipe.name, self.variant.number)
    }

    /// The next instant at which its state can turn by itself, for a screen to wait for.
    #[must_use]
    pub fn turns_at(&self) -> Option<Moment> {
        match self.state {
            State::Resting => Some(self.life.clears_at),
            State::Ready => self.ready_until,
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::studio::orders::{MixOrder, TendOrder};
    use crate::studio::{JudgeOrder, PlanOrder, PourOrder, Studio, TimeWindow};
    use crate::trade::amount::Amount;
    use crate::trade::cup::{Reading, Seen};
    use crate::trade::ids::VariantId;
    use crate::trade::instant::{Now, Zone};
    use crate::trade::panel::Panel;
    use crate::trade::plan::Panels;
    use crate::trade::units::{Millilitres, Millimetres, Seconds};
    use chrono::{DateTime, TimeDelta};

    fn noon() -> Now {
        let at = DateTime::parse_from_rfc3339("2026-11-24T12:00:00+01:00").unwrap();
        let zone = Zone::Fixed(*at.offset());
        Now { at, zone }
    }

    fn studio() -> (tempfile::TempDir, Studio) {
        let folder = tempfile::tempdir().unwrap();
        let mut studio = Studio::open(&folder.path().join("studio.db")).unwrap();
        studio.seed_starters(&noon()).unwrap();
        (folder, studio)
    }

    fn mix(studio: &mut Studio, now: &Now) -> String {
        let variant = studio.recipes().unwrap()[0].variants[0].id;
        let order = MixOrder {
            reading: Some(Reading::Mound(Seconds(3.0))),
            ..MixOrder::of(VariantId(variant), Millilitres(120.0))
        };
        let mixed = studio.mix(&order, now).unwrap();
        mixed.standing.cup.mark.to_string()
    }

    fn thin(studio: &mut Studio, mark: &str, now: &Now) {
        let known = studio.known([]).unwrap();
        let order = TendOrder::thin(
            known.cup(mark).unwrap(),
            Millilitres(3.0),
            known.only_thinner(),
            false,
            Some(Reading::Mound(Seconds(2.4))),
        );
        studio.tend(&order, now).unwrap();
    }

    fn pour(studio: &mut Studio, mark: &str, now: &Now) -> i64 {
        let known = studio.known([]).unwrap();
        let layer = known.layer(mark, Amount::Volume(Millilitres(40.0)));
        let order = PourOrder::on(Panel::parse("20x30cm").unwrap(), vec![layer.unwrap()]);
        studio.pour(&order, now).unwrap().pour.id
    }

    /// Whatever the painter does at the bench touches living cups alone, or the newest few hundred: no statement goes
    /// through a table that grows with the years.
    #[test]
    fn a_day_at_the_bench_scans_no_table_that_grows() {
        let (_folder, mut studio) = studio();
        let mut now = noon();
        let asked = studio.book.listen();
        let mark = mix(&mut studio, &now);
        studio.bench(&now).unwrap();
        now.at += TimeDelta::hours(13);
        let cup = studio.known([]).unwrap().cup(&mark).unwrap();
        let look = TendOrder::look(cup, Seen::Clear);
        studio.tend(&look, &now).unwrap();
        thin(&mut studio, &mark, &now);
        studio.cup_page(&mark, &now).unwrap();
        studio.stack(&[cup], &[], &now).unwrap();
        let pour = pour(&mut studio, &mark, &now);
        studio.judge(pour, &JudgeOrder::default(), &now).unwrap();
        studio.undo(&now).unwrap();
        studio.redo(&now).unwrap();
        studio.pour_page(pour).unwrap();
        studio.rack(&now).unwrap();
        studio.bench(&now).unwrap();
        assert_eq!(studio.book.scans(&asked), Vec::<String>::new());
    }

    /// Steps of SQLite for each question of a studio with so many pours behind it, one a day.
    fn steps(pours: i64) -> Vec<(&'static str, i64)> {
        let (_folder, mut studio) = studio();
        let now = noon();
        studio.book.add_past(pours, now.at.timestamp_millis());
        let steps = studio.book.count_steps();
        let order = |way: &str| PlanOrder {
            panels: Panels {
                panel: Panel::parse("40x50cm").unwrap(),
                count: 1,
                edge: Millimetres::ZERO,
            },
            way: Some(way.to_owned()),
            pour_at: None,
            film: None,
            recipes: Vec::new(),
            holds: None,
            note: None,
            fresh: false,
        };
        let month = TimeWindow {
            from: Some(now.at - TimeDelta::days(30)),
            to: None,
        };
        let mut asked = Vec::new();
        let mut ask = |what, done: &dyn Fn(&Studio)| {
            done(&studio);
            asked.push((what, steps.taken()));
        };
        ask("the bench", &|studio| drop(studio.bench(&now).unwrap()));
        ask("a plan", &|studio| {
            drop(studio.plan(&order("often"), &now).unwrap())
        });
        ask("a plan of a rare technique", &|studio| {
            drop(studio.plan(&order("once"), &now).unwrap())
        });
        ask("a month's findings", &|studio| {
            drop(studio.findings(month).unwrap())
        });
        ask("the rack", &|studio| drop(studio.rack(&now).unwrap()));
        asked
    }

    /// Ten years cost what two cost: each question of a day, in the steps that SQLite itself counts.
    #[test]
    fn ten_years_cost_what_two_cost() {
        for ((what, few), (_, many)) in steps(700).into_iter().zip(steps(3_500)) {
            assert!(few > 100, "{what}: only {few} steps");
            assert!(many * 5 <= few * 6, "{what}: {few} steps became {many}");
        }
    }

    /// A look back at a month touches the pours of that month.
    #[test]
    fn findings_of_a_month_scan_no_table_that_grows() {
        let (_folder, mut studio) = studio();
        let now = noon();
        let mark = mix(&mut studio, &now);
        let pour = pour(&mut studio, &mark, &now);
        studio.judge(pour, &JudgeOrder::default(), &now).unwrap();
        let asked = studio.book.listen();
        let month = TimeWindow {
            from: Some(now.at - TimeDelta::days(30)),
            to: None,
        };
        studio.findings(month).unwrap();
        assert_eq!(studio.book.scans(&asked), Vec::<String>::new());
    }
}
