//! Two neighbours of a cut by themselves: does somebody jump, and do two who face each other match?

use units::{Angle, Length};

use super::CutFinding;
use super::second_of_two::second_of_two;
use crate::cut_view::{EntryView, ScreenDirection, SeenAt, times_apart, turn_between};
use crate::film::Film;
use crate::scene::Scene;
use crate::scene_blocking::{Line, face_each_other};
use crate::shot::ShotOf;

/// A cut between views of one person turns by no less than this: 30 degrees, common practice.
const LEAST_TURN: Angle = Angle::from_deg(30.0);
/// Or it changes their height in the frame by no less: 1.8 times, common practice; about one step of shot size.
const LEAST_TIMES: f64 = 1.8;
/// Reverses have figures within 1.25 times of each other: common practice that they match, the figure is chosen as less
/// than half a step of shot size.
const MOST_REVERSE_TIMES: f64 = 1.25;
/// And the phone within 0.15 m of the same height above either one's eyes: common practice that it matches, the figure
/// is chosen because at two metres it changes the look up or down by four degrees.
const MOST_HEIGHT_APART: Length = Length::from_m(0.15);
/// Entries of one shot with less than this between them, seconds, are one: less than a frame at 100 frames a second.
pub(super) const NO_GAP_S: f64 = 0.01;

/// A cut on which the one in focus seems to jump.
///
/// Common practice, the 30 degrees and the 1.8 times included: a smaller change reads as a mistake, not as another view.
/// Inserts, and views of two different people, cut with anything; a pair is the same two, whichever of them is in focus.
pub(crate) fn jump_cut(
    film: &Film,
    scene: &Scene,
    before: &EntryView,
    next: &EntryView,
) -> Option<CutFinding> {
    let who = before.subject?;
    if before.is_insert() || next.is_insert() || goes_on(before, next) {
        return None;
    }
    let ([_, end], [start, _]) = (before.seen?, seen_again(film, scene, before, next)?);
    let (turn, times) = (turn_between(&end, &start), times_apart(end.figure_share?, start.figure_share?));
    (turn < LEAST_TURN && times < LEAST_TIMES).then_some(CutFinding::JumpCut { who, turn, times })
}

/// What the next entry shows of whoever is in focus before it: of two people, whichever of them is in focus then.
fn seen_again(film: &Film, scene: &Scene, before: &EntryView, next: &EntryView) -> Option<[SeenAt; 2]> {
    if before.subject == next.subject {
        return next.seen;
    }
    match (&before.shot.of, &next.shot.of) {
        (ShotOf::Two(one, other), ShotOf::Two(first, second)) if one == second && other == first => {
            second_of_two(film, scene, next)?.seen
        }
        _ => None,
    }
}

/// Whether the next entry is the same shot where the first one left off, so that nothing is seen of the cut.
pub(super) fn goes_on(before: &EntryView, next: &EntryView) -> bool {
    before.shot.id == next.shot.id && (next.stretch_s.0 - before.stretch_s.1).abs() < NO_GAP_S
}

/// What does not match between two who face each other, on the cut to the entry `at` of all `views`.
///
/// Common practice: reverses match in size, height and lens, and their looks meet across the cut. Between two pairs, each of
/// which matches, coverage goes in or out, and only the looks have to meet.
pub(super) fn reverses(
    film: &Film,
    scene: &Scene,
    views: &[EntryView],
    at: usize,
) -> [Option<CutFinding>; 2] {
    let cut = |at: usize| {
        let (before, next) = (views.get(at.checked_sub(1)?)?, views.get(at)?);
        Some((before, next, seen_as_reverses(film, scene, before, next)?))
    };
    let Some((before, next, [end, start])) = cut(at) else { return [None, None] };
    let matches = |at: usize| {
        cut(at).is_some_and(|(before, next, [end, start])| differences(before, next, &end, &start).is_none())
    };
    let differ = differences(before, next, &end, &start);
    let differ = differ.filter(|_| !(matches(at - 1) && matches(at + 1)));
    [differ, looks_alike(before, &end, &start)]
}

/// What is seen on both sides of a cut between two who face each other.
pub(crate) fn seen_as_reverses(
    film: &Film,
    scene: &Scene,
    before: &EntryView,
    next: &EntryView,
) -> Option<[SeenAt; 2]> {
    if !before.is_single() || !next.is_single() {
        return None;
    }
    let (one, other) = (before.subject?, next.subject?);
    let starts_s = next.rehearsal.as_ref().as_ref().ok()?.scene_s(next.stretch_s.0);
    if one == other {
        return None;
    }
    let person = |who| scene.blocking.person_of(&film.cast, who, starts_s);
    face_each_other(&person(one)?, &person(other)?).then_some([before.seen?[1], next.seen?[0]])
}

fn differences(before: &EntryView, next: &EntryView, end: &SeenAt, start: &SeenAt) -> Option<CutFinding> {
    let (one, other) = (before.rehearsal.as_ref().as_ref().ok()?, next.rehearsal.as_ref().as_ref().ok()?);
    let times = times_apart(end.figure_share?, start.figure_share?);
    let times = (times > MOST_REVERSE_TIMES).then_some(times);
    let heights = [end.above_subject(), start.above_subject()];
    let heights = ((heights[0] - heights[1]).abs() > MOST_HEIGHT_APART).then_some(heights);
    let same_lens = one.on.lens == other.on.lens
        && one.on.adapter == other.on.adapter
        && (one.on.in_sensor_zoom - other.on.in_sensor_zoom).abs() < f64::EPSILON;
    let wide = |result: &crate::ShotResult| Some(result.outcome.as_ref().ok()?.view.horizontal_fov());
    let views = if same_lens { None } else { wide(one.result()).zip(wide(other.result())) };
    let finding = CutFinding::ReversesDiffer { times, heights, views: views.map(<[Angle; 2]>::from) };
    (times.is_some() || heights.is_some() || views.is_some()).then_some(finding)
}

/// Looks that do not meet. Where the phone changed sides of one line, that is what is to be said.
fn looks_alike(before: &EntryView, end: &SeenAt, start: &SeenAt) -> Option<CutFinding> {
    let looks =
        end.looks.filter(|looks| start.looks == Some(*looks) && *looks != ScreenDirection::Neutral)?;
    let changes_sides = || {
        let line: Line = before.line?;
        let (from, to) = (end.camera.position().truncate(), start.camera.position().truncate());
        Some(line.side_of(from) == line.side_of(to).reversed())
    };
    (changes_sides() != Some(true)).then_some(CutFinding::LooksAlike { looks })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::cut::example::{
        at_cuts, film, film_cut, finds, level, mark, person, rules, single, stretched, two,
    };
    use crate::scene_blocking::{Faces, LineWish, SceneBlocking};
    use crate::shot::ShotOf;
    use crate::shot::{LensChoice, Shot};
    use glam::DVec2;
    use staging::{Look, PhoneHeight, ShotSize, Stand};

    const CHEST: ShotSize = ShotSize::ChestUp;

    #[test]
    fn a_view_of_the_same_person_turned_by_29_degrees_jumps_and_by_31_does_not() {
        let [CutFinding::JumpCut { turn, times, .. }] =
            at_cuts(&film(two(), vec![level(1, 180.0, 2.0), level(2, 209.0, 2.0)]))[..]
        else {
            panic!("no jump");
        };
        assert!((turn.to_deg() - 29.0).abs() < 1e-9 && (times - 1.0).abs() < 1e-9, "{turn:?} {times}");
        assert_eq!(rules(&film(two(), vec![level(1, 180.0, 2.0), level(2, 211.0, 2.0)])), [""; 0]);
    }

    #[test]
    fn a_cut_in_by_1_79_times_jumps_and_by_1_81_does_not() {
        // Figures go as f / (s − f), and f is 6.8 mm.
        let away = |times: f64| 0.0068 + (3.6 - 0.0068) / times;
        let cut_in = |times| rules(&film(two(), vec![level(1, 180.0, 3.6), level(2, 180.0, away(times))]));
        assert_eq!(cut_in(1.79), ["jump_cut"]);
        assert_eq!(cut_in(1.81), [""; 0]);
        assert_eq!(cut_in(1.0 / 1.79), ["jump_cut"]);
        assert_eq!(cut_in(1.0 / 1.81), [""; 0]);
    }

    #[test]
    fn inserts_and_views_of_two_people_do_not_jump() {
        let insert = single(2, 1, ShotSize::Insert, 180.0);
        assert_eq!(rules(&film(two(), vec![single(1, 1, ShotSize::Insert, 180.0), insert])), [""; 0]);
        let other = single(2, 2, CHEST, 180.0);
        assert!(!finds(&film(two(), vec![single(1, 1, CHEST, 180.0), other]), "jump_cut"));
    }

    #[test]
    fn the_same_two_jump_whichever_of_them_is_in_focus() {
        let of = |first: u64, second: u64| ShotOf::Two(person(first), person(second));
        let then = |of_then: ShotOf, size: ShotSize, side_deg: f64| {
            let first = Shot { of: of(1, 2), ..single(1, 1, CHEST, 180.0) };
            at_cuts(&film(two(), vec![first, Shot { of: of_then, ..single(2, 1, size, side_deg) }]))
        };
        let same = then(of(2, 1), CHEST, 180.0);
        let [CutFinding::JumpCut { who, turn, times }] = same[..] else { panic!("{same:?}") };
        assert!(who == person(1) && turn < Angle::from_deg(5.0) && times < 1.1, "{same:?}");
        for side_deg in [160.0, 200.0] {
            let rules =
                |of_then| then(of_then, CHEST, side_deg).iter().map(CutFinding::rule).collect::<Vec<_>>();
            assert_eq!(rules(of(2, 1)), ["jump_cut"], "{side_deg}");
            assert_eq!(rules(of(1, 2)), ["jump_cut"], "{side_deg}");
        }
        assert_eq!(then(of(2, 1), CHEST, 225.0), [], "from elsewhere");
        assert_eq!(then(of(2, 1), ShotSize::ExtremeWide, 180.0), [], "much wider");
        assert!(then(ShotOf::One(person(2)), CHEST, 180.0).is_empty(), "one of the two alone");
    }

    #[test]
    fn a_later_stretch_of_the_same_shot_jumps_and_the_next_moment_does_not() {
        let twice = film_cut(two(), vec![single(1, 1, CHEST, 180.0)], &[1, 1]);
        assert_eq!(rules(&stretched(twice.clone(), &[(0.0, 1.0), (3.0, 4.0)])), ["jump_cut"]);
        assert_eq!(rules(&stretched(twice, &[(0.0, 2.0), (2.0, 4.0)])), [""; 0]);
    }

    #[test]
    fn a_push_that_comes_near_enough_does_not_jump() {
        let push = staging::Movement::Push { per_second: Length::from_m(0.4) };
        let lens = LensChoice::Fixed { name: "main".to_owned(), in_sensor_zoom: 1.0 };
        let pushed = Shot { movement: Some(push), lens, ..single(1, 1, CHEST, 180.0) };
        let twice = film_cut(two(), vec![pushed], &[1, 1]);
        assert_eq!(rules(&stretched(twice.clone(), &[(0.0, 0.5), (0.7, 4.0)])), ["jump_cut"]);
        assert_eq!(rules(&stretched(twice, &[(0.0, 0.1), (3.0, 4.0)])), [""; 0]);
    }

    /// Ada seen from the south-east, and Ben as `change` has him, from the south-west if it does not say else.
    fn reverse(change: impl FnOnce(Shot) -> Shot) -> Vec<CutFinding> {
        at_cuts(&film(two(), vec![single(1, 1, CHEST, 130.0), change(single(2, 2, CHEST, 230.0))]))
    }

    #[test]
    fn matched_reverses_pass() {
        assert_eq!(reverse(|shot| shot), []);
    }

    #[test]
    fn from_one_pair_that_matches_to_the_next_coverage_may_go_in() {
        let pair = |first: u64, size: ShotSize, other: ShotSize| {
            [single(first, 1, size, 130.0), single(first + 1, 2, other, 230.0)]
        };
        let found = |pairs: [[Shot; 2]; 2]| rules(&film(two(), pairs.into_iter().flatten().collect()));
        let tight = ShotSize::Tight;
        assert_eq!(found([pair(1, CHEST, CHEST), pair(3, tight, tight)]), [""; 0]);
        let differ = found([pair(1, CHEST, CHEST), pair(3, tight, CHEST)]);
        assert_eq!(
            differ, ["reverses_differ"; 2],
            "the second does not match, so neither cut is a step from pair to pair"
        );
        let alone = film(two(), vec![single(1, 1, CHEST, 130.0), single(2, 2, tight, 230.0)]);
        assert_eq!(rules(&alone), ["reverses_differ"]);
    }

    #[test]
    fn reverses_that_differ_say_in_what() {
        let differ = |found: &[CutFinding]| {
            let [CutFinding::ReversesDiffer { times, heights, views }] = *found else { panic!("{found:?}") };
            (times, heights, views)
        };
        let (times, heights, _) = differ(&reverse(|shot| Shot { size: ShotSize::Tight, ..shot }));
        assert!(times.is_some_and(|times| times > 1.25) && heights.is_none(), "{times:?} {heights:?}");
        let lower = |shot: Shot| {
            let low = staging::Body::standing(Length::from_m(1.82)).height_of(staging::Landmark::Eyes);
            Shot { height: PhoneHeight::Fixed(low - Length::from_m(0.16)), ..shot }
        };
        let (_, heights, _) = differ(&reverse(lower));
        let [one, other] = heights.expect("another height");
        assert!((one - other).to_m() > 0.15 && (one - other).to_m() < 0.17, "{one} {other}");
        let on = |name: &str| LensChoice::Fixed { name: name.to_owned(), in_sensor_zoom: 1.0 };
        let main = Shot { lens: on("main"), ..single(1, 1, CHEST, 130.0) };
        let long = Shot { lens: on("long"), ..single(2, 2, CHEST, 230.0) };
        let (times, heights, views) = differ(&at_cuts(&film(two(), vec![main, long])));
        assert!(times.is_none() && heights.is_none(), "{times:?} {heights:?}");
        let [wide, narrow] = views.expect("another lens");
        assert!(wide > narrow, "{wide} {narrow}");
    }

    #[test]
    fn reverses_within_1_24_times_and_0_14_m_pass_and_1_26_does_not() {
        let ben = staging::Body::standing(Length::from_m(1.82));
        let at = |away_m: f64, below_m: f64| {
            let height = ben.height_of(staging::Landmark::Eyes) - Length::from_m(below_m);
            let other = Shot {
                of: ShotOf::One(person(2)),
                height: PhoneHeight::Fixed(height),
                look: Look::Tilt(Angle::ZERO),
                stand: Stand::At(Length::from_m(away_m)),
                ..level(2, 230.0, 2.0)
            };
            rules(&film(two(), vec![level(1, 130.0, 2.0), other]))
        };
        // A figure's share goes as stature over distance: 1.82 m at d looks as 1.66 m at 2 m.
        let alike = 2.0 * 1.82 / 1.66;
        assert_eq!(at(alike * 1.24, 0.0), [""; 0]);
        assert_eq!(at(alike * 1.26, 0.0), ["reverses_differ"]);
        assert_eq!(at(alike, 0.14), [""; 0]);
        assert_eq!(at(alike, 0.16), ["reverses_differ"]);
    }

    #[test]
    fn two_who_do_not_face_each_other_need_no_match() {
        let marks = vec![
            mark(1, DVec2::ZERO, Faces::Towards(Angle::from_deg(180.0))),
            mark(2, DVec2::new(2.0, 0.0), Faces::At(person(1))),
        ];
        let blocking = SceneBlocking { marks, ..SceneBlocking::default() };
        let shots = vec![single(1, 1, CHEST, 130.0), single(2, 2, ShotSize::Tight, 230.0)];
        assert_eq!(rules(&film(blocking, shots)), [""; 0]);
    }

    #[test]
    fn looks_the_same_way_across_are_found_where_no_line_says_so() {
        let mut blocking = two();
        blocking.beats.push(crate::findings::cut::example::beat(1, 0.0, LineWish::None));
        let across = film(blocking, vec![single(1, 1, CHEST, 130.0), single(2, 2, CHEST, 310.0)]);
        assert_eq!(rules(&across), ["looks_alike"]);
        let crossed = film(two(), vec![single(1, 1, CHEST, 130.0), single(2, 2, CHEST, 310.0)]);
        assert_eq!(rules(&crossed), ["line_crossed"]);
        let past = ShotOf::OverShoulder { facing: person(2), near: person(1) };
        let over = Shot { of: past, ..single(2, 2, CHEST, 250.0) };
        let near = film(two(), vec![single(1, 1, CHEST, 110.0), over]);
        assert!(!finds(&near, "looks_alike"), "{:?}", at_cuts(&near));
    }

    #[test]
    fn reverses_from_as_high_above_either_ones_eyes_match_however_tall_they_are() {
        // Eyes are at 0.934 of 1.66 m and 1.82 m.
        let above = |shot: Shot, eyes_m: f64, above_m: f64| Shot {
            height: PhoneHeight::Fixed(Length::from_m(eyes_m + above_m)),
            ..shot
        };
        let differ = |one_m: f64, other_m: f64| {
            let one = above(single(1, 1, CHEST, 130.0), 0.934 * 1.66, one_m);
            let other = above(single(2, 2, CHEST, 230.0), 0.934 * 1.82, other_m);
            finds(&film(two(), vec![one, other]), "reverses_differ")
        };
        assert!(!differ(0.2, 0.2) && !differ(-0.2, -0.2), "as high");
        assert!(differ(0.1, -0.1), "one from above, one from below");
    }
}
