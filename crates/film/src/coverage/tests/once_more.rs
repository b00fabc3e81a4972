//! A draft put into a scene that has shots already, and one shot asked for again.

use std::sync::Arc;

use super::{broken_in, drafted, film, inside, put_in, told, two_at_a_table, usual_scenes, wish};
use crate::coverage::candidate::is_the_same;
use crate::coverage::{Pace, redraft};
use crate::edit::Command;
use crate::id::FreshIds;
use crate::scene::{Kept, KeptAt};
use crate::shot::ShotOf;

#[test]
fn a_draft_comes_behind_what_is_there_or_in_its_place() {
    let film = film(3, two_at_a_table(), inside());
    let mut put = put_in(&film, &drafted(&film, &wish(4, Pace::Calm, 0)));
    let kept = |at: KeptAt| Kept { rule: "jump_cut".to_owned(), at, reason: "meant".to_owned() };
    let first = put.scenes[0].shots[0].id;
    let kept = vec![kept(KeptAt::Scene), kept(KeptAt::Shot(first))];
    put.apply(Command::SetKept { scene: put.scenes[0].id, kept }).expect("kept");

    let more = crate::draft(&put, &put.scenes[0], &wish(3, Pace::Calm, 1), &mut FreshIds::starting_at(500));
    let mut longer = put.clone();
    let back = longer.apply(more.appends(&put.scenes[0])).expect("appended");
    assert_eq!(longer.scenes[0].shots.len(), 7);
    assert_eq!(longer.scenes[0].shots[0].id, first);
    assert_eq!(longer.scenes[0].cut.len(), put.scenes[0].cut.len() + more.cut.len());
    longer.apply(back).expect("taken back");
    assert_eq!(longer, put);

    let mut other = put.clone();
    let back = other.apply(more.replaces(&put.scenes[0])).expect("replaced");
    assert_eq!(other.scenes[0].shots.len(), 3);
    assert_eq!(other.scenes[0].kept.len(), 1, "what was kept at a shot that is gone goes with it");
    other.apply(back).expect("taken back");
    assert_eq!(other, put);
}

#[test]
fn a_shot_asked_for_again_is_another_that_cuts_as_well() {
    let mut had = 0;
    for (name, film) in usual_scenes() {
        for pace in Pace::ALL {
            let put = put_in(&film, &drafted(&film, &wish(6, pace, 0)));
            let scene = &put.scenes[0];
            for there in &scene.shots {
                for variant in 1..4 {
                    let again = wish(6, pace, variant);
                    let mut ids = FreshIds::starting_at(900);
                    let Some(new) = redraft(&put, scene, there.id, &again, &mut ids) else { continue };
                    had += 1;
                    assert!(!is_the_same(&new, there), "{name}: {new:?}");
                    assert_ne!(new.id, there.id);
                    assert_eq!(new.of.subject(), there.of.subject());
                    assert!((new.planned_s - there.planned_s).abs() < 1e-12, "{name}");
                    let mut after = put.clone();
                    after.apply(Command::SetShot(Arc::new(new.known_by(there.id)))).expect("put there");
                    assert!(broken_in(&after) <= broken_in(&put), "{name}\n{}", told(&after));
                }
            }
        }
    }
    // Nine scenes of six shots, two paces, three variants.
    assert!(had >= 300, "{had} of 324");
}

#[test]
fn past_a_shoulder_again_stays_past_that_shoulder() {
    let film = film(3, two_at_a_table(), inside());
    let put = put_in(&film, &drafted(&film, &wish(6, Pace::Calm, 0)));
    let past = put.scenes[0].shots.iter().find(|shot| matches!(shot.of, ShotOf::OverShoulder { .. }));
    let past = past.expect("one past a shoulder");
    let again =
        redraft(&put, &put.scenes[0], past.id, &wish(6, Pace::Calm, 1), &mut FreshIds::starting_at(900));
    let again = again.expect("another");
    assert_eq!(again.of, past.of);
}

#[test]
fn what_is_not_there_is_not_asked_for_again() {
    let film = film(3, two_at_a_table(), inside());
    let gone = crate::ShotId::new(7).expect("small");
    let new = redraft(&film, &film.scenes[0], gone, &wish(6, Pace::Calm, 0), &mut FreshIds::starting_at(1));
    assert_eq!(new, None);
}
