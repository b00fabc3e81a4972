//! Orders of work against every order that there is, tried one by one by rules written a second time.
#![expect(clippy::expect_used, reason = "a test that cannot build its day must fail")]

use film::{
    ChangePart, ChangeTimes, DaySpan, Job, Order, OrderProblem, PersonId, PlaceId, Reason, Rig, SceneId,
    ShotId, WouldDo,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use units::Angle;

fn span(from_min: i32, length_min: i32) -> DaySpan {
    DaySpan { from_min: f64::from(from_min), to_min: f64::from(from_min + length_min) }
}

fn rig() -> BoxedStrategy<Rig> {
    (option::weighted(0.7, 0..2_u64), 0..2_u64, 0..4_i32, 0..2_u8, option::weighted(0.2, Just(())), 0..2_u8)
        .prop_map(|(place, scene, quarter, lens, adapter, odd)| Rig {
            place: place.and_then(PlaceId::new),
            scene: SceneId::new(scene).expect("small"),
            direction: Angle::from_deg(f64::from(quarter * 90 + i32::from(odd) * 25)),
            lens: lens.to_string(),
            adapter: adapter.map(|()| "stretch".to_owned()),
            filters: if odd == 1 { vec!["ND 8".to_owned()] } else { Vec::new() },
            gimbal: lens == 1 && odd == 1,
        })
        .boxed()
}

/// A job of a day whose jobs have about `room_min` each.
fn job(room_min: i32, rig: Rig) -> BoxedStrategy<Job> {
    let light = option::weighted(0.35, vec((480..1000_i32, 5..200_i32), 0..3));
    let one_sun = option::weighted(0.15, (480..1000_i32, 60..200_i32));
    let hours = option::weighted(0.3, vec((0..3_u64, 480..800_i32, 20..500_i32), 1..3));
    let marks = (any::<bool>(), 0..5_u8, 0..6_usize);
    ((light, one_sun), hours, marks, 0..room_min, 1..4_i32)
        .prop_map(move |((light, one_sun), hours, (must_have, last, story), takes, wide)| Job {
            shot: ShotId::new(0).expect("small"),
            rig: rig.clone(),
            people: Vec::new(),
            wideness_m: f64::from(wide),
            takes_min: f64::from(takes) + if must_have { 0.1 } else { 0.0 },
            light: light.map(|spans| spans.into_iter().map(|(from, length)| span(from, length)).collect()),
            one_sun: one_sun.map(|(from, length)| span(from, length)),
            hours: hours
                .into_iter()
                .flatten()
                .map(|(who, from, length)| (PersonId::new(who).expect("small"), span(from, length)))
                .collect(),
            must_have,
            last: last == 0,
            story,
            pinned: None,
        })
        .boxed()
}

/// Days of so many jobs, some too short for them.
fn day(count: impl Into<proptest::collection::SizeRange>) -> BoxedStrategy<OrderProblem> {
    let jobs = vec(rig().prop_flat_map(|rig| job(40, rig)), count);
    let pins = vec((any::<prop::sample::Index>(), 0..8_usize), 0..3);
    let breaks = vec((500..900_i32, 5..60_i32), 0..3);
    (jobs, 60..600_i32, breaks, option::weighted(0.4, rig()), option::weighted(0.4, pins))
        .prop_map(|(mut jobs, length_min, breaks, before, pins)| {
            for (number, job) in jobs.iter_mut().enumerate() {
                job.shot = ShotId::new(u64::try_from(number).expect("small")).expect("small");
            }
            for (at, place) in pins.into_iter().flatten().filter(|_| !jobs.is_empty()).collect::<Vec<_>>() {
                let at = at.index(jobs.len());
                jobs[at].pinned = Some(place);
            }
            OrderProblem {
                jobs,
                call_min: 480.0,
                wrap_min: f64::from(480 + length_min),
                breaks: breaks.into_iter().map(|(from, length)| span(from, length)).collect(),
                changes: ChangeTimes::usual(),
                before,
            }
        })
        .boxed()
}

/// Days of so many jobs that are long enough for most of them.
fn long_day(count: impl Into<proptest::collection::SizeRange>) -> BoxedStrategy<OrderProblem> {
    (day(count), 300..900_i32)
        .prop_map(|(day, length_min)| OrderProblem { wrap_min: f64::from(480 + length_min), ..day })
        .boxed()
}

const CLOSE_MIN: f64 = 1e-6;

fn same_time(one_min: f64, other_min: f64) -> bool {
    (one_min - other_min).abs() < CLOSE_MIN
}

fn holds(span: &DaySpan, from_min: f64, to_min: f64) -> bool {
    span.from_min <= from_min + CLOSE_MIN && to_min <= span.to_min + CLOSE_MIN
}

/// Whether a job may be shot from then on: the rules as the problem states them.
fn may_start(day: &OrderProblem, job: &Job, at_min: f64) -> bool {
    let end_min = at_min + job.takes_min;
    let there = |who: PersonId| {
        let spans = job.hours.iter().filter(|(person, _)| *person == who).map(|(_, span)| *span);
        union(&spans.collect::<Vec<_>>()).iter().any(|span| holds(span, at_min, end_min))
    };
    at_min >= day.call_min
        && end_min <= day.wrap_min + CLOSE_MIN
        && job.one_sun.is_none_or(|span| holds(&span, at_min, end_min))
        && job.light.as_ref().is_none_or(|light| union(light).iter().any(|span| holds(span, at_min, end_min)))
        && job.hours.iter().all(|(who, _)| there(*who))
        && runs_into_no_break(day, job, at_min)
}

/// Windows with those that overlap made one.
fn union(spans: &[DaySpan]) -> Vec<DaySpan> {
    let mut whole = spans.to_vec();
    for _ in spans {
        for at in 0..whole.len() {
            for other in 0..whole.len() {
                if whole[at].from_min <= whole[other].to_min && whole[other].from_min <= whole[at].to_min {
                    let from_min = whole[at].from_min.min(whole[other].from_min);
                    let to_min = whole[at].to_min.max(whole[other].to_min);
                    whole[at] = DaySpan { from_min, to_min };
                    whole[other] = DaySpan { from_min, to_min };
                }
            }
        }
    }
    whole
}

fn runs_into_no_break(day: &OrderProblem, job: &Job, at_min: f64) -> bool {
    let end_min = at_min + job.takes_min;
    day.breaks
        .iter()
        .all(|rest| end_min <= rest.from_min + CLOSE_MIN && at_min < rest.to_min || at_min >= rest.to_min)
}

/// The first time from `ready_min` on at which a job may be shot, among all times at which anything begins to be allowed.
fn first_start(day: &OrderProblem, job: &Job, ready_min: f64, anyhow: bool) -> Option<f64> {
    let spans = job.light.iter().flatten().chain(&job.one_sun).chain(job.hours.iter().map(|(_, span)| span));
    let mut times: Vec<f64> = spans.map(|span| span.from_min).collect();
    times.extend(day.breaks.iter().map(|rest| rest.to_min));
    times.extend([ready_min, day.call_min]);
    times.retain(|time| *time >= ready_min);
    times.sort_by(f64::total_cmp);
    let allowed = |time: &f64| {
        if anyhow { runs_into_no_break(day, job, *time) } else { may_start(day, job, *time) }
    };
    times.into_iter().find(allowed)
}

/// When changing is done that stops for breaks.
fn changed(day: &OrderProblem, at_min: f64, minutes: f64) -> f64 {
    let mut rests: Vec<DaySpan> = union(&day.breaks);
    rests.sort_by(|one, other| one.from_min.total_cmp(&other.from_min));
    rests.dedup();
    let (mut at_min, mut left_min) = (at_min, minutes);
    for rest in rests {
        if rest.to_min > at_min && at_min + left_min > rest.from_min {
            left_min -= (rest.from_min - at_min).max(0.0);
            at_min = rest.to_min;
        }
    }
    at_min + left_min
}

/// Missed must-haves, missed nice-to-haves, minutes.
type Cost = (u32, u32, f64);

/// What a sequence costs in which everything has to be shot; none if something cannot be.
fn cost(day: &OrderProblem, sequence: &[usize]) -> Option<Cost> {
    let (mut at_min, mut changes_min, mut disliked) = (day.call_min, 0.0, 0.0);
    let (mut must, mut nice) = (0, 0);
    for (at, &number) in sequence.iter().enumerate() {
        let job = &day.jobs[number];
        let before = at.checked_sub(1).map(|at| &day.jobs[sequence[at]].rig).or(day.before.as_ref());
        let change_min = day.changes.between(before, &job.rig).minutes();
        let ready_min = changed(day, at_min, change_min);
        let mut start = first_start(day, job, ready_min, false);
        if start.is_none() && job.pinned.is_some() {
            start = first_start(day, job, ready_min, true);
            if job.must_have { must += 1 } else { nice += 1 }
        }
        at_min = start? + job.takes_min;
        changes_min += change_min;
        for &early in &sequence[..at] {
            let early = &day.jobs[early];
            disliked += if job.is_wider_than(early) { 4.0 } else { 0.0 };
            let messy = early.last && !job.last && early.rig.scene == job.rig.scene;
            disliked += if messy { 30.0 } else { 0.0 };
            disliked += if job.must_have && !early.must_have { 0.5 } else { 0.0 };
            disliked += if job.story < early.story { 1.0 / 1024.0 } else { 0.0 };
        }
        let mut left = sequence[..at].iter().map(|early| &day.jobs[*early].rig).chain(&day.before);
        let back =
            before.is_some_and(|rig| !rig.looks_as(&job.rig)) && left.any(|rig| rig.looks_as(&job.rig));
        disliked += if back { 10.0 } else { 0.0 };
    }
    for (number, job) in day.jobs.iter().enumerate() {
        if !sequence.contains(&number) {
            if job.must_have { must += 1 } else { nice += 1 }
        }
    }
    Some((must, nice, at_min - day.call_min + 0.5 * changes_min + disliked))
}

/// A sequence with the pinned ones at their places.
fn with_pins(day: &OrderProblem, free: &[usize]) -> Vec<usize> {
    let pinned = day.jobs.iter().enumerate().filter_map(|(at, job)| Some((job.pinned?, job.story, at)));
    let mut pins: Vec<_> = pinned.collect();
    pins.sort_unstable();
    pins.reverse();
    let mut sequence = Vec::new();
    let mut free = free.iter();
    loop {
        if pins.last().is_some_and(|(place, ..)| *place <= sequence.len()) {
            sequence.extend(pins.pop().map(|(.., at)| at));
        } else if let Some(at) = free.next() {
            sequence.push(*at);
        } else {
            sequence.extend(pins.into_iter().rev().map(|(.., at)| at));
            return sequence;
        }
    }
}

fn less(one: &Cost, other: &Cost) -> bool {
    (one.0, one.1) < (other.0, other.1)
        || ((one.0, one.1) == (other.0, other.1) && one.2 < other.2 - CLOSE_MIN)
}

/// The least that any order of any of the jobs costs.
fn least_cost(day: &OrderProblem, chosen: &mut Vec<usize>, best: &mut Option<Cost>) {
    let whole = cost(day, &with_pins(day, chosen));
    *best = match (*best, whole) {
        (Some(best), Some(whole)) if !less(&whole, &best) => Some(best),
        (best, whole) => whole.or(best),
    };
    for number in 0..day.jobs.len() {
        if !chosen.contains(&number) && day.jobs[number].pinned.is_none() {
            chosen.push(number);
            least_cost(day, chosen, best);
            chosen.pop();
        }
    }
}

fn said(order: &Order) -> Cost {
    (order.costs.must_missed, order.costs.nice_missed, order.costs.minutes())
}

fn same(one: &Cost, other: &Cost) -> bool {
    !less(one, other) && !less(other, one)
}

fn placed(order: &Order) -> Vec<usize> {
    order.placed.iter().map(|placed| placed.job).collect()
}

fn agrees_with_brute_force(day: &OrderProblem) -> Result<(), TestCaseError> {
    let order = day.order();
    let mut best = None;
    least_cost(day, &mut Vec::new(), &mut best);
    let best = best.expect("the order of nothing but pins");
    prop_assert!(order.is_exact);
    prop_assert!(same(&said(&order), &best), "{:?} is not {best:?}\n{order:#?}", said(&order));
    let as_placed = cost(day, &placed(&order));
    prop_assert!(as_placed.is_some_and(|cost| same(&cost, &best)), "its sequence costs {as_placed:?}");
    let evaluated = day.evaluate(&placed(&order));
    prop_assert!(same(&said(&evaluated), &best), "evaluated, it costs {:?}", said(&evaluated));
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(160))]

    #[test]
    fn no_order_of_a_short_day_costs_less(day in day(0..=5)) {
        agrees_with_brute_force(&day)?;
    }

    #[test]
    fn what_is_advised_makes_room(day in day(3..=7)) {
        let order = day.order();
        let kept: Vec<usize> = placed(&order);
        for missed in &order.missed {
            for advice in &missed.would_do {
                let mut other = day.clone();
                match advice {
                    WouldDo::Drop(drop) => {
                        // What is free becomes a must-have and what is pinned does not, so that nothing free is left out to keep
                        // what is pinned from being late.
                        other.jobs.iter_mut().for_each(|job| job.must_have = job.pinned.is_none());
                        let stay = |at: &usize| (kept.contains(at) && !drop.contains(at)) || *at == missed.job;
                        let left: Vec<usize> = (0..day.jobs.len()).filter(stay).collect();
                        other.jobs = left.iter().map(|at| other.jobs[*at].clone()).collect();
                        let with = other.order();
                        prop_assert!(with.missed.is_empty(), "{drop:?} does not do for {}", missed.job);
                    }
                    WouldDo::JoinWith(with) => prop_assert!(day.jobs[missed.job].joins(&day.jobs[*with])),
                }
            }
        }
    }

    #[test]
    fn the_same_day_has_the_same_order_however_it_is_listed(
        (day, listed) in day(0..=9).prop_flat_map(|day| {
            let at: Vec<usize> = (0..day.jobs.len()).collect();
            (Just(day), Just(at).prop_shuffle())
        }),
    ) {
        let order = day.order();
        prop_assert_eq!(&order, &day.order());
        let other = OrderProblem { jobs: listed.iter().map(|at| day.jobs[*at].clone()).collect(), ..day };
        let shuffled = other.order();
        let named: Vec<usize> = placed(&shuffled).into_iter().map(|at| listed[at]).collect();
        prop_assert_eq!(named, placed(&order));
        prop_assert!(same(&said(&shuffled), &said(&order)));
    }

    #[test]
    fn pins_stay_when_the_rest_is_put_in_order_anew(day in day(2..=8), done in 0..4_usize, late in 0..90_i32) {
        let order = day.order();
        let done: Vec<usize> = placed(&order).into_iter().take(done).collect();
        let now_min = done.len().checked_sub(1).map_or(480.0, |at| order.placed[at].ends_min) + f64::from(late);
        let rest = day.rest(&done, now_min);
        let again = rest.problem.order();
        prop_assert!(again.placed.iter().all(|placed| placed.starts_min >= now_min));
        for (number, job) in rest.problem.jobs.iter().enumerate().filter(|(_, job)| job.pinned.is_some()) {
            let at = placed(&again).iter().position(|placed| *placed == number);
            prop_assert!(at.is_some(), "a pinned one is never dropped");
            let whole = at.expect("just asked") + done.len();
            let place = day.jobs[rest.jobs[number]].pinned.expect("it was pinned before");
            let pins = day.jobs.iter().filter(|job| job.pinned.is_some()).count();
            let last = again.placed.len() + done.len();
            prop_assert!(whole + pins >= place.min(last) && whole <= place.max(done.len()) + pins, "{job:?} at {whole}");
            if pins == 1 {
                prop_assert_eq!(whole, place.max(done.len()).min(last - 1));
            }
        }
        if late == 0 {
            // On time nothing is worse than it was to be.
            let left = again.costs.must_missed + again.costs.nice_missed;
            let late = |order: &Order| order.placed.iter().filter(|placed| placed.late.is_some()).count();
            let planned = order.missed.len() + late(&order);
            prop_assert!(usize::try_from(left).expect("small") <= planned);
        }
    }

    #[test]
    fn each_reason_is_true_of_the_order(day in day(1..=8)) {
        let order = day.order();
        for (at, here) in order.placed.iter().enumerate() {
            let job = &day.jobs[here.job];
            let jobs = |placed: &[film::Placed]| -> Vec<Job> {
                placed.iter().map(|placed| day.jobs[placed.job].clone()).collect()
            };
            let (before, after) = (jobs(&order.placed[..at]), jobs(&order.placed[at + 1..]));
            let last = before.last().map(|job| &job.rig).or(day.before.as_ref());
            for reason in &here.reasons {
                let is_true = match reason {
                    Reason::Pinned => job.pinned.is_some(),
                    Reason::Light(span) => {
                        job.light.as_ref().is_some_and(|light| light.contains(span))
                            && holds(span, here.starts_min, here.ends_min)
                    }
                    Reason::OneSun(span) => {
                        job.one_sun == Some(*span) && holds(span, here.starts_min, here.ends_min)
                    }
                    Reason::Leaves(who, at_min) => {
                        here.ends_min <= at_min + CLOSE_MIN
                            && *at_min < order.ends_min
                            && job.hours.iter().any(|(person, span)| person == who && same_time(span.to_min, *at_min))
                    }
                    Reason::Comes(who, at_min) => {
                        here.starts_min >= at_min - CLOSE_MIN
                            && *at_min > day.call_min
                            && job.hours.iter().any(|(person, span)| person == who && same_time(span.from_min, *at_min))
                    }
                    Reason::MessyLast => {
                        job.last && after.iter().all(|other| other.last || other.rig.scene != job.rig.scene)
                    }
                    Reason::BeforeTurning => {
                        last.is_some_and(|rig| rig.looks_as(&job.rig))
                            && after.iter().any(|other| {
                                other.rig.scene == job.rig.scene && !other.rig.looks_as(&job.rig)
                            })
                    }
                    Reason::BeforeLeaving => {
                        last.is_some_and(|rig| rig.place == job.rig.place)
                            && after.iter().any(|other| other.rig.place != job.rig.place)
                    }
                    Reason::WideFirst => after.iter().any(|other| {
                        other.wideness_m < job.wideness_m && other.rig.looks_as(&job.rig)
                    }),
                    Reason::MustHaveFirst => job.must_have && after.iter().any(|other| !other.must_have),
                    Reason::LeastChange { minutes } => after
                        .iter()
                        .all(|other| day.changes.between(last, &other.rig).minutes() >= minutes - CLOSE_MIN),
                    Reason::StoryOrder => after.iter().all(|other| other.story > job.story),
                    Reason::NextWouldMiss { setups } => *setups > 0 && !after.is_empty(),
                    Reason::NextWouldCost { minutes } => {
                        let mut swapped = placed(&order);
                        swapped.swap(at, at + 1);
                        let more = day.evaluate(&swapped).costs.minutes() - order.costs.minutes();
                        // Where the next one is pinned, it does not move.
                        (more - minutes).abs() < CLOSE_MIN
                    }
                };
                prop_assert!(is_true, "{reason:?} is not true of {at} in {order:#?}");
            }
        }
    }

    #[test]
    fn times_of_an_order_follow_each_other(day in day(1..=10)) {
        let order = day.order();
        let mut free_min = day.call_min;
        for (at, here) in order.placed.iter().enumerate() {
            let job = &day.jobs[here.job];
            prop_assert!(here.ready_min >= free_min + here.change.minutes() - CLOSE_MIN);
            prop_assert!(here.starts_min >= here.ready_min - CLOSE_MIN && here.waits_min >= 0.0);
            prop_assert!((here.ends_min - here.starts_min - job.takes_min).abs() < CLOSE_MIN);
            prop_assert_eq!(here.late.is_none(), may_start(&day, job, here.starts_min));
            prop_assert!(here.late.is_none() || job.pinned.is_some());
            let sets_up = here.change.parts.contains(&(ChangePart::SettingUp, 10.0));
            prop_assert_eq!(sets_up, at == 0 && day.before.is_none());
            free_min = here.ends_min;
        }
        prop_assert_eq!(order.placed.len() + order.missed.len(), day.jobs.len());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn no_order_of_six_or_seven_costs_less(day in day(6..=7)) {
        agrees_with_brute_force(&day)?;
    }

    #[test]
    fn the_search_is_never_better_than_the_best(day in prop_oneof![day(8..=10), long_day(8..=10)]) {
        let order = day.order_by_search();
        prop_assert_eq!(&order, &day.order_by_search());
        let (searched, best) = (order.costs, day.order().costs);
        prop_assert!(!searched.is_less_than(&best), "{:?}", (searched, best));
    }
}

/// How near the search for long days comes to the best is no promise for any one day, so it is asked of the same days each
/// time: of four hundred, all in which nothing is pinned are the best there is, and of the others all but a few. What the
/// search never tries is to leave out what fits so that something pinned is in time.
#[test]
fn the_search_comes_close_to_the_best() {
    let mut runner = TestRunner::deterministic();
    let days = prop_oneof![day(8..=10), long_day(8..=10)];
    let mut with_pins_missed = 0;
    for _ in 0..400 {
        let day = days.new_tree(&mut runner).expect("a day").current();
        let (searched, best) = (day.order_by_search().costs, day.order().costs);
        if best.is_less_than(&searched) {
            assert!(day.jobs.iter().any(|job| job.pinned.is_some()), "{searched:?} for {best:?}: {day:?}");
            with_pins_missed += 1;
        }
    }
    assert!(with_pins_missed <= 6, "{with_pins_missed} of 400 are not the best");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10))]

    #[test]
    fn the_search_is_never_worse_than_the_story(day in prop_oneof![day(8..=40), long_day(11..=40)]) {
        let (searched, story) = (day.order_by_search(), day.in_story_order());
        prop_assert!(!story.costs.is_less_than(&searched.costs), "{:?}", (story.costs, searched.costs));
    }
}
