//! The light of a picture in blocks, and of the wall that it shows.

use crate::measure::as_f64;
use crate::measure::corners::{GreyFrame, LitWallError};
use crate::srgb::srgb_light;

/// Blocks along the longer side: chosen so that each holds hundreds of a camera's pixels, which takes its noise away, and
/// the edge of what is clear is found to about a hundredth of the frame.
const BLOCKS: usize = 64;

/// Up to this share of the half-diagonal the wall's own light is looked at: chosen because clip-on adapters leave as much
/// clear.
const WALL_WITHIN: f64 = 0.5;

/// Up to this share of the half-diagonal it is the middle: chosen large enough for a hundred blocks.
const MIDDLE_WITHIN: f64 = 0.2;

/// The most that a wall's own light may change from the middle to a corner: chosen because a straight line through the
/// light is no longer near enough beyond that.
pub(super) const MOST_UNEVEN: f64 = 0.5;

/// The least light of the middle: chosen as sRGB 25 of 255, below which cameras crush shadows.
const LEAST_LIGHT: f64 = 0.01;

/// A byte from which on a pixel counts as burnt out: chosen because encoders seldom write the last few.
const BURNT_OUT: u8 = 251;

/// Steps along each direction, over the half-diagonal: chosen finer than blocks are.
const STEPS: u32 = 256;

/// Mean light of blocks of a frame, and where they are: as shares of the half-diagonal from its middle, right and down.
pub(super) struct Blocks {
    across: usize,
    down: usize,
    light: Vec<f64>,
    burnt_out: Vec<f64>,
    /// Half the frame's sides over its half-diagonal.
    pub(super) half: (f64, f64),
}

/// The wall's own light: in the middle, and its slopes to the right and down, over the half-diagonal.
pub(super) struct Wall {
    middle: f64,
    right: f64,
    down: f64,
}

impl Wall {
    fn light_at(&self, x: f64, y: f64) -> f64 {
        self.middle + self.right * x + self.down * y
    }

    /// How much it changes from the middle to a corner, as a share.
    pub(super) fn uneven_share(&self) -> f64 {
        libm::hypot(self.right, self.down) / self.middle
    }
}

impl Blocks {
    /// The light of a picture in blocks, its bytes read as sRGB.
    ///
    /// Cameras bend their curves further; near the middle's own level that matters little, and half of the light is told as
    /// half to about a fifth of a stop.
    ///
    /// # Source
    /// How far cameras are off the standard's curve is from memory.
    pub(super) fn of(frame: &GreyFrame<'_>) -> Self {
        let longer = frame.width_px.max(frame.height_px);
        let count = |side: usize| (side * BLOCKS).div_ceil(longer).max(8);
        let (across, down) = (count(frame.width_px), count(frame.height_px));
        let mut table = [0.0; 256];
        for (byte, light) in (0..=u8::MAX).zip(table.iter_mut()) {
            *light = srgb_light(byte);
        }
        let mut light = Vec::with_capacity(across * down);
        let mut burnt_out = Vec::with_capacity(across * down);
        for row in 0..down {
            for column in 0..across {
                let (left, right) = span(column, across, frame.width_px);
                let (top, bottom) = span(row, down, frame.height_px);
                let rows = (top..bottom)
                    .filter_map(|y| frame.grey.get(y * frame.width_px + left..y * frame.width_px + right));
                let (mut sum, mut burnt, mut pixels) = (0.0, 0.0, 0.0);
                for byte in rows.flatten() {
                    sum += table[usize::from(*byte)];
                    burnt += if *byte >= BURNT_OUT { 1.0 } else { 0.0 };
                    pixels += 1.0;
                }
                light.push(sum / pixels);
                burnt_out.push(burnt / pixels);
            }
        }
        let (width, height) = (as_f64(frame.width_px), as_f64(frame.height_px));
        let diagonal = libm::hypot(width, height);
        Self { across, down, light, burnt_out, half: (width / diagonal, height / diagonal) }
    }

    /// Where a block's centre is.
    fn place(&self, column: usize, row: usize) -> (f64, f64) {
        let from_middle = |at: usize, count: usize| (as_f64(at) + 0.5) / as_f64(count) * 2.0 - 1.0;
        (from_middle(column, self.across) * self.half.0, from_middle(row, self.down) * self.half.1)
    }

    /// The blocks up to a share of the half-diagonal: where they are, their light, and how much of them is burnt out.
    fn up_to(&self, share: f64) -> impl Iterator<Item = ((f64, f64), f64, f64)> {
        let places =
            (0..self.down).flat_map(move |row| (0..self.across).map(move |column| self.place(column, row)));
        let known = self.light.iter().zip(&self.burnt_out);
        let known = places.zip(known).map(|(place, (light, burnt))| (place, *light, *burnt));
        known.filter(move |((x, y), ..)| libm::hypot(*x, *y) <= share)
    }

    /// The wall's own light.
    pub(super) fn wall(&self) -> Result<Wall, LitWallError> {
        let mut middle: Vec<f64> = self.up_to(MIDDLE_WITHIN).map(|(_, light, _)| light).collect();
        middle.sort_by(f64::total_cmp);
        let light = middle.get(middle.len() / 2).copied().unwrap_or(0.0);
        if light < LEAST_LIGHT {
            return Err(LitWallError::TooDark);
        }
        let burnt: f64 = self.up_to(MIDDLE_WITHIN).map(|(.., burnt)| burnt).sum();
        // A tenth: chosen because specks of glare do not count.
        if burnt > 0.1 * as_f64(middle.len()) {
            return Err(LitWallError::BurntOut);
        }
        // Blocks lie evenly to all sides of the middle, so both slopes come out each by itself.
        let (mut right, mut down) = ((0.0, 0.0), (0.0, 0.0));
        for ((x, y), light, _) in self.up_to(WALL_WITHIN) {
            right = (right.0 + x * light, right.1 + x * x);
            down = (down.0 + y * light, down.1 + y * y);
        }
        let wall = Wall { middle: light, right: right.0 / right.1, down: down.0 / down.1 };
        if wall.uneven_share() > MOST_UNEVEN {
            return Err(LitWallError::Uneven { share: wall.uneven_share() });
        }
        Ok(wall)
    }

    /// The light at a place, between the centres of blocks.
    fn light_at(&self, x: f64, y: f64) -> f64 {
        let along = |at: f64, half: f64, count: usize| {
            let most = as_f64(count - 1);
            let place = ((0.5 + at / half / 2.0) * as_f64(count) - 0.5).max(0.0).min(most);
            let first = floor_index(place).min(count.saturating_sub(2));
            (first, place - as_f64(first))
        };
        let (column, right) = along(x, self.half.0, self.across);
        let (row, down) = along(y, self.half.1, self.down);
        let at = |column: usize, row: usize| {
            self.light.get(row * self.across + column).copied().unwrap_or_default()
        };
        let upper = at(column, row) * (1.0 - right) + at(column + 1, row) * right;
        let lower = at(column, row + 1) * (1.0 - right) + at(column + 1, row + 1) * right;
        upper * (1.0 - down) + lower * down
    }

    /// How far out from the middle it is clear towards a place on the frame's edge, over the half-diagonal, and whether
    /// anything beyond is darkened.
    pub(super) fn reach(&self, wall: &Wall, limit: f64, to_x: f64, to_y: f64) -> (f64, bool) {
        let whole = libm::hypot(to_x, to_y);
        let excess = |share: f64| {
            let (x, y) = (to_x * share, to_y * share);
            self.light_at(x, y) / wall.light_at(x, y) - limit
        };
        let mut outer = excess(1.0);
        if outer >= 0.0 {
            return (whole, false);
        }
        for step in (0..STEPS).rev() {
            let share = f64::from(step) / f64::from(STEPS);
            let inner = excess(share);
            if inner >= 0.0 {
                // Between two steps the light goes straight.
                let crossing = share + inner / (inner - outer) / f64::from(STEPS);
                return (whole * crossing, true);
            }
            outer = inner;
        }
        (0.0, true)
    }
}

/// The pixels of one of `count` blocks along a side.
const fn span(at: usize, count: usize, side_px: usize) -> (usize, usize) {
    (at * side_px / count, (at + 1) * side_px / count)
}

/// The whole number below a place among blocks.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a place is between 0 and the count of blocks"
)]
fn floor_index(place: f64) -> usize {
    place as usize
}
