//! The ways in which a phone moves, as people say them, and as the take's request has them.

use language::say;
use requests::TakeRequest;
use staging::Accompanies;
use units::{Angle, LengthUnit};

use super::NOTHING;
use crate::dressing::full_turn;
use crate::session::Plan;
use crate::setup::words;

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

    /// How the plan's phone moves.
    pub(crate) fn of(plan: &Plan) -> Self {
        let Some(take) = plan.shot.take else { return Self::Still };
        let signed = |value: f64, more: Self, less: Self| if value < 0.0 { less } else { more };
        if let Some(metres) = take.push_m_per_s {
            signed(metres, Self::PushIn, Self::PullOut)
        } else if take.follow_m_per_s.is_some() {
            match Accompanies::of(Angle::from_deg(plan.facing_deg), Angle::ZERO) {
                Accompanies::Backwards => Self::Backwards,
                Accompanies::Alongside => Self::Alongside,
                Accompanies::FromBehind => Self::FromBehind,
            }
        } else if let Some(degrees) = take.pan_deg_per_s {
            signed(degrees, Self::PanRight, Self::PanLeft)
        } else if let Some(degrees) = take.tilt_deg_per_s {
            signed(degrees, Self::TiltUp, Self::TiltDown)
        } else {
            Self::Still
        }
    }

    /// Whether the subject walks and the phone goes along: an object does not.
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

    /// Has the plan's phone move so, as fast as it did if that was this kind of way; a pan starts out at `pan_deg_per_s`.
    pub(crate) fn choose(self, plan: &mut Plan, pan_deg_per_s: f64) {
        let before = Self::of(plan);
        let kind = |way: Self| (way.follows(), way.pans(), way.tilts());
        let kept = speed(plan).filter(|_| kind(before) == kind(self));
        let usual = match self {
            Self::Still | Self::PushIn | Self::PullOut => USUAL_PUSH,
            Self::Alongside | Self::FromBehind | Self::Backwards => USUAL_WALK,
            Self::PanLeft | Self::PanRight => pan_deg_per_s,
            Self::TiltUp | Self::TiltDown => USUAL_TILT,
        };
        self.set_speed(plan, kept.unwrap_or(usual));
        if self == before {
            return;
        }
        if self == Self::Backwards {
            stand(plan, 0.0);
        } else if self == Self::FromBehind {
            stand(plan, 180.0);
        } else if self == Self::Alongside {
            // On the side on which it stood.
            stand(plan, if plan.facing_deg < 0.0 { -90.0 } else { 90.0 });
        }
    }

    /// Has the plan's phone move so, that fast: metres or degrees a second.
    pub(crate) fn set_speed(self, plan: &mut Plan, speed: f64) {
        plan.change_take(|take| {
            let kept = TakeRequest { duration_s: take.duration_s, pull: take.pull, ..NOTHING };
            *take = match self {
                Self::Still => kept,
                Self::PushIn => TakeRequest { push_m_per_s: Some(speed), ..kept },
                Self::PullOut => TakeRequest { push_m_per_s: Some(-speed), ..kept },
                Self::Alongside | Self::FromBehind | Self::Backwards => {
                    TakeRequest { follow_m_per_s: Some(speed), ..kept }
                }
                Self::PanRight => TakeRequest { pan_deg_per_s: Some(speed), ..kept },
                Self::PanLeft => TakeRequest { pan_deg_per_s: Some(-speed), ..kept },
                Self::TiltUp => TakeRequest { tilt_deg_per_s: Some(speed), ..kept },
                Self::TiltDown => TakeRequest { tilt_deg_per_s: Some(-speed), ..kept },
            };
        });
    }
}

/// Puts the phone round the subject so that they face that way as it sees them, and the same way over the floor as before.
fn stand(plan: &mut Plan, facing_deg: f64) {
    let faces = plan.subject_faces_deg();
    plan.facing_deg = facing_deg;
    plan.phone_bearing_deg = full_turn(faces - facing_deg);
}

/// How fast the plan's phone moves, metres or degrees a second, if it does.
pub(super) fn speed(plan: &Plan) -> Option<f64> {
    let take = plan.shot.take?;
    let speed = take.push_m_per_s.or(take.follow_m_per_s).or(take.pan_deg_per_s).or(take.tilt_deg_per_s);
    speed.map(f64::abs)
}

/// A speed along the floor as people know it.
pub(super) fn pace(metres: f64, unit: LengthUnit) -> String {
    // Chosen about the 1.4 m a second that people walk.
    let pace = match metres {
        slow if slow < 0.55 => say!("a creep"),
        slow if slow < 1.15 => say!("a slow walk"),
        walk if walk < 1.65 => say!("a walk"),
        brisk if brisk < 2.25 => say!("a brisk walk"),
        _ => say!("a run"),
    };
    say!("{pace}, {}/s", words::length(metres, unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_is_read_back_from_the_plan() {
        for way in Way::ALL {
            let mut plan = Plan::first();
            way.choose(&mut plan, 9.0);
            assert_eq!(Way::of(&plan), way);
            let moves = plan.shot.to_take().expect("a take").movement.is_some();
            assert_eq!(moves, way != Way::Still, "{:?}", plan.shot.take);
        }
    }

    #[test]
    fn the_walker_keeps_their_way_over_the_floor() {
        for way in [Way::Alongside, Way::FromBehind, Way::Backwards] {
            let mut plan = Plan { phone_bearing_deg: 200.0, facing_deg: -60.0, ..Plan::first() };
            way.choose(&mut plan, 9.0);
            let faces = full_turn(plan.subject_faces_deg());
            assert!((faces - 140.0).abs() < 1e-9, "{way:?}: {faces}");
            assert_eq!(Way::of(&plan), way);
        }
    }

    #[test]
    fn another_direction_of_the_same_way_keeps_its_speed() {
        let mut plan = Plan::first();
        Way::PanLeft.choose(&mut plan, 9.0);
        Way::PanLeft.set_speed(&mut plan, 4.0);
        Way::PanRight.choose(&mut plan, 9.0);
        assert_eq!(speed(&plan), Some(4.0));
        Way::TiltUp.choose(&mut plan, 9.0);
        assert_eq!(speed(&plan), Some(USUAL_TILT));
    }

    #[test]
    fn a_pace_has_a_name() {
        assert_eq!(pace(0.8, LengthUnit::Metres), "a slow walk, 0.80 m/s");
        assert_eq!(pace(3.0, LengthUnit::Metres), "a run, 3.00 m/s");
    }
}
