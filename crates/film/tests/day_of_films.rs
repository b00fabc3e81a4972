//! Days of films: the demo's Saturday in the sun, under cloud, late, and with somebody's hands in its order.
#![cfg(feature = "sun")]
#![expect(clippy::expect_used, reason = "a test that cannot build its film must fail")]

use std::sync::Arc;

use film::{
    DayPlan, Daylight, Daylights, Film, Pinned, PlaceId, Rehearsals, Scene, SceneFacts, ShootingDay, Shot,
    ShotId, SunWish, TimeOfDay, light_of_hour,
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
fn what_is_wanted_in_golden_hour_waits_for_it() {
    let (film, day) = saturday();
    let film = with_scene(&film, 2, |facts| SceneFacts { time: TimeOfDay::GoldenHour, ..facts });
    let day = ShootingDay { hours: film::Hours::new(540, 1200).expect("hours"), ..day };
    let plan = plan(&film, &day);
    let evening = daylights(&film)[&PlaceId::new(2).expect("an id")].times().evening.expect("an evening");
    for placed in &plan.order.placed {
        let setup = plan.setup(placed.job).expect("a setup");
        if setup.scene.id == film.scenes[2].id && setup.shot.sun == SunWish::Anywhere {
            assert!(evening.from_min <= placed.starts_min && placed.ends_min <= evening.to_min, "{placed:?}");
        }
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
    let light = &daylights(&film)[&PlaceId::new(2).expect("an id")];
    let spans = |time| {
        let facts = SceneFacts { time, ..SceneFacts::default() };
        light_of_hour(&facts, Some(light)).expect("outside")
    };
    for time in TimeOfDay::ALL {
        assert!(!spans(time).is_empty(), "{time:?}");
        assert!(spans(time).iter().all(|span| span.from_min < span.to_min), "{time:?}");
    }
    let (morning, afternoon) = (spans(TimeOfDay::Morning)[0], spans(TimeOfDay::Afternoon)[0]);
    assert!((morning.to_min - afternoon.from_min).abs() < 1e-9, "{morning:?} {afternoon:?}");
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
