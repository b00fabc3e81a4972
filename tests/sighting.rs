//! Where a photo was taken from, against OpenCV's and `SciPy`'s best fits to the same points.
#![expect(clippy::expect_used, reason = "a test that cannot read its figures must fail")]

use glam::DVec2;
use serde::Deserialize;
use staging::{Board, PhotoLens, Sights, Stated};
use units::{Angle, Length};

#[derive(Deserialize)]
struct Reference {
    source: String,
    tolerance_m: f64,
    tolerance_deg: f64,
    size_px: (f64, f64),
    focal_px: f64,
    case: Vec<Photo>,
}

#[derive(Deserialize)]
struct Photo {
    case: String,
    noise_px: f64,
    true_height_m: f64,
    true_tilt_deg: f64,
    true_roll_deg: f64,
    height_m: f64,
    tilt_deg: f64,
    roll_deg: f64,
    squares_px: f64,
    doors: Vec<Door>,
}

#[derive(Deserialize)]
struct Door {
    width_m: f64,
    height_m: f64,
    corners_px: [(f64, f64); 4],
}

fn reference() -> Reference {
    toml::from_str(include_str!("reference/sighting.toml")).expect("the reference")
}

/// A door of exactly that size, as a library takes it that knows points exactly.
fn board(door: &Door) -> Board {
    let [left, right, top_left, top_right] = door.corners_px.map(|(x, y)| DVec2::new(x, y));
    let exactly = |metres: f64| Stated { value: Length::from_m(metres), sd: Length::ZERO };
    Board {
        bottom: [left, right],
        top: [top_left, top_right],
        width: exactly(door.width_m),
        height: exactly(door.height_m),
    }
}

/// What is given of a case: nothing but its doors and its lens.
fn sights(reference: &Reference, case: &Photo) -> Sights {
    let lens = PhotoLens {
        size_px: DVec2::new(reference.size_px.0, reference.size_px.1),
        focal_px: reference.focal_px,
        focal_relative_sd: 0.0,
    };
    Sights {
        click_sd_px: case.noise_px.max(1.0),
        roll: None,
        boards: case.doors.iter().map(board).collect(),
        ..Sights::new(lens)
    }
}

#[test]
fn height_tilt_and_roll_are_those_of_the_library() {
    let reference = reference();
    assert!(reference.case.len() >= 8, "{}", reference.source);
    for case in &reference.case {
        let given = sights(&reference, case);
        let sighting = given.solve().expect("a sighting");
        let height = sighting.height().value.to_m();
        let (tilt, roll) = (sighting.tilt().value.to_deg(), sighting.roll().value.to_deg());
        let name = &case.case;
        assert!(
            (height - case.height_m).abs() < reference.tolerance_m,
            "{name}: {height} is not {}",
            case.height_m
        );
        assert!(
            (tilt - case.tilt_deg).abs() < reference.tolerance_deg,
            "{name}: {tilt} is not {}",
            case.tilt_deg
        );
        assert!(
            (roll - case.roll_deg).abs() < reference.tolerance_deg,
            "{name}: {roll} is not {}",
            case.roll_deg
        );
        let squares_px = sighting.fit().squares * given.click_sd_px * given.click_sd_px;
        assert!(
            squares_px < case.squares_px * 1.001 + 1e-9,
            "{name}: {squares_px} is not {}",
            case.squares_px
        );
    }
}

#[test]
fn what_was_true_is_within_what_is_said() {
    let reference = reference();
    for case in &reference.case {
        let sighting = sights(&reference, case).solve().expect("a sighting");
        let (height, tilt, roll) = (sighting.height(), sighting.tilt(), sighting.roll());
        let off = [
            (height.value.to_m() - case.true_height_m, height.sd.to_m()),
            (tilt.value.to_deg() - case.true_tilt_deg, tilt.sd.to_deg()),
            (roll.value.to_deg() - case.true_roll_deg, roll.sd.to_deg()),
        ];
        for (off, sd) in off {
            let limit = if case.noise_px > 0.0 { 2.5 * sd } else { 1e-9 };
            assert!(off.abs() < limit, "{}: off by {off}, which is said to be {sd}", case.case);
        }
    }
}

#[test]
fn the_solved_phone_sees_the_librarys_points_where_the_library_does() {
    let reference = reference();
    let mut count = 0;
    for case in reference.case.iter().filter(|case| case.noise_px < 1e-9) {
        let sighting = sights(&reference, case).solve().expect("a sighting");
        let camera = sighting.camera(DVec2::ZERO, Angle::ZERO);
        for door in &case.doors {
            let [left, right, top_left, top_right] = door.corners_px.map(|(x, y)| DVec2::new(x, y));
            let [from, to] = [left, right].map(|at| sighting.place_on_floor(at).expect("on the floor").at);
            assert!((from.distance(to) - door.width_m).abs() < 1e-9, "{}: {from} {to}", case.case);
            for (place, corner) in [(from, top_left), (to, top_right)] {
                let seen = camera.see(place.extend(door.height_m)).expect("in front");
                let x = reference.size_px.0 / 2.0 + seen.right * reference.focal_px;
                let y = reference.size_px.1 / 2.0 - seen.up * reference.focal_px;
                assert!(
                    DVec2::new(x, y).distance(corner) < 1e-6,
                    "{}: ({x}, {y}) is not {corner}",
                    case.case
                );
                count += 1;
            }
        }
    }
    assert!(count >= 10, "{count}");
}
