//! Four rays at once: numbers and vectors with a lane for each.
//!
//! Everything here is an exact IEEE operation, done in the same order everywhere: no fused multiply-add, no estimates of
//! reciprocals and nothing that treats NaN or the sign of zero differently from one processor to another. That is what
//! makes a picture the same bytes natively and in a browser.

use std::ops::{Add, Mul, Neg, Sub};

use glam::DVec3;
use wide::f32x4;

/// A number for each of four rays.
pub(crate) type Lanes = f32x4;

/// How many rays go together.
pub(crate) const WIDTH: usize = 4;

/// A vector for each of four rays.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Vectors {
    pub(crate) x: Lanes,
    pub(crate) y: Lanes,
    pub(crate) z: Lanes,
}

/// A vector that all rays share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Vector {
    pub(crate) x: f32,
    pub(crate) y: f32,
    pub(crate) z: f32,
}

/// The same number in every lane.
pub(crate) const fn all(value: f32) -> Lanes {
    Lanes::splat(value)
}

/// Where `mask` is set the first, else the second.
pub(crate) fn choose(mask: Lanes, first: Lanes, second: Lanes) -> Lanes {
    mask.bitselect(first, second)
}

/// The smaller; neither may be NaN.
pub(crate) fn least(one: Lanes, other: Lanes) -> Lanes {
    one.fast_min(other)
}

/// The larger; neither may be NaN.
pub(crate) fn most(one: Lanes, other: Lanes) -> Lanes {
    one.fast_max(other)
}

/// The square root of what is not negative, 0 of what is.
pub(crate) fn root(value: Lanes) -> Lanes {
    most(value, Lanes::ZERO).sqrt()
}

/// Whole numbers as places in a list: exact up to sixteen million, and past the end of any list below 0.
#[expect(clippy::cast_sign_loss, reason = "below 0 it becomes the largest of all")]
pub(crate) fn numbers(lanes: Lanes) -> [usize; WIDTH] {
    lanes.fast_trunc_int().to_array().map(|number| number as usize)
}

/// The sum of all lanes, always in this order.
pub(crate) fn sum(lanes: Lanes) -> f32 {
    let [a, b, c, d] = lanes.to_array();
    (a + b) + (c + d)
}

/// The lanes whose bits are set.
pub(crate) fn lanes_of(bits: u32) -> Lanes {
    let set = f32::from_bits(u32::MAX);
    Lanes::new(std::array::from_fn(|lane| if bits & (1 << lane) != 0 { set } else { 0.0 }))
}

/// Calls `visit` once for each different place among those of the lanes that ask, with the lanes that share it.
pub(crate) fn each_place(places: [usize; WIDTH], asked: Lanes, mut visit: impl FnMut(usize, Lanes)) {
    let mut rest = asked.to_bitmask();
    // Neighbouring rays mostly meet the same thing.
    if rest != 0 && places.iter().all(|place| *place == places[0]) {
        return visit(places[0], asked);
    }
    for (lane, place) in places.into_iter().enumerate() {
        if rest & (1 << lane) == 0 {
            continue;
        }
        let same =
            (0..WIDTH).filter(|other| places[*other] == place).fold(0, |mask, other| mask | (1 << other));
        visit(place, lanes_of(rest & same));
        rest &= !same;
    }
}

/// Rounds a core value to what rays calculate with.
#[expect(clippy::cast_possible_truncation, reason = "seven digits are a hundredth of a pixel")]
pub(crate) const fn narrow(value: f64) -> f32 {
    value as f32
}

impl Vector {
    pub(crate) const ZERO: Self = Self { x: 0.0, y: 0.0, z: 0.0 };

    pub(crate) const fn new(of: DVec3) -> Self {
        Self { x: narrow(of.x), y: narrow(of.y), z: narrow(of.z) }
    }

    /// The same vector in every lane.
    pub(crate) const fn lanes(self) -> Vectors {
        Vectors { x: all(self.x), y: all(self.y), z: all(self.z) }
    }
}

impl Vectors {
    pub(crate) fn dot(self, other: Self) -> Lanes {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    pub(crate) fn length_squared(self) -> Lanes {
        self.dot(self)
    }

    /// Of length 1; must not be of length 0.
    pub(crate) fn unit(self) -> Self {
        self * (Lanes::ONE / self.length_squared().sqrt())
    }

    /// Where `mask` is set the first, else the second.
    pub(crate) fn choose(mask: Lanes, first: Self, second: Self) -> Self {
        Self {
            x: choose(mask, first.x, second.x),
            y: choose(mask, first.y, second.y),
            z: choose(mask, first.z, second.z),
        }
    }
}

impl Add for Vectors {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { x: self.x + other.x, y: self.y + other.y, z: self.z + other.z }
    }
}

impl Sub for Vectors {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { x: self.x - other.x, y: self.y - other.y, z: self.z - other.z }
    }
}

impl Mul<Lanes> for Vectors {
    type Output = Self;
    fn mul(self, factor: Lanes) -> Self {
        Self { x: self.x * factor, y: self.y * factor, z: self.z * factor }
    }
}

/// Each coordinate by its own: light by a colour.
impl Mul for Vectors {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self { x: self.x * other.x, y: self.y * other.y, z: self.z * other.z }
    }
}

impl Neg for Vectors {
    type Output = Self;
    fn neg(self) -> Self {
        Self { x: -self.x, y: -self.y, z: -self.z }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_is_visited_once_by_all_who_are_there() {
        let mut visits = Vec::new();
        each_place([7, 3, 7, 3], lanes_of(0b1101), |place, here| visits.push((place, here.to_bitmask())));
        assert_eq!(visits, [(7, 0b0101), (3, 0b1000)]);
    }

    #[test]
    fn roots_of_what_is_negative_are_none() {
        let roots = root(Lanes::new([4.0, -1.0, 0.0, 2.25])).to_array();
        assert_eq!(roots.map(f32::to_bits), [2.0, 0.0, 0.0, 1.5].map(f32::to_bits));
    }
}
