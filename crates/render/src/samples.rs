//! Where in its pixel, on the lens, in time and on the sun each sample of a picture is taken.
//!
//! All pixels share one sequence, each turned by an amount of its own. Pairs of coordinates are Sobol' points, which
//! fill any square evenly after any power of two, scrambled so that pairs have nothing to do with each other.
//!
//! # Source
//! `Burley2020`, with the hash of Laine and Karras as given there; Sobol's own first two dimensions (1967).

use std::f64::consts::TAU;

use crate::lanes::{Lanes, WIDTH, all, narrow};

/// Four samples of the sequence, before a pixel turns them: all coordinates in 0..1.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Group {
    pub(crate) column: Lanes,
    pub(crate) row: Lanes,
    pub(crate) time: Lanes,
    pub(crate) lens: Polar,
    pub(crate) sun: Polar,
}

/// Four points of a disc: the share of its area that is nearer to the middle, and the direction.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Polar {
    pub(crate) area: Lanes,
    pub(crate) cos: Lanes,
    pub(crate) sin: Lanes,
}

/// How one pixel turns the sequence.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Turn {
    pub(crate) column: f32,
    pub(crate) row: f32,
    pub(crate) time: f32,
    pub(crate) lens: PolarTurn,
    pub(crate) sun: PolarTurn,
}

/// How one pixel turns points of a disc.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PolarTurn {
    pub(crate) area: f32,
    pub(crate) cos: f32,
    pub(crate) sin: f32,
}

/// Makes samples and turns.
#[derive(Debug, Clone)]
pub(crate) struct Sampler {
    /// Cosines and sines all the way round.
    round: Vec<(f32, f32)>,
}

/// Directions that a pixel can turn by: chosen because a step of 1.4° is far less than between the samples of a disc.
const DIRECTIONS: u32 = 256;

impl Sampler {
    pub(crate) fn new() -> Self {
        let round = (0..DIRECTIONS)
            .map(|step| {
                let angle = TAU * f64::from(step) / f64::from(DIRECTIONS);
                (narrow(libm::cos(angle)), narrow(libm::sin(angle)))
            })
            .collect();
        Self { round }
    }

    /// Samples `4 index` to `4 index + 3`.
    #[expect(clippy::unused_self, reason = "samples come from the sampler, whichever way it makes them")]
    pub(crate) fn group(&self, index: u32) -> Group {
        let mut coordinates = [[0.0_f32; WIDTH]; 9];
        for (lane, sample) in (index * 4..).take(WIDTH).enumerate() {
            let (column, row) = point(sample, 0x9e37_79b9);
            let (lens_area, lens_round) = point(sample, 0x7f4a_7c15);
            let (sun_area, sun_round) = point(sample, 0x85eb_ca6b);
            let (time, _) = point(sample, 0xc2b2_ae35);
            let (lens, sun) = (direction(lens_round), direction(sun_round));
            let values = [column, row, time, lens_area, lens.0, lens.1, sun_area, sun.0, sun.1];
            for (coordinate, value) in coordinates.iter_mut().zip(values) {
                coordinate[lane] = narrow(value);
            }
        }
        let [column, row, time, lens_area, lens_cos, lens_sin, sun_area, sun_cos, sun_sin] =
            coordinates.map(Lanes::new);
        Group {
            column,
            row,
            time,
            lens: Polar { area: lens_area, cos: lens_cos, sin: lens_sin },
            sun: Polar { area: sun_area, cos: sun_cos, sin: sun_sin },
        }
    }

    /// The turn of the pixel in that column and row.
    pub(crate) fn turn(&self, column: u32, row: u32) -> Turn {
        let seed = mixed(column ^ mixed(row ^ 0x68bc_21eb));
        let (a, b, c) = (mixed(seed ^ 0x02e5_be93), mixed(seed ^ 0x967a_889b), mixed(seed ^ 0x368c_c8b7));
        let polar = |area: u32, round: u32| {
            let (cos, sin) = self.round.get((round % DIRECTIONS) as usize).copied().unwrap_or((1.0, 0.0));
            PolarTurn { area: sixteen_bits(area), cos, sin }
        };
        Turn {
            column: sixteen_bits(seed),
            row: sixteen_bits(seed >> 16),
            time: sixteen_bits(a),
            lens: polar(a >> 16, b),
            sun: polar(b >> 16, c),
        }
    }
}

impl Polar {
    /// The points of the unit disc, after a turn.
    pub(crate) fn turned(&self, turn: PolarTurn) -> (Lanes, Lanes) {
        let radius = crate::lanes::wrap(self.area + all(turn.area)).sqrt();
        let (cos, sin) = (all(turn.cos), all(turn.sin));
        (radius * (self.cos * cos - self.sin * sin), radius * (self.sin * cos + self.cos * sin))
    }
}

/// A whole turn's share as cosine and sine.
fn direction(share: f64) -> (f64, f64) {
    (libm::cos(TAU * share), libm::sin(TAU * share))
}

/// The lower sixteen bits as a share of 0..1.
fn sixteen_bits(bits: u32) -> f32 {
    narrow(f64::from(bits & 0xffff) / 65_536.0)
}

/// A scrambled point of the first two Sobol' dimensions.
fn point(index: u32, seed: u32) -> (f64, f64) {
    let shuffled = scrambled(index, seed);
    let (first, second) = (shuffled.reverse_bits(), second_dimension(shuffled));
    let share = |bits: u32| f64::from(bits >> 8) / 16_777_216.0;
    (share(scrambled(first, mixed(seed))), share(scrambled(second, mixed(seed ^ 0x5bd1_e995))))
}

/// The second Sobol' dimension: its direction numbers are the rows of Pascal's triangle modulo 2.
fn second_dimension(index: u32) -> u32 {
    let (mut value, mut direction) = (0, 1_u32 << 31);
    let mut rest = index;
    while rest != 0 {
        if rest & 1 == 1 {
            value ^= direction;
        }
        direction ^= direction >> 1;
        rest >>= 1;
    }
    value
}

/// Owen scrambling of a number that is read from its highest bit down: each bit is flipped by a hash of those above it.
fn scrambled(value: u32, seed: u32) -> u32 {
    let mut bits = value.reverse_bits();
    bits = bits.wrapping_add(seed);
    bits ^= bits.wrapping_mul(0x6c50_b47c);
    bits ^= bits.wrapping_mul(0xb82f_1e52);
    bits ^= bits.wrapping_mul(0xc7af_e638);
    bits ^= bits.wrapping_mul(0x8d22_f6e6);
    bits.reverse_bits()
}

/// A hash in which every bit of the input moves every bit of the output (`lowbias32` by C. Wellons, 2018).
fn mixed(mut bits: u32) -> u32 {
    bits ^= bits >> 16;
    bits = bits.wrapping_mul(0x7feb_352d);
    bits ^= bits >> 15;
    bits = bits.wrapping_mul(0x846c_a68b);
    bits ^ (bits >> 16)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_sixteen_points_fill_every_even_division_of_the_square() {
        for seed in [1, 0x9e37_79b9, 77] {
            for (columns, rows) in [(16, 1), (8, 2), (4, 4), (2, 8), (1, 16)] {
                let cell = |share: f64, count: i32| {
                    (0..count).filter(|edge| share >= f64::from(*edge) / f64::from(count)).count()
                };
                let mut cells: Vec<_> = (0..16)
                    .map(|index| point(index, seed))
                    .map(|(x, y)| (cell(x, columns), cell(y, rows)))
                    .collect();
                cells.sort_unstable();
                cells.dedup();
                assert_eq!(cells.len(), 16, "{seed} {columns} x {rows}");
            }
        }
    }

    #[test]
    fn turned_points_stay_in_the_disc() {
        let sampler = Sampler::new();
        let (x, y) = sampler.group(3).lens.turned(sampler.turn(17, 4).lens);
        for (x, y) in x.to_array().into_iter().zip(y.to_array()) {
            assert!(x.hypot(y) <= 1.0 + 1e-6, "{x} {y}");
        }
    }

    #[test]
    fn neighbours_turn_differently() {
        let sampler = Sampler::new();
        let turns = [(0, 0), (1, 0), (0, 1), (1, 1)].map(|(column, row)| sampler.turn(column, row).column);
        for (at, turn) in turns.iter().enumerate() {
            assert!(turns.iter().skip(at + 1).all(|other| (other - turn).abs() > 1e-3), "{turns:?}");
        }
    }
}
