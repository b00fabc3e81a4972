//! Changes that mend a finding, each tried before it is offered.
//!
//! Candidates come in a fixed order, so that the same film is offered the same mends.

mod at_cut;
mod at_shot;
mod trial;

#[cfg(test)]
mod example;

use language::say;
use staging::Movement;
use units::Angle;

use super::cut::{CutFinding, PlacedFinding};
use crate::cut_view::EntryView;
use crate::edit::Command;
use crate::film::Film;
use crate::id::{EntryId, FreshIds, ShotId};
use crate::scene::{KeptAt, Scene};
use crate::shot::{Shot, ShotOf};

use trial::Trial;

/// A change that mends a finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Mend {
    /// What it does, in words.
    pub words: String,
    /// The change.
    pub command: Command,
}

/// A change to try.
#[derive(Debug, Clone)]
struct Candidate {
    words: String,
    change: Change,
}

/// What a candidate changes.
#[derive(Debug, Clone)]
enum Change {
    /// Shots, as they are from then on.
    Shots(Vec<Shot>),
    /// An entry gets a shot of its own in place of the one that it shares with others.
    Own { entry: EntryId, shot: Shot },
    /// A new shot, cut in after an entry.
    Added { after: EntryId, entry: EntryId, shot: Shot },
}

/// Candidates of which the first that mends is offered.
type Group = Vec<Candidate>;

/// A shot as it could be, and what that does to it.
type Other = (Shot, String);

/// A finding to mend, and what new parts would be known by.
struct Task<'a> {
    film: &'a Film,
    scene: &'a Scene,
    views: &'a [EntryView],
    finding: &'a CutFinding,
    new_shot: ShotId,
    new_entry: EntryId,
}

/// Changes that mend a finding of [`check_cut`](crate::check_cut) on the scene of `film` seen as `views`.
///
/// Each was made on a copy: the finding was gone, and nothing else in the scene warned or failed that had not before.
/// Those that leave nothing new to note come first. None for what only a person can mend.
pub fn mends(
    film: &Film,
    scene: &Scene,
    views: &[EntryView],
    placed: &PlacedFinding,
    fresh: &mut FreshIds,
) -> Vec<Mend> {
    let task = Task {
        film,
        scene,
        views,
        finding: &placed.finding,
        new_shot: fresh.fresh(),
        new_entry: fresh.fresh(),
    };
    let groups = match placed.at {
        KeptAt::Cut(from, to) => task.at_cut(from, to),
        KeptAt::Shot(shot) => task.at_shot(shot),
        KeptAt::Scene => task.at_scene(),
    };
    let trial = Trial::of(film, scene, views, placed);
    let mut mends: Vec<(usize, Mend)> = Vec::new();
    for group in groups {
        let tried = group.into_iter().find_map(|candidate| trial.mend(candidate));
        mends.extend(tried.filter(|(_, mend)| !mends.iter().any(|(_, other)| other.command == mend.command)));
    }
    mends.sort_by_key(|(notes, _)| *notes);
    mends.into_iter().map(|(_, mend)| mend).collect()
}

impl Task<'_> {
    fn view(&self, entry: EntryId) -> Option<&EntryView> {
        self.views.iter().find(|view| view.entry == entry)
    }

    /// A shot as people call it: by its number in the scene.
    fn name(&self, shot: ShotId) -> String {
        let at = self.scene.shots.iter().position(|one| one.id == shot);
        at.map_or_else(|| say!("the new shot").to_owned(), |at| say!("shot {}", at + 1))
    }

    /// A shot changed where it is, and for all who use it.
    fn in_place(&self, shot: Shot, does: &str) -> Candidate {
        Candidate { words: format!("{}: {does}", self.name(shot.id)), change: Change::Shots(vec![shot]) }
    }

    /// A shot changed for one entry only.
    fn own(&self, entry: EntryId, shot: &Shot, does: &str) -> Candidate {
        Candidate {
            words: say!("a new shot in place of {} here: {does}", self.name(shot.id)),
            change: Change::Own { entry, shot: shot.known_by(self.new_shot) },
        }
    }
}

/// The shot from another side. Eyes that somebody sees through stay where they are, so a shot through them becomes one
/// beside them.
fn from_side(shot: &Shot, side: Angle) -> Shot {
    let of = match shot.of {
        ShotOf::PointOfView { seen, .. } => ShotOf::One(seen),
        ShotOf::One(_) | ShotOf::Two(..) | ShotOf::OverShoulder { .. } | ShotOf::Object { .. } => {
            shot.of.clone()
        }
    };
    Shot { of, side: whole_turn(side), ..shot.clone() }
}

/// The shot from another side, with left and right of the frame in each other's place.
fn mirrored_to(shot: &Shot, side: Angle) -> Shot {
    let movement = shot.movement.map(|movement| match movement {
        Movement::Pan { per_second } => Movement::Pan { per_second: -per_second },
        Movement::Push { .. } | Movement::Follow { .. } | Movement::Tilt { .. } => movement,
    });
    let foreground = shot.foreground.map(|piece| staging::Foreground { right: -piece.right, ..piece });
    Shot { across: 1.0 - shot.across, movement, foreground, ..from_side(shot, side) }
}

/// The direction in which a view's phone is from whom it is of, clockwise from north on the scene's floor.
fn side_of(view: &EntryView) -> Angle {
    view.rehearsal.as_ref().as_ref().map_or(view.shot.side, |rehearsal| rehearsal.blocking.phone_bearing)
}

/// The directions so far off one to either side, clockwise first.
fn either_way(side: Angle, off: Angle) -> [Angle; 2] {
    [side + off, side - off]
}

/// The same direction within one turn from north.
fn whole_turn(angle: Angle) -> Angle {
    Angle::from_deg(angle.to_deg().rem_euclid(360.0))
}

#[cfg(test)]
mod tests {
    use super::example::{mended, shot_of_mend};
    use super::*;
    use crate::findings::cut::example::{
        beat, film, film_cut, level, person, single, stretched, two, walker,
    };
    use crate::scene_blocking::{LineWish, SceneBlocking};
    use crate::shot::{LensChoice, Sound};
    use staging::ShotSize;
    use units::{FrameRate, Length};

    const CHEST: ShotSize = ShotSize::ChestUp;

    #[test]
    fn a_jump_is_mended_by_size_by_direction_or_by_an_insert() {
        let jump = film(two(), vec![single(1, 1, ShotSize::Medium, 150.0), single(2, 1, CHEST, 160.0)]);
        let words = mended(&jump, "jump_cut");
        assert_eq!(
            words,
            [
                "shot 2: tight instead of chest up",
                "shot 2: wide instead of chest up",
                "shot 2: from 35° further round, clockwise",
                "shot 2: extreme wide, from 35° further round, clockwise",
                "an insert of Ada's hands between",
            ]
        );
    }

    #[test]
    fn a_jump_is_mended_as_its_words_say() {
        let mut blocking = two();
        blocking.beats.push(beat(1, 0.0, LineWish::Auto));
        let in_beat = |shot: Shot| Shot { beat: Some(crate::findings::cut::example::beat_id(1)), ..shot };
        let jump = film(
            blocking,
            vec![in_beat(single(1, 1, ShotSize::Medium, 150.0)), in_beat(single(2, 1, CHEST, 160.0))],
        );
        let mended = |words: &str| shot_of_mend(&jump, "jump_cut", words);
        for words in [
            "shot 2: from 35° further round, clockwise",
            "shot 2: extreme wide, from 35° further round, clockwise",
        ] {
            assert!((mended(words).side.to_deg() - 195.0).abs() < 1e-9, "{words}");
        }
        let hands = mended("an insert of Ada's hands between");
        assert_eq!((hands.size, hands.of.clone()), (ShotSize::Insert, ShotOf::One(person(1))));
        assert_eq!(hands.height, staging::PhoneHeight::Fixed(Length::from_m(0.85)));
        assert!((hands.planned_s - 2.0).abs() < 1e-12, "{hands:?}");
        assert_eq!(hands.beat, Some(crate::findings::cut::example::beat_id(1)));
    }

    #[test]
    fn a_jump_within_one_shot_is_mended_by_a_shot_of_its_own() {
        let twice = film_cut(two(), vec![single(1, 1, CHEST, 150.0)], &[1, 1]);
        let words = mended(&stretched(twice, &[(0.0, 1.0), (3.0, 4.0)]), "jump_cut");
        assert_eq!(words[0], "a new shot in place of shot 1 here: extreme tight instead of chest up");
    }

    #[test]
    fn a_crossed_line_is_mended_from_the_other_side_or_from_the_line() {
        let crossed = film(two(), vec![single(1, 1, CHEST, 130.0), single(2, 2, CHEST, 310.0)]);
        let words = mended(&crossed, "line_crossed");
        assert_eq!(
            words[..2],
            ["shot 2: from the other side of the line", "shot 2: from the line"],
            "{words:?}"
        );
    }

    #[test]
    fn shots_that_stay_beyond_the_line_come_back_together() {
        let shots = [(1, 1, 130.0), (2, 2, 310.0), (3, 1, 50.0), (4, 2, 230.0)];
        let shots = shots.map(|(number, of, side)| single(number, of, CHEST, side));
        let words = mended(&film(two(), shots.into()), "line_crossed");
        assert!(words.contains(&"shot 2, shot 3: from the other side of the line".to_owned()), "{words:?}");
    }

    #[test]
    fn a_walker_who_turns_unseen_is_seen_from_the_other_side_or_straight_on() {
        let walks = film(
            walker(&[(0.0, 50.0)]),
            vec![single(1, 1, ShotSize::Wide, 90.0), single(2, 1, ShotSize::Tight, 270.0)],
        );
        let words = mended(&walks, "direction_turns");
        assert_eq!(words[0], "shot 2: from the other side of their way", "{words:?}");
        let back = walker(&[(0.0, 5.0), (0.1, 5.0), (0.1, -5.0)]);
        let long = |shot: Shot| Shot { planned_s: 12.0, ..shot };
        let shots = vec![long(single(1, 1, ShotSize::ExtremeWide, 90.0)), long(single(2, 1, CHEST, 90.0))];
        let unseen = stretched(film(back, shots), &[(0.0, 3.0), (10.0, 10.5)]);
        assert!(!mended(&unseen, "direction_turns").is_empty());
    }

    #[test]
    fn reverses_are_made_alike() {
        let on = |name: &str| LensChoice::Fixed { name: name.to_owned(), in_sensor_zoom: 1.0 };
        let pairs = [
            Shot { size: ShotSize::Tight, ..single(2, 2, CHEST, 230.0) },
            Shot { height: staging::PhoneHeight::Fixed(Length::from_m(1.2)), ..single(2, 2, CHEST, 230.0) },
            Shot { lens: on("main"), ..single(2, 2, CHEST, 230.0) },
        ];
        for other in pairs {
            let words = mended(&film(two(), vec![single(1, 1, CHEST, 130.0), other]), "reverses_differ");
            assert_eq!(words[0], "shot 2: size, height and lens as in the other", "{words:?}");
        }
    }

    #[test]
    fn looks_are_made_to_meet() {
        let blocking = SceneBlocking { beats: vec![beat(1, 0.0, LineWish::None)], ..two() };
        let alike = film(blocking, vec![single(1, 1, CHEST, 130.0), single(2, 2, CHEST, 310.0)]);
        let words = mended(&alike, "looks_alike");
        assert_eq!(words[0], "shot 2: from the side on which their looks meet");
    }

    #[test]
    fn a_voice_is_recorded_nearer_or_apart() {
        let far = film(two(), vec![Shot { sound: Sound::Dialogue, ..level(1, 180.0, 4.0) }]);
        let words = mended(&far, "voice_far");
        assert_eq!(
            words,
            [
                "shot 1: a recorder 0.5 m from whoever speaks",
                "shot 1: record the words apart, as a wild track"
            ]
        );
    }

    #[test]
    fn a_scene_is_made_to_vary() {
        let same = [(1, 1, 180.0), (2, 2, 170.0), (3, 1, 190.0)];
        let same = film(two(), same.map(|(number, of, side)| single(number, of, CHEST, side)).into());
        assert!(!mended(&same, "one_size").is_empty());
        assert!(!mended(&same, "one_direction").is_empty());
        assert_eq!(mended(&same, "no_foreground"), ["shot 1: a plant near the lens"]);
        let few = film(two(), vec![single(1, 1, ShotSize::Wide, 180.0), single(2, 1, CHEST, 220.0)]);
        let words = mended(&few, "few_shots");
        assert!(words[0].starts_with("one more shot at the end: tight"), "{words:?}");
    }

    #[test]
    fn a_shot_that_cannot_be_had_is_made_possible_where_it_can_be() {
        let gone = LensChoice::Fixed { name: "sold".to_owned(), in_sensor_zoom: 1.0 };
        let sold = film(two(), vec![Shot { lens: gone, ..single(1, 1, CHEST, 180.0) }]);
        assert_eq!(mended(&sold, "not_rehearsed"), ["shot 1: the lens that serves it best"]);
        let near = film(two(), vec![level(1, 180.0, 0.1)]);
        assert!(!mended(&near, "too_near_to_focus").is_empty());
        let missing = film(two(), vec![Shot { of: ShotOf::One(person(3)), ..single(1, 1, CHEST, 180.0) }]);
        assert!(mended(&missing, "not_rehearsed").is_empty(), "only a person can say where they stand");
        let capture_rate = FrameRate::checked_from_fps(96.0).ok();
        let slow = film(two(), vec![Shot { capture_rate, ..single(1, 1, CHEST, 180.0) }]);
        assert_eq!(mended(&slow, "rate_takes_light"), ["shot 1: the film's own frame rate"]);
    }

    #[test]
    fn a_shot_in_a_mirror_has_left_and_right_in_each_others_place() {
        let (ahead, right) = (Length::from_m(0.8), Length::from_m(0.3));
        let piece = staging::Foreground { kind: staging::PieceKind::Plant, ahead, right };
        let pan = |degrees: f64| Some(Movement::Pan { per_second: Angle::from_deg(degrees) });
        let shot =
            Shot { across: 0.3, foreground: Some(piece), movement: pan(5.0), ..single(1, 1, CHEST, 130.0) };
        let mirrored = mirrored_to(&shot, Angle::from_deg(-50.0));
        assert!((mirrored.across - 0.7).abs() < 1e-12, "{mirrored:?}");
        assert_eq!(mirrored.foreground, Some(staging::Foreground { right: -right, ..piece }));
        assert_eq!(mirrored.movement, pan(-5.0));
        assert!((mirrored.side.to_deg() - 310.0).abs() < 1e-9, "within a turn: {mirrored:?}");
        // What neither has a left nor a right stays.
        let push = Some(Movement::Push { per_second: Length::from_m(0.2) });
        assert_eq!(mirrored_to(&Shot { movement: push, ..shot }, Angle::ZERO).movement, push);
    }

    #[test]
    fn through_somebodys_eyes_is_beside_them_once_it_is_from_another_side() {
        let seen = person(1);
        let eyes = Shot { of: ShotOf::PointOfView { of: person(2), seen }, ..single(1, 1, CHEST, 130.0) };
        let other = from_side(&eyes, Angle::from_deg(40.0));
        assert_eq!(other.of, ShotOf::One(seen));
        let two = Shot { of: ShotOf::Two(seen, person(2)), ..eyes };
        assert_eq!(from_side(&two, Angle::from_deg(40.0)).of, two.of);
    }
}
