//! What is found on a setup at either side of each limit.

use optics::{
    Adapter, Aspect, FNumber, FocalLength, Known, Lens, Origin, Recording, Scale, SensorSize, Squeeze,
    ViewTangents,
};
use staging::{
    Binding, Body, Figures, FocusOn, Look, Object, PhoneHeight, Setup, Sharpness, Shot, ShotSize, Stand,
    Subject,
};
use units::{Angle, Length};

use super::{BEHIND_SHOULDER, Circumstances, SetupFinding, check_setup};
use crate::kit::AdapterFit;

/// A medium shot of somebody of 1.70 m on a phone's main lens, on which nothing is found.
fn shot() -> Shot {
    let origin = Origin::Typed;
    Shot {
        lens: Lens {
            focal_length: Known::new(FocalLength::from_mm(6.86).expect("in range"), origin),
            f_number: Some(Known::new(FNumber::new(1.78).expect("in range"), origin)),
            sensor: Known::new(SensorSize::from_mm(9.8, 7.3).expect("in range"), origin),
            closest_focus: Some(metres(0.2)),
            scale: Scale::True,
        },
        recording: Recording::new(3840, 2160).expect("a mode"),
        adapter: None,
        aspect: Aspect::new(16.0 / 9.0).expect("a shape"),
        crop_shift: None,
        subject: Subject::Person(Body::standing(metres(1.70))),
        size: ShotSize::Medium,
        headroom: None,
        phone_height: PhoneHeight::BySize,
        look: Look::Aimed,
        stand: Stand::ForSize,
        across: 0.5,
        background_behind: metres(10.0),
        focus: FocusOn::Subject,
        sharpness: Sharpness::Usual,
    }
}

fn metres(metres: f64) -> Length {
    Length::from_m(metres)
}

fn resolved(shot: &Shot) -> Setup {
    shot.resolve(shot.frame()).expect("a setup")
}

fn found(shot: &Shot, setup: &Setup, around: &Circumstances) -> Vec<SetupFinding> {
    check_setup(shot, &Ok(*setup), Some(&Figures::of(shot, setup)), around)
}

fn rules(shot: &Shot, setup: &Setup, around: &Circumstances) -> Vec<&'static str> {
    found(shot, setup, around).iter().map(SetupFinding::rule).collect()
}

const NOTHING: [&str; 0] = [];

#[test]
fn a_plain_shot_is_fine() {
    assert_eq!(rules(&shot(), &resolved(&shot()), &Circumstances::default()), NOTHING);
}

#[test]
fn a_room_is_large_enough_up_to_its_end() {
    let setup = resolved(&shot());
    let within = |room: Length| {
        rules(&shot(), &setup, &Circumstances { room: Some(room), ..Circumstances::default() })
    };
    assert_eq!(within(setup.distance), NOTHING);
    assert_eq!(within(setup.distance * 1.001), NOTHING);
    assert_eq!(within(setup.distance * 0.999), ["no_room"]);
}

#[test]
fn behind_a_shoulder_there_must_be_room_for_arms() {
    let body = Body::standing(metres(1.7));
    let apart = metres(1.2);
    let past = Shot { subject: Subject::OverShoulder { facing: body, near: body, apart }, ..shot() };
    let ahead = |ahead: Length| rules(&past, &Setup { ahead, ..resolved(&past) }, &Circumstances::default());
    assert_eq!(ahead(apart + BEHIND_SHOULDER), NOTHING);
    assert_eq!(ahead(metres(1.6)), NOTHING);
    assert_eq!(ahead(metres(1.49)), ["in_front_of_shoulder"]);
    let alone = Setup { ahead: metres(0.3), ..resolved(&shot()) };
    assert_eq!(rules(&shot(), &alone, &Circumstances::default()), NOTHING, "there is no shoulder");
}

#[test]
fn a_lens_focuses_from_its_closest_on() {
    let focused = |at: f64| {
        let setup = Setup { focus: metres(at), subject_depth: metres(at), ..resolved(&shot()) };
        rules(&shot(), &setup, &Circumstances::default())
    };
    assert_eq!(focused(0.2), NOTHING);
    assert_eq!(focused(0.199), ["too_near_to_focus"]);
}

#[test]
fn what_set_the_distance_is_said_where_it_is_the_width() {
    let bound = |binding| rules(&shot(), &Setup { binding, ..resolved(&shot()) }, &Circumstances::default());
    assert_eq!((bound(Binding::Height), bound(Binding::Place)), (NOTHING.into(), NOTHING.into()));
    assert_eq!(bound(Binding::Width), ["width_binds"]);
}

#[test]
fn a_fixed_look_may_miss_the_headroom_by_half_a_percent_of_the_frame() {
    let level = Shot { look: Look::Tilt(Angle::ZERO), headroom: Some(0.0), ..shot() };
    let with = |shot: &Shot, headroom: f64| {
        rules(shot, &Setup { headroom, ..resolved(shot) }, &Circumstances::default())
    };
    assert_eq!(with(&level, 0.005), NOTHING);
    for off in [-0.006, 0.006] {
        assert_eq!(with(&level, off), ["look_moves_headroom"], "{off}");
    }
    // What is asked is the shot's own headroom, else that of a size that stands on the crown: 12 % for a medium one.
    let medium = Shot { headroom: None, ..level };
    assert_eq!(with(&medium, 0.116), NOTHING);
    assert_eq!(with(&medium, 0.0), ["look_moves_headroom"]);
    let mut from_brow = Shot { size: ShotSize::ExtremeTight, ..medium };
    from_brow.lens.closest_focus = None;
    assert_eq!(with(&from_brow, -0.3), NOTHING, "it asks for no headroom");
    let asked = Shot { headroom: Some(0.1), ..from_brow };
    assert_eq!(with(&asked, 0.1), NOTHING);
    assert_eq!(with(&asked, -0.3), ["look_moves_headroom"]);
    assert_eq!(with(&shot(), 0.5), NOTHING, "an aim gives the headroom by itself");
}

#[test]
fn a_subject_is_soft_where_it_is_softer_than_the_circle() {
    let adapter = Some(Adapter::new(Squeeze::new(1.33).expect("in range")));
    let clipped = Shot { adapter, ..shot() };
    let setup = resolved(&clipped);
    let circle = clipped.circle_of_confusion(&setup.frame).expect("known").to_length();
    let circle_px = circle.to_m() * setup.frame.px_per_m;
    let soft = |subject_sideways_px: Option<f64>, useful_from: Option<Length>| {
        let figures = Figures::of(&clipped, &setup);
        let figures = Figures { subject_sideways_px, adapter_useful_from: useful_from, ..figures };
        check_setup(&clipped, &Ok(setup), Some(&figures), &Circumstances::default())
    };
    let from = Some(metres(2.0));
    assert_eq!(soft(Some(circle_px), from), []);
    assert_eq!(soft(Some(circle_px * 0.999), from), []);
    let softness_px = circle_px * 1.001;
    let expected = SetupFinding::SoftSideways { softness_px, useful_from: metres(2.0) };
    assert_eq!(soft(Some(softness_px), from), [expected]);
    assert_eq!(soft(Some(softness_px), None), [], "an adapter that focuses");
    assert_eq!(soft(None, from), [], "it cannot be told");
}

#[test]
fn a_subject_is_out_of_focus_beyond_what_is_sharp_of_a_focus_elsewhere() {
    let elsewhere = Shot { focus: FocusOn::At(metres(1.0)), ..shot() };
    let setup = resolved(&elsewhere);
    let zone = Figures::of(&elsewhere, &setup).sharp.expect("known");
    let at = |shot: &Shot, depth: Length| {
        rules(shot, &Setup { subject_depth: depth, ..setup }, &Circumstances::default())
    };
    assert_eq!(at(&elsewhere, zone.near), NOTHING);
    assert_eq!(at(&elsewhere, zone.near * 0.999), ["subject_out_of_focus"]);
    assert_eq!(at(&shot(), zone.near * 0.999), NOTHING, "focus that is on the subject is on it");
}

#[test]
fn an_adapter_is_found_where_it_does_not_fit_or_darkens_what_the_crop_keeps() {
    let fit = |shot: &Shot, adapter_fit| {
        let around = Circumstances { adapter_fit, ..Circumstances::default() };
        found(shot, &resolved(shot), &around)
    };
    let adapter = Adapter { focusing: true, ..Adapter::new(Squeeze::new(1.33).expect("in range")) };
    let clipped = Shot { adapter: Some(adapter), ..shot() };
    assert_eq!(fit(&clipped, AdapterFit::Fits), []);
    assert_eq!(fit(&clipped, AdapterFit::DoesNotFit), [SetupFinding::AdapterDoesNotFit]);
    let unseen = AdapterFit::Vignettes { clear_share: None };
    assert_eq!(fit(&clipped, unseen), [SetupFinding::AdapterVignettes { darkened_share: None }]);
    assert_eq!(fit(&clipped, AdapterFit::Vignettes { clear_share: Some(1.0) }), [], "clear to the corners");
    let half = fit(&clipped, AdapterFit::Vignettes { clear_share: Some(0.5) });
    let [SetupFinding::AdapterVignettes { darkened_share: Some(share) }] = half[..] else {
        panic!("{half:?}")
    };
    assert!(share > 0.1 && share < 0.9, "{share}");
    for adapter_fit in [unseen, AdapterFit::DoesNotFit] {
        assert_eq!(fit(&shot(), adapter_fit), [], "it is off");
    }
}

#[test]
fn what_is_not_known_of_a_lens_is_asked_for_once() {
    let unknown = |change: fn(&mut Shot)| {
        let mut shot = shot();
        change(&mut shot);
        rules(&shot, &resolved(&shot), &Circumstances::default())
    };
    assert_eq!(unknown(|shot| shot.lens.f_number = None), ["needs_f_number"]);
    assert_eq!(unknown(|shot| shot.lens.scale = Scale::Equivalent), ["needs_focal_length"]);
    let neither = unknown(|shot| (shot.lens.scale, shot.lens.f_number) = (Scale::Equivalent, None));
    assert_eq!(neither, ["needs_focal_length"]);
}

#[test]
fn what_cannot_be_had_says_from_which_height() {
    let low = Shot { phone_height: PhoneHeight::Ground, ..shot() };
    let outcome = low.resolve(low.frame());
    let finds = check_setup(&low, &outcome, None, &Circumstances::default());
    let [SetupFinding::NoFramingFromHeight { phone_height, .. }] = finds[..] else { panic!("{finds:?}") };
    assert_eq!(phone_height, metres(0.1));
    let up = Shot { look: Look::Tilt(Angle::from_deg(60.0)), ..shot() };
    let finds = check_setup(&up, &up.resolve(up.frame()), None, &Circumstances::default());
    assert!(matches!(finds[..], [SetupFinding::LookMisses { .. }]), "{finds:?}");
}

/// A head as broad as a tenth of a frame of that width, and where it is in the frame.
fn head(across: f64, eyes_down: f64, headroom: f64) -> (Shot, Setup) {
    let shot = Shot { across, ..shot() };
    let breadth = Body::standing(metres(1.7)).head_breadth();
    let view = ViewTangents { left: 0.5, right: 0.5, up: 0.28, down: 0.28 };
    let (depth, eyes_down) = (breadth * 10.0, Some(eyes_down));
    let binding = Binding::Height;
    (
        shot,
        Setup { view, subject_depth: depth, focus: depth, eyes_down, headroom, binding, ..resolved(&shot) },
    )
}

fn outside(shape: f64, (shot, setup): (Shot, Setup)) -> bool {
    let protect = Some(Aspect::new(shape).expect("a shape"));
    let found = rules(&shot, &setup, &Circumstances { protect, ..Circumstances::default() });
    assert!(found.iter().all(|rule| *rule == "outside_protected"), "{found:?}");
    !found.is_empty()
}

#[test]
fn a_narrower_shape_holds_a_head_up_to_its_sides() {
    // A square keeps 9/16 of the width of 16:9: 0.28125 to either side, of which the head's half takes 0.05.
    for off in [0.231, -0.231, 0.0] {
        assert!(!outside(1.0, head(0.5 + off, 0.4, 0.1)), "{off}");
    }
    for off in [0.2315, -0.2315] {
        assert!(outside(1.0, head(0.5 + off, 0.4, 0.1)), "{off}");
    }
    // It takes nothing from above or below.
    assert!(!outside(1.0, head(0.5, 0.01, 0.0)), "the frame's own edge");
}

#[test]
fn a_narrower_shape_holds_both_of_a_pair() {
    // Two heads apart go on 0.1 of the frame farther to either side, once apart is two heads' breadths.
    let body = Body::standing(metres(1.7));
    let pair = Subject::side_by_side(body, body, body.head_breadth() * 2.0);
    let of_pair = |across: f64| {
        let (shot, setup) = head(across, 0.4, 0.1);
        (Shot { subject: pair, ..shot }, setup)
    };
    assert!(!outside(1.0, of_pair(0.5 + 0.131)) && !outside(1.0, of_pair(0.5 - 0.131)));
    assert!(outside(1.0, of_pair(0.5 + 0.1315)) && outside(1.0, of_pair(0.5 - 0.1315)));
}

#[test]
fn a_wider_shape_holds_eyes_and_crown_up_to_its_edges() {
    // 2 to 1 keeps 8/9 of the height of 16:9: 0.4444 to either side of the middle, from 0.0556 on.
    for (eyes, headroom) in [(0.06, 0.1), (0.94, 0.1), (0.4, 0.0556)] {
        assert!(!outside(2.0, head(0.5, eyes, headroom)), "{eyes} {headroom}");
    }
    for (eyes, headroom) in [(0.055, 0.1), (0.945, 0.1), (0.4, 0.055), (0.4, 0.0)] {
        assert!(outside(2.0, head(0.5, eyes, headroom)), "{eyes} {headroom}");
    }
    assert!(!outside(2.0, head(0.5, 0.4, -0.02)), "a crown that is cropped already is not lost to it");
    assert!(
        !outside(2.0, head(0.94, 0.4, 0.1)) && outside(2.0, head(0.96, 0.4, 0.1)),
        "its sides are the frame's"
    );
}

#[test]
fn a_second_shape_has_nobody_to_hold_in_a_shot_of_a_thing() {
    let thing =
        Shot { subject: Subject::Object(Object::on_table(metres(0.2))), size: ShotSize::Insert, ..shot() };
    assert!(!outside(5.0, (thing, resolved(&thing))));
}
