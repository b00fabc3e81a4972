//! Fields of view and squeezes measured from pictures: against OpenCV's calibration, in our own tracer's pictures and in
//! those of an independent renderer; and whether the stated uncertainty holds what it says.
#![expect(clippy::expect_used, reason = "a test that cannot read its figures must fail")]

#[path = "measure/chance.rs"]
mod chance;
#[path = "measure/seen.rs"]
mod seen;

use std::fs;
use std::path::Path;

use optics::{
    FocalLength, FrameAxis, KnownThing, MeasuredWidth, RoundThing, ThingInFrame, combined_view,
    image_distance,
};
use serde::Deserialize;
use units::Length;

use crate::chance::Chance;
use crate::seen::{Light, renderers_picture, tracers_picture};

#[derive(Deserialize)]
struct Reference {
    source: String,
    tolerance_deg: f64,
    calibration: Vec<Calibration>,
}

#[derive(Deserialize)]
struct Calibration {
    case: String,
    image_width_px: f64,
    known_width_m: f64,
    distance_m: f64,
    ends_px: (f64, f64),
    end_sd_px: f64,
    horizontal_deg: f64,
    horizontal_sd_deg: f64,
}

/// A scene of `reference/pictures` with one flat thing in it, as far as these checks need it.
#[derive(Deserialize)]
struct Scene {
    size_px: (u32, u32),
    lens: SceneLens,
}

#[derive(Deserialize)]
struct SceneLens {
    focal_length_mm: f64,
    sensor_width_mm: f64,
    focus_m: f64,
}

fn scene(name: &str) -> Scene {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("reference/pictures/{name}.toml"));
    toml::from_str(&fs::read_to_string(path).expect("a scene")).expect("a scene")
}

impl Scene {
    /// The tangent of half the angle that the frame sees across, without the adapter: sensor and lens, no measurement.
    fn half_tangent(&self) -> f64 {
        let f = FocalLength::from_mm(self.lens.focal_length_mm).expect("a focal length");
        let v = image_distance(f, Length::from_m(self.lens.focus_m));
        Length::from_mm(self.lens.sensor_width_mm / 2.0) / v
    }
}

/// The half angle's tangent that a frame of something of known width gives, with the ends known to a tenth of a pixel.
fn measured(width_m: f64, distance_m: f64, ends_px: (f64, f64), image_px: f64) -> MeasuredWidth {
    let mm = Length::from_mm(1.0);
    let frame = ThingInFrame::between_ends(ends_px, 0.1, image_px, Length::from_m(distance_m), mm);
    let thing = KnownThing::new(Length::from_m(width_m), mm, vec![frame.expect("a frame")]).expect("a thing");
    combined_view(&[thing], None).expect("a view")
}

#[test]
fn it_agrees_with_opencvs_calibration() {
    let reference: Reference = toml::from_str(include_str!("reference/measure.toml")).expect("the reference");
    assert!(reference.calibration.len() >= 6, "{}", reference.source);
    for case in &reference.calibration {
        let (width, distance) = (Length::from_m(case.known_width_m), Length::from_m(case.distance_m));
        let frame = ThingInFrame::between_ends(
            case.ends_px,
            case.end_sd_px,
            case.image_width_px,
            distance,
            Length::ZERO,
        );
        let thing = KnownThing::new(width, Length::ZERO, vec![frame.expect("a frame")]).expect("a thing");
        let ours = combined_view(&[thing], None).expect("a view").seen;
        let off = (ours.horizontal_fov.to_deg() - case.horizontal_deg).abs();
        let allowed = if case.end_sd_px > 0.0 {
            3.0 * libm::hypot(ours.sd.to_deg(), case.horizontal_sd_deg)
        } else {
            reference.tolerance_deg
        };
        assert!(off <= allowed, "{}: {ours:?} is not {} within {allowed}", case.case, case.horizontal_deg);
    }
}

/// Half a percent of the angle: what the check promises for a picture.
const SHARE_OF_ANGLE: f64 = 0.005;

fn assert_angle(what: &str, measured: &MeasuredWidth, half_tangent: f64) {
    let (ours, true_deg) =
        (measured.seen.horizontal_fov.to_deg(), 2.0 * libm::atan(half_tangent).to_degrees());
    assert!((ours / true_deg - 1.0).abs() < SHARE_OF_ANGLE, "{what}: {ours}° is not {true_deg}°");
}

#[test]
fn it_finds_the_field_of_view_in_a_picture_of_the_independent_renderer() {
    let scene = scene("measured_board");
    let picture = renderers_picture("measured_board");
    let board = picture.thing();
    let view = measured(0.90, 1.2, board.ends_px(), f64::from(scene.size_px.0));
    assert_angle("renderer", &view, scene.half_tangent());
}

#[test]
fn it_finds_the_field_of_view_in_our_tracers_pictures() {
    // In the middle and off it, near and far, on three lenses: focal length, f-number, sensor's width, distance, shift.
    for (focal_mm, f_number, sensor_mm, distance_m, right_m) in [
        (6.86, 1.78, 9.8, 1.2, 0.18),
        (6.86, 1.78, 9.8, 2.4, -0.6),
        (2.22, 2.2, 5.6, 0.8, 0.2),
        (9.0, 2.8, 5.6, 2.0, 0.0),
    ] {
        let lens = (focal_mm, f_number, sensor_mm);
        let light: Light = tracers_picture(lens, distance_m, right_m, 0.90);
        let view = measured(0.90, distance_m, light.thing().ends_px(), light.width_px());
        let f = FocalLength::from_mm(focal_mm).expect("a focal length");
        let v = image_distance(f, Length::from_m(distance_m));
        assert_angle(&format!("tracer, {focal_mm} mm"), &view, Length::from_mm(sensor_mm / 2.0) / v);
    }
}

/// The squeeze that the plate of the scene is narrower by.
const PLATE_SQUEEZE: f64 = 1.29;

#[test]
fn it_finds_a_squeeze_in_a_picture_of_the_independent_renderer() {
    // An adapter divides tangents along its axis, so through it a round plate looks as one so many times narrower does bare.
    let scene = scene("measured_plate");
    let (across, down) = renderers_picture("measured_plate").thing().round_px();
    let size = (f64::from(scene.size_px.0), f64::from(scene.size_px.1));
    let round = RoundThing::new(across, down, 0.1, size, (1.0, 0.0)).expect("a plate");
    let ours = round.squeeze_along(FrameAxis::Width).expect("a squeeze").squeeze.to_f64();
    assert!((ours / PLATE_SQUEEZE - 1.0).abs() < SHARE_OF_ANGLE, "{ours} is not {PLATE_SQUEEZE}");
}

/// How often the truth lies within 1.96 standard uncertainties, over 1000 trials.
fn coverage(trial: impl Fn(&mut Chance) -> bool) -> f64 {
    let mut chance = Chance::from_seed(2026);
    let hits = (0..1000).filter(|_| trial(&mut chance)).count();
    f64::from(u32::try_from(hits).expect("at most 1000")) / 1000.0
}

/// A lens and mode, and things seen through it with every error that is told, drawn anew for each frame or thing.
fn noisy_view(chance: &mut Chance, frames_of_things: &[usize]) -> bool {
    let half_tangent = 0.3 + 0.6 * chance.even();
    let image_px = 3840.0;
    let things = frames_of_things.iter().map(|count| {
        let (true_m, sd_m) = (0.9, 0.004);
        // The width was measured once, whatever it is then used for.
        let told_m = true_m + sd_m * chance.normal();
        let frames = (0..*count).map(|_| {
            let distance_m = true_m / (2.0 * half_tangent) * (1.1 + 2.0 * chance.even());
            let apart_px = image_px * true_m / (2.0 * half_tangent * distance_m);
            let first_px = (image_px - apart_px) * (0.2 + 0.6 * chance.even());
            let ends = [first_px, first_px + apart_px].map(|end| end + 2.0 * chance.normal());
            let taped = Length::from_m(distance_m + 0.01 * chance.normal());
            let ends = (ends[0].clamp(0.0, image_px), ends[1].clamp(0.0, image_px));
            ThingInFrame::between_ends(ends, 2.0, image_px, taped, Length::from_mm(10.0)).expect("a frame")
        });
        KnownThing::new(Length::from_m(told_m), Length::from_m(sd_m), frames.collect()).expect("a thing")
    });
    let things: Vec<_> = things.collect();
    let seen = combined_view(&things, None).expect("a view").seen;
    let true_rad = 2.0 * libm::atan(half_tangent);
    (seen.horizontal_fov.to_rad() - true_rad).abs() <= 1.96 * seen.sd.to_rad()
}

#[test]
fn the_true_field_of_view_lies_in_the_stated_range_as_often_as_it_should() {
    for frames in [&[1][..], &[3], &[1, 1], &[4, 2, 1]] {
        let share = coverage(|chance| noisy_view(chance, frames));
        assert!((0.92..=0.98).contains(&share), "{frames:?}: {share}");
    }
}

#[test]
fn the_true_squeeze_lies_in_the_stated_range_as_often_as_it_should() {
    let share = coverage(|chance| {
        let squeeze = 1.2 + 0.6 * chance.even();
        let high_px = 400.0 + 500.0 * chance.even();
        let edge = |chance: &mut Chance, at: f64| at + 2.0 * chance.normal();
        let across = (edge(chance, 600.0), edge(chance, 600.0 + high_px * 1.01 / squeeze));
        let down = (edge(chance, 50.0), edge(chance, 50.0 + high_px));
        let told = 1.01 + 0.003 * chance.normal();
        let round = RoundThing::new(across, down, 2.0, (1920.0, 1080.0), (told, 0.003)).expect("a plate");
        let ours = round.squeeze_along(FrameAxis::Width).expect("a squeeze");
        let sd = ours.relative_sd * ours.squeeze.to_f64();
        (ours.squeeze.to_f64() - squeeze).abs() <= 1.96 * sd
    });
    assert!((0.92..=0.98).contains(&share), "{share}");
}
