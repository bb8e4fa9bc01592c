//! What turned between two looks at the cups.

use crate::studio::cups::bench::CupStatus;
use crate::trade::life::State;
use std::collections::HashMap;

/// A cup that is something else than it was.
#[derive(Debug, Clone)]
pub struct Turn {
    /// The cup as it stands now; as it stood last where it is spent.
    pub cup: CupStatus,
    /// What it was; nothing where it is new.
    pub was: Option<State>,
    /// What it is.
    pub is: State,
}

/// What turned between two looks, each as the Bench has it; in the later look's order, those that are spent last.
#[must_use]
pub fn turns(before: &[CupStatus], after: &[CupStatus]) -> Vec<Turn> {
    let was: HashMap<i64, State> = before.iter().map(|one| (one.cup.id, one.state)).collect();
    let living: HashMap<i64, State> = after.iter().map(|one| (one.cup.id, one.state)).collect();
    let turned = after.iter().filter_map(|one| {
        let was = was.get(&one.cup.id).copied();
        (was != Some(one.state)).then(|| Turn {
            cup: one.clone(),
            was,
            is: one.state,
        })
    });
    let gone = before
        .iter()
        .filter(|one| !living.contains_key(&one.cup.id));
    let spent = gone.map(|one| Turn {
        cup: one.clone(),
        was: Some(one.state),
        is: State::Spent,
    });
    turned.chain(spent).collect()
}
