//! Why labels do not lie on their paper.

/// Why labels do not lie on their paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LabelFault {
    /// None on a sheet, or more than any holds: across and down.
    Count(u32, u32),
    /// The paper is too small, in millimetres.
    Paper {
        /// How many across and down.
        count: (u32, u32),
        /// The width and the height that they need.
        needs: (f64, f64),
        /// Those of the paper.
        has: (f64, f64),
    },
    /// A first place that a sheet of so many does not have.
    Place(u32, u32),
    /// A label of these millimetres, which nobody can read, or which is larger than a roll.
    Size(f64, f64),
}
