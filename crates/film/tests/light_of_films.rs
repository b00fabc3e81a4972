//! The light of the demo film's setups: by hand, with every camera app, with filters that fit and that do not, in any light.
#![expect(clippy::expect_used, reason = "a test that cannot build its film must fail")]

use std::sync::Arc;

use film::{
    CameraApp, Film, Kit, KitFilter, LightFinding, LightOnScene, LockList, LockWhat, Rehearsal, Scene,
    SceneFacts, SceneLight, Severity, Shot, ShotLight, StillGoes, WeatherNote, demo_film, usual_light,
    weather_change,
};
use optics::{ExposureTime, ExposureValue, FNumber, Iso, Stacking, Weather};
use proptest::prelude::*;
use units::{FrameRate, Stops};

/// The demo film's second scene is outside by day: Tom walks across the grass.
const GARDEN: usize = 1;
/// Its first shot is wide, its second goes along with him, its third is of a thing, its last from the chest up.
const WIDE: usize = 0;
const FOLLOW: usize = 1;
const INSERT: usize = 2;

fn nd(name: &str, stops: f64) -> KitFilter {
    KitFilter {
        name: name.to_owned(),
        least: Stops::new(stops),
        most: Stops::new(stops),
        fits: None,
        stacking: Stacking::Any,
    }
}

/// The demo film with a kit of bare lenses at a typical ISO, any shutter and no filters.
fn film(change: impl FnOnce(&mut Kit)) -> Film {
    let mut film = demo_film();
    let mut kit = Kit { filters: Vec::new(), exposure_times: Vec::new(), ..Kit::clone(&film.kit) };
    for lens in &mut kit.lenses {
        (lens.iso_floor, lens.closes_to) = (None, None);
    }
    for mode in &mut kit.recordings {
        mode.iso_floor = None;
    }
    change(&mut kit);
    film.kit = Arc::new(kit);
    film
}

fn change_shot(film: &mut Film, at: usize, change: impl FnOnce(&mut Shot)) {
    change(Arc::make_mut(&mut Arc::make_mut(&mut film.scenes[GARDEN]).shots[at]));
}

fn change_facts(film: &mut Film, change: impl FnOnce(&mut SceneFacts)) {
    change(Arc::make_mut(&mut Arc::make_mut(&mut film.scenes[GARDEN]).facts));
}

fn garden(film: &Film) -> &Scene {
    &film.scenes[GARDEN]
}

fn rehearsed(film: &Film, at: usize) -> Rehearsal {
    Rehearsal::of(film, garden(film), &garden(film).shots[at]).expect("the demo film has all that it needs")
}

fn lit(film: &Film, at: usize, light: LightOnScene) -> ShotLight {
    let scene = garden(film);
    ShotLight::of(film, scene, &scene.shots[at], &rehearsed(film, at), light).expect("its lens is in the kit")
}

fn in_weather(film: &Film, at: usize, weather: Weather) -> ShotLight {
    lit(film, at, usual_light(&garden(film).facts, weather))
}

fn in_ev(film: &Film, at: usize, ev: f64) -> ShotLight {
    lit(film, at, LightOnScene::read(ExposureValue::of_scene(ev).expect("in range")))
}

fn all_in(film: &Film, weather: Weather) -> Vec<ShotLight> {
    (0..garden(film).shots.len()).map(|at| in_weather(film, at, weather)).collect()
}

fn assert_near(value: f64, expected: f64, within: f64) {
    assert!((value - expected).abs() <= within, "{value} is not {expected}");
}

fn rules(light: &ShotLight) -> Vec<&'static str> {
    light.findings.iter().map(LightFinding::rule).collect()
}

#[test]
fn bright_sun_needs_seven_stops_by_the_f_16_rule() {
    let light =
        in_weather(&film(|kit| kit.filters = vec![nd("ND8", 3.0), nd("ND16", 4.0)]), WIDE, Weather::Clear);
    // f/16 at 1/50 s is right at ISO 50 and EV 14.64. From f/16 to f/1.8 are 6.304 stops, from 1/50 s to 1/48 s 0.059, to the
    // table's EV 15 0.356, and the bias asks for 0.667 less.
    assert_near(light.over.to_f64(), 6.304 + 0.059 + 0.356 + 0.667, 0.002);
    assert_eq!((light.lens.as_str(), light.filters.words().as_str()), ("main", "ND8 and ND16"));
    assert_near(light.residual.to_f64(), 0.386, 0.001);
    assert_eq!(rules(&light), ["too_bright"], "0.4 stops are told");
}

#[test]
fn without_filters_highlights_are_lost_and_what_would_do_is_said() {
    let light = in_weather(&film(|_| {}), WIDE, Weather::Clear);
    let finding = light.findings[0].to_finding();
    assert_eq!((finding.rule, finding.severity), ("too_bright", Severity::Fails));
    assert!(finding.hint.starts_with("use an ND of 7.4 stops in all"), "{finding:?}");
    assert!(finding.hint.contains("shade") && finding.hint.contains("choppy"), "{finding:?}");
}

#[test]
fn a_stronger_filter_of_the_kit_with_more_iso_is_offered_first() {
    let kit = |filters: Vec<KitFilter>| film(|kit| kit.filters = filters);
    let hint = |film: &Film| {
        let light = in_weather(film, WIDE, Weather::Clear);
        let found = light.findings[0].to_finding();
        assert_eq!(found.rule, "too_bright");
        (found.message, found.hint)
    };
    // 7.386 stops too much: six leave 1.386, and 0.719 of them are above the meter; ten lack 2.614, ISO 50 · 2^2.614 = 306.
    let (message, hint_of_both) = hint(&kit(vec![nd("ND64", 6.0), nd("ND1000", 10.0)]));
    assert_eq!(
        message,
        "1.4 stops brighter than wanted with the filters that come nearest; highlights still hold"
    );
    assert!(hint_of_both.starts_with("use ND1000 at ISO 306; or use an ND of 7.4 stops"), "{hint_of_both}");
    // 11.4 stops would take ISO 808, and from 800 on noise is seen.
    let (_, noisy) = hint(&kit(vec![nd("ND64", 6.0), nd("ND2700", 11.4)]));
    assert!(noisy.starts_with("use an ND of 7.4 stops"), "{noisy}");
    // Beside one that goes alone: 6.9 leave 0.486, and 8.9 lack 1.514.
    let turning = KitFilter { most: Stops::new(5.0), stacking: Stacking::One, ..nd("turning", 1.0) };
    let (_, beside) = hint(&kit(vec![turning, nd("ND4", 2.0), nd("ND16", 4.0), nd("ND120", 6.9)]));
    assert!(beside.starts_with("use ND4 and ND120 at ISO 143; or "), "{beside}");
}

#[test]
fn filters_go_one_at_a_time_only_where_that_is_so() {
    let message = |stacking| {
        let filters = vec![
            KitFilter { most: Stops::new(5.0), stacking: Stacking::One, ..nd("turning", 1.0) },
            KitFilter { stacking, ..nd("ND4", 2.0) },
            KitFilter { stacking, ..nd("ND8", 3.0) },
        ];
        in_weather(&film(|kit| kit.filters = filters), WIDE, Weather::Clear).findings[0].to_finding().message
    };
    assert!(
        message(Stacking::Any).contains("with the filters that come nearest"),
        "{}",
        message(Stacking::Any)
    );
    assert!(message(Stacking::One).contains("one at a time"), "{}", message(Stacking::One));
}

#[test]
fn filters_come_first_and_only_what_they_leave_closes_a_lens() {
    let closing = film(|kit| {
        kit.filters = vec![nd("ND32", 5.0)];
        for lens in &mut kit.lenses {
            lens.closes_to = FNumber::new(4.0).ok();
        }
    });
    let light = in_weather(&closing, WIDE, Weather::Clear);
    // 7.386 − 5 leave 2.386: seven thirds, f/1.8 · 2^(7/6) = f/4.04, and the lens closes to f/4.
    assert_eq!(light.filters.words(), "ND32");
    assert_near(light.aperture.set.to_f64(), 4.0, 1e-9);
    assert_near(light.residual.to_f64(), 7.386 - 5.0 - 2.304, 0.002);
    assert_eq!(rules(&light), [""; 0]);
    assert!(light.how_to_set.steps.contains(&"close the lens to f/4.0".to_owned()), "{:?}", light.how_to_set);
}

#[test]
fn what_does_not_fit_the_lens_is_said() {
    let other = film(|kit| {
        kit.filters = vec![KitFilter { fits: Some(vec!["long".to_owned()]), ..nd("ND128", 7.0) }];
    });
    let light = in_weather(&other, WIDE, Weather::Clear);
    assert_eq!(rules(&light), ["too_bright", "filters_do_not_fit"]);
    assert_eq!(light.findings[1].to_finding().message, "ND128 cannot go before the main");
}

#[test]
fn an_adapter_takes_its_loss_and_decides_which_filters_fit() {
    let with_adapter = |loss: f64| {
        let mut film = film(|kit| {
            let mut adapter = film::adapters()[0].to_kit_adapter("clip-on".to_owned()).expect("a preset");
            adapter.adapter.light_loss = Stops::new(loss);
            kit.adapters = vec![adapter];
            kit.filters = vec![KitFilter { fits: Some(vec!["clip-on".to_owned()]), ..nd("ND64", 6.0) }];
        });
        change_shot(&mut film, WIDE, |shot| shot.adapter = Some("clip-on".to_owned()));
        in_weather(&film, WIDE, Weather::Clear)
    };
    let (clear, dim) = (with_adapter(0.0), with_adapter(0.5));
    assert_near(clear.over.to_f64() - dim.over.to_f64(), 0.5, 1e-9);
    assert_eq!(dim.filters.words(), "ND64");
}

#[test]
fn slow_motion_costs_stops() {
    let mut slow = film(|_| {});
    let rate = FrameRate::checked_from_fps(96.0).expect("in range");
    change_shot(&mut slow, WIDE, |shot| shot.capture_rate = Some(rate));
    let (usual, slow) =
        (in_weather(&film(|_| {}), WIDE, Weather::Clear), in_weather(&slow, WIDE, Weather::Clear));
    assert_near(slow.slow_motion.to_f64(), 2.0, 1e-9);
    assert_near(usual.over.to_f64() - slow.over.to_f64(), 2.0, 1e-9);
    assert_eq!(slow.shutter.time.to_string(), "1/192 s");
}

#[test]
fn only_times_that_the_app_offers_are_set() {
    let offered: Vec<_> = [30.0, 50.0, 100.0]
        .into_iter()
        .filter_map(|per_s: f64| ExposureTime::from_s(1.0 / per_s).ok())
        .collect();
    let light = in_weather(&film(|kit| kit.exposure_times = offered), WIDE, Weather::Overcast);
    assert_eq!(
        (light.shutter.asked.to_string().as_str(), light.shutter.time.to_string().as_str()),
        ("1/48 s", "1/50 s")
    );
    assert!(
        light.how_to_set.steps.contains(&"set the shutter to 1/50 s".to_owned()),
        "{:?}",
        light.how_to_set
    );
    let coarse = ExposureTime::from_s(1.0 / 120.0).into_iter().collect();
    let light = in_weather(&film(|kit| kit.exposure_times = coarse), WIDE, Weather::Overcast);
    assert!(rules(&light).contains(&"shutter_not_offered"), "{:?}", light.findings);
}

#[test]
fn a_night_is_too_dark_for_any_iso_and_says_what_else_there_is() {
    let light = in_ev(&film(|_| {}), WIDE, -2.0);
    let finding = light.findings[0].to_finding();
    assert_eq!((finding.rule, finding.severity), ("too_dark", Severity::Fails));
    // −2 − 8.281 + 0.667 are −9.614; ISO 3200 gives six of them.
    assert_eq!(
        finding.message,
        "9.6 stops too dark at the least ISO: it takes ISO 3200, and 3.6 stops still lack"
    );
    assert_eq!(
        finding.hint,
        "bring light, or go nearer to it; or expose 1/24 s (360°), which gives 1.0 stops, which smears over 51 px whoever moves most; ISO 39200 would be needed"
    );
    assert_near(light.residual.to_f64(), -3.614, 0.001);
    let kitchen = in_ev(&film(|_| {}), WIDE, 6.0);
    assert_eq!(kitchen.findings[0].severity(), Severity::Notes, "ISO 151 is a picture");
}

#[test]
fn a_variable_filter_crosses_before_an_ultra_wide_and_not_before_a_long_lens() {
    let on = |lens: &str| {
        let variable = KitFilter { most: Stops::new(9.0), stacking: Stacking::One, ..nd("variable", 1.0) };
        let mut film = film(|kit| kit.filters = vec![variable]);
        let fixed = film::LensChoice::Fixed { name: lens.to_owned(), in_sensor_zoom: 1.0 };
        change_shot(&mut film, WIDE, |shot| shot.lens = fixed);
        rules(&in_weather(&film, WIDE, Weather::Clear))
    };
    assert_eq!(on("ultra-wide"), ["filter_cross"]);
    assert_eq!(on("main"), ["filter_cross"], "7.5 stops on 69°");
    assert_eq!(on("long"), [""; 0]);
}

#[test]
fn lamps_flicker_only_where_there_are_some() {
    let mut lamps = film(|_| {});
    change_facts(&mut lamps, |facts| facts.lamps = film::Lamps::On);
    let light = in_ev(&lamps, WIDE, 8.0);
    let flicker = light.findings.iter().find(|finding| finding.rule() == "flicker").expect("24 fps at 50 Hz");
    assert!(flicker.to_finding().hint.contains("shoot 25 fps at 1/50 s"), "{:?}", flicker.to_finding());
    let safe: Vec<_> = light.safe_shutters.iter().map(film::SafeShutter::words).collect();
    assert!(safe.contains(&"1/50 s (172.8°) at 50 Hz".to_owned()) && safe.len() == 4, "{safe:?}");
    let dark = in_ev(&film(|_| {}), WIDE, 8.0);
    assert!(dark.safe_shutters.is_empty() && !rules(&dark).contains(&"flicker"));
}

/// In bright sun lamps that give EV 5 are a thousandth of the light.
#[test]
fn lamps_that_are_on_in_the_sun_neither_flicker_nor_change_the_white_balance() {
    let mut lamps = film(|_| {});
    change_facts(&mut lamps, |facts| facts.lamps = film::Lamps::On);
    let light = in_weather(&lamps, WIDE, Weather::Clear);
    assert!(!rules(&light).contains(&"flicker") && light.safe_shutters.is_empty(), "{:?}", light.findings);
    assert_near(light.white_balance.kelvin, 5600.0, 1e-9);
    change_facts(&mut lamps, |facts| facts.time = film::TimeOfDay::Night);
    let light = in_weather(&lamps, WIDE, Weather::Clear);
    assert!(rules(&light).contains(&"flicker"), "{:?}", light.findings);
    assert_near(light.white_balance.kelvin, 3200.0, 1e-9);
}

#[test]
fn mains_are_those_of_the_place_and_what_is_assumed_is_said() {
    let flicker = |zone: Option<&str>, fps: f64| {
        let mut film = film(|_| {});
        let placed = |place: &film::Place| {
            let spot = place.spot.clone().zip(zone);
            let spot = spot.map(|(spot, zone)| film::Spot { time_zone: zone.to_owned(), ..spot });
            film::Place { spot, ..place.clone() }
        };
        film.places = film.places.iter().map(placed).collect();
        change_facts(&mut film, |facts| facts.time = film::TimeOfDay::Night);
        change_shot(&mut film, WIDE, |shot| {
            shot.capture_rate = FrameRate::checked_from_fps(fps).ok();
        });
        let light = in_weather(&film, WIDE, Weather::Clear);
        let found = light.findings.iter().find(|finding| finding.rule() == "flicker").cloned();
        found.map(|found| found.to_finding())
    };
    // 30 fps and 180° are 1/60 s: one and two thirds half periods of 50 Hz, two of 60 Hz.
    assert_eq!(flicker(Some("America/New_York"), 30.0), None);
    let oslo = flicker(Some("Europe/Oslo"), 30.0).expect("50 Hz");
    assert!(oslo.message.starts_with("1/60 s is 1.67 half periods of 50 Hz mains"), "{oslo:?}");
    assert!(!oslo.hint.contains("assumed"), "{oslo:?}");
    let nowhere = flicker(None, 30.0).expect("50 Hz is assumed");
    assert!(
        nowhere.hint.ends_with("; 50 Hz is assumed here: in the Americas and parts of Asia it is 60 Hz"),
        "{nowhere:?}"
    );
}

#[test]
fn the_phone_is_focused_on_what_the_shot_is_of() {
    let steps = |at: usize| in_weather(&film(|_| {}), at, Weather::Clear).how_to_set.steps.join("; ");
    assert!(steps(WIDE).contains("focus by hand on the eyes"), "{}", steps(WIDE));
    assert!(steps(INSERT).contains("focus by hand on it"), "{}", steps(INSERT));
    assert!(!steps(INSERT).contains("eyes"), "{}", steps(INSERT));
}

#[test]
fn every_app_is_asked_for_no_more_than_it_allows() {
    let with = |app| {
        in_weather(
            &film(|kit| {
                kit.camera_app = app;
                kit.filters = vec![nd("ND64", 6.0)];
            }),
            WIDE,
            Weather::Clear,
        )
    };
    let steps = |app| with(app).how_to_set.steps.join("\n");
    let manual = steps(CameraApp::FullManual);
    assert!(
        manual.contains("set the shutter to 1/48 s\nset ISO 50\nset the white balance to 5600 K"),
        "{manual}"
    );
    let locked = steps(CameraApp::LockOnly);
    assert!(locked.contains("put on ND64 before anything is locked"), "{locked}");
    assert!(locked.contains("slide the brightness down by 0.7 stops"), "{locked}");
    // 1.386 stops are left for the shutter: 48 · 2^1.386 is 125.
    assert!(
        locked.contains(
            "the shutter cannot be chosen: expect about 1/125 s at ISO 50, which smears movement 0.38 times"
        ),
        "{locked}"
    );
    let nothing = steps(CameraApp::Nothing);
    assert!(nothing.contains("tap the face just before each take"), "{nothing}");
    for told in [&locked, &nothing] {
        assert!(!told.contains("set the shutter") && !told.contains("white balance"), "{told}");
    }
    assert_eq!(rules(&with(CameraApp::LockOnly)), ["shutter_by_app"]);
}

#[test]
fn a_walker_smears_as_optics_has_it_and_a_phone_that_goes_along_keeps_him_sharp() {
    let mut film = film(|_| {});
    // In the middle of the frame, where all that is as far away is as large.
    change_shot(&mut film, WIDE, |shot| shot.across = 0.5);
    let (wide, rehearsal) = (in_weather(&film, WIDE, Weather::Clear), rehearsed(&film, WIDE));
    let setup = rehearsal.result().outcome.expect("a setup");
    let moving = wide.moving.expect("a setup");
    let smear = moving.smear.expect("Tom walks");
    // He walks east at 1.1 m/s, and this phone looks at him from the side: all of it goes across.
    let way_m = 1.1 / 48.0;
    let by_hand = setup.frame.delivered_px.0 / setup.view.width() * way_m / setup.subject_depth.to_m();
    // His chest is a little nearer along the axis than the eyes that the depth is of.
    assert_near(smear.px, by_hand, by_hand * 0.005);
    assert_near(smear.frame_share * setup.frame.delivered_px.0, smear.px, 1e-9);
    let follow = in_weather(&film, FOLLOW, Weather::Clear).moving.expect("a setup");
    let planned_s = garden(&film).shots[FOLLOW].planned_s;
    assert_near(follow.follow.expect("it goes along").length.to_m(), 1.1 * planned_s, 1e-9);
    assert_eq!(follow.smear, None, "the phone goes as he does");
}

#[test]
fn a_scene_locks_what_its_shots_share_and_says_where_they_differ() {
    let mut film = film(|kit| kit.filters = vec![nd("ND64", 6.0), nd("ND2", 1.0)]);
    let rate = FrameRate::checked_from_fps(240.0).expect("in range");
    let lights = all_in(&film, Weather::Clear);
    let list = LockList::of(&film, garden(&film), &lights);
    let set_to = |list: &LockList, what| {
        list.items.iter().find(|item| item.what == what).expect("listed").set_to.clone()
    };
    assert_eq!(set_to(&list, LockWhat::WhiteBalance), "5600 K");
    assert_eq!(set_to(&list, LockWhat::Shutter), "1/48 s");
    assert!(list.items.iter().all(|item| item.can_be_set && !item.why.is_empty()), "{list:?}");
    // In slow motion without much light one shot is four stops darker than the rest.
    change_shot(&mut film, WIDE, |shot| shot.capture_rate = Some(rate));
    change_facts(&mut film, |facts| {
        facts.light = SceneLight::Read(ExposureValue::of_scene(4.0).expect("in range"));
    });
    let list = LockList::of(&film, garden(&film), &all_in(&film, Weather::Clear));
    let rules: Vec<_> = list.findings.iter().map(film::Disagreement::rule).collect();
    assert!(rules.contains(&"noise_differs"), "{:?}", list.findings);
    assert!(set_to(&list, LockWhat::FrameRate).contains("240 fps (2.1)"), "{:?}", list.items);
}

#[test]
fn brightness_that_jumps_is_found_between_lenses() {
    // Only the main lens has a filter that does; the long one is left with too much.
    let film =
        film(|kit| kit.filters = vec![KitFilter { fits: Some(vec!["main".to_owned()]), ..nd("ND128", 7.0) }]);
    let list = LockList::of(&film, garden(&film), &all_in(&film, Weather::Clear));
    let jumps = list.findings.iter().find(|found| found.rule() == "brightness_jumps").expect("a jump");
    assert!(jumps.to_finding(&film).message.contains("brighter than"), "{jumps:?}");
}

#[test]
fn when_the_sun_goes_setups_are_set_anew_and_what_is_in_the_can_does_not_match() {
    let film = film(|kit| kit.filters = vec![nd("ND8", 3.0), nd("ND16", 4.0)]);
    let (planned, now) = (all_in(&film, Weather::Clear), all_in(&film, Weather::Overcast));
    let done = garden(&film).shots[WIDE].id;
    let notes = weather_change(garden(&film), &planned, &now, &[done]);
    assert!(notes.iter().all(|note| note.shot() != done), "what is in the can is done");
    let of = |at: usize| {
        let shot = garden(&film).shots[at].id;
        notes.iter().filter(|note| note.shot() == shot).cloned().collect::<Vec<_>>()
    };
    let follow: Vec<_> = of(FOLLOW).iter().map(|note| note.words(&film)).collect();
    assert_eq!(
        follow[0],
        "2.2: 3.0 stops less light; ND: ND16, in place of ND8 and ND16; ISO 50, and 0.4 stops too bright"
    );
    assert_eq!(
        follow[1],
        "2.2 does not match 2.1, which is in the can with the sun and hard shadows: wait for the sun, or make that one again"
    );
    assert!(
        of(INSERT).iter().any(|note| matches!(note, WeatherNote::StillGoes { why: StillGoes::Insert, .. }))
    );
    assert_eq!(weather_change(garden(&film), &planned, &planned, &[done]), [], "nothing has turned");
}

#[test]
fn figures_come_in_order_and_say_their_unit() {
    let figures =
        in_weather(&film(|kit| kit.filters = vec![nd("ND64", 6.0)]), WIDE, Weather::Clear).figures();
    let words: Vec<_> = figures.iter().map(film::LightFigure::words).collect();
    assert_eq!(words[0], "light: EV 15.0, as usual for bright sun, hard shadows");
    assert!(words.contains(&"too much light without filters: 7.4 stops".to_owned()), "{words:?}");
    assert!(words.contains(&"too much in the end: 1.4 stops".to_owned()), "{words:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn more_light_never_needs_less_nd_and_nothing_is_no_number(
        ev in -10.0_f64..=20.0, more in 0.0_f64..=5.0, app in 0_usize..3, at in 0_usize..5,
        stops in proptest::collection::vec((0.0_f64..=6.0, 0.0_f64..=4.0, any::<bool>()), 0..5),
        floor in proptest::option::of(10.0_f64..=800.0), closes in proptest::option::of(1.0_f64..=16.0),
    ) {
        let film = film(|kit| {
            kit.camera_app = [CameraApp::Nothing, CameraApp::LockOnly, CameraApp::FullManual][app];
            kit.filters = stops.iter().map(|(least, more, stacks)| KitFilter {
                most: Stops::new(least + more),
                stacking: if *stacks { Stacking::Any } else { Stacking::One },
                ..nd("it", *least)
            }).collect();
            for lens in &mut kit.lenses {
                lens.iso_floor = floor.and_then(|floor| Iso::new(floor).ok());
                lens.closes_to = closes.and_then(|closes| FNumber::new(closes).ok());
            }
        });
        let (less, more) = (in_ev(&film, at, ev), in_ev(&film, at, ev + more));
        prop_assert!(more.filters.takes.to_f64() >= less.filters.takes.to_f64() - 1e-8, "{:?} {:?}", less, more);
        for light in [less, more] {
            prop_assert!(light.residual.to_f64().is_finite() && light.over.to_f64().is_finite());
            prop_assert!(light.iso.set >= light.iso.floor);
            let words: Vec<_> = light.figures().iter().map(film::LightFigure::words)
                .chain(light.how_to_set.steps.iter().cloned())
                .chain(light.findings.iter().map(|finding| format!("{:?}", finding.to_finding())))
                .collect();
            prop_assert!(words.iter().all(|word| !word.contains("NaN") && !word.contains("inf ")), "{:?}", words);
        }
    }
}
