//! When whoever is in focus is in the frame while a shot is taken.
//!
//! They walk out of it, or the phone turns away from them: who stays is where the framing puts them at first. A phone that
//! goes along keeps its place to whom it goes along with.

use glam::{DVec2, DVec3};
use optics::ViewTangents;
use staging::{Body, Camera, Landmark, Movement, Posture};
use units::Length;

use crate::film::Film;
use crate::rehearsal::Rehearsal;
use crate::scene::Scene;
use crate::scene_blocking::{Leg, Mark, Span, Way, limited};
use crate::shot::Shot;

/// How often a phone that moves is asked whether it still holds somebody, seconds: chosen because nobody crosses a frame
/// and comes back in less.
const STEP_S: f64 = 0.25;
/// The most times that it is asked in one take: chosen because longer takes need not be known so well.
const MOST_STEPS: f64 = 48.0;
/// How often the step in which that changes is halved: 0.25 s five times is 8 ms, less than a frame.
const HALVINGS: usize = 5;

/// When whoever is in focus is in the frame of a shot that was walked through: seconds of the shot, one span after the
/// other. All of it for a thing, and for somebody who stays if the phone does not turn.
///
/// They are in it while some point of the line from their feet to their crown is: while no more than half of their breadth
/// is beyond an edge, whatever the size cuts off above and below.
pub(super) fn in_frame(film: &Film, scene: &Scene, shot: &Shot, rehearsal: &Rehearsal) -> Vec<Span> {
    let planned_s = shot.planned_s;
    let asked = || sampled(planned_s, |at_s| is_held(film, scene, shot, rehearsal, at_s));
    let leaving = || match shot.movement {
        Some(Movement::Follow { .. }) => None,
        Some(Movement::Push { .. }) => walker(scene, shot, rehearsal).map(|_| asked()),
        Some(Movement::Pan { .. } | Movement::Tilt { .. }) => shot.of.subject().map(|_| asked()),
        None => {
            let (mark, legs) = walker(scene, shot, rehearsal)?;
            held_by_one_that_stays(film, mark, &legs, rehearsal)
        }
    };
    leaving().unwrap_or_else(|| vec![(0.0, planned_s)])
}

/// Whoever is in focus with the legs of their walk, if they walk while the shot is taken.
fn walker<'scene>(
    scene: &'scene Scene,
    shot: &Shot,
    rehearsal: &Rehearsal,
) -> Option<(&'scene Mark, Vec<Leg>)> {
    let mark = scene.blocking.mark(shot.of.subject()?)?;
    let legs = walk(mark, mark.way.as_ref()?, rehearsal, shot.planned_s);
    legs.iter().any(Leg::walks).then_some((mark, legs))
}

/// When a phone that does not move holds a walker.
fn held_by_one_that_stays(
    film: &Film,
    mark: &Mark,
    legs: &[Leg],
    rehearsal: &Rehearsal,
) -> Option<Vec<Span>> {
    let (member, camera) = (film.person(mark.who)?, rehearsal.camera()?);
    let view = rehearsal.result().outcome.as_ref().ok()?.view;
    let mut spans: Vec<Span> = Vec::with_capacity(1);
    for leg in legs {
        let posture = if leg.walks() { Posture::Standing } else { mark.posture };
        let body = Body { stature: member.stature, posture, age: member.age };
        let crown = body.height_of(Landmark::Crown);
        let Some((from_s, to_s)) = held(&camera, &view, leg, crown) else { continue };
        match spans.last_mut().filter(|last| last.1 >= from_s) {
            Some(last) => last.1 = to_s,
            None => spans.push((from_s, to_s)),
        }
    }
    Some(spans)
}

/// What lies between spans, within another one.
pub(super) fn gaps(spans: &[Span], within: Span) -> impl Iterator<Item = Span> {
    let starts = std::iter::once(within.0).chain(spans.iter().map(|span| span.1));
    let ends = spans.iter().map(|span| span.0).chain(std::iter::once(within.1));
    let gaps = starts.zip(ends).map(move |(from_s, to_s)| (from_s.max(within.0), to_s.min(within.1)));
    gaps.filter(|(from_s, to_s)| from_s < to_s)
}

/// What of spans lies within another one.
pub(super) fn parts(spans: &[Span], within: Span) -> impl Iterator<Item = Span> {
    let parts = spans.iter().map(move |(from_s, to_s)| (from_s.max(within.0), to_s.min(within.1)));
    parts.filter(|(from_s, to_s)| from_s <= to_s)
}

/// Somebody's walk while a shot of `planned_s` seconds is taken, in its seconds: they wait, go from corner to corner, and
/// stay.
pub(super) fn walk(mark: &Mark, way: &Way, rehearsal: &Rehearsal, planned_s: f64) -> Vec<Leg> {
    let stays = |from_s: f64, to_s: f64, place: DVec2| Leg { from_s, to_s, place, velocity: DVec2::ZERO };
    let in_shot = |scene_s: f64| (scene_s - rehearsal.starts_s) / rehearsal.time_scale;
    let mut ends_s = in_shot(way.starts_s);
    let mut legs = vec![stays(f64::MIN, ends_s, mark.place)];
    for leg in way.walk(mark.place) {
        let (from_s, velocity) = (ends_s, leg.velocity * rehearsal.time_scale);
        ends_s = in_shot(leg.to_s);
        legs.push(Leg { from_s, to_s: ends_s, velocity, ..leg });
    }
    legs.push(stays(ends_s, f64::MAX, way.end(mark.place)));
    legs.into_iter().filter_map(|leg| leg.within((0.0, planned_s))).collect()
}

/// When a phone that stays has some of a figure in its frame while that stays or goes straight on.
///
/// ```text
/// n · p(t, h) ≥ 0 for each edge,   p = f + v t + z h,   0 ≤ h ≤ H
/// ```
/// `p` a point of the line from feet `f` to crown, in the phone's own directions; `n` the inward normal of the plane through
/// the lens and an edge of the frame; `v` what they walk in a second; `z` up; `H` the crown's height. All of it is linear in
/// `t` and `h`, so that the times at which there is such an `h` are one span: each lower limit of `h` is at most each upper.
///
/// # Source
/// Geometry: elimination of one unknown from linear inequalities (Fourier and Motzkin).
fn held(camera: &Camera, view: &ViewTangents, leg: &Leg, crown: Length) -> Option<Span> {
    let (right, up, forward) = (camera.right(), camera.up(), camera.forward());
    let own = |way: DVec3| DVec3::new(way.dot(right), way.dot(up), way.dot(forward));
    let feet = camera.to_own(leg.place.extend(0.0));
    let (goes, rises) = (own(leg.velocity.extend(0.0)), own(DVec3::Z));
    let inwards = [
        DVec3::new(1.0, 0.0, view.left),
        DVec3::new(-1.0, 0.0, view.right),
        DVec3::new(0.0, 1.0, view.down),
        DVec3::new(0.0, -1.0, view.up),
    ];
    // Each a + b t + c h ≥ 0.
    let edges = inwards.map(|normal| [normal.dot(feet), normal.dot(goes), normal.dot(rises)]);
    let figure = [[0.0, 0.0, 1.0], [crown.to_m(), 0.0, -1.0]];
    let limits = || edges.iter().chain(&figure);
    let lasts_s = leg.to_s - leg.from_s;
    let mut span = (0.0, lasts_s);
    for [a, b, c] in limits() {
        if *c > 0.0 {
            for [upper_a, upper_b, upper_c] in limits().filter(|[_, _, c]| *c < 0.0) {
                span = limited(span, c * upper_a - upper_c * a, c * upper_b - upper_c * b)?;
            }
        } else if *c >= 0.0 {
            span = limited(span, *a, *b)?;
        }
    }
    // To its very end, so that the next leg is told to follow on it.
    let ends_s = if span.1 < lasts_s { leg.from_s + span.1 } else { leg.to_s };
    Some((leg.from_s + span.0, ends_s))
}

/// Whether a phone that moves has some of whoever is in focus in its frame.
fn is_held(film: &Film, scene: &Scene, shot: &Shot, rehearsal: &Rehearsal, at_s: f64) -> bool {
    let Some(stage) = rehearsal.stage(scene, &film.cast, at_s) else { return true };
    let Some(person) = shot.of.subject().and_then(|who| rehearsal.on_floor(&stage, who)) else { return true };
    let camera = rehearsal.camera_on_floor(&stage.opens);
    let now = Leg { from_s: at_s, to_s: at_s, place: person.place, velocity: DVec2::ZERO };
    held(&camera, &stage.view, &now, person.body.height_of(Landmark::Crown)).is_some()
}

/// The spans of a take of `planned_s` seconds in which something is so.
fn sampled(planned_s: f64, is_so: impl Fn(f64) -> bool) -> Vec<Span> {
    let step_s = STEP_S.max(planned_s / MOST_STEPS);
    let mut spans = Vec::with_capacity(1);
    let mut since = is_so(0.0).then_some(0.0);
    let mut at_s = 0.0;
    while at_s < planned_s {
        let next_s = planned_s.min(at_s + step_s);
        if is_so(next_s) != since.is_some() {
            let (mut before_s, mut after_s) = (at_s, next_s);
            for _ in 0..HALVINGS {
                let middle_s = f64::midpoint(before_s, after_s);
                if is_so(middle_s) == since.is_some() {
                    before_s = middle_s;
                } else {
                    after_s = middle_s;
                }
            }
            match since.take() {
                Some(from_s) => spans.push((from_s, before_s)),
                None => since = Some(after_s),
            }
        }
        at_s = next_s;
    }
    spans.extend(since.map(|from_s| (from_s, planned_s)));
    spans
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Angle;

    const WHOLE: Span = (0.0, 10.0);

    #[test]
    fn gaps_and_parts_make_up_the_whole() {
        let spans = [(1.0, 2.0), (4.0, 9.0)];
        assert_eq!(gaps(&spans, WHOLE).collect::<Vec<_>>(), [(0.0, 1.0), (2.0, 4.0), (9.0, 10.0)]);
        assert_eq!(parts(&spans, WHOLE).collect::<Vec<_>>(), spans);
        assert_eq!(gaps(&spans, (1.5, 5.0)).collect::<Vec<_>>(), [(2.0, 4.0)]);
        assert_eq!(parts(&spans, (1.5, 5.0)).collect::<Vec<_>>(), [(1.5, 2.0), (4.0, 5.0)]);
        assert_eq!(gaps(&[], WHOLE).collect::<Vec<_>>(), [WHOLE]);
        assert_eq!(gaps(&[WHOLE], WHOLE).count(), 0);
    }

    #[test]
    fn what_changes_is_found_to_a_frame() {
        let is_so = |at_s: f64| !(1.3..6.1).contains(&at_s);
        let [one, other] = sampled(10.0, is_so)[..] else { panic!("{:?}", sampled(10.0, is_so)) };
        assert!(one.0.abs() < 1e-12 && (one.1 - 1.3).abs() < 0.01, "{one:?}");
        assert!((other.0 - 6.1).abs() < 0.01 && (other.1 - 10.0).abs() < 1e-12, "{other:?}");
        assert_eq!(sampled(10.0, |_| true), [WHOLE]);
        assert_eq!(sampled(10.0, |_| false), []);
    }

    /// A phone 1 m high that looks north along the floor and sees a right angle across, and as far up and down as 1 in 2.
    fn phone() -> (Camera, ViewTangents) {
        let camera = Camera::new(DVec3::Z, Angle::ZERO, Angle::ZERO);
        (camera, ViewTangents { left: 1.0, right: 1.0, up: 0.5, down: 0.5 })
    }

    fn held_of(place: (f64, f64), velocity: (f64, f64)) -> Option<Span> {
        let (camera, view) = phone();
        let leg = Leg { from_s: 3.0, to_s: 13.0, place: place.into(), velocity: velocity.into() };
        held(&camera, &view, &leg, Length::from_m(1.7))
    }

    fn is_near(one: Option<Span>, other: Span) -> bool {
        one.is_some_and(|one| (one.0 - other.0).abs() < 1e-12 && (one.1 - other.1).abs() < 1e-12)
    }

    #[test]
    fn who_crosses_is_in_the_frame_from_one_edge_to_the_other() {
        // Four metres away the frame's edges are four metres to either side.
        assert!(is_near(held_of((-5.0, 4.0), (1.0, 0.0)), (4.0, 12.0)));
        assert!(is_near(held_of((0.0, 4.0), (-2.0, 0.0)), (3.0, 5.0)));
        assert_eq!(held_of((5.0, 4.0), (1.0, 0.0)), None, "going away from it");
    }

    #[test]
    fn who_comes_past_the_phone_is_in_the_frame_until_then() {
        // A metre to the right, the edge is reached a metre before the phone; straight on, at the phone itself.
        assert!(is_near(held_of((1.0, 4.0), (0.0, -1.0)), (3.0, 6.0)));
        assert!(is_near(held_of((0.0, 4.0), (0.0, -1.0)), (3.0, 7.0)));
        assert_eq!(held_of((0.0, -1.0), (0.0, -1.0)), None, "behind it");
    }

    #[test]
    fn who_stays_is_in_the_frame_all_the_time_or_never() {
        assert!(is_near(held_of((3.9, 4.0), (0.0, 0.0)), (3.0, 13.0)));
        assert_eq!(held_of((4.1, 4.0), (0.0, 0.0)), None);
    }

    #[test]
    fn a_frame_above_a_crown_or_below_feet_holds_nobody() {
        let (_, view) = phone();
        let stands = |tilt_deg: f64| {
            let camera = Camera::new(DVec3::Z, Angle::ZERO, Angle::from_deg(tilt_deg));
            let place = DVec2::new(0.0, 4.0);
            let leg = Leg { from_s: 0.0, to_s: 1.0, place, velocity: DVec2::ZERO };
            held(&camera, &view, &leg, Length::from_m(1.7)).is_some()
        };
        // The crown is atan(0.7 / 4) = 9.9° up, the feet atan(1 / 4) = 14.0° down, and half the frame is 26.6°.
        assert!([0.0, 36.0, -40.0].into_iter().all(stands));
        assert!(![37.0, -41.0].into_iter().any(stands));
    }
}
