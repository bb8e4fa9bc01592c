//! The pour step by step: one key goes on, one goes back, and what was done at which instant is what is written down.

use super::{Play, Stage, key, keys, lines, shows, typed};
use chrono::TimeDelta;

/// B4 on a panel, a spin planned, and the first step up.
fn begun() -> Vec<Play> {
    let mut built = keys("P p");
    built.extend(typed("30x40cm"));
    built.extend(keys("Enter a Enter Enter s Enter Space"));
    built
}

fn seconds(seconds: i64) -> Play {
    Play::Later(TimeDelta::seconds(seconds))
}

#[test]
fn each_step_is_kept_with_its_instant_and_how_long_it_took() {
    let stage = Stage::with_cups();
    let mut script = begun();
    script.push(seconds(20));
    script.extend(keys("Space"));
    script.push(seconds(11));
    script.extend(keys("Space Space"));
    let cells = stage.play(script);
    assert!(shows(&cells, "Pour 1"), "{:#?}", lines(&cells));
    let pour = stage.studio().pours(None).unwrap().remove(0).pour;
    let (layer, spin) = (&pour.layers[0], &pour.moves[0]);
    let lay = layer.at.unwrap();
    assert_eq!(spin.begun, Some(lay));
    assert_eq!(spin.took.unwrap().get(), 11.0);
    assert!(lay <= pour.at && pour.at - lay < TimeDelta::seconds(20));
}

#[test]
fn a_key_that_is_held_or_bounces_counts_once() {
    let stage = Stage::with_cups();
    for (held, step) in [("Space", "1 of 2"), ("x", "1 of 1"), ("t", "1 of 3")] {
        let mut script = begun();
        script.extend((0..30).map(|_| Play::Bounce(key(held))));
        let cells = stage.play(script);
        assert!(shows(&cells, step), "{held}: {:#?}", lines(&cells));
        assert!(stage.studio().pours(None).unwrap().is_empty());
    }
}

/// Two layers, the first laid; a tilt put in comes before the second whatever is gone back over.
#[test]
fn a_move_that_was_put_in_keeps_its_place() {
    let stage = Stage::with_cups();
    let steps = |more: &str| {
        let mut script = keys("P p");
        script.extend(typed("30x40cm"));
        script.extend(keys("Enter a Enter Enter a Enter Enter Space Space t"));
        script.extend(keys(more));
        lines(&stage.play(script))[0].clone()
    };
    let tilt = steps("");
    assert!(tilt.contains("tilt"), "{tilt}");
    assert_eq!(steps("Backspace Space"), tilt);
    assert_eq!(steps("Space Backspace"), tilt);
    // Two put in one after the other are both made before the next layer.
    let second = steps("s Space");
    assert!(second.contains("tilt"), "{second}");
}

// A pour is written down once each step was made or left out, and not before.
#[test]
fn what_is_still_to_be_poured_is_not_written_down() {
    let stage = Stage::with_cups();
    let mut script = begun();
    script.extend(keys("G"));
    let cells = stage.play(script);
    assert!(shows(&cells, "Steps are left"), "{:#?}", lines(&cells));
    assert!(stage.studio().pours(None).unwrap().is_empty());
}

#[test]
fn an_undo_of_the_stack_keeps_the_steps_that_were_made() {
    let stage = Stage::with_cups();
    let mut script = begun();
    script.extend(keys("t Space Space Esc u Space"));
    let cells = stage.play(script);
    assert!(!shows(&cells, "1 of"), "{:#?}", lines(&cells));
}

#[test]
fn a_step_that_was_not_done_is_gone_back_to_and_a_move_is_put_in() {
    let stage = Stage::with_cups();
    let mut script = begun();
    script.extend(keys("Space Backspace"));
    let cells = stage.play(script);
    assert!(shows(&cells, "1 of 2: B4"), "{:#?}", lines(&cells));
    let mut script = begun();
    script.extend(keys("t"));
    script.push(seconds(5));
    script.extend(keys("Space Space x Space"));
    stage.play(script);
    let pour = stage.studio().pours(None).unwrap().remove(0).pour;
    let moves: Vec<_> = pour
        .moves
        .iter()
        .map(|one| (one.kind.word(), one.took.map(|took| took.get())))
        .collect();
    // The spin that was planned was left out.
    assert_eq!(moves, [("tilt", Some(5.0))]);
    assert!(pour.moves[0].begun < pour.layers[0].at);
}

#[test]
fn a_pour_that_was_left_half_done_goes_on_where_it_was() {
    let mut stage = Stage::with_cups();
    stage.keeps_drafts = true;
    let mut script = begun();
    script.extend(keys("Space"));
    stage.play(script);
    let cells = stage.play(keys("P Space"));
    assert!(shows(&cells, "2 of 2: spin"), "{:#?}", lines(&cells));
    stage.play(keys("P Space Space Space"));
    let pours = stage.studio().pours(None).unwrap();
    assert_eq!(pours.len(), 1);
    assert!(pours[0].pour.layers[0].at.is_some() && pours[0].pour.moves[0].took.is_some());
}

#[test]
fn the_step_in_hand_is_written_large_at_every_size() {
    for size in [(50, 16), (80, 24), (160, 50)] {
        let mut stage = Stage::with_cups();
        stage.size = size;
        let cells = stage.play(begun());
        let large = lines(&cells)
            .iter()
            .filter(|line| line.contains('█') && line.contains('▀'))
            .count();
        assert!(large >= 2, "{size:?}: {:#?}", lines(&cells));
        assert!(shows(&cells, "1 of 2: B4"), "{:#?}", lines(&cells));
    }
}
