//! Where somebody walks, and how far they are on their way at a second of the scene.

use glam::DVec2;
use units::Length;

/// Where somebody walks.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// The corners of it after their mark, the last one where they stop.
    pub corners: Vec<DVec2>,
    /// How far they get in a second; positive.
    pub pace: Length,
    /// When they set off, seconds into the scene.
    pub starts_s: f64,
}

/// How far somebody is on their way.
pub(super) struct Walked {
    pub(super) place: DVec2,
    pub(super) velocity: DVec2,
    pub(super) metres: f64,
    /// The direction of the leg they walk or walked last.
    pub(super) last_way: Option<DVec2>,
}

impl Way {
    /// How long the walk takes from `mark`, seconds.
    pub fn lasts_s(&self, mark: DVec2) -> f64 {
        self.legs(mark).map(|(from, to)| from.distance(to)).sum::<f64>() / self.pace.to_m()
    }

    /// The straight parts of the way.
    pub(crate) fn legs(&self, mark: DVec2) -> impl Iterator<Item = (DVec2, DVec2)> {
        let starts = std::iter::once(mark).chain(self.corners.iter().copied());
        starts.zip(self.corners.iter().copied())
    }

    /// Where somebody is at that second of the scene, how far they have walked, and how they go on; standing still, their
    /// velocity is nothing.
    pub(super) fn at(&self, mark: DVec2, seconds: f64) -> Walked {
        let mut left = ((seconds - self.starts_s) * self.pace.to_m()).max(0.0);
        let walked = left;
        let mut last = Walked { place: mark, velocity: DVec2::ZERO, metres: 0.0, last_way: None };
        if seconds < self.starts_s {
            return last;
        }
        for (from, to) in self.legs(mark) {
            let length = from.distance(to);
            if length <= 0.0 {
                continue;
            }
            let way = (to - from) / length;
            if left < length {
                return Walked {
                    place: from + way * left,
                    velocity: way * self.pace.to_m(),
                    metres: walked,
                    last_way: Some(way),
                };
            }
            left -= length;
            last = Walked {
                place: to,
                velocity: DVec2::ZERO,
                metres: last.metres + length,
                last_way: Some(way),
            };
        }
        last
    }

    /// Whether they turn by more than a right angle's half between two seconds of the scene.
    pub fn turns_between(&self, mark: DVec2, from_s: f64, to_s: f64) -> bool {
        let mut at_s = self.starts_s;
        let mut before: Option<DVec2> = None;
        for (from, to) in self.legs(mark) {
            let length = from.distance(to);
            if length <= 0.0 {
                continue;
            }
            let way = (to - from) / length;
            let turned = before.is_some_and(|before| before.dot(way) < core::f64::consts::FRAC_1_SQRT_2);
            if turned && (from_s..=to_s).contains(&at_s) {
                return true;
            }
            at_s += length / self.pace.to_m();
            before = Some(way);
        }
        false
    }
}
