//! From which side the sun comes to somebody who looks as a photo does, and when it is in the picture.

use film::{Daylight, PlacePhoto, SunInFrame, SunOnShot, SunSide, clock};
use language::say;
use units::Angle;

/// How closely a day is gone through, minutes: chosen because a side is not sharper than that.
const STEP_MIN: f64 = 5.0;

/// A stretch of the day with the sun on one side.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Stretch {
    from_min: f64,
    to_min: f64,
    what: What,
}

/// Where the sun is, for who looks as the photo does.
#[derive(Debug, Clone, Copy, PartialEq)]
enum What {
    InFrame,
    On(SunSide),
}

impl What {
    fn words(self) -> &'static str {
        match self {
            Self::InFrame => say!("in the picture"),
            Self::On(SunSide::Front) => say!("from behind the phone"),
            Self::On(SunSide::Left) => say!("from the left"),
            Self::On(SunSide::Right) => say!("from the right"),
            Self::On(SunSide::Back) => say!("from the front, beside or above the picture"),
        }
    }
}

/// The hours of the day by where the sun comes from, in sentences; one that says so if it never shines there.
pub(super) fn hours(photo: &PlacePhoto, daylight: &Daylight) -> Vec<String> {
    let stretches = stretches(photo, daylight);
    if stretches.is_empty() {
        return vec![say!("The sun does not shine here on that day.").to_owned()];
    }
    let told = |stretch: Stretch| {
        say!("{} to {}: {}", clock(stretch.from_min), clock(stretch.to_min), stretch.what.words())
    };
    stretches.into_iter().map(told).collect()
}

fn stretches(photo: &PlacePhoto, daylight: &Daylight) -> Vec<Stretch> {
    let (camera, view) = (photo.camera(Angle::ZERO), photo.view());
    let known = daylight.known();
    let mut found: Vec<Stretch> = Vec::new();
    let mut minute = known.from_min;
    while minute <= known.to_min {
        let sun = daylight.sun_at(minute);
        if sun.shines {
            let on = SunOnShot::of(&camera, &view, Angle::ZERO, sun.azimuth, sun.apparent_elevation);
            let what = if on.in_frame == SunInFrame::Within { What::InFrame } else { What::On(on.side) };
            match found.last_mut().filter(|last| last.what == what && minute - last.to_min < STEP_MIN * 1.5) {
                Some(last) => last.to_min = minute,
                None => found.push(Stretch { from_min: minute, to_min: minute, what }),
            }
        }
        minute += STEP_MIN;
    }
    found
}
