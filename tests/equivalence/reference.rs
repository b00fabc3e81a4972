//! The figures of equivalence, as its reference has them.

use serde::Deserialize;

/// The full frame, and the frames of digital cinema.
#[derive(Debug, Deserialize)]
pub(crate) struct Equivalence {
    pub(crate) full_frame_mm: (f64, f64),
    pub(crate) cinema: Vec<Cinema>,
}

/// A frame within its container.
#[derive(Debug, Deserialize)]
pub(crate) struct Cinema {
    pub(crate) container_px: (u32, u32),
    pub(crate) aspect: String,
    pub(crate) frame_px: (u32, u32),
}

impl Equivalence {
    pub(crate) fn read() -> Self {
        toml::from_str(include_str!("../reference/equivalence.toml")).expect("the reference")
    }
}
