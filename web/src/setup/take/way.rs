//! How a plan's phone moves, as the take's request has it.

use language::say;
use requests::TakeRequest;
use staging::Accompanies;
use units::{Angle, Length, LengthUnit};

use super::NOTHING;
use crate::dressing::full_turn;
use crate::session::Plan;
use crate::widgets::Way;

impl Way {
    /// How the plan's phone moves.
    pub(crate) fn of_plan(plan: &Plan) -> Self {
        let movement = plan.shot.to_take().ok().and_then(|take| take.movement);
        Self::of(movement, Accompanies::of(Angle::from_deg(plan.facing_deg), Angle::ZERO))
    }

    /// Has the plan's phone move so, as fast as it did if that was this kind of way; a pan starts out at `pan_deg_per_s`.
    pub(crate) fn choose(self, plan: &mut Plan, pan_deg_per_s: f64) {
        let before = Self::of_plan(plan);
        let kept = speed(plan).filter(|_| self.is_like(before));
        self.set_speed(plan, kept.unwrap_or(self.usual_speed(pan_deg_per_s)));
        if self == before {
            return;
        }
        if let Some(facing_deg) = self.follows_from(plan.facing_deg) {
            stand(plan, facing_deg);
        }
    }

    /// Has the plan's phone move so, that fast: metres or degrees a second.
    pub(crate) fn set_speed(self, plan: &mut Plan, speed: f64) {
        let signed = Some(self.signed(speed));
        plan.change_take(|take| {
            let kept = TakeRequest { duration_s: take.duration_s, pull: take.pull, ..NOTHING };
            *take = match self {
                Self::Still => kept,
                Self::PushIn | Self::PullOut => TakeRequest { push_m_per_s: signed, ..kept },
                Self::Alongside | Self::FromBehind | Self::Backwards => {
                    TakeRequest { follow_m_per_s: signed, ..kept }
                }
                Self::PanLeft | Self::PanRight => TakeRequest { pan_deg_per_s: signed, ..kept },
                Self::TiltUp | Self::TiltDown => TakeRequest { tilt_deg_per_s: signed, ..kept },
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
    say!("{pace}, {}/s", Length::from_m(metres).in_decimals(unit, 2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_is_read_back_from_the_plan() {
        for way in Way::ALL {
            let mut plan = Plan::first();
            way.choose(&mut plan, 9.0);
            assert_eq!(Way::of_plan(&plan), way);
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
            assert_eq!(Way::of_plan(&plan), way);
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
        assert_eq!(speed(&plan), Some(Way::TiltUp.usual_speed(9.0)));
    }

    #[test]
    fn a_pace_has_a_name() {
        assert_eq!(pace(0.8, LengthUnit::Metres), "a slow walk, 0.80 m/s");
        assert_eq!(pace(3.0, LengthUnit::Metres), "a run, 3.00 m/s");
    }
}
