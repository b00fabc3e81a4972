//! What a setup promises at its edges: lenses too near, crops without room, frames too narrow, eyes outside.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

#[path = "phone/checked.rs"]
mod checked;
#[path = "phone/shot.rs"]
mod shot;

use checked::{assert_near, resolved};
use glam::DVec3;
use optics::{
    Adapter, Aspect, CircleOfConfusion, CropShift, FrameAxis, Recording, Scale, Squeeze, ViewTangents,
    hyperfocal_distance,
};
use proptest::prelude::*;
use shot::phone_shot;
use staging::{
    Binding, Body, Camera, FocusOn, Landmark, Look, PhoneHeight, Setup, Sharpness, Shot, Stand, Subject,
    Unframed,
};
use units::{Angle, Length};

fn mm(millimetres: f64) -> Length {
    Length::from_mm(millimetres)
}

fn tilted(degrees: f64) -> Look {
    Look::Tilt(Angle::from_deg(degrees))
}

#[test]
fn the_hyperfocal_distance_is_of_the_circle_that_was_chosen() {
    let shot = phone_shot();
    let frame = shot.frame();
    // 9.8 x 5.5125 mm were recorded: 11.2440 mm of diagonal over 1500 is 0.0074960 mm, and 6.86² / (1.78 · 0.0074960) mm.
    assert_near(shot.hyperfocal(&frame).expect("known").to_mm(), 3533.8, 0.2);
    let own = CircleOfConfusion::new(mm(0.01)).expect("in range");
    let f_number = shot.lens.f_number.expect("known").value;
    let of_own = Shot { sharpness: Sharpness::Own(own), ..shot }.hyperfocal(&frame);
    assert_eq!(of_own, Some(hyperfocal_distance(shot.lens.focal_length.value, f_number, own)));
    let of_pixel = Shot { sharpness: Sharpness::DeliveredPixel, ..shot }.circle_of_confusion(&frame);
    assert_near(of_pixel.expect("known").to_length().to_mm(), 9.8 / 3840.0, 1e-12);
    let mut unknown = shot;
    unknown.lens.f_number = None;
    assert_eq!(unknown.hyperfocal(&frame), None);
}

#[test]
fn a_lens_focuses_from_its_own_limit_on_and_never_within_its_own_length() {
    let mut shot = phone_shot();
    let f = mm(6.86);
    assert_eq!(shot.closest_focus(f * 1.001), None);
    assert_eq!(shot.closest_focus(f), Some(f));
    assert_eq!(shot.closest_focus(mm(1.0)), Some(f));
    let limit = Length::from_m(0.2);
    shot.lens.closest_focus = Some(limit);
    assert_eq!(shot.closest_focus(limit), None, "at the limit it focuses");
    assert_eq!(shot.closest_focus(Length::from_m(0.199)), Some(limit));
    assert_eq!(shot.closest_focus(mm(1.0)), Some(limit), "the farther of the two");
    shot.lens.closest_focus = None;
    shot.lens.scale = Scale::Equivalent;
    assert_eq!(shot.closest_focus(mm(1.0)), None, "an equivalent is no length");
}

#[test]
fn focused_within_its_own_length_a_lens_sees_what_it_sees_far_away() {
    let shot = phone_shot();
    let frame = shot.frame();
    let far = shot.view(&frame, Length::from_m(1.0e9)).width();
    for focus_mm in [1.0, 6.86, 6.86 * 1.0005] {
        assert_near(shot.view(&frame, mm(focus_mm)).width(), far, 1e-9);
    }
    // Just beyond, v = f s / (s − f) is 501 times f, and the view as many times narrower.
    assert_near(shot.view(&frame, mm(6.86 * 1.002)).width(), far / 501.0, 1e-9);
}

#[test]
fn a_phone_set_nearer_than_its_lens_is_long_still_sees_a_frame() {
    for away_mm in [1.0, 6.7, 6.86] {
        let phone_height = PhoneHeight::At(Landmark::Eyes);
        let near = Shot { stand: Stand::At(mm(away_mm)), look: tilted(0.0), phone_height, ..phone_shot() };
        let setup = resolved(&near);
        assert!(setup.view.width() > 0.0 && setup.view.height() > 0.0, "{away_mm} mm: {:?}", setup.view);
    }
}

#[test]
fn a_look_that_misses_has_no_setup() {
    let up = Shot { look: tilted(60.0), ..phone_shot() };
    let phone_height = up.subject.phone_height(up.size, up.phone_height);
    let waist = up.subject.body().expect("a person").height_of(Landmark::Waist);
    assert_eq!(up.resolve(up.frame()), Err(Unframed::Look { phone_height, cut_height: waist }));
    // From the floor straight down past the feet: what it would meet is behind it.
    let down = Shot { look: tilted(-80.0), phone_height: PhoneHeight::Ground, ..up };
    assert!(
        matches!(down.resolve(down.frame()), Err(Unframed::Look { .. })),
        "{:?}",
        down.resolve(down.frame())
    );
}

/// A level look at the waist of somebody, so low that the headroom asks for more crop than there is.
fn low_and_level() -> Shot {
    let phone_height = PhoneHeight::Fixed(Length::from_m(1.05));
    Shot { phone_height, look: tilted(0.0), aspect: Aspect::new(2.39).expect("a shape"), ..phone_shot() }
}

#[test]
fn a_level_look_moves_the_crop_to_the_recorded_edge_and_no_farther() {
    let setup = resolved(&low_and_level());
    let edge = setup.frame.centre_offset.1 + setup.frame.area.height / 2.0;
    assert_near(edge.to_mm(), setup.frame.recorded.size.height.to_mm() / 2.0, 1e-9);
    assert!(setup.headroom < 0.12 - 0.01, "the headroom is not reached: {}", setup.headroom);
    // Where the user placed the crop it stays.
    let placed = Shot { crop_shift: Some(CropShift { up: 0.5, right: 0.0 }), ..low_and_level() };
    let (kept, asked) = (resolved(&placed).frame.centre_offset, placed.frame().centre_offset);
    assert_near(kept.1.to_mm(), asked.1.to_mm(), 1e-9);
}

#[test]
fn a_squeezed_height_has_as_much_room_as_it_sees() {
    let recording = Recording::new(1080, 1920).expect("a mode");
    let adapter = Adapter { axis: FrameAxis::Height, ..Adapter::new(Squeeze::new(1.5).expect("in range")) };
    // Stretched to 1080 x 2880, of which a frame of 2 to 5 keeps all but a little of the height.
    let aspect = Aspect::new(0.4).expect("a shape");
    let setup = resolved(&Shot { recording, adapter: Some(adapter), aspect, ..low_and_level() });
    let edge = setup.frame.centre_offset.1 + setup.frame.area.height / 2.0;
    assert_near(edge.to_mm(), setup.frame.recorded.size.height.to_mm() / 2.0, 1e-9);
}

#[test]
fn what_is_beside_the_middle_needs_room_on_its_own_side() {
    // A third of an upright frame is on the narrower side; whichever it is, the pair fills it.
    let body = Body::standing(Length::from_m(1.7));
    let pair = Subject::side_by_side(body, body, Length::from_m(0.7));
    let of = |across: f64| {
        let recording = Recording::new(1080, 1920).expect("a mode");
        let aspect = Aspect::new(9.0 / 16.0).expect("a shape");
        resolved(&Shot { subject: pair, recording, aspect, across, ..phone_shot() })
    };
    let needed = 0.35 + 0.2838 * 1.7 * 0.65;
    for across in [1.0 / 3.0, 2.0 / 3.0] {
        let setup = of(across);
        assert_eq!(setup.binding, Binding::Width);
        assert_near((setup.subject_depth * setup.view.width()).to_m() / 3.0, needed, 1e-9);
    }
}

/// The camera of a setup whose subject stands at the origin's north, straight ahead of it along the floor.
fn camera(setup: &Setup) -> Camera {
    Camera::new(DVec3::new(0.0, 0.0, setup.phone_height.to_m()), Angle::ZERO, setup.tilt)
}

/// Whether two views have the same edges.
fn assert_same_view(one: &ViewTangents, other: &ViewTangents) {
    let pairs =
        [(one.left, other.left), (one.right, other.right), (one.up, other.up), (one.down, other.down)];
    for (one, other) in pairs {
        assert_near(one, other, 1e-9);
    }
}

proptest! {
    #[test]
    fn the_frame_that_a_look_ends_with_sees_what_the_setup_says(
        tilt_deg in -15.0..15.0_f64, height_m in 0.6..1.9_f64, aspect in 1.8..2.6_f64, right in -1.0..1.0_f64,
        squeeze in prop::option::of(1.0..2.0_f64), placed in any::<bool>(),
    ) {
        let shot = Shot {
            adapter: squeeze.map(|factor| Adapter::new(Squeeze::new(factor).expect("in range"))),
            aspect: Aspect::new(aspect).expect("a shape"),
            crop_shift: placed.then_some(CropShift { up: 0.4, right }),
            phone_height: PhoneHeight::Fixed(Length::from_m(height_m)),
            look: tilted(tilt_deg),
            ..phone_shot()
        };
        let Ok(setup) = shot.resolve(shot.frame()) else { return Ok(()) };
        assert_same_view(&shot.view(&setup.frame, setup.focus), &setup.view);
        prop_assert_eq!(setup.frame.centre_offset.0, shot.frame().centre_offset.0);
    }

    #[test]
    fn eyes_are_in_the_frame_where_they_are_seen_in_it(
        tilt_deg in -60.0..60.0_f64, height_m in 0.1..3.0_f64, away_m in 0.3..4.0_f64, up in -1.0..1.0_f64,
    ) {
        let shot = Shot {
            aspect: Aspect::new(2.39).expect("a shape"),
            crop_shift: Some(CropShift { up, right: 0.0 }),
            phone_height: PhoneHeight::Fixed(Length::from_m(height_m)),
            look: tilted(tilt_deg),
            stand: Stand::At(Length::from_m(away_m)),
            focus: FocusOn::At(Length::from_m(2.0)),
            ..phone_shot()
        };
        let setup = resolved(&shot);
        let at = |height: Length| camera(&setup).see(DVec3::new(0.0, setup.ahead.to_m(), height.to_m()));
        let eyes = at(shot.subject.body().expect("a person").height_of(Landmark::Eyes));
        let row = eyes.map(|eyes| eyes.to_px(&setup.view, (1.0, 1.0)).1);
        prop_assume!(row.is_none_or(|row| row.abs() > 1e-6 && (row - 1.0).abs() > 1e-6));
        let seen = eyes.filter(|_| row.is_some_and(|row| (0.0..=1.0).contains(&row)));
        prop_assert_eq!(setup.eyes_in_frame, seen.is_some());
        if let Some(eyes) = seen {
            prop_assert!((setup.subject_depth - eyes.depth).abs() < eyes.depth * 1e-9);
        } else {
            // Else it is where the frame's centre meets the subject's vertical, if it does within a house's height.
            let centre = setup.tilt + Angle::from_tan(setup.view.centre_up());
            prop_assume!(centre.abs() < Angle::from_deg(80.0));
            let met = at(setup.phone_height + setup.ahead * centre.tan()).expect("in front");
            prop_assert!((setup.subject_depth - met.depth).abs() < met.depth * 1e-9, "{setup:?}");
            prop_assert!((met.up - setup.view.centre_up()).abs() < 1e-9);
        }
    }
}
