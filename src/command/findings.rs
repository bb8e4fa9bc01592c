//! `findings`: which variants gave good cells.

use crate::command::report::{Report, Table};
use crate::command::{Desk, maybe, word};
use crate::exchange;
use crate::numbers::statistics::findings::{FactorKind, Finding};
use crate::numbers::statistics::joint::Joint;
use crate::numbers::statistics::logistic::Term;
use crate::studio::{Answer, Asked, Findings, Reasons, Refusal, Since, Suggestion, VariantTally};
use crate::trade::duration;
use crate::trade::instant::parse_month;
use crate::trade::recipe::LayerKind;
use clap::Args;
use serde_json::{Value, json};

/// Which window of time is looked at; all of it where none is said.
#[derive(Debug, Args)]
pub struct FindingsArguments {
    /// The last while: 30d
    #[arg(
        long,
        value_name = "TIME",
        conflicts_with = "month",
        allow_hyphen_values = true
    )]
    pub since: Option<String>,
    /// A month: 2026-10
    #[arg(long, value_name = "MONTH")]
    pub month: Option<String>,
    /// Only this factor: rest, technique, \"share of Water\"
    #[arg(long, value_name = "FACTOR")]
    pub by: Option<String>,
    /// From how many cells a pour counts as good; the setting good-from otherwise
    #[arg(long, value_name = "CELLS", value_parser = clap::value_parser!(u8).range(1..=5))]
    pub good: Option<u8>,
    /// Only what was judged wet
    #[arg(long, conflicts_with = "dry")]
    pub wet: bool,
    /// Only what was judged dry
    #[arg(long)]
    pub dry: bool,
    /// Only variants of this layer
    #[arg(long, value_name = "LAYER", value_parser = word!(LayerKind))]
    pub layer: Option<LayerKind>,
    /// The variants as CSV
    #[arg(long)]
    pub csv: bool,
}

impl Desk<'_> {
    pub(super) fn findings(&mut self, typed: &FindingsArguments) -> Answer<Report> {
        let asked = self.asked(typed)?;
        let found = self.studio.findings_as(&asked)?;
        let mut reasons = self.studio.reasons(&asked, &found, &self.now)?;
        if let Some(by) = &typed.by {
            keep_factor(&mut reasons, by)?;
        }
        if typed.csv {
            return Ok(Report::verbatim(
                self.findings_json(&found, &reasons),
                sheet(&found),
            ));
        }
        let report = Report::new(self.findings_json(&found, &reasons)).line(format!(
            "judged pours: {}, good ones (cells {} or more): {}",
            found.pours, found.bar, found.good
        ));
        if found.variants.is_empty() {
            return Ok(report.line("Judge a pour: stillcup judge POUR --cells 4"));
        }
        let early = found
            .too_early
            .then(|| "Too early to tell: judge more pours, good and bad ones.".to_owned());
        let heads = [
            "variant",
            "pours",
            "good",
            "rate",
            "95 in 100",
            "believed (8 of 10)",
        ];
        let table = Table::headed(&heads).right(&[1, 2, 3]);
        let rows = found.variants.iter().map(tally_row);
        Ok(report
            .lines(early)
            .table(&rows.fold(table, Table::row))
            .lines(reason_lines(&reasons)))
    }

    fn asked(&self, typed: &FindingsArguments) -> Answer<Asked> {
        Ok(Asked {
            window: self.window(typed)?,
            bar: typed.good,
            dry: match (typed.wet, typed.dry) {
                (true, _) => Some(false),
                (_, true) => Some(true),
                _ => None,
            },
            layer: typed.layer,
        })
    }

    fn window(&self, typed: &FindingsArguments) -> Answer<Since> {
        let since = maybe(typed.since.as_deref(), duration::parse)?;
        let month = maybe(typed.month.as_deref(), |text| {
            parse_month(text, self.now.zone)
        })?;
        Ok(Since {
            from: month
                .map(|span| span.0)
                .or(since.map(|time| self.now.at - time)),
            to: month.map(|span| span.1),
        })
    }

    fn findings_json(&self, found: &Findings, reasons: &Reasons) -> Value {
        let variants: Vec<Value> = found.variants.iter().map(tally_json).collect();
        let factors: Vec<Value> = reasons.factors.iter().map(factor_json).collect();
        let next: Vec<Value> = reasons.next.iter().map(next_json).collect();
        json!({
            "from": found.window.from.map(|at| self.stamp(at)),
            "to": found.window.to.map(|at| self.stamp(at)),
            "bar": found.bar,
            "pours": found.pours,
            "good": found.good,
            "variants": variants,
            "factors": factors,
            "fit": reasons.fit.as_ref().ok().map(fit_json),
            "fit_why_not": reasons.fit.as_ref().err(),
            "next": next,
            "too_early": found.too_early,
        })
    }
}

/// Leaves one factor of all.
fn keep_factor(reasons: &mut Reasons, by: &str) -> Answer<()> {
    let wanted = by.trim().to_lowercase();
    let known: Vec<String> = reasons.factors.iter().map(|one| one.name.clone()).collect();
    reasons
        .factors
        .retain(|one| one.name.to_lowercase() == wanted);
    if reasons.factors.is_empty() {
        let known = known.join(", ");
        return Err(Refusal::Word {
            what: "factor",
            said: by.to_owned(),
            known,
        }
        .into());
    }
    Ok(())
}

fn reason_lines(reasons: &Reasons) -> Vec<String> {
    let spoken = |one: &&Finding| one.q.is_some_and(|q| q < SPOKEN_BELOW);
    let mut lines: Vec<String> = reasons
        .factors
        .iter()
        .filter(spoken)
        .map(|one| one.words.clone())
        .collect();
    if lines.is_empty() {
        lines.extend(
            reasons
                .factors
                .iter()
                .take(SHOWN_ELSE)
                .map(|one| one.words.clone()),
        );
    }
    match &reasons.fit {
        Ok(joint) => lines.extend(joint.words.iter().cloned()),
        Err(why) => lines.push(why.clone()),
    }
    lines.push("to try next:".into());
    let next = reasons
        .next
        .iter()
        .map(|one| format!("  {} v{}: {}", one.recipe, one.variant, one.why));
    lines.extend(next);
    lines
}

/// A q below this is spoken of.
const SPOKEN_BELOW: f64 = 0.1;
/// How many factors are shown where none is to be spoken of.
const SHOWN_ELSE: usize = 3;

/// The variants as CSV.
fn sheet(found: &Findings) -> String {
    let mut lines =
        vec!["recipe,variant,pours,good,rate,wilson_low,wilson_high,low10,high90".to_owned()];
    lines.extend(found.variants.iter().map(|one| {
        let name = exchange::inert_cell(&one.recipe).replace('"', "\"\"");
        let (low, high) = one.wilson;
        let believed = &one.posterior;
        format!(
            "\"{name}\",{},{},{},{:.4},{low:.4},{high:.4},{:.4},{:.4}",
            one.variant, one.pours, one.good, one.rate, believed.low10, believed.high90
        )
    }));
    lines.join("\n")
}

fn factor_json(one: &Finding) -> Value {
    let kind = match one.kind {
        FactorKind::Number => "number",
        FactorKind::Word => "word",
    };
    json!({
        "factor": one.name,
        "kind": kind,
        "n": one.n,
        "effect": one.effect.as_ref().map(|(effect, _)| effect),
        "interval": one.effect.as_ref().map(|(_, interval)| [interval.low, interval.high]),
        "p": one.p,
        "q": one.q,
        "words": one.words,
    })
}

fn fit_json(joint: &Joint) -> Value {
    // An end of an odds ratio may be infinite, which JSON has no number for.
    let finite = |x: f64| x.is_finite().then_some(x);
    let term = |term: &Term| {
        json!({
            "term": term.name,
            "step": term.step,
            "odds_ratio": finite(term.odds_ratio),
            "interval": [finite(term.interval.low), finite(term.interval.high)],
            "p": term.p,
        })
    };
    let fitted = &joint.fitted;
    json!({
        "method": fitted.method,
        "n": fitted.n,
        "terms": fitted.terms.iter().map(term).collect::<Vec<Value>>(),
        "why_not_firth": fitted.why_not,
        "words": joint.words,
    })
}

fn next_json(one: &Suggestion) -> Value {
    json!({
        "recipe": one.recipe,
        "variant": one.variant,
        "kind": one.kind,
        "why": one.why,
        "p_best": one.chance_of_best,
    })
}

fn tally_json(one: &VariantTally) -> Value {
    json!({
        "recipe": one.recipe,
        "variant": one.variant,
        "pours": one.pours,
        "good": one.good,
        "rate": one.rate,
        "layer": one.layer,
        "wilson": [one.wilson.0, one.wilson.1],
        "posterior": {
            "mean": one.posterior.mean,
            "low10": one.posterior.low10,
            "high90": one.posterior.high90,
        },
        "behind": one.behind,
    })
}

fn tally_row(one: &VariantTally) -> [String; 6] {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    [
        format!("{} v{}", one.recipe, one.variant),
        one.pours.to_string(),
        one.good.to_string(),
        percent(one.rate),
        format!("{} to {}", percent(one.wilson.0), percent(one.wilson.1)),
        format!(
            "{} to {}",
            percent(one.posterior.low10),
            percent(one.posterior.high90)
        ),
    ]
}
