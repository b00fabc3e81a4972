//! The ways in which a phone moves, as people say them, asked alike in Set-up and in Story.

use language::say;
use staging::{Accompanies, Movement};
use units::{Angle, Length};

/// A way in which a phone moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    Still,
    PushIn,
    PullOut,
    Alongside,
    FromBehind,
    Backwards,
    PanLeft,
    PanRight,
    TiltUp,
    TiltDown,
}

/// How fast a push starts out, metres a second: chosen because slower is hardly seen and faster is a gesture.
const USUAL_PUSH: f64 = 0.4;
/// How fast a walker starts out, metres a second: a slow walk, chosen because a phone can keep up with it.
const USUAL_WALK: f64 = 0.8;
/// How fast a tilt starts out, degrees a second: chosen.
const USUAL_TILT: f64 = 5.0;

impl Way {
    pub(crate) const ALL: [Self; 10] = [
        Self::Still,
        Self::PushIn,
        Self::PullOut,
        Self::Alongside,
        Self::FromBehind,
        Self::Backwards,
        Self::PanLeft,
        Self::PanRight,
        Self::TiltUp,
        Self::TiltDown,
    ];

    /// What it is called among others.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Still => say!(in "how the phone moves", "none"),
            Self::PushIn => say!("push in"),
            Self::PullOut => say!("pull out"),
            Self::Alongside => say!("follow alongside"),
            Self::FromBehind => say!("follow from behind"),
            Self::Backwards => say!("follow, walking backwards"),
            Self::PanLeft => say!("pan left"),
            Self::PanRight => say!("pan right"),
            Self::TiltUp => say!("tilt up"),
            Self::TiltDown => say!("tilt down"),
        }
    }

    /// What it is called on its own.
    pub(crate) fn title(self) -> &'static str {
        match self {
            Self::Still => say!("No move"),
            Self::PushIn => say!("Push in"),
            Self::PullOut => say!("Pull out"),
            Self::Alongside => say!("Follow alongside"),
            Self::FromBehind => say!("Follow from behind"),
            Self::Backwards => say!("Follow, walking backwards"),
            Self::PanLeft => say!("Pan left"),
            Self::PanRight => say!("Pan right"),
            Self::TiltUp => say!("Tilt up"),
            Self::TiltDown => say!("Tilt down"),
        }
    }

    /// The way that a movement is, of a phone that is on that side of whoever it follows.
    pub(crate) fn of(movement: Option<Movement>, side: Accompanies) -> Self {
        match movement {
            None => Self::Still,
            Some(Movement::Push { per_second }) if per_second < Length::ZERO => Self::PullOut,
            Some(Movement::Push { .. }) => Self::PushIn,
            Some(Movement::Follow { .. }) => match side {
                Accompanies::Backwards => Self::Backwards,
                Accompanies::Alongside => Self::Alongside,
                Accompanies::FromBehind => Self::FromBehind,
            },
            Some(Movement::Pan { per_second }) if per_second < Angle::ZERO => Self::PanLeft,
            Some(Movement::Pan { .. }) => Self::PanRight,
            Some(Movement::Tilt { per_second }) if per_second < Angle::ZERO => Self::TiltDown,
            Some(Movement::Tilt { .. }) => Self::TiltUp,
        }
    }

    /// The movement that fast: metres or degrees a second. The side of whoever is followed is not the movement's: see
    /// [`Self::follows_from`].
    pub(crate) fn movement(self, speed: f64) -> Option<Movement> {
        let speed = self.signed(speed);
        if self.pushes() {
            Some(Movement::Push { per_second: Length::from_m(speed) })
        } else if self.follows() {
            Some(Movement::Follow { per_second: Length::from_m(speed) })
        } else if self.pans() {
            Some(Movement::Pan { per_second: Angle::from_deg(speed) })
        } else if self.tilts() {
            Some(Movement::Tilt { per_second: Angle::from_deg(speed) })
        } else {
            None
        }
    }

    /// A speed as movements and requests count it: nearer, to the right and up are more.
    pub(crate) const fn signed(self, speed: f64) -> f64 {
        if matches!(self, Self::PullOut | Self::PanLeft | Self::TiltDown) { -speed } else { speed }
    }

    /// How fast it starts out, metres or degrees a second: a pan, whose limit the lens sets, at `pan_deg_per_s`.
    pub(crate) const fn usual_speed(self, pan_deg_per_s: f64) -> f64 {
        match self {
            Self::Still | Self::PushIn | Self::PullOut => USUAL_PUSH,
            Self::Alongside | Self::FromBehind | Self::Backwards => USUAL_WALK,
            Self::PanLeft | Self::PanRight => pan_deg_per_s,
            Self::TiltUp | Self::TiltDown => USUAL_TILT,
        }
    }

    /// Whether it is the same but for its direction, so that one is as fast as the other was.
    pub(crate) const fn is_like(self, other: Self) -> bool {
        self.pushes() == other.pushes()
            && self.follows() == other.follows()
            && self.pans() == other.pans()
            && self.tilts() == other.tilts()
    }

    /// Which way whoever is followed so faces, clockwise from straight at the phone, where they faced `facing_deg` before: a
    /// phone beside them stays on its side. None where nobody is followed.
    pub(crate) const fn follows_from(self, facing_deg: f64) -> Option<f64> {
        match self {
            Self::Backwards => Some(0.0),
            Self::FromBehind => Some(180.0),
            Self::Alongside => Some(if facing_deg < 0.0 { -90.0 } else { 90.0 }),
            Self::Still
            | Self::PushIn
            | Self::PullOut
            | Self::PanLeft
            | Self::PanRight
            | Self::TiltUp
            | Self::TiltDown => None,
        }
    }

    /// Whether the phone comes nearer or goes away.
    const fn pushes(self) -> bool {
        matches!(self, Self::PushIn | Self::PullOut)
    }

    /// Whether the subject walks and the phone goes along: a thing does not.
    pub(crate) const fn follows(self) -> bool {
        matches!(self, Self::Alongside | Self::FromBehind | Self::Backwards)
    }

    /// Whether the phone turns on the spot sideways.
    pub(crate) const fn pans(self) -> bool {
        matches!(self, Self::PanLeft | Self::PanRight)
    }

    /// Whether the phone turns on the spot up or down.
    pub(crate) const fn tilts(self) -> bool {
        matches!(self, Self::TiltUp | Self::TiltDown)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_is_read_back_from_its_movement_and_its_side() {
        for way in Way::ALL {
            let facing = way.follows_from(20.0).unwrap_or(20.0);
            let side = Accompanies::of(Angle::from_deg(facing), Angle::ZERO);
            let movement = way.movement(way.usual_speed(9.0));
            assert_eq!(Way::of(movement, side), way, "{movement:?} {side:?}");
            assert_eq!(movement.is_some(), way != Way::Still);
        }
    }

    #[test]
    fn a_way_is_like_that_in_the_other_direction_and_like_no_other() {
        for (one, other) in [
            (Way::PushIn, Way::PullOut),
            (Way::PanLeft, Way::PanRight),
            (Way::TiltUp, Way::TiltDown),
            (Way::FromBehind, Way::Backwards),
        ] {
            assert!(one.is_like(other), "{one:?} {other:?}");
            assert!(!one.is_like(Way::Still) && !Way::Still.is_like(other), "{one:?} {other:?}");
        }
        assert!(!Way::PanLeft.is_like(Way::TiltUp) && !Way::PushIn.is_like(Way::Alongside));
    }

    #[test]
    fn a_phone_beside_a_walker_stays_on_its_side() {
        assert_eq!(
            [-60.0, 60.0].map(|facing| Way::Alongside.follows_from(facing)),
            [Some(-90.0), Some(90.0)]
        );
        assert_eq!(Way::PushIn.follows_from(60.0), None);
    }
}
