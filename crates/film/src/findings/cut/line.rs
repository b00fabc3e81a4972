//! What a cut has established and must hold: the side of the line, and which way each walker goes across the frame.

use std::collections::BTreeMap;

use units::Length;

use super::CutFinding;
use super::second_of_two::second_of_two;
use crate::cut_view::{EntryView, ScreenDirection};
use crate::film::Film;
use crate::id::PersonId;
use crate::scene::Scene;
use crate::scene_blocking::{Line, LineSide};
use crate::shot::ShotOf;

/// The side of the line that a scene has been seen from so far.
///
/// Common practice: the phone keeps to one side of the line, so that whoever looks right goes on looking right. A shot on
/// the line, a turn that is seen, or a move across it within a shot lets the next shot choose anew.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct EstablishedSide {
    known: Option<(Line, LineSide)>,
    /// Whether the last entry was beyond the line: one that stays there with it crosses nothing.
    beyond: bool,
}

/// Which way each walker went across the frame when last seen.
///
/// Common practice: who goes to the right goes on to the right, until seen to turn or to come straight on.
#[derive(Debug, Clone, Default)]
pub(super) struct WaysAcross(BTreeMap<PersonId, ScreenDirection>);

/// Whether a walker goes the other way in `next` than when they were last seen in the entries `before` it.
pub(crate) fn direction_turns(film: &Film, scene: &Scene, before: &[EntryView], next: &EntryView) -> bool {
    let mut ways = WaysAcross::default();
    for view in before {
        ways.sees(film, scene, view);
    }
    ways.sees(film, scene, next).is_some()
}

impl EstablishedSide {
    /// Takes the next entry in, and says if it crosses the line. Inserts tell no side.
    pub(super) fn sees(&mut self, view: &EntryView) -> Option<CutFinding> {
        if view.is_insert() {
            return None;
        }
        let (line, [start, end]) = (view.line?, view.seen?);
        let first = start.side?;
        let last = end.side.unwrap_or(first);
        let expected = self.known.and_then(|(known, side)| side_on(&known, side, &line));
        let crossed = expected.filter(|side| first != LineSide::On && first == side.reversed());
        let finding = crossed.filter(|_| !self.beyond).map(|before| CutFinding::LineCrossed {
            before,
            beyond: Length::from_m(off_line_m(&line, start.camera.position().truncate())),
        });
        let stays = first == last && first != LineSide::On;
        let side = if stays { expected.unwrap_or(first) } else { last };
        self.known = (side != LineSide::On && !view.turns).then_some((line, side));
        self.beyond = crossed.is_some() && stays && !view.turns;
        finding
    }
}

impl WaysAcross {
    /// Takes the next entry in, and says if a walker goes the other way there than when last seen: the one in focus, or
    /// else the other one of two. Inserts tell no way.
    pub(super) fn sees(&mut self, film: &Film, scene: &Scene, view: &EntryView) -> Option<CutFinding> {
        if view.is_insert() {
            return None;
        }
        let turned = self.turned(view);
        let ShotOf::Two(_, second) = view.shot.of else { return turned };
        let walks = scene.blocking.mark(second).is_some_and(|mark| mark.way.is_some());
        let second = if walks { second_of_two(film, scene, view) } else { None };
        turned.or(second.and_then(|second| self.turned(&second)))
    }

    /// Whether the one in focus of an entry goes the other way than when last seen.
    fn turned(&mut self, view: &EntryView) -> Option<CutFinding> {
        let (who, [first, last]) = (view.subject?, view.goes);
        // Whoever sets off within the entry is seen to choose the way.
        let before = self.0.insert(who, last?)?;
        let now = first?;
        before.is_opposite(now).then_some(CutFinding::DirectionTurns { who, before, now })
    }
}

/// The same side of another line; none of one that runs across the first.
fn side_on(known: &Line, side: LineSide, line: &Line) -> Option<LineSide> {
    if known == line {
        return Some(side);
    }
    known.runs_with(line).map(|same| if same { side } else { side.reversed() })
}

/// How far off the line a point of the floor is, metres.
fn off_line_m(line: &Line, point: glam::DVec2) -> f64 {
    point.distance(line.mirrored(point)) / 2.0
}

#[cfg(test)]
mod tests {
    use crate::findings::cut::CutFinding;
    use crate::findings::cut::example::{
        at_cuts, beat, beat_id, film, film_cut, mark, person, rules, single, stretched, two, walker,
    };
    use crate::scene_blocking::{Faces, LineSide, LineWish, SceneBlocking};
    use crate::shot::{Shot, ShotOf};
    use glam::DVec2;
    use staging::{Movement, ShotSize, Stand};
    use units::{Angle, Length};

    const CHEST: ShotSize = ShotSize::ChestUp;

    /// The cut of chest-up shots of Ada and Ben in turn, from those directions.
    fn in_turn(sides: &[f64]) -> Vec<CutFinding> {
        let of = [1, 2].into_iter().cycle();
        let shots = (1..).zip(of).zip(sides).map(|((number, of), side)| single(number, of, CHEST, *side));
        at_cuts(&film(two(), shots.collect()))
    }

    #[test]
    fn the_phone_stays_on_its_side_of_the_line() {
        assert_eq!(in_turn(&[130.0, 230.0, 170.0, 200.0]), []);
        let found = in_turn(&[130.0, 310.0]);
        let [CutFinding::LineCrossed { before, beyond }] = found[..] else { panic!("{found:?}") };
        assert_eq!(before, LineSide::Right);
        assert!(beyond > Length::from_m(0.2) && beyond < Length::from_m(2.0), "{beyond}");
    }

    #[test]
    fn who_stays_beyond_the_line_or_comes_back_crosses_once() {
        let once = |sides: &[f64]| {
            let found = in_turn(sides);
            found.iter().filter(|finding| finding.rule() == "line_crossed").count()
        };
        assert_eq!(once(&[130.0, 310.0, 130.0]), 1);
        assert_eq!(once(&[130.0, 310.0, 50.0, 310.0]), 1);
    }

    #[test]
    fn nine_degrees_off_is_on_the_line_and_lets_the_next_choose_and_eleven_does_not() {
        let crossed =
            |off: f64| in_turn(&[130.0, 90.0 + off, 50.0]).iter().any(|one| one.rule() == "line_crossed");
        assert!(!crossed(9.0), "on the line");
        assert!(crossed(11.0), "beside the line");
    }

    #[test]
    fn an_insert_between_does_not_hide_the_crossing() {
        let insert = single(2, 1, ShotSize::Insert, 0.0);
        let shots = vec![single(1, 1, CHEST, 130.0), insert, single(3, 2, CHEST, 310.0)];
        assert_eq!(rules(&film(two(), shots)), ["line_crossed"]);
    }

    #[test]
    fn a_move_across_the_line_within_a_shot_takes_the_side_along() {
        let walks = walker(&[(0.0, 20.0)]);
        // The line is by hand, due east two metres north; the phone goes along and crosses it.
        let line = LineWish::ByHand(DVec2::new(-9.0, 2.0), DVec2::new(9.0, 2.0));
        let blocking = SceneBlocking { beats: vec![beat(1, 0.0, line)], ..walks };
        let follow = Movement::Follow { per_second: Length::from_m(1.0) };
        let along = Shot { movement: Some(follow), ..single(2, 1, CHEST, 90.0) };
        let beyond = single(3, 1, ShotSize::ExtremeTight, 20.0);
        let before = single(1, 1, ShotSize::Wide, 180.0);
        let with = film(blocking.clone(), vec![before.clone(), along, beyond.clone()]);
        assert!(!rules(&with).contains(&"line_crossed"), "{:?}", at_cuts(&with));
        let mut without = blocking;
        without.beats.push(beat(2, 10.0, line));
        let far = Shot { beat: Some(beat_id(2)), ..beyond };
        let without = film(without, vec![before, far]);
        assert!(rules(&without).contains(&"line_crossed"), "{:?}", at_cuts(&without));
    }

    #[test]
    fn a_new_beat_keeps_the_side_of_a_line_turned_round_and_starts_afresh_across() {
        let ends = |from: (f64, f64), to: (f64, f64)| {
            LineWish::ByHand(DVec2::new(from.0, from.1), DVec2::new(to.0, to.1))
        };
        let crossed = |second: LineWish, side: f64| {
            let first = ends((0.0, 0.0), (2.0, 0.0));
            let blocking = SceneBlocking { beats: vec![beat(1, 0.0, first), beat(2, 5.0, second)], ..two() };
            let then = Shot { beat: Some(beat_id(2)), ..single(2, 2, CHEST, side) };
            rules(&film(blocking, vec![single(1, 1, CHEST, 130.0), then])).contains(&"line_crossed")
        };
        let reversed = ends((2.0, 0.0), (0.0, 0.0));
        assert!(!crossed(reversed, 230.0) && crossed(reversed, 310.0), "turned round");
        let across = ends((2.0, 0.0), (2.0, 3.0));
        assert!(!crossed(across, 230.0) && !crossed(across, 310.0) && !crossed(across, 50.0), "across");
    }

    /// Ada walks north all the time, seen from those directions a second apart.
    fn walks_seen_from(sides: &[f64]) -> Vec<&'static str> {
        let sizes = [ShotSize::Wide, ShotSize::Tight].into_iter().cycle();
        let shots = (1..).zip(sizes).zip(sides).map(|((number, size), side)| single(number, 1, size, *side));
        rules(&film(walker(&[(0.0, 50.0)]), shots.collect()))
    }

    #[test]
    fn a_walker_goes_on_the_same_way_across_the_frame() {
        assert_eq!(walks_seen_from(&[90.0, 100.0]), [""; 0]);
        assert_eq!(walks_seen_from(&[90.0, 270.0]), ["line_crossed", "direction_turns"]);
    }

    #[test]
    fn a_walker_who_comes_straight_on_may_go_either_way_then() {
        assert_eq!(walks_seen_from(&[90.0, 0.0, 270.0]), [""; 0]);
        assert_eq!(walks_seen_from(&[90.0, 14.0, 270.0]), [""; 0]);
        assert!(walks_seen_from(&[90.0, 16.0, 270.0]).contains(&"direction_turns"), "16° is not straight on");
    }

    #[test]
    fn a_turn_that_is_seen_explains_the_other_way_and_one_between_does_not() {
        // North for five metres, then back south beside it.
        let blocking = walker(&[(0.0, 5.0), (0.1, 5.0), (0.1, -5.0)]);
        let long = |shot: Shot| Shot { planned_s: 12.0, ..shot };
        // A wide frame sees 2.4 m to either side, an extreme wide one all the way; she is back where she began at 10.1 s.
        let cut = |first: ShotSize, until_s: f64| {
            let shots = vec![long(single(1, 1, first, 90.0)), long(single(2, 1, CHEST, 90.0))];
            rules(&stretched(film(blocking.clone(), shots), &[(0.0, until_s), (10.0, 10.5)]))
        };
        assert_eq!(cut(ShotSize::ExtremeWide, 3.0), ["direction_turns"]);
        assert_eq!(cut(ShotSize::ExtremeWide, 6.0), [""; 0]);
        assert_eq!(cut(ShotSize::Wide, 6.0), ["direction_turns"], "she turns outside the frame");
    }

    #[test]
    fn who_turns_outside_the_frame_goes_on_as_last_seen() {
        // East for two metres, then north: a chest-up frame sees half a metre to either side.
        let blocking = walker(&[(2.0, 0.0), (2.0, 9.0)]);
        let shots = |first: ShotSize| {
            let first = single(1, 1, first, 180.0);
            // From the west, north is to the left.
            vec![first, Shot { beat: Some(beat_id(2)), ..single(2, 1, ShotSize::MidThigh, 270.0) }]
        };
        let beats = vec![beat(1, 0.0, LineWish::None), beat(2, 4.0, LineWish::None)];
        let blocking = SceneBlocking { beats, ..blocking };
        assert_eq!(rules(&film(blocking.clone(), shots(CHEST))), ["direction_turns"]);
        assert_eq!(rules(&film(blocking, shots(ShotSize::ExtremeWide))), [""; 0]);
    }

    #[test]
    fn a_visible_turn_lets_the_phone_choose_its_side_anew() {
        let blocking = walker(&[(0.0, 5.0), (5.0, 5.0)]);
        let shots = || {
            let first = Shot { planned_s: 8.0, ..single(1, 1, ShotSize::ExtremeWide, 90.0) };
            vec![first, Shot { planned_s: 8.0, ..single(2, 1, ShotSize::Tight, 300.0) }]
        };
        let unseen = stretched(film(blocking.clone(), shots()), &[(0.0, 3.0), (3.0, 4.0)]);
        assert!(rules(&unseen).contains(&"line_crossed"), "{:?}", at_cuts(&unseen));
        let seen = stretched(film(blocking, shots()), &[(0.0, 6.0), (6.0, 8.0)]);
        assert!(!rules(&seen).contains(&"line_crossed"), "{:?}", at_cuts(&seen));
    }

    #[test]
    fn two_walkers_have_each_their_own_way() {
        let mut blocking = walker(&[(0.0, 50.0)]);
        let mut other = walker(&[(3.0, -50.0)]).marks.remove(0);
        other.who = person(2);
        other.place = DVec2::new(3.0, 0.0);
        blocking.marks.push(other);
        let second = Shot { of: ShotOf::One(person(2)), ..single(2, 1, CHEST, 90.0) };
        let cut = film_cut(blocking, vec![single(1, 1, CHEST, 90.0), second], &[1, 2, 1]);
        assert!(!rules(&cut).contains(&"direction_turns"), "{:?}", at_cuts(&cut));
    }

    /// A wide shot from the south of Ada, who walks to the east, and of Ben, who stands north of her way.
    fn of_both(first: u64, second: u64) -> Shot {
        let of = ShotOf::Two(person(first), person(second));
        Shot { of, ..single(1, 1, ShotSize::ExtremeWide, 180.0) }
    }

    /// The cut from such a shot to one of Ada alone from that side.
    fn then_from(both: Shot, side_deg: f64) -> Vec<&'static str> {
        let mut blocking = walker(&[(4.0, 0.0)]);
        blocking.marks[0].place = DVec2::new(-4.0, 0.0);
        blocking.marks.push(mark(2, DVec2::new(0.0, 2.0), Faces::Towards(Angle::from_deg(180.0))));
        blocking.beats.push(beat(1, 0.0, LineWish::None));
        rules(&film(blocking, vec![both, single(2, 1, ShotSize::ExtremeWide, side_deg)]))
    }

    #[test]
    fn the_second_of_two_goes_on_the_same_way_too() {
        for both in [of_both(1, 2), of_both(2, 1)] {
            assert_eq!(then_from(both.clone(), 0.0), ["direction_turns"], "{both:?}");
            assert_eq!(then_from(both, 140.0), [""; 0], "the same way");
        }
    }

    #[test]
    fn the_second_of_two_is_seen_to_go_by_a_phone_that_turns() {
        let pan = Movement::Pan { per_second: Angle::from_deg(2.0) };
        let turns = || Shot { movement: Some(pan), ..of_both(2, 1) };
        assert_eq!(then_from(turns(), 0.0), ["direction_turns"]);
        assert_eq!(then_from(turns(), 140.0), [""; 0], "the same way");
    }

    #[test]
    fn who_of_two_is_never_in_the_frame_is_seen_to_go_no_way() {
        // From half a metre off the middle between them, she passes behind the phone.
        let near = Shot { stand: Stand::At(Length::from_m(0.5)), ..of_both(2, 1) };
        assert_eq!(then_from(near, 0.0), [""; 0]);
    }

    #[test]
    fn how_far_beyond_the_line_is_how_far_from_it_the_phone_stands() {
        // Ada and Ben stand on the axis from west to east, so that it is how far south or north the phone is.
        let crossed = film(two(), vec![single(1, 1, CHEST, 130.0), single(2, 2, CHEST, 310.0)]);
        let found = at_cuts(&crossed);
        let [CutFinding::LineCrossed { beyond, .. }] = found[..] else { panic!("{found:?}") };
        let [phone, _] = crate::findings::cut::example::views(&crossed)[1].seen.expect("it is seen");
        let north_m = phone.camera.position().y;
        assert!(north_m > 0.0 && (beyond.to_m() - north_m).abs() < 1e-12, "{beyond} {north_m}");
    }

    #[test]
    fn after_a_shot_on_the_line_the_next_chooses_and_is_held_to_it() {
        let found = in_turn(&[130.0, 90.0, 130.0, 310.0]);
        assert_eq!(found.iter().filter(|one| one.rule() == "line_crossed").count(), 1, "{found:?}");
    }
}
