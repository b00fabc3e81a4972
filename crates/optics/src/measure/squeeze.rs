//! The squeeze that an adapter really has, from something round or square in a frame taken through it.

use language::key;
use units::{FieldError, QuantityError, checked_field};

use crate::adapter::{FrameAxis, Squeeze, SqueezeError};
use crate::measure::{MeasureError, between};

/// A squeeze that was measured, with how well it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredSqueeze {
    /// How many times more the adapter sees along its axis.
    pub squeeze: Squeeze,
    /// Its standard uncertainty as a share of it.
    pub relative_sd: f64,
}

/// A circle or a square as it lies in a frame taken through the adapter, as captured, not yet desqueezed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundThing {
    across_px: f64,
    down_px: f64,
    edge_sd_px: f64,
    width_over_height: f64,
    width_over_height_sd: f64,
}

impl RoundThing {
    /// A circle or a square between its left and right and its upper and lower edges, each pair in either order, in a frame
    /// of `size_px`, width first.
    ///
    /// `ratio` is its true width over its height with the standard uncertainty: 1 for a circle.
    ///
    /// # Errors
    /// Names what is out of range: `left_px`, `right_px`, `top_px`, `bottom_px`, `edge_sd_px` (at most a quarter of the
    /// smaller side), `width_over_height` (0.1 to 10), `width_over_height_sd`, or edges that are one place.
    pub fn new(
        across_px: (f64, f64),
        down_px: (f64, f64),
        edge_sd_px: f64,
        size_px: (f64, f64),
        ratio: (f64, f64),
    ) -> Result<Self, MeasureError> {
        let across_px = between(("right_px", ["left_px", "right_px"]), across_px, size_px.0)?;
        let down_px = between(("bottom_px", ["top_px", "bottom_px"]), down_px, size_px.1)?;
        let unit = key!("(width over height)");
        Ok(Self {
            edge_sd_px: checked_field("edge_sd_px", edge_sd_px, 0.0, across_px.min(down_px) / 4.0, "px")?,
            width_over_height: checked_field("width_over_height", ratio.0, 0.1, 10.0, unit)?,
            width_over_height_sd: checked_field("width_over_height_sd", ratio.1, 0.0, ratio.0, unit)?,
            across_px,
            down_px,
        })
    }

    /// The squeeze along `axis` of the frame.
    ///
    /// ```text
    /// S = r y / x  along the width,          S = x / (r y)  along the height
    /// (u(S)/S)² = (u(r)/r)² + 2 (u(e)/x)² + 2 (u(e)/y)²
    /// ```
    /// `x`, `y` extents across and down (px); `r` true width over height (0.1 to 10); `u(e)` standard uncertainty of each
    /// edge (px); `S` squeeze (1 to 3). Assumes the thing flat and square to the look, square pixels and no distortion; the
    /// distance drops out, and so does where in the frame it is.
    ///
    /// # Errors
    /// Names `squeeze` if what follows is not 1 to 3.
    ///
    /// # Source
    /// `Saleh1991`, section 1.4 (an afocal pair divides tangents); `Jcgm2008`, 5.1.6 (a quotient).
    ///
    /// # Examples
    /// A plate 300 px across and 399 px down was squeezed 1.33 times in width:
    /// ```
    /// use optics::{FrameAxis, RoundThing};
    /// let plate = RoundThing::new((500.0, 800.0), (100.0, 499.0), 1.0, (1920.0, 1080.0), (1.0, 0.0))?;
    /// let squeeze = plate.squeeze_along(FrameAxis::Width)?;
    /// assert!((squeeze.squeeze.to_f64() - 1.33).abs() < 1e-12);
    /// # Ok::<(), optics::MeasureError>(())
    /// ```
    pub fn squeeze_along(&self, axis: FrameAxis) -> Result<MeasuredSqueeze, MeasureError> {
        let squeezed_in_width = self.width_over_height * self.down_px / self.across_px;
        let factor = match axis {
            FrameAxis::Width => squeezed_in_width,
            FrameAxis::Height => 1.0 / squeezed_in_width,
        };
        // The range is the squeeze's own; the words are those of every range here.
        let squeeze = Squeeze::new(factor).map_err(|SqueezeError { value }| FieldError {
            field: "squeeze",
            source: QuantityError::OutOfRange {
                value,
                min: Squeeze::LEAST,
                max: Squeeze::MOST,
                unit: key!("(factor)"),
            },
        })?;
        let parts = [
            self.width_over_height_sd / self.width_over_height,
            std::f64::consts::SQRT_2 * self.edge_sd_px / self.across_px,
            std::f64::consts::SQRT_2 * self.edge_sd_px / self.down_px,
        ];
        Ok(MeasuredSqueeze { squeeze, relative_sd: libm::sqrt(parts.iter().map(|part| part * part).sum()) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const FRAME: (f64, f64) = (1920.0, 1080.0);

    fn plate(across: (f64, f64), down: (f64, f64)) -> RoundThing {
        RoundThing::new(across, down, 1.0, FRAME, (1.0, 0.0)).expect("a plate")
    }

    #[test]
    fn a_phone_held_upright_squeezes_the_height() {
        let seen = plate((100.0, 499.0), (200.0, 500.0)).squeeze_along(FrameAxis::Height).expect("a squeeze");
        assert!((seen.squeeze.to_f64() - 1.33).abs() < 1e-12, "{seen:?}");
    }

    #[test]
    fn a_poster_counts_by_its_true_shape() {
        // 2 wide by 1 high, seen 600 by 399 px: 600 px would be 798 without the squeeze.
        let poster = RoundThing::new((0.0, 600.0), (0.0, 399.0), 1.0, FRAME, (2.0, 0.002)).expect("a poster");
        let seen = poster.squeeze_along(FrameAxis::Width).expect("a squeeze");
        assert!((seen.squeeze.to_f64() - 1.33).abs() < 1e-12, "{seen:?}");
        assert!(seen.relative_sd > 0.001, "{seen:?}");
    }

    #[test]
    fn the_uncertainty_is_that_of_small_changes() {
        let factor = |right: f64, bottom: f64| {
            plate((500.0, right), (100.0, bottom))
                .squeeze_along(FrameAxis::Width)
                .expect("a squeeze")
                .squeeze
                .to_f64()
        };
        let base = factor(800.0, 499.0);
        let by_right = (factor(800.1, 499.0) - base) * 10.0;
        let by_bottom = (factor(800.0, 499.1) - base) * 10.0;
        let expected = libm::sqrt(2.0 * by_right.powi(2) + 2.0 * by_bottom.powi(2)) / base;
        let sd = plate((500.0, 800.0), (100.0, 499.0))
            .squeeze_along(FrameAxis::Width)
            .expect("a squeeze")
            .relative_sd;
        assert!((sd / expected - 1.0).abs() < 2e-3, "{sd} is not {expected}");
    }

    #[test]
    fn what_cannot_be_is_refused_by_name() {
        let told = |across, down, sd, ratio| {
            RoundThing::new(across, down, sd, FRAME, ratio).expect_err("refused").to_string()
        };
        assert_eq!(
            told((500.0, 2000.0), (1.0, 9.0), 1.0, (1.0, 0.0)),
            "right_px: 2000 px is not allowed: 0 to 1920 px"
        );
        assert_eq!(
            told((500.0, 800.0), (9.0, 9.0), 1.0, (1.0, 0.0)),
            "bottom_px: both ends are at 9 px: put one on each end"
        );
        assert!(told((500.0, 800.0), (0.0, 400.0), 90.0, (1.0, 0.0)).starts_with("edge_sd_px: 90 px"));
        assert!(told((500.0, 800.0), (0.0, 400.0), 1.0, (0.0, 0.0)).starts_with("width_over_height: 0 "));
        let wrong_axis = plate((500.0, 800.0), (100.0, 499.0)).squeeze_along(FrameAxis::Height);
        assert!(
            wrong_axis.expect_err("refused").to_string().starts_with("squeeze: 0.75"),
            "the other axis would be stretched"
        );
    }

    proptest! {
        #[test]
        fn edges_in_any_order_give_the_same(x0 in 0.0..900.0_f64, x1 in 950.0..1900.0_f64, share in 0.4..0.99_f64) {
            let height = (x1 - x0) / share;
            prop_assume!(height < 1080.0);
            let one = plate((x0, x1), (0.0, height)).squeeze_along(FrameAxis::Width);
            prop_assert_eq!(&one, &plate((x1, x0), (height, 0.0)).squeeze_along(FrameAxis::Width));
            let one = one.expect("1 to 2.5");
            prop_assert!((one.squeeze.to_f64() * share - 1.0).abs() < 1e-12, "{:?}", one);
        }
    }
}
