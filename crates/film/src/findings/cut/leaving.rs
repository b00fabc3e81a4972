//! Somebody whom the frame of a shot loses that is of them.

use super::CutFinding;
use crate::cut_view::EntryView;

/// Whoever is gone for less, seconds, is not said to leave: chosen, as an exit ends with an empty frame for a moment.
const LEAST_OUT_S: f64 = 0.5;

/// Whoever leaves the frame while the shot of `view` is taken as planned; `views` are all entries of its cut.
///
/// Common practice: somebody leaves the frame to end a shot, so that alone is only worth knowing. A walker who is gone for
/// most of what is planned or shown of it is missed, and so is a turn that nobody sees. A phone that turns away from who
/// stays may mean to.
pub(super) fn leaves_frame(view: &EntryView, views: &[EntryView]) -> Option<CutFinding> {
    let leaves_s = view.leaves_s()?;
    let of_s = view.shot.planned_s;
    let out_s = view.out_s((0.0, of_s));
    if out_s < LEAST_OUT_S {
        return None;
    }
    let entries = || views.iter().filter(|other| other.shot.id == view.shot.id);
    let turns = entries().any(|entry| entry.turns_unseen);
    let walks = view.walks;
    let is_missed = walks && entries().any(EntryView::misses_subject);
    Some(CutFinding::LeavesFrame { walks, leaves_s, out_s, of_s, turns, is_missed })
}

#[cfg(test)]
mod tests {
    use crate::film::Film;
    use crate::findings::Severity;
    use crate::findings::cut::CutFinding;
    use crate::findings::cut::example::{
        film, film_cut, found, level, shot_id, single, stretched, two, views, walker,
    };
    use crate::scene::KeptAt;
    use crate::shot::Shot;
    use staging::{Movement, ShotSize};
    use units::{Angle, FrameRate, Length};

    /// What is found of leaving the first shot.
    fn leaves(film: &Film) -> Option<CutFinding> {
        let at_shot = found(film).into_iter().filter(|placed| placed.at == KeptAt::Shot(shot_id(1)));
        at_shot.map(|placed| placed.finding).find(|finding| finding.rule() == "leaves_frame")
    }

    /// When she leaves the first shot and for how long, seconds, and how bad that is.
    fn left(film: &Film) -> (f64, f64, Severity) {
        let found = leaves(film).expect("she leaves");
        let CutFinding::LeavesFrame { leaves_s, out_s, .. } = found else { panic!("{found:?}") };
        (leaves_s, out_s, found.severity())
    }

    /// A shot from 2 m in the east that lasts so long, of Ada who walks through these corners at 1 m/s.
    fn from_the_east(corners: &[(f64, f64)], planned_s: f64) -> Film {
        film(walker(corners), vec![Shot { planned_s, ..level(1, 90.0, 2.0) }])
    }

    /// How far to either side such a shot sees two metres away, by similar triangles: half of twice its width as a tangent.
    fn half_m(film: &Film) -> f64 {
        let rehearsal = views(film)[0].rehearsal.clone();
        let rehearsal = rehearsal.as_ref().as_ref().expect("it can be walked through");
        rehearsal.result().outcome.as_ref().expect("a setup").view.width()
    }

    fn is_near(one: f64, other: f64) -> bool {
        (one - other).abs() < 1e-9
    }

    #[test]
    fn who_crosses_the_frame_leaves_it_after_half_its_width() {
        let long = from_the_east(&[(0.0, 20.0)], 4.0);
        let half_m = half_m(&long);
        let (leaves_s, out_s, severity) = left(&long);
        assert!(is_near(leaves_s, half_m) && is_near(out_s, 4.0 - half_m), "{leaves_s} {out_s}");
        assert_eq!(severity, Severity::Warns, "gone for more than half of it");
        let (_, out_s, severity) = left(&from_the_east(&[(0.0, 20.0)], half_m * 1.99));
        assert!(is_near(out_s, half_m * 0.99) && severity == Severity::Notes, "{out_s} {severity:?}");
        assert_eq!(left(&from_the_east(&[(0.0, 20.0)], half_m * 2.01)).2, Severity::Warns);
    }

    #[test]
    fn half_a_second_without_them_is_an_exit_and_less_is_none() {
        let half_m = half_m(&from_the_east(&[(0.0, 20.0)], 4.0));
        let gone = |out_s: f64| leaves(&from_the_east(&[(0.0, 20.0)], half_m + out_s)).is_some();
        assert!(!gone(-0.1) && !gone(0.49) && gone(0.51));
    }

    #[test]
    fn who_waits_or_stops_within_the_frame_leaves_it_later_or_not_at_all() {
        let mut waits = from_the_east(&[(0.0, 20.0)], 4.0);
        let half_m = half_m(&waits);
        let scene = std::sync::Arc::make_mut(&mut waits.scenes[0]);
        let blocking = std::sync::Arc::make_mut(&mut scene.blocking);
        blocking.marks[0].way.as_mut().expect("a way").starts_s = 1.0;
        assert!(is_near(left(&waits).0, 1.0 + half_m), "{:?}", left(&waits));
        assert_eq!(leaves(&from_the_east(&[(0.0, half_m - 0.01)], 4.0)), None);
        assert!(leaves(&from_the_east(&[(0.0, half_m + 0.01)], 4.0)).is_some());
        assert_eq!(leaves(&film(two(), vec![level(1, 90.0, 2.0)])), None, "nobody walks");
    }

    #[test]
    fn who_comes_back_is_gone_only_between() {
        // Out to 3 m and back: gone from the edge on, for twice what is left to 3 m.
        let back = from_the_east(&[(0.0, 3.0), (0.0, 0.0)], 6.0);
        let half_m = half_m(&back);
        let (leaves_s, out_s, _) = left(&back);
        assert!(is_near(leaves_s, half_m) && is_near(out_s, 2.0 * (3.0 - half_m)), "{leaves_s} {out_s}");
    }

    #[test]
    fn who_comes_straight_on_leaves_as_they_pass_the_phone() {
        let (leaves_s, ..) = left(&from_the_east(&[(20.0, 0.0)], 4.0));
        assert!(is_near(leaves_s, 2.0), "{leaves_s}");
    }

    #[test]
    fn in_slow_motion_they_stay_longer() {
        let mut slow = from_the_east(&[(0.0, 20.0)], 4.0);
        let half_m = half_m(&slow);
        let scene = std::sync::Arc::make_mut(&mut slow.scenes[0]);
        let shot = std::sync::Arc::make_mut(&mut scene.shots[0]);
        shot.capture_rate = FrameRate::checked_from_fps(36.0).ok();
        // Captured half as fast again, it plays so much longer.
        assert!(is_near(left(&slow).0, half_m * 1.5), "{:?}", left(&slow));
    }

    /// The same shot with the phone moving.
    fn moved(movement: Movement) -> Film {
        let shot = Shot { movement: Some(movement), ..level(1, 90.0, 2.0) };
        film(walker(&[(0.0, 20.0)]), vec![shot])
    }

    #[test]
    fn a_phone_that_goes_along_keeps_them() {
        assert_eq!(leaves(&moved(Movement::Follow { per_second: Length::from_m(1.0) })), None);
    }

    #[test]
    fn a_phone_that_turns_holds_them_while_its_frame_does() {
        let half_m = half_m(&from_the_east(&[(0.0, 20.0)], 4.0));
        let turns = |degrees: f64| moved(Movement::Pan { per_second: Angle::from_deg(degrees) });
        // She is atan(t / 2) to the right of where the phone looked at first, and 63° in the end.
        assert_eq!(leaves(&turns(15.0)), None);
        for degrees in [4.0, -10.0] {
            let (leaves_s, _, _) = left(&turns(degrees));
            let off = libm::atan2(leaves_s, 2.0) - f64::to_radians(degrees) * leaves_s;
            assert!((off - libm::atan2(half_m, 2.0)).abs() < 0.01, "{degrees}: {leaves_s} {off}");
        }
    }

    /// A phone two metres from Ada, who stays, and how it turns while the shot lasts so long.
    fn turned(movement: Movement, planned_s: f64) -> Film {
        film(two(), vec![Shot { movement: Some(movement), planned_s, ..level(1, 180.0, 2.0) }])
    }

    #[test]
    fn a_phone_that_turns_away_from_who_stays_is_worth_knowing() {
        let pan = |planned_s: f64| turned(Movement::Pan { per_second: Angle::from_deg(4.0) }, planned_s);
        let half_deg = libm::atan(half_m(&pan(20.0)) / 2.0).to_degrees();
        let (leaves_s, out_s, severity) = left(&pan(20.0));
        assert!(
            (leaves_s - half_deg / 4.0).abs() < 0.02 && (out_s + leaves_s - 20.0).abs() < 1e-9,
            "{leaves_s}"
        );
        assert_eq!(severity, Severity::Notes, "though she is gone for most of it");
        assert!(matches!(leaves(&pan(20.0)), Some(CutFinding::LeavesFrame { walks: false, .. })));
        assert_eq!(leaves(&pan(half_deg / 4.0 + 0.4)), None);
        // Her crown is 0.11 m above the phone, which is as high as her eyes.
        let tilt = |planned_s: f64| turned(Movement::Tilt { per_second: Angle::from_deg(5.0) }, planned_s);
        let views = views(&tilt(12.0));
        let rehearsal = views[0].rehearsal.as_ref().as_ref().expect("it can be walked through");
        let down = rehearsal.result().outcome.as_ref().expect("a setup").view.down;
        let over_deg = (libm::atan(down) + libm::atan(0.066 * 1.66 / 2.0)).to_degrees();
        let (leaves_s, _, severity) = left(&tilt(12.0));
        assert!((leaves_s - over_deg / 5.0).abs() < 0.02, "{leaves_s} {over_deg}");
        assert_eq!(severity, Severity::Notes);
        assert_eq!(leaves(&tilt(over_deg / 5.0)), None);
    }

    /// East for two metres and then north, as the cut shows so much of it from the south.
    fn round_a_corner(size: ShotSize, until_s: f64) -> Film {
        let walks = walker(&[(2.0, 0.0), (2.0, 9.0)]);
        stretched(film(walks, vec![single(1, 1, size, 180.0)]), &[(0.0, until_s)])
    }

    #[test]
    fn a_turn_outside_the_frame_is_missed_while_the_cut_shows_it() {
        let turns = |film: &Film| {
            let found = leaves(film);
            matches!(found, Some(CutFinding::LeavesFrame { turns: true, is_missed: true, .. }))
        };
        assert!(turns(&round_a_corner(ShotSize::Medium, 4.0)));
        assert!(!turns(&round_a_corner(ShotSize::Medium, 1.9)), "the cut is made before it");
        assert_eq!(leaves(&round_a_corner(ShotSize::ExtremeWide, 4.0)), None);
    }

    #[test]
    fn an_entry_of_nothing_but_an_empty_frame_is_missed_and_found_once() {
        let half_m = half_m(&from_the_east(&[(0.0, 20.0)], 4.0));
        let of = |second: (f64, f64)| {
            let shot = Shot { planned_s: half_m * 1.9, ..level(1, 90.0, 2.0) };
            stretched(film_cut(walker(&[(0.0, 20.0)]), vec![shot], &[1, 1]), &[(0.0, 0.5), second])
        };
        assert_eq!(left(&of((0.6, 1.0))).2, Severity::Notes);
        let empty = of((half_m * 1.1, half_m * 1.8));
        assert_eq!(left(&empty).2, Severity::Warns);
        let count = found(&empty).iter().filter(|placed| placed.finding.rule() == "leaves_frame").count();
        assert_eq!(count, 1);
    }
}
