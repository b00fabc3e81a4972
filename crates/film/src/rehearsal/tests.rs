//! What a walked-through shot is, on small films of two people.

use super::*;
use crate::id::SceneId;
use crate::preset::kits;
use crate::scene_blocking::{Faces, Mark, Way};
use crate::unknown::Unknown;
use staging::{Age, Colour, Posture, ShotSize};

fn id(number: u64) -> PersonId {
    PersonId::new(number).expect("small")
}

fn shot(of: ShotOf, side_deg: f64) -> Arc<Shot> {
    let number = ShotId::new(7).expect("small");
    Arc::new(Shot::of(number, of, ShotSize::Medium, Angle::from_deg(side_deg)))
}

/// Ada at (3, 5) and Bo two metres east of her, who look at each other; Ada walks north if she is to.
fn two(walks: bool) -> (Film, Scene) {
    let kit = kits().swap_remove(0).to_kit().expect("a kit");
    let mut film = Film::empty(Arc::new(kit), "2.39".parse().expect("a shape"));
    let member = |number, name: &str, metres| CastMember {
        id: id(number),
        name: name.to_owned(),
        stature: Length::from_m(metres),
        age: Age::Adult,
        clothes: Colour([0.5; 3]),
        hours: None,
        consent: false,
        unknown: Unknown::default(),
    };
    film.cast = Arc::from([member(1, "Ada", 1.66), member(2, "Bo", 1.84)]);
    let mark = |number, place, other| Mark {
        who: id(number),
        place,
        faces: Faces::At(id(other)),
        posture: Posture::Standing,
        way: None,
    };
    let (here, there) = (DVec2::new(3.0, 5.0), DVec2::new(5.0, 5.0));
    let mut ada = mark(1, here, 2);
    if walks {
        let corners = vec![here + DVec2::new(0.0, 30.0)];
        ada.way = Some(Way { corners, pace: Length::from_m(2.0), starts_s: 0.0 });
    }
    let blocking = SceneBlocking { marks: vec![ada, mark(2, there, 1)], ..SceneBlocking::default() };
    (film, Scene::empty(SceneId::new(1).expect("small"), blocking))
}

fn rehearsed(film: &Film, scene: &Scene, shot: &Shot) -> Rehearsal {
    Rehearsal::of(film, scene, shot).expect("everything is there")
}

#[test]
fn the_phone_stands_on_its_side_of_whom_it_sees_and_sees_them() {
    let (film, scene) = two(false);
    let shot = shot(ShotOf::One(id(1)), 180.0);
    let rehearsal = rehearsed(&film, &scene, &shot);
    let setup = rehearsal.result().outcome.expect("a setup");
    let phone = rehearsal.phone().expect("a phone");
    let expected = DVec3::new(3.0, 5.0 - setup.distance.to_m(), setup.phone_height.to_m());
    assert!((phone - expected).length() < 1e-9, "{phone} {expected}");
    let stage = rehearsal.stage(&scene, &film.cast, 0.0).expect("a stage");
    assert!((stage.opens.position() + rehearsal.origin.extend(0.0) - phone).length() < 1e-9, "{stage:?}");
    // Bo is where the scene has him, seen from Ada's own floor.
    assert!((stage.people[1].place - DVec2::new(2.0, 0.0)).length() < 1e-9, "{stage:?}");
}

#[test]
fn two_stand_on_their_marks_wherever_the_phone_is() {
    let (film, scene) = two(false);
    for side in [180.0, 200.0, 90.0] {
        let rehearsal = rehearsed(&film, &scene, &shot(ShotOf::Two(id(1), id(2)), side));
        let stage = rehearsal.stage(&scene, &film.cast, 0.0).expect("a stage");
        let places: Vec<DVec2> = stage.people.iter().map(|person| person.place + rehearsal.origin).collect();
        assert!((places[0] - DVec2::new(3.0, 5.0)).length() < 1e-9, "{side}: {places:?}");
        assert!((places[1] - DVec2::new(5.0, 5.0)).length() < 1e-9, "{side}: {places:?}");
    }
}

#[test]
fn a_point_of_view_is_seen_from_where_its_owner_stands() {
    let (film, scene) = two(false);
    let view = ShotOf::PointOfView { of: id(2), seen: id(1) };
    let rehearsal = rehearsed(&film, &scene, &shot(view, 0.0));
    let phone = rehearsal.phone().expect("a phone");
    let bo = film.cast[1].stature.to_m();
    assert!((phone.truncate() - DVec2::new(5.0, 5.0)).length() < 1e-9, "{phone}");
    assert!((0.9 * bo..bo).contains(&phone.z), "{phone}");
    let stage = rehearsal.stage(&scene, &film.cast, 0.0).expect("a stage");
    assert_eq!(stage.people.len(), 1, "nobody stands in the lens");
}

#[test]
fn slow_motion_lets_less_of_the_scene_pass() {
    let (film, scene) = two(true);
    let twice = FrameRate::checked_from_fps(48.0).expect("a rate");
    let slow = Shot { capture_rate: Some(twice), ..Shot::clone(&shot(ShotOf::One(id(2)), 180.0)) };
    let rehearsal = rehearsed(&film, &scene, &slow);
    assert!((rehearsal.scene_s(3.0) - 1.5).abs() < 1e-12, "{}", rehearsal.scene_s(3.0));
    let stage = rehearsal.stage(&scene, &film.cast, 3.0).expect("a stage");
    // Ada, two metres west of Bo, has walked 1.5 s at 2 m/s, and turns each frame of 1/48 s at half its time.
    let ada = stage.people[1].place + rehearsal.origin;
    assert!((ada - DVec2::new(3.0, 8.0)).length() < 1e-9, "{ada}");
    assert!((stage.exposure_s - 1.0 / 96.0).abs() < 1e-12, "{}", stage.exposure_s);
}

#[test]
fn only_what_depends_on_a_change_is_walked_through_again() {
    let (mut film, mut scene) = two(false);
    let (first, second) = (shot(ShotOf::One(id(1)), 180.0), shot(ShotOf::One(id(2)), 180.0));
    let second = Arc::new(second.known_by(ShotId::new(8).expect("small")));
    let mut rehearsals = Rehearsals::default();
    let before = [&first, &second].map(|shot| rehearsals.of(&film, &scene, shot));
    let changed = Arc::new(Shot { size: ShotSize::Tight, ..Shot::clone(&first) });
    assert!(!Arc::ptr_eq(&rehearsals.of(&film, &scene, &changed), &before[0]), "it has changed");
    assert!(Arc::ptr_eq(&rehearsals.of(&film, &scene, &second), &before[1]), "it has not");
    scene.blocking = Arc::new(SceneBlocking::clone(&scene.blocking));
    assert!(!Arc::ptr_eq(&rehearsals.of(&film, &scene, &second), &before[1]), "somebody may have moved");
    let again = rehearsals.of(&film, &scene, &second);
    film.facts = Arc::new(FilmFacts { title: "Another title".to_owned(), ..FilmFacts::clone(&film.facts) });
    assert!(Arc::ptr_eq(&rehearsals.of(&film, &scene, &second), &again), "a title is not seen in a shot");
    film.facts =
        Arc::new(FilmFacts { aspect: "1.85".parse().expect("a shape"), ..FilmFacts::clone(&film.facts) });
    assert!(!Arc::ptr_eq(&rehearsals.of(&film, &scene, &second), &again), "a frame shape is");
    film.scenes.clear();
    rehearsals.keep_only(&film);
    assert!(rehearsals.0.is_empty(), "{rehearsals:?}");
}

#[test]
fn who_is_not_in_the_scene_cannot_be_shot() {
    let (mut film, scene) = two(false);
    film.cast = film.cast.iter().take(1).cloned().collect();
    let outcome = Rehearsal::of(&film, &scene, &shot(ShotOf::One(id(2)), 0.0));
    assert_eq!(outcome, Err(NoRehearsal::NotInScene(id(2))));
}

/// Trying until one will do gives what resolving on every lens and comparing them would.
#[test]
fn the_first_lens_that_will_do_is_the_best_of_all() {
    for record in kits() {
        let kit = record.to_kit().expect("a kit");
        for (size, room_m) in
            ShotSize::ALL.into_iter().flat_map(|size| [0.4, 1.2, 3.0, 50.0].map(|room_m| (size, room_m)))
        {
            let (mut film, mut scene) = two(false);
            film.kit = Arc::new(kit.clone());
            scene.facts =
                Arc::new(SceneFacts { room: Some(Length::from_m(room_m)), ..SceneFacts::default() });
            let ada = ShotOf::One(id(1));
            let shot = Shot::of(ShotId::new(1).expect("small"), ada, size, Angle::ZERO);
            let on = |lens: LensChoice| {
                Rehearsal::of(&film, &scene, &Shot { lens, ..shot.clone() }).expect("it rehearses").on
            };
            let fixed = |name: &str| LensChoice::Fixed { name: name.to_owned(), in_sensor_zoom: 1.0 };
            let mut rows: Vec<Comparison> =
                film.kit.lenses.iter().map(|lens| on(fixed(&lens.name))).collect();
            let area = |row: &Comparison| {
                let size = row.result.shot.lens.sensor.value;
                size.width.to_mm() * size.height.to_mm()
            };
            if size >= ShotSize::ChestUp && size != ShotSize::Insert {
                sort_by_care(&mut rows, Care::NaturalFace);
            } else {
                rows.sort_by(|one, other| {
                    let usable = other.result.will_do().cmp(&one.result.will_do());
                    usable.then_with(|| area(other).total_cmp(&area(one)))
                });
            }
            assert_eq!(on(LensChoice::Auto).lens, rows[0].lens, "{} {size:?} {room_m} m", kit.name);
        }
    }
}
