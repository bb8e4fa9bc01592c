//! `flow-cup`, `stack`, `drying`, `rack` and `thin --how-much`: what is computed, always with its band.

use crate::command::Desk;
use crate::command::flow::PageArguments;
use crate::command::report::{Report, Table};
use crate::command::show::or_dash;
use crate::numbers::drying::{DEW_MARGIN, FILM_FORMS};
use crate::numbers::levelling;
use crate::studio::orders::{DryingField, FilmField, FlowCupField, PourField, Typed};
use crate::studio::{self, Advice, Answer, Drying, RackLine, StackLayer, StackSheet, StackStep};
use crate::tell;
use crate::tell::views::{DryingView, FlowCupView, RackView, StackView, ThinnerView};
use crate::trade::caution::{self, Place};
use crate::trade::duration::show_brief;
use crate::trade::length::show_band;
use crate::trade::pour::show_heat;
use crate::trade::units::{Backing, Band, Celsius, Days, Estimate, Hours, Millimetres, Seconds};
use clap::Args;

/// A reading of a flow cup.
#[derive(Debug, Args)]
pub struct FlowCupArguments {
    /// Which cup: iso3 to iso6, din4, ford1 to ford5, zahn1 to zahn5
    pub cup: String,
    /// How long it took to run out: 38s
    #[arg(value_name = "SECONDS", allow_hyphen_values = true)]
    pub efflux: String,
}

/// A stack of cups, the lowest first.
#[derive(Debug, Args)]
pub struct StackArguments {
    /// The cups' marks, the lowest first; with --panel each with its amount: K7:120ml
    #[arg(required = true, num_args = 2.., value_name = "MARK")]
    pub marks: Vec<String>,
    /// What they are to be poured on: says what is wrong with the amounts too
    #[arg(
        long,
        value_name = "PANEL",
        conflicts_with = "films",
        allow_hyphen_values = true
    )]
    pub panel: Option<String>,
    /// The wet film of each layer in the same order; one for all, or an even share of the usual film otherwise
    #[arg(long = "film", value_name = "LENGTH", allow_hyphen_values = true)]
    pub films: Vec<String>,
}

/// A film drying in some air.
#[derive(Debug, Args)]
pub struct DryingArguments {
    /// The air of the room: 18C,70%
    #[arg(long, value_name = "AIR", allow_hyphen_values = true)]
    pub air: String,
    /// The wet film, all layers together: 1.0mm
    #[arg(
        long,
        value_name = "LENGTH",
        default_value = "1.0mm",
        allow_hyphen_values = true
    )]
    pub film: String,
    /// How far the table is out of level, in degrees or as a fall over a run (1/500): says how far the film can creep
    #[arg(
        long,
        value_name = "DEGREES",
        requires = "mound",
        allow_hyphen_values = true
    )]
    pub slope: Option<String>,
    /// The mound of what lies on top: says how long ripples take to sink
    #[arg(long, value_name = "SECONDS", allow_hyphen_values = true)]
    pub mound: Option<String>,
}

impl Desk<'_> {
    pub(super) fn flow_cup(&mut self, typed: &FlowCupArguments) -> Answer<Report> {
        let fields = Typed::default()
            .given(FlowCupField::Cup, Some(typed.cup.clone()))
            .given(FlowCupField::Efflux, Some(typed.efflux.clone()));
        let (cup, efflux) = FlowCupField::order(&fields)?;
        let viscosity = cup.viscosity(efflux)?;
        let report = Report::of(&FlowCupView::of(cup, efflux, viscosity));
        Ok(report.line(format!(
            "{cup} {} s: {:.1} mm2/s",
            efflux.get(),
            viscosity.get()
        )))
    }

    pub(super) fn stack(&mut self, typed: &StackArguments) -> Answer<Report> {
        let sheet = match &typed.panel {
            Some(panel) => self.stack_on(panel, &typed.marks)?,
            None => self.stack_of(typed)?,
        };
        let report = Report::of(&StackView::of(&sheet, &self.telling()));
        let heads = ["mark", "state", "mound", "density", "film", "recipe"];
        let rows = sheet.layers.iter().rev().map(|layer| {
            [
                layer.standing.cup.mark.to_string(),
                layer.standing.state.to_string(),
                or_dash(tell::cups::mound_now(&layer.standing)),
                or_dash(
                    layer
                        .density
                        .map(|density| format!("{:.2} g/ml", density.get())),
                ),
                self.length(layer.film),
                layer.standing.title(),
            ]
        });
        let table = Table::headed(&heads).right(&[2, 3, 4]);
        let faults = sheet.faults.iter();
        let faults = faults.map(|fault| format!("! {}", self.words(fault)));
        let verdict = sheet.verdict();
        Ok(report
            .line("the top layer first")
            .table(&rows.fold(table, Table::row))
            .lines(self.step_lines(&sheet))
            .lines(faults)
            .lines(verdict.map(|verdict| self.words(&verdict))))
    }

    fn stack_of(&self, typed: &StackArguments) -> Answer<StackSheet> {
        let films = typed.films.iter().fold(Typed::default(), |films, film| {
            films.given(FilmField::Film, Some(film.clone()))
        });
        let films = FilmField::order(&films)?;
        let known = self.studio.known(typed.marks.iter().map(String::as_str))?;
        let cups = typed.marks.iter().map(|mark| known.cup(mark));
        let cups = cups.collect::<Result<Vec<_>, _>>()?;
        self.studio.stack(&cups, &films, &self.now)
    }

    fn stack_on(&self, panel: &str, layers: &[String]) -> Answer<StackSheet> {
        let typed = Typed::default().given(PourField::Panel, Some(panel.to_owned()));
        let typed = layers.iter().fold(typed, |typed, layer| {
            typed.given(PourField::Layer, Some(layer.clone()))
        });
        let known = self.studio.known([])?;
        let order = PourField::order(&typed, false, &self.given(&known))?;
        self.studio.stack_on(order.panel, &order.layers, &self.now)
    }

    pub(super) fn drying(&mut self, typed: &DryingArguments) -> Answer<Report> {
        let fields = Typed::default()
            .given(DryingField::Air, Some(typed.air.clone()))
            .given(DryingField::Film, Some(typed.film.clone()))
            .given(DryingField::Slope, typed.slope.clone())
            .given(DryingField::Mound, typed.mound.clone());
        let known = self.studio.known([])?;
        let order = DryingField::order(&fields, &self.given(&known))?;
        let (film, slope, mound) = (order.film, order.slope, order.mound);
        let drying = studio::drying(order.air, film)?;
        let creep = slope
            .zip(mound)
            .map(|(slope, mound)| studio::creep_in_ten_minutes(film, mound, slope));
        let creep = creep.transpose()?;
        let levels = mound.map(|mound| levelling::levels_in(film, mound, levelling::RIPPLE));
        let levels = levels.and_then(Result::ok);
        let report = Report::of(&DryingView::of(&drying, levels, creep));
        Ok(report
            .lines(self.drying_lines(&drying))
            .lines(levels.map(|band| self.levelling_line(band)))
            .lines(creep.map(|creep| self.creep_line(creep))))
    }

    pub(super) fn rack(&mut self, page: PageArguments) -> Answer<Report> {
        let rack = self.studio.rack(&self.now)?;
        let all = rack.len() as u64;
        let rack = page.of(rack);
        let rest = page.rest("picture", rack.len() as u64, all);
        let report = Report::of(&RackView::of(&rack, &self.telling()));
        if rack.is_empty() {
            let none = || "No picture is drying.".to_owned();
            return Ok(report.line(rest.unwrap_or_else(none)));
        }
        let table = Table::headed(&[
            "pour",
            "poured",
            "film",
            "dry to the touch",
            "judged dry",
            "varnish from",
        ]);
        let rows = rack.iter().map(|line| self.rack_row(line));
        let cautions = [Place::Sanding, Place::Varnish].into_iter();
        let cautions = cautions.flat_map(caution::at);
        Ok(report
            .table(&rows.fold(table.right(&[0, 2]), Table::row))
            .lines(rest)
            .line("judge a picture dry before it is varnished")
            .lines(cautions.map(|caution| caution.short.to_owned())))
    }

    fn rack_row(&self, line: &RackLine) -> [String; 6] {
        let dates = |dates| tell::drying::dates(dates, &self.now);
        [
            line.page.pour.id.to_string(),
            studio::day(line.page.pour.at, &self.now),
            self.length(line.film),
            dates(&line.touch),
            or_dash(line.judged_dry().then(|| "yes".to_owned())),
            dates(&line.varnish),
        ]
    }

    pub(super) fn how_much(&mut self, mark: &str) -> Answer<Report> {
        let advice = self.studio.how_much(mark, &self.now)?;
        Ok(Report::of(&ThinnerView::of(&advice)).lines(self.advice_lines(mark, &advice)))
    }

    fn advice_lines(&self, mark: &str, advice: &Advice) -> Vec<String> {
        let band = advice.likely.band;
        if advice.beyond {
            let words = tell::cups::beyond(advice.limit, self.settings.measures);
            return vec![format!("{mark}: {words}")];
        }
        if band.high.is_nothing() {
            let room = self.volume(advice.limit);
            return vec![format!(
                "{mark}: nothing to add (its limit leaves room for {room})"
            )];
        }
        let [low, high] = [band.low, band.high].map(|one| self.volume(one));
        let add = tell::cups::to_add(advice, self.settings.measures);
        vec![
            format!("{mark}: {add} ({low} to {high})"),
            format!(
                "  {}; at most {} more",
                backing(&advice.likely),
                self.volume(advice.limit)
            ),
        ]
    }
}

fn backing<T>(estimate: &Estimate<T>) -> String {
    match estimate.from {
        Backing::Practice => {
            "from practice, none of your readings yet: begun low on purpose, read it and add the rest".into()
        }
        Backing::Both => format!("practice and {} readings of yours", estimate.readings),
        Backing::Yours => format!("yours: {} readings", estimate.readings),
    }
}

/// `40 to 58`: two digits, which is all that a law good to a fifth deserves.
fn rough(band: Band<f64>) -> String {
    let [low, high] = [band.low, band.high].map(|value| {
        let digits = 10_f64.powf(value.max(1.0).log10().floor() - 1.0).max(1.0);
        (value / digits).round() * digits
    });
    format!("{low:.0} to {high:.0}")
}

/// `2.0 to 2.3`, or `about 1.0` where a digit tells no more.
fn times(factor: Band<f64>) -> String {
    let [low, high] = [factor.low, factor.high].map(|value| format!("{value:.1}"));
    match low == high {
        true => format!("about {low}"),
        false => format!("{low} to {high}"),
    }
}

impl Desk<'_> {
    /// What the steps of a stack say, each by the two cups that it lies between.
    fn step_lines(&self, sheet: &StackSheet) -> Vec<String> {
        let pairs = sheet.layers.windows(2).zip(&sheet.steps);
        let lines = |(pair, step): (&[StackLayer], &StackStep)| {
            let marks: Vec<_> = pair.iter().map(|one| &one.standing.cup.mark).collect();
            let between = match marks[..] {
                [lower, upper] => format!("{upper} on {lower}: "),
                _ => String::new(),
            };
            let said = tell::stack::step(step, self.settings.measures, &self.now);
            said.into_iter().map(move |words| between.clone() + &words)
        };
        pairs.flat_map(lines).collect()
    }

    fn drying_lines(&self, drying: &Drying) -> Vec<String> {
        let (factor, measures) = (drying.factor, self.settings.measures);
        let heat = |celsius| show_heat(celsius, measures);
        let film = show_band(drying.film, measures);
        let mut lines = vec![
            format!(
                "dry to the touch in {} h",
                rough(drying.touch.map(Hours::get))
            ),
            format!("varnish in {} days", rough(drying.varnish.map(Days::get))),
            format!(
                "this air takes {} times as long as {} and 50 %; practice values, no better than 20 %",
                times(factor),
                heat(Celsius(23.0))
            ),
            format!("dries to about {film}, an estimate: no label says its solids by volume"),
        ];
        lines.extend(drying.is_cold.then(|| {
            format!(
                "! under {} an acrylic binder may form no sound film, however long it dries: its maker's sheet says from what on",
                heat(FILM_FORMS)
            )
        }));
        lines.extend(drying.dew_point.map(|point| {
            let warm = heat(Celsius(point.get() + DEW_MARGIN.get()));
            format!(
                "dew point {}: keep the panel above {warm}, or damp may settle on it",
                heat(point)
            )
        }));
        lines
    }

    fn levelling_line(&self, band: Band<Seconds>) -> String {
        let [low, high] = [band.low, band.high].map(show_brief);
        let apart = self.length(levelling::RIPPLE);
        format!("ripples {apart} apart sink in {low} to {high}, an estimate from its mound")
    }

    fn creep_line(&self, creep: Millimetres) -> String {
        format!(
            "on that slope the film creeps at most {} in 10 min",
            self.length(creep)
        )
    }
}
