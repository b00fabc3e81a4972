//! When the sun crosses an elevation.

use jiff::Timestamp;

use super::error::SunError;
use super::heavens::{Heavens, seconds, timestamp};
use super::turn::turn;

/// Which way the sun crosses an elevation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Crossing {
    /// Upwards.
    Rise,
    /// Downwards.
    Set,
}

/// How high the sun stands in a stretch of time, with every turn of it: between two neighbours it only rises or only sinks.
#[derive(Debug)]
pub(super) struct Course<'a> {
    heavens: &'a Heavens,
    /// Seconds of the Unix epoch, ascending, and true elevation in degrees.
    nodes: Vec<(f64, f64)>,
}

/// How far apart elevations are looked at. Chosen because a day has two turns of the sun, and this is short enough for the
/// parabola through three to find each.
const STEP_S: f64 = 7200.0;

/// To how many seconds a crossing is searched.
const WITHIN_S: f64 = 2e-4;

impl<'a> Course<'a> {
    /// The sun's course from one moment to another.
    pub(super) fn of(heavens: &'a Heavens, from: Timestamp, to: Timestamp) -> Self {
        let (from_s, to_s) = (seconds(from), seconds(to));
        let at = |at_s: f64| (at_s, heavens.true_elevation_deg(at_s));
        let mut grid = Vec::new();
        // A step beyond either end, for a turn just inside.
        let mut at_s = from_s - STEP_S;
        while at_s < to_s + 2.0 * STEP_S {
            grid.push(at(at_s));
            at_s += STEP_S;
        }
        let mut nodes = grid.clone();
        for three in grid.windows(3) {
            let [left, middle, right] = three else { continue };
            if (middle.1 - left.1) * (right.1 - middle.1) <= 0.0 {
                let near = turn(*left, *middle, *right).clamp(left.0, right.0);
                let (before, after) = (at(near - 60.0), at(near + 60.0));
                nodes.push(at(turn(before, at(near), after).clamp(before.0, after.0)));
            }
        }
        nodes.sort_by(|one, other| one.0.total_cmp(&other.0));
        Self { heavens, nodes }
    }

    /// How high the sun's centre is at a moment, without the air, in degrees.
    pub(super) fn elevation_deg(&self, moment: Timestamp) -> f64 {
        self.heavens.true_elevation_deg(seconds(moment))
    }

    /// Every time after `from` and up to `to` at which the sun's centre crosses a true elevation.
    pub(super) fn crossings(
        &self,
        crossing: Crossing,
        elevation_deg: f64,
        from: Timestamp,
        to: Timestamp,
    ) -> Result<Vec<Timestamp>, SunError> {
        let mut found = Vec::new();
        for pair in self.nodes.windows(2) {
            let [(start, low), (end, high)] = pair else { continue };
            let (before, after) = (low - elevation_deg, high - elevation_deg);
            let crosses = match crossing {
                Crossing::Rise => before < 0.0 && after >= 0.0,
                Crossing::Set => before >= 0.0 && after < 0.0,
            };
            if crosses {
                let time = timestamp(self.between((*start, before), (*end, after), elevation_deg))?;
                if from < time && time <= to {
                    found.push(time);
                }
            }
        }
        Ok(found)
    }

    /// Where between two sides of an elevation the sun is on it: false position, halving the side that stays.
    fn between(&self, mut one: (f64, f64), mut other: (f64, f64), elevation_deg: f64) -> f64 {
        // Eight do mostly; the bound is for what arithmetic may do at a turn.
        for _ in 0..60 {
            let at = (one.0 * other.1 - other.0 * one.1) / (other.1 - one.1);
            let at = if at.is_finite() { at.clamp(one.0, other.0) } else { f64::midpoint(one.0, other.0) };
            let off = self.heavens.true_elevation_deg(at) - elevation_deg;
            let moved = if (off < 0.0) == (one.1 < 0.0) {
                let moved = at - one.0;
                one = (at, off);
                other.1 /= 2.0;
                moved
            } else {
                let moved = other.0 - at;
                other = (at, off);
                one.1 /= 2.0;
                moved
            };
            if off.abs() < 1e-10 || other.0 - one.0 < WITHIN_S || (moved < WITHIN_S && off.abs() < 1e-8) {
                return at;
            }
        }
        f64::midpoint(one.0, other.0)
    }
}
