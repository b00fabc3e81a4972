//! Solving for a framing and projecting it again must agree, for any lens, body, height and frame.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

#[path = "phone/shot.rs"]
mod shot;

use glam::DVec3;
use optics::{Adapter, Aspect, FocalLength, Known, Lens, Origin, Recording, Scale, SensorSize, Squeeze};
use proptest::prelude::*;
use shot::phone_shot;
use staging::{
    Binding, Blur, Body, Camera, Figures, FocusOn, Landmark, Look, Object, PhoneHeight, Setup, Shot,
    ShotSize, Stand, Subject, Support,
};
use units::{Angle, Length};

fn resolve(shot: &Shot) -> Option<Setup> {
    shot.resolve(shot.frame()).ok()
}

/// Where a height of the subject lands in the frame, as shares from the upper left corner, by projection.
fn projected(setup: &Setup, height: Length) -> (f64, f64) {
    let camera =
        Camera::new(DVec3::new(0.0, 0.0, setup.phone_height.to_m()), -setup.subject_right, setup.tilt);
    let seen = camera.see(DVec3::new(0.0, setup.distance.to_m(), height.to_m())).expect("in front");
    seen.to_px(&setup.view, (1.0, 1.0))
}

fn sizes() -> impl Strategy<Value = ShotSize> {
    proptest::sample::select(&ShotSize::ALL[..7])
}

prop_compose! {
    fn shots()(
        f in 1.5..15.0_f64, sensor in 3.0..15.0_f64, size in sizes(), stature in 0.8..2.2_f64,
        height in prop::option::of(0.05..3.0_f64), aspect in 0.5..2.6_f64, across in 0.3..0.7_f64,
        squeeze in prop::option::of(1.0..2.0_f64), upright in any::<bool>(),
    ) -> Shot {
        let base = phone_shot();
        let known = |mm| Known::new(FocalLength::from_mm(mm).expect("in range"), Origin::Typed);
        Shot {
            lens: Lens {
                focal_length: known(f),
                sensor: Known::new(SensorSize::from_mm(sensor, sensor * 0.75).expect("in range"), Origin::Typed),
                ..base.lens
            },
            recording: if upright { Recording::new(1080, 1920) } else { Recording::new(1920, 1080) }.expect("a mode"),
            adapter: squeeze.map(|factor| Adapter::new(Squeeze::new(factor).expect("in range"))),
            aspect: Aspect::new(aspect).expect("a shape"),
            subject: Subject::Person(Body::standing(Length::from_m(stature))),
            size,
            phone_height: height.map_or(PhoneHeight::BySize, |m| PhoneHeight::Fixed(Length::from_m(m))),
            across,
            ..base
        }
    }
}

#[test]
fn at_the_end_of_what_can_be_had_what_is_not_had_again_is_not_had() {
    // Focused where the search once ended, this shot has no framing.
    let millimetres = |focal| Known::new(FocalLength::from_mm(focal).expect("in range"), Origin::Typed);
    let sensor = SensorSize::from_mm(10.313_019_314_309_368, 7.734_764_485_732_033).expect("in range");
    let base = phone_shot();
    let shot = Shot {
        lens: Lens {
            focal_length: millimetres(6.381_481_693_716_004),
            sensor: Known::new(sensor, Origin::Typed),
            ..base.lens
        },
        recording: Recording::new(1080, 1920).expect("a mode"),
        adapter: Some(Adapter::new(Squeeze::new(1.745_790_536_893_030_7).expect("in range"))),
        aspect: Aspect::new(2.291_809_239_512_144_5).expect("a shape"),
        subject: Subject::Person(Body::standing(Length::from_m(1.436_649_893_942_656_9))),
        size: ShotSize::MidThigh,
        phone_height: PhoneHeight::Fixed(Length::from_m(1.781_876_155_103_190_5)),
        across: 0.3,
        ..base
    };
    let again = |setup: Setup| resolve(&Shot { focus: FocusOn::At(setup.focus), ..shot });
    assert_eq!(resolve(&shot).map(again), None);
    // A hand lower, it is there, and there again.
    let lower = Shot { phone_height: PhoneHeight::Fixed(Length::from_m(1.7)), ..shot };
    assert!(resolve(&lower).is_some());
}

proptest! {
    #[test]
    fn what_is_solved_projects_as_asked(shot in shots()) {
        let Some(setup) = resolve(&shot) else { return Ok(()) };
        let (Subject::Person(body), Some(rule)) = (shot.subject, shot.size.rule()) else { return Ok(()) };
        let (_, top) = projected(&setup, body.height_of(rule.top));
        prop_assert!((top - rule.above).abs() < 1e-9, "top at {} of {}", top, rule.above);
        let (_, cut) = projected(&setup, body.height_of(rule.cut));
        match setup.binding {
            Binding::Height => prop_assert!((cut - (1.0 - rule.below)).abs() < 1e-9, "cut at {}", cut),
            Binding::Width => prop_assert!(cut < 1.0 - rule.below),
            Binding::Place => prop_assert!(false, "nobody fixed the place"),
        }
        if setup.on_eyes {
            let (column, row) = projected(&setup, body.height_of(Landmark::Eyes));
            prop_assert!((column - shot.across).abs() < 1e-9, "eyes at column {}", column);
            prop_assert!((row - setup.eyes_down.expect("a person has eyes")).abs() < 1e-9);
        }
        if let Some(edge) = setup.cut_height {
            let (_, row) = projected(&setup, edge);
            prop_assert!((row - 1.0).abs() < 1e-9, "lower edge at {}", row);
        }
    }

    #[test]
    fn two_are_in_the_frame_however_much_nearer_one_of_them_is(
        shot in shots(), stature in 1.2..2.0_f64, apart_m in 0.0..6.0_f64, nearer_m in -8.0..8.0_f64,
    ) {
        let body = Body::standing(Length::from_m(stature));
        let (apart, nearer) = (Length::from_m(apart_m), Length::from_m(nearer_m));
        let subject = Subject::Pair { first: body, second: body, apart, nearer };
        let shot = Shot { subject, across: 0.5, phone_height: PhoneHeight::BySize, ..shot };
        let Some(setup) = resolve(&shot) else { return Ok(()) };
        let camera = Camera::new(DVec3::new(0.0, 0.0, setup.phone_height.to_m()), Angle::ZERO, setup.tilt);
        // The eyes of the first, on the left, and of the second, each as far out as their shoulder.
        let eyes = [-0.5, 0.5].map(|side| {
            let right_m = side * (apart_m + body.shoulder_breadth().to_m());
            let ahead_m = setup.distance.to_m() - side * nearer_m;
            camera.see(DVec3::new(right_m, ahead_m, body.height_of(Landmark::Eyes).to_m())).expect("before the phone")
        });
        if setup.on_eyes {
            prop_assert!((eyes[0].depth - setup.focus).abs() < setup.focus * 1e-9, "{eyes:?} {:?}", setup.focus);
            for eyes in eyes {
                prop_assert!(eyes.right.abs() <= setup.view.right, "{eyes:?} in {:?}", setup.view);
            }
        }
        // Side by side they are framed as ever.
        let beside = resolve(&Shot { subject: Subject::side_by_side(body, body, apart), ..shot });
        let nearest = setup.distance - nearer.abs() / 2.0;
        if let Some(beside) = beside.filter(|_| nearer_m <= 0.0) {
            prop_assert!((beside.distance - nearest).abs() < nearest * 1e-9, "{:?} {:?}", beside.distance, nearest);
            prop_assert!((beside.tilt - setup.tilt).abs() < Angle::from_rad(1e-9));
        }
    }

    #[test]
    fn figures_are_finite_and_focus_lies_within_the_sharp_zone(shot in shots()) {
        let Some(setup) = resolve(&shot) else { return Ok(()) };
        let figures = Figures::of(&shot, &setup);
        let zone = figures.sharp.expect("f-number and size are known");
        prop_assert!(zone.holds(setup.focus), "{zone:?} does not hold {:?}", setup.focus);
        let background = figures.background.expect("known");
        for value in [setup.distance.to_m(), setup.spread.distance.to_m(), setup.spread.tilt.to_rad(),
            background.width_px, background.height_px, figures.place_width.to_m()] {
            prop_assert!(value.is_finite(), "{setup:?} {figures:?}");
        }
    }

    #[test]
    fn focus_elsewhere_keeps_the_framing(shot in shots(), focus in 0.05..50.0_f64) {
        let shot = Shot { focus: FocusOn::At(Length::from_m(focus)), ..shot };
        let Some(setup) = resolve(&shot) else { return Ok(()) };
        let (Subject::Person(body), Some(rule)) = (shot.subject, shot.size.rule()) else { return Ok(()) };
        prop_assert!(setup.focus == Length::from_m(focus) && !setup.on_eyes, "{setup:?}");
        prop_assert_eq!(setup.view, shot.view(&setup.frame, setup.focus));
        let (_, top) = projected(&setup, body.height_of(rule.top));
        prop_assert!((top - rule.above).abs() < 1e-9, "top at {} of {}", top, rule.above);
        let (across, _) = projected(&setup, body.height_of(Landmark::Eyes));
        if setup.eyes_in_frame {
            prop_assert!((across - shot.across).abs() < 1e-9, "eyes at {} of {}", across, shot.across);
        }
        // The disc of the subject is what focus there does to its depth, and vanishes as they meet.
        let figures = Figures::of(&shot, &setup);
        let soft = figures.subject.expect("known").height_px;
        let blur = Blur::of(&shot, &setup).expect("known");
        prop_assert!((soft - blur.at(setup.subject_depth).height_px).abs() < 1e-12);
        let background = setup.subject_depth + shot.background_behind;
        prop_assert_eq!(figures.background.expect("known"), blur.at(background));
        let near = figures.near_sd.expect("known");
        prop_assert!(near.to_m().is_finite() && near >= Length::ZERO);
    }

    #[test]
    fn focus_put_where_the_subject_is_changes_nothing(shot in shots()) {
        let Some(on_subject) = resolve(&shot) else { return Ok(()) };
        let put = resolve(&Shot { focus: FocusOn::At(on_subject.focus), ..shot }).expect("the same framing");
        prop_assert!((put.distance - on_subject.distance).abs() < on_subject.distance * 1e-9);
        prop_assert!((put.tilt - on_subject.tilt).abs() < Angle::from_rad(1e-9));
        prop_assert!((put.subject_depth - on_subject.focus).abs() < on_subject.focus * 1e-9);
    }

    #[test]
    fn scaling_the_place_scales_the_distance(shot in shots(), scale in 0.5..2.0_f64) {
        // Focus at infinity takes the lens's own length out of it: an equivalent lens has no extension.
        let lens = Lens { scale: Scale::Equivalent, ..shot.lens };
        let (Subject::Person(body), Some(setup)) = (shot.subject, resolve(&Shot { lens, ..shot })) else { return Ok(()) };
        let larger = Shot {
            lens,
            subject: Subject::Person(Body { stature: body.stature * scale, ..body }),
            phone_height: PhoneHeight::Fixed(setup.phone_height * scale),
            ..shot
        };
        let scaled = resolve(&larger).expect("the same framing");
        prop_assert!((scaled.distance / setup.distance - scale).abs() < 1e-9);
    }

    #[test]
    fn standing_where_the_size_put_the_phone_gives_the_size(shot in shots()) {
        let Some(setup) = resolve(&shot) else { return Ok(()) };
        // Nearly beside the phone, or nearer than a hand, two places hold the same heights.
        prop_assume!(setup.subject_right.abs() < Angle::from_deg(50.0) && setup.ahead > Length::from_m(0.1));
        let fixed = resolve(&Shot { stand: Stand::At(setup.distance), ..shot }).expect("the same place");
        prop_assert!((fixed.tilt - setup.tilt).abs() < Angle::from_rad(1e-9), "{fixed:?} {setup:?}");
        if setup.on_eyes {
            let (fixed, solved) = (fixed.eyes_down.expect("eyes"), setup.eyes_down.expect("eyes"));
            prop_assert!((fixed - solved).abs() < 1e-8, "eyes at {} and {}", fixed, solved);
        }
    }
}

#[test]
fn a_narrow_frame_steps_back_for_a_pair() {
    let body = Body::standing(Length::from_m(1.7));
    let pair = Subject::side_by_side(body, body, Length::from_m(0.7));
    let shot = Shot {
        subject: pair,
        recording: Recording::new(1080, 1920).expect("a mode"),
        aspect: Aspect::new(9.0 / 16.0).expect("a shape"),
        ..phone_shot()
    };
    let setup = resolve(&shot).expect("a setup");
    assert_eq!(setup.binding, Binding::Width);
    let held = setup.focus * setup.view.width();
    let needed = Length::from_m(0.7) + body.shoulder_breadth() * 1.3;
    assert!((held - needed).abs() < Length::from_m(1e-9), "{held} is not {needed}");
}

#[test]
fn a_level_look_keeps_the_cut_and_moves_the_crop() {
    let wide = Shot {
        phone_height: PhoneHeight::At(Landmark::Shoulder),
        look: Look::Tilt(Angle::ZERO),
        aspect: Aspect::new(2.39).expect("a shape"),
        ..phone_shot()
    };
    let setup = resolve(&wide).expect("a setup");
    let rule = wide.size.rule().expect("a person");
    let waist = wide.subject.body().expect("a person").height_of(rule.cut);
    assert!((setup.cut_height.expect("below") - waist).abs() < Length::from_m(1e-9), "{setup:?}");
    assert!((setup.headroom - rule.above).abs() < 1e-9, "{}", setup.headroom);
    assert!(setup.view.centre_up() != 0.0, "the crop moved");
}

#[test]
fn an_insert_smaller_than_the_lens_is_long_still_settles() {
    let shot = Shot {
        subject: Subject::Object(Object::on_table(Length::from_mm(10.0))),
        size: ShotSize::Insert,
        ..phone_shot()
    };
    let setup = resolve(&shot).expect("a setup");
    let held = setup.focus * setup.view.height();
    assert!((held.to_mm() * (1.0 - 0.24) - 10.0).abs() < 1e-6, "{held:?}");
}

#[test]
fn a_thing_and_a_phone_that_are_as_much_higher_see_each_other_alike() {
    let size = Length::from_m(0.25);
    let seen = |support: Support, height_m: f64| {
        let phone_height = PhoneHeight::Fixed(Length::from_m(height_m));
        let subject = Subject::Object(Object { size, support });
        let shot = Shot { subject, size: ShotSize::Insert, phone_height, ..phone_shot() };
        resolve(&shot).expect("a setup")
    };
    let on_table = seen(Support::Table, 0.75 + 0.1);
    for height_m in [0.0, 0.4, 1.2] {
        let lifted = seen(Support::At(Length::from_m(height_m)), height_m + 0.1);
        assert!((lifted.distance - on_table.distance).abs() < Length::from_m(1e-9), "{lifted:?}");
        assert!((lifted.tilt - on_table.tilt).abs().to_deg() < 1e-7, "{lifted:?}");
    }
    // From 0.1 m its middle, 0.125 m above the ground, is all but level: geometry.
    let from_ground = seen(Support::GROUND, 0.1);
    assert!(from_ground.tilt.to_deg().abs() < 4.0, "{from_ground:?}");
    let projected = projected(&from_ground, Length::ZERO);
    assert!((projected.1 - 0.88).abs() < 1e-9, "its lower edge is at {projected:?}");
}
