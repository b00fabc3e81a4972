//! What Set-up shows of a shot is what the story shows of it.

use glam::DVec2;
use staging::{Light, Person, Stage, Stance, Subject};

use super::each;

fn near(one: DVec2, other: DVec2) -> bool {
    (one - other).length() < 1.0e-6
}

fn same_person(one: &Person, other: &Person) -> bool {
    let turned = (one.facing - other.facing).sin().abs() < 1.0e-6 && (one.facing - other.facing).cos() > 0.0;
    let steps = match (one.stance, other.stance) {
        (Stance::Walking(one), Stance::Walking(other)) => (one - other).abs() < 1.0e-6,
        (one, other) => one == other,
    };
    one.body == other.body
        && near(one.place, other.place)
        && turned
        && steps
        && one.clothes == other.clothes
        && near(one.velocity, other.velocity)
}

fn check(seed: u64, plan: &Stage, film: &Stage) {
    for (one, other) in [(&plan.opens, &film.opens), (&plan.closes, &film.closes)] {
        let off = (one.position() - other.position()).length()
            + (one.forward() - other.forward()).length()
            + (one.up() - other.up()).length();
        assert!(off < 1.0e-6, "{seed}: the phone is elsewhere: {one:?} {other:?}");
    }
    assert!((plan.view.width() - film.view.width()).abs() < 1.0e-6, "{seed}: another view");
    assert!((plan.view.height() - film.view.height()).abs() < 1.0e-6, "{seed}: another view");
    assert!((plan.exposure_s - film.exposure_s).abs() < 1.0e-9, "{seed}: another shutter");
    assert_eq!(plan.people.len(), film.people.len(), "{seed}: other people");
    for (one, other) in plan.people.iter().zip(&film.people) {
        assert!(same_person(one, other), "{seed}: {one:?} is not {other:?}");
    }
    assert_eq!(plan.pieces.len(), film.pieces.len(), "{seed}: other pieces");
    for (one, other) in plan.pieces.iter().zip(&film.pieces) {
        let same = one.kind == other.kind && one.size == other.size && near(one.place, other.place);
        let turned = (one.facing - other.facing).cos() > 1.0 - 1.0e-9;
        assert!(same && turned, "{seed}: {one:?} is not {other:?}");
    }
    assert_eq!(plan.object, film.object, "{seed}");
    assert_eq!(plan.posts.is_some(), film.posts.is_some(), "{seed}");
    let same_light = match (plan.light, film.light) {
        (Light::Sun { azimuth: one, elevation: up }, Light::Sun { azimuth, elevation }) => {
            (one - azimuth).abs().to_deg() < 1.0e-6 && (up - elevation).abs().to_deg() < 1.0e-6
        }
        (one, other) => one == other,
    };
    assert!(same_light, "{seed}: {:?} is not {:?}", plan.light, film.light);
}

#[test]
fn the_picture_in_set_up_is_the_picture_in_the_story() {
    each(|seed, sample, rehearsal| {
        // Two whose distance across the frame is less than requests let people be apart are framed a little wider.
        if let Subject::Pair { apart, .. } = rehearsal.result().shot.subject
            && apart.to_m() < 0.1
        {
            return;
        }
        let plan = sample.linked(rehearsal).plan();
        let rows = plan.compare(&sample.film.kit);
        let row = plan.choose(&sample.film.kit, &rows).expect("a row");
        let shot = &row.result.shot;
        let setup = row.result.outcome.as_ref().expect("it can be framed there too");
        let in_setup = plan.stage(shot, setup, &plan.blocking(shot));
        let in_story = rehearsal.pictured(&sample.film, sample.scene(), 0.0).expect("framed");
        check(seed, &in_setup, &in_story);
    });
}
