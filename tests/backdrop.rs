//! A photo behind the picture against a vision library's warps, and against the place itself.
#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot read its figures and pictures must fail"
)]

#[path = "picture/png_file.rs"]
mod png_file;
#[expect(dead_code, reason = "how alike the renderer's pictures must be is not asked here")]
#[path = "picture/scene.rs"]
mod scene;
#[path = "picture/ssim.rs"]
mod ssim;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread;

use glam::DVec3;
use optics::ViewTangents;
use render::{Floor, Lighting, Photo, Picture, Scenery, Size, draw};
use serde::Deserialize;
use staging::{Backdrop, Camera};
use units::{Angle, Length};

use crate::scene::SceneFile;
use crate::ssim::{Bytes, ssim};

#[derive(Deserialize)]
struct Reference {
    source: String,
    tolerance_levels: u8,
    mean_tolerance_levels: f64,
    far_m: f64,
    photo: Pose,
    frame: Vec<Frame>,
}

#[derive(Deserialize)]
struct Frame {
    case: String,
    picture: String,
    #[serde(flatten)]
    pose: Pose,
}

#[derive(Deserialize)]
struct Pose {
    position_m: [f64; 3],
    pan_deg: f64,
    tilt_deg: f64,
    roll_deg: f64,
    half_tangents: [f64; 2],
}

impl Pose {
    fn camera(&self) -> Camera {
        Camera::rolled(
            DVec3::from_array(self.position_m),
            Angle::from_deg(self.pan_deg),
            Angle::from_deg(self.tilt_deg),
            Angle::from_deg(self.roll_deg),
        )
    }

    fn view(&self) -> ViewTangents {
        let [across, down] = self.half_tangents;
        ViewTangents { left: across, right: across, up: down, down }
    }
}

fn reference(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reference").join(path)
}

fn read<T: for<'a> Deserialize<'a>>(path: &str) -> T {
    let text = fs::read_to_string(reference(path)).unwrap_or_else(|error| panic!("{path}: {error}"));
    toml::from_str(&text).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn photo(pixels: &Bytes) -> Arc<Photo> {
    let rgba = pixels.rgb.iter().flat_map(|[red, green, blue]| [*red, *green, *blue, u8::MAX]).collect();
    let side = |pixels: usize| u32::try_from(pixels).expect("a small photo");
    Arc::new(Photo::new(side(pixels.width), side(pixels.height), rgba).expect("a photo"))
}

/// The photo alone, sharp, in an even light.
fn alone(camera: Camera, view: ViewTangents, scenery: Scenery) -> Picture {
    Picture {
        opens: camera,
        closes: camera,
        view,
        pupil: None,
        shapes: Vec::new(),
        floor: Floor::Plain(staging::Colour([0.5; 3])),
        backdrop: Some(scenery),
        lighting: Lighting { sun: None, zenith: [1.0; 3], horizon: [0.5; 3], bounce: [0.3; 3] },
    }
}

#[test]
fn a_photo_is_seen_again_where_a_vision_library_warps_it() {
    let reference_values: Reference = read("backdrop.toml");
    let photo = photo(&png_file::read(&reference("backdrop/photo.png")));
    let taken = &reference_values.photo;
    let place = Backdrop {
        photo: 1,
        camera: taken.camera(),
        view: taken.view(),
        far: Length::from_m(reference_values.far_m),
    };
    assert!(reference_values.frame.len() >= 3, "{}", reference_values.source);
    for Frame { case, picture, pose } in &reference_values.frame {
        let expected = png_file::read(&reference(&format!("backdrop/{picture}.png")));
        let size = Size { width: 64, height: 48 };
        let scenery = Scenery { place, photo: Arc::clone(&photo) };
        let covered = place.covers(&pose.camera(), &pose.view());
        assert!((covered - 1.0).abs() < 1e-12, "{case}: {covered}");
        let actual = png_file::developed(&draw(&alone(pose.camera(), pose.view(), scenery), size, 256));
        let off: Vec<u8> = expected
            .rgb
            .iter()
            .flatten()
            .zip(actual.rgb.iter().flatten())
            .map(|(theirs, ours)| theirs.abs_diff(*ours))
            .collect();
        let worst = off.iter().copied().max().expect("pixels");
        let count = f64::from(u32::try_from(off.len()).expect("a small picture"));
        let mean = off.iter().map(|levels| f64::from(*levels)).sum::<f64>() / count;
        assert!(
            worst <= reference_values.tolerance_levels && mean <= reference_values.mean_tolerance_levels,
            "{case}: {worst} levels off at most, {mean} in the mean; see {}",
            png_file::write_failure(&format!("backdrop_{picture}"), &expected, &actual).display()
        );
    }
}

/// Draws a set as a phone's ultra-wide lens would take it, and a frame of it from that photo alone; how like that is to the
/// frame of the set itself, all sharp.
fn likeness(name: &str, turned_deg: f64) -> f64 {
    let file: SceneFile = read(&format!("pictures/{name}.toml"));
    let set = Picture { pupil: None, ..file.picture() };
    let frame = file.size();
    let expected = png_file::developed(&draw(&set, frame, 256));
    let look = set.opens.forward();
    let azimuth = Angle::from_rad(libm::atan2(look.x, look.y)) + Angle::from_deg(turned_deg);
    let (tilt, roll) = (Angle::from_deg(-3.0), Angle::from_deg(2.0));
    let camera = Camera::rolled(set.opens.position(), azimuth, tilt, roll);
    let whole = ViewTangents { left: 1.3, right: 1.3, up: 0.975, down: 0.975 };
    let place = Backdrop { photo: 1, camera, view: whole, far: Length::from_m(15.0) };
    let covered = place.covers(&set.opens, &set.view);
    assert!((covered - 1.0).abs() < 1e-12, "{name}: {covered}");
    // Twice as fine as the frame, as a phone's photo is at least.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred pixels")]
    let wide = (2.0 * whole.width() / set.view.width() * f64::from(frame.width)) as u32;
    let size = Size { width: wide, height: wide * 3 / 4 };
    let taken = Picture { opens: place.camera, closes: place.camera, view: whole, ..set.clone() };
    let pixels = png_file::developed(&draw(&taken, size, 32));
    let alone = alone(set.opens, set.view, Scenery { place, photo: photo(&pixels) });
    let actual = png_file::developed(&draw(&alone, frame, 256));
    let alike = ssim(&expected, &actual);
    if alike < LEAST_SSIM {
        png_file::write_failure(&format!("backdrop_{name}"), &expected, &actual);
    }
    alike
}

/// How like a frame from a photo of a set must be to the frame of the set: what a photo's own pixels leave.
const LEAST_SSIM: f64 = 0.95;

#[test]
fn a_longer_lens_sees_in_an_ultra_wide_photo_what_it_would_see_of_the_place() {
    let cases = [("phone_main", 12.0), ("sunlit", -10.0)];
    let likenesses: Vec<_> = thread::scope(|scope| {
        let drawing = cases.map(|(name, turned)| (name, scope.spawn(move || likeness(name, turned))));
        drawing.into_iter().map(|(name, one)| (name, one.join().expect("drawn"))).collect()
    });
    for (name, alike) in likenesses {
        assert!(alike >= LEAST_SSIM, "{name}: SSIM {alike:.4}");
    }
}
