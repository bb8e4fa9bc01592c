//! What names are of, where one cannot be used.

use crate::trade::material::MaterialKind;
use crate::trade::recipe::LayerKind;

/// What a name is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NameOf {
    /// A material.
    Material,
    /// A recipe.
    Recipe,
    /// What may be a part: a material or a recipe.
    Part,
    /// A factor.
    Factor,
}

/// What one of two things is that cannot be one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThingIs {
    /// A material, and the other is a recipe.
    Material,
    /// A recipe, and the other is a material.
    Recipe,
    /// A material of this kind.
    Kind(MaterialKind),
    /// A recipe for this layer.
    Layer(LayerKind),
}
