//! What is offered on a shot or a scene is what its words say.

use glam::DVec2;
use staging::Landmark;
use staging::SetPiece;

use super::*;
use crate::findings::cut::example::{beat, film, level, mark, person, single, two, walker};
use crate::findings::mend::example::{ADAPTER, assert_from, mended, shot_of_mend, with_adapter};
use crate::scene_blocking::{Faces, LineWish, Mark, SceneBlocking};
use crate::shot::ShotOf;

const CHEST: ShotSize = ShotSize::ChestUp;
const PAST_SHOULDER: &str = "shot 1: from where the shoulder is at the edge of the frame";

#[test]
fn the_other_sizes_are_those_of_people_the_nearest_first() {
    assert_eq!(sizes(CHEST, true), [ShotSize::Tight, ShotSize::ExtremeTight]);
    let wider = [ShotSize::Medium, ShotSize::MidThigh, ShotSize::Wide, ShotSize::ExtremeWide];
    assert_eq!(sizes(CHEST, false), wider);
    assert!(sizes(ShotSize::ExtremeTight, true).is_empty() && sizes(ShotSize::ExtremeWide, false).is_empty());
}

/// Ada at (3, 1), who looks at Ben.
fn ada() -> Mark {
    mark(1, DVec2::new(3.0, 1.0), Faces::At(person(2)))
}

/// Ben two metres east of her, who looks at her.
fn ben() -> Mark {
    mark(2, DVec2::new(5.0, 1.0), Faces::At(person(1)))
}

fn blocking(marks: [Mark; 2]) -> SceneBlocking {
    SceneBlocking { marks: marks.into(), ..SceneBlocking::default() }
}

/// Ada past Ben's shoulder, from 4 m away and as high as between his shoulder and his crown.
fn past_ben(side_deg: f64) -> Shot {
    let of = ShotOf::OverShoulder { facing: person(1), near: person(2) };
    Shot { of, height: PhoneHeight::Fixed(Length::from_m(1.6)), ..level(1, side_deg, 4.0) }
}

#[test]
fn a_shoulder_comes_to_the_edge_on_the_side_on_which_the_phone_is() {
    // Behind Ben is 90° of Ada; 2° off it he hides her.
    for (side_deg, mended_deg) in [(92.0, 102.0), (88.0, 78.0)] {
        let hidden = film(blocking([ada(), ben()]), vec![past_ben(side_deg)]);
        assert_from(&shot_of_mend(&hidden, "shoulder_amiss", PAST_SHOULDER), mended_deg);
    }
}

#[test]
fn a_shoulder_comes_to_the_edge_on_the_other_side_where_the_line_wants_it() {
    // From the line the phone goes on to the north of it, so that south of it would be across.
    let shots = vec![past_ben(90.0), single(2, 1, ShotSize::Wide, 320.0)];
    let hidden = film(blocking([ada(), ben()]), shots);
    assert_from(&shot_of_mend(&hidden, "shoulder_amiss", PAST_SHOULDER), 78.0);
}

#[test]
fn a_shoulder_is_where_its_owner_stands_when_the_shot_starts() {
    // Ben comes from south of Ada, and has been at his place for two seconds.
    let way = walker(&[(5.0, 1.0)]).marks.remove(0).way;
    let comes = Mark { place: DVec2::new(3.0, -1.0), way, ..ben() };
    let later = SceneBlocking { beats: vec![beat(1, 5.0, LineWish::Auto)], ..blocking([ada(), comes]) };
    let hidden = film(later, vec![past_ben(92.0)]);
    assert_from(&shot_of_mend(&hidden, "shoulder_amiss", PAST_SHOULDER), 102.0);
}

#[test]
fn a_shoulder_above_or_below_the_frame_is_looked_past_from_the_height_of_the_eyes() {
    for (height_m, place) in [(0.5, ShoulderPlace::Above), (2.6, ShoulderPlace::Below)] {
        let lost = Shot { height: PhoneHeight::Fixed(Length::from_m(height_m)), ..past_ben(104.0) };
        let lost = film(blocking([ada(), ben()]), vec![lost]);
        let found = crate::findings::cut::example::found(&lost).into_iter().map(|placed| placed.finding);
        let amiss = CutFinding::ShoulderAmiss { near: person(2), place };
        assert!(found.collect::<Vec<_>>().contains(&amiss), "from {height_m} m");
        let mended = shot_of_mend(&lost, "shoulder_amiss", "shot 1: as high as shows the shoulder");
        assert_eq!(mended.height, PhoneHeight::At(Landmark::Eyes));
    }
}

#[test]
fn of_two_the_one_who_is_not_seen_comes_into_the_frame() {
    let of_both = |side_deg: f64, away_m: f64| {
        let of = ShotOf::Two(person(1), person(2));
        film(blocking([ada(), ben()]), vec![Shot { of, ..level(1, side_deg, away_m) }])
    };
    // Ben is east of Ada: from there he stands before her.
    let round = "shot 1: from where both are seen beside each other";
    assert_from(&shot_of_mend(&of_both(90.0, 4.0), "one_unseen", round), 125.0);
    let far = "shot 1: from as far away as holds both";
    assert_eq!(shot_of_mend(&of_both(180.0, 0.4), "one_unseen", far).stand, Stand::ForSize);
}

#[test]
fn an_adapter_that_is_gone_or_does_not_fit_comes_off() {
    let with = |name: &str, lens: &str| Shot {
        adapter: Some(name.to_owned()),
        lens: LensChoice::Fixed { name: lens.to_owned(), in_sensor_zoom: 1.0 },
        ..single(1, 1, CHEST, 180.0)
    };
    let sold = film(two(), vec![with("sold", "main")]);
    assert_eq!(mended(&sold, "not_rehearsed"), ["shot 1: without the adapter"]);
    assert_eq!(shot_of_mend(&sold, "not_rehearsed", "shot 1: without the adapter").adapter, None);
    let on_ultra_wide = with_adapter(film(two(), vec![with(ADAPTER, "ultra-wide")]));
    let words = mended(&on_ultra_wide, "adapter_does_not_fit");
    assert!(words.contains(&"shot 1: without the adapter".to_owned()), "{words:?}");
}

#[test]
fn a_shot_of_which_everything_is_wrong_is_set_free() {
    // A hand's breadth from her eyes its lens cannot focus, and from farther off such a look goes over her head.
    let wrong = Shot {
        height: PhoneHeight::Fixed(Length::from_m(1.55)),
        look: Look::Tilt(Angle::from_deg(45.0)),
        ..level(1, 180.0, 0.1)
    };
    let near = film(two(), vec![wrong]);
    let words = "shot 1: the height, place and aim that go with the size";
    let free = shot_of_mend(&near, "too_near_to_focus", words);
    assert_eq!((free.height, free.look, free.stand), (PhoneHeight::BySize, Look::Aimed, Stand::ForSize));
}

#[test]
fn a_plant_stands_to_the_left_of_the_first_shot_that_is_no_insert() {
    let shots = [(1, ShotSize::Insert, 180.0), (2, ShotSize::Wide, 180.0), (3, CHEST, 220.0)];
    let shots = shots.map(|(number, size, side_deg)| single(number, 1, size, side_deg));
    let bare = film(two(), shots.into());
    assert_eq!(mended(&bare, "no_foreground"), ["shot 2: a plant near the lens"]);
    let plant = shot_of_mend(&bare, "no_foreground", "shot 2: a plant near the lens").foreground;
    let right = plant.map(|plant| plant.right.to_m());
    assert!(right.is_some_and(|right| (right + 0.35).abs() < 1e-12), "{right:?}");
}

#[test]
fn one_more_shot_is_from_further_round_and_of_what_is_not_said_yet() {
    let few = film(two(), vec![single(1, 1, ShotSize::Wide, 180.0), single(2, 1, CHEST, 220.0)]);
    let words = "one more shot at the end: tight, from 35° further round, clockwise";
    let more = shot_of_mend(&few, "few_shots", words);
    assert_from(&more, 255.0);
    assert_eq!((more.of, more.size, more.action.as_str()), (ShotOf::One(person(1)), ShotSize::Tight, ""));
}

#[test]
fn a_phone_that_would_go_through_a_wall_stops_before_it_or_stays() {
    let kind = PieceKind::Wall;
    let wall = SetPiece { kind, place: DVec2::new(0.0, -2.0), facing: Angle::ZERO, size: kind.usual_size() };
    let blocking = SceneBlocking { pieces: vec![wall], ..two() };
    let movement = Some(Movement::Push { per_second: Length::from_m(0.4) });
    let pushed = film(blocking, vec![Shot { movement, planned_s: 4.0, ..level(1, 180.0, 3.0) }]);
    // From 3 m away at 0.4 m/s it is at the wall's near face after 2.25 s.
    let words = mended(&pushed, "phone_goes_through");
    assert_eq!(words, ["shot 1: it ends after 2.2 s", "shot 1: the phone and its focus stay"]);
}

/// What is offered on a shot of Ada from 2 m in the south, with a wall so far south of her.
fn behind_a_wall(south_m: f64) -> Vec<String> {
    let kind = PieceKind::Wall;
    let wall =
        SetPiece { kind, place: DVec2::new(0.0, -south_m), facing: Angle::ZERO, size: kind.usual_size() };
    let walled = film(SceneBlocking { pieces: vec![wall], ..two() }, vec![level(1, 180.0, 2.0)]);
    mended(&walled, if south_m < 1.9 { "subject_hidden" } else { "phone_stands_in" })
}

#[test]
fn who_is_behind_a_wall_is_seen_from_round_it_or_from_before_it() {
    // Its face is 0.9 m from her, and it is 4 m wide: from 60° round the phone would be in it.
    let round = "shot 1: from 90° further round, clockwise";
    let words = [round, "shot 1: from the other side", "shot 1: from 0.5 m away"];
    assert_eq!(behind_a_wall(1.0), words);
    let words = ["shot 1: from 35° further round, clockwise", words[1], "shot 1: from 1.6 m away"];
    assert_eq!(behind_a_wall(2.0), words);
}

#[test]
fn a_phone_that_turns_away_ends_sooner_or_stays() {
    let movement = Some(Movement::Pan { per_second: Angle::from_deg(4.0) });
    let away = film(two(), vec![Shot { movement, planned_s: 20.0, ..level(1, 180.0, 2.0) }]);
    let words = mended(&away, "leaves_frame");
    let [ends, stays] = &words[..] else { panic!("{words:?}") };
    assert!(ends.starts_with("shot 1: it ends after") && stays == "shot 1: the phone and its focus stay");
}
