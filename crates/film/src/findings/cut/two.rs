//! A shot of two: whether both of them are seen.

use staging::{Landmark, Person, Seen};

use super::CutFinding;
use super::shoulder::hides;
use crate::film::Film;
use crate::rehearsal::Rehearsal;
use crate::scene::Scene;
use crate::shot::{Shot, ShotOf};

/// Whoever of two is not seen, as the shot starts: their eyes are outside the frame, or the other stands before them.
///
/// A phone that has to be in one place is the usual reason, or one that looks along the two and not across.
pub(crate) fn one_unseen(
    film: &Film,
    scene: &Scene,
    shot: &Shot,
    rehearsal: &Rehearsal,
) -> Option<CutFinding> {
    let ShotOf::Two(first, second) = shot.of else { return None };
    if shot.is_insert() {
        return None;
    }
    let view = rehearsal.result().outcome.as_ref().ok()?.view;
    let camera = rehearsal.camera()?;
    let person = |who| scene.blocking.person_of(&film.cast, who, rehearsal.starts_s);
    let both = [(first, person(first)?), (second, person(second)?)];
    let eyes = |person: &Person| camera.see(person.at(Landmark::Eyes));
    let is_within = |seen: &Seen| {
        (-view.left..=view.right).contains(&seen.right) && (-view.down..=view.up).contains(&seen.up)
    };
    let outside = both.iter().find(|(_, person)| !eyes(person).is_some_and(|seen| is_within(&seen)));
    if let Some((who, _)) = outside {
        return Some(CutFinding::OneUnseen { who: *who, hidden: false });
    }
    let [(_, one), (_, other)] = &both;
    let (eyes_of_one, eyes_of_other) = (eyes(one)?, eyes(other)?);
    let (who, hidden) = if eyes_of_one.depth < eyes_of_other.depth {
        (second, hides(&camera, one, &eyes_of_other))
    } else {
        (first, hides(&camera, other, &eyes_of_one))
    };
    hidden.then_some(CutFinding::OneUnseen { who, hidden })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::cut::example::{film, finds, found, level, mark, person, two};
    use crate::scene_blocking::{Faces, SceneBlocking};
    use staging::{PhoneHeight, ShotSize};
    use units::{Angle, Length};

    /// A shot of Ada and of Ben, two metres east of her, from that direction.
    fn of_both(size: ShotSize, side_deg: f64) -> Shot {
        let of = ShotOf::Two(person(1), person(2));
        Shot {
            of,
            ..Shot::of(level(1, 0.0, 1.0).id, ShotOf::One(person(1)), size, Angle::from_deg(side_deg))
        }
    }

    /// Who is not seen, and whether the other hides them.
    fn unseen(blocking: SceneBlocking, shot: Shot) -> Option<(u64, bool)> {
        let of_two = |finding| {
            if let CutFinding::OneUnseen { who, hidden } = finding {
                Some((who.number(), hidden))
            } else {
                None
            }
        };
        found(&film(blocking, vec![shot])).into_iter().find_map(|placed| of_two(placed.finding))
    }

    #[test]
    fn both_are_seen_in_every_size_from_wherever_neither_hides_the_other() {
        for size in ShotSize::ALL.into_iter().filter(|size| *size != ShotSize::Insert) {
            for side_deg in (0..360).step_by(10).map(f64::from) {
                // Ben is in the east, so that from there and from the west they stand behind each other.
                let along = libm::sin(side_deg.to_radians()).abs();
                let unseen = unseen(two(), of_both(size, side_deg));
                if along < 0.95 {
                    assert_eq!(unseen, None, "{size:?} from {side_deg}°");
                } else if along > 0.999 {
                    assert!(unseen.is_some(), "{size:?} from {side_deg}°");
                }
            }
        }
    }

    #[test]
    fn from_a_place_between_them_one_is_behind_the_phone() {
        let of = ShotOf::Two(person(1), person(2));
        let at =
            |side_deg: f64, away_m: f64| unseen(two(), Shot { of: of.clone(), ..level(1, side_deg, away_m) });
        // The middle is a metre from each of them.
        assert_eq!(at(80.0, 0.5), Some((2, false)));
        assert_eq!(at(280.0, 0.5), Some((1, false)));
        assert_eq!(at(180.0, 0.3), Some((1, false)), "both are beside the frame");
        assert_eq!(at(180.0, 3.0), None);
    }

    #[test]
    fn whoever_stands_behind_is_hidden_but_from_above() {
        let blocking = || {
            let marks = [0.0, -2.0].map(|north_m| (0.0, north_m).into());
            let marks = (1..).zip(marks).map(|(who, place)| mark(who, place, Faces::Towards(Angle::ZERO)));
            SceneBlocking { marks: marks.collect(), ..SceneBlocking::default() }
        };
        let from = |height_m: f64, of: ShotOf, size: ShotSize| {
            let height = PhoneHeight::Fixed(Length::from_m(height_m));
            unseen(blocking(), Shot { of, height, ..of_both(size, 0.0) })
        };
        let both = || ShotOf::Two(person(1), person(2));
        let reversed = ShotOf::Two(person(2), person(1));
        assert_eq!(from(1.5, both(), ShotSize::Wide), Some((2, true)));
        assert_eq!(from(1.5, reversed, ShotSize::Wide), Some((2, true)), "whoever is in focus");
        assert_eq!(from(3.0, both(), ShotSize::ExtremeWide), None, "over her head");
        // From above, what is farther is seen higher: there is no room for it over a wide frame's crown.
        assert_eq!(from(2.6, both(), ShotSize::Wide), Some((2, false)));
    }

    #[test]
    fn only_a_shot_of_two_lacks_one() {
        assert!(!finds(&film(two(), vec![level(1, 90.0, 4.0)]), "one_unseen"));
        let held = Shot { size: ShotSize::Insert, ..of_both(ShotSize::Wide, 90.0) };
        assert!(!finds(&film(two(), vec![held]), "one_unseen"));
    }
}
