//! Deeds on cups: mixed, added to, thinned, read, looked at, put right, struck, ended, their lids.

use super::{Deed, deed, refused_alike, same_rows_and_warnings};
use crate::terminal::Stage;

/// On a studio with K7 thick (chosen), B4 ready and A3 resting; B4 was mixed last.
const DEEDS: &[Deed] = &[
    deed(
        "mix|River blue|--volume|80.1234 ml|--mound|2.6|--stirred|4 m|--tape|blue|--note|thick tube",
        "m|=river|Enter|=80.1234|Tab|=2.6|Tab|=4|Tab|Tab|=blue|Tab|Tab|Tab|Tab|=thick tube|Enter",
        "on the lid",
    ),
    deed("mix|--like|B4", "l|Enter", "on the lid"),
    deed(
        "mix|River blue|--volume|60 ml|--put|Medium 41 ml|--at|9:30",
        "m|=riv|Enter|=60 ml|Tab|Tab|Tab|Tab|Tab|Tab|=Medium 41 ml|Tab|=9:30|Enter",
        "on the lid",
    ),
    deed(
        "mix|River blue|--volume|30 ml|--from|K7",
        "m|=riv|Enter|=30 ml|Tab|Tab|Tab|Tab|Tab|=K7|Tab|Enter",
        "on the lid",
    ),
    // What is itself mixed ahead comes from the cup of it that stands; nothing is said of where.
    deed(
        "recipe|add|Sea|--layer|colour|--part|River blue 2|--part|Medium 1 then mix|Sea|--volume|30 ml",
        "C|a|=Sea|Tab|=colour|Enter|=river|Enter|=2|Tab|=medi|Enter|=1|Enter|1|m|=sea|Enter|=30 ml|Enter",
        "on the lid",
    ),
    deed(
        "recipe|add|Sea|--layer|colour|--part|River blue 2|--part|Medium 1 then mix|Sea|--volume|30 ml|--from|shelf",
        "C|a|=Sea|Tab|=colour|Enter|=river|Enter|=2|Tab|=medi|Enter|=1|Enter|1|m|=sea|Enter|=30 ml|Tab|Tab|Tab|Tab|Tab|=shelf|Enter|Enter",
        "on the lid",
    ),
    deed(
        "add|K7|12 ml|--from|B4|--mound|3.9",
        "a|=B4|Tab|=12 ml|Tab|=3.9|Enter",
        "? K7",
    ),
    deed("add|K7|--from|B4", "a|=B4|Enter|Enter", "? K7"),
    deed(
        "add|K7|8 ml|--from|Blue paint",
        "a|=blue p|Enter|=8|Enter",
        "✓ K7",
    ),
    deed("thin|K7|3.3333 ml", "t|=3.3333|Enter", "✓ K7"),
    deed(
        "thin|K7|50 ml|--mound|4.9|--hard|--even-so",
        "t|=50 ml|Tab|=4.9|Tab|=hard|Enter|Enter|!thins it so",
        "K7 now holds",
    ),
    deed(
        "read|K7|4.4|--at|9:55",
        "r|=4.4|Tab|Tab|=9:55|Enter",
        "✓ K7",
    ),
    deed("read|K7|never", "r|=never|Enter", "✓ K7"),
    deed(
        "read|K7|--flow-cup|iso4|--efflux|60 s",
        "r|=60|Tab|=iso4|Enter",
        "✓ K7",
    ),
    deed("read|K7|26|--even-so", "r|=26|Enter|!keeps it", "? K7"),
    deed(
        "thin|K7|3 ml|--mound|26|--even-so",
        "t|=3 ml|Tab|=26|Enter|!keeps it",
        "? K7",
    ),
    deed("look|K7|clear", "c", "✓ K7"),
    deed("look|K7|bubbles", "b", "✓ K7"),
    deed("open|K7", "o", "✓ K7"),
    deed(
        "amend|K7|last|3.9",
        "Enter|e|=3.9|Enter",
        "is mound 3.9 s now",
    ),
    deed(
        "amend|K7|last|--at|9:40",
        "Enter|e|Tab|=9:40|Enter",
        "mound 4.2 s is of K7 at 09:40",
    ),
    deed(
        "amend|K7|last|--to|B4",
        "Enter|e|Tab|Tab|=B4|Enter",
        "mound 4.2 s is of B4",
    ),
    deed(
        "thin|K7|3 ml then amend|K7|last|50 ml|--even-so",
        "t|=3|Enter|/K7|Enter|Enter|e|=50 ml|Enter|!thins it so",
        "K7 now holds",
    ),
    deed("strike|K7|last", "Enter|x", "Struck: mound 4.2 s"),
    deed("end|K7|binned", "e|b", "? K7"),
    deed(
        "lid|K7|--mark|K8|--tape|blue",
        "g|=K8|Tab|=blue|Enter",
        "The lid says K8, blue tape",
    ),
    deed("thin|K7|3 ml then undo", "t|=3|Enter|u", "thinned with 3"),
    deed(
        "thin|K7|3 ml then undo then redo",
        "t|=3|Enter|u|U",
        "thinned with 3",
    ),
];

/// What both refuse, with a piece of the sentence that both say.
const REFUSED: &[Deed] = &[
    deed("mix|zzzz|--volume|80 ml", "m|=zzzz|Tab|=80 ml|Enter", ""),
    deed(
        "mix|River blue|--volume|1,000 ml",
        "m|=riv|Enter|=1,000|Enter",
        "two ways",
    ),
    deed(
        "mix|River blue|--volume|80 ml|--stirred|30 h",
        "m|=riv|Enter|=80|Tab|Tab|=30 h|Enter",
        "is no time to stir",
    ),
    deed(
        "mix|River blue|--volume|80 ml|--mark|K7",
        "m|=riv|Enter|=80|Tab|Tab|Tab|=K7|Enter",
        "K7 is on a living cup",
    ),
    deed(
        "mix|River blue|--volume|80 ml|--put|Sunny 4 ml",
        "m|=riv|Enter|=80|Tab|Tab|Tab|Tab|Tab|Tab|=Sunny 4 ml|Enter",
        "called Sunny",
    ),
    deed("thin|K7|3 g", "t|=3 g|Enter", "without its density"),
    deed(
        "add|K7|--from|Blue paint",
        "a|=blue p|Enter|Enter",
        "how much is added?",
    ),
    deed(
        "add|K7|900 ml|--from|B4",
        "a|=B4|Tab|=900|Enter",
        "B4 holds",
    ),
    deed(
        "thin|K7|5 l",
        "t|=5 l|Enter",
        "more than that cup ever held",
    ),
    deed("read|K7|26", "r|=26|Enter", "is far from"),
    deed(
        "mix|River blue|--volume|80 ml|--mound|26",
        "m|=riv|Enter|=80|Tab|=26|Enter",
        "is far from its window of 2 to 3 s",
    ),
    deed("strike|K7|1", "Enter|k|k|k|k|x", "stands or falls"),
    deed("amend|K7|last|4.2", "Enter|e|=4.2|Enter", "differs from"),
    deed("amend|K7|last|soon", "Enter|e|=soon|Enter", "soon"),
    deed("read|K7|700", "r|=700|Enter", "over 600 s"),
    deed(
        "read|K7|2.8|--at|2026-01-01 10:00",
        "r|=2.8|Tab|Tab|=2026-01-01 10:00|Enter",
        "lies before K7 was mixed",
    ),
    deed("lid|K7|--mark|B4", "g|=B4|Enter", "B4 is on a living cup"),
];

#[test]
fn both_faces_write_the_same_rows_and_warn_alike() {
    for deed in DEEDS {
        same_rows_and_warnings(deed, [Stage::with_cups(), Stage::with_cups()]);
    }
}

#[test]
fn both_faces_refuse_the_same_and_write_nothing() {
    refused_alike(REFUSED);
}
