//! What `--json` answers, as types: each view is one object, and its schema stands in `assets/json-schema/`.

mod remarks;

pub use remarks::Remarked;
