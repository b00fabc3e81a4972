//! Film and plan are at rest after any change of either.

use std::sync::Arc;

use film::{Command, PersonId, Rehearsal, ShotOf};
use glam::DVec3;
use requests::{AgeRequest, ArrangementRequest, SecondPersonRequest};

use super::super::alike::alike;
use super::super::follow::{Answer, when_film_changed, when_plan_changed};
use super::{Chance, Sample, each, newcomers, sample};
use crate::dressing::{Item, PLACES, Pose};
use crate::session::Plan;
use crate::story::moving::{take_way, way_of};
use crate::widgets::Way;

/// Rounds in which both sides must be at rest: the change, what the film makes of it, and the answer that it is so.
const MOST_ROUNDS: usize = 3;

/// Lets film and plan answer each other until both rest.
fn settle(seed: u64, film: &mut Sample, plan: &mut Plan, fresh: &mut dyn FnMut() -> PersonId) {
    for _ in 0..MOST_ROUNDS {
        let rehearsal = Rehearsal::of(&film.film, film.scene(), film.shot()).expect("nothing is missing");
        match when_plan_changed(film.linked(&rehearsal), plan, fresh) {
            Answer::Rest => return,
            Answer::PutBack(of_film) => *plan = *of_film,
            Answer::Carry(carried) => {
                film.film.apply(carried.command).expect("what is carried can be applied");
                let rehearsal =
                    Rehearsal::of(&film.film, film.scene(), film.shot()).expect("nothing is missing");
                if let Some(of_film) = when_film_changed(film.linked(&rehearsal), plan) {
                    *plan = of_film;
                }
            }
        }
    }
    panic!("{seed}: film and plan never rest: {plan:?}");
}

/// Anything that can be done in Set-up.
fn change(chance: &mut Chance, plan: &mut Plan) {
    let metres = chance.within(-5.0, 5.0);
    match chance.below(14) {
        0 => plan.turn_phone(chance.within(0.0, 359.0)),
        1 => plan.shot.stand_at_m = Some(chance.within(0.3, 9.0)),
        2 => plan.put(Item::Person(0), DVec3::new(metres, -metres, 0.0)),
        3 => plan.put(Item::Piece(0), DVec3::new(metres, metres, 0.0)),
        4 => plan.face(Item::Subject, chance.within(0.0, 359.0)),
        5 => plan.set_pose(Item::Subject, Pose::Walking),
        6 => plan.set_pose(Item::Person(0), Pose::Seated),
        7 => plan.go_to(&PLACES[chance.below(PLACES.len())]),
        8 => plan.clear_set(),
        9 => plan.face(Item::Person(0), chance.within(0.0, 359.0)),
        10 => {
            plan.add_person(AgeRequest::Adult, Pose::Standing, None);
        }
        11 => {
            if let Some(subject) = &mut plan.shot.subject {
                subject.second_person = Some(SecondPersonRequest {
                    stature_m: None,
                    posture: None,
                    age: None,
                    arrangement: Some(ArrangementRequest::Beside),
                    apart_m: Some(chance.within(0.2, 3.0)),
                    nearer_m: None,
                });
            }
        }
        12 => {
            if let Some(subject) = &mut plan.shot.subject {
                subject.second_person = None;
                subject.stature_m = chance.within(1.0, 2.0);
            }
        }
        _ => plan.shot.camera_height_m = Some(chance.within(0.2, 3.0)),
    }
}

#[test]
fn whatever_is_done_in_set_up_both_rest_and_agree() {
    each(|seed, of_chance, _| {
        let mut film = Sample { film: of_chance.film.clone() };
        let (mut chance, mut fresh) = (Chance::of(seed + 1), newcomers());
        let rehearsal = film.rehearsal().expect("framed");
        let mut plan = film.linked(&rehearsal).plan();
        for _ in 0..12 {
            change(&mut chance, &mut plan);
            settle(seed, &mut film, &mut plan, &mut fresh);
            let rehearsal = Rehearsal::of(&film.film, film.scene(), film.shot()).expect("nothing is missing");
            assert!(alike(&film.linked(&rehearsal).plan(), &plan), "{seed}: they do not agree");
        }
    });
}

#[test]
fn what_the_film_says_is_not_told_back_to_it() {
    each(|seed, one, rehearsal| {
        let shown = one.linked(rehearsal).plan();
        let other = sample(seed + 1);
        let Some(rehearsal) = other.rehearsal() else { return };
        let linked = other.linked(&rehearsal);
        let Some(plan) = when_film_changed(linked, &shown) else { return };
        assert_eq!(when_plan_changed(linked, &plan, &mut newcomers()), Answer::Rest, "{seed}");
    });
}

#[test]
fn what_no_film_can_have_is_put_back() {
    each(|seed, sample, rehearsal| {
        let linked = sample.linked(rehearsal);
        let mut plan = linked.plan();
        if !matches!(sample.shot().of, ShotOf::PointOfView { .. }) {
            return;
        }
        // A point of view is as high as its owner's eyes.
        plan.shot.camera_height_m = Some(0.31);
        let answer = when_plan_changed(linked, &plan, &mut newcomers());
        assert_eq!(answer, Answer::PutBack(Box::new(linked.plan())), "{seed}");
    });
}

#[test]
fn a_way_that_is_chosen_in_the_story_is_the_same_in_set_up() {
    each(|seed, sample, rehearsal| {
        let ShotOf::One(_) = sample.shot().of else { return };
        let faces = rehearsal.subject.as_ref().map(|subject| subject.person.facing);
        for way in Way::ALL {
            let mut shot = sample.shot().clone();
            take_way(way, &mut shot, faces, 8.0, None);
            assert_eq!(way_of(&shot, faces), way, "{seed}");
            let mut film = sample.film.clone();
            film.apply(Command::SetShot(Arc::new(shot))).expect("a shot of the film");
            let changed = Sample { film };
            let rehearsal =
                Rehearsal::of(&changed.film, changed.scene(), changed.shot()).expect("nothing is missing");
            assert_eq!(Way::of_plan(&changed.linked(&rehearsal).plan()), way, "{seed}");
        }
    });
}
