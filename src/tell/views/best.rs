//! The best settings, as JSON.

use crate::studio::{Advised, BestSettings, Curve, NoSurface, SettingsAdvice};
use crate::tell::best;
use schemars::JsonSchema;
use serde::Serialize;

/// What the surface over the settings says.
#[derive(Debug, Clone, Default, Serialize, JsonSchema)]
pub struct BestView {
    /// The pours it rests on; none where there is no surface yet.
    pub pours: Option<usize>,
    /// How much of what differs between pours it tells of sessions left out, 1 being all.
    pub skill: Option<f64>,
    /// The skill that chance alone may reach.
    pub chance: Option<f64>,
    /// Whether the settings explain more than that.
    pub knows: bool,
    /// Each setting's curve.
    pub curves: Vec<CurveView>,
    /// What to set next; none where nothing is known.
    pub advice: Option<AdviceView>,
    /// The same in sentences.
    pub words: Vec<String>,
}

/// One setting's curve, the others held at the studio's middle.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CurveView {
    /// The setting.
    pub setting: String,
    /// Its unit.
    pub unit: String,
    /// Whether it bends the surface.
    pub matters: bool,
    /// Setting, cells expected, and the 80 % band of their mean.
    pub points: Vec<[f64; 4]>,
}

/// What to set next.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct AdviceView {
    /// The settings that matter.
    pub settings: Vec<SettingView>,
    /// The cells to expect of one pour.
    pub expect: f64,
    /// Their 80 % band.
    pub band: [f64; 2],
    /// The most cells expected of what was poured so far.
    pub best_so_far: f64,
}

/// One setting advised.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SettingView {
    /// Its name.
    pub setting: String,
    /// Its value.
    pub value: f64,
    /// The same with its unit.
    pub told: String,
    /// Whether it lies beyond what was tried.
    pub beyond: bool,
}

impl BestView {
    /// What was found, or nothing and why.
    #[must_use]
    pub fn of(found: &Result<BestSettings, NoSurface>) -> Self {
        let words = best::lines(found);
        let Ok(found) = found else {
            return Self {
                words,
                ..Self::default()
            };
        };
        Self {
            pours: Some(found.pours),
            skill: Some(found.skill),
            chance: Some(found.chance),
            knows: found.knows(),
            curves: found.curves.iter().map(CurveView::of).collect(),
            advice: found.advice.as_ref().map(AdviceView::of),
            words,
        }
    }
}

impl CurveView {
    fn of(one: &Curve) -> Self {
        let points = one.points.iter();
        Self {
            setting: one.setting.name().to_owned(),
            unit: one.setting.unit().to_owned(),
            matters: one.matters,
            points: points.map(|at| [at.at, at.mid, at.low, at.high]).collect(),
        }
    }
}

impl AdviceView {
    fn of(one: &SettingsAdvice) -> Self {
        let setting = |one: &Advised| SettingView {
            setting: one.setting.name().to_owned(),
            value: one.value,
            told: best::value(one),
            beyond: one.beyond,
        };
        Self {
            settings: one.settings.iter().map(setting).collect(),
            expect: one.expect.mid,
            band: [one.expect.low, one.expect.high],
            best_so_far: one.best_so_far,
        }
    }
}
