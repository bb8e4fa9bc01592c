//! The photos of one pour while they are looked at: which is chosen, what was read of each, what is being done.

use super::corners::InHand;
use super::work::{Addition, Counted, Done, Job, Kept, Ready, Shown, Work};
use super::{Ask, Deed, Wish};
use crate::screen::kit::desk::Desk;
use crate::screen::kit::later::Ended;
use crate::screen::kit::list::Chosen;
use crate::screen::kit::place::Next;
use crate::screen::kit::step::Step;
use crate::studio::{Answer, Corners, PhotoOrder, PhotoPage, Refusal, Studio};
use crate::trade::panel::Panel;
use std::collections::{BTreeMap, VecDeque};
use std::path::PathBuf;

/// As many photos are held ready to be shown: each takes some megabytes.
const HELD: usize = 8;

/// What was read of a photo.
#[derive(Debug, Default)]
pub struct Seen {
    /// As it is shown.
    pub shown: Option<Shown>,
    /// What was counted in it.
    pub counted: Option<Counted>,
    /// Why it cannot be shown or counted.
    pub trouble: Option<Refusal>,
}

/// The photos of one pour.
#[derive(Debug, Default)]
pub struct Open {
    /// The pour.
    pub pour: i64,
    /// Its panel.
    pub panel: Option<Panel>,
    /// Its photos, in the order they were taken.
    pub pages: Vec<PhotoPage>,
    /// The best picture of the same variants on another pour.
    pub best: Option<PhotoPage>,
    /// Whether cells are outlined.
    pub outlined: bool,
    /// The photo beside the chosen one.
    pub beside: Option<i64>,
    /// Corners that are moved.
    pub corners: Option<InHand>,
    /// What was just measured in the photo of a number, and is to be kept or refused.
    pub measured: Option<(i64, Box<Counted>)>,
    /// What is to be done by the shell.
    pub deeds: VecDeque<Deed>,
    chosen: Chosen,
    seen: BTreeMap<i64, Seen>,
    work: Option<Work>,
    jobs: VecDeque<Job>,
    /// Photos to be measured anew, with these corners.
    anew: VecDeque<(i64, Corners)>,
    /// Whether the best picture was looked for.
    compared: bool,
}

impl Open {
    /// The photos of a pour, nothing read yet.
    pub fn of(pour: i64) -> Self {
        Self {
            pour,
            outlined: true,
            ..Self::default()
        }
    }

    /// The chosen photo.
    pub fn chosen(&self) -> Option<&PhotoPage> {
        self.pages.get(self.chosen.at())
    }

    /// Its place.
    pub const fn place(&self) -> usize {
        self.chosen.at()
    }

    /// The photo beside it.
    pub fn other(&self) -> Option<&PhotoPage> {
        let wanted = self.beside?;
        let mut all = self.pages.iter().chain(&self.best);
        all.find(|page| page.photo.id == wanted)
    }

    /// What was read of a photo.
    pub fn seen(&self, photo: i64) -> Option<&Seen> {
        self.seen.get(&photo)
    }

    /// What is being done, in words.
    pub fn doing(&self) -> Option<&str> {
        self.work.as_ref().map(|work| work.words.as_str())
    }

    /// Whether something is being done, or is still to be.
    pub fn is_waiting(&self) -> bool {
        let queued = !self.jobs.is_empty() || !self.anew.is_empty();
        self.work.is_some() || queued || self.wanted().is_some()
    }

    /// Reads again which photos there are.
    pub fn reread(&mut self, studio: &Studio) -> Answer<()> {
        self.panel = Some(studio.pour_page(self.pour)?.pour.panel);
        self.pages = studio.photos(Some(self.pour))?;
        if !std::mem::replace(&mut self.compared, true) {
            self.best = studio.best_beside(self.pour)?;
        }
        self.chosen
            .find(self.pages.iter().map(|page| page.photo.id));
        if self.other().is_none() {
            self.beside = None;
        }
        Ok(())
    }

    /// Takes what was done meanwhile, and begins what is to be done next.
    pub fn poll(&mut self, studio: &Studio, desk: &Desk) {
        match self.work.as_ref().map(Work::result) {
            Some(Ok(None)) => return,
            Some(Ok(Some(done))) => self.take(done),
            Some(Err(Ended)) => self.deeds.push_back(Deed::Ended),
            None => {}
        }
        self.work = None;
        let next = self.jobs.pop_front();
        let next = next.or_else(|| self.next_anew(studio, desk));
        let next = next.or_else(|| self.next_wanted(studio, desk));
        self.work = next.and_then(Work::begin);
    }

    fn next_anew(&mut self, studio: &Studio, desk: &Desk) -> Option<Job> {
        let (photo, corners) = self.anew.pop_front()?;
        let page = self.pages.iter().find(|page| page.photo.id == photo)?;
        Some(Job::Measure {
            kept: kept(studio, desk, page)?,
            corners,
            proposed: true,
        })
    }

    fn next_wanted(&self, studio: &Studio, desk: &Desk) -> Option<Job> {
        let (page, measures) = self.wanted()?;
        let kept = kept(studio, desk, page)?;
        Some(match measures {
            // Where it was measured before, the panel is known.
            true => Job::Measure {
                kept,
                corners: page.corners(),
                proposed: false,
            },
            false => Job::Look(kept),
        })
    }

    /// The next photo that is to be shown and was not read yet, or not counted.
    fn wanted(&self) -> Option<(&PhotoPage, bool)> {
        let pages = self.chosen().into_iter().chain(self.other());
        pages.into_iter().find_map(|page| {
            let seen = self.seen.get(&page.photo.id);
            if seen.is_some_and(|seen| seen.trouble.is_some()) {
                return None;
            }
            match seen {
                Some(Seen {
                    shown: Some(_),
                    counted,
                    ..
                }) => (counted.is_none() && !page.measured.is_empty()).then_some((page, true)),
                _ => Some((page, false)),
            }
        })
    }

    fn take(&mut self, done: Done) {
        match done {
            Done::Looked(photo, Ok(shown)) => self.at(photo).shown = Some(shown),
            Done::Measured(photo, Ok(counted), true) => {
                self.outlined = true;
                self.measured = Some((photo, counted));
            }
            Done::Measured(photo, Ok(counted), false) => self.at(photo).counted = Some(*counted),
            Done::Looked(photo, Err(why)) | Done::Measured(photo, Err(why), false) => {
                self.at(photo).trouble = Some(why);
            }
            Done::Added(Ok(ready)) => self.deeds.push_back(Deed::Keep(ready)),
            Done::Added(Err(why)) | Done::Measured(_, Err(why), true) => {
                self.deeds.push_back(Deed::Refused(Box::new(why)));
            }
        }
    }

    /// What is known of a photo; of those that are not shown only so many are held.
    fn at(&mut self, photo: i64) -> &mut Seen {
        let kept = [
            self.chosen().map(|page| page.photo.id),
            self.beside,
            Some(photo),
        ];
        while self.seen.len() >= HELD && !self.seen.contains_key(&photo) {
            let mut all = self.seen.keys().copied();
            let Some(other) = all.find(|one| !kept.contains(&Some(*one))) else {
                break;
            };
            self.seen.remove(&other);
        }
        self.seen.entry(photo).or_default()
    }

    /// Another photo.
    pub fn step(&mut self, step: Step) {
        self.chosen.step(step, self.pages.len());
        let number = self.chosen().map(|page| page.photo.id);
        self.chosen.hold(number);
        self.measured = None;
    }

    /// The corner in hand moves.
    pub fn go(&mut self, right: f64, down: f64) {
        if let Some(hand) = &mut self.corners {
            hand.go(right, down);
        }
    }

    /// A file is to be read, measured and kept.
    pub fn add(&mut self, path: PathBuf, order: PhotoOrder, desk: &Desk) {
        let Some(panel) = self.panel else { return };
        self.jobs.push_back(Job::Add(Box::new(Addition {
            pour: self.pour,
            panel,
            path,
            order,
            now: desk.beat.now,
        })));
    }

    /// A file that was read is kept now: it need not be read again to be shown.
    pub fn take_kept(&mut self, photo: i64, ready: &Ready) {
        let seen = self.at(photo);
        seen.shown = Some(ready.shown.clone());
        seen.counted = ready.counted.as_ref().ok().cloned();
        self.chosen.hold(Some(photo));
    }

    /// Takes a wish about the chosen photo.
    pub fn update(&mut self, wish: Wish, desk: &mut Desk) -> Option<Next<Ask, Deed>> {
        let Some(page) = self.chosen().cloned() else {
            desk.refuse("There is no photo here yet: a adds one");
            return None;
        };
        let photo = page.photo.id;
        match wish {
            Wish::Before => self.step(Step::Up),
            Wish::After => self.step(Step::Down),
            Wish::Overlay => self.outlined = !self.outlined,
            Wish::Beside => self.turn_beside(desk),
            Wish::Corners => self.take_corners(&page, desk),
            Wish::NextCorner => self.corners.iter_mut().for_each(InHand::next),
            Wish::Fine => self
                .corners
                .iter_mut()
                .for_each(|hand| hand.fine = !hand.fine),
            Wish::LeaveCorners => self.corners = None,
            Wish::Measure => {
                let corners = self.corners.take().map(|hand| Corners::Given(hand.points));
                let corners = corners.unwrap_or_default();
                self.anew.push_back((photo, corners));
            }
            Wish::Remeasure => self.anew.push_back((photo, Corners::Sought)),
            Wish::Drop => return Some(Next::Do(Deed::Drop(photo))),
            Wish::Keep => return self.keep(desk).map(Next::Do),
            Wish::Refuse if self.measured.is_some() => self.measured = None,
            Wish::Refuse => return Some(Next::Do(Deed::Refuse(photo))),
            Wish::Add | Wish::Away | Wish::Move(..) => {}
        }
        None
    }

    fn keep(&mut self, desk: &mut Desk) -> Option<Deed> {
        let Some((photo, counted)) = self.measured.take() else {
            desk.refuse("Nothing was just measured: what stands here is kept already");
            return None;
        };
        let row = Box::new(counted.row.clone());
        self.at(photo).counted = Some(*counted);
        Some(Deed::Measured(photo, row))
    }

    fn take_corners(&mut self, page: &PhotoPage, desk: &mut Desk) {
        let photo = page.photo.id;
        let size = self.seen(photo).and_then(|seen| seen.shown.as_ref());
        let Some(size) = size.map(|shown| shown.size) else {
            return desk.refuse("It is not read yet: wait until it is shown");
        };
        self.measured = None;
        self.beside = None;
        self.corners = Some(InHand::begin(photo, size, page.corners()));
    }

    /// The next photo beside the chosen one: the others of this pour, the variant's best, none.
    fn turn_beside(&mut self, desk: &mut Desk) {
        let chosen = self.chosen().map(|page| page.photo.id);
        let all = self
            .pages
            .iter()
            .chain(&self.best)
            .map(|page| page.photo.id);
        let others: Vec<i64> = all.filter(|one| Some(*one) != chosen).collect();
        if others.is_empty() {
            return desk.refuse("There is no other photo: of this pour, or of its variants");
        }
        let at = others.iter().position(|one| Some(*one) == self.beside);
        self.beside = others.get(at.map_or(0, |at| at + 1)).copied();
    }
}

/// A kept photo as the work takes it; none where its pour is gone meanwhile.
fn kept(studio: &Studio, desk: &Desk, page: &PhotoPage) -> Option<Kept> {
    Some(Kept {
        path: studio.original_path(&page.photo),
        panel: studio.pour_page(page.photo.pour).ok()?.pour.panel,
        photo: page.photo.clone(),
        now: desk.beat.now,
    })
}
