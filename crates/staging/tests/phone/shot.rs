//! A medium shot of somebody of 1.70 m, on a phone's main lens.

use optics::{Aspect, FNumber, FocalLength, Known, Lens, Origin, Recording, Scale, SensorSize};
use staging::{Body, FocusOn, Look, PhoneHeight, Sharpness, Shot, ShotSize, Stand, Subject};
use units::Length;

/// It, in 16:9 with the background ten metres behind.
pub(crate) fn phone_shot() -> Shot {
    let origin = Origin::Typed;
    Shot {
        lens: Lens {
            focal_length: Known::new(FocalLength::from_mm(6.86).expect("in range"), origin),
            f_number: Some(Known::new(FNumber::new(1.78).expect("in range"), origin)),
            sensor: Known::new(SensorSize::from_mm(9.8, 7.3).expect("in range"), origin),
            closest_focus: None,
            scale: Scale::True,
        },
        recording: Recording::new(3840, 2160).expect("a mode"),
        adapter: None,
        aspect: Aspect::new(16.0 / 9.0).expect("a shape"),
        crop_shift: None,
        subject: Subject::Person(Body::standing(Length::from_m(1.70))),
        size: ShotSize::Medium,
        headroom: None,
        phone_height: PhoneHeight::BySize,
        look: Look::Aimed,
        stand: Stand::ForSize,
        across: 0.5,
        background_behind: Length::from_m(10.0),
        focus: FocusOn::Subject,
        sharpness: Sharpness::Usual,
    }
}
