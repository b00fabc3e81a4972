//! The clip-on anamorphic adapter: an afocal pair of cylinder lenses before the phone's own.

use std::fmt;

use language::{Number, say};
use units::Stops;

/// A direction in the image.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FrameAxis {
    /// Along the rows.
    Width,
    /// Along the columns.
    Height,
}

/// How the squeezed image is brought back to shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Desqueeze {
    /// The squeezed side grows by the squeeze: pixels that were not captured are made up.
    #[default]
    Stretch,
    /// The other side shrinks by the squeeze: captured pixels are given up.
    Shrink,
}

/// How many times more an adapter sees along its axis: 1 to 3.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Squeeze(f64);

/// A clip-on anamorphic adapter as it sits for one recording.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Adapter {
    /// How many times more it sees along its axis.
    pub squeeze: Squeeze,
    /// Whether it can be focused; the usual clip-on cannot.
    pub focusing: bool,
    /// The image axis that it squeezes.
    pub axis: FrameAxis,
    /// How the image is brought back to shape.
    pub desqueeze: Desqueeze,
    /// The light it takes.
    pub light_loss: Stops,
}

/// Why a squeeze is not usable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SqueezeError {
    /// The value as given.
    pub value: f64,
}

impl fmt::Display for SqueezeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&say!("{} (factor) is not allowed: 1 to 3 (factor)", Number(self.value)))
    }
}

impl std::error::Error for SqueezeError {}

impl Squeeze {
    /// An adapter that squeezes nothing.
    pub(crate) const LEAST: f64 = 1.0;
    /// Chosen because none that is clipped on squeezes as much.
    pub(crate) const MOST: f64 = 3.0;

    /// A squeeze of that factor.
    ///
    /// # Errors
    /// Refuses what is not 1 to 3.
    pub fn new(factor: f64) -> Result<Self, SqueezeError> {
        if (Self::LEAST..=Self::MOST).contains(&factor) {
            Ok(Self(factor))
        } else {
            Err(SqueezeError { value: factor })
        }
    }

    /// As a bare factor.
    pub const fn to_f64(self) -> f64 {
        self.0
    }
}

impl Adapter {
    /// An adapter that squeezes the image's width, cannot focus and takes no light.
    pub const fn new(squeeze: Squeeze) -> Self {
        Self {
            squeeze,
            focusing: false,
            axis: FrameAxis::Width,
            desqueeze: Desqueeze::Stretch,
            light_loss: Stops::ZERO,
        }
    }

    /// How many times more it sees along `axis`.
    pub fn squeeze_along(&self, axis: FrameAxis) -> f64 {
        if axis == self.axis { self.squeeze.to_f64() } else { 1.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_squeeze_out_of_range_is_refused_with_the_range() {
        for factor in [0.99, 3.01, f64::NAN] {
            assert!(Squeeze::new(factor).is_err(), "{factor}");
        }
        let error = Squeeze::new(4.0).expect_err("refused");
        assert_eq!(error.to_string(), "4 (factor) is not allowed: 1 to 3 (factor)");
    }

    #[test]
    fn an_adapter_squeezes_one_axis() {
        let upright =
            Adapter { axis: FrameAxis::Height, ..Adapter::new(Squeeze::new(1.5).expect("in range")) };
        let along = |axis| upright.squeeze_along(axis).to_string();
        assert_eq!((along(FrameAxis::Height), along(FrameAxis::Width)), ("1.5".into(), "1".into()));
    }
}
