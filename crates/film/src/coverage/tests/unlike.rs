//! Drafts of two of whom one is much taller than the other.

use std::collections::BTreeSet;
use std::sync::Arc;

use staging::Age;
use units::Length;

use super::{drafted, film, inside, mark, person, put_in, told, views, wish};
use crate::coverage::Pace;
use crate::film::Film;
use crate::findings::{Severity, check_cut};
use crate::scene::SceneFacts;
use crate::scene_blocking::{Faces, SceneBlocking};
use crate::shot::ShotOf;

/// Mira, of 1.66 m, and a child of 1.2 m stand that far apart and look at each other.
fn adult_and_child(apart_m: f64, facts: SceneFacts) -> Film {
    let marks =
        vec![mark(1, (0.0, 0.0), Faces::At(person(2))), mark(2, (apart_m, 0.0), Faces::At(person(1)))];
    let mut film = film(3, SceneBlocking { marks, ..SceneBlocking::default() }, facts);
    let mut cast = film.cast.to_vec();
    (cast[1].age, cast[1].stature) = (Age::Child, Length::from_m(1.2));
    film.cast = Arc::from(cast);
    film
}

/// Who is seen past whose shoulder, and how far below the upper edge that shoulder is, as a share of the frame's height.
fn past_shoulders(film: &Film) -> Vec<(ShotOf, f64)> {
    let mut past = Vec::new();
    for view in views(film) {
        let ShotOf::OverShoulder { near, .. } = view.shot.of else { continue };
        let rehearsal = view.rehearsal.as_ref().as_ref().expect("it can be walked through");
        let frame = &rehearsal.result().outcome.as_ref().expect("a setup").view;
        // Shoulders are at 0.820 of an adult's stature and at 0.79 of a child's.
        let shoulder_m = if near == person(1) { 0.820 * 1.66 } else { 0.79 * 1.2 };
        let place = film.scenes[0].blocking.mark(near).expect("there").place;
        let own = view.seen.expect("had")[0].camera.to_own(place.extend(shoulder_m));
        past.push((view.shot.of.clone(), (frame.up - own.y / own.z) / (frame.up + frame.down)));
    }
    past
}

#[test]
fn the_shoulder_of_somebody_much_taller_or_smaller_is_in_the_frame_or_there_is_no_such_shot() {
    let small = SceneFacts { room: Some(Length::from_m(2.0)), ..inside() };
    for facts in [SceneFacts::default(), inside(), small] {
        for apart_m in [0.8, 1.2, 2.0, 3.0] {
            for pace in Pace::ALL {
                for variant in 0..3 {
                    let film = adult_and_child(apart_m, facts.clone());
                    let put = put_in(&film, &drafted(&film, &wish(7, pace, variant)));
                    for (of, share) in past_shoulders(&put) {
                        assert!((0.04..0.96).contains(&share), "{of:?} {share} at {apart_m}\n{}", told(&put));
                    }
                }
            }
        }
    }
}

#[test]
fn an_adult_and_a_child_see_each_other_past_their_shoulders_where_there_is_room() {
    for apart_m in [1.0, 1.4, 2.0] {
        let film = adult_and_child(apart_m, SceneFacts::default());
        let put = put_in(&film, &drafted(&film, &wish(5, Pace::Calm, 0)));
        let seen: BTreeSet<_> = past_shoulders(&put).into_iter().filter_map(|(of, _)| of.subject()).collect();
        assert_eq!(seen, [1, 2].map(person).into(), "{apart_m}\n{}", told(&put));
        assert_eq!(put.scenes[0].shots.len(), 5);
        let findings = check_cut(&put, &put.scenes[0], &views(&put));
        let warns: Vec<_> =
            findings.iter().filter(|placed| placed.finding.severity() >= Severity::Warns).collect();
        assert!(warns.is_empty(), "{warns:?}\n{}", told(&put));
    }
}
