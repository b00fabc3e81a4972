//! Pictures against those of a physically based renderer of the same scenes, and against the formulas.
//!
//! Each scene's `least_ssim` is above what a pinhole's picture of it has, except for the sunlit one, in which all is sharp;
//! where things are far out of focus, also above that of a pupil a tenth too wide.
//!
//! A scene is a file in `reference/pictures`; to add one, write it there, run `reference/scripts/picture.py`, look at what
//! it made, and put all three in. A picture that differs is left in `target/picture-failures` as
//! expected | difference | actual.
#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot read its scenes and pictures must fail"
)]

#[path = "picture/png_file.rs"]
mod png_file;
#[path = "picture/scene.rs"]
mod scene;
#[path = "picture/spot.rs"]
mod spot;
#[path = "picture/ssim.rs"]
mod ssim;

use std::fs;
use std::path::{Path, PathBuf};
use std::thread;

use glam::DVec3;
use optics::{
    Aspect, CropShift, FNumber, FocalLength, Origin, RecordedArea, SensorSize, blur_disc, deliver,
    image_distance, view_tangents,
};
use render::draw;
use serde::Deserialize;
use staging::Camera;
use units::{Angle, Length};

use crate::scene::{AdapterFile, LensFile, SceneFile, through};
use crate::spot::{Ball, Large};
use crate::ssim::ssim;

/// Samples of each pixel: chosen because twice as many change the SSIM of no scene by more than a thousandth.
const SAMPLES: u32 = 1024;

const EIGHTHS: [f64; 8] = [0.0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875];

/// How near a measured disc must come, relative and in pixels, whichever is more; and a measured point.
const DISC_RELATIVE: f64 = 0.02;
const DISC_PX: f64 = 0.5;
const POINT_PX: f64 = 0.25;

fn reference(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reference").join(path)
}

fn read<T: for<'a> Deserialize<'a>>(path: &Path) -> T {
    let text = fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Draws one scene; what is wrong with it, if anything is.
fn wrong_with(name: &str) -> Option<String> {
    let file: SceneFile = read(&reference(&format!("pictures/{name}.toml")));
    let expected = png_file::read(&reference(&format!("pictures/renderer/{name}.png")));
    let actual = png_file::developed(&draw(&file.picture(), file.size(), SAMPLES));
    let alike = ssim(&expected, &actual);
    (alike < file.least_ssim).then(|| {
        let left = png_file::write_failure(name, &expected, &actual);
        format!("{name}: SSIM {alike:.5} is less than {}; see {}", file.least_ssim, left.display())
    })
}

#[test]
fn pictures_are_like_the_renderers() {
    let scenes: Vec<String> = fs::read_dir(reference("pictures"))
        .expect("the scenes")
        .map(|entry| entry.expect("a scene").file_name().into_string().expect("a name"))
        .filter_map(|name| name.strip_suffix(".toml").map(str::to_owned))
        .collect();
    assert!(scenes.len() >= 9, "{} scenes", scenes.len());
    let wrong: Vec<String> = thread::scope(|scope| {
        let drawing: Vec<_> = scenes.iter().map(|name| scope.spawn(|| wrong_with(name))).collect();
        drawing.into_iter().filter_map(|scene| scene.join().expect("drawn")).collect()
    });
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[derive(Deserialize)]
struct Similarities {
    source: String,
    tolerance: f64,
    pair: Vec<Similarity>,
}

#[derive(Deserialize)]
struct Similarity {
    pictures: (String, String),
    ssim: f64,
}

#[test]
fn likeness_is_measured_as_elsewhere() {
    let reference_values: Similarities = read(&reference("ssim.toml"));
    assert!(reference_values.pair.len() >= 4, "{}", reference_values.source);
    for Similarity { pictures: (one, other), ssim: theirs } in &reference_values.pair {
        let png = |name| png_file::read(&reference(&format!("pictures/renderer/{name}.png")));
        let ours = ssim(&png(one), &png(other));
        assert!((ours - theirs).abs() < reference_values.tolerance, "{one}, {other}: {ours} is not {theirs}");
    }
}

/// Draws a ball on the axis of a picture 3840 pixels wide and measures its disc, along the rows and along the columns.
fn disc_px(lens: LensFile, adapter: Option<AdapterFile>, distance_m: f64) -> [Disc; 2] {
    let size_px = (3840, 2160);
    let (view, pupil) = through(lens, adapter, size_px);
    let f = FocalLength::from_mm(lens.focal_length_mm).expect("a focal length");
    let focus = Length::from_m(lens.focus_m);
    let formula = blur_disc(
        f,
        FNumber::new(lens.f_number).expect("an f-number"),
        focus,
        Length::from_m(distance_m),
        adapter.map(AdapterFile::adapter).as_ref(),
    );
    let tangent = view.width() / f64::from(size_px.0);
    let formula_px =
        [formula.squeezed, formula.plain].map(|length| length / image_distance(f, focus) / tangent);
    // A ball half as wide and half as high as the disc is met often enough for little noise; its own spread is taken off.
    let ball_px = formula_px.map(|disc| disc / 2.0 + 2.0);
    let half_m = ball_px.map(|ball| ball / 2.0 * tangent * distance_m);
    let large = Large {
        camera: Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO),
        view,
        pupil: Some(pupil),
        size_px: (f64::from(size_px.0), f64::from(size_px.1)),
    };
    let ball = Ball {
        centre: DVec3::new(0.0, distance_m, 0.0),
        half_m: DVec3::new(half_m[0], half_m[0].min(half_m[1]), half_m[1]),
        reach_px: formula_px[0].max(formula_px[1]) * 0.75 + 3.0,
    };
    // What a sharp edge does to moments depends on where it lies in a pixel: the mean over steps of an eighth does not.
    let spreads = EIGHTHS.map(|eighth| large.measure(ball, (1920.0 + eighth, 1080.0 + eighth)).spread_px2);
    let mean = |along: fn(&(f64, f64)) -> f64| spreads.iter().map(along).sum::<f64>() / 8.0;
    let spread = (mean(|spread| spread.0), mean(|spread| spread.1));
    // The mean square of a uniform disc's points along a line is a sixteenth of its diameter's square. Noise can make that of
    // no diameter negative, as far from 0 as its root.
    let disc = |spread: f64, ball_px: f64, formula_px: f64| {
        let square = 16.0 * spread - ball_px * ball_px;
        Disc { measured_px: square.abs().sqrt().copysign(square), formula_px }
    };
    [disc(spread.0, ball_px[0], formula_px[0]), disc(spread.1, ball_px[1], formula_px[1])]
}

#[derive(Debug, Clone, Copy)]
struct Disc {
    measured_px: f64,
    formula_px: f64,
}

impl Disc {
    fn is_near(self, expected_px: f64) -> bool {
        (self.measured_px - expected_px).abs() < DISC_PX.max(DISC_RELATIVE * expected_px)
    }
}

#[derive(Deserialize)]
struct RendererFile {
    disc: Vec<DiscFile>,
    points: Vec<PointsFile>,
}

#[derive(Deserialize)]
struct DiscFile {
    focal_length_mm: f64,
    f_number: f64,
    area_width_mm: f64,
    focus_mm: f64,
    distance_mm: f64,
    measured_px: f64,
}

#[derive(Deserialize)]
struct PointsFile {
    focal_length_mm: f64,
    area_width_mm: f64,
    focus_mm: f64,
    image_px: (f64, f64),
    points: Vec<PointFile>,
}

#[derive(Deserialize)]
struct PointFile {
    right_up_forward_mm: (f64, f64, f64),
    measured_px: (f64, f64),
}

#[test]
fn discs_are_as_large_as_the_renderers_and_the_formulas() {
    let renderer: RendererFile = read(&reference("thin_lens.toml"));
    assert!(renderer.disc.len() >= 18, "{} discs", renderer.disc.len());
    for file in &renderer.disc {
        let lens = LensFile {
            focal_length_mm: file.focal_length_mm,
            f_number: file.f_number,
            sensor_width_mm: file.area_width_mm,
            focus_m: file.focus_mm / 1000.0,
        };
        for disc in disc_px(lens, None, file.distance_mm / 1000.0) {
            assert!(
                disc.is_near(disc.formula_px) && disc.is_near(file.measured_px),
                "{lens:?}, a point at {} mm, theirs {} px: {disc:?}",
                file.distance_mm,
                file.measured_px
            );
        }
    }
}

#[test]
fn an_adapters_discs_are_as_wide_and_as_high_as_the_formulas() {
    let phone = LensFile { focal_length_mm: 6.86, f_number: 1.78, sensor_width_mm: 9.8, focus_m: 0.0 };
    let full_frame = LensFile { focal_length_mm: 50.0, f_number: 1.8, sensor_width_mm: 36.0, focus_m: 0.0 };
    let mut ovals = [0, 0];
    for (lens, focus_m, distance_m) in [
        (phone, 0.5, 0.3),
        (phone, 0.5, 2.0),
        (phone, 1.0, 1.0),
        (phone, 0.4, 30.0),
        (full_frame, 1.5, 0.9),
        (full_frame, 1.5, 1.5),
        (full_frame, 2.0, 8.0),
    ] {
        for squeeze in [1.33, 1.55, 2.0] {
            for focusing in [true, false] {
                let adapter = AdapterFile { squeeze, focusing };
                let [wide, high] = disc_px(LensFile { focus_m, ..lens }, Some(adapter), distance_m);
                assert!(
                    wide.is_near(wide.formula_px) && high.is_near(high.formula_px),
                    "{lens:?} at {focus_m} m, {adapter:?}, a point at {distance_m} m: {wide:?} wide, {high:?} high"
                );
                ovals[0] += usize::from(wide.measured_px > high.measured_px + 2.0);
                ovals[1] += usize::from(high.measured_px > wide.measured_px + 2.0);
            }
        }
    }
    // Both kinds of ovals were there to be measured.
    assert!(ovals[0] >= 5 && ovals[1] >= 5, "{ovals:?}");
}

#[test]
fn points_out_of_focus_land_on_the_renderers_pixels() {
    let renderer: RendererFile = read(&reference("thin_lens.toml"));
    let mut count = 0;
    for case in &renderer.points {
        let (width_px, height_px) = case.image_px;
        let lens = LensFile {
            focal_length_mm: case.focal_length_mm,
            f_number: 4.0,
            sensor_width_mm: case.area_width_mm,
            focus_m: case.focus_mm / 1000.0,
        };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole pixels")]
        let (view, pupil) = through(lens, None, (width_px as u32, height_px as u32));
        let large = Large {
            camera: Camera::new(DVec3::ZERO, Angle::ZERO, Angle::ZERO),
            view,
            pupil: Some(pupil),
            size_px: case.image_px,
        };
        for PointFile { right_up_forward_mm: (right, up, forward), measured_px } in &case.points {
            let depth_m = forward / 1000.0;
            let tangent = view.width() / width_px;
            let disc_px = pupil.width.to_m() * (1.0 / depth_m - 1.0 / lens.focus_m).abs() / tangent;
            let ball_px = disc_px / 2.0 + 2.0;
            let ball = Ball {
                centre: DVec3::new(*right, *forward, *up) / 1000.0,
                half_m: DVec3::splat(ball_px / 2.0 * tangent * depth_m),
                // Balls off the axis are seen longer than wide.
                reach_px: disc_px / 2.0 + ball_px + 2.0,
            };
            let seen = large.measure(ball, *measured_px).middle_px;
            let off = libm::hypot(seen.0 - measured_px.0, seen.1 - measured_px.1);
            assert!(off < POINT_PX, "{lens:?}, {ball:?}: {seen:?} is not {measured_px:?}");
            count += 1;
        }
    }
    assert!(count >= 36, "{count} points");
}

#[derive(Deserialize)]
struct ProjectionFile {
    projection: Vec<Projection>,
}

#[derive(Deserialize)]
struct Projection {
    case: String,
    camera_height_m: f64,
    tilt_deg: f64,
    pan_deg: f64,
    focal_length_mm: f64,
    area_mm: (f64, f64),
    image_px: (f64, f64),
    points: Vec<ProjectedFile>,
}

#[derive(Deserialize)]
struct ProjectedFile {
    world_m: (f64, f64, f64),
    depth_m: f64,
    seen_px: (f64, f64),
}

#[test]
fn points_land_where_opencv_projects_them_however_the_phone_is_turned() {
    let file: ProjectionFile = read(&reference("projection.toml"));
    let mut count = 0;
    for case in &file.projection {
        let recorded = RecordedArea {
            size: SensorSize::from_mm(case.area_mm.0, case.area_mm.1).expect("an area"),
            width_px: case.image_px.0,
            height_px: case.image_px.1,
            relative_sd: 0.0,
            origin: Origin::Typed,
        };
        let aspect = Aspect::new(case.image_px.0 / case.image_px.1).expect("a shape");
        let frame = deliver(recorded, None, aspect, CropShift::default());
        let view = view_tangents(&frame, Length::from_mm(case.focal_length_mm));
        let camera = Camera::new(
            DVec3::new(0.0, 0.0, case.camera_height_m),
            Angle::from_deg(case.pan_deg),
            Angle::from_deg(case.tilt_deg),
        );
        let large = Large { camera, view, pupil: None, size_px: case.image_px };
        for ProjectedFile { world_m: (x, y, z), depth_m, seen_px } in &case.points {
            let ball = Ball {
                centre: DVec3::new(*x, *y, *z),
                half_m: DVec3::splat(1.5 * view.width() / case.image_px.0 * depth_m),
                reach_px: 8.0,
            };
            let seen = large.measure(ball, *seen_px).middle_px;
            let off = libm::hypot(seen.0 - seen_px.0, seen.1 - seen_px.1);
            assert!(off < POINT_PX, "{}: {seen:?} is not {seen_px:?}", case.case);
            count += 1;
        }
    }
    assert!(count >= 36, "{count} points");
}
