//! Past whose shoulder a phone looks: how high it is held for that, and whether the shoulder is in the frame.

use staging::{Body, Landmark, PhoneHeight};
use units::Length;

use super::ground::Ground;
use crate::rehearsal::Rehearsal;
use crate::shot::{Shot, ShotOf};

/// Two whose shoulders differ by more are unlike: chosen as about the height of a head. Past somebody who is as tall, a phone
/// at the height of the eyes looks past head and shoulder on any lens.
const UNLIKE_M: f64 = 0.25;
/// A shoulder nearer to the upper or lower edge than this share of the frame's height is none: chosen, as what is seen is then
/// an arm or the crown of a head.
const FROM_THE_EDGE: f64 = 0.05;
/// How far above the crown of whoever is taller a phone is held at the most: chosen, as arms reach there with ease.
const OVER_THE_CROWN: Length = Length::from_m(0.20);

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
pub(super) fn heights(facing: &Body, near: &Body) -> Vec<PhoneHeight> {
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

/// Whether a shot past the shoulder of somebody who is much taller or smaller has that shoulder between the upper and the
/// lower edge of its frame, as it starts.
pub(super) fn is_in_frame(ground: &Ground<'_>, shot: &Shot, rehearsal: &Rehearsal) -> bool {
    let ShotOf::OverShoulder { facing, near } = shot.of else { return true };
    let (Some(face), Some(other)) = (ground.person(facing), ground.person(near)) else { return false };
    if !are_unlike(&face.body, &other.body) {
        return true;
    }
    let (Ok(setup), Some(camera)) = (&rehearsal.result().outcome, rehearsal.camera()) else { return false };
    let Some(shoulder) = camera.see(other.at(Landmark::Shoulder)) else { return false };
    let (up, down) = (setup.view.up, setup.view.down);
    let edge = (up + down) * FROM_THE_EDGE;
    (edge - down..up - edge).contains(&shoulder.up)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tall(metres: f64) -> Body {
        Body::standing(Length::from_m(metres))
    }

    #[test]
    fn past_somebody_as_tall_a_phone_is_at_the_height_of_the_eyes() {
        let usual = [PhoneHeight::At(Landmark::Eyes), PhoneHeight::BySize];
        assert_eq!(heights(&tall(1.66), &tall(1.82)), usual);
        assert_eq!(heights(&tall(1.82), &tall(1.66)), usual);
    }

    #[test]
    fn past_a_smaller_one_it_goes_down_and_past_a_taller_one_up() {
        let fixed = |metres: f64| PhoneHeight::Fixed(Length::from_m(metres));
        // The survey's shares of a stature: shoulder 0.820, eyes 0.934.
        assert_eq!(heights(&tall(1.9), &tall(1.3))[2..], [1.07, 1.21, 1.3].map(fixed));
        assert_eq!(heights(&tall(1.3), &tall(1.9))[2..], [1.77, 1.9, 2.1].map(fixed));
    }
}
