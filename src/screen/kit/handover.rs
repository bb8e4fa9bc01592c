//! What one place may wish of another. Places do not know each other; the shell hands it over.

use crate::studio::{PourPage, VariantRef};
use crate::trade::ids::CupId;
use crate::trade::judgement::Judgement;
use crate::trade::panel::Panel;
use crate::trade::units::{Millilitres, Millimetres};
use serde::{Deserialize, Serialize};

/// A wish that another place fulfils.
#[derive(Debug, Clone, PartialEq)]
pub enum Handover {
    /// A cup of a recipe, or of one of its variants that need not be the newest.
    Mix {
        /// The recipe's name.
        recipe: String,
        /// The variant's number; the newest otherwise.
        variant: Option<i64>,
    },
    /// This cup onto the stack.
    Stack {
        /// The cup.
        cup: CupId,
        /// How much is left of it.
        left: Millilitres,
    },
    /// A plan that begins with this.
    Plan(Usual),
    /// The picture of this pour once more.
    Repeat(i64),
    /// The next pour is made for this run.
    PourRun(RunInHand),
    /// How many cells has this picture?
    Judge {
        /// The pour's number.
        pour: i64,
        /// Whether it is thought to be dry.
        dry: bool,
        /// What was seen of it before, in order of entry; `None` where that is not at hand.
        seen: Option<Vec<Judgement>>,
    },
    /// The photos of the pour of this number.
    Photos(i64),
    /// Choose this cup: it was just mixed, or came back.
    Cup(CupId),
    /// This cup was just tended: once it wants no hand any more, the next that does is chosen.
    Tended(CupId),
}

/// What a plan begins with.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Usual {
    /// On what.
    pub panel: Option<Panel>,
    /// How.
    pub way: Option<String>,
    /// The recipes, lowest layer first.
    pub recipes: Vec<String>,
    /// The whole wet film; as it was told otherwise.
    pub film: Option<Millimetres>,
    /// What it is to try, in words.
    pub note: Option<String>,
}

/// A run of a trial that the next pour is made for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RunInHand {
    /// The trial's number.
    pub trial: i64,
    /// The run's.
    pub run: usize,
    /// Its settings in words, as far as they may be seen.
    pub settings: String,
}

impl Usual {
    /// What a pour was.
    pub fn of(page: &PourPage) -> Self {
        let poured = page.layers.iter().map(|cup| &cup.variant);
        Self {
            panel: Some(page.pour.panel),
            way: page.pour.way.clone(),
            recipes: recipes(poured),
            ..Self::default()
        }
    }
}

/// The recipes of variants, each once, in their order.
pub fn recipes<'a>(variants: impl Iterator<Item = &'a VariantRef>) -> Vec<String> {
    let mut recipes: Vec<String> = Vec::new();
    for name in variants.map(|one| &one.recipe) {
        if !recipes.contains(name) {
            recipes.push(name.clone());
        }
    }
    recipes
}
