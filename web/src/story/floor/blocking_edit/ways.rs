//! Where somebody walks: corners after their mark, a pace, and when they set off.

use film::{Film, PersonId, SceneBlocking, Way};
use glam::DVec2;
use staging::{USUAL_PACE, along};
use units::{Angle, Length};

use super::{LATEST_S, Refusal, taped, with_mark};

/// As many corners as a way has: chosen because more cannot be told apart on the floor, nor walked from memory.
pub(super) const MOST_CORNERS: usize = 30;
/// How far a way goes on by itself, metres: chosen as three steps.
const ON_M: f64 = 2.0;
/// The slowest and the fastest pace that files hold, metres a second.
const PACES_M: (f64, f64) = (0.05, 10.0);

/// Somebody walks to another corner after the last one; whoever stood sets off at that second of the scene.
///
/// # Errors
/// Says if the way has as many corners as it may.
pub(in crate::story::floor) fn walks_to(
    blocking: &SceneBlocking,
    who: PersonId,
    seconds: f64,
    to: DVec2,
) -> Result<SceneBlocking, Refusal> {
    let corners = blocking.mark(who).and_then(|mark| mark.way.as_ref()).map_or(0, |way| way.corners.len());
    if corners >= MOST_CORNERS {
        return Err(Refusal::ManyCorners);
    }
    Ok(with_mark(blocking, who, |mark| {
        let way = mark.way.get_or_insert_with(|| Way {
            corners: Vec::new(),
            pace: USUAL_PACE,
            starts_s: seconds.clamp(0.0, LATEST_S),
        });
        way.corners.push(taped(to));
    }))
}

/// Somebody walks on the way that they go, or look, for three steps.
///
/// # Errors
/// Says if the way has as many corners as it may.
pub(in crate::story::floor) fn walks_on(
    film: &Film,
    blocking: &SceneBlocking,
    who: PersonId,
    seconds: f64,
) -> Result<SceneBlocking, Refusal> {
    let Some(mark) = blocking.mark(who) else { return Ok(blocking.clone()) };
    let corners = mark.way.as_ref().map_or(&[][..], |way| &way.corners);
    let looks = || {
        let person = blocking.person_of(&film.cast, who, seconds);
        along(person.map_or(Angle::ZERO, |person| person.facing))
    };
    let stops = corners.last().copied().unwrap_or(mark.place);
    let before = corners.len().checked_sub(2).and_then(|at| corners.get(at)).copied().unwrap_or(mark.place);
    let ahead = (stops - before).try_normalize().unwrap_or_else(looks);
    walks_to(blocking, who, seconds, stops + ahead * ON_M)
}

/// A corner comes elsewhere.
pub(in crate::story::floor) fn moves_corner(
    blocking: &SceneBlocking,
    who: PersonId,
    at: usize,
    to: DVec2,
) -> SceneBlocking {
    with_mark(blocking, who, |mark| {
        if let Some(corner) = mark.way.as_mut().and_then(|way| way.corners.get_mut(at)) {
            *corner = taped(to);
        }
    })
}

/// A corner goes; whoever has none left stays where they are.
pub(in crate::story::floor) fn removes_corner(
    blocking: &SceneBlocking,
    who: PersonId,
    at: usize,
) -> SceneBlocking {
    with_mark(blocking, who, |mark| {
        if let Some(way) = &mut mark.way {
            if at < way.corners.len() {
                way.corners.remove(at);
            }
            if way.corners.is_empty() {
                mark.way = None;
            }
        }
    })
}

/// Somebody walks no more: they stay where they start.
pub(in crate::story::floor) fn stays(blocking: &SceneBlocking, who: PersonId) -> SceneBlocking {
    with_mark(blocking, who, |mark| mark.way = None)
}

/// Somebody walks faster or slower, in metres a second.
pub(in crate::story::floor) fn paces(blocking: &SceneBlocking, who: PersonId, pace_m: f64) -> SceneBlocking {
    with_mark(blocking, who, |mark| {
        if let Some(way) = &mut mark.way {
            way.pace = Length::from_m(pace_m.clamp(PACES_M.0, PACES_M.1));
        }
    })
}

/// Somebody sets off at another second of the scene.
pub(in crate::story::floor) fn sets_off(
    blocking: &SceneBlocking,
    who: PersonId,
    seconds: f64,
) -> SceneBlocking {
    with_mark(blocking, who, |mark| {
        if let Some(way) = &mut mark.way {
            way.starts_s = seconds.clamp(0.0, LATEST_S);
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::story::floor::blocking_edit::tests::{id, two};

    #[test]
    fn whoever_stood_walks_the_way_that_they_look() {
        let (film, scene) = two();
        let walking = walks_on(&film, &scene.blocking, id(1), 3.0).expect("room for a corner");
        let way = walking.marks[0].way.as_ref().expect("walks");
        assert_eq!((way.corners[0], way.starts_s), (DVec2::new(2.0, 0.0), 3.0));
        assert_eq!(way.pace, USUAL_PACE);
    }

    #[test]
    fn whoever_walked_goes_on_straight() {
        let (film, scene) = two();
        let walking = walks_on(&film, &scene.blocking, id(2), 0.0).expect("room for a corner");
        let way = walking.marks[1].way.as_ref().expect("walks");
        assert_eq!(way.corners, [DVec2::new(2.0, 4.0), DVec2::new(2.0, 6.0)]);
        assert!((way.starts_s - 4.0).abs() < 1e-12, "{way:?}");
    }

    #[test]
    fn a_way_without_corners_is_none() {
        let (_, scene) = two();
        assert_eq!(removes_corner(&scene.blocking, id(2), 0).marks[1].way, None);
        assert_eq!(removes_corner(&scene.blocking, id(2), 7), *scene.blocking);
    }

    #[test]
    fn a_pace_stays_within_what_files_hold() {
        let (_, scene) = two();
        for (asked, kept) in [(0.0, 0.05), (1.0, 1.0), (99.0, 10.0)] {
            let way = paces(&scene.blocking, id(2), asked).marks[1].way.clone().expect("walks");
            assert!((way.pace.to_m() - kept).abs() < 1e-12, "{asked}: {way:?}");
        }
    }

    #[test]
    fn a_way_has_an_end() {
        let (_, scene) = two();
        let mut blocking = SceneBlocking::clone(&scene.blocking);
        for _ in 1..MOST_CORNERS {
            blocking = walks_to(&blocking, id(2), 0.0, DVec2::ZERO).expect("room for a corner");
        }
        assert_eq!(walks_to(&blocking, id(2), 0.0, DVec2::ZERO), Err(Refusal::ManyCorners));
    }
}
