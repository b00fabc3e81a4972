//! How well everything that is given of a photo fits together.

use super::Sights;
use super::solve::Squares;

/// How well everything given fits together at the best fit.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotoFit {
    /// The sum of squares of what each number is off by, over its standard uncertainty.
    pub squares: f64,
    /// How many numbers more are given than are needed.
    pub spare: u32,
    /// What fits worst, and the root mean square of what its numbers are off by, over their standard uncertainties;
    /// none if nothing is given beyond what is needed.
    pub worst: Option<(SightsPart, f64)>,
}

/// Something that is given of a photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SightsPart {
    /// The horizon.
    Horizon,
    /// The phone's height.
    Height,
    /// Its tilt.
    Tilt,
    /// Its roll.
    Roll,
    /// The lens's focal length.
    Lens,
    /// An upright thing, by its index.
    Upright(usize),
    /// A board, by its index.
    Board(usize),
}

/// The standard normal distribution's 95 % limit from one side (a table's value, from memory).
const NORMAL_95: f64 = 1.6449;

impl PhotoFit {
    pub(super) fn of(sights: &Sights, squares: &Squares) -> Self {
        let whole = [
            (SightsPart::Horizon, squares.whole[0] + squares.whole[1], sights.horizon.map_or(0, |_| 2)),
            (SightsPart::Height, squares.whole[2], sights.height.map_or(0, |_| 1)),
            (SightsPart::Tilt, squares.whole[3], sights.tilt.map_or(0, |_| 1)),
            (SightsPart::Roll, squares.whole[4], sights.roll.map_or(0, |_| 1)),
            (SightsPart::Lens, squares.whole[5], 1),
        ];
        let uprights = squares.uprights.iter().enumerate();
        let boards = squares.boards.iter().enumerate();
        let parts: Vec<_> = whole
            .into_iter()
            .chain(uprights.map(|(index, squares)| (SightsPart::Upright(index), *squares, 5)))
            .chain(boards.map(|(index, squares)| (SightsPart::Board(index), *squares, 10)))
            .filter(|(_, _, numbers)| *numbers > 0)
            .collect();
        let numbers: u32 = parts.iter().map(|(_, _, numbers)| numbers).sum();
        // Four of the pose, three of every upright thing, five of every board.
        let unknowns: u32 = parts.iter().fold(4, |sum, (part, ..)| {
            sum + match part {
                SightsPart::Upright(_) => 3,
                SightsPart::Board(_) => 5,
                SightsPart::Horizon
                | SightsPart::Height
                | SightsPart::Tilt
                | SightsPart::Roll
                | SightsPart::Lens => 0,
            }
        });
        let spare = numbers.saturating_sub(unknowns);
        let off =
            parts.iter().map(|(part, squares, numbers)| (*part, libm::sqrt(squares / f64::from(*numbers))));
        let worst = off.reduce(|worst, next| if next.1 > worst.1 { next } else { worst });
        Self { squares: squares.sum(), spare, worst: worst.filter(|_| spare > 0) }
    }

    /// Whether it fits worse than nineteen in twenty do when everything is as well known as stated: something is marked
    /// in the wrong place, or is of another size.
    ///
    /// ```text
    /// χ² > k (1 − 2 / 9k + z √(2 / 9k))³
    /// ```
    /// `χ²` the sum of squares; `k` how many numbers are spare (≥ 1); `z` the normal distribution's 95 % limit.
    ///
    /// # Source
    /// `Wilson1931`, the cube root's nearly normal distribution.
    pub fn is_doubtful(&self) -> bool {
        let spare = f64::from(self.spare);
        let share = 2.0 / (9.0 * spare);
        let root = 1.0 - share + NORMAL_95 * libm::sqrt(share);
        self.spare > 0 && self.squares > spare * root * root * root
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Of the chi-squared distribution's table.
    #[test]
    fn doubt_begins_where_the_tables_have_it() {
        for (spare, limit) in [(1, 3.841), (2, 5.991), (3, 7.815), (5, 11.070), (10, 18.307), (30, 43.773)] {
            let doubtful = |squares| PhotoFit { squares, spare, worst: None }.is_doubtful();
            assert!(doubtful(limit * 1.03) && !doubtful(limit * 0.97), "{spare}");
        }
    }

    #[test]
    fn nothing_spare_is_never_in_doubt() {
        assert!(!PhotoFit { squares: 100.0, spare: 0, worst: None }.is_doubtful());
    }
}
