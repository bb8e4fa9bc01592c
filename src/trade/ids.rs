//! The store's numbers, each of its own kind, so that none is taken for another.

use serde::{Deserialize, Serialize};

/// A cup.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct CupId(pub i64);

/// An entry of a cup's life.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct EntryId(pub i64);

/// A recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct RecipeId(pub i64);

/// A recipe's variant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct VariantId(pub i64);

/// A material.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct MaterialId(pub i64);
