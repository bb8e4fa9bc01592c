//! The loop: keys and ticks in, effects done, what changed read again, a picture out.
//!
//! It is generic over the terminal's backend, the source of events and the bell, so that tests drive this
//! very loop.

use crate::screen::Screen;
use crate::screen::kit::beat::Beat;
use crate::screen::kit::form::Edit;
use crate::screen::kit::keys::Key;
use crate::screen::kit::known::Turned;
use crate::screen::kit::look::Look;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::picture::Pictures;
use crate::screen::kit::place::Place as _;
use crate::screen::shell::action::{Action, Seek};
use crate::screen::shell::day_copy::DayCopy;
use crate::screen::shell::drafts;
use crate::screen::shell::effect::{Effect, follow_history, perform};
use crate::screen::shell::keys::{Context, find};
use crate::screen::shell::model::Model;
use crate::screen::shell::own_keys::{self, OwnKeys};
use crate::screen::shell::scan::{self, Scan};
use crate::screen::shell::stillness::Stillness;
use crate::screen::shell::update::update;
use crate::screen::shell::view::view;
use crate::studio::{Answer, StoreError, Studio, StudioError, local};
use crate::tell::{self, Face};
use crate::trade::instant::Now;
use crate::trade::text::inert;
use chrono::TimeDelta;
use crossterm::event::KeyCode;
use ratatui::Terminal;
use ratatui::backend::Backend;
use std::io;
use std::time::Duration;

/// A clock that is put right by less is not worth a word.
const SET_BACK: TimeDelta = TimeDelta::minutes(1);

/// No one reads a question and answers it in less.
const UNREAD: Duration = Duration::from_millis(400);

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
    /// The terminal was another's meanwhile and shows nothing of ours.
    Redraw,
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
pub struct EventLoop<'a, S, B> {
    /// The studio.
    pub studio: Studio,
    /// The studio's clock.
    pub clock: &'a dyn Fn() -> Now,
    /// Where events come from.
    pub source: S,
    /// What rings.
    pub bell: B,
    /// Whether what is being built survives this screen.
    pub keeps_drafts: bool,
    /// How pictures are shown; as colours are where nothing is said.
    pub pictures: Option<Pictures>,
}

impl<S: Source, B: Bell> EventLoop<'_, S, B> {
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
        model.desk.terminal = self.pictures.unwrap_or(model.desk.terminal);
        self.begin_day(&mut model);
        if self.studio.barred().is_some() {
            self.say_barred(&mut model);
        }
        self.check_beside(&model);
        match self.studio.clock_oddity(&model.desk.beat.now) {
            Ok(None) => {}
            Ok(Some(odd)) => {
                let odd = tell::words(&odd, model.desk.measures(), &model.desk.beat.now);
                model.desk.say(Message::new(Tone::Odd, &odd));
            }
            Err(error) => self.trouble(&mut model, &error),
        }
        if let Some(fault) = own_keys::taken().and_then(OwnKeys::told) {
            model.desk.say(Message::new(Tone::Odd, &fault));
        }
        let mut kept = None;
        if self.keeps_drafts {
            kept = drafts::offer(&mut self.studio, &mut model);
        }
        // The first poll makes the reader hear of a resize from before it.
        let mut first = self.source.next(Duration::ZERO)?;
        let mut still = Stillness::default();
        still.heard(&model.desk.beat);
        while !model.leaving {
            self.tick(&mut model);
            let runs = model.context() == Context::Clock;
            if still.wants_picture(&model.desk.beat, runs) {
                draw(terminal, &mut model)?;
            }
            let mut event = match first.take() {
                Some(event) => Some(event),
                None => self.source.next(still.wait(&model.desk.beat, runs))?,
            };
            if event.is_some() {
                still.heard(&self.beat());
            }
            if self.keeps_drafts && event.is_none() {
                drafts::keep(&mut self.studio, &model, &mut kept);
            }
            for _ in 0..BURST {
                let Some(incoming) = event else { break };
                if incoming == Incoming::Redraw {
                    // What is thought to stand there is forgotten, so that all is drawn.
                    terminal.swap_buffers();
                    break;
                }
                first = self.hear(&mut model, incoming)?;
                if model.leaving || first.is_some() {
                    break;
                }
                event = self.source.next(Duration::ZERO)?;
            }
        }
        if self.keeps_drafts {
            drafts::keep(&mut self.studio, &model, &mut kept);
        }
        model.outgoing.finish(&mut model.desk);
        self.finish_copy(terminal, &mut model);
        Ok(())
    }

    /// Takes the day's copy: a small one at once, a large one beside the work.
    fn begin_day(&mut self, model: &mut Model) {
        let now = model.desk.beat.now;
        // One at a time is enough.
        if model.day_copy.is_some() {
            return;
        }
        match DayCopy::begin(&self.studio, &now) {
            Ok(None) => {
                let taken = self.studio.copy_of_the_day(&now, &|_, _| ());
                self.copied(model, taken.map(drop));
            }
            Ok(begun) => model.day_copy = begun,
            Err(error) => self.copied(model, Err(error)),
        }
    }

    /// Reads the whole file beside the work, unless the copy that is being taken of it is read whole already.
    fn check_beside(&mut self, model: &Model) {
        if model.day_copy.is_none() {
            self.studio.check_beside();
        }
    }

    /// What came of the day's copy. One that fails must not keep the painter out.
    fn copied(&mut self, model: &mut Model, taken: Answer<()>) {
        let Err(error) = taken else { return };
        self.studio.met(&error);
        let why = tell::words(&error, model.desk.measures(), &model.desk.beat.now);
        let said = format!("no copy was taken today: {why}");
        model.desk.refuse(&said);
    }

    /// Hears what became of a copy that is taken beside the work.
    fn hear_of_copy(&mut self, model: &mut Model) {
        if let Some(taken) = model.day_copy.as_ref().and_then(DayCopy::result) {
            model.day_copy = None;
            self.copied(model, taken);
        }
    }

    /// Waits for the copy: a painter who looks in for a moment each day has one of each day.
    fn finish_copy<T: Backend>(&mut self, terminal: &mut Terminal<T>, model: &mut Model)
    where
        T::Error: Send + Sync + 'static,
    {
        let Some(copy) = model.day_copy.take() else {
            return;
        };
        let words = "Leaving once today's copy is whole";
        model.desk.say(Message::new(Tone::Done, words));
        // A terminal that went away shows nothing, and the copy is taken all the same.
        drop(terminal.draw(|frame| view(model, frame)));
        let taken = copy.wait();
        self.copied(model, taken);
    }

    /// Why nothing may be written, and what to do about it.
    fn say_barred(&self, model: &mut Model) {
        let Some(why) = self.studio.barred() else {
            return;
        };
        let now = &model.desk.beat.now;
        let way_back = why.wants_a_copy().then(|| self.studio.way_back(now));
        let way_back = way_back.flatten();
        let hint = way_back.map(|way| tell::words(&way, model.desk.measures(), now));
        let hint = hint.unwrap_or_else(|| tell::store_hint(why, Face::Screen));
        let why = tell::words(why, model.desk.measures(), now);
        model.desk.refuse_once(&format!("read only: {why}; {hint}"));
    }

    /// Says what the store cannot do; of damage with the way back.
    fn trouble(&mut self, model: &mut Model, error: &StudioError) {
        self.studio.met(error);
        match error {
            StudioError::Store(StoreError::Damaged(_)) => self.say_barred(model),
            _ => model.desk.trouble(error),
        }
    }

    /// Takes the clock, looks whether another process wrote, reads again what is no longer so.
    fn tick(&mut self, model: &mut Model) {
        let was = std::mem::replace(&mut model.desk.beat, self.beat());
        let before = was.now.at;
        model.desk.fade();
        match self.studio.changed_elsewhere() {
            Ok(true) => {
                model.mark_stale();
                follow_history(&self.studio, model);
            }
            Ok(false) => {}
            Err(error) => self.trouble(model, &error),
        }
        if self.studio.found_damaged() {
            self.say_barred(model);
        }
        self.hear_of_copy(model);
        self.sense(model);
        let now = model.desk.beat.now.at;
        let day = |at| model.desk.beat.now.zone.tell(at).date_naive();
        if day(now) > day(before) {
            self.begin_day(model);
            self.check_beside(model);
        }
        let minute_over = now.timestamp().div_euclid(60) != before.timestamp().div_euclid(60);
        let turns = model.desk.known.turns_at().is_some_and(|at| at <= now);
        if minute_over || turns || now < before {
            model.desk.known.mark_cups_stale();
            model.bench.mark_stale();
            model.pour.mark_stale();
        }
        let passed = model.desk.beat.elapsed.saturating_sub(was.elapsed);
        let jumped = (now - before) - TimeDelta::from_std(passed).unwrap_or_default();
        if jumped < -SET_BACK
            && let Err(error) = self.studio.clock_set_back(jumped)
        {
            model.desk.trouble(&error);
        }
        if before - now > SET_BACK {
            let (was, is) = (
                local(before, &model.desk.beat.now),
                local(now, &model.desk.beat.now),
            );
            let odd =
                format!("the clock was set back from {was} to {is}: the order of entry holds");
            model.desk.say(Message::new(Tone::Odd, &odd));
        }
        // A deed that another program's lock kept waiting goes through when that ends.
        if let Some(effect) = model.waiting.take() {
            perform(&mut self.studio, model, effect);
        }
        self.refresh(model);
    }

    /// Takes what a sensor told of the room's air meanwhile; the dates of what dries follow it.
    fn sense(&mut self, model: &mut Model) {
        let now = model.desk.beat.now;
        let settings = model.desk.known.settings.as_ref();
        let Some(sensed) = settings.and_then(|settings| model.air.look(settings, &now)) else {
            return;
        };
        self.studio.sense(sensed.air, &now);
        model.rack.mark_stale();
        if let Some(why) = sensed.fault {
            let why = tell::words(&why, model.desk.measures(), &now);
            let said = format!("{why}; pours are without it until it is read again");
            model.desk.say(Message::new(Tone::Odd, &said));
        }
    }

    fn refresh(&mut self, model: &mut Model) {
        match reread(&self.studio, model) {
            Ok(turned) => self.announce(model, &turned),
            Err(error) => {
                self.trouble(model, &error);
            }
        }
        model.outgoing.poll(&mut model.desk);
        // What a thread of its own has read is kept here, where the studio is.
        let beside = |model: &mut Model| {
            let photos = model.photos.take_deed().map(Effect::Photos);
            // The demo is gone over to once nothing is in hand here.
            let free = model.over.is_none() && model.screen == Screen::Bench;
            photos.or_else(|| {
                free.then(|| model.bench.take_deed(&mut model.desk))?
                    .map(Effect::Bench)
            })
        };
        while let Some(effect) = beside(model) {
            perform(&mut self.studio, model, effect);
            if let Err(error) = reread(&self.studio, model) {
                return self.trouble(model, &error);
            }
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
        model.desk.say(Message::new(Tone::Done, &said));
        self.bell.ring(&said);
    }

    /// Takes what came in; what a code reader types is taken as a whole. Answers what came after it and is not taken yet.
    fn hear(&mut self, model: &mut Model, incoming: Incoming) -> io::Result<Option<Incoming>> {
        let mut scan = Scan::default();
        let mut next = Some(incoming);
        let awaited = scan::is_awaited(model);
        while let Some(Incoming::Key(key)) = next
            && awaited
            && scan.takes(key)
        {
            if scan.is_whole() {
                self.scanned(model, &scan.mark());
                return Ok(None);
            }
            next = self.source.next(scan::APART)?;
        }
        let keys = scan.keys();
        if keys.is_empty() {
            next.into_iter().for_each(|next| self.take(model, next));
            return Ok(None);
        }
        for key in keys {
            self.take(model, Incoming::Key(key));
        }
        Ok(next)
    }

    /// Goes to the line of a mark that was read from a lid: on the list that is open, else on the Bench.
    fn scanned(&mut self, model: &mut Model, mark: &str) {
        if scan::choose(model, mark) {
            return;
        }
        self.act(model, Action::Go(Screen::Bench));
        if !scan::choose(model, mark) {
            let words = format!("No living cup is marked {mark}");
            model.desk.refuse(&words);
        }
    }

    fn take(&mut self, model: &mut Model, incoming: Incoming) {
        match incoming {
            Incoming::Key(key) if self.repeats(model, key) || self.bounces(model, key) => {}
            Incoming::Key(key) => {
                let before = model.asks_twice();
                match meaning(model.context(), key) {
                    Some(action) => self.act(model, action),
                    None => nothing_for(model, key),
                }
                let asks = model.asks_twice();
                let anew = asks != before && asks.is_some();
                model.asked_by = anew.then(|| (key, self.source.elapsed()));
            }
            Incoming::Paste(text) if model.context() == Context::Form => {
                for c in text.chars() {
                    self.act(model, Action::Form(Edit::Insert(c)));
                }
            }
            Incoming::End => model.leaving = true,
            Incoming::Paste(_) | Incoming::Other | Incoming::Redraw => {}
        }
    }

    /// Whether a key that ends a step was held down, or bounced under a foot: it would skip the next one.
    fn repeats(&self, model: &mut Model, key: Key) -> bool {
        let now = self.source.elapsed();
        let before = model.pressed.replace((key, now));
        let goes_on = meaning(model.context(), key).is_some_and(Action::ends_a_step);
        let again = |(last, at): (Key, Duration)| last == key && now.saturating_sub(at) < UNREAD;
        goes_on && before.is_some_and(again)
    }

    /// Whether a key only bounced, or was pressed twice in haste: what it has just raised a question about was not read yet.
    fn bounces(&self, model: &Model, key: Key) -> bool {
        model.asked_by.is_some_and(|(asked_by, at)| {
            asked_by == key && self.source.elapsed().saturating_sub(at) < UNREAD
        })
    }

    fn act(&mut self, model: &mut Model, action: Action) {
        let beat = self.beat();
        model.waiting = None;
        for effect in update(model, action, beat) {
            perform(&mut self.studio, model, effect);
        }
        self.refresh(model);
    }
}

/// Draws what there is to see.
fn draw<T>(terminal: &mut Terminal<T>, model: &mut Model) -> io::Result<()>
where
    T: Backend,
    T::Error: Send + Sync + 'static,
{
    let drawn = terminal.draw(|frame| view(model, frame));
    let area = drawn.map_err(io::Error::other)?.area;
    let high = area.height;
    model.desk.size = (area.width, area.height);
    // The top line, the places, a line of air and two of keys are not the list's.
    model.desk.page_lines = usize::from(high).saturating_sub(6).max(1);
    if model.desk.graphics.leaves_pixels() {
        // Pixels are no cells: what is thought to stand there is forgotten, so that they go.
        terminal.backend_mut().clear().map_err(io::Error::other)?;
        terminal.swap_buffers();
        let drawn = terminal.draw(|frame| view(model, frame));
        drawn.map_err(io::Error::other)?;
        model.desk.graphics.leaves_pixels();
    }
    Ok(())
}

/// A letter or sign that does nothing says so: it was pressed for something. What was said before stands.
fn nothing_for(model: &mut Model, key: Key) {
    if let (KeyCode::Char(c), false) = (key.code, key.ctrl)
        && !c.is_whitespace()
        && model.desk.message.is_none()
    {
        let c = inert(&c.to_string()).into_owned();
        let words = format!("{c} does nothing here: ? shows the keys");
        model.desk.refuse(&words);
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
            code: KeyCode::Char(c),
            ctrl: false,
        } if context == Context::Seeking => Some(Action::Seek(Seek::Insert(c))),
        Key {
            code: KeyCode::Char('c'),
            ctrl: true,
        } => Some(Action::Quit),
        _ => None,
    })
}

/// Reads again what the open screen shows and the store no longer has so; answers which cups turned.
fn reread(studio: &Studio, model: &mut Model) -> Answer<Vec<Turned>> {
    let now = model.desk.beat.now;
    let turned = model.desk.known.reread(studio, &now)?;
    let (place, desk) = model.place_mut(model.screen);
    if place.is_stale() {
        place.reread(studio, desk)?;
    }
    if let Some(mark) = model.bench.take_gone_on() {
        model.desk.say_more(&format!("In hand now: {mark}"));
    }
    if model.photos.is_stale() {
        model.photos.reread(studio, &model.desk)?;
    }
    Ok(turned)
}
