//! The room's air from a sensor: a file it writes, a Linux IIO device's folder, or a program that prints it.
//!
//! A file or an output holds `21.4 C 45 %`, or two numbers: degrees Celsius and per cent. What is old, odd or failing is said and
//! not kept.

use crate::studio::{AirFault, AirSource, SensorFault, Settings, Studio, SystemFault};
use crate::trade::instant::Now;
use crate::trade::moment::Moment;
use crate::trade::pour::Air;
use crate::trade::units::{Celsius, Share};
use chrono::TimeDelta;
use std::io::Read;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant, SystemTime};

/// A reading older than this is not of now.
const OLD: Duration = Duration::from_secs(30 * 60);
/// A program that takes longer has failed.
const PATIENCE: Duration = Duration::from_secs(5);
/// How often a sensor is asked while a program runs.
const EVERY: TimeDelta = TimeDelta::minutes(10);
/// A reading is short.
const LONGEST: u64 = 4096;

/// Reads the room's air.
///
/// # Errors
/// What is missing, old, odd or failing.
pub fn read_air(source: &AirSource) -> Result<Air, AirFault> {
    let read = match source {
        AirSource::From(path) if Path::new(path).is_dir() => device(Path::new(path)),
        AirSource::From(path) => file(Path::new(path)),
        AirSource::By(command) => output(command).and_then(|text| parse(&text)),
    };
    read.map_err(|why| AirFault {
        source: source.clone(),
        why,
    })
}

/// Fills in the room's air where none was said and a sensor is set: as it was told about the instant, else read at once
/// where that is now. What failed is answered, and nothing is kept of it.
#[must_use]
pub fn fill_air(
    air: &mut Option<Air>,
    at: Option<Moment>,
    (studio, settings): (&Studio, &Settings),
    now: &Now,
) -> Option<AirFault> {
    let source = AirSource::of(settings).filter(|_| air.is_none())?;
    *air = studio.sensed_at(at.unwrap_or(now.at));
    if air.is_some() || at.is_some() {
        return None;
    }
    match read_air(&source) {
        Ok(read) => {
            *air = Some(read);
            None
        }
        Err(why) => Some(why),
    }
}

/// Asks a sensor every ten minutes, on a thread of its own, so that nothing waits for it.
#[derive(Debug, Default)]
pub struct AirWatch {
    source: Option<AirSource>,
    asked: Option<Moment>,
    answer: Option<Receiver<Result<Air, AirFault>>>,
    /// Whether its last reading failed, and that was said.
    failed: bool,
}

/// What a sensor answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensed {
    /// The air; none where it failed.
    pub air: Option<Air>,
    /// Why it failed, the first time.
    pub fault: Option<AirFault>,
}

impl AirWatch {
    /// Looks whether an answer has come, and asks where ten minutes are over or the sensor is another one.
    pub fn look(&mut self, settings: &Settings, now: &Now) -> Option<Sensed> {
        let source = AirSource::of(settings);
        if source != self.source {
            *self = Self {
                source,
                ..Self::default()
            };
        }
        let answer = self.answered();
        let due = self
            .asked
            .is_none_or(|at| !(at..at + EVERY).contains(&now.at));
        if let Some(source) = self.source.clone().filter(|_| due && self.answer.is_none()) {
            self.asked = Some(now.at);
            self.answer = asked(source);
        }
        answer.map(|read| self.told(read))
    }

    fn answered(&mut self) -> Option<Result<Air, AirFault>> {
        match self.answer.as_ref()?.try_recv() {
            Err(TryRecvError::Empty) => None,
            answer => {
                self.answer = None;
                answer.ok()
            }
        }
    }

    fn told(&mut self, read: Result<Air, AirFault>) -> Sensed {
        let was = std::mem::replace(&mut self.failed, read.is_err());
        Sensed {
            fault: read.as_ref().err().filter(|_| !was).cloned(),
            air: read.ok(),
        }
    }
}

/// Asks a sensor; none where no thread is to be had.
fn asked(source: AirSource) -> Option<Receiver<Result<Air, AirFault>>> {
    let (tell, told) = channel();
    let ask = move || drop(tell.send(read_air(&source)));
    std::thread::Builder::new().spawn(ask).ok()?;
    Some(told)
}

fn system(err: std::io::Error) -> SensorFault {
    SensorFault::System(SystemFault::of(&err))
}

fn file(path: &Path) -> Result<Air, SensorFault> {
    // Asked before it is opened: a pipe would be waited for.
    let about = std::fs::metadata(path).map_err(system)?;
    if !about.is_file() {
        return Err(SensorFault::NotAFile);
    }
    let open = std::fs::File::open(path).map_err(system)?;
    fresh(about.modified().ok())?;
    let mut text = String::new();
    let read = open.take(LONGEST).read_to_string(&mut text);
    read.map_err(system)?;
    parse(&text)
}

fn fresh(written: Option<SystemTime>) -> Result<(), SensorFault> {
    let age = written.and_then(|written| SystemTime::now().duration_since(written).ok());
    match age.filter(|age| *age > OLD) {
        Some(age) => Err(SensorFault::Old(
            TimeDelta::from_std(age).unwrap_or(TimeDelta::MAX),
        )),
        None => Ok(()),
    }
}

/// A Linux IIO device (kernel ABI, `sysfs-bus-iio`): thousandths of a degree Celsius and of a per cent; or raw values with
/// their offset and scale.
fn device(folder: &Path) -> Result<Air, SensorFault> {
    let number = |name: &str| -> Option<f64> {
        let text = std::fs::read_to_string(folder.join(name)).ok()?;
        text.trim().parse().ok()
    };
    let value = |name: &str| {
        number(&format!("in_{name}_input")).or_else(|| {
            let raw = number(&format!("in_{name}_raw"))?;
            let offset = number(&format!("in_{name}_offset")).unwrap_or(0.0);
            Some((raw + offset) * number(&format!("in_{name}_scale"))?)
        })
    };
    let celsius = value("temp").map(|milli| milli / 1000.0);
    let percent = value("humidityrelative").map(|milli| milli / 1000.0);
    match (celsius, percent) {
        (None, None) => Err(SensorFault::NoDevice),
        (celsius, percent) => room(celsius, percent),
    }
}

/// Runs a program and waits a little for what it prints.
fn output(command: &str) -> Result<String, SensorFault> {
    let mut words = command.split_whitespace();
    let program = words.next().ok_or(SensorFault::NoProgram)?;
    let started = Command::new(program)
        .args(words)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn();
    let mut child = started.map_err(system)?;
    let mut out = child.stdout.take().ok_or(SensorFault::Empty)?;
    // Read beside, so that a program that never ends is left in time.
    let (tell, told) = channel();
    std::thread::spawn(move || {
        let mut text = String::new();
        let read = out.by_ref().take(LONGEST).read_to_string(&mut text);
        drop(tell.send(read.map(|_| text)));
    });
    let text = told.recv_timeout(PATIENCE);
    let ended = ended(&mut child);
    match (text, ended) {
        (Ok(Ok(text)), Some(true)) => Ok(text),
        (_, Some(false)) => Err(SensorFault::Failed),
        (Ok(Err(err)), _) => Err(system(err)),
        _ => Err(SensorFault::Endless(PATIENCE.as_secs())),
    }
}

/// Whether a program ended well; it is ended where it does not end by itself.
fn ended(child: &mut Child) -> Option<bool> {
    let until = Instant::now() + Duration::from_millis(500);
    loop {
        match child.try_wait() {
            Ok(Some(status)) => return Some(status.success()),
            Ok(None) if Instant::now() < until => std::thread::sleep(Duration::from_millis(10)),
            _ => {
                drop(child.kill());
                drop(child.wait());
                return None;
            }
        }
    }
}

/// Reads `21.4 C 45 %`, `70.5F, 45%`, or two numbers.
fn parse(text: &str) -> Result<Air, SensorFault> {
    let odd = || SensorFault::NoAir(text.trim().chars().take(40).collect());
    let line = text
        .lines()
        .rev()
        .find(|line| !line.trim().is_empty())
        .ok_or(SensorFault::Empty)?;
    let tight = line
        .replace(" C", "C")
        .replace(" F", "F")
        .replace(" %", "%")
        .replace(" °", "°");
    if let Ok(air) = Air::parse(tight.trim()) {
        return Ok(air);
    }
    let [celsius, percent] = two_numbers(line).ok_or_else(odd)?;
    room(Some(celsius), Some(percent))
}

/// Two numbers of a line, with points or, where something else parts them, with commas.
fn two_numbers(line: &str) -> Option<[f64; 2]> {
    let read = |signs: &[char], comma: &str| {
        let words = line.split(signs).filter(|word| !word.is_empty());
        let numbers: Option<Vec<f64>> = words
            .map(|word| word.replace(',', comma).parse().ok())
            .collect();
        <[f64; 2]>::try_from(numbers?).ok()
    };
    read(&[' ', ';', '\t', '/'], ".").or_else(|| read(&[' ', ';', '\t', '/', ','], ","))
}

fn room(celsius: Option<f64>, percent: Option<f64>) -> Result<Air, SensorFault> {
    let fits = celsius.is_none_or(|c| (-20.0..=60.0).contains(&c))
        && percent.is_none_or(|rh| (0.0..=100.0).contains(&rh));
    match fits {
        true => Ok(Air {
            celsius: celsius.map(Celsius),
            humidity: percent.map(|percent| Share(percent / 100.0)),
        }),
        false => Err(SensorFault::OutOfRange),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(air: &Air) -> (Option<f64>, Option<f64>) {
        (
            air.celsius.map(Celsius::get),
            air.humidity.map(|rh| (rh.get() * 1000.0).round() / 1000.0),
        )
    }

    #[test]
    fn a_line_of_a_sensor_is_read_in_its_forms() {
        for text in [
            "21.4 C 45 %",
            "21.4C,45%",
            "21.4 45",
            "21.4;45\n",
            "21,4;45\n",
            "21,4 45,0",
            "21.4,45",
            "old 1 2 3\n21.4 45\n\n",
            "21.4 °C, 45 %",
        ] {
            assert_eq!(
                parse(text).map(|air| told(&air)),
                Ok((Some(21.4), Some(0.45))),
                "{text}"
            );
        }
        for bad in ["", "warm", "21.4", "21.4 145", "300 45", "NaN NaN", "1 2 3"] {
            assert!(parse(bad).is_err(), "{bad}");
        }
    }

    // The kernel's ABI document gives in_temp_input in milli degrees Celsius, in_humidityrelative_input in milli per cent.
    #[test]
    fn a_device_gives_thousandths() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("in_temp_input"), "21400\n").unwrap();
        std::fs::write(folder.path().join("in_humidityrelative_raw"), "4500\n").unwrap();
        std::fs::write(folder.path().join("in_humidityrelative_scale"), "10\n").unwrap();
        let source = AirSource::From(folder.path().display().to_string());
        assert_eq!(
            read_air(&source).map(|air| told(&air)),
            Ok((Some(21.4), Some(0.45)))
        );
        assert!(read_air(&AirSource::From("/nowhere/at/all".to_owned())).is_err());
    }

    /// What a watch tells next: one waits for it no longer than it takes.
    fn next(watch: &mut AirWatch, settings: &Settings, now: &Now) -> Sensed {
        loop {
            if let Some(told) = watch.look(settings, now) {
                return told;
            }
            std::thread::yield_now();
        }
    }

    #[test]
    fn a_sensor_is_asked_every_ten_minutes_and_its_fault_is_told_once() {
        let folder = tempfile::tempdir().unwrap();
        let studio = Studio::open(&folder.path().join("studio.db")).unwrap();
        let path = folder.path().join("air");
        std::fs::write(&path, "21.4 45").unwrap();
        let settings = Settings {
            air_from: Some(path.display().to_string()),
            ..studio.settings().unwrap()
        };
        let at = chrono::DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").unwrap();
        let zone = crate::trade::instant::Zone::Fixed(*at.offset());
        let later = |minutes| Now {
            at: at + TimeDelta::minutes(minutes),
            zone,
        };
        let mut watch = AirWatch::default();
        let first = next(&mut watch, &settings, &later(0));
        assert_eq!(
            first.air.map(|air| told(&air)),
            Some((Some(21.4), Some(0.45)))
        );
        std::fs::write(&path, "broken").unwrap();
        for _ in 0..1000 {
            assert_eq!(watch.look(&settings, &later(9)), None, "not asked again");
        }
        let failed = next(&mut watch, &settings, &later(10));
        assert!(failed.air.is_none() && failed.fault.is_some());
        let again = next(&mut watch, &settings, &later(20));
        assert_eq!((again.air, again.fault), (None, None), "said once");
        std::fs::write(&path, "22 50").unwrap();
        assert!(next(&mut watch, &settings, &later(30)).air.is_some());
        std::fs::write(&path, "broken").unwrap();
        assert!(next(&mut watch, &settings, &later(40)).fault.is_some());
        // Another sensor is asked at once, and a clock that was set back keeps none waiting.
        let other = Settings {
            air_from: None,
            air_by: Some("echo 20 40".to_owned()),
            ..settings
        };
        assert!(next(&mut watch, &other, &later(41)).air.is_some());
        assert!(next(&mut watch, &other, &later(-300)).air.is_some());
    }

    /// A pour that is written down later has the air of its own time, where a program that runs was told of it then; never
    /// that of now.
    #[test]
    fn a_pour_of_an_hour_ago_has_the_air_of_then() {
        let folder = tempfile::tempdir().unwrap();
        let mut studio = Studio::open(&folder.path().join("studio.db")).unwrap();
        let path = folder.path().join("air");
        std::fs::write(&path, "25 60").unwrap();
        let settings = Settings {
            air_from: Some(path.display().to_string()),
            ..studio.settings().unwrap()
        };
        let at = chrono::DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").unwrap();
        let zone = crate::trade::instant::Zone::Fixed(*at.offset());
        let later = |minutes| at + TimeDelta::minutes(minutes);
        let now = |minutes| Now {
            at: later(minutes),
            zone,
        };
        let air = |celsius| Air {
            celsius: Some(Celsius(celsius)),
            humidity: None,
        };
        studio.sense(Some(air(19.0)), &now(0));
        studio.sense(Some(air(20.0)), &now(10));
        studio.sense(None, &now(20));
        let of = |minutes: i64, typed: Option<Air>| {
            let mut filled = typed;
            let at = Some(later(minutes));
            assert_eq!(
                fill_air(&mut filled, at, (&studio, &settings), &now(120)),
                None
            );
            filled.and_then(|air| air.celsius).map(Celsius::get)
        };
        assert_eq!((of(4, None), of(6, None)), (Some(19.0), Some(20.0)));
        assert_eq!(of(4, Some(air(5.0))), Some(5.0), "typed air wins");
        assert_eq!(
            (of(19, None), of(60, None)),
            (None, None),
            "a failed reading, and none at all"
        );
        let mut present = None;
        assert_eq!(
            fill_air(&mut present, None, (&studio, &settings), &now(120)),
            None
        );
        assert_eq!(present.and_then(|air| air.celsius), Some(Celsius(25.0)));
    }

    #[test]
    fn what_is_old_is_said_and_not_kept() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("air");
        std::fs::write(&path, "21 45").unwrap();
        let then = SystemTime::now() - Duration::from_secs(3600);
        std::fs::File::options()
            .write(true)
            .open(&path)
            .unwrap()
            .set_modified(then)
            .unwrap();
        let why = read_air(&AirSource::From(path.display().to_string())).unwrap_err();
        let age = matches!(why.why, SensorFault::Old(age) if age.num_minutes() == 60);
        assert!(age, "{why:?}");
    }

    #[cfg(unix)]
    #[test]
    fn a_program_is_run_without_a_shell_and_left_where_it_hangs() {
        let by = |command: &str| read_air(&AirSource::By(command.to_owned()));
        assert_eq!(
            by("echo 21.4 45").map(|air| told(&air)),
            Ok((Some(21.4), Some(0.45)))
        );
        assert!(by("echo $(echo 21) 45").is_err());
        assert!(by("false").is_err());
        assert!(by("/no/such/program").is_err());
        assert!(by("").is_err());
    }
}
