//! Where in its pixel, on the lens, in time and on the sun each sample of a picture is taken.
//!
//! All pixels share one sequence, each after one of a few patterns, which flip bits of their own in every coordinate. Pairs
//! of coordinates are Sobol' points, which fill any square evenly after any power of two, however their bits are flipped;
//! those of pixel and lens fill their common space evenly too, and the others are scrambled so that they have nothing to do
//! with each other. Patterns are few, so that what follows from a sample before a pixel is known is calculated once and
//! not for every pixel.
//!
//! # Source
//! `Burley2020`, with the hash of Laine and Karras as given there; Sobol's own first two dimensions (1967). Squares
//! become discs as in `Shirley1997`.

use std::f32::consts::FRAC_PI_4;

use wide::i32x4;

use crate::lanes::{Lanes, WIDTH, all, choose};

/// Four samples of the sequence, before a pattern flips their bits: numbers of 24 bits.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Group {
    column: i32x4,
    row: i32x4,
    time: i32x4,
    lens: [i32x4; 2],
    sun: [i32x4; 2],
}

/// How many patterns there are: chosen because a group of so many fits into the nearest memory.
pub(crate) const PATTERNS: u32 = 128;

/// The bits that one pattern flips: numbers of 24 bits.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Turn {
    column: i32,
    row: i32,
    time: i32,
    lens: [i32; 2],
    sun: [i32; 2],
}

impl Group {
    /// Samples `4 index` to `4 index + 3`.
    pub(crate) fn new(index: u32) -> Self {
        let samples: [u32; WIDTH] = [0, 1, 2, 3].map(|lane| 4 * index + lane);
        let pair = |seed: u32, order: &dyn Fn(u32) -> u32| {
            let points = samples.map(|sample| point(order(sample), seed));
            [i32x4::new(points.map(|point| point[0])), i32x4::new(points.map(|point| point[1]))]
        };
        let shuffled = |seed: u32| move |sample: u32| scrambled(sample, seed);
        // An edge a little out of focus moves over pixel and lens alike, so these two pairs must fill their space together.
        let together = shuffled(0x9e37_79b9);
        let [column, row] = pair(0x9e37_79b9, &together);
        let lens = pair(0x7f4a_7c15, &|sample| beside(together(sample)));
        let [time, _] = pair(0xc2b2_ae35, &shuffled(0xc2b2_ae35));
        Self { column, row, time, lens, sun: pair(0x85eb_ca6b, &shuffled(0x85eb_ca6b)) }
    }

    /// Where in the pixel: 0..1 from its left and its upper edge.
    pub(crate) fn place(&self, turn: &Turn) -> (Lanes, Lanes) {
        (share(self.column, turn.column), share(self.row, turn.row))
    }

    /// When: 0..1 of the exposure.
    pub(crate) fn time(&self, turn: &Turn) -> Lanes {
        share(self.time, turn.time)
    }

    /// Where on the lens, as points of the unit disc.
    pub(crate) fn lens(&self, turn: &Turn) -> (Lanes, Lanes) {
        disc(share(self.lens[0], turn.lens[0]), share(self.lens[1], turn.lens[1]))
    }

    /// Where on the sun, as points of the unit disc.
    pub(crate) fn sun(&self, turn: &Turn) -> (Lanes, Lanes) {
        disc(share(self.sun[0], turn.sun[0]), share(self.sun[1], turn.sun[1]))
    }
}

impl Turn {
    /// The turn of that pattern.
    pub(crate) const fn of(pattern: u32) -> Self {
        let seed = mixed(pattern ^ 0x68bc_21eb);
        let (a, b, c) = (mixed(seed ^ 0x02e5_be93), mixed(seed ^ 0x967a_889b), mixed(seed ^ 0x368c_c8b7));
        Self {
            column: upper_bits(seed),
            row: upper_bits(a),
            time: upper_bits(b),
            lens: [upper_bits(c), upper_bits(a.rotate_left(16) ^ c)],
            sun: [upper_bits(b.rotate_left(16) ^ seed), upper_bits(c.rotate_left(16) ^ b)],
        }
    }
}

/// The pattern of the pixel in that column and row.
pub(crate) const fn pattern(column: u32, row: u32) -> u32 {
    mixed(column ^ mixed(row ^ 0x68bc_21eb)) % PATTERNS
}

/// Numbers of 24 bits with some flipped, as shares of 0..1: exact.
fn share(bits: i32x4, flipped: i32) -> Lanes {
    Lanes::from_i32x4(bits ^ i32x4::splat(flipped)) * all(1.0 / 16_777_216.0)
}

/// The unit disc from the unit square, so that what is even stays even: squares around the middle become circles.
///
/// ```text
/// a = 2 u − 1, b = 2 v − 1;  where |a| ≥ |b|:  radius a, angle (π/4) b/a;  else: radius b, angle π/2 − (π/4) a/b
/// ```
///
/// # Source
/// `Shirley1997`.
fn disc(u: Lanes, v: Lanes) -> (Lanes, Lanes) {
    let (a, b) = (u + u - Lanes::ONE, v + v - Lanes::ONE);
    let is_steep = b.abs().simd_gt(a.abs());
    let (radius, other) = (choose(is_steep, b, a), choose(is_steep, a, b));
    // The middle itself has no angle.
    let angle = other / choose(radius.simd_eq(Lanes::ZERO), Lanes::ONE, radius) * all(FRAC_PI_4);
    let (cos, sin) = cos_sin(angle);
    let (along, across) = (radius * cos, radius * sin);
    (choose(is_steep, across, along), choose(is_steep, along, across))
}

/// Cosine and sine of angles within an eighth of a turn, to single precision: the first terms of their series.
fn cos_sin(angle: Lanes) -> (Lanes, Lanes) {
    let square = angle * angle;
    let term = |over: f32, rest: Lanes| Lanes::ONE - square * all(1.0 / over) * rest;
    let cos = term(2.0, term(12.0, term(30.0, term(56.0, Lanes::ONE))));
    let sin = angle * term(6.0, term(20.0, term(42.0, term(72.0, Lanes::ONE))));
    (cos, sin)
}

/// The upper 24 bits.
#[expect(clippy::cast_possible_wrap, reason = "24 bits fit")]
const fn upper_bits(bits: u32) -> i32 {
    (bits >> 8) as i32
}

/// The order in which points of the lens go with those of the pixel: a product of the number's bits with a triangle of
/// bits, so that any first power of two of them remains the same points.
///
/// The triangle was chosen because of some thousands that were tried it gives the least error for edges across pixel and
/// lens, from 8 to 1024 samples: 0.95 to 0.25 times the square of what two orders have that know nothing of each other.
const fn beside(index: u32) -> u32 {
    let (mut value, mut column) = (index, 0);
    while column < BESIDE.len() {
        if index >> column & 1 == 1 {
            value ^= BESIDE[column];
        }
        column += 1;
    }
    value
}

/// The columns of that triangle above its diagonal.
const BESIDE: [u32; 10] =
    [0b0, 0b0, 0b01, 0b110, 0b1001, 0b0_0011, 0b00_1111, 0b011_1101, 0b1011_0101, 0b1_1001_0110];

/// A scrambled point of the first two Sobol' dimensions, numbers of 24 bits.
const fn point(index: u32, seed: u32) -> [i32; 2] {
    let (first, second) = (index.reverse_bits(), second_dimension(index));
    [upper_bits(scrambled(first, mixed(seed))), upper_bits(scrambled(second, mixed(seed ^ 0x5bd1_e995)))]
}

/// The second Sobol' dimension: its direction numbers are the rows of Pascal's triangle modulo 2.
const fn second_dimension(index: u32) -> u32 {
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
const fn scrambled(value: u32, seed: u32) -> u32 {
    let mut bits = value.reverse_bits();
    bits = bits.wrapping_add(seed);
    bits ^= bits.wrapping_mul(0x6c50_b47c);
    bits ^= bits.wrapping_mul(0xb82f_1e52);
    bits ^= bits.wrapping_mul(0xc7af_e638);
    bits ^= bits.wrapping_mul(0x8d22_f6e6);
    bits.reverse_bits()
}

/// A hash in which every bit of the input moves every bit of the output (`lowbias32` by C. Wellons, 2018).
const fn mixed(mut bits: u32) -> u32 {
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
    fn points_of_pixel_and_lens_fill_their_halves_together() {
        let cells = |at: u32| -> Vec<_> {
            let mut cells: Vec<_> = (0..at)
                .map(|index| (point(index, 5), point(beside(index), 9)))
                .flat_map(|(pixel, lens)| {
                    [0, 1].map(|axis: usize| (axis, pixel[axis] >> 22, lens[axis] >> 22))
                })
                .collect();
            cells.sort_unstable();
            cells.dedup();
            cells
        };
        // Quarters by quarters on both axes: sixteen cells each.
        assert_eq!(cells(32).len(), 32);
    }

    #[test]
    fn the_order_beside_has_the_same_first_points() {
        for size in [1_u32, 2, 4, 8, 64, 512, 1024] {
            let mut order: Vec<u32> = (0..size).map(beside).collect();
            order.sort_unstable();
            assert_eq!(order, (0..size).collect::<Vec<_>>());
        }
    }

    #[test]
    fn the_first_sixteen_points_fill_every_even_division_of_the_square_whichever_bits_are_flipped() {
        for (seed, flipped) in
            [(1, [0, 0]), (0x9e37_79b9, [0x00ab_cdef, 0x0012_3456]), (77, [0x00ff_0000, 3])]
        {
            for (columns, rows) in [(4, 0), (3, 1), (2, 2), (1, 3), (0, 4)] {
                let mut cells: Vec<_> = (0..16)
                    .map(|index| point(index, seed))
                    .map(|[x, y]| ((x ^ flipped[0]) >> (24 - columns), (y ^ flipped[1]) >> (24 - rows)))
                    .collect();
                cells.sort_unstable();
                cells.dedup();
                assert_eq!(cells.len(), 16, "{seed} {columns} x {rows}");
            }
        }
    }

    #[test]
    fn points_of_the_disc_are_in_it_and_even() {
        let turn = Turn::of(17);
        let points: Vec<(f32, f32)> = (0..64)
            .map(|index| Group::new(index).lens(&turn))
            .flat_map(|(x, y)| x.to_array().into_iter().zip(y.to_array()))
            .collect();
        assert!(points.iter().all(|(x, y)| x * x + y * y <= 1.0 + 1e-6));
        // Of 256 points as many as the share of the area, in halves, quarters and the inner circle of half the area.
        let count = |is_in: &dyn Fn(f32, f32) -> bool| points.iter().filter(|(x, y)| is_in(*x, *y)).count();
        assert_eq!(count(&|x, _| x > 0.0), 128);
        assert!(count(&|x, y| x > 0.0 && y > 0.0).abs_diff(64) <= 1);
        assert!(count(&|x, y| x * x + y * y < 0.5).abs_diff(128) <= 6);
        assert!(count(&|x, y| x + y > 0.0).abs_diff(128) <= 6);
    }

    #[test]
    fn cosine_and_sine_are_those_of_the_library() {
        for step in -100..=100_i16 {
            let angle = f32::from(step) / 100.0 * FRAC_PI_4;
            let (cos, sin) = cos_sin(all(angle));
            assert!((f64::from(cos.to_array()[0]) - libm::cos(f64::from(angle))).abs() < 2e-7, "{angle}");
            assert!((f64::from(sin.to_array()[0]) - libm::sin(f64::from(angle))).abs() < 2e-7, "{angle}");
        }
    }

    #[test]
    fn neighbours_turn_differently() {
        let patterns = [(0, 0), (1, 0), (0, 1), (1, 1)].map(|(column, row)| pattern(column, row));
        let turns = patterns.map(|pattern| Turn::of(pattern).column);
        for (at, turn) in turns.iter().enumerate() {
            assert!(turns.iter().skip(at + 1).all(|other| other != turn), "{turns:?}");
        }
    }
}
