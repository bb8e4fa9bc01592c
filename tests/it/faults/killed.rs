//! A process killed at any instant: every entry it acknowledged is there, nothing is half-written, and the file
//! opens at once. `STILLCUP_KILLS` sets how many; some hundreds by default.

use rand::{RngExt, SeedableRng, rngs::ChaCha8Rng};
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use stillcup::studio::orders::{MixOrder, TendOrder};
use stillcup::studio::{MaterialOrder, RecipeOrder, Studio};
use stillcup::trade::cup::{Happened, Reading};
use stillcup::trade::instant::{Now, Zone};
use stillcup::trade::mark::Mark;
use stillcup::trade::material::MaterialKind;
use stillcup::trade::recipe::LayerKind;
use stillcup::trade::units::{Millilitres, Seconds};

const FILE: &str = "STILLCUP_KILLED_FILE";
const KILLS_A_STUDIO: u32 = 10;
const ACKNOWLEDGED: &str = "kept ";

fn now() -> Now {
    let at = chrono::DateTime::parse_from_rfc3339("2026-11-25T10:00:00+01:00").unwrap();
    Now {
        at,
        zone: Zone::Fixed(*at.offset()),
    }
}

fn found(file: &Path) {
    let mut studio = Studio::open(file).unwrap();
    let paint = MaterialOrder {
        kind: Some(MaterialKind::Paint),
        ..Default::default()
    };
    studio.add_material("Blue paint", &paint, &now()).unwrap();
    let order = RecipeOrder {
        parts: studio.known([]).unwrap().parts(["Blue paint 1"]).unwrap(),
        ..Default::default()
    };
    studio
        .add_recipe("River blue", LayerKind::Colour, &order, &now())
        .unwrap();
    let variant = studio.known([]).unwrap().newest("River blue").unwrap();
    let order = MixOrder {
        mark: Some(Mark::parse("K7").unwrap()),
        ..MixOrder::of(variant, Millilitres(120.0))
    };
    studio.mix(&order, &now()).unwrap();
}

/// Not a test of its own: reads a cup again and again, and says after each reading that it is kept.
#[test]
#[ignore = "run as a child by the test below"]
fn a_stream_of_entries() {
    let Some(file) = std::env::var_os(FILE) else {
        return;
    };
    let mut studio = Studio::open(Path::new(&file)).unwrap();
    let kept = readings(&studio);
    let cup = studio.known([]).unwrap().cup("K7").unwrap();
    for nth in kept + 1.. {
        // Within its window, where nothing is doubted.
        let reading = Reading::Mound(Seconds(2.0 + nth as f64 / 1000.0));
        let order = TendOrder::read(cup, reading);
        studio.tend(&order, &now()).unwrap();
        println!("\n{ACKNOWLEDGED}{nth}");
    }
}

fn readings(studio: &Studio) -> usize {
    let page = studio.cup_page("K7", &now()).unwrap();
    page.entries
        .iter()
        .filter(|entry| matches!(entry.what, Happened::Read(_)))
        .count()
}

fn start(file: &Path) -> Child {
    let mut command = Command::new(std::env::current_exe().unwrap());
    let name = "faults::killed::a_stream_of_entries";
    command.args([
        "--exact",
        name,
        "--ignored",
        "--nocapture",
        "--test-threads=1",
    ]);
    command
        .env(FILE, file)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// Kills a stream after so many acknowledgements and some moments more; the last that was acknowledged.
fn kill_one(file: &Path, draws: &mut ChaCha8Rng, before: usize) -> usize {
    let mut child = start(file);
    let wanted = draws.random_range(0..6);
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let mut last = before;
    let mut heard = 0;
    while heard < wanted {
        let line = lines
            .next()
            .expect("the stream goes on until it is killed")
            .unwrap();
        if let Some(nth) = line.strip_prefix(ACKNOWLEDGED) {
            last = nth.parse().unwrap();
            heard += 1;
        }
    }
    for _ in 0..draws.random_range(0..3000_u32) {
        std::thread::yield_now();
    }
    child.kill().unwrap();
    child.wait().unwrap();
    // What it had still said before it died counts too.
    let said = lines.map_while(Result::ok);
    let said = said.filter_map(|line| line.strip_prefix(ACKNOWLEDGED)?.parse().ok());
    said.fold(last, usize::max)
}

#[test]
fn whatever_was_acknowledged_before_a_kill_is_there() {
    let kills: u32 = std::env::var("STILLCUP_KILLS")
        .ok()
        .and_then(|n| n.parse().ok())
        .unwrap_or(200);
    let folder = tempfile::tempdir().unwrap();
    let mut file = folder.path().join("studio.db");
    let mut draws = ChaCha8Rng::seed_from_u64(9);
    let mut kept = 0;
    let (mut heard, mut unheard) = (0, 0);
    for kill in 0..kills {
        // A new studio now and then: a cup of a thousand readings is slow, and is not what is tested.
        if kill % KILLS_A_STUDIO == 0 {
            file = folder.path().join(format!("{kill}.db"));
            found(&file);
            kept = 0;
        }
        let before = kept;
        let acknowledged = kill_one(&file, &mut draws, kept);
        let studio = Studio::open(&file).unwrap();
        kept = readings(&studio);
        assert!(
            kept >= acknowledged,
            "kill {kill}: {acknowledged} acknowledged, {kept} there"
        );
        assert!(
            kept <= acknowledged + 1,
            "kill {kill}: only one could have been on its way"
        );
        heard += acknowledged - before;
        unheard += kept - acknowledged;
        // Each entry has its line in the history, and no line stands without one.
        let history = studio.history(u32::MAX).unwrap();
        assert_eq!(history.len(), kept + 3, "kill {kill}");
    }
    assert!(heard > 0, "the streams wrote something");
    println!("kills                               {kills}");
    println!("entries acknowledged, all there     {heard}");
    println!("entries there, killed before a word {unheard}");
    println!("lost, torn, or without their record 0");
}
