//! What is changed of a plan comes into the film, and nothing else.

use film::{LensChoice, Rehearsal, ShotOf};
use glam::DVec3;
use optics::Aspect;
use requests::{
    AgeRequest, ArrangementRequest, AspectRequest, LightRequest, PhoneHeightRequest, PostureRequest,
    SecondPersonRequest, ShotSizeRequest, ShutterRequest, TakeRequest,
};
use staging::{PhoneHeight, PieceKind};

use super::super::alike::alike;
use super::super::carry::carried;
use super::{Sample, after_change, each, newcomers};
use crate::dressing::{Item, PLACES, Pose};
use crate::session::Plan;

/// A change of one thing, and what it is called.
type Change = (&'static str, fn(&mut Plan));

fn take(plan: &mut Plan, change: fn(&mut TakeRequest)) {
    plan.change_take(change);
}

/// Of each film's plan, whatever its shot is of.
const OF_ANY: [Change; 21] = [
    ("headroom", |plan| plan.shot.delivery.headroom_share = Some(0.31)),
    ("crop", |plan| {
        plan.shot.delivery.crop_up_share = Some(0.5);
        plan.shot.delivery.crop_right_share = Some(-0.25);
    }),
    ("look", |plan| plan.shot.look_tilt_deg = Some(3.0)),
    ("aim", |plan| plan.shot.look_tilt_deg = None),
    ("across", |plan| plan.shot.across_share = Some(0.42)),
    ("middle", |plan| plan.shot.across_share = None),
    ("background", |plan| plan.shot.background_behind_subject_m = 33.0),
    ("focus", |plan| plan.shot.focus_at_m = Some(2.25)),
    ("usual focus", |plan| plan.shot.focus_at_m = None),
    ("lens", |plan| plan.lens = "long".to_owned()),
    ("adapter", |plan| plan.adapter = None),
    ("foreground", |plan| plan.set_mut().foreground = None),
    ("room", |plan| plan.shot.room_m = Some(3.5)),
    ("overcast", |plan| plan.set_mut().light = Some(LightRequest::Overcast)),
    ("shape", |plan| plan.shot.delivery.aspect = AspectRequest(Aspect::new(1.5).expect("a shape"))),
    ("tilt", |plan| {
        take(plan, |take| {
            *take = TakeRequest {
                duration_s: Some(3.0),
                push_m_per_s: None,
                follow_m_per_s: None,
                pan_deg_per_s: None,
                tilt_deg_per_s: Some(4.0),
                pull: None,
            };
        });
    }),
    ("no move", |plan| plan.shot.take = None),
    ("rate", |plan| {
        let angle_deg = plan.shot.shutter.and_then(|shutter| shutter.angle_deg);
        plan.shot.shutter = Some(ShutterRequest { frame_rate_fps: Some(30.0), angle_deg });
    }),
    ("angle", |plan| {
        let frame_rate_fps = plan.shot.shutter.and_then(|shutter| shutter.frame_rate_fps);
        plan.shot.shutter = Some(ShutterRequest { frame_rate_fps, angle_deg: Some(90.0) });
    }),
    ("piece", |plan| {
        plan.add_piece(PieceKind::Bench, None);
    }),
    ("clear", |plan| {
        let set = plan.set_mut();
        set.pieces.clear();
    }),
];

/// Of plans whose phone stands where the shot says.
const OF_PLACED: [Change; 5] = [
    ("height", |plan| {
        plan.shot.camera_height_m = None;
        plan.shot.camera_height = Some(PhoneHeightRequest::Knee);
    }),
    ("height in metres", |plan| {
        plan.shot.camera_height_m = Some(1.05);
        plan.shot.camera_height = None;
    }),
    ("stand", |plan| plan.shot.stand_at_m = Some(2.75)),
    ("by size", |plan| plan.shot.stand_at_m = None),
    ("phone", |plan| plan.turn_phone(123.0)),
];

/// Of plans of somebody.
const OF_SOMEBODY: [Change; 9] = [
    ("size", |plan| plan.shot.shot_size = ShotSizeRequest::MidThigh),
    ("stature", |plan| {
        if let Some(subject) = &mut plan.shot.subject {
            subject.stature_m = 1.66;
        }
    }),
    ("age", |plan| {
        if let Some(subject) = &mut plan.shot.subject {
            subject.age = Some(AgeRequest::Child);
        }
    }),
    ("sits", |plan| {
        plan.set_pose(Item::Subject, Pose::Standing);
        if let Some(subject) = &mut plan.shot.subject {
            subject.posture = Some(PostureRequest::Seated);
        }
    }),
    ("walks", |plan| {
        if plan.pose(Item::Subject).is_some() {
            plan.set_pose(Item::Subject, Pose::Walking);
        }
    }),
    ("stands", |plan| {
        if plan.pose(Item::Subject).is_some() {
            plan.set_pose(Item::Subject, Pose::Standing);
        }
    }),
    ("clothes", |plan| plan.set_tape(Item::Subject, 3)),
    ("comes", |plan| {
        plan.add_person(AgeRequest::Adult, Pose::Walking, None);
    }),
    ("child comes", |plan| {
        plan.add_person(AgeRequest::Child, Pose::Seated, None);
    }),
];

/// The plan that the film gives after a change, with what is told only by the film.
fn check(seed: u64, name: &str, sample: &Sample, rehearsal: &Rehearsal, change: fn(&mut Plan)) {
    let before = sample.linked(rehearsal).plan();
    let mut after = before.clone();
    change(&mut after);
    if alike(&before, &after) {
        return;
    }
    let Some((changed, now)) = after_change(sample, rehearsal, &after) else {
        panic!("{seed}: {name} was not carried");
    };
    // The words hang on what was changed, and so does the focus from which a pull starts.
    after.of.clone_from(&now.of);
    after.own_names.clone_from(&now.own_names);
    after.other_names.clone_from(&now.other_names);
    let pull = |plan: &Plan| plan.shot.take.and_then(|take| take.pull);
    if let (Some(now), Some(after)) =
        (pull(&now), after.shot.take.as_mut().and_then(|take| take.pull.as_mut()))
    {
        after.from_m = now.from_m;
    }
    if sample.shot().lens == LensChoice::Auto && name != "lens" {
        assert_eq!(changed.shot().lens, LensChoice::Auto, "{seed}: {name} fixes the lens");
        (after.lens, after.zoom) = (now.lens.clone(), now.zoom);
    }
    if matches!(sample.shot().height, PhoneHeight::At(_)) && !name.starts_with("height") {
        // A height for which there is no word is told in metres, and follows from who they are.
        after.shot.camera_height_m = now.shot.camera_height_m;
    }
    if matches!(sample.shot().of, ShotOf::Object { .. }) {
        // A thing looks nowhere, and whoever is nearest to it may be another.
        after.facing_deg = now.facing_deg;
        after.shot.subject.clone_from(&now.shot.subject);
    }
    if let (ShotOf::Two(..), Some(now), Some(subject)) =
        (&sample.shot().of, &now.shot.subject, &mut after.shot.subject)
        && let (Some(now), Some(second)) = (&now.second_person, &mut subject.second_person)
        && name == "phone"
    {
        // How far two are apart across the frame and towards the phone hangs on whence they are seen.
        (second.apart_m, second.nearer_m) = (now.apart_m, now.nearer_m);
    }
    assert!(alike(&now, &after), "{seed}: {name}\n{}", both(&now, &after));
}

/// The texts of both, to be read below each other.
fn both(one: &Plan, other: &Plan) -> String {
    let text = |plan: &Plan| serde_json::to_string(plan).expect("plain values");
    format!("{}\n{}", text(one), text(other))
}

#[test]
fn what_was_not_changed_is_not_carried() {
    each(|seed, sample, rehearsal| {
        let linked = sample.linked(rehearsal);
        let plan = linked.plan();
        assert_eq!(carried(linked, &plan, &plan, &mut newcomers()), None, "{seed}");
        // Text may change a number's last digit.
        let text = serde_json::to_string(&plan).expect("plain values");
        let read: Plan = serde_json::from_str(&text).expect("it was written");
        assert_eq!(carried(linked, &plan, &read, &mut newcomers()), None, "{seed}");
    });
}

#[test]
fn what_is_changed_of_any_shot_is_what_the_film_says_then() {
    each(|seed, sample, rehearsal| {
        for (name, change) in OF_ANY {
            check(seed, name, sample, rehearsal, change);
        }
    });
}

#[test]
fn a_phone_that_is_moved_stays_there() {
    each(|seed, sample, rehearsal| {
        for (name, change) in OF_PLACED {
            if !matches!(sample.shot().of, ShotOf::PointOfView { .. }) {
                check(seed, name, sample, rehearsal, change);
            }
        }
    });
}

#[test]
fn what_is_changed_of_somebody_is_theirs_in_the_film() {
    each(|seed, sample, rehearsal| {
        for (name, change) in OF_SOMEBODY {
            // Of a point of view, the owner's eyes follow from who they are.
            if rehearsal.subject.is_some() {
                check(seed, name, sample, rehearsal, change);
            }
        }
    });
}

#[test]
fn others_and_pieces_are_moved_turned_and_removed() {
    each(|seed, sample, rehearsal| {
        let mut moves: Vec<Change> = Vec::new();
        if !rehearsal.others.is_empty() {
            moves.push(("somebody moves", |plan| plan.put(Item::Person(0), DVec3::new(1.5, -2.0, 0.0))));
            moves.push(("somebody turns", |plan| plan.face(Item::Person(0), 77.0)));
            moves.push(("somebody goes", |plan| plan.remove(Item::Person(0))));
            moves.push(("somebody dresses", |plan| plan.set_tape(Item::Person(0), 4)));
            moves.push(("somebody walks", |plan| plan.set_pose(Item::Person(0), Pose::Walking)));
            moves.push(("somebody sits", |plan| plan.set_pose(Item::Person(0), Pose::Seated)));
        }
        if !sample.scene().blocking.pieces.is_empty() {
            moves.push(("a piece moves", |plan| plan.put(Item::Piece(0), DVec3::new(-1.5, 4.0, 0.0))));
            moves.push(("a piece turns", |plan| plan.face(Item::Piece(0), 12.0)));
            moves.push(("a piece goes", |plan| plan.remove(Item::Piece(0))));
        }
        for (name, change) in moves {
            check(seed, name, sample, rehearsal, change);
        }
    });
}

#[test]
fn a_place_that_is_chosen_comes_with_its_people() {
    each(|seed, sample, rehearsal| {
        check(seed, "place", sample, rehearsal, |plan| plan.go_to(&PLACES[0]));
    });
}

#[test]
fn a_subject_that_is_dragged_moves_on_the_scenes_floor_and_the_set_stays() {
    each(|seed, sample, rehearsal| {
        let mut after = sample.linked(rehearsal).plan();
        let set = after.set_mut();
        let count = set.people.len() + set.pieces.len();
        let is_own = matches!(sample.shot().of, ShotOf::One(_));
        if count < 2 || !is_own {
            return;
        }
        for person in &mut set.people {
            (person.x_m, person.y_m) = (person.x_m - 0.5, person.y_m + 0.25);
        }
        for piece in &mut set.pieces {
            (piece.x_m, piece.y_m) = (piece.x_m - 0.5, piece.y_m + 0.25);
        }
        let (changed, now) = after_change(sample, rehearsal, &after).expect("somebody moved");
        assert_eq!(changed.scene().blocking.pieces, sample.scene().blocking.pieces, "{seed}");
        let who = rehearsal.own[0];
        let place = |sample: &Sample| sample.scene().blocking.mark(who).expect("there").place;
        let by = place(&changed) - place(sample);
        assert!((by - glam::DVec2::new(0.5, -0.25)).length() < 1.0e-6, "{seed}: {by}");
        assert!(alike(&now, &after), "{seed}\n{}", both(&now, &after));
    });
}

#[test]
fn whoever_a_shot_is_of_stays_in_the_scene() {
    let other_shot = |sample: &Sample, rehearsal: &Rehearsal| {
        let mut film = sample.film.clone();
        let scene = std::sync::Arc::make_mut(&mut film.scenes[0]);
        let mut shot = sample.shot().clone();
        shot.id = film::ShotId::new(77).expect("small");
        shot.of = ShotOf::One(rehearsal.others[0]);
        scene.shots.push(std::sync::Arc::new(shot));
        Sample { film }
    };
    each(|seed, sample, rehearsal| {
        if rehearsal.others.is_empty() {
            return;
        }
        let sample = other_shot(sample, rehearsal);
        let mut after = sample.linked(rehearsal).plan();
        after.remove(Item::Person(0));
        assert!(after_change(&sample, rehearsal, &after).is_none(), "{seed}: they are needed");
    });
}

#[test]
fn a_second_person_is_the_nearest_of_the_scene_and_goes_again() {
    let second = |arrangement| SecondPersonRequest {
        stature_m: Some(1.7),
        posture: None,
        age: None,
        arrangement: Some(arrangement),
        apart_m: None,
        nearer_m: None,
    };
    each(|seed, sample, rehearsal| {
        let ShotOf::One(who) = sample.shot().of else { return };
        let nearest = sample.linked(rehearsal).nearest_person(&[who]).expect("two are in each scene").who;
        for arrangement in [ArrangementRequest::Beside, ArrangementRequest::OverShoulder] {
            let mut after = sample.linked(rehearsal).plan();
            if let Some(subject) = &mut after.shot.subject {
                subject.second_person = Some(second(arrangement));
            }
            let (changed, now) = after_change(sample, rehearsal, &after).expect("somebody is there");
            let expected = match arrangement {
                ArrangementRequest::Beside => ShotOf::Two(who, nearest),
                ArrangementRequest::OverShoulder => ShotOf::OverShoulder { facing: who, near: nearest },
            };
            assert_eq!(changed.shot().of, expected, "{seed}");
            let rehearsal = Rehearsal::of(&changed.film, changed.scene(), changed.shot()).expect("there");
            let mut alone = now.clone();
            if let Some(subject) = &mut alone.shot.subject {
                subject.second_person = None;
            }
            let (changed, _) = after_change(&changed, &rehearsal, &alone).expect("one goes");
            assert_eq!(changed.shot().of, ShotOf::One(who), "{seed}");
        }
    });
}

#[test]
fn what_a_thing_is_on_is_what_the_film_says_then() {
    const SUPPORTS: [Change; 3] = [
        ("table", |plan| plan.shot.insert_above_floor_m = None),
        ("ground", |plan| plan.shot.insert_above_floor_m = Some(0.0)),
        ("hand", |plan| plan.shot.insert_above_floor_m = Some(0.9)),
    ];
    each(|seed, sample, rehearsal| {
        for (name, change) in SUPPORTS {
            if matches!(sample.shot().of, ShotOf::Object { .. }) {
                check(seed, name, sample, rehearsal, change);
            }
        }
    });
}

#[test]
fn a_shot_of_somebody_becomes_one_of_a_thing_and_back() {
    each(|seed, sample, rehearsal| {
        let mut after = sample.linked(rehearsal).plan();
        let was_thing = after.shot.shot_size == ShotSizeRequest::Insert;
        if was_thing {
            after.shot.shot_size = ShotSizeRequest::Medium;
        } else {
            after.shot.shot_size = ShotSizeRequest::Insert;
            after.shot.insert_size_m = Some(0.2);
        }
        let (changed, now) = after_change(sample, rehearsal, &after).expect("somebody is there");
        assert_eq!(matches!(changed.shot().of, ShotOf::Object { .. }), !was_thing, "{seed}");
        assert_eq!(now.shot.shot_size, after.shot.shot_size, "{seed}");
    });
}
