//! Everything stands where setup and blocking say, and moves as the take says.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

#[path = "phone/shot.rs"]
mod shot;

use glam::{DVec2, DVec3};
use optics::{Aspect, Mover, ShutterAngle, exposure_time, moving_smear_px};
use proptest::prelude::*;
use shot::phone_shot;
use staging::{
    Blocking, Body, Camera, FocusPull, Foreground, Landmark, Moment, Movement, POST_SPACING, PhoneHeight,
    PieceKind, SetPiece, Setup, Shot, ShotSize, Stage, Stance, Subject, Take, along, turn_smear_px,
};
use units::{Angle, FrameRate, Length};

const STATURE: Length = Length::from_m(1.70);

fn shot() -> Shot {
    Shot {
        aspect: Aspect::new(2.39).expect("a shape"),
        subject: Subject::Person(Body::standing(STATURE)),
        ..phone_shot()
    }
}

fn resolve(shot: &Shot) -> Setup {
    shot.resolve(shot.frame()).expect("a setup")
}

/// A take of five seconds in which that moves.
fn moving(movement: Movement) -> Take {
    Take { movement: Some(movement), pull: None, duration_s: 5.0 }
}

fn at(at_s: f64) -> Moment {
    Moment { at_s, exposure_s: 1.0 / 48.0 }
}

/// The eyes of whoever stands at `place`.
fn eyes(place: DVec2) -> DVec3 {
    place.extend(Body::standing(STATURE).height_of(Landmark::Eyes).to_m())
}

/// Where a point lands in the frame, as shares from its upper left corner, and how deep in the picture it is.
fn seen(camera: &Camera, stage: &Stage, point: DVec3) -> ((f64, f64), Length) {
    let seen = camera.see(point).expect("in front");
    (seen.to_px(&stage.view, (1.0, 1.0)), seen.depth)
}

/// The phone in the middle of the exposure, where nothing accelerates.
fn middle(stage: &Stage) -> DVec3 {
    (stage.opens.position() + stage.closes.position()) / 2.0
}

prop_compose! {
    fn any_case()(
        bearing in -360.0..360.0_f64, across in 0.2..0.8_f64, height in prop::option::of(0.3..2.5_f64),
        size in proptest::sample::select(&ShotSize::ALL[..6]), facing in -180.0..180.0_f64,
    ) -> (Shot, Blocking) {
        let shot = Shot {
            across,
            size,
            phone_height: height.map_or(PhoneHeight::BySize, |m| PhoneHeight::Fixed(Length::from_m(m))),
            ..shot()
        };
        let bare = Blocking::bare(&shot, Angle::from_deg(bearing));
        (shot, Blocking { facing: Angle::from_deg(facing), ..bare })
    }
}

proptest! {
    #[test]
    fn the_subject_is_where_the_setup_has_it((shot, blocking) in any_case()) {
        let Ok(setup) = shot.resolve(shot.frame()) else { return Ok(()) };
        let stage = Stage::of(&shot, &setup, &blocking, &Take::default(), Moment::default());
        prop_assert_eq!(stage.opens, stage.closes);
        let ((across, down), depth) = seen(&stage.opens, &stage, eyes(DVec2::ZERO));
        prop_assert!((across - shot.across).abs() < 1e-9 || !setup.eyes_in_frame, "{} {}", across, shot.across);
        prop_assert!((down - setup.eyes_down.expect("eyes")).abs() < 1e-9, "{} {:?}", down, setup.eyes_down);
        if setup.on_eyes {
            prop_assert!((depth - setup.focus).abs() < Length::from_m(1e-9), "{} {}", depth, setup.focus);
        }
    }

    #[test]
    fn a_push_keeps_eyes_and_focus((shot, blocking) in any_case(), speed in -1.0..1.0_f64, at_s in 0.0..5.0_f64) {
        let Ok(setup) = shot.resolve(shot.frame()) else { return Ok(()) };
        prop_assume!(setup.eyes_in_frame);
        let per_second = Length::from_m(speed);
        let moment = Moment { at_s, exposure_s: 0.0 };
        let stage = Stage::of(&shot, &setup, &blocking, &moving(Movement::Push { per_second }), moment);
        let phone = stage.opens.position();
        let distance = phone.truncate().length();
        let nearest = Length::from_m(0.25).min(setup.distance).to_m();
        let expected = (setup.distance.to_m() - speed * at_s).max(nearest);
        prop_assert!((distance - expected).abs() < 1e-9, "{} {}", distance, expected);
        prop_assert!((phone.z - setup.phone_height.to_m()).abs() < 1e-12);
        // So near above or below the lens that the eyes' column is out of reach, they cannot stay.
        let up = (eyes(DVec2::ZERO).z - phone.z).abs();
        prop_assume!(distance > up);
        let ((across, down), depth) = seen(&stage.opens, &stage, eyes(DVec2::ZERO));
        prop_assert!((across - shot.across).abs() < 1e-9, "{} {}", across, shot.across);
        prop_assert!((down - setup.eyes_down.expect("eyes")).abs() < 1e-9, "{} {:?}", down, setup.eyes_down);
        let pupil = stage.pupil.expect("known");
        prop_assert!((depth - pupil.focus_up).abs() < depth * 1e-9, "{} {:?}", depth, pupil);
        prop_assert_eq!(stage.view, shot.view(&setup.frame, pupil.focus_up));
    }

    #[test]
    fn a_push_on_two_begins_as_the_setup_stands((shot, blocking) in any_case(), nearer in -1.5..1.5_f64, speed in -1.0..1.0_f64) {
        let (first, second) = (Body::standing(STATURE), Body::standing(Length::from_m(1.6)));
        let subject = Subject::Pair { first, second, apart: Length::from_m(1.0), nearer: Length::from_m(nearer) };
        let shot = Shot { subject, ..shot };
        let Ok(setup) = shot.resolve(shot.frame()) else { return Ok(()) };
        let blocking = Blocking { stances: Blocking::bare(&shot, Angle::ZERO).stances, ..blocking };
        let begins = |take: &Take| Stage::of(&shot, &setup, &blocking, take, Moment::default());
        let still = begins(&Take::default());
        let pushed = begins(&moving(Movement::Push { per_second: Length::from_m(speed) }));
        prop_assert!((pushed.opens.position() - still.opens.position()).length() < 1e-9);
        prop_assert!((pushed.opens.forward() - still.opens.forward()).length() < 1e-9);
        let focus = |stage: &Stage| stage.pupil.expect("known").focus_up.to_m();
        prop_assert!((focus(&pushed) - focus(&still)).abs() < 1e-9, "{} {}", focus(&pushed), focus(&still));
    }

    #[test]
    fn a_push_comes_no_nearer_to_the_nearer_of_two_than_to_one(nearer in -1.5..1.5_f64) {
        let body = Body::standing(STATURE);
        let subject = Subject::Pair { first: body, second: body, apart: Length::from_m(0.6), nearer: Length::from_m(nearer) };
        let shot = Shot { subject, ..shot() };
        let setup = resolve(&shot);
        let take = moving(Movement::Push { per_second: Length::from_m(5.0) });
        let stage = Stage::of(&shot, &setup, &Blocking::bare(&shot, Angle::ZERO), &take, at(5.0));
        let to_middle = stage.opens.position().truncate().length();
        prop_assert!((to_middle - (0.25 + nearer.abs() / 2.0)).abs() < 1e-9, "{}", to_middle);
    }

    #[test]
    fn in_a_follow_the_frame_stays_as_it_is((shot, blocking) in any_case(), speed in 0.1..4.0_f64, at_s in 0.0..5.0_f64) {
        let Ok(setup) = shot.resolve(shot.frame()) else { return Ok(()) };
        let take = moving(Movement::Follow { per_second: Length::from_m(speed) });
        let stage = Stage::of(&shot, &setup, &blocking, &take, at(at_s));
        let walker = stage.people[0];
        let way = along(blocking.facing) * speed;
        prop_assert!((walker.place - way * at_s).length() < 1e-9, "{:?}", walker);
        prop_assert!((walker.velocity - way).length() < 1e-12);
        let exposed = (stage.closes.position() - stage.opens.position()).truncate();
        prop_assert!((exposed - way / 48.0).length() < 1e-9, "{exposed}");
        let still = Stage::of(&shot, &setup, &blocking, &Take::default(), Moment::default());
        let to_phone = middle(&stage).truncate() - walker.place;
        prop_assert!((to_phone - still.opens.position().truncate()).length() < 1e-9);
        prop_assert!((stage.opens.forward() - still.opens.forward()).length() < 1e-12);
    }

    #[test]
    fn posts_reach_past_both_sides_of_the_frame((shot, blocking) in any_case(), behind in 0.5..40.0_f64) {
        let shot = Shot { background_behind: Length::from_m(behind), ..shot };
        let Ok(setup) = shot.resolve(shot.frame()) else { return Ok(()) };
        let stage = Stage::of(&shot, &setup, &blocking, &Take::default(), Moment::default());
        let posts = stage.posts.expect("a bare floor");
        let reach = posts.along * (f64::from(posts.on_each_side) * POST_SPACING.to_m());
        // At the height of the focus the row is as deep as the figures count the background.
        let height = stage.opens.position().z
            + setup.subject_depth.to_m() * (setup.tilt.sin() + setup.view.centre_up() * setup.tilt.cos());
        let aimed = if setup.eyes_in_frame { eyes(DVec2::ZERO).z } else { height };
        let point = |place: DVec2| stage.opens.see(place.extend(aimed)).expect("in front");
        let background = setup.subject_depth + shot.background_behind;
        if setup.tilt.cos() > 0.2 {
            let depth = point(posts.middle).depth;
            prop_assert!((depth - background).abs() < background * 1e-9, "{} {}", depth, background);
        }
        if posts.on_each_side < 300 {
            prop_assert!(point(posts.middle + reach).right > setup.view.right, "right");
            prop_assert!(point(posts.middle - reach).right < -setup.view.left, "left");
        }
    }
}

#[test]
fn a_phone_in_the_south_looks_north() {
    let shot = shot();
    let setup = resolve(&shot);
    let blocking = Blocking::bare(&shot, Angle::from_deg(180.0));
    let stage = Stage::of(&shot, &setup, &blocking, &Take::default(), Moment::default());
    let phone = stage.opens.position();
    assert!(phone.x.abs() < 1e-12 && (phone.y + setup.distance.to_m()).abs() < 1e-12, "{phone}");
    assert!((stage.opens.right() - DVec3::X).length() < 1e-12, "{:?}", stage.opens);
    // Who is at the origin faces the phone, and stands still.
    assert!(
        (stage.people[0].facing.to_deg() - 180.0).abs() < 1e-12 && stage.people[0].velocity == DVec2::ZERO
    );
    assert!(stage.posts.expect("a bare floor").middle.x.abs() < 1e-9);
}

#[test]
fn the_second_of_a_pair_is_on_the_right_and_they_turn_to_each_other() {
    let body = Body::standing(STATURE);
    let shot = Shot { subject: Subject::side_by_side(body, body, Length::from_m(0.8)), ..shot() };
    let setup = resolve(&shot);
    let blocking = Blocking::bare(&shot, Angle::from_deg(180.0));
    let stage = Stage::of(&shot, &setup, &blocking, &Take::default(), Moment::default());
    let [first, second] = stage.people.as_slice() else { panic!("{:?}", stage.people) };
    assert!((first.place - DVec2::new(-0.4, 0.0)).length() < 1e-12, "{first:?}");
    assert!((second.place - DVec2::new(0.4, 0.0)).length() < 1e-12, "{second:?}");
    assert!((first.facing.to_deg() - 150.0).abs() < 1e-9 && (second.facing.to_deg() - 210.0).abs() < 1e-9);
}

#[test]
fn the_near_shoulder_is_before_the_subject_and_beside_the_line_of_sight() {
    let body = Body::standing(STATURE);
    let apart = Length::from_m(1.2);
    let shot =
        Shot { subject: Subject::OverShoulder { facing: body, near: body, apart }, across: 0.35, ..shot() };
    let setup = resolve(&shot);
    let stage =
        Stage::of(&shot, &setup, &Blocking::bare(&shot, Angle::ZERO), &Take::default(), Moment::default());
    let [facing, near] = stage.people.as_slice() else { panic!("{:?}", stage.people) };
    let (to_facing, to_near) = (stage.opens.to_own(eyes(facing.place)), stage.opens.to_own(eyes(near.place)));
    // Along the floor; the tilt leans both.
    let lean = setup.tilt.cos();
    assert!((to_facing.z - to_near.z - apart.to_m() * lean).abs() < 1e-9, "{to_facing} {to_near}");
    let aside = body.shoulder_breadth().to_m() * 0.8;
    assert!((to_near.x - to_facing.x - aside).abs() < 1e-9, "{to_facing} {to_near}");
    assert!((near.facing.to_deg() - 180.0).abs() < 1e-9, "{near:?}");
}

#[test]
fn a_foreground_piece_stays_on_the_floor_when_the_phone_leaves() {
    let shot = Shot { across: 0.3, ..shot() };
    let setup = resolve(&shot);
    let foreground =
        Foreground { kind: PieceKind::Plant, ahead: Length::from_m(0.6), right: Length::from_m(0.2) };
    let blocking = Blocking { foreground: Some(foreground), ..Blocking::bare(&shot, Angle::from_deg(37.0)) };
    let take = moving(Movement::Push { per_second: Length::from_m(-0.4) });
    let piece_at = |seconds| Stage::of(&shot, &setup, &blocking, &take, at(seconds)).pieces[0];
    assert_eq!(piece_at(0.0), piece_at(3.0));
    let camera = Stage::of(&shot, &setup, &blocking, &Take::default(), Moment::default()).opens;
    let own = camera.to_own(piece_at(0.0).place.extend(camera.position().z));
    assert!((own.x - 0.2).abs() < 1e-9 && (own.z / setup.tilt.cos() - 0.6).abs() < 1e-9, "{own}");
}

#[test]
fn a_pan_turns_to_the_right_and_a_tilt_up() {
    let shot = shot();
    let setup = resolve(&shot);
    let blocking = Blocking::bare(&shot, Angle::from_deg(180.0));
    let per_second = Angle::from_deg(10.0);
    let stage = |movement, seconds| Stage::of(&shot, &setup, &blocking, &moving(movement), at(seconds));
    let ((start, _), _) = {
        let stage = stage(Movement::Pan { per_second }, 0.0);
        seen(&stage.closes, &stage, eyes(DVec2::ZERO))
    };
    let panned = stage(Movement::Pan { per_second }, 1.0);
    let ((later, _), _) = seen(&panned.closes, &panned, eyes(DVec2::ZERO));
    assert!(later < start, "a turn to the right takes them to the left: {start} {later}");
    let turned = panned.opens.forward().truncate().angle_to(panned.closes.forward().truncate());
    assert!((turned.abs().to_degrees() - 10.0 / 48.0).abs() < 1e-9, "{turned}");
    let tilted = stage(Movement::Tilt { per_second }, 1.0);
    let middle = (tilted.opens.forward() + tilted.closes.forward()).normalize().z.asin();
    assert!((middle.to_degrees() - setup.tilt.to_deg() - 10.0).abs() < 1e-9, "{middle}");
}

#[test]
fn a_moment_outside_the_take_is_its_nearest_end() {
    let shot = shot();
    let setup = resolve(&shot);
    let blocking = Blocking::bare(&shot, Angle::ZERO);
    let take = moving(Movement::Push { per_second: Length::from_m(0.1) });
    let stage = |seconds| Stage::of(&shot, &setup, &blocking, &take, at(seconds));
    assert_eq!(stage(9.0), stage(5.0));
    assert_eq!(stage(-1.0), stage(0.0));
    // The move is under way at both ends, so frames there smear as much as any.
    assert!((stage(0.0).opens.position() - stage(0.0).closes.position()).length() > 1e-3);
}

#[test]
fn a_pull_takes_focus_and_view_along() {
    let shot = shot();
    let setup = resolve(&shot);
    let pull = FocusPull { from: setup.focus, to: Length::from_m(0.3), starts_s: 1.0, lasts_s: 1.0 };
    let take = Take { movement: None, pull: Some(pull), duration_s: 5.0 };
    let stage = |seconds| Stage::of(&shot, &setup, &Blocking::bare(&shot, Angle::ZERO), &take, at(seconds));
    assert_eq!(stage(0.5).view, setup.view);
    assert!((stage(4.0).pupil.expect("known").focus_up.to_m() - 0.3).abs() < 1e-12);
    // Focused nearer the lens moves out, and sees less.
    assert!(stage(4.0).view.width() < setup.view.width() * 0.99, "{:?}", stage(4.0).view);
    assert_eq!(stage(0.5).opens, stage(4.0).opens);
}

#[test]
fn a_walker_leaves_a_phone_that_stays() {
    let shot = shot();
    let setup = resolve(&shot);
    let blocking = Blocking {
        facing: Angle::from_deg(90.0),
        stances: [Stance::Walking(0.5), Stance::Still],
        ..Blocking::bare(&shot, Angle::from_deg(180.0))
    };
    let take = Take { duration_s: 5.0, ..Take::default() };
    let stage = Stage::of(&shot, &setup, &blocking, &take, at(1.0));
    assert!((stage.people[0].place - DVec2::new(1.4, 0.0)).length() < 1e-9, "{:?}", stage.people[0]);
    assert_eq!(stage.opens, stage.closes);
}

#[test]
fn a_set_stands_instead_of_posts() {
    let shot = shot();
    let setup = resolve(&shot);
    let wall = SetPiece {
        kind: PieceKind::Wall,
        place: DVec2::new(0.0, 4.0),
        facing: Angle::from_deg(180.0),
        size: PieceKind::Wall.usual_size(),
    };
    let blocking = Blocking { pieces: vec![wall], ..Blocking::bare(&shot, Angle::from_deg(180.0)) };
    let stage = Stage::of(&shot, &setup, &blocking, &Take::default(), Moment::default());
    assert_eq!((stage.posts, stage.pieces), (None, vec![wall]));
}

/// The frame's column, in delivered pixels, of the eyes of the first person, moved by `seconds`.
fn column_px(stage: &Stage, camera: &Camera, setup: &Setup, seconds: f64) -> f64 {
    let moved = stage.people[0].place + stage.people[0].velocity * seconds;
    seen(camera, stage, eyes(moved)).0.0 * setup.frame.delivered_px.0
}

#[test]
fn told_smears_are_the_seen_ones() {
    let shot = shot();
    let setup = resolve(&shot);
    let half = exposure_time(ShutterAngle::HALF, FrameRate::checked_from_fps(24.0).expect("in range"));
    // Across the frame of a phone in the south.
    let walker = Blocking {
        facing: Angle::from_deg(90.0),
        stances: [Stance::Walking(0.0), Stance::Still],
        ..Blocking::bare(&shot, Angle::from_deg(180.0))
    };
    let stage = Stage::of(&shot, &setup, &walker, &Take::default(), at(0.0));
    let (before, after) = (-half.to_s() / 2.0, half.to_s() / 2.0);
    let walked =
        column_px(&stage, &stage.opens, &setup, after) - column_px(&stage, &stage.opens, &setup, before);
    let across = Mover::Walker.per_second();
    let width_px = setup.frame.delivered_px.0;
    let told = moving_smear_px(&setup.view, width_px, across, setup.subject_depth, half);
    assert!((walked - told).abs() < 1e-6 && told > 50.0, "{walked} {told}");
    // A turn, with everybody still.
    let per_second = Angle::from_deg(-20.0);
    let still = Blocking::bare(&shot, Angle::from_deg(180.0));
    let stage = Stage::of(&shot, &setup, &still, &moving(Movement::Pan { per_second }), at(0.0));
    let turned = column_px(&stage, &stage.closes, &setup, 0.0) - column_px(&stage, &stage.opens, &setup, 0.0);
    let told = turn_smear_px(&setup, per_second, half);
    // Off straight ahead by the tilt, which shortens the turn by its cosine.
    let lean = setup.tilt.cos()
        - setup.eyes_down.map_or(0.0, |down| setup.view.up - down * setup.view.height()) * setup.tilt.sin();
    assert!((turned - told * lean).abs() < told * 1e-4, "{turned} {told} {lean}");
}
