//! How a shot's phone moves, as people choose it in the shot's sheet: in the words and at the speeds of Set-up.

use film::Shot;
use staging::{Accompanies, Movement};
use units::Angle;

use crate::dressing::{full_turn, half_turn};
use crate::widgets::Way;

/// The side that a phone was given to follow somebody from, and the one that it had before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Turned {
    to: Angle,
    from: Angle,
}

/// How a shot's phone moves, round somebody who faces that way.
pub(super) fn way_of(shot: &Shot, faces: Option<Angle>) -> Way {
    let side = faces.map_or(Accompanies::Alongside, |faces| Accompanies::of(faces, shot.side));
    Way::of(shot.movement, side)
}

/// Has a shot's phone move so, as fast as it did if that was this kind of way; a pan starts out at `pan_deg_per_s`.
///
/// Following turns the phone round whoever `faces` that way, and no longer following takes back what that `turned`, unless
/// the side was changed since.
pub(super) fn take_way(
    way: Way,
    shot: &mut Shot,
    faces: Option<Angle>,
    pan_deg_per_s: f64,
    turned: Option<Turned>,
) -> Option<Turned> {
    let before = way_of(shot, faces);
    let kept = shot.movement.map(speed).filter(|_| way.is_like(before));
    shot.movement = way.movement(kept.unwrap_or(way.usual_speed(pan_deg_per_s)));
    if way == before {
        return turned;
    }
    let from = turned.filter(|turned| turned.to == shot.side).map_or(shot.side, |turned| turned.from);
    let followed = faces.and_then(|faces| {
        let facing_deg = way.follows_from(half_turn((faces - shot.side).to_deg()))?;
        Some(Angle::from_deg(full_turn(faces.to_deg() - facing_deg)))
    });
    shot.side = followed.unwrap_or(from);
    followed.map(|to| Turned { to, from })
}

/// How fast that is, metres or degrees a second.
fn speed(movement: Movement) -> f64 {
    match movement {
        Movement::Push { per_second } | Movement::Follow { per_second } => per_second.to_m().abs(),
        Movement::Pan { per_second } | Movement::Tilt { per_second } => per_second.to_deg().abs(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAN_DEG: f64 = 7.0;

    fn shot(side_deg: f64) -> Shot {
        let mut shot = Shot::clone(&film::demo_film().scenes[0].shots[0]);
        (shot.side, shot.movement) = (Angle::from_deg(side_deg), None);
        shot
    }

    fn taken(way: Way, shot: &mut Shot, turned: Option<Turned>) -> Option<Turned> {
        take_way(way, shot, Some(Angle::from_deg(90.0)), PAN_DEG, turned)
    }

    #[test]
    fn every_way_is_told_from_every_other() {
        let faces = Some(Angle::from_deg(90.0));
        for way in Way::ALL {
            let mut shot = shot(130.0);
            taken(way, &mut shot, None);
            assert_eq!(way_of(&shot, faces), way, "{:?} from {}", shot.movement, shot.side.to_deg());
        }
    }

    #[test]
    fn whoever_is_followed_goes_on_the_same_way_with_the_phone_before_behind_or_beside_them() {
        let all = [
            (Way::Backwards, 130.0, 90.0),
            (Way::FromBehind, 130.0, 270.0),
            // On the side on which it stood.
            (Way::Alongside, 130.0, 180.0),
            (Way::Alongside, 50.0, 0.0),
        ];
        for (way, from_deg, to_deg) in all {
            let mut shot = shot(from_deg);
            taken(way, &mut shot, None);
            let side_deg = shot.side.to_deg();
            assert!((side_deg - to_deg).abs() < 1e-9, "{way:?} from {from_deg}: {side_deg}");
        }
    }

    #[test]
    fn the_side_comes_back_when_nobody_is_followed_any_more() {
        let mut shot = shot(130.0);
        let mut turned = None;
        for way in [Way::FromBehind, Way::Backwards, Way::PushIn] {
            turned = taken(way, &mut shot, turned);
        }
        assert_eq!((shot.side, turned), (Angle::from_deg(130.0), None));
        let turned = taken(Way::FromBehind, &mut shot, None);
        // Chosen by hand since.
        shot.side = Angle::from_deg(20.0);
        taken(Way::Still, &mut shot, turned);
        assert_eq!(shot.side, Angle::from_deg(20.0));
    }

    #[test]
    fn the_same_way_in_the_other_direction_is_as_fast() {
        let mut shot = shot(0.0);
        shot.movement = Some(Movement::Tilt { per_second: Angle::from_deg(-11.0) });
        taken(Way::TiltUp, &mut shot, None);
        assert_eq!(shot.movement.map(|movement| libm::round(speed(movement))), Some(11.0));
        taken(Way::PanLeft, &mut shot, None);
        assert_eq!(way_of(&shot, None), Way::PanLeft);
        assert_eq!(shot.movement.map(|movement| libm::round(speed(movement))), Some(PAN_DEG));
    }
}
