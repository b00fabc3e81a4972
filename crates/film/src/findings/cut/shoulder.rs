//! A shot past somebody's shoulder: how high the phone is held for it, and where the shoulder is in its frame.

use glam::DVec3;
use optics::ViewTangents;
use staging::{Body, Camera, Landmark, Person, PhoneHeight, Seen};
use units::Length;

use super::{CutFinding, ShoulderPlace};
use crate::film::Film;
use crate::rehearsal::Rehearsal;
use crate::scene::Scene;
use crate::shot::{Shot, ShotOf};

/// Two whose shoulders differ by more are unlike: chosen as about the height of a head. Past somebody who is as tall, a phone
/// at the height of the eyes looks past head and shoulder on any lens.
const UNLIKE_M: f64 = 0.25;
/// A shoulder nearer to the upper or lower edge than this share of the frame's height is none: chosen, as what is seen is then
/// an arm or the crown of a head.
const FROM_THE_EDGE: f64 = 0.05;
/// How far above the crown of whoever is taller a phone is held at the most: chosen, as arms reach there with ease.
const OVER_THE_CROWN: Length = Length::from_m(0.20);
/// A head's breadth with its hair, over the stature: about 0.10, from memory of anthropometric surveys.
const HEAD_OVER_STATURE: f64 = 0.1;
/// Less of the frame's width is no shoulder: chosen, as a fiftieth looks like a mistake at the edge.
const LEAST_SHOULDER_SHARE: f64 = 0.02;

/// Whether one of them is so much smaller, or sits, that the height of the one's eyes does not serve for the other.
fn are_unlike(one: &Body, other: &Body) -> bool {
    let shoulder_m = |body: &Body| body.height_of(Landmark::Shoulder).to_m();
    (shoulder_m(one) - shoulder_m(other)).abs() > UNLIKE_M
}

/// How high the phone is held to see `facing` past the shoulder of `near`, the preferred heights first; as many of them as
/// the other way round.
///
/// Common practice: as high as the eyes of the one in focus. Of two who are unlike, the phone goes down to the smaller one's
/// shoulder and up over the taller one's, as each of them sees the other.
pub(crate) fn heights_past_shoulder(facing: &Body, near: &Body) -> Vec<PhoneHeight> {
    let mut heights = vec![PhoneHeight::At(Landmark::Eyes), PhoneHeight::BySize];
    if are_unlike(facing, near) {
        let of = |landmark| near.height_of(landmark);
        let is_smaller = of(Landmark::Shoulder) < facing.height_of(Landmark::Shoulder);
        let (eyes, crown) = (of(Landmark::Eyes), of(Landmark::Crown));
        let over = if is_smaller {
            [of(Landmark::Shoulder), eyes, crown]
        } else {
            [eyes, crown, crown + OVER_THE_CROWN]
        };
        heights.extend(over.map(|height| PhoneHeight::Fixed(whole_centimetres(height))));
    }
    heights
}

/// As well as anybody holds a phone.
fn whole_centimetres(height: Length) -> Length {
    Length::from_m(libm::round(height.to_m() * 100.0) / 100.0)
}

/// A shoulder that is not where the shot looks past it, as the shot starts.
pub(crate) fn shoulder_amiss(
    film: &Film,
    scene: &Scene,
    shot: &Shot,
    rehearsal: &Rehearsal,
) -> Option<CutFinding> {
    let ShotOf::OverShoulder { facing, near } = shot.of else { return None };
    let setup = rehearsal.result().outcome.as_ref().ok()?;
    let camera = rehearsal.camera()?;
    let person = |who| scene.blocking.person_of(&film.cast, who, rehearsal.starts_s);
    let (face, other) = (person(facing)?, person(near)?);
    let eyes = camera.see(face.at(Landmark::Eyes))?;
    let amiss = |place| Some(CutFinding::ShoulderAmiss { near, place });
    let seen = |landmark| camera.see(other.at(landmark));
    let (Some(shoulder), Some(crown)) = (seen(Landmark::Shoulder), seen(Landmark::Crown)) else {
        return amiss(ShoulderPlace::Outside);
    };
    let body = half_seen(other.body.shoulder_breadth(), &shoulder);
    if hides(&camera, &other, &eyes) {
        return amiss(ShoulderPlace::BeforeTheFace);
    }
    let view = &setup.view;
    let least = view.width() * LEAST_SHOULDER_SHARE;
    if shoulder.right + body < least - view.left || shoulder.right - body > view.right - least {
        return amiss(ShoulderPlace::Outside);
    }
    if are_unlike(&face.body, &other.body) {
        let edge = view.height() * FROM_THE_EDGE;
        return above_or_below(view, [shoulder.up; 2], edge).and_then(amiss);
    }
    // The head of somebody who is as tall says as well as their shoulder whom the phone looks past.
    let chest = seen(Landmark::Chest).map_or(shoulder.up, |chest| chest.up);
    above_or_below(view, [chest, crown.up], 0.0).and_then(amiss)
}

/// Whether somebody stands before a face that is farther from the phone.
///
/// They are as broad as their shoulders up to these, and as their head above: how they are turned changes less than where the
/// phone stands does.
pub(super) fn hides(camera: &Camera, near: &Person, face: &Seen) -> bool {
    let seen = |landmark| camera.see(near.at(landmark));
    let (Some(shoulder), Some(crown)) = (seen(Landmark::Shoulder), seen(Landmark::Crown)) else {
        return false;
    };
    let aside = (face.right - shoulder.right).abs();
    let body = half_seen(near.body.shoulder_breadth(), &shoulder);
    let head = half_seen(near.body.stature * HEAD_OVER_STATURE, &shoulder);
    (aside < body && shoulder.up > face.up) || (aside < head && crown.up > face.up)
}

/// Whether somebody is where a point is: as broad all round as [`hides`] has them.
pub(super) fn fills(person: &Person, point: DVec3) -> bool {
    let height = |landmark| person.body.height_of(landmark).to_m();
    let breadth = if point.z < height(Landmark::Shoulder) {
        person.body.shoulder_breadth()
    } else {
        person.body.stature * HEAD_OVER_STATURE
    };
    point.z < height(Landmark::Crown) && person.place.distance(point.truncate()) < breadth.to_m() / 2.0
}

/// Half of a breadth where something is seen, as a tangent.
fn half_seen(breadth: Length, at: &Seen) -> f64 {
    breadth.to_m() / 2.0 / at.depth.to_m()
}

/// Where something that reaches from the one height to the other is, if that is above the frame's upper edge or below its
/// lower one; all of them tangents.
fn above_or_below(view: &ViewTangents, [bottom, top]: [f64; 2], edge: f64) -> Option<ShoulderPlace> {
    if bottom > view.up - edge {
        Some(ShoulderPlace::Above)
    } else if top < edge - view.down {
        Some(ShoulderPlace::Below)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::cut::example::{film, finds, level, person, two, views};
    use staging::ShotSize;
    use units::Angle;

    fn tall(metres: f64) -> Body {
        Body::standing(Length::from_m(metres))
    }

    #[test]
    fn past_somebody_as_tall_a_phone_is_at_the_height_of_the_eyes() {
        let usual = [PhoneHeight::At(Landmark::Eyes), PhoneHeight::BySize];
        assert_eq!(heights_past_shoulder(&tall(1.66), &tall(1.82)), usual);
        assert_eq!(heights_past_shoulder(&tall(1.82), &tall(1.66)), usual);
    }

    #[test]
    fn past_a_smaller_one_it_goes_down_and_past_a_taller_one_up() {
        let fixed = |metres: f64| PhoneHeight::Fixed(Length::from_m(metres));
        // The survey's shares of a stature: shoulder 0.820, eyes 0.934.
        assert_eq!(heights_past_shoulder(&tall(1.9), &tall(1.3))[2..], [1.07, 1.21, 1.3].map(fixed));
        assert_eq!(heights_past_shoulder(&tall(1.3), &tall(1.9))[2..], [1.77, 1.9, 2.1].map(fixed));
    }

    #[test]
    fn a_shoulder_is_at_an_edge_or_amiss() {
        let past = |side_deg: f64| {
            let of = ShotOf::OverShoulder { facing: person(1), near: person(2) };
            film(
                two(),
                vec![Shot::of(level(1, 0.0, 1.0).id, of, ShotSize::ChestUp, Angle::from_deg(side_deg))],
            )
        };
        let amiss = |side_deg| finds(&past(side_deg), "shoulder_amiss");
        // The second stands two metres to the east of the first: exactly behind them the phone sees a back.
        assert!(amiss(90.0), "the back hides the face");
        assert!(amiss(150.0), "the shoulder is far outside");
        assert!((95..115).any(|side| !amiss(f64::from(side))), "somewhere between it is at the edge");
    }

    /// A shot of Ada past Ben's shoulder, 3 m from her, level and so high, that many degrees off his back; he is so tall.
    fn past_ben(height_m: f64, off_deg: f64, tall_m: f64) -> Film {
        let of = ShotOf::OverShoulder { facing: person(1), near: person(2) };
        let height = PhoneHeight::Fixed(Length::from_m(height_m));
        let film = film(two(), vec![Shot { of, height, across: 0.5, ..level(1, 90.0 + off_deg, 3.0) }]);
        let mut cast = film.cast.to_vec();
        cast[1].stature = Length::from_m(tall_m);
        Film { cast: cast.into(), ..film }
    }

    /// Where the shoulder of a shot of [`past_ben`] is, if not where it should be, and the frame.
    fn looked_at(film: &Film) -> (Option<ShoulderPlace>, ViewTangents) {
        let view = views(film)[0].clone();
        let rehearsal = view.rehearsal.as_ref().as_ref().expect("it can be walked through");
        let setup = rehearsal.result().outcome.as_ref().expect("a setup");
        let place = shoulder_amiss(film, &film.scenes[0], &view.shot, rehearsal).map(|amiss| {
            let CutFinding::ShoulderAmiss { near, place } = amiss else { panic!("{amiss:?}") };
            assert_eq!(near, person(2));
            place
        });
        (place, setup.view)
    }

    /// Where the shoulder is by trigonometry on the floor: Ben stands 2 m from Ada towards the phone.
    fn expected(view: &ViewTangents, height_m: f64, off_deg: f64, tall_m: f64) -> Option<ShoulderPlace> {
        let off = off_deg.abs().to_radians();
        let (aside_m, depth_m) = (2.0 * libm::sin(off), 3.0 - 2.0 * libm::cos(off));
        let up = |landmark_m: f64, depth_m: f64| (landmark_m - height_m) / depth_m;
        // Ada's eyes, and what is Ben's: the survey's shares of their statures, hers of 1.66 m.
        let (eyes, shoulder, crown) =
            (up(0.934 * 1.66, 3.0), up(0.820 * tall_m, depth_m), up(tall_m, depth_m));
        let (half_body_m, half_head_m) = (0.2838 * tall_m / 2.0, 0.1 * tall_m / 2.0);
        if (aside_m < half_body_m && shoulder > eyes) || (aside_m < half_head_m && crown > eyes) {
            return Some(ShoulderPlace::BeforeTheFace);
        }
        // A fiftieth of the frame's width must hold some of him.
        if (aside_m - half_body_m) / depth_m > view.width() * 0.48 {
            return Some(ShoulderPlace::Outside);
        }
        // Of somebody as tall some of head or chest must be there, of another the shoulder, a twentieth within.
        let is_unlike = 0.820 * (tall_m - 1.66).abs() > 0.25;
        let (bottom, top, edge) = if is_unlike {
            (shoulder, shoulder, view.height() / 20.0)
        } else {
            (up(0.727 * tall_m, depth_m), crown, 0.0)
        };
        let above = (bottom > view.up - edge).then_some(ShoulderPlace::Above);
        above.or((top < edge - view.down).then_some(ShoulderPlace::Below))
    }

    #[test]
    fn a_shoulder_is_amiss_where_trigonometry_says_so() {
        let mut kinds = std::collections::BTreeSet::new();
        // From far below him to where he is below the frame: as tall as Ada or so, much smaller, and much taller.
        for tall_m in [1.82, 1.2, 2.1] {
            for height_m in [0.3, 1.0, 1.6, 2.1, 2.6] {
                for step in -40..=40 {
                    let off_deg = f64::from(step) * 2.0;
                    let (place, view) = looked_at(&past_ben(height_m, off_deg, tall_m));
                    let told = format!("{tall_m} m tall, from {height_m} m, {off_deg}°");
                    assert_eq!(place, expected(&view, height_m, off_deg, tall_m), "{told}");
                    kinds.insert(format!("{place:?}"));
                }
            }
        }
        assert_eq!(kinds.len(), 5, "{kinds:?}");
    }

    #[test]
    fn past_a_child_from_the_height_of_ones_own_eyes_no_shoulder_is_seen() {
        let of_a_child = |height_m: f64| looked_at(&past_ben(height_m, 14.0, 1.2)).0;
        assert_eq!(of_a_child(1.55), Some(ShoulderPlace::Below));
        assert_eq!(of_a_child(1.2), None);
    }

    #[test]
    fn only_a_shot_past_a_shoulder_lacks_one() {
        let film = film(two(), vec![level(1, 90.0, 4.0)]);
        assert!(!finds(&film, "shoulder_amiss"));
    }
}
