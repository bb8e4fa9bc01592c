//! What was done, as the history keeps it: ids and quantities, which are worded only when they are shown.

use crate::trade::cup::Happened;
use crate::trade::moment::Moment;
use crate::trade::panel::Panel;
use crate::trade::pour::Move;
use crate::trade::recipe::LayerKind;
use crate::trade::units::Millilitres;
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

/// A row by its id, and what it was called then: a row that was taken back has no other name left.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Called {
    /// The store's number.
    pub id: i64,
    /// What it was called when this was done.
    pub name: String,
}

/// One deed of the painter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "did", rename_all = "kebab-case")]
pub enum Act {
    /// A cup was mixed.
    Mixed {
        /// The cup, by its mark.
        cup: Called,
        /// The variant that it was mixed by.
        variant: Called,
        /// How much.
        ml: Millilitres,
        /// The plan that it was mixed for.
        plan: Option<i64>,
    },
    /// Something happened to a standing cup.
    Tended {
        /// The cup, by its mark.
        cup: Called,
        /// What happened.
        what: Happened,
    },
    /// An entry of a cup's life was put right.
    Amended {
        /// The cup, by its mark.
        cup: Called,
        /// What it was.
        was: Happened,
        /// What it is.
        what: Happened,
        /// The cup that it really happened to, where that is another.
        to: Option<Called>,
        /// The instant that it really happened at, where that was put right.
        at: Option<Moment>,
        /// What was mixed, and what really was, where the amount of a mixing was put right.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        volume: Option<[Millilitres; 2]>,
    },
    /// An entry was struck out of a cup's life.
    Struck {
        /// The cup, by its mark.
        cup: Called,
        /// What it was.
        was: Happened,
    },
    /// A stack was poured.
    Poured {
        /// The pour.
        pour: i64,
        /// What it was poured on.
        panel: Panel,
        /// The trial and the run, from 1, that it was poured for.
        run: Option<(i64, usize)>,
    },
    /// A pour was scraped and begun again.
    StartedOver {
        /// The pour that was scraped.
        pour: i64,
        /// The pour after it.
        next: i64,
    },
    /// A pour was put right.
    PourCorrected {
        /// The pour.
        pour: i64,
        /// The moves that were written down with it.
        moves: Vec<Move>,
    },
    /// A judgement was put right.
    Rejudged {
        /// The pour.
        pour: i64,
        /// Whether it was dry.
        dry: bool,
        /// Its cells, as they really were.
        cells: u8,
    },
    /// A judgement was struck.
    JudgementStruck {
        /// The pour.
        pour: i64,
        /// Whether it was dry.
        dry: bool,
        /// The cells that were said.
        cells: u8,
    },
    /// A picture was judged.
    Judged {
        /// The pour.
        pour: i64,
        /// Whether it was dry.
        dry: bool,
        /// Its cells, 0 to 5.
        cells: u8,
    },
    /// A picture was varnished.
    Varnished {
        /// The pour.
        pour: i64,
    },
    /// A plan was kept.
    Planned {
        /// The plan.
        plan: i64,
        /// For how many panels.
        count: u32,
        /// What they are.
        panel: Panel,
    },
    /// A trial was designed.
    Designed {
        /// The trial.
        trial: i64,
        /// Its runs.
        runs: usize,
    },
    /// A pour was made a run of a trial.
    RunDone {
        /// The trial.
        trial: i64,
        /// The run, from 1.
        run: usize,
        /// The pour.
        pour: i64,
    },
    /// A run of a trial was given up.
    RunGivenUp {
        /// The trial.
        trial: i64,
        /// The run, from 1.
        run: usize,
    },
    /// A material was written down.
    MaterialAdded {
        /// The material.
        material: Called,
    },
    /// What is known of a material was changed.
    MaterialChanged {
        /// The material.
        material: Called,
    },
    /// A recipe was written down.
    RecipeAdded {
        /// The recipe.
        recipe: Called,
    },
    /// A recipe was changed: it has a new variant.
    RecipeChanged {
        /// The recipe.
        recipe: Called,
        /// The number of its new variant.
        number: i64,
    },
    /// A recipe was given another name or layer.
    RecipeRenamed {
        /// The recipe, as it is called now.
        recipe: Called,
        /// What it was called.
        was: String,
        /// Its layer, where that is another.
        layer: Option<LayerKind>,
    },
    /// A lid was given another mark or tape.
    Relabelled {
        /// The cup, as it is marked now.
        cup: Called,
        /// What it was marked.
        was: String,
        /// Its tape, where that is another.
        tape: Option<String>,
    },
    /// Two names of one thing became one.
    Merged {
        /// The name that is gone.
        from: Called,
        /// The name that stays.
        into: Called,
        /// Whether they are recipes.
        recipe: bool,
    },
    /// A material or a recipe is no longer offered, or is again.
    Retired {
        /// What it is called.
        named: Called,
        /// Whether it is a recipe.
        recipe: bool,
        /// Whether it is no longer offered.
        retired: bool,
    },
    /// A material or a recipe that nothing ever used was removed.
    Removed {
        /// What it was called.
        named: Called,
        /// Whether it was a recipe.
        recipe: bool,
    },
    /// A material was bought.
    Bought {
        /// The material.
        material: Called,
        /// How much.
        ml: Millilitres,
    },
    /// What is left of a material was counted.
    Counted {
        /// The material.
        material: Called,
        /// How much is there.
        ml: Millilitres,
    },
    /// A setting was changed; an empty value clears it.
    Set {
        /// The setting.
        name: String,
        /// Its value.
        value: String,
    },
    /// A picture was given a title; without one, the title was taken away.
    Titled {
        /// The pour.
        pour: i64,
        /// What it is called.
        title: Option<String>,
    },
    /// What is asked for a picture was written down.
    Priced {
        /// The pour.
        pour: i64,
        /// What is asked; an older version did not keep it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        asked: Option<Decimal>,
    },
    /// A picture was sold.
    Sold {
        /// The pour.
        pour: i64,
        /// For how much; an older version did not keep it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        price: Option<Decimal>,
    },
    /// A sale was put right.
    SaleCorrected {
        /// The pour.
        pour: i64,
        /// What it really brought.
        price: Decimal,
    },
    /// A photo of a picture was kept.
    PhotoKept {
        /// The pour.
        pour: i64,
    },
    /// A kept photo was measured anew.
    PhotoMeasured {
        /// The photo.
        photo: i64,
    },
    /// What was measured last in a photo was refused.
    PhotoRefused {
        /// The photo.
        photo: i64,
    },
    /// A photo was dropped.
    PhotoDropped {
        /// The photo.
        photo: i64,
        /// The pour that it shows.
        pour: i64,
    },
    /// The rows of a list were taken in.
    ListTaken,
    /// The starter materials and recipes were put in.
    Starters,
}

impl Act {
    /// What it is in one word, for a reader that does not know its kind.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Mixed { .. } => "mixed",
            Self::Tended { what, .. } => what.word(),
            Self::Amended { .. } => "put an entry right",
            Self::Struck { .. } => "struck an entry",
            Self::Poured { .. } => "poured",
            Self::StartedOver { .. } => "started over",
            Self::PourCorrected { .. } => "put a pour right",
            Self::Judged { .. } => "judged",
            Self::Rejudged { .. } => "put a judgement right",
            Self::JudgementStruck { .. } => "struck a judgement",
            Self::Varnished { .. } => "varnished",
            Self::Planned { .. } => "planned",
            Self::Designed { .. } => "designed a trial",
            Self::RunDone { .. } => "did a run",
            Self::RunGivenUp { .. } => "gave up a run",
            Self::MaterialAdded { .. } => "added a material",
            Self::MaterialChanged { .. } => "changed a material",
            Self::RecipeAdded { .. } => "added a recipe",
            Self::RecipeChanged { .. } => "changed a recipe",
            Self::RecipeRenamed { .. } => "renamed a recipe",
            Self::Relabelled { .. } => "relabelled",
            Self::Merged { .. } => "merged",
            Self::Retired { retired: true, .. } => "retired",
            Self::Retired { .. } => "brought back",
            Self::Removed { .. } => "removed",
            Self::Bought { .. } => "bought",
            Self::Counted { .. } => "counted",
            Self::Set { .. } => "set",
            Self::Titled { .. } => "titled",
            Self::Priced { .. } => "priced",
            Self::Sold { .. } => "sold",
            Self::SaleCorrected { .. } => "put a sale right",
            Self::PhotoKept { .. } => "kept a photo",
            Self::PhotoMeasured { .. } => "measured a photo",
            Self::PhotoRefused { .. } => "refused a measurement",
            Self::PhotoDropped { .. } => "dropped a photo",
            Self::ListTaken => "took in a list",
            Self::Starters => "added the starters",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::cup::{DrawnInto, End, PutFrom, Reading, Seen};
    use crate::trade::units::{Minutes, Seconds};

    /// As version 0.1.0 wrote them.
    #[test]
    fn a_sale_that_was_kept_without_its_price_is_still_read() {
        for (kept, act) in [
            (
                r#"{"did":"sold","pour":3}"#,
                Act::Sold {
                    pour: 3,
                    price: None,
                },
            ),
            (
                r#"{"did":"priced","pour":3}"#,
                Act::Priced {
                    pour: 3,
                    asked: None,
                },
            ),
            (
                r#"{"did":"sold","pour":3,"price":"240.50"}"#,
                Act::Sold {
                    pour: 3,
                    price: Some("240.50".parse().unwrap()),
                },
            ),
        ] {
            assert_eq!(serde_json::from_str::<Act>(kept).unwrap(), act);
            assert_eq!(serde_json::to_string(&act).unwrap(), kept);
        }
    }

    /// Every kind of entry, so that the history of each can be read again.
    #[test]
    fn an_act_is_read_back_as_it_was_kept() {
        let flow = Reading::FlowCup {
            cup: "iso4".to_owned(),
            efflux: Seconds(38.0),
        };
        let kinds = [
            Happened::Mixed {
                stirred: Some(Minutes(4.0)),
                reading: None,
            },
            Happened::Stirred {
                minutes: Minutes(4.0),
            },
            Happened::Read(Reading::Mound(Seconds(2.8))),
            Happened::Thinned {
                ml: Millilitres(3.0),
                with: Some(2),
                hard: true,
                reading: Some(flow),
            },
            Happened::Added {
                ml: Millilitres(3.0),
                from: PutFrom::Cup(2),
                thinner: Millilitres(0.5),
                reading: None,
            },
            Happened::Looked(Seen::Clear),
            Happened::Capped,
            Happened::Opened,
            Happened::Drawn {
                ml: Millilitres(3.0),
                into: DrawnInto::Pour(1),
            },
            Happened::Ended(End::Skinned),
        ];
        for what in kinds {
            let cup = Called {
                id: 7,
                name: "K7".to_owned(),
            };
            let act = Act::Tended { cup, what };
            let kept = serde_json::to_string(&act).unwrap();
            assert_eq!(serde_json::from_str::<Act>(&kept).unwrap(), act, "{kept}");
        }
    }
}
