//! Days that can be followed by reading them.

use units::Angle;

use super::*;
use crate::daylight::DaySpan;
use crate::id::{PersonId, PlaceId, SceneId, ShotId};

/// A day without jobs, between two hours.
pub(super) fn at(call_h: f64, wrap_h: f64) -> OrderProblem {
    OrderProblem {
        jobs: Vec::new(),
        call_min: call_h * 60.0,
        wrap_min: wrap_h * 60.0,
        breaks: Vec::new(),
        changes: ChangeTimes::usual(),
        before: None,
    }
}

/// A nice-to-have of 20 minutes in the one scene, looking north.
pub(super) fn job(number: usize) -> Job {
    let id = u64::try_from(number).expect("small");
    Job {
        shot: ShotId::new(id).expect("small"),
        rig: Rig {
            place: None,
            scene: SceneId::new(0).expect("small"),
            direction: Angle::ZERO,
            lens: "main".to_owned(),
            adapter: None,
            filters: Vec::new(),
            gimbal: false,
        },
        people: Vec::new(),
        wideness_m: 2.0,
        takes_min: 20.0,
        light: None,
        one_sun: None,
        hours: Vec::new(),
        must_have: false,
        last: false,
        story: number,
        pinned: None,
    }
}

fn day(jobs: Vec<Job>) -> OrderProblem {
    OrderProblem { jobs, ..at(9.0, 18.0) }
}

fn span(from_h: f64, to_h: f64) -> DaySpan {
    DaySpan { from_min: from_h * 60.0, to_min: to_h * 60.0 }
}

fn sequence(order: &Order) -> Vec<usize> {
    order.placed.iter().map(|placed| placed.job).collect()
}

fn person(number: u64) -> PersonId {
    PersonId::new(number).expect("small")
}

fn looking(deg: f64, job: Job) -> Job {
    Job { rig: Rig { direction: Angle::from_deg(deg), ..job.rig }, ..job }
}

fn at_place(number: u64, job: Job) -> Job {
    Job { rig: Rig { place: PlaceId::new(number), ..job.rig }, ..job }
}

#[test]
fn a_golden_hour_setup_waits_while_others_go_first() {
    let golden = Job { light: Some(vec![span(16.0, 17.0)]), must_have: true, ..job(0) };
    let order = day(vec![golden, job(1), job(2)]).order();
    assert_eq!(sequence(&order), [1, 2, 0]);
    let last = order.placed.last().expect("three");
    assert!((last.starts_min - 960.0).abs() < 1e-9 && last.waits_min > 300.0, "{last:?}");
    assert_eq!(last.reasons, [Reason::Light(span(16.0, 17.0))]);
    assert!((order.costs.waits_min - last.waits_min).abs() < 1e-9);
}

#[test]
fn a_child_who_leaves_at_noon_goes_first() {
    let child = Job { hours: vec![(person(4), span(8.0, 9.75))], ..job(2) };
    let order = day(vec![job(0), job(1), child]).order();
    assert_eq!(sequence(&order), [2, 0, 1]);
    let reason = order.placed[0].reasons[0];
    assert_eq!(reason, Reason::Leaves(person(4), 585.0));
    assert_eq!(reason.words(|_| "Kim".to_owned()), "Kim leaves at 09:45");
}

#[test]
fn what_is_waited_for_comes_first_among_the_reasons() {
    let hours = vec![(person(1), span(9.5, 18.0)), (person(2), span(10.0, 18.0))];
    let lit = Job { light: Some(vec![span(9.8, 11.0)]), hours: hours.clone(), ..job(0) };
    let order = day(vec![lit, Job { hours, ..job(1) }, job(2)]).order();
    // The third is shot while people come; set up in 10 minutes and shot in 20, it is done by 9:30, and the next one is ready
    // at 9:32.
    assert_eq!(sequence(&order), [2, 0, 1]);
    let [_, waits, follows] = &order.placed[..] else { panic!("three: {:?}", order.placed) };
    assert!((waits.starts_min - 600.0).abs() < 1e-9 && waits.waits_min > 27.0, "{waits:?}");
    assert_eq!(waits.reasons[..2], [Reason::Comes(person(2), 600.0), Reason::Light(span(9.8, 11.0))]);
    let comes = |reasons: &[Reason]| reasons.iter().filter(|one| matches!(one, Reason::Comes(..))).count();
    assert_eq!(
        (comes(&waits.reasons), comes(&follows.reasons)),
        (1, 0),
        "who has come is waited for no more"
    );
}

#[test]
fn a_must_have_survives_a_day_that_is_too_short() {
    let must = Job { must_have: true, ..job(2) };
    let order = OrderProblem { jobs: vec![job(0), job(1), must], ..at(9.0, 10.0) }.order();
    assert_eq!(sequence(&order), [2, 0]);
    let [missed] = &order.missed[..] else { panic!("one: {:?}", order.missed) };
    // 10 to set up, three of 20 and two new spots of 2 are 74 minutes.
    assert!(
        matches!(missed.why, WhyMissed::DayEnds { by_min } if (by_min - 14.0).abs() < 1e-9),
        "{missed:?}"
    );
    assert_eq!(missed.would_do[..2], [WouldDo::Drop(vec![0]), WouldDo::JoinWith(2)]);
    assert_eq!(missed.why.words(|_| String::new()), "the day is 14 min too short");
}

#[test]
fn a_pinned_one_stays_and_says_what_is_wrong_with_it() {
    let golden = Job { light: Some(vec![span(16.0, 17.0)]), pinned: Some(1), ..job(0) };
    let noon = Job { light: Some(vec![span(9.0, 9.5)]), pinned: Some(1), ..job(3) };
    let order = day(vec![golden, job(1), job(2), noon]).order();
    // Two are pinned to one place: the later one of the story comes right after the other, which waits for its light.
    let at = sequence(&order).iter().position(|job| *job == 0);
    assert_eq!((at, sequence(&order)[2]), (Some(1), 3));
    assert_eq!(order.placed[1].late, None);
    assert_eq!(order.placed[2].late, Some(WhyMissed::LightGone));
    assert_eq!(order.placed[2].reasons[0], Reason::Pinned);
    assert_eq!(order.costs.nice_missed, 1);
}

#[test]
fn pinned_beyond_the_end_is_last() {
    let order = day(vec![Job { pinned: Some(usize::MAX), ..job(0) }, job(1), job(2)]).order();
    assert_eq!(sequence(&order), [1, 2, 0]);
}

#[test]
fn messy_action_comes_last_of_its_scene() {
    let order =
        day(vec![Job { last: true, wideness_m: 6.0, ..job(0) }, job(1), looking(90.0, job(2))]).order();
    assert_eq!(sequence(&order).last(), Some(&0));
    assert_eq!(order.placed[2].reasons, [Reason::MessyLast]);
}

#[test]
fn one_side_is_finished_before_the_phone_turns_round_and_wide_comes_first() {
    let tight = |job: Job| Job { wideness_m: 0.5, ..job };
    let jobs = vec![tight(job(0)), looking(180.0, job(1)), job(2), tight(looking(180.0, job(3)))];
    let order = day(jobs).order();
    assert_eq!(sequence(&order), [2, 0, 1, 3]);
    assert!(order.placed[0].reasons.contains(&Reason::WideFirst), "{:?}", order.placed[0].reasons);
    assert!(order.placed[1].reasons.contains(&Reason::BeforeTurning), "{:?}", order.placed[1].reasons);
    let story = day(vec![tight(job(0)), looking(180.0, job(1)), job(2)]).evaluate(&[0, 1, 2]);
    assert_eq!((story.costs.back, story.costs.tight_first), (1, 1));
}

#[test]
fn a_place_is_left_once() {
    let jobs = vec![at_place(1, job(0)), at_place(2, job(1)), at_place(1, job(2)), at_place(2, job(3))];
    let order = day(jobs).order();
    assert_eq!(sequence(&order), [0, 2, 1, 3]);
    assert_eq!(order.placed[1].change.parts, [(ChangePart::Spot, 2.0)]);
    assert!(order.placed[1].reasons.contains(&Reason::BeforeLeaving), "{:?}", order.placed[1].reasons);
}

#[test]
fn nothing_is_shot_into_lunch() {
    let lunch = span(9.5, 10.5);
    let order = OrderProblem { breaks: vec![lunch], ..day(vec![job(0), job(1)]) }.order();
    let ends = order.placed.iter().map(|placed| (placed.ready_min, placed.starts_min, placed.ends_min));
    // The first ends with lunch's start; the change to the second is done after it.
    assert_eq!(ends.collect::<Vec<_>>(), [(550.0, 550.0, 570.0), (632.0, 632.0, 652.0)]);
    assert!(order.costs.waits_min.abs() < 1e-12);
}

#[test]
fn what_never_fits_says_so_by_itself() {
    let dark = Job { light: Some(Vec::new()), ..job(0) };
    let away = Job { hours: vec![(person(1), span(7.0, 8.0))], ..job(1) };
    let apart =
        Job { light: Some(vec![span(9.0, 10.0)]), hours: vec![(person(1), span(10.0, 11.0))], ..job(2) };
    let long = Job { takes_min: 500.0, ..job(3) };
    let longer = Job { takes_min: 550.0, light: None, ..job(4) };
    let lunch = OrderProblem { breaks: vec![span(12.0, 19.0)], ..day(vec![long]) };
    let whys = |problem: &OrderProblem| -> Vec<WhyMissed> {
        problem.order().missed.into_iter().map(|missed| missed.why).collect()
    };
    assert_eq!(
        whys(&day(vec![dark, away, apart])),
        [WhyMissed::NoLight, WhyMissed::PersonAway(person(1)), WhyMissed::LightWhileAway]
    );
    assert!(matches!(whys(&lunch)[..], [WhyMissed::DayEnds { by_min }] if (by_min - 560.0).abs() < 1e-9));
    assert!(
        matches!(whys(&day(vec![longer]))[..], [WhyMissed::DayEnds { by_min }] if (by_min - 10.0).abs() < 1e-9)
    );
    let twice = OrderProblem {
        breaks: vec![span(10.0, 11.0)],
        ..day(vec![Job { takes_min: 90.0, light: Some(vec![span(9.0, 12.0)]), ..job(0) }])
    };
    assert_eq!(whys(&twice), [WhyMissed::TooLong]);
}

#[test]
fn light_that_others_take_is_gone() {
    let early = |number: usize| Job { light: Some(vec![span(9.0, 9.6)]), ..job(number) };
    let order = day(vec![Job { must_have: true, ..early(0) }, early(1)]).order();
    assert_eq!(order.missed.len(), 1);
    assert_eq!(order.missed[0].why, WhyMissed::LightGone);
    // The one that is shot is a must-have, so it is not dropped for it; one setup can serve both.
    assert_eq!(order.missed[0].would_do, [WouldDo::JoinWith(0)]);
}

#[test]
fn what_is_left_out_is_said_to_fit() {
    let order = day(vec![job(0), job(1)]).evaluate(&[1, 1, 7]);
    assert_eq!(sequence(&order), [1]);
    assert_eq!(order.missed[0].why, WhyMissed::LeftOut);
}

#[test]
fn being_late_is_counted_from_what_is_done() {
    let problem = day(vec![job(0), job(1), job(2)]);
    let order = problem.order();
    let end_of_second = order.placed[1].ends_min;
    let done = [order.placed[0].job, order.placed[1].job];
    assert!((order.late_min(&done, end_of_second + 12.0) - 12.0).abs() < 1e-9);
    let rest = problem.rest(&done, end_of_second).problem.order();
    assert!((rest.ends_min - order.ends_min).abs() < 1e-9, "on time, the rest is as it was");
    let late = problem.rest(&done, end_of_second + 12.0).problem.order();
    assert!((late.ends_min - order.ends_min - 12.0).abs() < 1e-9);
}

#[test]
fn a_day_of_nothing_is_over_at_the_call() {
    let order = day(Vec::new()).order();
    assert_eq!((order.placed.len(), order.missed.len(), order.is_exact), (0, 0, true));
    assert!((order.ends_min - 540.0).abs() < 1e-12 && order.costs.minutes().abs() < 1e-12);
}
