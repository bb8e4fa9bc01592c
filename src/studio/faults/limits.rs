//! Words, ranges and orders that something must keep to.

use crate::studio::Setting;

/// Of which words one must be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WordOf {
    /// The settings.
    Setting,
    /// What a setting takes.
    ValueOf(Setting),
    /// The ways to count a recipe's shares.
    Counting,
    /// The layers.
    Layer,
    /// What a recipe is meant to do.
    Target,
    /// The kinds of materials.
    MaterialKind,
    /// What is known of a material.
    Fact,
    /// The generic names of pigments.
    ColourIndex,
    /// The sizes of cells.
    CellSize,
    /// What becomes of a picture.
    Fate,
    /// The numbers of pours of a trial.
    Runs,
    /// What is seen of a cup.
    Seen,
    /// How a cup ends.
    End,
    /// The endings of a certificate's file.
    CertificateFile,
}

/// What must lie in a range, or come in an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limit {
    /// How many panels a plan is for.
    Panels,
    /// How far an edge is painted.
    Edge,
    /// What one cup holds.
    CupHolds,
    /// A wet film that is asked for.
    Film,
    /// A wet film of one layer.
    LayerFilm,
    /// How many films are said of a stack.
    Films,
    /// The time to the next look at a cup.
    NextLook,
    /// The most thinner that a variant bears.
    ThinnerLimit,
    /// When a start-over was.
    StartOver,
    /// When a judgement was.
    Judgement,
    /// When a sale was.
    Sale,
    /// How long a title, a buyer's name or a place is.
    PictureText,
    /// How much stands on the shelf.
    ShelfAmount,
    /// How many packs were bought.
    Packs,
    /// A density.
    Density,
    /// How many copies of a label are made.
    Copies,
    /// How many centre runs a trial's block has.
    Centres,
    /// The seed of a trial's order.
    Seed,
    /// The slope of a panel.
    Slope,
    /// When a planned pour is.
    PlannedPour,
    /// A reading of nothing.
    Reading,
    /// A stirring of no time.
    Stirring,
    /// The day on which the demo is made.
    DemoDay,
}
