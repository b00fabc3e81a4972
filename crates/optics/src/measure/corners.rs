//! Where an adapter darkens the frame, from a picture of an evenly lit wall taken through it.

mod blocks;

use std::fmt;

use blocks::{Blocks, MOST_UNEVEN};
use language::{Number, say};

/// The share of the middle's light below which a place counts as darkened: half, which is one stop. Common practice.
pub const STOP_DOWN: f64 = 0.5;

/// A picture in greys as cameras write them: one byte a pixel, in sRGB, row by row from the upper left.
#[derive(Debug, Clone, Copy)]
pub struct GreyFrame<'bytes> {
    width_px: usize,
    height_px: usize,
    grey: &'bytes [u8],
}

/// Something for each corner of a frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corners<T> {
    /// The upper left one.
    pub top_left: T,
    /// The upper right one.
    pub top_right: T,
    /// The lower left one.
    pub bottom_left: T,
    /// The lower right one.
    pub bottom_right: T,
}

/// Where the light of a frame falls below a share of the middle's.
#[derive(Debug, Clone, PartialEq)]
pub struct CornerLight {
    /// The share of the half-diagonal up to which all of the frame is clear, in every direction; 1 if nothing is darkened.
    pub clear_share: f64,
    /// The same towards each corner alone.
    pub corners: Corners<f64>,
    /// The edge of what is clear, all around from the right by the bottom, in shares of the frame's width and height.
    pub outline: Vec<(f64, f64)>,
    /// How much the wall's own light changes from the middle to a corner, as a share; it is divided out.
    pub uneven_share: f64,
}

/// Why a picture says nothing about the corners.
#[non_exhaustive]
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LitWallError {
    /// Fewer pixels than are needed, or other than were told.
    Size {
        /// Pixels along the rows.
        width_px: usize,
        /// Pixels along the columns.
        height_px: usize,
        /// How many bytes were given.
        bytes: usize,
    },
    /// A share of the middle's light that is no limit.
    Limit {
        /// The share as given.
        share: f64,
    },
    /// The middle is as good as black.
    TooDark,
    /// The middle is burnt out, so that how much light falls there is not known.
    BurntOut,
    /// The wall is lit so unevenly that the adapter's part cannot be told apart.
    Uneven {
        /// How much its light changes from the middle to a corner, as a share.
        share: f64,
    },
}

impl fmt::Display for LitWallError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Size { width_px, height_px, bytes } => f.write_str(&say!(
                "{width_px} x {height_px} px in {bytes} bytes is not allowed: {LEAST_SIDE_PX} px or more a side, a \
                 byte a pixel"
            )),
            Self::Limit { share } => {
                let share = Number(share);
                f.write_str(&say!(
                    "{share} (share of the middle's light) is not allowed: 0.05 to 0.95 (share of the middle's light)"
                ))
            }
            Self::TooDark => f.write_str(say!(
                "the middle is too dark to compare with: give the wall more light, or expose longer"
            )),
            Self::BurntOut => {
                f.write_str(say!("the middle is burnt out: expose less, until nothing of the wall is white"))
            }
            Self::Uneven { share } => f.write_str(&say!(
                "the wall's light changes by {:.0} % from the middle to a corner: at most {:.0} %; find a wall that is \
                 lit evenly",
                share * 100.0,
                MOST_UNEVEN * 100.0
            )),
        }
    }
}

impl std::error::Error for LitWallError {}

/// The least side of a picture: chosen as one pixel for each block.
const LEAST_SIDE_PX: usize = 64;

/// Directions that are looked along, beside the four corners: chosen as one for every 3 degrees.
const DIRECTIONS: u32 = 120;

impl<'bytes> GreyFrame<'bytes> {
    /// A picture of that size.
    ///
    /// # Errors
    /// Refuses sides below 64 px, and bytes that are not as many as its pixels.
    pub fn new(width_px: usize, height_px: usize, grey: &'bytes [u8]) -> Result<Self, LitWallError> {
        let fits = width_px >= LEAST_SIDE_PX
            && height_px >= LEAST_SIDE_PX
            && width_px.checked_mul(height_px) == Some(grey.len());
        if !fits {
            return Err(LitWallError::Size { width_px, height_px, bytes: grey.len() });
        }
        Ok(Self { width_px, height_px, grey })
    }

    /// Where the light falls below `limit` of the middle's, 0.05 to 0.95; half is [`STOP_DOWN`].
    ///
    /// ```text
    /// e(x, y) = L(x, y) / (m + a x + b y)
    /// ```
    /// `L` mean light of blocks, so that noise counts little; `m` its median in the middle; `a`, `b` the slopes of a wall lit
    /// from one side, fitted where adapters leave all clear, by least squares; a fall-off that is the same to all sides
    /// leaves them alone. From the frame's edge inwards the place is searched where `e` first reaches the limit, so a dark
    /// spot on the wall does not count; the share is that place's distance from the middle over the half-diagonal.
    /// What the phone's own lens darkens is in it.
    ///
    /// # Errors
    /// A limit out of range, and a wall that is too dark, burnt out or lit too unevenly.
    ///
    /// # Source
    /// `Aitken1935` for the fit (equal weights); which light counts as clear is common practice, see [`STOP_DOWN`].
    pub fn corner_light(&self, limit: f64) -> Result<CornerLight, LitWallError> {
        if !(0.05..=0.95).contains(&limit) {
            return Err(LitWallError::Limit { share: limit });
        }
        let blocks = Blocks::of(self);
        let wall = blocks.wall()?;
        let reach = |x: f64, y: f64| blocks.reach(&wall, limit, x, y);
        let (half_x, half_y) = blocks.half;
        let corners = Corners {
            top_left: reach(-half_x, -half_y).0,
            top_right: reach(half_x, -half_y).0,
            bottom_left: reach(-half_x, half_y).0,
            bottom_right: reach(half_x, half_y).0,
        };
        let mut clear_share = 1.0_f64;
        for corner in [corners.top_left, corners.top_right, corners.bottom_left, corners.bottom_right] {
            clear_share = clear_share.min(corner);
        }
        let mut outline = Vec::new();
        for step in 0..DIRECTIONS {
            let angle = std::f64::consts::TAU * f64::from(step) / f64::from(DIRECTIONS);
            let (x, y) = (libm::cos(angle), libm::sin(angle));
            // Which of the frame's edges the direction meets first.
            let to_edge = (half_x / x.abs()).min(half_y / y.abs());
            let (share, darkened) = reach(x * to_edge, y * to_edge);
            if darkened {
                clear_share = clear_share.min(share);
            }
            outline.push((0.5 + x * share / half_x / 2.0, 0.5 + y * share / half_y / 2.0));
        }
        Ok(CornerLight { clear_share, corners, outline, uneven_share: wall.uneven_share() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::as_f64;
    use crate::srgb::srgb_byte;

    /// Numbers between -1 and 1 that look like chance.
    fn noise(seed: &mut u64) -> f64 {
        *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(*seed >> 33).expect("31 bits")) / f64::from(1_u32 << 30) - 1.0
    }

    /// A picture whose light is that of a function of the place over the half-diagonal, right and down, with noise.
    fn picture(size: (usize, usize), amount: f64, light: impl Fn(f64, f64) -> f64) -> Vec<u8> {
        let (width, height) = (as_f64(size.0), as_f64(size.1));
        let half = libm::hypot(width, height) / 2.0;
        let mut seed = 7;
        let mut bytes = Vec::new();
        for row in 0..size.1 {
            for column in 0..size.0 {
                let x = (as_f64(column) + 0.5 - width / 2.0) / half;
                let y = (as_f64(row) + 0.5 - height / 2.0) / half;
                bytes.push(srgb_byte((light(x, y) * (1.0 + amount * noise(&mut seed))).max(0.0)));
            }
        }
        bytes
    }

    const SIZE: (usize, usize) = (640, 360);

    fn seen(bytes: &[u8]) -> Result<CornerLight, LitWallError> {
        GreyFrame::new(SIZE.0, SIZE.1, bytes)?.corner_light(STOP_DOWN)
    }

    /// Clear up to 0.7, then falling to nothing at 0.9 in a straight line: half at 0.8.
    fn fall_off(x: f64, y: f64) -> f64 {
        ((0.9 - libm::hypot(x, y)) / 0.2).clamp(0.0, 1.0)
    }

    #[test]
    fn the_place_of_half_the_light_is_found() {
        let light = seen(&picture(SIZE, 0.0, |x, y| 0.4 * fall_off(x, y))).expect("a wall");
        assert!((light.clear_share - 0.8).abs() < 0.01, "{light:?}");
        for corner in [light.corners.top_left, light.corners.bottom_right] {
            assert!((corner - 0.8).abs() < 0.01, "{light:?}");
        }
        assert_eq!(light.outline.len(), 120);
    }

    #[test]
    fn noise_and_a_wall_lit_from_one_side_move_it_little() {
        let uneven = |x: f64, y: f64| 0.4 * (1.0 + 0.25 * x - 0.1 * y) * fall_off(x, y);
        let light = seen(&picture(SIZE, 0.3, uneven)).expect("a wall");
        assert!((light.clear_share - 0.8).abs() < 0.015, "{light:?}");
        assert!((light.uneven_share - libm::hypot(0.25, 0.1)).abs() < 0.02, "{light:?}");
    }

    #[test]
    fn an_adapter_that_sits_askew_darkens_one_side_more() {
        let askew = |x: f64, y: f64| 0.4 * fall_off(x + 0.06, y);
        let light = seen(&picture(SIZE, 0.05, askew)).expect("a wall");
        assert!(light.corners.top_right < light.corners.top_left - 0.06, "{light:?}");
        let least = light.corners.top_right.min(light.corners.bottom_right);
        assert!(light.clear_share <= least && light.clear_share > least - 0.02, "{light:?}");
    }

    #[test]
    fn a_clear_frame_is_clear_to_its_corners_whatever_hangs_on_the_wall() {
        let spot = |x: f64, y: f64| if libm::hypot(x - 0.5, y - 0.1) < 0.08 { 0.05 } else { 0.4 };
        let light = seen(&picture(SIZE, 0.1, spot)).expect("a wall");
        assert!((light.clear_share - 1.0).abs() < 1e-12, "{light:?}");
    }

    #[test]
    fn an_upright_frame_is_no_other() {
        let bytes = picture((360, 640), 0.05, |x, y| 0.4 * fall_off(x, y));
        let light =
            GreyFrame::new(360, 640, &bytes).expect("a picture").corner_light(STOP_DOWN).expect("a wall");
        assert!((light.clear_share - 0.8).abs() < 0.015, "{light:?}");
    }

    #[test]
    fn another_limit_is_found_where_it_is() {
        let bytes = picture(SIZE, 0.0, |x, y| 0.4 * fall_off(x, y));
        let frame = GreyFrame::new(SIZE.0, SIZE.1, &bytes).expect("a picture");
        let at = |limit| frame.corner_light(limit).expect("a wall").clear_share;
        assert!(
            (at(0.75) - 0.75).abs() < 0.012 && (at(0.25) - 0.85).abs() < 0.012,
            "{} {}",
            at(0.75),
            at(0.25)
        );
        assert_eq!(frame.corner_light(1.0), Err(LitWallError::Limit { share: 1.0 }));
    }

    #[test]
    fn a_wall_that_says_nothing_is_refused_in_words() {
        assert_eq!(seen(&picture(SIZE, 0.0, |_, _| 0.002)), Err(LitWallError::TooDark));
        assert_eq!(seen(&picture(SIZE, 0.0, |_, _| 1.0)), Err(LitWallError::BurntOut));
        let told = seen(&picture(SIZE, 0.0, |x, _| 0.4 * (1.0 + 0.8 * x))).expect_err("refused").to_string();
        assert!(told.starts_with("the wall's light changes by 79 %"), "{told}");
        let small = GreyFrame::new(63, 64, &[0; 63 * 64]).expect_err("refused").to_string();
        assert_eq!(small, "63 x 64 px in 4032 bytes is not allowed: 64 px or more a side, a byte a pixel");
    }
}
