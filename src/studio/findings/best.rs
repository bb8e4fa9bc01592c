//! The best settings: a smooth surface over what can be set, fitted to the studio's pours, and what to set next.

use crate::numbers::statistics::findings::{Factor, FactorValue, LEAST_ROWS, Observation};
use crate::numbers::statistics::gaussian_process::{Guess, Samples, Surface};
use crate::numbers::statistics::improvement::advised;
use crate::studio::findings::factors;
use crate::studio::findings::logged::Logged;
use crate::studio::{Answer, LookedBack, PourPage, Studio};
use crate::trade::instant::Now;
use crate::trade::units::Millimetres;
use std::ops::RangeInclusive;

/// A setting missing on more than one pour in this many is left out.
const GAPS: usize = 5;
/// Advised settings may lie so far beyond what was tried, as a share of its range.
const BEYOND: f64 = 0.05;
/// A setting whose length is more than so many of its ranges does not bend the surface: it is left as it is.
const FLAT: f64 = 3.0;
/// A curve of fewer cells between its best and its poorest matters little to any painter (ours).
const LEAST_SWING: f64 = 0.3;
/// Skill over this by the root of the number of pours is more than chance and drift reach: ours, set on simulated studios
/// where no setting matters, of which rows of `benches/truth` hold it.
const CHANCE: f64 = 1.5;
/// And over this by their number: of few pours a season or one jump takes so much more. Set on the same studios.
const FEW: f64 = 12.0;
/// Points of a curve.
const POINTS: usize = 21;
/// Ends of the 80 % band, in standard deviations.
const Z80: f64 = 1.281_551_565_545;
/// Pours less than so many hours apart are one session.
const SESSION_HOURS: f64 = 6.0;
/// The most pours the surface is fitted to, the newest: its cost grows with their cube.
const MOST: usize = 400;

/// What the surface says.
#[derive(Debug, Clone, PartialEq)]
pub struct BestSettings {
    /// The pours it rests on.
    pub pours: usize,
    /// How much of what time leaves between pours it tells of sessions it has not seen: 1 all, 0 or less nothing.
    pub skill: f64,
    /// The skill that chance alone may reach.
    pub chance: f64,
    /// Each setting's curve, those that bend the surface most first.
    pub curves: Vec<Curve>,
    /// What to set next; none where the settings explain nothing yet.
    pub advice: Option<SettingsAdvice>,
}

/// One setting's curve, the others held at the studio's middle.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// The setting.
    pub setting: Logged,
    /// Whether it bends the surface.
    pub matters: bool,
    /// Its values from the least to the most tried, with the cells expected there and the 80 % band.
    pub points: Vec<CurvePoint>,
}

/// A point of a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurvePoint {
    /// The setting.
    pub at: f64,
    /// The cells expected.
    pub mid: f64,
    /// The lower end of the 80 % band of the mean.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

/// What to set next.
#[derive(Debug, Clone, PartialEq)]
pub struct SettingsAdvice {
    /// The settings that matter.
    pub settings: Vec<Advised>,
    /// The cells to expect of one pour, and the 80 % band.
    pub expect: CurvePoint,
    /// The most cells expected of what was poured so far.
    pub best_so_far: f64,
}

impl SettingsAdvice {
    /// The wet film, where it is among what is advised.
    #[must_use]
    pub fn film(&self) -> Option<Millimetres> {
        let mut settings = self.settings.iter();
        let film = settings.find(|one| one.setting == Logged::Film)?;
        Some(Millimetres(film.value))
    }
}

/// One setting advised.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Advised {
    /// The setting.
    pub setting: Logged,
    /// Its value.
    pub value: f64,
    /// The least step that its instrument shows.
    pub step: f64,
    /// Whether it lies beyond what was tried.
    pub beyond: bool,
}

/// Why there is no surface yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoSurface {
    /// So many judged pours, of the number that is needed.
    Pours(usize, usize),
    /// No setting is written down on most pours and differs between them.
    Settings,
    /// Every pour has the same cells.
    Alike,
}

impl BestSettings {
    /// Whether the settings explain more than chance would.
    #[must_use]
    pub fn knows(&self) -> bool {
        self.skill > self.chance
    }
}

/// A setting with its values: scaled 0 to 1 over what was tried, the middle where it was not written down.
struct Setting {
    of: Logged,
    /// The least step that its instrument shows.
    step: f64,
    low: f64,
    high: f64,
    middle: f64,
    values: Vec<f64>,
}

/// What was set for each pour of a window, and what came of it: all that the surface is fitted to.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    /// What is known of a pour.
    pub factors: Vec<Factor>,
    /// Which of those that every pour may have each of them is; none of a material's share.
    pub logged: Vec<Option<Logged>>,
    /// The pours, newest first.
    pub rows: Vec<Observation>,
    /// When each of them was, in hours.
    pub hours: Vec<f64>,
}

impl Tried {
    /// The best settings by them; `watch` is told how many surfaces were tried so far.
    ///
    /// # Errors
    /// Why there is no surface yet.
    pub fn best(&self, watch: &dyn Fn(usize)) -> Result<BestSettings, NoSurface> {
        best(self, watch)
    }
}

impl Studio {
    /// The best settings by the pours of a window; or why there is no surface yet.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn best_settings(
        &self,
        back: &LookedBack,
        now: &Now,
    ) -> Answer<Result<BestSettings, NoSurface>> {
        let tried = self.settings_tried(back, now)?;
        Ok(tried.and_then(|tried| tried.best(&|_| {})))
    }

    /// What the best settings are told by; or why there is too little.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn settings_tried(&self, back: &LookedBack, now: &Now) -> Answer<Result<Tried, NoSurface>> {
        let judged = &back.judged[..back.judged.len().min(MOST)];
        if judged.len() < LEAST_ROWS {
            return Ok(Err(NoSurface::Pours(judged.len(), LEAST_ROWS)));
        }
        let read = self.book.read()?;
        let known = factors::table(&read, judged, back.found.bar, now)?;
        Ok(Ok(Tried {
            hours: judged.iter().map(|(page, _)| hour(page)).collect(),
            factors: known.factors,
            logged: known.logged,
            rows: known.rows,
        }))
    }
}

/// When a pour was, in hours.
fn hour(page: &PourPage) -> f64 {
    page.pour.at.timestamp_millis() as f64 / 3_600_000.0
}

/// When each pour was, 0 for the first and 1 for the last; nothing where all were at once.
fn times(hours: &[f64]) -> Vec<f64> {
    let first = hours.iter().copied().fold(f64::INFINITY, f64::min);
    let last = hours.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let share = |hour: &f64| (hour - first) / (last - first);
    match last > first {
        true => hours.iter().map(share).collect(),
        false => Vec::new(),
    }
}

/// The skill that chance and drift may reach with so many pours.
fn chance(pours: usize) -> f64 {
    let pours = pours as f64;
    (CHANCE / pours.sqrt()).max(FEW / pours)
}

/// The number of each pour's session; the pours newest first.
fn sessions(hours: &[f64]) -> Vec<usize> {
    let mut session = 0;
    let mut before: Option<f64> = None;
    let each = hours.iter().map(|&hour| {
        session += usize::from(before.is_some_and(|before| before - hour > SESSION_HOURS));
        before = Some(hour);
        session
    });
    each.collect()
}

fn best(tried: &Tried, watch: &dyn Fn(usize)) -> Result<BestSettings, NoSurface> {
    let (settings, rows) = (settings(tried), &tried.rows);
    if settings.is_empty() {
        return Err(NoSurface::Settings);
    }
    let samples = Samples {
        x: (0..rows.len())
            .map(|row| settings.iter().map(|one| one.values[row]).collect())
            .collect(),
        y: rows.iter().map(|row| f64::from(row.cells)).collect(),
        times: times(&tried.hours),
        sessions: sessions(&tried.hours),
    };
    let surface = Surface::fit_watched(&samples, watch).ok_or(NoSurface::Alike)?;
    let time =
        Surface::fit_watched(&samples.without_settings(), &|_| {}).ok_or(NoSurface::Alike)?;
    let found = BestSettings {
        pours: rows.len(),
        skill: surface.skill_beside(&time),
        chance: chance(rows.len()),
        curves: Vec::new(),
        advice: None,
    };
    let knows = found.knows();
    let promise = Promise::of(&surface, &found);
    let bends: Vec<bool> = (0..settings.len())
        .map(|at| bends(&settings, &surface, at))
        .collect();
    let advises = knows && bends.contains(&true);
    Ok(BestSettings {
        // Where the settings together explain nothing, none of them is said to matter.
        curves: curves(&settings, &promise, |at| knows && bends[at]),
        advice: advises.then(|| advise(&settings, &promise, &samples, &bends)),
        ..found
    })
}

/// A surface as it is told. What looks best has luck in it, the more so the nearer the skill is to what chance may reach:
/// what is promised is drawn back towards the mean of all pours (ours, as one shrinks a mean: James and Stein 1961; measured
/// in `benches/truth`).
struct Promise<'a> {
    surface: &'a Surface,
    /// The part of a difference from that mean that is told.
    sure: f64,
}

impl<'a> Promise<'a> {
    fn of(surface: &'a Surface, found: &BestSettings) -> Self {
        let above_chance = 1.0 - (found.chance / found.skill).powi(2);
        let sure = match found.knows() {
            true => surface.borne_out() * above_chance,
            false => 0.0,
        };
        Self { surface, sure }
    }

    /// The mean of a place, on the level that pours have by now.
    fn mean(&self, mean: f64) -> f64 {
        let middle = self.surface.middle();
        middle + self.sure * (mean - middle) + self.surface.drift_now().mean
    }

    /// The guess of a place, on that level.
    fn at(&self, place: &[f64]) -> Guess {
        let guess = self.surface.at(place);
        Guess {
            mean: self.mean(guess.mean),
            sd: guess.sd.hypot(self.surface.drift_now().sd),
        }
    }
}

/// Whether a setting bends the surface by as much as a painter sees.
fn bends(settings: &[Setting], surface: &Surface, at: usize) -> bool {
    let means = (0..POINTS).map(|step| surface.at(&along(settings, at, step)).mean);
    let (low, high) = means.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), mean| {
        (low.min(mean), high.max(mean))
    });
    surface.hyper().lengths[at] < FLAT && high - low >= LEAST_SWING
}

fn settings(tried: &Tried) -> Vec<Setting> {
    let factors = tried.factors.iter().zip(&tried.logged).enumerate();
    let setting = |(place, (factor, logged)): (usize, (&Factor, &Option<Logged>))| {
        let of = logged.filter(|one| Logged::SETTINGS.contains(one))?;
        setting(of, factor.step, place, &tried.rows)
    };
    factors.filter_map(setting).collect()
}

fn setting(of: Logged, step: f64, place: usize, rows: &[Observation]) -> Option<Setting> {
    let value = |row: &Observation| match row.factors.get(place) {
        Some(FactorValue::Number(value)) if value.is_finite() => Some(*value),
        _ => None,
    };
    let mut known: Vec<f64> = rows.iter().filter_map(value).collect();
    if known.is_empty() || (rows.len() - known.len()) * GAPS > rows.len() {
        return None;
    }
    known.sort_by(f64::total_cmp);
    let (low, high) = (known[0], known[known.len() - 1]);
    let middle = known[known.len() / 2];
    let scale = |value: f64| (value - low) / (high - low);
    (high - low > step).then(|| Setting {
        of,
        step,
        low,
        high,
        middle: scale(middle),
        values: rows
            .iter()
            .map(|row| scale(value(row).unwrap_or(middle)))
            .collect(),
    })
}

impl Setting {
    /// In its own unit again.
    fn back(&self, scaled: f64) -> f64 {
        self.low + (self.high - self.low) * scaled
    }
}

fn curves(
    settings: &[Setting],
    promise: &Promise<'_>,
    matters: impl Fn(usize) -> bool,
) -> Vec<Curve> {
    let lengths = promise.surface.hyper().lengths;
    let mut order: Vec<usize> = (0..settings.len()).collect();
    order.sort_by(|a, b| lengths[*a].total_cmp(&lengths[*b]));
    let curve = |at: usize| Curve {
        setting: settings[at].of,
        matters: matters(at),
        points: (0..POINTS)
            .map(|step| point(settings, promise, at, step))
            .collect(),
    };
    order.into_iter().map(curve).collect()
}

/// A place of a setting's curve: the others at their middles.
fn along(settings: &[Setting], at: usize, step: usize) -> Vec<f64> {
    let mut place: Vec<f64> = settings.iter().map(|one| one.middle).collect();
    place[at] = step as f64 / (POINTS - 1) as f64;
    place
}

fn point(settings: &[Setting], promise: &Promise<'_>, at: usize, step: usize) -> CurvePoint {
    let place = along(settings, at, step);
    band(settings[at].back(place[at]), promise.at(&place))
}

/// The 80 % band of a guess, in cells that there are.
fn band(at: f64, guess: Guess) -> CurvePoint {
    let cells = |value: f64| value.clamp(0.0, 5.0);
    CurvePoint {
        at,
        mid: cells(guess.mean),
        low: cells(guess.mean - Z80 * guess.sd),
        high: cells(guess.mean + Z80 * guess.sd),
    }
}

fn advise(
    settings: &[Setting],
    promise: &Promise<'_>,
    samples: &Samples,
    matters: &[bool],
) -> SettingsAdvice {
    let surface = promise.surface;
    let expected = samples.x.iter().map(|x| surface.at(x).mean);
    let best_so_far = expected.fold(f64::NEG_INFINITY, f64::max);
    let range = |at: usize| -> RangeInclusive<f64> {
        match matters[at] {
            true => -BEYOND..=1.0 + BEYOND,
            false => settings[at].middle..=settings[at].middle,
        }
    };
    let ranges: Vec<_> = (0..settings.len()).map(range).collect();
    let place = advised(surface, best_so_far, &ranges);
    let (guess, hyper) = (promise.at(&place), surface.hyper());
    let one_pour = Guess {
        mean: guess.mean,
        sd: (guess.sd.powi(2) + hyper.noise.powi(2) + hyper.session.powi(2)).sqrt(),
    };
    let advised = settings.iter().zip(&place).zip(matters);
    let advised = advised.filter(|(_, matters)| **matters);
    SettingsAdvice {
        settings: advised
            .map(|((setting, at), _)| advised_setting(setting, *at))
            .collect(),
        expect: band(0.0, one_pour),
        best_so_far: promise.mean(best_so_far).clamp(0.0, 5.0),
    }
}

fn advised_setting(setting: &Setting, scaled: f64) -> Advised {
    // A time or a share below nothing cannot be set.
    let value = match setting.low >= 0.0 {
        true => setting.back(scaled).max(0.0),
        false => setting.back(scaled),
    };
    Advised {
        setting: setting.of,
        step: setting.step,
        value,
        beyond: !(0.0..=1.0).contains(&scaled),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tried(logged: &[Logged], rows: Vec<Observation>) -> Tried {
        Tried {
            factors: logged.iter().map(|one| one.factor()).collect(),
            logged: logged.iter().copied().map(Some).collect(),
            hours: (0..rows.len()).rev().map(|day| 24.0 * day as f64).collect(),
            rows,
        }
    }

    /// Rest is best at 14 h; the film says nothing. Values by strides that share no factor, so that nothing is drawn.
    fn studio(pours: usize, height: f64) -> Tried {
        let row = |at: usize| {
            let rest = 4.0 + ((at * 37) % 101) as f64 / 101.0 * 20.0;
            let film = 1.0 + ((at * 53) % 97) as f64 / 97.0;
            let luck = ((at * 29) % 13) as f64 / 13.0 - 0.5;
            let cells = 4.2 - height * ((rest - 14.0) / 10.0).powi(2) + luck;
            Observation {
                good: cells >= 4.0,
                cells: cells.round().clamp(0.0, 5.0) as u8,
                factors: vec![FactorValue::Number(rest), FactorValue::Number(film)],
            }
        };
        tried(&[Logged::Rest, Logged::Film], (0..pours).map(row).collect())
    }

    #[test]
    fn a_hill_is_found_and_its_top_advised() {
        let found = best(&studio(60, 4.0), &|_| {}).unwrap();
        assert!(found.knows(), "{}", found.skill);
        assert_eq!(found.curves[0].setting, Logged::Rest);
        let advice = found.advice.unwrap();
        let rest = advice
            .settings
            .iter()
            .find(|one| one.setting == Logged::Rest)
            .unwrap();
        assert!((11.0..17.0).contains(&rest.value), "{rest:?}");
        assert!(!rest.beyond);
        assert!(advice.expect.low < advice.expect.mid && advice.expect.mid < advice.expect.high);
        let top = found.curves[0]
            .points
            .iter()
            .max_by(|a, b| a.mid.total_cmp(&b.mid))
            .unwrap();
        assert!((11.0..17.0).contains(&top.at), "{top:?}");
        // Told alike: the curve promises no more than the advice does.
        assert!(
            top.mid <= advice.expect.mid + 0.1,
            "{top:?} {:?}",
            advice.expect
        );
    }

    #[test]
    fn where_no_setting_explains_anything_there_is_no_advice() {
        let found = best(&studio(60, 0.0), &|_| {}).unwrap();
        assert!(!found.knows() && found.advice.is_none(), "{}", found.skill);
        for curve in found.curves {
            let flat = curve.points.windows(2).all(|two| two[0].mid == two[1].mid);
            assert!(flat, "a curve of what is not known: {curve:?}");
        }
    }

    #[test]
    fn no_curve_is_said_to_matter_where_nothing_is_known() {
        let one = studio(60, 0.0);
        let mut bent = 0;
        for turn in 0..8 {
            let mut tried = one.clone();
            let mut cells: Vec<u8> = one.rows.iter().map(|row| row.cells).collect();
            // The same cells, each on another pour's settings.
            cells.rotate_left(turn * 7);
            let rows = tried.rows.iter_mut().zip(cells);
            rows.for_each(|(row, cells)| row.cells = cells);
            let found = best(&tried, &|_| {}).unwrap();
            let said = found.curves.iter().any(|curve| curve.matters);
            bent += usize::from(said && !found.knows());
        }
        assert_eq!(bent, 0);
    }

    #[test]
    fn what_cannot_be_told_is_said_why() {
        let none = tried(&[Logged::Hour], studio(30, 4.0).rows);
        assert_eq!(best(&none, &|_| {}), Err(NoSurface::Settings));
        let mut alike = studio(30, 4.0);
        alike.rows.iter_mut().for_each(|row| row.cells = 3);
        assert_eq!(best(&alike, &|_| {}), Err(NoSurface::Alike));
    }
}
