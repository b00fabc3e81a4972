//! Drafts of scenes that nobody would think of.

use std::collections::BTreeSet;
use std::sync::Arc;

use glam::DVec2;
use proptest::prelude::*;
use staging::Posture;
use units::{Angle, Length};

use super::{drafted, film, mark, person, put_in, told, towards, views, wish};
use crate::coverage::cutting::broken;
use crate::coverage::ground::Ground;
use crate::coverage::{CoverageWish, Draft, Pace};
use crate::film::Film;
use crate::findings::{Severity, check_cut};
use crate::rehearsal::Rehearsal;
use crate::scene::{SceneFacts, Setting};
use crate::scene_blocking::{Beat, Faces, LineWish, Mark, SceneBlocking, Way};
use crate::shot::Shot;

/// Somebody from the last one's place in some direction, 0.5 to 8 m away, who looks somewhere and may walk.
#[derive(Debug, Clone)]
struct Anyone {
    off_deg: f64,
    off_m: f64,
    looks_deg: f64,
    looks_at: Option<u64>,
    seated: bool,
    walks: Option<(f64, f64, f64)>,
}

fn anyone() -> impl Strategy<Value = Anyone> {
    let walks = proptest::option::weighted(0.3, (0.0..360.0_f64, 1.0..20.0_f64, 0.5..2.0_f64));
    let looks_at = proptest::option::weighted(0.6, 1..=4_u64);
    (0.0..360.0_f64, 0.5..8.0_f64, 0.0..360.0_f64, looks_at, any::<bool>(), walks).prop_map(
        |(off_deg, off_m, looks_deg, looks_at, seated, walks)| Anyone {
            off_deg,
            off_m,
            looks_deg,
            looks_at,
            seated,
            walks,
        },
    )
}

fn any_film() -> impl Strategy<Value = Film> {
    let people = proptest::collection::vec(anyone(), 0..=4);
    let room = proptest::option::weighted(0.4, 1.5..6.0_f64);
    let beats = proptest::collection::vec(0.5..8.0_f64, 0..3);
    (people, room, beats, 1..=3_usize, any::<bool>()).prop_map(|(people, room, beats, lenses, is_inside)| {
        let count = u64::try_from(people.len()).expect("few");
        let mut place = DVec2::ZERO;
        let marks = (1..).zip(&people).map(|(number, one)| {
            place += staging::along(Angle::from_deg(one.off_deg)) * one.off_m;
            let looks_at = one.looks_at.filter(|other| *other <= count && *other != number);
            let faces = looks_at.map_or(towards(one.looks_deg), |other| Faces::At(person(other)));
            let way = one.walks.map(|(way_deg, length_m, pace_m)| {
                let corner = place + staging::along(Angle::from_deg(way_deg)) * length_m;
                let then = corner + staging::along(Angle::from_deg(one.looks_deg)) * 4.0;
                Way { corners: vec![corner, then], pace: Length::from_m(pace_m), starts_s: 0.0 }
            });
            let posture = if one.seated && way.is_none() { Posture::Seated } else { Posture::Standing };
            Mark { posture, way, ..mark(number, (place.x, place.y), faces) }
        });
        let marks = marks.collect();
        let mut starts_s = 0.0;
        let beats = (1..).zip(beats).map(|(number, lasts_s)| {
            let id = crate::BeatId::new(number).expect("small");
            let beat = Beat { id, what: String::new(), starts_s, line: LineWish::Auto };
            starts_s += lasts_s;
            beat
        });
        let blocking = SceneBlocking { marks, beats: beats.collect(), ..SceneBlocking::default() };
        let setting = if is_inside { Setting::Inside } else { Setting::Outside };
        film(
            lenses,
            blocking,
            SceneFacts { setting, room: room.map(Length::from_m), ..SceneFacts::default() },
        )
    })
}

fn any_wish() -> impl Strategy<Value = CoverageWish> {
    (3..=12_usize, any::<bool>(), 0..1000_u32).prop_map(|(shots, calm, variant)| {
        wish(shots, if calm { Pace::Calm } else { Pace::Restless }, variant)
    })
}

/// What a draft shows, whatever its shots are known by.
fn shown(draft: &Draft) -> Vec<Shot> {
    let nobody = crate::ShotId::new(0).expect("small");
    draft.shots.iter().map(|shot| shot.known_by(nobody)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_draft_can_be_had_cuts_and_keeps_its_side(film in any_film(), wish in any_wish()) {
        let draft = drafted(&film, &wish);
        prop_assert_eq!(&draft, &drafted(&film, &wish), "the same wish, the same draft");
        prop_assert_eq!(draft.shots.len(), wish.shots);
        let ids: BTreeSet<_> = draft.shots.iter().map(|shot| shot.id).collect();
        prop_assert_eq!(ids.len(), draft.shots.len());
        let put = put_in(&film, &draft);
        let scene = &put.scenes[0];
        for shot in &scene.shots {
            let rehearsal = Rehearsal::of(&put, scene, shot).expect("all is there");
            prop_assert!(rehearsal.result().will_do(), "{:?}\n{:?}", shot, rehearsal.result().findings);
            prop_assert!(!shot.action.is_empty(), "{:?}", shot);
        }
        let grounds = Ground::of_scene(&put, scene);
        let views = views(&put);
        for view in &views {
            let ground = grounds.iter().find(|ground| ground.beat_id() == view.shot.beat).expect("a beat");
            for seen in view.seen.iter().flatten() {
                prop_assert_ne!(seen.side, Some(ground.side.reversed()), "{}", told(&put));
            }
        }
        prop_assert_eq!(broken(&grounds[0], &views), 0, "{}", told(&put));
        let shown_at = scene.cut.iter().map(|entry| entry.shot).collect::<BTreeSet<_>>();
        prop_assert_eq!(shown_at.len(), scene.shots.len(), "every shot is in the cut");
    }

    #[test]
    fn the_rules_of_the_cut_find_nothing_to_warn_of(film in any_film(), wish in any_wish()) {
        let put = put_in(&film, &drafted(&film, &wish));
        let findings = check_cut(&put, &put.scenes[0], &views(&put));
        // A walk backwards is a caution that belongs to its shot, and nothing to mend.
        let asks = |placed: &&crate::PlacedFinding| {
            placed.finding.severity() >= Severity::Warns && placed.finding.rule() != "walks_backwards"
        };
        let warns: Vec<_> = findings.iter().filter(asks).collect();
        prop_assert!(warns.is_empty(), "{:?}\n{}", warns, told(&put));
    }

    #[test]
    fn a_line_drawn_by_hand_is_never_crossed(
        film in any_film(),
        wish in any_wish(),
        from in (-6.0..6.0_f64, -6.0..6.0_f64),
        to in (-6.0..6.0_f64, -6.0..6.0_f64),
    ) {
        let mut film = film;
        let line = LineWish::ByHand(from.into(), to.into());
        let id = crate::BeatId::new(9).expect("small");
        let scene = Arc::make_mut(&mut film.scenes[0]);
        Arc::make_mut(&mut scene.blocking).beats = vec![Beat { id, what: String::new(), starts_s: 0.0, line }];
        let draft = drafted(&film, &wish);
        // Somebody beyond the line may be out of reach, so that fewer shots can be had.
        prop_assert!(draft.shots.len() <= wish.shots);
        let put = put_in(&film, &draft);
        let side = Ground::of_scene(&put, &put.scenes[0])[0].side;
        for view in views(&put) {
            for seen in view.seen.iter().flatten() {
                prop_assert_ne!(seen.side, Some(side.reversed()), "{}", told(&put));
            }
        }
    }

    #[test]
    fn another_variant_is_another_draft(film in any_film(), wish in any_wish()) {
        let other = CoverageWish { variant: wish.variant + 1, ..wish };
        prop_assert_ne!(shown(&drafted(&film, &wish)), shown(&drafted(&film, &other)));
    }

    #[test]
    fn one_shot_of_any_scene_can_be_asked_for_again(film in any_film(), wish in any_wish(), which in 0..12_usize) {
        let put = put_in(&film, &drafted(&film, &wish));
        let scene = &put.scenes[0];
        let there = &scene.shots[which % scene.shots.len()];
        let mut ids = crate::FreshIds::starting_at(5000);
        if let Some(new) = crate::redraft(&put, scene, there.id, &wish, &mut ids) {
            let rehearsal = Rehearsal::of(&put, scene, &new).expect("all is there");
            prop_assert!(rehearsal.result().will_do(), "{:?}", new);
            prop_assert!(new.of.subject() == there.of.subject() && new != there.known_by(new.id));
        }
    }
}
