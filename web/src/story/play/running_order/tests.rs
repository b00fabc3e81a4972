//! Cuts of small films, played in order.

use film::{
    CastMember, EntryId, Faces, Mark, PersonId, Rehearsals, SceneBlocking, ShotId, ShotOf, Stretch, Unknown,
    Way,
};
use glam::DVec2;
use optics::Aspect;
use staging::{Age, Colour, FocusPull, Movement, Posture, ShotSize};
use units::{Angle, Length};

use super::*;

fn person(number: u64) -> PersonId {
    PersonId::new(number).expect("small")
}

/// A film of those scenes with one person in it, on the first kit that comes with the program.
fn film(scenes: Vec<Scene>) -> Film {
    let kit = film::kits().iter().find_map(|kit| kit.to_kit().ok()).expect("a kit");
    let mira = CastMember {
        id: person(1),
        name: "Mira".to_owned(),
        stature: Length::from_m(1.7),
        age: Age::Adult,
        clothes: Colour([0.5; 3]),
        hours: None,
        consent: false,
        unknown: Unknown::default(),
    };
    let empty = Film::empty(Arc::new(kit), "2.39".parse::<Aspect>().expect("a shape"));
    Film { cast: Arc::from([mira]), scenes: scenes.into_iter().map(Arc::new).collect(), ..empty }
}

/// A scene of shots of Mira, each in the cut as a whole; ids begin at `number`.
fn scene(number: u64, seconds: &[f64]) -> Scene {
    let mark = Mark {
        who: person(1),
        place: DVec2::ZERO,
        faces: Faces::Towards(Angle::ZERO),
        posture: Posture::Standing,
        way: None,
    };
    let blocking = SceneBlocking { marks: vec![mark], ..SceneBlocking::default() };
    let mut scene = Scene::empty(SceneId::new(number).expect("small"), blocking);
    for (at, planned_s) in (1..).zip(seconds) {
        let id = ShotId::new(number + at).expect("small");
        let shot = Shot::of(id, ShotOf::One(person(1)), ShotSize::Medium, Angle::from_deg(20.0));
        scene.shots.push(Arc::new(Shot { planned_s: *planned_s, ..shot }));
        scene.cut.push(Entry::whole(EntryId::new(number + at).expect("small"), id));
    }
    scene
}

/// The running order of all scenes of a film.
pub(in crate::story::play) fn order(film: &Film) -> RunningOrder {
    let rehearsals = std::cell::RefCell::new(Rehearsals::default());
    let scenes: Vec<SceneId> = film.scenes.iter().map(|scene| scene.id).collect();
    RunningOrder::of(film, &scenes, |film, scene, shot| rehearsals.borrow_mut().of(film, scene, shot))
}

/// Two scenes, of two shots and one.
pub(in crate::story::play) fn two_scenes() -> Film {
    film(vec![scene(10, &[4.0, 2.5]), scene(20, &[3.0])])
}

/// A scene of which somebody is gone.
pub(in crate::story::play) fn lost() -> Film {
    let mut one = scene(10, &[4.0, 2.0]);
    change_shot(&mut one, 0, |shot| shot.of = ShotOf::One(person(9)));
    film(vec![one])
}

fn change_shot(scene: &mut Scene, at: usize, change: impl FnOnce(&mut Shot)) {
    change(Arc::make_mut(&mut scene.shots[at]));
}

#[test]
fn entries_follow_each_other_across_scenes() {
    let order = order(&two_scenes());
    let starts: Vec<_> =
        order.turns().iter().map(|turn| (turn.number, turn.starts_s, turn.opens_scene)).collect();
    assert_eq!(starts, [((1, 1), 0.0, true), ((1, 2), 4.0, false), ((2, 1), 6.5, true)]);
    assert!((order.lasts_s() - 9.5).abs() < 1e-12, "{}", order.lasts_s());
}

#[test]
fn at_a_cut_the_entry_that_begins_is_due_and_at_the_end_the_last() {
    let order = order(&two_scenes());
    let due = [0.0, 3.999, 4.0, 6.5, 9.5, 99.0].map(|seconds| order.due(seconds));
    assert_eq!(due, [Some(0), Some(0), Some(1), Some(2), Some(2), Some(2)]);
    let turn = &order.turns()[1];
    assert!((turn.second_of_shot(5.0) - 1.0).abs() < 1e-12, "one second in");
    assert!((turn.second_of_shot(99.0) - 2.5).abs() < 1e-12, "no later than its end");
}

#[test]
fn steps_go_to_the_next_entry_and_stop_at_the_ends() {
    let order = order(&two_scenes());
    assert_eq!([order.step(1.0, -1), order.step(1.0, 1)], [None, Some(4.0)]);
    assert_eq!([order.step(6.5, -1), order.step(9.5, 1)], [Some(4.0), None]);
}

#[test]
fn the_last_entry_is_compared_with_the_one_before_it() {
    let order = order(&two_scenes());
    assert_eq!(
        [0.0, 4.5, 7.0, 9.5].map(|seconds| order.cut_at(seconds)),
        [Some(0), Some(1), Some(1), Some(1)]
    );
    assert_eq!(self::order(&film(vec![scene(10, &[4.0])])).cut_at(0.0), None);
}

#[test]
fn a_stretch_starts_in_the_middle_of_its_shot() {
    let mut one = scene(10, &[4.0, 4.0]);
    one.cut[1].stretch = Stretch::new(1.5, 3.0);
    let order = order(&film(vec![one]));
    let turn = &order.turns()[1];
    assert_eq!((turn.starts_s, turn.lasts_s, turn.from_s), (4.0, 1.5, 1.5));
    assert!((turn.second_of_shot(4.5) - 2.0).abs() < 1e-12, "{}", turn.second_of_shot(4.5));
    assert!((turn.last_second() - (3.0 - 1.0 / 24.0)).abs() < 1e-12, "{}", turn.last_second());
}

#[test]
fn an_entry_that_lasts_nothing_is_left_out() {
    let mut one = scene(10, &[4.0, 2.0]);
    one.cut[0].stretch = Stretch::new(5.0, 6.0);
    let order = order(&film(vec![one]));
    assert_eq!(order.turns().len(), 1);
    assert!(order.turns()[0].opens_scene, "the scene begins with what is seen of it");
}

#[test]
fn what_cannot_be_framed_keeps_its_seconds() {
    let order = order(&lost());
    let shows: Vec<_> = order.turns().iter().map(|turn| turn.shows).collect();
    assert_eq!(shows, [Shows::Nothing, Shows::Still]);
    assert!(order.stage(1.0).is_none(), "nobody to see");
    assert!(order.stage(4.0).is_some(), "Mira");
    assert_eq!(order.cues().map(|cue| cue.at_s).collect::<Vec<_>>(), [4.0]);
}

#[test]
fn only_what_moves_has_a_picture_for_each_frame() {
    let mut one = scene(10, &[4.0, 2.0, 2.0]);
    change_shot(&mut one, 1, |shot| shot.movement = Some(Movement::Pan { per_second: Angle::from_deg(5.0) }));
    let pull = FocusPull { from: Length::from_m(1.0), to: Length::from_m(2.0), starts_s: 0.5, lasts_s: 1.0 };
    change_shot(&mut one, 2, |shot| shot.pull = Some(pull));
    one.cut[2].stretch = Stretch::new(0.0, 0.5);
    let order = order(&film(vec![one]));
    let shows: Vec<_> = order.turns().iter().map(|turn| turn.shows).collect();
    assert_eq!(
        shows,
        [Shows::Still, Shows::Moving, Shows::Still],
        "the pull begins after the last entry's end"
    );
    let cues: Vec<_> = order.cues().collect();
    assert_eq!(cues.len(), 1 + 48 + 1);
    assert_eq!(cues.iter().filter(|cue| cue.opens).map(|cue| cue.at_s).collect::<Vec<_>>(), [0.0, 4.0, 6.0]);
    for cue in &cues {
        let turn = order.turn_at(cue.at_s).expect("one is due");
        assert_eq!(cue.is_still, turn.shows == Shows::Still, "{cue:?}");
    }
}

#[test]
fn a_walker_moves_only_while_they_walk() {
    let mut one = scene(10, &[4.0]);
    let mut blocking = SceneBlocking::clone(&one.blocking);
    let way = Way { corners: vec![DVec2::new(0.0, 3.0)], pace: Length::from_m(1.5), starts_s: 3.0 };
    blocking.marks[0].way = Some(way);
    one.blocking = Arc::new(blocking);
    one.cut[0].stretch = Stretch::new(0.0, 3.0);
    assert_eq!(order(&film(vec![one.clone()])).turns()[0].shows, Shows::Still, "not yet");
    one.cut[0].stretch = Stretch::new(2.0, 3.5);
    assert_eq!(order(&film(vec![one])).turns()[0].shows, Shows::Moving);
}

#[test]
fn nothing_to_play_is_due_never() {
    let order = order(&film(Vec::new()));
    assert_eq!((order.due(0.0), order.step(0.0, 1), order.cut_at(0.0)), (None, None, None));
    assert!(order.stage(0.0).is_none() && order.cues().next().is_none(), "{order:?}");
}
