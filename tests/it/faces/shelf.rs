//! Deeds on the shelf and in the recipes: bought, counted, written down, changed, called anew, merged, retired.

use super::{Deed, deed, refused_alike, same_rows_and_warnings};
use crate::terminal::Stage;

/// On a studio with K7 thick (chosen), B4 ready and A3 resting; B4 was mixed last.
const DEEDS: &[Deed] = &[
    deed(
        "bought|Blue paint|500 ml|--price|8.90",
        "S|b|=500 ml|Tab|=8.90|Enter",
        "Bought Blue paint",
    ),
    deed("counted|Blue paint|0", "S|c|=0|Enter", "Counted Blue paint"),
    deed(
        "counted|med|3.3333 fl oz",
        "S|Down|c|=3.3333 fl oz|Enter",
        "Counted Medium",
    ),
    deed(
        "material|add|Titan white|--kind|paint|--pack|250 ml|--price|8,90|--density|1.24",
        "S|a|=Titan white|Tab|Tab|=250 ml|Tab|=8,90|Tab|=1.24|Enter",
        "Titan white is on the shelf",
    ),
    deed(
        "material|set|Blue paint|--rename|Zinc blue|--pack|310 g|--density|1.24",
        "S|e|=Zinc blue|Tab|Tab|=310 g|Tab|Tab|=1.24|Enter",
        "Zinc blue is changed",
    ),
    deed(
        "recipe|add|Moss|--layer|base|--part|Blue paint 2|--part|Medium 1,5|--rest|6h|--limit|7%",
        "C|a|=Moss|Tab|=base|Enter|=blue p|Enter|=2|Tab|=medi|Enter|=1,5|Tab|Tab|Tab|Tab|Tab|=6|Tab|Tab|Tab|=7%|Enter",
        "Moss v1 is written down",
    ),
    deed(
        "recipe|change|River blue|--part|Blue paint 1|--part|Medium 3|--note|for the large ones",
        "C|Down|e|Tab|Tab|Tab|=3|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=for the large ones|Enter",
        "River blue v2 is written down; changed of v1: Medium 2 to 3",
    ),
    deed(
        "recipe|set|River blue|--rename|Lake|--layer|base",
        "C|Down|r|=Lake|Tab|=base|Enter",
        "It is called Lake now, a base",
    ),
    deed(
        "material|add|Bleu|--kind|paint then material|merge|Bleu|Blue paint",
        "S|a|=Bleu|Enter|g|=blue p|Enter",
        "Bleu is Blue paint now",
    ),
    deed(
        "material|add|Bleu|--kind|paint then material|remove|Bleu",
        "S|a|=Bleu|Enter|x",
        "Bleu is removed",
    ),
    deed(
        "material|retire|Medium",
        "S|Down|x",
        "Medium is retired, and Cell opener and River blue ask for it still",
    ),
    deed(
        "recipe|retire|River blue then recipe|retire|River blue|--back",
        "C|Down|x|Down|x",
        "River blue is offered again",
    ),
    deed(
        "recipe|add|Bleu|--layer|colour|--part|Blue paint 1 then recipe|merge|Bleu|River blue",
        "C|a|=Bleu|Tab|Tab|=blue p|Enter|=1|Enter|g|=river|Enter",
        "Bleu is River blue now",
    ),
    deed(
        "recipe|change|river|--mound|2.2..2.8",
        "C|Down|e|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=2.2..2.8|Enter",
        "River blue v2 is written down; changed of v1: mound 2.2 to 2.8 s",
    ),
];

/// What both refuse, with a piece of the sentence that both say.
const REFUSED: &[Deed] = &[
    deed("bought|Blue paint", "S|b|Tab|Enter", "what a pack of"),
    deed(
        "bought|Blue paint|1,000 ml",
        "S|b|=1,000 ml|Enter",
        "two ways",
    ),
    deed(
        "counted|Blue paint|3 g",
        "S|c|=3 g|Enter",
        "without its density",
    ),
    deed(
        "material|add|River blue|--kind|paint",
        "S|a|=River blue|Enter",
        "already a recipe called River blue",
    ),
    deed(
        "material|set|Blue paint|--density|9",
        "S|e|Tab|Tab|Tab|Tab|=9|Enter",
        "a density must be between",
    ),
    deed(
        "recipe|add|Moss|--layer|colour|--part|Blue paint 0",
        "C|a|=Moss|Tab|Tab|=blue p|Enter|=0|Enter",
        "is no number of parts above nothing",
    ),
    deed(
        "recipe|add|Moss|--layer|colour|--part|Medium",
        "C|a|=Moss|Tab|Tab|=medi|Enter|Enter",
        "Medium is no part",
    ),
    deed(
        "recipe|add|Moss|--layer|colour",
        "C|a|=Moss|Enter",
        "a recipe needs at least one part",
    ),
    deed(
        "recipe|add|Water|--layer|colour|--part|Medium 1",
        "C|a|=Water|Tab|Tab|=medi|Enter|=1|Enter",
        "already a material called Water",
    ),
    deed(
        "recipe|change|River blue|--limit|100%",
        "C|Down|e|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|Tab|=100%|Enter",
        "the limit of thinner must be",
    ),
    deed(
        "recipe|set|River blue|--rename|Water",
        "C|Down|r|=Water|Enter",
        "already a material called Water",
    ),
    deed("material|merge|Blue paint|zzzz", "S|g|=zzzz|Enter", ""),
    deed(
        "material|merge|Blue paint|Water",
        "S|g|=water|Enter",
        "Blue paint is a paint, and Water is a thinner",
    ),
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
