//! Drafts of the scenes that a crew of friends shoots.

use std::collections::BTreeSet;
use std::sync::Arc;

use staging::{Movement, PhoneHeight, ShotSize};
use units::Length;

use super::{
    drafted, film, inside, lenses, nobody, one_still, person, put_in, three, told, two_at_a_table,
    usual_scenes, views, walker_round_a_corner, wish,
};
use crate::coverage::Pace;
use crate::cut_view::ScreenDirection;
use crate::film::Film;
use crate::findings::{Severity, check_cut, sort_findings};
use crate::scene::{SceneFacts, Want};
use crate::shot::{Shot, ShotOf, Sound};

fn shots(film: &Film) -> &[Arc<Shot>] {
    &film.scenes[0].shots
}

#[test]
fn a_draft_has_as_many_shots_as_asked_for_and_nothing_to_warn_of() {
    let mut wrong = Vec::new();
    for (name, film) in usual_scenes() {
        for pace in Pace::ALL {
            for shots in 3..=12 {
                for variant in 0..3 {
                    let draft = drafted(&film, &wish(shots, pace, variant));
                    let put = put_in(&film, &draft);
                    let findings = check_cut(&put, &put.scenes[0], &views(&put));
                    let open = sort_findings(&put.scenes[0], findings).open;
                    // A walk backwards is a caution that belongs to its shot, and nothing to mend.
                    let warns = open.iter().filter(|placed| {
                        placed.finding.severity() >= Severity::Warns
                            && placed.finding.rule() != "walks_backwards"
                    });
                    let rules: Vec<&str> = warns.map(|placed| placed.finding.rule()).collect();
                    if !rules.is_empty() || draft.shots.len() != shots {
                        let got = draft.shots.len();
                        wrong.push(format!("{name} {} {shots} {variant}: {got} {rules:?}", pace.name()));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} of 540:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn nothing_of_a_scene_of_seven_is_even_worth_a_note_but_its_reverses_lens_by_lens() {
    for (name, film) in usual_scenes() {
        for pace in Pace::ALL {
            let put = put_in(&film, &drafted(&film, &wish(7, pace, 0)));
            let findings = check_cut(&put, &put.scenes[0], &views(&put));
            let rules: BTreeSet<&str> = findings.iter().map(|placed| placed.finding.rule()).collect();
            for rule in ["few_shots", "many_shots", "no_foreground", "action_unsaid"] {
                assert!(!rules.contains(rule), "{name}: {rule}\n{}", told(&put));
            }
        }
    }
}

#[test]
fn a_calm_cut_has_fewer_and_longer_entries_than_a_restless_one() {
    for (name, film) in usual_scenes() {
        let [calm, restless] = Pace::ALL.map(|pace| put_in(&film, &drafted(&film, &wish(6, pace, 0))));
        let mean_s = |film: &Film| {
            let entries = views(film);
            let count = entries.iter().fold(0.0, |count, _| count + 1.0);
            entries.iter().map(|view| view.stretch_s.1 - view.stretch_s.0).sum::<f64>() / count
        };
        assert!((5.0..=7.0).contains(&mean_s(&calm)), "{name}: {}\n{}", mean_s(&calm), told(&calm));
        assert!(
            (1.5..=3.0).contains(&mean_s(&restless)),
            "{name}: {}\n{}",
            mean_s(&restless),
            told(&restless)
        );
        let (few, many) = (calm.scenes[0].cut.len(), restless.scenes[0].cut.len());
        assert!(many > shots(&restless).len() && many >= few, "{name}: {few} {many}\n{}", told(&restless));
    }
}

#[test]
fn two_at_a_table_are_cut_a_b_a_b_from_one_setup_each() {
    let put = put_in(
        &film(3, two_at_a_table(), inside()),
        &drafted(&film(3, two_at_a_table(), inside()), &wish(5, Pace::Calm, 0)),
    );
    let views = views(&put);
    let of: Vec<ShotOf> = views.iter().map(|view| view.shot.of.clone()).collect();
    let past = |facing: u64, near: u64| ShotOf::OverShoulder { facing: person(facing), near: person(near) };
    assert_eq!(of[..5], [ShotOf::Two(person(1), person(2)), past(1, 2), past(2, 1), past(1, 2), past(2, 1)]);
    assert_eq!(views[1].shot.id, views[3].shot.id);
    assert!((views[1].stretch_s.1 - views[3].stretch_s.0).abs() < 1e-9, "{}", told(&put));
    let ends_s = views[3].stretch_s.1;
    assert!((views[3].shot.planned_s - ends_s).abs() < 1e-9, "{}", told(&put));
}

#[test]
fn reverses_match_in_size_height_and_lens_and_look_opposite_ways() {
    let film = film(3, two_at_a_table(), inside());
    for pace in Pace::ALL {
        for variant in 0..6 {
            let put = put_in(&film, &drafted(&film, &wish(7, pace, variant)));
            let views = views(&put);
            let findings = check_cut(&put, &put.scenes[0], &views);
            let differ: Vec<_> = findings
                .iter()
                .filter(|placed| placed.finding.rule() == "reverses_differ")
                .filter(|placed| {
                    // Next to each other a pair's last and the next pair's first are no reverses of each other.
                    let crate::KeptAt::Cut(one, other) = placed.at else { return false };
                    let find = |id| views.iter().find(|view| view.entry == id).expect("an entry");
                    let (one, other) = (find(one), find(other));
                    one.shot.size == other.shot.size
                        && one.shot.of.people().count() == other.shot.of.people().count()
                })
                .collect();
            assert!(differ.is_empty(), "{differ:?}\n{}", told(&put));
            let past: Vec<_> =
                views.iter().filter(|view| matches!(view.shot.of, ShotOf::OverShoulder { .. })).collect();
            let looks: Vec<_> =
                past.iter().map(|view| view.seen.expect("had")[0].looks.expect("looks")).collect();
            assert!(looks.windows(2).all(|pair| pair[0].is_opposite(pair[1])), "{looks:?}\n{}", told(&put));
        }
    }
}

#[test]
fn past_a_shoulder_the_near_one_has_the_other_part_of_the_frame() {
    let film = film(3, two_at_a_table(), inside());
    let put = put_in(&film, &drafted(&film, &wish(5, Pace::Calm, 0)));
    let views = views(&put);
    let mut seen = 0;
    for view in &views {
        let ShotOf::OverShoulder { near, .. } = view.shot.of else { continue };
        let place = put.scenes[0].blocking.mark(near).expect("there").place;
        let own = view.seen.expect("had")[0].camera.to_own(place.extend(1.0));
        let near_is_left = own.x < 0.0;
        assert_eq!(near_is_left, view.shot.across > 0.5, "{}", told(&put));
        seen += 1;
    }
    assert_eq!(seen, 4);
}

#[test]
fn who_speaks_inside_is_heard_and_a_far_phone_has_a_recorder() {
    let film = film(3, two_at_a_table(), inside());
    let put = put_in(&film, &drafted(&film, &wish(7, Pace::Calm, 0)));
    let spoken: Vec<_> = shots(&put).iter().filter(|shot| shot.sound == Sound::Dialogue).collect();
    assert!(spoken.len() >= 4, "{}", told(&put));
    let recorded = spoken.iter().filter(|shot| shot.recorder_away == Some(Length::from_m(0.5))).count();
    assert!(recorded >= 2, "past a shoulder the phone is farther than 1.5 m: {}", told(&put));
}

#[test]
fn one_who_stays_is_seen_from_the_place_to_the_face_with_what_they_hold_and_see() {
    let put = put_in(
        &film(3, one_still(), SceneFacts::default()),
        &drafted(&film(3, one_still(), SceneFacts::default()), &wish(7, Pace::Calm, 0)),
    );
    let sizes: BTreeSet<ShotSize> = shots(&put).iter().map(|shot| shot.size).collect();
    let wanted =
        [ShotSize::ExtremeWide, ShotSize::Medium, ShotSize::ChestUp, ShotSize::Tight, ShotSize::Insert];
    assert!(wanted.iter().all(|size| sizes.contains(size)), "{}", told(&put));
    let actions: Vec<&str> = shots(&put).iter().map(|shot| shot.action.as_str()).collect();
    assert!(actions.contains(&"what Mira holds") && actions.contains(&"what Mira sees"), "{actions:?}");
    assert!(lenses(&put).iter().collect::<BTreeSet<_>>().len() >= 2, "{}", told(&put));
}

#[test]
fn a_walker_keeps_their_direction_and_is_gone_along_with_before_the_corner() {
    let film = film(3, walker_round_a_corner(), SceneFacts::default());
    for pace in Pace::ALL {
        for variant in 0..6 {
            let put = put_in(&film, &drafted(&film, &wish(8, pace, variant)));
            let views = views(&put);
            let goes: BTreeSet<_> = views
                .iter()
                .filter_map(|view| view.seen?[0].goes)
                .filter(|goes| *goes != ScreenDirection::Neutral)
                .map(ScreenDirection::name)
                .collect();
            assert_eq!(goes.len(), 1, "{goes:?}\n{}", told(&put));
            assert_eq!(views[0].shot.size, ShotSize::ExtremeWide, "{}", told(&put));
            let follows =
                views.iter().filter(|view| matches!(view.shot.movement, Some(Movement::Follow { .. })));
            let mut count = 0;
            for view in follows {
                // Ten seconds to the corner at 1.4 m/s, and from 11 s on the way is straight to its end at 17.1 s.
                assert!(view.shot.planned_s <= 10.0, "{}", told(&put));
                count += 1;
            }
            assert!(count >= 2, "{}", told(&put));
        }
    }
}

#[test]
fn shots_are_spread_over_the_beats_in_order() {
    let film = film(3, walker_round_a_corner(), SceneFacts::default());
    let put = put_in(&film, &drafted(&film, &wish(8, Pace::Calm, 0)));
    let beats: Vec<u64> = shots(&put).iter().map(|shot| shot.beat.expect("a beat").number()).collect();
    assert_eq!(beats, [1, 1, 1, 1, 2, 2, 2, 2]);
    assert_eq!(shots(&put)[0].action, "Mira walks: she hurries");
}

#[test]
fn of_three_everybody_is_seen_by_themselves_who_is_not_seen_past_a_shoulder() {
    let film = film(3, three(), SceneFacts::default());
    let put = put_in(&film, &drafted(&film, &wish(6, Pace::Calm, 0)));
    let subjects: BTreeSet<_> = shots(&put)
        .iter()
        .filter(|shot| !matches!(shot.of, ShotOf::Two(..)))
        .filter_map(|shot| shot.of.subject())
        .collect();
    assert_eq!(subjects, [1, 2, 3].map(person).into(), "{}", told(&put));
    assert!(matches!(shots(&put)[0].of, ShotOf::Two(..)), "{}", told(&put));
}

#[test]
fn a_place_with_nobody_is_told_by_its_things() {
    let film = film(3, nobody(), inside());
    let put = put_in(&film, &drafted(&film, &wish(6, Pace::Calm, 0)));
    assert!(shots(&put).iter().all(|shot| shot.of.subject().is_none()), "{}", told(&put));
    assert_eq!(shots(&put)[0].action, "Kitchen, nobody there");
    assert!(shots(&put).iter().any(|shot| shot.action == "the bench"), "{}", told(&put));
}

#[test]
fn an_action_says_what_the_scene_says() {
    let facts = SceneFacts {
        happens: "a letter is read".to_owned(),
        wants: vec![Want { who: person(1), what: "to leave".to_owned() }],
        ..inside()
    };
    let film = film(3, two_at_a_table(), facts);
    let put = put_in(&film, &drafted(&film, &wish(5, Pace::Calm, 0)));
    assert_eq!(shots(&put)[0].action, "Mira and Jo at the table: a letter is read");
    assert_eq!(shots(&put)[1].action, "Mira, who wants to leave, past Jo's shoulder");
    assert!(shots(&put).iter().all(|shot| !shot.action.is_empty()), "{}", told(&put));
}

#[test]
fn five_shots_or_more_have_something_near_a_lens() {
    for (name, film) in usual_scenes() {
        for count in 5..=12 {
            let draft = drafted(&film, &wish(count, Pace::Calm, 1));
            assert!(draft.shots.iter().any(|shot| shot.foreground.is_some()), "{name} {count}");
        }
    }
}

#[test]
fn a_restless_draft_leaves_the_level_of_the_eyes() {
    let film = film(3, two_at_a_table(), inside());
    let level = |pace: Pace| {
        let draft = drafted(&film, &wish(7, pace, 0));
        draft.shots.iter().filter(|shot| shot.height == PhoneHeight::BySize).count()
    };
    assert!(level(Pace::Calm) > level(Pace::Restless), "{} {}", level(Pace::Calm), level(Pace::Restless));
}
