//! A day of many setups, for benches.

use film::{ChangeTimes, DaySpan, Job, OrderProblem, PersonId, PlaceId, Rig, SceneId, ShotId};
use units::Angle;

/// One of the setups of a day of scenes of seven, at two places, that tell their story from both sides in turn. Some have
/// light only late, somebody is there only in the morning, and not all of it is needed.
fn job(number: u32, takes_min: f64) -> Job {
    let (scene, side) = (number / 7, number % 2);
    let light = (number % 9 == 4).then(|| vec![DaySpan { from_min: 960.0, to_min: 1110.0 }]);
    let leaves = (PersonId::new(1).expect("small"), DaySpan { from_min: 480.0, to_min: 780.0 });
    Job {
        shot: ShotId::new(u64::from(number)).expect("small"),
        rig: Rig {
            place: PlaceId::new(u64::from(scene % 2)),
            scene: SceneId::new(u64::from(scene)).expect("small"),
            direction: Angle::from_deg(f64::from(side * 180 + number % 4 * 10)),
            lens: if number.is_multiple_of(3) { "wide" } else { "main" }.to_owned(),
            adapter: (number % 11 == 5).then(|| "stretch".to_owned()),
            filters: if light.is_some() { Vec::new() } else { vec!["ND 8".to_owned()] },
            gimbal: number % 7 == 3,
        },
        people: Vec::new(),
        wideness_m: 0.5 + f64::from(number * 5 % 7),
        takes_min,
        light,
        one_sun: None,
        hours: if number % 8 == 6 { vec![leaves] } else { Vec::new() },
        must_have: number % 3 != 1,
        last: number % 13 == 6,
        story: usize::try_from(number).expect("small"),
        pinned: None,
    }
}

/// A day of so many setups of so many minutes each.
pub(crate) fn day(jobs: u32, takes_min: f64) -> OrderProblem {
    OrderProblem {
        jobs: (0..jobs).map(|number| job(number, takes_min)).collect(),
        call_min: 480.0,
        wrap_min: 1140.0,
        breaks: vec![DaySpan { from_min: 750.0, to_min: 795.0 }],
        changes: ChangeTimes::usual(),
        before: None,
    }
}
