//! The demo's months: sessions of mixing the day before, waking the cups, pouring, judging wet and, days later, dry.

use super::clock::{FIRST_DAY, later};
use super::hands::Hands;
use super::paint::{Paint, cells_of, chance, grade, normal};
use crate::studio::{Answer, JudgeOrder, LayerOrder, PourOrder, StartOverOrder};
use crate::trade::amount::Amount;
use crate::trade::cup::Happened;
use crate::trade::instant::Now;
use crate::trade::judgement::{CellSize, Fate};
use crate::trade::panel::Panel;
use crate::trade::pour::{Air, Move, MoveKind};
use crate::trade::recipe::LayerKind;
use crate::trade::units::{Celsius, Millilitres, Share};
use rand::RngExt;

/// How many times the studio poured.
pub(super) const SESSIONS: usize = 36;
/// The wet film, in mm: one US fluid ounce for 25 square inches (common practice, no source).
const FILM: f64 = 1.83;
/// For how many goes on a panel paint is mixed.
const GOES: f64 = 2.3;
/// What is never poured out of a cup.
const DREGS: f64 = 4.0;

impl Hands<'_> {
    /// Lives through every session, oldest first; tells each that begins.
    pub(super) fn live(&mut self, told: &dyn Fn(usize)) -> Answer<()> {
        for session in 1..=SESSIONS {
            told(session);
            self.session = session;
            let step = (FIRST_DAY - 6) as f64 / SESSIONS as f64;
            let ago = FIRST_DAY - 2 - (step * session as f64) as i64;
            self.change_recipes(ago)?;
            self.pour_day(ago.max(3))?;
        }
        Ok(())
    }

    fn change_recipes(&mut self, ago: i64) -> Answer<()> {
        let at = self.clock.day(ago + 1, 8.2);
        for change in &self.cast.changes {
            if change.session == self.session {
                let known = self.studio.known([])?;
                let recipe = known.recipe(&change.name)?;
                self.studio
                    .change_recipe(recipe, &change.order(&known)?, &at)?;
            }
        }
        Ok(())
    }

    /// One session: its evening before and its day.
    fn pour_day(&mut self, ago: i64) -> Answer<()> {
        self.judge_dry(&self.clock.day(ago + 1, 8.7))?;
        self.shop(&self.clock.day(ago + 1, 9.3))?;
        let panels = self.panels()?;
        let mut cups = self.evening(ago, &panels)?;
        self.judge_dry(&self.clock.day(ago, 8.7))?;
        if self.session.is_multiple_of(7) {
            let at = self.clock.day(ago, 9.2);
            self.count(&at)?;
        }
        let hour = self.rng.random_range(9.8..12.5);
        let at = self.wake(&mut cups, self.clock.day(ago, hour))?;
        self.pour_panels(ago, &panels, &mut cups, at)
    }

    fn panels(&mut self) -> Answer<Vec<Panel>> {
        let all = self.cast.panels()?;
        let many = if chance(&mut self.rng, 0.2) { 3 } else { 2 };
        let any = (0..many).map(|_| all[self.rng.random_range(0..all.len())]);
        Ok(any.collect())
    }

    /// Mixes base and colours, mostly late, sometimes by daylight.
    fn evening(&mut self, ago: i64, panels: &[Panel]) -> Answer<Vec<Paint>> {
        let hour = match chance(&mut self.rng, 0.6) {
            true => self.rng.random_range(19.0..22.5),
            false => self.rng.random_range(11.0..18.0),
        };
        let mut at = self.clock.day(ago + 1, hour);
        let total: f64 = panels.iter().map(|panel| paint_for(*panel)).sum();
        let base = total * GOES * 0.45 + 20.0;
        let mut cups = vec![self.mix("Base white", LayerKind::Base, base, &at)?];
        let mut colours = self.cast.colours();
        let many = self.rng.random_range(2..4);
        for _ in 0..many {
            at = later(&at, self.rng.random_range(6..14));
            let colour = self.favourite(&mut colours);
            let ml = total * GOES * 0.42 / f64::from(many) + 20.0;
            cups.push(self.mix(&colour, LayerKind::Colour, ml, &at)?);
        }
        if chance(&mut self.rng, 0.4) {
            let at = later(&at, 55);
            self.look(&cups[1].clone(), &at)?;
        }
        Ok(cups)
    }

    /// A colour, the first of the list more often than the others.
    fn favourite(&mut self, colours: &mut Vec<String>) -> String {
        let first = chance(&mut self.rng, 0.35);
        let place = if first {
            0
        } else {
            self.rng.random_range(0..colours.len())
        };
        colours.remove(place)
    }

    /// The next morning: every cup is looked at, opened, read and thinned. Answers when that was done.
    fn wake(&mut self, cups: &mut [Paint], mut at: Now) -> Answer<Now> {
        for cup in cups.iter_mut() {
            if !self.look(cup, &at)? && chance(&mut self.rng, 0.6) {
                at = later(&at, 50);
                self.look(cup, &at)?;
            }
            at = later(&at, 2);
            self.studio.jot(cup.cup, Happened::Opened, &at)?;
            self.check(cup, &at)?;
            at = later(&at, 4);
        }
        Ok(at)
    }

    fn pour_panels(
        &mut self,
        ago: i64,
        panels: &[Panel],
        cups: &mut Vec<Paint>,
        at: Now,
    ) -> Answer<()> {
        let total: f64 = panels.iter().map(|panel| paint_for(*panel)).sum();
        let ml = total * GOES * 0.13 + 20.0;
        let mut at = later(&at, 5);
        let mut top = self.mix("Foam", LayerKind::Activator, ml, &at)?;
        if chance(&mut self.rng, 0.45) {
            let read = top.read(at.at, &mut self.rng);
            self.thin(&mut top, read, read.get() - 0.25, &at)?;
        }
        cups.push(top);
        let air = self.air(ago);
        at = later(&at, 6);
        for (place, panel) in panels.iter().enumerate() {
            if place > 0 && chance(&mut self.rng, 0.7) {
                for cup in cups.iter_mut() {
                    self.check(cup, &at)?;
                    at = later(&at, 3);
                }
            }
            at = self.pour_panel(*panel, cups, air, at)?;
        }
        at = later(&at, 20);
        for cup in cups.iter() {
            self.end(cup, &at)?;
        }
        Ok(())
    }

    fn air(&mut self, ago: i64) -> Air {
        let season = self.clock.season(ago);
        let celsius = normal(&mut self.rng, 20.5 + 3.0 * season, 1.0);
        let humidity = normal(&mut self.rng, 0.47 + 0.08 * season, 0.05);
        Air {
            celsius: Some(Celsius(celsius.round())),
            humidity: Some(Share((humidity * 100.0).round() / 100.0)),
        }
    }

    /// One panel: a go, and start-overs while it disappoints and the paint lasts. Answers when it was judged.
    fn pour_panel(
        &mut self,
        panel: Panel,
        cups: &mut [Paint],
        air: Air,
        mut at: Now,
    ) -> Answer<Now> {
        let mut before = None;
        for go in 1..=4 {
            let order = self.stack(cups);
            let Some(layers) = layers(panel, cups, &order) else {
                break;
            };
            let pour = match before {
                None => self.first_go(panel, layers, air, &at)?,
                Some(pour) => self.next_go(pour, layers, air, &at)?,
            };
            self.pours += 1;
            before = Some(pour);
            let stack: Vec<&Paint> = order.iter().map(|&place| &cups[place]).collect();
            let cells = cells_of(&stack, at.at, &mut self.rng);
            take_down(panel, cups, &order);
            let again = layers_left(panel, cups) && go < 4 && self.disappoints(cells);
            if !again {
                at = later(&at, 24);
                self.judge_wet(pour, cells, &at)?;
                break;
            }
            at = later(&at, self.rng.random_range(5..12));
        }
        Ok(later(&at, 5))
    }

    fn disappoints(&mut self, cells: f64) -> bool {
        let share = match cells {
            low if low < 2.5 => 0.85,
            low if low < 3.4 => 0.5,
            _ => 0.1,
        };
        chance(&mut self.rng, share)
    }

    /// The cups' places in the order they are poured, lowest first; now and then two are mixed up.
    fn stack(&mut self, cups: &[Paint]) -> Vec<usize> {
        let mut order: Vec<usize> = (0..cups.len()).collect();
        if chance(&mut self.rng, 0.09) {
            let place = self.rng.random_range(1..cups.len());
            order.swap(place - 1, place);
        }
        order
    }

    fn first_go(
        &mut self,
        panel: Panel,
        layers: Vec<LayerOrder>,
        air: Air,
        at: &Now,
    ) -> Answer<i64> {
        let order = PourOrder {
            panel,
            layers,
            way: self.one_of(&self.cast.ways.clone()),
            moves: self.moves(),
            air: chance(&mut self.rng, 0.9).then_some(air),
            note: self.note(&self.cast.pour_notes.clone(), 0.18),
            even_so: false,
            at: None,
        };
        Ok(self.studio.pour(&order, at)?.pour.id)
    }

    fn next_go(&mut self, pour: i64, layers: Vec<LayerOrder>, air: Air, at: &Now) -> Answer<i64> {
        let order = StartOverOrder {
            layers,
            moves: self.moves(),
            air: Some(air),
            ..StartOverOrder::default()
        };
        Ok(self.studio.start_over(pour, &order, at)?.pour.id)
    }

    fn moves(&mut self) -> Vec<Move> {
        let mut moves = Vec::new();
        let turns = f64::from(self.rng.random_range(1..4));
        if chance(&mut self.rng, 0.6) {
            moves.push(moved(MoveKind::Spin, "cw", turns));
            if chance(&mut self.rng, 0.5) {
                moves.push(moved(MoveKind::Spin, "ccw", turns));
            }
        } else {
            moves.push(moved(MoveKind::Tilt, "left", 1.0));
            moves.push(moved(MoveKind::Tilt, "right", 1.0));
        }
        if chance(&mut self.rng, 0.2) {
            moves.push(moved(MoveKind::Blow, "outward", turns));
        }
        moves
    }

    fn judge_wet(&mut self, pour: i64, cells: f64, at: &Now) -> Answer<()> {
        let sized = normal(&mut self.rng, cells, 1.2);
        let wet = JudgeOrder {
            cells: grade(cells),
            size: Some(match sized {
                small if small < 2.2 => CellSize::Fine,
                middling if middling < 4.0 => CellSize::Middling,
                _ => CellSize::Large,
            }),
            evenness: Some(grade(normal(&mut self.rng, 2.0 + cells / 4.0, 0.9))),
            muddy: chance(&mut self.rng, 0.5).then(|| grade(3.0 - cells / 2.0)),
            note: self.note(&self.cast.wet_notes.clone(), 0.15),
            ..JudgeOrder::default()
        };
        self.studio.judge(pour, &wet, at)?;
        if chance(&mut self.rng, 0.85) {
            let dry = self.dried(cells);
            let days = self.rng.random_range(5..11);
            let at = later(at, days * 24 * 60);
            self.drying.push((at, pour, dry));
        }
        Ok(())
    }

    fn dried(&mut self, cells: f64) -> JudgeOrder {
        let cells = normal(&mut self.rng, cells - 0.1, 0.35);
        let sold = cells > 3.4 && chance(&mut self.rng, 0.3);
        let fate = match grade(cells) {
            0..=1 => Fate::Scraped,
            _ if sold => Fate::Sold,
            _ => Fate::Kept,
        };
        JudgeOrder {
            cells: grade(cells),
            dry: true,
            crazed: chance(&mut self.rng, 0.4).then(|| grade(normal(&mut self.rng, 0.5, 0.7))),
            pinholes: chance(&mut self.rng, 0.4).then(|| grade(normal(&mut self.rng, 0.7, 0.8))),
            fate: Some(fate),
            note: self.note(&self.cast.dry_notes.clone(), 0.12),
            ..JudgeOrder::default()
        }
    }

    /// Judges all pictures that have dried by now.
    pub(super) fn judge_dry(&mut self, now: &Now) -> Answer<()> {
        let (due, later): (Vec<_>, Vec<_>) = std::mem::take(&mut self.drying)
            .into_iter()
            .partition(|(at, ..)| at.at <= now.at);
        self.drying = later;
        for (_, pour, order) in due {
            self.studio.judge(pour, &order, now)?;
        }
        Ok(())
    }
}

fn moved(kind: MoveKind, direction: &str, times: f64) -> Move {
    Move {
        direction: Some(direction.to_owned()),
        times: Some(times),
        ..Move::of(kind)
    }
}

/// The millilitres one go takes.
fn paint_for(panel: Panel) -> f64 {
    panel.area().get() * FILM / 1000.0
}

/// What a cup gives to one go.
fn share(panel: Panel, cup: &Paint, cups: &[Paint]) -> f64 {
    let colours = cups.iter().filter(|one| one.layer == LayerKind::Colour);
    let share = match cup.layer {
        LayerKind::Base => 0.45,
        LayerKind::Activator => 0.13,
        LayerKind::Colour | LayerKind::Medium => 0.42 / colours.count().max(1) as f64,
    };
    (paint_for(panel) * share).round()
}

fn layers_left(panel: Panel, cups: &[Paint]) -> bool {
    cups.iter()
        .all(|cup| cup.left - DREGS >= share(panel, cup, cups))
}

/// The layers of one go; `None` where a cup holds too little.
fn layers(panel: Panel, cups: &[Paint], order: &[usize]) -> Option<Vec<LayerOrder>> {
    let layer = |&place: &usize| {
        let ml = Millilitres(share(panel, &cups[place], cups));
        LayerOrder::of(cups[place].cup, Amount::Volume(ml))
    };
    layers_left(panel, cups).then(|| order.iter().map(layer).collect())
}

fn take_down(panel: Panel, cups: &mut [Paint], order: &[usize]) {
    for &place in order {
        let ml = share(panel, &cups[place], cups);
        cups[place].left -= ml;
    }
}
