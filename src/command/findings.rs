//! `findings`: which variants gave good cells.

use crate::command::report::{Report, Table};
use crate::command::{Desk, word};
use crate::exchange;
use crate::numbers::statistics::findings::Finding;
use crate::numbers::statistics::pair::Pair;
use crate::numbers::statistics::proportion::Tally;
use crate::studio::{
    Answer, Asked, Curve, Findings, LookedBack, OutcomeKind, Posterior, VariantTally, levels,
};
use crate::tell;
use crate::tell::views::{BestView, FindingsView};
use crate::trade::recipe::{LayerKind, variant_title};
use clap::Args;

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
    /// Only this factor, and its levels ranked: rest, technique, "share of Water"
    #[arg(long, value_name = "FACTOR")]
    pub by: Option<String>,
    /// Two factors in a table: rest,humidity
    #[arg(long, value_name = "FACTOR,FACTOR", conflicts_with = "by")]
    pub pair: Option<String>,
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
    /// What pours are held against: whether they were good or their cells by your eye; by your photos the share of the
    /// panel that cells cover, their diameter, their evenness, or their number
    #[arg(long, value_name = "WHAT", value_parser = word!(OutcomeKind))]
    pub outcome: Option<OutcomeKind>,
    /// The statistics behind the sentences: odds ratios, intervals, the method and its sources
    #[arg(long)]
    pub statistics: bool,
    /// The best settings: what your pours say of rest, mounds, film and air, and what to set next
    #[arg(long, conflicts_with_all = ["by", "pair", "statistics", "csv"])]
    pub best: bool,
    /// The variants as CSV
    #[arg(long)]
    pub csv: bool,
}

impl Desk<'_> {
    pub(super) fn findings(&mut self, typed: &FindingsArguments) -> Answer<Report> {
        let asked = self.asked(typed)?;
        if let Some(outcome) = typed.outcome.filter(|one| one.is_measured()) {
            return self.measured_findings(typed, &asked, outcome);
        }
        let back = self.studio.look_back(&asked)?;
        if typed.best {
            return self.best_settings(&back);
        }
        let mut reasons = self.studio.reasons(&back, &self.now)?;
        let found = back.found;
        let by = typed.by.as_ref().map(|by| reasons.factor(by).cloned());
        let by = by.transpose()?;
        if let Some(by) = &by {
            reasons.factors.retain(|one| one.name == by.name);
        }
        let pair = typed.pair.as_ref().map(|pair| reasons.pair_named(pair));
        let pair = pair.transpose()?;
        let (by, pair) = (by.as_ref(), pair.as_ref());
        let report = Report::of(&FindingsView::of(
            &found,
            &reasons,
            by,
            pair,
            &self.telling(),
        ));
        if typed.csv {
            return Ok(report.exactly(sheet(&found)));
        }
        let report = report.line(format!(
            "judged pours: {}, good ones (cells {} or more): {}",
            found.pours, found.bar, found.good
        ));
        if found.variants.is_empty() {
            return Ok(report.line("Judge a pour: stillcup judge POUR --cells 4"));
        }
        let early = found.too_early.then(|| {
            "Too early to tell what went with good pours: judge more, good and bad ones.".to_owned()
        });
        let report = report.lines(early);
        if typed.statistics {
            return Ok(report.lines(tell::findings::statistics(&reasons)));
        }
        Ok(match (by, pair) {
            (Some(by), _) => report
                .lines([tell::findings::factor(by, reasons.outcome)])
                .table(&levels_table(by)),
            (_, Some(pair)) => report
                .lines([tell::pair::words(pair)])
                .table(&pair_table(pair)),
            _ => report
                .table(&variants_table(&found))
                .lines(tell::findings::reasons(&reasons)),
        })
    }

    fn best_settings(&self, back: &LookedBack) -> Answer<Report> {
        let found = self.studio.best_settings(back, &self.now)?;
        let curves = found.iter().flat_map(|found| &found.curves);
        let plots = curves.filter(|curve| curve.matters).map(curve_lines);
        Ok(Report::of(&BestView::of(&found))
            .lines(tell::best::lines(&found))
            .lines(plots.flatten()))
    }

    fn asked(&self, typed: &FindingsArguments) -> Answer<Asked> {
        Ok(Asked {
            window: self.time_window(typed.month.as_ref(), None, typed.since.as_ref())?,
            bar: typed.good,
            dry: match (typed.wet, typed.dry) {
                (true, _) => Some(false),
                (_, true) => Some(true),
                _ => None,
            },
            layer: typed.layer,
            outcome: typed.outcome,
        })
    }
}

/// A setting's curve: where it is best, and a plot from the least to the most tried.
fn curve_lines(curve: &Curve) -> Vec<String> {
    let ends = curve.points.first().zip(curve.points.last());
    let ends = ends.map_or((0.0, 0.0), |(first, last)| (first.at, last.at));
    let (low, high) = (ends.0, ends.1);
    let (plot, unit) = (tell::best::spark(curve), curve.setting.unit());
    vec![
        tell::best::curve(curve),
        format!("  {low:.1} {plot} {high:.1} {unit}"),
    ]
}

/// A table of shares, its rows told by their first column.
fn tally_table(what: &'static str) -> Table {
    let heads = [
        what,
        "pours",
        "good",
        "rate",
        "95 in 100",
        "believed (8 of 10)",
    ];
    Table::headed(&heads).right(&[1, 2, 3])
}

fn variants_table(found: &Findings) -> Table {
    let row = |one: &VariantTally| {
        let name = variant_title(&one.recipe, one.variant);
        let tally = Tally::new(count(one.good), count(one.pours));
        let early = one.is_early().then(|| "too early to tell".to_owned());
        let cells = tally_row(name, tally, Some(one.posterior));
        cells.into_iter().chain(early)
    };
    let rows = found.variants.iter().map(row);
    rows.fold(tally_table("variant"), Table::row)
}

fn levels_table(by: &Finding) -> Table {
    let rows = levels(by).into_iter();
    let rows = rows.map(|one| {
        tally_row(
            tell::findings::side(&one.which),
            one.tally,
            Some(one.posterior),
        )
    });
    rows.fold(tally_table("level"), Table::row)
}

/// The cells of a table of two, the surest first, then those that nothing fell in.
fn pair_table(pair: &Pair) -> Table {
    let empty = pair.cells.iter().filter(|cell| cell.tally.pours == 0);
    let cells = pair.ranked().into_iter().chain(empty);
    let rows = cells.map(|cell| {
        let believed = cell.standing.map(Posterior::from);
        tally_row(tell::pair::title(pair, cell), cell.tally, believed)
    });
    rows.fold(tally_table("both"), Table::row)
}

fn tally_row(name: String, tally: Tally, believed: Option<Posterior>) -> [String; 6] {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let range = |low, high| format!("{} to {}", percent(low), percent(high));
    let wilson = tally.wilson();
    [
        name,
        tally.pours.to_string(),
        tally.good.to_string(),
        tally.share().map(percent).unwrap_or_default(),
        range(wilson.low, wilson.high),
        believed
            .map(|one| range(one.low10, one.high90))
            .unwrap_or_default(),
    ]
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// The variants as CSV.
fn sheet(found: &Findings) -> String {
    let mut table = csv::Writer::from_writer(Vec::new());
    let heads = [
        "recipe",
        "variant",
        "pours",
        "good",
        "rate",
        "wilson_low",
        "wilson_high",
        "low10",
        "high90",
    ];
    // Into memory nothing can fail.
    let _ = table.write_record(heads);
    for one in &found.variants {
        let share = |share: f64| format!("{share:.4}");
        let ((low, high), believed) = (one.wilson, &one.posterior);
        let _ = table.write_record([
            exchange::inert_cell(&one.recipe),
            one.variant.to_string(),
            one.pours.to_string(),
            one.good.to_string(),
            share(one.rate),
            share(low),
            share(high),
            share(believed.low10),
            share(believed.high90),
        ]);
    }
    let bytes = table.into_inner().unwrap_or_default();
    String::from_utf8(bytes)
        .unwrap_or_default()
        .trim_end()
        .to_owned()
}
