//! Why a model gives no number: outside what it holds for, in words with the range.

use crate::numbers::drying::DryingError;
use crate::numbers::film::FilmError;
use crate::numbers::flow_cup::FlowCupError;
use crate::numbers::mound::NoMound;
use crate::studio::OutOfModel;
use crate::trade::problem::said_back;
use crate::trade::units::{Seconds, SquareMillimetresPerSecond};

/// Outside what which model holds for.
pub(super) fn out_of_model(model: &OutOfModel) -> String {
    match model {
        OutOfModel::Film(why) => film(*why).to_owned(),
        OutOfModel::Drying(why) => drying(*why),
        OutOfModel::FlowCup(why) => flow_cup(why),
        OutOfModel::Mound(NoMound(seconds)) => format!(
            "a mound of {seconds} s gives no viscosity; time how long the ridge takes to sink, in seconds above 0"
        ),
    }
}

/// Why a flow cup gives no number.
fn flow_cup(why: &FlowCupError) -> String {
    match why {
        FlowCupError::Unknown(said) => format!(
            "no flow cup is called \"{}\"; use iso3 to iso6, din4, ford1 to ford5 or zahn1 to zahn5",
            said_back(said)
        ),
        FlowCupError::OutsideWindow { cup, efflux } => {
            let (low, high) = cup.window();
            let hole = if *efflux > high { "larger" } else { "smaller" };
            let [seconds, low, high] = [*efflux, low, high].map(Seconds::get);
            format!(
                "{seconds} s is outside the {cup} cup's window of {low} to {high} s; use a cup with a {hole} hole"
            )
        }
        FlowCupError::OutsideRange { cup, viscosity } => {
            let (low, high) = cup.range();
            let [viscosity, low, high] =
                [*viscosity, low, high].map(SquareMillimetresPerSecond::get);
            format!(
                "{viscosity} mm2/s cannot be read with the {cup} cup, which reads {low:.0} to {high:.0} mm2/s; use another cup"
            )
        }
    }
}

/// Why no drying time is given.
#[must_use]
pub fn drying(why: DryingError) -> String {
    match why {
        DryingError::WillNotDry(humidity) => {
            format!("at {humidity:.0} % humidity it will not dry; dry the air below 85 % first")
        }
        DryingError::Temperature(celsius) => format!(
            "{celsius} C is outside the 5 to 45 C this estimate holds for; wait until the room is warmer or cooler"
        ),
        DryingError::Humidity(humidity) => format!(
            "a humidity of {humidity:.0} % is not between 0 and 100; read the hygrometer again"
        ),
        DryingError::Film(film) => {
            format!("a wet film of {film} mm gives no drying time; enter a thickness above 0")
        }
    }
}

const fn film(why: FilmError) -> &'static str {
    match why {
        FilmError::Length => {
            "a panel's sides must be above 0 mm and its edge not below 0 mm; enter them again"
        }
        FilmError::RunOff => "the share that runs off must lie between 0 and 1; enter it again",
        FilmError::Container => "the container holds nothing; enter its size in millilitres",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::flow_cup::FlowCup;

    #[test]
    fn a_time_outside_a_flow_cups_window_is_a_sentence_with_the_way_out() {
        let why = FlowCup::Iso4.viscosity(Seconds(12.0)).unwrap_err();
        assert_eq!(
            flow_cup(&why),
            "12 s is outside the iso4 cup's window of 30 to 100 s; use a cup with a smaller hole"
        );
    }

    #[test]
    fn air_that_is_too_wet_is_a_sentence_with_the_range() {
        assert_eq!(
            drying(DryingError::WillNotDry(95.0)),
            "at 95 % humidity it will not dry; dry the air below 85 % first"
        );
    }
}
