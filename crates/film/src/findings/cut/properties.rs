//! What holds for any scene: turned, shifted or seen in a mirror it cuts as well, and every mend mends.

use std::collections::BTreeSet;
use std::sync::Arc;

use glam::DVec2;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use staging::{Movement, ShotSize};
use units::{Angle, Length};

use super::PlacedFinding;
use super::example::{film_cut, found, mark, person, single, views};
use crate::cut_view::EntryView;
use crate::film::Film;
use crate::findings::{Severity, mends};
use crate::id::FreshIds;
use crate::rehearsal::Rehearsals;
use crate::scene::KeptAt;
use crate::scene_blocking::{Faces, LineWish, SceneBlocking, Way};
use crate::shot::{Shot, ShotOf, Sound};

/// A shot as drawn by lot: of whom, how, how much, from where, and whether somebody speaks.
type Drawn = (u64, u8, usize, f64, bool);

/// A scene as drawn by lot.
#[derive(Debug, Clone)]
struct Lot {
    ben: (f64, f64),
    ada_walks: Option<(f64, f64)>,
    shots: Vec<Drawn>,
    cut: Vec<usize>,
}

fn lots() -> impl Strategy<Value = Lot> {
    let ben = (1.0..3.0_f64, -1.5..1.5_f64);
    let way = proptest::option::weighted(0.4, (-6.0..6.0_f64, 3.0..9.0_f64));
    let shot = (1..3_u64, 0..8_u8, 0..7_usize, 0.0..360.0_f64, proptest::bool::weighted(0.3));
    let shots = proptest::collection::vec(shot, 2..6);
    let cut = proptest::collection::vec(0..6_usize, 2..8);
    (ben, way, shots, cut).prop_map(|(ben, ada_walks, shots, cut)| Lot { ben, ada_walks, shots, cut })
}

fn drawn_shot(number: u64, (of, how, size, side_deg, speaks): Drawn) -> Shot {
    let other = person(3 - of);
    let shot = single(number, of, ShotSize::ALL[size], side_deg);
    let sound = if speaks { Sound::Dialogue } else { Sound::None };
    let (of, movement) = match how {
        0 => (ShotOf::OverShoulder { facing: person(of), near: other }, None),
        1 => (ShotOf::Two(person(of), other), None),
        2 => (ShotOf::PointOfView { of: other, seen: person(of) }, None),
        3 => (shot.of.clone(), Some(Movement::Push { per_second: Length::from_m(0.1) })),
        4 => (shot.of.clone(), Some(Movement::Pan { per_second: Angle::from_deg(3.0) })),
        _ => (shot.of.clone(), None),
    };
    Shot { of, movement, sound, across: 0.4, ..shot }
}

fn scene_of(lot: &Lot) -> Film {
    let mut marks = vec![
        mark(1, DVec2::ZERO, Faces::At(person(2))),
        mark(2, DVec2::new(lot.ben.0, lot.ben.1), Faces::At(person(1))),
    ];
    marks[0].way = lot.ada_walks.map(|(x, y)| Way {
        corners: vec![DVec2::new(x, y), DVec2::new(-x, 2.0 * y)],
        pace: Length::from_m(1.2),
        starts_s: 0.0,
    });
    let blocking = SceneBlocking { marks, ..SceneBlocking::default() };
    let shots: Vec<Shot> = (1..).zip(&lot.shots).map(|(number, shot)| drawn_shot(number, *shot)).collect();
    let numbers: Vec<u64> = shots.iter().map(|shot| shot.id.number()).collect();
    let cut: Vec<u64> = lot.cut.iter().map(|at| numbers[at % numbers.len()]).collect();
    film_cut(blocking, shots, &cut)
}

/// The film with every place and direction of its scene changed alike.
fn changed(
    film: &Film,
    place: impl Fn(DVec2) -> DVec2,
    angle: impl Fn(Angle) -> Angle,
    mirror: bool,
) -> Film {
    let mut film = film.clone();
    let scene = Arc::make_mut(&mut film.scenes[0]);
    let blocking = Arc::make_mut(&mut scene.blocking);
    for mark in &mut blocking.marks {
        mark.place = place(mark.place);
        if let Some(way) = &mut mark.way {
            for corner in &mut way.corners {
                *corner = place(*corner);
            }
        }
        if let Faces::Towards(facing) = mark.faces {
            mark.faces = Faces::Towards(angle(facing));
        }
    }
    for beat in &mut blocking.beats {
        if let LineWish::ByHand(from, to) = beat.line {
            beat.line = LineWish::ByHand(place(from), place(to));
        }
    }
    for shot in &mut scene.shots {
        let shot = Arc::make_mut(shot);
        shot.side = angle(shot.side);
        if mirror {
            shot.across = 1.0 - shot.across;
            if let Some(Movement::Pan { per_second }) = &mut shot.movement {
                *per_second = -*per_second;
            }
        }
    }
    film
}

fn called(film: &Film) -> Vec<(&'static str, KeptAt)> {
    found(film).iter().map(|placed| (placed.finding.rule(), placed.at)).collect()
}

fn must_have_a_mend(placed: &PlacedFinding) -> bool {
    let rules =
        ["jump_cut", "line_crossed", "direction_turns", "reverses_differ", "looks_alike", "voice_far"];
    rules.contains(&placed.finding.rule())
}

/// Holds every mend of every finding to its word, and says how many findings that must have one have none.
fn without_a_mend(film: &Film) -> Result<Vec<PlacedFinding>, TestCaseError> {
    let all = found(film);
    let views = views(film);
    let warned: BTreeSet<_> = all.iter().map(|placed| (placed.finding.rule(), placed.at)).collect();
    let mut without = Vec::new();
    for placed in &all {
        let offered = mends(film, &film.scenes[0], &views, placed, &mut FreshIds::starting_at(1000));
        let again = mends(film, &film.scenes[0], &views, placed, &mut FreshIds::starting_at(1000));
        prop_assert_eq!(&offered, &again, "the same mends each time");
        if offered.is_empty() && must_have_a_mend(placed) {
            without.push(*placed);
        }
        for mend in offered {
            let mut mended = film.clone();
            let undo = mended.apply(mend.command).map_err(|error| TestCaseError::fail(error.to_string()))?;
            let scene = &mended.scenes[0];
            let shows: Vec<EntryView> = EntryView::of_cut(&mended, scene, &mut Rehearsals::default());
            for left in crate::check_cut(&mended, scene, &shows) {
                let called = (left.finding.rule(), left.at);
                prop_assert!(
                    called != (placed.finding.rule(), placed.at),
                    "{} leaves {:?}",
                    mend.words,
                    placed
                );
                let of_a_copy = matches!(left.at, KeptAt::Shot(shot) if shot.number() >= 1000);
                let is_new = !warned.contains(&called) && !of_a_copy;
                prop_assert!(
                    !is_new || left.finding.severity() == Severity::Notes,
                    "{} brings {:?}",
                    mend.words,
                    left
                );
            }
            mended.apply(undo).map_err(|error| TestCaseError::fail(error.to_string()))?;
            prop_assert_eq!(&mended, film, "taken back");
        }
    }
    Ok(without)
}

/// Drawn by lot but always the same, because a scene can be so tangled that no one change mends it.
#[test]
fn in_scenes_drawn_by_lot_hardly_a_finding_is_without_a_mend() {
    let mut runner = TestRunner::deterministic();
    let (mut all, mut without) = (0, Vec::new());
    for _ in 0..150 {
        let film = scene_of(&lots().new_tree(&mut runner).expect("a lot").current());
        all += found(&film).iter().filter(|placed| must_have_a_mend(placed)).count();
        without.extend(without_a_mend(&film).expect("every mend mends"));
    }
    assert!(all > 300 && without.len() * 100 <= all, "{} of {all}: {without:?}", without.len());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_scene_turned_and_shifted_on_its_floor_cuts_alike(
        lot in lots(), turn_deg in 0.0..360.0_f64, east in -50.0..50.0_f64, north in -50.0..50.0_f64,
    ) {
        let film = scene_of(&lot);
        let turn = Angle::from_deg(turn_deg);
        let (sin, cos) = (turn.sin(), turn.cos());
        let place = |p: DVec2| DVec2::new(p.x * cos + p.y * sin + east, p.y * cos - p.x * sin + north);
        let turned = changed(&film, place, |angle| angle + turn, false);
        prop_assert_eq!(called(&film), called(&turned));
    }

    #[test]
    fn a_scene_seen_in_a_mirror_cuts_alike(lot in lots()) {
        let film = scene_of(&lot);
        // The mirror stands along the line from Ada to Ben.
        let way = DVec2::new(lot.ben.0, lot.ben.1).normalize();
        let place = |p: DVec2| way * (2.0 * p.dot(way)) - p;
        let along = Angle::from_components(way.x, way.y);
        let mirrored = changed(&film, place, |angle| along * 2.0 - angle, true);
        prop_assert_eq!(called(&film), called(&mirrored));
    }

    #[test]
    fn every_mend_mends_and_brings_no_other_warning(lot in lots()) {
        without_a_mend(&scene_of(&lot))?;
    }
}
