//! What a shot's setup is checked with.

use staging::{Setup, Shot};

pub(crate) fn resolved(shot: &Shot) -> Setup {
    shot.resolve(shot.frame()).expect("a setup")
}

pub(crate) fn assert_near(value: f64, expected: f64, within: f64) {
    assert!((value - expected).abs() <= within, "{value} is not {expected}");
}
