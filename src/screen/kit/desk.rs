//! What all places share: the instant, the names known, what is said, and what one place wishes of another.

use crate::numbers::cells::Pixels;
use crate::screen::kit::beat::Beat;
use crate::screen::kit::form::Fault;
use crate::screen::kit::graphics::Graphics;
use crate::screen::kit::handover::Handover;
use crate::screen::kit::known::Known;
use crate::screen::kit::look::Look;
use crate::screen::kit::message::{Message, Tone};
use crate::screen::kit::picture::{self, Pictures};
use crate::screen::kit::refusal::words;
use crate::screen::kit::sheet::Sheet;
use crate::studio::StudioError;
use crate::studio::orders::{Bare, Given, Wrong};
use crate::tell::Told;
use crate::trade::amount::Measures;
use ratatui::Frame;
use ratatui::layout::Rect;
use std::collections::VecDeque;
use std::time::Duration;

/// How long a message stands that says why something was not done (our own choice).
const STANDS: Duration = Duration::from_secs(10);

/// How many messages are kept to be read again.
const KEPT: usize = 50;

/// What all places share. A place writes here what it says and wishes; the shell does the rest.
#[derive(Debug)]
pub struct Desk {
    /// The instant of the last action or tick.
    pub beat: Beat,
    /// How colours are shown.
    pub look: Look,
    /// How this terminal shows pictures.
    pub terminal: Pictures,
    /// Pictures in the terminal's own pixels.
    pub graphics: Graphics,
    /// How many lines of a list or a page are in sight.
    pub page_lines: usize,
    /// How many cells the screen is wide and high.
    pub size: (u16, u16),
    /// Names, settings and living cups.
    pub known: Known,
    /// What was said last and not read yet.
    pub message: Option<Message>,
    /// When it was said, by the clock that never jumps.
    said_at: Duration,
    /// What was said, the newest last.
    pub said: VecDeque<Message>,
    /// A page that a place wishes to be shown.
    page: Option<Sheet>,
    /// What a place wishes of another.
    handed: Vec<Handover>,
}

impl Desk {
    /// A desk with nothing read yet.
    pub fn new(beat: Beat, look: Look) -> Self {
        Self {
            beat,
            look,
            terminal: Pictures::told(look, None, |_| None),
            graphics: Graphics::default(),
            page_lines: 10,
            size: (80, 24),
            known: Known::default(),
            message: None,
            said_at: Duration::ZERO,
            said: VecDeque::new(),
            page: None,
            handed: Vec::new(),
        }
    }

    /// How pictures are shown: as the terminal can, and as the studio's setting has it.
    pub fn pictures(&self) -> Pictures {
        let settings = self.known.settings.as_ref();
        self.terminal
            .set(settings.and_then(|one| one.pictures.as_deref()))
    }

    /// Draws a picture as it is shown here, as large as an area lets it be.
    pub fn draw(&self, picture: &Pixels, area: Rect, frame: &mut Frame<'_>) {
        let (area, buffer) = (picture::fitted(picture, area), frame.buffer_mut());
        let pictures = self.pictures();
        if let Pictures::Pixels(kind, cell) = pictures
            && self.graphics.draw(picture, kind, cell, area, buffer)
        {
            return;
        }
        let small = picture::for_area(picture, area);
        picture::draw(&small, pictures.blocks(), area, buffer);
    }

    /// Metric or US customary.
    pub fn measures(&self) -> Measures {
        self.known.measures()
    }

    /// What texts are read by: a number alone in a form is in the studio's own unit.
    pub const fn given(&self) -> Given<'_> {
        Given {
            known: &self.known.names,
            now: &self.beat.now,
            bare: Bare::InMeasures,
        }
    }

    /// A fact in words.
    pub fn words(&self, fact: &impl Told) -> String {
        fact.told(self.measures(), &self.beat.now)
    }

    /// What is wrong in a field, with what to type instead.
    pub fn fault(&self, wrong: Wrong) -> Fault {
        let field = wrong.field;
        Fault::of(field, words(&wrong.into(), self.measures(), &self.beat.now))
    }

    /// Says something; it stays until the next key that does something.
    pub fn say(&mut self, message: Message) {
        self.said_at = self.beat.elapsed;
        self.said.push_back(message.clone());
        if self.said.len() > KEPT {
            self.said.pop_front();
        }
        self.message = Some(message);
    }

    /// Says something more of what was just said.
    pub fn say_more(&mut self, words: &str) {
        let said = self.message.take();
        let Some(Message {
            words: before,
            tone,
        }) = said
        else {
            return self.say(Message::new(Tone::Done, words));
        };
        self.said.pop_back();
        self.say(Message::new(tone, &format!("{before}. {words}")));
    }

    /// Says why something was not done.
    pub fn refuse(&mut self, words: &str) {
        self.say(Message::new(Tone::Refused, words));
    }

    /// Says what the store cannot do; one that fails tick after tick is told of once.
    pub fn trouble(&mut self, error: &StudioError) {
        self.refuse_once(&words(error, self.measures(), &self.beat.now));
    }

    /// Refuses in words that may stand there already.
    pub fn refuse_once(&mut self, words: &str) {
        let standing = self.message.as_ref().map(|message| &*message.words);
        if standing != Some(words) {
            self.refuse(words);
        }
    }

    /// What was not done is an answer to the key before and ends by itself; what was done may have to be read with
    /// hands that are full, and stays.
    pub fn fade(&mut self) {
        let refused = |message: &Message| message.tone == Tone::Refused;
        let stood = self.beat.elapsed.saturating_sub(self.said_at);
        if stood >= STANDS && self.message.as_ref().is_some_and(refused) {
            self.message = None;
        }
    }

    /// Wishes that a page be shown.
    pub fn show(&mut self, page: Sheet) {
        self.page = Some(page);
    }

    /// The page that is to be shown, once.
    pub const fn take_page(&mut self) -> Option<Sheet> {
        self.page.take()
    }

    /// Wishes something of another place.
    pub fn hand(&mut self, wish: Handover) {
        self.handed.push(wish);
    }

    /// What is wished of other places, once.
    pub fn take_handed(&mut self) -> Vec<Handover> {
        std::mem::take(&mut self.handed)
    }
}
