//! What is offered at a cut puts the phone where its words say.

use glam::DVec2;
use staging::{Landmark, Movement, along};

use super::*;
use crate::film::Film;
use crate::findings::cut::example::{beat, film, level, mark, person, single, two, views, walker};
use crate::findings::mend::example::{
    ADAPTER, assert_from, mended, offered, shot_of_mend, shots_of, shots_of_mend, with_adapter,
};
use crate::scene_blocking::{Faces, LineWish, SceneBlocking};

const CHEST: ShotSize = ShotSize::ChestUp;

/// Ada, so far north and a metre west of a line by hand that runs north from (4, 0), and as long as that.
fn before_a_line(north_m: f64, line_m: f64, shots: Vec<Shot>) -> Film {
    let line = LineWish::ByHand(DVec2::new(4.0, 0.0), DVec2::new(4.0, line_m));
    let marks = vec![mark(1, DVec2::new(3.0, north_m), Faces::Towards(Angle::ZERO))];
    film(SceneBlocking { marks, beats: vec![beat(1, 0.0, line)], ..SceneBlocking::default() }, shots)
}

/// Ada from beyond that line, and then from 1.5 m to the west-north-west of her.
fn from_both_sides() -> Film {
    before_a_line(2.0, 6.0, vec![level(1, 90.0, 3.0), Shot { across: 0.3, ..level(2, 300.0, 1.5) }])
}

fn push(metres: f64) -> Movement {
    Movement::Push { per_second: Length::from_m(metres) }
}

fn on(name: &str, in_sensor_zoom: f64) -> LensChoice {
    LensChoice::Fixed { name: name.to_owned(), in_sensor_zoom }
}

#[test]
fn a_jump_is_mended_from_further_round_the_other_way_where_the_line_is_near() {
    // 35° clockwise of 250° the phone would be across the line between the two.
    let second = Shot { headroom: Some(0.3), ..level(2, 250.0, 2.0) };
    let jump = film(two(), vec![level(1, 250.0, 2.0), second]);
    let mended = |words: &str| shot_of_mend(&jump, "jump_cut", words);
    assert_from(&mended("shot 2: from 35° further round, anticlockwise"), 215.0);
    assert_from(&mended("shot 2: extreme wide, from 35° further round, anticlockwise"), 215.0);
    // Another size is as far away as it needs, and has its own headroom.
    let tighter = mended("shot 2: tight instead of chest up");
    assert_eq!((tighter.stand, tighter.headroom), (Stand::ForSize, None));
}

#[test]
fn the_other_side_of_the_line_is_where_the_phones_place_is_mirrored() {
    let mended = shot_of_mend(&from_both_sides(), "line_crossed", "shot 2: from the other side of the line");
    // The phone stands 1 m and 1.5 m · sin 60° before the line, and 0.75 m north of Ada.
    let east_of_ada_m = 2.0 + 1.5 * Angle::from_deg(60.0).sin();
    assert_from(&mended, Angle::from_components(east_of_ada_m, 0.75).to_deg());
    assert!((mended.across - 0.7).abs() < 1e-12, "{mended:?}");
}

#[test]
fn from_the_line_is_where_the_phones_distance_meets_it() {
    // Ada stands a metre before it: 1.5 m away it is met √1.25 m north of her, or south where that makes a jump.
    let off_deg = Angle::from_components(1.0, libm::sqrt(1.25)).to_deg();
    for (first, side_deg) in [(level(1, 90.0, 3.0), off_deg), (level(1, 70.0, 2.0), 180.0 - off_deg)] {
        let second = Shot { across: 0.3, ..level(2, 300.0, 1.5) };
        let crossed = before_a_line(2.0, 6.0, vec![first, second]);
        let mended = shot_of_mend(&crossed, "line_crossed", "shot 2: from the line");
        assert_from(&mended, side_deg);
        assert!((mended.across - 0.5).abs() < 1e-12, "{mended:?}");
    }
}

#[test]
fn a_phone_too_near_to_reach_the_line_stands_along_it() {
    // The line ends 7 m south of Ada, so that so far off its end a metre beside it is on it.
    let shots = [level(1, 90.0, 4.0), level(2, 270.0, 0.8), level(3, 20.0, 0.8)];
    // North of her it jumps to the third.
    for (count, side_deg) in [(2, 0.0), (3, 180.0)] {
        let crossed = before_a_line(8.0, 1.0, shots[..count].to_vec());
        assert_from(&shot_of_mend(&crossed, "line_crossed", "shot 2: from the line"), side_deg);
    }
}

#[test]
fn wider_shots_come_from_where_the_phone_is_mirrored_and_from_straight_across() {
    let crossed = from_both_sides();
    let words = mended(&crossed, "line_crossed");
    assert!(words.contains(&"shot 2: medium, from the other side of the line".to_owned()), "{words:?}");
    let shown = views(&crossed);
    let line = shown[1].line.expect("a line");
    let mirrored_deg = across_line(&line, &shown[1]).to_deg();
    let beside_deg = [0.0, 15.0, -15.0, 35.0, -35.0, 50.0, -50.0, 65.0, -65.0];
    let sides_deg = [mirrored_deg, 90.0].into_iter().flat_map(|side| beside_deg.map(|off| side + off));
    let sides_deg: Vec<f64> = sides_deg.map(|side| side.rem_euclid(360.0)).collect();
    let wider = wider_across(&line, &shown[1]);
    let of_size = [ShotSize::Medium, ShotSize::MidThigh, ShotSize::Wide, ShotSize::ExtremeWide]
        .into_iter()
        .flat_map(|size| sides_deg.iter().map(move |side| (size, side)));
    assert_eq!(wider.len(), 4 * sides_deg.len());
    for ((shot, does), (size, side_deg)) in wider.iter().zip(of_size) {
        assert_from(shot, *side_deg);
        assert_eq!((shot.size, shot.stand), (size, Stand::ForSize), "{does}");
    }
}

#[test]
fn a_walker_is_seen_from_where_the_words_say() {
    // Ada walks to the north-east by east, seen from her right and then, on a move, from her left.
    let way = along(Angle::from_deg(60.0)) * 50.0;
    let left = single(2, 1, ShotSize::Tight, 330.0);
    let moves = Shot { across: 0.3, movement: Some(push(0.05)), planned_s: 6.0, ..left };
    let walks = film(walker(&[(way.x, way.y)]), vec![single(1, 1, ShotSize::Wide, 150.0), moves.clone()]);
    let other = shot_of_mend(&walks, "direction_turns", "shot 2: from the other side of their way");
    assert_from(&other, 150.0);
    assert!((other.across - 0.7).abs() < 1e-12, "{other:?}");
    let straight = shot_of_mend(&walks, "direction_turns", "shot 2: from before them, as they come");
    assert_from(&straight, 60.0);
    assert!((straight.across - 0.5).abs() < 1e-12, "{straight:?}");
    // A shot of its own between the two is short and still.
    let offered = offered(&walks, "direction_turns");
    let between = offered.iter().find(|mend| mend.words.contains("between, in which they come or go"));
    let shots = shots_of(&between.expect("it is offered").command);
    let [between] = &shots[..] else { panic!("{shots:?}") };
    assert_from(between, 60.0);
    let (id, size, side) = (between.id, ShotSize::ExtremeWide, between.side);
    assert_eq!(*between, Shot { id, size, side, across: 0.5, movement: None, planned_s: 2.0, ..moves });
}

#[test]
fn a_reverse_is_made_as_the_other_in_all_that_is_seen_of_it() {
    let model = Shot {
        headroom: Some(0.2),
        height: PhoneHeight::At(Landmark::Eyes),
        look: Look::Tilt(Angle::from_deg(-2.0)),
        stand: Stand::At(Length::from_m(2.0)),
        lens: on("main", 2.0),
        adapter: Some(ADAPTER.to_owned()),
        across: 0.35,
        ..single(1, 1, ShotSize::Medium, 130.0)
    };
    let differ = with_adapter(film(two(), vec![model.clone(), single(2, 2, CHEST, 230.0)]));
    let words = "shot 2: size, height and lens as in the other";
    let other = shot_of_mend(&differ, "reverses_differ", words);
    let reverse = single(2, 2, CHEST, 230.0);
    let (id, of, side, across) = (reverse.id, reverse.of, reverse.side, reverse.across);
    assert_eq!(other, Shot { id, of, side, across, ..model });
}

#[test]
fn a_reverse_is_made_alike_from_its_own_side() {
    let words = "shot 2: size, height and lens as in the other";
    for side_deg in [200.0, 215.0, 250.0] {
        let reverse = Shot { across: 0.4, ..single(2, 2, ShotSize::Tight, side_deg) };
        let differ = film(two(), vec![single(1, 1, CHEST, 130.0), reverse]);
        let other = shot_of_mend(&differ, "reverses_differ", words);
        assert_from(&other, side_deg);
        assert_eq!((other.size, other.across.to_bits()), (CHEST, 0.4_f64.to_bits()));
    }
}

#[test]
fn a_reverse_is_as_high_above_its_eyes_as_the_other_however_tall_they_are() {
    let from = |number, side_deg, height_m: f64| Shot {
        height: PhoneHeight::Fixed(Length::from_m(height_m)),
        ..single(number, number, CHEST, side_deg)
    };
    let mut differ = film(two(), vec![from(1, 130.0, 1.2), from(2, 230.0, 1.75)]);
    let mut cast = differ.cast.to_vec();
    cast[1].stature = Length::from_m(2.0);
    differ.cast = cast.into();
    let words = "shot 2: size, height and lens as in the other";
    let other = shot_of_mend(&differ, "reverses_differ", words);
    let PhoneHeight::Fixed(height) = other.height else { panic!("{other:?}") };
    // Eyes are at 0.934 of 1.66 m and of 2 m.
    let expected_m = 1.2 + 0.934 * (2.0 - 1.66);
    assert!((height.to_m() - expected_m).abs() < 1e-9, "{height} {expected_m}");
}

#[test]
fn the_reverse_of_a_push_is_as_large_as_the_push_ends() {
    let height = PhoneHeight::At(Landmark::Shoulder);
    let pushed = Shot { movement: Some(push(0.4)), look: Look::Aimed, height, ..level(1, 130.0, 3.0) };
    let differ = film(two(), vec![pushed, Shot { height, ..single(2, 2, CHEST, 230.0) }]);
    let words = "shot 2: size, height and lens as in the other";
    let other = shot_of_mend(&differ, "reverses_differ", words);
    let Stand::At(stand) = other.stand else { panic!("{other:?}") };
    // Ada stands at the floor's origin. Figures go as stature over distance.
    let [_, end] = views(&differ)[0].seen.expect("it is seen");
    let expected_m = end.camera.position().truncate().length() * 1.82 / 1.66;
    assert!((stand.to_m() - expected_m).abs() < 1e-9, "{stand} {expected_m}");
}

#[test]
fn two_shots_are_made_alike_by_taking_from_both_what_differs() {
    let moved = |number, side_deg, away_m: f64| Shot {
        size: ShotSize::Medium,
        height: PhoneHeight::Fixed(Length::from_m(1.5)),
        look: Look::Tilt(Angle::from_deg(-2.0)),
        stand: Stand::At(Length::from_m(away_m)),
        lens: on("main", 1.0),
        adapter: Some(ADAPTER.to_owned()),
        movement: Some(push(0.1)),
        ..single(number, number, CHEST, side_deg)
    };
    let differ = with_adapter(film(two(), vec![moved(1, 130.0, 3.0), moved(2, 230.0, 1.5)]));
    let words = "shot 1 and shot 2: extreme wide on the ultra-wide lens, without a move";
    let shots = shots_of_mend(&differ, "reverses_differ", words);
    assert_eq!(shots.len(), 2, "{shots:?}");
    for (shot, (number, side_deg)) in shots.iter().zip([(1, 130.0), (2, 230.0)]) {
        assert_from(shot, side_deg);
        let still = single(number, number, ShotSize::ExtremeWide, side_deg);
        assert_eq!(*shot, Shot { lens: on("ultra-wide", 1.0), side: shot.side, ..still });
    }
}

#[test]
fn looks_meet_from_as_far_off_the_way_between_the_two() {
    // Each is seen from 40° off the way to the other, from either side of it.
    let (ada, ben) = (DVec2::new(1.0, 2.0), DVec2::new(2.5, 3.0));
    let marks = vec![mark(1, ada, Faces::At(person(2))), mark(2, ben, Faces::At(person(1)))];
    let beats = vec![beat(1, 0.0, LineWish::None)];
    let blocking = SceneBlocking { marks, beats, ..SceneBlocking::default() };
    let way_deg = azimuth(ben - ada).to_deg();
    let shots = vec![single(1, 1, CHEST, way_deg + 40.0), single(2, 2, CHEST, way_deg + 220.0)];
    let words = "shot 2: from the side on which their looks meet";
    assert_from(&shot_of_mend(&film(blocking, shots), "looks_alike", words), way_deg + 140.0);
}
