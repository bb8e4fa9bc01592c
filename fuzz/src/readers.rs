//! The trade's own readers: whatever is said is read into what it may be, or refused in a short and harmless sentence.

use crate::files::now;
use chrono::{DateTime, Datelike, TimeDelta};
use std::fmt::Display;
use stillcup::exchange::inert_cell;
use stillcup::numbers::flow_cup::FlowCup;
use stillcup::studio::{Refusal, read_factor};
use stillcup::tell::{parse, words};
use stillcup::trade::amount::{Amount, Measures, Unit, show_mass, show_volume};
use stillcup::trade::instant::{Lean, Now, Zone, parse_date, parse_instant, parse_month};
use stillcup::trade::length::{parse_film, parse_length};
use stillcup::trade::mark::Mark;
use stillcup::trade::money::{Currency, parse_price};
use stillcup::trade::panel::Panel;
use stillcup::trade::pour::{Air, Move, MoveKind};
use stillcup::trade::problem::ParseProblem;
use stillcup::trade::range::{Window, parse_mound, parse_share};
use stillcup::trade::text::{inert, inert_lines};
use stillcup::trade::{caution, duration};

/// A refusal says what is wrong in a sentence that can be shown.
fn refused(problem: &ParseProblem) {
    let (why, hint) = (parse::why(problem), parse::hint(problem));
    for part in [&problem.said, &why, &hint] {
        assert_eq!(inert(part), part.as_str());
        assert!(part.len() < 1000, "{} bytes", part.len());
    }
    assert!(!why.is_empty() && !hint.is_empty());
}

fn inert_words(problem: &impl Display) {
    let words = problem.to_string();
    assert_eq!(inert(&words), words);
}

fn inert_refusal(refusal: &Refusal) {
    inert_words(&words(refusal, Measures::Metric, &now()));
}

pub fn amount(text: &str) {
    for read in [
        Amount::parse(text),
        Amount::parse_or(text, Unit::Millilitre),
        Amount::parse_or(text, Unit::Pound),
    ] {
        match read {
            Ok(Amount::Volume(volume)) => {
                assert!(
                    (0.000_999..=100_001.0).contains(&volume.get()),
                    "{volume:?}"
                );
                for measures in [Measures::Metric, Measures::UsCustomary] {
                    assert!(!show_volume(volume, measures).contains("NaN"));
                }
            }
            Ok(Amount::Mass(mass)) => {
                assert!((0.000_999..=200_001.0).contains(&mass.get()), "{mass:?}");
                assert!(!show_mass(mass, Measures::Metric).contains("NaN"));
            }
            Err(problem) => refused(&problem),
        }
    }
}

pub fn duration(text: &str) {
    for read in [
        duration::parse(text),
        duration::parse_or(text, duration::Unit::Hour),
    ] {
        match read {
            Ok(time) => {
                assert!(
                    time >= TimeDelta::zero() && time <= TimeDelta::days(3660),
                    "{time}"
                );
                assert!(!duration::show(time).is_empty());
            }
            Err(problem) => refused(&problem),
        }
    }
}

fn zones() -> [Now; 4] {
    let at = |text: &str| DateTime::parse_from_rfc3339(text).unwrap();
    let now = |text: &str, zone| Now { at: at(text), zone };
    [
        now(
            "2026-11-25T10:00:00+01:00",
            Zone::Named(chrono_tz::Europe::Berlin),
        ),
        // The hour that is put forward, and the day a zone left out.
        now(
            "2026-03-29T03:10:00+02:00",
            Zone::Named(chrono_tz::Europe::Berlin),
        ),
        now(
            "2011-12-31T01:00:00+14:00",
            Zone::Named(chrono_tz::Pacific::Apia),
        ),
        now(
            "2028-02-29T23:59:59-11:00",
            Zone::Fixed(*at("2028-02-29T00:00:00-11:00").offset()),
        ),
    ]
}

pub fn instant(text: &str) {
    for now in zones() {
        for lean in [Lean::Past, Lean::Future] {
            match parse_instant(text, &now, lean) {
                Ok(at) => {
                    assert!((1900..=2199).contains(&at.year()), "{at}");
                    assert_eq!(parse_instant(&at.to_rfc3339(), &now, lean).unwrap(), at);
                }
                Err(problem) => refused(&problem),
            }
        }
        for span in [parse_month(text, now.zone)] {
            match span {
                Ok((first, next)) => assert!(first <= next),
                Err(problem) => refused(&problem),
            }
        }
    }
    if let Ok(day) = parse_date(text) {
        assert_eq!(parse_date(&day.to_string()).unwrap(), day);
    }
}

pub fn length(text: &str) {
    match parse_length(text) {
        Ok(length) => assert!((1.0..=2000.0).contains(&length.get())),
        Err(problem) => refused(&problem),
    }
    match parse_film(text) {
        Ok(film) => assert!((0.05..=10.0).contains(&film.get())),
        Err(problem) => refused(&problem),
    }
}

pub fn panel(text: &str) {
    match Panel::parse(text) {
        Ok(panel) => {
            assert_eq!(Panel::parse(&panel.to_string()).unwrap(), panel);
            assert!(panel.area().get() > 0.0 && panel.area().get().is_finite());
            assert!(panel.perimeter().get() > 0.0 && panel.perimeter().get().is_finite());
            for measures in [Measures::Metric, Measures::UsCustomary] {
                assert!(!panel.show(measures).contains("NaN"));
            }
        }
        Err(problem) => refused(&problem),
    }
}

pub fn range(text: &str) {
    match Window::parse(text) {
        Ok(window) => {
            assert!(window.low < window.high && window.holds(window.middle()));
            assert_eq!(Window::parse(&window.to_string()).unwrap(), window);
        }
        Err(problem) => refused(&problem),
    }
    match parse_mound(text) {
        Ok(mound) => assert!(mound.get() > 0.0 && mound.get() <= 600.0),
        Err(problem) => refused(&problem),
    }
    match parse_share(text) {
        Ok(share) => assert!((0.0..=1.0).contains(&share.get())),
        Err(problem) => refused(&problem),
    }
}

pub fn money(text: &str) {
    match parse_price(text) {
        Ok(price) => {
            assert!(!price.is_sign_negative() || price.is_zero());
            assert!(price.normalize().scale() <= 4);
            assert_eq!(parse_price(&price.to_string()).unwrap(), price);
        }
        Err(problem) => refused(&problem),
    }
    match Currency::parse(text) {
        Ok(currency) => inert_words(&currency),
        Err(problem) => refused(&problem),
    }
}

pub fn mark(text: &str) {
    match Mark::parse(text) {
        Ok(mark) => {
            assert_eq!(Mark::parse(mark.as_str()).unwrap(), mark);
            assert!((2..=3).contains(&mark.as_str().len()));
            assert!(mark.distance(text) <= text.chars().count().max(3));
            let next = Mark::next_free(Some(&mark), |taken| *taken == mark);
            assert_ne!(next.unwrap(), mark);
        }
        Err(problem) => {
            let said = text.to_owned();
            inert_refusal(&Refusal::NoMark { said, problem });
        }
    }
}

pub fn one_move(text: &str) {
    for kind in MoveKind::ALL {
        match Move::parse(*kind, text) {
            Ok(one) => {
                assert!(
                    one.times
                        .is_none_or(|times| times.is_finite() && times > 0.0)
                );
                let _ = one.clockwise();
            }
            Err(problem) => inert_refusal(&Refusal::Pour(problem)),
        }
    }
}

pub fn air(text: &str) {
    match Air::parse(text) {
        Ok(air) => {
            assert!(
                air.celsius
                    .is_none_or(|c| (-20.0..=60.0).contains(&c.get()))
            );
            assert!(
                air.humidity
                    .is_none_or(|rh| (0.0..=1.0).contains(&rh.get()))
            );
            assert!(air.celsius.is_some() || air.humidity.is_some());
        }
        Err(problem) => inert_refusal(&Refusal::Pour(problem)),
    }
}

pub fn flow_cup(text: &str) {
    if let Ok(cup) = text.parse::<FlowCup>() {
        assert_eq!(cup.to_string().parse::<FlowCup>().unwrap(), cup);
    }
}

pub fn text(text: &str) {
    for shown in [inert(text), inert_lines(text)] {
        assert!(!shown.chars().any(|c| c.is_control() && c != '\n'));
    }
    assert_eq!(inert(&inert(text)), inert(text));
    let cell = inert_cell(text);
    assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.ends_with(text));
    let _ = caution::metals_of(text);
}

pub fn factor(text: &str) {
    match read_factor(text) {
        Ok(factor) => {
            let said = format!("{}={},{}", factor.name, factor.low, factor.high);
            assert_eq!(said, text, "kept as it was typed");
        }
        Err(problem) => inert_refusal(&problem),
    }
}
