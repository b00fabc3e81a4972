//! What holds for spreads: they are what small changes of what is uncertain do, added in squares.

use optics::{Aspect, FNumber, FocalLength, Known, Lens, Origin, Recording, Scale, SensorSize};
use units::{Angle, Length};

use super::search::{Pose, Search};
use super::{Binding, FocusOn, Look, Sharpness, Shot, Spread, Stand};
use crate::body::Body;
use crate::shot_size::ShotSize;
use crate::subject::{Object, PhoneHeight, Subject};

/// Relative standard uncertainty of the frame's tangents, for these tests.
const ROWS_SD: f64 = 0.02;

/// A medium shot of somebody from below on a phone's main lens.
fn shot() -> Shot {
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
        phone_height: PhoneHeight::Fixed(Length::from_m(0.9)),
        look: Look::Aimed,
        stand: Stand::ForSize,
        across: 0.5,
        background_behind: Length::from_m(10.0),
        focus: FocusOn::Subject,
        sharpness: Sharpness::Usual,
    }
}

fn search(shot: &Shot) -> Search<'_> {
    let mut frame = shot.frame();
    frame.recorded.relative_sd = ROWS_SD;
    Search::new(shot, frame)
}

/// What one step solves for that carries a spread.
#[derive(Debug, Clone, Copy)]
struct Solved {
    distance_m: f64,
    tilt_rad: f64,
    horizontal_rad: f64,
    vertical_rad: f64,
}

/// One step at an image distance of 7 mm whose tangents are all that many times as large.
fn pose(search: &Search<'_>, tangents: f64) -> Pose {
    search.pose(Length::from_mm(7.0 / tangents), None)
}

fn solved(search: &Search<'_>, tangents: f64) -> Solved {
    let pose = pose(search, tangents);
    Solved {
        distance_m: pose.ahead_m,
        tilt_rad: pose.tilt_rad,
        horizontal_rad: pose.view.horizontal_fov().to_rad(),
        vertical_rad: pose.view.vertical_fov().to_rad(),
    }
}

/// The spread by small changes: of all tangents, of the upper landmark's height, and of the lower one's.
fn by_small_changes(shot: &Shot) -> Spread {
    let step = 1e-6;
    let of = search(shot);
    let [mut top, mut cut] = [search(shot), search(shot)];
    top.hold.top += Length::from_m(step);
    cut.hold.cut += Length::from_m(step);
    let before = solved(&of, 1.0);
    let parts = [
        (solved(&of, 1.0 + step), ROWS_SD),
        (solved(&top, 1.0), of.hold.top_sd.to_m()),
        (solved(&cut, 1.0), of.hold.cut_sd.to_m()),
    ];
    let root = |value: fn(&Solved) -> f64| {
        let squares = parts.map(|(after, sd)| ((value(&after) - value(&before)) / step * sd).powi(2));
        squares.iter().sum::<f64>().sqrt()
    };
    Spread {
        distance: Length::from_m(root(|solved| solved.distance_m)),
        tilt: Angle::from_rad(root(|solved| solved.tilt_rad)),
        horizontal_fov: Angle::from_rad(root(|solved| solved.horizontal_rad)),
        vertical_fov: Angle::from_rad(root(|solved| solved.vertical_rad)),
    }
}

fn assert_spread_is_that_of_small_changes(shot: &Shot) {
    let search = search(shot);
    let (told, expected) = (search.spread(&pose(&search, 1.0)), by_small_changes(shot));
    for (one, other) in [
        (told.distance.to_m(), expected.distance.to_m()),
        (told.tilt.to_rad(), expected.tilt.to_rad()),
        (told.horizontal_fov.to_rad(), expected.horizontal_fov.to_rad()),
        (told.vertical_fov.to_rad(), expected.vertical_fov.to_rad()),
    ] {
        assert!((one - other).abs() < 1e-4 * other.abs() + 1e-9, "{told:?} is not {expected:?}");
    }
}

#[test]
fn an_aimed_shot_spreads_with_its_lens_and_with_both_landmarks() {
    let mut framed = 0;
    // From below, level with the face and from above, cut at the chest, the waist, and from brow to chin.
    for height_m in [0.3, 0.9, 1.6, 2.4] {
        for size in [ShotSize::Wide, ShotSize::Medium, ShotSize::ChestUp, ShotSize::ExtremeTight] {
            let phone_height = PhoneHeight::Fixed(Length::from_m(height_m));
            let shot = Shot { size, phone_height, ..shot() };
            let pose = pose(&search(&shot), 1.0);
            if pose.unframed.is_none() {
                assert_eq!(pose.binding, Binding::Height, "{height_m} {size:?}");
                assert_spread_is_that_of_small_changes(&shot);
                framed += 1;
            }
        }
    }
    assert!(framed > 0, "none of them has a framing");
}

#[test]
fn an_off_centre_crop_spreads_by_its_own_tangents() {
    let crop_shift = Some(optics::CropShift { up: 0.7, right: -0.4 });
    let shot = Shot { aspect: Aspect::new(2.39).expect("a shape"), crop_shift, ..shot() };
    assert_spread_is_that_of_small_changes(&shot);
}

#[test]
fn an_objects_landmarks_are_where_they_are() {
    let subject = Subject::Object(Object::on_table(Length::from_m(0.2)));
    let phone_height = PhoneHeight::Fixed(Length::from_m(0.9));
    assert_spread_is_that_of_small_changes(&Shot { subject, size: ShotSize::Insert, phone_height, ..shot() });
}

#[test]
fn a_place_that_was_fixed_is_where_it_is_and_its_aim_spreads() {
    let at = Stand::At(Length::from_m(2.0));
    let spread = |shot: &Shot| search(shot).spread(&pose(&search(shot), 1.0));
    let aimed = spread(&Shot { stand: at, ..shot() });
    assert_eq!(aimed.distance, Length::ZERO);
    // τ = atan(a / p) − atan u moves with the upper landmark, which the crown of one stature does not, and with the row.
    let top_row = pose(&search(&Shot { stand: at, ..shot() }), 1.0).stretch.top_row;
    let expected = ROWS_SD * top_row / (1.0 + top_row * top_row);
    assert!((aimed.tilt.to_rad() - expected).abs() < 1e-12, "{aimed:?} is not {expected}");
    let looking = spread(&Shot { stand: at, look: Look::Tilt(Angle::from_deg(5.0)), ..shot() });
    assert_eq!((looking.distance, looking.tilt), (Length::ZERO, Angle::ZERO));
}

#[test]
fn a_level_look_spreads_with_its_lens() {
    // All rows are that much wider, and the phone that much nearer.
    let level = Shot { look: Look::Tilt(Angle::ZERO), ..shot() };
    let search = search(&level);
    let pose = pose(&search, 1.0);
    let spread = search.spread(&pose);
    assert!((spread.distance.to_m() - ROWS_SD * pose.ahead_m).abs() < 1e-12, "{spread:?}");
    assert_eq!(spread.tilt, Angle::ZERO);
}

#[test]
fn where_the_width_binds_the_aim_spreads_against_the_distance() {
    let body = Body::standing(Length::from_m(1.7));
    let shot = Shot {
        subject: Subject::side_by_side(body, body, Length::from_m(0.7)),
        recording: Recording::new(1080, 1920).expect("a mode"),
        aspect: Aspect::new(9.0 / 16.0).expect("a shape"),
        phone_height: PhoneHeight::BySize,
        ..shot()
    };
    let search = search(&shot);
    let pose = pose(&search, 1.0);
    assert_eq!(pose.binding, Binding::Width);
    let (told, expected) = (search.spread(&pose), by_small_changes(&shot));
    // Within a fifth: the spread takes the subject's depth to go as its distance, which with an aim that follows it does not
    // quite.
    for (one, other) in
        [(told.distance.to_m(), expected.distance.to_m()), (told.tilt.to_rad(), expected.tilt.to_rad())]
    {
        assert!((one - other).abs() < 0.2 * other, "{told:?} is not {expected:?}");
    }
}
