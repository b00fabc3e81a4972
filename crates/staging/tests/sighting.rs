//! Photos that are drawn from a known pose give that pose again, and as exactly as they say.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

#[path = "trials/chance.rs"]
mod chance;

use chance::Chance;
use glam::{DVec2, DVec3};
use proptest::prelude::*;
use staging::{
    Board, Camera, NoSighting, PhotoLens, Sighting, Sights, SightsPart, Stated, Undetermined, Upright,
};
use units::{Angle, Length};

const SIZE_PX: DVec2 = DVec2::new(4032.0, 3024.0);
const FOCAL_PX: f64 = 2900.0;
const FOCAL_RELATIVE_SD: f64 = 0.01;
const CLICK_SD_PX: f64 = 6.0;
const TALL_SD_M: f64 = 0.02;

/// How a photo was truly taken.
#[derive(Debug, Clone, Copy)]
struct Truth {
    height_m: f64,
    tilt_deg: f64,
    roll_deg: f64,
    focal_px: f64,
}

impl Truth {
    fn level(height_m: f64, tilt_deg: f64) -> Self {
        Self { height_m, tilt_deg, roll_deg: 0.0, focal_px: FOCAL_PX }
    }

    fn see(self, point: DVec3) -> DVec2 {
        let position = DVec3::new(0.0, 0.0, self.height_m);
        let (tilt, roll) = (Angle::from_deg(self.tilt_deg), Angle::from_deg(self.roll_deg));
        let seen = Camera::rolled(position, Angle::ZERO, tilt, roll).see(point).expect("in front");
        SIZE_PX / 2.0 + DVec2::new(seen.right, -seen.up) * self.focal_px
    }

    fn horizon(self) -> [DVec2; 2] {
        [-0.5, 0.5].map(|right| self.see(DVec3::new(right, 1.0, 0.0) * 1.0e8 + DVec3::Z * self.height_m))
    }

    fn upright(self, (right, ahead): (f64, f64), tall_m: f64) -> Upright {
        let foot = DVec3::new(right, ahead, 0.0);
        Upright {
            foot: self.see(foot),
            head: self.see(foot + DVec3::Z * tall_m),
            height: stated_m(tall_m, TALL_SD_M),
        }
    }

    /// A door whose middle stands there, turned out of the picture's plane.
    fn board(self, (right, ahead): (f64, f64), turn_deg: f64, size_m: (f64, f64), sd_m: f64) -> Board {
        let turn = Angle::from_deg(turn_deg);
        let half = DVec3::new(turn.cos(), turn.sin(), 0.0) * (size_m.0 / 2.0);
        let middle = DVec3::new(right, ahead, 0.0);
        let up = DVec3::Z * size_m.1;
        Board {
            bottom: [self.see(middle - half), self.see(middle + half)],
            top: [self.see(middle - half + up), self.see(middle + half + up)],
            width: stated_m(size_m.0, sd_m),
            height: stated_m(size_m.1, sd_m),
        }
    }
}

fn stated_m(value: f64, sd: f64) -> Stated<Length> {
    Stated { value: Length::from_m(value), sd: Length::from_m(sd) }
}

fn sights() -> Sights {
    let lens = PhotoLens { size_px: SIZE_PX, focal_px: FOCAL_PX, focal_relative_sd: FOCAL_RELATIVE_SD };
    Sights { click_sd_px: CLICK_SD_PX, ..Sights::new(lens) }
}

fn solve(sights: &Sights) -> Sighting {
    sights.solve().expect("a sighting")
}

fn assert_is(sighting: &Sighting, truth: Truth, slack: f64) {
    let height = sighting.height().value.to_m();
    let (tilt, roll) = (sighting.tilt().value.to_deg(), sighting.roll().value.to_deg());
    let off = [height - truth.height_m, tilt - truth.tilt_deg, roll - truth.roll_deg];
    assert!(off.iter().all(|off| off.abs() < slack), "{height} m, {tilt}°, {roll}° is not {truth:?}");
}

#[test]
fn a_horizon_and_a_person_give_the_pose() {
    let truth = Truth { roll_deg: 1.5, ..Truth::level(1.45, -7.0) };
    let person = truth.upright((0.6, 3.5), 1.72);
    let given = Sights { horizon: Some(truth.horizon()), uprights: vec![person], roll: None, ..sights() };
    assert_is(&solve(&given), truth, 1e-6);
}

#[test]
fn a_horizon_and_a_typed_height_give_the_pose() {
    let truth = Truth { roll_deg: -4.0, ..Truth::level(1.45, 12.0) };
    let given =
        Sights { horizon: Some(truth.horizon()), height: Some(stated_m(1.45, 0.05)), roll: None, ..sights() };
    let sighting = solve(&given);
    assert_is(&sighting, truth, 1e-6);
    assert!((sighting.height().sd.to_m() - 0.05).abs() < 1e-6, "{sighting:?}");
}

#[test]
fn two_people_give_the_pose_without_a_horizon() {
    let truth = Truth::level(1.6, -9.0);
    let uprights = vec![truth.upright((-0.8, 2.5), 1.65), truth.upright((1.5, 7.0), 1.80)];
    assert_is(&solve(&Sights { uprights, ..sights() }), truth, 1e-5);
}

#[test]
fn a_doors_corners_give_the_pose_without_anything_else() {
    let truth = Truth { roll_deg: 3.0, ..Truth::level(1.5, -12.0) };
    let boards = vec![truth.board((0.5, 3.0), 25.0, (0.9, 2.0), 0.005)];
    assert_is(&solve(&Sights { boards, roll: None, ..sights() }), truth, 1e-5);
}

impl Chance {
    fn click(&mut self, at: DVec2) -> DVec2 {
        at + DVec2::new(self.normal(CLICK_SD_PX), self.normal(CLICK_SD_PX))
    }

    /// A true length, were it stated as `value` with that standard uncertainty.
    fn around(&mut self, value: f64, sd: f64) -> f64 {
        value + self.normal(sd)
    }
}

/// The share of trials in which height, tilt and roll are within 1.96 of their standard uncertainties, and the share in
/// doubt.
fn shares(seed: u64, trial: impl Fn(&mut Chance) -> (Truth, Sights)) -> ([f64; 3], f64) {
    let mut chance = Chance(seed);
    let (mut inside, mut doubtful) = ([0_u32; 3], 0_u32);
    for _ in 0..TRIALS {
        let (truth, given) = trial(&mut chance);
        let sighting = solve(&given);
        let (height, tilt, roll) = (sighting.height(), sighting.tilt(), sighting.roll());
        let off = [
            (height.value.to_m() - truth.height_m) / height.sd.to_m(),
            (tilt.value.to_deg() - truth.tilt_deg) / tilt.sd.to_deg(),
            (roll.value.to_deg() - truth.roll_deg) / roll.sd.to_deg(),
        ];
        for (count, off) in inside.iter_mut().zip(off) {
            *count += u32::from(off.abs() < 1.96);
        }
        doubtful += u32::from(sighting.fit().is_doubtful());
    }
    (inside.map(|count| f64::from(count) / f64::from(TRIALS)), f64::from(doubtful) / f64::from(TRIALS))
}

const TRIALS: u32 = 1000;

fn assert_honest((inside, doubtful): ([f64; 3], f64)) {
    assert!(inside.iter().all(|share| (0.92..=0.98).contains(share)), "{inside:?}");
    assert!(doubtful < 0.08, "{doubtful}");
}

/// A lens whose focal length is off as lenses' are, on a phone as it is held by hand.
fn taken(chance: &mut Chance, height_m: f64, tilt_deg: f64) -> Truth {
    let focal_px = FOCAL_PX * libm::exp(chance.normal(FOCAL_RELATIVE_SD));
    Truth { height_m, tilt_deg, roll_deg: chance.normal(2.0), focal_px }
}

fn clicked(chance: &mut Chance, upright: Upright, stated: f64) -> Upright {
    Upright {
        foot: chance.click(upright.foot),
        head: chance.click(upright.head),
        height: stated_m(stated, TALL_SD_M),
    }
}

#[test]
fn a_horizon_and_a_person_say_how_well_they_tell_it() {
    assert_honest(shares(1, |chance| {
        let truth = taken(chance, 1.5, -6.0);
        let tall = chance.around(1.75, TALL_SD_M);
        let person = clicked(chance, truth.upright((0.7, 4.0), tall), 1.75);
        let horizon = truth.horizon().map(|point| chance.click(point));
        (truth, Sights { horizon: Some(horizon), uprights: vec![person], roll: None, ..sights() })
    }));
}

#[test]
fn a_horizon_and_a_typed_height_say_how_well_they_tell_it() {
    assert_honest(shares(2, |chance| {
        let height = chance.around(1.4, 0.05);
        let truth = taken(chance, height, 8.0);
        let horizon = truth.horizon().map(|point| chance.click(point));
        let height = Some(stated_m(1.4, 0.05));
        (truth, Sights { horizon: Some(horizon), height, roll: None, ..sights() })
    }));
}

#[test]
fn two_people_say_how_well_they_tell_it() {
    assert_honest(shares(3, |chance| {
        let truth = taken(chance, 1.6, -10.0);
        let tall = [1.65, 1.80].map(|stated| chance.around(stated, TALL_SD_M));
        let near = clicked(chance, truth.upright((-0.6, 2.5), tall[0]), 1.65);
        let far = clicked(chance, truth.upright((1.2, 7.0), tall[1]), 1.80);
        (truth, Sights { uprights: vec![near, far], ..sights() })
    }));
}

#[test]
fn a_door_says_how_well_it_tells_it() {
    assert_honest(shares(4, |chance| {
        let truth = taken(chance, 1.5, -8.0);
        let size = (chance.around(0.9, 0.005), chance.around(2.0, 0.005));
        let mut door = truth.board((0.4, 3.0), 30.0, size, 0.005);
        door.bottom = door.bottom.map(|point| chance.click(point));
        door.top = door.top.map(|point| chance.click(point));
        (door.width, door.height) = (stated_m(0.9, 0.005), stated_m(2.0, 0.005));
        (truth, Sights { boards: vec![door], ..sights() })
    }));
}

/// A place on the floor and somebody's height, read off where neither was marked for the pose.
#[test]
fn what_is_read_off_is_as_well_known_as_it_says() {
    let mut chance = Chance(5);
    let (mut placed, mut tall) = (0_u32, 0_u32);
    for _ in 0..TRIALS {
        let height = chance.around(1.5, 0.04);
        let truth = taken(&mut chance, height, -8.0);
        let horizon = Some(truth.horizon().map(|point| chance.click(point)));
        let height = Some(stated_m(1.5, 0.04));
        let sighting = solve(&Sights { horizon, height, roll: None, ..sights() });
        let person = truth.upright((0.8, 5.0), 1.68);
        let (foot, head) = (chance.click(person.foot), chance.click(person.head));
        let place = sighting.place_on_floor(foot).expect("on the floor");
        let off = place.at - DVec2::new(0.8, 5.0);
        placed += u32::from(off.dot(place.covariance.inverse() * off) < 5.991);
        let read = sighting.height_of(foot, head).expect("a height");
        tall += u32::from((read.value.to_m() - 1.68).abs() < 1.96 * read.sd.to_m());
    }
    for count in [placed, tall] {
        assert!((920..=980).contains(&count), "{placed} places and {tall} heights of {TRIALS} within");
    }
}

fn open(given: &Sights) -> Undetermined {
    let Err(NoSighting::Undetermined { open, .. }) = given.solve() else {
        return Undetermined { height: false, tilt: false, roll: false };
    };
    open
}

#[test]
fn what_is_not_determined_is_said() {
    let truth = Truth::level(1.5, -8.0);
    let horizon = Some(truth.horizon());
    let person = vec![truth.upright((0.5, 4.0), 1.7)];
    let nothing = open(&Sights { roll: None, ..sights() });
    assert_eq!(nothing, Undetermined { height: true, tilt: true, roll: true });
    let only_horizon = open(&Sights { horizon, roll: None, ..sights() });
    assert_eq!(only_horizon, Undetermined { height: true, tilt: false, roll: false });
    let only_height = open(&Sights { height: Some(stated_m(1.5, 0.05)), ..sights() });
    assert_eq!(only_height, Undetermined { height: false, tilt: true, roll: false });
    let person_alone = open(&Sights { uprights: person, ..sights() });
    assert!(person_alone.height && person_alone.tilt && !person_alone.roll, "{person_alone:?}");
    let tilt = Some(Stated { value: Angle::from_deg(-8.0), sd: Angle::from_deg(1.0) });
    let leaning = open(&Sights { height: Some(stated_m(1.5, 0.05)), tilt, roll: None, ..sights() });
    assert_eq!(leaning, Undetermined { height: false, tilt: false, roll: true });
}

#[test]
fn a_person_and_a_typed_height_give_the_tilt() {
    let truth = Truth::level(1.5, -8.0);
    let uprights = vec![truth.upright((0.5, 4.0), 1.7)];
    assert_is(&solve(&Sights { height: Some(stated_m(1.5, 0.05)), uprights, ..sights() }), truth, 1e-5);
}

#[test]
fn a_door_of_another_size_than_stated_is_found_out() {
    let truth = Truth::level(1.5, -8.0);
    let mut door = truth.board((0.4, 3.0), 20.0, (0.9, 2.0), 0.005);
    door.width = stated_m(0.7, 0.005);
    let given = Sights {
        horizon: Some(truth.horizon()),
        uprights: vec![truth.upright((-0.8, 5.0), 1.7)],
        boards: vec![door],
        ..sights()
    };
    let fit = solve(&given).fit().clone();
    assert!(fit.is_doubtful(), "{fit:?}");
    assert_eq!(fit.worst.map(|(part, _)| part), Some(SightsPart::Board(0)));
}

#[test]
fn feet_above_the_horizon_fit_nothing() {
    let truth = Truth::level(1.5, 0.0);
    let above = Upright { foot: DVec2::new(2000.0, 100.0), ..truth.upright((0.5, 4.0), 1.7) };
    let given = Sights { uprights: vec![above], horizon: Some(truth.horizon()), ..sights() };
    let is_believed = given.solve().is_ok_and(|sighting| !sighting.fit().is_doubtful());
    assert!(!is_believed, "{:?}", given.solve());
}

#[test]
fn what_cannot_be_is_refused_by_name() {
    let refused = |given: Sights| given.solve().expect_err("refused").to_string();
    assert_eq!(
        refused(Sights { click_sd_px: f64::NAN, ..sights() }),
        "click_sd_px: NaN px is not allowed: 0.01 to 1000 px"
    );
    assert_eq!(
        refused(Sights { height: Some(stated_m(0.0, 0.1)), ..sights() }),
        "height: 0 m is not allowed: 0.01 to 100 m"
    );
    let far = Some([DVec2::ZERO, DVec2::new(1.0e9, 0.0)]);
    assert!(
        refused(Sights { horizon: far, ..sights() }).starts_with("horizon: 1000000000 px is not allowed")
    );
}

#[test]
fn places_and_heights_are_read_off_with_their_uncertainty() {
    let truth = Truth::level(1.5, -8.0);
    let given = Sights { horizon: Some(truth.horizon()), height: Some(stated_m(1.5, 0.03)), ..sights() };
    let sighting = solve(&given);
    let near = sighting.place_on_floor(truth.see(DVec3::new(0.5, 3.0, 0.0))).expect("on the floor");
    let far = sighting.place_on_floor(truth.see(DVec3::new(0.5, 12.0, 0.0))).expect("on the floor");
    assert!((near.at - DVec2::new(0.5, 3.0)).length() < 1e-6, "{near:?}");
    assert!((far.at - DVec2::new(0.5, 12.0)).length() < 1e-5, "{far:?}");
    // The height's 2 % is in both; what a pixel is worth grows with the square of the distance.
    let share = |place: staging::FloorPlace| place.distance().sd.to_m() / place.distance().value.to_m();
    assert!(share(near) > 0.02 && share(near) < 0.03 && share(far) > 1.2 * share(near), "{near:?} {far:?}");
    let person = truth.upright((-0.5, 5.0), 1.64);
    let tall = sighting.height_of(person.foot, person.head).expect("a height");
    assert!((tall.value.to_m() - 1.64).abs() < 1e-6, "{tall:?}");
    assert!(tall.sd.to_m() > 0.02 && tall.sd.to_m() < 0.08, "{tall:?}");
    assert_eq!(sighting.place_on_floor(DVec2::new(2000.0, 0.0)), None);
    assert_eq!(sighting.height_of(person.head, person.foot), None);
}

#[test]
fn the_camera_in_the_place_sees_what_the_photo_shows() {
    let truth = Truth { roll_deg: 6.0, ..Truth::level(1.5, -12.0) };
    let boards = vec![truth.board((0.5, 3.0), 25.0, (0.9, 2.0), 0.005)];
    let sighting = solve(&Sights { boards, roll: None, ..sights() });
    let point = DVec3::new(0.3, 4.0, 0.8);
    let shown = sighting.see(point).expect("in front");
    // Looking east from (10, 20): ahead is x, right is south.
    let camera = sighting.camera(DVec2::new(10.0, 20.0), Angle::from_deg(90.0));
    let seen = camera.see(DVec3::new(14.0, 19.7, 0.8)).expect("in front");
    let at = SIZE_PX / 2.0 + DVec2::new(seen.right, -seen.up) * sighting.focal_px().value;
    assert!((at - shown).length() < 1e-9 && (at - truth.see(point)).length() < 1e-3, "{at} {shown}");
}

/// Any number that a page could hand over, and some that it could not.
fn any_px() -> impl Strategy<Value = f64> {
    prop_oneof![4 => -500.0..4500.0_f64, 1 => -1.0e6..1.0e6_f64, 1 => Just(f64::NAN), 1 => Just(0.0)]
}

fn any_point() -> impl Strategy<Value = DVec2> {
    (any_px(), any_px()).prop_map(|(x, y)| DVec2::new(x, y))
}

fn any_m() -> impl Strategy<Value = Stated<Length>> {
    (prop_oneof![0.02..50.0_f64, Just(1.7), Just(0.0)], prop_oneof![0.0..2.0_f64, Just(0.0)])
        .prop_map(|(value, sd)| stated_m(value, sd))
}

prop_compose! {
    fn any_sights()(
        focal_px in prop_oneof![100.0..1.0e5_f64, Just(2900.0)],
        focal_relative_sd in 0.0..0.3_f64,
        click_sd_px in 0.01..100.0_f64,
        horizon in proptest::option::of([any_point(), any_point()]),
        height in proptest::option::of(any_m()),
        tilt in proptest::option::of((-80.0..80.0_f64, 0.0..20.0_f64)),
        roll in proptest::option::of((-50.0..50.0_f64, 0.0..20.0_f64)),
        uprights in proptest::collection::vec((any_point(), any_point(), any_m()), 0..4),
        boards in proptest::collection::vec(([any_point(), any_point()], [any_point(), any_point()], any_m(), any_m()), 0..3),
    ) -> Sights {
        let angle = |(value, sd)| Stated { value: Angle::from_deg(value), sd: Angle::from_deg(sd) };
        Sights {
            lens: PhotoLens { size_px: SIZE_PX, focal_px, focal_relative_sd },
            click_sd_px,
            horizon,
            height,
            tilt: tilt.map(angle),
            roll: roll.map(angle),
            uprights: uprights.into_iter().map(|(foot, head, height)| Upright { foot, head, height }).collect(),
            boards: boards
                .into_iter()
                .map(|(bottom, top, width, height)| Board { bottom, top, width, height })
                .collect(),
        }
    }
}

proptest! {
    #[test]
    fn any_marks_give_finite_numbers_or_a_reason(given in any_sights(), at in any_point(), other in any_point()) {
        match given.solve() {
            Ok(sighting) => {
                let numbers = [
                    sighting.height().sd.to_m(), sighting.tilt().sd.to_deg(), sighting.roll().sd.to_deg(),
                    sighting.focal_px().value, sighting.focal_px().sd, sighting.fit().squares,
                ];
                prop_assert!(numbers.iter().all(|number| number.is_finite()), "{sighting:?}");
                prop_assert!(sighting.height().value.to_m() > 0.0);
                if let Some(place) = sighting.place_on_floor(at) {
                    prop_assert!(place.at.is_finite() && place.covariance.is_finite(), "{place:?}");
                    prop_assert!(place.distance().sd.to_m() >= 0.0);
                }
                if let Some(tall) = sighting.height_of(at, other) {
                    prop_assert!(tall.value.to_m() > 0.0, "{tall:?}");
                }
            }
            Err(reason) => prop_assert!(!reason.to_string().is_empty()),
        }
    }

    #[test]
    fn a_photo_of_a_known_pose_gives_it_again(
        height_m in 0.3..3.0_f64,
        tilt_deg in -35.0..20.0_f64,
        roll_deg in -10.0..10.0_f64,
        (right, ahead) in (-1.0..1.0_f64, 2.0..6.0_f64),
        turn_deg in -40.0..40.0_f64,
    ) {
        let truth = Truth { height_m, tilt_deg, roll_deg, focal_px: FOCAL_PX };
        let boards = vec![truth.board((right, ahead), turn_deg, (0.9, 2.0), 0.005)];
        let person = truth.upright((-right, ahead + 2.0), 1.7);
        let given = Sights { boards, uprights: vec![person], roll: None, click_sd_px: 2.0, ..sights() };
        let sighting = solve(&given);
        prop_assert!(sighting.fit().squares < 1e-9, "{sighting:?}");
        prop_assert!((sighting.height().value.to_m() - height_m).abs() < 1e-4, "{sighting:?}");
        prop_assert!((sighting.tilt().value.to_deg() - tilt_deg).abs() < 1e-3, "{sighting:?}");
        prop_assert!((sighting.roll().value.to_deg() - roll_deg).abs() < 1e-3, "{sighting:?}");
    }

    #[test]
    fn two_points_of_the_horizon_give_the_look_exactly(
        tilt_deg in -40.0..40.0_f64,
        roll_deg in -40.0..40.0_f64,
        is_swapped in any::<bool>(),
    ) {
        let truth = Truth { roll_deg, ..Truth::level(1.5, tilt_deg) };
        let [left, right] = truth.horizon();
        let horizon = Some(if is_swapped { [right, left] } else { [left, right] });
        let (tilt, roll) = Sights { horizon, ..sights() }.horizon_look().expect("a look");
        prop_assert!((tilt.to_deg() - tilt_deg).abs() < 1e-9, "{tilt} is not {tilt_deg}");
        prop_assert!((roll.to_deg() - roll_deg).abs() < 1e-9, "{roll} is not {roll_deg}");
    }
}
