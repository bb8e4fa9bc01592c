//! The photos of a pour: added by their path, looked at, their cells outlined, their corners moved; two beside each other.
//!
//! It lies over whatever place the pour was chosen in. A photo is read and measured on a thread of its own
//! ([`work`]); what comes of it is kept as a deed.

mod corners;
mod figures;
mod forms;
mod open;
mod view;
mod words;
mod work;

use crate::screen::kit::desk::Desk;
use crate::screen::kit::form::{Fault, Form};
use crate::screen::kit::keys::{Binding, bind, char, code};
use crate::screen::kit::place::{Hands, Next, Outcome};
use crate::screen::kit::step::Step;
use crate::studio::orders::PhotoField;
use crate::studio::{Answer, Refusal, Studio};
use crate::tell::{self, Face};
use crate::trade::photo::Measurement;
use crossterm::event::KeyCode;
use open::Open;
use ratatui::Frame;
use ratatui::layout::Rect;
use work::Ready;

/// The photos of a pour, while they are looked at.
#[derive(Debug, Default)]
pub struct Photos {
    open: Option<Open>,
    /// Whether it is as the store has it.
    current: bool,
    /// The path that was typed last: the next photo lies beside it.
    typed: String,
}

/// What a key wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// A photo is added.
    Add,
    /// The photo before.
    Before,
    /// The photo after.
    After,
    /// The photo, or its cells outlined.
    Overlay,
    /// Another photo beside it.
    Beside,
    /// Its corners are moved.
    Corners,
    /// It is measured anew, its corners looked for.
    Remeasure,
    /// What was just measured is kept.
    Keep,
    /// What was measured is refused.
    Refuse,
    /// The photo is dropped.
    Drop,
    /// Back to the place beneath.
    Away,
    /// The next corner.
    NextCorner,
    /// The corner goes so far right and down.
    Move(i8, i8),
    /// Small steps, or large ones.
    Fine,
    /// Measured with the corners as they are.
    Measure,
    /// The corners are left as they were.
    LeaveCorners,
}

/// The form in which a photo of a pour is named.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ask(i64);

/// What is done with photos.
#[derive(Debug, Clone)]
pub enum Deed {
    /// A file that was read is kept.
    Keep(Box<Ready>),
    /// What was measured in the photo of the number is kept.
    Measured(i64, Box<Measurement>),
    /// What was measured last in the photo of the number is refused.
    Refuse(i64),
    /// The photo of the number is dropped.
    Drop(i64),
    /// Something is refused, for this reason.
    Refused(Box<Refusal>),
    /// What was worked on came to no end.
    Ended,
}

/// Where its keys are pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mode {
    /// Photos are looked at.
    Looking,
    /// Corners are moved.
    Corners,
}

impl Photos {
    /// Opens the photos of a pour.
    pub fn open(&mut self, pour: i64) {
        self.open = Some(Open::of(pour));
        self.current = false;
    }

    /// Leaves them; what is being read is thrown away.
    pub fn close(&mut self) {
        self.open = None;
    }

    /// The pour whose photos are open.
    pub fn pour(&self) -> Option<i64> {
        self.open.as_ref().map(|open| open.pour)
    }

    /// Whether they are open.
    pub const fn is_open(&self) -> bool {
        self.open.is_some()
    }

    /// Whether the pour that is open has no photo yet.
    pub fn is_bare(&self) -> bool {
        self.open.as_ref().is_some_and(|open| open.pages.is_empty())
    }

    /// Where its keys are pressed; none where it is not open.
    pub fn mode(&self) -> Option<Mode> {
        let open = self.open.as_ref()?;
        Some(match open.corners {
            Some(_) => Mode::Corners,
            None => Mode::Looking,
        })
    }

    /// What it shows may have changed in the store.
    pub const fn mark_stale(&mut self) {
        self.current = false;
    }

    /// Whether it must be read again, or something may have come of what is being done.
    pub fn is_stale(&self) -> bool {
        self.open
            .as_ref()
            .is_some_and(|open| !self.current || open.is_waiting())
    }

    /// Reads again what it shows, and looks for what was done meanwhile.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn reread(&mut self, studio: &Studio, desk: &Desk) -> Answer<()> {
        let Some(open) = &mut self.open else {
            return Ok(());
        };
        if !self.current {
            open.reread(studio)?;
            self.current = true;
        }
        open.poll(studio, desk);
        Ok(())
    }

    /// A deed that came of what was done meanwhile.
    pub fn take_deed(&mut self) -> Option<Deed> {
        self.open.as_mut()?.deeds.pop_front()
    }

    /// Another photo.
    pub fn step(&mut self, step: Step) {
        if let Some(open) = &mut self.open {
            open.step(step);
        }
    }

    /// What the hands must do next; none where it is not open.
    pub fn headline(&self) -> Option<String> {
        self.open.as_ref().map(words::headline)
    }

    /// Draws it; changes nothing.
    pub fn view(&self, desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
        if let Some(open) = &self.open {
            view::view(open, desk, frame, area);
        }
    }
}

impl Hands for Photos {
    type Wish = Wish;
    type Ask = Ask;
    type Deed = Deed;

    fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        if wish == Wish::Away {
            self.close();
            return None;
        }
        let open = self.open.as_mut()?;
        match wish {
            Wish::Add => {
                let form = forms::add(open.pour, &self.typed, desk);
                return Next::ask(Ask(open.pour), form);
            }
            Wish::Move(right, down) => open.go(f64::from(right), f64::from(down)),
            other => return open.update(other, desk),
        }
        None
    }

    fn changed(&self, _: &Ask, form: &mut Form, desk: &Desk) -> Option<Deed> {
        forms::follow(form, desk);
        None
    }

    fn keep(&mut self, ask: &Ask, form: &Form, desk: &mut Desk) -> Result<Option<Deed>, Fault> {
        let (path, order) = forms::read(form, desk)?;
        form.value(PhotoField::File).clone_into(&mut self.typed);
        if let Some(open) = self.open.as_mut().filter(|open| open.pour == ask.0) {
            open.add(path, order, desk);
        }
        Ok(None)
    }

    fn perform(&mut self, studio: &mut Studio, deed: Deed, desk: &mut Desk) -> Answer<Outcome> {
        let now = desk.beat.now;
        let words = match deed {
            Deed::Refused(why) => return Err((*why).into()),
            Deed::Ended => {
                desk.refuse("A photo could not be worked on to the end");
                return Ok(Outcome::default());
            }
            Deed::Keep(ready) => return self.keep_ready(studio, &ready, desk),
            Deed::Measured(photo, found) => {
                let told = tell::photos::brief(&found, desk.measures());
                studio.keep_measurement(photo, *found, &now)?;
                format!("Photo {photo}: {told}")
            }
            Deed::Refuse(photo) => {
                let left = studio.refuse_measurement(photo, &now)?;
                tell::photo_refused(&left)
            }
            Deed::Drop(photo) => {
                studio.drop_photo(photo, &now)?;
                tell::photo_dropped(photo, Face::Screen)
            }
        };
        if let Some(open) = &mut self.open {
            open.measured = None;
        }
        Ok(Outcome::wrote(words))
    }
}

impl Photos {
    fn keep_ready(&mut self, studio: &mut Studio, ready: &Ready, desk: &Desk) -> Answer<Outcome> {
        let pour = ready.asked.pour;
        let row = ready.counted.as_ref().map(|counted| counted.row.clone());
        let row = row.map_err(|why| *why);
        let order = &ready.asked.order;
        let kept = studio.keep_measured(pour, &ready.new_photo(), order, row, &desk.beat.now)?;
        let photo = kept.page.photo.id;
        if let Some(open) = self.open.as_mut().filter(|open| open.pour == pour) {
            open.take_kept(photo, ready);
        }
        Ok(Outcome::wrote(words::kept(photo, pour, ready, desk)))
    }
}

/// Its keys.
pub const KEYS: &[Binding<Wish>] = &[
    bind(
        &[char('a')],
        Wish::Add,
        "add",
        "Add a photo: its path, or one of the folder of new photos, the newest first",
    )
    .anyway(),
    bind(
        &[char('o')],
        Wish::Overlay,
        "outlines",
        "The photo, or its panel straightened with each counted cell outlined",
    ),
    bind(
        &[char('k')],
        Wish::Keep,
        "keep",
        "Keep what was just measured",
    ),
    bind(
        &[char('x')],
        Wish::Refuse,
        "refuse",
        "Refuse what was measured: it counts no more",
    ),
    bind(
        &[char('c')],
        Wish::Corners,
        "corners",
        "Move the panel's corners with the arrow keys",
    ),
    bind(
        &[char('m')],
        Wish::Remeasure,
        "measure",
        "Measure it anew, its corners looked for",
    ),
    bind(
        &[char('b')],
        Wish::Beside,
        "beside",
        "Another photo beside it: of this pour, then the variant's best picture",
    ),
    bind(
        &[code(KeyCode::Left)],
        Wish::Before,
        "",
        "The photo taken before",
    ),
    bind(
        &[code(KeyCode::Right)],
        Wish::After,
        "",
        "The photo taken after",
    ),
    bind(
        &[char('D')],
        Wish::Drop,
        "drop",
        "Drop the photo; undo brings it back",
    ),
    bind(
        &[code(KeyCode::Esc), code(KeyCode::Enter)],
        Wish::Away,
        "back",
        "Back to the pictures",
    )
    .anyway(),
];

/// Its keys while corners are moved.
pub const CORNERS: &[Binding<Wish>] = &[
    bind(
        &[code(KeyCode::Left)],
        Wish::Move(-1, 0),
        "move",
        "To the left",
    ),
    bind(
        &[code(KeyCode::Right)],
        Wish::Move(1, 0),
        "",
        "To the right",
    ),
    bind(&[code(KeyCode::Up)], Wish::Move(0, -1), "", "Up"),
    bind(&[code(KeyCode::Down)], Wish::Move(0, 1), "", "Down"),
    bind(
        &[code(KeyCode::Tab)],
        Wish::NextCorner,
        "next corner",
        "The next corner, clockwise",
    ),
    bind(
        &[char('f')],
        Wish::Fine,
        "fine",
        "Small steps, or large ones again",
    ),
    bind(
        &[code(KeyCode::Enter)],
        Wish::Measure,
        "measure",
        "Measure with these corners; k keeps what comes of it",
    ),
    bind(
        &[code(KeyCode::Esc)],
        Wish::LeaveCorners,
        "as they were",
        "Leave the corners as they were",
    ),
];
