//! The loop: keys and ticks in, effects done, what changed read again, a picture out.
//!
//! It is generic over the terminal's backend, the source of events and the bell, so that tests drive this
//! very loop.

use crate::screen::Screen;
use crate::screen::kit::beat::Beat;
use crate::screen::kit::form::Edit;
use crate::screen::kit::keys::Key;
use crate::screen::kit::look::Look;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::places::bench::Turned;
use crate::screen::shell::action::Action;
use crate::screen::shell::effect::{Effect, perform, settle, words};
use crate::screen::shell::keys::{Context, find};
use crate::screen::shell::model::{Model, Over};
use crate::screen::shell::update::update;
use crate::screen::shell::view::view;
use crate::studio::{Answer, Studio, local};
use crate::tell;
use crate::trade::instant::Now;
use crossterm::event::KeyCode;
use ratatui::Terminal;
use ratatui::backend::Backend;
use std::io;
use std::time::Duration;

/// The longest wait between two looks at the clock and at the store.
pub const TICK: Duration = Duration::from_millis(250);

/// A clock that is put right by less is not worth a word.
const SET_BACK: chrono::TimeDelta = chrono::TimeDelta::minutes(1);

/// The most events taken in before a picture is drawn.
const BURST: usize = 256;

/// What comes from the terminal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Incoming {
    /// A key.
    Key(Key),
    /// Text pasted in.
    Paste(String),
    /// Anything that only asks for a new picture.
    Other,
    /// The terminal is going away.
    End,
}

/// Where events come from.
pub trait Source {
    /// The next event, waited for no longer than that; `None` where there was none.
    ///
    /// # Errors
    /// Where the terminal cannot be read.
    fn next(&mut self, wait: Duration) -> io::Result<Option<Incoming>>;

    /// Time since the screen was opened, by a clock that never jumps.
    fn elapsed(&self) -> Duration;
}

/// Rings when a cup turns.
pub trait Bell {
    /// Rings once, with what turned in words.
    fn ring(&mut self, words: &str);
}

/// All that the loop works with beside the terminal.
pub struct Room<'a, S, B> {
    /// The studio.
    pub studio: Studio,
    /// The studio's clock.
    pub clock: &'a dyn Fn() -> Now,
    /// Where events come from.
    pub source: S,
    /// What rings.
    pub bell: B,
}

impl<S: Source, B: Bell> Room<'_, S, B> {
    fn beat(&self) -> Beat {
        Beat {
            now: (self.clock)(),
            elapsed: self.source.elapsed(),
        }
    }

    /// Shows the studio until the painter leaves or the terminal goes away.
    ///
    /// # Errors
    /// Where the terminal cannot be read or written.
    pub fn run<T>(&mut self, terminal: &mut Terminal<T>, look: Look) -> io::Result<()>
    where
        T: Backend,
        T::Error: Send + Sync + 'static,
    {
        let mut model = Model::new(self.beat(), look);
        // A copy that fails must not keep the painter out.
        if let Err(error) = self.studio.copy_of_the_day(&model.beat.now) {
            let why = tell::words(&error, model.known.measures(), &model.beat.now);
            model.refuse(&format!("no copy was taken today: {why}"));
        }
        match self.studio.clock_oddity(&model.beat.now) {
            Ok(odd) => odd
                .into_iter()
                .for_each(|odd| model.say(Message::new(Tone::Odd, &odd))),
            Err(error) => model.refuse(&words(&error, model.known.measures(), &model.beat.now)),
        }
        // The first poll makes the reader hear of a resize from before it.
        let mut first = self.source.next(Duration::ZERO)?;
        while !model.leaving {
            self.tick(&mut model);
            let drawn = terminal.draw(|frame| view(&model, frame));
            drawn.map_err(io::Error::other)?;
            let mut event = match first.take() {
                Some(event) => Some(event),
                None => self.source.next(TICK)?,
            };
            for _ in 0..BURST {
                let Some(incoming) = event else { break };
                self.take(&mut model, incoming);
                if model.leaving {
                    break;
                }
                event = self.source.next(Duration::ZERO)?;
            }
        }
        Ok(())
    }

    /// Takes the clock, looks whether another process wrote, reads again what is no longer so.
    fn tick(&mut self, model: &mut Model) {
        let before = model.beat.now.at;
        model.beat = self.beat();
        model.fade();
        match self.studio.changed_elsewhere() {
            Ok(true) => model.spoil(),
            Ok(false) => {}
            Err(error) => trouble(
                model,
                &words(&error, model.known.measures(), &model.beat.now),
            ),
        }
        let now = model.beat.now.at;
        let minute_over = now.timestamp().div_euclid(60) != before.timestamp().div_euclid(60);
        if minute_over || model.bench.turns_at().is_some_and(|at| at <= now) || now < before {
            model.bench.fresh = false;
            model.pour.fresh = false;
        }
        if before - now > SET_BACK {
            let (was, is) = (local(before, &model.beat.now), local(now, &model.beat.now));
            let odd =
                format!("the clock was set back from {was} to {is}: the order of entry holds");
            model.say(Message::new(Tone::Odd, &odd));
        }
        self.refresh(model);
    }

    fn refresh(&mut self, model: &mut Model) {
        match reread(&self.studio, model) {
            Ok(turned) => self.announce(model, &turned),
            Err(error) => trouble(
                model,
                &words(&error, model.known.measures(), &model.beat.now),
            ),
        }
    }

    fn announce(&mut self, model: &mut Model, turned: &[Turned]) {
        if turned.is_empty() {
            return;
        }
        let each = turned.iter();
        let said: Vec<_> = each
            .map(|one| format!("{} is now {}: {}", one.mark, one.state, one.why))
            .collect();
        let said = said.join("; ");
        model.say(Message::new(Tone::Done, &said));
        self.bell.ring(&said);
    }

    fn take(&mut self, model: &mut Model, incoming: Incoming) {
        match incoming {
            Incoming::Key(key) => {
                if let Some(action) = meaning(model.context(), key) {
                    self.act(model, action);
                }
            }
            Incoming::Paste(text) if model.context() == Context::Form => {
                for c in text.chars() {
                    self.act(model, Action::Form(Edit::Insert(c)));
                }
            }
            Incoming::End => model.leaving = true,
            Incoming::Paste(_) | Incoming::Other => {}
        }
    }

    fn act(&mut self, model: &mut Model, action: Action) {
        let beat = self.beat();
        for effect in update(model, action, beat) {
            self.perform(model, effect);
        }
        self.refresh(model);
    }

    fn perform(&mut self, model: &mut Model, effect: Effect) {
        let now = model.beat.now;
        let answer = perform(&mut self.studio, effect, &now);
        settle(model, answer);
    }
}

/// What a key means in a place; in a form, what is not bound is typed.
pub fn meaning(context: Context, key: Key) -> Option<Action> {
    find(context, key).or(match key {
        Key {
            code: KeyCode::Char(c),
            ctrl: false,
        } if context == Context::Form => Some(Action::Form(Edit::Insert(c))),
        Key {
            code: KeyCode::Char('c'),
            ctrl: true,
        } => Some(Action::Quit),
        _ => None,
    })
}

/// A store that fails tick after tick is told of once.
fn trouble(model: &mut Model, words: &str) {
    let told = model.message.as_ref().map(|message| message.words.as_str());
    if told != Some(words) {
        model.refuse(words);
    }
}

/// Reads again what the open screen shows and the store no longer has so; answers which cups turned.
fn reread(studio: &Studio, model: &mut Model) -> Answer<Vec<Turned>> {
    let now = model.beat.now;
    let mut turned = Vec::new();
    if !model.known.fresh {
        model.known.reread(studio, &now)?;
    }
    if !model.bench.fresh {
        turned = model.bench.take(studio.bench(&now)?, &now);
        model.bench.life = None;
    }
    if model.screen == Screen::Bench && !model.bench.life_fits() {
        model.bench.reread_life(studio, &now)?;
    }
    match model.screen {
        Screen::Pour if !model.pour.fresh => model.pour.reread(studio, &now)?,
        Screen::Rack if !model.rack.fresh => model.rack.reread(studio, &now)?,
        Screen::Findings if !model.findings.fresh => model.findings.reread(studio, &now)?,
        Screen::Shelf if !model.shelf.fresh => model.shelf.reread(studio, &now)?,
        Screen::Plan if !model.plan.fresh => model.plan.reread(studio, &now)?,
        Screen::Recipes if !model.recipes.fresh => model.recipes.reread(studio, &now)?,
        Screen::Trials if !model.trials.fresh => model.trials.reread(studio, &now)?,
        _ => {}
    }
    reread_page(studio, model, &now)?;
    Ok(turned)
}

/// An open page of a cup's life follows what is written.
fn reread_page(studio: &Studio, model: &mut Model, now: &Now) -> Answer<()> {
    use crate::screen::shell::model::PageKind;
    let Some(Over::Page(page)) = &mut model.over else {
        return Ok(());
    };
    if let PageKind::Life(life) = &mut page.kind {
        let mark = life.standing.cup.mark.to_string();
        **life = studio.cup_page(&mark, now)?;
    }
    Ok(())
}
