//! How close a number must come to the one that was told: `near` by a distance, `in_share` by a part of it.

use serde_json::Value;

/// Fails unless a number is within a distance of the one told.
#[track_caller]
pub fn near(found: f64, told: f64, within: f64) {
    assert!(
        (found - told).abs() <= within,
        "found {found}, told {told} within {within}"
    );
}

/// The same of a number in JSON.
#[track_caller]
pub fn near_json(found: &Value, told: f64, within: f64) {
    near(found.as_f64().unwrap(), told, within);
}

/// Fails unless a number is within a part of the one told.
#[track_caller]
pub fn in_share(found: f64, told: f64, part: f64) {
    near(found, told, part * told.abs());
}
