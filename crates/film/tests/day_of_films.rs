//! Days of films: the demo's Saturday in the sun, under cloud, late, and with somebody's hands in its order.
#![cfg(feature = "sun")]
#![expect(clippy::expect_used, reason = "a test that cannot build its film must fail")]

use std::sync::Arc;

use film::{
    DayPlan, DaySetup, Daylight, Daylights, Film, Job, Order, OrderProblem, Pinned, PlaceId, Reason,
    Rehearsals, Scene, SceneFacts, ShootingDay, Shot, ShotId, SunChange, SunJump, SunWish, TimeOfDay,
    light_of_hour,
};
use jiff::tz::{Offset, TimeZone};
use optics::Weather;

fn daylights(film: &Film) -> Daylights {
    let date = film.days[0].date.expect("a date");
    let zone = TimeZone::fixed(Offset::constant(2));
    let of_place = |place: &film::Place| {
        let spot = place.spot.as_ref()?;
        let daylight = Daylight::of(&spot.coordinates, &spot.horizon, date, &zone).expect("a day");
        Some((place.id, daylight))
    };
    film.places.iter().filter_map(of_place).collect()
}

fn plan(film: &Film, day: &ShootingDay) -> DayPlan {
    DayPlan::of(film, day, &daylights(film), &mut Rehearsals::default())
}

fn saturday() -> (Film, ShootingDay) {
    let film = film::demo_film();
    let day = film.days[0].clone();
    (film, day)
}

fn order(plan: &DayPlan) -> Vec<u64> {
    let shots = plan.order.placed.iter().filter_map(|placed| plan.setup(placed.job));
    shots.map(|setup| setup.shot.id.number()).collect()
}

fn shot(number: u64) -> ShotId {
    ShotId::new(number).expect("an id")
}

fn with_scene(film: &Film, at: usize, facts: impl Fn(SceneFacts) -> SceneFacts) -> Film {
    let mut film = film.clone();
    let scene = Arc::make_mut(&mut film.scenes[at]);
    scene.facts = Arc::new(facts(SceneFacts::clone(&scene.facts)));
    film
}

fn without_hills(film: &Film) -> Film {
    let mut film = film.clone();
    let level = |place: &film::Place| {
        let spot = place.spot.clone().map(|spot| film::Spot { horizon: film::HorizonProfile::LEVEL, ..spot });
        film::Place { spot, ..place.clone() }
    };
    film.places = film.places.iter().map(level).collect();
    film
}

fn with_shot(film: &Film, number: u64, change: impl Fn(Shot) -> Shot) -> Film {
    let mut film = film.clone();
    let (_, there) = film.shot(shot(number)).expect("a shot");
    let changed = change(Shot::clone(there));
    film.apply(film::Command::SetShot(Arc::new(changed))).expect("it is there");
    film
}

#[test]
fn the_demo_fits_into_its_day_and_is_no_worse_than_in_story_order() {
    let (film, day) = saturday();
    let plan = plan(&film, &day);
    assert_eq!(plan.unmade, []);
    assert_eq!(plan.order.missed, [], "{:?}", plan.order.missed);
    assert_eq!(plan.order.placed.len(), plan.setups.len());
    assert!(plan.order.costs.minutes() <= plan.story_order.costs.minutes() + 1e-9);
    assert!(plan.order.ends_min <= f64::from(day.hours.to_min()), "{}", plan.order.ends_min);
}

#[test]
fn whoever_leaves_early_is_shot_while_they_are_there() {
    let (film, day) = saturday();
    let plan = plan(&film, &day);
    for placed in &plan.order.placed {
        let setup = plan.setup(placed.job).expect("a setup");
        for who in &setup.people {
            let Some(hours) = film.person(*who).expect("of the cast").hours else { continue };
            assert!(
                f64::from(hours.from_min()) <= placed.starts_min
                    && placed.ends_min <= f64::from(hours.to_min()),
                "{placed:?}"
            );
        }
    }
}

#[test]
fn whoever_lends_their_hands_to_an_insert_is_needed_for_it_in_their_hours() {
    let (film, day) = saturday();
    let ole = film.cast[1].id;
    let lent = with_shot(&film, 4, |mut shot| {
        if let film::ShotOf::Object { hands, .. } = &mut shot.of {
            hands.push(ole);
        }
        shot
    });
    let [without, with] = [&film, &lent].map(|film| plan(film, &day));
    let people = |plan: &DayPlan| plan.setup_of(shot(4)).expect("a setup").people.clone();
    assert!(!people(&without).contains(&ole));
    assert_eq!(people(&with).iter().filter(|who| **who == ole).count(), 1);
    let job = &with.problem.jobs[with.job_of(shot(4)).expect("to be made")];
    assert!(job.hours.iter().any(|(who, _)| *who == ole), "{:?}", job.hours);
}

#[test]
fn what_is_wanted_in_golden_hour_waits_for_it() {
    let (film, day) = saturday();
    let film = with_scene(&film, 2, |facts| SceneFacts { time: TimeOfDay::GoldenHour, ..facts });
    let day = ShootingDay { hours: film::Hours::new(540, 1200).expect("hours"), ..day };
    let golden = |film: &Film| {
        let plan = plan(film, &day);
        let is_golden =
            |setup: &DaySetup| setup.scene.id == film.scenes[2].id && setup.shot.sun == SunWish::Anywhere;
        let placed = plan.order.placed.iter().filter(|placed| plan.setup(placed.job).is_some_and(is_golden));
        placed.map(|placed| (placed.starts_min, placed.ends_min)).collect::<Vec<_>>()
    };
    // Behind the garden's hill in the west the sun is gone before it is low enough.
    assert_eq!(golden(&film), []);
    let open = without_hills(&film);
    let facts = &open.scenes[2].facts;
    let light = &daylights(&open)[&PlaceId::new(2).expect("an id")];
    let evening = *light_of_hour(facts, Some(light)).expect("outside").last().expect("an evening");
    let placed = golden(&open);
    assert!(!placed.is_empty());
    for (starts_min, ends_min) in placed {
        assert!(evening.from_min <= starts_min && ends_min <= evening.to_min, "{starts_min} {ends_min}");
    }
}

#[test]
fn a_wish_for_back_light_narrows_the_hours_and_cloud_takes_them() {
    let (film, day) = saturday();
    let setup = |film: &Film, weather| {
        let day = ShootingDay { weather, ..day.clone() };
        let plan = plan(film, &day);
        plan.setups.iter().find(|setup| setup.shot.id == shot(6)).cloned().expect("a setup")
    };
    let free = setup(&film, Weather::Clear).wanted.expect("by day");
    let film = with_shot(&film, 6, |shot| Shot { sun: SunWish::Front, ..shot });
    let front = setup(&film, Weather::Clear).wanted.expect("by the sun");
    let length = |spans: &[film::DaySpan]| spans.iter().map(film::DaySpan::length_min).sum::<f64>();
    assert!(length(&front) > 0.0 && length(&front) < length(&free), "{front:?} {free:?}");
    assert_eq!(setup(&film, Weather::Overcast).wanted, Some(Vec::new()));
    // At its edges the sun is where front light begins and ends.
    let lights = daylights(&film);
    let made = setup(&film, Weather::Clear);
    for span in &front {
        let side = |minute: f64| made.sun_at(&lights, minute).expect("the sun shines").side;
        assert_eq!(side(f64::midpoint(span.from_min, span.to_min)), film::SunSide::Front, "{span:?}");
    }
}

#[test]
fn a_pinned_shot_is_where_it_was_put_and_the_rest_goes_round_it() {
    let (film, day) = saturday();
    let day = ShootingDay { pinned: vec![Pinned { shot: shot(10), at: 0 }], ..day };
    let plan = plan(&film, &day);
    assert_eq!(order(&plan)[0], 10, "{:?}", plan.order);
    assert_eq!(plan.order.placed.len(), plan.setups.len());
}

#[test]
fn what_is_done_is_left_out_and_the_rest_starts_late() {
    let (film, day) = saturday();
    let first = order(&plan(&film, &day))[..3].to_vec();
    let done: Vec<ShotId> = first.iter().map(|number| shot(*number)).collect();
    let late = ShootingDay { done, resumes_min: Some(700), ..day };
    let plan = plan(&film, &late);
    assert!(order(&plan).iter().all(|number| !first.contains(number)));
    assert!(plan.order.placed.iter().all(|placed| placed.starts_min >= 700.0));
    assert_eq!(plan.setups.iter().filter(|setup| setup.is_done).count(), 3);
}

#[test]
fn what_is_pinned_for_later_does_not_move_where_the_rest_begins() {
    let (film, day) = saturday();
    let first = shot(order(&plan(&film, &day))[0]);
    let done = ShootingDay { done: vec![first], ..day };
    let pinned = ShootingDay { pinned: vec![Pinned { shot: shot(14), at: 13 }], ..done.clone() };
    let begins = |day: &ShootingDay| plan(&film, day).problem.call_min;
    assert!((begins(&done) - begins(&pinned)).abs() < 1e-9, "{} {}", begins(&done), begins(&pinned));
}

#[test]
fn every_hour_of_a_day_has_its_light_in_order() {
    let (film, _) = saturday();
    let light = &daylights(&without_hills(&film))[&PlaceId::new(2).expect("an id")];
    let spans = |time| {
        let facts = SceneFacts { time, ..SceneFacts::default() };
        light_of_hour(&facts, Some(light)).expect("outside")
    };
    for time in TimeOfDay::ALL {
        assert!(!spans(time).is_empty(), "{time:?}");
        assert!(spans(time).iter().all(|span| span.from_min < span.to_min), "{time:?}");
    }
    let (morning, afternoon) = (spans(TimeOfDay::Morning)[0], spans(TimeOfDay::Afternoon)[0]);
    assert!((morning.to_min - afternoon.from_min).abs() < 0.01, "{morning:?} {afternoon:?}");
    assert_eq!(spans(TimeOfDay::GoldenHour).len(), 2, "in the morning and in the evening");
    let inside = SceneFacts { setting: film::Setting::Inside, ..SceneFacts::default() };
    assert_eq!(light_of_hour(&inside, Some(light)), None);
    assert_eq!(light_of_hour(&SceneFacts::default(), None), None);
}

#[test]
fn a_shot_that_cannot_be_made_is_told_and_not_planned() {
    let (film, day) = saturday();
    let gone = film::LensChoice::Fixed { name: "none such".to_owned(), in_sensor_zoom: 1.0 };
    let film = with_shot(&film, 3, |shot| Shot { lens: gone.clone(), ..shot });
    let plan = plan(&film, &day);
    assert_eq!(plan.unmade.len(), 1);
    assert_eq!(plan.unmade[0].shot, shot(3));
    assert!(order(&plan).iter().all(|number| *number != 3));
    let scenes: &[Arc<Scene>] = &film.scenes;
    assert_eq!(plan.setups.len() + 1, scenes.iter().map(|scene| scene.shots.len()).sum::<usize>());
}

/// The demo's Saturday on which the singles of the garden would be made hours before its wide: Ida is there all day, and one of
/// the singles may be made in any light.
fn split_garden() -> (Film, ShootingDay) {
    let (film, day) = saturday();
    let cast = film.cast.iter().cloned().map(|one| film::CastMember { hours: None, ..one }).collect();
    let film = with_shot(&Film { cast, ..film }, 12, |shot| Shot { sun: SunWish::Anywhere, ..shot });
    (film, day)
}

/// The order of a day in which no setup waits for the sun of another.
fn in_any_sun(plan: &DayPlan) -> Order {
    let jobs = plan.problem.jobs.iter().map(|job| Job { one_sun: None, ..job.clone() });
    OrderProblem { jobs: jobs.collect(), ..plan.problem.clone() }.order()
}

#[test]
fn setups_that_are_cut_against_each_other_wait_for_one_sun() {
    let (film, day) = split_garden();
    let (planned, lights) = (plan(&film, &day), daylights(&film));
    let garden = &film.scenes[2];
    assert_eq!(SunJump::of(garden, &day, &lights, &planned), None);
    let apart_min = |order: &Order| {
        let is_of_garden = |placed: &&film::Placed| {
            planned.setup(placed.job).is_some_and(|setup| setup.scene.id == garden.id)
        };
        let starts: Vec<f64> =
            order.placed.iter().filter(is_of_garden).map(|placed| placed.starts_min).collect();
        starts.iter().copied().fold(f64::MIN, f64::max) - starts.iter().copied().fold(f64::MAX, f64::min)
    };
    let any = in_any_sun(&planned);
    assert!(apart_min(&any) > 200.0, "else it has nothing to mend: {any:?}");
    assert!(apart_min(&planned.order) < 55.0, "{:?}", planned.order);
    assert_eq!(planned.order.missed, []);
    assert!(planned.order.costs.minutes() <= any.costs.minutes() + 30.0);
    let of_garden = planned
        .order
        .placed
        .iter()
        .filter(|placed| planned.setup(placed.job).is_some_and(|setup| setup.scene.id == garden.id));
    for placed in of_garden {
        assert!(placed.reasons.iter().any(|reason| matches!(reason, Reason::OneSun(_))), "{placed:?}");
    }
}

#[test]
fn a_scene_cut_from_a_high_sun_to_a_low_one_is_sent_to_where_both_can_be() {
    let (film, day) = split_garden();
    // One of the singles is put where it would be made anyhow, and so the scene is left as it is.
    let free = plan(&film, &day);
    let of_garden = |placed: &film::Placed| {
        let setup = free.setup(placed.job).filter(|setup| setup.scene.id == film.scenes[2].id)?;
        Some(setup.shot.id)
    };
    let (at, single) = in_any_sun(&free)
        .placed
        .iter()
        .enumerate()
        .find_map(|(at, placed)| Some((at, of_garden(placed)?)))
        .expect("the garden is made");
    let day = ShootingDay { pinned: vec![Pinned { shot: single, at }], ..day };
    let (planned, lights) = (plan(&film, &day), daylights(&film));
    let scene = &film.scenes[2];
    let jump =
        SunJump::of(scene, &day, &lights, &planned).expect("the singles are made hours before the wide");
    let SunChange::Moves { before, after } = jump.change else { panic!("the sun shines on all: {jump:?}") };
    // By the equations of NOAA's solar calculator at 55.4° N 11.8° E: at 13:42 190.5° and 38.26° high, so shadows of 1.268; at
    // 16:51 242.6° and 22.25° high, so 2.445.
    for (shadow, at_min, noaa, azimuth, times) in
        [(before, jump.earlier_min, 822.0, 190.5, 1.268), (after, jump.later_min, 1011.0, 242.6, 2.445)]
    {
        assert!((at_min - noaa).abs() < 2.0, "{jump:?}");
        assert!(
            (shadow.sun.to_deg() - azimuth).abs() < 1.0 && (shadow.times - times).abs() < 0.05,
            "{jump:?}"
        );
    }
    // The wide one has its side light from 16:40, with shadows of 2.287; at 17:35 they are 3.384, at 17:40 3.538.
    let window = jump.window.expect("the light of the wide one");
    assert!((window.from_min - 1000.0).abs() < 1.0 && (window.to_min - 1055.0).abs() < 2.0, "{window:?}");
    assert_eq!(jump.shots.len(), 4);
    let cloud = ShootingDay { weather: Weather::Overcast, ..day };
    assert_eq!(SunJump::of(scene, &cloud, &lights, &plan(&film, &cloud)), None);
}

#[test]
fn with_the_sun_behind_a_face_a_shot_is_set_for_the_shade() {
    let (film, day) = saturday();
    let film = with_shot(&film, 11, |shot| Shot {
        side: units::Angle::from_deg(330.0),
        foreground: None,
        sun: SunWish::Back,
        ..shot
    });
    let (planned, lights) = (plan(&film, &day), daylights(&film));
    let at = |number: u64| {
        let setup = planned.setup_of(shot(number)).expect("it can be made");
        setup.light_at(&film, &day, &lights, 807.0).expect("its lens is in the kit")
    };
    let rules = |number: u64| at(number).findings.iter().map(film::LightFinding::rule).collect::<Vec<_>>();
    // The sun is 38.6° high by NOAA's equations: a clear sky gives 13.0 klx (Gillette 1984), EV 12.35, and with the sun 104 klx,
    // EV 15.35.
    let light = at(11).light;
    assert!((light.value.to_f64() - 12.35).abs() < 0.03, "{light:?}");
    assert!((light.sun_behind.expect("it is behind").to_f64() - 15.35).abs() < 0.03, "{light:?}");
    assert!(rules(11).contains(&"back_light"), "{:?}", rules(11));
    // Three stops less than in the sun: one filter of two stops, and not the six of whoever has the sun in front.
    assert!((at(11).over.to_f64() - (at(12).over.to_f64() - 3.0)).abs() < 0.05);
    assert_eq!((at(12).light.sun_behind, rules(12).contains(&"back_light")), (None, false));
    let cloud = ShootingDay { weather: Weather::Overcast, ..day.clone() };
    let setup = planned.setup_of(shot(11)).expect("it can be made");
    let light = setup.light_at(&film, &cloud, &lights, 807.0).expect("its lens is in the kit").light;
    assert_eq!(light.sun_behind, None, "no sun comes through");
}
