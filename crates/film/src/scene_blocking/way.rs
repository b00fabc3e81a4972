//! Where somebody walks, and how far they are on their way at a second of the scene.

use glam::DVec2;
use units::Length;

use super::span::Span;

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

/// A straight part of a walk, or a stay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Leg {
    /// When it starts, seconds.
    pub(crate) from_s: f64,
    /// When it ends, seconds.
    pub(crate) to_s: f64,
    /// Where it starts.
    pub(crate) place: DVec2,
    /// Metres in a second; nothing for a stay.
    pub(crate) velocity: DVec2,
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
        self.metres(mark) / self.pace.to_m()
    }

    /// Where it ends.
    pub(crate) fn end(&self, mark: DVec2) -> DVec2 {
        self.corners.last().copied().unwrap_or(mark)
    }

    /// The straight parts of the way.
    pub(crate) fn legs(&self, mark: DVec2) -> impl Iterator<Item = (DVec2, DVec2)> {
        let starts = std::iter::once(mark).chain(self.corners.iter().copied());
        starts.zip(self.corners.iter().copied())
    }

    /// The walk from `mark`, part by part, in seconds of the scene. Parts of no length are left out.
    pub(crate) fn walk(&self, mark: DVec2) -> impl Iterator<Item = Leg> {
        let pace_m = self.pace.to_m();
        let lengths = self.legs(mark).map(|(from, to)| (from, to, from.distance(to)));
        let lengths = lengths.filter(|(_, _, length)| *length > 0.0);
        lengths.scan(self.starts_s, move |at_s, (place, to, length)| {
            let from_s = *at_s;
            *at_s += length / pace_m;
            Some(Leg { from_s, to_s: *at_s, place, velocity: (to - place) * (pace_m / length) })
        })
    }

    fn metres(&self, mark: DVec2) -> f64 {
        self.legs(mark).map(|(from, to)| from.distance(to)).sum()
    }

    /// Where somebody is at that second of the scene, how far they have walked, and how they go on; standing still, their
    /// velocity is nothing.
    pub(super) fn at(&self, mark: DVec2, seconds: f64) -> Walked {
        let mut last_way = None;
        for leg in self.walk(mark).take_while(|leg| leg.from_s <= seconds) {
            last_way = Some(leg.velocity);
            if seconds < leg.to_s {
                let metres = (seconds - self.starts_s) * self.pace.to_m();
                return Walked { place: leg.place_at(seconds), velocity: leg.velocity, metres, last_way };
            }
        }
        let (place, metres) =
            if last_way.is_some() { (self.end(mark), self.metres(mark)) } else { (mark, 0.0) };
        Walked { place, velocity: DVec2::ZERO, metres, last_way }
    }

    /// Whether they turn by more than a right angle's half between two seconds of the scene.
    pub fn turns_between(&self, mark: DVec2, from_s: f64, to_s: f64) -> bool {
        let mut before: Option<DVec2> = None;
        self.walk(mark).any(|leg| {
            let way = leg.velocity.normalize_or_zero();
            let before = before.replace(way);
            let turned = before.is_some_and(|before| before.dot(way) < core::f64::consts::FRAC_1_SQRT_2);
            turned && (from_s..=to_s).contains(&leg.from_s)
        })
    }
}

impl Leg {
    /// Whether somebody goes on in it.
    pub(crate) fn walks(&self) -> bool {
        self.velocity != DVec2::ZERO
    }

    /// Where somebody is at a second of it.
    pub(crate) fn place_at(&self, seconds: f64) -> DVec2 {
        self.place + self.velocity * (seconds - self.from_s)
    }

    /// What of it lies within a span; none if that is nothing.
    pub(crate) fn within(&self, span: Span) -> Option<Self> {
        let (from_s, to_s) = (self.from_s.max(span.0), self.to_s.min(span.1));
        // A stay may be without a beginning.
        let place = if self.walks() { self.place_at(from_s) } else { self.place };
        (from_s < to_s).then_some(Self { from_s, to_s, place, ..*self })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_walk_goes_part_by_part_and_leaves_out_those_of_no_length() {
        let corners = [(0.0, 10.0), (0.0, 10.0), (10.0, 10.0)].map(DVec2::from).into();
        let way = Way { corners, pace: Length::from_m(2.0), starts_s: 1.0 };
        let [north, east] = way.walk(DVec2::ZERO).collect::<Vec<_>>()[..] else { panic!("two parts") };
        assert_eq!((north.from_s, north.to_s, north.place), (1.0, 6.0, DVec2::ZERO));
        assert_eq!((east.from_s, east.to_s, east.velocity), (6.0, 11.0, DVec2::new(2.0, 0.0)));
        let part = east.within((7.0, 8.0)).expect("it is within");
        assert_eq!((part.place, part.place_at(part.to_s)), (DVec2::new(2.0, 10.0), DVec2::new(4.0, 10.0)));
        assert_eq!(north.within((6.0, 7.0)), None, "it is over");
    }
}
