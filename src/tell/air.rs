//! The wording of a sensor of the room's air that gave none.

use super::Told;
use super::store::system;
use crate::studio::{AirFault, AirSource, SensorFault};
use crate::trade::amount::Measures;
use crate::trade::duration::show;
use crate::trade::instant::Now;
use crate::trade::text::inert;

impl Told for AirFault {
    fn told(&self, _: Measures, _: &Now) -> String {
        let source = match &self.source {
            AirSource::From(path) => format!("from {}", inert(path)),
            AirSource::By(command) => format!("by {}", inert(command)),
        };
        let why = why(&self.why);
        format!("the room's air was not read {source}: {why}")
    }
}

fn why(fault: &SensorFault) -> String {
    let said = match fault {
        SensorFault::System(why) => return system(why).to_owned(),
        SensorFault::Old(age) => return format!("its reading is {} old", show(*age)),
        SensorFault::Endless(seconds) => return format!("it did not end within {seconds} s"),
        SensorFault::NoAir(text) => {
            return format!("\"{}\" is no air, such as 21.4 C 45 %", inert(text));
        }
        SensorFault::NotAFile => "it is no plain file",
        SensorFault::NoDevice => "the folder has no in_temp_input and no in_humidityrelative_input",
        SensorFault::NoProgram => "there is no program",
        SensorFault::Failed => "it failed",
        SensorFault::Empty => "it holds nothing",
        SensorFault::OutOfRange => {
            "its reading is no air of a room: -20 to 60 C and 0 to 100 % can be kept"
        }
    };
    said.to_owned()
}
